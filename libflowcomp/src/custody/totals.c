/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/totals.h"
#include "error.h"
#include "fp_guard.h"
#include "fpmath.h"
#include <string.h>
#include "totals_core.h"

#define PULSES_MAX 9007199254740992.0   /* 2^53: beyond it a double cannot count */
#define UNITS_MAX 9223372036854774784.0 /* largest double below 2^63 */

flc_status flc_totals_start(flc_totals *totals, double unit_m3)
{
    if (totals == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    const flc_totals zero = {0};
    *totals = zero;
    flc_status status = flc_check_range(NULL, "unit_m3", -1, unit_m3, 1e-12, 1e-3);
    if (status == FLC_OK) {
        totals->size = sizeof *totals;
        totals->unit_m3 = unit_m3;
        totals->mass_unit_kg = unit_m3 * 1000.0;
    } else {
        totals->unit_m3 = totals->mass_unit_kg = flc_nan();
    }
    flc_fp_leave(fp);
    return status;
}

/* A quantity in whole units, half away from zero; 0 where there is none. Returns 0 if it does not fit. */
static int to_units(double quantity, double unit, int64_t *units)
{
    *units = 0;
    if (flc_is_nan(quantity)) {
        return 1;
    }
    const double scaled = quantity / unit;
    if (!(flc_fabs(scaled) < UNITS_MAX)) {
        return 0;
    }
    const double size = flc_fabs(scaled);
    int64_t whole = (int64_t)size;
    whole += size - (double)whole >= 0.5;
    *units = scaled < 0.0 ? -whole : whole;
    return 1;
}

static int add_checked(int64_t *total, int64_t amount)
{
    if (amount > 0 ? *total > INT64_MAX - amount : *total < INT64_MIN - amount) {
        return 0;
    }
    *total += amount;
    return 1;
}

/* The pulses of a record as a count; 0 if they are no whole number. */
static int to_count(double pulses, int64_t *count)
{
    *count = 0;
    if (flc_is_nan(pulses) || !(flc_fabs(pulses) <= PULSES_MAX)) {
        return 0;
    }
    const int64_t whole = (int64_t)pulses;
    if (flc_bits_of((double)whole) != flc_bits_of(pulses) && !(whole == 0 && pulses == 0.0)) {
        return 0;
    }
    *count = whole < 0 ? -whole : whole;
    return 1;
}

/* Where the pulses of a record belong. Direction comes first: pulses that ran backwards are never among those that are
 * missing a forward volume. */
static int64_t *place_of_pulses(flc_totals *totals, double pulses, const flc_result *result)
{
    if (result->status != FLC_OK && result->status != FLC_E_BELOW_CURVE) {
        return &totals->pulses_refused;
    }
    if (pulses < 0.0) {
        return &totals->pulses_reverse;
    }
    if (result->status == FLC_E_BELOW_CURVE) {
        return &totals->pulses_below;
    }
    return result->flags & FLC_FLAG_BELOW_CUTOFF ? &totals->pulses_cutoff : &totals->pulses_forward;
}

static int add_volumes(flc_totals *totals, const flc_result *result)
{
    int64_t gross, base, mass;
    const double kg = result->v_base_m3 * result->rho_base_kgm3;
    if (!to_units(result->v_m3, totals->unit_m3, &gross) || !to_units(result->v_base_m3, totals->unit_m3, &base) ||
        !to_units(kg, totals->mass_unit_kg, &mass)) {
        return 0;
    }
    if (result->flags & FLC_FLAG_REVERSE) {
        return add_checked(&totals->gross_reverse, -gross) && add_checked(&totals->base_reverse, -base) &&
               add_checked(&totals->mass_reverse, -mass);
    }
    return add_checked(&totals->gross_forward, gross) && add_checked(&totals->base_forward, base) &&
           add_checked(&totals->mass_forward, mass);
}

flc_status flc_totals_add(flc_totals *totals, double pulses, const flc_result *result)
{
    if (totals == NULL || result == NULL) {
        return FLC_E_NULL;
    }
    if (totals->size != sizeof *totals || result->size != sizeof *result) {
        return FLC_E_SIZE;
    }
    if (result->status == FLC_OK && flc_is_nan(result->v_m3) && !flc_is_nan(pulses) && pulses != 0.0) {
        return FLC_E_MISSING; /* a result that was never evaluated, or of a frequency: these pulses have no volume */
    }
    flc_fp_state fp = flc_fp_enter();
    flc_totals sum = *totals; /* changed as a whole or not at all */
    int64_t count;
    const int readable = to_count(pulses, &count);
    const int refused = !readable || (result->status != FLC_OK && result->status != FLC_E_BELOW_CURVE);
    sum.flags |= result->flags;
    int fits =
        add_checked(&sum.records, 1) && add_checked(&sum.unreadable, !readable) && add_checked(&sum.refused, refused);
    if (fits && readable) {
        fits = add_checked(&sum.pulses_in, count) && add_checked(place_of_pulses(&sum, pulses, result), count) &&
               (result->status != FLC_OK || add_volumes(&sum, result));
    }
    if (fits) {
        *totals = sum;
    }
    flc_fp_leave(fp);
    return fits ? FLC_OK : FLC_E_OVERFLOW;
}

flc_status flc_totals_merge(flc_totals *totals, const flc_totals *other)
{
    if (totals == NULL || other == NULL) {
        return FLC_E_NULL;
    }
    if (totals->size != sizeof *totals || other->size != sizeof *other) {
        return FLC_E_SIZE;
    }
    if (flc_bits_of(totals->unit_m3) != flc_bits_of(other->unit_m3)) {
        return FLC_E_CONFLICT;
    }
    flc_totals sum = *totals;
    int fits = 1;
#define ADD(counter) fits = fits && add_checked(&sum.counter, other->counter);
    FLC_TOTALS_COUNTERS(ADD)
#undef ADD
    sum.flags |= other->flags;
    if (fits) {
        *totals = sum;
    }
    return fits ? FLC_OK : FLC_E_OVERFLOW;
}

flc_status flc_totals_balance(const flc_totals *totals, int64_t *difference)
{
    if (difference != NULL) {
        *difference = INT64_MIN;
    }
    if (totals == NULL || difference == NULL) {
        return FLC_E_NULL;
    }
    if (totals->size != sizeof *totals) {
        return FLC_E_SIZE;
    }
    /* unsigned, so that no content of a damaged set of totals is undefined behaviour */
    const uint64_t placed = (uint64_t)totals->pulses_forward + (uint64_t)totals->pulses_reverse +
                            (uint64_t)totals->pulses_below + (uint64_t)totals->pulses_cutoff +
                            (uint64_t)totals->pulses_refused;
    const uint64_t rest = (uint64_t)totals->pulses_in - placed;
    memcpy(difference, &rest, sizeof rest);
    return FLC_OK;
}

flc_status flc_totals_quantity(int64_t units, double unit, flc_rounding policy, double *quantity)
{
    if (quantity == NULL) {
        return FLC_E_NULL;
    }
    *quantity = flc_nan();
    flc_fp_state fp = flc_fp_enter();
    flc_status status = flc_check_range(NULL, "unit", -1, unit, 1e-12, 1.0);
    if (status == FLC_OK) {
        status = flc_round((double)units * unit, policy, quantity);
    }
    flc_fp_leave(fp);
    return status;
}
