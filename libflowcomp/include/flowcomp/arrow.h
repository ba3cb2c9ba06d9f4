/* SPDX-License-Identifier: Apache-2.0 */
/* Tables of other programs, by the Arrow C data interface: readings in, results out, without a library of Arrow's.
 *
 * In: an array of structs whose children are float64 and carry the names of the columns of flc_readings. It is read
 * where it lies, aligned or not, whole or sliced, and only during the call: it stays the caller's, who releases it. A
 * null is an absent value, as NaN is. A child of another name or type is refused, because a misspelt column would
 * otherwise be left out without a word.
 *
 * Out: an array of structs with the columns asked for (float64), then flags (uint32) and status (uint8). It belongs to
 * whoever got it and is released by its own callback, from any thread; children may be moved out of it. There are no
 * nulls: a refused record has NaN, with the bits of flc_meter_evaluate_n. Programs that add up a column leave nulls out
 * in silence, while a NaN makes the sum a NaN; whoever means to leave refused records out says so, by the status. */
#ifndef FLOWCOMP_ARROW_H
#define FLOWCOMP_ARROW_H

#include "flowcomp/batch.h"

FLC_BEGIN_DECLS

/* The structs of the standard (Apache Arrow: The Arrow C data interface; The Arrow C stream interface), under its own
 * guards, so that a program may have them from elsewhere. A struct whose release is NULL has been released or moved. */
#ifndef ARROW_C_DATA_INTERFACE
#define ARROW_C_DATA_INTERFACE

#define ARROW_FLAG_DICTIONARY_ORDERED 1
#define ARROW_FLAG_NULLABLE 2
#define ARROW_FLAG_MAP_KEYS_SORTED 4

/* A type: its code ("g" float64, "+s" struct), name, flags, and the types of its children. */
struct ArrowSchema {
    const char *format;
    const char *name;
    const char *metadata;
    int64_t flags;
    int64_t n_children;
    struct ArrowSchema **children;
    struct ArrowSchema *dictionary;
    void (*release)(struct ArrowSchema *);
    void *private_data;
};

/* Values: element i is at offset + i of the buffers (validity bits, least significant first, then the values). */
struct ArrowArray {
    int64_t length;
    int64_t null_count; /* -1: not counted */
    int64_t offset;
    int64_t n_buffers;
    int64_t n_children;
    const void **buffers;
    struct ArrowArray **children;
    struct ArrowArray *dictionary;
    void (*release)(struct ArrowArray *);
    void *private_data;
};

#endif

#ifndef ARROW_C_STREAM_INTERFACE
#define ARROW_C_STREAM_INTERFACE

/* Arrays of one type, one after the other; the end is an array whose release is NULL. */
struct ArrowArrayStream {
    int (*get_schema)(struct ArrowArrayStream *, struct ArrowSchema *out);
    int (*get_next)(struct ArrowArrayStream *, struct ArrowArray *out);
    const char *(*get_last_error)(struct ArrowArrayStream *);
    void (*release)(struct ArrowArrayStream *);
    void *private_data;
};

#endif

/** Evaluate the records of an array of structs; see flc_meter_evaluate_n.
 *  @param meter      never NULL
 *  @param liquid     never NULL
 *  @param schema     type of the readings; never NULL, not released
 *  @param readings   the readings; never NULL, not released
 *  @param constants  from flc_reading_init; values for every record of what the array has no child for, or NULL
 *  @param outputs    names of the results wanted, in the order of the columns; NULL: all, in the order of
 *                    FLC_RESULT_LIST. flags and status always follow
 *  @param output_count  how many names
 *  @param totals     every record is added to it in order, or NULL
 *  @param[out] results  new array, to be released by its callback; its release is NULL on failure
 *  @param[out] refused  records refused, or NULL
 *  @param[out] error    names the child and what to change, or NULL
 *  @return FLC_OK when the batch ran (even with refused records); FLC_E_NULL; FLC_E_MISSING: schema or readings were
 *          released before; FLC_E_SCHEMA: no struct, or a child that is not float64; FLC_E_UNKNOWN_NAME: a child or an
 *          output; FLC_E_DUPLICATE: either twice; FLC_E_CONFLICT: a child and a constant; FLC_E_COUNT: children,
 * buffers or lengths do not fit each other; FLC_E_SIZE; FLC_E_MEMORY; FLC_E_OVERFLOW from the totals, which then hold
 *          the records before the one that did not fit
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_evaluate_arrow(const flc_meter *meter, const flc_liquid *liquid,
                                            const struct ArrowSchema *schema, const struct ArrowArray *readings,
                                            const flc_reading *constants, const char *const *outputs,
                                            size_t output_count, flc_totals *totals, struct ArrowArray *results,
                                            size_t *refused, flc_error *error);

/** One record of an array of structs, to evaluate or to explain by itself.
 *  @param schema, readings, constants  as above
 *  @param place  of the record, counted from 0
 *  @param[out] reading  from flc_reading_init; filled, or left so on failure
 *  @param[out] error    names the child and what to change, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE (reading); FLC_E_ABOVE past the last record; else as flc_meter_evaluate_arrow
 *  @since 0.1 */
FLC_API FLC_STATUS flc_arrow_reading(const struct ArrowSchema *schema, const struct ArrowArray *readings,
                                     const flc_reading *constants, size_t place, flc_reading *reading,
                                     flc_error *error);

/** The type of the results.
 *  @param outputs, output_count  as above
 *  @param[out] schema  new schema, to be released by its callback; its release is NULL on failure
 *  @param[out] error   names the output, or NULL
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME, FLC_E_DUPLICATE, FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_arrow_schema(const char *const *outputs, size_t output_count, struct ArrowSchema *schema,
                                    flc_error *error);

/** Another array over the memory of results, which lives until the last of them is released. Any number of threads may
 *  share the same results.
 *  @param results  from flc_meter_evaluate_arrow or flc_arrow_share, not released
 *  @param[out] same  new array, to be released by its callback; its release is NULL on failure
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE (not an array of ours, or released), FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_arrow_share(const struct ArrowArray *results, struct ArrowArray *same);

/** A stream that gives out results, one array after the other, sharing their memory.
 *  @param results  so many arrays from flc_meter_evaluate_arrow, all with these outputs; may be released after the call
 *  @param count    how many; 0 makes an empty stream
 *  @param outputs, output_count  as above
 *  @param[out] stream  new stream, to be released by its callback; its release is NULL on failure
 *  @param[out] error   names the output or the place of the array, or NULL
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE (not an array of ours, or released), FLC_E_COUNT (one with other columns),
 *          FLC_E_UNKNOWN_NAME, FLC_E_DUPLICATE, FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_arrow_stream(const struct ArrowArray *const *results, size_t count, const char *const *outputs,
                                    size_t output_count, struct ArrowArrayStream *stream, flc_error *error);

FLC_END_DECLS

#endif
