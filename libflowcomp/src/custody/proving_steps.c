/* SPDX-License-Identifier: Apache-2.0 */
/* The factors of a run as steps, and the words of the faults. */
#include "proving_core.h"
#include "error.h"

const char *flc_proving_fault_word(flc_proving_fault fault)
{
    switch (fault) {
#define WORD(name, number, word, text) \
    case FLC_FAULT_##name:             \
        return word;
        FLC_PROVING_FAULT_LIST(WORD)
#undef WORD
    }
    return NULL;
}

const char *flc_proving_fault_text(flc_proving_fault fault)
{
    switch (fault) {
#define TEXT(name, number, word, text) \
    case FLC_FAULT_##name:             \
        return text;
        FLC_PROVING_FAULT_LIST(TEXT)
#undef TEXT
    }
    return NULL;
}

flc_status flc_proving_steps(const flc_proving_run *run, flc_step *steps, size_t capacity, size_t *count)
{
    if (run == NULL || count == NULL || (steps == NULL && capacity > 0)) {
        return FLC_E_NULL;
    }
    const flc_step all[] = {
#define STEP(name, unit, symbol, meaning, equation) \
    {symbol, meaning, run->name, unit, equation, "proving, API MPMS 12.2.3", "", "", FLC_FROM_MEMORY, 0},
        FLC_PROVING_RUN_LIST(STEP)
#undef STEP
    };
    *count = 0;
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        *count += !flc_is_nan(all[i].value);
    }
    if (*count > capacity) {
        return FLC_E_BUFFER;
    }
    for (size_t i = 0, place = 0; i < sizeof all / sizeof all[0]; i++) {
        if (!flc_is_nan(all[i].value)) {
            steps[place++] = all[i];
        }
    }
    return FLC_OK;
}
