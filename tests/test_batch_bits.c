/* SPDX-License-Identifier: Apache-2.0 */
/* A batch gives the bits of one call per record: over every source of viscosity, base, product and end policy, with good,
 * odd and bad records, for each instruction set that the machine has, for any length, any alignment and any stride.
 * Expected values: the evaluation of one record (identity). */
#include "example_meter.h"

#include "fp_guard.h"
#include "flowcomp/batch.h"
#include "random_batch.h"

static const flc_instruction_set sets[] = {FLC_INSTRUCTIONS_SCALAR, FLC_INSTRUCTIONS_BASE, FLC_INSTRUCTIONS_AVX2,
                                           FLC_INSTRUCTIONS_AVX512};
#define SETS (sizeof sets / sizeof sets[0])

/* Wanted columns compare; the others must be untouched. */
static void check_columns(const random_batch *batch, size_t n, const batch_columns *got, const char *what)
{
    for (size_t i = 0; i < n; i++) {
        const flc_result *expected = &batch->expected[i];
        const char *wrong = NULL;
        wrong = got->status[i] == (uint8_t)expected->status ? wrong : "status";
        wrong = got->flags[i] == expected->flags ? wrong : "flags";
        size_t field = 0;
#define SAME(name, unit, meaning) \
    wrong = flc_check_bits(got->column[field++][i]) == flc_check_bits(expected->name) ? wrong : #name;
        FLC_RESULT_LIST(SAME)
#undef SAME
        if (wrong != NULL) {
            fail_msg("%s: configuration %s, record %zu: %s differs (status %d, expected %d; flags %x, expected %x)",
                     what, batch->name, i, wrong, got->status[i], (int)expected->status, (unsigned)got->flags[i],
                     (unsigned)expected->flags);
        }
    }
}

/* ---- every configuration, every instruction set ---- */

static void scalar_equals_batch(void **unused)
{
    (void)unused;
    size_t records = 0, refused_in_all = 0, flowing = 0;
    for (size_t c = 0; c < RANDOM_CONFIGURATIONS; c++) {
        random_batch *batch = random_batch_new(c, 1100, 77 + c);
        for (size_t s = 0; s < SETS; s++) {
            batch_columns *got = batch_columns_new(batch->n);
            flc_readings readings = batch->readings;
            readings.instruction_set = sets[s];
            flc_totals totals;
            assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
            size_t refused = 0;
            assert_int_equal(flc_meter_evaluate_n(batch->meter, batch->liquid, &readings, batch->n, &got->results,
                                                  &totals, &refused),
                             batch->totals_status);
            assert_int_equal(refused, batch->refused);
            assert_memory_equal(&totals, &batch->totals, sizeof totals);
            check_columns(batch, batch->n, got, "whole batch");
            batch_columns_free(got);
        }
        records += batch->n;
        refused_in_all += batch->refused;
        for (size_t i = 0; i < batch->n; i++) {
            flowing += batch->expected[i].q_m3s == batch->expected[i].q_m3s && batch->expected[i].q_m3s != 0.0;
        }
        random_batch_free(batch);
    }
    print_message("%zu records in %zu configurations, %zu flowing, %zu refused\n", records,
                  (size_t)RANDOM_CONFIGURATIONS, flowing, refused_in_all);
    assert_true(records >= 100000 && flowing > records / 4 && refused_in_all > records / 20);
}

/* ---- lengths, alignments, strides ---- */

static void evaluate_in_chunks(const random_batch *batch, flc_instruction_set set, size_t chunk, batch_columns *got)
{
    for (size_t from = 0; from < batch->n; from += chunk) {
        const size_t n = batch->n - from < chunk ? batch->n - from : chunk;
        const flc_readings readings = readings_from(&batch->readings, from, set);
        const flc_results results = results_from(&got->results, from);
        assert_int_equal(flc_meter_evaluate_n(batch->meter, batch->liquid, &readings, n, &results, NULL, NULL), FLC_OK);
    }
}

static void any_chunk(void **unused)
{
    (void)unused;
    static const size_t chunks[] = {1, 2, 7, 8, 9, 63, 64, 65, 71, 128, 517, 1100};
    for (size_t c = 0; c < RANDOM_CONFIGURATIONS; c += 7) {
        random_batch *batch = random_batch_new(c, 517, 900 + c);
        for (size_t s = 0; s < SETS; s++) {
            for (size_t k = 0; k < sizeof chunks / sizeof chunks[0]; k++) {
                batch_columns *got = batch_columns_new(batch->n);
                evaluate_in_chunks(batch, sets[s], chunks[k], got);
                check_columns(batch, batch->n, got, "chunks");
                batch_columns_free(got);
            }
        }
        random_batch_free(batch);
    }
}

/* Columns in and out at every offset of 8 bytes in 64, and in at odd bytes' distance of records (a stride). */
static void any_alignment_and_stride(void **unused)
{
    (void)unused;
    for (size_t c = 3; c < RANDOM_CONFIGURATIONS; c += 19) {
        random_batch *batch = random_batch_new(c, 200, 1300 + c);
        for (size_t s = 1; s < SETS; s++) {
            for (size_t offset = 0; offset < 8; offset++) {
                for (ptrdiff_t stride = -2; stride <= 3; stride++) {
                    if (stride == 0) {
                        continue;
                    }
                    moved_readings moved = readings_moved(batch, offset, stride);
                    moved.readings.instruction_set = sets[s];
                    batch_columns *got = batch_columns_new(batch->n + 8);
                    const flc_results results = results_from(&got->results, offset);
                    assert_int_equal(flc_meter_evaluate_n(batch->meter, batch->liquid, &moved.readings, batch->n,
                                                          &results, NULL, NULL),
                                     FLC_OK);
                    batch_columns shifted = *got;
                    shifted.status += offset;
                    shifted.flags += offset;
                    for (size_t f = 0; f < RESULT_FIELDS; f++) {
                        shifted.column[f] += offset;
                    }
                    check_columns(batch, batch->n, &shifted, "alignment and stride");
                    batch_columns_free(got);
                    free(moved.memory);
                }
            }
        }
        random_batch_free(batch);
    }
}

/* One column wanted at a time: the same bits as with all, and nothing else is written. */
static void any_subset_of_results(void **unused)
{
    (void)unused;
    for (size_t c = 0; c < RANDOM_CONFIGURATIONS; c += 5) {
        random_batch *batch = random_batch_new(c, 150, 2100 + c);
        for (size_t s = 0; s < SETS; s++) {
            for (size_t field = 0; field < RESULT_FIELDS; field++) {
                double out[150];
                flc_readings readings = batch->readings;
                readings.instruction_set = sets[s];
                flc_results results;
                flc_results_init(&results);
                (&results.f_hz)[field] = out;
                assert_int_equal(flc_meter_evaluate_n(batch->meter, batch->liquid, &readings, 150, &results, NULL, NULL),
                                 FLC_OK);
                for (size_t i = 0; i < 150; i++) {
                    flc_check_same_bits(out[i], (&batch->expected[i].f_hz)[field]);
                }
            }
        }
        random_batch_free(batch);
    }
}

/* A column out on the memory of a column in. */
static void in_place(void **unused)
{
    (void)unused;
    random_batch *batch = random_batch_new(0, 300, 5);
    for (size_t s = 0; s < SETS; s++) {
        double t[300], p[300], pulses[300];
        flc_readings readings = batch->readings;
        memcpy(t, readings.t_degc.start, sizeof t);
        memcpy(p, readings.p_kpag.start, sizeof p);
        memcpy(pulses, readings.pulses.start, sizeof pulses);
        readings.t_degc.start = t;
        readings.p_kpag.start = p;
        readings.pulses.start = pulses;
        readings.instruction_set = sets[s];
        flc_results results;
        flc_results_init(&results);
        results.v_base_m3 = t;
        results.ro = p;
        results.f_hz = pulses;
        flc_totals totals;
        assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
        assert_int_equal(flc_meter_evaluate_n(batch->meter, batch->liquid, &readings, 300, &results, &totals, NULL),
                         batch->totals_status);
        assert_memory_equal(&totals, &batch->totals, sizeof totals);
        for (size_t i = 0; i < 300; i++) {
            flc_check_same_bits(t[i], batch->expected[i].v_base_m3);
            flc_check_same_bits(p[i], batch->expected[i].ro);
            flc_check_same_bits(pulses[i], batch->expected[i].f_hz);
        }
    }
    random_batch_free(batch);
}

/* ---- which instructions ---- */

static void instruction_sets(void **unused)
{
    (void)unused;
    assert_int_equal(flc_instructions_taken(FLC_INSTRUCTIONS_SCALAR), FLC_INSTRUCTIONS_SCALAR);
    assert_int_equal(flc_instructions_taken(FLC_INSTRUCTIONS_BASE), FLC_INSTRUCTIONS_BASE);
    const flc_instruction_set best = flc_instructions_taken(FLC_INSTRUCTIONS_BEST);
    assert_int_equal(flc_instructions_taken(FLC_INSTRUCTIONS_AVX512), best);
    assert_true(flc_instructions_taken(FLC_INSTRUCTIONS_AVX2) <= best);
    assert_int_equal(flc_instructions_taken((flc_instruction_set)99), best);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scalar_equals_batch), cmocka_unit_test(any_chunk),
        cmocka_unit_test(any_alignment_and_stride), cmocka_unit_test(any_subset_of_results),
        cmocka_unit_test(in_place), cmocka_unit_test(instruction_sets),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
