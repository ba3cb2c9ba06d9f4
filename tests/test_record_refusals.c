/* SPDX-License-Identifier: Apache-2.0 */
/* Files that must be refused: each with its status, place and reason; every byte changed; every length cut. */
#include "failing_allocator.h"
#include "json_edit.h"
#include "record_examples.h"

static char *meter_text, *liquid_text;

static flc_status load(int is_liquid, const char *text, size_t length, flc_error *error)
{
    void *thing = NULL;
    memset(error, 0xA5, sizeof *error);
    const flc_status status = is_liquid ? flc_liquid_from_json(text, length, (flc_liquid **)&thing, error)
                                        : flc_meter_from_json(text, length, (flc_meter **)&thing, error);
    assert_int_equal(error->status, status);
    assert_true(status == FLC_OK ? thing != NULL : thing == NULL);
    if (is_liquid) {
        flc_liquid_free(thing);
    } else {
        flc_meter_free(thing);
    }
    return status;
}

/* ---- a list of hostile files ---- */

typedef struct refusal {
    const char *from, *to; /* an edit of the good file */
    flc_status status;
    const char *argument; /* place */
    int64_t index;
    const char *reason; /* part of the message */
} refusal;

#define LINE(number) "line", number

static const refusal meter_refusals[] = {
    /* not JSON */
    {"{", "", FLC_E_SYNTAX, LINE(2), "expected"},
    {"\"above\"", "above", FLC_E_SYNTAX, LINE(2), "string or '}' expected"},
    {"\"refuse\",\n", "\"refuse\"\n", FLC_E_SYNTAX, LINE(4), "'}' expected"},
    {"0.29999999999999999", "00.3", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"0.29999999999999999", "+0.3", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"0.29999999999999999", ".3", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"0.29999999999999999", "0,3", FLC_E_SYNTAX, LINE(6), "expected"},
    {"0.29999999999999999", "NaN", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"0.29999999999999999", "Infinity", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"0.29999999999999999", "0x1p-2", FLC_E_SYNTAX, LINE(6), "expected"},
    {"0.29999999999999999", "/* k */ 0.3", FLC_E_SYNTAX, LINE(6), "invalid token"},
    {"invented", "in\nvented", FLC_E_SYNTAX, LINE(17), "unexpected newline"},
    {"invented", "in\x01vented", FLC_E_SYNTAX, LINE(17), "control character 0x1"},
    {"invented", "in\\u0000vented", FLC_E_SYNTAX, LINE(17), "\\u0000 is not allowed"},
    {"invented", "in\\uD800vented", FLC_E_SYNTAX, LINE(17), "invalid Unicode"},
    {"invented", "in\\xvented", FLC_E_SYNTAX, LINE(17), "invalid escape"},
    {"invented", "in\xFFvented", FLC_E_SYNTAX, LINE(17), "unable to decode byte 0xff"},
    {"invented", "in\xC0\xAFvented", FLC_E_SYNTAX, LINE(17), "unable to decode byte 0xc0"},         /* overlong */
    {"invented", "in\xED\xA0\x80vented", FLC_E_SYNTAX, LINE(17), "unable to decode byte 0xed"},     /* surrogate */
    {"invented", "in\xF4\x90\x80\x80vented", FLC_E_SYNTAX, LINE(17), "unable to decode byte 0xf4"}, /* past 10FFFF */
    {"invented", "in\xE2\x82vented", FLC_E_SYNTAX, LINE(17), "unable to decode byte 0xe2"},         /* cut */
    {"{", "\xEF\xBB\xBF{", FLC_E_SYNTAX, LINE(1), "expected"}, /* byte order mark */
    {"\"version\": 1\n}", "\"version\": 1\n} x", FLC_E_SYNTAX, LINE(98), "end of file expected"},
    {"\"version\": 1\n}", "\"version\": 1\n}{}", FLC_E_SYNTAX, LINE(98), "end of file expected"},
    /* keys twice */
    {"\"above\"", "\"above\": \"refuse\", \"above\"", FLC_E_SCHEMA, LINE(2), "duplicate object key"},
    {"\"bore_m\"", "\"bore_m\": 0.1, \"\\u0062ore_m\"", FLC_E_SCHEMA, LINE(8), "duplicate object key"},
    /* numbers a double cannot hold */
    {"0.29999999999999999", "1e400", FLC_E_NUMBER, LINE(6), "real number overflow"},
    {"0.29999999999999999", "-1e400", FLC_E_NUMBER, LINE(6), "real number overflow"},
    {"0.29999999999999999", "1e99999999999999999999", FLC_E_NUMBER, LINE(6), "real number overflow"},
    {"0.29999999999999999", "1e-400", FLC_E_NUMBER, "body.area_blocked", -1, "too small"},
    {"0.29999999999999999", "-1e-400", FLC_E_NUMBER, "body.area_blocked", -1, "too small"},
    {"0.29999999999999999", "2e-324", FLC_E_NUMBER, "body.area_blocked", -1, "too small"},
    {"1.66e-5", "0.00001e-4000", FLC_E_NUMBER, "body.housing.alpha_per_k", -1, "too small"},
    {"7.666666666666667,", "7.6e-999,", FLC_E_NUMBER, "curve.ln_ro", 2, "too small"},
    /* another format, a later version */
    {"flowcomp-meter", "flowcomp-liquid", FLC_E_SCHEMA, "format", -1, "this is no flowcomp-meter file"},
    {"\"format\": \"flowcomp-meter\"", "\"format\": 1", FLC_E_SCHEMA, "format", -1, "no flowcomp-meter"},
    {"\"format\"", "\"form\"", FLC_E_SCHEMA, "format", -1, "no flowcomp-meter"},
    {"\"version\": 1", "\"version\": 2", FLC_E_VERSION, "version", -1, "use a newer version of this library"},
    {"\"version\": 1", "\"new_key\": 3, \"version\": 2", FLC_E_VERSION, "version", -1, "use a newer version"},
    {"\"version\": 1", "\"version\": 1e300", FLC_E_VERSION, "version", -1, "use a newer version"},
    {"\"version\": 1", "\"version\": 0", FLC_E_SCHEMA, "version", -1, "not a version"},
    {"\"version\": 1", "\"version\": -1", FLC_E_SCHEMA, "version", -1, "not a version"},
    {"\"version\": 1", "\"version\": \"1\"", FLC_E_SCHEMA, "version", -1, "not a version"},
    {"\"version\": 1", "\"version\": null", FLC_E_SCHEMA, "version", -1, "not a version"},
    /* keys and kinds */
    {"\"bore_m\"", "\"bore_mm\"", FLC_E_SCHEMA, "body.bore_mm", -1, "unknown key"},
    {"\"bore_m\"", "\"\"", FLC_E_SCHEMA, "body.", -1, "unknown key"},
    {"\"bore_m\"", "\"b\xC3\xB6r\\n\"", FLC_E_SCHEMA, "body.b??r?", -1, "unknown key"},
    {"\"bore_m\": 0.016666666666666666,", "", FLC_E_SCHEMA, "body.bore_m", -1, "missing"},
    {"\"name\"", "\"x\": {}, \"name\"", FLC_E_SCHEMA, "x", -1, "unknown key"},
    {"0.016666666666666666", "\"0.0166\"", FLC_E_SCHEMA, "body.bore_m", -1, "a number or null belongs here"},
    {"0.016666666666666666", "true", FLC_E_SCHEMA, "body.bore_m", -1, "a number or null belongs here"},
    {"0.016666666666666666", "[]", FLC_E_SCHEMA, "body.bore_m", -1, "a number or null belongs here"},
    {"\"lame_closed\"", "4", FLC_E_SCHEMA, "body.end", -1, "a word or null belongs here"},
    {"\"name\": \"invented example\"", "\"name\": null", FLC_E_SCHEMA, "name", -1, "a text belongs here"},
    {"\"ln_ro\": [", "\"ln_ro\": [null,", FLC_E_SCHEMA, "curve.ln_ro", 0, "a number belongs here"},
    {"7.333333333333333,", "[7.333333333333333],", FLC_E_SCHEMA, "curve.ln_ro", 1, "a number belongs here"},
    {"\"methods\": [", "\"methods\": [1,", FLC_E_SCHEMA, "methods", 0, "an object belongs here"},
    {"\"status\": \"computed\"", "\"status\": 4", FLC_E_SCHEMA, "methods[0].status", -1, "a text belongs here"},
    {"\"lame_closed\"", "\"lame\"", FLC_E_CHOICE, "body.end", -1, "one of none, thin_wall,"},
    {"\"from memory\"", "\"memory\"", FLC_E_CHOICE, "body.rotor.provenance", -1, "one of published, from memory"},
    {"\"name\": \"invented", "\"name\": \"0123456789012345678901234567890123456789 invented", FLC_E_BUFFER, "name", -1,
     "limit 47"},
    {"\"from memory\",\n      \"source\": \"invented example\"",
     "\"from memory\",\n      \"source\": "
     "\"0123456789012345678901234567890123456789012345678901234567890123456789012345678901234567890123456\"",
     FLC_E_BUFFER, "body.rotor.source", -1, "limit 95"},
    {"\"st\": [", "\"st\": [0.7,", FLC_E_COUNT, "curve.st", -1, "ln_ro"},
    {"\"coefficients\": [", "\"coefficients\": [0.7,", FLC_E_COUNT, "curve.coefficients", -1, "four for each segment"},
    /* what the constructors refuse, with the path in front */
    {"\"lame_closed\"", "null", FLC_E_MISSING, "body.end", -1, "choose an end condition"},
    {"0.016666666666666666", "null", FLC_E_MISSING, "body.bore_m", -1, "body.bore_m"},
    {"0.016666666666666666", "3", FLC_E_ABOVE, "body.bore_m", -1, "body.bore_m = 3"},
    {"1.66e-5", "1.66e-2", FLC_E_ABOVE, "body.housing.alpha_per_k", -1, "limit"},
    {"\"law\": \"mean\"", "\"law\": \"nist_cryogenic\"", FLC_E_CHOICE, "body.housing.nist", -1, "choices"},
    {"\"ln_ro\": [\n      7.0,", "\"ln_ro\": [\n      7.4,", FLC_E_ORDER, "curve.ln_ro", 1, "curve.ln_ro[1]"},
    {"      -0.015000000000000027,", "-0.0150001,", FLC_E_DOMAIN, "curve.coefficients", 0, "does not meet"},
    {"\"cutoff_hz\": 0.1", "\"cutoff_hz\": -0.1", FLC_E_BELOW, "cutoff_hz", -1, "limit 0"},
    {"\"extend_slope\"", "null", FLC_E_CHOICE, "above", -1, "choices"},
    /* the hash */
    {"0.016666666666666666", "0.016666666666666669", FLC_E_CONFLICT, "body.bore_m", -1, "made for another body"},
    {"\"name\": \"invented", "\"name\": \"Invented", FLC_E_HASH, "sha256", -1, "damaged or edited"},
    {"\"from memory\"", "\"published\"", FLC_E_HASH, "sha256", -1, "damaged or edited"},
    {"\"extend_slope\"", "\"hold_end\"", FLC_E_HASH, "sha256", -1, "damaged or edited"},
    {"\"p0_kpag\": 0.0", "\"p0_kpag\": -0.0", FLC_E_HASH, "sha256", -1, "damaged or edited"},
    {"\"sha256\": \"", "\"sha256\": \"0", FLC_E_BUFFER, "sha256", -1, "limit 64"},
    {"\"nist\": null", "\"nist\": \"316\"", FLC_E_HASH, "body", -1, "not in use here"},
    {"\"library\": \"0.1.0\"", "\"library\": \"0.1.1\"", FLC_E_HASH, "head_sha256", -1, "damaged or edited"},
    {"\"status\": \"computed\"", "\"status\": \"published\"", FLC_E_HASH, "head_sha256", -1, "damaged or edited"},
    {"FLC-BITS-1", "FLC-BITS-0", FLC_E_HASH, "head_sha256", -1, "damaged or edited"},
};

static const refusal liquid_refusals[] = {
    {"flowcomp-liquid", "flowcomp-meter", FLC_E_SCHEMA, "format", -1, "this is no flowcomp-liquid file"},
    {"5.666666666666667", "1e-330", FLC_E_NUMBER, "points.nu_mm2s", 1, "too small"},
    {"\"group\": \"refined\"", "\"group\": \"oil\"", FLC_E_CHOICE, "product.group", -1, "one of crude, refined"},
    {"\"group\": \"refined\"", "\"group\": null", FLC_E_MISSING, "product.group", -1, "product.group: a required"},
    {"\"alpha60_per_degf\": null", "\"alpha60_per_degf\": 5e-4", FLC_E_CONFLICT, "product.alpha60_per_degf", -1,
     "either"},
    {"\"nu_mm2s\": [", "\"nu_mm2s\": [12,", FLC_E_COUNT, "points.nu_mm2s", -1, "t_degc"},
    {"\"t_degc\": []", "\"t_degc\": [1]", FLC_E_COUNT, "second.nu_mm2s", -1, "t_degc"},
    {"\"base\": \"15C\"", "\"base\": null", FLC_E_MISSING, "base", -1, "base"},
    {"\"base\": \"15C\"", "\"base\": \"15 C\"", FLC_E_CHOICE, "base", -1, "one of 60F, 15C, 20C"},
    {"\"u_nu_relative\": 0.01", "\"u_nu_relative\": null", FLC_E_MISSING, "u_nu_relative", -1, "how sure"},
    {"\"u_nu_relative\": 0.01", "\"u_nu_relative\": 0.02", FLC_E_HASH, "sha256", -1, "damaged or edited"},
    {"      20.0,", "400.5,", FLC_E_ABOVE, "points.t_degc", 0, "points.t_degc[0] = 400.5"},
    {"      20.0,", "45,", FLC_E_ORDER, "points.t_degc", 1, "temperatures must rise"},
    {"\"slope_b\": null", "\"slope_b\": 3.9", FLC_E_HASH, "slope_b", -1, "not in use here"},
    {"\"nu_mm2s\": [],\n    \"rho_base_kgm3\": null", "\"nu_mm2s\": [],\n    \"rho_base_kgm3\": 800", FLC_E_HASH,
     "second", -1, "not in use here"},
};

static void refuse_list(int is_liquid, const refusal *list, size_t count)
{
    assert_true(count > 0);
    for (size_t i = 0; i < count; i++) {
        const refusal *row = &list[i];
        char *text = with_edit(is_liquid ? liquid_text : meter_text, row->from, row->to);
        flc_error error;
        const long live = flc_test_live_blocks();
        const flc_status status = load(is_liquid, text, strlen(text), &error);
        assert_int_equal(flc_test_live_blocks(), live);
        if (status != row->status || strcmp(error.argument, row->argument) != 0 || error.index != row->index ||
            strstr(error.message, row->reason) == NULL) {
            fail_msg("%s -> %s\n gave %s, '%s' [%d], \"%s\"\n expected %s, '%s' [%d], \"%s\"", row->from, row->to,
                     flc_status_name(status), error.argument, (int)error.index, error.message,
                     flc_status_name(row->status), row->argument, (int)row->index, row->reason);
        }
        free(text);
    }
    print_message("%zu edits refused, each with its place and reason\n", count);
}

static void edits_are_refused(void **state)
{
    (void)state;
    refuse_list(0, meter_refusals, sizeof meter_refusals / sizeof meter_refusals[0]);
    refuse_list(1, liquid_refusals, sizeof liquid_refusals / sizeof liquid_refusals[0]);
}

/* The order in which a file is judged, as the header states it: each step wins over all that come after. */
static void the_first_refusal_wins(void **state)
{
    (void)state;
    static const refusal steps[] = {
        {"\n}\n", "\n}\n!", FLC_E_SYNTAX, LINE(99), ""},
        {"\"wall_m\"", "\"wall_m\": 1e-400, \"wall\"", FLC_E_NUMBER, "body.wall_m", -1, ""},
        {"\"version\": 1", "\"version\": 3", FLC_E_VERSION, "version", -1, ""},
        {"\"name\"", "\"title\"", FLC_E_SCHEMA, "title", -1, ""},
        {"0.016666666666666666", "3", FLC_E_ABOVE, "body.bore_m", -1, ""},
        {"\"cutoff_hz\": 0.1", "\"cutoff_hz\": 0.2", FLC_E_HASH, "sha256", -1, ""},
    };
    enum { STEPS = sizeof steps / sizeof steps[0] };
    for (int first = 0; first < STEPS; first++) {
        char *text = with_edit(meter_text, "{", "{");
        for (int i = STEPS - 1; i >= first; i--) {
            char *edited = with_edit(text, steps[i].from, steps[i].to);
            free(text);
            text = edited;
        }
        flc_error error;
        assert_int_equal(load(0, text, strlen(text), &error), steps[first].status);
        assert_string_equal(error.argument, steps[first].argument);
        assert_int_equal(error.index, steps[first].index);
        free(text);
    }
}

/* A head that is in order but for its contract; its hash is by tests/golden/canonical_hash.py. */
static void a_later_contract_of_bits_is_refused(void **state)
{
    (void)state;
    char *other = with_edit(meter_text, "FLC-BITS-1", "FLC-BITS-99");
    char *text = with_edit(other, "d0fb758374af1c40a93648083885cb689d8d2bb1373783ea73c0da6afe2867b4",
                           "c5dd302f9a1a28fd192d49f60c579affa9e29ecc12648c53736e9272e4c338ad");
    flc_error error;
    assert_int_equal(load(0, text, strlen(text), &error), FLC_E_VERSION);
    assert_string_equal(error.argument, "bits_contract");
    free(other);
    free(text);
}

/* ---- texts that are no edit of a good one ---- */

static void bombs_are_refused(void **state)
{
    (void)state;
    const size_t length = (size_t)16 << 20;
    char *text = malloc(length + 1);
    flc_error error;
    assert_non_null(text);
    memset(text, ' ', length + 1);
    assert_int_equal(load(0, text, length + 1, &error), FLC_E_ABOVE);
    assert_string_equal(error.argument, "length");
    flc_check_same_bits(error.limit, 16777216.0);
    assert_int_equal(load(0, text, length, &error), FLC_E_SYNTAX); /* nothing but blanks */
    memset(text, '[', length);
    assert_int_equal(load(0, text, length, &error), FLC_E_SCHEMA);
    assert_non_null(strstr(error.message, "nested deeper"));
    assert_int_equal(load(0, text, 8, &error), FLC_E_SYNTAX);
    text[0] = '[';
    for (size_t i = 1; i + 1 < length; i += 2) {
        memcpy(text + i, i % 200 == 1 ? "0\n" : "0,", 2); /* lines of a hundred numbers, not quite JSON */
    }
    assert_int_equal(load(0, text, length, &error), FLC_E_SCHEMA);
    assert_non_null(strstr(error.message, "more values"));
    assert_true(error.index > 600 && error.index < 700);
    memset(text, '"', length); /* 8 M empty strings without commas */
    assert_int_equal(load(0, text, length, &error), FLC_E_SYNTAX);
    memset(text, '1', length); /* one long number */
    assert_int_equal(load(0, text, length, &error), FLC_E_NUMBER);
    text[0] = '[';
    text[length - 1] = ']';
    assert_int_equal(load(0, text, length, &error), FLC_E_NUMBER);
    memset(text + 1, '\\', length - 2);
    text[1] = '"';
    assert_int_equal(load(0, text, length, &error), FLC_E_SYNTAX); /* one endless escape */
    free(text);
}

static void odd_texts_are_refused(void **state)
{
    (void)state;
    static const char *const texts[] = {"",
                                        " ",
                                        "\n",
                                        "null",
                                        "1",
                                        "\"flowcomp-meter\"",
                                        "[",
                                        "]",
                                        "{",
                                        "}",
                                        "{]",
                                        "[}",
                                        "{\"format\":\"flowcomp-meter\",\"version\":",
                                        "\"",
                                        "\\",
                                        "-",
                                        "\xEF\xBB\xBF"};
    flc_error error;
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        assert_int_equal(load(0, texts[i], strlen(texts[i]), &error), FLC_E_SYNTAX);
        assert_string_equal(error.argument, "line");
        assert_true(error.index >= 1);
    }
    assert_int_equal(load(0, "[]", 2, &error), FLC_E_SCHEMA);
    assert_int_equal(load(0, "{}", 2, &error), FLC_E_SCHEMA);
    assert_int_equal(load(0, "{}\0", 3, &error), FLC_E_SYNTAX); /* a NUL behind the text */
    assert_int_equal(load(0, "\0{}", 3, &error), FLC_E_SYNTAX);
    assert_int_equal(load(0, "{\"a\0b\":1}", 9, &error), FLC_E_SYNTAX);
}

static void null_is_refused(void **state)
{
    (void)state;
    flc_error error;
    flc_meter *meter = NULL;
    char *text = NULL, hash[FLC_HASH_TEXT];
    assert_int_equal(flc_meter_from_json(NULL, 1, &meter, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "text");
    assert_int_equal(flc_meter_from_json("{}", 2, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "meter");
    assert_int_equal(flc_liquid_from_json("{}", 2, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_meter_to_json(NULL, &text, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "meter");
    assert_int_equal(flc_liquid_to_json(NULL, &text, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "liquid");
    assert_int_equal(flc_meter_hash(NULL, hash), FLC_E_NULL);
    assert_int_equal(flc_liquid_hash(NULL, hash), FLC_E_NULL);
    flc_meter *good = example_meter();
    assert_int_equal(flc_meter_to_json(good, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_meter_hash(good, NULL), FLC_E_NULL);
    flc_meter_free(good);
    flc_text_free(NULL);
}

/* ---- what a file cannot hold ---- */

static void what_no_file_can_hold_is_not_written(void **state)
{
    (void)state;
    flc_error error;
    char *text = NULL;
    flc_liquid_options options = example_liquid_options();
    options.nu_source = "caf\xE9"; /* Latin-1 */
    flc_liquid *liquid = example_liquid_of(&options);
    assert_int_equal(flc_liquid_to_json(liquid, &text, &error), FLC_E_SCHEMA);
    assert_string_equal(error.argument, "nu_source");
    assert_null(text);
    flc_liquid_free(liquid);
    flc_body_options body = example_body();
    body.housing.t_high_degc = flc_infinity();
    flc_meter *meter = example_meter_of(&body, 2);
    assert_int_equal(flc_meter_to_json(meter, &text, &error), FLC_E_NUMBER);
    assert_string_equal(error.argument, "body.housing.t_high_degc");
    flc_meter_free(meter);
    body = example_body();
    body.rotor.provenance = (flc_provenance)0; /* a struct filled in by hand */
    assert_int_equal(flc_body_check(&body, &error), FLC_E_CHOICE);
    assert_string_equal(error.argument, "rotor.provenance");
}

/* ---- every byte changed, every length cut ---- */

static void is_the_same_object(int is_liquid, const char *edited, const char *good)
{
    char *again = NULL;
    if (is_liquid) {
        flc_liquid *liquid = NULL;
        assert_int_equal(flc_liquid_from_json(edited, strlen(edited), &liquid, NULL), FLC_OK);
        assert_int_equal(flc_liquid_to_json(liquid, &again, NULL), FLC_OK);
        flc_liquid_free(liquid);
    } else {
        flc_meter *meter = NULL;
        assert_int_equal(flc_meter_from_json(edited, strlen(edited), &meter, NULL), FLC_OK);
        assert_int_equal(flc_meter_to_json(meter, &again, NULL), FLC_OK);
        flc_meter_free(meter);
    }
    assert_string_equal(again, good);
    flc_text_free(again);
}

/* The eight flipped bits, then characters that mean something in JSON, and NUL. */
static const char substitutes[] = " \n\"{}[],:.-+eE0159nx\\";

static char changed(char before, size_t k)
{
    if (k >= 8) {
        return substitutes[k - 8];
    }
    const unsigned char flipped = (unsigned char)((unsigned char)before ^ (1u << k));
    char after;
    memcpy(&after, &flipped, 1);
    return after;
}

static void change_every_byte(int is_liquid, const char *good)
{
    char *text = with_edit(good, "{", "{");
    long refused = 0, same = 0;
    for (size_t i = 0; good[i] != '\0'; i++) {
        for (size_t k = 0; k < 8 + sizeof substitutes; k++) {
            flc_error error;
            text[i] = changed(good[i], k);
            if (text[i] == good[i]) {
                continue;
            }
            if (load(is_liquid, text, strlen(good), &error) != FLC_OK) {
                refused++;
            } else {
                is_the_same_object(is_liquid, text, good);
                same++;
            }
        }
        text[i] = good[i];
    }
    free(text);
    print_message("%zu bytes, %ld changes: %ld refused, %ld read as the same object\n", strlen(good), refused + same,
                  refused, same);
    assert_true(refused > (long)(10 * strlen(good)));
}

static void every_changed_byte_is_refused_or_harmless(void **state)
{
    (void)state;
    change_every_byte(0, meter_text);
    change_every_byte(1, liquid_text);
}

/* Only the last newline can go: what is left is the whole JSON. */
static void every_cut_is_refused(void **state)
{
    (void)state;
    for (int is_liquid = 0; is_liquid <= 1; is_liquid++) {
        const char *good = is_liquid ? liquid_text : meter_text;
        const size_t length = strlen(good);
        flc_error error;
        for (size_t cut = 0; cut < length - 1; cut++) {
            assert_int_equal(load(is_liquid, good, cut, &error), FLC_E_SYNTAX);
        }
        assert_int_equal(load(is_liquid, good, length - 1, &error), FLC_OK);
        assert_int_equal(load(is_liquid, good, length, &error), FLC_OK);
    }
}

static int set_up(void **state)
{
    (void)state;
    meter_text = example_meter_text();
    liquid_text = example_liquid_text();
    return 0;
}

static int tear_down(void **state)
{
    (void)state;
    flc_text_free(meter_text);
    flc_text_free(liquid_text);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(edits_are_refused),
        cmocka_unit_test(the_first_refusal_wins),
        cmocka_unit_test(a_later_contract_of_bits_is_refused),
        cmocka_unit_test(bombs_are_refused),
        cmocka_unit_test(odd_texts_are_refused),
        cmocka_unit_test(null_is_refused),
        cmocka_unit_test(what_no_file_can_hold_is_not_written),
        cmocka_unit_test(every_changed_byte_is_refused_or_harmless),
        cmocka_unit_test(every_cut_is_refused),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
