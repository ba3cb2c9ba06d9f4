/* SPDX-License-Identifier: Apache-2.0 */
#include "rounding_core.h"
#include "fp_guard.h"
#include "method.h"

flc_rounding flc_rounding_none(void)
{
    return (flc_rounding){FLC_ROUNDING_NONE, 0, 0.0};
}

flc_rounding flc_rounding_to_decimals(int32_t decimals)
{
    return (flc_rounding){FLC_ROUNDING_DECIMALS, decimals, 0.0};
}

flc_rounding flc_rounding_to_increment(double step)
{
    return (flc_rounding){FLC_ROUNDING_INCREMENT, 0, step};
}

flc_status flc_round_by(double value, flc_rounding policy, double *result)
{
    flc_rounding_step step;
    flc_status status = FLC_OK;
    switch (policy.kind) {
    case FLC_ROUNDING_NONE:
        *result = value;
        return FLC_OK;
    case FLC_ROUNDING_DECIMALS:
        status = flc_check_range(NULL, "decimals", -1, policy.decimals, FLC_DECIMALS_MIN, FLC_DECIMALS_MAX);
        return status != FLC_OK ? status : flc_round_to_step(value, flc_step_of_decimals(policy.decimals), result);
    case FLC_ROUNDING_INCREMENT:
        status = flc_check_range(NULL, "step", -1, policy.step, FLC_STEP_MIN, FLC_STEP_MAX);
        if (status == FLC_OK) {
            status = flc_step_of_increment(policy.step, &step);
        }
        return status != FLC_OK ? status : flc_round_to_step(value, step, result);
    }
    return FLC_E_CHOICE;
}

flc_status flc_round(double value, flc_rounding policy, double *result)
{
    if (result == NULL) {
        return FLC_E_NULL;
    }
    *result = flc_nan();
    flc_fp_state state = flc_fp_enter();
    flc_status status = flc_check_range(NULL, "value", -1, value, -DBL_MAX, DBL_MAX);
    if (status == FLC_OK) {
        status = flc_round_by(value, policy, result);
    }
    flc_fp_leave(state);
    return status;
}

static flc_status round_half_away(double value, double decimals, double *result)
{
    return flc_round_to_decimals(value, decimals, result);
}

#include "methods/rounding.inc"
