/* SPDX-License-Identifier: Apache-2.0 */
/* Whole records against checks/whole_records.csv: every row makes its own meter and liquid and evaluates one record.
 * The expected values were computed with 40 digits apart from the library (support/record_oracle.py, which also writes
 * the file); the limit is 2e-15 relative times the condition number of the row, where that is above 1. */
#include "example_meter.h"

#include <stdio.h>
#include <stdlib.h>

#define LIMIT 2e-15
#define COLUMNS_MAX 80
#define LINE_MAX_BYTES 8192
#define POINTS_MAX 8
#define KNOTS_MAX 8

/* ---- files of comma-separated cells, none of them quoted ---- */

typedef struct table {
    FILE *file;
    char head[LINE_MAX_BYTES], line[LINE_MAX_BYTES];
    char *name[COLUMNS_MAX], *cell[COLUMNS_MAX];
    size_t columns;
} table;

static size_t split(char *line, char *cells[COLUMNS_MAX])
{
    size_t count = 0;
    line[strcspn(line, "\r\n")] = '\0';
    for (char *at = line; at != NULL; count++) {
        assert_true(count < COLUMNS_MAX);
        cells[count] = at;
        at = strchr(at, ',');
        if (at != NULL) {
            *at++ = '\0';
        }
    }
    return count;
}

static table open_table(const char *name)
{
    static table t;
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", FLC_TEST_CHECKS_DIR, name);
    t.file = fopen(path, "r");
    if (t.file == NULL) {
        fail_msg("cannot read %s", path);
    }
    assert_non_null(fgets(t.head, sizeof t.head, t.file));
    return t;
}

static int next_row(table *t)
{
    if (fgets(t->line, sizeof t->line, t->file) == NULL) {
        fclose(t->file);
        return 0;
    }
    assert_int_equal(split(t->line, t->cell), t->columns);
    return 1;
}

static const char *text(const table *t, const char *name)
{
    for (size_t i = 0; i < t->columns; i++) {
        if (strcmp(t->name[i], name) == 0) {
            return t->cell[i];
        }
    }
    fail_msg("no column %s", name);
    return "";
}

/* NaN for an empty cell. */
static double number(const table *t, const char *name)
{
    const char *cell = text(t, name);
    char *end;
    const double value = strtod(cell, &end);
    if (*cell == '\0') {
        return NAN;
    }
    if (*end != '\0') {
        fail_msg("column %s: '%s' is no number", name, cell);
    }
    return value;
}

static size_t numbers(const table *t, const char *name, double list[POINTS_MAX])
{
    size_t count = 0;
    char *end;
    for (const char *at = text(t, name); *at != '\0'; at = end) {
        assert_true(count < POINTS_MAX);
        list[count++] = strtod(at, &end);
        assert_true(end > at);
    }
    return count;
}

/* ---- a meter and a liquid from a row ---- */

static flc_curve *curve_named(const char *name, const flc_body_options *body)
{
    double x[KNOTS_MAX], st[KNOTS_MAX], c[4 * KNOTS_MAX];
    size_t knots = 0;
    table t = open_table("whole_record_curves.csv");
    for (t.columns = split(t.head, t.name); next_row(&t);) {
        if (strcmp(text(&t, "curve"), name) == 0) {
            assert_true(knots < KNOTS_MAX);
            x[knots] = number(&t, "ln_ro");
            st[knots] = number(&t, "st");
            c[4 * knots] = number(&t, "c0");
            c[4 * knots + 1] = number(&t, "c1");
            c[4 * knots + 2] = number(&t, "c2");
            c[4 * knots + 3] = number(&t, "c3");
            knots++;
        }
    }
    flc_curve *curve = NULL;
    flc_error error;
    if (flc_curve_new(flc_curve_reference_for(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, body), knots, x, st, c, &curve,
                      &error) != FLC_OK) {
        fail_msg("curve %s: %s", name, error.message);
    }
    return curve;
}

static flc_metal metal_of(const table *t, const char *column)
{
    flc_metal metal;
    const char *cell = text(t, column);
    if (strncmp(cell, "nist ", 5) == 0) {
        assert_int_equal(flc_metal_nist(cell + 5, &metal, NULL), FLC_OK);
        metal.modulus_gpa = number(t, "modulus_gpa");
        metal.poisson = number(t, "poisson");
    } else {
        assert_int_equal(flc_metal_mean(number(t, column), -273.15, 600.0, number(t, "modulus_gpa"),
                                        number(t, "poisson"), FLC_USER_GIVEN, INVENTED, &metal, NULL),
                         FLC_OK);
    }
    return metal;
}

static flc_body_options body_of(const table *t)
{
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = number(t, "bore_m");
    body.t0_degc = number(t, "t0_degc");
    body.p0_kpag = number(t, "p0_kpag");
    body.housing = metal_of(t, "housing");
    if (*text(t, "rotor") != '\0') {
        body.rotor = metal_of(t, "rotor");
    }
    body.area_blocked = number(t, "area_blocked");
    assert_int_equal(flc_body_end_from_name(text(t, "end"), &body.end), FLC_OK);
    body.wall_m = number(t, "wall_m");
    body.beyond = FLC_BODY_EXTEND; /* the rows reach past the 300 K of the cryogenic polynomials */
    return body;
}

static flc_meter *meter_of(const table *t)
{
    flc_meter_options options;
    flc_meter_options_init(&options);
    options.name = text(t, "id");
    assert_int_equal(flc_curve_beyond_from_name(text(t, "below"), &options.below), FLC_OK);
    assert_int_equal(flc_curve_beyond_from_name(text(t, "above"), &options.above), FLC_OK);
    const flc_body_options body = body_of(t);
    flc_curve *curve = curve_named(text(t, "curve"), &body);
    flc_meter *meter = NULL;
    flc_error error;
    if (flc_meter_new(&options, &body, curve, &meter, &error) != FLC_OK) {
        fail_msg("%s: %s", options.name, error.message);
    }
    flc_curve_free(curve);
    return meter;
}

static flc_liquid *liquid_of(const table *t)
{
    double time[POINTS_MAX], nu[POINTS_MAX], second_time[POINTS_MAX], second_nu[POINTS_MAX];
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = text(t, "id");
    assert_int_equal(flc_volume_method_from_name(text(t, "volume"), &options.volume), FLC_OK);
    assert_int_equal(flc_petroleum_base_from_name(text(t, "base"), &options.base), FLC_OK);
    options.product.alpha60_per_degf = number(t, "alpha60_per_degf");
    if (*text(t, "group") != '\0') {
        assert_int_equal(flc_petroleum_group_from_name(text(t, "group"), &options.product.group), FLC_OK);
    }
    assert_int_equal(flc_negative_pressure_from_name(text(t, "negative_pressure"), &options.negative_pressure), FLC_OK);
    assert_int_equal(flc_viscosity_source_from_name(text(t, "viscosity"), &options.viscosity), FLC_OK);
    assert_int_equal(flc_d341_form_from_name(text(t, "form"), &options.form), FLC_OK);
    assert_int_equal(flc_viscosity_beyond_from_name(text(t, "nu_beyond"), &options.beyond), FLC_OK);
    options.points = (flc_viscosity_points){numbers(t, "t_points", time), time, nu, number(t, "rho_points")};
    assert_int_equal(numbers(t, "nu_points", nu), options.points.count);
    options.second =
        (flc_viscosity_points){numbers(t, "t_second", second_time), second_time, second_nu, number(t, "rho_second")};
    assert_int_equal(numbers(t, "nu_second", second_nu), options.second.count);
    options.slope_b = number(t, "slope_b");
    options.u_nu_relative = 0.0;
    return invented_liquid_of(&options);
}

static flc_reading reading_of(const table *t)
{
    flc_reading reading;
    flc_reading_init(&reading);
    reading.pulses = number(t, "pulses");
    reading.duration_s = number(t, "duration_s");
    reading.flowing_s = number(t, "flowing_s");
    reading.f_flowing_hz = number(t, "f_flowing_hz");
    reading.f_hz = number(t, "f_hz");
    reading.t_degc = number(t, "t_degc");
    reading.p_kpag = number(t, "p_kpag");
    reading.nu_mm2s = number(t, "nu_given");
    reading.density.rho_base_kgm3 = number(t, "rho_base");
    reading.density.rho_observed_kgm3 = number(t, "rho_observed");
    reading.density.t_observed_degc = number(t, "t_observed_degc");
    reading.density.p_observed_kpag = number(t, "p_observed_kpag");
    if (*text(t, "densitometer_factor") != '\0') {
        reading.density.densitometer_factor = number(t, "densitometer_factor");
    }
    return reading;
}

/* ---- judging ---- */

static const char *const results[] = {"nu_mm2s", "d_m", "b_ratio",       "ro",   "st",       "k_per_m3", "q_m3s",
                                      "ctl",     "cpl", "rho_base_kgm3", "v_m3", "v_base_m3"};

#define RESULTS (sizeof results / sizeof results[0])

static double field(const flc_result *r, const char *name)
{
#define FIND(field_name, unit, meaning)   \
    if (strcmp(name, #field_name) == 0) { \
        return r->field_name;             \
    }
    FLC_RESULT_LIST(FIND)
    fail_msg("no result %s", name);
    return NAN;
}

/* Error over the limit of this row: at most 1 passes; a NaN does not. */
static double error_over_limit(double value, double expected, double condition)
{
    return fabs(value - expected) / (LIMIT * fmax(1.0, condition) * fabs(expected));
}

static void check_results(const table *t, const flc_result *r, double worst[RESULTS])
{
    for (size_t i = 0; i < RESULTS; i++) {
        const double expected = number(t, results[i]), value = field(r, results[i]);
        char name[64];
        snprintf(name, sizeof name, "condition_%s", results[i]);
        if (isnan(expected)) {
            /* what a refusal leaves open, and what this liquid has not */
            assert_true(r->status != FLC_OK || isnan(value));
            continue;
        }
        const double over = error_over_limit(value, expected, number(t, name));
        if (!(over <= 1.0)) {
            fail_msg("%s: %s = %.17g, expected %.17g: %.2f times the limit (condition %s)", text(t, "id"), results[i],
                     value, expected, over, text(t, name));
        }
        worst[i] = fmax(worst[i], over);
    }
}

static void test_whole_records(void **state)
{
    (void)state;
    double worst[RESULTS] = {0.0};
    int good = 0, refused = 0;
    table t = open_table("whole_records.csv");
    for (t.columns = split(t.head, t.name); next_row(&t);) {
        flc_meter *meter = meter_of(&t);
        flc_liquid *liquid = liquid_of(&t);
        const flc_reading reading = reading_of(&t);
        const flc_result r = evaluated(meter, liquid, &reading);
        if (strcmp(flc_status_name(r.status), text(&t, "status")) != 0) {
            fail_msg("%s: %s, expected %s", text(&t, "id"), flc_status_name(r.status), text(&t, "status"));
        }
        check_results(&t, &r, worst);
        good += r.status == FLC_OK;
        refused += r.status != FLC_OK;
        flc_meter_free(meter);
        flc_liquid_free(liquid);
    }
    for (size_t i = 0; i < RESULTS; i++) {
        print_message("%-14s largest error %.2f of the limit\n", results[i], worst[i]);
        assert_true(worst[i] > 0.0); /* compared at all */
    }
    assert_true(good >= 200 && refused >= 40);
}

/* The judgement itself: it fails where the expected value is shifted by three limits, or a value is not there. */
static void test_the_judgement_can_fail(void **state)
{
    (void)state;
    const double value = 812.5;
    assert_true(error_over_limit(value, value, 1.0) <= 1.0);
    assert_true(!(error_over_limit(value, value * (1.0 + 3.0 * LIMIT), 1.0) <= 1.0));
    assert_true(!(error_over_limit(value, value * (1.0 + 60.0 * LIMIT), 20.0) <= 1.0));
    assert_true(!(error_over_limit(NAN, value, 1.0) <= 1.0));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_whole_records),
        cmocka_unit_test(test_the_judgement_can_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
