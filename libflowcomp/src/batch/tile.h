/* SPDX-License-Identifier: Apache-2.0 */
/* Records side by side. A batch is cut into tiles of 64 records that stay in the first cache; each stage of the
 * evaluation is one short loop over a tile, without a branch that depends on a record. The source of the stages
 * (tile_stages.h) is compiled once per instruction set and uses the same inline functions as one call per record, so
 * the bits are the same. Records that a stage does not treat (refused input, a suspected partial flow, a search for a
 * density that was declined) are set aside and evaluated one by one. */
#ifndef FLC_TILE_H
#define FLC_TILE_H

#include "flowcomp/batch.h"
#include "meter_core.h"
#include "petroleum_2004_direct.h"

#define FLC_TILE 64

typedef double flc_lane[FLC_TILE];
typedef uint64_t flc_mask[FLC_TILE]; /* all ones or zero; or flags */

/* How far a batch has to go for the columns that are wanted. */
typedef struct flc_tile_plan {
    const flc_meter *meter;
    const flc_liquid *liquid;
    const flc_readings *in;
    const flc_results *out;
    flc_petroleum_2004_liquid petroleum; /* where the volume method needs it */
    double base_degf;                    /* temperature of the liquid's base */
    int wants_factors, wants_body_ratio, wants_slope, wants_flags, wants_flowing, wants_windows;
    double t_low, t_high, p_low, p_high; /* a flowing record outside is set aside */
    uint64_t flags;                      /* those of every record that flows */
    int keeps_pulses;                    /* totals follow */
} flc_tile_plan;

typedef struct flc_tile {
    /* inputs, those that are there; lanes begin with a line of the cache */
    _Alignas(64) flc_lane pulses, duration_s, flowing_s, f_flowing_hz, f_given_hz, t_degc, p_kpag, nu_given,
        rho_base_given, rho_observed, t_observed, p_observed, densitometer_factor, f_before_hz, f_after_hz,
        f_highest_hz;
    /* on the way */
    flc_lane p_used, rho60, per_rho_star, alpha60, t_star, dt, ctl60_at_base, ctpl, line_t1, line_w1, line_b, second_w,
        w, strain_housing, strain_rotor, k_fall, ln_ro, held, m3_per_pulse;
    flc_lane step[3];  /* from one loop to the next */
    flc_lane cubic[5]; /* x and c0 to c3 of the segment */
    uint64_t part[FLC_TILE];
    flc_mask good;     /* not set aside */
    flc_mask windowed; /* pulses in a window, not a frequency */
    flc_mask still;    /* no pulses */
    flc_mask idle;     /* no pulses, or under the cut-off */
    flc_mask reverse;
    flc_mask inside;  /* flows and has a K */
    flc_mask between; /* well between the ends of the curve */
    flc_mask flags;
    uint8_t status[FLC_TILE];
#define FLC_TILE_LANE(name, unit, meaning) flc_lane name;
    FLC_RESULT_LIST(FLC_TILE_LANE)
#undef FLC_TILE_LANE
    size_t count;                                      /* records in it; the rest repeats the first */
    int is_all_good, any_idle, is_between, any_beyond; /* lanes set aside: none; idle: some; all between the curve's
                                                          ends; outside the curve: some */
} flc_tile;

/** Evaluate the records [from, from + count) of the plan, count 1 to 64, as far as columns are wanted. */
typedef void flc_tile_evaluate(const flc_tile_plan *plan, size_t from, size_t count, flc_tile *tile);

/** Write the wanted columns of a tile; records that were set aside get NaN and are written afterwards. */
typedef void flc_tile_write(const flc_tile_plan *plan, size_t from, const flc_tile *tile);

typedef struct flc_tile_code {
    flc_tile_evaluate *evaluate;
    flc_tile_write *write;
} flc_tile_code;

extern const uint64_t flc_mask_bits[2]; /* none set; all */
extern const flc_tile_code flc_tile_base;
#ifdef __x86_64__
extern const flc_tile_code flc_tile_avx2, flc_tile_avx512;
#endif

/** A batch that does not start: every result NaN and every status why. Returns why. */
flc_status flc_batch_refuse(flc_status why, size_t n, const flc_results *results);

#endif
