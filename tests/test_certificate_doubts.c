/* SPDX-License-Identifier: Apache-2.0 */
/* What a fit says against its points: liquids and repeats that do not agree, K in a wrong unit. */
#include "fit_examples.h"

/* One curve that does not hold for two liquids is flagged; so it is not where they agree, or lie far apart. */
static void liquids_that_disagree_are_flagged(void **state)
{
    (void)state;
    flc_certificate_point points[5] = {example_point(1e4, 3.400), example_point(2e4, 3.410),
                                       example_point(2.004e4, 3.425), example_point(4e4, 3.412),
                                       example_point(4.01e4, 3.413)};
    points[2].liquid = points[4].liquid = 7;
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN); /* u 0.05 %: 3 sqrt 2 u is 0.21 % */
    flc_fit *fit = example_fit_of(&options, points, 5);
    static const uint32_t disagrees[5] = {0, 1, 1, 0, 0};
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal((example_point_of(fit, i).flags & FLC_FIT_POINT_DISAGREES) != 0, disagrees[i]);
    }
    assert_int_equal(example_summary(fit).disagreeing, 2);
    assert_int_equal(example_summary(fit).liquids, 2);
    flc_fit_free(fit);
}

/* Repeats of one liquid at one Ro, 1 % apart with u 0.05 %: averaged, but not without a word; with another liquid's
 * point between them too. */
static void repeats_that_differ_are_flagged(void **state)
{
    (void)state;
    flc_certificate_point points[6] = {example_point(1e4, 3.400),     example_point(2e4, 3.410),
                                       example_point(2.001e4, 3.420), example_point(2.002e4, 3.445),
                                       example_point(4e4, 3.412),     example_point(4.01e4, 3.413)};
    points[2].liquid = 7;
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *fit = example_fit_of(&options, points, 6);
    static const uint32_t differs[6] = {0, 1, 0, 1, 0, 0};
    for (size_t i = 0; i < 6; i++) {
        assert_int_equal((example_point_of(fit, i).flags & FLC_FIT_POINT_DIFFERS) != 0, differs[i]);
    }
    assert_int_equal(example_summary(fit).differing, 2);
    flc_fit_free(fit);
}

/* K per litre or per US gallon typed as K per m3, and a bore in mm. */
static void a_wrong_unit_of_k_is_refused(void **state)
{
    (void)state;
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    static const double factors[] = {1e-3, 0.003785411784, 1e4};
    for (size_t i = 0; i < 3; i++) {
        flc_certificate_point points[2] = {example_point(1e4, 3.4 * factors[i]), example_point(1e5, 3.4 * factors[i])};
        const flc_body_options body = example_body();
        flc_fit *fit;
        flc_error error;
        assert_int_equal(flc_fit_certificate(&options, &body, points, 2, &fit, &error),
                         factors[i] < 1.0 ? FLC_E_BELOW : FLC_E_ABOVE);
        assert_string_equal(error.argument, "k_per_m3");
        assert_non_null(strstr(error.message, "pulses per m3"));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(liquids_that_disagree_are_flagged),
        cmocka_unit_test(repeats_that_differ_are_flagged),
        cmocka_unit_test(a_wrong_unit_of_k_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
