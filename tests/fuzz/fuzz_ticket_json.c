/* SPDX-License-Identifier: Apache-2.0 */
/* libFuzzer target: any bytes as the inputs of a ticket, and as a ticket file. What is made of inputs must verify.
 * Build the library with -DFUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION; start from the inputs of any ticket file. */
#include "flowcomp/ticket_file.h"
#include <stdlib.h>
#include <string.h>

static void require(int holds)
{
    if (!holds) {
        abort();
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = NULL;
    flc_error error;
    flc_ticket_verdict verdict;
    flc_ticket_difference found[4];
    flc_ticket_verdict_init(&verdict);
    flc_status status = flc_ticket_verify((const char *)data, size, NULL, &verdict, found, 4, &error);
    require(status == error.status && (status == FLC_OK || !verdict.good));
    status = flc_ticket_file_from_inputs((const char *)data, size, NULL, &text, &error);
    require(status == error.status && (status == FLC_OK) == (text != NULL));
    if (status == FLC_OK) {
        flc_ticket_verdict_init(&verdict);
        require(flc_ticket_verify(text, strlen(text), NULL, &verdict, found, 4, &error) == FLC_OK && verdict.good);
        flc_text_free(text);
    }
    return 0;
}
