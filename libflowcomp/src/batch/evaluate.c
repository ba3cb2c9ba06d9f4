/* SPDX-License-Identifier: Apache-2.0 */
/* Many records of one meter and one liquid. */
#include "flowcomp/batch.h"
#include "error.h"
#include "fp_guard.h"
#include "tile.h"
#include "struct_size.h"
#include <string.h>

void flc_readings_init_sized(flc_readings *readings, size_t own_size)
{
    const flc_readings fresh = {.size = sizeof fresh};
    flc_give_sized(readings, own_size, &fresh, sizeof fresh);
}

void flc_results_init_sized(flc_results *results, size_t own_size)
{
    const flc_results fresh = {.size = sizeof fresh};
    flc_give_sized(results, own_size, &fresh, sizeof fresh);
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
#define READ(name, place) read_column(&columns->name, i, &reading->place);
    FLC_READING_LIST(READ)
#undef READ
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
flc_status flc_batch_refuse(flc_status why, size_t n, const flc_results *results)
{
    flc_result nothing;
    flc_result_init(&nothing);
    nothing.status = why;
    for (size_t i = 0; i < n; i++) {
        write_record(results, i, &nothing);
    }
    return why;
}

/* ---- which code ---- */

const uint64_t flc_mask_bits[2] = {0, ~UINT64_C(0)}; /* defined out of sight of the tiles: see mask_of */

flc_instruction_set flc_instructions_taken(flc_instruction_set asked)
{
    if (asked == FLC_INSTRUCTIONS_SCALAR || asked == FLC_INSTRUCTIONS_BASE) {
        return asked;
    }
#ifdef __x86_64__
    const int may_512 = asked != FLC_INSTRUCTIONS_AVX2;
    if (may_512 && __builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl") && __builtin_cpu_supports("avx512bw") &&
        __builtin_cpu_supports("avx512cd")) {
        return FLC_INSTRUCTIONS_AVX512;
    }
    if (__builtin_cpu_supports("avx2")) {
        return FLC_INSTRUCTIONS_AVX2;
    }
#endif
    return FLC_INSTRUCTIONS_BASE;
}

/* The tiles hold API MPMS 11.1 (2004) at its own bases and the D341 lines; other liquids go one by one. */
static int fits_tiles(const flc_liquid *liquid, const flc_readings *readings)
{
    return liquid->volume.ctl == NULL && flc_liquid_nu_is_direct(liquid) && readings->pe_kpa.start == NULL;
}

static const flc_tile_code *code_of(flc_instruction_set set)
{
#ifdef __x86_64__
    if (set == FLC_INSTRUCTIONS_AVX512) {
        return &flc_tile_avx512;
    }
    if (set == FLC_INSTRUCTIONS_AVX2) {
        return &flc_tile_avx2;
    }
#endif
    return set == FLC_INSTRUCTIONS_SCALAR ? NULL : &flc_tile_base;
}

/* ---- one by one, and by tiles ---- */

/* Fewer records than this at the end of a batch cost less one by one than as a tile. */
#define WORTH_A_TILE 8

/* A batch under way. */
typedef struct batch {
    flc_tile_plan plan;
    flc_totals *totals;
    size_t refused;
    flc_status status; /* of the totals */
    flc_result set_aside[FLC_TILE];
    flc_tile tile;
} batch;

static void evaluate_record(const flc_tile_plan *plan, size_t i, flc_result *result)
{
    flc_reading reading;
    read_record(plan->in, i, &reading);
    (void)flc_meter_record(plan->meter, plan->liquid, &reading, result, NULL);
}

static void add_to_totals(batch *b, double pulses, const flc_result *result)
{
    if (b->totals != NULL && b->status == FLC_OK) {
        b->status = flc_totals_add(b->totals, pulses, result);
    }
    b->refused += result->status != FLC_OK;
}

static double pulses_of(const flc_readings *in, size_t i)
{
    double pulses = flc_nan();
    read_column(&in->pulses, i, &pulses);
    return pulses;
}

static void one_by_one(batch *b, size_t from, size_t to)
{
    for (size_t i = from; i < to; i++) {
        flc_result result;
        const double pulses = pulses_of(b->plan.in, i); /* a column out may lie on it */
        evaluate_record(&b->plan, i, &result);
        add_to_totals(b, pulses, &result);
        write_record(b->plan.out, i, &result);
    }
}

/* What the totals need of a record that the tile has evaluated. */
static void result_for_totals(const flc_tile *t, size_t i, flc_result *result)
{
    const int inside = t->inside[i] != 0;
    const int idle = t->idle[i] != 0 && t->windowed[i] != 0;
    result->size = sizeof *result;
    result->flags = (uint32_t)t->flags[i];
    result->status = (flc_status)t->status[i];
    result->v_m3 = inside ? t->v_m3[i] : idle ? 0.0 : flc_nan();
    result->v_base_m3 = inside ? t->v_base_m3[i] : idle ? 0.0 : flc_nan();
    result->rho_base_kgm3 = inside ? t->rho_base_kgm3[i] : flc_nan();
}

/* A tile of which nothing is left to do: the rule, where no totals are kept. */
static int is_done(const batch *b)
{
    return b->tile.is_all_good && !b->tile.any_beyond && b->totals == NULL;
}

static void by_tile(batch *b, const flc_tile_code *code, size_t from, size_t count)
{
    flc_tile *t = &b->tile;
    code->evaluate(&b->plan, from, count, t);
    for (size_t i = 0; i < count && !t->is_all_good;
         i++) { /* before anything is written: columns may lie on each other */
        if (!t->good[i]) {
            evaluate_record(&b->plan, from + i, &b->set_aside[i]);
        }
    }
    code->write(&b->plan, from, t);
    for (size_t i = 0; i < count && !t->is_all_good; i++) {
        if (!t->good[i]) {
            write_record(b->plan.out, from + i, &b->set_aside[i]);
        }
    }
    for (size_t i = 0; i < count && !is_done(b); i++) {
        if (!t->good[i]) {
            add_to_totals(b, t->pulses[i], &b->set_aside[i]);
        } else if (b->totals != NULL) {
            result_for_totals(t, i, &b->set_aside[0]);
            add_to_totals(b, t->pulses[i], &b->set_aside[0]);
        } else {
            b->refused += t->status[i] != FLC_OK;
        }
    }
}

static void narrow(double low, double high, double *plan_low, double *plan_high)
{
    *plan_low = low > *plan_low ? low : *plan_low;
    *plan_high = high < *plan_high ? high : *plan_high;
}

/* Temperatures and pressures that every stage takes. */
static void plan_ranges(flc_tile_plan *plan)
{
    const flc_liquid *liquid = plan->liquid;
    const flc_viscosity_source source = liquid->options.viscosity;
    const double reach = liquid->options.beyond == FLC_VISCOSITY_EXTEND ? FLC_VISCOSITY_REACH_K : 0.0;
    const int clamps = liquid->options.negative_pressure == FLC_NEGATIVE_CLAMP;
    plan->t_low = FLC_RECORD_T_LOW_DEGC;
    plan->t_high = FLC_RECORD_T_HIGH_DEGC;
    plan->p_low = clamps ? FLC_RECORD_P_LOW_KPAG : 0.0;
    plan->p_high = FLC_RECORD_P_HIGH_KPAG;
    narrow(plan->meter->body.t_low_degc, plan->meter->body.t_high_degc, &plan->t_low, &plan->t_high);
    if (liquid->options.volume == FLC_VOLUME_PETROLEUM_2004) {
        narrow(FLC_VOLUME_T_LOW_DEGC, FLC_VOLUME_T_HIGH_DEGC, &plan->t_low, &plan->t_high);
        plan->p_high = FLC_VOLUME_P_HIGH_KPAG;
    }
    if (source != FLC_VISCOSITY_MEASURED && !(source == FLC_VISCOSITY_TYPICAL && liquid->first.count == 1)) {
        narrow(liquid->first.t_low_degc - reach, liquid->first.t_high_degc + reach, &plan->t_low, &plan->t_high);
    }
    if (source == FLC_VISCOSITY_BETWEEN) {
        narrow(liquid->second.t_low_degc - reach, liquid->second.t_high_degc + reach, &plan->t_low, &plan->t_high);
    }
}

static void make_plan(flc_tile_plan *plan, const flc_totals *totals)
{
    const flc_results *out = plan->out;
    const flc_liquid_options *options = &plan->liquid->options;
    if (options->volume == FLC_VOLUME_PETROLEUM_2004) {
        plan->petroleum = flc_petroleum_2004_liquid_of(options->product, options->base);
        plan->base_degf = flc_petroleum_2004_base_degf(options->base);
    }
    plan_ranges(plan);
    plan->flags = plan->meter->body.flags | plan->liquid->viscosity_flags |
                  (options->volume == FLC_VOLUME_PETROLEUM_2004 ? FLC_FLAG_FROM_MEMORY : FLC_FLAG_NO_VOLUME_CORRECTION);
    plan->wants_flags = totals != NULL || out->flags != NULL;
    plan->wants_flowing = out->nu_mm2s != NULL || out->d_m != NULL || out->b_ratio != NULL || out->ro != NULL ||
                          out->rho_base_kgm3 != NULL || out->ctl != NULL || out->cpl != NULL;
    plan->wants_windows = out->v_m3 != NULL || out->v_base_m3 != NULL;
    plan->keeps_pulses = totals != NULL;
    const int needs_base = plan->in->rho_observed_kgm3.start != NULL;
    plan->wants_factors = totals != NULL || needs_base || out->ctl != NULL || out->cpl != NULL ||
                          out->q_base_m3s != NULL || out->v_base_m3 != NULL;
    plan->wants_body_ratio = out->b_ratio != NULL || out->k_per_m3 != NULL;
    plan->wants_slope = out->slope != NULL || out->dlnq_dlnf != NULL || out->dlnq_dlnnu != NULL ||
                        out->dlnq_dlnd != NULL || out->u_v_nu != NULL;
}

/* Lanes of columns that are not there, and results that are the same in every record. */
static void fill_constant_lanes(flc_tile *t)
{
    const double nothing = flc_nan();
    memset(t, 0, sizeof *t);
    for (size_t i = 0; i < FLC_TILE; i++) {
        t->pulses[i] = t->duration_s[i] = t->flowing_s[i] = t->f_flowing_hz[i] = t->f_given_hz[i] = nothing;
        t->t_degc[i] = t->p_kpag[i] = t->nu_given[i] = t->rho_base_given[i] = t->rho_observed[i] = nothing;
        t->t_observed[i] = t->p_observed[i] = t->f_before_hz[i] = t->f_after_hz[i] = t->f_highest_hz[i] = nothing;
        t->rho_base_kgm3[i] = t->ctl[i] = t->cpl[i] = t->ctpl[i] = nothing;
        t->densitometer_factor[i] = 1.0;
        t->dlnq_dlnb[i] = -1.0;
    }
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
    const flc_status status = check_batch(meter, liquid, readings, totals);
    if (status != FLC_OK) {
        return flc_batch_refuse(status, n, results);
    }
    flc_fp_state fp = flc_fp_enter();
    batch b;
    b.plan = (flc_tile_plan){.meter = meter, .liquid = liquid, .in = readings, .out = results};
    b.totals = totals;
    b.refused = 0;
    b.status = FLC_OK;
    const flc_tile_code *code = code_of(flc_instructions_taken((flc_instruction_set)readings->instruction_set));
    size_t from = 0;
    if (code != NULL && n >= WORTH_A_TILE && fits_tiles(liquid, readings)) {
        make_plan(&b.plan, totals);
        fill_constant_lanes(&b.tile);
        for (; n - from >= WORTH_A_TILE; from += n - from < FLC_TILE ? n - from : FLC_TILE) {
            by_tile(&b, code, from, n - from < FLC_TILE ? n - from : FLC_TILE);
        }
    }
    one_by_one(&b, from, n);
    flc_fp_leave(fp);
    if (refused != NULL) {
        *refused = b.refused;
    }
    return b.status;
}
