/* SPDX-License-Identifier: Apache-2.0 */
/* Certificate points: the three conventions, with the body as run or already corrected, describe one meter. The truth
 * is written down here by the definitions of St and Ro and the published K ratio of the body, apart from
 * flc_curve_point. */
#include "example_meter.h"

#include "flowcomp/body_strain.h"

static const double PI = 3.14159265358979323846;

/* One run of the invented meter at its laboratory. */
typedef struct laboratory_run {
    double f_hz, nu_mm2s, k_per_m3, t_degc, p_kpag;
} laboratory_run;

typedef struct point {
    double ro, st;
} point;

static point point_of(flc_curve_convention convention, flc_body_treatment treatment, const flc_body_options *body,
                      double x, double y, const laboratory_run *run)
{
    point p;
    assert_int_equal(flc_curve_point(convention, treatment, body, x, y, run->t_degc, run->p_kpag, &p.ro, &p.st, NULL),
                     FLC_OK);
    return p;
}

static laboratory_run draw_run(uint64_t *seed)
{
    return (laboratory_run){flc_draw_between(seed, 20.0, 900.0), flc_draw_between(seed, 0.5, 30.0),
                            flc_draw_between(seed, 2.5e5, 2.7e5), flc_draw_between(seed, -40.0, 140.0),
                            flc_draw_between(seed, 0.0, 8000.0)};
}

/* Ro = f D^2/nu with the bore of the run, St = (pi/4) K D0^3/B with the K ratio of the run. */
static point truth(const flc_body_options *body, const laboratory_run *run)
{
    flc_body_state s;
    assert_int_equal(flc_body_at(body, run->t_degc, run->p_kpag, &s), FLC_OK);
    const double r = 500.0 * body->bore_m, d0 = body->bore_m;
    double b;
    assert_int_equal(flc_k_ratio_two_metal(run->t_degc - body->t0_degc, body->housing.alpha_per_k,
                                           body->rotor.alpha_per_k, r, r * sqrt(body->area_blocked), s.strain_bore, &b),
                     FLC_OK);
    return (point){run->f_hz * s.d_m * s.d_m / (run->nu_mm2s * 1e-6), PI / 4.0 * run->k_per_m3 * d0 * d0 * d0 / b};
}

static void check_point(point actual, point expected)
{
    flc_check_relative(actual.ro, expected.ro, 2e-15);
    flc_check_relative(actual.st, expected.st, 2e-15);
}

static void test_as_run_in_all_conventions(void **state)
{
    (void)state;
    const flc_body_options body = invented_body();
    const double d0 = body.bore_m;
    uint64_t seed = 5;
    for (int i = 0; i < 500; i++) {
        const laboratory_run run = draw_run(&seed);
        const point expected = truth(&body, &run);
        const double f_nu = run.f_hz / run.nu_mm2s; /* Hz/cSt */
        check_point(point_of(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &body, f_nu, run.k_per_m3, &run), expected);
        /* as run, D is D0 and the normalised numbers are the raw ones */
        check_point(point_of(FLC_CONVENTION_NORMALISED, FLC_BODY_AS_RUN, &body, f_nu, run.k_per_m3, &run), expected);
        check_point(point_of(FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_AS_RUN, &body, f_nu * 1e6 * d0 * d0,
                             PI / 4.0 * run.k_per_m3 * d0 * d0 * d0, &run),
                    expected);
    }
}

static void test_already_corrected_in_all_conventions(void **state)
{
    (void)state;
    const flc_body_options body = invented_body();
    const double d0 = body.bore_m;
    uint64_t seed = 6;
    for (int i = 0; i < 500; i++) {
        laboratory_run run = draw_run(&seed);
        const point expected = truth(&body, &run);
        flc_body_state s;
        assert_int_equal(flc_body_at(&body, run.t_degc, run.p_kpag, &s), FLC_OK);
        /* a laboratory that knows this body gives f/nu (D/D0)^2 and K/B */
        const double x = run.f_hz / run.nu_mm2s * (s.d_m / d0) * (s.d_m / d0), y = run.k_per_m3 / s.b_ratio;
        run.t_degc = run.p_kpag = NAN; /* then the run's conditions are not asked for */
        check_point(point_of(FLC_CONVENTION_NORMALISED, FLC_BODY_ALREADY_CORRECTED, &body, x, y, &run), expected);
        check_point(point_of(FLC_CONVENTION_RAW, FLC_BODY_ALREADY_CORRECTED, &body, x, y, &run), expected);
        check_point(
            point_of(FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_ALREADY_CORRECTED, &body, expected.ro, expected.st, &run),
            expected);
    }
}

/* For one metal without pressure the correction is the cube of the bore: "Strouhal" K (D/D0)^3. The figures are those
 * of the notes on similarity, 1.1 and 1.6 (computed): K 264.172 1/L, D/D0 1.00064, f 250 Hz, nu 0.6 cSt. */
static void test_the_normalised_numbers_of_the_worked_example(void **state)
{
    (void)state;
    flc_body_options body = invented_body();
    body.housing = body.rotor = invented_metal(16e-6);
    body.end = FLC_END_NONE;
    body.area_blocked = 0.3; /* of no effect for one metal */
    const laboratory_run run = {250.0, 0.6, 264172.0, 60.0, 0.0};
    const point as_run = point_of(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &body, 250.0 / 0.6, 264172.0, &run);
    flc_check_near(as_run.ro, 269161.0, 0.5);
    const point corrected =
        point_of(FLC_CONVENTION_NORMALISED, FLC_BODY_ALREADY_CORRECTED, &body, 417.2002, 264679.5, &run);
    flc_check_relative(corrected.ro, as_run.ro, 2e-7); /* the printed digits */
    flc_check_relative(corrected.st, as_run.st, 2e-7);
    /* St of 1000 pulses per US gal in 25.4 mm is 3.39999 */
    const laboratory_run at_t0 = {264.172, 1.2, 264172.05, 20.0, 0.0};
    const point first = point_of(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &body, 264.172 / 1.2, 264172.05, &at_t0);
    flc_check_near(first.st, 3.39999, 5e-6);
    flc_check_near(first.ro, 142028.0, 0.5);
}

/* ---- refusals, in the order of the judgement ---- */

static void test_refusals(void **state)
{
    (void)state;
    flc_body_options good = invented_body(), bad = invented_body();
    bad.bore_m = NAN;
    const struct {
        int convention, treatment;
        const flc_body_options *body;
        double x, y, t_degc, p_kpag;
        flc_status status;
        const char *argument;
    } cases[] = {
        {3, 7, NULL, NAN, NAN, NAN, NAN, FLC_E_CHOICE, "convention"},
        {-1, 0, &good, 1.0, 1.0, 20.0, 0.0, FLC_E_CHOICE, "convention"},
        {0, 2, NULL, NAN, NAN, NAN, NAN, FLC_E_CHOICE, "treatment"},
        {0, 0, NULL, NAN, NAN, NAN, NAN, FLC_E_NULL, "body"},
        {0, 0, &bad, NAN, NAN, NAN, NAN, FLC_E_MISSING, "bore_m"},
        {0, 0, &good, NAN, INFINITY, NAN, NAN, FLC_E_NAN, "x"},
        {0, 0, &good, INFINITY, NAN, NAN, NAN, FLC_E_INFINITE, "x"},
        {0, 0, &good, 0.0, NAN, NAN, NAN, FLC_E_BELOW, "x"},
        {0, 0, &good, 1e16, NAN, NAN, NAN, FLC_E_ABOVE, "x"},
        {0, 0, &good, 1.0, NAN, NAN, NAN, FLC_E_NAN, "y"},
        {0, 0, &good, 1.0, -1.0, NAN, NAN, FLC_E_BELOW, "y"},
        {0, 0, &good, 1.0, 1.0, NAN, INFINITY, FLC_E_NAN, "t_degc"},
        {0, 0, &good, 1.0, 1.0, 601.0, NAN, FLC_E_ABOVE, "t_degc"},
        {0, 0, &good, 1.0, 1.0, 20.0, NAN, FLC_E_NAN, "p_kpag"},
        {0, 0, &good, 1.0, 1.0, 20.0, -1.0, FLC_E_BELOW, "p_kpag"},
        {0, 1, &good, 1.0, NAN, NAN, NAN, FLC_E_NAN, "y"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double ro = 0.0, st = 0.0;
        flc_error error;
        memset(&error, 0xFF, sizeof error);
        assert_int_equal(flc_curve_point((flc_curve_convention)cases[i].convention,
                                         (flc_body_treatment)cases[i].treatment, cases[i].body, cases[i].x, cases[i].y,
                                         cases[i].t_degc, cases[i].p_kpag, &ro, &st, &error),
                         cases[i].status);
        assert_int_equal(error.status, cases[i].status);
        assert_string_equal(error.argument, cases[i].argument);
        flc_check_nan(ro);
        flc_check_nan(st);
    }
    double one = 0.0;
    assert_int_equal(flc_curve_point(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &good, 1.0, 1.0, 20.0, 0.0, NULL, &one, NULL),
                     FLC_E_NULL);
    flc_check_nan(one);
    one = 0.0;
    assert_int_equal(flc_curve_point(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &good, 1.0, 1.0, 20.0, 0.0, &one, NULL, NULL),
                     FLC_E_NULL);
    flc_check_nan(one);
}

static void test_words(void **state)
{
    (void)state;
    static const char *const conventions[] = {"dimensionless", "normalised", "raw"};
    static const char *const treatments[] = {"as_run", "already_corrected"};
    static const char *const policies[] = {"refuse", "hold_end", "extend_slope"};
    flc_curve_convention convention;
    flc_body_treatment treatment;
    flc_curve_beyond beyond;
    for (int i = 0; i < 3; i++) {
        assert_int_equal(flc_curve_convention_from_name(conventions[i], &convention), FLC_OK);
        assert_int_equal(convention, i);
        assert_int_equal(flc_curve_beyond_from_name(policies[i], &beyond), FLC_OK);
        assert_int_equal(beyond, i);
    }
    for (int i = 0; i < 2; i++) {
        assert_int_equal(flc_body_treatment_from_name(treatments[i], &treatment), FLC_OK);
        assert_int_equal(treatment, i);
    }
    assert_int_equal(flc_curve_convention_from_name("Raw", &convention), FLC_E_UNKNOWN_NAME);
    assert_int_equal((int)convention, -1);
    assert_int_equal(flc_body_treatment_from_name("", &treatment), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_curve_beyond_from_name(NULL, &beyond), FLC_E_NULL);
    assert_int_equal((int)beyond, -1);
    assert_int_equal(flc_curve_beyond_from_name("refuse", NULL), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_as_run_in_all_conventions),
        cmocka_unit_test(test_already_corrected_in_all_conventions),
        cmocka_unit_test(test_the_normalised_numbers_of_the_worked_example),
        cmocka_unit_test(test_refusals),
        cmocka_unit_test(test_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
