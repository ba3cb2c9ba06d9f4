/* SPDX-License-Identifier: Apache-2.0 */
/* The one way a formula is inverted here: Newton's steps inside a bracket. */
#ifndef FLC_BRACKETED_NEWTON_H
#define FLC_BRACKETED_NEWTON_H

#include "fpmath.h"

/** Value minus target at x, which rises through zero inside the bracket; its derivative goes into slope. */
typedef double flc_excess_function(const void *problem, double x, double *slope);

/** A step this small, relative to x, leaves an error below the last bit: the next one is its square. */
#define FLC_NEWTON_LAST_STEP 0x1p-40

/** More halvings than there are bits between any two doubles of one sign met here. */
#define FLC_NEWTON_STEPS 128

/**
 * Where the excess is zero, low <= x <= high, to the last bits of the excess function. A step that leaves the bracket,
 * or is not half as long as the one before last, is replaced by a halving, so that the number of steps is bounded
 * whatever the function does between its ends.
 */
static inline double flc_bracketed_newton(flc_excess_function *excess, const void *problem, double low, double high,
                                          double start)
{
    double x = start;
    double last_move = high - low;
    double move_before = last_move;
    for (int step = 0; step < FLC_NEWTON_STEPS; step++) {
        double slope = 1.0;
        double over = excess(problem, x, &slope);
        low = over < 0.0 ? x : low;
        high = over < 0.0 ? high : x;
        double move = slope > 0.0 ? over / slope : high - low;
        double next = x - move;
        if (flc_fabs(move) <= FLC_NEWTON_LAST_STEP * flc_fabs(x)) {
            return next;
        }
        if (next < low || next > high || flc_fabs(move) > 0.5 * flc_fabs(move_before)) {
            next = low + 0.5 * (high - low);
            move = x - next;
        }
        move_before = last_move;
        last_move = move;
        x = next;
    }
    return x;
}

#endif
