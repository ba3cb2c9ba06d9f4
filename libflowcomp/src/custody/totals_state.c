/* SPDX-License-Identifier: Apache-2.0 */
/* Totals saved and brought back without loss, and the total of maintenance kept apart. */
#include "canonical.h"
#include "fp_guard.h"
#include "totals_core.h"

#define MARK "flowcomp totals 1"

static void write(flc_canonical *out, const flc_totals *totals)
{
    flc_put_text(out, MARK);
    flc_put_u64(out, totals->flags);
    flc_put_double(out, totals->unit_m3);
#define PUT(counter) flc_put_i64(out, totals->counter);
    FLC_TOTALS_COUNTERS(PUT)
#undef PUT
}

flc_status flc_totals_canonical(const flc_totals *totals, uint8_t *bytes, size_t size, size_t *needed)
{
    if (needed != NULL) {
        *needed = 0;
    }
    if (totals == NULL || needed == NULL || (bytes == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    if (totals->size != sizeof *totals) {
        return FLC_E_SIZE;
    }
    flc_canonical out = {bytes, size, 0};
    write(&out, totals);
    return flc_canonical_end(&out, needed);
}

static uint64_t read_u64(const uint8_t *bytes, size_t *place)
{
    uint64_t number = 0;
    for (size_t i = 0; i < 8; i++) {
        number = (number << 8) | bytes[(*place)++];
    }
    return number;
}

static int64_t read_i64(const uint8_t *bytes, size_t *place)
{
    union {
        uint64_t bits;
        int64_t number;
    } both = {read_u64(bytes, place)};
    return both.number;
}

static double read_double(const uint8_t *bytes, size_t *place)
{
    union {
        uint64_t bits;
        double number;
    } both = {read_u64(bytes, place)};
    return both.number;
}

/* Counters only ever grow from zero, and no more records can be refused than there are. */
static int is_possible(const flc_totals *totals)
{
    int possible = totals->refused <= totals->records && totals->unreadable <= totals->refused;
#define NOT_NEGATIVE(counter) possible = possible && totals->counter >= 0;
    FLC_TOTALS_COUNTERS(NOT_NEGATIVE)
#undef NOT_NEGATIVE
    return possible;
}

/* Bytes are taken only where writing what was read gives them back and every pulse stands in one place. */
static flc_status restore(const uint8_t *bytes, size_t size, flc_totals *totals)
{
    uint8_t again[256];
    size_t place = 8 + strlen(MARK), needed;
    int64_t difference;
    flc_totals read;
    flc_canonical length = {NULL, 0, 0};
    flc_status status = flc_totals_start(&read, 1e-9);
    if (status != FLC_OK) {
        return status;
    }
    write(&length, &read);
    if (length.needed > sizeof again) {
        return FLC_E_INTERNAL;
    }
    if (size != length.needed) {
        return FLC_E_SYNTAX;
    }
    const uint64_t flags = read_u64(bytes, &place);
    status = flc_totals_start(&read, read_double(bytes, &place));
    if (status != FLC_OK) {
        return status;
    }
    read.flags = (uint32_t)flags;
#define READ(counter) read.counter = read_i64(bytes, &place);
    FLC_TOTALS_COUNTERS(READ)
#undef READ
    status = flc_totals_canonical(&read, again, sizeof again, &needed);
    if (status == FLC_OK && memcmp(again, bytes, size) != 0) {
        status = FLC_E_SYNTAX;
    }
    if (status == FLC_OK && !is_possible(&read)) {
        status = FLC_E_BELOW;
    }
    if (status == FLC_OK) {
        status = flc_totals_balance(&read, &difference);
    }
    if (status == FLC_OK && difference != 0) {
        status = FLC_E_CONFLICT;
    }
    if (status == FLC_OK) {
        *totals = read;
    }
    return status;
}

flc_status flc_totals_restore(const uint8_t *bytes, size_t size, flc_totals *totals)
{
    if (totals != NULL) {
        const flc_totals zero = {0};
        *totals = zero;
        totals->unit_m3 = totals->mass_unit_kg = flc_nan();
    }
    if (bytes == NULL || totals == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = restore(bytes, size, totals);
    flc_fp_leave(fp);
    return status;
}

flc_status flc_total_set_start(flc_total_set *set, double unit_m3)
{
    if (set == NULL) {
        return FLC_E_NULL;
    }
    flc_status status = flc_totals_start(&set->custody, unit_m3);
    const flc_status second = flc_totals_start(&set->maintenance, unit_m3);
    return status != FLC_OK ? status : second;
}

flc_status flc_total_set_add(flc_total_set *set, int in_maintenance, double pulses, const flc_result *result)
{
    if (set == NULL) {
        return FLC_E_NULL;
    }
    return flc_totals_add(in_maintenance ? &set->maintenance : &set->custody, pulses, result);
}
