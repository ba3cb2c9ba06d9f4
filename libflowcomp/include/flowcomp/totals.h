/* SPDX-License-Identifier: Apache-2.0 */
/* Totals that grouping cannot change: every record's volume is turned once into whole accumulation units (1 µL by
 * default, nothing to do with any rounding for display), and integers are added. Raw pulses stand beside the volumes,
 * and every pulse that goes in comes out in exactly one place:
 *
 *   pulses in = forward + reverse + below curve + below cut-off + refused                                      */
#ifndef FLOWCOMP_TOTALS_H
#define FLOWCOMP_TOTALS_H

#include "flowcomp/meter.h"
#include "flowcomp/rounding.h"

FLC_BEGIN_DECLS

/* Closed form of a set of totals. Volumes are whole accumulation units of unit_m3; pulses are counts. Reverse volumes
 * and pulses are positive and stand apart. */
typedef struct flc_totals {
    uint32_t size;
    uint32_t flags;          /* every flag that any record carried */
    double unit_m3;          /* accumulation unit, m³ */
    int64_t records;         /* records added */
    int64_t unreadable;      /* of these, records whose pulses were no whole number: they count as refused with 0 pulses */
    int64_t refused;         /* records refused for any reason but the curve's low end */
    int64_t pulses_in;       /* every pulse added, by magnitude */
    int64_t pulses_forward;  /* with a forward volume */
    int64_t pulses_reverse;  /* of reverse flow; those below the curve or the cut-off have no volume */
    int64_t pulses_below;    /* forward, below the curve, no volume */
    int64_t pulses_cutoff;   /* forward, under the cut-off, no volume */
    int64_t pulses_refused;  /* of refused records */
    int64_t gross_forward;   /* units */
    int64_t gross_reverse;   /* units */
    int64_t base_forward;    /* units; records without a volume correction add nothing here */
    int64_t base_reverse;    /* units */
    double mass_unit_kg;     /* unit of mass, kg: 1000 kg/m³ times unit_m3 */
    int64_t mass_forward;    /* base volume times base density, mass units */
    int64_t mass_reverse;
} flc_totals;

/** Start totals at zero.
 *  @param[out] totals  never NULL
 *  @param unit_m3  accumulation unit, m³, 1e-12 to 1e-3; 1e-9 (1 µL) holds 9.2e9 m³
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_start(flc_totals *totals, double unit_m3);

/** Add one evaluated record. Nothing is added when it fails.
 *  @param totals   from flc_totals_start
 *  @param pulses   of the record: whole, negative for reverse; anything else makes the record unreadable
 *  @param result   of flc_meter_evaluate for it, refused or not
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_OVERFLOW, FLC_E_MISSING (pulses beside a result without a volume)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_add(flc_totals *totals, double pulses, const flc_result *result);

/** Add other totals of the same unit: any order and any grouping gives the same totals.
 *  @param totals   to be added to
 *  @param other    unchanged
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CONFLICT (another unit), FLC_E_OVERFLOW (nothing is added)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_merge(flc_totals *totals, const flc_totals *other);

/** Does every pulse stand in exactly one place?
 *  @param totals  never NULL
 *  @param[out] difference  pulses in less the sum of the places, 0 when balanced
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_balance(const flc_totals *totals, int64_t *difference);

/** A total of units as m³ (or kg), rounded once by the policy given: only closed totals are ever rounded.
 *  @param units   whole units, for instance totals.base_forward
 *  @param unit    size of a unit: totals.unit_m3 or totals.mass_unit_kg
 *  @param policy  rounding policy
 *  @param[out] quantity  NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_CHOICE, FLC_E_OVERFLOW
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_quantity(int64_t units, double unit, flc_rounding policy, double *quantity);

/** Canonical bytes of totals, to be kept over a restart or hashed: big-endian, fixed field order.
 *  @param totals  from flc_totals_start
 *  @param[out] bytes  room for size bytes, or NULL with size 0
 *  @param size    room
 *  @param[out] needed  bytes it takes
 *  @return FLC_OK, FLC_E_NULL, FLC_E_SIZE, FLC_E_BUFFER (needed is set)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_canonical(const flc_totals *totals, uint8_t *bytes, size_t size, size_t *needed);

/** Totals from their canonical bytes, the very same.
 *  @param bytes   of flc_totals_canonical
 *  @param size    their number
 *  @param[out] totals  zero with unit NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SYNTAX (no such bytes), FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE (unit),
 *          FLC_E_CONFLICT (pulses do not balance)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_restore(const uint8_t *bytes, size_t size, flc_totals *totals);

/* Custody and maintenance side by side: what flows while the meter is worked on or tested is counted, but not sold. */
typedef struct flc_total_set {
    flc_totals custody;
    flc_totals maintenance;
} flc_total_set;

/** Start both totals at zero.
 *  @param[out] set  never NULL
 *  @param unit_m3  as for flc_totals_start
 *  @return as flc_totals_start
 *  @since 0.1 */
FLC_API FLC_STATUS flc_total_set_start(flc_total_set *set, double unit_m3);

/** Add one evaluated record to one of them.
 *  @param set      from flc_total_set_start
 *  @param in_maintenance  1: to the maintenance total
 *  @param pulses, result  as for flc_totals_add
 *  @return as flc_totals_add
 *  @since 0.1 */
FLC_API FLC_STATUS flc_total_set_add(flc_total_set *set, int in_maintenance, double pulses, const flc_result *result);

FLC_END_DECLS

#endif
