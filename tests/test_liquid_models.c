/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity models through a liquid and a meter: the value is that of the model's own published method, with the
 * density of the same liquid at the same temperature and pressure; pressure and blends; explain, batch and file have
 * the same bits; outside the range it is refused. */
#include "model_liquids.h"
#include "flowcomp/records.h"

static flc_liquid_options options_of(const model_liquid *model)
{
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED);
    options.name = model->name;
    model->set(&options);
    return options;
}

static flc_liquid *liquid_of(const model_liquid *model)
{
    const flc_liquid_options options = options_of(model);
    return invented_liquid_of(&options);
}

static flc_reading reading_of(double rho_base, double t, double p)
{
    flc_reading reading = invented_reading();
    reading.t_degc = t;
    reading.p_kpag = p;
    reading.density = (flc_density){rho_base, NAN, NAN, NAN, 1.0};
    return reading;
}

/* Flow may lie outside the invented curve: the viscosity is what is looked at, and the steps up to it. */
static flc_meter *held_meter(void)
{
    return invented_meter(FLC_BEYOND_HOLD_END, FLC_BEYOND_HOLD_END);
}

static double last_step(const flc_step *steps, size_t count, const char *symbol)
{
    double value = NAN;
    for (size_t i = 0; i < count; i++) {
        value = strcmp(steps[i].symbol, symbol) == 0 ? steps[i].value : value;
    }
    return value;
}

static void test_the_viscosity_is_that_of_the_model(void **state)
{
    (void)state;
    flc_meter *meter = held_meter();
    uint64_t seed = 71;
    for (size_t i = 0; i < MODELS; i++) {
        const model_liquid *m = &model_liquids[i];
        flc_liquid *liquid = liquid_of(m);
        for (int draw = 0; draw < 30; draw++) {
            const double t = flc_draw_between(&seed, m->t_low, m->t_high), p = flc_draw_between(&seed, 0.0, m->p_high);
            const flc_reading reading = reading_of(m->rho, t, p);
            flc_result result;
            flc_error error;
            flc_result_init(&result);
            if (flc_meter_evaluate(meter, liquid, &reading, &result, &error) != FLC_OK) {
                fail_msg("%s at %g degC: %s", m->name, t, error.message);
            }
            flc_check_relative(result.nu_mm2s, m->expect(m->rho, t, p), 2e-14);
            flc_step steps[160];
            size_t count = 0;
            assert_int_equal(flc_explain(meter, liquid, &reading, steps, 160, &count, NULL), FLC_OK);
            flc_check_same_bits(last_step(steps, count, "nu"), result.nu_mm2s);
            double nu;
            uint32_t flags;
            assert_int_equal(flc_liquid_viscosity_at(liquid, &reading.density, t, p, NAN, NAN, &nu, &flags), FLC_OK);
            flc_check_same_bits(nu, result.nu_mm2s);
        }
        flc_liquid_free(liquid);
    }
    flc_meter_free(meter);
}

static void test_without_pressure_at_zero_gauge(void **state)
{
    (void)state;
    for (size_t i = 0; i < MODELS; i++) {
        const model_liquid *m = &model_liquids[i];
        flc_liquid *liquid = liquid_of(m);
        double nu;
        uint32_t flags;
        assert_int_equal(flc_liquid_viscosity(liquid, 25.0, m->rho, NAN, &nu, &flags), FLC_OK);
        flc_check_relative(nu, m->expect(m->rho, 25.0, 0.0), 2e-14);
        flc_liquid_free(liquid);
    }
}

#define BATCH 24

static void test_a_batch_has_the_bits_of_one_call(void **state)
{
    (void)state;
    flc_meter *meter = held_meter();
    uint64_t seed = 72;
    for (size_t i = 0; i < MODELS; i++) {
        const model_liquid *m = &model_liquids[i];
        flc_liquid *liquid = liquid_of(m);
        double t[BATCH], p[BATCH], nu[BATCH];
        const flc_reading common = invented_reading();
        for (size_t k = 0; k < BATCH; k++) {
            t[k] = flc_draw_between(&seed, m->t_low, m->t_high), p[k] = flc_draw_between(&seed, 0.0, m->p_high);
        }
        flc_readings in;
        flc_results out;
        flc_readings_init(&in);
        flc_results_init(&out);
        in.pulses = (flc_column){&common.pulses, 0}, in.duration_s = (flc_column){&common.duration_s, 0};
        in.t_degc = (flc_column){t, 1}, in.p_kpag = (flc_column){p, 1}, in.rho_base_kgm3 = (flc_column){&m->rho, 0};
        out.nu_mm2s = nu;
        assert_int_equal(flc_meter_evaluate_n(meter, liquid, &in, BATCH, &out, NULL, NULL), FLC_OK);
        for (size_t k = 0; k < BATCH; k++) {
            const flc_reading reading = reading_of(m->rho, t[k], p[k]);
            flc_result result;
            flc_result_init(&result);
            assert_int_equal(flc_meter_evaluate(meter, liquid, &reading, &result, NULL), FLC_OK);
            flc_check_same_bits(nu[k], result.nu_mm2s);
        }
        flc_liquid_free(liquid);
    }
    flc_meter_free(meter);
}

static void test_files_read_back(void **state)
{
    (void)state;
    for (size_t i = 0; i < MODELS; i++) {
        flc_liquid *liquid = liquid_of(&model_liquids[i]), *again = NULL;
        char *text = NULL, *text_again = NULL;
        flc_error error;
        assert_int_equal(flc_liquid_to_json(liquid, &text, NULL), FLC_OK);
        if (flc_liquid_from_json(text, strlen(text), &again, &error) != FLC_OK) {
            fail_msg("%s: %s", model_liquids[i].name, error.message);
        }
        assert_int_equal(flc_liquid_to_json(again, &text_again, NULL), FLC_OK);
        assert_string_equal(text, text_again);
        flc_text_free(text);
        flc_text_free(text_again);
        flc_liquid_free(liquid);
        flc_liquid_free(again);
    }
}

static void test_beyond_the_range(void **state)
{
    (void)state;
    flc_liquid_options options = options_of(&model_liquids[0]);
    flc_liquid *liquid = invented_liquid_of(&options);
    double nu;
    uint32_t flags;
    assert_int_equal(flc_liquid_viscosity(liquid, 86.0, 850.0, NAN, &nu, &flags), FLC_E_ABOVE_VISCOSITY_RANGE);
    assert_int_equal(flc_liquid_viscosity(liquid, -21.0, 850.0, NAN, &nu, &flags), FLC_E_BELOW_VISCOSITY_RANGE);
    flc_check_nan(nu);
    flc_liquid_free(liquid);
    options.beyond = FLC_VISCOSITY_EXTEND;
    liquid = invented_liquid_of(&options);
    assert_int_equal(flc_liquid_viscosity(liquid, 86.0, 850.0, NAN, &nu, &flags), FLC_OK);
    assert_true(flags & FLC_FLAG_VISCOSITY_EXTRAPOLATED);
    assert_true(flags & FLC_FLAG_VISCOSITY_MODEL);
    flc_liquid_free(liquid);
}

/* Coefficients that are kinematic need no density, nor a volume correction. */
static void test_a_kinematic_model_needs_no_density(void **state)
{
    (void)state;
    flc_liquid_options options = options_of(&model_liquids[1]);
    for (int with_volume = 0; with_volume <= 1; with_volume++) {
        options.volume = with_volume ? FLC_VOLUME_PETROLEUM_1980 : FLC_VOLUME_NONE;
        flc_liquid *liquid = invented_liquid_of(&options);
        double nu;
        uint32_t flags;
        assert_int_equal(flc_liquid_viscosity(liquid, 25.0, NAN, NAN, &nu, &flags), FLC_OK);
        flc_check_same_bits(nu, nu_vogel(NAN, 25.0, 0.0));
        flc_liquid_free(liquid);
    }
}

static void no_model(flc_liquid_options *o)
{
    o->model = (flc_viscosity_model)-1;
}
static void odd_model(flc_liquid_options *o)
{
    o->model = (flc_viscosity_model)50;
}
static void no_c2(flc_liquid_options *o)
{
    o->coefficients.c2 = NAN;
}
static void no_range(flc_liquid_options *o)
{
    o->model_t_low_degc = NAN;
}
static void turned_range(flc_liquid_options *o)
{
    o->model_t_high_degc = -30.0;
}
static void other_liquid(flc_liquid_options *o)
{
    o->model = FLC_MODEL_WATER_SR6_08;
}
static void no_volume(flc_liquid_options *o)
{
    o->volume = FLC_VOLUME_NONE;
}
static void no_alpha(flc_liquid_options *o)
{
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_BARUS;
}
static void measured_pressed(flc_liquid_options *o)
{
    o->viscosity = FLC_VISCOSITY_MEASURED;
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_KOUZEL_1965;
}
static void no_rule(flc_liquid_options *o)
{
    o->viscosity = FLC_VISCOSITY_BLEND, o->share_second = 0.5;
}
static void much_share(flc_liquid_options *o)
{
    two_parts(o, FLC_BLEND_REFUTAS), o->share_second = 1.5;
}

static const struct {
    void (*spoil)(flc_liquid_options *options);
    flc_status status;
    const char *argument;
} refusals[] = {
    {no_model, FLC_E_MISSING, "model"},
    {odd_model, FLC_E_CHOICE, "model"},
    {no_c2, FLC_E_NAN, "coefficients.c2"},
    {no_range, FLC_E_NAN, "model_t_low_degc"},
    {turned_range, FLC_E_BELOW, "model_t_high_degc"},
    {other_liquid, FLC_E_CONFLICT, "model"},
    {no_volume, FLC_E_CONFLICT, "viscosity"},
    {no_alpha, FLC_E_NAN, "alpha_per_gpa"},
    {measured_pressed, FLC_E_CONFLICT, "viscosity_pressure"},
    {no_rule, FLC_E_MISSING, "blend"},
    {much_share, FLC_E_ABOVE, "share_second"},
};

static void test_what_cannot_be_made_is_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        flc_liquid_options options = options_of(&model_liquids[0]);
        refusals[i].spoil(&options);
        flc_liquid *liquid = NULL;
        flc_error error;
        const flc_status status = flc_liquid_new(&options, &liquid, &error);
        if (status != refusals[i].status || strcmp(error.argument, refusals[i].argument) != 0) {
            fail_msg("%zu: %s %s", i, flc_status_name(status), error.message);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_viscosity_is_that_of_the_model),
        cmocka_unit_test(test_without_pressure_at_zero_gauge),
        cmocka_unit_test(test_a_batch_has_the_bits_of_one_call),
        cmocka_unit_test(test_files_read_back),
        cmocka_unit_test(test_beyond_the_range),
        cmocka_unit_test(test_a_kinematic_model_needs_no_density),
        cmocka_unit_test(test_what_cannot_be_made_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
