/* SPDX-License-Identifier: Apache-2.0 */
/* Liquids by figures of their own: polynomials, density tables, compressibility, vapour pressure. Expected values:
 * arithmetic that can be done by hand, and the laws that linear interpolation keeps. */
#include "check.h"

#include "family_inputs.h"
#include "flowcomp/supplied_liquid.h"

/* --- polynomials -------------------------------------------------------------------------------------------------- */

static void polynomial_by_hand(void **unused)
{
    (void)unused;
    static const double c[] = {850.0, -0.75, 0.001};
    double result;
    assert_int_equal(flc_rho_polynomial(20.0, 0.0, 60.0, c, 3, &result), FLC_OK);
    flc_check_relative(result, 835.4, 1e-15);
    assert_int_equal(flc_rho_polynomial(20.0, 0.0, 60.0, c, 1, &result), FLC_OK);
    flc_check_same_bits(result, 850.0);
    assert_int_equal(flc_ctl_polynomial(20.0, 0.0, 0.0, 60.0, c, 3, &result), FLC_OK);
    flc_check_relative(result, 835.4 / 850.0, 1e-15);
    assert_int_equal(flc_ctl_polynomial(37.5, 37.5, 0.0, 60.0, c, 3, &result), FLC_OK);
    flc_check_same_bits(result, 1.0);
    assert_int_equal(flc_rho_base_from_observed_polynomial(835.4, 20.0, 0.0, 0.0, 60.0, c, 3, &result), FLC_OK);
    flc_check_relative(result, 850.0, 1e-15);
}

/* A density may as well be given by a factor: the unit of the polynomial drops out. */
static void polynomial_of_a_factor(void **unused)
{
    (void)unused;
    static const double density[] = {850.0, -0.75, 0.001};
    static const double factor[] = {850.0 / 838.975, -0.75 / 838.975, 0.001 / 838.975}; /* 1 at 15 */
    for (double t = 0.0; t <= 60.0; t += 4.0) {
        double one, two;
        assert_int_equal(flc_ctl_polynomial(t, 15.0, 0.0, 60.0, density, 3, &one), FLC_OK);
        assert_int_equal(flc_ctl_polynomial(t, 15.0, 0.0, 60.0, factor, 3, &two), FLC_OK);
        flc_check_relative(one, two, 1e-15);
    }
}

static void polynomial_refusals(void **unused)
{
    (void)unused;
    static const double c[] = {10.0, -1.0};
    double result = 0.0;
    assert_int_equal(flc_rho_polynomial(-0.1, 0.0, 8.0, c, 2, &result), FLC_E_BELOW);
    flc_check_nan(result);
    assert_int_equal(flc_rho_polynomial(8.1, 0.0, 8.0, c, 2, &result), FLC_E_ABOVE);
    assert_int_equal(flc_ctl_polynomial(5.0, 8.1, 0.0, 8.0, c, 2, &result), FLC_E_ABOVE);
    flc_check_nan(result);
    assert_int_equal(flc_ctl_polynomial(5.0, 12.0, 0.0, 20.0, c, 2, &result), FLC_E_DOMAIN);
    assert_int_equal(flc_rho_base_from_observed_polynomial(800.0, 10.0, 5.0, 0.0, 20.0, c, 2, &result), FLC_E_DOMAIN);
    flc_check_nan(result);
}

/* --- density table ------------------------------------------------------------------------------------------------ */

#define T_COUNT 3
#define P_COUNT 4
#define ENTRIES (T_COUNT * P_COUNT)
static const double ts[T_COUNT] = {0.0, 20.0, 50.0};
static const double ps[P_COUNT] = {0.0, 1000.0, 4000.0, 5000.0};

typedef struct grid {
    double t[ENTRIES], p[ENTRIES], rho[ENTRIES];
} grid;

/* rho = 900 - 0.7 t + 0.0004 p + 2e-6 t p, which is linear in each: interpolation gives it back everywhere. */
static double plane(double t, double p)
{
    return 900.0 - 0.7 * t + 0.0004 * p + 2e-6 * t * p;
}

static grid grid_of_plane(void)
{
    grid g;
    for (size_t i = 0; i < ENTRIES; i++) {
        g.t[i] = ts[i / P_COUNT];
        g.p[i] = ps[i % P_COUNT];
        g.rho[i] = plane(g.t[i], g.p[i]);
    }
    return g;
}

static void table_between_entries(void **unused)
{
    (void)unused;
    const grid g = grid_of_plane();
    for (double t = 0.0; t <= 50.0; t += 2.5) {
        for (double p = 0.0; p <= 5000.0; p += 250.0) {
            double rho;
            assert_int_equal(flc_rho_table_bilinear(t, p, g.t, g.p, g.rho, ENTRIES, &rho), FLC_OK);
            flc_check_relative(rho, plane(t, p), 1e-15);
        }
    }
    for (size_t i = 0; i < ENTRIES; i++) { /* an entry is itself */
        double rho;
        assert_int_equal(flc_rho_table_bilinear(g.t[i], g.p[i], g.t, g.p, g.rho, ENTRIES, &rho), FLC_OK);
        flc_check_same_bits(rho, g.rho[i]);
    }
}

static flc_status with(const grid *g, size_t n)
{
    double rho = 0.0;
    const flc_status status = flc_rho_table_bilinear(10.0, 500.0, g->t, g->p, g->rho, n, &rho);
    if (status != FLC_OK) {
        flc_check_nan(rho);
    }
    return status;
}

static void table_refusals(void **unused)
{
    (void)unused;
    const grid good = grid_of_plane();
    grid g = good;
    double rho = 0.0;
    assert_int_equal(flc_rho_table_bilinear(-0.1, 0.0, g.t, g.p, g.rho, ENTRIES, &rho), FLC_E_BELOW);
    flc_check_nan(rho);
    assert_int_equal(flc_rho_table_bilinear(50.1, 0.0, g.t, g.p, g.rho, ENTRIES, &rho), FLC_E_ABOVE);
    assert_int_equal(flc_rho_table_bilinear(20.0, 5001.0, g.t, g.p, g.rho, ENTRIES, &rho), FLC_E_ABOVE);
    assert_int_equal(with(&g, ENTRIES), FLC_OK);
    assert_int_equal(with(&g, 2 * P_COUNT), FLC_OK);      /* two temperatures are enough */
    assert_int_equal(with(&g, ENTRIES - 1), FLC_E_COUNT); /* the last entry is missing */
    assert_int_equal(with(&g, P_COUNT), FLC_E_COUNT);     /* one temperature */
    assert_int_equal(with(&g, 1), FLC_E_COUNT);
    g.p[6] = 4001.0; /* another pressure at the second temperature */
    assert_int_equal(with(&g, ENTRIES), FLC_E_ORDER);
    g = good;
    g.t[9] = 51.0; /* another temperature within the third */
    assert_int_equal(with(&g, ENTRIES), FLC_E_ORDER);
    g = good;
    for (size_t i = P_COUNT; i < 2 * P_COUNT; i++) {
        g.t[i] = -5.0; /* falling temperatures */
    }
    assert_int_equal(with(&g, ENTRIES), FLC_E_ORDER);
    g = good;
    for (size_t i = 1; i < ENTRIES; i += P_COUNT) {
        g.p[i] = 0.0; /* one pressure twice */
    }
    assert_int_equal(with(&g, ENTRIES), FLC_E_ORDER);
    for (size_t i = 0; i < ENTRIES; i++) {
        g.t[i] = ts[i % T_COUNT]; /* temperatures first: the other order */
        g.p[i] = ps[i / T_COUNT];
    }
    assert_int_equal(with(&g, ENTRIES), FLC_E_COUNT);
}

/* --- pressure ----------------------------------------------------------------------------------------------------- */

static void compressibility_by_hand(void **unused)
{
    (void)unused;
    double cpl;
    assert_int_equal(flc_cpl_supplied_compressibility(1e-6, 10000.0, NAN, &cpl), FLC_OK);
    flc_check_relative(cpl, 1.0 / 0.99, 1e-15);
    assert_int_equal(flc_cpl_supplied_compressibility(1e-6, 10000.0, 5000.0, &cpl), FLC_OK);
    flc_check_relative(cpl, 1.0 / 0.995, 1e-15);
    assert_int_equal(flc_cpl_supplied_compressibility(1e-6, 10000.0, -50.0, &cpl), FLC_OK);
    flc_check_relative(cpl, 1.0 / 0.99, 1e-15);
    assert_int_equal(flc_cpl_supplied_compressibility(0.0, 1000.0, NAN, &cpl), FLC_OK);
    flc_check_same_bits(cpl, 1.0);
    assert_int_equal(flc_cpl_supplied_compressibility(1e-6, 100.0, 101.0, &cpl), FLC_E_DOMAIN);
    flc_check_nan(cpl);
    assert_int_equal(flc_cpl_supplied_compressibility(1e-4, 10000.0, NAN, &cpl), FLC_E_DOMAIN);
    flc_check_nan(cpl);
}

static void equilibrium_pressure(void **unused)
{
    (void)unused;
    double pe;
    assert_int_equal(flc_equilibrium_pressure_gauge(850.0, 100.0, &pe), FLC_OK);
    flc_check_same_bits(pe, 750.0);
    assert_int_equal(flc_equilibrium_pressure_gauge(100.0, 100.0, &pe), FLC_OK);
    flc_check_same_bits(pe, 0.0);
    assert_int_equal(flc_equilibrium_pressure_gauge(60.0, 100.0, &pe), FLC_OK);
    flc_check_same_bits(pe, 0.0);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_polynomial", "rho_table_bilinear", "_supplied_compressibility",
                                       "equilibrium_pressure_gauge", NULL};
    flc_check_family_inputs(ends, 6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(polynomial_by_hand),   cmocka_unit_test(polynomial_of_a_factor),
        cmocka_unit_test(polynomial_refusals),  cmocka_unit_test(table_between_entries),
        cmocka_unit_test(table_refusals),       cmocka_unit_test(compressibility_by_hand),
        cmocka_unit_test(equilibrium_pressure), cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
