/* SPDX-License-Identifier: Apache-2.0 */
/* A host's floating-point state, set by the control word of the processor: rounding mode, traps on, flush to zero. */
#ifndef FLC_HOST_STATE_H
#define FLC_HOST_STATE_H

#include <stdint.h>

typedef enum host_rounding { HOST_NEAREST, HOST_UP, HOST_DOWN, HOST_ZERO } host_rounding;

typedef struct host_state {
    host_rounding rounding;
    int traps; /* invalid, division by zero, overflow, and where there is one denormal */
    int flush; /* flush to zero, denormals are zero */
} host_state;

#define HOST_DEFAULT ((host_state){HOST_NEAREST, 0, 0})

#if defined(__x86_64__)
#include <xmmintrin.h>

/* The control bits; the flags raised (bits 0 to 5) are left clear, or setting a trap would fire for old ones. */
static inline uint32_t host_state_word(host_state s)
{
    static const uint32_t rounding[] = {0x0000, 0x4000, 0x2000, 0x6000};
    return (s.traps ? 0x1800u : 0x1F80u) | rounding[s.rounding] | (s.flush ? 0x8040u : 0u);
}

static inline void host_state_set(host_state s)
{
    _mm_setcsr(host_state_word(s));
}

static inline int host_state_is(host_state s)
{
    return (_mm_getcsr() & ~0x3Fu) == host_state_word(s) && (_mm_getcsr() & 0x0Du) == 0;
}

#elif defined(__aarch64__)

/* Many processors have no traps: writing their bits then leaves them 0, and host_state_is says so. */
static inline uint64_t host_state_word(host_state s)
{
    static const uint64_t rounding[] = {0, 1, 2, 3};
    return rounding[s.rounding] << 22 | (s.traps ? UINT64_C(0x700) : 0) | (s.flush ? UINT64_C(1) << 24 : 0);
}

static inline void host_state_set(host_state s)
{
    __asm__ volatile("msr fpsr, %0" : : "r"((uint64_t)0) : "memory");
    __asm__ volatile("msr fpcr, %0" : : "r"(host_state_word(s)) : "memory");
}

static inline int host_state_is(host_state s)
{
    uint64_t control, raised;
    __asm__ volatile("mrs %0, fpcr" : "=r"(control));
    __asm__ volatile("mrs %0, fpsr" : "=r"(raised));
    return control == host_state_word(s) && (raised & 7u) == 0;
}

#elif defined(__s390x__)

/* There is no flush to zero: host_state_is says that it was not kept. */
static inline uint32_t host_state_word(host_state s)
{
    static const uint32_t rounding[] = {0, 2, 3, 1};
    return rounding[s.rounding] | (s.traps ? 0xE0000000u : 0u);
}

static inline void host_state_set(host_state s)
{
    __asm__ volatile("sfpc %0" : : "d"(host_state_word(s)) : "memory");
}

static inline int host_state_is(host_state s)
{
    uint32_t word;
    __asm__ volatile("efpc %0" : "=d"(word));
    return !s.flush && (word & 0xFC000077u) == host_state_word(s) && (word & 0x00E00000u) == 0;
}

#else
#error "no floating-point control word is known for this processor"
#endif

#endif
