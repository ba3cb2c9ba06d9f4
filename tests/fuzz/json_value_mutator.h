/* SPDX-License-Identifier: Apache-2.0 */
/* Three changes in four put another value in place of one in the JSON text, so that most inputs stay whole files and
 * reach what lies behind the parser; the fourth is libFuzzer's own. Values are one a line, as the library writes them.
 */
#ifndef FLC_JSON_VALUE_MUTATOR_H
#define FLC_JSON_VALUE_MUTATOR_H

#include <stddef.h>
#include <stdint.h>
#include <string.h>

size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t max_size);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max_size, unsigned int seed);

static const char *const mutator_values[] = {
    "0.0",          "-0.0",          "1.0",           "2.0",
    "-1.0",         "0.5",           "0.7",           "1e-320",
    "1e-300",       "1e-5",          "1e-4",          "100.0",
    "273.15",       "-273.15",       "600.0",         "1e15",
    "1e300",        "null",          "\"\"",          "\"none\"",
    "\"mean\"",     "\"316\"",       "\"C17200\"",    "\"raw\"",
    "\"refuse\"",   "\"hold_end\"",  "\"extend\"",    "\"nist_cryogenic\"",
    "\"as_run\"",   "\"lame_open\"", "\"lame_held\"", "\"typical\"",
    "\"measured\"", "\"one_point\"", "\"between\"",   "\"published\"",
    "\"crude\"",    "\"lube\"",      "\"60F\"",       "\"simple\"",
    "\"full\"",     "\"clamp\"",
};

/* Places where a value starts: behind ": ", or first on a line in an array. */
static int mutator_is_value(const uint8_t *data, size_t i)
{
    const int in_object = i >= 2 && data[i - 1] == ' ' && data[i - 2] == ':';
    size_t back = i;
    while (back > 0 && data[back - 1] == ' ') {
        back--;
    }
    const int first_on_line = back < i && back > 0 && data[back - 1] == '\n' && data[i] != '"';
    return (in_object || first_on_line) && data[i] < 0x80 && strchr("-0123456789n\"", data[i]) != NULL && data[i] != 0;
}

static size_t mutator_end(const uint8_t *data, size_t size, size_t i)
{
    while (i < size && data[i] != ',' && data[i] != '\n') {
        i++;
    }
    return i;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max_size, unsigned int seed)
{
    size_t count = 0, place = 0;
    for (size_t i = 0; i < size; i++) {
        count += (size_t)mutator_is_value(data, i);
    }
    if (count == 0 || seed % 4 == 0) {
        return LLVMFuzzerMutate(data, size, max_size);
    }
    size_t chosen = (seed / 4) % count;
    while (!mutator_is_value(data, place) || chosen-- > 0) {
        place++;
    }
    const size_t end = mutator_end(data, size, place);
    const char *value = mutator_values[(seed / 64) % (sizeof mutator_values / sizeof mutator_values[0])];
    const size_t length = strlen(value), rest = size - end;
    if (place + length + rest > max_size) {
        return LLVMFuzzerMutate(data, size, max_size);
    }
    memmove(data + place + length, data + end, rest);
    memcpy(data + place, value, length);
    return place + length + rest;
}

#endif
