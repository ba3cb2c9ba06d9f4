/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/interface_cut.h"
#include "error.h"
#include "fp_guard.h"
#include "fpmath.h"
#include "method.h"
#include "proving_core.h"
#include "struct_size.h"

static const char *const by_words[] = {"time", "pulses", "density", NULL};
static const char *const allocation_words[] = {"none", "head", "tail", "half", "density", NULL};

flc_status flc_cut_by_from_name(const char *name, flc_cut_by *choice)
{
    return flc_choice_from_name(by_words, name, (int *)choice);
}

flc_status flc_allocation_from_name(const char *name, flc_allocation *choice)
{
    return flc_choice_from_name(allocation_words, name, (int *)choice);
}

void flc_cut_init_sized(flc_cut *cut, size_t own_size)
{
    const double none = flc_nan();
    const flc_cut fresh = {sizeof fresh, FLC_CUT_TIME, FLC_ALLOCATE_NONE, none, none, none, none, none};
    flc_give_sized(cut, own_size, &fresh, sizeof fresh);
}

static int needs_density(const flc_cut *cut)
{
    return cut->by == FLC_CUT_DENSITY || cut->allocation == FLC_ALLOCATE_DENSITY;
}

static flc_status check_cut(const flc_cut *cut, flc_error *error)
{
    if (cut->size != sizeof *cut) {
        return flc_fail(error, FLC_E_SIZE, "cut", -1, (double)cut->size, (double)sizeof *cut, NULL);
    }
    if ((int)cut->by < 0 || cut->by > FLC_CUT_DENSITY) {
        return flc_fail(error, FLC_E_CHOICE, "by", -1, (double)(int)cut->by, FLC_CUT_DENSITY, NULL);
    }
    if ((int)cut->allocation < 0 || cut->allocation > FLC_ALLOCATE_DENSITY) {
        return flc_fail(error, FLC_E_CHOICE, "allocation", -1, (double)(int)cut->allocation, FLC_ALLOCATE_DENSITY,
                        NULL);
    }
    flc_status status = FLC_OK;
    if (cut->by != FLC_CUT_DENSITY) {
        const flc_named_range ends[] = {{"first", cut->first, -9e15, 9e15}, {"last", cut->last, -9e15, 9e15}};
        status = flc_check_ranges(ends, 2, -1, error);
        if (status == FLC_OK && cut->last < cut->first) {
            status = flc_fail(error, FLC_E_ORDER, "last", -1, cut->last, cut->first, NULL);
        }
    }
    if (status == FLC_OK && needs_density(cut)) {
        const flc_named_range densities[] = {
            {"rho_head_kgm3", cut->rho_head_kgm3, 1.0, 25000.0},
            {"rho_tail_kgm3", cut->rho_tail_kgm3, 1.0, 25000.0},
            {"rho_tolerance_kgm3", cut->by == FLC_CUT_DENSITY ? cut->rho_tolerance_kgm3 : 0.0, 0.0, 1000.0}};
        status = flc_check_ranges(densities, 3, -1, error);
        if (status == FLC_OK && cut->rho_head_kgm3 == cut->rho_tail_kgm3) {
            status = flc_fail(error, FLC_E_CONFLICT, "rho_tail_kgm3", -1, cut->rho_tail_kgm3, cut->rho_head_kgm3,
                              "density cannot tell the batches apart");
        }
    }
    return status;
}

static flc_status check_record(const flc_cut *cut, const flc_cut_record *records, size_t i, flc_error *error)
{
    const flc_cut_record *record = &records[i];
    const int64_t place = (int64_t)i;
    const flc_named_range ranges[] = {{"pulses", record->pulses, 0.0, 1e15},
                                      {"volume", record->volume, 0.0, 1e15},
                                      {"rho_kgm3", needs_density(cut) ? record->rho_kgm3 : 1000.0, 1.0, 25000.0}};
    if (record->end_ms <= record->start_ms || (i > 0 && record->start_ms < records[i - 1].end_ms)) {
        return flc_fail(error, FLC_E_ORDER, record->end_ms <= record->start_ms ? "end_ms" : "start_ms", place,
                        (double)record->start_ms, flc_nan(), "records follow each other in time");
    }
    return flc_check_ranges(ranges, FLC_COUNT_OF(ranges), place, error);
}

/* Share of [start, end] below a point: 0 before it, 1 past it; a record without extent counts as a point. */
static double share_below(double start, double end, double point)
{
    if (point >= end) {
        return 1.0;
    }
    return point <= start ? 0.0 : (point - start) / (end - start);
}

/* First record off the head's density, and the one after the last off the tail's. */
static void density_borders(const flc_cut *cut, const flc_cut_record *records, size_t n, size_t *first, size_t *end)
{
    *first = 0;
    while (*first < n && flc_fabs(records[*first].rho_kgm3 - cut->rho_head_kgm3) <= cut->rho_tolerance_kgm3) {
        (*first)++;
    }
    *end = n;
    while (*end > *first && flc_fabs(records[*end - 1].rho_kgm3 - cut->rho_tail_kgm3) <= cut->rho_tolerance_kgm3) {
        (*end)--;
    }
}

typedef struct cut_shares {
    double head, interface, tail;
} cut_shares;

static cut_shares shares_of(const flc_cut *cut, const flc_cut_record *record, double pulses_before)
{
    const int by_time = cut->by == FLC_CUT_TIME;
    const double start = by_time ? (double)record->start_ms : pulses_before;
    const double end = by_time ? (double)record->end_ms : pulses_before + record->pulses;
    const double before_first = share_below(start, end, cut->first), before_last = share_below(start, end, cut->last);
    return (cut_shares){before_first, before_last - before_first, 1.0 - before_last};
}

/* Part of an interface record that is of the leading batch: linear in its density, 0 and 1 beyond. */
static double head_part(const flc_cut *cut, const flc_cut_record *record)
{
    switch (cut->allocation) {
    case FLC_ALLOCATE_HEAD:
        return 1.0;
    case FLC_ALLOCATE_HALF:
        return 0.5;
    case FLC_ALLOCATE_DENSITY: {
        const double part = (cut->rho_tail_kgm3 - record->rho_kgm3) / (cut->rho_tail_kgm3 - cut->rho_head_kgm3);
        return part < 0.0 ? 0.0 : part > 1.0 ? 1.0 : part;
    }
    case FLC_ALLOCATE_NONE:
    case FLC_ALLOCATE_TAIL:
        break;
    }
    return 0.0;
}

static flc_status cut_records(const flc_cut *cut, const flc_cut_record *records, size_t n, flc_cut_parts *parts,
                              flc_error *error)
{
    flc_cut_parts sum = {0};
    size_t first = 0, end = 0;
    double pulses_before = 0.0;
    flc_status status = check_cut(cut, error);
    for (size_t i = 0; i < n && status == FLC_OK; i++) {
        status = check_record(cut, records, i, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    if (cut->by == FLC_CUT_DENSITY) {
        density_borders(cut, records, n, &first, &end);
    }
    for (size_t i = 0; i < n; i++) {
        const flc_cut_record *record = &records[i];
        const cut_shares whole = {i < first ? 1.0 : 0.0, i >= first && i < end ? 1.0 : 0.0, i >= end ? 1.0 : 0.0};
        const cut_shares share = cut->by == FLC_CUT_DENSITY ? whole : shares_of(cut, record, pulses_before);
        const double between = record->volume * share.interface, part = head_part(cut, record);
        sum.head += record->volume * share.head;
        sum.interface += between;
        sum.tail += record->volume * share.tail;
        sum.head_pulses += record->pulses * share.head;
        sum.interface_pulses += record->pulses * share.interface;
        sum.tail_pulses += record->pulses * share.tail;
        sum.interface_to_head += between * part;
        sum.interface_to_tail += between * (1.0 - part);
        pulses_before += record->pulses;
    }
    sum.batch_head = sum.head + sum.interface_to_head;
    sum.batch_tail = sum.tail + sum.interface_to_tail;
    if (cut->allocation == FLC_ALLOCATE_NONE) {
        sum.batch_head = sum.head;
        sum.batch_tail = sum.tail;
        sum.interface_to_head = sum.interface_to_tail = flc_nan();
    }
    *parts = sum;
    return FLC_OK;
}

flc_status flc_cut_records(const flc_cut *cut, const flc_cut_record *records, size_t n, flc_cut_parts *parts,
                           flc_error *error)
{
    const double none = flc_nan();
    flc_error_clear(error);
    if (parts != NULL) {
        *parts = (flc_cut_parts){none, none, none, none, none, none, none, none, none, none};
    }
    if (cut == NULL || records == NULL || parts == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        cut == NULL       ? "cut"
                        : records == NULL ? "records"
                                          : "parts",
                        -1, none, none, NULL);
    }
    if (n == 0) {
        return flc_fail(error, FLC_E_COUNT, "n", -1, 0.0, 1.0, NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = cut_records(cut, records, n, parts, error);
    flc_fp_leave(fp);
    return status;
}
