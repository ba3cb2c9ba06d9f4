/* SPDX-License-Identifier: Apache-2.0 */
/* The list of units and its names: every spelling leads to its unit, and a refused name says what to write. */
#include "check.h"
#include "flowcomp/units.h"
#include <math.h>

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* --- the list ------------------------------------------------------------------------------------------------------
 */

static flc_unit unit_of(const char *name)
{
    flc_unit unit;
    flc_error error;
    if (flc_unit_from_name(name, &unit, &error) != FLC_OK) {
        fail_msg("%s: %s", name, error.message);
    }
    return unit;
}

/* Every spelling of a list leads to its own unit. */
static void spellings_lead_to(const char *list, flc_unit unit)
{
    while (*list != '\0') {
        char word[64];
        size_t size = strcspn(list, "|");
        assert_true(size > 0 && size < sizeof word);
        memcpy(word, list, size);
        word[size] = '\0';
        if (unit_of(word).id != unit.id) {
            fail_msg("%s leads to %s, not to %s", word, flc_unit_name(unit_of(word)), flc_unit_name(unit));
        }
        list += size + (list[size] == '|');
    }
}

static void list_is_consistent(void **state)
{
    (void)state;
    size_t count = flc_unit_count(), by_kind = 0;
    assert_true(count > 100);
    for (size_t place = 0; place < count; place++) {
        flc_unit unit = flc_unit_at(place);
        const flc_unit_info *row = flc_unit_info_of(unit);
        assert_non_null(row);
        assert_int_equal(unit_of(row->name).id, unit.id);
        assert_string_equal(flc_unit_name(unit), row->name);
        assert_string_equal(flc_unit_symbol(unit), row->symbol);
        assert_int_equal(flc_unit_kind_of(unit), row->kind);
        spellings_lead_to(row->spellings, unit);
        spellings_lead_to(row->words, unit);
        assert_true(row->numerator >= 1.0 && row->denominator >= 1.0);
        assert_true(row->numerator == floor(row->numerator) && row->denominator == floor(row->denominator));
        assert_true(row->symbol[0] != '\0' && row->source[0] != '\0');
        assert_true(place == 0 || row->kind == flc_unit_kind_of(flc_unit_at(place - 1)) ||
                    row->kind == flc_unit_kind_of(flc_unit_at(place - 1)) + 1);
    }
    for (size_t kind = 0; kind < flc_unit_kind_count(); kind++) {
        flc_unit_kind back;
        const char *names[2] = {NULL, NULL};
        size_t units = flc_unit_names((flc_unit_kind)kind, names, 1);
        assert_true(units >= 2);
        assert_non_null(names[0]);
        assert_null(names[1]);
        assert_int_equal(flc_unit_names((flc_unit_kind)kind, NULL, 0), units);
        assert_int_equal(flc_unit_kind_from_name(flc_unit_kind_name((flc_unit_kind)kind), &back), FLC_OK);
        assert_int_equal(back, kind);
        by_kind += units;
    }
    assert_int_equal(by_kind, count);
}

static void no_unit_is_answered(void **state)
{
    (void)state;
    static const int32_t bad[] = {0, -1, INT32_MIN, INT32_MAX};
    for (size_t i = 0; i < COUNT(bad); i++) {
        flc_unit none = {bad[i]};
        assert_null(flc_unit_info_of(none));
        assert_string_equal(flc_unit_name(none), "");
        assert_string_equal(flc_unit_symbol(none), "");
        assert_int_equal(flc_unit_kind_of(none), FLC_UNIT_KIND_NONE);
    }
    assert_int_equal(flc_unit_at(flc_unit_count()).id, 0);
    assert_string_equal(flc_unit_kind_name(FLC_UNIT_KIND_NONE), "unknown");
    assert_string_equal(flc_unit_kind_name((flc_unit_kind)99), "unknown");
    assert_int_equal(flc_unit_names(FLC_UNIT_KIND_NONE, NULL, 0), 0);
    flc_unit_kind kind = FLC_UNIT_TIME;
    assert_int_equal(flc_unit_kind_from_name("colour", &kind), FLC_E_UNKNOWN_NAME);
    assert_int_equal(kind, FLC_UNIT_KIND_NONE);
    assert_int_equal(flc_unit_kind_from_name(NULL, &kind), FLC_E_NULL);
    assert_int_equal(flc_unit_kind_from_name("time", NULL), FLC_E_NULL);
}

/* --- names ---------------------------------------------------------------------------------------------------------
 */

static void kind_stated(void **state)
{
    (void)state;
    static const struct {
        flc_unit_kind kind;
        const char *name;
        const char *unit; /* or a status */
    } cases[] = {
        {FLC_UNIT_PRESSURE_DIFFERENCE, "psi", "delta_psi"},
        {FLC_UNIT_PRESSURE_DIFFERENCE, "kPa", "delta_kPa"},
        {FLC_UNIT_PRESSURE_DIFFERENCE, "kgf/cm²", "delta_kgf/cm2"},
        {FLC_UNIT_PRESSURE_DIFFERENCE, "delta_bar", "delta_bar"},
        {FLC_UNIT_MODULUS, "psi", "modulus_psi"},
        {FLC_UNIT_MODULUS, "GPa", "modulus_GPa"},
        {FLC_UNIT_MODULUS, "MPa", "modulus_MPa"},
        {FLC_UNIT_MODULUS, "mPa", "E_AMBIGUOUS_UNIT"},
        {FLC_UNIT_TEMPERATURE_DIFFERENCE, "K", "delta_K"},
        {FLC_UNIT_TEMPERATURE_DIFFERENCE, "°F", "delta_degF"},
        {FLC_UNIT_TEMPERATURE, "K", "K"},
        {FLC_UNIT_PRESSURE_GAUGE, "psi", "E_AMBIGUOUS_UNIT"},
        {FLC_UNIT_PRESSURE_ABSOLUTE, "bar", "E_AMBIGUOUS_UNIT"},
        {FLC_UNIT_PRESSURE_ABSOLUTE, "kPag", "E_UNIT_KIND"},
        {FLC_UNIT_VOLUME, "mm", "E_UNIT_KIND"},
        {FLC_UNIT_VOLUME, "gal", "E_AMBIGUOUS_UNIT"},
        {FLC_UNIT_VOLUME, "hogshead", "E_UNKNOWN_NAME"},
        {FLC_UNIT_TIME, "", "E_UNKNOWN_NAME"},
        {(flc_unit_kind)20, "m", "E_CHOICE"},
        {FLC_UNIT_KIND_NONE, "m", "E_CHOICE"},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        flc_unit unit = {7};
        flc_error error;
        flc_status status = flc_unit_of_kind_from_name(cases[i].kind, cases[i].name, &unit, &error);
        assert_int_equal(error.status, status);
        assert_string_equal(status == FLC_OK ? flc_unit_name(unit) : flc_status_name(status), cases[i].unit);
        assert_true(status == FLC_OK || (unit.id == 0 && error.message[0] != '\0'));
    }
}

static void message_holds(flc_unit_kind kind, const char *name, const char *const *parts)
{
    flc_unit unit;
    flc_error error;
    flc_status status = kind == FLC_UNIT_KIND_NONE ? flc_unit_from_name(name, &unit, &error)
                                                   : flc_unit_of_kind_from_name(kind, name, &unit, &error);
    assert_int_not_equal(status, FLC_OK);
    assert_string_equal(error.argument, "name");
    for (; *parts != NULL; parts++) {
        if (strstr(error.message, *parts) == NULL) {
            fail_msg("\"%s\" lacks \"%s\"", error.message, *parts);
        }
    }
    for (const char *c = error.message; *c != '\0'; c++) {
        assert_true(*c >= ' ' && *c <= '~');
    }
}

#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

static void refusals_say_what_to_write(void **state)
{
    (void)state;
    message_holds(FLC_UNIT_KIND_NONE, "gal", WORDS("USgal", "impgal"));
    message_holds(FLC_UNIT_KIND_NONE, "psi", WORDS("psig", "psia", "delta_psi", "modulus_psi"));
    message_holds(FLC_UNIT_KIND_NONE, "kPa", WORDS("kPag", "kPaa", "delta_kPa", "modulus_kPa"));
    message_holds(FLC_UNIT_KIND_NONE, "SG", WORDS("rd60_60", "sg15_4", "sg20_4"));
    message_holds(FLC_UNIT_KIND_NONE, "API gravity observed", WORDS("degAPI", "60 degF"));
    message_holds(FLC_UNIT_KIND_NONE, "SSU", WORDS("nu_from_sus_d2161"));
    message_holds(FLC_UNIT_KIND_NONE, "kpga", WORDS("\"kpga\" is close to kPag"));
    message_holds(FLC_UNIT_KIND_NONE, "MPa.s", WORDS("mPa.s"));
    message_holds(FLC_UNIT_KIND_NONE, "furlong", WORDS("\"furlong\"", "USgal/min"));
    message_holds(FLC_UNIT_DENSITY, "furlong", WORDS("\"furlong\" is not among: kg/m3, kg/L, g/cm3", "degAPI"));
    message_holds(FLC_UNIT_VOLUME_FLOW, "furlongs that no stream ever flows by", WORDS("m3/s, m3/min", ", ..."));
    message_holds(FLC_UNIT_VOLUME, "mm", WORDS("mm is length, wanted is volume"));
    message_holds(FLC_UNIT_KIND_NONE, "\xE2\x82\xAC\n\x01", WORDS("\"?????\""));
    message_holds(FLC_UNIT_KIND_NONE, "°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°°", WORDS("...\""));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(list_is_consistent),
        cmocka_unit_test(no_unit_is_answered),
        cmocka_unit_test(kind_stated),
        cmocka_unit_test(refusals_say_what_to_write),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
