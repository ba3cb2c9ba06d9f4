/* SPDX-License-Identifier: Apache-2.0 */
/* Where one batch ends and the next begins: records of flow are cut at an interface into head (the leading batch),
 * interface and tail (the following batch), and the interface is shared out by a named rule. A cut is by time, by
 * pulses, or by density. What crosses a cut by time or pulses is divided in proportion; by density a record is not
 * divided. Habits of the trade, no source: the contract names the rule. */
#ifndef FLOWCOMP_INTERFACE_CUT_H
#define FLOWCOMP_INTERFACE_CUT_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_cut_by {
    FLC_CUT_TIME = 0,   /* from first to last, ms */
    FLC_CUT_PULSES = 1, /* from first to last, pulses since the first record */
    FLC_CUT_DENSITY = 2 /* from the first record off the head's density to the last one off the tail's */
} flc_cut_by;

/** Cut from its word ("time", "pulses", "density").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_cut_by_from_name(const char *name, flc_cut_by *choice);

/* Who gets the interface. */
typedef enum flc_allocation {
    FLC_ALLOCATE_NONE = 0,   /* it stays a total of its own */
    FLC_ALLOCATE_HEAD = 1,   /* the leading batch */
    FLC_ALLOCATE_TAIL = 2,   /* the following batch */
    FLC_ALLOCATE_HALF = 3,   /* half each */
    FLC_ALLOCATE_DENSITY = 4 /* each record by where its density lies between the two batches */
} flc_allocation;

/** Rule from its word ("none", "head", "tail", "half", "density").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_allocation_from_name(const char *name, flc_allocation *choice);

/* One record of flow. */
typedef struct flc_cut_record {
    int64_t start_ms, end_ms; /* records follow each other; end after start */
    double pulses;            /* 0 or more */
    double volume;            /* in any one unit, 0 or more */
    double rho_kgm3;          /* mean density; NaN where neither cut nor rule needs it */
} flc_cut_record;

/* How to cut. Set up by flc_cut_init, then filled in. */
typedef struct flc_cut {
    uint32_t size;
    flc_cut_by by;
    flc_allocation allocation;
    double first, last;                  /* of the interface: ms or pulses */
    double rho_head_kgm3, rho_tail_kgm3; /* of the two batches */
    double rho_tolerance_kgm3;           /* within it a record belongs to its batch */
} flc_cut;

/** Set up a cut: size, no allocation, NaN elsewhere.
 *  @param[out] cut  never NULL
 *  @since 0.1 */
FLC_API void flc_cut_init_sized(flc_cut *cut, size_t own_size);
#define flc_cut_init(cut) flc_cut_init_sized((cut), sizeof *(cut))

/* The parts. Head, interface and tail add up to the volume of all records. */
typedef struct flc_cut_parts {
    double head, interface, tail; /* volume */
    double head_pulses, interface_pulses, tail_pulses;
    double interface_to_head, interface_to_tail; /* by the rule; NaN for FLC_ALLOCATE_NONE */
    double batch_head, batch_tail;               /* with their shares of the interface; without for NONE */
} flc_cut_parts;

/** Cut records into two batches and their interface.
 *  @param cut      from flc_cut_init, filled in
 *  @param records  in the order of time
 *  @param n        1 or more
 *  @param[out] parts  NaN on failure
 *  @param[out] error  names field and record, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_COUNT, FLC_E_CHOICE, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW,
 * FLC_E_ABOVE, FLC_E_ORDER (times run backwards; first after last), FLC_E_CONFLICT (both batches of one density)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_cut_records(const flc_cut *cut, const flc_cut_record *records, size_t n, flc_cut_parts *parts,
                                   flc_error *error);

FLC_END_DECLS

#endif
