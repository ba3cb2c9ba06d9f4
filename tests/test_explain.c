/* SPDX-License-Identifier: Apache-2.0 */
/* Showing the work: the values are those of the evaluation bit for bit, each step can be redone from the steps before
 * it by its own equation, a refused record is shown up to its failure, and the text holds it all. */
#include "example_meter.h"

#include "explain_core.h"
#include <stdlib.h>

typedef struct shown {
    flc_status status;
    size_t count;
    flc_step step[FLC_STEPS_MAX];
} shown;

static shown explained(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading)
{
    shown all;
    all.status = flc_explain(meter, liquid, reading, all.step, FLC_STEPS_MAX, &all.count, NULL);
    assert_true(all.count <= FLC_STEPS_MAX);
    return all;
}

/* Value of the last step with this symbol (a later one replaces an earlier: the pressure used, the base density found);
 * NaN where there is none. */
static double of(const shown *all, const char *symbol)
{
    for (size_t i = all->count; i-- > 0;) {
        if (strcmp(all->step[i].symbol, symbol) == 0) {
            return all->step[i].value;
        }
    }
    return NAN;
}

static int has(const shown *all, const char *symbol)
{
    for (size_t i = 0; i < all->count; i++) {
        if (strcmp(all->step[i].symbol, symbol) == 0) {
            return 1;
        }
    }
    return 0;
}

/* ---- the values ---- */

static void check_values(const shown *all, const flc_result *r)
{
    const struct {
        const char *symbol;
        double value;
    } fields[] = {{"f", r->f_hz},         {"nu", r->nu_mm2s},    {"D", r->d_m},   {"B", r->b_ratio},
                  {"Ro", r->ro},          {"Re", r->re},         {"St", r->st},   {"K", r->k_per_m3},
                  {"q", r->q_m3s},        {"V", r->v_m3},        {"CTL", r->ctl}, {"CPL", r->cpl},
                  {"q_b", r->q_base_m3s}, {"V_b", r->v_base_m3}, {"s", r->slope}, {"u_nu", r->u_v_nu},
                  {"dK", r->k_bound}};
    for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
        if (!isnan(fields[i].value)) {
            flc_check_same_bits(of(all, fields[i].symbol), fields[i].value);
        } else {
            assert_true(i == 0 || !has(all, fields[i].symbol)); /* f may be given and refused */
        }
    }
    if (!isnan(r->rho_base_kgm3)) {
        flc_check_same_bits(of(all, "rho_b"), r->rho_base_kgm3);
    }
}

static void check_texts(const shown *all)
{
    for (size_t i = 0; i < all->count; i++) {
        const flc_step *s = &all->step[i];
        assert_true(s->symbol[0] != '\0' && s->quantity[0] != '\0' && s->unit[0] != '\0' && s->equation[0] != '\0');
        assert_true(s->method[0] != '\0' && s->edition != NULL && s->clause != NULL);
        assert_in_range(s->status, FLC_PUBLISHED, FLC_USER_GIVEN);
        assert_true(!isnan(s->value));
    }
}

static void test_values_are_those_of_the_evaluation(void **state)
{
    (void)state;
    flc_meter *meters[] = {invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE),
                           invented_meter(FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_HOLD_END)};
    uint64_t seed = 71;
    for (int source = FLC_VISCOSITY_MEASURED; source <= FLC_VISCOSITY_TYPICAL; source++) {
        flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source);
        for (int i = 0; i < 1000; i++) {
            const flc_reading reading = invented_draw(&seed, source == FLC_VISCOSITY_MEASURED);
            const flc_result r = evaluated(meters[i % 2], liquid, &reading);
            const shown all = explained(meters[i % 2], liquid, &reading);
            assert_int_equal(all.status, r.status);
            check_values(&all, &r);
            check_texts(&all);
        }
        flc_liquid_free(liquid);
    }
    flc_meter_free(meters[0]);
    flc_meter_free(meters[1]);
}

/* ---- the steps redone: every equation again, from the values listed, in long double ---- */

static void redo(const shown *all, const char *symbol, long double again, double tolerance)
{
    const double value = of(all, symbol);
    if (!(fabs(value - (double)again) <= tolerance * fabs(value))) {
        fail_msg("%s = %.17g, redone %.17g", symbol, value, (double)again);
    }
}

static void redo_volume_factors(const shown *a)
{
    const long double k0 = of(a, "K0"), k1 = of(a, "K1"), k2 = of(a, "K2"), rho60 = of(a, "rho60");
    const long double star = of(a, "rho*"), ts = of(a, "t*"), alpha = of(a, "alpha60"), dt = of(a, "dt");
    const long double delta = 0.01374979547L, big_a = delta / 2 * ((k0 / rho60 + k1) / rho60 + k2);
    const long double big_b = (2 * k0 + k1 * rho60) / (k0 + (k1 + k2 * rho60) * rho60);
    redo(a, "A*", big_a, 2.5e-15); /* transition: see alpha60 */
    redo(a, "B*", big_b, 1e-15);
    flc_check_near(of(a, "t_F"), (double)(1.8L * of(a, "t") + 32), 3e-14);
    redo(a, "rho*", rho60 * (1 + expm1l(big_a * (1 + 0.8L * big_a)) / (1 + big_a * (1 + 1.6L * big_a) * big_b)), 3e-16);
    /* in the transition group K2 takes three quarters away, and with them the last bits of rho* as listed */
    redo(a, "alpha60", (k0 / star + k1) / star + k2, 2.5e-15);
    redo(a, "dt", ts - 60.0068749L, 1e-13);
    redo(a, "CTL60", expl(-alpha * dt * (1 + 0.8L * alpha * (dt + delta))), 5e-16);
    redo(a, "CTL", (long double)of(a, "CTL60") / of(a, "CTL60b"), 3e-16);
    redo(a, "P_psi", of(a, "P") / 6.894757L, 3e-16);
    redo(a, "Fp", expl(-1.9947L + 0.00013427L * ts + (793920 + 2326 * ts) / (star * star)), 2e-15);
    redo(a, "CPL", 1 / (1 - 1e-5L * of(a, "Fp") * of(a, "P_psi")), 3e-16);
    redo(a, "CTPL", (long double)of(a, "CTL") * of(a, "CPL"), 3e-16);
}

/* W by the lines listed, and the viscosity by putting it back into Z = 10^10^W. */
static void redo_viscosity(const shown *a)
{
    const long double t_k = of(a, "t") + 273.15L, nu = of(a, "nu");
    long double w = of(a, "W1") - of(a, "B1") * log10l(t_k / of(a, "T1"));
    if (has(a, "x2")) {
        const long double w2 = of(a, "W2") - of(a, "B2") * log10l(t_k / of(a, "T2"));
        redo(a, "x2",
             ((long double)of(a, "rho_b") - of(a, "rho_b1")) / ((long double)of(a, "rho_b2") - of(a, "rho_b1")), 1e-14);
        w = (1 - of(a, "x2")) * w + of(a, "x2") * w2;
    }
    assert_true(fabsl(w - of(a, "W")) < 1e-15L);
    const long double z = nu + 0.7L + expl(-1.47L - 1.84L * nu - 0.51L * nu * nu);
    assert_true(fabsl(log10l(log10l(z)) - of(a, "W")) < 1e-15L);
}

static void redo_body(const shown *a)
{
    const long double d0 = of(a, "D0"), wall = of(a, "wall"), mu = of(a, "mu"), ra = d0 / 2, rb = ra + wall;
    redo(a, "eps", ((1 - 2 * mu) * ra * ra + (1 + mu) * rb * rb) / (of(a, "E") * (rb * rb - ra * ra)), 2e-15);
    redo(a, "eH", of(a, "alphaH") * ((long double)of(a, "t") - of(a, "T0")), 1e-15);
    redo(a, "eR", of(a, "alphaR") * ((long double)of(a, "t") - of(a, "T0")), 1e-15);
    redo(a, "eP", of(a, "eps") * ((long double)of(a, "P") - of(a, "P0")), 1e-15);
    const long double bore = (1 + (long double)of(a, "eH")) * (1 + (long double)of(a, "eP"));
    const long double rotor = 1 + (long double)of(a, "eR"), k = of(a, "k");
    redo(a, "D", d0 * bore, 5e-16);
    redo(a, "B", (1 - k) / (rotor * (bore * bore - k * rotor * rotor)), 2e-15);
}

static void redo_curve(const shown *a)
{
    redo(a, "x", logl((long double)of(a, "Ro")), 3e-16);
    if (has(a, "St_e")) {
        const long double m = of(a, "m_e"), beyond = (long double)of(a, "x") - of(a, "x_e");
        const int holds = of(a, "St") == of(a, "St_e"); /* beyond is never 0 here */
        redo(a, "St", of(a, "St_e") + (holds ? 0 : m * beyond), 3e-16);
        redo(a, "s", m / of(a, "St"), 3e-16);
        return;
    }
    const long double u = (long double)of(a, "x") - of(a, "x_i"), c1 = of(a, "c1"), c2 = of(a, "c2"), c3 = of(a, "c3");
    redo(a, "St", of(a, "c0") + u * (c1 + u * (c2 + u * c3)), 5e-16);
    assert_true(fabsl((c1 + u * (2 * c2 + u * 3 * c3)) / of(a, "St") - of(a, "s")) < 1e-15L);
}

static void redo_results(const shown *a)
{
    const long double pi = 3.14159265358979323846264338327950288L, d0 = of(a, "D0");
    redo(a, "f", fabsl((long double)of(a, "N")) / (has(a, "t_f") ? of(a, "t_f") : of(a, "t_w")), 3e-16);
    redo(a, "Ro", of(a, "f") * (long double)of(a, "D") * of(a, "D") * 1e6L / of(a, "nu"), 1e-15);
    redo(a, "K", 4 * (long double)of(a, "St") / (pi * d0 * d0 * d0) * of(a, "B"), 1e-15);
    /* evaluated as a product with 1/K, rounded once for both: four roundings beside K as listed */
    redo(a, "q", (of(a, "N") < 0 ? -1 : 1) * (long double)of(a, "f") / of(a, "K"), 5e-16);
    redo(a, "Re", 4 * fabsl((long double)of(a, "q")) * 1e6L / (pi * of(a, "D") * of(a, "nu")), 1e-15);
    redo(a, "V", (long double)of(a, "N") / of(a, "K"), 5e-16);
    redo(a, "V_b", (long double)of(a, "V") * of(a, "CTPL"), 3e-16);
    redo(a, "q_b", (long double)of(a, "q") * of(a, "CTPL"), 3e-16);
    redo(a, "u_nu", fabsl((long double)of(a, "s")) * of(a, "u(nu)"), 3e-16);
}

static void test_every_step_can_be_redone(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_HOLD_END);
    uint64_t seed = 72;
    static const flc_viscosity_source sources[] = {FLC_VISCOSITY_POINTS, FLC_VISCOSITY_BETWEEN,
                                                   FLC_VISCOSITY_ONE_POINT};
    int redone = 0, extended = 0;
    for (size_t k = 0; k < 3; k++) {
        flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, sources[k]);
        for (int i = 0; i < 3000; i++) {
            const flc_reading reading = invented_draw(&seed, 0);
            const shown all = explained(meter, liquid, &reading);
            if (all.status != FLC_OK || !has(&all, "St") || !has(&all, "N") || has(&all, "f_f")) {
                continue;
            }
            redo_volume_factors(&all);
            redo_viscosity(&all);
            redo_body(&all);
            redo_curve(&all);
            redo_results(&all);
            redone++;
            extended += has(&all, "St_e");
        }
        flc_liquid_free(liquid);
    }
    assert_true(redone > 1000 && extended > 100);
    flc_meter_free(meter);
}

/* ---- refused records ---- */

static void test_a_refused_record_is_shown_up_to_its_failure(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    flc_reading bad[5];
    for (size_t i = 0; i < 5; i++) {
        bad[i] = invented_reading();
    }
    bad[0].pulses = 0.5;
    bad[1].t_degc = NAN;
    bad[2].density.rho_base_kgm3 = 100.0;
    bad[3].t_degc = 120.0;
    bad[4].pulses = 3600.0;
    static const struct {
        flc_status status;
        const char *last, *missing;
    } expected[] = {
        {FLC_E_NOT_WHOLE, "rho_b", "f"},             /* the inputs, and no frequency */
        {FLC_E_NAN, "f", "t_F"},                     /* the frequency */
        {FLC_E_BELOW, "f", "t_F"},                   /* likewise */
        {FLC_E_ABOVE_VISCOSITY_RANGE, "CTPL", "nu"}, /* the volume factors */
        {FLC_E_BELOW_CURVE, "Ro", "St"},             /* the body and Ro */
    };
    for (size_t i = 0; i < 5; i++) {
        flc_step step[FLC_STEPS_MAX];
        size_t count = 0;
        flc_error error;
        assert_int_equal(flc_explain(meter, liquid, &bad[i], step, FLC_STEPS_MAX, &count, &error), expected[i].status);
        assert_int_equal(error.status, expected[i].status);
        assert_string_equal(step[count - 1].symbol, expected[i].last);
        for (size_t j = 0; j < count; j++) {
            assert_string_not_equal(step[j].symbol, expected[i].missing);
        }
    }
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_no_flow_is_shown(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    flc_reading reading = invented_reading();
    reading.pulses = 0.0;
    const shown all = explained(meter, liquid, &reading);
    assert_int_equal(all.status, FLC_OK);
    flc_check_same_bits(of(&all, "f"), 0.0);
    flc_check_same_bits(of(&all, "V"), 0.0);
    flc_check_same_bits(of(&all, "V_b"), 0.0);
    assert_true(!has(&all, "K") && !has(&all, "Ro") && !has(&all, "nu"));
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- room ---- */

/* A record with every kind of step: between two liquids, observed density, clamped pressure, partial flow. */
static flc_reading longest_reading(void)
{
    flc_reading reading = invented_reading();
    reading.p_kpag = -3.0;
    reading.density = (flc_density){NAN, 801.0, 33.0, -2.0, 1.001};
    reading.f_before_hz = 0.0;
    reading.f_after_hz = 300.0;
    return reading;
}

static flc_liquid *longest_liquid(void)
{
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_BETWEEN);
    options.negative_pressure = FLC_NEGATIVE_CLAMP;
    return invented_liquid_of(&options);
}

static void test_size_query_and_too_little_room(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = longest_liquid();
    const flc_reading reading = longest_reading();
    size_t count = 0, again = 0;
    flc_error error;
    assert_int_equal(flc_explain(meter, liquid, &reading, NULL, 0, &count, &error), FLC_E_BUFFER);
    assert_int_equal(error.status, FLC_E_BUFFER);
    assert_true(count > 60 && count <= FLC_STEPS_MAX);
    flc_step step[FLC_STEPS_MAX], soiled[FLC_STEPS_MAX];
    memset(soiled, 0x5A, sizeof soiled);
    memset(step, 0x5A, sizeof step);
    assert_int_equal(flc_explain(meter, liquid, &reading, step, count - 1, &again, NULL), FLC_E_BUFFER);
    assert_int_equal(again, count);
    assert_memory_equal(step, soiled, sizeof step); /* nothing is written */
    assert_int_equal(flc_explain(meter, liquid, &reading, step, count, &again, NULL), FLC_OK);
    assert_memory_equal(&step[count], &soiled[count], sizeof step[0]);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_null_and_sizes(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = longest_liquid();
    flc_reading reading = longest_reading();
    flc_step step[1];
    size_t count = 9;
    char text[8] = "######";
    assert_int_equal(flc_explain(NULL, liquid, &reading, step, 1, &count, NULL), FLC_E_NULL);
    assert_int_equal(count, 0);
    assert_int_equal(flc_explain(meter, NULL, &reading, step, 1, &count, NULL), FLC_E_NULL);
    assert_int_equal(flc_explain(meter, liquid, NULL, step, 1, &count, NULL), FLC_E_NULL);
    assert_int_equal(flc_explain(meter, liquid, &reading, NULL, 1, &count, NULL), FLC_E_NULL);
    assert_int_equal(flc_explain(meter, liquid, &reading, step, 1, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_explain_text(meter, liquid, NULL, text, sizeof text, &count), FLC_E_NULL);
    assert_string_equal(text, "");
    assert_int_equal(flc_explain_text(meter, liquid, &reading, text, sizeof text, NULL), FLC_E_NULL);
    assert_int_equal(flc_explain_text(meter, liquid, &reading, NULL, 5, &count), FLC_E_NULL);
    reading.size = 0;
    assert_int_equal(flc_explain(meter, liquid, &reading, step, 1, &count, NULL), FLC_E_SIZE);
    assert_int_equal(flc_explain_text(meter, liquid, &reading, text, sizeof text, &count), FLC_E_SIZE);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

/* ---- the text ---- */

static char *text_of(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, flc_status expected)
{
    size_t needed = 0, again = 0;
    assert_int_equal(flc_explain_text(meter, liquid, reading, NULL, 0, &needed), FLC_E_BUFFER);
    char *text = malloc(needed + 1);
    assert_non_null(text);
    assert_int_equal(flc_explain_text(meter, liquid, reading, text, needed, &again), FLC_E_BUFFER);
    assert_int_equal(strlen(text), needed - 1); /* one byte short: cut and terminated */
    assert_int_equal(flc_explain_text(meter, liquid, reading, text, needed + 1, &again), expected);
    assert_int_equal(strlen(text), needed);
    assert_int_equal(again, needed);
    return text;
}

/* A line for each step, numbered, whose figure reads back to the very double. */
static void test_the_text_holds_every_step(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = longest_liquid();
    const flc_reading reading = longest_reading();
    const shown all = explained(meter, liquid, &reading);
    char *text = text_of(meter, liquid, &reading, FLC_OK);
    const char *line = text;
    for (size_t i = 0; i < all.count; i++) {
        assert_int_equal(strtol(line, NULL, 10), (long)i + 1);
        flc_check_same_bits(strtod(strchr(line, '=') + 1, NULL), all.step[i].value);
        const char *end = strchr(line, '\n');
        const char *equation = strstr(line, all.step[i].equation), *method = strstr(line, all.step[i].method);
        assert_true(equation != NULL && equation < end && method != NULL && method < end);
        line = end + 1;
    }
    assert_null(strstr(text, "refused:"));
    assert_non_null(strstr(line, "flag partial_flow: "));
    assert_non_null(strstr(line, "flag pressure_clamped: "));
    assert_non_null(strstr(line, "a claim until both parties agree"));
    free(text);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

static void test_the_text_of_a_refused_record_says_why(void **state)
{
    (void)state;
    flc_meter *meter = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    flc_liquid *liquid = longest_liquid();
    flc_reading reading = invented_reading();
    reading.t_degc = 120.5;
    flc_error error;
    flc_result r;
    flc_result_init(&r);
    const flc_status status = flc_meter_evaluate(meter, liquid, &reading, &r, &error);
    assert_int_equal(status, FLC_E_ABOVE_VISCOSITY_RANGE);
    char *text = text_of(meter, liquid, &reading, status);
    const char *refused = strstr(text, "refused: ");
    assert_non_null(refused);
    assert_int_equal(strncmp(refused + 9, error.message, strlen(error.message)), 0);
    free(text);
    flc_meter_free(meter);
    flc_liquid_free(liquid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_values_are_those_of_the_evaluation),
        cmocka_unit_test(test_every_step_can_be_redone),
        cmocka_unit_test(test_a_refused_record_is_shown_up_to_its_failure),
        cmocka_unit_test(test_no_flow_is_shown),
        cmocka_unit_test(test_size_query_and_too_little_room),
        cmocka_unit_test(test_null_and_sizes),
        cmocka_unit_test(test_the_text_holds_every_step),
        cmocka_unit_test(test_the_text_of_a_refused_record_says_why),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
