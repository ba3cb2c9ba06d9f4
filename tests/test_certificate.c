/* SPDX-License-Identifier: Apache-2.0 */
/* Certificates: every form of a row gives the same curve for the same meter, and what does not fit together is refused
 * by name and row. */
#include "fit_examples.h"
#include <stdlib.h>
#include <string.h>

enum { N = 14 };

/* Runs of the made-up meter: flow, temperature and viscosity differ from row to row. */
typedef struct run {
    double f_hz, q_m3s, k_per_m3, t_degc, nu_mm2s, ctpl; /* K at the meter, at the temperature of the run */
    double ro, st, k0_per_m3;                            /* body at 20 °C */
} run;

static run run_of(size_t i)
{
    run r;
    r.t_degc = 10.0 + 4.0 * (double)(i % 5);
    r.nu_mm2s = 1.2 - 0.02 * r.t_degc;
    r.ctpl = 1.0 - 9e-4 * (r.t_degc - 15.0);
    r.ro = 5e3 * pow(1.5, (double)i);
    r.st = example_st(r.ro);
    r.k0_per_m3 = example_k0(r.st);
    const double growth = 1.0 + EXAMPLE_ALPHA * (r.t_degc - 20.0), d = EXAMPLE_D0 * growth;
    r.f_hz = r.ro * r.nu_mm2s * 1e-6 / (d * d);
    r.k_per_m3 = r.k0_per_m3 / (growth * growth * growth);
    r.q_m3s = r.f_hz / r.k_per_m3;
    return r;
}

#define K_NOMINAL 265000.0

/* One way to state a run. */
typedef enum form {
    FLOW_FREQUENCY_K,
    FLOW_FREQUENCY_ALONE,
    FLOW_ERROR,
    FLOW_METER_FACTOR,
    PULSES_VOLUME_TIME,
    F_OVER_NU_K,
    DIMENSIONLESS_AS_RUN,
    CORRECTED,
    CORRECTED_DIMENSIONLESS,
    AT_BASE,
    FORMS
} form;

static void state_abscissa(const run *r, form how, flc_certificate_point *p)
{
    if (how == FLOW_FREQUENCY_K || how == FLOW_FREQUENCY_ALONE) {
        p->f_hz = r->f_hz;
    }
    if (how == F_OVER_NU_K || how == AT_BASE) {
        p->x = r->f_hz / r->nu_mm2s;
    } else if (how == DIMENSIONLESS_AS_RUN) {
        p->x = r->f_hz * EXAMPLE_D0 * EXAMPLE_D0 * 1e6 / r->nu_mm2s;
    } else if (how == CORRECTED) {
        p->x = r->ro * 1e-6 / (EXAMPLE_D0 * EXAMPLE_D0);
    } else if (how == CORRECTED_DIMENSIONLESS) {
        p->x = r->ro;
    } else {
        p->nu_mm2s = r->nu_mm2s;
    }
}

static void state_ordinate(const run *r, form how, flc_certificate_point *p)
{
    switch (how) {
    case FLOW_FREQUENCY_K:
    case F_OVER_NU_K:
        p->k_per_m3 = r->k_per_m3;
        break;
    case FLOW_ERROR:
        p->error_pct = 100.0 * (r->k_per_m3 / K_NOMINAL - 1.0);
        break;
    case FLOW_METER_FACTOR:
        p->meter_factor = K_NOMINAL / r->k_per_m3;
        break;
    case PULSES_VOLUME_TIME:
        p->time_s = 60.0;
        p->pulses = r->f_hz * 60.0;
        p->volume_m3 = r->q_m3s * 60.0;
        break;
    case DIMENSIONLESS_AS_RUN:
        p->k_per_m3 = EXAMPLE_PI / 4.0 * r->k_per_m3 * EXAMPLE_D0 * EXAMPLE_D0 * EXAMPLE_D0;
        break;
    case CORRECTED:
        p->k_per_m3 = r->k0_per_m3;
        break;
    case CORRECTED_DIMENSIONLESS:
        p->k_per_m3 = r->st;
        break;
    case AT_BASE: /* base volume = volume CTL CPL: fewer, so more pulses to each */
        p->pulses = 1e4;
        p->volume_m3 = 1e4 / r->k_per_m3 * r->ctpl;
        p->ctpl = r->ctpl;
        break;
    default:
        break;
    }
    if (how == FLOW_FREQUENCY_K || how == FLOW_FREQUENCY_ALONE || how == FLOW_ERROR || how == FLOW_METER_FACTOR) {
        p->q_m3s = r->q_m3s;
    }
}

static flc_fit *fit_of_form(form how, flc_fit_method method)
{
    flc_certificate_point points[N];
    for (size_t i = 0; i < N; i++) {
        const run r = run_of(i);
        flc_certificate_point_init(&points[i]);
        state_abscissa(&r, how, &points[i]);
        state_ordinate(&r, how, &points[i]);
        points[i].liquid = (int32_t)(i % 2); /* two liquids */
        if (how != CORRECTED && how != CORRECTED_DIMENSIONLESS) {
            points[i].t_degc = r.t_degc;
        }
    }
    flc_fit_options options = example_options(method);
    options.convention = how == DIMENSIONLESS_AS_RUN || how == CORRECTED_DIMENSIONLESS ? FLC_CONVENTION_DIMENSIONLESS
                         : how == CORRECTED                                            ? FLC_CONVENTION_NORMALISED
                                                                                       : FLC_CONVENTION_RAW;
    options.treatment =
        how == CORRECTED || how == CORRECTED_DIMENSIONLESS ? FLC_BODY_ALREADY_CORRECTED : FLC_BODY_AS_RUN;
    options.reference = how == AT_BASE ? FLC_REFERENCE_AT_BASE : FLC_REFERENCE_AT_METER;
    options.k_nominal_per_m3 = how == FLOW_ERROR || how == FLOW_METER_FACTOR ? K_NOMINAL : NAN;
    return example_fit_of(&options, points, N);
}

/* The same meter, so the same points and the same curve, whatever the form of the certificate. */
static void every_form_gives_the_same_curve(void **state)
{
    (void)state;
    for (int how = 0; how < FORMS; how++) {
        flc_fit *fit = fit_of_form((form)how, FLC_FIT_CUBIC);
        assert_int_equal(example_summary(fit).liquids, 2);
        assert_int_equal(example_summary(fit).knots, N);
        assert_int_equal(flc_fit_count(fit), N);
        for (size_t i = 0; i < N; i++) {
            const run r = run_of(i);
            const flc_fit_point point = example_point_of(fit, i);
            flc_check_relative(point.ro, r.ro, 2e-15);
            flc_check_relative(point.st, r.st, 2e-15);
            flc_check_relative(point.re, r.ro / r.st, 4e-15);
            const int corrected = how == CORRECTED || how == CORRECTED_DIMENSIONLESS;
            flc_check_relative(point.k_per_m3, corrected ? r.k0_per_m3 : r.k_per_m3, 2e-15);
            flc_check_near(point.residual_pct, 0.0, 1e-12);
            assert_int_equal(point.liquid, (int)(i % 2));
        }
        flc_fit_free(fit);
    }
    flc_fit *first = fit_of_form(CORRECTED_DIMENSIONLESS, FLC_FIT_CUBIC);
    for (int how = 0; how < FORMS; how++) {
        flc_fit *fit = fit_of_form((form)how, FLC_FIT_CUBIC);
        for (double ro = 5.01e3; ro < 9e5; ro *= 1.013) {
            flc_check_relative(example_value(fit, ro), example_value(first, ro), 1e-13);
        }
        flc_fit_free(fit);
    }
    flc_fit_free(first);
}

/* What the body does to K (-3 a dT = -0.19 % at +40 K) is in the curve only where the certificate is as run. */
static void body_treatment_is_a_choice(void **state)
{
    (void)state;
    flc_certificate_point points[2] = {example_point(1e4, 3.4), example_point(1e5, 3.4)};
    points[0].t_degc = points[1].t_degc = 60.0;
    flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *corrected = example_fit_of(&options, points, 2);
    options.treatment = FLC_BODY_AS_RUN;
    flc_fit *as_run = example_fit_of(&options, points, 2);
    const double growth = 1.0 + EXAMPLE_ALPHA * 40.0;
    flc_check_relative(example_point_of(corrected, 0).st, 3.4, 0.0);
    flc_check_relative(example_point_of(as_run, 0).st, 3.4 * growth * growth * growth, 1e-15);
    flc_check_relative(example_point_of(as_run, 0).ro, 1e4 * growth * growth, 1e-15);
    flc_fit_free(corrected);
    flc_fit_free(as_run);
}

/* ---- refusals ---- */

typedef struct refusal {
    const char *what;
    flc_status status;
    const char *argument;
    int index;
    size_t field; /* of point 1, set to value */
    double value;
} refusal;

#define OF(name) offsetof(flc_certificate_point, name)

/* Five rows with K, frequency and viscosity, as run. */
static void good_rows(flc_certificate_point *points)
{
    for (size_t i = 0; i < 5; i++) {
        const run r = run_of(i);
        flc_certificate_point_init(&points[i]);
        points[i].f_hz = r.f_hz;
        points[i].k_per_m3 = r.k_per_m3;
        points[i].nu_mm2s = r.nu_mm2s;
        points[i].t_degc = r.t_degc;
    }
}

static void check_refusal(const flc_fit_options *options, const flc_body_options *body,
                          const flc_certificate_point *points, size_t count, const refusal *expected)
{
    flc_fit *fit = (flc_fit *)(uintptr_t)1;
    flc_error error;
    const flc_status status = flc_fit_certificate(options, body, points, count, &fit, &error);
    if (status != expected->status || strcmp(error.argument, expected->argument) != 0 ||
        error.index != expected->index) {
        print_error("%s: status %d, argument %s[%d]: %s\n", expected->what, (int)status, error.argument,
                    (int)error.index, error.message);
        fail();
    }
    assert_null(fit);
    assert_int_equal(error.status, status);
    assert_true(strlen(error.message) > 10);
    assert_int_equal(flc_fit_certificate(options, body, points, count, &fit, NULL), status);
}

static void rows_are_judged_by_field_and_index(void **state)
{
    (void)state;
    static const refusal refusals[] = {
        {"no K", FLC_E_MISSING, "k_per_m3", 1, OF(k_per_m3), NAN},
        {"no viscosity", FLC_E_MISSING, "nu_mm2s", 1, OF(nu_mm2s), NAN},
        {"no frequency", FLC_E_MISSING, "x", 1, OF(f_hz), NAN},
        {"no temperature", FLC_E_MISSING, "t_degc", 1, OF(t_degc), NAN},
        {"error without a nominal K", FLC_E_MISSING, "k_nominal_per_m3", -1, OF(error_pct), 0.1},
        {"meter factor without a nominal K", FLC_E_MISSING, "k_nominal_per_m3", -1, OF(meter_factor), 1.0},
        {"flow in m3/h", FLC_E_CONFLICT, "q_m3s", 1, OF(q_m3s), 1.0},
        {"x in another unit", FLC_E_CONFLICT, "f_hz", 1, OF(x), 5.0},
        {"infinite K", FLC_E_INFINITE, "k_per_m3", 1, OF(k_per_m3), INFINITY},
        {"negative K", FLC_E_BELOW, "k_per_m3", 1, OF(k_per_m3), -1.0},
        {"zero flow", FLC_E_BELOW, "q_m3s", 1, OF(q_m3s), 0.0},
        {"zero frequency", FLC_E_BELOW, "f_hz", 1, OF(f_hz), 0.0},
        {"viscosity in m2/s", FLC_E_BELOW, "nu_mm2s", 1, OF(nu_mm2s), 1e-6},
        {"temperature in K", FLC_E_ABOVE, "t_degc", 1, OF(t_degc), 700.0},
        {"negative pressure", FLC_E_BELOW, "p_kpag", 1, OF(p_kpag), -5.0},
        {"uncertainty in %", FLC_E_ABOVE, "u_relative", 1, OF(u_relative), 5.0},
        {"zero uncertainty", FLC_E_BELOW, "u_relative", 1, OF(u_relative), 0.0},
        {"meter factor in %", FLC_E_ABOVE, "meter_factor", 1, OF(meter_factor), 99.9},
        {"steeper than Ro", FLC_E_NOT_MONOTONIC, "ln_ro", 0, OF(k_per_m3), 5e5},
    };
    const flc_body_options body = example_body();
    flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    options.convention = FLC_CONVENTION_RAW;
    options.treatment = FLC_BODY_AS_RUN;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        flc_certificate_point points[5];
        good_rows(points);
        memcpy((char *)&points[1] + refusals[i].field, &refusals[i].value, sizeof(double));
        check_refusal(&options, &body, points, 5, &refusals[i]);
    }
}

static void two_ways_to_k_must_agree(void **state)
{
    (void)state;
    const flc_body_options body = example_body();
    flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    options.convention = FLC_CONVENTION_RAW;
    options.treatment = FLC_BODY_AS_RUN;
    options.k_nominal_per_m3 = K_NOMINAL;
    flc_certificate_point points[5];
    good_rows(points);
    points[2].meter_factor = K_NOMINAL / points[2].k_per_m3 * 1.0004; /* inside 0.05 % */
    flc_fit *fit = example_fit_of(&options, points, 5);
    flc_check_same_bits(example_point_of(fit, 2).k_per_m3, points[2].k_per_m3);
    flc_fit_free(fit);
    points[2].meter_factor *= 1.0003;
    const refusal outside = {"meter factor", FLC_E_CONFLICT, "meter_factor", 2, 0, 0.0};
    check_refusal(&options, &body, points, 5, &outside);
}

static void choices_are_required(void **state)
{
    (void)state;
    flc_certificate_point points[5];
    good_rows(points);
    const flc_body_options body = example_body();
    static const refusal refusals[] = {{"convention", FLC_E_MISSING, "convention", -1, 0, 0.0},
                                       {"treatment", FLC_E_MISSING, "treatment", -1, 0, 0.0},
                                       {"reference", FLC_E_MISSING, "reference", -1, 0, 0.0},
                                       {"convention", FLC_E_CHOICE, "convention", -1, 0, 0.0},
                                       {"method", FLC_E_CHOICE, "method", -1, 0, 0.0},
                                       {"ctpl", FLC_E_MISSING, "ctpl", 0, 0, 0.0},
                                       {"u NaN", FLC_E_NAN, "u_relative", -1, 0, 0.0},
                                       {"u", FLC_E_ABOVE, "u_relative", -1, 0, 0.0},
                                       {"merge", FLC_E_ABOVE, "merge_ro", -1, 0, 0.0},
                                       {"merge", FLC_E_BELOW, "merge_ro", -1, 0, 0.0},
                                       {"nominal", FLC_E_BELOW, "k_nominal_per_m3", -1, 0, 0.0},
                                       {"pieces", FLC_E_ABOVE, "break_points", -1, 0, 0.0},
                                       {"size", FLC_E_SIZE, "options", -1, 0, 0.0}};
    for (int i = 0; i < (int)(sizeof refusals / sizeof refusals[0]); i++) {
        flc_fit_options options = example_options(FLC_FIT_STEFFEN), fresh;
        flc_fit_options_init(&fresh);
        options.treatment = FLC_BODY_AS_RUN;
        options.convention = i == 0 ? fresh.convention : i == 3 ? (flc_curve_convention)9 : FLC_CONVENTION_RAW;
        options.treatment = i == 1 ? fresh.treatment : FLC_BODY_AS_RUN;
        options.reference = i == 2 ? fresh.reference : i == 5 ? FLC_REFERENCE_AT_BASE : FLC_REFERENCE_AT_METER;
        options.method = i == 4 ? (flc_fit_method)4 : FLC_FIT_STEFFEN;
        options.u_relative = i == 6 ? NAN : i == 7 ? 0.6 : fresh.u_relative;
        options.merge_ro = i == 8 ? 0.2 : i == 9 ? -0.1 : fresh.merge_ro;
        options.k_nominal_per_m3 = i == 10 ? 0.0 : NAN;
        options.break_points = i == 11 ? 65 : 0;
        options.size -= i == 12;
        check_refusal(&options, &body, points, 5, &refusals[i]);
    }
}

static void bodies_and_pointers_are_judged(void **state)
{
    (void)state;
    flc_certificate_point points[5];
    good_rows(points);
    flc_body_options body = example_body();
    flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    options.convention = FLC_CONVENTION_RAW;
    options.treatment = FLC_BODY_AS_RUN;
    check_refusal(NULL, &body, points, 5, &(refusal){"", FLC_E_NULL, "options", -1, 0, 0.0});
    check_refusal(&options, NULL, points, 5, &(refusal){"", FLC_E_NULL, "body", -1, 0, 0.0});
    check_refusal(&options, &body, NULL, 5, &(refusal){"", FLC_E_NULL, "points", -1, 0, 0.0});
    check_refusal(&options, &body, points, 1, &(refusal){"", FLC_E_COUNT, "points", -1, 0, 0.0});
    check_refusal(&options, &body, points, 0, &(refusal){"", FLC_E_COUNT, "points", -1, 0, 0.0});
    assert_int_equal(flc_fit_certificate(&options, &body, points, 5, NULL, NULL), FLC_E_NULL);
    points[4].size = 0;
    check_refusal(&options, &body, points, 5, &(refusal){"", FLC_E_SIZE, "points", 4, 0, 0.0});
    good_rows(points);
    body.end = FLC_END_LAME_CLOSED; /* now the pressure of the run counts */
    body.wall_m = 0.005;
    body.housing.modulus_gpa = 195.0;
    body.housing.poisson = 0.3;
    check_refusal(&options, &body, points, 5, &(refusal){"", FLC_E_MISSING, "p_kpag", 0, 0, 0.0});
    body.bore_m = NAN;
    check_refusal(&options, &body, points, 5, &(refusal){"", FLC_E_MISSING, "bore_m", -1, 0, 0.0});
}

static void too_few_distinct_points(void **state)
{
    (void)state;
    const flc_body_options body = example_body();
    flc_certificate_point points[9];
    for (size_t i = 0; i < 9; i++) {
        points[i] = example_point(2e4 * (1.0 + 1e-3 * (double)i), 3.4); /* all at one Ro, within 0.8 % */
    }
    static const struct {
        size_t distinct, break_points, needed[4];
    } cases[] = {{1, 0, {2, 2, 4, 6}}, {3, 0, {0, 0, 4, 6}}, {4, 0, {0, 0, 0, 6}}, {5, 3, {0, 0, 6, 8}}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (size_t k = 0; k < cases[i].distinct; k++) {
            points[k] = example_point(2e4 * (1.0 + (double)k), 3.4);
        }
        for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_ROBUST; method++) {
            flc_fit_options options = example_options((flc_fit_method)method);
            options.break_points = cases[i].break_points;
            options.merge_ro = 0.01;
            if (cases[i].needed[method] != 0) {
                const size_t count = cases[i].distinct < 2 ? 9 : cases[i].distinct;
                flc_error error;
                flc_fit *fit = NULL;
                assert_int_equal(flc_fit_certificate(&options, &body, points, count, &fit, &error), FLC_E_COUNT);
                assert_string_equal(error.argument, "points");
                flc_check_same_bits(error.value, (double)cases[i].distinct);
                flc_check_same_bits(error.limit, (double)cases[i].needed[method]);
            } else {
                flc_fit_free(example_fit_of(&options, points, cases[i].distinct));
            }
        }
    }
}

static void results_are_guarded(void **state)
{
    (void)state;
    const flc_certificate_point points[] = {example_point(1e4, 3.4), example_point(1e5, 3.4)};
    const flc_fit_options options = example_options(FLC_FIT_STEFFEN);
    flc_fit *fit = example_fit_of(&options, points, 2);
    flc_fit_point point;
    flc_fit_point_init(&point);
    assert_int_equal(flc_fit_point_at(fit, 0, &point), FLC_OK);
    assert_int_equal(flc_fit_point_at(fit, 2, &point), FLC_E_ABOVE);
    flc_check_nan(point.st);
    assert_int_equal(flc_fit_point_at(NULL, 0, &point), FLC_E_NULL);
    assert_int_equal(flc_fit_point_at(fit, 0, NULL), FLC_E_NULL);
    point.size = 4;
    assert_int_equal(flc_fit_point_at(fit, 0, &point), FLC_E_SIZE);
    flc_fit_summary summary;
    flc_fit_summary_init(&summary);
    assert_int_equal(flc_fit_summarise(NULL, &summary), FLC_E_NULL);
    flc_check_nan(summary.ro_low);
    assert_int_equal(flc_fit_summarise(fit, NULL), FLC_E_NULL);
    summary.size = 4;
    assert_int_equal(flc_fit_summarise(fit, &summary), FLC_E_SIZE);
    assert_null(flc_fit_curve(NULL));
    assert_int_equal(flc_fit_count(NULL), 0);
    flc_fit_free(NULL);
    flc_fit_free(fit);
}

static void words_and_lists(void **state)
{
    (void)state;
    flc_fit_method method;
    assert_int_equal(flc_fit_method_from_name("robust", &method), FLC_OK);
    assert_int_equal(method, FLC_FIT_ROBUST);
    assert_int_equal(flc_fit_method_from_name("spline", &method), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_fit_method_from_name(NULL, &method), FLC_E_NULL);
    flc_reference_volume reference;
    assert_int_equal(flc_reference_volume_from_name("at_base", &reference), FLC_OK);
    assert_int_equal(reference, FLC_REFERENCE_AT_BASE);
    assert_int_equal(flc_reference_volume_from_name("base", &reference), FLC_E_UNKNOWN_NAME);
    assert_true(flc_analysis_method_count() > 0);
    for (size_t i = 0; i < flc_analysis_method_count(); i++) {
        assert_non_null(flc_analysis_method_at(i)->name);
    }
    assert_null(flc_analysis_method_at(flc_analysis_method_count()));
    /* Student's t, 95 %, 10 degrees of freedom: 2.23 (JCGM 100:2008, Table G.2), here called by its row. */
    double t = 0.0;
    for (size_t i = 0; i < flc_analysis_method_count(); i++) {
        const flc_method_info *info = flc_analysis_method_at(i);
        const flc_value values[] = {{0.95, NULL, 0}, {10.0, NULL, 0}};
        if (strcmp(info->name, "student_t") == 0) {
            assert_int_equal(flc_method_call(info, values, 2, &t, NULL), FLC_OK);
        }
    }
    flc_check_near(t, 2.23, 0.005);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_form_gives_the_same_curve),
        cmocka_unit_test(body_treatment_is_a_choice),
        cmocka_unit_test(rows_are_judged_by_field_and_index),
        cmocka_unit_test(two_ways_to_k_must_agree),
        cmocka_unit_test(choices_are_required),
        cmocka_unit_test(bodies_and_pointers_are_judged),
        cmocka_unit_test(too_few_distinct_points),
        cmocka_unit_test(results_are_guarded),
        cmocka_unit_test(words_and_lists),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
