/* SPDX-License-Identifier: Apache-2.0 */
#include "record_file.h"
#include "flowcomp/methods.h"
#include "canonical.h"
#include "error.h"
#include "memory.h"
#include <string.h>

static const flc_record_place root = {NULL, "", -1};

static const flc_record_field method_fields[] = {
    FLC_RECORD_TEXT_OF(flc_record_method, method, 128),
    FLC_RECORD_TEXT_OF(flc_record_method, source, 512),
    FLC_RECORD_TEXT_OF(flc_record_method, status, 128),
    FLC_RECORD_END,
};
const flc_record_object flc_record_method_object = {sizeof(flc_record_method), method_fields};

void flc_record_add_method(flc_record_head *head, const char *name)
{
    const flc_method_info *info = flc_method_find(name);
    if (info != NULL && head->method_count < FLC_RECORD_METHODS) {
        const flc_record_method row = {info->name, info->source, flc_provenance_text(info->status)};
        head->methods[head->method_count++] = row;
    }
}

static flc_status fail(flc_error *error, flc_status status, const char *key, const char *hint)
{
    return flc_fail(error, status, key, -1, flc_nan(), flc_nan(), hint);
}

/* Canonical bytes of a head, all but its own hash. */
static flc_status head_bytes(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    const flc_record_head *head = thing;
    flc_canonical out = {bytes, size, 0};
    flc_put_text(&out, head->format);
    flc_put_i64(&out, head->version);
    flc_put_text(&out, head->library);
    flc_put_text(&out, head->bits_contract);
    flc_put_text(&out, head->sha256);
    flc_put_u64(&out, head->method_count);
    for (size_t i = 0; i < head->method_count; i++) {
        flc_put_text(&out, head->methods[i].method);
        flc_put_text(&out, head->methods[i].source);
        flc_put_text(&out, head->methods[i].status);
    }
    return flc_canonical_end(&out, needed);
}

/* ---- writing ---- */

static flc_status write_values(const flc_record_type *type, const void *thing, void *values, json_t **tree,
                               flc_error *error)
{
    char hash[FLC_HASH_TEXT], head_hash[FLC_HASH_TEXT];
    flc_status status = flc_record_hash(type->bytes_of, thing, hash);
    if (status == FLC_OK) {
        status = type->describe(thing, values);
    }
    if (status != FLC_OK) {
        return fail(error, status, "", NULL);
    }
    flc_record_head *head = values;
    head->format = type->format;
    head->version = type->version;
    head->library = flc_version();
    head->bits_contract = flc_bits_contract();
    head->sha256 = hash;
    head->head_sha256 = head_hash;
    status = flc_record_hash(head_bytes, head, head_hash);
    if (status != FLC_OK) {
        return fail(error, status, "head_sha256", NULL);
    }
    return flc_record_write(type->object, values, &root, tree, error);
}

static flc_status write_tree(const flc_record_type *type, const void *thing, json_t **tree, flc_error *error)
{
    void *values = flc_allocate_array(1, type->object->size);
    if (values == NULL) {
        return fail(error, FLC_E_MEMORY, "", NULL);
    }
    flc_status status = write_values(type, thing, values, tree, error);
    flc_record_release(type->object, values);
    flc_release(values);
    return status;
}

flc_status flc_record_to_json(const flc_record_type *type, const void *thing, char **text, flc_error *error)
{
    flc_error_clear(error);
    if (text != NULL) {
        *text = NULL;
    }
    if (thing == NULL || text == NULL) {
        return fail(error, FLC_E_NULL, thing == NULL ? type->noun : "text", NULL);
    }
    while (type->next != NULL && type->needs_next(thing)) {
        type = type->next;
    }
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status == FLC_OK) {
        json_t *tree = NULL;
        status = write_tree(type, thing, &tree, error);
        if (status == FLC_OK) {
            status = flc_record_print(tree, text, error);
        }
        json_decref(tree);
        flc_record_leave(&host);
    }
    return status;
}

/* ---- reading ---- */

/* The type of the file's own version; types start with the first. */
static flc_status check_format(const flc_record_type **type, const json_t *tree, flc_error *error)
{
    const char *format = json_string_value(json_object_get(tree, "format"));
    if (format == NULL || strcmp(format, (*type)->format) != 0) {
        return fail(error, FLC_E_SCHEMA, "format", (*type)->other_format);
    }
    const double version = json_real_value(json_object_get(tree, "version")); /* 0 where it is no number */
    if (!(version >= (*type)->version)) {
        return fail(error, FLC_E_SCHEMA, "version", "missing or not a version");
    }
    while ((*type)->next != NULL && version > (*type)->version) {
        *type = (*type)->next;
    }
    if (version > (*type)->version) {
        return flc_fail(error, FLC_E_VERSION, "version", -1, version, (*type)->version,
                        "use a newer version of this library to read it");
    }
    return FLC_OK;
}

/* What is written again must be what was read: a value the hash does not cover, such as the wall of a body that does
 * not stretch, would otherwise be taken without a word and lost. */
static flc_status check_nothing_lost(const flc_record_type *type, const json_t *tree, const void *thing,
                                     flc_error *error)
{
    json_t *again = NULL;
    flc_status status = write_tree(type, thing, &again, error);
    for (const flc_record_field *field = type->object->fields + FLC_RECORD_HEAD_COUNT;
         status == FLC_OK && field->key != NULL; field++) {
        if (!json_equal(json_object_get(tree, field->key), json_object_get(again, field->key))) {
            status = fail(error, FLC_E_HASH, field->key, "it holds a value that is not in use here, or is not exact");
        }
    }
    json_decref(again);
    return status;
}

static flc_status check_hash(flc_record_bytes bytes_of, const void *thing, const char *key, const char *expected,
                             flc_error *error)
{
    char hash[FLC_HASH_TEXT];
    flc_status status = flc_record_hash(bytes_of, thing, hash);
    if (status != FLC_OK) {
        return fail(error, status, key, NULL);
    }
#ifndef FUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION /* a fuzzer would never get past this */
    if (strcmp(hash, expected) != 0) {
        return fail(error, FLC_E_HASH, key, "the file was damaged or edited");
    }
#else
    (void)expected;
#endif
    return FLC_OK;
}

/* Number of a contract of bits, "FLC-BITS-7" is 7; 0 for anything else. */
static int contract_number(const char *name)
{
    static const char stem[] = "FLC-BITS-";
    const size_t length = sizeof stem - 1;
    int number = 0;
    if (strncmp(name, stem, length) == 0) {
        for (const char *c = name + length; *c >= '0' && *c <= '9' && number < 100000; c++) {
            number = 10 * number + (*c - '0');
        }
    }
    return number;
}

/* A file of an older contract of bits is read. One of a later contract may mean numbers that this library would get
 * differently. */
static flc_status check_contract(const flc_record_head *head, flc_error *error)
{
    const int number = contract_number(head->bits_contract), own = contract_number(flc_bits_contract());
    if (number < 1 || number > own) {
        return flc_fail(error, FLC_E_VERSION, "bits_contract", -1, number, own,
                        "written under a contract of bits that this library does not know; use a newer version of it");
    }
    return FLC_OK;
}

static flc_status check_thing(const flc_record_type *type, const json_t *tree, const flc_record_head *head,
                              const void *thing, flc_error *error)
{
    if (type->next != NULL && type->needs_next(thing)) {
        return fail(error, FLC_E_SCHEMA, "version", "a file of this version has no place for what it says");
    }
    flc_status status = check_hash(type->bytes_of, thing, "sha256", head->sha256, error);
    if (status == FLC_OK) {
        status = check_nothing_lost(type, tree, thing, error);
    }
    if (status == FLC_OK) {
        status = check_hash(head_bytes, head, "head_sha256", head->head_sha256, error);
    }
    return status == FLC_OK ? check_contract(head, error) : status;
}

static flc_status read_values(const flc_record_type *type, const json_t *tree, void *values, void **thing,
                              flc_error *error)
{
    type->prepare(values);
    flc_status status = flc_record_read(type->object, tree, &root, values, error);
    if (status == FLC_OK) {
        status = type->make(values, thing, error);
    }
    if (status == FLC_OK) {
        status = check_thing(type, tree, values, *thing, error);
        if (status != FLC_OK) {
            type->unmake(*thing);
            *thing = NULL;
        }
    }
    return status;
}

static flc_status read_tree(const flc_record_type *type, const json_t *tree, void **thing, flc_error *error)
{
    flc_status status = check_format(&type, tree, error);
    if (status != FLC_OK) {
        return status;
    }
    void *values = flc_allocate_array(1, type->object->size);
    if (values == NULL) {
        return fail(error, FLC_E_MEMORY, "", NULL);
    }
    status = read_values(type, tree, values, thing, error);
    flc_record_release(type->object, values);
    flc_release(values);
    return status;
}

flc_status flc_record_from_json(const flc_record_type *type, const char *text, size_t length, void **thing,
                                flc_error *error)
{
    flc_error_clear(error);
    if (text == NULL || thing == NULL) {
        return fail(error, FLC_E_NULL, text == NULL ? "text" : type->noun, NULL);
    }
    *thing = NULL;
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status == FLC_OK) {
        json_t *tree = NULL;
        status = flc_record_parse(text, length, &tree, error);
        if (status == FLC_OK) {
            status = read_tree(type, tree, thing, error);
        }
        json_decref(tree);
        flc_record_leave(&host);
    }
    return status;
}
