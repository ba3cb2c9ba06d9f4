/* SPDX-License-Identifier: Apache-2.0 */
#include "canonical_json.h"
#include "trail_line.h"
#include "error.h"
#include "memory.h"
#include "method.h"
#include "record_hash.h"
#include <string.h>

#define OPENING "{\"body\":"
#define ENTRY "{\"entry\":"
#define PREVIOUS ",\"previous\":\""
#define AT "\",\"at\":\""
#define TYPE "\",\"type\":\""
#define HASH ",\"hash\":\""
#define SIGNATURE "\",\"signature\":\""
#define CLOSING "\"}"
#define LENGTH(text) (sizeof(text) - 1)

const char flc_trail_no_hash[FLC_HASH_TEXT] = "0000000000000000000000000000000000000000000000000000000000000000";

static const char *const event_words[] = {
#define WORD(name, word, meaning) word,
    FLC_TRAIL_EVENT_LIST(WORD)
#undef WORD
        NULL};

const char *flc_trail_event_word(flc_trail_event_kind kind)
{
    return event_words[kind];
}

flc_status flc_trail_event_kind_from_name(const char *name, flc_trail_event_kind *choice)
{
    return flc_choice_from_name(event_words, name, (int *)choice);
}

/* ---- taking apart ---- */

/* Move over a text that must stand here. */
static int take(const char **at, const char *end, const char *text, size_t length)
{
    if ((size_t)(end - *at) < length || memcmp(*at, text, length) != 0) {
        return 0;
    }
    *at += length;
    return 1;
}
#define TAKE(text) take(&at, end, text, LENGTH(text))

static int take_number(const char **at, const char *end, int64_t *number)
{
    const char *start = *at;
    *number = 0;
    while (*at < end && **at >= '0' && **at <= '9' && *at - start < 18) {
        *number = 10 * *number + (**at - '0');
        (*at)++;
    }
    return *at > start && *start != '0';
}

static int take_span(const char **at, const char *end, size_t length, const char **span)
{
    if ((size_t)(end - *at) < length) {
        return 0;
    }
    *span = *at;
    *at += length;
    return 1;
}

/* Hash and signature stand at the end; an unsigned line ends in digits where a signed one has its signature's key. */
static int take_tail(const char *line, size_t length, flc_trail_parts *parts)
{
    const size_t plain = LENGTH(HASH) + FLC_HASH_DIGITS + LENGTH(CLOSING);
    const size_t whole = plain + LENGTH(SIGNATURE) + FLC_SIGNATURE_DIGITS;
    const char *end = line + length, *at;
    parts->signature = NULL;
    if (length < whole) {
        return 0;
    }
    at = end - plain;
    const int is_plain = TAKE(HASH);
    at = is_plain ? at : end - whole;
    if (!is_plain && !TAKE(HASH)) {
        return 0;
    }
    if (!take_span(&at, end, FLC_HASH_DIGITS, &parts->hash)) {
        return 0;
    }
    if (!is_plain && !(TAKE(SIGNATURE) && take_span(&at, end, FLC_SIGNATURE_DIGITS, &parts->signature))) {
        return 0;
    }
    parts->body_size = (size_t)(parts->hash - LENGTH(HASH) - parts->body);
    return TAKE(CLOSING) && at == end && flc_is_hex(parts->hash, FLC_HASH_DIGITS) &&
           (parts->signature == NULL || flc_is_hex(parts->signature, FLC_SIGNATURE_DIGITS));
}

int flc_trail_take_apart(const char *line, size_t length, flc_trail_parts *parts)
{
    const char *at = line, *end = line + length;
    if (!TAKE(OPENING)) {
        return 0;
    }
    parts->body = at;
    return take_tail(line, length, parts) && TAKE(ENTRY) && take_number(&at, end, &parts->number) && TAKE(PREVIOUS) &&
           take_span(&at, end, FLC_HASH_DIGITS, &parts->previous) && TAKE(AT) &&
           take_span(&at, end, FLC_UTC_LENGTH, &parts->at) && TAKE(TYPE) && (parts->type = at) < parts->hash;
}

int flc_trail_hash_is_good(const flc_trail_parts *parts)
{
    char hash[FLC_HASH_TEXT];
    flc_hash_bytes(parts->body, parts->body_size, hash);
    return memcmp(hash, parts->hash, FLC_HASH_DIGITS) == 0;
}

static int is_type(const char *type, flc_trail_event_kind kind)
{
    const size_t length = strlen(event_words[kind]);
    return strncmp(type, event_words[kind], length) == 0 && type[length] == '"';
}

int flc_trail_must_sign(int64_t number, const char *type, int64_t sign_every)
{
    return number % sign_every == 0 || is_type(type, FLC_TRAIL_OPENED) || is_type(type, FLC_TRAIL_HEAD) ||
           is_type(type, FLC_TRAIL_SET_ASIDE);
}

/* ---- terms ---- */

static flc_status not_a_trail(flc_error *error)
{
    return flc_fail(error, FLC_E_SCHEMA, "line", 1, flc_nan(), flc_nan(), "this is no first entry of a trail");
}

static flc_status terms_of(const json_t *data, flc_trail_terms *terms, flc_error *error)
{
    const char *format = json_string_value(json_object_get(data, "format"));
    const char *name = json_string_value(json_object_get(data, "name"));
    const json_t *key = json_object_get(data, "public_key");
    const double version = json_real_value(json_object_get(data, "version"));
    const double every = json_real_value(json_object_get(data, "sign_every"));
    if (format == NULL || strcmp(format, FLC_TRAIL_FORMAT) != 0 || !(version >= FLC_TRAIL_VERSION)) {
        return not_a_trail(error);
    }
    if (version > FLC_TRAIL_VERSION) {
        return flc_fail(error, FLC_E_VERSION, "version", -1, version, FLC_TRAIL_VERSION,
                        "use a newer version of this library to read it");
    }
    const int hex =
        json_string_length(key) == 2 * FLC_KEY_BYTES && flc_is_hex(json_string_value(key), 2 * FLC_KEY_BYTES);
    if (name == NULL || strlen(name) > FLC_TRAIL_TEXT_MAX || !(json_is_null(key) || hex) ||
        !(every >= 1.0 && every <= 1e6)) {
        return not_a_trail(error);
    }
    terms->is_signed = hex;
    terms->sign_every = (int64_t)every;
    if (hex) {
        flc_hex_to_bytes(json_string_value(key), terms->public_key, FLC_KEY_BYTES);
    }
    memcpy(terms->name, name, strlen(name) + 1);
    return FLC_OK;
}

flc_status flc_trail_read_terms(const char *line, size_t length, flc_trail_terms *terms, flc_error *error)
{
    flc_trail_parts parts;
    memset(terms, 0, sizeof *terms);
    if (!flc_trail_take_apart(line, length, &parts) || !is_type(parts.type, FLC_TRAIL_OPENED)) {
        return not_a_trail(error);
    }
    json_t *body = NULL;
    flc_status status = flc_record_parse(parts.body, parts.body_size, &body, error);
    if (status == FLC_OK) {
        status = terms_of(json_object_get(body, "data"), terms, error);
    } else if (status != FLC_E_MEMORY) {
        status = not_a_trail(error);
    }
    json_decref(body);
    return status;
}

flc_status flc_trail_write_terms(const flc_trail_terms *terms, char **data, flc_error *error)
{
    char key[2 * FLC_KEY_BYTES + 1];
    flc_bytes_to_hex(terms->public_key, FLC_KEY_BYTES, key);
    json_error_t reason;
    json_t *tree = json_pack_ex(&reason, 0, "{s:s, s:s, s:o, s:i, s:i}", "format", FLC_TRAIL_FORMAT, "name",
                                terms->name, "public_key", terms->is_signed ? json_string(key) : json_null(),
                                "sign_every", (int)terms->sign_every, "version", FLC_TRAIL_VERSION);
    if (tree == NULL) {
        const int utf8 = json_error_code(&reason) == json_error_invalid_utf8;
        return flc_fail(error, utf8 ? FLC_E_SCHEMA : FLC_E_MEMORY, "name", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_status status = flc_json_canonical(tree, FLC_JSON_ONE_LINE, data, error);
    json_decref(tree);
    return status;
}

/* ---- making ---- */

static void add_body(flc_text *out, const flc_trail_event *event, const char *data, const flc_trail_head *after)
{
    char at[FLC_UTC_TEXT];
    flc_utc_to_text(event->at_ms, at);
    flc_text_add(out, ENTRY);
    flc_text_add_integer(out, after->number + 1);
    flc_text_add(out, PREVIOUS);
    flc_text_add(out, after->number == 0 ? flc_trail_no_hash : after->hash);
    flc_text_add(out, AT);
    flc_text_add(out, at);
    flc_text_add(out, TYPE);
    flc_text_add(out, event_words[event->kind]);
    flc_text_add(out, "\",\"id\":");
    flc_json_add_text(out, event->id);
    flc_text_add(out, ",\"by\":");
    flc_json_add_text(out, event->by);
    flc_text_add(out, ",\"data\":");
    flc_text_add(out, data);
    flc_text_add(out, "}");
}

flc_status flc_trail_make_line(const flc_trail_event *event, const char *data, const flc_trail_head *after,
                               const flc_key_pair *pair, char **line, size_t *length, char *hash, flc_error *error)
{
    const size_t size = strlen(data) + FLC_TRAIL_OVERHEAD;
    char signature[FLC_SIGNATURE_TEXT];
    *line = flc_allocate(size);
    if (*line == NULL) {
        return flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_text out = flc_text_start(*line, size);
    flc_text_add(&out, OPENING);
    const size_t start = out.needed;
    add_body(&out, event, data, after);
    flc_hash_bytes(*line + start, out.needed - start, hash);
    flc_text_add(&out, HASH);
    flc_text_add(&out, hash);
    if (pair != NULL) {
        flc_status status = flc_sign_hash(pair, FLC_TRAIL_DOMAIN, hash, signature);
        if (status != FLC_OK) {
            flc_release(*line);
            *line = NULL;
            return flc_fail(error, status, "", -1, flc_nan(), flc_nan(), NULL);
        }
        flc_text_add(&out, SIGNATURE);
        flc_text_add(&out, signature);
    }
    flc_text_add(&out, CLOSING "\n");
    *length = out.needed;
    return FLC_OK;
}
