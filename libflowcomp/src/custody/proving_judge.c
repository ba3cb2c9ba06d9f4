/* SPDX-License-Identifier: Apache-2.0 */
/* What is judged of a proving: the range of its runs, the rule that may leave runs out, and the conditions. */
#include "error.h"
#include "fpmath.h"
#include "method.h"
#include "proving_core.h"

void flc_proving_find(flc_proving_task *task, flc_proving_fault fault, uint32_t run, int64_t pass, double value,
                      double limit)
{
    const size_t place = task->proving->finding_count++;
    if (place < task->finding_capacity) {
        task->finding[place] = (flc_proving_finding){fault, run, pass, value, limit};
    }
}

static double judged(const flc_proving_task *task, const flc_proving_run *run)
{
    return task->options->range_of == FLC_RANGE_OF_PULSES ? run->pulses : run->mf;
}

typedef struct run_spread {
    size_t used;
    double low, high;
    size_t furthest; /* place of the run furthest from the median */
} run_spread;

static int is_used(const flc_proving_run *run)
{
    return run->rejected == FLC_REJECT_NONE;
}

/* Runs used whose value is below, or is at most, that of one run. */
static size_t rank_of(const flc_proving_task *task, double value, int with_equals)
{
    size_t rank = 0;
    for (size_t i = 0; i < task->run_count; i++) {
        const double other = judged(task, &task->run[i]);
        rank += is_used(&task->run[i]) && (with_equals ? other <= value : other < value);
    }
    return rank;
}

/* Value of this place in rising order: the run whose ranks enclose it. */
static double in_order(const flc_proving_task *task, size_t place)
{
    for (size_t i = 0; i < task->run_count; i++) {
        const double value = judged(task, &task->run[i]);
        if (is_used(&task->run[i]) && rank_of(task, value, 0) <= place && place < rank_of(task, value, 1)) {
            return value;
        }
    }
    return flc_nan();
}

static run_spread spread_of(const flc_proving_task *task)
{
    run_spread spread = {0, flc_infinity(), -flc_infinity(), 0};
    for (size_t i = 0; i < task->run_count; i++) {
        if (is_used(&task->run[i])) {
            const double value = judged(task, &task->run[i]);
            spread.used++;
            spread.low = value < spread.low ? value : spread.low;
            spread.high = value > spread.high ? value : spread.high;
        }
    }
    const double median = 0.5 * (in_order(task, (spread.used - 1) / 2) + in_order(task, spread.used / 2));
    double worst = -1.0;
    for (size_t i = 0; i < task->run_count; i++) {
        const double away = flc_fabs(judged(task, &task->run[i]) - median);
        if (is_used(&task->run[i]) && away > worst) {
            worst = away;
            spread.furthest = i;
        }
    }
    return spread;
}

static double range_pct(const run_spread *spread)
{
    return 100.0 * (spread->high - spread->low) / spread->low;
}

static double limit_of(const flc_proving_options *o, size_t runs)
{
    switch (o->range) {
    case FLC_RANGE_TARGET:
        return o->target_pct / flc_run_range_student(runs);
    case FLC_RANGE_LORD:
        return o->target_pct / flc_run_range_lord(runs);
    case FLC_RANGE_API_4_8:
        return flc_run_range_api_4_8(runs);
    case FLC_RANGE_FIXED:
        return o->range_limit_pct;
    }
    return flc_nan();
}

static void reject(flc_proving_task *task, size_t first, size_t count, flc_rejection rule)
{
    for (size_t i = first; i < first + count; i++) {
        task->run[i].rejected = rule;
    }
}

/* A rule never leaves fewer runs than are asked for. */
static void leave_out(flc_proving_task *task)
{
    const flc_proving_options *o = task->options;
    const size_t spare = task->run_count > o->runs_min ? task->run_count - o->runs_min : 0;
    size_t left = o->reject_max < spare ? o->reject_max : spare;
    if (o->rejection == FLC_REJECT_FIRST) {
        reject(task, 0, left, FLC_REJECT_FIRST);
    } else if (o->rejection == FLC_REJECT_ALL_BUT_LAST) {
        reject(task, 0, spare, FLC_REJECT_ALL_BUT_LAST);
    } else if (o->rejection == FLC_REJECT_FURTHEST) {
        run_spread spread = spread_of(task);
        while (left > 0 && range_pct(&spread) > limit_of(o, spread.used)) {
            reject(task, spread.furthest, 1, FLC_REJECT_FURTHEST);
            left--;
            spread = spread_of(task);
        }
    }
}

flc_status flc_proving_judge_range(flc_proving_task *task)
{
    const flc_proving_options *o = task->options;
    flc_proving *proving = task->proving;
    leave_out(task);
    const run_spread spread = spread_of(task);
    const double factor =
        o->range == FLC_RANGE_LORD ? flc_run_range_lord(spread.used) : flc_run_range_student(spread.used);
    proving->range_pct = range_pct(&spread);
    proving->range_limit_pct = limit_of(o, spread.used);
    const flc_status status = flc_proving_round_range(task);
    proving->u_mean_pct = factor * proving->range_pct;
    if (spread.used < o->runs_min) {
        flc_proving_find(task, FLC_FAULT_FEW_RUNS, 0, -1, (double)spread.used, o->runs_min);
    }
    if (flc_is_nan(proving->range_limit_pct)) {
        flc_proving_find(task, FLC_FAULT_NO_LIMIT, 0, -1, (double)spread.used, flc_nan());
    } else if (proving->range_pct > proving->range_limit_pct) {
        flc_proving_find(task, FLC_FAULT_RANGE, task->run[spread.furthest].run, -1, proving->range_pct,
                         proving->range_limit_pct);
    }
    return status;
}

/* --- conditions --------------------------------------------------------------------------------------------------- */

static void judge_temperature_difference(flc_proving_task *task)
{
    const double limit = task->options->temperature_difference_k;
    for (size_t i = 0; i < task->run_count && !flc_is_nan(limit); i++) {
        const flc_proving_run *run = &task->run[i];
        const double difference = flc_fabs(run->t_meter_degc - run->t_prover_degc);
        if (is_used(run) && difference > limit) {
            flc_proving_find(task, FLC_FAULT_TEMPERATURE_DIFFERENCE, run->run, -1, difference, limit);
        }
    }
}

/* The first run used that widens the range of a quantity beyond its limit; relative: in per cent of the smallest. */
static void judge_spread(flc_proving_task *task, flc_proving_fault fault, double limit, int of_flow)
{
    double low = flc_infinity(), high = -flc_infinity();
    for (size_t i = 0; i < task->run_count && !flc_is_nan(limit); i++) {
        const flc_proving_run *run = &task->run[i];
        const double value = of_flow ? run->q_m3s : run->t_meter_degc;
        if (!is_used(run) || flc_is_nan(value)) {
            continue;
        }
        low = value < low ? value : low;
        high = value > high ? value : high;
        const double spread = of_flow ? 100.0 * (high - low) / low : high - low;
        if (spread > limit) {
            flc_proving_find(task, fault, run->run, -1, spread, limit);
            return;
        }
    }
}

static void judge_dates(flc_proving_task *task)
{
    const int64_t day = task->options->day, drawn = task->prover->water_draw_day, expiry = task->prover->expiry_day;
    if (day != FLC_TIME_NONE && expiry != FLC_TIME_NONE && day > expiry) {
        flc_proving_find(task, FLC_FAULT_EXPIRED, 0, -1, (double)day, (double)expiry);
    }
    if (day != FLC_TIME_NONE && drawn != FLC_TIME_NONE && day < drawn) {
        flc_proving_find(task, FLC_FAULT_BEFORE_WATER_DRAW, 0, -1, (double)day, (double)drawn);
    }
}

static void judge_waiting(flc_proving_task *task)
{
    const flc_proving_options *o = task->options;
    if (flc_is_nan(o->waiting_s) || task->pass[0].start_ms == FLC_TIME_NONE) {
        return;
    }
    const double waited = ((double)task->pass[0].start_ms - (double)o->flow_started_ms) / 1000.0;
    if (waited < o->waiting_s) {
        flc_proving_find(task, FLC_FAULT_WAITING, 1, 0, waited, o->waiting_s);
    }
}

void flc_proving_judge_conditions(flc_proving_task *task)
{
    const flc_proving_options *o = task->options;
    const double mf = task->proving->mf;
    judge_temperature_difference(task);
    judge_spread(task, FLC_FAULT_TEMPERATURE_DRIFT, o->temperature_drift_k, 0);
    judge_spread(task, FLC_FAULT_FLOW_SPREAD, o->flow_spread_pct, 1);
    judge_waiting(task);
    judge_dates(task);
    if (mf < o->mf_low) { /* a limit that is NaN is not judged */
        flc_proving_find(task, FLC_FAULT_FACTOR, 0, -1, mf, o->mf_low);
    } else if (mf > o->mf_high) {
        flc_proving_find(task, FLC_FAULT_FACTOR, 0, -1, mf, o->mf_high);
    }
}
