/* SPDX-License-Identifier: Apache-2.0 */
/* What the parts of the Arrow interface know of each other: readings as they lie in an array (arrow_readings.c), and
 * the memory of results (arrow_results.c). */
#ifndef FLC_ARROW_CORE_H
#define FLC_ARROW_CORE_H

#include "flowcomp/arrow.h"

#define FLC_ARROW_INPUTS ((sizeof(flc_readings) - offsetof(flc_readings, pulses)) / sizeof(flc_column))

/* Of each bitmap, bit first + i tells whether record i is there; NULL: all are. */
typedef struct flc_arrow_bits {
    const uint8_t *bits;
    size_t first;
} flc_arrow_bits;

typedef struct flc_arrow_column {
    const unsigned char *values; /* of record 0, at any address */
    flc_arrow_bits there;
    size_t field;  /* its place in FLC_READING_LIST */
    int is_copied; /* has nulls or is not aligned: read through a piece of scratch memory */
} flc_arrow_column;

typedef struct flc_arrow_table {
    size_t records, columns, copied;
    flc_arrow_bits there; /* of the records as a whole */
    flc_arrow_column column[FLC_ARROW_INPUTS];
    flc_reading constants;
    flc_readings readings; /* the constants, and the columns that are read where they lie */
} flc_arrow_table;

/** Judge an array of readings and find its columns. The table points into the array and into itself. */
flc_status flc_arrow_open(const struct ArrowSchema *schema, const struct ArrowArray *readings,
                          const flc_reading *constants, flc_arrow_table *table, flc_error *error);

/** Columns of the records [from, from + count); scratch has room for copied * count doubles. */
void flc_arrow_piece(const flc_arrow_table *table, size_t from, size_t count, double *scratch, flc_readings *piece);

/** One record of it. */
void flc_arrow_record(const flc_arrow_table *table, size_t place, flc_reading *reading);

/* Which results, by their place in a list of all; flags and status are the last two of it. */
#define FLC_ARROW_COUNT(name, unit, meaning) +1
#define FLC_ARROW_OUTPUTS ((size_t)(FLC_RESULT_LIST(FLC_ARROW_COUNT) + 2))
typedef struct flc_arrow_choice {
    size_t count;
    size_t place[FLC_ARROW_OUTPUTS];
} flc_arrow_choice;

flc_status flc_arrow_choose(const char *const *outputs, size_t output_count, flc_arrow_choice *choice,
                            flc_error *error);

/** A new array with room for so many results, and where its columns lie. */
flc_status flc_arrow_take(const flc_arrow_choice *choice, size_t records, struct ArrowArray *array,
                          flc_results *columns);

/** Is it an array of results, not released. */
int flc_arrow_is_ours(const struct ArrowArray *array);

#endif
