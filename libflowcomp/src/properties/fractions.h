/* SPDX-License-Identifier: Apache-2.0 */
/* Fractions of a mixture: they sum to 1. */
#ifndef FLC_FRACTIONS_H
#define FLC_FRACTIONS_H

#include "flowcomp/status.h"

#define FLC_FRACTIONS_OFF 1e-6 /* analyses are given to five or six decimals */

/** FLC_E_DOMAIN unless the fractions sum to 1, in the order given. */
static inline flc_status flc_fractions_check(const double *fraction, size_t n)
{
    double sum = 0.0;
    for (size_t i = 0; i < n; i++) {
        sum += fraction[i];
    }
    return sum < 1.0 - FLC_FRACTIONS_OFF || sum > 1.0 + FLC_FRACTIONS_OFF ? FLC_E_DOMAIN : FLC_OK;
}

#endif
