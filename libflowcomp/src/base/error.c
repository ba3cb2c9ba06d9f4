/* SPDX-License-Identifier: Apache-2.0 */
#include "error.h"
#include "method.h"
#include "text.h"
#include <string.h>

/* Ten digits show any value an engineer typed and hide the last bits of one that was computed. */
#define MESSAGE_DIGITS 10

void flc_error_clear(flc_error *error)
{
    if (error != NULL) {
        error->status = FLC_OK;
        error->index = -1;
        error->value = flc_nan();
        error->limit = flc_nan();
        error->argument[0] = '\0';
        error->message[0] = '\0';
    }
}

static void write_place(flc_text *text, const char *argument, int64_t index)
{
    flc_text_add(text, argument);
    if (index >= 0) {
        flc_text_add(text, "[");
        flc_text_add_integer(text, index);
        flc_text_add(text, "]");
    }
}

static void write_message(flc_error *error, const char *hint)
{
    flc_text text = flc_text_start(error->message, sizeof error->message);
    if (error->argument[0] != '\0') {
        write_place(&text, error->argument, error->index);
        if (!flc_is_nan(error->value)) {
            flc_text_add(&text, " = ");
            flc_text_add_number(&text, error->value, MESSAGE_DIGITS);
        }
        flc_text_add(&text, ": ");
    }
    flc_text_add(&text, flc_status_text(error->status));
    if (!flc_is_nan(error->limit)) {
        flc_text_add(&text, ", limit ");
        flc_text_add_number(&text, error->limit, MESSAGE_DIGITS);
    }
    if (hint != NULL) {
        flc_text_add(&text, "; ");
        flc_text_add(&text, hint);
    }
}

flc_status flc_fail(flc_error *error, flc_status status, const char *argument, int64_t index, double value,
                    double limit, const char *hint)
{
    if (error != NULL) {
        error->status = status;
        error->index = index;
        error->value = flc_is_nan(value) ? flc_nan() : value;
        error->limit = flc_is_nan(limit) ? flc_nan() : limit;
        flc_text name = flc_text_start(error->argument, sizeof error->argument);
        flc_text_add(&name, argument != NULL ? argument : "");
        write_message(error, hint);
    }
    return status;
}

flc_status flc_fail_range(flc_error *error, const char *argument, int64_t index, double value, double low, double high)
{
    if (flc_is_nan(value)) {
        return flc_fail(error, FLC_E_NAN, argument, index, value, flc_nan(), NULL);
    }
    if (!flc_is_finite(value)) {
        return flc_fail(error, FLC_E_INFINITE, argument, index, value, flc_nan(), NULL);
    }
    if (value < low) {
        return flc_fail(error, FLC_E_BELOW, argument, index, value, low, NULL);
    }
    return flc_fail(error, FLC_E_ABOVE, argument, index, value, high, NULL);
}

flc_status flc_choice_from_name(const char *const *words, const char *name, int *choice)
{
    if (choice != NULL) {
        *choice = -1;
    }
    if (name == NULL || choice == NULL) {
        return FLC_E_NULL;
    }
    for (int place = 0; words[place] != NULL; place++) {
        if (strcmp(words[place], name) == 0) {
            *choice = place;
            return FLC_OK;
        }
    }
    return FLC_E_UNKNOWN_NAME;
}
