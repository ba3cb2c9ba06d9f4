/* SPDX-License-Identifier: Apache-2.0 */
/* Files for tests of records: read one, and make a changed copy of a text. Results are freed with free(). */
#ifndef FLC_JSON_EDIT_H
#define FLC_JSON_EDIT_H

#include "check.h"
#include <stdio.h>
#include <stdlib.h>

/* Whole file as text; length may be NULL. */
static inline char *read_file(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        fail_msg("%s cannot be read", path);
    }
    char *text = malloc((size_t)1 << 20);
    assert_non_null(text);
    const size_t size = fread(text, 1, ((size_t)1 << 20) - 1, file);
    fclose(file);
    text[size] = '\0';
    if (length != NULL) {
        *length = size;
    }
    return text;
}

/* Copy of text with the first "from" replaced by "to"; from must be there. */
static inline char *with_edit(const char *text, const char *from, const char *to)
{
    const char *found = strstr(text, from);
    if (found == NULL) {
        fail_msg("the text to change is not there: %s", from);
    }
    const size_t ahead = (size_t)(found - text), old_length = strlen(from), new_length = strlen(to);
    char *copy = malloc(strlen(text) - old_length + new_length + 1);
    assert_non_null(copy);
    memcpy(copy, text, ahead);
    memcpy(copy + ahead, to, new_length);
    strcpy(copy + ahead + new_length, found + old_length);
    return copy;
}

#endif
