/* SPDX-License-Identifier: Apache-2.0 */
/* Verifying a ticket file: the one byte form, the hash, the seal, and every figure again. */
#include "ticket_core.h"
#include "canonical_json.h"
#include "error.h"
#include "record_hash.h"
#include "signing.h"
#include "struct_size.h"

static const flc_record_place root = {NULL, "", -1};

static flc_status fail(flc_error *error, flc_status status, const char *argument, const char *hint)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), hint);
}

const char *flc_seal_word(flc_seal seal)
{
    static const char *const words[] = {"none", "good", "own", "bad", "other_key", "missing"};
    return (int)seal >= 0 && seal <= FLC_SEAL_MISSING ? words[seal] : NULL;
}

void flc_ticket_verdict_init_sized(flc_ticket_verdict *verdict, size_t own_size)
{
    const flc_ticket_verdict fresh = {.size = sizeof fresh};
    flc_give_sized(verdict, own_size, &fresh, sizeof fresh);
}

/* ---- form ---- */

/* The texts and numbers at the top; inputs and figures have their own judges. */
typedef struct top {
    const char *format, *library, *bits_contract, *sha256, *signature, *public_key;
    int version;
} top;

static const flc_record_field top_fields[] = {
    FLC_RECORD_TEXT_OF(top, format, 32),
    FLC_RECORD_WHOLE_OF(top, version),
    FLC_RECORD_TEXT_OF(top, library, 32),
    FLC_RECORD_TEXT_OF(top, bits_contract, 32),
    FLC_RECORD_TEXT_OF(top, sha256, FLC_HASH_TEXT),
    FLC_RECORD_TEXT_OF(top, signature, FLC_SIGNATURE_TEXT),
    FLC_RECORD_TEXT_OF(top, public_key, 2 * FLC_KEY_BYTES + 1),
    FLC_RECORD_END,
};
static const flc_record_object top_object = {sizeof(top), top_fields};

static flc_status check_format(const json_t *document, flc_error *error)
{
    const char *format = json_string_value(json_object_get(document, "format"));
    const double version = json_real_value(json_object_get(document, "version"));
    if (format == NULL || strcmp(format, FLC_TICKET_FORMAT) != 0) {
        return fail(error, FLC_E_SCHEMA, "format", "this is no flowcomp-ticket file");
    }
    if (version > FLC_TICKET_VERSION) {
        return flc_fail(error, FLC_E_VERSION, "version", -1, version, FLC_TICKET_VERSION,
                        "use a newer version of this library to read it");
    }
    return FLC_OK;
}

/* Parts that are no texts are taken out of a shallow copy, so that the table judges the rest. */
static flc_status read_top(const json_t *document, top *values, flc_error *error)
{
    static const char *const parts[] = {"inputs", "figures", "methods"};
    json_t *rest = json_copy((json_t *)(uintptr_t)document);
    flc_status status = rest != NULL ? FLC_OK : flc_ticket_no_memory(error);
    for (size_t i = 0; status == FLC_OK && i < 3; i++) {
        const json_t *part = json_object_get(rest, parts[i]);
        if (!(i < 2 ? json_is_object(part) : json_is_array(part))) {
            status = fail(error, FLC_E_SCHEMA, parts[i], "missing, or of another kind");
        }
        json_object_del(rest, parts[i]);
    }
    if (status == FLC_OK) {
        status = flc_record_read(&top_object, rest, &root, values, error);
    }
    json_decref(rest);
    return status;
}

static flc_status check_form(const json_t *document, const char *text, size_t length, flc_error *error)
{
    char *again = NULL;
    flc_status status = flc_json_canonical(document, FLC_JSON_INDENTED, &again, error);
    if (status != FLC_OK) {
        return status;
    }
    size_t same = 0;
    int64_t line = 1;
    while (same < length && again[same] == text[same]) {
        line += text[same] == '\n';
        same++;
    }
    const int whole = same == length && again[same] == '\0';
    flc_text_free(again);
    return whole ? FLC_OK
                 : flc_fail(error, FLC_E_SCHEMA, "line", line, flc_nan(), flc_nan(), "this is not the one byte form");
}

/* ---- figures ---- */

typedef struct comparison {
    flc_ticket_verdict *verdict;
    flc_ticket_difference *differences;
    size_t capacity;
} comparison;

static void path_of(const flc_record_place *place, char *path, size_t size)
{
    const flc_record_place *chain[16];
    int depth = 0;
    for (; place != NULL && place->up != NULL && depth < 16; place = place->up) {
        chain[depth++] = place;
    }
    flc_text text = flc_text_start(path, size);
    while (depth-- > 0) {
        flc_record_add_clean(&text, chain[depth]->key);
        if (chain[depth]->index >= 0) {
            flc_text_add(&text, "[");
            flc_text_add_integer(&text, chain[depth]->index);
            flc_text_add(&text, "]");
        }
        flc_text_add(&text, depth > 0 ? "." : "");
    }
}

static double number_of(const json_t *value)
{
    return json_is_number(value) ? json_number_value(value) : flc_nan();
}

static void differs(comparison *c, const flc_record_place *place, const json_t *stored, const json_t *again)
{
    if ((uint64_t)c->verdict->differences < c->capacity) {
        flc_ticket_difference *out = &c->differences[c->verdict->differences];
        path_of(place, out->figure, sizeof out->figure);
        out->stored = number_of(stored);
        out->recomputed = number_of(again);
    }
    c->verdict->differences++;
}

/* Read numbers are all doubles, made ones may be whole: the value counts, to the bit. */
static int same_leaf(const json_t *stored, const json_t *again)
{
    if (json_is_number(stored) && json_is_number(again)) {
        return flc_bits_of(number_of(stored)) == flc_bits_of(number_of(again));
    }
    return json_equal(stored, again);
}

static void compare(comparison *c, const flc_record_place *place, json_t *stored, json_t *again);

static void compare_objects(comparison *c, const flc_record_place *place, json_t *stored, json_t *again)
{
    for (void *step = json_object_iter(again); step != NULL; step = json_object_iter_next(again, step)) {
        const flc_record_place here = {place, json_object_iter_key(step), -1};
        compare(c, &here, json_object_get(stored, here.key), json_object_iter_value(step));
    }
    for (void *step = json_object_iter(stored); step != NULL; step = json_object_iter_next(stored, step)) {
        const flc_record_place here = {place, json_object_iter_key(step), -1};
        if (json_object_get(again, here.key) == NULL) {
            differs(c, &here, json_object_iter_value(step), NULL);
        }
    }
}

static void compare_arrays(comparison *c, const flc_record_place *place, json_t *stored, json_t *again)
{
    const size_t count = json_array_size(again), there = json_array_size(stored);
    for (size_t i = 0; i < count || i < there; i++) {
        const flc_record_place here = {place->up, place->key, (int64_t)i};
        if (i < count && i < there) {
            compare(c, &here, json_array_get(stored, i), json_array_get(again, i));
        } else {
            differs(c, &here, json_array_get(stored, i), json_array_get(again, i));
        }
    }
}

static void compare(comparison *c, const flc_record_place *place, json_t *stored, json_t *again)
{
    if (json_is_object(again) && json_is_object(stored)) {
        compare_objects(c, place, stored, again);
    } else if (json_is_array(again) && json_is_array(stored)) {
        compare_arrays(c, place, stored, again);
    } else {
        c->verdict->figures++;
        if (stored == NULL || !same_leaf(stored, again)) {
            differs(c, place, stored, again);
        }
    }
}

/* The words of the list are those of a version of the library: another version may have found out more of a source. */
static flc_status compare_methods(comparison *c, json_t *document, const flc_ticket_content *content, flc_error *error)
{
    const flc_record_place place = {&root, "methods", -1};
    const char *library = json_string_value(json_object_get(document, "library"));
    json_t *again = NULL;
    if (library == NULL || strcmp(library, flc_version()) != 0) {
        return FLC_OK;
    }
    const flc_status status = flc_ticket_write_methods(content, json_object_get(document, "inputs"), &again, error);
    if (status == FLC_OK) {
        compare(c, &place, json_object_get(document, "methods"), again);
    }
    json_decref(again);
    return status;
}

static flc_status compare_figures(comparison *c, json_t *document, flc_error *error)
{
    const flc_record_place place = {&root, "figures", -1};
    flc_ticket_inputs inputs;
    flc_ticket_figures figures;
    json_t *again = NULL;
    flc_status status = flc_ticket_read_inputs(json_object_get(document, "inputs"), &inputs, error);
    if (status == FLC_OK) {
        memcpy(c->verdict->id, inputs.content.id, strlen(inputs.content.id) + 1);
        c->verdict->trail = inputs.content.trail;
        status = flc_ticket_work_out(&inputs.content, &figures, error);
        if (status == FLC_OK) {
            status = flc_ticket_write_figures(&inputs.content, &figures, &again, error);
        }
        flc_ticket_release_figures(&figures);
    }
    if (status == FLC_OK) {
        compare(c, &place, json_object_get(document, "figures"), again);
        status = compare_methods(c, document, &inputs.content, error);
    }
    json_decref(again);
    flc_ticket_release_inputs(&inputs);
    return status;
}

/* ---- hash and seal ---- */

static flc_seal seal_of(const top *values, const uint8_t *public_key, uint8_t *named)
{
    const int has_key = values->public_key[0] != '\0', has_signature = values->signature[0] != '\0';
    if (!has_key && !has_signature) {
        return public_key != NULL ? FLC_SEAL_MISSING : FLC_SEAL_NONE;
    }
    if (strlen(values->public_key) != 2 * FLC_KEY_BYTES || strlen(values->signature) != FLC_SIGNATURE_DIGITS ||
        strlen(values->sha256) != FLC_HASH_DIGITS || !flc_is_hex(values->public_key, 2 * FLC_KEY_BYTES)) {
        return FLC_SEAL_BAD;
    }
    flc_hex_to_bytes(values->public_key, named, FLC_KEY_BYTES);
    if (!flc_signature_is_good(named, FLC_TICKET_DOMAIN, values->sha256, values->signature)) {
        return FLC_SEAL_BAD;
    }
    if (public_key == NULL) {
        return FLC_SEAL_OWN;
    }
    return memcmp(public_key, named, FLC_KEY_BYTES) == 0 ? FLC_SEAL_GOOD : FLC_SEAL_OTHER_KEY;
}

/* Changes the document: its hash is that of the text without hash and signature. */
static flc_status judge_hash(json_t *document, const top *values, flc_ticket_verdict *verdict, flc_error *error)
{
    char hash[FLC_HASH_TEXT];
    memcpy(verdict->sha256, values->sha256, strlen(values->sha256) + 1);
    flc_status status = flc_ticket_hash_document(document, hash, error);
    verdict->hash_good = status == FLC_OK && strcmp(hash, verdict->sha256) == 0;
    return status;
}

static flc_status verify(json_t *document, const char *text, size_t length, const uint8_t *public_key, comparison *c,
                         flc_error *error)
{
    top values;
    flc_ticket_verdict *verdict = c->verdict;
    memset(&values, 0, sizeof values);
    flc_status status = check_format(document, error);
    if (status == FLC_OK) {
        status = read_top(document, &values, error);
    }
    if (status == FLC_OK) {
        status = check_form(document, text, length, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    verdict->same_contract = strcmp(values.bits_contract, flc_bits_contract()) == 0;
    verdict->seal = seal_of(&values, public_key, verdict->public_key);
    status = judge_hash(document, &values, verdict, error); /* the texts of values may be gone after it */
    if (status == FLC_OK) {
        status = compare_figures(c, document, error);
    }
    const int sealed =
        verdict->seal == FLC_SEAL_GOOD || verdict->seal == FLC_SEAL_OWN || verdict->seal == FLC_SEAL_NONE;
    verdict->good = status == FLC_OK && verdict->hash_good && sealed && verdict->differences == 0;
    return status;
}

flc_status flc_ticket_verify(const char *text, size_t length, const uint8_t *public_key, flc_ticket_verdict *verdict,
                             flc_ticket_difference *differences, size_t capacity, flc_error *error)
{
    flc_error_clear(error);
    if (text == NULL || verdict == NULL || (differences == NULL && capacity > 0)) {
        return fail(error, FLC_E_NULL, text == NULL ? "text" : verdict == NULL ? "verdict" : "differences", NULL);
    }
    if (verdict->size != sizeof *verdict) {
        return flc_fail(error, FLC_E_SIZE, "verdict", -1, (double)verdict->size, (double)sizeof *verdict, NULL);
    }
    flc_ticket_verdict_init(verdict);
    comparison c = {verdict, differences, capacity};
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status != FLC_OK) {
        return status;
    }
    json_t *document = NULL;
    status =
        flc_start_sodium() ? flc_record_parse(text, length, &document, error) : fail(error, FLC_E_LIBRARY, "", NULL);
    if (status == FLC_OK) {
        status = verify(document, text, length, public_key, &c, error);
    }
    json_decref(document);
    flc_record_leave(&host);
    return status;
}
