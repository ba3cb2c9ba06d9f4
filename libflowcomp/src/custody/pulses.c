/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/pulses.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"

#define TICK_MOST (INT64_MAX / 2) /* so that no difference of two overflows */

static int is_whole(double number)
{
    return (double)(int64_t)number == number;
}

static flc_status pulse_frequency_from_count_hz(double pulses, double time_s, double *result)
{
    *result = pulses / time_s;
    return is_whole(pulses) ? FLC_OK : FLC_E_NOT_WHOLE;
}

static flc_status pulse_frequency_gate_resolution_hz(double time_s, double *result)
{
    *result = 1.0 / time_s;
    return FLC_OK;
}

static flc_status pulse_frequency_timed_resolution_hz(double pulses, double time_s, double clock_hz, double *result)
{
    *result = pulses / time_s / (time_s * clock_hz);
    return is_whole(pulses) ? FLC_OK : FLC_E_NOT_WHOLE;
}

/* --- counters ----------------------------------------------------------------------------------------------------- */

flc_status flc_counter_advance(int64_t before, int64_t after, int64_t modulus, int64_t most, flc_counter_reset reset,
                               int64_t *advance, flc_counter_event *event)
{
    if (advance == NULL || event == NULL) {
        return FLC_E_NULL;
    }
    *advance = INT64_MIN;
    *event = FLC_COUNTER_ON;
    if ((int)reset < 0 || reset > FLC_COUNTER_RESTART) {
        return FLC_E_CHOICE;
    }
    if (before < 0 || after < 0 || modulus < 1 || most < 0) {
        return FLC_E_BELOW;
    }
    if (before >= modulus || after >= modulus) {
        return FLC_E_ABOVE;
    }
    const int64_t moved = after >= before ? after - before : modulus - before + after;
    if (moved <= most) {
        *advance = moved;
        *event = after >= before ? FLC_COUNTER_ON : FLC_COUNTER_ROLLED;
        return FLC_OK;
    }
    if (reset == FLC_COUNTER_RESTART && after <= most) {
        *advance = after;
        *event = FLC_COUNTER_WAS_RESET;
        return FLC_OK;
    }
    return FLC_E_ABOVE;
}

/* --- two trains --------------------------------------------------------------------------------------------------- */

flc_status flc_pulse_pair_start(flc_pulse_pair *pair, int32_t coincidence_ticks)
{
    if (pair == NULL) {
        return FLC_E_NULL;
    }
    const flc_pulse_pair zero = {0};
    *pair = zero;
    pair->size = sizeof *pair;
    pair->coincidence_ticks = coincidence_ticks;
    pair->last_tick = pair->own_tick[0] = pair->own_tick[1] = FLC_TICK_NONE;
    pair->last_train = -1;
    return coincidence_ticks >= 0 ? FLC_OK : FLC_E_BELOW;
}

/* A train out of turn: extra where it comes too early after its own last edge, else the other train missed one. */
static void out_of_turn(flc_pulse_pair *pair, int own, int64_t tick)
{
    const int64_t gap = tick - pair->own_tick[own];
    if (pair->period_ticks > 0 && gap < pair->period_ticks - gap) {
        pair->extra[own]++;
    } else {
        pair->missing[1 - own]++;
    }
}

flc_status flc_pulse_pair_add(flc_pulse_pair *pair, flc_pulse_train train, int64_t tick)
{
    if (pair == NULL) {
        return FLC_E_NULL;
    }
    if (pair->size != sizeof *pair) {
        return FLC_E_SIZE;
    }
    if ((int)train < 0 || train > FLC_TRAIN_B) {
        return FLC_E_CHOICE;
    }
    const int own = (int)train, is_first = pair->last_tick == FLC_TICK_NONE;
    if (!is_first && tick < pair->last_tick) {
        return FLC_E_ORDER;
    }
    if (tick > TICK_MOST || tick < -TICK_MOST || pair->count[own] == INT64_MAX) {
        return FLC_E_OVERFLOW;
    }
    if (!is_first && pair->last_train == 1 - own && tick - pair->last_tick <= pair->coincidence_ticks) {
        pair->coincident++;
        pair->last_train = -1;
    } else {
        if (pair->last_train == own) {
            out_of_turn(pair, own, tick);
        } else if (pair->last_train == 1 - own && pair->own_tick[own] != FLC_TICK_NONE) {
            pair->period_ticks = tick - pair->own_tick[own];
        }
        pair->last_train = own;
    }
    pair->count[own]++;
    pair->own_tick[own] = tick;
    pair->last_tick = tick;
    return FLC_OK;
}

static int64_t faults_of(const flc_pulse_pair *pair, int train)
{
    return pair->missing[train] + pair->extra[train];
}

flc_status flc_pulse_pair_judge(const flc_pulse_pair *pair, flc_pulse_level level, int64_t most_faults,
                                double most_ratio, flc_pulse_verdict *verdict)
{
    if (verdict != NULL) {
        *verdict = (flc_pulse_verdict){0, 0, flc_nan(), 0, 0};
    }
    if (pair == NULL || verdict == NULL) {
        return FLC_E_NULL;
    }
    if (pair->size != sizeof *pair) {
        return FLC_E_SIZE;
    }
    if ((int)level < 0 || level > FLC_LEVEL_A) {
        return FLC_E_CHOICE;
    }
    if (most_faults < 0) {
        return FLC_E_BELOW;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_is_nan(most_ratio) ? FLC_OK : flc_check_range(NULL, "most_ratio", -1, most_ratio, 0.0, 1.0);
    if (status == FLC_OK) {
        const int64_t a = pair->count[0], b = pair->count[1], larger = a > b ? a : b;
        const int64_t sequence = faults_of(pair, 0) + faults_of(pair, 1) + pair->coincident;
        const int64_t apart = a > b ? a - b : b - a;
        const int better = level == FLC_LEVEL_A && faults_of(pair, 1) < faults_of(pair, 0);
        verdict->difference = a - b;
        verdict->faults = level >= FLC_LEVEL_B ? sequence : level == FLC_LEVEL_E ? 0 : apart;
        verdict->ratio = larger > 0 ? (double)verdict->faults / (double)larger : flc_nan();
        verdict->pulses = pair->count[better];
        verdict->alarm = level != FLC_LEVEL_E && (verdict->faults > most_faults || verdict->ratio > most_ratio);
    }
    flc_fp_leave(fp);
    return status;
}

#include "methods/pulses.inc"
