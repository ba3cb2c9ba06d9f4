/* SPDX-License-Identifier: Apache-2.0 */
/* Fits: through or along the points, judged against GSL's own evaluation, polynomials and identities. */
#include "fit_examples.h"
#include <errno.h>
#include <fenv.h>
#include <gsl/gsl_bspline.h>
#include <gsl/gsl_multifit.h>
#include <gsl/gsl_spline.h>
#include <stdlib.h>

/* GSL reports here instead of aborting. None of our calls may get this far: everything is judged before. */
static int gsl_reports;
void gsl_error(const char *reason, const char *file, int line, int code);
void gsl_error(const char *reason, const char *file, int line, int code)
{
    print_error("GSL: %s (%s:%d, %d)\n", reason, file, line, code);
    gsl_reports++;
}

/* n points of a function of x = ln Ro, evenly spread over x0 to x1. */
static void spread(size_t n, double x0, double x1, double (*st)(double x), flc_certificate_point *points)
{
    for (size_t i = 0; i < n; i++) {
        const double ro = exp(x0 + (x1 - x0) * (double)i / (double)(n - 1));
        points[i] = example_point(ro, st(log(ro)));
    }
}

static double smooth(double x)
{
    return example_st(exp(x));
}

static double cubic(double x)
{
    const double u = x - 10.0;
    return 3.4 + u * (0.02 + u * (-0.01 + u * 0.004));
}

static double line(double x)
{
    return 3.4 + 0.01 * (x - 10.0);
}

/* Uneven and rough, so that Steffen's limiter works and the cubic overshoots. */
static const double rough_ro[] = {2e3, 3e3, 3.5e3, 8e3, 9e3, 2e4, 5e4, 5.2e4, 1e5, 4e5};
static const double rough_st[] = {3.31, 3.35, 3.351, 3.37, 3.41, 3.40, 3.40, 3.405, 3.39, 3.42};
enum { ROUGH = sizeof rough_ro / sizeof rough_ro[0] };

static void check_against_gsl(flc_fit_method method, const gsl_interp_type *type)
{
    flc_certificate_point points[ROUGH];
    double x[ROUGH];
    for (size_t i = 0; i < ROUGH; i++) {
        points[i] = example_point(rough_ro[i], rough_st[i]);
    }
    const flc_fit_options options = example_options(method);
    flc_fit *fit = example_fit_of(&options, points, ROUGH);
    double knots[ROUGH], st[ROUGH], coefficients[4 * ROUGH];
    assert_int_equal(flc_curve_knots(flc_fit_curve(fit)), ROUGH);
    assert_int_equal(flc_curve_copy(flc_fit_curve(fit), knots, st, coefficients), FLC_OK);
    for (size_t i = 0; i < ROUGH; i++) {
        flc_check_same_bits(st[i], rough_st[i]);
        flc_check_same_bits(example_value(fit, rough_ro[i]), rough_st[i]);
        flc_check_relative(knots[i], log(rough_ro[i]), 4e-16);
        x[i] = knots[i];
    }
    gsl_spline *peer = gsl_spline_alloc(type, ROUGH);
    gsl_spline_init(peer, x, rough_st, ROUGH);
    for (int k = 1; k < 1000; k++) {
        const double ro = exp(x[0] + (x[ROUGH - 1] - x[0]) * k / 1000.0);
        flc_curve_value value;
        assert_int_equal(flc_curve_at(flc_fit_curve(fit), ro, FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE, &value), FLC_OK);
        flc_check_relative(value.st, gsl_spline_eval(peer, value.ln_ro, NULL), 1e-15);
        flc_check_near(value.slope, gsl_spline_eval_deriv(peer, value.ln_ro, NULL) / value.st, 1e-14);
    }
    gsl_spline_free(peer);
    flc_fit_free(fit);
}

static void steffen_is_gsl_steffen(void **state)
{
    (void)state;
    check_against_gsl(FLC_FIT_STEFFEN, gsl_interp_steffen);
}

static void cubic_is_gsl_cspline(void **state)
{
    (void)state;
    check_against_gsl(FLC_FIT_CUBIC, gsl_interp_cspline);
}

/* Steffen's promise: between two points the curve stays between their values. */
static void steffen_does_not_overshoot(void **state)
{
    (void)state;
    flc_certificate_point points[ROUGH];
    for (size_t i = 0; i < ROUGH; i++) {
        points[i] = example_point(rough_ro[i], rough_st[i]);
    }
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *fit = example_fit_of(&options, points, ROUGH);
    for (size_t i = 0; i + 1 < ROUGH; i++) {
        const double low = fmin(rough_st[i], rough_st[i + 1]), high = fmax(rough_st[i], rough_st[i + 1]);
        for (int k = 0; k <= 50; k++) {
            const double st = example_value(fit, rough_ro[i] + (rough_ro[i + 1] - rough_ro[i]) * k / 50.0);
            assert_true(st >= low * (1.0 - 1e-15) && st <= high * (1.0 + 1e-15));
        }
    }
    flc_fit_free(fit);
}

static void two_points_are_a_straight_line(void **state)
{
    (void)state;
    const flc_certificate_point points[] = {example_point(exp(9.0), line(9.0)), example_point(exp(12.0), line(12.0))};
    for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_CUBIC; method++) {
        const flc_fit_options options = example_options((flc_fit_method)method);
        flc_fit *fit = example_fit_of(&options, points, 2);
        flc_check_relative(example_value(fit, exp(10.3)), line(10.3), 1e-15);
        flc_fit_free(fit);
    }
}

/* Two rows at near-equal Ro become their mean, and so do exact duplicates; the uncertainty falls by the root of two. */
static void near_points_are_averaged(void **state)
{
    (void)state;
    const double ro[] = {1e4, 2e4, 2.004e4, 4e4, 4e4, 8e4}, st[] = {3.39, 3.400, 3.402, 3.41, 3.414, 3.42};
    flc_certificate_point points[6];
    for (size_t i = 0; i < 6; i++) {
        points[i] = example_point(ro[i], st[i]);
        points[i].u_relative = 0.001;
    }
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *fit = example_fit_of(&options, points, 6);
    const flc_fit_summary summary = example_summary(fit);
    assert_int_equal(summary.knots, 4);
    assert_int_equal(summary.averaged, 4);
    flc_check_relative(example_value(fit, sqrt(2e4 * 2.004e4)), 3.401, 1e-15);
    flc_check_relative(example_value(fit, 4e4), 3.412, 1e-15);
    flc_check_relative(example_point_of(fit, 4).residual_pct, 100.0 * (3.414 / 3.412 - 1.0), 1e-9);
    assert_int_equal(example_point_of(fit, 4).flags, FLC_FIT_POINT_AVERAGED);
    assert_int_equal(example_point_of(fit, 0).flags, 0);
    double u;
    assert_int_equal(flc_fit_band(fit, 4e4, &u), FLC_OK);
    flc_check_relative(u, 0.001 / sqrt(2.0), 1e-9); /* the two differ by 1.2 u: no widening */
    assert_int_equal(flc_fit_band(fit, 1e4, &u), FLC_OK);
    flc_check_relative(u, 0.001, 1e-12);
    flc_fit_free(fit);
}

static void band_refuses(void **state)
{
    (void)state;
    const flc_certificate_point points[] = {example_point(1e4, 3.40), example_point(8e4, 3.41)};
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *fit = example_fit_of(&options, points, 2);
    static const struct {
        double ro;
        flc_status status;
    } refused[] = {{9e3, FLC_E_BELOW_CURVE},   {9e4, FLC_E_ABOVE_CURVE}, {NAN, FLC_E_NAN},
                   {INFINITY, FLC_E_INFINITE}, {0.0, FLC_E_BELOW},       {-1e4, FLC_E_BELOW}};
    for (size_t i = 0; i < sizeof refused / sizeof refused[0]; i++) {
        double u = 1.0;
        assert_int_equal(flc_fit_band(fit, refused[i].ro, &u), refused[i].status);
        flc_check_nan(u);
    }
    double u = 1.0;
    assert_int_equal(flc_fit_band(fit, 2e4, NULL), FLC_E_NULL);
    assert_int_equal(flc_fit_band(NULL, 2e4, &u), FLC_E_NULL);
    flc_check_nan(u);
    flc_fit_free(fit);
}

/* Weighted mean: u of 1 and 2 parts weigh 4 to 1. */
static void averages_weigh_by_uncertainty(void **state)
{
    (void)state;
    flc_certificate_point points[] = {example_point(1e4, 3.40), example_point(3e4, 3.40), example_point(3e4, 3.41)};
    points[1].u_relative = 0.002;
    points[2].u_relative = 0.004;
    const flc_fit_options options = example_options(FLC_FIT_CUBIC);
    flc_fit *fit = example_fit_of(&options, points, 3);
    flc_check_relative(example_value(fit, 3e4), (4.0 * 3.40 + 3.41) / 5.0, 1e-15);
    flc_fit_free(fit);
}

static void bspline_recovers_a_cubic(void **state)
{
    (void)state;
    flc_certificate_point points[23];
    spread(23, 8.0, 13.0, cubic, points);
    for (size_t pieces = 0; pieces <= 12; pieces++) { /* 0: chosen, and then it is the cubic */
        for (int method = FLC_FIT_BSPLINE; method <= FLC_FIT_ROBUST; method++) {
            flc_fit_options options = example_options((flc_fit_method)method);
            options.break_points = pieces;
            flc_fit *fit = example_fit_of(&options, points, 23);
            const flc_fit_summary summary = example_summary(fit);
            assert_int_equal(summary.coefficients, pieces == 0 ? 4 : pieces + 3);
            assert_int_equal(summary.weighted_down, 0);
            assert_true(summary.condition >= 1.0 && summary.condition < 1e6);
            for (double x = 8.001; x < 13.0; x += 0.0173) {
                flc_check_relative(example_value(fit, exp(x)), cubic(x), 2e-13);
            }
            flc_fit_free(fit);
        }
    }
}

/* The same least squares made with GSL alone: 13 points evenly spread, three pieces, so breaks at points 4 and 8. */
static void bspline_is_gsl_bspline(void **state)
{
    (void)state;
    enum { N = 13, P = 6 };
    flc_certificate_point points[N];
    spread(N, 8.0, 13.0, smooth, points);
    double x[N];
    gsl_matrix *design = gsl_matrix_alloc(N, P), *covariance = gsl_matrix_alloc(P, P);
    gsl_vector *y = gsl_vector_alloc(N), *w = gsl_vector_alloc(N), *c = gsl_vector_alloc(P);
    for (size_t i = 0; i < N; i++) {
        points[i].u_relative = 1e-4 * (double)(1 + i % 3);
        x[i] = log(points[i].x);
        gsl_vector_set(y, i, points[i].k_per_m3);
        gsl_vector_set(w, i, 1.0 / pow(points[i].u_relative * points[i].k_per_m3, 2.0));
    }
    const double breaks[] = {x[0], x[4], x[8], x[12]};
    const gsl_vector_const_view view = gsl_vector_const_view_array(breaks, 4);
    gsl_bspline_workspace *basis = gsl_bspline_alloc(4, 4);
    gsl_bspline_knots(&view.vector, basis);
    for (size_t i = 0; i < N; i++) {
        gsl_vector_view row = gsl_matrix_row(design, i);
        gsl_bspline_eval(x[i], &row.vector, basis);
    }
    gsl_multifit_linear_workspace *solver = gsl_multifit_linear_alloc(N, P);
    double chi2;
    gsl_multifit_wlinear(design, w, y, c, covariance, &chi2, solver);

    flc_fit_options options = example_options(FLC_FIT_BSPLINE);
    options.break_points = 3;
    flc_fit *fit = example_fit_of(&options, points, N);
    const double widen = fmax(1.0, sqrt(chi2 / (N - P)));
    flc_check_relative(example_summary(fit).scatter, sqrt(chi2 / (N - P)), 1e-6);
    gsl_vector *b = gsl_vector_alloc(P);
    for (double at = 8.01; at < 13.0; at += 0.037) {
        double value, error, u;
        gsl_bspline_eval(at, b, basis);
        gsl_multifit_linear_est(b, c, covariance, &value, &error);
        flc_check_relative(example_value(fit, exp(at)), value, 1e-13);
        assert_int_equal(flc_fit_band(fit, exp(at), &u), FLC_OK);
        flc_check_relative(u, widen * error / value, 1e-6);
    }
    gsl_vector_free(b);
    gsl_multifit_linear_free(solver);
    gsl_bspline_free(basis);
    gsl_vector_free(c);
    gsl_vector_free(w);
    gsl_vector_free(y);
    gsl_matrix_free(covariance);
    gsl_matrix_free(design);
    flc_fit_free(fit);
}

/* A line with gross errors planted at known places, one of them at the upper end. */
static void robust_finds_planted_errors(void **state)
{
    (void)state;
    enum { N = 24 };
    static const struct {
        size_t place;
        double factor;
    } planted[] = {{3, 1.03}, {9, 0.96}, {10, 1.10}, {17, 1.005}, {N - 1, 0.98}};
    flc_certificate_point points[N];
    spread(N, 9.0, 12.0, line, points);
    for (size_t i = 0; i < 5; i++) {
        points[planted[i].place].k_per_m3 *= planted[i].factor;
    }
    for (size_t pieces = 0; pieces <= 3; pieces++) {
        flc_fit_options options = example_options(FLC_FIT_ROBUST);
        options.break_points = pieces;
        flc_fit *fit = example_fit_of(&options, points, N);
        const flc_fit_summary summary = example_summary(fit);
        assert_int_equal(summary.weighted_down, 5);
        for (double x = 9.01; x < 12.0; x += 0.09) {
            flc_check_relative(example_value(fit, exp(x)), line(x), 1e-12);
        }
        for (size_t i = 0, next = 0; i < N; i++) {
            const flc_fit_point point = example_point_of(fit, i);
            if (next < 5 && i == planted[next].place) {
                flc_check_same_bits(point.weight, 0.0);
                flc_check_near(point.residual_pct, 100.0 * (planted[next].factor - 1.0), 1e-9);
                assert_int_equal(point.flags, FLC_FIT_POINT_DOWN | (i == N - 1 ? FLC_FIT_POINT_END_DOWN : 0u));
                next++;
            } else {
                flc_check_near(point.weight, 1.0, 1e-12);
                assert_int_equal(point.flags, 0);
            }
        }
        assert_true(summary.residual_max_pct < 1e-9); /* of the points kept */
        flc_fit_free(fit);
    }
}

/* A fall towards low Ro is no gross error: no point of it is weighted down, and the curve follows. */
static void robust_follows_a_bend(void **state)
{
    (void)state;
    flc_certificate_point points[30];
    spread(30, 8.0, 13.0, smooth, points);
    const flc_fit_options options = example_options(FLC_FIT_ROBUST);
    flc_fit *fit = example_fit_of(&options, points, 30);
    const flc_fit_summary summary = example_summary(fit);
    assert_int_equal(summary.weighted_down, 0);
    assert_true(summary.residual_max_pct < 0.05);
    flc_fit_free(fit);
}

/* A rise inside the stated uncertainty is not claimed, outside it is; the band then holds what was left out. Scatter is
 * planted at +-0.9 u, alternating. */
static void stated_uncertainty_governs_stiffness(void **state)
{
    (void)state;
    enum { N = 40 };
    flc_certificate_point points[N];
    for (int method = FLC_FIT_BSPLINE; method <= FLC_FIT_ROBUST; method++) {
        for (int wide = 0; wide <= 1; wide++) {
            const double u = wide ? 0.01 : 0.001;
            spread(N, 9.0, 12.0, line, points); /* 0.88 % from end to end */
            for (size_t i = 0; i < N; i++) {
                points[i].k_per_m3 *= 1.0 + (i % 2 ? 0.9 : -0.9) * u;
                points[i].u_relative = u;
            }
            const flc_fit_options options = example_options((flc_fit_method)method);
            flc_fit *fit = example_fit_of(&options, points, N);
            assert_int_equal(example_summary(fit).coefficients, wide ? 1 : 2);
            flc_fit_free(fit);
        }
    }
}

/* n points of one value: the mean, known n^-1/2 as well as one of them. */
static void band_of_a_constant(void **state)
{
    (void)state;
    flc_certificate_point points[16];
    for (size_t i = 0; i < 16; i++) {
        points[i] = example_point(1e4 * (1.0 + (double)i), 3.4);
    }
    flc_fit_options options = example_options(FLC_FIT_BSPLINE);
    options.u_relative = 0.002;
    flc_fit *fit = example_fit_of(&options, points, 16);
    double u;
    assert_int_equal(flc_fit_band(fit, 5e4, &u), FLC_OK);
    flc_check_relative(u, 0.002 / 4.0, 1e-9);
    assert_int_equal(example_summary(fit).coefficients, 1);
    flc_check_relative(example_value(fit, 7e4), 3.4, 1e-15);
    flc_fit_free(fit);
}

/* Linearity by both conventions: K 1002.1 1003.4 1001.0 999.2 998.7 is +-0.2348 % about the mid value, and 0.2518 % the
 * largest deviation from the mean (recomputed by hand: (1003.4 - 998.7)/(1003.4 + 998.7); mean 1000.88). */
static void linearity_by_both_conventions(void **state)
{
    (void)state;
    const double k[] = {1002.1, 1003.4, 1001.0, 999.2, 998.7};
    flc_certificate_point points[5];
    for (size_t i = 0; i < 5; i++) {
        flc_certificate_point_init(&points[i]);
        points[i].k_per_m3 = 1000.0 * k[i]; /* pulses per litre */
        points[i].x = 20.0 * (1.0 + (double)i);
    }
    flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    options.convention = FLC_CONVENTION_RAW;
    flc_fit *fit = example_fit_of(&options, points, 5);
    const flc_fit_summary summary = example_summary(fit);
    flc_check_near(summary.linearity_mid_pct, 0.2348, 0.00005);
    flc_check_near(summary.linearity_mean_pct, 0.2518, 0.00005);
    flc_check_relative(summary.k_mean_per_m3, 1000880.0, 1e-12);
    flc_check_near(summary.residual_max_pct, 0.0, 1e-12);
    flc_fit_free(fit);
}

/* Rows in any order, and the host's rounding mode and errno, change no bit. */
static void order_and_host_state_change_nothing(void **state)
{
    (void)state;
    enum { N = 30 };
    flc_certificate_point points[N], shuffled[N];
    spread(N, 8.0, 13.0, smooth, points);
    for (size_t i = 0; i < N; i++) {
        points[i].k_per_m3 *= 1.0 + 3e-4 * sin(37.0 * (double)i);
    }
    for (size_t i = 0; i < N; i++) {
        shuffled[i] = points[(7 * i + 3) % N];
    }
    for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_ROBUST; method++) {
        const flc_fit_options options = example_options((flc_fit_method)method);
        flc_fit *one = example_fit_of(&options, points, N);
        errno = 77;
        fesetround(FE_UPWARD);
        flc_fit *two = example_fit_of(&options, shuffled, N);
        assert_int_equal(fegetround(), FE_UPWARD);
        fesetround(FE_TONEAREST);
        assert_int_equal(errno, 77);
        uint8_t bytes[2][8192];
        size_t needed[2];
        assert_int_equal(flc_curve_canonical(flc_fit_curve(one), bytes[0], sizeof bytes[0], &needed[0]), FLC_OK);
        assert_int_equal(flc_curve_canonical(flc_fit_curve(two), bytes[1], sizeof bytes[1], &needed[1]), FLC_OK);
        assert_int_equal(needed[0], needed[1]);
        assert_memory_equal(bytes[0], bytes[1], needed[0]);
        flc_check_same_bits(example_point_of(one, 3).residual_pct, example_point_of(two, 0).residual_pct);
        flc_fit_free(one);
        flc_fit_free(two);
    }
}

static void slopes_are_those_of_the_line(void **state)
{
    (void)state;
    flc_certificate_point points[12];
    spread(12, 9.0, 12.0, line, points);
    const flc_fit_options options = example_options(FLC_FIT_CUBIC);
    flc_fit *fit = example_fit_of(&options, points, 12);
    const flc_fit_summary summary = example_summary(fit);
    flc_check_relative(summary.slope_max, 0.01 / line(9.0), 1e-9); /* s = 0.01/St */
    flc_check_relative(summary.slope_min, 0.01 / line(12.0), 1e-9);
    flc_check_relative(summary.ro_low, exp(9.0), 1e-14);
    flc_check_relative(summary.ro_high, exp(12.0), 1e-14);
    flc_fit_free(fit);
}

static void gsl_was_never_asked_the_impossible(void **state)
{
    (void)state;
    assert_int_equal(gsl_reports, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(steffen_is_gsl_steffen),
        cmocka_unit_test(cubic_is_gsl_cspline),
        cmocka_unit_test(steffen_does_not_overshoot),
        cmocka_unit_test(two_points_are_a_straight_line),
        cmocka_unit_test(near_points_are_averaged),
        cmocka_unit_test(band_refuses),
        cmocka_unit_test(averages_weigh_by_uncertainty),
        cmocka_unit_test(bspline_recovers_a_cubic),
        cmocka_unit_test(bspline_is_gsl_bspline),
        cmocka_unit_test(robust_finds_planted_errors),
        cmocka_unit_test(robust_follows_a_bend),
        cmocka_unit_test(stated_uncertainty_governs_stiffness),
        cmocka_unit_test(band_of_a_constant),
        cmocka_unit_test(linearity_by_both_conventions),
        cmocka_unit_test(order_and_host_state_change_nothing),
        cmocka_unit_test(slopes_are_those_of_the_line),
        cmocka_unit_test(gsl_was_never_asked_the_impossible),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
