/* SPDX-License-Identifier: Apache-2.0 */
/* Tickets against the worked chains of quantities_proving.csv and hand calculations; oil and water apart; the two ways
 * over a ticket; line fill. The formulas are those of API MPMS 12.2, from memory. */
#include "check.h"
#include "flowcomp/quantity.h"
#include "record_examples.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static flc_ticket ticket(void)
{
    flc_ticket t;
    flc_ticket_init(&t);
    t.iv = 28571.43;
    t.mf = 0.9987;
    t.ctl = 0.9862;
    t.cpl = 1.0012;
    t.sw_pct = 0.25;
    return t;
}

static flc_ticket_result worked(const flc_ticket *t)
{
    flc_ticket_result r;
    flc_error error;
    flc_ticket_result_init(&r);
    if (flc_ticket_evaluate(t, &r, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return r;
}

/* Q-TKT-1..5, rounded: CCF 0.9861, GSV 28174.29, NSV 28103.85, SWV 70.44 bbl. Unrounded: plain products. */
static void chain(void **state)
{
    (void)state;
    flc_ticket t = ticket();
    flc_ticket_result r = worked(&t);
    flc_check_relative(r.gv, 28571.43 * 0.9987, 1e-15);
    flc_check_relative(r.gsv, 28571.43 * (0.9987 * 0.9862 * 1.0012), 1e-15);
    flc_check_relative(r.nsv, r.gsv * 0.9975, 1e-15);
    flc_check_relative(r.nsv + r.swv, r.gsv, 1e-15);
    assert_int_equal(r.flags, 0);
    flc_check_nan(r.mass_kg);
    OK(flc_ticket_rounding_1995(FLC_ITEM_BARRELS, &t.rounding));
    r = worked(&t);
    flc_check_same_bits(r.ccf, 0.9861);
    flc_check_same_bits(r.gsv, 28174.29);
    flc_check_same_bits(r.csw, 0.9975);
    flc_check_same_bits(r.nsv, 28103.85);
    flc_check_same_bits(r.swv, 70.44);
    assert_int_equal(r.flags, FLC_FLAG_ROUNDED);
    t.iv = 10250.75; /* Q-GSV-2 */
    t.mf = 1.0004;
    t.ctl = 0.9917;
    t.cpl = 1.0023;
    flc_check_same_bits(worked(&t).gsv, 10193.35);
    const flc_ticket_rounding none = {0};
    t.rounding = none;
    t.rounding.volume = flc_rounding_to_increment(0.5); /* a user's table */
    flc_check_same_bits(worked(&t).gsv, 10193.5);       /* 10250.75 -> 10251.0, x 0.994379 = 10193.37 */
    flc_ticket_rounding rounding;
    assert_int_equal(flc_ticket_rounding_1995(FLC_ITEM_LITRES, &rounding), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_ticket_rounding_1995(FLC_ITEM_BARRELS, NULL), FLC_E_NULL);
}

/* 1000 m³ at 850 kg/m³: 850 000 kg, weight by the convention 0.998738046, by the short form 0.998705882 (Q-AIR). The
 * barrel is 0.158987294928 m³. */
static void mass_and_weight(void **state)
{
    (void)state;
    flc_ticket t = ticket();
    t.iv = 1000.0;
    t.mf = 1.0;
    t.ctl = t.cpl = NAN;
    t.ctpl = 1.0;
    t.sw_pct = 0.0;
    t.rho_base_kgm3 = 850.0;
    flc_ticket_result r = worked(&t);
    flc_check_same_bits(r.mass_kg, 850000.0);
    flc_check_near(r.weight_kg / r.mass_kg, 0.998738046, 5e-10);
    t.air_form = FLC_AIR_PETROLEUM;
    r = worked(&t);
    flc_check_near(r.weight_kg / r.mass_kg, 0.998705882, 5e-10);
    t.unit_m3 = 0.158987294928;
    flc_check_relative(worked(&t).mass_kg, 850000.0 * 0.158987294928, 1e-15);
}

/* By hand: 10 % by mass of water at 1000 with oil at 800 is (0.1/1000)/(0.1/1000 + 0.9/800) = 8.16327 % by volume.
 * Apart: 100 at the meter with 20 % water, CTPL 0.97 and 0.99: oil 80 x 0.97 = 77.6, water 20 x 0.99 = 19.8. With the
 * share at base the same total expands back to the volume at the meter. */
static void wet(void **state)
{
    (void)state;
    flc_ticket t = ticket();
    t.iv = 100.0;
    t.mf = 1.0;
    t.ctl = 0.97;
    t.cpl = 1.0;
    t.sw_pct = 10.0;
    t.sw_limit_pct = 30.0;
    t.sw_basis = FLC_SW_MASS;
    t.rho_base_kgm3 = 800.0;
    t.rho_water_base_kgm3 = 1000.0;
    flc_ticket_result r = worked(&t);
    flc_check_relative(r.water_share, 1e-4 / (1e-4 + 9.0 / 8000.0), 1e-14);
    flc_check_relative(r.nsv, 97.0 * (1.0 - 4.0 / 49.0), 1e-14);
    t.sw_basis = FLC_SW_VOLUME_AT_METER;
    t.sw_pct = 20.0;
    t.ctl_water = 0.99;
    t.cpl_water = 1.0;
    r = worked(&t);
    assert_int_equal(r.apart, 1);
    flc_check_relative(r.nsv, 77.6, 1e-15);
    flc_check_relative(r.swv, 19.8, 1e-14);
    flc_check_relative(r.gsv, 97.4, 1e-14);
    flc_check_nan(r.ccf);
    flc_check_nan(r.csw);
    t.sw_basis = FLC_SW_VOLUME_AT_BASE;
    r = worked(&t);
    flc_check_relative(r.nsv / 0.97 + r.swv / 0.99, 100.0, 1e-15);
    flc_check_relative(r.swv / r.gsv, 0.2, 1e-14);
    t.ctl_water = 0.97; /* equal factors: as if all were oil */
    r = worked(&t);
    flc_check_relative(r.gsv, 97.0, 1e-14);
    t.sw_pct = 0.0;
    flc_check_relative(worked(&t).nsv, 97.0, 1e-15);
}

/* 316 at +20 K: K falls by 0.095 % (3 x 15.9e-6 x 20), so the volume by pulses/K grows by as much. */
static void body_term(void **state)
{
    (void)state;
    flc_ticket t = ticket();
    const double ratio = pow(1.0 + 15.9e-6 * 20.0, -3.0);
    const double plain = worked(&t).gsv;
    t.body_ratio = ratio;
    flc_check_relative(worked(&t).gsv, plain / ratio, 1e-15);
    flc_check_near(100.0 * (worked(&t).gsv / plain - 1.0), 0.0954, 5e-5);
}

#define REFUSED(change, status, name)                                    \
    do {                                                                 \
        flc_ticket t = ticket();                                         \
        flc_ticket_result r;                                             \
        flc_error error;                                                 \
        flc_ticket_result_init(&r);                                      \
        change;                                                          \
        assert_int_equal(flc_ticket_evaluate(&t, &r, &error), (status)); \
        assert_string_equal(error.argument, (name));                     \
        flc_check_nan(r.nsv);                                            \
        flc_check_nan(r.iv);                                             \
    } while (0)

static void refusals(void **state)
{
    (void)state;
    REFUSED(t.sw_pct = 100.5, FLC_E_ABOVE, "sw_pct");
    REFUSED(t.sw_pct = -0.1, FLC_E_BELOW, "sw_pct");
    REFUSED(t.sw_pct = 6.0, FLC_E_MISSING, "ctl_water"); /* too wet for the factors of oil */
    REFUSED(t.ctl_water = 0.99, FLC_E_MISSING, "cpl_water");
    REFUSED(t.iv = -10.0, FLC_E_BELOW, "iv"); /* a negative net would follow */
    REFUSED(t.iv = INFINITY, FLC_E_INFINITE, "iv");
    REFUSED(t.iv = NAN, FLC_E_NAN, "iv");
    REFUSED(t.mf = 1.3, FLC_E_ABOVE, "mf");
    REFUSED(t.ctl = NAN, FLC_E_NAN, "ctl");
    REFUSED(t.ctl = 60.0, FLC_E_ABOVE, "ctl");
    REFUSED(t.ctpl = 0.99, FLC_E_CONFLICT, "ctpl");
    REFUSED(t.body_ratio = 0.999; t.way = FLC_WAY_CURVE, FLC_E_CONFLICT, "body_ratio");
    REFUSED(t.sw_basis = FLC_SW_MASS, FLC_E_MISSING, "rho_base_kgm3");
    REFUSED(t.sw_basis = (flc_sw_basis)5, FLC_E_CHOICE, "sw_basis");
    REFUSED(t.way = (flc_proving_way)-1, FLC_E_CHOICE, "way");
    REFUSED(t.air_form = (flc_air_form)2, FLC_E_CHOICE, "air_form");
    REFUSED(t.rho_base_kgm3 = 0.85, FLC_E_BELOW, "rho_base_kgm3"); /* kg/L */
    REFUSED(t.size = 4, FLC_E_SIZE, "ticket");
    REFUSED(t.rounding.volume = flc_rounding_to_decimals(20), FLC_E_ABOVE, "rounding");
    REFUSED(r.size = 4, FLC_E_SIZE, "result");
    flc_ticket t = ticket();
    assert_int_equal(flc_ticket_evaluate(&t, NULL, NULL), FLC_E_NULL);
}

static void steps(void **state)
{
    (void)state;
    flc_ticket t = ticket();
    t.rho_base_kgm3 = 850.0;
    const flc_ticket_result r = worked(&t);
    flc_step step[20];
    size_t count;
    OK(flc_ticket_steps(&r, step, COUNT(step), &count));
    assert_string_equal(step[0].symbol, "IV");
    assert_string_equal(step[count - 1].symbol, "W");
    flc_check_same_bits(step[count - 1].value, r.weight_kg);
    assert_int_equal(flc_ticket_steps(&r, NULL, 0, &count), FLC_E_BUFFER);
    assert_int_equal(count, 16);
    assert_int_equal(flc_ticket_steps(NULL, step, 1, &count), FLC_E_NULL);
    flc_sw_basis basis;
    flc_air_form form;
    OK(flc_sw_basis_from_name("mass", &basis));
    OK(flc_air_form_from_name("petroleum", &form));
    assert_int_equal(basis, FLC_SW_MASS);
    assert_int_equal(form, FLC_AIR_PETROLEUM);
}

/* One temperature: both ways are the same. Two: CTL is convex in T, so one CTL at the mean is lower. No-flow intervals
 * count for nothing (custody practice, API MPMS 21.2 from memory). */
static void two_ways(void **state)
{
    (void)state;
    flc_liquid *liquid = example_liquid();
    const flc_density density = {820.0, NAN, NAN, NAN, 1.0};
    flc_ticket_interval in[] = {
        {100.0, 1.0, 20.0, 500.0}, {0.0, 1.0, 90.0, 0.0}, {300.0, 1.0, 20.0, 500.0}, {0.0, 1.0, NAN, NAN}};
    flc_two_ways ways;
    flc_error error;
    OK(flc_ticket_two_ways(liquid, &density, in, COUNT(in), &ways, &error));
    flc_check_relative(ways.gsv_averages, ways.gsv_intervals, 1e-15);
    flc_check_near(ways.t_degc, 20.0, 1e-12);
    flc_check_same_bits(ways.iv, 400.0);
    in[2].t_degc = 60.0;
    OK(flc_ticket_two_ways(liquid, &density, in, COUNT(in), &ways, &error));
    flc_check_near(ways.t_degc, 50.0, 1e-12);
    flc_volume_factors cold, warm, mean;
    OK(flc_liquid_volume(liquid, &density, 20.0, 500.0, &cold));
    OK(flc_liquid_volume(liquid, &density, 60.0, 500.0, &warm));
    OK(flc_liquid_volume(liquid, &density, 50.0, 500.0, &mean));
    const double sum = 100.0 * cold.ctl * cold.cpl + 300.0 * warm.ctl * warm.cpl;
    flc_check_relative(ways.gsv_intervals, sum, 1e-15);
    flc_check_relative(ways.difference_ppm, 1e6 * (400.0 * mean.ctl * mean.cpl / sum - 1.0), 1e-8);
    assert_true(ways.difference_ppm < 500.0 && ways.difference_ppm > -500.0);
    in[0].mf = 0.5;
    assert_int_equal(flc_ticket_two_ways(liquid, &density, in, COUNT(in), &ways, &error), FLC_E_BELOW);
    assert_string_equal(error.argument, "mf");
    flc_check_nan(ways.gsv_averages);
    assert_int_equal(flc_ticket_two_ways(liquid, &density, &in[1], 1, &ways, &error), FLC_E_DOMAIN);
    assert_int_equal(flc_ticket_two_ways(liquid, &density, in, 0, &ways, &error), FLC_E_COUNT);
    assert_int_equal(flc_ticket_two_ways(NULL, &density, in, 1, &ways, &error), FLC_E_NULL);
    in[0].mf = 1.0;
    in[0].t_degc = 293.15; /* kelvin */
    assert_int_equal(flc_ticket_two_ways(liquid, &density, in, COUNT(in), &ways, &error), FLC_E_ABOVE);
    flc_liquid_free(liquid);
}

/* By hand: 1000 m³, Gc 33.5e-6, 10 degC warmer: CTS 1.000335; 1000 kPa, ID 0.3, wall 0.01, E 2e8: CPS 1.00015. */
static void line_fill(void **state)
{
    (void)state;
    const flc_line_fill before = {1000.0, 15.0, 33.5e-6, 2e8, 0.3, 0.01, 15.0, 0.0, 1.0, 1.0};
    flc_line_fill after = before;
    flc_line_fill_volume volume;
    double change;
    flc_error error;
    after.t_degc = 25.0;
    after.p_kpag = 1000.0;
    after.ctl = 0.992;
    after.cpl = 1.0008;
    OK(flc_line_fill_at(&after, &volume, &error));
    flc_check_relative(volume.cts, 1.000335, 1e-15);
    flc_check_relative(volume.cps, 1.00015, 1e-15);
    flc_check_relative(volume.gross_m3, 1000.0 * 1.000335 * 1.00015, 1e-15);
    OK(flc_line_fill_change(&before, &after, &change, &error));
    flc_check_relative(change, 1000.0 * (1.000335 * 1.00015 * 0.992 * 1.0008 - 1.0), 1e-12);
    after.id_m = 0.4;
    assert_int_equal(flc_line_fill_change(&before, &after, &change, &error), FLC_E_CONFLICT);
    flc_check_nan(change);
    after.t_degc = 298.15;
    assert_int_equal(flc_line_fill_at(&after, &volume, &error), FLC_E_ABOVE);
    flc_check_nan(volume.gsv_m3);
    assert_int_equal(flc_line_fill_at(NULL, &volume, &error), FLC_E_NULL);
    assert_int_equal(flc_line_fill_change(&before, &after, NULL, &error), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chain),     cmocka_unit_test(mass_and_weight), cmocka_unit_test(wet),
        cmocka_unit_test(body_term), cmocka_unit_test(refusals),        cmocka_unit_test(steps),
        cmocka_unit_test(two_ways),  cmocka_unit_test(line_fill),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
