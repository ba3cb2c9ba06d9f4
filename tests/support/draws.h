/* SPDX-License-Identifier: Apache-2.0 */
/* Seeded draws, the same on every machine: the counter-based mixer splitmix64 (Steele, Lea and Flood 2014, public
 * domain). Whole-number arithmetic only, so that a draw is right under any rounding mode. */
#ifndef FLC_DRAWS_H
#define FLC_DRAWS_H

#include <stdint.h>
#include <string.h>

static inline uint64_t flc_draw(uint64_t *state)
{
    *state += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t mixed = *state;
    mixed = (mixed ^ (mixed >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    mixed = (mixed ^ (mixed >> 27)) * UINT64_C(0x94D049BB133111EB);
    return mixed ^ (mixed >> 31);
}

/** A whole number from 0 to below. */
static inline uint64_t flc_draw_below(uint64_t *state, uint64_t below)
{
    return flc_draw(state) % below;
}

/** A number from low to high. */
static inline double flc_draw_between(uint64_t *state, double low, double high)
{
    return low + (high - low) * ((double)(flc_draw(state) >> 11) * 0x1p-53);
}

/** Any bit pattern: normal, subnormal, infinite, not a number. */
static inline double flc_draw_any(uint64_t *state)
{
    const uint64_t bits = flc_draw(state);
    double number;
    memcpy(&number, &bits, sizeof number);
    return number;
}

#endif
