/* SPDX-License-Identifier: Apache-2.0 */
/* The liquid: its viscosity by each source against the published methods, ranges and
 * policies, and the two sources of names and slopes. */
#include "example_meter.h"

static double nu_at(const flc_liquid *liquid, double t_degc, double rho_base, double given, uint32_t flags)
{
    double nu;
    uint32_t found = 0xFFFF;
    assert_int_equal(flc_liquid_viscosity(liquid, t_degc, rho_base, given, &nu, &found), FLC_OK);
    assert_int_equal(found, flags);
    return nu;
}

static void expect_no_viscosity(const flc_liquid *liquid, double t_degc, double rho_base, double given,
                                flc_status expected)
{
    double nu = 1.0;
    uint32_t flags = 0xFFFF;
    assert_int_equal(flc_liquid_viscosity(liquid, t_degc, rho_base, given, &nu, &flags), expected);
    flc_check_nan(nu);
}

static double two_point(double t_degc, const double *t, const double *nu, size_t i)
{
    double value;
    assert_int_equal(flc_nu_d341_two_point(t_degc, t[i], nu[i], t[i + 1], nu[i + 1], FLC_D341_BODY, &value), FLC_OK);
    return value;
}

/* ---- viscosity by source ---- */

static void test_points_follow_d341_between_them(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    for (size_t i = 0; i < 4; i++) { /* through its points */
        flc_check_relative(nu_at(liquid, invented_t_degc[i], NAN, NAN, 0), invented_nu_mm2s[i], 2e-15);
    }
    for (double t = -20.0; t < 100.0; t += 0.37) {
        const size_t i = t < 20.0 ? 0 : t < 60.0 ? 1 : 2;
        flc_check_relative(nu_at(liquid, t, NAN, NAN, 0), two_point(t, invented_t_degc, invented_nu_mm2s, i), 2e-15);
    }
    expect_no_viscosity(liquid, nextafter(-20.0, -30.0), NAN, NAN, FLC_E_BELOW_VISCOSITY_RANGE);
    expect_no_viscosity(liquid, nextafter(100.0, 200.0), NAN, NAN, FLC_E_ABOVE_VISCOSITY_RANGE);
    flc_liquid_free(liquid);
}

static void test_extending_is_named_flagged_and_ends_at_forty_kelvin(void **state)
{
    (void)state;
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    options.beyond = FLC_VISCOSITY_EXTEND;
    flc_liquid *liquid = invented_liquid_of(&options);
    const uint32_t flag = FLC_FLAG_VISCOSITY_EXTRAPOLATED;
    assert_true(nu_at(liquid, 20.0, NAN, NAN, 0) > 0.0);
    flc_check_relative(nu_at(liquid, -60.0, NAN, NAN, flag), two_point(-60.0, invented_t_degc, invented_nu_mm2s, 0),
                       2e-15);
    flc_check_relative(nu_at(liquid, 140.0, NAN, NAN, flag), two_point(140.0, invented_t_degc, invented_nu_mm2s, 2),
                       2e-15);
    expect_no_viscosity(liquid, -60.01, NAN, NAN, FLC_E_BELOW_VISCOSITY_RANGE);
    expect_no_viscosity(liquid, 140.01, NAN, NAN, FLC_E_ABOVE_VISCOSITY_RANGE);
    flc_liquid_free(liquid);
}

/* W falls by B log10(T/T1): the definition of the slope. */
static void test_one_point_and_a_slope(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_ONE_POINT);
    const uint32_t flag = FLC_FLAG_VISCOSITY_ONE_POINT;
    flc_check_relative(nu_at(liquid, 20.0, NAN, NAN, flag), 2.2, 2e-15);
    double w1, w;
    assert_int_equal(flc_w_d341(2.2, FLC_D341_BODY, &w1), FLC_OK);
    for (double t = -20.0; t <= 60.0; t += 10.0) {
        assert_int_equal(flc_w_d341(nu_at(liquid, t, NAN, NAN, flag), FLC_D341_BODY, &w), FLC_OK);
        flc_check_near(w, w1 - 3.9 * log10((t + 273.15) / 293.15), 2e-15);
    }
    expect_no_viscosity(liquid, -20.01, NAN, NAN, FLC_E_BELOW_VISCOSITY_RANGE);
    expect_no_viscosity(liquid, 60.01, NAN, NAN, FLC_E_ABOVE_VISCOSITY_RANGE);
    flc_liquid_free(liquid);
}

/* A slope from memory is said in every result, whatever is said of the point; a published one, or the caller's own, adds
 * nothing. */
static void test_slope_of_a_family_keeps_its_provenance(void **state)
{
    (void)state;
    for (int family = FLC_FAMILY_JET_A; family <= FLC_FAMILY_OIL_S200; family++) {
        for (int point = FLC_PUBLISHED; point <= FLC_USER_GIVEN; point++) {
            flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_ONE_POINT);
            flc_provenance where;
            assert_int_equal(flc_d341_family_slope((flc_d341_family)family, &options.slope_b, &where), FLC_OK);
            assert_int_equal(where, family < FLC_FAMILY_OIL_S6 ? FLC_PUBLISHED : FLC_FROM_MEMORY);
            options.nu_provenance = (flc_provenance)point;
            flc_liquid *liquid = invented_liquid_of(&options);
            const int weak = where == FLC_FROM_MEMORY || point == FLC_FROM_MEMORY;
            nu_at(liquid, 20.0, NAN, NAN, FLC_FLAG_VISCOSITY_ONE_POINT | (weak ? FLC_FLAG_FROM_MEMORY : 0u));
            flc_liquid_free(liquid);
        }
    }
}

static void test_between_two_liquids_by_base_density(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_BETWEEN);
    const uint32_t flag = FLC_FLAG_VISCOSITY_INTERPOLATED;
    for (double t = -20.0; t < 100.0; t += 7.3) {
        const size_t i = t < 20.0 ? 0 : t < 60.0 ? 1 : 2;
        const double thin = two_point(t, invented_t_degc, invented_nu_mm2s, i);
        const double thick = two_point(t, invented_t_degc, invented_thick_mm2s, i);
        flc_check_relative(nu_at(liquid, t, 790.0, NAN, flag), thin, 2e-14);
        flc_check_relative(nu_at(liquid, t, 870.0, NAN, flag), thick, 2e-14);
        double w_thin, w_thick, w; /* a quarter of the way in density is a quarter in W */
        assert_int_equal(flc_w_d341(thin, FLC_D341_BODY, &w_thin), FLC_OK);
        assert_int_equal(flc_w_d341(thick, FLC_D341_BODY, &w_thick), FLC_OK);
        assert_int_equal(flc_w_d341(nu_at(liquid, t, 810.0, NAN, flag), FLC_D341_BODY, &w), FLC_OK);
        flc_check_near(w, 0.75 * w_thin + 0.25 * w_thick, 2e-15);
    }
    expect_no_viscosity(liquid, 20.0, 789.9, NAN, FLC_E_BELOW);
    expect_no_viscosity(liquid, 20.0, 870.1, NAN, FLC_E_ABOVE);
    expect_no_viscosity(liquid, 20.0, NAN, NAN, FLC_E_NAN);
    flc_liquid_free(liquid);
}

static void test_typical_values(void **state)
{
    (void)state;
    const uint32_t flag = FLC_FLAG_VISCOSITY_TYPICAL;
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_TYPICAL);
    options.nu_provenance = FLC_FROM_MEMORY;
    flc_liquid *curve = invented_liquid_of(&options);
    flc_check_relative(nu_at(curve, 31.0, NAN, NAN, flag | FLC_FLAG_FROM_MEMORY),
                       two_point(31.0, invented_t_degc, invented_nu_mm2s, 1), 2e-15);
    expect_no_viscosity(curve, 101.0, NAN, NAN, FLC_E_ABOVE_VISCOSITY_RANGE);
    flc_liquid_free(curve);
    options.points.count = 1;
    flc_liquid *constant = invented_liquid_of(&options);
    flc_check_same_bits(nu_at(constant, -150.0, NAN, NAN, flag | FLC_FLAG_FROM_MEMORY), 6.1);
    flc_check_same_bits(nu_at(constant, 300.0, NAN, NAN, flag | FLC_FLAG_FROM_MEMORY), 6.1);
    flc_liquid_free(constant);
}

static void test_measured_viscosity(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED);
    flc_check_same_bits(nu_at(liquid, -150.0, NAN, 0.01, 0), 0.01);
    flc_check_same_bits(nu_at(liquid, 20.0, NAN, 2e7, 0), 2e7);
    expect_no_viscosity(liquid, 20.0, NAN, NAN, FLC_E_MISSING);
    expect_no_viscosity(liquid, 20.0, NAN, 0.0099, FLC_E_BELOW);
    expect_no_viscosity(liquid, 20.0, NAN, 2.1e7, FLC_E_ABOVE);
    expect_no_viscosity(liquid, 20.0, NAN, INFINITY, FLC_E_INFINITE);
    flc_liquid_free(liquid);
}

static void test_viscosity_refusals_common_to_all(void **state)
{
    (void)state;
    for (int source = FLC_VISCOSITY_MEASURED; source <= FLC_VISCOSITY_TYPICAL; source++) {
        flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source);
        expect_no_viscosity(liquid, NAN, 800.0, 2.0, FLC_E_NAN);
        expect_no_viscosity(liquid, -INFINITY, 800.0, 2.0, FLC_E_INFINITE);
        expect_no_viscosity(liquid, -200.1, 800.0, 2.0, FLC_E_BELOW);
        expect_no_viscosity(liquid, 600.1, 800.0, 2.0, FLC_E_ABOVE);
        if (source != FLC_VISCOSITY_MEASURED) {
            expect_no_viscosity(liquid, 20.0, 800.0, 2.0, FLC_E_CONFLICT);
        }
        double nu = 1.0;
        uint32_t flags = 7;
        assert_int_equal(flc_liquid_viscosity(NULL, 20.0, 800.0, NAN, &nu, &flags), FLC_E_NULL);
        flc_check_nan(nu);
        assert_int_equal(flags, 0);
        assert_int_equal(flc_liquid_viscosity(liquid, 20.0, 800.0, NAN, NULL, &flags), FLC_E_NULL);
        nu = 1.0;
        assert_int_equal(flc_liquid_viscosity(liquid, 20.0, 800.0, NAN, &nu, NULL), FLC_E_NULL);
        flc_check_nan(nu);
        flc_liquid_free(liquid);
    }
}

/* A line may leave the viscosities that its form has: 0.71 mm2/s at 100 degC goes under 0.21 mm2/s on the way up. */
static void test_a_line_that_leaves_its_form_has_no_root(void **state)
{
    (void)state;
    static const double t[] = {0.0, 100.0}, nu[] = {5.0, 0.215};
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    options.points = (flc_viscosity_points){2, t, nu, NAN};
    options.beyond = FLC_VISCOSITY_EXTEND;
    flc_liquid *liquid = invented_liquid_of(&options);
    expect_no_viscosity(liquid, 139.0, NAN, NAN, FLC_E_NO_ROOT);
    flc_liquid_free(liquid);
}

/* ---- slopes of families, recomputed from the published points in long double ---- */

static long double w_body(long double nu)
{
    return log10l(log10l(nu + 0.7L + expl(-1.47L - 1.84L * nu - 0.51L * nu * nu)));
}

/** -B of the least-squares line through the points; of two points, through both. */
static double slope_of(size_t n, const double *t_degc, const double *nu)
{
    long double x[4], w[4], mx = 0, mw = 0, top = 0, bottom = 0;
    for (size_t i = 0; i < n; i++) {
        x[i] = log10l((long double)t_degc[i] + 273.15L);
        w[i] = w_body(nu[i]);
        mx += x[i] / n;
        mw += w[i] / n;
    }
    for (size_t i = 0; i < n; i++) {
        top += (x[i] - mx) * (w[i] - mw);
        bottom += (x[i] - mx) * (x[i] - mx);
    }
    return (double)(-top / bottom);
}

static void test_slopes_of_families(void **state)
{
    (void)state;
    /* AFRL POSF 10325, 10264, 10289 at -40, -20, 40, 100 degC; n-dodecane: NIST WebBook; oils: ASTM D2162 nominal
     * values at 20 and 100 degC, from memory */
    static const struct {
        const char *word;
        size_t n;
        double t_degc[4], nu_mm2s[4];
        flc_provenance provenance;
    } families[] = {
        {"jet_a", 4, {-40, -20, 40, 100}, {9.2, 4.5, 1.31, 0.68}, FLC_PUBLISHED},
        {"jp_8", 4, {-40, -20, 40, 100}, {6.6, 3.5, 1.14, 0.61}, FLC_PUBLISHED},
        {"jp_5", 4, {-40, -20, 40, 100}, {14.1, 6.5, 1.57, 0.76}, FLC_PUBLISHED},
        {"n_dodecane", 2, {0.45, 100.45}, {2.938704991, 0.733723864}, FLC_PUBLISHED},
        {"oil_s6", 2, {20, 100}, {11, 1.8}, FLC_FROM_MEMORY},
        {"oil_s20", 2, {20, 100}, {44, 3.9}, FLC_FROM_MEMORY},
        {"oil_s60", 2, {20, 100}, {170, 7.2}, FLC_FROM_MEMORY},
        {"oil_s200", 2, {20, 100}, {640, 17}, FLC_FROM_MEMORY},
    };
    for (size_t i = 0; i < sizeof families / sizeof families[0]; i++) {
        flc_d341_family family;
        double b;
        flc_provenance provenance;
        assert_int_equal(flc_d341_family_from_name(families[i].word, &family), FLC_OK);
        assert_int_equal(family, i);
        assert_int_equal(flc_d341_family_slope(family, &b, &provenance), FLC_OK);
        flc_check_near(b, slope_of(families[i].n, families[i].t_degc, families[i].nu_mm2s), 1e-8);
        assert_int_equal(provenance, families[i].provenance);
    }
    double b = 1.0;
    flc_provenance provenance;
    assert_int_equal(flc_d341_family_slope((flc_d341_family)8, &b, &provenance), FLC_E_CHOICE);
    flc_check_nan(b);
    assert_int_equal(flc_d341_family_slope((flc_d341_family)-1, &b, &provenance), FLC_E_CHOICE);
    assert_int_equal(flc_d341_family_slope(FLC_FAMILY_JET_A, NULL, &provenance), FLC_E_NULL);
    b = 1.0;
    assert_int_equal(flc_d341_family_slope(FLC_FAMILY_JET_A, &b, NULL), FLC_E_NULL);
    flc_check_nan(b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_points_follow_d341_between_them),
        cmocka_unit_test(test_extending_is_named_flagged_and_ends_at_forty_kelvin),
        cmocka_unit_test(test_one_point_and_a_slope),
        cmocka_unit_test(test_slope_of_a_family_keeps_its_provenance),
        cmocka_unit_test(test_between_two_liquids_by_base_density),
        cmocka_unit_test(test_typical_values),
        cmocka_unit_test(test_measured_viscosity),
        cmocka_unit_test(test_viscosity_refusals_common_to_all),
        cmocka_unit_test(test_a_line_that_leaves_its_form_has_no_root),
        cmocka_unit_test(test_slopes_of_families),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
