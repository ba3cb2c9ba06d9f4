/* SPDX-License-Identifier: Apache-2.0 */
/* Rounding between the steps of a proving, as the editions of 1995 to 1998 ask for. */
#include "error.h"
#include "flowcomp/quantities.h"
#include "method.h"
#include "proving_core.h"
#include "rounding_core.h"

#define KPA_PER_PSI 6.894757293168361
#define KPA_PER_BAR 100.0

static const char *const unit_words[] = {"si", "customary", NULL};

flc_status flc_reading_units_from_name(const char *name, flc_reading_units *choice)
{
    return flc_choice_from_name(unit_words, name, (int *)choice);
}

static flc_status policy_of_item(flc_reporting_item item, flc_rounding *policy)
{
    double decimals = 0.0;
    const flc_status status = flc_reporting_decimals(item, FLC_REPORTING_API_12_2_1995, FLC_BOUND_NONE, &decimals);
    *policy = flc_rounding_to_decimals((int32_t)decimals);
    return status;
}

/* In kPa the last decimal of a bar is a step of 10. */
static flc_status read_in_si(flc_proving_rounding *rounding)
{
    double increment = 0.0;
    flc_status status = policy_of_item(FLC_ITEM_PRESSURE_BAR, &rounding->pressure);
    rounding->pressure = flc_rounding_to_increment(KPA_PER_BAR / flc_power_of_ten((int)rounding->pressure.decimals));
    if (status == FLC_OK) {
        status = flc_reporting_increment(FLC_ITEM_TEMPERATURE_DEGC, FLC_REPORTING_API_12_2_1995, &increment);
    }
    rounding->temperature = flc_rounding_to_increment(increment);
    return status;
}

static flc_status read_in_customary(flc_proving_rounding *rounding)
{
    const flc_status status = policy_of_item(FLC_ITEM_PRESSURE_PSIG, &rounding->pressure);
    return status != FLC_OK ? status : policy_of_item(FLC_ITEM_TEMPERATURE_DEGF, &rounding->temperature);
}

flc_status flc_proving_rounding_1995(flc_reading_units units, flc_proving_rounding *rounding)
{
    if (rounding == NULL) {
        return FLC_E_NULL;
    }
    const flc_proving_rounding none = {0};
    flc_proving_rounding made = none;
    *rounding = none;
    if ((int)units < 0 || units > FLC_READ_CUSTOMARY) {
        return FLC_E_CHOICE;
    }
    made.units = units;
    flc_status status = units == FLC_READ_SI ? read_in_si(&made) : read_in_customary(&made);
    if (status == FLC_OK) {
        status = policy_of_item(FLC_ITEM_CTL_CPL_CTS_CPS_MF_CMF, &made.factors);
    }
    if (status == FLC_OK) {
        status = policy_of_item(FLC_ITEM_REPEATABILITY_PCT, &made.range);
    }
    if (status == FLC_OK) {
        made.mf = made.factors;
        *rounding = made;
    }
    return status;
}

/* --- applying it -------------------------------------------------------------------------------------------------- */

/* One value by a policy; a value that is not there stays so, and the first failure stands. */
static flc_status round_value(double *value, flc_rounding policy, flc_error *error)
{
    if (policy.kind == FLC_ROUNDING_NONE || flc_is_nan(*value)) {
        return FLC_OK;
    }
    const double before = *value;
    const flc_status status = flc_round_by(before, policy, value);
    return status == FLC_OK ? FLC_OK : flc_fail(error, status, "rounding", -1, before, flc_nan(), NULL);
}

/* A reading is rounded in the unit it was taken in: value scale + shift. */
static flc_status round_reading(double *value, flc_rounding policy, double scale, double shift, flc_error *error)
{
    if (policy.kind == FLC_ROUNDING_NONE) {
        return FLC_OK;
    }
    double read = *value * scale + shift;
    const flc_status status = round_value(&read, policy, error);
    *value = (read - shift) / scale;
    return status;
}

flc_status flc_proving_round_readings(const flc_proving_rounding *policy, flc_proving_run *run, flc_error *error)
{
    const int customary = policy->units == FLC_READ_CUSTOMARY;
    const double t_scale = customary ? 1.8 : 1.0, t_shift = customary ? 32.0 : 0.0;
    double *const temperatures[] = {&run->t_meter_degc, &run->t_prover_degc, &run->t_rod_degc};
    double *const pressures[] = {&run->p_meter_kpag, &run->p_prover_kpag};
    flc_status status = FLC_OK;
    for (size_t i = 0; i < FLC_COUNT_OF(temperatures) && status == FLC_OK; i++) {
        status = round_reading(temperatures[i], policy->temperature, t_scale, t_shift, error);
    }
    for (size_t i = 0; i < FLC_COUNT_OF(pressures) && status == FLC_OK; i++) {
        status = round_reading(pressures[i], policy->pressure, customary ? 1.0 / KPA_PER_PSI : 1.0, 0.0, error);
    }
    return status;
}

flc_status flc_proving_round_factors(const flc_proving_rounding *policy, flc_proving_run *run, flc_error *error)
{
    double *const factors[] = {&run->cts_prover, &run->cps_prover, &run->ctl_prover,
                               &run->cpl_prover, &run->ctl_meter,  &run->cpl_meter};
    flc_status status = FLC_OK;
    for (size_t i = 0; i < FLC_COUNT_OF(factors) && status == FLC_OK; i++) {
        status = round_value(factors[i], policy->factors, error);
    }
    return status;
}

flc_status flc_proving_round_range(flc_proving_task *task)
{
    return round_value(&task->proving->range_pct, task->options->rounding.range, task->error);
}

flc_status flc_proving_round_mf(flc_proving_task *task)
{
    const flc_rounding policy = task->options->rounding.mf;
    const flc_status status = round_value(&task->proving->mf_average_data, policy, task->error);
    return status != FLC_OK ? status : round_value(&task->proving->mf_average_factor, policy, task->error);
}
