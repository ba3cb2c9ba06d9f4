/* SPDX-License-Identifier: Apache-2.0 */
/* Factors of control charts (libflowcomp-analysis), and the run-time library's table of run ranges held against the
 * functions of any probability. Printed values are in checks/repeatability_control.csv. */
#include "check.h"
#include "flowcomp/analysis_methods.h"
#include "flowcomp/proving_quantities.h"
#include "proving_core.h"
#include <errno.h>
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define COUNT(list) (sizeof(list) / sizeof((list)[0]))
#define REFUSED(call, status)               \
    do {                                    \
        result = 1.0;                       \
        assert_int_equal((call), (status)); \
        flc_check_nan(result);              \
    } while (0)

/* n = 2: range = sqrt 2 |z|, so d3 = sqrt(2 - 4/pi), c4 = sqrt(2/pi); the others by Gauss-Legendre quadrature in SciPy.
 */
static void deviations(void **state)
{
    (void)state;
    static const double d3[][2] = {{3, 0.8883680040451728}, {5, 0.8640819410994307}, {7, 0.8332053356221837}};
    const double pi = acos(-1.0);
    double result;
    OK(flc_control_chart_d3(2.0, &result));
    flc_check_relative(result, sqrt(2.0 - 4.0 / pi), 1e-13);
    for (size_t i = 0; i < COUNT(d3); i++) {
        OK(flc_control_chart_d3(d3[i][0], &result));
        flc_check_relative(result, d3[i][1], 1e-12);
    }
    OK(flc_control_chart_c4(2.0, &result));
    flc_check_relative(result, sqrt(2.0 / pi), 1e-15);
    for (double n = 3.0; n <= 100.0; n += 1.0) {
        OK(flc_control_chart_c4(n, &result));
        flc_check_relative(result, sqrt(2.0 / (n - 1.0)) * exp(lgamma(0.5 * n) - lgamma(0.5 * (n - 1.0))), 1e-13);
    }
    REFUSED(flc_control_chart_d3(2.5, &result), FLC_E_NOT_WHOLE);
    REFUSED(flc_control_chart_c4(1.0, &result), FLC_E_BELOW);
    REFUSED(flc_control_chart_c4(101.0, &result), FLC_E_ABOVE);
    REFUSED(flc_control_chart_c4(NAN, &result), FLC_E_NAN);
}

/* D3 + D4 = 2 while D3 is above zero, and D3 is zero up to six values (printed tables say the same). */
static void limits(void **state)
{
    (void)state;
    double lower, upper, d2, a2, result;
    for (double n = 2.0; n <= 30.0; n += 1.0) {
        OK(flc_control_chart_range_lower_d3(n, &lower));
        OK(flc_control_chart_range_upper_d4(n, &upper));
        if (n <= 6.0) {
            flc_check_same_bits(lower, 0.0);
        } else {
            flc_check_relative(lower + upper, 2.0, 1e-15);
        }
        OK(flc_control_chart_d2(n, &d2));
        OK(flc_control_chart_a2(n, &a2));
        flc_check_relative(a2 * d2 * sqrt(n), 3.0, 1e-15);
    }
    REFUSED(flc_control_chart_a2(2.5, &result), FLC_E_NOT_WHOLE);
    REFUSED(flc_control_chart_range_lower_d3(1.0, &result), FLC_E_BELOW);
    REFUSED(flc_control_chart_range_upper_d4(2.5, &result), FLC_E_NOT_WHOLE);
    errno = 0;
    OK(flc_control_chart_d3(100.0, &result));
    assert_int_equal(errno, 0);
}

/* The table (mpmath, 30 digits; SciPy for Lord's factor) against GSL. */
static void run_ranges(void **state)
{
    (void)state;
    double limit, lord, printed;
    for (size_t n = FLC_RANGE_RUNS_MIN; n <= FLC_RANGE_RUNS_MAX; n++) {
        OK(flc_repeatability_limit_pct((double)n, 0.027, 0.95, &limit));
        flc_check_relative(0.027 / flc_run_range_student(n), limit, 1e-12);
        OK(flc_range_factor_lord((double)n, 0.95, &lord));
        flc_check_relative(flc_run_range_lord(n), lord, 1e-11);
    }
    for (size_t n = 3; n <= 20; n++) {
        OK(flc_repeatability_limit_api_4_8_pct((double)n, &printed));
        flc_check_same_bits(flc_run_range_api_4_8(n), printed);
        if (n != 6) { /* the one entry that ordinary rounding of the formula does not give */
            flc_check_near(printed, 0.027 / flc_run_range_student(n), 0.005);
        }
    }
    flc_check_nan(flc_run_range_student(1));
    flc_check_nan(flc_run_range_lord(31));
    flc_check_nan(flc_run_range_api_4_8(2));
    flc_check_nan(flc_run_range_api_4_8(21));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(deviations), cmocka_unit_test(limits),
                                       cmocka_unit_test(run_ranges)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
