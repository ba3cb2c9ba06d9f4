/* SPDX-License-Identifier: Apache-2.0 */
/* Metals: tables, and the metal of a body. Expected values: the printed tables (sources in tables/),
 * closures the tables must satisfy, and identities. Every table entry against the reference rows is judged by
 * check_rows.py. */
#include "check.h"

#include "bad_inputs.h"
#include "flowcomp/metals.h"
#include "metals_core.h"

#define METALS 54
#define SETS 15

static double strain_at(flc_nist_material alloy, double t_k)
{
    double e = 0.0;
    assert_int_equal(flc_strain_nist_cryogenic(alloy, t_k, &e), FLC_OK);
    return e;
}

/* --- prover metals ------------------------------------------------------------------------------------------------ */

/* Area and cubical coefficients are twice and three times the linear one, rounded to 1e-7; in kPa and per degC the set
 * prints 2.068e8, 1.931e8, 1.965e8 kPa and 11.2, 17.3, 15.9, 10.8 e-6/degC (API MPMS 12.2.1, from memory). */
static void prover_set(void **unused)
{
    (void)unused;
    static const struct {
        flc_metal_name metal;
        double linear_degc, cubical_degc, kpa;
    } rows[] = {
        {FLC_METAL_MILD_CARBON_STEEL, 11.2e-6, 33.5e-6, 2.068e8},
        {FLC_METAL_304, 17.3e-6, 51.8e-6, 1.931e8},
        {FLC_METAL_316, 15.9e-6, 47.7e-6, 1.931e8},
        {FLC_METAL_17_4PH, 10.8e-6, 32.4e-6, 1.965e8},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const flc_metal_name metal = rows[i].metal;
        double linear, area, cubical, twice, thrice, kpa, psi, degc;
        assert_int_equal(flc_prover_linear_expansion_per_degf(metal, &linear), FLC_OK);
        assert_int_equal(flc_prover_area_expansion_per_degf(metal, &area), FLC_OK);
        assert_int_equal(flc_prover_cubical_expansion_per_degf(metal, &cubical), FLC_OK);
        assert_int_equal(flc_area_expansion_from_linear(linear, &twice), FLC_OK);
        assert_int_equal(flc_cubical_expansion_from_linear(linear, &thrice), FLC_OK);
        flc_check_near(area, twice, 0.5001e-7);
        flc_check_near(cubical, thrice, 0.5001e-7);
        assert_int_equal(flc_prover_linear_expansion_per_degc(metal, &degc), FLC_OK);
        flc_check_near(degc, rows[i].linear_degc, 0.05e-6);
        assert_int_equal(flc_prover_area_expansion_per_degc(metal, &degc), FLC_OK);
        flc_check_relative(degc, 3.6 * linear, 1e-15);
        assert_int_equal(flc_prover_cubical_expansion_per_degc(metal, &degc), FLC_OK);
        flc_check_near(degc, rows[i].cubical_degc, 0.05e-6);
        assert_int_equal(flc_prover_modulus_kpa(metal, &kpa), FLC_OK);
        assert_int_equal(flc_prover_modulus_psi(metal, &psi), FLC_OK);
        flc_check_near(kpa, rows[i].kpa, 50000.0);
        /* 1 psi = 0.45359237 x 9.80665 / 0.0254^2 Pa (definitions) */
        flc_check_relative(kpa / psi, 0.45359237 * 9.80665 / (25.4 * 25.4) * 1e3, 1e-13);
    }
}

static void detector_rod(void **unused)
{
    (void)unused;
    double result = 0.0;
    assert_int_equal(flc_prover_linear_expansion_per_degc(FLC_METAL_K93600, &result), FLC_OK);
    flc_check_near(result, 1.44e-6, 5e-9);
    assert_int_equal(flc_prover_area_expansion_per_degf(FLC_METAL_K93600, &result), FLC_E_UNKNOWN_NAME);
    flc_check_nan(result);
    assert_int_equal(flc_prover_area_expansion_per_degc(FLC_METAL_K93600, &result), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_prover_modulus_kpa(FLC_METAL_K93600, &result), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_prover_linear_expansion_per_degf(FLC_METAL_6061, &result), FLC_E_UNKNOWN_NAME);
    flc_check_nan(result);
}

/* --- look-ups ----------------------------------------------------------------------------------------------------- */

/* Where a set prints one value in both units, each rounded by itself, the two agree within half a unit of each. */
static void both_units_agree(void **unused)
{
    (void)unused;
    int compared = 0;
    for (int metal = 0; metal < METALS; metal++) {
        for (int set = 0; set < SETS; set++) {
            double per_k, per_degf;
            if (flc_mean_expansion((flc_metal_name)metal, (flc_metal_set)set, NAN, NAN, &per_k) == FLC_OK &&
                flc_mean_expansion_per_degf((flc_metal_name)metal, (flc_metal_set)set, NAN, NAN, NAN, NAN, &per_degf) ==
                    FLC_OK) {
                flc_check_near(per_k, 1.8 * per_degf, 0.05 + 1.8 * 0.05 + 1e-12);
                compared++;
            }
        }
    }
    assert_true(compared >= 25);
}

static void ranges_tell_entries_apart(void **unused)
{
    (void)unused;
    const flc_metal_name metal = FLC_METAL_316;
    const flc_metal_set sheet = FLC_METAL_SET_MILL_SHEET_316;
    double result = 0.0;
    assert_int_equal(flc_mean_expansion(metal, sheet, 20.0, 500.0, &result), FLC_OK);
    flc_check_same_bits(result, 18.2);
    assert_int_equal(flc_mean_expansion(metal, sheet, NAN, 1000.0, &result), FLC_OK);
    flc_check_same_bits(result, 19.5);
    assert_int_equal(flc_mean_expansion(metal, sheet, NAN, NAN, &result), FLC_E_MISSING);
    flc_check_nan(result);
    assert_int_equal(flc_mean_expansion(metal, sheet, 0.0, 100.0, &result), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_mean_expansion(metal, FLC_METAL_SET_DOWLING_5_2, NAN, NAN, &result), FLC_E_UNKNOWN_NAME);
    flc_check_nan(result);
    /* a set that prints no range has none to ask for; a value printed per degF only is not converted */
    assert_int_equal(flc_mean_expansion(metal, FLC_METAL_SET_CALLISTER_B6, NAN, NAN, &result), FLC_OK);
    assert_int_equal(flc_mean_expansion(metal, FLC_METAL_SET_CALLISTER_B6, 0.0, 100.0, &result), FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_mean_expansion(FLC_METAL_430, FLC_METAL_SET_DATA_SHEET_430, NAN, NAN, &result),
                     FLC_E_UNKNOWN_NAME);
    assert_int_equal(
        flc_mean_expansion_per_degf(FLC_METAL_430, FLC_METAL_SET_DATA_SHEET_430, NAN, NAN, 32.0, 212.0, &result),
        FLC_OK);
    flc_check_same_bits(result, 5.7);
    assert_int_equal(flc_poisson_ratio(FLC_METAL_304, FLC_METAL_SET_HIGHTEMP_TEXT, 150.0, &result), FLC_OK);
    flc_check_same_bits(result, 0.28);
    assert_int_equal(flc_poisson_ratio(FLC_METAL_304, FLC_METAL_SET_HIGHTEMP_TEXT, NAN, &result), FLC_E_MISSING);
    assert_int_equal(flc_youngs_modulus_gpa(FLC_METAL_304, FLC_METAL_SET_EN_10088_1, NAN, &result), FLC_OK);
    flc_check_same_bits(result, 200.0);
    assert_int_equal(flc_local_expansion(FLC_METAL_17_4PH, FLC_METAL_SET_ENGINEERING_PAGE_STEEL, 20.0, &result),
                     FLC_OK);
    flc_check_same_bits(result, 10.8);
    assert_int_equal(flc_local_expansion(FLC_METAL_17_4PH, FLC_METAL_SET_ENGINEERING_PAGE_STEEL, 21.0, &result),
                     FLC_E_UNKNOWN_NAME);
}

/* ASME II-D TE-1 (2001): mean 6.9e-6/degF from 70 to 300 degF, growth 1.9 in per 100 ft (published). The means of a
 * carbon steel rise with the temperature they reach. */
static void mean_and_growth(void **unused)
{
    (void)unused;
    double growth, before = 0.0;
    assert_int_equal(flc_linear_growth_in_per_100ft(6.9, 70.0, 300.0, &growth), FLC_OK);
    flc_check_near(growth, 1.9, 0.05);
    for (double hi = 100.0; hi <= 800.0; hi += 50.0) {
        double mean;
        assert_int_equal(flc_mean_expansion_per_degf(FLC_METAL_CARBON_STEEL_GROUP_1, FLC_METAL_SET_ASME_IID_TE1_2001,
                                                     NAN, NAN, 70.0, hi, &mean),
                         FLC_OK);
        assert_true(mean >= before);
        before = mean;
    }
}

static void modulus_conversions(void **unused)
{
    (void)unused;
    double e = 0.0;
    /* 26 000 ksi is printed beside 179 GPa (published course table) */
    assert_int_equal(flc_youngs_modulus_from_msi_gpa(26.0, &e), FLC_OK);
    flc_check_near(e, 179.0, 0.5);
    /* ASME B31.1-2001 Table C-1: 190.0 GPa at 50 and 187.0 at 100 degC give 189.4 at 60 (published spreadsheet) */
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(60.0, 50.0, 190.0, 100.0, 187.0, &e), FLC_OK);
    flc_check_near(e, 189.4, 1e-12);
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(100.0, 50.0, 190.0, 100.0, 187.0, &e), FLC_OK);
    flc_check_same_bits(e, 187.0);
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(49.0, 50.0, 190.0, 100.0, 187.0, &e), FLC_E_BELOW);
    flc_check_nan(e);
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(101.0, 50.0, 190.0, 100.0, 187.0, &e), FLC_E_ABOVE);
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(60.0, 100.0, 190.0, 50.0, 187.0, &e), FLC_E_ORDER);
    assert_int_equal(flc_youngs_modulus_interpolated_gpa(60.0, 60.0, 190.0, 60.0, 187.0, &e), FLC_E_DUPLICATE);
}

/* --- the metal of a body ------------------------------------------------------------------------------------------ */

static flc_metal metal_316(void)
{
    flc_metal metal;
    assert_int_equal(flc_metal_mean(15.9e-6, 0.0, 100.0, 193.0, 0.28, FLC_USER_GIVEN, "certificate", &metal, NULL),
                     FLC_OK);
    return metal;
}

static void mean_strain(void **unused)
{
    (void)unused;
    const flc_metal metal = metal_316();
    assert_int_equal(metal.law, FLC_EXPANSION_MEAN);
    assert_string_equal(metal.source, "certificate");
    flc_check_same_bits(flc_metal_strain(&metal, 45.0, 20.0), 15.9e-6 * 25.0);
    flc_check_same_bits(flc_metal_strain(&metal, 20.0, 20.0), 0.0);
}

static void nist_strain(void **unused)
{
    (void)unused;
    flc_metal metal;
    assert_int_equal(flc_metal_nist("316", &metal, NULL), FLC_OK);
    assert_int_equal(metal.law, FLC_EXPANSION_NIST_CRYOGENIC);
    assert_int_equal(metal.nist, FLC_NIST_316);
    flc_check_near(metal.t_low_degc, -269.15, 1e-12);
    flc_check_near(metal.t_high_degc, 26.85, 1e-12);
    flc_check_near(metal.alpha_per_k, 15.3819e-6, 5e-11); /* the derivative at 293 K, recomputed */
    flc_check_near(metal.modulus_gpa, 194.657, 0.0005);   /* the same */
    for (double t = -260.0; t < 26.0; t += 22.0) {
        for (double t0 = -255.0; t0 < 26.0; t0 += 31.0) {
            const double e = 1e-5 * strain_at(FLC_NIST_316, t + 273.15),
                         e0 = 1e-5 * strain_at(FLC_NIST_316, t0 + 273.15);
            const double strain = flc_metal_strain(&metal, t, t0);
            flc_check_near(strain, (1.0 + e) / (1.0 + e0) - 1.0, 5e-16);
            /* there and back again */
            flc_check_near((1.0 + strain) * (1.0 + flc_metal_strain(&metal, t0, t)), 1.0, 5e-16);
        }
    }
    flc_check_same_bits(flc_metal_strain(&metal, 10.0, 10.0), 0.0);
    /* no cancellation: over a millikelvin the strain is the slope, to ten digits */
    double local;
    assert_int_equal(flc_local_expansion_nist_cryogenic(FLC_NIST_316, 250.0005, &local), FLC_OK);
    const double t0 = 250.0 - 273.15, t = t0 + 0.001;
    const double length0 = 1.0 + 1e-5 * strain_at(FLC_NIST_316, 250.0);
    flc_check_relative(flc_metal_strain(&metal, t, t0) / (t - t0) * length0, 1e-6 * local, 1e-10);
}

/* Every set that has a mean expansion makes a metal: numbers inside their contracts, and words that fit. */
static void every_table_metal(void **unused)
{
    (void)unused;
    int made = 0, without_modulus = 0;
    for (int m = 0; m < METALS; m++) {
        for (int set = 0; set < SETS; set++) {
            flc_metal metal, again;
            flc_error error;
            const flc_method_argument *choices = flc_method_find("mean_expansion")->arguments;
            const flc_status status =
                flc_metal_from_table(choices[0].choices[m], choices[1].choices[set], &metal, &error);
            if (status != FLC_OK) {
                assert_int_equal(status, FLC_E_UNKNOWN_NAME);
                assert_string_equal(error.argument, "set");
                flc_check_nan(metal.alpha_per_k);
                flc_check_nan(metal.modulus_gpa);
                continue;
            }
            made++;
            without_modulus += metal.modulus_gpa != metal.modulus_gpa;
            assert_true(strlen(metal.source) < sizeof metal.source - 1);
            assert_true(metal.alpha_per_k > 0.4e-6 && metal.alpha_per_k < 25e-6);
            assert_true(metal.t_low_degc <= 24.0 && metal.t_high_degc >= 93.0);
            assert_int_equal(flc_metal_mean(metal.alpha_per_k, metal.t_low_degc, metal.t_high_degc, metal.modulus_gpa,
                                            metal.poisson, metal.provenance, metal.source, &again, NULL),
                             FLC_OK);
        }
    }
    assert_true(made >= 50 && without_modulus > 0 && without_modulus < made / 2);
}

static void table_metals(void **unused)
{
    (void)unused;
    flc_metal metal;
    /* API set: 8.83e-6/degF, 28.0e6 psi = 193.05 GPa; Poisson's ratio of its family */
    assert_int_equal(flc_metal_from_table("316", "api_12_2_1_1995", &metal, NULL), FLC_OK);
    flc_check_relative(metal.alpha_per_k, 1.8 * 8.83e-6, 1e-15);
    flc_check_near(metal.modulus_gpa, 193.05, 0.005);
    flc_check_same_bits(metal.poisson, 0.283);
    assert_int_equal(metal.provenance, FLC_FROM_MEMORY);
    assert_string_equal(metal.source, "api_12_2_1_1995 316; nu dowling_5_2 stainless_2Ni-18Cr");
    /* EN set: its own modulus; published expansion with a default of ours */
    assert_int_equal(flc_metal_from_table("304", "en_10088_1", &metal, NULL), FLC_OK);
    flc_check_relative(metal.alpha_per_k, 16.0e-6, 1e-15);
    flc_check_same_bits(metal.t_low_degc, 20.0);
    flc_check_same_bits(metal.t_high_degc, 100.0);
    flc_check_same_bits(metal.modulus_gpa, 200.0);
    assert_int_equal(metal.provenance, FLC_COMMON_PRACTICE);
    /* of several ranges the narrowest that reaches 90 degC: 70 to 200 degF */
    assert_int_equal(flc_metal_from_table("carbon_steel_group_1", "asme_iid_te1_2001", &metal, NULL), FLC_OK);
    flc_check_relative(metal.alpha_per_k, 1.8 * 6.7e-6, 1e-15);
    flc_check_near(metal.t_high_degc, 93.0 + 1.0 / 3.0, 1e-12);
    /* nothing known: NaN, not a guess */
    assert_int_equal(flc_metal_from_table("17-4PH", "en_10088_1", &metal, NULL), FLC_OK);
    flc_check_nan(metal.poisson);
    assert_int_equal(metal.provenance, FLC_PUBLISHED);
    assert_int_equal(flc_metal_nist("nickel_steel", &metal, NULL), FLC_OK);
    flc_check_nan(metal.modulus_gpa);
}

static void metal_refusals(void **unused)
{
    (void)unused;
    static const struct {
        double alpha, low, high, modulus, poisson;
        int provenance;
        flc_status status;
        const char *argument;
    } rows[] = {
        {NAN, 0.0, 100.0, 200.0, 0.3, 1, FLC_E_NAN, "alpha_per_k"},
        {INFINITY, 0.0, 100.0, 200.0, 0.3, 1, FLC_E_INFINITE, "alpha_per_k"},
        {-1e-9, 0.0, 100.0, 200.0, 0.3, 1, FLC_E_BELOW, "alpha_per_k"},
        {1.6e-4, 0.0, 100.0, 200.0, 0.3, 1, FLC_E_ABOVE, "alpha_per_k"},
        {16e-6, NAN, 100.0, 200.0, 0.3, 1, FLC_E_NAN, "t_low_degc"},
        {16e-6, -274.0, 100.0, 200.0, 0.3, 1, FLC_E_BELOW, "t_low_degc"},
        {16e-6, 0.0, 2001.0, 200.0, 0.3, 1, FLC_E_ABOVE, "t_high_degc"},
        {16e-6, 100.0, 100.0, 200.0, 0.3, 1, FLC_E_ORDER, "t_high_degc"},
        {16e-6, 0.0, 100.0, 0.5, 0.3, 1, FLC_E_BELOW, "modulus_gpa"},
        {16e-6, 0.0, 100.0, INFINITY, 0.3, 1, FLC_E_INFINITE, "modulus_gpa"},
        {16e-6, 0.0, 100.0, 200.0, 0.51, 1, FLC_E_ABOVE, "poisson"},
        {16e-6, 0.0, 100.0, 200.0, 0.3, 0, FLC_E_CHOICE, "provenance"},
        {16e-6, 0.0, 100.0, 200.0, 0.3, 6, FLC_E_CHOICE, "provenance"},
    };
    flc_metal metal = metal_316();
    flc_error error;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(flc_metal_mean(rows[i].alpha, rows[i].low, rows[i].high, rows[i].modulus, rows[i].poisson,
                                        (flc_provenance)rows[i].provenance, NULL, &metal, &error),
                         rows[i].status);
        assert_string_equal(error.argument, rows[i].argument);
        flc_check_nan(metal.alpha_per_k);
        flc_check_nan(metal.t_low_degc);
        flc_check_nan(metal.poisson);
        assert_string_equal(metal.source, "");
    }
    char words[97];
    memset(words, 'x', 96);
    words[96] = '\0';
    assert_int_equal(flc_metal_mean(16e-6, 0.0, 100.0, NAN, NAN, FLC_PUBLISHED, words, &metal, &error), FLC_E_BUFFER);
    words[95] = '\0';
    assert_int_equal(flc_metal_mean(16e-6, 0.0, 100.0, NAN, NAN, FLC_PUBLISHED, words, &metal, &error), FLC_OK);
    assert_int_equal(error.status, FLC_OK);
    assert_int_equal(strlen(metal.source), 95);
    flc_check_nan(metal.modulus_gpa);
    assert_int_equal(flc_metal_mean(16e-6, 0.0, 100.0, NAN, NAN, FLC_PUBLISHED, NULL, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "metal");
}

static void unknown_words(void **unused)
{
    (void)unused;
    flc_metal metal = metal_316();
    flc_error error;
    assert_int_equal(flc_metal_from_table("318", "callister_b6", &metal, &error), FLC_E_UNKNOWN_NAME);
    assert_string_equal(error.argument, "material");
    flc_check_nan(metal.alpha_per_k);
    assert_int_equal(flc_metal_from_table("316", "callister", &metal, &error), FLC_E_UNKNOWN_NAME);
    assert_string_equal(error.argument, "set");
    assert_int_equal(flc_metal_from_table(NULL, "callister_b6", &metal, &error), FLC_E_NULL);
    assert_int_equal(flc_metal_from_table("316", NULL, &metal, &error), FLC_E_NULL);
    assert_int_equal(flc_metal_from_table("316", "callister_b6", NULL, &error), FLC_E_NULL);
    assert_int_equal(flc_metal_nist("bronze", &metal, &error), FLC_E_UNKNOWN_NAME);
    assert_string_equal(error.argument, "material");
    assert_int_equal(flc_metal_nist(NULL, &metal, &error), FLC_E_NULL);
    assert_int_equal(flc_metal_nist("304", NULL, NULL), FLC_E_NULL);
    flc_metal_name name;
    assert_int_equal(flc_metal_name_from_name("17-4PH", &name), FLC_OK);
    assert_int_equal(name, FLC_METAL_17_4PH);
    flc_expansion_law law;
    assert_int_equal(flc_expansion_law_from_name("nist_cryogenic", &law), FLC_OK);
    assert_int_equal(law, FLC_EXPANSION_NIST_CRYOGENIC);
}

/* --- every bad input ---------------------------------------------------------------------------------------------- */

static flc_value number(double value)
{
    return (flc_value){value, NULL, 0};
}

static void bad_inputs_of_every_method(void **unused)
{
    (void)unused;
    static const char *const prover[] = {
        "prover_linear_expansion_per_degf",
        "prover_area_expansion_per_degf",
        "prover_cubical_expansion_per_degf",
        "prover_linear_expansion_per_degc",
        "prover_area_expansion_per_degc",
        "prover_cubical_expansion_per_degc",
        "prover_modulus_psi",
        "prover_modulus_kpa",
    };
    const flc_value steel[] = {number(FLC_METAL_316)};
    for (size_t i = 0; i < sizeof prover / sizeof prover[0]; i++) {
        flc_check_bad_inputs(prover[i], steel, 1);
    }
    const flc_value linear[] = {number(9e-6)}, growth[] = {number(6.7), number(70.0), number(200.0)};
    flc_check_bad_inputs("area_expansion_from_linear", linear, 1);
    flc_check_bad_inputs("cubical_expansion_from_linear", linear, 1);
    flc_check_bad_inputs("linear_growth_in_per_100ft", growth, 3);
    const flc_value mean[] = {number(FLC_METAL_316), number(FLC_METAL_SET_MILL_SHEET_316), number(20.0), number(100.0)};
    const flc_value mean_f[] = {mean[0], mean[1], mean[2], mean[3], number(NAN), number(NAN)};
    flc_check_bad_inputs("mean_expansion", mean, 4);
    flc_check_bad_inputs("mean_expansion_per_degf", mean_f, 6);
    const flc_value local[] = {number(FLC_METAL_17_4PH), number(FLC_METAL_SET_ENGINEERING_PAGE_STEEL), number(20.0)};
    const flc_value local_f[] = {number(FLC_METAL_416), number(FLC_METAL_SET_DATA_SHEET_416), number(68.0)};
    flc_check_bad_inputs("local_expansion", local, 3);
    flc_check_bad_inputs("local_expansion_per_degf", local_f, 3);
    const flc_value modulus[] = {number(FLC_METAL_316), number(FLC_METAL_SET_EN_10088_1), number(20.0)};
    const flc_value poisson[] = {number(FLC_METAL_316), number(FLC_METAL_SET_HIGHTEMP_TEXT), number(260.0)};
    flc_check_bad_inputs("youngs_modulus_gpa", modulus, 3);
    flc_check_bad_inputs("poisson_ratio", poisson, 3);
    const flc_value msi[] = {number(28.0)};
    const flc_value between[] = {number(60.0), number(50.0), number(190.0), number(100.0), number(187.0)};
    flc_check_bad_inputs("youngs_modulus_from_msi_gpa", msi, 1);
    flc_check_bad_inputs("youngs_modulus_interpolated_gpa", between, 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(prover_set),
        cmocka_unit_test(detector_rod),
        cmocka_unit_test(both_units_agree),
        cmocka_unit_test(ranges_tell_entries_apart),
        cmocka_unit_test(mean_and_growth),
        cmocka_unit_test(modulus_conversions),
        cmocka_unit_test(mean_strain),
        cmocka_unit_test(nist_strain),
        cmocka_unit_test(every_table_metal),
        cmocka_unit_test(table_metals),
        cmocka_unit_test(metal_refusals),
        cmocka_unit_test(unknown_words),
        cmocka_unit_test(bad_inputs_of_every_method),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
