/* SPDX-License-Identifier: Apache-2.0 */
/* The host's floating-point state: under any rounding mode, with traps on and with flush to zero, everything gives the
 * same bits, and the host finds its control word, its raised flags and its errno as they were.
 *
 * One bag of calls writes all its results into a log; the log of each state is compared with that of the default. While
 * a state is set, the test itself computes nothing in floating point. */
#include "example_meter.h"
#include "method_values.h"

#include "flowcomp/batch.h"
#include "flowcomp/explain.h"
#include "flowcomp/units.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>

/* ---- the state of this processor: control bits, and the serious flags ---- */

typedef struct fp_mode {
    const char *name;
    uint64_t control;
} fp_mode;

#if defined(__x86_64__)
#include <xmmintrin.h>

#define SERIOUS 0x0Du /* invalid, divide by zero, overflow */
#define MASKED 0x1F80u
static const fp_mode modes[] = {
    {"downwards", MASKED | 0x2000u},
    {"upwards", MASKED | 0x4000u},
    {"towards zero", MASKED | 0x6000u},
    {"flush to zero", MASKED | 0x8000u},
    {"denormals are zero", MASKED | 0x0040u},
    {"traps of the serious flags", MASKED & ~(SERIOUS << 7)},
    {"all traps, inexact too", 0},
    {"everything at once", 0x8040u | 0x4000u},
};

static uint64_t fp_control(void)
{
    return _mm_getcsr() & 0xFFC0u;
}
static uint64_t fp_raised(void)
{
    return _mm_getcsr() & SERIOUS;
}
static void fp_set(uint64_t control, uint64_t raised)
{
    _mm_setcsr((uint32_t)(control | raised));
}
static uint64_t fp_default(void)
{
    return MASKED;
}

#elif defined(__aarch64__)

#define SERIOUS 7u
static const fp_mode modes[] = {
    {"upwards", 1u << 22},
    {"downwards", 2u << 22},
    {"towards zero", 3u << 22},
    {"flush to zero", 1u << 24},
    {"traps, where the processor has them", 0x1F00u},
    {"everything at once", (1u << 22) | (1u << 24) | 0x1F00u},
};

static uint64_t fp_control(void)
{
    uint64_t word;
    __asm__ volatile("mrs %0, fpcr" : "=r"(word));
    return word;
}
static uint64_t fp_raised(void)
{
    uint64_t word;
    __asm__ volatile("mrs %0, fpsr" : "=r"(word));
    return word & SERIOUS;
}
static void fp_set(uint64_t control, uint64_t raised)
{
    __asm__ volatile("msr fpsr, %0\n\tmsr fpcr, %1" : : "r"(raised), "r"(control) : "memory");
}
static uint64_t fp_default(void)
{
    return 0;
}

#else
#error "say here how this processor's floating-point state is set, so that the guard is tested on it"
#endif

#define MODES (sizeof modes / sizeof modes[0])

/* ---- the log ---- */

typedef struct call_log {
    unsigned char *bytes;
    size_t used;
} call_log;

#define LOG_SIZE (8u << 20)

static void put(call_log *out, const void *bytes, size_t size)
{
    assert_true(out->used + size <= LOG_SIZE);
    memcpy(out->bytes + out->used, bytes, size);
    out->used += size;
}

static void put_status(call_log *out, flc_status status, const flc_error *error)
{
    put(out, &status, sizeof status);
    if (error != NULL) {
        put(out, &error->value, sizeof error->value);
        put(out, &error->limit, sizeof error->limit);
        put(out, error->message, strlen(error->message) + 1);
    }
}

/* ---- what the calls are made with, drawn in the default state ---- */

#define READINGS 120
#define METHODS_MAX 1024

static struct {
    flc_method_values values[METHODS_MAX];
    flc_reading readings[READINGS];
    flc_meter *meters[2];
    flc_liquid *liquids[5];
    flc_curve *curve;
} with;

static int prepare(void **state)
{
    (void)state;
    assert_int_equal(fp_control(), fp_default());
    assert_true(flc_method_count() <= METHODS_MAX);
    for (size_t i = 0; i < flc_method_count(); i++) {
        assert_true(flc_values_find(flc_method_at(i), 1, &with.values[i]));
    }
    uint64_t seed = 91;
    for (size_t i = 0; i < READINGS; i++) {
        with.readings[i] = i == 0 ? invented_reading() : invented_draw(&seed, i % 2 == 1);
    }
    with.curve = invented_curve();
    with.meters[0] = invented_meter(FLC_BEYOND_REFUSE, FLC_BEYOND_REFUSE);
    with.meters[1] = invented_meter(FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_HOLD_END);
    for (int source = 0; source < 5; source++) {
        with.liquids[source] = invented_liquid(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source);
    }
    return 0;
}

static int clean_up(void **state)
{
    (void)state;
    flc_curve_free(with.curve);
    flc_meter_free(with.meters[0]);
    flc_meter_free(with.meters[1]);
    for (size_t i = 0; i < 5; i++) {
        flc_liquid_free(with.liquids[i]);
    }
    return 0;
}

/* ---- the bag of calls ---- */

static void call_methods(call_log *out)
{
    for (size_t i = 0; i < flc_method_count(); i++) {
        const flc_method_info *m = flc_method_at(i);
        const flc_method_values *v = &with.values[i];
        double result;
        flc_error error;
        flc_status status = flc_method_call(m, v->value, v->count, &result, &error);
        put_status(out, status, &error);
        put(out, &result, sizeof result);
        flc_value spoilt[FLC_VALUES_MAX];
        memcpy(spoilt, v->value, sizeof spoilt);
        static const double bad[] = {NAN, INFINITY, 5e-324, -1.7976931348623157e308};
        for (size_t j = 0; j < 4 * v->count; j++) { /* each argument bad in four ways */
            const double good = spoilt[j / 4].number;
            spoilt[j / 4].number = bad[j % 4];
            status = flc_method_call(m, spoilt, v->count, &result, &error);
            put_status(out, status, &error);
            put(out, &result, sizeof result);
            spoilt[j / 4].number = good;
        }
        status = flc_method_call(m, v->value, SIZE_MAX, &result, &error);
        put_status(out, status, &error);
    }
}

static void put_result(call_log *out, const flc_result *r)
{
    put(out, &r->status, sizeof r->status);
    put(out, &r->flags, sizeof r->flags);
#define PUT(name, unit, meaning) put(out, &r->name, sizeof r->name);
    FLC_RESULT_LIST(PUT)
}

static void evaluate(call_log *out)
{
    flc_totals totals;
    flc_error error;
    put_status(out, flc_totals_start(&totals, 1e-9), NULL);
    for (size_t i = 0; i < READINGS * 10; i++) {
        const flc_reading *reading = &with.readings[i % READINGS];
        flc_result r;
        flc_result_init(&r);
        put_status(out, flc_meter_evaluate(with.meters[i % 2], with.liquids[i / READINGS % 5], reading, &r, &error),
                   &error);
        put_result(out, &r);
        put_status(out, flc_totals_add(&totals, reading->pulses, &r), NULL);
    }
    put(out, &totals, sizeof totals);
    double quantity;
    put_status(out, flc_totals_quantity(totals.base_forward, totals.unit_m3, flc_rounding_to_decimals(3), &quantity),
               NULL);
    put(out, &quantity, sizeof quantity);
    put_status(out, flc_totals_quantity(INT64_MAX, totals.unit_m3, flc_rounding_none(), &quantity), NULL);
    put(out, &quantity, sizeof quantity);
    put_status(out, flc_totals_start(&totals, 5e-324), NULL);
}

static void evaluate_columns(call_log *out)
{
    static double v_base_m3[READINGS], z[READINGS];
    static uint8_t status[READINGS];
    const ptrdiff_t stride = sizeof(flc_reading) / sizeof(double);
    flc_readings columns;
    flc_results results;
    flc_readings_init(&columns);
    flc_results_init(&results);
    columns.pulses = (flc_column){&with.readings[0].pulses, stride};
    columns.duration_s = (flc_column){&with.readings[0].duration_s, stride};
    columns.t_degc = (flc_column){&with.readings[0].t_degc, stride};
    columns.p_kpag = (flc_column){&with.readings[0].p_kpag, stride};
    columns.rho_base_kgm3 = (flc_column){&with.readings[0].density.rho_base_kgm3, stride};
    columns.rho_observed_kgm3 = (flc_column){&with.readings[0].density.rho_observed_kgm3, stride};
    columns.t_observed_degc = columns.t_degc;
    columns.p_observed_kpag = columns.p_kpag;
    results.v_base_m3 = v_base_m3;
    results.status = status;
    size_t refused;
    flc_totals totals;
    put_status(out, flc_totals_start(&totals, 1e-9), NULL);
    put_status(out,
               flc_meter_evaluate_n(with.meters[1], with.liquids[1], &columns, READINGS, &results, &totals, &refused),
               NULL);
    put(out, v_base_m3, sizeof v_base_m3);
    put(out, status, sizeof status);
    put(out, &totals, sizeof totals);
    put_status(out, flc_meter_evaluate_n(NULL, with.liquids[1], &columns, READINGS, &results, &totals, &refused), NULL);
    put_status(out,
               flc_method_call_n(flc_method_find("z_d341_body"), &columns.duration_s, 1, READINGS, z, status, NULL),
               NULL);
    put(out, z, sizeof z);
    put_status(out, flc_method_call_n(NULL, &columns.duration_s, 1, READINGS, z, status, NULL), NULL);
}

static void explain(call_log *out)
{
    static char text[64 * 1024];
    for (size_t i = 0; i < READINGS / 4; i++) {
        size_t needed;
        put_status(
            out,
            flc_explain_text(with.meters[i % 2], with.liquids[i % 5], &with.readings[i], text, sizeof text, &needed),
            NULL);
        put(out, text, needed);
        flc_step step[128];
        flc_error error;
        put_status(out,
                   flc_explain(with.meters[i % 2], with.liquids[i % 5], &with.readings[i], step, 128, &needed, &error),
                   &error);
        for (size_t j = 0; j < needed; j++) {
            put(out, &step[j].value, sizeof step[j].value);
        }
    }
}

static void parts(call_log *out)
{
    const flc_body_options body = invented_body();
    flc_error error;
    for (size_t i = 0; i < READINGS; i++) {
        const flc_reading *in = &with.readings[i];
        flc_body_state state;
        flc_curve_value value;
        flc_volume_factors factors;
        double ro, st, nu, rounded;
        uint32_t flags;
        put_status(out, flc_body_at(&body, in->t_degc, in->p_kpag, &state), NULL);
        put(out, &state.d_m, sizeof state.d_m);
        put(out, &state.b_ratio, sizeof state.b_ratio);
        put_status(out,
                   flc_curve_point(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN, &body, in->duration_s, in->pulses, in->t_degc,
                                   in->p_kpag, &ro, &st, &error),
                   &error);
        put(out, &ro, sizeof ro);
        put(out, &st, sizeof st);
        put_status(out, flc_curve_at(with.curve, in->pulses, FLC_BEYOND_EXTEND_SLOPE, FLC_BEYOND_REFUSE, &value), NULL);
        put(out, &value.st, sizeof value.st);
        put(out, &value.slope, sizeof value.slope);
        put_status(out, flc_liquid_viscosity(with.liquids[i % 5], in->t_degc, 800.0, NAN, &nu, &flags), NULL);
        put(out, &nu, sizeof nu);
        put_status(out, flc_liquid_volume(with.liquids[1], &in->density, in->t_degc, in->p_kpag, &factors), NULL);
        put(out, &factors.ctpl, sizeof factors.ctpl);
        put_status(out, flc_round(in->t_degc, flc_rounding_to_increment(0.05), &rounded), NULL);
        put(out, &rounded, sizeof rounded);
    }
}

static void make_objects(call_log *out)
{
    static uint8_t bytes[4096];
    size_t needed = 0;
    double x[INVENTED_KNOTS], st[INVENTED_KNOTS], c[4 * (INVENTED_KNOTS - 1)];
    flc_error error;
    flc_curve *curve;
    put_status(out, flc_curve_copy(with.curve, x, st, c), NULL);
    put_status(out,
               flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), INVENTED_KNOTS, x, st, c, &curve,
                             &error),
               &error);
    put_status(out, flc_curve_canonical(curve, bytes, sizeof bytes, &needed), NULL);
    put(out, bytes, needed);
    flc_curve *none;
    put_status(
        out, flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), SIZE_MAX, x, st, c, &none, &error),
        &error);
    c[1] = 1e99;
    put_status(
        out,
        flc_curve_new(invented_reference(FLC_CONVENTION_RAW, FLC_BODY_AS_RUN), INVENTED_KNOTS, x, st, c, &none, &error),
        &error);
    flc_meter_options options = invented_options();
    flc_body_options body = invented_body();
    flc_meter *meter;
    put_status(out, flc_meter_new(&options, &body, curve, &meter, &error), &error);
    flc_result r;
    flc_result_init(&r);
    put_status(out, flc_meter_evaluate(meter, with.liquids[1], &with.readings[0], &r, &error), &error);
    put_result(out, &r);
    flc_meter_free(meter);
    flc_curve_free(curve);
    for (int source = 0; source < 5; source++) { /* their lines are computed when they are made */
        flc_liquid_options liquid_options =
            invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source);
        flc_liquid *liquid;
        double nu;
        uint32_t flags;
        put_status(out, flc_liquid_new(&liquid_options, &liquid, &error), &error);
        put_status(out, flc_liquid_viscosity(liquid, 33.3, 801.0, NAN, &nu, &flags), NULL);
        put(out, &nu, sizeof nu);
        flc_liquid_free(liquid);
    }
}

static void make_all_calls(call_log *out)
{
    out->used = 0;
    call_methods(out);
    evaluate(out);
    evaluate_columns(out);
    explain(out);
    parts(out);
    make_objects(out);
}

static call_log new_log(void)
{
    call_log made = {malloc(LOG_SIZE), 0};
    assert_non_null(made.bytes);
    return made;
}

/* ---- the tests ---- */

static void test_every_state_gives_the_bits_of_the_default(void **state)
{
    (void)state;
    call_log usual = new_log(), other = new_log();
    make_all_calls(&usual);
    assert_true(usual.used > 100000);
    for (size_t i = 0; i < MODES; i++) {
        fp_set(modes[i].control, 0);
        const uint64_t before = fp_control(); /* what the processor made of it */
        make_all_calls(&other);
        const uint64_t after = fp_control(), raised = fp_raised();
        fp_set(fp_default(), 0);
        if (other.used != usual.used || memcmp(other.bytes, usual.bytes, usual.used) != 0 || after != before ||
            raised) {
            fail_msg("%s: bits %s, control word %llx before, %llx after, raised %llx", modes[i].name,
                     other.used == usual.used && memcmp(other.bytes, usual.bytes, usual.used) == 0 ? "same" : "differ",
                     (unsigned long long)before, (unsigned long long)after, (unsigned long long)raised);
        }
    }
    free(usual.bytes);
    free(other.bytes);
}

static void test_flags_of_the_host_stay_and_none_is_added(void **state)
{
    (void)state;
    call_log out = new_log();
    static const uint64_t before[] = {0, SERIOUS, 1};
    for (size_t i = 0; i < 3; i++) {
        fp_set(fp_default(), before[i]);
        make_all_calls(&out);
        const uint64_t after = fp_raised();
        fp_set(fp_default(), 0);
        assert_int_equal(after, before[i]);
        fp_set(modes[0].control, before[i]);
        make_all_calls(&out);
        const uint64_t after_mode = fp_raised();
        fp_set(fp_default(), 0);
        assert_int_equal(after_mode, before[i]);
    }
    free(out.bytes);
}

static void test_errno_is_not_touched(void **state)
{
    (void)state;
    call_log out = new_log();
    errno = 12345;
    make_all_calls(&out);
    assert_int_equal(errno, 12345);
    free(out.bytes);
}

/* The states do what their names say: without the guard, plain arithmetic shows them. */
static void test_the_states_are_real(void **state)
{
    (void)state;
    volatile double one = 1.0, three = 3.0, small = 0x1p-1022, half = 0.5;
    const double nearest = one / three;
    size_t seen = 0;
    for (size_t i = 0; i < MODES; i++) {
        if (strncmp(modes[i].name, "traps", 5) == 0 || strncmp(modes[i].name, "all", 3) == 0 ||
            strncmp(modes[i].name, "everything", 10) == 0) {
            continue; /* these would stop the test */
        }
        fp_set(modes[i].control, 0);
        volatile double third = -one / three, positive = one / three, halved = small * half, again = halved * three;
        fp_set(fp_default(), 0);
        seen += third != -nearest || positive != nearest || again == 0.0;
    }
    assert_true(seen >= 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_the_states_are_real),
        cmocka_unit_test(test_every_state_gives_the_bits_of_the_default),
        cmocka_unit_test(test_flags_of_the_host_stay_and_none_is_added),
        cmocka_unit_test(test_errno_is_not_touched),
    };
    return cmocka_run_group_tests(tests, prepare, clean_up);
}
