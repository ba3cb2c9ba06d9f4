/* SPDX-License-Identifier: Apache-2.0 */
/* Meter and liquid files: what is written reads back to the same object, bit for bit; golden files; hashes; the words
 * and the published schemas agree with the library. */
#include "json_edit.h"
#include "record_examples.h"
#include "record_hash.h"
#include "record_words.h"
#include <stdio.h>

#define GOLDEN FLC_TEST_CHECKS_DIR "/../golden/"
#define SCHEMA FLC_TEST_CHECKS_DIR "/../../libflowcomp/schema/"

/* ---- the same object, bit for bit ---- */

static void same_metal(const flc_metal *a, const flc_metal *b)
{
    assert_int_equal(a->law, b->law);
    flc_check_same_bits(a->alpha_per_k, b->alpha_per_k);
    flc_check_same_bits(a->t_low_degc, b->t_low_degc);
    flc_check_same_bits(a->t_high_degc, b->t_high_degc);
    flc_check_same_bits(a->modulus_gpa, b->modulus_gpa);
    flc_check_same_bits(a->poisson, b->poisson);
    assert_int_equal(a->provenance, b->provenance);
    assert_string_equal(a->source, b->source);
}

static void same_curve(const flc_curve *a, const flc_curve *b)
{
    enum { MOST = 64 };
    double x[2][MOST], y[2][MOST], c[2][4 * MOST];
    const size_t knots = flc_curve_knots(a);
    assert_int_equal(knots, flc_curve_knots(b));
    assert_true(knots <= MOST);
    assert_int_equal(flc_curve_copy(a, x[0], y[0], c[0]), FLC_OK);
    assert_int_equal(flc_curve_copy(b, x[1], y[1], c[1]), FLC_OK);
    assert_memory_equal(x[0], x[1], knots * sizeof(double));
    assert_memory_equal(y[0], y[1], knots * sizeof(double));
    assert_memory_equal(c[0], c[1], 4 * (knots - 1) * sizeof(double));
    const flc_curve_reference first = flc_curve_reference_of(a), second = flc_curve_reference_of(b);
    assert_int_equal(first.convention, second.convention);
    assert_int_equal(first.treatment, second.treatment);
    flc_check_same_bits(first.d0_m, second.d0_m);
    flc_check_same_bits(first.t0_degc, second.t0_degc);
    flc_check_same_bits(first.p0_kpag, second.p0_kpag);
}

static void same_meter(const flc_meter *a, const flc_meter *b)
{
    flc_meter_options options[2];
    flc_body_options body[2];
    const flc_curve *curve[2];
    assert_int_equal(flc_meter_describe(a, &options[0], &body[0], &curve[0]), FLC_OK);
    assert_int_equal(flc_meter_describe(b, &options[1], &body[1], &curve[1]), FLC_OK);
    assert_string_equal(options[0].name, options[1].name);
    assert_int_equal(options[0].below, options[1].below);
    assert_int_equal(options[0].above, options[1].above);
    flc_check_same_bits(options[0].cutoff_hz, options[1].cutoff_hz);
    flc_check_same_bits(body[0].bore_m, body[1].bore_m);
    flc_check_same_bits(body[0].t0_degc, body[1].t0_degc);
    flc_check_same_bits(body[0].p0_kpag, body[1].p0_kpag);
    flc_check_same_bits(body[0].area_blocked, body[1].area_blocked);
    assert_int_equal(body[0].end, body[1].end);
    same_metal(&body[0].housing, &body[1].housing);
    same_curve(curve[0], curve[1]);
    char hash[2][FLC_HASH_TEXT];
    assert_int_equal(flc_meter_hash(a, hash[0]), FLC_OK);
    assert_int_equal(flc_meter_hash(b, hash[1]), FLC_OK);
    assert_string_equal(hash[0], hash[1]);
}

/* One record through both meters: every number of the result, bit for bit. */
static void same_results(const flc_meter *a, const flc_liquid *la, const flc_meter *b, const flc_liquid *lb)
{
    flc_reading reading;
    flc_reading_init(&reading);
    reading.f_hz = 123.4;
    reading.t_degc = 31.7;
    reading.p_kpag = 812.0;
    reading.density.rho_base_kgm3 = 801.3;
    flc_result result[2];
    flc_result_init(&result[0]);
    flc_result_init(&result[1]);
    flc_error error;
    if (flc_meter_evaluate(a, la, &reading, &result[0], &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    assert_int_equal(flc_meter_evaluate(b, lb, &reading, &result[1], NULL), FLC_OK);
    assert_int_equal(result[0].flags, result[1].flags);
#define SAME(name, unit, meaning) flc_check_same_bits(result[0].name, result[1].name);
    FLC_RESULT_LIST(SAME)
#undef SAME
}

/* ---- write, read, write ---- */

static void meter_goes_round(const flc_body_options *body, size_t knots)
{
    flc_meter *meter = example_meter_of(body, knots), *again = NULL;
    char *text = NULL, *text_again = NULL;
    flc_error error;
    assert_int_equal(flc_meter_to_json(meter, &text, &error), FLC_OK);
    if (flc_meter_from_json(text, strlen(text), &again, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    assert_int_equal(flc_meter_to_json(again, &text_again, NULL), FLC_OK);
    assert_string_equal(text, text_again);
    assert_int_equal(text[strlen(text) - 1], '\n');
    same_meter(meter, again);
    flc_text_free(text);
    flc_text_free(text_again);
    flc_meter_free(meter);
    flc_meter_free(again);
}

static void meters_go_round(void **state)
{
    (void)state;
    flc_body_options body = example_body();
    for (size_t knots = 2; knots <= 64; knots += 31) {
        meter_goes_round(&body, knots);
    }
    for (int end = FLC_END_NONE; end <= FLC_END_LAME_HELD; end++) {
        body.end = (flc_body_end)end; /* with "none" the wall is given but not in use, and stays out of the file */
        meter_goes_round(&body, 3);
    }
    body.rotor.alpha_per_k = flc_nan(); /* that of the housing */
    body.p0_kpag = -0.0;
    meter_goes_round(&body, 3);
    assert_int_equal(flc_metal_nist("316", &body.rotor, NULL), FLC_OK);
    meter_goes_round(&body, 3);
    assert_int_equal(flc_metal_from_table("316", "en_10088_1", &body.housing, NULL), FLC_OK);
    memset(body.housing.source, 'x', sizeof body.housing.source - 1);
    meter_goes_round(&body, 3);
}

static void liquid_goes_round(const flc_liquid_options *options)
{
    flc_liquid *liquid = example_liquid_of(options), *again = NULL;
    char *text = NULL, *text_again = NULL, hash[2][FLC_HASH_TEXT];
    flc_error error;
    assert_int_equal(flc_liquid_to_json(liquid, &text, &error), FLC_OK);
    if (flc_liquid_from_json(text, strlen(text), &again, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    assert_int_equal(flc_liquid_to_json(again, &text_again, NULL), FLC_OK);
    assert_string_equal(text, text_again);
    assert_int_equal(flc_liquid_hash(liquid, hash[0]), FLC_OK);
    assert_int_equal(flc_liquid_hash(again, hash[1]), FLC_OK);
    assert_string_equal(hash[0], hash[1]);
    flc_text_free(text);
    flc_text_free(text_again);
    flc_liquid_free(liquid);
    flc_liquid_free(again);
}

static void liquids_go_round(void **state)
{
    (void)state;
    static const double denser_degc[] = {-10.0, 90.0}, denser_mm2s[] = {1e3 / 3.0, 2.5};
    flc_liquid_options options = example_liquid_options();
    for (int base = FLC_PETROLEUM_BASE_60F; base <= FLC_PETROLEUM_BASE_20C; base++) {
        options.base = (flc_petroleum_base)base;
        liquid_goes_round(&options);
    }
    options.product = flc_petroleum_product_of_alpha60(510e-6);
    options.name = "na\xc3\xafve \xe2\x82\xac \"\\\x01"; /* two and three bytes of UTF-8, and what JSON escapes */
    liquid_goes_round(&options);
    options.viscosity = FLC_VISCOSITY_BETWEEN;
    options.points.rho_base_kgm3 = 740.1;
    options.second.count = 2;
    options.second.t_degc = denser_degc;
    options.second.nu_mm2s = denser_mm2s;
    options.second.rho_base_kgm3 = 860.3;
    options.beyond = FLC_VISCOSITY_EXTEND;
    options.negative_pressure = FLC_NEGATIVE_CLAMP;
    liquid_goes_round(&options);
    options.viscosity = FLC_VISCOSITY_ONE_POINT;
    options.points.count = 1;
    options.slope_b = 3.9;
    liquid_goes_round(&options);
    options.viscosity = FLC_VISCOSITY_TYPICAL;
    liquid_goes_round(&options);
    options.viscosity = FLC_VISCOSITY_MEASURED;
    options.volume = FLC_VOLUME_NONE;
    options.nu_source = "";
    liquid_goes_round(&options);
}

static void a_loaded_meter_gives_the_same_bits(void **state)
{
    (void)state;
    char *meter_text = example_meter_text(), *liquid_text = example_liquid_text();
    flc_meter *meter = example_meter(), *loaded_meter = NULL;
    flc_liquid *liquid = example_liquid(), *loaded_liquid = NULL;
    assert_int_equal(flc_meter_from_json(meter_text, strlen(meter_text), &loaded_meter, NULL), FLC_OK);
    assert_int_equal(flc_liquid_from_json(liquid_text, strlen(liquid_text), &loaded_liquid, NULL), FLC_OK);
    same_results(meter, liquid, loaded_meter, loaded_liquid);
    flc_meter_free(meter);
    flc_meter_free(loaded_meter);
    flc_liquid_free(liquid);
    flc_liquid_free(loaded_liquid);
    flc_text_free(meter_text);
    flc_text_free(liquid_text);
}

/* ---- golden files and hashes ---- */

/* Hashes by tests/golden/canonical_hash.py, which builds the canonical bytes from the JSON by Python's struct and
 * hashes them by hashlib, apart from the library. */
#define GOLDEN_METER_HASH "1379b31169beda265660342f3719725079e28b0a3d77fa65029591c49473cae9"
#define GOLDEN_LIQUID_HASH "caf9b6cf303f44fadd897c478baf565249c46b114a49972f9806439ddb507ec3"

static void golden_files_are_read(void **state)
{
    (void)state;
    char *meter_text = read_file(GOLDEN "meter_1.json", NULL), *liquid_text = read_file(GOLDEN "liquid_1.json", NULL);
    flc_meter *meter = example_meter(), *golden_meter = NULL;
    flc_liquid *liquid = example_liquid(), *golden_liquid = NULL;
    flc_error error;
    if (flc_meter_from_json(meter_text, strlen(meter_text), &golden_meter, &error) != FLC_OK ||
        flc_liquid_from_json(liquid_text, strlen(liquid_text), &golden_liquid, &error) != FLC_OK) {
        fail_msg("%s", error.message);
    }
    char hash[FLC_HASH_TEXT];
    assert_int_equal(flc_meter_hash(golden_meter, hash), FLC_OK);
    assert_string_equal(hash, GOLDEN_METER_HASH);
    assert_int_equal(flc_liquid_hash(golden_liquid, hash), FLC_OK);
    assert_string_equal(hash, GOLDEN_LIQUID_HASH);
    same_meter(golden_meter, meter);
    same_results(golden_meter, golden_liquid, meter, liquid);
    flc_meter_free(meter);
    flc_meter_free(golden_meter);
    flc_liquid_free(liquid);
    flc_liquid_free(golden_liquid);
    free(meter_text);
    free(liquid_text);
}

static flc_status bytes_abc(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    *needed = 3;
    if (size < 3) {
        return FLC_E_BUFFER;
    }
    memcpy(bytes, thing, 3);
    return FLC_OK;
}

static void hash_is_sha256(void **state)
{
    (void)state;
    char hash[FLC_HASH_TEXT];
    assert_int_equal(flc_record_hash(bytes_abc, "abc", hash), FLC_OK);
    /* NIST, examples to FIPS 180-4: SHA-256 of "abc" */
    assert_string_equal(hash, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

/* ---- words ---- */

#define SAME_WORDS(words, type, from_name)                                     \
    do {                                                                       \
        int count = 0;                                                         \
        for (; (words).word[count] != NULL; count++) {                         \
            type choice;                                                       \
            assert_int_equal(from_name((words).word[count], &choice), FLC_OK); \
            assert_int_equal((int)choice, (words).first + count);              \
        }                                                                      \
        assert_true(count >= 2);                                               \
    } while (0)

static void words_are_those_of_from_name(void **state)
{
    (void)state;
    SAME_WORDS(flc_words_beyond, flc_curve_beyond, flc_curve_beyond_from_name);
    SAME_WORDS(flc_words_convention, flc_curve_convention, flc_curve_convention_from_name);
    SAME_WORDS(flc_words_treatment, flc_body_treatment, flc_body_treatment_from_name);
    SAME_WORDS(flc_words_end, flc_body_end, flc_body_end_from_name);
    SAME_WORDS(flc_words_law, flc_expansion_law, flc_expansion_law_from_name);
    SAME_WORDS(flc_words_nist, flc_nist_material, flc_nist_material_from_name);
    SAME_WORDS(flc_words_volume, flc_volume_method, flc_volume_method_from_name);
    SAME_WORDS(flc_words_compressibility, flc_compressibility, flc_compressibility_from_name);
    SAME_WORDS(flc_words_vapour, flc_vapour_pressure, flc_vapour_pressure_from_name);
    SAME_WORDS(flc_words_aromatic, flc_aromatic, flc_aromatic_from_name);
    SAME_WORDS(flc_words_water, flc_water_formulation, flc_water_formulation_from_name);
    SAME_WORDS(flc_words_glycol, flc_glycol, flc_glycol_from_name);
    SAME_WORDS(flc_words_saturated, flc_saturated_liquid, flc_saturated_liquid_from_name);
    SAME_WORDS(flc_words_costald, flc_costald_fluid, flc_costald_fluid_from_name);
    SAME_WORDS(flc_words_degree, flc_polynomial_degree, flc_polynomial_degree_from_name);
    SAME_WORDS(flc_words_group, flc_petroleum_group, flc_petroleum_group_from_name);
    SAME_WORDS(flc_words_base, flc_petroleum_base, flc_petroleum_base_from_name);
    SAME_WORDS(flc_words_negative_pressure, flc_negative_pressure, flc_negative_pressure_from_name);
    SAME_WORDS(flc_words_viscosity, flc_viscosity_source, flc_viscosity_source_from_name);
    SAME_WORDS(flc_words_form, flc_d341_form, flc_d341_form_from_name);
    SAME_WORDS(flc_words_extend, flc_viscosity_beyond, flc_viscosity_beyond_from_name);
    SAME_WORDS(flc_words_extend, flc_body_beyond, flc_body_beyond_from_name);
    for (int i = 0; i < 5; i++) {
        assert_string_equal(flc_words_provenance.word[i],
                            flc_provenance_text((flc_provenance)(flc_words_provenance.first + i)));
    }
    assert_null(flc_words_provenance.word[5]);
}

/* ---- schemas ---- */

static int walked; /* objects of the schema that were compared */

/* A schema's object has the keys of the file's object: as properties, and all of them required. */
static void same_keys(const json_t *schema, json_t *file)
{
    const json_t *properties = json_object_get(schema, "properties"), *required = json_object_get(schema, "required");
    assert_true(json_is_false(json_object_get(schema, "additionalProperties")));
    assert_int_equal(json_object_size(properties), json_object_size(file));
    assert_int_equal(json_array_size(required), json_object_size(file));
    walked++;
    const char *key;
    json_t *value;
    json_object_foreach(file, key, value)
    {
        const json_t *property = json_object_get(properties, key);
        size_t i = 0;
        while (i < json_array_size(required) && strcmp(json_string_value(json_array_get(required, i)), key) != 0) {
            i++;
        }
        if (property == NULL || i == json_array_size(required)) {
            fail_msg("the schema lacks %s", key);
        }
        if (json_is_object(value)) {
            same_keys(property, value);
        } else if (json_is_array(value) && json_is_object(json_array_get(value, 0))) {
            same_keys(json_object_get(property, "items"), json_array_get(value, 0));
        }
    }
}

static void same_enum(const json_t *schema, const char *first, const char *second, const flc_record_words *words)
{
    const json_t *property = json_object_get(json_object_get(schema, "properties"), first);
    if (second != NULL) {
        property = json_object_get(json_object_get(property, "properties"), second);
    }
    const json_t *listed = json_object_get(property, "enum");
    size_t i = 0;
    for (; words->word[i] != NULL; i++) {
        assert_non_null(json_array_get(listed, i));
        assert_string_equal(json_string_value(json_array_get(listed, i)), words->word[i]);
    }
    assert_true(json_array_size(listed) == i || json_is_null(json_array_get(listed, i)));
}

static json_t *load(const char *path)
{
    json_error_t error;
    json_t *tree = json_load_file(path, JSON_REJECT_DUPLICATES, &error);
    if (tree == NULL) {
        fail_msg("%s: %s", path, error.text);
    }
    return tree;
}

static void schemas_fit_the_files(void **state)
{
    (void)state;
    json_t *schema = load(SCHEMA "flowcomp-meter-1.schema.json"), *file = load(GOLDEN "meter_1.json");
    walked = 0;
    same_keys(schema, file);
    assert_int_equal(walked, 6); /* file, body, housing, rotor, curve, a method */
    same_enum(schema, "below", NULL, &flc_words_beyond);
    same_enum(schema, "above", NULL, &flc_words_beyond);
    same_enum(schema, "curve", "convention", &flc_words_convention);
    same_enum(schema, "curve", "treatment", &flc_words_treatment);
    same_enum(schema, "body", "end", &flc_words_end);
    const json_t *body = json_object_get(json_object_get(schema, "properties"), "body");
    for (int rotor = 0; rotor <= 1; rotor++) {
        same_enum(body, rotor ? "rotor" : "housing", "law", &flc_words_law);
        same_enum(body, rotor ? "rotor" : "housing", "nist", &flc_words_nist);
        same_enum(body, rotor ? "rotor" : "housing", "provenance", &flc_words_provenance);
    }
    json_decref(schema);
    json_decref(file);
    schema = load(SCHEMA "flowcomp-liquid-1.schema.json");
    file = load(GOLDEN "liquid_1.json");
    walked = 0;
    same_keys(schema, file);
    assert_int_equal(walked, 5); /* file, product, points, second, a method */
    /* the first version has a place for the first two methods; the words of every other are in the second */
    const json_t *first = json_object_get(json_object_get(json_object_get(schema, "properties"), "volume"), "enum");
    assert_int_equal(json_array_size(first), 2);
    assert_string_equal(json_string_value(json_array_get(first, 1)), flc_words_volume.word[1]);
    same_enum(schema, "product", "group", &flc_words_group);
    same_enum(schema, "base", NULL, &flc_words_base);
    same_enum(schema, "negative_pressure", NULL, &flc_words_negative_pressure);
    same_enum(schema, "viscosity", NULL, &flc_words_viscosity);
    same_enum(schema, "form", NULL, &flc_words_form);
    same_enum(schema, "beyond", NULL, &flc_words_extend);
    same_enum(schema, "nu_provenance", NULL, &flc_words_provenance);
    json_decref(schema);
    json_decref(file);
}

/* Every method that a file can name is in the list of methods, with source and status. */
static void methods_are_named(void **state)
{
    (void)state;
    json_t *meter = load(GOLDEN "meter_1.json"), *liquid = load(GOLDEN "liquid_1.json");
    assert_int_equal(json_array_size(json_object_get(meter, "methods")), 4);
    assert_int_equal(json_array_size(json_object_get(liquid, "methods")), 3);
    json_decref(meter);
    json_decref(liquid);
    flc_body_options body = example_body();
    assert_int_equal(flc_metal_nist("316", &body.rotor, NULL), FLC_OK);
    for (int end = FLC_END_NONE; end <= FLC_END_LAME_HELD; end++) {
        body.end = (flc_body_end)end;
        flc_meter *thing = example_meter_of(&body, 2);
        char *text = NULL;
        assert_int_equal(flc_meter_to_json(thing, &text, NULL), FLC_OK);
        json_t *tree = json_loads(text, 0, NULL);
        assert_int_equal(json_array_size(json_object_get(tree, "methods")), end == FLC_END_NONE ? 4 : 5);
        json_decref(tree);
        flc_text_free(text);
        flc_meter_free(thing);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(meters_go_round),
        cmocka_unit_test(liquids_go_round),
        cmocka_unit_test(a_loaded_meter_gives_the_same_bits),
        cmocka_unit_test(golden_files_are_read),
        cmocka_unit_test(hash_is_sha256),
        cmocka_unit_test(words_are_those_of_from_name),
        cmocka_unit_test(schemas_fit_the_files),
        cmocka_unit_test(methods_are_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
