/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/quantities.h"
#include "error.h"
#include "method.h"
#include "quantities_core.h"
#include "rounding_core.h"

typedef struct acceptance_row {
    double value;
    flc_provenance status;
} acceptance_row;

typedef struct reporting_row {
    flc_reporting_policy policy;
    flc_reporting_item item;
    double decimals_min, decimals_max, increment;
} reporting_row;

#include "tables/quantities_table.inc"

/* Rounded to so many decimals, or as it is where they are left out. */
static flc_status rounded(double value, double decimals, double *result)
{
    *result = value;
    return flc_is_nan(decimals) ? FLC_OK : flc_round_to_decimals(value, decimals, result);
}

static flc_status net_observed_volume(double total_observed, double free_water, double *result)
{
    *result = total_observed - free_water;
    return free_water <= total_observed ? FLC_OK : FLC_E_ORDER;
}

static flc_status indicated_volume(double opening, double closing, double *result)
{
    *result = closing - opening;
    return opening <= closing ? FLC_OK : FLC_E_ORDER;
}

static flc_status indicated_volume_from_pulses(double pulses, double nominal_k, double *result)
{
    *result = pulses / nominal_k;
    return FLC_OK;
}

static flc_status standard_volume(double gross, double vcf, double *result)
{
    *result = gross * vcf;
    return FLC_OK;
}

static flc_status cpl(double p, double pe, double f, double *result)
{
    return flc_cpl_of(p, pe, f, result);
}

static flc_status ccf(double mf, double ctl, double cpl_, double decimals, double *result)
{
    return rounded(flc_ccf_of(mf, ctl, cpl_), decimals, result);
}

static flc_status csw(double sw_pct, double decimals, double *result)
{
    return rounded(flc_csw_of(sw_pct), decimals, result);
}

static flc_status gsv(double iv, double mf, double ctl, double cpl_, double ccf_decimals, double volume_decimals,
                      double *result)
{
    double factor;
    flc_status status = ccf(mf, ctl, cpl_, ccf_decimals, &factor);
    return status != FLC_OK ? status : rounded(iv * factor, volume_decimals, result);
}

static flc_status nsv(double iv, double mf, double ctl, double cpl_, double sw_pct, double ccf_decimals,
                      double csw_decimals, double volume_decimals, double *result)
{
    double gross, factor;
    flc_status status = gsv(iv, mf, ctl, cpl_, ccf_decimals, volume_decimals, &gross);
    if (status == FLC_OK) {
        status = csw(sw_pct, csw_decimals, &factor);
    }
    return status != FLC_OK ? status : rounded(gross * factor, volume_decimals, result);
}

static flc_status swv(double iv, double mf, double ctl, double cpl_, double sw_pct, double ccf_decimals,
                      double csw_decimals, double volume_decimals, double *result)
{
    double gross, net;
    flc_status status = gsv(iv, mf, ctl, cpl_, ccf_decimals, volume_decimals, &gross);
    if (status == FLC_OK) {
        status = nsv(iv, mf, ctl, cpl_, sw_pct, ccf_decimals, csw_decimals, volume_decimals, &net);
    }
    return status != FLC_OK ? status : rounded(gross - net, volume_decimals, result);
}

static flc_status gsv_rounding_effect_ppm(double iv, double mf, double ctl, double cpl_, double ccf_decimals,
                                          double volume_decimals, double *result)
{
    const double exact = iv * flc_ccf_of(mf, ctl, cpl_);
    double with;
    flc_status status = gsv(iv, mf, ctl, cpl_, ccf_decimals, volume_decimals, &with);
    if (status == FLC_OK) {
        *result = 1e6 * ((with - exact) / exact);
    }
    return status;
}

static flc_status composite_meter_factor(double mf, double cpl_meter, double decimals, double *result)
{
    return rounded(mf * cpl_meter, decimals, result);
}

static flc_status k_factor_actual(double nominal_k, double mf, double *result)
{
    *result = nominal_k / mf;
    return FLC_OK;
}

static flc_status flow_weighted_average(const double *volumes, const double *values, size_t n, double *result)
{
    double weighted = 0.0, volume = 0.0;
    for (size_t i = 0; i < n; i++) {
        weighted += values[i] * volumes[i];
        volume += volumes[i];
    }
    if (!(volume > 0.0)) {
        return FLC_E_DOMAIN;
    }
    *result = weighted / volume;
    return FLC_OK;
}

static flc_status weight_in_air_factor(double rho_kgm3, double rho_air_kgm3, double rho_weights_kgm3, double *result)
{
    *result = flc_weight_in_air_of(rho_kgm3, rho_air_kgm3, rho_weights_kgm3);
    return FLC_OK;
}

static flc_status weight_in_air_factor_petroleum(double rho_kgm3, double *result)
{
    *result = flc_weight_in_air_petroleum_of(rho_kgm3);
    return FLC_OK;
}

/* The quotient multiplied out, (rho - 1.1)(1 - 1.2/8000)/(rho - 1.2) - 1: as a difference of the two factors it would
 * lose five digits. */
static flc_status weight_in_air_difference_ppm(double rho_kgm3, double *result)
{
    *result = (100165.0 - 150.0 * rho_kgm3) / (rho_kgm3 - 1.2);
    return FLC_OK;
}

static flc_status acceptance_limit(flc_acceptance_rule rule, double *result)
{
    *result = acceptance_limits[rule].value;
    return FLC_OK;
}

flc_status flc_acceptance_rule_provenance(flc_acceptance_rule rule, flc_provenance *provenance)
{
    if (provenance == NULL) {
        return FLC_E_NULL;
    }
    *provenance = (flc_provenance)0;
    if ((int)rule < 0 || (size_t)rule >= FLC_COUNT_OF(acceptance_limits)) {
        return FLC_E_CHOICE;
    }
    *provenance = acceptance_limits[rule].status;
    return FLC_OK;
}

static const reporting_row *reporting_row_of(flc_reporting_item item, flc_reporting_policy policy)
{
    for (size_t i = 0; i < FLC_COUNT_OF(reporting_rows); i++) {
        if (reporting_rows[i].item == item && reporting_rows[i].policy == policy) {
            return &reporting_rows[i];
        }
    }
    return NULL;
}

static flc_status reporting_decimals(flc_reporting_item item, flc_reporting_policy policy, flc_reporting_bound bound,
                                     double *result)
{
    const reporting_row *row = reporting_row_of(item, policy);
    if (row == NULL) {
        return FLC_E_UNKNOWN_NAME;
    }
    *result = bound == FLC_BOUND_MAX ? row->decimals_max : row->decimals_min;
    return bound == FLC_BOUND_NONE && row->decimals_min != row->decimals_max ? FLC_E_MISSING : FLC_OK;
}

static flc_status reporting_increment(flc_reporting_item item, flc_reporting_policy policy, double *result)
{
    const reporting_row *row = reporting_row_of(item, policy);
    if (row == NULL || flc_is_nan(row->increment)) {
        return FLC_E_UNKNOWN_NAME;
    }
    *result = row->increment;
    return FLC_OK;
}

#include "methods/quantities.inc"
