/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of rounding, unguarded, for the methods that round (flowcomp/rounding.h has the contract). A step is
 * kept as whole/parts, two whole numbers, because 0.05 has no exact double and 5/100 needs none: the value is
 * multiplied by parts and divided by whole, and the count of steps goes back the same way, correctly rounded. */
#ifndef FLC_ROUNDING_CORE_H
#define FLC_ROUNDING_CORE_H

#include "flowcomp/rounding.h"
#include "error.h"
#include <float.h>

#define FLC_DECIMALS_MIN (-9)
#define FLC_DECIMALS_MAX 12
#define FLC_STEP_MIN 1e-12
#define FLC_STEP_MAX 1e9

typedef struct flc_rounding_step {
    double whole, parts;
} flc_rounding_step;

/** 10^n, exact for n from 0 to 22. */
static inline double flc_power_of_ten(int n)
{
    double power = 1.0;
    for (int i = 0; i < n; i++) {
        power *= 10.0;
    }
    return power;
}

static inline flc_rounding_step flc_step_of_decimals(int decimals)
{
    return decimals < 0 ? (flc_rounding_step){flc_power_of_ten(-decimals), 1.0} : (flc_rounding_step){1.0, flc_power_of_ten(decimals)};
}

/** The decimal number that a step was typed as: the fewest decimals whose nearest double is the step. */
static inline flc_status flc_step_of_increment(double increment, flc_rounding_step *step)
{
    for (int decimals = 0; decimals <= FLC_DECIMALS_MAX; decimals++) {
        double parts = flc_power_of_ten(decimals);
        double scaled = increment * parts + 0.5;
        if (scaled >= 0x1p52) {
            break;
        }
        double whole = (double)(int64_t)scaled;
        if (whole / parts == increment) {
            *step = (flc_rounding_step){whole, parts};
            return FLC_OK;
        }
    }
    return FLC_E_DOMAIN;
}

/** Half away from zero to a multiple of the step; FLC_E_OVERFLOW where the value has too many of them. */
static inline flc_status flc_round_to_step(double value, flc_rounding_step step, double *result)
{
    double size = value < 0.0 ? -value : value;
    double scaled = size * step.parts;
    if (!((step.parts > 1.0 ? scaled : size / step.whole) < 0x1p48)) {
        return FLC_E_OVERFLOW;
    }
    double count = (double)(int64_t)(scaled / step.whole * (1.0 + 4.0 * DBL_EPSILON) + 0.5);
    double rounded = count * step.whole / step.parts;
    *result = value < 0.0 && count > 0.0 ? -rounded : rounded;
    return FLC_OK;
}

/** Decimals as a number: FLC_E_NOT_WHOLE where they are not; the caller has judged their range. */
static inline flc_status flc_round_to_decimals(double value, double decimals, double *result)
{
    int whole = (int)decimals;
    if ((double)whole != decimals) {
        return FLC_E_NOT_WHOLE;
    }
    return flc_round_to_step(value, flc_step_of_decimals(whole), result);
}

/** The value by a policy, for code that has its own guard. value must be finite. */
flc_status flc_round_by(double value, flc_rounding policy, double *result);

#endif
