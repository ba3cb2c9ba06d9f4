/* SPDX-License-Identifier: Apache-2.0 */
/* Refusals and branches deep inside a formula that no row or draw of the other tests reaches: each status is that of
 * the contract, each value an identity. */
#include "check.h"

#include "example_meter.h"
#include "flowcomp/costald.h"
#include "flowcomp/petroleum_2004.h"
#include "flowcomp/viscosity_blending.h"
#include "flowcomp/viscosity_d341.h"
#include "flowcomp/viscosity_models.h"

#define REFUSED(call, status)           \
    do {                                \
        result = 0.0;                   \
        assert_int_equal(call, status); \
        flc_check_nan(result);          \
    } while (0)

/* Each component of a blend has a line that falls, through two temperatures, above the lowest viscosity of the form. */
static void lines_of_components(void **unused)
{
    (void)unused;
    const double x[] = {0.5, 0.5}, t1[] = {20.0, 20.0}, t2[] = {80.0, 80.0}, cold[] = {0.0, 0.0};
    const double thick[] = {30.0, 40.0}, thin[] = {5.0, 6.0}, same[] = {5.0, 40.0}, low[] = {30.0, 1.0};
    double result;
    REFUSED(flc_nu_blend_wright(50.0, x, t1, low, t2, thin, 2, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thick, t2, low, 2, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thick, t1, thin, 2, FLC_D341_BODY, &result), FLC_E_DUPLICATE);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thin, t2, thick, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thick, cold, thin, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thick, t2, same, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    REFUSED(flc_nu_blend_wright(50.0, x, t1, thick, cold, same, 2, FLC_D341_BODY, &result), FLC_E_NOT_MONOTONIC);
    /* given from the hot end, it is the same blend */
    double from_cold, from_hot;
    assert_int_equal(flc_nu_blend_wright(50.0, x, t1, thick, t2, thin, 2, FLC_D341_BODY, &from_cold), FLC_OK);
    assert_int_equal(flc_nu_blend_wright(50.0, x, t2, thin, t1, thick, 2, FLC_D341_BODY, &from_hot), FLC_OK);
    flc_check_relative(from_hot, from_cold, 1e-13);
}

static void lines_without_enough_points(void **unused)
{
    (void)unused;
    const double t[] = {40.0, 100.0}, nu[] = {30.0, 5.0};
    double result;
    REFUSED(flc_nu_d341_lsq(60.0, t, nu, 1, FLC_D341_BODY, &result), FLC_E_COUNT);
    REFUSED(flc_a_andrade_lsq(t, nu, 1, &result), FLC_E_COUNT);
    REFUSED(flc_b_andrade_lsq(t, nu, 1, &result), FLC_E_COUNT);
    REFUSED(flc_d_andrade_lsq(t, nu, 1, &result), FLC_E_COUNT);
    REFUSED(flc_mu_andrade_lsq(60.0, t, nu, 1, &result), FLC_E_COUNT);
}

/* A Z below that of the lowest viscosity of its form, and one above that of the highest. */
static void z_beyond_the_form(void **unused)
{
    (void)unused;
    double result;
    REFUSED(flc_nu_d341_from_z(2.0, FLC_D341_SIMPLE, &result), FLC_E_BELOW);
    assert_int_equal(flc_nu_d341_from_z(2.8, FLC_D341_SIMPLE, &result), FLC_OK);
    flc_check_relative(result, 2.1, 1e-15);
}

/* Through three points Vogel's equation may have its pole between them: no curve. Points made with a pole at T = -C
 * outside give the curve back. */
static void pole_of_vogel(void **unused)
{
    (void)unused;
    const double t[] = {0.0, 50.0, 100.0}, turned[] = {100.0, 50.0, 0.0};
    const double bulged[] = {10.0, 9.9, 1.0}, bulged_back[] = {1.0, 9.9, 10.0}, dip[] = {10.0, 1.0, 9.9};
    double result, other;
    assert_int_equal(flc_c_vogel_three_point(t, bulged, 3, &result), FLC_OK);
    assert_int_equal(flc_c_vogel_three_point(turned, bulged_back, 3, &other), FLC_OK);
    flc_check_relative(other, result, 1e-12);
    REFUSED(flc_c_vogel_three_point(t, dip, 3, &result), FLC_E_DOMAIN);
    const double turned_dip[] = {10.0, 0.5, 20.0};
    REFUSED(flc_c_vogel_three_point(turned, turned_dip, 3, &result), FLC_E_DOMAIN);
}

static void limits_of_a_product(void **unused)
{
    (void)unused;
    const flc_petroleum_product crude = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
    double low = 0.0, high = 0.0;
    assert_int_equal(flc_petroleum_2004_density_limits(crude, FLC_PETROLEUM_BASE_60F, NULL, &high), FLC_E_NULL);
    flc_check_nan(high);
    assert_int_equal(flc_petroleum_2004_density_limits(crude, FLC_PETROLEUM_BASE_60F, &low, NULL), FLC_E_NULL);
    flc_check_nan(low);
    const int bases[] = {-1, 3};
    for (size_t i = 0; i < 2; i++) {
        low = high = 0.0;
        assert_int_equal(flc_petroleum_2004_density_limits(crude, (flc_petroleum_base)bases[i], &low, &high),
                         FLC_E_CHOICE);
        flc_check_nan(low);
        flc_check_nan(high);
    }
    const int groups[] = {-2, 7};
    for (size_t i = 0; i < 2; i++) {
        const flc_petroleum_product none = {(flc_petroleum_group)groups[i], NAN};
        assert_int_equal(flc_petroleum_2004_density_limits(none, FLC_PETROLEUM_BASE_60F, &low, &high), FLC_E_CHOICE);
    }
}

/* Numbers that are none of an enum, below and above. */
static void choices_of_a_body(void **unused)
{
    (void)unused;
    const int beyond[] = {-1, 99}, provenance[] = {0, 99};
    for (size_t i = 0; i < 2; i++) {
        flc_body_options body = invented_body();
        body.beyond = (flc_body_beyond)beyond[i];
        assert_int_equal(flc_body_check(&body, NULL), FLC_E_CHOICE);
        body = invented_body();
        body.housing.provenance = (flc_provenance)provenance[i];
        assert_int_equal(flc_body_check(&body, NULL), FLC_E_CHOICE);
    }
    flc_body_options unnamed = invented_body();
    unnamed.housing.source[0] = '\0';
    assert_int_equal(flc_body_check(&unnamed, NULL), FLC_E_MISSING);
}

/* A rotor from memory in a housing that is not: the result says so. */
static void rotor_from_memory(void **unused)
{
    (void)unused;
    flc_body_options body = invented_body();
    flc_body_state state;
    body.rotor = invented_metal(10e-6);
    assert_int_equal(flc_body_at(&body, 40.0, 300.0, &state), FLC_OK);
    assert_false(state.flags & FLC_FLAG_FROM_MEMORY);
    body.rotor.provenance = FLC_FROM_MEMORY;
    assert_int_equal(flc_body_at(&body, 40.0, 300.0, &state), FLC_OK);
    assert_true(state.flags & FLC_FLAG_FROM_MEMORY);
}

/* Conventions, treatments and policies of a curve and a meter that are none. */
static void choices_of_a_curve(void **unused)
{
    (void)unused;
    flc_curve *curve = invented_curve(), *other = NULL;
    double c[4 * (INVENTED_KNOTS - 1)];
    invented_coefficients(c);
    const int wrong[] = {-1, 99};
    for (size_t i = 0; i < 2; i++) {
        flc_curve_reference reference = invented_reference(FLC_CONVENTION_RAW, (flc_body_treatment)wrong[i]);
        assert_int_equal(flc_curve_new(reference, INVENTED_KNOTS, invented_ln_ro, invented_st, c, &other, NULL),
                         FLC_E_CHOICE);
        assert_null(other);
        reference = invented_reference((flc_curve_convention)wrong[i], FLC_BODY_AS_RUN);
        assert_int_equal(flc_curve_new(reference, INVENTED_KNOTS, invented_ln_ro, invented_st, c, &other, NULL),
                         FLC_E_CHOICE);
        const flc_body_options body = invented_body();
        flc_meter_options options;
        flc_meter *meter = NULL;
        flc_meter_options_init(&options);
        options.name = "INVENTED";
        options.below = (flc_curve_beyond)wrong[i];
        assert_int_equal(flc_meter_new(&options, &body, curve, &meter, NULL), FLC_E_CHOICE);
        options.below = FLC_BEYOND_REFUSE;
        options.above = (flc_curve_beyond)wrong[i];
        assert_int_equal(flc_meter_new(&options, &body, curve, &meter, NULL), FLC_E_CHOICE);
        assert_null(meter);
    }
    flc_curve_free(curve);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_of_components), cmocka_unit_test(lines_without_enough_points),
        cmocka_unit_test(z_beyond_the_form),   cmocka_unit_test(pole_of_vogel),
        cmocka_unit_test(limits_of_a_product), cmocka_unit_test(choices_of_a_body),
        cmocka_unit_test(rotor_from_memory),   cmocka_unit_test(choices_of_a_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
