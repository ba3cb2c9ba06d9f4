/* SPDX-License-Identifier: Apache-2.0 */
/* The list of published methods: what each takes, gives, rests on, and where it holds; and one way to call any of them
 * by name. Every row is made by tables/generate_methods.py from the contract comment over the method's prototype, so
 * the header, the range check, the error text and this list cannot disagree. */
#ifndef FLOWCOMP_METHODS_H
#define FLOWCOMP_METHODS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_argument_kind {
    FLC_ARGUMENT_NUMBER = 1, /* one double, judged against [low, high] */
    FLC_ARGUMENT_CHOICE = 2, /* one of the words in choices */
    FLC_ARGUMENT_LIST = 3    /* doubles, each judged against [low, high]; lists of one method have equal length */
} flc_argument_kind;

typedef struct flc_method_argument {
    const char *name;           /* unit in the suffix: rho60_kgm3 */
    const char *meaning;        /* a few words */
    const char *unit;           /* "kg/m3"; "1" for pure numbers */
    flc_argument_kind kind;
    int optional;               /* 1: may be left out (NaN, or choice -1, stands for absent) */
    double low, high;           /* valid range, ends included; infinite where the method states none */
    double fallback;            /* value used where an optional number is absent; NaN: absence has its own meaning */
    const char *const *choices; /* NULL-terminated words of a choice, the place is its number; else NULL */
} flc_method_argument;

typedef struct flc_method_info {
    const char *name;    /* as in the prototype without flc_ */
    const char *summary; /* one line */
    const char *formula; /* the equation in words or symbols */
    const char *unit;    /* of the result */
    const char *source;  /* standard, edition, clause; or paper and equation */
    flc_provenance status;
    const char *confidence; /* what closes on what, what was left out, agreement seen */
    const char *since;
    const flc_method_argument *arguments;
    size_t argument_count;
} flc_method_info;

/** Number of methods in this library.
 *  @since 0.1 */
FLC_API size_t flc_method_count(void);

/** Row of the method at this place (0 to count - 1), or NULL. The memory is the library's, constant.
 *  @since 0.1 */
FLC_API const flc_method_info *flc_method_at(size_t place);

/** Row of the method of this name, or NULL.
 *  @since 0.1 */
FLC_API const flc_method_info *flc_method_find(const char *name);

/* One argument of a call by name. Number and choice use number (a choice is its place in choices); a list uses list
 * and count. */
typedef struct flc_value {
    double number;
    const double *list;
    size_t count;
} flc_value;

/** Call a method by its row: the same function, checks and bits as the typed prototype.
 *  @param method    from flc_method_at or flc_method_find
 *  @param values    one per argument of the row, in its order
 *  @param count     number of values; must be the row's argument_count
 *  @param[out] result  the method's result, NaN on failure
 *  @param[out] error   detail (argument, index, value, limit, message), or NULL
 *  @return FLC_OK, or the method's status
 *  @since 0.1 */
FLC_API FLC_STATUS flc_method_call(const flc_method_info *method, const flc_value *values, size_t count, double *result,
                                   flc_error *error);

/* A column of a batch: element i is at start + i * stride (in doubles); stride 0 repeats one value. */
typedef struct flc_column {
    const double *start;
    ptrdiff_t stride;
} flc_column;

/** Call a method without lists for n records. A refused record gets NaN and its status; the batch goes on.
 *  @param method   from flc_method_at or flc_method_find; none of its arguments may be a list (FLC_E_COUNT)
 *  @param columns  one per argument of the row; numbers and choices alike as doubles
 *  @param column_count  must be the row's argument_count
 *  @param n        number of records
 *  @param[out] result  n doubles; may be the memory of one of the columns of stride 1
 *  @param[out] status  n statuses as numbers, or NULL
 *  @param[out] refused  how many records were refused, or NULL
 *  @return FLC_OK when the batch ran (even with refused records), else why it did not start, every result then NaN and
 *          every status the one returned
 *  @since 0.1 */
FLC_API FLC_STATUS flc_method_call_n(const flc_method_info *method, const flc_column *columns, size_t column_count,
                                     size_t n, double *result, uint8_t *status, size_t *refused);

FLC_END_DECLS

#endif
