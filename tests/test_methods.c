/* SPDX-License-Identifier: Apache-2.0 */
/* The list of methods, and calls by name. Every test walks all rows, so that a new method is covered the day it is
 * listed. What a method must give stands in the tests of its family; here it is that all doors lead to the same bits,
 * that every bad input is refused as the row says, and that no status leaves that the contract does not name. */
#define _POSIX_C_SOURCE 200809L /* dirent.h */
#include "bad_inputs.h"
#include "contract_text.h"
#include "method_values.h"

#include "flowcomp/body_strain.h"
#include "flowcomp/petroleum_2004.h"
#include "flowcomp/rounding.h"
#include "flowcomp/viscosity_d341.h"

static const flc_method_info *row(size_t place)
{
    const flc_method_info *method = flc_method_at(place);
    assert_non_null(method);
    return method;
}

static flc_method_values good_values(const flc_method_info *method)
{
    flc_method_values values;
    if (!flc_values_find(method, 1, &values)) {
        print_error("%s: no draw inside its ranges gives a value\n", method->name);
        fail();
    }
    for (size_t i = 0; i < values.count; i++) { /* the struct moves: point at its own lists again */
        values.value[i].list = NULL;
    }
    return values;
}

static void point_at_lists(const flc_method_info *method, flc_method_values *values)
{
    for (size_t i = 0; i < values->count; i++) {
        values->value[i].list = method->arguments[i].kind == FLC_ARGUMENT_LIST ? values->list[i] : NULL;
    }
}

static int has_list(const flc_method_info *method)
{
    for (size_t i = 0; i < method->argument_count; i++) {
        if (method->arguments[i].kind == FLC_ARGUMENT_LIST) {
            return 1;
        }
    }
    return 0;
}

/* ---- the list ---- */

static void test_every_row_is_complete(void **state)
{
    (void)state;
    assert_true(flc_method_count() > 100);
    for (size_t i = 0; i < flc_method_count(); i++) {
        const flc_method_info *m = row(i);
        assert_true(m->name[0] != '\0' && m->summary[0] != '\0' && m->unit[0] != '\0' && m->source[0] != '\0');
        assert_true(m->since[0] != '\0' && m->formula != NULL && m->confidence != NULL);
        assert_in_range(m->status, FLC_PUBLISHED, FLC_COMPUTED);
        assert_true(m->argument_count <= FLC_VALUES_MAX);
        for (size_t j = 0; j < m->argument_count; j++) {
            const flc_method_argument *a = &m->arguments[j];
            assert_true(a->name[0] != '\0' && a->meaning[0] != '\0' && a->unit[0] != '\0');
            assert_true(a->kind == FLC_ARGUMENT_CHOICE ? a->choices != NULL && a->choices[0] != NULL
                                                       : a->choices == NULL && a->low < a->high);
            assert_true(isnan(a->fallback) || (a->fallback >= a->low && a->fallback <= a->high));
            for (size_t k = 0; k < j; k++) {
                assert_string_not_equal(a->name, m->arguments[k].name);
            }
        }
    }
}

static void test_finding_by_name(void **state)
{
    (void)state;
    for (size_t i = 0; i < flc_method_count(); i++) {
        assert_ptr_equal(flc_method_find(row(i)->name), row(i));
    }
    assert_null(flc_method_at(flc_method_count()));
    assert_null(flc_method_at(SIZE_MAX));
    assert_null(flc_method_find(NULL));
    assert_null(flc_method_find(""));
    assert_null(flc_method_find("CTL60_PETROLEUM_2004"));
    assert_null(flc_method_find("flc_ctl60_petroleum_2004"));
}

/* ---- one call ---- */

static void test_bad_inputs_of_every_row(void **state)
{
    (void)state;
    for (size_t i = 0; i < flc_method_count(); i++) {
        flc_method_values values = good_values(row(i));
        point_at_lists(row(i), &values);
        flc_check_bad_inputs(row(i)->name, values.value, values.count);
    }
}

/* Of several bad arguments the first from the left is named. */
static void test_the_first_bad_argument_wins(void **state)
{
    (void)state;
    for (size_t i = 0; i < flc_method_count(); i++) {
        flc_method_values values = good_values(row(i));
        point_at_lists(row(i), &values);
        for (size_t j = values.count; j-- > 0;) {
            values.value[j] = (flc_value){INFINITY, NULL, 0};
            double result = 0.0;
            flc_error error;
            const flc_argument_kind kind = row(i)->arguments[j].kind;
            assert_int_equal(flc_method_call(row(i), values.value, values.count, &result, &error),
                             kind == FLC_ARGUMENT_NUMBER   ? FLC_E_INFINITE
                             : kind == FLC_ARGUMENT_CHOICE ? FLC_E_CHOICE
                                                           : FLC_E_NULL);
            assert_string_equal(error.argument, row(i)->arguments[j].name);
            flc_check_nan(result);
        }
    }
}

static void test_a_call_without_a_row(void **state)
{
    (void)state;
    double result = 1.0;
    flc_error error;
    const flc_value value = {1.0, NULL, 0};
    assert_int_equal(flc_method_call(NULL, &value, 1, &result, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "method");
    flc_check_nan(result);
    assert_int_equal(flc_method_call(row(0), &value, 1, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "result");
    result = 1.0;
    assert_int_equal(flc_method_call(row(0), &value, FLC_VALUES_MAX + 1, &result, &error), FLC_E_COUNT);
    flc_check_nan(result);
}

/* A refusal that the contract comment does not name is a fault of one of the two. The range check speaks for NaN,
 * infinite, below and above of its own accord; so do the list checks. */
static int undocumented(const char *headers, const flc_method_info *m, const flc_method_values *values)
{
    double result = 1.0;
    flc_error error;
    const flc_status status = flc_method_call(m, values->value, values->count, &result, &error);
    assert_true(error.status == status);
    if (status == FLC_OK) {
        assert_true(isfinite(result));
        return 0;
    }
    flc_check_nan(result);
    /* a limit of the product group, or of a second scale, is a range too */
    const int is_range = status == FLC_E_BELOW || status == FLC_E_ABOVE;
    if (is_range || flc_contract_names(headers, m->name, status)) {
        return 0;
    }
    print_error("%s gives %s, which its contract does not name\n", m->name, flc_status_name(status));
    return 1;
}

/* Both ends of every range belong to it: one argument at a time at its ends, the others where the method answers. */
static void test_ends_of_ranges_answer_or_refuse_as_documented(void **state)
{
    (void)state;
    char *headers = flc_contract_headers();
    int failures = 0;
    for (size_t i = 0; i < flc_method_count(); i++) {
        flc_method_values values = good_values(row(i));
        point_at_lists(row(i), &values);
        for (size_t j = 0; j < values.count; j++) {
            const flc_method_argument *a = &row(i)->arguments[j];
            if (a->kind == FLC_ARGUMENT_CHOICE) {
                continue;
            }
            double *number = a->kind == FLC_ARGUMENT_LIST ? &values.list[j][0] : &values.value[j].number;
            const double good = *number, ends[] = {a->low, a->high};
            for (size_t e = 0; e < 2; e++) {
                if (isfinite(ends[e])) {
                    *number = ends[e];
                    failures += undocumented(headers, row(i), &values);
                }
            }
            *number = good;
        }
    }
    free(headers);
    assert_int_equal(failures, 0);
}

static void test_draws_inside_ranges_answer_or_refuse_as_documented(void **state)
{
    (void)state;
    char *headers = flc_contract_headers();
    int failures = 0;
    uint64_t seed = 2024;
    for (size_t i = 0; i < flc_method_count(); i++) {
        for (int k = 0; k < 60; k++) {
            flc_method_values values;
            flc_values_draw(row(i), &seed, &values);
            failures += undocumented(headers, row(i), &values);
        }
    }
    free(headers);
    assert_int_equal(failures, 0);
}

/* ---- typed calls: one of each class of signature ---- */

static double by_name(const char *name, const flc_value *values, size_t count)
{
    double result = 0.0;
    assert_int_equal(flc_method_call(flc_method_find(name), values, count, &result, NULL), FLC_OK);
    return result;
}

static void test_typed_calls_give_the_same_bits(void **state)
{
    (void)state;
    double typed;
    const double t[] = {-20.0, 20.0, 100.0}, nu[] = {6.0, 2.2, 0.7};
    assert_int_equal(flc_z_d341_body(1.5, &typed), FLC_OK);
    flc_check_same_bits(by_name("z_d341_body", (flc_value[]){{1.5, NULL, 0}}, 1), typed);
    assert_int_equal(flc_w_d341(1.5, FLC_D341_FULL, &typed), FLC_OK);
    flc_check_same_bits(by_name("w_d341", (flc_value[]){{1.5, NULL, 0}, {2.0, NULL, 0}}, 2), typed);
    assert_int_equal(flc_nu_d341_table(31.0, t, nu, 3, FLC_D341_BODY, &typed), FLC_OK);
    flc_check_same_bits(
        by_name("nu_d341_table", (flc_value[]){{31.0, NULL, 0}, {NAN, t, 3}, {NAN, nu, 3}, {1.0, NULL, 0}}, 4), typed);
    assert_int_equal(
        flc_ctl60_petroleum_2004(850.0, 77.5, flc_petroleum_product_of_group(FLC_PETROLEUM_REFINED), &typed), FLC_OK);
    flc_check_same_bits(
        by_name("ctl60_petroleum_2004",
                (flc_value[]){{850.0, NULL, 0}, {77.5, NULL, 0}, {FLC_PETROLEUM_REFINED, NULL, 0}, {NAN, NULL, 0}}, 4),
        typed);
    assert_int_equal(flc_round_half_away(1.00805, 4.0, &typed), FLC_OK);
    flc_check_same_bits(by_name("round_half_away", (flc_value[]){{1.00805, NULL, 0}, {4.0, NULL, 0}}, 2), typed);
}

static void test_typed_calls_refuse_alike(void **state)
{
    (void)state;
    double result = 1.0;
    const double t[] = {-20.0, NAN}, nu[] = {6.0, 2.2};
    assert_int_equal(flc_z_d341_body(NAN, &result), FLC_E_NAN);
    flc_check_nan(result);
    assert_int_equal(flc_z_d341_body(1.0, NULL), FLC_E_NULL);
    assert_int_equal(flc_w_d341(1.5, (flc_d341_form)3, &result), FLC_E_CHOICE);
    assert_int_equal(flc_w_d341(1.5, (flc_d341_form)-1, &result), FLC_E_CHOICE);
    assert_int_equal(flc_nu_d341_table(31.0, NULL, nu, 2, FLC_D341_BODY, &result), FLC_E_NULL);
    assert_int_equal(flc_nu_d341_table(31.0, t, nu, 2, FLC_D341_BODY, &result), FLC_E_NAN);
    assert_int_equal(flc_nu_d341_table(31.0, t, nu, 0, FLC_D341_BODY, &result), FLC_E_COUNT);
    flc_check_nan(result);
}

/* ---- many records ---- */

#define RECORDS 24

/* Columns of drawn numbers, about one in eight of them bad. */
static void draw_columns(const flc_method_info *m, uint64_t *seed, double columns[][3 * RECORDS])
{
    static const double bad[] = {NAN, INFINITY, -INFINITY, 1e300, -1e300, -0.0};
    for (size_t i = 0; i < 3 * RECORDS; i++) {
        flc_method_values values;
        flc_values_draw(m, seed, &values);
        for (size_t j = 0; j < m->argument_count; j++) {
            columns[j][i] = flc_draw_below(seed, 8) == 0 ? bad[flc_draw_below(seed, 6)] : values.value[j].number;
        }
    }
}

static void check_batch(const flc_method_info *m, const flc_column *columns, double *result)
{
    double expected[RECORDS];
    flc_status statuses[RECORDS];
    size_t refusals = 0;
    for (ptrdiff_t i = 0; i < RECORDS; i++) {
        flc_value values[FLC_VALUES_MAX];
        for (size_t j = 0; j < m->argument_count; j++) {
            values[j] = (flc_value){columns[j].start[i * columns[j].stride], NULL, 0};
        }
        statuses[i] = flc_method_call(m, values, m->argument_count, &expected[i], NULL);
        refusals += statuses[i] != FLC_OK;
    }
    uint8_t status[RECORDS];
    size_t refused = 99;
    assert_int_equal(flc_method_call_n(m, columns, m->argument_count, RECORDS, result, status, &refused), FLC_OK);
    assert_int_equal(refused, refusals);
    for (size_t i = 0; i < RECORDS; i++) {
        assert_int_equal(status[i], statuses[i]);
        flc_check_same_bits(result[i], expected[i]);
    }
}

static void test_batches_give_the_bits_of_single_calls(void **state)
{
    (void)state;
    uint64_t seed = 77;
    static double data[FLC_VALUES_MAX][3 * RECORDS];
    for (size_t k = 0; k < flc_method_count(); k++) {
        const flc_method_info *m = row(k);
        if (has_list(m)) {
            continue;
        }
        draw_columns(m, &seed, data);
        flc_column columns[FLC_VALUES_MAX];
        double result[RECORDS];
        static const ptrdiff_t strides[] = {1, 3, 0, -2};
        for (size_t s = 0; s < 4; s++) {
            for (size_t j = 0; j < m->argument_count; j++) {
                const ptrdiff_t stride = s == 3 && j == 0 ? 1 : strides[s]; /* and mixed */
                columns[j] = (flc_column){stride < 0 ? &data[j][2 * RECORDS] : data[j], stride};
            }
            check_batch(m, columns, result);
        }
        if (m->argument_count > 0) { /* over one of its own columns */
            const size_t j = flc_draw_below(&seed, m->argument_count);
            for (size_t i = 0; i < m->argument_count; i++) {
                columns[i] = (flc_column){data[i], 1};
            }
            check_batch(m, columns, data[j]);
        }
    }
}

static void test_batches_that_do_not_start(void **state)
{
    (void)state;
    const flc_method_info *z = flc_method_find("z_d341_body"), *lists = flc_method_find("nu_d341_table");
    const double nu[] = {1.0, 2.0};
    const flc_column column = {nu, 1}, none = {NULL, 1}, four[4] = {{nu, 1}, {nu, 1}, {nu, 1}, {nu, 1}};
    const struct {
        const flc_method_info *method;
        const flc_column *columns;
        size_t count;
        flc_status status;
    } cases[] = {
        {NULL, &column, 1, FLC_E_NULL}, {z, NULL, 1, FLC_E_NULL},  {z, &column, 2, FLC_E_COUNT},
        {z, &column, 0, FLC_E_COUNT},   {z, &none, 1, FLC_E_NULL}, {lists, four, 4, FLC_E_COUNT},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double result[] = {1.0, 2.0};
        uint8_t status[] = {0, 0};
        size_t refused = 99;
        assert_int_equal(
            flc_method_call_n(cases[i].method, cases[i].columns, cases[i].count, 2, result, status, &refused),
            cases[i].status);
        assert_int_equal(refused, 0);
        for (size_t j = 0; j < 2; j++) { /* nothing is left as if it were a result */
            flc_check_nan(result[j]);
            assert_int_equal(status[j], cases[i].status);
        }
    }
    assert_int_equal(flc_method_call_n(z, &column, 1, 2, NULL, NULL, NULL), FLC_E_NULL);
    double untouched = 5.0;
    assert_int_equal(flc_method_call_n(z, &column, 1, 0, &untouched, NULL, NULL), FLC_OK);
    flc_check_same_bits(untouched, 5.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_row_is_complete),
        cmocka_unit_test(test_finding_by_name),
        cmocka_unit_test(test_bad_inputs_of_every_row),
        cmocka_unit_test(test_the_first_bad_argument_wins),
        cmocka_unit_test(test_a_call_without_a_row),
        cmocka_unit_test(test_ends_of_ranges_answer_or_refuse_as_documented),
        cmocka_unit_test(test_draws_inside_ranges_answer_or_refuse_as_documented),
        cmocka_unit_test(test_typed_calls_give_the_same_bits),
        cmocka_unit_test(test_typed_calls_refuse_alike),
        cmocka_unit_test(test_batches_give_the_bits_of_single_calls),
        cmocka_unit_test(test_batches_that_do_not_start),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
