/* SPDX-License-Identifier: Apache-2.0 */
/* The first stages of a tile: columns in, pulses and frequency. Part of tile_stages.h. */
#ifndef FLC_TILE_INPUT_H
#define FLC_TILE_INPUT_H

#include "tile.h"
#include "error.h"
#include <float.h>
#include <string.h>

#define EACH_LANE for (size_t i = 0; i < FLC_TILE; i++)

static inline uint64_t mask_of(int condition)
{
    return condition ? ~UINT64_C(0) : UINT64_C(0);
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

static void take_windows(flc_tile *t)
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

static void take_frequencies(flc_tile *t)
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

static void take_flowing(flc_tile *t)
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

/* A window that may have flowed in part is set aside: its bound needs the whole curve. So is one whose neighbours are no
 * frequencies. */
static void look_at_neighbours(flc_tile *t)
{
    EACH_LANE {
        const double before = t->f_before_hz[i], after = t->f_after_hz[i], f = t->f_hz[i];
        const uint64_t stands_out = mask_of(before == 0.0) | mask_of(f < 0.5 * before) | mask_of(after == 0.0) |
                                    mask_of(f < 0.5 * after);
        const uint64_t known = mask_of((t->flags[i] & FLC_FLAG_FLOWING_KNOWN) != 0);
        const uint64_t valid = is_frequency_or_unknown(before) & is_frequency_or_unknown(after) &
                               is_frequency_or_unknown(t->f_highest_hz[i]);
        t->good[i] &= ~t->windowed[i] | t->still[i] | known | ~stands_out;
        require(t, i, ~t->windowed[i] | valid);
    }
}

static void take_flow(const flc_tile_plan *plan, flc_tile *t)
{
    const flc_readings *in = plan->in;
    const double cutoff = plan->meter->options.cutoff_hz;
    EACH_LANE {
        t->windowed[i] = t->still[i] = t->reverse[i] = t->good[i] = t->flags[i] = 0;
    }
    if (in->pulses.start != NULL) {
        take_windows(t);
    }
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
        t->flags[i] |= (t->still[i] & FLC_FLAG_NO_FLOW) | (under & FLC_FLAG_BELOW_CUTOFF) |
                       (t->reverse[i] & FLC_FLAG_REVERSE);
    }
    if (in->f_before_hz.start != NULL || in->f_after_hz.start != NULL || in->f_highest_hz.start != NULL) {
        look_at_neighbours(t);
    }
}

#endif
