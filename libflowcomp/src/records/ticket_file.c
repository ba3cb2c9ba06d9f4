/* SPDX-License-Identifier: Apache-2.0 */
/* Making a ticket file: figures from inputs, the document, its hash over the text with hash and signature left empty,
 * its signature over the hash. */
#include "ticket_core.h"
#include "canonical_json.h"
#include "error.h"
#include "method.h"
#include "record_hash.h"
#include "record_words.h"
#include "signing.h"

static flc_status fail(flc_error *error, flc_status status, const char *argument)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), NULL);
}

flc_status flc_iv_source_from_name(const char *name, flc_iv_source *choice)
{
    return flc_choice_from_name(flc_words_iv_source.word, name, (int *)choice);
}

flc_status flc_factor_source_from_name(const char *name, flc_factor_source *choice)
{
    return flc_choice_from_name(flc_words_factor_source.word, name, (int *)choice);
}

flc_status flc_ticket_hash_document(json_t *document, char *hash, flc_error *error)
{
    char *text = NULL;
    if (json_object_set_new(document, "sha256", json_string("")) != 0 ||
        json_object_set_new(document, "signature", json_string("")) != 0) {
        return flc_ticket_no_memory(error);
    }
    flc_status status = flc_json_canonical(document, FLC_JSON_INDENTED, &text, error);
    if (status == FLC_OK) {
        flc_hash_bytes(text, strlen(text), hash);
    }
    flc_text_free(text);
    return status;
}

/* Takes inputs, figures and methods over, also after a failure. */
static json_t *document_of(json_t *inputs, json_t *figures, json_t *methods, const flc_key_pair *pair)
{
    char key[2 * FLC_KEY_BYTES + 1] = "";
    if (pair != NULL) {
        flc_bytes_to_hex(pair->open, FLC_KEY_BYTES, key);
    }
    return json_pack("{s:s, s:i, s:s, s:s, s:s, s:o, s:o, s:o}", "format", FLC_TICKET_FORMAT, "version",
                     FLC_TICKET_VERSION, "library", flc_version(), "bits_contract", flc_bits_contract(), "public_key",
                     key, "inputs", inputs, "figures", figures, "methods", methods);
}

static flc_status seal(json_t *document, const flc_key_pair *pair, flc_error *error)
{
    char hash[FLC_HASH_TEXT], signature[FLC_SIGNATURE_TEXT] = "";
    flc_status status = flc_ticket_hash_document(document, hash, error);
    if (status == FLC_OK && pair != NULL) {
        status = flc_sign_hash(pair, FLC_TICKET_DOMAIN, hash, signature);
        status = status == FLC_OK ? FLC_OK : fail(error, status, "seed");
    }
    if (status == FLC_OK && (json_object_set_new(document, "sha256", json_string(hash)) != 0 ||
                             json_object_set_new(document, "signature", json_string(signature)) != 0)) {
        status = flc_ticket_no_memory(error);
    }
    return status;
}

/* inputs is taken over. */
static flc_status print_document(const flc_ticket_content *content, json_t *inputs, json_t *figures,
                                 const flc_key_pair *pair, char **text, flc_error *error)
{
    json_t *methods = NULL;
    flc_status status = flc_ticket_write_methods(content, inputs, &methods, error);
    if (status != FLC_OK) {
        json_decref(inputs);
        json_decref(figures);
        return status;
    }
    json_t *document = document_of(inputs, figures, methods, pair);
    status = document != NULL ? seal(document, pair, error) : flc_ticket_no_memory(error);
    if (status == FLC_OK) {
        status = flc_json_canonical(document, FLC_JSON_INDENTED, text, error);
    }
    json_decref(document);
    return status;
}

/* inputs is taken over. */
static flc_status make(const flc_ticket_content *content, json_t *inputs, const flc_key_pair *pair, char **text,
                       flc_error *error)
{
    flc_ticket_figures figures;
    json_t *tree = NULL;
    flc_status status = flc_ticket_work_out(content, &figures, error);
    if (status == FLC_OK) {
        status = flc_ticket_write_figures(content, &figures, &tree, error);
    }
    flc_ticket_release_figures(&figures);
    if (status != FLC_OK) {
        json_decref(inputs);
        return status;
    }
    return print_document(content, inputs, tree, pair, text, error);
}

/* Inputs go through their own text: a file holds nothing that it could not be worked out from again. */
static flc_status through_text(const json_t *tree, json_t **again, flc_error *error)
{
    char *text = NULL;
    flc_status status = flc_json_canonical(tree, FLC_JSON_ONE_LINE, &text, error);
    if (status == FLC_OK) {
        status = flc_record_parse(text, strlen(text), again, error);
    }
    flc_text_free(text);
    return status;
}

static flc_status make_from_tree(const json_t *tree, const flc_key_pair *pair, char **text, flc_error *error)
{
    flc_ticket_inputs inputs;
    json_t *again = NULL;
    flc_status status = through_text(tree, &again, error);
    if (status != FLC_OK) {
        return status;
    }
    status = flc_ticket_read_inputs(again, &inputs, error);
    if (status == FLC_OK) {
        status = make(&inputs.content, json_incref(again), pair, text, error);
    }
    flc_ticket_release_inputs(&inputs);
    json_decref(again);
    return status;
}

static flc_status from_content(const void *given, size_t length, const flc_key_pair *pair, char **text,
                               flc_error *error)
{
    const flc_ticket_content *content = given;
    json_t *tree = NULL;
    flc_ticket_figures figures;
    (void)length;
    flc_status status = flc_ticket_work_out(content, &figures, error); /* judges what the table cannot */
    flc_ticket_release_figures(&figures);
    if (status == FLC_OK) {
        status = flc_ticket_write_inputs(content, &tree, error);
    }
    if (status == FLC_OK) {
        status = make_from_tree(tree, pair, text, error);
    }
    json_decref(tree);
    return status;
}

static flc_status from_text(const void *given, size_t length, const flc_key_pair *pair, char **text, flc_error *error)
{
    json_t *tree = NULL, *whole = NULL;
    flc_status status = flc_record_parse(given, length, &tree, error);
    if (status == FLC_OK) {
        status = flc_ticket_complete_inputs(tree, &whole, error);
    }
    json_decref(tree);
    if (status == FLC_OK) {
        status = make_from_tree(whole, pair, text, error);
    }
    json_decref(whole);
    return status;
}

typedef flc_status (*maker)(const void *given, size_t length, const flc_key_pair *pair, char **text, flc_error *error);

static flc_status run(maker make_text, const void *given, size_t length, const uint8_t *seed, char **text,
                      flc_error *error)
{
    flc_key_pair pair;
    flc_record_host host;
    flc_status status = flc_record_enter(&host, error);
    if (status != FLC_OK) {
        return status;
    }
    if (!flc_start_sodium()) {
        status = fail(error, FLC_E_LIBRARY, "");
    }
    if (status == FLC_OK && seed != NULL) {
        status = flc_key_pair_of(seed, &pair);
        status = status == FLC_OK ? FLC_OK : fail(error, status, "seed");
    }
    if (status == FLC_OK) {
        status = make_text(given, length, seed != NULL ? &pair : NULL, text, error);
    }
    if (seed != NULL) {
        flc_key_pair_forget(&pair);
    }
    flc_record_leave(&host);
    return status;
}

flc_status flc_ticket_file_new(const flc_ticket_content *content, const uint8_t *seed, char **text, flc_error *error)
{
    flc_error_clear(error);
    if (text != NULL) {
        *text = NULL;
    }
    if (content == NULL || text == NULL) {
        return fail(error, FLC_E_NULL, content == NULL ? "content" : "text");
    }
    return run(from_content, content, 0, seed, text, error);
}

flc_status flc_ticket_file_from_inputs(const char *inputs, size_t length, const uint8_t *seed, char **text,
                                       flc_error *error)
{
    flc_error_clear(error);
    if (text != NULL) {
        *text = NULL;
    }
    if (inputs == NULL || text == NULL) {
        return fail(error, FLC_E_NULL, inputs == NULL ? "inputs" : "text");
    }
    return run(from_text, inputs, length, seed, text, error);
}
