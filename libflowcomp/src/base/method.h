/* SPDX-License-Identifier: Apache-2.0 */
/* A row of the method list: what flc_method_info shows, and the formula behind it. The rows, the typed public functions
 * and the thunks between them are generated (tables/generate_methods.py) into <layer>/methods/<header>.inc, which each
 * file of formulas includes last. A formula is only ever called with arguments inside the row's ranges. */
#ifndef FLC_METHOD_H
#define FLC_METHOD_H

#include "flowcomp/methods.h"
#include <math.h> /* NAN and INFINITY in constant rows; nothing of libm is called */

typedef struct flc_method_row {
    flc_method_info info; /* first: a pointer to the info is a pointer to the row */
    flc_status (*formula)(const flc_value *values, double *result);
} flc_method_row;

/** Judge the values of one call against the row: the status of the first that fails, with detail in error. */
flc_status flc_method_check(const flc_method_info *info, const flc_value *values, flc_error *error);

/** Check and evaluate, without the guard: the number of values is right, and nothing is NULL but perhaps error. */
flc_status flc_method_evaluate(const flc_method_info *method, const flc_value *values, double *result, flc_error *error);

/** Place of a word among NULL-terminated words; FLC_E_UNKNOWN_NAME (choice set to -1) where it is none of them. */
flc_status flc_choice_from_name(const char *const *words, const char *name, int *choice);

#define FLC_ARGUMENTS_MAX 24 /* of one method; tables/generate_methods.py keeps to it */

#define FLC_COUNT_OF(array) (sizeof(array) / sizeof((array)[0]))

#endif
