/* SPDX-License-Identifier: Apache-2.0 */
/* Provers, passes and options: setting up and checking. */
#include "proving_core.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"
#include "struct_size.h"

static const char *const kind_words[] = {"pipe", "pipe_bidirectional", "small_volume", "tank", "master_meter", NULL};
static const char *const method_words[] = {"average_data", "average_factor", NULL};
static const char *const way_words[] = {"nominal_k", "curve", NULL};
static const char *const range_words[] = {"target", "lord", "api_4_8", "fixed", NULL};
static const char *const range_of_words[] = {"pulses", "factors", NULL};
static const char *const rejection_words[] = {"none", "first", "furthest", "all_but_last", NULL};

flc_status flc_prover_kind_from_name(const char *name, flc_prover_kind *choice)
{
    return flc_choice_from_name(kind_words, name, (int *)choice);
}

flc_status flc_proving_method_from_name(const char *name, flc_proving_method *choice)
{
    return flc_choice_from_name(method_words, name, (int *)choice);
}

flc_status flc_proving_way_from_name(const char *name, flc_proving_way *choice)
{
    return flc_choice_from_name(way_words, name, (int *)choice);
}

flc_status flc_range_policy_from_name(const char *name, flc_range_policy *choice)
{
    return flc_choice_from_name(range_words, name, (int *)choice);
}

flc_status flc_range_of_from_name(const char *name, flc_range_of *choice)
{
    return flc_choice_from_name(range_of_words, name, (int *)choice);
}

flc_status flc_rejection_from_name(const char *name, flc_rejection *choice)
{
    return flc_choice_from_name(rejection_words, name, (int *)choice);
}

flc_status flc_check_ranges(const flc_named_range *list, size_t count, int64_t index, flc_error *error)
{
    flc_status status = FLC_OK;
    for (size_t i = 0; i < count && status == FLC_OK; i++) {
        status = flc_check_range(error, list[i].name, index, list[i].value, list[i].low, list[i].high);
    }
    return status;
}

void flc_prover_init_sized(flc_prover *prover, size_t own_size)
{
    const double none = flc_nan();
    const flc_prover fresh = {.size = sizeof fresh,
                              .kind = (flc_prover_kind)-1,
                              .base_volume_m3 = none,
                              .base_t_degc = none,
                              .gc_per_degc = none,
                              .ga_per_degc = none,
                              .gl_rod_per_degc = none,
                              .e_kpa = none,
                              .id_m = none,
                              .wall_m = none,
                              .master_k_per_m3 = none,
                              .master_mf = none,
                              .water_draw_day = FLC_TIME_NONE,
                              .expiry_day = FLC_TIME_NONE};
    flc_give_sized(prover, own_size, &fresh, sizeof fresh);
}

void flc_pass_init_sized(flc_pass *pass, size_t own_size)
{
    const double none = flc_nan();
    const flc_pass fresh = {.size = sizeof fresh,
                            .run = 1,
                            .direction = FLC_PASS_SINGLE,
                            .pulses = none,
                            .pulses_whole = none,
                            .t_pulses_s = none,
                            .t_detectors_s = none,
                            .f_hz = none,
                            .t_meter_degc = none,
                            .p_meter_kpag = none,
                            .t_prover_degc = none,
                            .p_prover_kpag = none,
                            .t_rod_degc = none,
                            .nu_mm2s = none,
                            .ctl_prover = none,
                            .cpl_prover = none,
                            .ctl_meter = none,
                            .cpl_meter = none,
                            .upper_m3 = none,
                            .lower_m3 = none,
                            .pulses_master = none,
                            .start_ms = FLC_TIME_NONE,
                            .end_ms = FLC_TIME_NONE};
    flc_give_sized(pass, own_size, &fresh, sizeof fresh);
}

void flc_proving_options_init_sized(flc_proving_options *options, size_t own_size)
{
    const double none = flc_nan();
    const flc_proving_options fresh = {.size = sizeof fresh,
                                       .way = FLC_WAY_NOMINAL_K,
                                       .method = FLC_PROVING_AVERAGE_DATA,
                                       .nominal_k_per_m3 = none,
                                       .density = {none, none, none, none, 1.0},
                                       .passes_per_run = 1,
                                       .runs_min = 5,
                                       .range = FLC_RANGE_TARGET,
                                       .range_of = FLC_RANGE_OF_PULSES,
                                       .target_pct = 0.027,
                                       .range_limit_pct = none,
                                       .rejection = FLC_REJECT_NONE,
                                       .pulses_min = 10000.0,
                                       .clock_hz = none,
                                       .clock_ticks_min = 20000.0,
                                       .temperature_difference_k = none,
                                       .temperature_drift_k = none,
                                       .flow_spread_pct = none,
                                       .waiting_s = none,
                                       .flow_started_ms = FLC_TIME_NONE,
                                       .mf_low = none,
                                       .mf_high = none,
                                       .day = FLC_TIME_NONE};
    flc_give_sized(options, own_size, &fresh, sizeof fresh);
}

/* The wall: its expansion by the kind of prover, and its stretch unless both sides have the same pressure. */
static flc_status check_steel(const flc_prover *prover, flc_error *error)
{
    const int is_small = prover->kind == FLC_PROVER_SMALL_VOLUME;
    const flc_named_range expansion[] = {
        {"base_t_degc", prover->base_t_degc, 0.0, 40.0},
        {is_small ? "ga_per_degc" : "gc_per_degc", is_small ? prover->ga_per_degc : prover->gc_per_degc, 0.0, 1.8e-4},
        {"gl_rod_per_degc", is_small ? prover->gl_rod_per_degc : 0.0, 0.0, 1.8e-4},
    };
    flc_status status = flc_check_ranges(expansion, FLC_COUNT_OF(expansion), -1, error);
    if (status != FLC_OK || prover->kind == FLC_PROVER_TANK) {
        return status;
    }
    const flc_named_range wall[] = {
        {"base_volume_m3", prover->base_volume_m3, 1e-6, 1e4},
        {"e_kpa", prover->double_wall ? 1e8 : prover->e_kpa, 6e6, 7e8},
        {"id_m", prover->double_wall ? 1.0 : prover->id_m, 0.002, 5.0},
        {"wall_m", prover->double_wall ? 0.1 : prover->wall_m, 2e-4, 0.5},
    };
    return flc_check_ranges(wall, FLC_COUNT_OF(wall), -1, error);
}

static flc_status check_prover(const flc_prover *prover, flc_error *error)
{
    const double none = flc_nan();
    if (prover->size != sizeof *prover) {
        return flc_fail(error, FLC_E_SIZE, "prover", -1, (double)prover->size, (double)sizeof *prover, NULL);
    }
    if ((int)prover->kind < 0 || prover->kind > FLC_PROVER_MASTER_METER) {
        return flc_fail(error, FLC_E_CHOICE, "kind", -1, (double)(int)prover->kind, FLC_PROVER_MASTER_METER, NULL);
    }
    if (prover->water_draw_day != FLC_TIME_NONE && prover->expiry_day != FLC_TIME_NONE &&
        prover->expiry_day < prover->water_draw_day) {
        return flc_fail(error, FLC_E_ORDER, "expiry_day", -1, (double)prover->expiry_day,
                        (double)prover->water_draw_day, "a certificate expires after its water draw");
    }
    if (prover->kind != FLC_PROVER_MASTER_METER) {
        return check_steel(prover, error);
    }
    if (flc_is_nan(prover->master_k_per_m3)) {
        return flc_fail(error, FLC_E_NAN, "master_k_per_m3", -1, none, none, NULL);
    }
    const flc_named_range master[] = {{"master_k_per_m3", prover->master_k_per_m3, 1.0, 1e12},
                                      {"master_mf", prover->master_mf, FLC_MF_LOW, FLC_MF_HIGH}};
    return flc_check_ranges(master, FLC_COUNT_OF(master), -1, error);
}

flc_status flc_prover_check(const flc_prover *prover, flc_error *error)
{
    flc_error_clear(error);
    if (prover == NULL) {
        return flc_fail(error, FLC_E_NULL, "prover", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = check_prover(prover, error);
    flc_fp_leave(fp);
    return status;
}

/* A limit may be absent, else it is a sensible number. */
static flc_status check_limits(const flc_proving_options *o, flc_error *error)
{
    const flc_named_range limits[] = {
        {"pulses_min", o->pulses_min, 1.0, 1e12},
        {"clock_hz", o->clock_hz, 1.0, 1e12},
        {"clock_ticks_min", o->clock_ticks_min, 1.0, 1e12},
        {"temperature_difference_k", o->temperature_difference_k, 0.0, 100.0},
        {"temperature_drift_k", o->temperature_drift_k, 0.0, 100.0},
        {"flow_spread_pct", o->flow_spread_pct, 0.0, 1000.0},
        {"waiting_s", o->waiting_s, 0.0, 1e7},
        {"mf_low", o->mf_low, FLC_MF_LOW, FLC_MF_HIGH},
        {"mf_high", o->mf_high, FLC_MF_LOW, FLC_MF_HIGH},
    };
    flc_status status = FLC_OK;
    for (size_t i = 0; i < FLC_COUNT_OF(limits) && status == FLC_OK; i++) {
        status = flc_is_nan(limits[i].value) ? FLC_OK : flc_check_ranges(&limits[i], 1, -1, error);
    }
    if (status == FLC_OK && !flc_is_nan(o->waiting_s) && o->flow_started_ms == FLC_TIME_NONE) {
        status = flc_fail(error, FLC_E_MISSING, "flow_started_ms", -1, flc_nan(), flc_nan(), "waiting_s needs it");
    }
    if (status == FLC_OK && o->range != FLC_RANGE_FIXED && o->range != FLC_RANGE_API_4_8) {
        status = flc_check_range(error, "target_pct", -1, o->target_pct, 1e-6, 100.0);
    }
    if (status == FLC_OK && o->range == FLC_RANGE_FIXED) {
        status = flc_check_range(error, "range_limit_pct", -1, o->range_limit_pct, 0.0, 100.0);
    }
    return status;
}

static flc_status check_choices(const flc_proving_options *o, flc_error *error)
{
    const struct {
        const char *name;
        int value, last;
    } choices[] = {{"way", (int)o->way, FLC_WAY_CURVE},
                   {"method", (int)o->method, FLC_PROVING_AVERAGE_FACTOR},
                   {"range", (int)o->range, FLC_RANGE_FIXED},
                   {"range_of", (int)o->range_of, FLC_RANGE_OF_FACTORS},
                   {"rejection", (int)o->rejection, FLC_REJECT_ALL_BUT_LAST},
                   {"rounding.units", (int)o->rounding.units, FLC_READ_CUSTOMARY}};
    for (size_t i = 0; i < FLC_COUNT_OF(choices); i++) {
        if (choices[i].value < 0 || choices[i].value > choices[i].last) {
            return flc_fail(error, FLC_E_CHOICE, choices[i].name, -1, choices[i].value, choices[i].last, NULL);
        }
    }
    return FLC_OK;
}

/* The two ways of using a calibration exclude each other: each has its own K. */
static flc_status check_way(const flc_proving_options *o, flc_error *error)
{
    const double none = flc_nan();
    if (o->way == FLC_WAY_NOMINAL_K) {
        return o->meter != NULL ? flc_fail(error, FLC_E_CONFLICT, "meter", -1, none, none,
                                           "a nominal K and a curve are two ways, not to be mixed")
                                : flc_check_range(error, "nominal_k_per_m3", -1, o->nominal_k_per_m3, 1.0, 1e12);
    }
    if (!flc_is_nan(o->nominal_k_per_m3)) {
        return flc_fail(error, FLC_E_CONFLICT, "nominal_k_per_m3", -1, o->nominal_k_per_m3, none,
                        "a nominal K and a curve are two ways, not to be mixed");
    }
    if (o->meter == NULL || o->liquid == NULL) {
        return flc_fail(error, FLC_E_MISSING, o->meter == NULL ? "meter" : "liquid", -1, none, none, NULL);
    }
    return FLC_OK;
}

flc_status flc_proving_options_check(const flc_prover *prover, const flc_proving_options *options, flc_error *error)
{
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "options", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    flc_status status = check_choices(options, error);
    if (status == FLC_OK) {
        status = check_way(options, error);
    }
    if (status == FLC_OK) {
        status = check_limits(options, error);
    }
    const int is_bidirectional = prover->kind == FLC_PROVER_PIPE_BIDIRECTIONAL;
    if (status == FLC_OK && (options->passes_per_run < 1 || (is_bidirectional && options->passes_per_run != 2))) {
        status = flc_fail(error, FLC_E_COUNT, "passes_per_run", -1, options->passes_per_run, is_bidirectional ? 2 : 1,
                          "a run of a bidirectional prover is out and back");
    }
    if (status == FLC_OK && options->runs_min < 1) {
        status = flc_fail(error, FLC_E_COUNT, "runs_min", -1, options->runs_min, 1, NULL);
    }
    return status;
}
