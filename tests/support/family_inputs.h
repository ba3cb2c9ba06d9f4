/* SPDX-License-Identifier: Apache-2.0 */
/* Every bad input of every method whose name ends so: good values are found by draws, then spoilt one by one. */
#ifndef FLC_FAMILY_INPUTS_H
#define FLC_FAMILY_INPUTS_H

#include "check.h"

#include "bad_inputs.h"
#include "method_values.h"

static inline int flc_name_ends(const char *name, const char *end)
{
    const size_t length = strlen(name), tail = strlen(end);
    return length >= tail && strcmp(name + length - tail, end) == 0;
}

/** Fails unless exactly so many methods end with one of the words (NULL-terminated). */
static inline void flc_check_family_inputs(const char *const *ends, size_t expected)
{
    size_t judged = 0;
    for (size_t i = 0; i < flc_method_count(); i++) {
        const flc_method_info *method = flc_method_at(i);
        int of_family = 0;
        for (size_t j = 0; ends[j] != NULL; j++) {
            of_family = of_family || flc_name_ends(method->name, ends[j]);
        }
        flc_method_values good;
        if (!of_family) {
            continue;
        }
        if (!flc_values_find(method, 1, &good)) {
            print_error("%s: no values found\n", method->name);
            fail();
        }
        flc_check_bad_inputs(method->name, good.value, good.count);
        judged++;
    }
    assert_int_equal(judged, expected);
}

#endif
