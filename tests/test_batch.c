/* SPDX-License-Identifier: Apache-2.0 */
/* Many records: a hundred thousand of all kinds give the bits of one call each, whatever the strides, splits and places
 * of the columns; and sixteen threads on one meter give them too. */
#define _POSIX_C_SOURCE 200809L /* pthread.h */
#include "example_meter.h"

#include "flowcomp/batch.h"
#include "flowcomp/explain.h"
#include <pthread.h>
#include <stdlib.h>

#define RECORDS 100000
#define RESULT_COLUMNS 22

static flc_meter *meter;
static flc_liquid *liquid;
static flc_reading *readings; /* RECORDS of them */
static flc_result *expected;  /* by one call each */
static flc_totals expected_totals;
static size_t expected_refused;

/* Columns of results of our own making. */
typedef struct result_memory {
    uint8_t *status;
    uint32_t *flags;
    double *column[RESULT_COLUMNS];
} result_memory;

static void *take(size_t count, size_t size)
{
    void *memory = calloc(count, size);
    assert_non_null(memory);
    return memory;
}

static int make_records(void **state)
{
    (void)state;
    meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_HOLD_END);
    liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_BETWEEN);
    readings = take(RECORDS, sizeof *readings);
    expected = take(RECORDS, sizeof *expected);
    assert_int_equal(flc_totals_start(&expected_totals, 1e-9), FLC_OK);
    uint64_t seed = 81;
    for (size_t i = 0; i < RECORDS; i++) {
        readings[i] = invented_draw(&seed, 0);
        expected[i] = evaluated(meter, liquid, &readings[i]);
        expected_refused += expected[i].status != FLC_OK;
        assert_int_equal(flc_totals_add(&expected_totals, readings[i].pulses, &expected[i]), FLC_OK);
    }
    assert_in_range(expected_refused, RECORDS / 10, RECORDS * 9 / 10);
    return 0;
}

static int drop_records(void **state)
{
    (void)state;
    flc_meter_free(meter);
    flc_liquid_free(liquid);
    free(readings);
    free(expected);
    return 0;
}

/* ---- columns ---- */

/* The columns lie in the records themselves: element i of a field is one struct further on. */
static flc_readings columns_in_records(const flc_reading *first, ptrdiff_t direction)
{
    const ptrdiff_t stride = direction * (ptrdiff_t)(sizeof(flc_reading) / sizeof(double));
    flc_readings columns;
    flc_readings_init(&columns);
#define COLUMN(column, field) columns.column = (flc_column){&first->field, stride};
/* all but pe_kpa: with it records go one by one */
#define INPUT_COLUMNS(ROW)                                \
    ROW(pulses, pulses)                                   \
    ROW(duration_s, duration_s)                           \
    ROW(flowing_s, flowing_s)                             \
    ROW(f_flowing_hz, f_flowing_hz)                       \
    ROW(f_hz, f_hz)                                       \
    ROW(t_degc, t_degc)                                   \
    ROW(p_kpag, p_kpag)                                   \
    ROW(nu_mm2s, nu_mm2s)                                 \
    ROW(rho_base_kgm3, density.rho_base_kgm3)             \
    ROW(rho_observed_kgm3, density.rho_observed_kgm3)     \
    ROW(t_observed_degc, density.t_observed_degc)         \
    ROW(p_observed_kpag, density.p_observed_kpag)         \
    ROW(densitometer_factor, density.densitometer_factor) \
    ROW(f_before_hz, f_before_hz)                         \
    ROW(f_after_hz, f_after_hz)                           \
    ROW(f_highest_hz, f_highest_hz)
    INPUT_COLUMNS(COLUMN)
    return columns;
}

static result_memory take_results(size_t n)
{
    result_memory memory = {take(n, 1), take(n, sizeof(uint32_t)), {NULL}};
    for (size_t j = 0; j < RESULT_COLUMNS; j++) {
        memory.column[j] = take(n, sizeof(double));
    }
    return memory;
}

static void give_back(result_memory *memory)
{
    free(memory->status);
    free(memory->flags);
    for (size_t j = 0; j < RESULT_COLUMNS; j++) {
        free(memory->column[j]);
    }
}

/* Point the columns of results at the memory, from element i on. */
static flc_results results_in(const result_memory *memory, size_t i)
{
    flc_results results;
    flc_results_init(&results);
    results.status = memory->status + i;
    results.flags = memory->flags + i;
    size_t j = 0;
#define POINT(name, unit, meaning) results.name = memory->column[j++] + i;
    FLC_RESULT_LIST(POINT)
    assert_int_equal(j, RESULT_COLUMNS);
    return results;
}

static void check_record(const result_memory *memory, size_t i, const flc_result *one)
{
    assert_int_equal(memory->status[i], one->status);
    assert_int_equal(memory->flags[i], one->flags);
    size_t j = 0;
#define SAME(name, unit, meaning) flc_check_same_bits(memory->column[j++][i], one->name);
    FLC_RESULT_LIST(SAME)
}

/* ---- the same bits ---- */

static void test_batch_is_one_call_each(void **state)
{
    (void)state;
    result_memory memory = take_results(RECORDS);
    const flc_readings columns = columns_in_records(readings, 1);
    const flc_results results = results_in(&memory, 0);
    flc_totals totals;
    size_t refused = 0;
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, RECORDS, &results, &totals, &refused), FLC_OK);
    assert_int_equal(refused, expected_refused);
    assert_memory_equal(&totals, &expected_totals, sizeof totals);
    for (size_t i = 0; i < RECORDS; i++) {
        check_record(&memory, i, &expected[i]);
    }
    give_back(&memory);
}

static void test_backwards_and_in_pieces(void **state)
{
    (void)state;
    result_memory memory = take_results(RECORDS);
    flc_totals totals;
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    uint64_t seed = 82;
    size_t refused = 0;
    for (size_t done = 0; done < RECORDS;) { /* from the last record to the first, in pieces of 0 to 9999 */
        size_t n = flc_draw_below(&seed, 10000), some = 0;
        n = n < RECORDS - done ? n : RECORDS - done;
        const flc_readings columns = columns_in_records(&readings[RECORDS - 1 - done], -1);
        const flc_results results = results_in(&memory, done);
        assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, n, &results, &totals, &some), FLC_OK);
        refused += some;
        done += n;
    }
    assert_int_equal(refused, expected_refused);
    assert_memory_equal(&totals, &expected_totals, sizeof totals);
    for (size_t i = 0; i < RECORDS; i++) {
        check_record(&memory, RECORDS - 1 - i, &expected[i]);
    }
    give_back(&memory);
}

/* Each column of results over a column of readings: sixteen of them hold sixteen of the results, in turns. */
static void test_results_over_the_readings(void **state)
{
    (void)state;
    enum { N = 5000, INPUTS = 16 };
    double *input[INPUTS];
    for (int turn = 0; turn < 2; turn++) {
        size_t k = 0;
        flc_readings columns;
        flc_readings_init(&columns);
#define DENSE(name, field)               \
    input[k] = take(N, sizeof(double));  \
    for (size_t i = 0; i < N; i++) {     \
        input[k][i] = readings[i].field; \
    }                                    \
    columns.name = (flc_column){input[k++], 1};
        INPUT_COLUMNS(DENSE)
        flc_results results;
        flc_results_init(&results);
        size_t j = 0;
#define OVER(name, unit, meaning)                                 \
    if (j >= (size_t)turn * 7 && j < (size_t)turn * 7 + INPUTS) { \
        results.name = input[j - (size_t)turn * 7];               \
    }                                                             \
    j++;
        FLC_RESULT_LIST(OVER)
        assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, N, &results, NULL, NULL), FLC_OK);
#define SAME_OVER(name, unit, meaning)                          \
    for (size_t i = 0; results.name != NULL && i < N; i++) {    \
        flc_check_same_bits(results.name[i], expected[i].name); \
    }
        FLC_RESULT_LIST(SAME_OVER)
        for (size_t i = 0; i < INPUTS; i++) {
            free(input[i]);
        }
    }
}

static void test_absent_and_repeated_columns(void **state)
{
    (void)state;
    enum { N = 50 };
    double pulses[N], observed[N], v_m3[N], v_base_m3[N];
    const double minute = 60.0, t = 31.5, p = 420.0;
    flc_readings columns;
    flc_readings_init(&columns);
    columns.pulses = (flc_column){pulses, 1};
    columns.rho_observed_kgm3 = (flc_column){observed, 1};
    columns.duration_s = (flc_column){&minute, 0}; /* one for all */
    columns.t_degc = columns.t_observed_degc = (flc_column){&t, 0};
    columns.p_kpag = columns.p_observed_kpag = (flc_column){&p, 0};
    for (size_t i = 0; i < N; i++) {
        pulses[i] = 12000.0 + (double)i * 100.0;
        observed[i] = 800.0 + (double)i;
    }
    flc_results results;
    flc_results_init(&results);
    results.v_m3 = v_m3;
    results.v_base_m3 = v_base_m3;
    size_t refused = 99;
    assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, N, &results, NULL, &refused), FLC_OK);
    assert_int_equal(refused, 0);
    for (size_t i = 0; i < N; i++) {
        flc_reading one = invented_reading();
        one.pulses = pulses[i];
        one.duration_s = minute;
        one.density = (flc_density){NAN, observed[i], t, p, 1.0}; /* an absent densitometer factor is 1 */
        const flc_result r = evaluated(meter, liquid, &one);
        flc_check_same_bits(v_m3[i], r.v_m3);
        flc_check_same_bits(v_base_m3[i], r.v_base_m3);
    }
}

/* ---- what does not go through ---- */

static void test_totals_that_overflow(void **state)
{
    (void)state;
    enum { N = 8 };
    double pulses[N], v_m3[N];
    uint8_t status[N];
    flc_reading good = invented_reading();
    flc_readings columns = columns_in_records(&good, 0);
    columns.pulses = (flc_column){pulses, 1};
    for (size_t i = 0; i < N; i++) {
        pulses[i] = 900000.0;
    }
    pulses[N - 1] = 0.0; /* would fit again, and must not: records before the one that did not fit, and no others */
    flc_results results;
    flc_results_init(&results);
    results.v_m3 = v_m3;
    results.status = status;
    flc_totals totals;
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    totals.pulses_in = INT64_MAX - 900000 * 3;
    totals.pulses_forward = totals.pulses_in;
    assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, N, &results, &totals, NULL), FLC_E_OVERFLOW);
    assert_int_equal(totals.records, 3); /* those that fit are in */
    assert_int_equal(totals.pulses_in, INT64_MAX);
    for (size_t i = 0; i < N; i++) { /* and every record is evaluated */
        assert_int_equal(status[i], FLC_OK);
        flc_check_same_bits(v_m3[i], i < N - 1 ? v_m3[0] : 0.0);
    }
    assert_true(v_m3[0] > 3.0);
}

static void test_batches_that_do_not_start(void **state)
{
    (void)state;
    double v_m3[2];
    uint8_t status[2];
    flc_readings columns = columns_in_records(readings, 1), small = columns;
    flc_results results, odd;
    flc_totals totals;
    memset(&totals, 0, sizeof totals); /* not started */
    small.size = 8;
    flc_results_init(&results);
    odd = results;
    odd.size = 8;
    results.v_m3 = v_m3;
    results.status = status;
    const struct {
        const flc_meter *meter;
        const flc_liquid *liquid;
        const flc_readings *columns;
        flc_totals *totals;
        flc_status status;
    } cases[] = {{NULL, liquid, &columns, NULL, FLC_E_NULL},
                 {meter, NULL, &columns, NULL, FLC_E_NULL},
                 {meter, liquid, NULL, NULL, FLC_E_NULL},
                 {meter, liquid, &small, NULL, FLC_E_SIZE},
                 {meter, liquid, &columns, &totals, FLC_E_SIZE}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        size_t refused = 99;
        v_m3[0] = v_m3[1] = 1.0;
        assert_int_equal(flc_meter_evaluate_n(cases[i].meter, cases[i].liquid, cases[i].columns, 2, &results,
                                              cases[i].totals, &refused),
                         cases[i].status);
        assert_int_equal(refused, 0);
        for (size_t j = 0; j < 2; j++) {
            flc_check_nan(v_m3[j]);
            assert_int_equal(status[j], cases[i].status);
        }
    }
    assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, 2, NULL, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_meter_evaluate_n(meter, liquid, &columns, 2, &odd, NULL, NULL), FLC_E_SIZE);
}

/* ---- threads ---- */

#define THREADS 16
#define SHARED 4000

typedef struct worker {
    pthread_t thread;
    flc_totals totals;
    size_t differences;
} worker;

/* The same records in every thread, by one call each, by a batch, by explain and by name. cmocka's checks belong to the
 * main thread: here differences are counted. */
static void *work(void *given)
{
    worker *w = given;
    static const double nu_mm2s[] = {1.5};
    const flc_readings columns = columns_in_records(readings, 1);
    static _Thread_local double v_base_m3[SHARED];
    flc_results results;
    flc_results_init(&results);
    results.v_base_m3 = v_base_m3;
    w->differences += flc_totals_start(&w->totals, 1e-9) != FLC_OK;
    w->differences += flc_meter_evaluate_n(meter, liquid, &columns, SHARED, &results, &w->totals, NULL) != FLC_OK;
    for (size_t i = 0; i < SHARED; i++) {
        flc_result r;
        flc_result_init(&r);
        const flc_status status = flc_meter_evaluate(meter, liquid, &readings[i], &r, NULL);
        w->differences += status != expected[i].status || !is_same_result(&r, &expected[i]);
        w->differences += memcmp(&v_base_m3[i], &expected[i].v_base_m3, sizeof(double)) != 0;
    }
    for (size_t i = 0; i < 100; i++) {
        char text[64];
        size_t needed;
        double z;
        const flc_value value = {nu_mm2s[0], NULL, 0};
        w->differences += flc_explain_text(meter, liquid, &readings[i], text, sizeof text, &needed) != FLC_E_BUFFER;
        w->differences += flc_method_call(flc_method_find("z_d341_body"), &value, 1, &z, NULL) != FLC_OK;
    }
    return NULL;
}

static void test_sixteen_threads_on_one_meter(void **state)
{
    (void)state;
    static worker workers[THREADS];
    for (size_t i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_create(&workers[i].thread, NULL, work, &workers[i]), 0);
    }
    for (size_t i = 0; i < THREADS; i++) {
        assert_int_equal(pthread_join(workers[i].thread, NULL), 0);
        assert_int_equal(workers[i].differences, 0);
        assert_memory_equal(&workers[i].totals, &workers[0].totals, sizeof(flc_totals));
    }
    assert_int_equal(workers[0].totals.records, SHARED);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_batch_is_one_call_each),       cmocka_unit_test(test_backwards_and_in_pieces),
        cmocka_unit_test(test_results_over_the_readings),    cmocka_unit_test(test_absent_and_repeated_columns),
        cmocka_unit_test(test_totals_that_overflow),         cmocka_unit_test(test_batches_that_do_not_start),
        cmocka_unit_test(test_sixteen_threads_on_one_meter),
    };
    return cmocka_run_group_tests(tests, make_records, drop_records);
}
