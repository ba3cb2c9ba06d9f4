/* SPDX-License-Identifier: Apache-2.0 */
/* One run of a proving: its passes checked and averaged, then its factors. */
#include "proving_core.h"
#include "error.h"
#include "method.h"

#define T_LOW (-100.0) /* a temperature in kelvin is above the upper end */
#define T_HIGH 200.0
#define P_LOW (-101.325)
#define P_HIGH 1e5

void flc_proving_run_init(flc_proving_run *run)
{
    run->run = 0;
    run->rejected = FLC_REJECT_NONE;
#define BLANK(name, unit, symbol, meaning, equation) run->name = flc_nan();
    FLC_PROVING_RUN_LIST(BLANK)
#undef BLANK
}

/* Pulses of a pass with their fraction, and whether they are enough. */
static flc_status count_pulses(flc_proving_task *task, const flc_pass *pass, int64_t place, double *pulses)
{
    const flc_proving_options *o = task->options;
    const double none = flc_nan();
    const int counted = !flc_is_nan(pass->pulses), timed = !flc_is_nan(pass->pulses_whole);
    if (counted == timed) {
        return flc_fail(task->error, counted ? FLC_E_CONFLICT : FLC_E_MISSING, "pulses", place, none, none,
                        "give counted pulses or double chronometry");
    }
    if (counted) {
        *pulses = pass->pulses;
        if (pass->pulses < o->pulses_min) {
            flc_proving_find(task, FLC_FAULT_FEW_PULSES, pass->run, place, pass->pulses, o->pulses_min);
        }
        return flc_check_range(task->error, "pulses", place, pass->pulses, 1.0, 1e12);
    }
    const flc_named_range times[] = {{"pulses_whole", pass->pulses_whole, 1.0, 1e12},
                                     {"t_pulses_s", pass->t_pulses_s, 1e-6, 1e6},
                                     {"t_detectors_s", pass->t_detectors_s, 1e-6, 1e6},
                                     {"clock_hz", o->clock_hz, 1.0, 1e12}};
    flc_status status = flc_check_ranges(times, FLC_COUNT_OF(times), place, task->error);
    if (status != FLC_OK) {
        return status;
    }
    if ((double)(int64_t)pass->pulses_whole != pass->pulses_whole) {
        return flc_fail(task->error, FLC_E_NOT_WHOLE, "pulses_whole", place, pass->pulses_whole, none, NULL);
    }
    const double shorter = pass->t_pulses_s < pass->t_detectors_s ? pass->t_pulses_s : pass->t_detectors_s;
    if (shorter * o->clock_hz < o->clock_ticks_min) {
        flc_proving_find(task, FLC_FAULT_CLOCK, pass->run, place, shorter * o->clock_hz, o->clock_ticks_min);
    }
    *pulses = pass->pulses_whole * pass->t_detectors_s / pass->t_pulses_s;
    return FLC_OK;
}

/* Given, by chronometry, or by the time of the pass; NaN where nothing tells it. */
static double frequency_of(const flc_pass *pass)
{
    if (!flc_is_nan(pass->f_hz)) {
        return pass->f_hz;
    }
    if (!flc_is_nan(pass->pulses_whole)) {
        return pass->pulses_whole / pass->t_pulses_s;
    }
    if (pass->start_ms == FLC_TIME_NONE || pass->end_ms == FLC_TIME_NONE || pass->end_ms == pass->start_ms) {
        return flc_nan();
    }
    return pass->pulses / ((double)(pass->end_ms - pass->start_ms) / 1000.0);
}

static flc_status check_conditions(const flc_proving_task *task, const flc_pass *pass, int64_t place)
{
    const flc_prover_kind kind = task->prover->kind;
    const int has_rod = kind == FLC_PROVER_SMALL_VOLUME, is_tank = kind == FLC_PROVER_TANK;
    const flc_named_range conditions[] = {
        {"t_meter_degc", pass->t_meter_degc, T_LOW, T_HIGH},
        {"p_meter_kpag", pass->p_meter_kpag, P_LOW, P_HIGH},
        {"t_prover_degc", pass->t_prover_degc, T_LOW, T_HIGH},
        {"p_prover_kpag", is_tank && flc_is_nan(pass->p_prover_kpag) ? 0.0 : pass->p_prover_kpag, P_LOW, P_HIGH},
        {"t_rod_degc", has_rod ? pass->t_rod_degc : 0.0, T_LOW, T_HIGH},
        {"upper_m3", is_tank ? pass->upper_m3 : 1.0, 1e-6, 1e4},
        {"lower_m3", is_tank ? pass->lower_m3 : 0.0, -1e4, 1e4},
        {"pulses_master", kind == FLC_PROVER_MASTER_METER ? pass->pulses_master : 1.0, 1.0, 1e12},
        {"f_hz", flc_is_nan(pass->f_hz) ? 1.0 : pass->f_hz, 1e-6, 1e6},
    };
    flc_status status = flc_check_ranges(conditions, FLC_COUNT_OF(conditions), place, task->error);
    if (status == FLC_OK && is_tank && !(pass->lower_m3 < pass->upper_m3)) {
        status = flc_fail(task->error, FLC_E_ORDER, "upper_m3", place, pass->upper_m3, pass->lower_m3,
                          "the upper reading is above the lower");
    }
    return status;
}

/* CTL and CPL of a pass: given where there is no liquid to ask, and only there. */
static flc_status check_given_factors(const flc_proving_task *task, const flc_pass *pass, int64_t place)
{
    const int is_tank = task->prover->kind == FLC_PROVER_TANK;
    const flc_named_range factors[] = {
        {"ctl_prover", pass->ctl_prover, 0.1, 2.0},
        {"cpl_prover", is_tank && flc_is_nan(pass->cpl_prover) ? 1.0 : pass->cpl_prover, 0.5, 2.0},
        {"ctl_meter", pass->ctl_meter, 0.1, 2.0},
        {"cpl_meter", pass->cpl_meter, 0.5, 2.0},
    };
    if (task->options->liquid == NULL) {
        return flc_check_ranges(factors, FLC_COUNT_OF(factors), place, task->error);
    }
    const double given[] = {pass->ctl_prover, pass->cpl_prover, pass->ctl_meter, pass->cpl_meter};
    for (size_t i = 0; i < FLC_COUNT_OF(given); i++) {
        if (!flc_is_nan(given[i])) {
            return flc_fail(task->error, FLC_E_CONFLICT, factors[i].name, place, given[i], flc_nan(),
                            "the liquid gives it");
        }
    }
    return FLC_OK;
}

static flc_status check_direction(const flc_proving_task *task, const flc_pass *pass, size_t place_in_run,
                                  int64_t place)
{
    const int is_bidirectional = task->prover->kind == FLC_PROVER_PIPE_BIDIRECTIONAL;
    const flc_pass_direction expected = !is_bidirectional   ? FLC_PASS_SINGLE
                                        : place_in_run == 0 ? FLC_PASS_OUT
                                                            : FLC_PASS_BACK;
    if (pass->direction == expected) {
        return FLC_OK;
    }
    return flc_fail(task->error, is_bidirectional ? FLC_E_MISSING : FLC_E_CHOICE, "direction", place,
                    (double)(int)pass->direction, (double)(int)expected, "a round trip is out, then back");
}

/* What is averaged over passes: fields of the run, with the value that a pass has for each. */
static flc_status add_pass(flc_proving_task *task, const flc_pass *pass, int64_t place, flc_run_inputs *sum)
{
    const flc_prover *prover = task->prover;
    const int is_tank = prover->kind == FLC_PROVER_TANK;
    double pulses = flc_nan();
    flc_status status = count_pulses(task, pass, place, &pulses);
    if (status != FLC_OK) {
        return status;
    }
    flc_proving_run *run = &sum->run;
    run->pulses += pulses;
    run->f_hz += frequency_of(pass);
    run->t_meter_degc += pass->t_meter_degc;
    run->p_meter_kpag += pass->p_meter_kpag;
    run->t_prover_degc += pass->t_prover_degc;
    run->p_prover_kpag += is_tank && flc_is_nan(pass->p_prover_kpag) ? 0.0 : pass->p_prover_kpag;
    run->t_rod_degc += pass->t_rod_degc;
    run->ctl_prover += pass->ctl_prover;
    run->cpl_prover +=
        is_tank && flc_is_nan(pass->cpl_prover) && task->options->liquid == NULL ? 1.0 : pass->cpl_prover;
    run->ctl_meter += pass->ctl_meter;
    run->cpl_meter += pass->cpl_meter;
    run->volume_m3 += is_tank ? pass->upper_m3 - pass->lower_m3
                      : prover->kind == FLC_PROVER_MASTER_METER
                          ? pass->pulses_master / prover->master_k_per_m3 * prover->master_mf
                          : prover->base_volume_m3;
    sum->nu_mm2s += pass->nu_mm2s;
    return FLC_OK;
}

static void divide(flc_run_inputs *sum, double count, int keep_pulses)
{
    flc_proving_run *run = &sum->run;
    double *const fields[] = {&run->f_hz,          &run->t_meter_degc, &run->p_meter_kpag, &run->t_prover_degc,
                              &run->p_prover_kpag, &run->t_rod_degc,   &run->ctl_prover,   &run->cpl_prover,
                              &run->ctl_meter,     &run->cpl_meter,    &run->volume_m3,    &sum->nu_mm2s};
    for (size_t i = 0; i < FLC_COUNT_OF(fields); i++) {
        *fields[i] /= count;
    }
    run->pulses = keep_pulses ? run->pulses : run->pulses / count;
}

flc_status flc_run_of_passes(flc_proving_task *task, size_t first, size_t count, flc_run_inputs *inputs)
{
    const flc_run_inputs zero = {0};
    *inputs = zero;
    inputs->index = (int64_t)first;
    inputs->run.run = task->pass[first].run;
    flc_status status = FLC_OK;
    for (size_t i = first; i < first + count && status == FLC_OK; i++) {
        const flc_pass *pass = &task->pass[i];
        status = check_direction(task, pass, i - first, (int64_t)i);
        if (status == FLC_OK) {
            status = check_conditions(task, pass, (int64_t)i);
        }
        if (status == FLC_OK) {
            status = check_given_factors(task, pass, (int64_t)i);
        }
        if (status == FLC_OK) {
            status = add_pass(task, pass, (int64_t)i, inputs);
        }
    }
    divide(inputs, (double)count, task->prover->kind == FLC_PROVER_PIPE_BIDIRECTIONAL);
    return status;
}

/* --- factors ------------------------------------------------------------------------------------------------------ */

static void steel(const flc_prover *prover, flc_proving_run *run)
{
    const double dt = run->t_prover_degc - prover->base_t_degc, dt_rod = run->t_rod_degc - prover->base_t_degc;
    run->cts_prover = run->cps_prover = 1.0;
    if (prover->kind == FLC_PROVER_MASTER_METER) {
        return;
    }
    run->cts_prover = prover->kind == FLC_PROVER_SMALL_VOLUME
                          ? (1.0 + prover->ga_per_degc * dt) * (1.0 + prover->gl_rod_per_degc * dt_rod)
                          : 1.0 + prover->gc_per_degc * dt;
    if (prover->kind != FLC_PROVER_TANK && !prover->double_wall) {
        run->cps_prover = 1.0 + run->p_prover_kpag * prover->id_m / (prover->e_kpa * prover->wall_m);
    }
}

/* CTL and CPL by the liquid, where there is one; given factors stay as they are. */
static flc_status liquid_factors(const flc_proving_task *task, int64_t index, flc_proving_run *run)
{
    const flc_proving_options *o = task->options;
    if (o->liquid == NULL) {
        return FLC_OK;
    }
    flc_volume_factors prover, meter;
    flc_status status = flc_liquid_volume(o->liquid, &o->density, run->t_prover_degc, run->p_prover_kpag, &prover);
    if (status == FLC_OK) {
        status = flc_liquid_volume(o->liquid, &o->density, run->t_meter_degc, run->p_meter_kpag, &meter);
    }
    if (status != FLC_OK) {
        return flc_fail(task->error, status, "liquid", index, flc_nan(), flc_nan(), NULL);
    }
    if (flc_is_nan(prover.ctl)) {
        return flc_fail(task->error, FLC_E_MISSING, "liquid", index, flc_nan(), flc_nan(),
                        "a proving needs a liquid with a volume method");
    }
    run->ctl_prover = prover.ctl;
    run->cpl_prover = prover.cpl;
    run->ctl_meter = meter.ctl;
    run->cpl_meter = meter.cpl;
    return FLC_OK;
}

/* K of the run: the nominal one, or that of the curve at its own Roshko number, temperature and pressure. */
static flc_status k_factor(const flc_proving_task *task, const flc_run_inputs *inputs, flc_proving_run *run)
{
    const flc_proving_options *o = task->options;
    if (o->way == FLC_WAY_NOMINAL_K) {
        run->k_per_m3 = o->nominal_k_per_m3;
        return FLC_OK;
    }
    flc_reading reading;
    flc_result result;
    flc_reading_init(&reading);
    flc_result_init(&result);
    reading.f_hz = run->f_hz;
    reading.t_degc = run->t_meter_degc;
    reading.p_kpag = run->p_meter_kpag;
    reading.density = o->density;
    reading.nu_mm2s = inputs->nu_mm2s;
    flc_status status = flc_meter_evaluate(o->meter, o->liquid, &reading, &result, NULL);
    if (status != FLC_OK || flc_is_nan(result.k_per_m3)) {
        return flc_fail(task->error, status != FLC_OK ? status : FLC_E_MISSING, "f_hz", inputs->index, run->f_hz,
                        flc_nan(), "the meter could not be evaluated at this run");
    }
    run->k_per_m3 = result.k_per_m3;
    run->ro = result.ro;
    run->st = result.st;
    return FLC_OK;
}

flc_status flc_run_evaluate(const flc_proving_task *task, const flc_run_inputs *inputs, flc_proving_run *run)
{
    *run = inputs->run;
    run->ro = run->st = flc_nan();
    const flc_proving_rounding *rounding = &task->options->rounding;
    flc_status status = flc_proving_round_readings(rounding, run, task->error);
    if (status == FLC_OK) {
        steel(task->prover, run);
        status = liquid_factors(task, inputs->index, run);
    }
    if (status == FLC_OK) {
        status = flc_proving_round_factors(rounding, run, task->error);
    }
    if (status == FLC_OK) {
        status = k_factor(task, inputs, run);
    }
    if (status != FLC_OK) {
        return status;
    }
    run->gsv_prover_m3 =
        flc_gsv_prover_of(run->volume_m3, run->cts_prover, run->cps_prover, run->ctl_prover, run->cpl_prover);
    run->iv_meter_m3 = run->pulses / run->k_per_m3;
    run->q_m3s = run->f_hz / run->k_per_m3;
    run->isv_meter_m3 = run->iv_meter_m3 * run->ctl_meter * run->cpl_meter;
    run->mf = run->gsv_prover_m3 / run->isv_meter_m3;
    return flc_check_range(task->error, "mf", inputs->index, run->mf, FLC_MF_LOW, FLC_MF_HIGH);
}
