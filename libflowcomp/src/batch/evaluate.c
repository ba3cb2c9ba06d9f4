/* SPDX-License-Identifier: Apache-2.0 */
/* Many records of one meter and one liquid. */
#include "flowcomp/batch.h"
#include "error.h"
#include "fp_guard.h"
#include <string.h>

void flc_readings_init(flc_readings *readings)
{
    memset(readings, 0, sizeof *readings);
    readings->size = sizeof *readings;
}

void flc_results_init(flc_results *results)
{
    memset(results, 0, sizeof *results);
    results->size = sizeof *results;
}

static void read_column(const flc_column *column, size_t i, double *value)
{
    if (column->start != NULL) {
        *value = column->start[(ptrdiff_t)i * column->stride];
    }
}

static void read_record(const flc_readings *columns, size_t i, flc_reading *reading)
{
    flc_reading_init(reading);
    read_column(&columns->pulses, i, &reading->pulses);
    read_column(&columns->duration_s, i, &reading->duration_s);
    read_column(&columns->flowing_s, i, &reading->flowing_s);
    read_column(&columns->f_flowing_hz, i, &reading->f_flowing_hz);
    read_column(&columns->f_hz, i, &reading->f_hz);
    read_column(&columns->t_degc, i, &reading->t_degc);
    read_column(&columns->p_kpag, i, &reading->p_kpag);
    read_column(&columns->nu_mm2s, i, &reading->nu_mm2s);
    read_column(&columns->rho_base_kgm3, i, &reading->density.rho_base_kgm3);
    read_column(&columns->rho_observed_kgm3, i, &reading->density.rho_observed_kgm3);
    read_column(&columns->t_observed_degc, i, &reading->density.t_observed_degc);
    read_column(&columns->p_observed_kpag, i, &reading->density.p_observed_kpag);
    read_column(&columns->densitometer_factor, i, &reading->density.densitometer_factor);
    read_column(&columns->f_before_hz, i, &reading->f_before_hz);
    read_column(&columns->f_after_hz, i, &reading->f_after_hz);
    read_column(&columns->f_highest_hz, i, &reading->f_highest_hz);
}

static void write_record(const flc_results *columns, size_t i, const flc_result *result)
{
    if (columns->status != NULL) {
        columns->status[i] = (uint8_t)result->status;
    }
    if (columns->flags != NULL) {
        columns->flags[i] = result->flags;
    }
#define WRITE(name, unit, meaning)       \
    if (columns->name != NULL) {         \
        columns->name[i] = result->name; \
    }
    FLC_RESULT_LIST(WRITE)
#undef WRITE
}

static flc_status check_batch(const flc_meter *meter, const flc_liquid *liquid, const flc_readings *readings,
                              const flc_totals *totals)
{
    if (meter == NULL || liquid == NULL || readings == NULL) {
        return FLC_E_NULL;
    }
    if (readings->size != sizeof *readings || (totals != NULL && totals->size != sizeof *totals)) {
        return FLC_E_SIZE;
    }
    return FLC_OK;
}

/* A batch that does not start leaves nothing that could be taken for results. */
static flc_status refuse_batch(flc_status why, size_t n, const flc_results *results)
{
    flc_result nothing;
    flc_result_init(&nothing);
    nothing.status = why;
    for (size_t i = 0; i < n; i++) {
        write_record(results, i, &nothing);
    }
    return why;
}

flc_status flc_meter_evaluate_n(const flc_meter *meter, const flc_liquid *liquid, const flc_readings *readings,
                                size_t n, const flc_results *results, flc_totals *totals, size_t *refused)
{
    if (refused != NULL) {
        *refused = 0;
    }
    if (results == NULL) {
        return FLC_E_NULL;
    }
    if (results->size != sizeof *results) {
        return FLC_E_SIZE;
    }
    flc_status status = check_batch(meter, liquid, readings, totals);
    if (status != FLC_OK) {
        return refuse_batch(status, n, results);
    }
    flc_fp_state fp = flc_fp_enter();
    for (size_t i = 0; i < n; i++) {
        flc_reading reading;
        flc_result result;
        read_record(readings, i, &reading);
        flc_result_init(&result);
        const flc_status each = flc_meter_evaluate(meter, liquid, &reading, &result, NULL);
        if (totals != NULL && status == FLC_OK) {
            status = flc_totals_add(totals, reading.pulses, &result);
        }
        write_record(results, i, &result);
        if (each != FLC_OK && refused != NULL) {
            (*refused)++;
        }
    }
    flc_fp_leave(fp);
    return status;
}
