/* SPDX-License-Identifier: Apache-2.0 */
/* Legal limits: the figures of Directive 2014/32/EU, Annex VII are in checks/legal_limits.csv; here are its structure
 * (lines, steps that meet, Emin), refusals, and the judgement of an error. */
#include "check.h"
#include "bad_inputs.h"
#include "flowcomp/legal_limits.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define COUNT(list) (sizeof(list) / sizeof((list)[0]))
#define N(number)         \
    {                     \
        (number), NULL, 0 \
    }

/* Clause 2.6: conversion A - B, calculator A/10, in the printed digits. */
static void lines(void **state)
{
    (void)state;
    static const double printed[][4] = {{0.3, 0.2, 0.1, 0.03},
                                        {0.5, 0.3, 0.2, 0.05},
                                        {1.0, 0.6, 0.4, 0.10},
                                        {1.5, 1.0, 0.5, 0.15},
                                        {2.5, 1.5, 1.0, 0.25}};
    static const char *const words[] = {"0.3", "0.5", "1.0", "1.5", "2.5"};
    for (size_t i = 0; i < COUNT(printed); i++) {
        flc_accuracy_class class;
        double a, b, conversion, calculator;
        OK(flc_accuracy_class_from_name(words[i], &class));
        OK(flc_mpe_system_pct(class, &a));
        OK(flc_mpe_meter_pct(class, &b));
        OK(flc_mpe_conversion_device_pct(class, &conversion));
        OK(flc_mpe_calculator_pct(class, &calculator));
        flc_check_same_bits(a, printed[i][0]);
        flc_check_same_bits(b, printed[i][1]);
        flc_check_same_bits(conversion, printed[i][2]);
        flc_check_relative(calculator, printed[i][3], 1e-15);
    }
}

/* Table 3 as printed: 4A of 0.1 L, 4A, 2A of 0.4 L, 2A, A of 2 L; it meets itself and Table 2 at every border. */
static void small_volumes(void **state)
{
    (void)state;
    static const double border[] = {0.1, 0.2, 0.4, 1.0, 2.0},
                        inside[][2] = {{0.05, 4.0 * 0.5e-2 * 0.1}, {0.15, 4.0 * 0.5e-2 * 0.15},
                                       {0.3, 2.0 * 0.5e-2 * 0.4},  {0.7, 2.0 * 0.5e-2 * 0.7},
                                       {1.5, 0.5e-2 * 2.0},        {20.0, 0.5e-2 * 20.0}};
    double result, below;
    for (size_t i = 0; i < COUNT(inside); i++) { /* an MMQ so small that Emin never binds */
        OK(flc_mpe_quantity_l(inside[i][0], FLC_CLASS_0_5, 0.001, 0.0, &result));
        const double emin = 2.0 * 4.0 * 0.5e-2 * 0.1;
        flc_check_relative(result, inside[i][1] > emin ? inside[i][1] : emin, 1e-15);
    }
    for (size_t i = 0; i < COUNT(border); i++) {
        OK(flc_emin_l(nextafter(border[i], 0.0), FLC_CLASS_1_0, &below));
        OK(flc_emin_l(border[i], FLC_CLASS_1_0, &result));
        flc_check_relative(below, result, 1e-14);
    }
}

/* Emin = 2 MMQ A/100 (1000 L, class 0.5: 10 L), and never below two scale intervals. */
static void emin(void **state)
{
    (void)state;
    double result;
    OK(flc_emin_l(1000.0, FLC_CLASS_0_5, &result));
    flc_check_relative(result, 10.0, 1e-15);
    OK(flc_mpe_quantity_l(1000.0, FLC_CLASS_0_5, 1000.0, 0.1, &result));
    flc_check_relative(result, 10.0, 1e-15);
    OK(flc_mpe_quantity_l(1000.0, FLC_CLASS_0_5, 1000.0, 50.0, &result));
    flc_check_same_bits(result, 100.0);
    OK(flc_mpe_pressure_sensor_kpa(0.999, &result));
    flc_check_same_bits(result, 50.0);
    OK(flc_mpe_pressure_sensor_kpa(4.0, &result));
    flc_check_same_bits(result, 200.0);
}

static void judgement(void **state)
{
    (void)state;
    flc_limit_check check;
    OK(flc_limit_judge(1003.0, 1000.0, 5.0, &check));
    assert_int_equal(check.inside, 1);
    flc_check_same_bits(check.margin, 2.0);
    OK(flc_limit_judge(994.0, 1000.0, 5.0, &check));
    assert_int_equal(check.inside, 0);
    flc_check_same_bits(check.error, -6.0);
    flc_check_same_bits(check.margin, -1.0);
    OK(flc_limit_judge(1005.0, 1000.0, 5.0, &check)); /* on the limit is inside */
    assert_int_equal(check.inside, 1);
    assert_int_equal(flc_limit_judge(1005.0, 1000.0, -5.0, &check), FLC_E_BELOW);
    flc_check_nan(check.margin);
    assert_int_equal(check.inside, 0);
    assert_int_equal(flc_limit_judge(NAN, 1000.0, 5.0, &check), FLC_E_NAN);
    assert_int_equal(flc_limit_judge(1.0, INFINITY, 5.0, &check), FLC_E_INFINITE);
    assert_int_equal(flc_limit_judge(1.0, 1.0, 5.0, NULL), FLC_E_NULL);
}

static void bad_inputs(void **state)
{
    (void)state;
    static const char *const by_class[] = {"mpe_system_pct",          "mpe_meter_pct",
                                           "mpe_calculator_pct",      "mpe_conversion_device_pct",
                                           "mpe_density_sensor_kgm3", "mpe_temperature_sensor_degc"};
    const flc_value class[] = {N(1.0)}, emin_inputs[] = {N(1000.0), N(1.0)}, p[] = {N(2.0)};
    const flc_value quantity[] = {N(2000.0), N(1.0), N(1000.0), N(0.1)};
    for (size_t i = 0; i < COUNT(by_class); i++) {
        flc_check_bad_inputs(by_class[i], class, 1);
    }
    flc_check_bad_inputs("emin_l", emin_inputs, 2);
    flc_check_bad_inputs("mpe_quantity_l", quantity, 4);
    flc_check_bad_inputs("mpe_pressure_sensor_kpa", p, 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines),     cmocka_unit_test(small_volumes), cmocka_unit_test(emin),
        cmocka_unit_test(judgement), cmocka_unit_test(bad_inputs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
