/* SPDX-License-Identifier: Apache-2.0 */
/* JSON in one byte form, so that a hash can be taken over the text itself: keys sorted by their bytes; numbers as
 * flc_text_add_number spells them with 17 digits; texts in UTF-8 with only the escapes that JSON demands. The spelling
 * is ours and not jansson's, which may change with its version. schema/ticket.md says the rules. */
#ifndef FLC_CANONICAL_JSON_H
#define FLC_CANONICAL_JSON_H

#include "record_text.h"
#include "text.h"

typedef enum flc_json_layout {
    FLC_JSON_ONE_LINE, /* no spaces: a part of a line of the trail */
    FLC_JSON_INDENTED  /* two spaces a level, and a final newline: a file of its own */
} flc_json_layout;

/** Append a text with quotes and escapes. */
void flc_json_add_text(flc_text *out, const char *words);

/** A tree as a new text for flc_text_free; to be called inside flc_record_enter.
 *  @return FLC_OK; FLC_E_MEMORY */
FLC_STATUS flc_json_canonical(const json_t *tree, flc_json_layout layout, char **text, flc_error *error);

#endif
