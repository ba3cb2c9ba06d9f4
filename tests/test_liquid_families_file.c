/* SPDX-License-Identifier: Apache-2.0 */
/* Liquid files of every family: read back to the same bytes; the schema of the second version fits them; a file of the
 * first version cannot say what only the second can; old liquids keep version 1. */
#include "family_liquids.h"
#include "flowcomp/records.h"
#include "json_edit.h"
#include <jansson.h>
#include <stdlib.h>

#define SCHEMA FLC_TEST_CHECKS_DIR "/../../libflowcomp/schema/flowcomp-liquid-2.schema.json"

static char *text_of(const flc_liquid *liquid)
{
    char *text = NULL;
    flc_error error;
    if (flc_liquid_to_json(liquid, &text, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    return text;
}

static void same_bytes(const flc_liquid *a, const flc_liquid *b)
{
    static uint8_t left[8192], right[8192];
    size_t needed_left = 0, needed_right = 0;
    assert_int_equal(flc_liquid_canonical(a, left, sizeof left, &needed_left), FLC_OK);
    assert_int_equal(flc_liquid_canonical(b, right, sizeof right, &needed_right), FLC_OK);
    assert_int_equal(needed_left, needed_right);
    assert_memory_equal(left, right, needed_left);
}

static void test_files_read_back(void **state)
{
    (void)state;
    for (size_t i = 0; i < FAMILIES; i++) {
        flc_liquid *liquid = family_new(&family_liquids[i]), *again = NULL;
        assert_int_equal(flc_liquid_edition(liquid), 2);
        char *text = text_of(liquid);
        flc_error error;
        if (flc_liquid_from_json(text, strlen(text), &again, &error) != FLC_OK) {
            fail_msg("%s: %s", family_liquids[i].name, error.message);
        }
        same_bytes(liquid, again);
        char *text_again = text_of(again);
        assert_string_equal(text, text_again);
        char hash[65], hash_again[65];
        assert_int_equal(flc_liquid_hash(liquid, hash), FLC_OK);
        assert_int_equal(flc_liquid_hash(again, hash_again), FLC_OK);
        assert_string_equal(hash, hash_again);
        assert_non_null(strstr(text, "\"version\": 2"));
        flc_text_free(text);
        flc_text_free(text_again);
        flc_liquid_free(liquid);
        flc_liquid_free(again);
    }
}

static void same_keys(const json_t *schema, json_t *file)
{
    const json_t *properties = json_object_get(schema, "properties");
    assert_int_equal(json_object_size(properties), json_object_size(file));
    assert_int_equal(json_array_size(json_object_get(schema, "required")), json_object_size(file));
    const char *key;
    json_t *value;
    json_object_foreach(file, key, value)
    {
        const json_t *property = json_object_get(properties, key);
        if (property == NULL) {
            fail_msg("the schema lacks %s", key);
        }
        const json_t *words = json_object_get(property, "enum");
        int found = words == NULL;
        for (size_t i = 0; i < json_array_size(words); i++) {
            found |= json_equal(json_array_get(words, i), value);
        }
        if (!found) {
            fail_msg("the schema has no such word for %s", key);
        }
        if (json_is_object(value)) {
            same_keys(property, value);
        }
    }
}

static void test_the_schema_fits(void **state)
{
    (void)state;
    json_error_t error;
    json_t *schema = json_load_file(SCHEMA, JSON_REJECT_DUPLICATES, &error);
    assert_non_null(schema);
    for (size_t i = 0; i < FAMILIES; i++) {
        flc_liquid *liquid = family_new(&family_liquids[i]);
        char *text = text_of(liquid);
        json_t *file = json_loads(text, 0, &error);
        assert_non_null(file);
        same_keys(schema, file);
        assert_true(json_array_size(json_object_get(file, "methods")) >= 1);
        json_decref(file);
        flc_text_free(text);
        flc_liquid_free(liquid);
    }
    json_decref(schema);
}

/* A changed word makes another hash; a file of version 1 has other keys. */
static void test_edited_files_are_refused(void **state)
{
    (void)state;
    flc_liquid *liquid = family_new(&family_liquids[0]), *none = NULL;
    char *text = text_of(liquid);
    char *edited = with_edit(text, "\"t_base_degc\": 30.0", "\"t_base_degc\": 31.0");
    assert_int_equal(flc_liquid_from_json(edited, strlen(edited), &none, NULL), FLC_E_HASH);
    free(edited);
    edited = with_edit(text, "\"version\": 2", "\"version\": 1");
    assert_int_equal(flc_liquid_from_json(edited, strlen(edited), &none, NULL), FLC_E_SCHEMA);
    free(edited);
    edited = with_edit(text, "\"version\": 2", "\"version\": 3");
    assert_int_equal(flc_liquid_from_json(edited, strlen(edited), &none, NULL), FLC_E_VERSION);
    free(edited);
    flc_text_free(text);
    flc_liquid_free(liquid);
    liquid = invented_liquid(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_POINTS);
    assert_int_equal(flc_liquid_edition(liquid), 1);
    text = text_of(liquid);
    assert_non_null(strstr(text, "\"version\": 1"));
    edited = with_edit(text, "\"volume\": \"petroleum_2004\"", "\"volume\": \"produced_water_api20\"");
    assert_int_equal(flc_liquid_from_json(edited, strlen(edited), &none, NULL), FLC_E_SCHEMA);
    free(edited);
    flc_text_free(text);
    flc_liquid_free(liquid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_files_read_back),
        cmocka_unit_test(test_the_schema_fits),
        cmocka_unit_test(test_edited_files_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
