/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/legal_limits.h"
#include "error.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "method.h"

typedef struct class_row {
    double line_a_pct, line_b_pct;
    double temperature_degc, density_kgm3;
} class_row;

#include "tables/legal_limits_table.inc"

static flc_status mpe_system_pct(flc_accuracy_class accuracy_class, double *result)
{
    *result = accuracy_classes[accuracy_class].line_a_pct;
    return FLC_OK;
}

static flc_status mpe_meter_pct(flc_accuracy_class accuracy_class, double *result)
{
    *result = accuracy_classes[accuracy_class].line_b_pct;
    return FLC_OK;
}

/* The lines are printed to a tenth; so is their difference. */
static flc_status mpe_conversion_device_pct(flc_accuracy_class accuracy_class, double *result)
{
    const class_row *row = &accuracy_classes[accuracy_class];
    *result = (10.0 * row->line_a_pct - 10.0 * row->line_b_pct) / 10.0;
    return FLC_OK;
}

static flc_status mpe_calculator_pct(flc_accuracy_class accuracy_class, double *result)
{
    *result = accuracy_classes[accuracy_class].line_a_pct / 10.0;
    return FLC_OK;
}

/* Table 3 below 2 L, Table 2 line A above: the steps meet at their ends. */
static double printed_limit_l(double volume_l, double a_pct)
{
    const double share = a_pct / 100.0;
    if (volume_l < 0.1) {
        return 4.0 * share * 0.1;
    }
    if (volume_l < 0.2) {
        return 4.0 * share * volume_l;
    }
    if (volume_l < 0.4) {
        return 2.0 * share * 0.4;
    }
    if (volume_l < 1.0) {
        return 2.0 * share * volume_l;
    }
    return share * (volume_l < 2.0 ? 2.0 : volume_l);
}

static double larger(double one, double other)
{
    return one > other ? one : other;
}

static flc_status emin_l(double mmq_l, flc_accuracy_class accuracy_class, double *result)
{
    *result = 2.0 * printed_limit_l(mmq_l, accuracy_classes[accuracy_class].line_a_pct);
    return FLC_OK;
}

static flc_status mpe_quantity_l(double volume_l, flc_accuracy_class accuracy_class, double mmq_l,
                                 double scale_interval_l, double *result)
{
    const double a_pct = accuracy_classes[accuracy_class].line_a_pct;
    const double printed = printed_limit_l(volume_l, a_pct), from_mmq = 2.0 * printed_limit_l(mmq_l, a_pct);
    const double least = larger(from_mmq, 2.0 * scale_interval_l);
    *result = larger(printed, least);
    return FLC_OK;
}

static flc_status mpe_temperature_sensor_degc(flc_accuracy_class accuracy_class, double *result)
{
    *result = accuracy_classes[accuracy_class].temperature_degc;
    return FLC_OK;
}

static flc_status mpe_pressure_sensor_kpa(double p_mpa, double *result)
{
    *result = p_mpa < 1.0 ? 50.0 : p_mpa <= 4.0 ? 50.0 * p_mpa : 200.0;
    return FLC_OK;
}

static flc_status mpe_density_sensor_kgm3(flc_accuracy_class accuracy_class, double *result)
{
    *result = accuracy_classes[accuracy_class].density_kgm3;
    return FLC_OK;
}

flc_status flc_limit_judge(double found, double truth, double limit, flc_limit_check *check)
{
    if (check == NULL) {
        return FLC_E_NULL;
    }
    *check = (flc_limit_check){flc_nan(), flc_nan(), flc_nan(), 0};
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_check_range(NULL, "found", -1, found, -DBL_MAX / 2, DBL_MAX / 2);
    if (status == FLC_OK) {
        status = flc_check_range(NULL, "truth", -1, truth, -DBL_MAX / 2, DBL_MAX / 2);
    }
    if (status == FLC_OK) {
        status = flc_check_range(NULL, "limit", -1, limit, 0.0, DBL_MAX / 2);
    }
    if (status == FLC_OK) {
        const double error = found - truth, size = flc_fabs(error);
        *check = (flc_limit_check){error, limit, limit - size, size <= limit};
    }
    flc_fp_leave(fp);
    return status;
}

#include "methods/legal_limits.inc"
