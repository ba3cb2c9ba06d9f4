/* SPDX-License-Identifier: Apache-2.0 */
/* A batch on the caller's threads gives the bits and totals of one call per record, for any number of threads and any
 * order of the parts. Expected values: the evaluation of one record (identity). */
#define _POSIX_C_SOURCE 200809L /* pthread.h */
#include "example_meter.h"

#include "flowcomp/batch.h"
#include "random_batch.h"
#include "threads_for.h"

#define RECORDS 70001 /* several parts, and a remainder */

static void check_result(const random_batch *batch, const batch_columns *got)
{
    for (size_t i = 0; i < batch->n; i++) {
        const flc_result *expected = &batch->expected[i];
        assert_int_equal(got->status[i], expected->status);
        assert_int_equal(got->flags[i], expected->flags);
        for (size_t f = 0; f < RESULT_FIELDS; f++) {
            flc_check_same_bits(got->column[f][i], (&expected->f_hz)[f]);
        }
    }
}

/* Totals are those of one record after the other, or, where one of them has a status for the totals, untouched. */
static void check_totals(const random_batch *batch, const flc_totals *totals)
{
    flc_totals empty;
    assert_int_equal(flc_totals_start(&empty, 1e-9), FLC_OK);
    assert_memory_equal(totals, batch->totals_status == FLC_OK ? &batch->totals : &empty, sizeof *totals);
}

static void any_number_of_threads(void **state)
{
    (void)state;
    static const uint32_t threads[] = {1, 2, 7, 16, 64};
    static const size_t configurations[] = {0, 38};
    for (size_t c = 0; c < sizeof configurations / sizeof configurations[0]; c++) {
        random_batch *batch = random_batch_new(configurations[c], RECORDS, 11 + c);
        for (size_t k = 0; k < sizeof threads / sizeof threads[0]; k++) {
            batch_columns *got = batch_columns_new(batch->n);
            const flc_parallel parallel = threads_for(&threads[k]);
            flc_totals totals;
            size_t refused = 0;
            assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
            assert_int_equal(flc_meter_evaluate_parallel_n(batch->meter, batch->liquid, &batch->readings, batch->n,
                                                           &got->results, &totals, &refused, &parallel),
                             batch->totals_status);
            assert_int_equal(refused, batch->refused);
            check_totals(batch, &totals);
            check_result(batch, got);
            batch_columns_free(got);
        }
        random_batch_free(batch);
    }
}

/* A column out over a column in, and no function that runs the parts: the calling thread does all. */
static void in_place_and_alone(void **state)
{
    (void)state;
    static const uint32_t threads = 16;
    random_batch *batch = random_batch_new(0, RECORDS, 5);
    for (int alone = 0; alone < 2; alone++) {
        double *t = malloc(RECORDS * sizeof *t);
        assert_non_null(t);
        flc_parallel parallel = threads_for(&threads);
        parallel.run = alone ? NULL : parallel.run;
        flc_readings readings = batch->readings;
        memcpy(t, readings.t_degc.start, RECORDS * sizeof *t);
        readings.t_degc.start = t;
        flc_results results;
        flc_results_init(&results);
        results.v_base_m3 = t;
        assert_int_equal(flc_meter_evaluate_parallel_n(batch->meter, batch->liquid, &readings, RECORDS, &results, NULL,
                                                       NULL, &parallel),
                         FLC_OK);
        for (size_t i = 0; i < RECORDS; i++) {
            flc_check_same_bits(t[i], batch->expected[i].v_base_m3);
        }
        free(t);
    }
    random_batch_free(batch);
}

/* All or nothing: where the sum does not fit, the totals stay as they were; the records are evaluated. */
static void totals_that_overflow(void **state)
{
    (void)state;
    enum { N = 65536 };
    static const uint32_t threads = 2;
    const flc_parallel parallel = threads_for(&threads);
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    const flc_reading reading = invented_reading();
    flc_readings readings;
    flc_readings_init(&readings);
    readings.pulses = (flc_column){&reading.pulses, 0}; /* one value for all */
    readings.duration_s = (flc_column){&reading.duration_s, 0};
    readings.t_degc = (flc_column){&reading.t_degc, 0};
    readings.p_kpag = (flc_column){&reading.p_kpag, 0};
    readings.rho_base_kgm3 = (flc_column){&reading.density.rho_base_kgm3, 0};
    double *v_m3 = malloc(N * sizeof *v_m3);
    assert_non_null(v_m3);
    flc_results results;
    flc_results_init(&results);
    results.v_m3 = v_m3;
    flc_totals totals;
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    totals.pulses_in = totals.pulses_forward = INT64_MAX - 951019 * (int64_t)N; /* just fits */
    assert_int_equal(flc_meter_evaluate_parallel_n(meter, liquid, &readings, N, &results, &totals, NULL, &parallel),
                     FLC_OK);
    assert_int_equal(totals.pulses_in, INT64_MAX);
    assert_int_equal(totals.records, N);
    const flc_totals before = totals;
    memset(v_m3, 0, N * sizeof *v_m3);
    assert_int_equal(flc_meter_evaluate_parallel_n(meter, liquid, &readings, N, &results, &totals, NULL, &parallel),
                     FLC_E_OVERFLOW);
    assert_memory_equal(&totals, &before, sizeof totals);
    const flc_result expected = evaluated(meter, liquid, &reading);
    for (size_t i = 0; i < N; i++) {
        flc_check_same_bits(v_m3[i], expected.v_m3);
    }
    free(v_m3);
    flc_liquid_free(liquid);
    flc_meter_free(meter);
}

static void batches_that_do_not_start(void **state)
{
    (void)state;
    static const uint32_t threads = 2;
    const flc_parallel good = threads_for(&threads);
    flc_parallel small = good, nobody = good;
    small.size = 8;
    nobody.threads = 0;
    random_batch *batch = random_batch_new(0, 2, 5);
    flc_totals totals, bad_unit;
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    bad_unit = totals;
    bad_unit.unit_m3 = 1.0;
    const struct {
        const flc_meter *meter;
        flc_totals *totals;
        const flc_parallel *parallel;
        flc_status status;
    } cases[] = {{NULL, &totals, &good, FLC_E_NULL},
                 {batch->meter, &totals, NULL, FLC_E_NULL},
                 {batch->meter, &totals, &small, FLC_E_SIZE},
                 {batch->meter, &totals, &nobody, FLC_E_BELOW},
                 {batch->meter, &bad_unit, &good, FLC_E_ABOVE}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        batch_columns *got = batch_columns_new(2);
        size_t refused = 99;
        assert_int_equal(flc_meter_evaluate_parallel_n(cases[i].meter, batch->liquid, &batch->readings, 2,
                                                       &got->results, cases[i].totals, &refused, cases[i].parallel),
                         cases[i].status);
        assert_int_equal(refused, 0);
        for (size_t j = 0; j < 2; j++) {
            flc_check_nan(got->column[0][j]);
            assert_int_equal(got->status[j], cases[i].status);
        }
        batch_columns_free(got);
    }
    assert_int_equal(
        flc_meter_evaluate_parallel_n(batch->meter, batch->liquid, &batch->readings, 2, NULL, NULL, NULL, &good),
        FLC_E_NULL);
    random_batch_free(batch);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(any_number_of_threads),
        cmocka_unit_test(in_place_and_alone),
        cmocka_unit_test(totals_that_overflow),
        cmocka_unit_test(batches_that_do_not_start),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
