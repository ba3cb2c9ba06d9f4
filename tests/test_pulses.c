/* SPDX-License-Identifier: Apache-2.0 */
/* Counters, frequencies and two pulse trains, by their definitions; faults are planted and must be counted. */
#include "check.h"
#include "bad_inputs.h"
#include "flowcomp/pulses.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define N(number)         \
    {                     \
        (number), NULL, 0 \
    }

static void frequencies(void **state)
{
    (void)state;
    double result;
    OK(flc_pulse_frequency_from_count_hz(1234.0, 2.0, &result));
    flc_check_same_bits(result, 617.0);
    OK(flc_pulse_frequency_gate_resolution_hz(2.0, &result));
    flc_check_same_bits(result, 0.5);
    OK(flc_pulse_frequency_timed_resolution_hz(1000.0, 2.0, 1e6, &result)); /* 500 Hz/(2 s x 1 MHz) */
    flc_check_relative(result, 2.5e-4, 1e-15);
    assert_int_equal(flc_pulse_frequency_from_count_hz(1.5, 2.0, &result), FLC_E_NOT_WHOLE);
    assert_int_equal(flc_pulse_frequency_timed_resolution_hz(1.5, 2.0, 1e6, &result), FLC_E_NOT_WHOLE);
    flc_check_nan(result);
    const flc_value inputs[] = {N(1000.0), N(2.0), N(1e6)};
    flc_check_bad_inputs("pulse_frequency_from_count_hz", inputs, 2);
    flc_check_bad_inputs("pulse_frequency_gate_resolution_hz", &inputs[1], 1);
    flc_check_bad_inputs("pulse_frequency_timed_resolution_hz", inputs, 3);
}

static void counters(void **state)
{
    (void)state;
    int64_t advance;
    flc_counter_event event;
    OK(flc_counter_advance(1920, 2762, 1000000, 5000, FLC_COUNTER_REFUSE, &advance, &event)); /* US Army QM5096: 842 */
    assert_int_equal(advance, 842);
    assert_int_equal(event, FLC_COUNTER_ON);
    OK(flc_counter_advance(999990, 15, 1000000, 5000, FLC_COUNTER_REFUSE, &advance, &event));
    assert_int_equal(advance, 25);
    assert_int_equal(event, FLC_COUNTER_ROLLED);
    OK(flc_counter_advance(4294967295, 0, 4294967296, 10, FLC_COUNTER_REFUSE, &advance, &event));
    assert_int_equal(advance, 1);
    assert_int_equal(flc_counter_advance(500000, 15, 1000000, 5000, FLC_COUNTER_REFUSE, &advance, &event), FLC_E_ABOVE);
    assert_true(advance == INT64_MIN);
    OK(flc_counter_advance(500000, 15, 1000000, 5000, FLC_COUNTER_RESTART, &advance, &event));
    assert_int_equal(advance, 15);
    assert_int_equal(event, FLC_COUNTER_WAS_RESET);
    assert_int_equal(flc_counter_advance(500000, 9000, 1000000, 5000, FLC_COUNTER_RESTART, &advance, &event),
                     FLC_E_ABOVE);
    assert_int_equal(flc_counter_advance(-1, 15, 100, 50, FLC_COUNTER_REFUSE, &advance, &event), FLC_E_BELOW);
    assert_int_equal(flc_counter_advance(1, 100, 100, 50, FLC_COUNTER_REFUSE, &advance, &event), FLC_E_ABOVE);
    assert_int_equal(flc_counter_advance(1, 2, 100, 50, (flc_counter_reset)2, &advance, &event), FLC_E_CHOICE);
    assert_int_equal(flc_counter_advance(1, 2, 100, 50, FLC_COUNTER_REFUSE, NULL, &event), FLC_E_NULL);
    flc_counter_reset reset;
    OK(flc_counter_reset_from_name("restart", &reset));
    assert_int_equal(reset, FLC_COUNTER_RESTART);
    OK(flc_counter_event_from_name("rolled", &event));
}

/* A at 0, 1000, 2000 ... and B 250 later; without is a cycle whose pulse of that train is left out (-1: none). */
static flc_pulse_pair trains(int cycles, int without_a, int without_b)
{
    flc_pulse_pair pair;
    OK(flc_pulse_pair_start(&pair, 10));
    for (int i = 0; i < cycles; i++) {
        if (i != without_a) {
            OK(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 1000 * (int64_t)i));
        }
        if (i != without_b) {
            OK(flc_pulse_pair_add(&pair, FLC_TRAIN_B, 1000 * (int64_t)i + 250));
        }
    }
    return pair;
}

static flc_pulse_verdict judge(const flc_pulse_pair *pair, flc_pulse_level level)
{
    flc_pulse_verdict verdict;
    OK(flc_pulse_pair_judge(pair, level, 0, NAN, &verdict));
    return verdict;
}

static void good_trains(void **state)
{
    (void)state;
    const flc_pulse_pair pair = trains(100, -1, -1);
    for (int level = FLC_LEVEL_E; level <= FLC_LEVEL_A; level++) {
        const flc_pulse_verdict verdict = judge(&pair, (flc_pulse_level)level);
        assert_int_equal(verdict.faults, 0);
        assert_int_equal(verdict.alarm, 0);
        assert_int_equal(verdict.pulses, 100);
    }
    assert_int_equal(pair.period_ticks, 1000);
}

static void planted_faults(void **state)
{
    (void)state;
    flc_pulse_pair pair = trains(100, 40, -1);
    assert_int_equal(pair.missing[FLC_TRAIN_A], 1);
    assert_int_equal(pair.extra[FLC_TRAIN_B], 0);
    assert_int_equal(judge(&pair, FLC_LEVEL_B).alarm, 1);
    assert_int_equal(judge(&pair, FLC_LEVEL_B).pulses, 99);  /* A, uncorrected */
    assert_int_equal(judge(&pair, FLC_LEVEL_A).pulses, 100); /* the better train */
    assert_int_equal(judge(&pair, FLC_LEVEL_E).alarm, 0);
    assert_int_equal(judge(&pair, FLC_LEVEL_C).difference, -1);
    pair = trains(100, -1, 40);
    assert_int_equal(pair.missing[FLC_TRAIN_B], 1);
    pair = trains(100, -1, -1);
    OK(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 100000));
    OK(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 100090)); /* a spike on A */
    OK(flc_pulse_pair_add(&pair, FLC_TRAIN_B, 100250));
    assert_int_equal(pair.extra[FLC_TRAIN_A], 1);
    assert_int_equal(pair.missing[FLC_TRAIN_B], 0);
    assert_int_equal(judge(&pair, FLC_LEVEL_A).pulses, 101);
}

/* A disturbance on both lines at once: level C compares counts and cannot see it, level B must. */
static void coincidence(void **state)
{
    (void)state;
    flc_pulse_pair pair = trains(100, -1, -1);
    OK(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 100000));
    OK(flc_pulse_pair_add(&pair, FLC_TRAIN_B, 100005));
    assert_int_equal(pair.coincident, 1);
    assert_int_equal(judge(&pair, FLC_LEVEL_C).alarm, 0);
    assert_int_equal(judge(&pair, FLC_LEVEL_B).alarm, 1);
    flc_pulse_verdict verdict;
    OK(flc_pulse_pair_judge(&pair, FLC_LEVEL_B, 5, 0.5, &verdict));
    assert_int_equal(verdict.alarm, 0);
    flc_check_relative(verdict.ratio, 1.0 / 101.0, 1e-15);
    OK(flc_pulse_pair_judge(&pair, FLC_LEVEL_B, 5, 0.005, &verdict)); /* alarm on the ratio */
    assert_int_equal(verdict.alarm, 1);
}

static void refusals(void **state)
{
    (void)state;
    flc_pulse_pair pair = trains(3, -1, -1);
    const flc_pulse_pair before = pair;
    flc_pulse_verdict verdict;
    assert_int_equal(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 100), FLC_E_ORDER); /* the clock ran backwards */
    assert_int_equal(flc_pulse_pair_add(&pair, (flc_pulse_train)2, 9000), FLC_E_CHOICE);
    assert_int_equal(flc_pulse_pair_add(&pair, FLC_TRAIN_A, INT64_MAX), FLC_E_OVERFLOW);
    assert_memory_equal(&pair, &before, sizeof pair);
    assert_int_equal(flc_pulse_pair_start(&pair, -1), FLC_E_BELOW);
    assert_int_equal(flc_pulse_pair_start(NULL, 0), FLC_E_NULL);
    assert_int_equal(flc_pulse_pair_add(NULL, FLC_TRAIN_A, 1), FLC_E_NULL);
    assert_int_equal(flc_pulse_pair_judge(&before, (flc_pulse_level)5, 0, NAN, &verdict), FLC_E_CHOICE);
    assert_int_equal(flc_pulse_pair_judge(&before, FLC_LEVEL_A, -1, NAN, &verdict), FLC_E_BELOW);
    assert_int_equal(flc_pulse_pair_judge(&before, FLC_LEVEL_A, 0, 2.0, &verdict), FLC_E_ABOVE);
    flc_check_nan(verdict.ratio);
    pair.size = 1;
    assert_int_equal(flc_pulse_pair_add(&pair, FLC_TRAIN_A, 1), FLC_E_SIZE);
    assert_int_equal(flc_pulse_pair_judge(&pair, FLC_LEVEL_A, 0, NAN, &verdict), FLC_E_SIZE);
    flc_pulse_level level;
    flc_pulse_train train;
    OK(flc_pulse_level_from_name("C", &level));
    OK(flc_pulse_train_from_name("B", &train));
    assert_int_equal(level, FLC_LEVEL_C);
    assert_int_equal(train, FLC_TRAIN_B);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(frequencies), cmocka_unit_test(counters),
                                       cmocka_unit_test(good_trains), cmocka_unit_test(planted_faults),
                                       cmocka_unit_test(coincidence), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
