/* SPDX-License-Identifier: Apache-2.0 */
/* Rounding as a policy: half away from zero, once, never in steps. The default is none.
 *
 * The rule is a rule about decimals and the inputs are binary, so two limits belong to the contract:
 *  - a value within 4 epsilon (9e-16 of the value) of a tie counts as a tie. 1.00805 has no exact double; 1e4 times the
 *    nearest one comes out below the tie and still must round to 1.0081. Adding a half and cutting off gives 1.0080.
 *  - the value counted in steps must stay below 2^48, because further up that tolerance would spoil whole numbers:
 *    FLC_E_OVERFLOW.
 * The answer is the double nearest to the decimal result. A result of zero is +0, also for negative values. */
#ifndef FLOWCOMP_ROUNDING_H
#define FLOWCOMP_ROUNDING_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_rounding_kind {
    FLC_ROUNDING_NONE = 0,     /* the value as it is */
    FLC_ROUNDING_DECIMALS = 1, /* so many decimals */
    FLC_ROUNDING_INCREMENT = 2 /* a multiple of a step, such as 0.05 degC */
} flc_rounding_kind;

/** Kind from its word ("none", "decimals", "increment").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_rounding_kind_from_name(const char *name, flc_rounding_kind *choice);

/* A policy: a plain value, made by one of the three functions below. All zero is "none". */
typedef struct flc_rounding {
    flc_rounding_kind kind;
    int32_t decimals; /* DECIMALS: -9 to 12; -2 rounds to hundreds */
    double step;      /* INCREMENT: 1e-12 to 1e9, a decimal number of at most 12 decimals */
} flc_rounding;

/** No rounding, the default.
 *  @since 0.1 */
FLC_API flc_rounding flc_rounding_none(void);

/** So many decimals; judged where the policy is used.
 *  @since 0.1 */
FLC_API flc_rounding flc_rounding_to_decimals(int32_t decimals);

/** A multiple of a step; judged where the policy is used.
 *  @since 0.1 */
FLC_API flc_rounding flc_rounding_to_increment(double step);

/** Round by a policy.
 *  @param value   any finite number
 *  @param policy  from one of the functions above
 *  @param[out] result  the rounded value, NaN on failure
 *  @return FLC_OK; FLC_E_NULL; FLC_E_NAN, FLC_E_INFINITE (value or step); FLC_E_CHOICE (kind); FLC_E_BELOW, FLC_E_ABOVE
 *          (decimals or step); FLC_E_DOMAIN (the step has more than 12 decimals); FLC_E_OVERFLOW (2^48 steps or more;
 *          where the step is no whole number, 2^48 units of its last decimal or more)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_round(double value, flc_rounding policy, double *result);

/** Round half away from zero, once
 *  floor(|x| 10^d (1 + 4 eps) + 0.5) / 10^d with the sign of x
 *
 *  @param value    number to round {any unit}
 *  @param decimals whole number of decimals to keep {1} [-9, 12]
 *  @return rounded value, a zero is +0 {any unit}; FLC_E_NOT_WHOLE, FLC_E_OVERFLOW from |x| 10^d = 2^48 up
 *  @source API MPMS 12.2 rounding rule: a next digit of 5 or more raises the last digit kept, the sign is ignored
 *  @status from memory; the same rule is printed in a petroleum inspection handbook
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_round_half_away(double value, double decimals, double *result);

FLC_END_DECLS

#endif
