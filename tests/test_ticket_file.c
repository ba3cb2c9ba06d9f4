/* SPDX-License-Identifier: Apache-2.0 */
/* Ticket files: every changed byte of a signed one is found, whatever is refused names its place, and no failed
 * allocation leaves anything behind. Figures are compared with the functions they come from, and recomputed by
 * tests/support/verify_ticket.py, which does not know the library. */
#include "failing_allocator.h"
#include "flowcomp/ticket_file.h"
#include "record_examples.h"
#include "record_fields.h"
#include "record_words.h"
#include <stdlib.h>

#define HOURS 6
#define START INT64_C(1738303200000) /* 2025-01-31T06:00:00Z */

static const uint8_t seed[FLC_KEY_BYTES] = {2, 7, 1, 8, 2, 8};

static flc_liquid *invented_liquid(void)
{
    flc_liquid_options options = example_liquid_options();
    flc_liquid *liquid = NULL;
    assert_int_equal(flc_liquid_new(&options, &liquid, NULL), FLC_OK);
    return liquid;
}

/* Hours of an invented delivery; nothing flows in the fourth. */
static flc_ticket_content invented_content(const flc_liquid *liquid, flc_interval *rows)
{
    flc_ticket_content content;
    flc_ticket_content_init(&content);
    content.id = "T-17";
    content.place = "invented depot";
    content.start_ms = START;
    content.end_ms = START + HOURS * INT64_C(3600000);
    content.iv_source = FLC_IV_INTERVALS;
    content.factors = FLC_FACTORS_AVERAGES;
    content.nkf = 1000.0 / 3.0;
    content.density.rho_base_kgm3 = 835.0;
    content.ticket.sw_pct = 0.1;
    content.liquid = liquid;
    content.intervals = rows;
    content.interval_count = HOURS;
    for (int i = 0; i < HOURS; i++) {
        flc_interval_init(&rows[i]);
        rows[i].start_ms = START + i * INT64_C(3600000);
        rows[i].end_ms = rows[i].start_ms + INT64_C(3600000);
        rows[i].pulses = i == 3 ? 0.0 : 100000.0 + 7.0 * i;
        rows[i].mf = 1.0012;
        rows[i].t_degc = 21.1 + i;
        rows[i].p_kpag = 400.0;
    }
    return content;
}

static void make_text(const flc_ticket_content *content, const uint8_t *key, char **text)
{
    flc_error error;
    if (flc_ticket_file_new(content, key, text, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
}

static flc_ticket_verdict verify(const char *text, const uint8_t *key)
{
    flc_ticket_verdict verdict;
    flc_error error;
    flc_ticket_verdict_init(&verdict);
    if (flc_ticket_verify(text, strlen(text), key, &verdict, NULL, 0, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return verdict;
}

/* A number in the text behind a key. */
static double number_behind(const char *text, const char *part, const char *key)
{
    const char *at = strstr(strstr(text, part), key);
    return strtod(at + strlen(key), NULL);
}

static void figures_are_those_of_the_functions(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid();
    flc_interval rows[HOURS];
    flc_ticket_interval plain[HOURS];
    flc_ticket_content content = invented_content(liquid, rows);
    char *text = NULL;
    make_text(&content, seed, &text);
    for (int i = 0; i < HOURS; i++) {
        plain[i] = (flc_ticket_interval){rows[i].pulses / content.nkf, rows[i].mf, rows[i].t_degc, rows[i].p_kpag};
    }
    flc_two_ways ways;
    assert_int_equal(flc_ticket_two_ways(liquid, &content.density, plain, HOURS, &ways, NULL), FLC_OK);
    flc_check_same_bits(number_behind(text, "\"two_ways\"", "\"gsv_intervals\": "), ways.gsv_intervals);
    flc_check_same_bits(number_behind(text, "\"two_ways\"", "\"gsv_averages\": "), ways.gsv_averages);
    flc_ticket ticket = content.ticket;
    flc_ticket_result result;
    flc_ticket_result_init(&result);
    ticket.iv = ways.iv;
    ticket.mf = 1.0012;
    ticket.ctl = ways.ctl;
    ticket.cpl = ways.cpl;
    ticket.rho_base_kgm3 = 835.0;
    assert_int_equal(flc_ticket_evaluate(&ticket, &result, NULL), FLC_OK);
    flc_check_same_bits(number_behind(text, "\"result\"", "\"gsv\": "), result.gsv);
    flc_check_same_bits(number_behind(text, "\"result\"", "\"nsv\": "), result.nsv);
    flc_check_same_bits(number_behind(text, "\"result\"", "\"weight_kg\": "), result.weight_kg);

    uint8_t key[FLC_KEY_BYTES];
    assert_int_equal(flc_public_key(seed, key), FLC_OK);
    flc_ticket_verdict verdict = verify(text, key);
    assert_true(verdict.good && verdict.hash_good && verdict.same_contract);
    assert_int_equal(verdict.seal, FLC_SEAL_GOOD);
    assert_true(verdict.figures > 70);
    assert_string_equal(verdict.id, "T-17");
    assert_int_equal(verify(text, NULL).seal, FLC_SEAL_OWN);
    key[0] ^= 1;
    verdict = verify(text, key);
    assert_int_equal(verdict.seal, FLC_SEAL_OTHER_KEY);
    assert_false(verdict.good);
    flc_text_free(text);
    make_text(&content, NULL, &text);
    assert_true(verify(text, NULL).good);
    assert_int_equal(verify(text, key).seal, FLC_SEAL_MISSING);
    flc_text_free(text);
    flc_liquid_free(liquid);
}

/* Two quantities on one ticket, both of which would verify: refused. */
static void what_is_said_twice_agrees(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid();
    flc_interval rows[HOURS];
    flc_ticket_content content = invented_content(liquid, rows);
    flc_error error;
    char *text = NULL;
    content.ticket.mf = 0.95;
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_CONFLICT);
    assert_string_equal(error.argument, "inputs.ticket.mf");
    content.ticket.mf = 1.0012;
    make_text(&content, NULL, &text);
    flc_text_free(text);
    content.density.rho_observed_kgm3 = 830.0;
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_CONFLICT);
    assert_string_equal(error.argument, "inputs.density");
    content.density.rho_observed_kgm3 = flc_nan();
    content.volume_unit = "bbl"; /* of 1 m3: the mass would be out by 6.29 */
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_CONFLICT);
    assert_string_equal(error.argument, "inputs.ticket.unit_m3");
    content.ticket.unit_m3 = 0.158987294928; /* 42 US gallons of 231 cubic inches */
    make_text(&content, NULL, &text);
    flc_text_free(text);
    content.volume_unit = "kg";
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_UNIT_KIND);
    content.volume_unit = "bbl";
    content.beside.interface_share = 3.0;
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_MISSING);
    content.beside.interface = 2.5;
    content.beside.interface_rule = "half";
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_ABOVE);
    assert_string_equal(error.argument, "inputs.beside.interface_share");
    content.beside.interface_share = 1.25;
    content.beside.reverse = -1.0;
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, &error), FLC_E_BELOW);
    content.beside.reverse = 0.0;
    make_text(&content, NULL, &text);
    assert_non_null(strstr(text, "\"interface_share\": 1.25"));
    assert_true(verify(text, NULL).good);
    flc_text_free(text);
    content.volume_unit = "tank car"; /* the parties' own: its size is unit_m3 */
    make_text(&content, NULL, &text);
    flc_text_free(text);
    flc_liquid_free(liquid);
}

/* Found: refused, or not good. */
static int is_found(const char *text, size_t length, const uint8_t *key)
{
    flc_ticket_verdict verdict;
    flc_ticket_verdict_init(&verdict);
    return flc_ticket_verify(text, length, key, &verdict, NULL, 0, NULL) != FLC_OK || !verdict.good;
}

static void every_changed_byte_is_found(void **state)
{
    (void)state;
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__) /* slow, and the answer is the same */
    static const int flips[] = {1, 128};
#else
    static const int flips[] = {1, 2, 4, 8, 16, 32, 64, 128, 255};
#endif
    flc_ticket_content content;
    flc_ticket_content_init(&content);
    content.id = "T-18";
    content.start_ms = START;
    content.end_ms = START + 1000;
    content.iv_source = FLC_IV_READINGS;
    content.opening = 17181.4;
    content.closing = 45752.83;
    content.ticket.mf = 1.0012;
    content.ticket.ctl = 0.98412;
    content.ticket.cpl = 1.00073;
    content.ticket.sw_pct = 0.25;
    content.ticket.rho_base_kgm3 = 851.3;
    char *text = NULL;
    make_text(&content, seed, &text);
    const size_t length = strlen(text);
    uint8_t key[FLC_KEY_BYTES];
    long changes = 0;
    assert_int_equal(flc_public_key(seed, key), FLC_OK);
    assert_false(is_found(text, length, key));
    for (size_t at = 0; at < length; at++) {
        for (size_t f = 0; f < sizeof flips / sizeof flips[0]; f++) {
            const char was = text[at];
            text[at] = (char)(was ^ flips[f]);
            changes++;
            if (!is_found(text, length, key)) {
                fail_msg("byte %zu, flipped by %d, is not found", at, flips[f]);
            }
            text[at] = was;
        }
        assert_true(is_found(text, at, key)); /* cut there */
    }
    print_message("%zu bytes of a signed ticket, %ld changes and %zu cuts, all found\n", length, changes, length);
    flc_text_free(text);
}

/* Whoever edits a figure and makes the hash anew still has no key, and the figure still differs. */
static void an_edited_figure_is_named(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid();
    flc_interval rows[HOURS];
    flc_ticket_content content = invented_content(liquid, rows);
    char *text = NULL;
    make_text(&content, seed, &text);
    char *digit = strstr(strstr(text, "\"result\""), "\"nsv\": ") + 7;
    flc_ticket_verdict verdict;
    flc_ticket_difference found[2];
    flc_status status = FLC_E_SCHEMA;
    for (char other = '1'; status == FLC_E_SCHEMA && other <= '9'; other++) { /* until 17 digits spell a double */
        flc_ticket_verdict_init(&verdict);
        *digit = *digit == other ? *digit : other;
        status = flc_ticket_verify(text, strlen(text), NULL, &verdict, found, 2, NULL);
        status = verdict.good ? FLC_E_SCHEMA : status;
    }
    assert_int_equal(status, FLC_OK);
    assert_false(verdict.good || verdict.hash_good);
    assert_int_equal(verdict.differences, 1);
    assert_string_equal(found[0].figure, "figures.result.nsv");
    assert_true(found[0].stored != found[0].recomputed);
    flc_text_free(text);
    flc_liquid_free(liquid);
}

/* A content is read back as it was, and inputs may be left out where they stand at their defaults. */
static void inputs_make_the_same_file(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid();
    flc_interval rows[HOURS];
    flc_ticket_content content = invented_content(liquid, rows);
    char *text = NULL, *again = NULL;
    make_text(&content, seed, &text);
    flc_error error;
    char *inputs = strstr(text, "\"inputs\": ") + 10;
    char *stop = strstr(inputs, "\n  },\n  \"library\"");
    if (flc_ticket_file_from_inputs(inputs, (size_t)(stop + 4 - inputs), seed, &again, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    assert_string_equal(again, text);
    flc_text_free(again);
    static const char *const bad[][2] = {
        {"[]", "inputs"},
        {"{\"id\": 1}", "inputs.id"},
        {"{\"id\": \"a\", \"start\": \"2025-02-30T00:00:00.000Z\"}", "inputs.start"},
        {"{\"id\": \"a\", \"intervals\": [3]}", "inputs.intervals"},
        {"{\"id\": \"a\", \"intervals\": {}}", "inputs.intervals"},
        {"{\"id\": \"a\", \"meter\": {}}", "inputs.meter.format"},
        {"{\"id\": \"a\", \"liquid\": 3}", "inputs.liquid"},
        {"{\"id\": \"a\", \"ticket\": {\"rounding\": {\"ccf\": {\"decimals\": 0.5}}}}",
         "inputs.ticket.rounding.ccf.decimals"},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        assert_int_equal(flc_ticket_file_from_inputs(bad[i][0], strlen(bad[i][0]), NULL, &again, &error), FLC_E_SCHEMA);
        assert_string_equal(error.argument, bad[i][1]);
        assert_null(again);
    }
    flc_text_free(text);
    flc_liquid_free(liquid);
}

static void null_and_size_are_refused(void **state)
{
    (void)state;
    flc_ticket_content content;
    flc_ticket_verdict verdict;
    char *text = NULL;
    flc_ticket_content_init(&content);
    flc_ticket_verdict_init(&verdict);
    assert_int_equal(flc_ticket_file_new(NULL, NULL, &text, NULL), FLC_E_NULL);
    assert_int_equal(flc_ticket_file_new(&content, NULL, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_ticket_file_from_inputs(NULL, 0, NULL, &text, NULL), FLC_E_NULL);
    assert_int_equal(flc_ticket_verify(NULL, 0, NULL, &verdict, NULL, 0, NULL), FLC_E_NULL);
    assert_int_equal(flc_ticket_verify("{}", 2, NULL, &verdict, NULL, 1, NULL), FLC_E_NULL);
    assert_int_equal(flc_ticket_verify("{}", 2, NULL, &verdict, NULL, 0, NULL), FLC_E_SCHEMA);
    verdict.size = 0;
    assert_int_equal(flc_ticket_verify("{}", 2, NULL, &verdict, NULL, 0, NULL), FLC_E_SIZE);
    content.size = 0;
    assert_int_equal(flc_ticket_file_new(&content, NULL, &text, NULL), FLC_E_SIZE);
    assert_null(text);
    for (int seal = FLC_SEAL_NONE; seal <= FLC_SEAL_MISSING; seal++) {
        assert_non_null(flc_seal_word((flc_seal)seal));
    }
    assert_null(flc_seal_word((flc_seal)(FLC_SEAL_MISSING + 1)));
}

static void memory_may_run_out(void **state)
{
    (void)state;
    flc_liquid *liquid = invented_liquid();
    flc_interval rows[HOURS];
    flc_ticket_content content = invented_content(liquid, rows);
    const long live = flc_test_live_blocks();
    for (long n = 1;; n++) {
        char *text = NULL;
        flc_ticket_verdict verdict;
        flc_ticket_verdict_init(&verdict);
        flc_test_fail_allocation(n);
        flc_status status = flc_ticket_file_new(&content, seed, &text, NULL);
        if (status == FLC_OK) {
            status = flc_ticket_verify(text, strlen(text), NULL, &verdict, NULL, 0, NULL);
        } else {
            assert_null(text);
        }
        const int failed = flc_test_allocation_failed();
        flc_test_fail_allocation(0);
        flc_text_free(text);
        assert_int_equal(flc_test_live_blocks(), live);
        if (!failed) {
            assert_int_equal(status, FLC_OK);
            assert_true(n > 20);
            break;
        }
        assert_int_equal(status, FLC_E_MEMORY);
    }
    flc_liquid_free(liquid);
}

#define SAME_WORDS(words, type, from_name)                           \
    for (int i = 0; words.word[i] != NULL; i++) {                    \
        type choice;                                                 \
        assert_int_equal(from_name(words.word[i], &choice), FLC_OK); \
        assert_int_equal((int)choice, words.first + i);              \
    }

static void words_are_those_of_from_name(void **state)
{
    (void)state;
    SAME_WORDS(flc_words_way, flc_proving_way, flc_proving_way_from_name);
    SAME_WORDS(flc_words_sw_basis, flc_sw_basis, flc_sw_basis_from_name);
    SAME_WORDS(flc_words_air_form, flc_air_form, flc_air_form_from_name);
    SAME_WORDS(flc_words_rounding, flc_rounding_kind, flc_rounding_kind_from_name);
    SAME_WORDS(flc_words_iv_source, flc_iv_source, flc_iv_source_from_name);
    SAME_WORDS(flc_words_factor_source, flc_factor_source, flc_factor_source_from_name);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(figures_are_those_of_the_functions),
        cmocka_unit_test(every_changed_byte_is_found),
        cmocka_unit_test(what_is_said_twice_agrees),
        cmocka_unit_test(an_edited_figure_is_named),
        cmocka_unit_test(inputs_make_the_same_file),
        cmocka_unit_test(null_and_size_are_refused),
        cmocka_unit_test(memory_may_run_out),
        cmocka_unit_test(words_are_those_of_from_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
