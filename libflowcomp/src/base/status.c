/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/status.h"

typedef struct status_row {
    flc_status status;
    const char *name;
    const char *text;
} status_row;

static const status_row statuses[] = {
#define STATUS_ROW(name, number, text) {FLC_##name, #name, text},
    FLC_STATUS_LIST(STATUS_ROW)
#undef STATUS_ROW
};

static const char *const flag_words[] = {
#define FLAG_ROW(name, bit, word, text) word,
    FLC_FLAG_LIST(FLAG_ROW)
#undef FLAG_ROW
};

static const char *const flag_texts[] = {
#define FLAG_ROW(name, bit, word, text) text,
    FLC_FLAG_LIST(FLAG_ROW)
#undef FLAG_ROW
};

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static const status_row *row_of(flc_status status)
{
    for (size_t i = 0; i < COUNT(statuses); i++) {
        if (statuses[i].status == status) {
            return &statuses[i];
        }
    }
    return NULL;
}

const char *flc_status_text(flc_status status)
{
    const status_row *row = row_of(status);
    return row != NULL ? row->text : "unknown status";
}

const char *flc_status_name(flc_status status)
{
    const status_row *row = row_of(status);
    return row != NULL ? row->name : "unknown";
}

size_t flc_status_count(void)
{
    return COUNT(statuses);
}

flc_status flc_status_at(size_t place)
{
    return place < COUNT(statuses) ? statuses[place].status : FLC_E_INTERNAL;
}

const char *flc_flag_word(unsigned bit)
{
    return bit < COUNT(flag_words) ? flag_words[bit] : NULL;
}

const char *flc_flag_text(unsigned bit)
{
    return bit < COUNT(flag_texts) ? flag_texts[bit] : NULL;
}

const char *flc_provenance_text(flc_provenance provenance)
{
    switch (provenance) {
    case FLC_PUBLISHED:
        return "published";
    case FLC_FROM_MEMORY:
        return "from memory";
    case FLC_COMMON_PRACTICE:
        return "common practice, no source";
    case FLC_COMPUTED:
        return "computed";
    case FLC_USER_GIVEN:
        return "given by the user";
    }
    return "unknown";
}
