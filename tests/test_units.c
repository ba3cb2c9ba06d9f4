/* SPDX-License-Identifier: Apache-2.0 */
/* Conversion of units: the rows of checks/units.csv (made by accuracy/units_rows.py in exact fractions, apart from the
 * library), there and back, the batch twins, and what is refused. */
#include "check.h"
#include "flowcomp/units.h"
#include <errno.h>
#include <fenv.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* --- check rows ----------------------------------------------------------------------------------------------------
 */

enum { ID, QUANTITY, INPUTS, EXPECTED, TOLERANCE, UNIT, ROLE, STATUS, FIELDS };

typedef struct check_row {
    char field[FIELDS][256];
} check_row;

/* One line of CSV, fields quoted where they hold a comma; further fields are passed over. */
static int parse_row(const char *line, check_row *row)
{
    size_t place = 0, length = 0;
    int quoted = 0;
    memset(row, 0, sizeof *row);
    for (; *line != '\0' && *line != '\n' && place < FIELDS; line++) {
        if (*line == '"') {
            quoted = !quoted;
        } else if (*line == ',' && !quoted) {
            place++;
            length = 0;
        } else if (length + 1 < sizeof row->field[0]) {
            row->field[place][length++] = *line;
        }
    }
    return place >= FIELDS - 1;
}

/* The text of one input, or "" where the row has none of that name. */
static void input_of(const check_row *row, const char *name, char *text, size_t size)
{
    const char *inputs = row->field[INPUTS];
    size_t length = strlen(name);
    text[0] = '\0';
    while (inputs != NULL && !(strncmp(inputs, name, length) == 0 && inputs[length] == '=')) {
        inputs = strchr(inputs, ';');
        inputs = inputs != NULL ? inputs + 1 : NULL;
    }
    if (inputs != NULL) {
        size_t end = strcspn(inputs + length + 1, ";");
        assert_true(end < size);
        memcpy(text, inputs + length + 1, end);
        text[end] = '\0';
    }
}

static flc_status convert_row(const check_row *row, double *result)
{
    char from[256], to[256], value[64], p_atm[64], rho[64];
    flc_unit one, other;
    input_of(row, "from", from, sizeof from);
    input_of(row, "to", to, sizeof to);
    input_of(row, "value", value, sizeof value);
    input_of(row, "p_atm_kpaa", p_atm, sizeof p_atm);
    input_of(row, "rho_kgm3", rho, sizeof rho);
    *result = NAN;
    flc_status status = flc_unit_from_name(from, &one, NULL);
    if (status == FLC_OK) {
        status = flc_unit_from_name(to, &other, NULL);
    }
    if (status != FLC_OK) {
        return status;
    }
    if (p_atm[0] != '\0') {
        return flc_convert_pressure(strtod(value, NULL), one, other, strtod(p_atm, NULL), result, NULL);
    }
    if (rho[0] != '\0') {
        return flc_convert_viscosity(strtod(value, NULL), one, other, strtod(rho, NULL), result, NULL);
    }
    return flc_convert(strtod(value, NULL), one, other, result, NULL);
}

/* shift: expected values moved by so many tolerances, to see that the judgement can fail. */
static int row_passes(const check_row *row, double shift, int loud)
{
    double result, tolerance = strtod(row->field[TOLERANCE], NULL);
    double expected = strtod(row->field[EXPECTED], NULL) + shift * tolerance;
    flc_status status = convert_row(row, &result);
    int passes;
    if (strncmp(row->field[EXPECTED], "E_", 2) == 0) {
        passes = strcmp(flc_status_name(status), row->field[EXPECTED]) == 0 && result != result;
    } else {
        passes = status == FLC_OK && fabs(result - expected) <= tolerance;
    }
    if (!passes && loud) {
        print_error("%s: %s: %s, %.17g; expected %s, limit %s\n", row->field[ID], row->field[INPUTS],
                    flc_status_name(status), result, row->field[EXPECTED], row->field[TOLERANCE]);
    }
    return passes;
}

static void check_rows_hold(void **state)
{
    (void)state;
    char line[1024];
    check_row row;
    size_t numbers = 0, refusals = 0, failed = 0, shifted_pass = 0;
    FILE *file = fopen(FLC_TEST_CHECKS_DIR "/units.csv", "r");
    assert_non_null(file);
    assert_non_null(fgets(line, sizeof line, file));
    while (fgets(line, sizeof line, file) != NULL) {
        assert_true(parse_row(line, &row));
        assert_string_equal(row.field[QUANTITY], "unit_convert");
        failed += !row_passes(&row, 0.0, 1);
        if (strncmp(row.field[EXPECTED], "E_", 2) == 0) {
            refusals++;
        } else {
            numbers++;
            if (row_passes(&row, 3.0, 0) || row_passes(&row, -3.0, 0)) {
                print_error("%s: passes with the expected value moved by three tolerances\n", row.field[ID]);
                shifted_pass++;
            }
        }
    }
    fclose(file);
    print_message("%zu rows with a number, %zu refusals, %zu failed\n", numbers, refusals, failed);
    assert_true(numbers > 300 && refusals * 5 > numbers);
    assert_int_equal(failed, 0);
    assert_int_equal(shifted_pass, 0);
}

static flc_unit unit_of(const char *name)
{
    flc_unit unit;
    flc_error error;
    if (flc_unit_from_name(name, &unit, &error) != FLC_OK) {
        fail_msg("%s: %s", name, error.message);
    }
    return unit;
}

static void pair_refusals_say_why(void **state)
{
    (void)state;
    static const struct {
        const char *from, *to, *argument, *part;
    } cases[] = {
        {"m3", "mm", "to", "m3 is volume, mm is length"},
        {"degAPI", "sg15_4", "to", "degAPI holds at 60 degF, sg15_4 at 15 degC: a volume correction is needed"},
        {"psig", "kPaa", "p_atmospheric_kpaa", "atmospheric pressure: give it in kPa absolute"},
        {"cSt", "cP", "rho_kgm3", "density: give it in kg/m3"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        double result = 1.0;
        flc_error error;
        assert_int_not_equal(flc_convert(1.0, unit_of(cases[i].from), unit_of(cases[i].to), &result, &error), FLC_OK);
        assert_string_equal(error.argument, cases[i].argument);
        assert_non_null(strstr(error.message, cases[i].part));
        flc_check_nan(result);
    }
}

/* --- numbers -------------------------------------------------------------------------------------------------------
 */

static double ulp_of(double number)
{
    return nextafter(fabs(number), DBL_MAX) - fabs(number);
}

static void there_and_back(void **state)
{
    (void)state;
    static const double values[] = {1.0, 0.1, 3.0, 1.9999999999999998, 123456.789, 7.3e-9, 6.02e120, 1e-200};
    size_t pairs = 0;
    for (size_t i = 0; i < flc_unit_count(); i++) {
        for (size_t j = 0; j < flc_unit_count(); j++) {
            flc_unit from = flc_unit_at(i), to = flc_unit_at(j);
            const flc_unit_info *one = flc_unit_info_of(from), *other = flc_unit_info_of(to);
            if (one->kind != other->kind || one->law != FLC_UNIT_LAW_FACTOR || other->law != FLC_UNIT_LAW_FACTOR ||
                strcmp(one->base_temperature, other->base_temperature) != 0) {
                continue;
            }
            for (size_t k = 0; k < COUNT(values); k++) {
                double there = 0.0, back = 0.0;
                assert_int_equal(flc_convert(values[k], from, to, &there, NULL), FLC_OK);
                assert_int_equal(flc_convert(there, to, from, &back, NULL), FLC_OK);
                flc_check_near(back, values[k], ulp_of(values[k]));
                if (i == j) {
                    flc_check_same_bits(there, values[k]);
                }
            }
            pairs++;
        }
    }
    print_message("%zu pairs of units\n", pairs);
    assert_true(pairs > 800);
}

static void zero_is_positive(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {{"m3", "bbl"}, {"kPag", "kPag"}, {"delta_K", "delta_degF"}, {"K", "degR"}};
    for (size_t i = 0; i < COUNT(pairs); i++) {
        double result = 1.0;
        assert_int_equal(flc_convert(-0.0, unit_of(pairs[i][0]), unit_of(pairs[i][1]), &result, NULL), FLC_OK);
        flc_check_same_bits(result, 0.0);
    }
}

/* The same bits in every rounding mode, nothing serious raised, errno as it was. */
static void host_state_is_left_alone(void **state)
{
    (void)state;
    static const int modes[] = {FE_TONEAREST, FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO};
    flc_unit api = unit_of("degAPI"), rho = unit_of("kg/m3"), psig = unit_of("psig"), bara = unit_of("bara");
    double first = 0.0, result = 0.0;
    for (size_t i = 0; i < COUNT(modes); i++) {
        feclearexcept(FE_ALL_EXCEPT);
        errno = 7;
        assert_int_equal(fesetround(modes[i]), 0);
        flc_status status = flc_convert_pressure(123.4, psig, bara, 101.325, &result, NULL);
        flc_status none = flc_convert(0.0, rho, api, &first, NULL);
        flc_status huge = flc_convert(1e-308, rho, api, &first, NULL);
        assert_int_equal(fegetround(), modes[i]);
        fesetround(FE_TONEAREST);
        assert_int_equal(status, FLC_OK);
        assert_int_equal(none, FLC_E_DOMAIN);
        assert_int_equal(huge, FLC_E_OVERFLOW);
        assert_int_equal(fetestexcept(FE_INVALID | FE_DIVBYZERO | FE_OVERFLOW), 0);
        assert_int_equal(errno, 7);
        assert_int_equal(flc_convert_pressure(123.4, psig, bara, 101.325, &first, NULL), FLC_OK);
        flc_check_same_bits(result, first);
    }
}

/* --- batches -------------------------------------------------------------------------------------------------------
 */

static void batch_has_the_same_bits(void **state)
{
    (void)state;
    double values[64], rho[64], result[64], one = 0.0;
    uint8_t status[64];
    size_t refused = 9;
    flc_unit gpm = unit_of("gpm"), bpd = unit_of("bbl/d"), degf = unit_of("degF"), k = unit_of("K");
    flc_unit psig = unit_of("psig"), kpaa = unit_of("kPaa"), cst = unit_of("cSt"), cp = unit_of("cP");
    for (int i = 0; i < 64; i++) {
        values[i] = 0.37 * i + 1.0 / (i + 1);
        rho[i] = 700.0 + 3.3 * i;
    }
    assert_int_equal(flc_convert_n(values, 64, gpm, bpd, result, status, &refused, NULL), FLC_OK);
    assert_int_equal(refused, 0);
    for (int i = 0; i < 64; i++) {
        assert_int_equal(flc_convert(values[i], gpm, bpd, &one, NULL), FLC_OK);
        flc_check_same_bits(result[i], one);
        assert_int_equal(status[i], FLC_OK);
    }
    assert_int_equal(flc_convert_n(values, 64, degf, k, result, NULL, NULL, NULL), FLC_OK);
    for (int i = 0; i < 64; i++) {
        assert_int_equal(flc_convert(values[i], degf, k, &one, NULL), FLC_OK);
        flc_check_same_bits(result[i], one);
    }
    assert_int_equal(flc_convert_pressure_n(values, 64, psig, kpaa, 99.7, result, status, NULL, NULL), FLC_OK);
    for (int i = 0; i < 64; i++) {
        assert_int_equal(flc_convert_pressure(values[i], psig, kpaa, 99.7, &one, NULL), FLC_OK);
        flc_check_same_bits(result[i], one);
    }
    assert_int_equal(flc_convert_viscosity_n(values, rho, 64, cst, cp, result, status, NULL, NULL), FLC_OK);
    for (int i = 0; i < 64; i++) {
        assert_int_equal(flc_convert_viscosity(values[i], cst, cp, rho[i], &one, NULL), FLC_OK);
        flc_check_same_bits(result[i], one);
    }
}

static void batch_goes_on(void **state)
{
    (void)state;
    double values[] = {0.0, -NAN, -300.0, INFINITY, 100.0};
    static const flc_status expected[] = {FLC_OK, FLC_OK, FLC_E_BELOW, FLC_E_INFINITE, FLC_OK};
    uint8_t status[5];
    size_t refused = 0;
    flc_error error;
    assert_int_equal(flc_convert_n(values, 5, unit_of("degC"), unit_of("degF"), values, status, &refused, &error),
                     FLC_OK);
    assert_int_equal(refused, 2);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(status[i], expected[i]);
    }
    flc_check_same_bits(values[0], 32.0);
    flc_check_same_bits(values[4], 212.0);
    flc_check_nan(values[1]);
    flc_check_nan(values[2]);
    flc_check_nan(values[3]);
    assert_int_equal(error.status, FLC_E_BELOW);
    assert_int_equal(error.index, 2);
    flc_check_same_bits(error.value, -300.0);
    flc_check_same_bits(error.limit, -273.15);

    double nu[] = {1.0, 2.0, 3.0, NAN}, rho[] = {800.0, NAN, 1e6, NAN};
    static const flc_status by_density[] = {FLC_OK, FLC_E_MISSING, FLC_E_ABOVE, FLC_OK};
    assert_int_equal(flc_convert_viscosity_n(nu, rho, 4, unit_of("cSt"), unit_of("Pa.s"), rho, status, &refused, NULL),
                     FLC_OK);
    assert_int_equal(refused, 2);
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(status[i], by_density[i]);
    }
    flc_check_near(rho[0], 8e-4, 1e-18);
    /* a pair that needs no density does not look at it */
    assert_int_equal(flc_convert_viscosity_n(nu, rho, 3, unit_of("cSt"), unit_of("St"), rho, status, &refused, NULL),
                     FLC_OK);
    assert_int_equal(refused, 0);
}

static void batch_not_started(flc_status expected, flc_unit from, flc_unit to, double p_atm)
{
    double values[2] = {1.0, 2.0}, result[2] = {5.0, 6.0};
    uint8_t status[2] = {0, 0};
    size_t refused = 4;
    flc_error error;
    assert_int_equal(flc_convert_pressure_n(values, 2, from, to, p_atm, result, status, &refused, &error), expected);
    assert_int_equal(error.status, expected);
    assert_int_equal(refused, 0);
    for (size_t i = 0; i < 2; i++) {
        flc_check_nan(result[i]);
        assert_int_equal(status[i], expected);
    }
}

static void batches_refuse_to_start(void **state)
{
    (void)state;
    double values[2] = {1.0, 2.0}, result[2] = {5.0, 6.0};
    uint8_t status[2];
    flc_unit m3 = unit_of("m3"), litre = unit_of("L"), psig = unit_of("psig"), bara = unit_of("bara"), none = {0};
    batch_not_started(FLC_E_CHOICE, none, litre, NAN);
    batch_not_started(FLC_E_CHOICE, m3, none, NAN);
    batch_not_started(FLC_E_UNIT_KIND, m3, psig, 100.0);
    batch_not_started(FLC_E_MISSING, psig, bara, NAN);
    batch_not_started(FLC_E_ABOVE, psig, bara, 1013.25);
    batch_not_started(FLC_E_BELOW, psig, bara, 1.01325);
    batch_not_started(FLC_E_INFINITE, psig, bara, INFINITY);
    assert_int_equal(flc_convert_n(NULL, 2, m3, litre, result, status, NULL, NULL), FLC_E_NULL);
    flc_check_nan(result[0]);
    flc_check_nan(result[1]);
    assert_int_equal(status[1], FLC_E_NULL);
    assert_int_equal(flc_convert_n(values, 2, m3, litre, NULL, status, NULL, NULL), FLC_E_NULL);
    result[0] = 5.0;
    assert_int_equal(flc_convert_viscosity_n(values, NULL, 2, m3, litre, result, status, NULL, NULL), FLC_E_NULL);
    flc_check_nan(result[0]);
    assert_int_equal(flc_convert_n(values, 0, m3, litre, result, NULL, NULL, NULL), FLC_OK);
}

static void single_values_refused(void **state)
{
    (void)state;
    flc_unit m3 = unit_of("m3"), litre = unit_of("L"), none = {0}, unit = {3};
    flc_error error;
    double result = 1.0;
    assert_int_equal(flc_convert(1.0, m3, litre, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "result");
    assert_int_equal(flc_convert(NAN, none, litre, &result, &error), FLC_E_NAN);
    flc_check_nan(error.value);
    assert_int_equal(flc_convert(1.0, none, none, &result, &error), FLC_E_CHOICE);
    assert_string_equal(error.argument, "from");
    flc_check_nan(result);
    assert_int_equal(flc_convert(1.0, m3, none, &result, &error), FLC_E_CHOICE);
    assert_string_equal(error.argument, "to");
    assert_int_equal(flc_convert(1.0, m3, litre, &result, &error), FLC_OK);
    assert_int_equal(error.status, FLC_OK);
    assert_string_equal(error.message, "");
    assert_int_equal(flc_convert_pressure(1.0, m3, litre, NAN, &result, NULL), FLC_OK);
    flc_check_same_bits(result, 1000.0);
    assert_int_equal(flc_unit_from_name(NULL, &unit, &error), FLC_E_NULL);
    assert_int_equal(unit.id, 0);
    assert_int_equal(flc_unit_from_name("m3", NULL, &error), FLC_E_NULL);
    assert_int_equal(flc_unit_of_kind_from_name(FLC_UNIT_TIME, NULL, &unit, NULL), FLC_E_NULL);
    assert_int_equal(flc_unit_of_kind_from_name(FLC_UNIT_TIME, "s", NULL, NULL), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(check_rows_hold),
        cmocka_unit_test(pair_refusals_say_why),
        cmocka_unit_test(there_and_back),
        cmocka_unit_test(zero_is_positive),
        cmocka_unit_test(host_state_is_left_alone),
        cmocka_unit_test(batch_has_the_same_bits),
        cmocka_unit_test(batch_goes_on),
        cmocka_unit_test(batches_refuse_to_start),
        cmocka_unit_test(single_values_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
