/* SPDX-License-Identifier: Apache-2.0 */
/* A proving: passes gathered into runs, runs judged, their averages, the meter factor. */
#include "flowcomp/proving.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"
#include "proving_core.h"
#include "struct_size.h"

void flc_proving_init_sized(flc_proving *proving, size_t own_size)
{
    flc_proving fresh = {0};
    const double none = flc_nan();
    fresh.size = sizeof fresh;
    flc_proving_run_init(&fresh.average);
    fresh.range_pct = fresh.range_limit_pct = fresh.u_mean_pct = none;
    fresh.mf_average_data = fresh.mf_average_factor = fresh.mf = fresh.ma = none;
    fresh.kf_per_m3 = fresh.st_proved = none;
    flc_give_sized(proving, own_size, &fresh, sizeof fresh);
}

static int is_before(int64_t later, int64_t earlier)
{
    return later != FLC_TIME_NONE && earlier != FLC_TIME_NONE && later < earlier;
}

/* Sizes, runs that stand together and rise, times that never run backwards. */
static flc_status check_passes(const flc_proving_task *task)
{
    int64_t last = FLC_TIME_NONE;
    for (size_t i = 0; i < task->pass_count; i++) {
        const flc_pass *pass = &task->pass[i];
        const uint32_t run_before = i > 0 ? task->pass[i - 1].run : 1;
        if (pass->size != sizeof *pass) {
            return flc_fail(task->error, FLC_E_SIZE, "passes", (int64_t)i, (double)pass->size, (double)sizeof *pass,
                            NULL);
        }
        if (pass->run < run_before || pass->run > run_before + (i > 0) || pass->run < 1) {
            return flc_fail(task->error, FLC_E_ORDER, "run", (int64_t)i, pass->run, run_before,
                            "runs are numbered from 1 without a gap, and their passes stand together");
        }
        if (is_before(pass->start_ms, last)) {
            return flc_fail(task->error, FLC_E_ORDER, "start_ms", (int64_t)i, (double)pass->start_ms, (double)last,
                            "a pass begins after the one before it has ended");
        }
        if (is_before(pass->end_ms, pass->start_ms)) {
            return flc_fail(task->error, FLC_E_ORDER, "end_ms", (int64_t)i, (double)pass->end_ms,
                            (double)pass->start_ms, "a pass ends after it began");
        }
        last = pass->end_ms != FLC_TIME_NONE ? pass->end_ms : pass->start_ms != FLC_TIME_NONE ? pass->start_ms : last;
    }
    return FLC_OK;
}

/* Every run has the passes the options say: a bidirectional prover without the way back is refused. */
static flc_status evaluate_runs(flc_proving_task *task, size_t run_capacity)
{
    const size_t per_run = task->options->passes_per_run;
    flc_status status = FLC_OK;
    task->run_count = 0;
    for (size_t first = 0; first < task->pass_count && status == FLC_OK;) {
        size_t count = 1;
        while (first + count < task->pass_count && task->pass[first + count].run == task->pass[first].run) {
            count++;
        }
        if (count != per_run) {
            return flc_fail(task->error, count < per_run ? FLC_E_MISSING : FLC_E_COUNT, "passes", (int64_t)first,
                            (double)count, (double)per_run, "a run has passes_per_run passes");
        }
        if (task->run_count == run_capacity) {
            return flc_fail(task->error, FLC_E_BUFFER, "run_capacity", -1, (double)run_capacity, flc_nan(), NULL);
        }
        flc_run_inputs inputs;
        status = flc_run_of_passes(task, first, count, &inputs);
        if (status == FLC_OK) {
            status = flc_run_evaluate(task, &inputs, &task->run[task->run_count]);
            task->run_count++;
        }
        first += count;
    }
    return status;
}

/* Averages of the inputs over the runs used; given factors are averaged too. */
static flc_status evaluate_average(flc_proving_task *task)
{
    const flc_run_inputs zero = {0};
    flc_run_inputs mean = zero;
    double used = 0.0, factors = 0.0, nu = 0.0, passes = 0.0;
    for (size_t i = 0; i < task->run_count; i++) {
        const flc_proving_run *run = &task->run[i];
        if (run->rejected != FLC_REJECT_NONE) {
            continue;
        }
        used += 1.0;
        factors += run->mf;
#define ADD(name, unit, symbol, meaning, equation) mean.run.name += run->name;
        FLC_PROVING_RUN_LIST(ADD)
#undef ADD
    }
#define DIVIDE(name, unit, symbol, meaning, equation) mean.run.name /= used;
    FLC_PROVING_RUN_LIST(DIVIDE)
#undef DIVIDE
    for (size_t i = 0; i < task->pass_count; i++) { /* runs are numbered from 1 without a gap */
        if (task->run[task->pass[i].run - 1].rejected == FLC_REJECT_NONE) {
            nu += task->pass[i].nu_mm2s;
            passes += 1.0;
        }
    }
    mean.nu_mm2s = nu / passes;
    mean.index = -1;
    flc_proving *proving = task->proving;
    proving->used_count = (size_t)used;
    proving->mf_average_factor = factors / used;
    return flc_run_evaluate(task, &mean, &proving->average);
}

static flc_status conclude(flc_proving_task *task)
{
    flc_proving *proving = task->proving;
    const flc_proving_options *o = task->options;
    proving->way = o->way;
    proving->method = o->method;
    proving->run_count = task->run_count;
    proving->mf_average_data = proving->average.mf;
    const flc_status status = flc_proving_round_mf(task);
    proving->mf = o->method == FLC_PROVING_AVERAGE_DATA ? proving->mf_average_data : proving->mf_average_factor;
    proving->ma = 1.0 / proving->mf;
    proving->kf_per_m3 = proving->average.k_per_m3 / proving->mf;
    proving->st_proved = proving->average.st / proving->mf;
    flc_proving_judge_conditions(task);
    proving->accepted = proving->finding_count == 0;
    return status;
}

/* Every NaN that leaves is the one of the library. */
static void tidy_run(flc_proving_run *run)
{
#define TIDY(name, unit, symbol, meaning, equation) run->name = flc_is_nan(run->name) ? flc_nan() : run->name;
    FLC_PROVING_RUN_LIST(TIDY)
#undef TIDY
}

static void tidy(flc_proving_task *task)
{
    flc_proving *p = task->proving;
    double *const numbers[] = {&p->range_pct, &p->range_limit_pct, &p->u_mean_pct, &p->st_proved};
    for (size_t i = 0; i < FLC_COUNT_OF(numbers); i++) {
        *numbers[i] = flc_is_nan(*numbers[i]) ? flc_nan() : *numbers[i];
    }
    tidy_run(&p->average);
    for (size_t i = 0; i < task->run_count; i++) {
        tidy_run(&task->run[i]);
    }
}

static flc_status prove(flc_proving_task *task, size_t run_capacity)
{
    flc_status status = flc_prover_check(task->prover, task->error);
    if (status == FLC_OK) {
        status = flc_proving_options_check(task->prover, task->options, task->error);
    }
    if (status == FLC_OK) {
        status = check_passes(task);
    }
    if (status == FLC_OK) {
        status = evaluate_runs(task, run_capacity);
    }
    if (status == FLC_OK) {
        status = flc_proving_judge_range(task);
    }
    if (status == FLC_OK) {
        status = evaluate_average(task);
    }
    if (status == FLC_OK) {
        status = conclude(task);
        tidy(task);
    }
    return status;
}

static flc_status check_pointers(const flc_proving_task *task)
{
    const struct {
        const char *name;
        const void *pointer;
    } needed[] = {{"prover", task->prover},
                  {"options", task->options},
                  {"passes", task->pass},
                  {"runs", task->run},
                  {"proving", task->proving}};
    for (size_t i = 0; i < FLC_COUNT_OF(needed); i++) {
        if (needed[i].pointer == NULL) {
            return flc_fail(task->error, FLC_E_NULL, needed[i].name, -1, flc_nan(), flc_nan(), NULL);
        }
    }
    if (task->finding == NULL && task->finding_capacity > 0) {
        return flc_fail(task->error, FLC_E_NULL, "findings", -1, flc_nan(), flc_nan(), NULL);
    }
    if (task->proving->size != sizeof *task->proving) {
        return flc_fail(task->error, FLC_E_SIZE, "proving", -1, (double)task->proving->size,
                        (double)sizeof *task->proving, NULL);
    }
    if (task->pass_count < 1 || task->pass_count > FLC_PASSES_MAX) {
        return flc_fail(task->error, FLC_E_COUNT, "passes", -1, (double)task->pass_count, FLC_PASSES_MAX, NULL);
    }
    return FLC_OK;
}

flc_status flc_prove(const flc_prover *prover, const flc_proving_options *options, const flc_pass *passes, size_t n,
                     flc_proving_run *runs, size_t run_capacity, flc_proving_finding *findings, size_t finding_capacity,
                     flc_proving *proving, flc_error *error)
{
    flc_error_clear(error);
    flc_proving_task task = {prover, options, passes, n, runs, 0, findings, finding_capacity, proving, error};
    flc_status status = check_pointers(&task);
    if (status != FLC_OK) {
        return status;
    }
    flc_proving_init(proving);
    flc_fp_state fp = flc_fp_enter();
    status = prove(&task, run_capacity);
    if (status != FLC_OK) {
        flc_proving_init(proving);
        for (size_t i = 0; i < run_capacity; i++) {
            flc_proving_run_init(&runs[i]);
        }
    }
    flc_fp_leave(fp);
    return status;
}
