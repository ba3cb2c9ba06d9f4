/* SPDX-License-Identifier: Apache-2.0 */
/* The list of methods, and calling one of them over columns. */
#include "flowcomp/methods.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"
#include "methods/method_list.inc"
#include <string.h>

#define DECLARE(name) extern const flc_method_row flc_row_##name;
FLC_METHOD_LIST(DECLARE)
#undef DECLARE

static const flc_method_row *const rows[] = {
#define ROW(name) &flc_row_##name,
    FLC_METHOD_LIST(ROW)
#undef ROW
};

size_t flc_method_count(void)
{
    return FLC_COUNT_OF(rows);
}

const flc_method_info *flc_method_at(size_t place)
{
    return place < FLC_COUNT_OF(rows) ? &rows[place]->info : NULL;
}

const flc_method_info *flc_method_find(const char *name)
{
    for (size_t i = 0; name != NULL && i < FLC_COUNT_OF(rows); i++) {
        if (strcmp(rows[i]->info.name, name) == 0) {
            return &rows[i]->info;
        }
    }
    return NULL;
}

static flc_status check_batch(const flc_method_info *method, const flc_column *columns, size_t column_count,
                              const double *result)
{
    if (method == NULL || (columns == NULL && column_count > 0) || result == NULL) {
        return FLC_E_NULL;
    }
    if (column_count != method->argument_count || column_count > FLC_ARGUMENTS_MAX) {
        return FLC_E_COUNT;
    }
    for (size_t j = 0; j < column_count; j++) {
        if (method->arguments[j].kind == FLC_ARGUMENT_LIST) {
            return FLC_E_COUNT;
        }
        if (columns[j].start == NULL) {
            return FLC_E_NULL;
        }
    }
    return FLC_OK;
}

/* A batch that does not start leaves nothing that could be taken for results. */
static flc_status refuse_batch(flc_status why, size_t n, double *result, uint8_t *status)
{
    for (size_t i = 0; i < n; i++) {
        if (result != NULL) {
            result[i] = flc_nan();
        }
        if (status != NULL) {
            status[i] = (uint8_t)why;
        }
    }
    return why;
}

flc_status flc_method_call_n(const flc_method_info *method, const flc_column *columns, size_t column_count, size_t n,
                             double *result, uint8_t *status, size_t *refused)
{
    if (refused != NULL) {
        *refused = 0;
    }
    const flc_status ready = check_batch(method, columns, column_count, result);
    if (ready != FLC_OK) {
        return refuse_batch(ready, n, result, status);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_value values[FLC_ARGUMENTS_MAX] = {{0.0, NULL, 0}};
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < column_count; j++) {
            values[j].number = columns[j].start[(ptrdiff_t)i * columns[j].stride];
        }
        const flc_status each = flc_method_evaluate(method, values, &result[i], NULL);
        if (status != NULL) {
            status[i] = (uint8_t)each;
        }
        if (each != FLC_OK && refused != NULL) {
            (*refused)++;
        }
    }
    flc_fp_leave(fp);
    return FLC_OK;
}
