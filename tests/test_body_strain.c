/* SPDX-License-Identifier: Apache-2.0 */
/* Strains of pipe and body, the K ratios, and prover steel. The strains are judged by a printed case, by statics and by
 * Hooke's law on the stresses; the K ratios by the geometry of a passage that has grown; the rest by worked numbers. */
#include "check.h"
#include "body_strain_core.h"
#include "flowcomp/prover_steel.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define REFUSED(call, status)               \
    do {                                    \
        result = 1.0;                       \
        assert_int_equal((call), (status)); \
        flc_check_nan(result);              \
    } while (0)

typedef flc_status strain_function(double, double, double, double, double, double *);

static double strain(strain_function *function, double p, double id, double od, double e, double poisson)
{
    double result;
    OK(function(p, id, od, e, poisson, &result));
    return result;
}

static double stress(double p, double id, double od, double r)
{
    double result;
    OK(flc_hoop_stress_lame_mpa(p, id, od, r, &result));
    return result;
}

/* An open finite element solver's verification manual, "Thick-walled cylinder under internal pressure (Lame)": a = 10
 * mm, b = 20 mm, E = 210 GPa, nu = 0.3, p = 100 MPa, plane strain: u(a) = 9.08e-6 m, hoop stress 166.7 and 66.7 MPa. */
static void printed_thick_cylinder(void **state)
{
    (void)state;
    flc_check_near(strain(flc_bore_displacement_lame_held_m, 100.0, 20.0, 40.0, 210.0, 0.3), 9.08e-6, 0.005e-6);
    flc_check_near(stress(100.0, 20.0, 40.0, 10.0), 166.7, 0.05);
    flc_check_near(stress(100.0, 20.0, 40.0, 20.0), 66.7, 0.05);
}

/* Statics: over the wall the hoop stress carries the pressure on the bore, integral of s dr = p a (Simpson's rule). */
static void hoop_stress_carries_the_pressure(void **state)
{
    (void)state;
    const double p = 12.0, id = 80.0, od = 130.0, h = (od - id) / 2.0 / 400.0;
    double sum = 0.0;
    for (int i = 0; i <= 400; i++) {
        sum += (i == 0 || i == 400 ? 1.0 : i % 2 ? 4.0 : 2.0) * stress(p, id, od, fmin(id / 2.0 + i * h, od / 2.0));
    }
    flc_check_relative(sum * h / 3.0, p * id / 2.0, 1e-9);
}

/* Hooke's law at the bore, where the radial stress is -p; the axial stress is 0 (open ends), p a^2/(b^2 - a^2) (closed)
 * or nu (hoop + radial) (held). */
static void strains_follow_from_stresses(void **state)
{
    (void)state;
    static const double cases[][5] = {
        {10.0, 100.0, 114.3, 200.0, 0.30}, {5.0, 50.0, 60.3, 193.0, 0.29}, {80.0, 25.4, 76.2, 215.0, 0.28}};
    for (size_t i = 0; i < 3; i++) {
        const double *c = cases[i], p = c[0], id = c[1], od = c[2], e = 1000.0 * c[3], nu = c[4];
        const double hoop = stress(p, id, od, id / 2.0), axial = p * id * id / (od * od - id * id);
        const double open = strain(flc_hoop_strain_lame_open, p, id, od, c[3], nu);
        const double closed = strain(flc_hoop_strain_lame_closed, p, id, od, c[3], nu);
        const double along = strain(flc_axial_strain_lame_closed, p, id, od, c[3], nu);
        flc_check_relative(open, (hoop + nu * p) / e, 1e-14);
        flc_check_relative(strain(flc_axial_strain_lame_open, p, id, od, c[3], nu), -nu * (hoop - p) / e, 1e-14);
        flc_check_relative(closed, (hoop - nu * (axial - p)) / e, 1e-14);
        flc_check_relative(along, (axial - nu * (hoop - p)) / e, 1e-14);
        const double held = (hoop - nu * (nu * (hoop - p) - p)) / e;
        flc_check_relative(strain(flc_hoop_strain_lame_held, p, id, od, c[3], nu), held, 1e-14);
        flc_check_relative(strain(flc_bore_displacement_lame_held_m, p, id, od, c[3], nu), held * id / 2000.0, 1e-14);
        flc_check_relative(strain(flc_area_strain_lame_open, p, id, od, c[3], nu), 2.0 * open + open * open, 1e-15);
        flc_check_relative(strain(flc_area_strain_lame_closed, p, id, od, c[3], nu), 2.0 * closed + closed * closed,
                           1e-15);
        flc_check_relative(strain(flc_volume_strain_lame_closed, p, id, od, c[3], nu), 2.0 * closed + along, 1e-15);
    }
}

/* A wall thin against the bore: thick and thin formulas meet, their difference falls with t/a. */
static void thick_meets_thin(void **state)
{
    (void)state;
    for (double t = 1e-2; t > 1e-6; t /= 10.0) {
        const double id = 1000.0, od = id * (1.0 + t), near = 3.0 * t, nu = 0.3;
        flc_check_relative(strain(flc_hoop_strain_lame_open, 1.0, id, od, 200.0, nu),
                           strain(flc_hoop_strain_thin_wall, 1.0, id, od, 200.0, nu), near);
        flc_check_relative(strain(flc_hoop_strain_lame_closed, 1.0, id, od, 200.0, nu),
                           strain(flc_hoop_strain_thin_wall_closed, 1.0, id, od, 200.0, nu), near);
        flc_check_relative(strain(flc_axial_strain_lame_closed, 1.0, id, od, 200.0, nu),
                           strain(flc_axial_strain_thin_wall_closed, 1.0, id, od, 200.0, nu), near);
        flc_check_relative(strain(flc_volume_strain_lame_closed, 1.0, id, od, 200.0, nu),
                           strain(flc_volume_strain_thin_wall_closed, 1.0, id, od, 200.0, nu), near);
    }
    const double hoop = strain(flc_hoop_strain_thin_wall, 10.0, 100.0, 114.3, 200.0, 0.3);
    flc_check_relative(hoop, 10.0 * 100.0 / (2.0 * 200e3 * 7.15), 1e-14); /* P ID/(2 E t), by hand */
    flc_check_relative(strain(flc_area_strain_thin_wall, 10.0, 100.0, 114.3, 200.0, 0.3), 2.0 * hoop, 1e-15);
    const double closed = strain(flc_hoop_strain_thin_wall_closed, 10.0, 100.0, 114.3, 200.0, 0.3);
    flc_check_relative(closed, hoop * 0.85, 1e-15); /* 1 - nu/2 */
    flc_check_relative(strain(flc_volume_strain_thin_wall_closed, 10.0, 100.0, 114.3, 200.0, 0.3),
                       2.0 * closed + strain(flc_axial_strain_thin_wall_closed, 10.0, 100.0, 114.3, 200.0, 0.3), 1e-14);
}

/* The functions of the meter: per unit of pressure, and any one unit of length. */
static void core_agrees_with_methods(void **state)
{
    (void)state;
    static const struct {
        flc_body_end end;
        const char *word;
        strain_function *method;
    } rows[] = {{FLC_END_THIN_WALL, "thin_wall", flc_hoop_strain_thin_wall},
                {FLC_END_THIN_WALL_CLOSED, "thin_wall_closed", flc_hoop_strain_thin_wall_closed},
                {FLC_END_LAME_OPEN, "lame_open", flc_hoop_strain_lame_open},
                {FLC_END_LAME_CLOSED, "lame_closed", flc_hoop_strain_lame_closed},
                {FLC_END_LAME_HELD, "lame_held", flc_hoop_strain_lame_held}};
    flc_body_end end;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double per_kpa = flc_body_hoop_per_pressure(rows[i].end, 0.1, 0.1143, 200e6, 0.3);
        flc_check_relative(10e3 * per_kpa, strain(rows[i].method, 10.0, 100.0, 114.3, 200.0, 0.3), 1e-14);
        OK(flc_body_end_from_name(rows[i].word, &end));
        assert_int_equal(end, rows[i].end);
    }
    OK(flc_body_end_from_name("none", &end));
    flc_check_same_bits(flc_body_hoop_per_pressure(end, 0.1, 0.1143, 200e6, 0.3), 0.0);
    assert_int_equal(flc_body_end_from_name("lame", &end), FLC_E_UNKNOWN_NAME);
}

static double two_metal(double dt, double housing, double rotor, double bore, double hub, double hoop)
{
    double result;
    OK(flc_k_ratio_two_metal(dt, housing, rotor, bore, hub, hoop, &result));
    return result;
}

/* K = constant/(r_m (R^2 - r^2)): the passage before and after, every part grown by its own metal. */
static void k_ratio_is_the_geometry(void **state)
{
    (void)state;
    static const double cases[][6] = {{40.0, 15.9e-6, 10.4e-6, 50.0, 20.0, 0.0},
                                      {-30.0, 11.2e-6, 8.6e-6, 50.0, 20.0, 0.0},
                                      {0.0, 15.9e-6, 10.4e-6, 50.0, 20.0, 3.4e-4},
                                      {120.0, 16e-6, 10.5e-6, 12.7, 11.5, 1e-3},
                                      {-216.0, 16e-6, 8.6e-6, 25.0, 0.0, 5e-4}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const double *c = cases[i], bore = c[3], hub = c[4], mean = 0.5 * (bore + hub);
        const double rotor = 1.0 + c[2] * c[0], grown_bore = bore * (1.0 + c[1] * c[0]) * (1.0 + c[5]);
        const double before = mean * (bore * bore - hub * hub);
        const double after = mean * rotor * (grown_bore * grown_bore - hub * rotor * hub * rotor);
        flc_check_relative(two_metal(c[0], c[1], c[2], c[3], c[4], c[5]), before / after, 1e-14);
    }
}

static void k_ratio_limits(void **state)
{
    (void)state;
    double one, linear, pct, effective;
    for (double dt = -200.0; dt <= 200.0; dt += 25.0) {
        OK(flc_k_ratio_one_metal(15.9e-6, dt, &one));
        flc_check_relative(one, pow(1.0 + 15.9e-6 * dt, -3.0), 1e-15);
        flc_check_relative(two_metal(dt, 15.9e-6, 15.9e-6, 50.0, 20.0, 0.0), one, 1e-15); /* one metal: the cube */
        const double h = 1.0 + 16e-6 * dt, r = 1.0 + 10e-6 * dt;
        flc_check_relative(two_metal(dt, 16e-6, 10e-6, 50.0, 0.0, 0.0), 1.0 / (h * h * r), 1e-15); /* no hub */
        OK(flc_k_ratio_two_metal_linear(dt, 16e-6, 10e-6, 50.0, 0.0, 0.0, &linear));
        flc_check_relative(linear, 1.0 - 42e-6 * dt, 1e-15);
        OK(flc_effective_expansion_per_k(16e-6, 10e-6, 50.0, 20.0, &effective));
        OK(flc_k_change_two_metal_pct(dt, 16e-6, 10e-6, 50.0, 20.0, &pct));
        flc_check_near(pct, -300.0 * effective * dt, 1e-14);
        OK(flc_k_ratio_two_metal_linear(dt, 16e-6, 10e-6, 50.0, 20.0, 0.0, &linear));
        flc_check_near(100.0 * (linear - 1.0), pct, 1e-13);
    }
    flc_check_same_bits(two_metal(0.0, 16e-6, 10e-6, 50.0, 20.0, 0.0), 1.0);
    /* Pressure alone: 1 - 2 eP/(1 - k), k = 0.16; the second order is below 1e-6 of it squared. */
    flc_check_near(two_metal(0.0, 16e-6, 10e-6, 50.0, 20.0, 1e-6), 1.0 - 2e-6 / 0.84, 1e-11);
    OK(flc_k_ratio_two_metal_linear(0.0, 16e-6, 10e-6, 50.0, 20.0, 3.4e-4, &linear));
    flc_check_relative(linear, 1.0 - 6.8e-4 / 0.84, 1e-15);
    OK(flc_effective_expansion_per_k(16e-6, 16e-6, 50.0, 20.0, &effective));
    flc_check_relative(effective, 16e-6, 1e-15);
}

/* Worked by hand from the formulas in the comments. */
static void k_changes(void **state)
{
    (void)state;
    double pct;
    OK(flc_k_change_no_hub_pct(40.0, 16e-6, 10.5e-6, &pct));
    flc_check_near(pct, -0.1700, 1e-15); /* -100 x 42.5e-6 x 40 */
    OK(flc_k_change_constant_expansion_pct(16e-6, -216.0, &pct));
    flc_check_near(pct, 1.0368, 1e-14); /* 300 x 16e-6 x 216 */
    OK(flc_k_pressure_change_pct(5.0, 51.1, 6.02, 195.0, 0.3, 0.0, &pct));
    flc_check_relative(pct, -100.0 * 5.0 * 51.1 * 1.7 / (195e3 * 6.02), 1e-15);
    double blocked;
    OK(flc_k_pressure_change_pct(5.0, 51.1, 6.02, 195.0, 0.3, 0.25, &blocked));
    flc_check_relative(blocked, pct / 0.75, 1e-15);
    /* A thin wall and a hub that fills the same part of the bore: the exact ratio says the same to first order. */
    const double hoop = 1e-3 * 51.1 * 0.85 / (195e3 * 6.02); /* 1 kPa */
    OK(flc_k_pressure_change_pct(1e-3, 51.1, 6.02, 195.0, 0.3, 0.25, &blocked));
    flc_check_near(100.0 * (two_metal(0.0, 0.0, 0.0, 51.1, 51.1 / 2.0, hoop) - 1.0), blocked, 1e-12);
    OK(flc_k_change_constant_expansion_pct(16e-6, 0.0, &pct));
    flc_check_same_bits(pct, 0.0); /* no change is +0 */
    OK(flc_k_pressure_change_pct(0.0, 51.1, 6.02, 195.0, 0.3, 0.25, &pct));
    flc_check_same_bits(pct, 0.0);
    flc_check_same_bits(strain(flc_axial_strain_lame_open, 0.0, 50.0, 60.3, 193.0, 0.29), 0.0);
}

static void bodies_refused(void **state)
{
    (void)state;
    double result;
    REFUSED(flc_hoop_strain_lame_closed(10.0, 114.3, 100.0, 200.0, 0.3, &result), FLC_E_ORDER);
    REFUSED(flc_area_strain_thin_wall(10.0, 100.0, 100.0, 200.0, 0.3, &result), FLC_E_ORDER);
    REFUSED(flc_axial_strain_lame_open(10.0, 100.0, 100.0, 200.0, 0.3, &result), FLC_E_ORDER);
    REFUSED(flc_volume_strain_lame_closed(10.0, 100.0, 100.0, 200.0, 0.3, &result), FLC_E_ORDER);
    REFUSED(flc_hoop_strain_lame_open(NAN, 100.0, 114.3, 200.0, 0.3, &result), FLC_E_NAN);
    REFUSED(flc_hoop_strain_lame_open(10.0, INFINITY, 114.3, 200.0, 0.3, &result), FLC_E_INFINITE);
    REFUSED(flc_hoop_strain_lame_open(-1.0, 100.0, 114.3, 200.0, 0.3, &result), FLC_E_BELOW);
    REFUSED(flc_hoop_strain_lame_open(10.0, 100.0, 114.3, 200.0, 0.51, &result), FLC_E_ABOVE);
    assert_int_equal(flc_hoop_strain_lame_open(10.0, 100.0, 114.3, 200.0, 0.3, NULL), FLC_E_NULL);
    REFUSED(flc_hoop_stress_lame_mpa(10.0, 100.0, 114.3, 49.9, &result), FLC_E_ORDER);
    REFUSED(flc_hoop_stress_lame_mpa(10.0, 100.0, 114.3, 57.2, &result), FLC_E_ORDER);
    REFUSED(flc_k_ratio_two_metal(40.0, 16e-6, 10e-6, 50.0, 50.0, 0.0, &result), FLC_E_ORDER);
    REFUSED(flc_k_ratio_two_metal_linear(40.0, 16e-6, 10e-6, 50.0, 51.0, 0.0, &result), FLC_E_ORDER);
    REFUSED(flc_k_change_two_metal_pct(40.0, 16e-6, 10e-6, 50.0, 51.0, &result), FLC_E_ORDER);
    REFUSED(flc_effective_expansion_per_k(16e-6, 10e-6, 50.0, 51.0, &result), FLC_E_ORDER);
    REFUSED(flc_k_ratio_two_metal(800.0, 0.0, 3e-4, 50.0, 49.0, 0.0, &result),
            FLC_E_DOMAIN); /* the hub fills the bore */
}

/* API MPMS 12.2 forms (from memory), numbers by hand; rounded results must be exact. */
static void prover_steel(void **state)
{
    (void)state;
    double result;
    OK(flc_cts_prover_pipe(1.86e-5, 78.3, 60.0, NAN, NAN, NAN, NAN, &result));
    flc_check_near(result, 1.00034038, 1e-15); /* 1 + 1.86e-5 x 18.3 */
    OK(flc_cts_prover_pipe(1.86e-5, 78.3, 60.0, 4.0, NAN, NAN, NAN, &result));
    flc_check_same_bits(result, 1.0003);
    OK(flc_cts_prover_pipe(NAN, NAN, NAN, NAN, 47.7e-6, 35.0, 15.0, &result));
    flc_check_near(result, 1.000954, 1e-15);
    OK(flc_cts_prover_pipe(NAN, NAN, NAN, 5.0, 47.7e-6, 35.0, 15.0, &result));
    flc_check_same_bits(result, 1.00095);
    OK(flc_cts_prover_small_volume(1.20e-5, 0.8e-6, 85.0, 80.0, 60.0, &result));
    flc_check_near(result, 1.0003 * 1.000016, 1e-15);
    OK(flc_cps_prover(150.0, 10.02, 0.365, 30e6, NAN, NAN, NAN, NAN, NAN, &result));
    flc_check_near(result, 1.0 + 1503.0 / 10.95e6, 1e-15);
    OK(flc_cps_prover(150.0, 10.02, 0.365, 30e6, 4.0, NAN, NAN, NAN, NAN, &result));
    flc_check_same_bits(result, 1.0001);
    OK(flc_cps_prover(NAN, NAN, NAN, NAN, NAN, 5000.0, 254.508, 9.271, 2.068e8, &result));
    flc_check_near(result, 1.000663734, 5e-10);
    /* The same prover in both sets: lb/in2 and in against kPa and mm (0.45359237 x 9.80665/0.0254^2, from memory). */
    double customary, metric;
    const double kpa = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000.0;
    OK(flc_cps_prover(725.0, 10.02, 0.365, 30e6, NAN, NAN, NAN, NAN, NAN, &customary));
    OK(flc_cps_prover(NAN, NAN, NAN, NAN, NAN, 725.0 * kpa, 10.02 * 25.4, 0.365 * 25.4, 30e6 * kpa, &metric));
    flc_check_relative(customary, metric, 1e-15);
}

static void prover_steel_refused(void **state)
{
    (void)state;
    double result;
    REFUSED(flc_cts_prover_pipe(NAN, NAN, NAN, NAN, NAN, NAN, NAN, &result), FLC_E_MISSING);
    REFUSED(flc_cts_prover_pipe(1.86e-5, 78.3, NAN, 4.0, NAN, NAN, NAN, &result), FLC_E_MISSING);
    REFUSED(flc_cts_prover_pipe(NAN, NAN, NAN, NAN, 47.7e-6, NAN, 15.0, &result), FLC_E_MISSING);
    REFUSED(flc_cts_prover_pipe(1.86e-5, 78.3, 60.0, NAN, NAN, 25.0, NAN, &result), FLC_E_CONFLICT);
    REFUSED(flc_cts_prover_pipe(1.86e-5, 78.3, 60.0, 2.5, NAN, NAN, NAN, &result), FLC_E_NOT_WHOLE);
    REFUSED(flc_cts_prover_pipe(1.86e-5, 78.3, 60.0, 13.0, NAN, NAN, NAN, &result), FLC_E_ABOVE);
    REFUSED(flc_cts_prover_pipe(1.86e-5, INFINITY, 60.0, NAN, NAN, NAN, NAN, &result), FLC_E_INFINITE);
    REFUSED(flc_cts_prover_small_volume(1.2e-5, NAN, 85.0, 80.0, 60.0, &result), FLC_E_NAN);
    REFUSED(flc_cps_prover(150.0, NAN, 0.365, 30e6, NAN, NAN, NAN, NAN, NAN, &result), FLC_E_MISSING);
    REFUSED(flc_cps_prover(150.0, 10.02, 0.365, 30e6, NAN, NAN, 254.5, NAN, NAN, &result), FLC_E_CONFLICT);
    REFUSED(flc_cps_prover(150.0, 10.02, 0.0, 30e6, NAN, NAN, NAN, NAN, NAN, &result), FLC_E_BELOW);
    assert_int_equal(flc_cps_prover(150.0, 10.02, 0.365, 30e6, NAN, NAN, NAN, NAN, NAN, NULL), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(printed_thick_cylinder),
        cmocka_unit_test(hoop_stress_carries_the_pressure),
        cmocka_unit_test(strains_follow_from_stresses),
        cmocka_unit_test(thick_meets_thin),
        cmocka_unit_test(core_agrees_with_methods),
        cmocka_unit_test(k_ratio_is_the_geometry),
        cmocka_unit_test(k_ratio_limits),
        cmocka_unit_test(k_changes),
        cmocka_unit_test(bodies_refused),
        cmocka_unit_test(prover_steel),
        cmocka_unit_test(prover_steel_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
