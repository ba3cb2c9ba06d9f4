/* SPDX-License-Identifier: Apache-2.0 */
#include "canonical_json.h"
#include "error.h"
#include "memory.h"
#include <stdlib.h>
#include <string.h>

typedef struct printer {
    flc_text out;
    flc_json_layout layout;
    int depth;
    int failed; /* memory has run out */
} printer;

static void add(printer *p, const char *words)
{
    flc_text_add(&p->out, words);
}

void flc_json_add_text(flc_text *out, const char *words)
{
    static const char digits[] = "0123456789abcdef";
    flc_text_add(out, "\"");
    for (; *words != '\0'; words++) {
        const unsigned char c = (unsigned char)*words;
        if (c == '"' || c == '\\') {
            const char escaped[] = {'\\', *words, '\0'};
            flc_text_add(out, escaped);
        } else if (c == '\n') {
            flc_text_add(out, "\\n");
        } else if (c == '\t') {
            flc_text_add(out, "\\t");
        } else if (c < 0x20) {
            const char escaped[] = {'\\', 'u', '0', '0', digits[c >> 4], digits[c & 15], '\0'};
            flc_text_add(out, escaped);
        } else {
            const char plain[] = {*words, '\0'};
            flc_text_add(out, plain);
        }
    }
    flc_text_add(out, "\"");
}

static void new_line(printer *p)
{
    if (p->layout == FLC_JSON_INDENTED) {
        add(p, "\n");
        for (int i = 0; i < p->depth; i++) {
            add(p, "  ");
        }
    }
}

static void add_value(printer *p, const json_t *value);

static void add_array(printer *p, const json_t *array)
{
    const size_t count = json_array_size(array);
    add(p, "[");
    p->depth++;
    for (size_t i = 0; i < count; i++) {
        add(p, i > 0 ? "," : "");
        new_line(p);
        add_value(p, json_array_get(array, i));
    }
    p->depth--;
    if (count > 0) {
        new_line(p);
    }
    add(p, "]");
}

static int by_bytes(const void *a, const void *b)
{
    return strcmp(*(const char *const *)a, *(const char *const *)b);
}

static const char **sorted_keys(const json_t *object, size_t count)
{
    const char **keys = flc_allocate_array(count, sizeof *keys);
    json_t *walked = (json_t *)(uintptr_t)object; /* jansson's iterators are not const-correct */
    size_t i = 0;
    for (void *step = json_object_iter(walked); keys != NULL && step != NULL;
         step = json_object_iter_next(walked, step)) {
        keys[i++] = json_object_iter_key(step);
    }
    if (keys != NULL) {
        qsort(keys, count, sizeof *keys, by_bytes);
    }
    return keys;
}

static void add_object(printer *p, const json_t *object)
{
    const size_t count = json_object_size(object);
    if (count == 0) {
        add(p, "{}");
        return;
    }
    const char **keys = sorted_keys(object, count);
    if (keys == NULL) {
        p->failed = 1;
        return;
    }
    add(p, "{");
    p->depth++;
    for (size_t i = 0; i < count; i++) {
        add(p, i > 0 ? "," : "");
        new_line(p);
        flc_json_add_text(&p->out, keys[i]);
        add(p, p->layout == FLC_JSON_INDENTED ? ": " : ":");
        add_value(p, json_object_get(object, keys[i]));
    }
    p->depth--;
    new_line(p);
    add(p, "}");
    flc_release(keys);
}

static void add_value(printer *p, const json_t *value)
{
    switch (json_typeof(value)) {
    case JSON_OBJECT:
        add_object(p, value);
        break;
    case JSON_ARRAY:
        add_array(p, value);
        break;
    case JSON_STRING:
        flc_json_add_text(&p->out, json_string_value(value));
        break;
    case JSON_INTEGER:
        flc_text_add_integer(&p->out, (int64_t)json_integer_value(value));
        break;
    case JSON_REAL:
        flc_text_add_number(&p->out, json_real_value(value), 17);
        break;
    case JSON_TRUE:
    case JSON_FALSE:
        add(p, json_is_true(value) ? "true" : "false");
        break;
    case JSON_NULL:
        add(p, "null");
        break;
    }
}

static size_t print(const json_t *tree, flc_json_layout layout, char *buffer, size_t size, int *failed)
{
    printer p = {flc_text_start(buffer, size), layout, 0, 0};
    add_value(&p, tree);
    if (layout == FLC_JSON_INDENTED) {
        add(&p, "\n");
    }
    *failed = p.failed;
    return p.out.needed;
}

flc_status flc_json_canonical(const json_t *tree, flc_json_layout layout, char **text, flc_error *error)
{
    int failed = 0;
    const size_t size = print(tree, layout, NULL, 0, &failed) + 1;
    char *made = failed ? NULL : flc_allocate(size);
    if (made != NULL) {
        print(tree, layout, made, size, &failed);
    }
    if (made == NULL || failed) {
        flc_release(made);
        return flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
    }
    *text = made;
    return FLC_OK;
}
