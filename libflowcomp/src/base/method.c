/* SPDX-License-Identifier: Apache-2.0 */
#include "method.h"
#include "error.h"
#include "fp_guard.h"

static flc_status check_number(const flc_method_argument *argument, double number, int64_t index, flc_error *error)
{
    if (argument->optional && flc_is_nan(number)) {
        return FLC_OK;
    }
    return flc_check_range(error, argument->name, index, number, argument->low, argument->high);
}

static flc_status check_choice(const flc_method_argument *argument, double number, flc_error *error)
{
    size_t words = 0;
    while (argument->choices[words] != NULL) {
        words++;
    }
    for (size_t place = 0; place < words; place++) {
        if (flc_bits_of(number) == flc_bits_of((double)place)) {
            return FLC_OK;
        }
    }
    if (argument->optional && flc_bits_of(number) == flc_bits_of(-1.0)) {
        return FLC_OK;
    }
    return flc_fail(error, FLC_E_CHOICE, argument->name, -1, number, (double)words - 1.0, NULL);
}

static flc_status check_list(const flc_method_info *info, size_t place, const flc_value *values, flc_error *error)
{
    const flc_method_argument *argument = &info->arguments[place];
    const flc_value *list = &values[place];
    if (list->list == NULL) {
        return flc_fail(error, FLC_E_NULL, argument->name, -1, flc_nan(), flc_nan(), NULL);
    }
    if (list->count == 0) {
        return flc_fail(error, FLC_E_COUNT, argument->name, -1, 0.0, 1.0, "give at least one value");
    }
    for (size_t other = 0; other < place; other++) {
        if (info->arguments[other].kind == FLC_ARGUMENT_LIST && values[other].count != list->count) {
            return flc_fail(error, FLC_E_COUNT, argument->name, -1, (double)list->count, (double)values[other].count,
                            "the lists must have equal length");
        }
    }
    for (size_t i = 0; i < list->count; i++) {
        flc_status status =
            flc_check_range(error, argument->name, (int64_t)i, list->list[i], argument->low, argument->high);
        if (status != FLC_OK) {
            return status;
        }
    }
    return FLC_OK;
}

flc_status flc_method_check(const flc_method_info *info, const flc_value *values, flc_error *error)
{
    flc_status status = FLC_OK;
    for (size_t place = 0; place < info->argument_count && status == FLC_OK; place++) {
        const flc_method_argument *argument = &info->arguments[place];
        if (argument->kind == FLC_ARGUMENT_LIST) {
            status = check_list(info, place, values, error);
        } else if (argument->kind == FLC_ARGUMENT_CHOICE) {
            status = check_choice(argument, values[place].number, error);
        } else {
            status = check_number(argument, values[place].number, -1, error);
        }
    }
    return status;
}

/* An absent optional number takes the value that its contract names, where it names one. */
static void fill_absent(const flc_method_info *method, const flc_value *values, flc_value *filled)
{
    for (size_t i = 0; i < method->argument_count; i++) {
        filled[i] = values[i];
        if (method->arguments[i].optional && flc_is_nan(values[i].number)) {
            filled[i].number = method->arguments[i].fallback;
        }
    }
}

flc_status flc_method_evaluate(const flc_method_info *method, const flc_value *values, double *result, flc_error *error)
{
    *result = flc_nan();
    flc_status status = flc_method_check(method, values, error);
    if (status != FLC_OK) {
        return status;
    }
    const flc_method_row *row = (const flc_method_row *)method;
    flc_value filled[FLC_ARGUMENTS_MAX];
    fill_absent(method, values, filled);
    double answer = flc_nan();
    status = row->formula(filled, &answer);
    if (status == FLC_OK && !flc_is_finite(answer)) {
        status = FLC_E_DOMAIN;
    }
    if (status != FLC_OK) {
        return flc_fail(error, status, method->name, -1, flc_nan(), flc_nan(), NULL);
    }
    *result = answer;
    return FLC_OK;
}

flc_status flc_method_call(const flc_method_info *method, const flc_value *values, size_t count, double *result,
                           flc_error *error)
{
    flc_error_clear(error);
    if (result != NULL) {
        *result = flc_nan();
    }
    if (method == NULL || values == NULL || result == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        method == NULL   ? "method"
                        : values == NULL ? "values"
                                         : "result",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state state = flc_fp_enter();
    flc_status status =
        count == method->argument_count && count <= FLC_ARGUMENTS_MAX
            ? flc_method_evaluate(method, values, result, error)
            : flc_fail(error, FLC_E_COUNT, "values", -1, (double)count, (double)method->argument_count, NULL);
    flc_fp_leave(state);
    return status;
}
