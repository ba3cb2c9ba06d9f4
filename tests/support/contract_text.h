/* SPDX-License-Identifier: Apache-2.0 */
/* The contract comments of the public headers, read from the source tree: which statuses a method may give. Its own
 * comment names them, or the head of its header (down to the first prototype) for all that the header holds. */
#ifndef FLC_CONTRACT_TEXT_H
#define FLC_CONTRACT_TEXT_H

#include "check.h"
#include "flowcomp/status.h"
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>

#define FLC_HEADERS_DIR FLC_TEST_CHECKS_DIR "/../../libflowcomp/include/flowcomp"
#define FLC_HEADERS_SIZE (4u << 20)
#define FLC_HEADER_END '\f'

static inline void flc_contract_append(char *all, size_t *used, const char *name)
{
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", FLC_HEADERS_DIR, name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    *used += fread(all + *used, 1, FLC_HEADERS_SIZE - 1 - *used, file);
    assert_true(*used < FLC_HEADERS_SIZE - 2);
    all[(*used)++] = FLC_HEADER_END;
    all[*used] = '\0';
    fclose(file);
}

/** All public headers as one text, to be freed. */
static inline char *flc_contract_headers(void)
{
    char *all = malloc(FLC_HEADERS_SIZE);
    assert_non_null(all);
    size_t used = 0;
    all[0] = '\0';
    DIR *folder = opendir(FLC_HEADERS_DIR);
    assert_non_null(folder);
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        const char *end = strrchr(entry->d_name, '.');
        if (end != NULL && strcmp(end, ".h") == 0) {
            flc_contract_append(all, &used, entry->d_name);
        }
    }
    closedir(folder);
    return all;
}

/* Does the word stand in the text as a whole word? */
static inline int flc_contract_has_word(const char *text, size_t size, const char *word)
{
    const size_t length = strlen(word);
    for (const char *at = text; (size_t)(at - text) + length <= size; at++) {
        if (memcmp(at, word, length) == 0 && strchr("ABCDEFGHIJKLMNOPQRSTUVWXYZ_", at[length]) == NULL) {
            return 1;
        }
    }
    return 0;
}

/** Does the contract of flc_<method> name this status? */
static inline int flc_contract_names(const char *headers, const char *method, flc_status status)
{
    char prototype[160], word[64];
    snprintf(prototype, sizeof prototype, "FLC_API FLC_STATUS flc_%s(", method);
    snprintf(word, sizeof word, "FLC_%s", flc_status_name(status));
    const char *at = strstr(headers, prototype);
    if (at == NULL) {
        print_error("no prototype of flc_%s in the public headers\n", method);
        fail();
        return 0;
    }
    const char *comment = at, *file = at;
    while (comment > headers && memcmp(comment, "/**", 3) != 0) {
        comment--;
    }
    while (file > headers && file[-1] != FLC_HEADER_END) {
        file--;
    }
    const char *head_end = strstr(file, "FLC_API");
    return flc_contract_has_word(comment, (size_t)(at - comment), word) ||
           flc_contract_has_word(file, (size_t)(head_end - file), word);
}

#endif
