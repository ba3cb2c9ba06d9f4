/* SPDX-License-Identifier: Apache-2.0 */
/* The host's floating-point state. A public evaluation opens with flc_fp_enter and closes with flc_fp_leave: the
 * control word is read, and only if it is not the default (another rounding mode, traps on, flush to zero) is it set
 * to the default and put back afterwards. INVALID, DIVBYZERO and OVERFLOW that we raised are not left behind; those the
 * host had raised before stay. By intrinsic or asm, not <fenv.h>, whose functions live in libm. */
#ifndef FLC_FP_GUARD_H
#define FLC_FP_GUARD_H

#include <stdint.h>

#if defined(__FAST_MATH__)
#error "libflowcomp must not be compiled with -ffast-math: the results would be wrong, not only different"
#endif
#include <float.h>
#if !defined(FLT_EVAL_METHOD) || (FLT_EVAL_METHOD != 0 && FLT_EVAL_METHOD != 1)
#error "libflowcomp needs double arithmetic in double precision (FLT_EVAL_METHOD 0 or 1)"
#endif

#if defined(__x86_64__)
#include <xmmintrin.h>

/* MXCSR: bits 0-5 raised flags, 6 DAZ, 7-12 masks, 13-14 rounding, 15 FTZ. Default: all masked, nearest, no DAZ or FTZ.
 */
#define FLC_FP_CONTROL 0xFFC0u
#define FLC_FP_DEFAULT 0x1F80u
#define FLC_FP_SERIOUS 0x000Du /* invalid, divide by zero, overflow */

typedef struct flc_fp_state {
    uint32_t before;
} flc_fp_state;

static inline flc_fp_state flc_fp_enter(void)
{
    flc_fp_state state = {_mm_getcsr()};
    if ((state.before & FLC_FP_CONTROL) != FLC_FP_DEFAULT) {
        _mm_setcsr(FLC_FP_DEFAULT);
    }
    return state;
}

static inline void flc_fp_leave(flc_fp_state state)
{
    uint32_t now = _mm_getcsr();
    uint32_t ours = now & FLC_FP_SERIOUS & ~state.before;
    if (ours != 0 || (state.before & FLC_FP_CONTROL) != FLC_FP_DEFAULT) {
        _mm_setcsr(state.before | (now & 0x3Fu & ~FLC_FP_SERIOUS));
    }
}

#elif defined(__aarch64__)

/* FPCR: rounding, flush to zero and traps, default 0. FPSR: raised flags IOC 0, DZC 1, OFC 2. */
typedef struct flc_fp_state {
    uint64_t control, raised;
} flc_fp_state;

static inline flc_fp_state flc_fp_enter(void)
{
    flc_fp_state state;
    __asm__ volatile("mrs %0, fpcr" : "=r"(state.control));
    __asm__ volatile("mrs %0, fpsr" : "=r"(state.raised));
    if (state.control != 0) {
        __asm__ volatile("msr fpcr, %0" : : "r"((uint64_t)0) : "memory");
    }
    return state;
}

static inline void flc_fp_leave(flc_fp_state state)
{
    uint64_t now;
    __asm__ volatile("mrs %0, fpsr" : "=r"(now));
    uint64_t ours = now & 7u & ~state.raised;
    if (ours != 0) {
        __asm__ volatile("msr fpsr, %0" : : "r"(now & ~ours) : "memory");
    }
    if (state.control != 0) {
        __asm__ volatile("msr fpcr, %0" : : "r"(state.control) : "memory");
    }
}

#elif defined(__s390x__)

/* FPC: byte 0 masks, byte 1 raised flags (invalid 0x80, divide 0x40, overflow 0x20), byte 3 rounding in its low bits.
 */
typedef struct flc_fp_state {
    uint32_t before;
} flc_fp_state;

static inline flc_fp_state flc_fp_enter(void)
{
    flc_fp_state state;
    __asm__ volatile("efpc %0" : "=d"(state.before));
    if ((state.before & 0xFC000077u) != 0) {
        __asm__ volatile("sfpc %0" : : "d"(0) : "memory");
    }
    return state;
}

static inline void flc_fp_leave(flc_fp_state state)
{
    uint32_t now;
    __asm__ volatile("efpc %0" : "=d"(now));
    uint32_t raised = (now & 0x00F80000u & ~0x00E00000u) | (state.before & 0x00F80000u);
    uint32_t after = (state.before & ~0x00F80000u) | raised;
    if (after != now) {
        __asm__ volatile("sfpc %0" : : "d"(after) : "memory");
    }
}

#else
#error "libflowcomp has not been run on this processor: add its floating-point guard here"
#endif

#endif
