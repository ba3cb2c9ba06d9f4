/* SPDX-License-Identifier: Apache-2.0 */
/* Every family of volume correction through a liquid and a meter: the factors are those of the family's own published
 * methods, the base volume is the gross volume times both, an observed density leads back, explain shows the same bits,
 * a batch gives the bits of one call, and what lies outside a method is refused by the name of the record's field. */
#include "family_liquids.h"

static flc_density density_of(double rho_base)
{
    const flc_density density = {rho_base, NAN, NAN, NAN, 1.0};
    return density;
}

static void check_factors(const family_liquid *family, const flc_liquid *liquid, const family_record *r)
{
    const flc_density density = density_of(r->rho);
    flc_volume_factors f;
    if (flc_liquid_volume(liquid, &density, r->t, r->p, &f) != FLC_OK) {
        fail_msg("%s refused at rho %g, t %g, p %g", family->name, r->rho, r->t, r->p);
    }
    double ctl, cpl;
    family->expect(r, &ctl, &cpl);
    flc_check_relative(f.ctl, ctl, 4e-16);
    flc_check_relative(f.cpl, cpl, 1e-14); /* psi, and a vapour pressure worked out with libm */
    flc_check_same_bits(f.ctpl, f.ctl * f.cpl);
    if (!isnan(r->rho)) {
        flc_check_same_bits(f.rho_base_kgm3, r->rho);
    }
}

static void test_factors_are_those_of_the_methods(void **state)
{
    (void)state;
    uint64_t seed = 61;
    for (size_t i = 0; i < FAMILIES; i++) {
        flc_liquid *liquid = family_new(&family_liquids[i]);
        for (int draw = 0; draw < 40; draw++) {
            const family_record record = family_draw(&family_liquids[i], &seed);
            check_factors(&family_liquids[i], liquid, &record);
        }
        flc_liquid_free(liquid);
    }
}

static flc_reading family_reading(const family_record *r)
{
    flc_reading reading = invented_reading();
    reading.t_degc = r->t;
    reading.p_kpag = r->p;
    reading.density = density_of(r->rho);
    reading.nu_mm2s = 3.0;
    return reading;
}

static void test_a_meter_books_the_base_volume(void **state)
{
    (void)state;
    flc_meter *meter = family_meter();
    uint64_t seed = 62;
    for (size_t i = 0; i < FAMILIES; i++) {
        const family_liquid *family = &family_liquids[i];
        flc_liquid *liquid = family_new(family);
        const family_record record = family_draw(family, &seed);
        const flc_reading reading = family_reading(&record);
        flc_result result;
        flc_error error;
        flc_result_init(&result);
        if (flc_meter_evaluate(meter, liquid, &reading, &result, &error) != FLC_OK) {
            fail_msg("%s: %s", family->name, error.message);
        }
        double ctl, cpl;
        family->expect(&record, &ctl, &cpl);
        flc_check_relative(result.v_base_m3, result.v_m3 * ctl * cpl, 1e-14);
        flc_liquid_free(liquid);
    }
    flc_meter_free(meter);
}

/* A densitometer at the meter reads rho_base CTL CPL; from there the base density comes back. */
static void test_an_observed_density_leads_back(void **state)
{
    (void)state;
    uint64_t seed = 63;
    size_t tried = 0;
    for (size_t i = 0; i < FAMILIES; i++) {
        const family_liquid *family = &family_liquids[i];
        if (isnan(family->rho_low) || strcmp(family->name, "p1980_6c") == 0 || strcmp(family->name, "p1980_60c") == 0) {
            continue;
        }
        flc_liquid *liquid = family_new(family);
        for (int draw = 0; draw < 20; draw++) {
            const family_record r = family_draw(family, &seed);
            flc_density density = density_of(r.rho);
            flc_volume_factors f, back;
            assert_int_equal(flc_liquid_volume(liquid, &density, r.t, r.p, &f), FLC_OK);
            density = (flc_density){NAN, r.rho * f.ctpl / 1.001, r.t, r.p, 1.001};
            if (flc_liquid_volume(liquid, &density, r.t, r.p, &back) != FLC_OK) {
                fail_msg("%s refused an observed density: rho %g, t %g, p %g", family->name, r.rho, r.t, r.p);
            }
            /* alpha of the 1980 tables is rounded forward and not backward (petroleum_1980.h); F of 1984 likewise */
            const int rounded = strncmp(family->name, "p1980", 5) == 0;
            flc_check_relative(back.rho_base_kgm3, r.rho, rounded ? 3e-5 : 2e-13);
            assert_true(back.flags & FLC_FLAG_OBSERVED_DENSITY);
            tried++;
        }
        flc_liquid_free(liquid);
    }
    assert_true(tried > 200);
}

static double step_of(const flc_step *steps, size_t count, const char *symbol)
{
    double value = NAN;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(steps[i].symbol, symbol) == 0) {
            value = steps[i].value;
        }
    }
    return value;
}

static void test_explain_shows_the_same_bits(void **state)
{
    (void)state;
    flc_meter *meter = family_meter();
    uint64_t seed = 64;
    for (size_t i = 0; i < FAMILIES; i++) {
        flc_liquid *liquid = family_new(&family_liquids[i]);
        const family_record record = family_draw(&family_liquids[i], &seed);
        const flc_reading reading = family_reading(&record);
        flc_result result;
        flc_result_init(&result);
        assert_int_equal(flc_meter_evaluate(meter, liquid, &reading, &result, NULL), FLC_OK);
        flc_step steps[160];
        size_t count = 0;
        assert_int_equal(flc_explain(meter, liquid, &reading, steps, 160, &count, NULL), FLC_OK);
        flc_check_same_bits(step_of(steps, count, "CTL"), result.ctl);
        flc_check_same_bits(step_of(steps, count, "CPL"), result.cpl);
        flc_check_same_bits(step_of(steps, count, "V_b"), result.v_base_m3);
        size_t size = 0;
        assert_int_equal(flc_explain_text(meter, liquid, &reading, NULL, 0, &size), FLC_E_BUFFER);
        assert_true(size > 1000);
        flc_liquid_free(liquid);
    }
    flc_meter_free(meter);
}

#define BATCH 40

static void test_a_batch_has_the_bits_of_one_call(void **state)
{
    (void)state;
    flc_meter *meter = family_meter();
    uint64_t seed = 65;
    for (size_t i = 0; i < FAMILIES; i++) {
        flc_liquid *liquid = family_new(&family_liquids[i]);
        double t[BATCH], p[BATCH], rho[BATCH], v_base[BATCH];
        const flc_reading common = invented_reading();
        const double nu = 3.0;
        for (size_t k = 0; k < BATCH; k++) {
            const family_record record = family_draw(&family_liquids[i], &seed);
            t[k] = record.t, p[k] = record.p, rho[k] = record.rho;
        }
        flc_readings in;
        flc_results out;
        flc_readings_init(&in);
        flc_results_init(&out);
        in.pulses = (flc_column){&common.pulses, 0}, in.duration_s = (flc_column){&common.duration_s, 0};
        in.t_degc = (flc_column){t, 1}, in.p_kpag = (flc_column){p, 1}, in.nu_mm2s = (flc_column){&nu, 0};
        in.rho_base_kgm3 = (flc_column){rho, 1};
        out.v_base_m3 = v_base;
        size_t refused = 1;
        assert_int_equal(flc_meter_evaluate_n(meter, liquid, &in, BATCH, &out, NULL, &refused), FLC_OK);
        assert_int_equal(refused, 0);
        for (size_t k = 0; k < BATCH; k++) {
            const family_record record = {rho[k], t[k], p[k], NAN};
            const flc_reading reading = family_reading(&record);
            flc_result result;
            flc_result_init(&result);
            assert_int_equal(flc_meter_evaluate(meter, liquid, &reading, &result, NULL), FLC_OK);
            flc_check_same_bits(v_base[k], result.v_base_m3);
        }
        flc_liquid_free(liquid);
    }
    flc_meter_free(meter);
}

/* ---- what is outside ---- */

static void check_refusal(const family_liquid *family, flc_reading reading, flc_status status, const char *argument)
{
    flc_meter *meter = family_meter();
    flc_liquid *liquid = family_new(family);
    flc_result result;
    flc_error error;
    flc_result_init(&result);
    const flc_status got = flc_meter_evaluate(meter, liquid, &reading, &result, &error);
    if (got != status || strcmp(error.argument, argument) != 0) {
        fail_msg("%s: %s %s", family->name, flc_status_name(got), error.message);
    }
    flc_check_nan(result.v_base_m3);
    flc_liquid_free(liquid);
    flc_meter_free(meter);
}

static void test_outside_a_method_the_field_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < FAMILIES; i++) {
        const family_liquid *family = &family_liquids[i];
        const int own_range = strcmp(family->name, "saturated") == 0;
        uint64_t seed = 66 + i;
        const family_record inside = family_draw(family, &seed);
        flc_reading reading = family_reading(&inside);
        reading.t_degc = own_range ? 150.0 : 580.0;
        check_refusal(family, reading, FLC_E_ABOVE, "t_degc");
        reading = family_reading(&inside);
        reading.t_degc = NAN;
        check_refusal(family, reading, FLC_E_NAN, "t_degc");
        if (!isnan(inside.rho) && strncmp(family->name, "aromatic", 8) != 0 && strcmp(family->name, "p1980_60c") != 0 &&
            strcmp(family->name, "p1980_6c") != 0) {
            reading = family_reading(&inside);
            reading.density.rho_base_kgm3 = 1900.0;
            check_refusal(family, reading, FLC_E_ABOVE, "rho_base_kgm3");
        }
    }
}

static void test_density_given_or_not(void **state)
{
    (void)state;
    for (size_t i = 0; i < FAMILIES; i++) {
        const family_liquid *family = &family_liquids[i];
        uint64_t seed = 67 + i;
        const family_record inside = family_draw(family, &seed);
        flc_reading reading = family_reading(&inside);
        if (!isnan(inside.rho) && strncmp(family->name, "aromatic", 8) != 0) {
            reading.density.rho_base_kgm3 = NAN;
            check_refusal(family, reading, FLC_E_MISSING, "rho_base_kgm3");
        } else if (strcmp(family->name, "cipm") == 0 || strcmp(family->name, "lng") == 0) {
            reading.density.rho_base_kgm3 = 500.0;
            check_refusal(family, reading, FLC_E_CONFLICT, "rho_base_kgm3");
        }
    }
}

/* ---- vapour pressure, base pressure ---- */

static const family_liquid *family_named(const char *name)
{
    for (size_t i = 0; i < FAMILIES; i++) {
        if (strcmp(family_liquids[i].name, name) == 0) {
            return &family_liquids[i];
        }
    }
    fail_msg("no family %s", name);
    return NULL;
}

static void test_each_source_of_vapour_pressure_says_so(void **state)
{
    (void)state;
    flc_liquid_options options = family_options(family_named("light_60f"));
    options.vapour = FLC_VAPOUR_MEASURED;
    flc_liquid *liquid = invented_liquid_of(&options);
    const flc_density density = density_of(520.0);
    flc_volume_factors f;
    assert_int_equal(flc_liquid_volume(liquid, &density, 20.0, 2500.0, &f), FLC_E_MISSING);
    assert_int_equal(flc_liquid_volume_above_vapour(liquid, &density, 20.0, 2500.0, 850.0, &f), FLC_OK);
    double cpl;
    OK(flc_cpl_compressibility_1986(520.0 / 999.016, 68.0, (2500.0 - (850.0 - ATMOSPHERE_KPA)) / KPA_PER_PSI, &cpl));
    flc_check_relative(f.cpl, cpl, 1e-14);
    assert_true(f.flags & FLC_FLAG_VAPOUR_MEASURED);
    assert_false(f.flags & FLC_FLAG_VAPOUR_MARGIN);
    assert_int_equal(flc_liquid_volume_above_vapour(liquid, &density, 20.0, 950.0, 850.0, &f), FLC_OK);
    assert_true(f.flags & FLC_FLAG_VAPOUR_MARGIN); /* 1051 kPa absolute is under 1.25 times 850 */
    assert_int_equal(flc_liquid_volume_above_vapour(liquid, &density, 20.0, 700.0, 850.0, &f), FLC_E_BELOW);
    flc_liquid_free(liquid);
    liquid = family_new(family_named("light_60f"));
    assert_int_equal(flc_liquid_volume(liquid, &density, 20.0, 2500.0, &f), FLC_OK);
    assert_true(f.flags & FLC_FLAG_VAPOUR_SUPPLIED);
    assert_int_equal(flc_liquid_volume_above_vapour(liquid, &density, 20.0, 2500.0, 850.0, &f), FLC_E_CONFLICT);
    flc_liquid_free(liquid);
    liquid = family_new(family_named("light_15c"));
    assert_int_equal(flc_liquid_volume(liquid, &density, 20.0, 2500.0, &f), FLC_OK);
    assert_true(f.flags & FLC_FLAG_VAPOUR_LABORATORY);
    flc_liquid_free(liquid);
}

/* At its base nothing is corrected, whatever the base pressure; away from it the two ways to the base agree. */
static void test_a_base_pressure(void **state)
{
    (void)state;
    static const char *const names[] = {"p2004_any", "p1980_15c",    "sea_fixed",
                                        "cipm",      "produced_15c", "ethanol_density"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        const family_liquid *family = family_named(names[i]);
        flc_liquid_options options = family_options(family);
        flc_liquid *at_0 = invented_liquid_of(&options);
        options.p_base_kpag = 1000.0;
        flc_liquid *at_1000 = invented_liquid_of(&options);
        const double tb =
            isnan(options.t_base_degc) ? options.base == FLC_PETROLEUM_BASE_15C ? 15.0 : 20.0 : options.t_base_degc;
        const double rho = isnan(family->rho_low) ? NAN : 0.5 * (family->rho_low + family->rho_high);
        flc_volume_factors f, g, base;
        flc_density density = density_of(rho);
        assert_int_equal(flc_liquid_volume(at_0, &density, tb, 1000.0, &base), FLC_OK);
        assert_int_equal(flc_liquid_volume(at_0, &density, 31.0, 400.0, &f), FLC_OK);
        if (!isnan(rho)) {
            density.rho_base_kgm3 = rho * base.ctpl;
        }
        assert_int_equal(flc_liquid_volume(at_1000, &density, 31.0, 400.0, &g), FLC_OK);
        /* mass is kept: f and g differ by the compression to the base pressure */
        flc_check_relative(g.ctpl * base.ctpl, f.ctpl, strcmp(names[i], "p1980_15c") == 0 ? 1e-6 : 1e-12);
        assert_int_equal(flc_liquid_volume(at_1000, &density, tb, 1000.0, &g), FLC_OK);
        flc_check_relative(g.ctpl, 1.0, 1e-9);
        flc_liquid_free(at_0);
        flc_liquid_free(at_1000);
    }
}

/* ---- what cannot be made ---- */

/* pe(15 degC) = 1200 exp(-2200 (1/288.15 - 1/310.928)) = 685.9 kPa absolute, 584.6 gauge at 101.325 */
static void base_under_vapour(flc_liquid_options *o)
{
    o->vapour = FLC_VAPOUR_LABORATORY;
    o->pe378_kpa = 1200.0;
    o->vapour_slope_k = 2200.0;
    o->base = FLC_PETROLEUM_BASE_15C;
    o->t_base_degc = NAN;
    o->p_base_kpag = 584.0;
}
static void vapour_of_2004(flc_liquid_options *o)
{
    base_under_vapour(o);
    o->p_base_kpag = 0.0;
}
static void short_of_methane(flc_liquid_options *o)
{
    o->lng.x_c1 -= 0.01;
}
static void no_compressibility(flc_liquid_options *o)
{
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
static void other_compressibility(flc_liquid_options *o)
{
    o->compressibility = FLC_COMPRESSIBILITY_1986;
}
static void no_f(flc_liquid_options *o)
{
    supplied(o, NAN);
}
static void two_bases(flc_liquid_options *o)
{
    o->t_base_degc = 25.0;
}
static void low_base(flc_liquid_options *o)
{
    o->base = (flc_petroleum_base)-1, o->t_base_degc = -201.0;
}
static void odd_fluid(flc_liquid_options *o)
{
    o->aromatic = (flc_aromatic)40;
}
static void no_fluid(flc_liquid_options *o)
{
    o->aromatic = (flc_aromatic)-1;
}
static void no_water(flc_liquid_options *o)
{
    o->water = (flc_water_formulation)-1;
}
static void warm_base(flc_liquid_options *o)
{
    o->base = (flc_petroleum_base)-1, o->t_base_degc = 90.0;
}
static void no_vapour(flc_liquid_options *o)
{
    o->vapour = FLC_VAPOUR_NONE;
}
static void much_ethanol(flc_liquid_options *o)
{
    o->mass_fraction = 1.5;
}
static void no_methane(flc_liquid_options *o)
{
    o->lng.x_c1 = NAN;
}
static void much_nitrogen(flc_liquid_options *o)
{
    o->lng.x_n2 = 0.2;
}
static void one_coefficient(flc_liquid_options *o)
{
    o->polynomial.count = 1;
}
static void no_alpha(flc_liquid_options *o)
{
    o->alpha15_per_degc = NAN;
}
static void falling_table(flc_liquid_options *o)
{
    static const double t[] = {20.0, 0.0, 60.0};
    o->table.t_degc = t;
}

static const struct {
    const char *family;
    void (*spoil)(flc_liquid_options *options);
    flc_status status;
    const char *argument;
} refusals[] = {
    {"aromatic_15c", no_compressibility, FLC_E_MISSING, "compressibility"},
    {"p1980_15c", other_compressibility, FLC_E_CONFLICT, "compressibility"},
    {"aromatic_15c", no_f, FLC_E_NAN, "f_per_kpa"},
    {"p1980_15c", two_bases, FLC_E_CONFLICT, "t_base_degc"},
    {"p1980_15c", low_base, FLC_E_BELOW, "t_base_degc"},
    {"aromatic_15c", odd_fluid, FLC_E_CHOICE, "aromatic"},
    {"aromatic_15c", no_fluid, FLC_E_MISSING, "aromatic"},
    {"cipm", no_water, FLC_E_MISSING, "water"},
    {"cipm", warm_base, FLC_E_ABOVE, "t_base_degc"},
    {"light_60f", no_vapour, FLC_E_MISSING, "vapour"},
    {"costald", no_vapour, FLC_E_MISSING, "vapour"},
    {"costald", base_under_vapour, FLC_E_BELOW, "p_base_kpag"},
    {"light_60f", base_under_vapour, FLC_E_BELOW, "p_base_kpag"},
    {"p2004_any", vapour_of_2004, FLC_E_CONFLICT, "vapour"},
    {"lng", short_of_methane, FLC_E_DOMAIN, "lng"},
    {"ethanol_15c", much_ethanol, FLC_E_ABOVE, "mass_fraction"},
    {"lng", no_methane, FLC_E_MISSING, "lng.x_c1"},
    {"lng", much_nitrogen, FLC_E_ABOVE, "lng.x_n2"},
    {"polynomial", one_coefficient, FLC_E_COUNT, "polynomial.c"},
    {"p1980_54c", no_alpha, FLC_E_MISSING, "group"},
    {"line", falling_table, FLC_E_ORDER, "table.t_degc"},
};

static void test_what_cannot_be_made_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        flc_liquid_options options = family_options(family_named(refusals[i].family));
        refusals[i].spoil(&options);
        flc_liquid *liquid = NULL;
        flc_error error;
        const flc_status status = flc_liquid_new(&options, &liquid, &error);
        if (status != refusals[i].status || strcmp(error.argument, refusals[i].argument) != 0) {
            fail_msg("%zu %s: %s %s", i, refusals[i].family, flc_status_name(status), error.message);
        }
        assert_null(liquid);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_factors_are_those_of_the_methods),
        cmocka_unit_test(test_a_meter_books_the_base_volume),
        cmocka_unit_test(test_an_observed_density_leads_back),
        cmocka_unit_test(test_explain_shows_the_same_bits),
        cmocka_unit_test(test_a_batch_has_the_bits_of_one_call),
        cmocka_unit_test(test_outside_a_method_the_field_is_named),
        cmocka_unit_test(test_density_given_or_not),
        cmocka_unit_test(test_each_source_of_vapour_pressure_says_so),
        cmocka_unit_test(test_a_base_pressure),
        cmocka_unit_test(test_what_cannot_be_made_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
