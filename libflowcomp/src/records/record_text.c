/* SPDX-License-Identifier: Apache-2.0 */
#include "record_text.h"
#include "flowcomp/records.h"
#include "error.h"
#include "memory.h"
#include "record_fields.h"
#include <errno.h>
#include <string.h>

/* ---- the host ---- */

#if defined(__x86_64__)
static uint16_t x87_enter(void)
{
    const uint16_t plain = 0x037F; /* nearest, all exceptions masked */
    uint16_t before;
    __asm__ volatile("fnstcw %0" : "=m"(before));
    __asm__ volatile("fldcw %0" : : "m"(plain));
    return before;
}

static void x87_leave(uint16_t before)
{
    __asm__ volatile("fldcw %0" : : "m"(before));
}
#else
static uint16_t x87_enter(void)
{
    return 0;
}

static void x87_leave(uint16_t before)
{
    (void)before;
}
#endif

flc_status flc_record_enter(flc_record_host *host, flc_error *error)
{
    host->error_number = errno;
    host->plain = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (host->plain == (locale_t)0) {
        errno = host->error_number;
        return flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
    }
    host->before = uselocale(host->plain);
    host->fp = flc_fp_enter();
    host->x87 = x87_enter();
    return FLC_OK;
}

void flc_record_leave(const flc_record_host *host)
{
    x87_leave(host->x87);
    flc_fp_leave(host->fp);
    uselocale(host->before);
    freelocale(host->plain);
    errno = host->error_number;
}

/* ---- bounds, before jansson sees the text ---- */

/* A curve of 4096 knots has under 25 000 values, and no field lies deeper than four levels. Within these bounds a
 * hostile text can make jansson take a few tens of megabytes, not gigabytes, and no deep recursion. */
#define DEPTH_MAX 8
#define VALUES_MAX 65536

/* More than jansson takes: per value its node, its share of a table while that grows, its malloc overhead; per byte of
 * text the token buffer while it doubles, and the copy of a string. */
#define BYTES_PER_VALUE 320
#define BYTES_PER_BYTE 4

static flc_status fail_at_line(flc_error *error, flc_status status, size_t line, const char *hint)
{
    return flc_fail(error, status, "line", (int64_t)line, flc_nan(), flc_nan(), hint);
}

static flc_status check_bounds(const char *text, size_t length, size_t *values, flc_error *error)
{
    size_t line = 1, depth = 0;
    int quoted = 0;
    *values = 1;
    for (size_t i = 0; i < length; i++) {
        const char c = text[i];
        line += c == '\n';
        if (c == '\0') { /* jansson passes over one behind a number or a word */
            return fail_at_line(error, FLC_E_SYNTAX, line, "a NUL byte");
        }
        if (quoted) {
            quoted = c != '"';
            i += c == '\\';
            continue;
        }
        const int opens = c == '{' || c == '[', closes = c == '}' || c == ']';
        quoted = c == '"';
        *values += opens || c == ',';
        depth += (size_t)opens;
        depth -= closes && depth > 0;
        if (depth > DEPTH_MAX) {
            return fail_at_line(error, FLC_E_SCHEMA, line, "nested deeper than any file of this library");
        }
        if (*values > VALUES_MAX) {
            return fail_at_line(error, FLC_E_SCHEMA, line, "more values than any file of this library has");
        }
    }
    return FLC_OK;
}

/* jansson 2.14 does not check the growth of its token buffer: where that fails it loses a character, and an assertion
 * or worse follows. So the most that the parse can take is asked for here first, and given back at once. */
static flc_status check_memory(size_t values, size_t length, flc_error *error)
{
    void *probe = flc_allocate(values * BYTES_PER_VALUE + length * BYTES_PER_BYTE + 4096);
    if (probe == NULL) {
        return flc_fail(error, FLC_E_MEMORY, "text", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_release(probe);
    return FLC_OK;
}

/* ---- numbers that would become 0 ---- */

typedef struct number_scan {
    const char *at, *end;
} number_scan;

static int is_number_character(char c)
{
    return (c >= '0' && c <= '9') || c == '-' || c == '+' || c == '.' || c == 'e' || c == 'E';
}

/* Move past the next number of a text known to be valid JSON: does it have a digit other than 0 before the exponent? */
static int next_number_is_nonzero(number_scan *scan)
{
    while (scan->at < scan->end && *scan->at != '-' && !(*scan->at >= '0' && *scan->at <= '9')) {
        if (*scan->at == '"') {
            for (scan->at++; *scan->at != '"'; scan->at++) {
                scan->at += *scan->at == '\\';
            }
        }
        scan->at++;
    }
    int nonzero = 0, exponent = 0;
    for (; scan->at < scan->end && is_number_character(*scan->at); scan->at++) {
        exponent |= *scan->at == 'e' || *scan->at == 'E';
        nonzero |= !exponent && *scan->at >= '1' && *scan->at <= '9';
    }
    return nonzero;
}

/* jansson keeps the order of the text in objects and arrays, so the numbers of the tree and of the text pair up. */
static flc_status check_small(json_t *json, const flc_record_place *place, number_scan *scan, flc_error *error)
{
    flc_status status = FLC_OK;
    if (json_is_real(json) && next_number_is_nonzero(scan) && !(json_real_value(json) != 0.0)) {
        return flc_record_fail(error, FLC_E_NUMBER, place->up, place->key, place->index, flc_nan(), flc_nan(),
                               "too small: it would be read as 0");
    }
    for (size_t i = 0; i < json_array_size(json) && status == FLC_OK; i++) {
        const flc_record_place here = {place->up, place->key, (int64_t)i};
        status = check_small(json_array_get(json, i), &here, scan, error);
    }
    for (void *step = json_object_iter(json); step != NULL && status == FLC_OK;
         step = json_object_iter_next(json, step)) {
        const flc_record_place here = {place, json_object_iter_key(step), -1};
        status = check_small(json_object_iter_value(step), &here, scan, error);
    }
    return status;
}

/* ---- parsing ---- */

static flc_status status_of(const json_error_t *reason)
{
    switch (json_error_code(reason)) {
    case json_error_unknown: /* jansson sets no code where an allocation failed */
    case json_error_out_of_memory:
        return FLC_E_MEMORY;
    case json_error_numeric_overflow:
        return FLC_E_NUMBER;
    case json_error_duplicate_key:
        return FLC_E_SCHEMA;
    default:
        return FLC_E_SYNTAX;
    }
}

static flc_status load(const char *text, size_t length, json_t **tree, flc_error *error)
{
    json_error_t reason;
    memset(&reason, 0, sizeof reason);
    *tree = json_loadb(text, length, JSON_REJECT_DUPLICATES | JSON_DECODE_INT_AS_REAL, &reason);
    if (*tree != NULL) {
        return FLC_OK;
    }
    const flc_status status = status_of(&reason);
    if (status == FLC_E_MEMORY) {
        return flc_fail(error, status, "text", -1, flc_nan(), flc_nan(), NULL);
    }
    char words[JSON_ERROR_TEXT_LENGTH];
    flc_text hint = flc_text_start(words, sizeof words);
    flc_record_add_clean(&hint, reason.text);
    return fail_at_line(error, status, reason.line > 0 ? (size_t)reason.line : 1, words);
}

flc_status flc_record_parse(const char *text, size_t length, json_t **tree, flc_error *error)
{
    *tree = NULL;
    if (length > FLC_RECORD_LENGTH_MAX) {
        return flc_fail(error, FLC_E_ABOVE, "length", -1, (double)length, (double)FLC_RECORD_LENGTH_MAX, NULL);
    }
    size_t values = 0;
    flc_status status = check_bounds(text, length, &values, error);
    if (status == FLC_OK) {
        status = check_memory(values, length, error);
    }
    if (status == FLC_OK) {
        status = load(text, length, tree, error);
    }
    if (status == FLC_OK) {
        const flc_record_place root = {NULL, "", -1};
        number_scan scan = {text, text + length};
        status = check_small(*tree, &root, &scan, error);
    }
    if (status != FLC_OK) {
        json_decref(*tree);
        *tree = NULL;
    }
    return status;
}

/* ---- printing ---- */

flc_status flc_record_print(const json_t *tree, char **text, flc_error *error)
{
    const size_t flags = JSON_SORT_KEYS | JSON_INDENT(2) | JSON_REAL_PRECISION(17);
    const size_t size = json_dumpb(tree, NULL, 0, flags);
    char *made = size > 0 ? flc_allocate(size + 2) : NULL;
    if (made == NULL || json_dumpb(tree, made, size, flags) != size) {
        flc_release(made);
        return flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
    }
    made[size] = '\n';
    made[size + 1] = '\0';
    *text = made;
    return FLC_OK;
}

void flc_text_free(char *text)
{
    flc_release(text);
}
