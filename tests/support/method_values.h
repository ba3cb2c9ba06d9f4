/* SPDX-License-Identifier: Apache-2.0 */
/* Values for any method, from nothing but its row: every argument inside its range, drawn until the method answers. */
#ifndef FLC_METHOD_VALUES_H
#define FLC_METHOD_VALUES_H

#include "draws.h"
#include "flowcomp/metals.h"
#include "flowcomp/methods.h"
#include <math.h>

#define FLC_VALUES_MAX 24
#define FLC_VALUES_LIST 4
#define FLC_VALUES_DRAWS 4000

typedef struct flc_method_values {
    flc_value value[FLC_VALUES_MAX];
    double list[FLC_VALUES_MAX][FLC_VALUES_LIST]; /* what the lists of value point to */
    size_t count;
    double result; /* of these values */
} flc_method_values;

/* A place in the range; where an end is not stated, within a hundred of the other. Half of the draws keep to a share of
 * the range near its low end, because many ranges span decades. */
static inline double flc_values_number(const flc_method_argument *argument, uint64_t *seed)
{
    const double low = isfinite(argument->low)    ? argument->low
                       : isfinite(argument->high) ? argument->high - 100.0
                                                  : -50.0;
    const double high = isfinite(argument->high) ? argument->high : low + 100.0;
    const double reach = flc_draw_below(seed, 2) == 0 ? 1.0 : pow(10.0, -6.0 * flc_draw_between(seed, 0.0, 1.0));
    const double number = low + (high - low) * reach * flc_draw_between(seed, 0.0, 1.0);
    return flc_draw_below(seed, 3) == 0 && rint(number) >= low && rint(number) <= high ? rint(number) : number;
}

static inline size_t flc_values_words(const flc_method_argument *argument)
{
    size_t words = 0;
    while (argument->choices[words] != NULL) {
        words++;
    }
    return words;
}

static inline void flc_values_list(const flc_method_argument *argument, uint64_t *seed, double *list, size_t length)
{
    const int falls = flc_draw_below(seed, 3) == 0;
    for (size_t i = 0; i < length; i++) {
        list[i] = flc_values_number(argument, seed);
        for (size_t j = i; j > 0 && (falls ? list[j] > list[j - 1] : list[j] < list[j - 1]); j--) {
            const double kept = list[j];
            list[j] = list[j - 1];
            list[j - 1] = kept;
        }
    }
}

/* Fractions of a mixture sum to 1: a list of them is scaled, of single ones (x_...) the first takes what is left, where
 * that is inside its range. */
static inline void flc_values_close_fractions(const flc_method_info *method, flc_method_values *values)
{
    size_t first = values->count;
    double rest = 0.0;
    for (size_t i = 0; i < values->count; i++) {
        const char *name = method->arguments[i].name;
        const size_t length = values->value[i].count;
        if (method->arguments[i].kind == FLC_ARGUMENT_LIST && strstr(name, "fraction") != NULL) {
            double sum = 0.0;
            for (size_t j = 0; j < length; j++) {
                sum += values->list[i][j];
            }
            for (size_t j = 0; j < length; j++) {
                values->list[i][j] /= sum;
            }
        } else if (strncmp(name, "x_", 2) == 0 && first == values->count) {
            first = i;
        } else if (strncmp(name, "x_", 2) == 0 && !isnan(values->value[i].number)) {
            rest += values->value[i].number;
        }
    }
    if (first < values->count && 1.0 - rest >= method->arguments[first].low) {
        values->value[first].number = 1.0 - rest;
    }
}

/* A table over temperature and pressure is a full grid: two of each, every pair. */
static inline void flc_values_make_grid(const flc_method_info *method, flc_method_values *values)
{
    double *t = NULL, *p = NULL;
    for (size_t i = 0; i < values->count; i++) {
        if (values->value[i].count == 4 && strncmp(method->arguments[i].name, "t_table_", 8) == 0) {
            t = values->list[i];
        } else if (values->value[i].count == 4 && strncmp(method->arguments[i].name, "p_table_", 8) == 0) {
            p = values->list[i];
        }
    }
    if (t != NULL && p != NULL) {
        t[1] = t[0];
        t[2] = t[3];
        p[1] = p[3];
        p[2] = p[0];
    }
}

static inline void flc_values_draw(const flc_method_info *method, uint64_t *seed, flc_method_values *values)
{
    const size_t length = FLC_VALUES_LIST - flc_draw_below(seed, 2); /* some methods take three points, no more */
    values->count = method->argument_count;
    for (size_t i = 0; i < values->count; i++) {
        const flc_method_argument *argument = &method->arguments[i];
        flc_value *value = &values->value[i];
        *value = (flc_value){NAN, NULL, 0};
        if (argument->kind == FLC_ARGUMENT_LIST) {
            flc_values_list(argument, seed, values->list[i], length);
            *value = (flc_value){NAN, values->list[i], length};
        } else if (argument->optional && flc_draw_below(seed, 2) == 0) {
            value->number = argument->kind == FLC_ARGUMENT_CHOICE ? -1.0 : (double)NAN;
        } else if (argument->kind == FLC_ARGUMENT_CHOICE) {
            value->number = (double)flc_draw_below(seed, flc_values_words(argument));
        } else {
            value->number = flc_values_number(argument, seed);
        }
    }
    flc_values_close_fractions(method, values);
    flc_values_make_grid(method, values);
}

/* Look-ups answer at the printed temperature only, which no draw hits: one entry of each. */
static const struct {
    const char *name;
    double numbers[3];
} flc_values_printed[] = {
    {"local_expansion", {FLC_METAL_SRM_736_COPPER, FLC_METAL_SET_SRM_CERTIFICATE_MEMORY, 19.85}},
    {"local_expansion_per_degf", {FLC_METAL_416, FLC_METAL_SET_DATA_SHEET_416, 68.0}},
};

static inline int flc_values_take_printed(const flc_method_info *method, flc_method_values *values)
{
    for (size_t i = 0; i < sizeof flc_values_printed / sizeof flc_values_printed[0]; i++) {
        if (strcmp(method->name, flc_values_printed[i].name) == 0) {
            values->count = 3;
            for (size_t j = 0; j < 3; j++) {
                values->value[j] = (flc_value){flc_values_printed[i].numbers[j], NULL, 0};
            }
            return 1;
        }
    }
    return 0;
}

/* A two-dimensional table wants a full grid, which no draw makes: the smallest one. */
static inline int flc_values_take_grid(const flc_method_info *method, flc_method_values *values)
{
    static const double grid[3][4] = {{0.0, 0.0, 40.0, 40.0}, {0.0, 5000.0, 0.0, 5000.0}, {850.0, 853.0, 822.0, 826.0}};
    if (strcmp(method->name, "rho_table_bilinear") != 0) {
        return 0;
    }
    values->count = 5;
    values->value[0] = (flc_value){15.0, NULL, 0};
    values->value[1] = (flc_value){1200.0, NULL, 0};
    for (size_t list = 0; list < 3; list++) {
        memcpy(values->list[2 + list], grid[list], sizeof grid[list]);
        values->value[2 + list] = (flc_value){NAN, values->list[2 + list], 4};
    }
    return 1;
}

/** Values for which the method gives FLC_OK; 0 where no draw found any. */
static inline int flc_values_find(const flc_method_info *method, uint64_t seed, flc_method_values *values)
{
    if (flc_values_take_printed(method, values) || flc_values_take_grid(method, values)) {
        return flc_method_call(method, values->value, values->count, &values->result, NULL) == FLC_OK;
    }
    for (const char *c = method->name; *c != '\0'; c++) {
        seed = seed * 31 + (unsigned char)*c;
    }
    for (int i = 0; i < FLC_VALUES_DRAWS; i++) {
        flc_values_draw(method, &seed, values);
        if (flc_method_call(method, values->value, values->count, &values->result, NULL) == FLC_OK) {
            return 1;
        }
    }
    return 0;
}

#endif
