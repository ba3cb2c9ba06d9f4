/* SPDX-License-Identifier: Apache-2.0 */
/* Refined products of API MPMS 11.1-2004 at the borders of their groups, forward and in the inverse. Expected values:
 * 40 digits (support/petroleum_oracle.py) and what the contract says of the borders. */
#include "check.h"

#include "flowcomp/petroleum_2004.h"
#include <math.h>

static const double borders[] = {770.3520, 787.5195, 838.3127}; /* end of gasoline, transition, jet */

static flc_petroleum_product of_group(flc_petroleum_group group)
{
    return flc_petroleum_product_of_group(group);
}

static double ctpl60(double rho60, double t_degf, double p_psig, flc_petroleum_product product)
{
    double result = 0.0;
    assert_int_equal(flc_ctpl60_petroleum_2004(rho60, t_degf, p_psig, product, &result), FLC_OK);
    return result;
}

/* alpha60, by way of rho*, steps by +1.215e-10, -3.113e-10 and -1.152e-11/degF at the borders
 * (support/petroleum_oracle.py, 40 digits): far below the constants' own digits, so the borders close the constants of
 * all four groups. A border belongs to the group above it. */
static void alpha_at_the_borders(void **unused)
{
    (void)unused;
    static const double steps[] = {1.215e-10, -3.113e-10, -1.152e-11};
    static const flc_petroleum_group above[] = {FLC_PETROLEUM_TRANSITION, FLC_PETROLEUM_JET, FLC_PETROLEUM_FUEL_OIL};
    for (size_t i = 0; i < 3; i++) {
        double low, high, named;
        const double below = nextafter(borders[i], 0.0);
        assert_int_equal(flc_alpha60_petroleum_2004(below, of_group(FLC_PETROLEUM_REFINED), &low), FLC_OK);
        assert_int_equal(flc_alpha60_petroleum_2004(borders[i], of_group(FLC_PETROLEUM_REFINED), &high), FLC_OK);
        assert_int_equal(flc_alpha60_petroleum_2004(borders[i], of_group(above[i]), &named), FLC_OK);
        flc_check_same_bits(high, named);
        flc_check_near(high - low, steps[i], 1e-13);
    }
}

typedef struct border_case {
    double border, t, below, above; /* rho60 CTPL at the border with the lower and the upper group */
} border_case;

static border_case border_at(size_t i, double t)
{
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_GASOLINE, FLC_PETROLEUM_TRANSITION, FLC_PETROLEUM_JET,
                                                 FLC_PETROLEUM_FUEL_OIL};
    border_case at = {borders[i], t, 0.0, 0.0};
    at.below = borders[i] * ctpl60(borders[i], t, 0.0, of_group(groups[i]));
    at.above = borders[i] * ctpl60(borders[i], t, 0.0, of_group(groups[i + 1]));
    return at;
}

/* Between the two products there is no root where the product steps up, and one on each side where it steps down. */
static void observed_at_the_borders(void **unused)
{
    (void)unused;
    const flc_petroleum_product refined = of_group(FLC_PETROLEUM_REFINED);
    int gaps = 0, overlaps = 0;
    for (size_t i = 0; i < 3; i++) {
        for (double t = -40.0; t <= 300.0; t += 170.0) {
            const border_case at = border_at(i, t);
            for (double part = 0.1; part < 1.0; part += 0.2) {
                const double observed = at.below + part * (at.above - at.below);
                const int lower_side = part < 0.45;
                double rho60;
                if (part > 0.45 && part < 0.55) {
                    continue; /* the middle: either side */
                }
                assert_int_equal(flc_rho60_from_observed_petroleum_2004(observed, t, 0.0, refined, &rho60), FLC_OK);
                assert_true(lower_side ? rho60 < at.border : rho60 >= at.border);
                if (at.below < at.above) {
                    gaps++;
                    flc_check_same_bits(rho60, lower_side ? nextafter(at.border, 0.0) : at.border);
                } else {
                    overlaps++;
                    flc_check_near(rho60, at.border, 1e-4);
                    flc_check_relative(rho60 * ctpl60(rho60, t, 0.0, refined), observed, 1e-15);
                }
            }
        }
    }
    assert_true(gaps > 0 && overlaps > 0);
}

/* Just outside the step both neighbours are ordinary roots, and the result rises with the observed density. */
static void observed_beside_the_borders(void **unused)
{
    (void)unused;
    const flc_petroleum_product refined = of_group(FLC_PETROLEUM_REFINED);
    for (size_t i = 0; i < 3; i++) {
        for (double t = -40.0; t <= 300.0; t += 170.0) {
            const border_case at = border_at(i, t);
            const double outside[] = {fmin(at.below, at.above) - 1e-4, fmax(at.below, at.above) + 1e-4};
            double rho60[2];
            for (size_t side = 0; side < 2; side++) {
                assert_int_equal(flc_rho60_from_observed_petroleum_2004(outside[side], t, 0.0, refined, &rho60[side]),
                                 FLC_OK);
                flc_check_relative(rho60[side] * ctpl60(rho60[side], t, 0.0, refined), outside[side], 1e-15);
            }
            assert_true(rho60[0] < at.border && rho60[1] > at.border);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(alpha_at_the_borders),
        cmocka_unit_test(observed_at_the_borders),
        cmocka_unit_test(observed_beside_the_borders),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
