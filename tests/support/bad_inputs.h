/* SPDX-License-Identifier: Apache-2.0 */
/* Every bad input of one method, from its own row: each number not a number, infinite, just below and just above its
 * range; each choice past its words; each list NULL, empty, of another length, and with each of its elements bad; the
 * result NULL. The status, the argument and index named, and the NaN that must come back are checked.
 *
 *     const flc_value good[] = {{850.0, NULL, 0}, ...};
 *     flc_check_bad_inputs("ctl60_petroleum_2004", good, 4);
 */
#ifndef FLC_BAD_INPUTS_H
#define FLC_BAD_INPUTS_H

#include "check.h"
#include "flowcomp/methods.h"
#include <math.h>

#define FLC_BAD_LIST_MAX 16

typedef struct flc_bad_case {
    const flc_method_info *method;
    const flc_value *good;
    size_t place; /* of the argument to spoil */
} flc_bad_case;

/* The double next to a number, upwards or downwards. */
static inline double flc_bad_next(double number, int upwards)
{
    return nextafter(number, upwards ? INFINITY : -INFINITY);
}

static inline void flc_bad_expect(const flc_bad_case *bad, flc_value spoilt, flc_status expected, int64_t index)
{
    flc_value values[32];
    memcpy(values, bad->good, bad->method->argument_count * sizeof values[0]);
    values[bad->place] = spoilt;
    double result = 0.0;
    flc_error error;
    flc_status status = flc_method_call(bad->method, values, bad->method->argument_count, &result, &error);
    const char *argument = bad->method->arguments[bad->place].name;
    if (status != expected || error.status != expected || strcmp(error.argument, argument) != 0 ||
        error.index != index) {
        print_error("%s: %s = %.17g: status %s, argument '%s', index %ld; expected %s, index %ld\n", bad->method->name,
                    argument, spoilt.number, flc_status_name(status), error.argument, (long)error.index,
                    flc_status_name(expected), (long)index);
        fail();
    }
    flc_check_nan(result);
}

/* Not a number, infinite, below, above; one number at a time, alone or as an element of a list. */
static inline void flc_bad_numbers(const flc_bad_case *bad, double *number, flc_value *holder, int64_t index)
{
    const flc_method_argument *argument = &bad->method->arguments[bad->place];
    const double good = *number;
    const struct {
        double number;
        flc_status status;
        int applies;
    } cases[] = {
        {NAN, FLC_E_NAN, !argument->optional},
        {INFINITY, FLC_E_INFINITE, 1},
        {-INFINITY, FLC_E_INFINITE, 1},
        {flc_bad_next(argument->low, 0), FLC_E_BELOW, isfinite(argument->low)},
        {flc_bad_next(argument->high, 1), FLC_E_ABOVE, isfinite(argument->high)},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        if (cases[i].applies) {
            *number = cases[i].number;
            flc_bad_expect(bad, *holder, cases[i].status, index);
        }
    }
    *number = good;
}

static inline void flc_bad_choice(const flc_bad_case *bad)
{
    const flc_method_argument *argument = &bad->method->arguments[bad->place];
    size_t words = 0;
    while (argument->choices[words] != NULL) {
        words++;
    }
    const double numbers[] = {(double)words, -2.0, 0.5, NAN, INFINITY};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        flc_bad_expect(bad, (flc_value){numbers[i], NULL, 0}, FLC_E_CHOICE, -1);
    }
    if (!argument->optional) {
        flc_bad_expect(bad, (flc_value){-1.0, NULL, 0}, FLC_E_CHOICE, -1);
    }
}

static inline void flc_bad_list(const flc_bad_case *bad)
{
    const flc_value *good = &bad->good[bad->place];
    double numbers[FLC_BAD_LIST_MAX];
    assert_true(good->count <= FLC_BAD_LIST_MAX);
    memcpy(numbers, good->list, good->count * sizeof numbers[0]);
    flc_value holder = {NAN, numbers, good->count};
    flc_bad_expect(bad, (flc_value){NAN, NULL, good->count}, FLC_E_NULL, -1);
    flc_bad_expect(bad, (flc_value){NAN, numbers, 0}, FLC_E_COUNT, -1);
    for (size_t i = 0; i < good->count; i++) {
        flc_bad_numbers(bad, &numbers[i], &holder, (int64_t)i);
    }
    for (size_t place = 0; place < bad->place; place++) {
        if (bad->method->arguments[place].kind == FLC_ARGUMENT_LIST) {
            flc_bad_expect(bad, (flc_value){NAN, numbers, good->count - 1}, FLC_E_COUNT, -1);
        }
    }
}

/* The call itself: the good values answer; no result, no values, another count are refused. */
static inline void flc_bad_call(const flc_method_info *method, const flc_value *good)
{
    double result = NAN;
    flc_status status = flc_method_call(method, good, method->argument_count, &result, NULL);
    if (status != FLC_OK || !isfinite(result)) {
        print_error("%s: the good values give %s\n", method->name, flc_status_name(status));
        fail();
    }
    assert_int_equal(flc_method_call(method, good, method->argument_count, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_method_call(method, NULL, method->argument_count, &result, NULL), FLC_E_NULL);
    flc_check_nan(result);
    result = 0.0;
    assert_int_equal(flc_method_call(method, good, method->argument_count + 1, &result, NULL), FLC_E_COUNT);
    flc_check_nan(result);
}

static inline void flc_check_bad_inputs(const char *name, const flc_value *good, size_t count)
{
    const flc_method_info *method = flc_method_find(name);
    if (method == NULL || method->argument_count != count || count > 32) {
        print_error("%s: no such method with %zu arguments\n", name, count);
        fail();
        return;
    }
    flc_bad_call(method, good);
    for (size_t place = 0; place < count; place++) {
        flc_bad_case bad = {method, good, place};
        if (method->arguments[place].kind == FLC_ARGUMENT_LIST) {
            flc_bad_list(&bad);
        } else if (method->arguments[place].kind == FLC_ARGUMENT_CHOICE) {
            flc_bad_choice(&bad);
        } else {
            flc_value spoilt = good[place];
            flc_bad_numbers(&bad, &spoilt.number, &spoilt, -1);
        }
    }
}

#endif
