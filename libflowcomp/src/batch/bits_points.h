/* SPDX-License-Identifier: Apache-2.0 */
/* The points of the contract's set: arguments of any method from nothing but its row, drawn by whole-number arithmetic
 * and
 * + - * /. bits_contract.h states the rules; changing one changes the published hash. */
#ifndef FLC_BITS_POINTS_H
#define FLC_BITS_POINTS_H

#include "flowcomp/bits_contract.h"
#include "error.h"
#include "fpmath.h"

/** splitmix64 (Steele, Lea and Flood 2014, public domain). */
static inline uint64_t flc_bits_draw(uint64_t *state)
{
    *state += UINT64_C(0x9E3779B97F4A7C15);
    uint64_t mixed = *state;
    mixed = (mixed ^ (mixed >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    mixed = (mixed ^ (mixed >> 27)) * UINT64_C(0x94D049BB133111EB);
    return mixed ^ (mixed >> 31);
}

static inline size_t flc_bits_draw_below(uint64_t *state, size_t below)
{
    return (size_t)(flc_bits_draw(state) % below);
}

static inline double flc_bits_draw_between(uint64_t *state, double low, double high)
{
    return low + (high - low) * ((double)(flc_bits_draw(state) >> 11) * 0x1p-53);
}

/** Where the draws of a part begin: FNV-1a with 64 bits over its name. */
static inline uint64_t flc_bits_seed(const char *name)
{
    uint64_t seed = UINT64_C(0xCBF29CE484222325);
    for (; *name != '\0'; name++) {
        seed = (seed ^ (unsigned char)*name) * UINT64_C(0x100000001B3);
    }
    return seed;
}

/* A place in the range, its ends, or near its low end, because many ranges span decades; one in four whole. An end that
 * is not stated lies within a hundred of the other. */
static inline double flc_bits_number(const flc_method_argument *argument, uint64_t *state)
{
    const int has_low = flc_is_finite(argument->low), has_high = flc_is_finite(argument->high);
    const double low = has_low ? argument->low : has_high ? argument->high - 100.0 : -50.0;
    const double high = has_high ? argument->high : low + 100.0;
    const size_t kind = flc_bits_draw_below(state, 8);
    const size_t halvings = flc_bits_draw_below(state, 24);
    const double reach = flc_from_bits((UINT64_C(1023) - halvings) << 52);
    double number = flc_bits_draw_between(state, low, low + (high - low) * (kind < 5 ? 1.0 : reach));
    number = kind == 0 ? low : kind == 1 ? high : number;
    const double whole = flc_floor(number + 0.5);
    return flc_bits_draw_below(state, 4) == 0 && whole >= low && whole <= high ? whole : number;
}

static inline size_t flc_bits_words(const flc_method_argument *argument)
{
    size_t words = 0;
    while (argument->choices[words] != NULL) {
        words++;
    }
    return words;
}

static inline int flc_bits_name_begins(const char *name, const char *with)
{
    return strncmp(name, with, strlen(with)) == 0;
}

static inline int flc_bits_is_fraction(const char *name)
{
    int found = 0;
    for (; *name != '\0'; name++) {
        found |= flc_bits_name_begins(name, "fraction");
    }
    return found;
}

static inline int flc_bits_is_list(const flc_method_info *method, size_t i)
{
    return method->arguments[i].kind == FLC_ARGUMENT_LIST;
}

/** One point of a method; at[argument][place], a place that a list has not is NaN. */
typedef struct flc_bits_point {
    double at[24][FLC_BITS_LIST];
    size_t list_length;
} flc_bits_point;

/* Rising, one time in three falling. */
static inline void flc_bits_draw_list(const flc_method_argument *argument, uint64_t *state, size_t length, double *list)
{
    const int falls = flc_bits_draw_below(state, 3) == 0;
    for (size_t i = 0; i < length; i++) {
        list[i] = flc_bits_number(argument, state);
        for (size_t j = i; j > 0 && (falls ? list[j] > list[j - 1] : list[j] < list[j - 1]); j--) {
            const double kept = list[j];
            list[j] = list[j - 1];
            list[j - 1] = kept;
        }
    }
}

/* Fractions of a mixture sum to 1: a list whose name says "fraction" is divided by its sum; of single ones (x_...) the
 * first takes what the others leave, where that is not below its range. */
static inline void flc_bits_close_fractions(const flc_method_info *method, flc_bits_point *point)
{
    const size_t none = method->argument_count;
    size_t first = none;
    double rest = 0.0;
    for (size_t i = 0; i < none; i++) {
        double *at = point->at[i];
        if (flc_bits_is_list(method, i) && flc_bits_is_fraction(method->arguments[i].name)) {
            double sum = 0.0;
            for (size_t j = 0; j < point->list_length; j++) {
                sum += at[j];
            }
            for (size_t j = 0; j < point->list_length && sum > 0.0; j++) {
                at[j] /= sum;
            }
        } else if (flc_bits_name_begins(method->arguments[i].name, "x_") && first == none) {
            first = i;
        } else if (flc_bits_name_begins(method->arguments[i].name, "x_") && !flc_is_nan(at[0])) {
            rest += at[0];
        }
    }
    if (first < none && 1.0 - rest >= method->arguments[first].low) {
        point->at[first][0] = 1.0 - rest;
    }
}

/* A table over temperature and pressure is a full grid: two of each, every pair. */
static inline void flc_bits_make_grid(const flc_method_info *method, flc_bits_point *point)
{
    double *t = NULL, *p = NULL;
    for (size_t i = 0; i < method->argument_count && point->list_length == 4; i++) {
        if (flc_bits_is_list(method, i) && flc_bits_name_begins(method->arguments[i].name, "t_table_")) {
            t = point->at[i];
        } else if (flc_bits_is_list(method, i) && flc_bits_name_begins(method->arguments[i].name, "p_table_")) {
            p = point->at[i];
        }
    }
    if (t != NULL && p != NULL) {
        t[1] = t[0];
        t[2] = t[3];
        p[1] = p[3];
        p[2] = p[0];
    }
}

/* Look-ups answer at the printed temperature only, which no draw hits: one entry of each, every second time. */
static inline void flc_bits_take_printed(const flc_method_info *method, uint64_t *state, flc_bits_point *point)
{
    static const struct {
        const char *name;
        double numbers[3];
    } printed[] = {
        {"local_expansion", {FLC_METAL_SRM_736_COPPER, FLC_METAL_SET_SRM_CERTIFICATE_MEMORY, 19.85}},
        {"local_expansion_per_degf", {FLC_METAL_416, FLC_METAL_SET_DATA_SHEET_416, 68.0}},
    };
    for (size_t i = 0; i < sizeof printed / sizeof printed[0]; i++) {
        if (strcmp(method->name, printed[i].name) == 0 && flc_bits_draw_below(state, 2) == 0) {
            for (size_t j = 0; j < 3; j++) {
                point->at[j][0] = printed[i].numbers[j];
            }
        }
    }
}

static inline void flc_bits_draw_point(const flc_method_info *method, uint64_t *state, flc_bits_point *point)
{
    point->list_length = FLC_BITS_LIST - flc_bits_draw_below(state, 2);
    for (size_t i = 0; i < method->argument_count; i++) {
        const flc_method_argument *argument = &method->arguments[i];
        double *at = point->at[i];
        for (size_t j = 0; j < FLC_BITS_LIST; j++) {
            at[j] = flc_nan();
        }
        if (argument->kind == FLC_ARGUMENT_LIST) {
            flc_bits_draw_list(argument, state, point->list_length, at);
        } else if (argument->optional && flc_bits_draw_below(state, 2) == 0) {
            at[0] = argument->kind == FLC_ARGUMENT_CHOICE ? -1.0 : flc_nan();
        } else if (argument->kind == FLC_ARGUMENT_CHOICE) {
            at[0] = (double)flc_bits_draw_below(state, flc_bits_words(argument));
        } else {
            at[0] = flc_bits_number(argument, state);
        }
    }
    flc_bits_close_fractions(method, point);
    flc_bits_make_grid(method, point);
    flc_bits_take_printed(method, state, point);
}

#endif
