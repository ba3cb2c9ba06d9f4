/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity index. Expected values: worked examples of ASTM D2270-93(1998) (5.1.4, 6.1.4), entries of its Table 1,
 * identities. The comparison with 40 digits is accuracy/methods_study.py, with another transcription of the table
 * python/test_agreement_viscosity.py. */
#include "check.h"

#include "draws.h"
#include "family_inputs.h"
#include "flowcomp/viscosity_index_d2270.h"

static double index_of(double u, double y)
{
    double vi;
    assert_int_equal(flc_vi_d2270(u, y, &vi), FLC_OK);
    return vi;
}

/* --- facts from outside ------------------------------------------------------------------------------------------- */

static void worked_examples(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_h_d2270(8.86, &result), FLC_OK);
    flc_check_near(result, 69.48, 0.005);
    assert_int_equal(flc_vi_d2270_printed_rounding(73.30, 8.86, &result), FLC_OK);
    flc_check_near(result, 92.43, 0.005);
    assert_int_equal(flc_vi_d2270_reported(73.30, 8.86, &result), FLC_OK);
    flc_check_same_bits(result, 92.0);
    assert_int_equal(flc_n_d2270_printed_rounding(22.83, 5.05, &result), FLC_OK);
    flc_check_near(result, 0.14708, 1e-12);
    assert_int_equal(flc_vi_d2270_printed_rounding(22.83, 5.05, &result), FLC_OK);
    flc_check_near(result, 156.37, 0.005);
    assert_int_equal(flc_vi_d2270_reported(22.83, 5.05, &result), FLC_OK);
    flc_check_same_bits(result, 156.0);
}

/* Table 1: Y, L, H, mm2/s. At an entry there is nothing to interpolate. */
static void entries_of_the_table(void **unused)
{
    (void)unused;
    static const double rows[][3] = {{2.0, 7.994, 6.394},  {2.1, 8.640, 6.894},  {4.0, 25.32, 19.56},
                                     {5.0, 40.23, 28.49},  {7.7, 93.20, 56.20},  {8.0, 100.0, 59.60},
                                     {20.0, 493.2, 229.5}, {30.0, 1023., 421.7}, {70.0, 4905., 1558.}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double l, h;
        assert_int_equal(flc_l_d2270(rows[i][0], &l), FLC_OK);
        assert_int_equal(flc_h_d2270(rows[i][0], &h), FLC_OK);
        flc_check_relative(l, rows[i][1], 3e-16);
        flc_check_relative(h, rows[i][2], 3e-16);
    }
}

/* The quadratic pieces lie within 0.10 % of the table, 0.12 % at their joint 7.7, and meet at their joints. */
static void quadratic_pieces(void **unused)
{
    (void)unused;
    for (int i = 20; i <= 700; i++) {
        const double y = i / 10.0;
        double table, piece;
        const double limit = i == 77 ? 0.0012 : 0.001;
        assert_int_equal(flc_l_d2270(y, &table), FLC_OK);
        assert_int_equal(flc_l_d2270_quadratic(y, &piece), FLC_OK);
        flc_check_relative(piece, table, limit);
        assert_int_equal(flc_h_d2270(y, &table), FLC_OK);
        assert_int_equal(flc_h_d2270_quadratic(y, &piece), FLC_OK);
        flc_check_relative(piece, table, limit);
    }
    static const double joints[] = {3.8, 4.4, 5.0, 6.4, 7.0, 7.7, 9.0, 12.0, 15.0, 18.0, 22.0, 28.0, 40.0, 55.0};
    for (size_t i = 0; i < sizeof joints / sizeof joints[0]; i++) {
        double below, above;
        assert_int_equal(flc_l_d2270_quadratic(joints[i], &below), FLC_OK);
        assert_int_equal(flc_l_d2270_quadratic(nextafter(joints[i], 100.0), &above), FLC_OK);
        flc_check_relative(above, below, 0.002);
        assert_int_equal(flc_h_d2270_quadratic(joints[i], &below), FLC_OK);
        assert_int_equal(flc_h_d2270_quadratic(nextafter(joints[i], 100.0), &above), FLC_OK);
        flc_check_relative(above, below, 0.002);
    }
}

/* --- identities --------------------------------------------------------------------------------------------------- */

/* L and H rise, L faster, also past the last row (where the formula starts 1.1 and 0.3 mm2/s below it). */
static void basic_values_rise(void **unused)
{
    (void)unused;
    double l_before = 0.0, h_before = 0.0;
    for (double y = 2.0; y <= 999.0; y *= 1.001) {
        double l, h;
        if (y > 69.9 && y < 70.2) {
            continue;
        }
        assert_int_equal(flc_l_d2270(y, &l), FLC_OK);
        assert_int_equal(flc_h_d2270(y, &h), FLC_OK);
        assert_true(l > l_before && h > h_before && l - h > l_before - h_before);
        l_before = l;
        h_before = h;
    }
}

/* 0 at L, 100 at H from both procedures, falling with U. */
static void index_at_its_ends(void **unused)
{
    (void)unused;
    for (double y = 2.0; y <= 900.0; y *= 1.1) {
        double l, h;
        assert_int_equal(flc_l_d2270(y, &l), FLC_OK);
        assert_int_equal(flc_h_d2270(y, &h), FLC_OK);
        flc_check_near(index_of(l, y), 0.0, 1e-12);
        flc_check_near(index_of(h, y), 100.0, 1e-12);
        flc_check_near(index_of(nextafter(h, 0.0), y), 100.0, 1e-9);
        assert_true(index_of(0.95 * h, y) > index_of(h, y) && index_of(1.05 * h, y) < index_of(h, y));
    }
}

/* A viscosity that has the index has the index: both inverses, over the whole range and at its ends. */
static void inverses_return(void **unused)
{
    (void)unused;
    uint64_t seed = 4;
    for (int i = 0; i < 4000; i++) {
        double y = exp(flc_draw_between(&seed, log(2.0), log(1000.0)));
        y = i == 0 ? 2.0 : i == 1 ? 1000.0 : i == 2 ? 70.0 : i == 3 ? 2.1 : y;
        const double vi = flc_draw_between(&seed, -300.0, 400.0);
        double u, back;
        if (flc_nu40_from_vi_d2270(vi, y, &u) != FLC_OK || u > 1e6) {
            continue;
        }
        flc_check_near(index_of(u, y), vi, 1e-10 * (100.0 + fabs(vi)));
        if (y > 70.0 && y < 70.02) {
            continue; /* has a second one in the table */
        }
        assert_int_equal(flc_nu100_from_vi_d2270(vi, u, &back), FLC_OK);
        flc_check_relative(back, y, 1e-13);
    }
}

/* Where the formula just above 70 overlaps the table, the answer is that of the table. */
static void overlap_belongs_to_the_table(void **unused)
{
    (void)unused;
    double u, y;
    assert_int_equal(flc_nu40_from_vi_d2270(0.0, 70.001, &u), FLC_OK);
    assert_true(u < 4905.0);
    assert_int_equal(flc_nu100_from_vi_d2270(0.0, u, &y), FLC_OK);
    assert_true(y < 70.0 && y > 69.98);
}

/* Ties: H of 5.05 is 28.975; 92.5 and 93.5 go to the even integer. */
static void ties(void **unused)
{
    (void)unused;
    double h, l, reported;
    assert_int_equal(flc_h_d2270(5.05, &h), FLC_OK);
    flc_check_relative(h, 28.975, 2e-15);
    assert_int_equal(flc_h_d2270(8.0, &h), FLC_OK);
    assert_int_equal(flc_l_d2270(8.0, &l), FLC_OK);
    assert_int_equal(flc_vi_d2270_reported(l - 0.925 * (l - h), 8.0, &reported), FLC_OK); /* 100.0 and 59.60: exact */
    flc_check_same_bits(reported, 92.0);
    assert_int_equal(flc_vi_d2270_reported(l - 0.935 * (l - h), 8.0, &reported), FLC_OK);
    flc_check_same_bits(reported, 94.0);
}

/* --- refusals ----------------------------------------------------------------------------------------------------- */

static void refusals(void **unused)
{
    (void)unused;
    double result;
    assert_int_equal(flc_vi_d2270(5.0, 5.0, &result), FLC_E_ORDER);
    assert_int_equal(flc_vi_d2270_reported(5.0, 8.0, &result), FLC_E_ORDER);
    flc_check_nan(result);
    assert_int_equal(flc_n_d2270(5.0, 8.0, &result), FLC_E_ORDER);
    assert_int_equal(flc_n_d2270_printed_rounding(5.0, 8.0, &result), FLC_E_ORDER);
    assert_int_equal(flc_vi_d2270_printed_rounding(5.0, 8.0, &result), FLC_E_ORDER);
    assert_int_equal(flc_nu100_from_vi_d2270(100.0, 6.3, &result), FLC_E_NO_ROOT); /* H starts at 6.394 */
    assert_int_equal(flc_nu100_from_vi_d2270(900.0, 1e6, &result), FLC_E_NO_ROOT);
    assert_int_equal(flc_nu40_from_vi_d2270(1000.0, 2.0, &result), FLC_OK);
    assert_int_equal(flc_nu40_from_vi_d2270(-1000.0, 2.0, &result), FLC_OK);
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const ends[] = {"_d2270", "_d2270_quadratic", "_d2270_printed_rounding", "_d2270_reported",
                                       NULL};
    flc_check_family_inputs(ends, 11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(worked_examples),
        cmocka_unit_test(entries_of_the_table),
        cmocka_unit_test(quadratic_pieces),
        cmocka_unit_test(basic_values_rise),
        cmocka_unit_test(index_at_its_ends),
        cmocka_unit_test(inverses_return),
        cmocka_unit_test(overlap_belongs_to_the_table),
        cmocka_unit_test(ties),
        cmocka_unit_test(refusals),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
