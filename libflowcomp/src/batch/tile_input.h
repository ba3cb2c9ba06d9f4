/* SPDX-License-Identifier: Apache-2.0 */
/* The first stages of a tile: columns in, pulses and frequency. Part of tile_stages.h. */
#ifndef FLC_TILE_INPUT_H
#define FLC_TILE_INPUT_H

#include "tile.h"
#include "error.h"
#include <float.h>
#include <string.h>

#define EACH_LANE for (size_t i = 0; i < FLC_TILE; i++)

/* Everything that a stage calls goes into its loops, or they would not become vectors. And the loops are short: a
 * processor looks some hundred instructions ahead, so a record's own chain of divisions and exponentials is waited for
 * unless several vectors of records fit in there. */
#ifndef FLC_STAGE
#define FLC_STAGE __attribute__((flatten))
#endif

/* All ones where the condition holds. SSE2 can choose between doubles, but not between integers, and gcc would turn a
 * choice between constants into one between integers: there the two come from memory. */
static inline uint64_t mask_of(int condition)
{
#if defined(__SSE2__) && !defined(__AVX2__) && !defined(__clang__)
    return flc_to_bits(condition ? flc_from_bits(flc_mask_bits[1]) : flc_from_bits(flc_mask_bits[0]));
#else
    return flc_to_bits(condition ? flc_from_bits(~UINT64_C(0)) : 0.0);
#endif
}

static inline double pick(uint64_t mask, double yes, double no)
{
    return flc_from_bits((flc_to_bits(yes) & mask) | (flc_to_bits(no) & ~mask));
}

/* Inside [low, high]; a NaN is not. */
static inline uint64_t within(double x, double low, double high)
{
    return mask_of(x >= low) & mask_of(x <= high);
}

/* What a flowing record must fulfil, or it is set aside. */
static inline void require(flc_tile *t, size_t i, uint64_t condition)
{
    t->good[i] &= condition | t->idle[i];
}

/* ---- the halves of exponentials and logarithms ---- */

static inline void keep_reduced(flc_tile *t, size_t i, flc_reduced reduced)
{
    t->step[0][i] = reduced.hi;
    t->step[1][i] = reduced.lo;
    t->step[2][i] = reduced.shifted;
}

static inline double exp_of_kept(const flc_tile *t, size_t i)
{
    return flc_exp_reduced(t->step[0][i], t->step[1][i], t->step[2][i]);
}

static inline void keep_parts(flc_tile *t, size_t i, flc_log_parts parts)
{
    t->step[0][i] = parts.k;
    t->step[1][i] = parts.f;
    t->step[2][i] = parts.s;
}

/* ---- inputs ---- */

static void load(const flc_column *column, size_t from, size_t count, double *lane)
{
    if (column->start == NULL) {
        return; /* NaN since the batch began */
    }
    const ptrdiff_t stride = column->stride;
    const double *start = column->start + (ptrdiff_t)from * stride;
    if (stride == 1 && count == FLC_TILE) {
        memcpy(lane, start, sizeof(flc_lane));
        return;
    }
    for (size_t i = 0; i < count; i++) {
        lane[i] = start[(ptrdiff_t)i * stride];
    }
    for (size_t i = count; i < FLC_TILE; i++) {
        lane[i] = lane[0];
    }
}

static void load_all(const flc_readings *in, size_t from, size_t count, flc_tile *t)
{
    t->count = count;
    load(&in->pulses, from, count, t->pulses);
    load(&in->duration_s, from, count, t->duration_s);
    load(&in->flowing_s, from, count, t->flowing_s);
    load(&in->f_flowing_hz, from, count, t->f_flowing_hz);
    load(&in->f_hz, from, count, t->f_given_hz);
    load(&in->t_degc, from, count, t->t_degc);
    load(&in->p_kpag, from, count, t->p_kpag);
    load(&in->nu_mm2s, from, count, t->nu_given);
    load(&in->rho_base_kgm3, from, count, t->rho_base_given);
    load(&in->rho_observed_kgm3, from, count, t->rho_observed);
    load(&in->t_observed_degc, from, count, t->t_observed);
    load(&in->p_observed_kpag, from, count, t->p_observed);
    load(&in->densitometer_factor, from, count, t->densitometer_factor);
    load(&in->f_before_hz, from, count, t->f_before_hz);
    load(&in->f_after_hz, from, count, t->f_after_hz);
    load(&in->f_highest_hz, from, count, t->f_highest_hz);
}

/* ---- pulses and frequency ---- */

FLC_STAGE static void take_windows(flc_tile *t)
{
    EACH_LANE {
        const double count = flc_fabs(t->pulses[i]);
        const double duration = t->duration_s[i];
        const double f = count / duration;
        const uint64_t whole = mask_of((count + 0x1p52) - 0x1p52 == count) | mask_of(count >= 0x1p52);
        const uint64_t none = mask_of(count == 0.0);
        t->windowed[i] = mask_of(t->pulses[i] == t->pulses[i]);
        t->still[i] = none;
        t->reverse[i] = mask_of(t->pulses[i] < 0.0);
        t->f_hz[i] = f;
        t->good[i] = whole & mask_of(count <= FLC_PULSES_MAX) &
                     within(duration, FLC_DURATION_LOW_S, FLC_DURATION_HIGH_S) & (none | mask_of(f <= FLC_F_MAX));
    }
}

FLC_STAGE static void take_frequencies(flc_tile *t)
{
    EACH_LANE {
        const double f = t->f_given_hz[i];
        const uint64_t window = t->windowed[i], given = mask_of(f == f);
        const uint64_t none = mask_of(f == 0.0);
        t->good[i] = (window & ~given & t->good[i]) | (~window & within(f, 0.0, FLC_F_MAX));
        t->still[i] = (window & t->still[i]) | (~window & none);
        t->f_hz[i] = pick(window, t->f_hz[i], f);
    }
}

FLC_STAGE static void take_flowing(flc_tile *t)
{
    EACH_LANE {
        const double count = flc_fabs(t->pulses[i]), seconds = t->flowing_s[i], mean = t->f_flowing_hz[i];
        const uint64_t has_seconds = mask_of(seconds == seconds), has_mean = mask_of(mean == mean);
        const uint64_t applies = t->windowed[i] & ~t->still[i] & (has_seconds | has_mean);
        const double slack = 1.001 + 1.0 / count; /* see flc_meter_evaluate */
        const double f_mean = t->f_hz[i];
        const double f = pick(has_seconds, count / seconds, mean);
        const uint64_t valid =
            (has_seconds & ~has_mean & within(seconds, count / FLC_F_MAX, t->duration_s[i] * slack)) |
            (~has_seconds & within(mean, f_mean / slack, FLC_F_MAX));
        t->good[i] &= ~applies | valid;
        t->f_hz[i] = pick(applies & mask_of(f > f_mean), f, f_mean);
        t->flags[i] |= applies & FLC_FLAG_FLOWING_KNOWN;
    }
}

static inline uint64_t is_frequency_or_unknown(double f)
{
    return mask_of(f != f) | within(f, 0.0, DBL_MAX);
}

/* A window that may have flowed in part is set aside: its bound needs the whole curve. So is one whose neighbours are
 * no frequencies. */
FLC_STAGE static void look_at_neighbours(flc_tile *t)
{
    EACH_LANE {
        const double before = t->f_before_hz[i], after = t->f_after_hz[i], f = t->f_hz[i];
        const uint64_t stands_out =
            mask_of(before == 0.0) | mask_of(f < 0.5 * before) | mask_of(after == 0.0) | mask_of(f < 0.5 * after);
        const uint64_t known = mask_of((t->flags[i] & FLC_FLAG_FLOWING_KNOWN) != 0);
        const uint64_t valid = is_frequency_or_unknown(before) & is_frequency_or_unknown(after) &
                               is_frequency_or_unknown(t->f_highest_hz[i]);
        t->good[i] &= ~t->windowed[i] | t->still[i] | known | ~stands_out;
        require(t, i, ~t->windowed[i] | valid);
    }
}

/* Frequencies and nothing else. */
FLC_STAGE static void take_frequencies_alone(const flc_tile_plan *plan, flc_tile *t)
{
    const double cutoff = plan->meter->options.cutoff_hz;
    uint64_t any_idle = 0;
    EACH_LANE {
        const double f = t->f_given_hz[i];
        const uint64_t none = mask_of(f == 0.0), under = mask_of(f < cutoff) & ~none;
        t->good[i] = within(f, 0.0, FLC_F_MAX);
        t->f_hz[i] = pick(none, 0.0, f);
        t->idle[i] = none | under;
        t->flags[i] = (none & FLC_FLAG_NO_FLOW) | (under & FLC_FLAG_BELOW_CUTOFF);
        any_idle |= none | under;
    }
    t->any_idle = any_idle != 0;
}

FLC_STAGE static void take_windows_or_frequencies(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_readings *in = plan->in;
    const double cutoff = plan->meter->options.cutoff_hz;
    uint64_t any_idle = 0;
    EACH_LANE {
        t->flags[i] = 0;
    }
    take_windows(t);
    if (in->f_hz.start != NULL) {
        take_frequencies(t);
    }
    if (in->flowing_s.start != NULL || in->f_flowing_hz.start != NULL) {
        take_flowing(t);
    }
    EACH_LANE {
        const uint64_t under = mask_of(t->f_hz[i] < cutoff) & ~t->still[i];
        t->f_hz[i] = pick(t->still[i], 0.0, t->f_hz[i]);
        t->idle[i] = t->still[i] | under;
        t->flags[i] |=
            (t->still[i] & FLC_FLAG_NO_FLOW) | (under & FLC_FLAG_BELOW_CUTOFF) | (t->reverse[i] & FLC_FLAG_REVERSE);
        any_idle |= t->idle[i];
    }
    t->any_idle = any_idle != 0;
    if (in->f_before_hz.start != NULL || in->f_after_hz.start != NULL || in->f_highest_hz.start != NULL) {
        look_at_neighbours(t);
    }
}

static void take_flow(const flc_tile_plan *plan, flc_tile *t)
{
    if (plan->in->pulses.start != NULL) {
        take_windows_or_frequencies(plan, t);
    } else {
        take_frequencies_alone(plan, t); /* no lane is windowed, still or reverse: so since the batch began */
    }
}

#endif
