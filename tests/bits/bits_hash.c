/* SPDX-License-Identifier: Apache-2.0 */
/* The canonical bytes of the contract's set on standard output, evaluated in the way asked for; a hash program outside
 * (sha256sum) makes the hash, so that nothing but the run-time library is needed on a foreign processor.
 *
 *     bits_hash [isa=scalar|base|avx2|avx512|best] [chunk=N] [offset=0..7] [threads=N] [rounding=nearest|up|down|zero]
 *               [traps=1] [flush=1] [only=PART]
 *     bits_hash list      a line per part: name, bytes, points, points refused, numbers, of them -0, other NaNs
 *
 * chunk 0 (the default) is one call per record. Exit status 1: a failure, or the floating-point state was not left as
 * found; 3: the processor has not that instruction set, or not that state. */
#include "flowcomp/flowcomp.h"
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "host_state.h"

#define THREADS_MAX 64

typedef struct way {
    flc_instruction_set isa;
    size_t chunk, offset, threads;
    host_state state;
    const char *only;
} way;

typedef struct work {
    way way;
    size_t parts;
    uint8_t **bytes;
    size_t *sizes;
    pthread_mutex_t lock;
    size_t next;
    int failed;
} work;

static size_t take(work *w)
{
    (void)pthread_mutex_lock(&w->lock);
    const size_t place = w->next++;
    (void)pthread_mutex_unlock(&w->lock);
    return place;
}

static int evaluate(work *w, size_t place)
{
    flc_bits_part part;
    if (flc_bits_part_at(place, &part) != FLC_OK) {
        return 1;
    }
    if (w->way.only != NULL && strcmp(part.name, w->way.only) != 0) {
        return 0;
    }
    w->bytes[place] = malloc(part.bytes);
    if (w->bytes[place] == NULL) {
        return 1;
    }
    host_state_set(w->way.state);
    const flc_status status =
        flc_bits_bytes(place, w->way.isa, w->way.chunk, w->way.offset, w->bytes[place], part.bytes, &w->sizes[place]);
    const int same = host_state_is(w->way.state);
    host_state_set(HOST_DEFAULT);
    if (status != FLC_OK || !same) {
        fprintf(stderr, "%s: %s\n", part.name, same ? flc_status_text(status) : "the floating-point state was changed");
    }
    return status != FLC_OK || !same;
}

static void *run(void *context)
{
    work *w = context;
    for (size_t place = take(w); place < w->parts; place = take(w)) {
        if (evaluate(w, place)) {
            (void)pthread_mutex_lock(&w->lock);
            w->failed = 1;
            (void)pthread_mutex_unlock(&w->lock);
        }
    }
    return NULL;
}

static int run_all(work *w)
{
    pthread_t threads[THREADS_MAX];
    (void)pthread_mutex_init(&w->lock, NULL);
    for (size_t i = 1; i < w->way.threads; i++) {
        if (pthread_create(&threads[i], NULL, run, w) != 0) {
            return 1;
        }
    }
    (void)run(w);
    for (size_t i = 1; i < w->way.threads; i++) {
        (void)pthread_join(threads[i], NULL);
    }
    return w->failed;
}

/* ---- the list ---- */

static uint64_t number_at(const uint8_t *bytes)
{
    uint64_t number = 0;
    for (size_t i = 0; i < 8; i++) {
        number = number << 8 | bytes[i];
    }
    return number;
}

/* What a part holds. NaNs other than the one of the contract make the list fail. */
static int describe(const work *w, size_t place)
{
    flc_bits_part part;
    if (flc_bits_part_at(place, &part) != FLC_OK) {
        return 1;
    }
    const size_t fields = part.results / part.points, head = part.method == NULL ? 9 : 1;
    const uint8_t *at = w->bytes[place] + 8 + strlen(part.name);
    size_t refused = 0, numbers = 0, minus_zeros = 0, other_nans = 0;
    for (size_t n = 0; n < part.points; n++, at += head + 8 * fields) {
        refused += at[0] != FLC_OK;
        for (size_t field = 0; field < fields; field++) {
            const uint64_t bits = number_at(at + head + 8 * field);
            const int is_nan = (bits & UINT64_C(0x7FFFFFFFFFFFFFFF)) > UINT64_C(0x7FF0000000000000);
            numbers += !is_nan;
            minus_zeros += bits == UINT64_C(0x8000000000000000);
            other_nans += is_nan && bits != UINT64_C(0x7FF8000000000000);
        }
    }
    printf("%s\t%zu\t%zu\t%zu\t%zu\t%zu\t%zu\n", part.name, part.bytes, part.points, refused, numbers, minus_zeros,
           other_nans);
    return other_nans != 0;
}

/* ---- arguments ---- */

static int choice_of(const char *word, const char *const *words)
{
    for (int i = 0; words[i] != NULL; i++) {
        if (strcmp(word, words[i]) == 0) {
            return i;
        }
    }
    return -1;
}

static int read_argument(const char *text, way *w)
{
    static const char *const isas[] = {"best", "scalar", "base", "avx2", "avx512", NULL};
    static const char *const roundings[] = {"nearest", "up", "down", "zero", NULL};
    const char *value = strchr(text, '=');
    if (value == NULL) {
        return 1;
    }
    value++;
    const size_t number = strtoul(value, NULL, 10);
    if (strncmp(text, "isa=", 4) == 0) {
        w->isa = (flc_instruction_set)choice_of(value, isas);
        return (int)w->isa < 0;
    }
    if (strncmp(text, "rounding=", 9) == 0) {
        const int rounding = choice_of(value, roundings);
        w->state.rounding = (host_rounding)rounding;
        return rounding < 0;
    }
    if (strncmp(text, "only=", 5) == 0) {
        w->only = value;
        return 0;
    }
    static const char *const names[] = {"chunk=", "offset=", "threads=", NULL};
    size_t *const numbers[] = {&w->chunk, &w->offset, &w->threads};
    for (size_t i = 0; names[i] != NULL; i++) {
        if (strncmp(text, names[i], strlen(names[i])) == 0) {
            *numbers[i] = number;
            return 0;
        }
    }
    w->state.traps = strncmp(text, "traps=", 6) == 0 ? number != 0 : w->state.traps;
    w->state.flush = strncmp(text, "flush=", 6) == 0 ? number != 0 : w->state.flush;
    return strncmp(text, "traps=", 6) != 0 && strncmp(text, "flush=", 6) != 0;
}

static int can_do(const way *w)
{
    if (w->isa != FLC_INSTRUCTIONS_BEST && flc_instructions_taken(w->isa) != w->isa) {
        return 0;
    }
    host_state_set(w->state);
    const int kept = host_state_is(w->state);
    host_state_set(HOST_DEFAULT);
    return kept;
}

int main(int count, char **arguments)
{
    work w = {.way = {.threads = 1}, .parts = flc_bits_part_count()};
    const int lists = count == 2 && strcmp(arguments[1], "list") == 0;
    for (int i = 1; i < count && !lists; i++) {
        if (read_argument(arguments[i], &w.way)) {
            fprintf(stderr, "%s: not an argument of bits_hash\n", arguments[i]);
            return 1;
        }
    }
    if (w.way.threads < 1 || w.way.threads > THREADS_MAX || w.way.offset > 7) {
        fprintf(stderr, "threads are 1 to %d, offset is 0 to 7\n", THREADS_MAX);
        return 1;
    }
    if (!can_do(&w.way)) {
        return 3;
    }
    w.bytes = calloc(w.parts, sizeof *w.bytes);
    w.sizes = calloc(w.parts, sizeof *w.sizes);
    if (w.bytes == NULL || w.sizes == NULL || run_all(&w)) {
        return 1;
    }
    int failed = 0;
    for (size_t place = 0; place < w.parts; place++) {
        failed |= lists ? describe(&w, place)
                        : w.bytes[place] != NULL && fwrite(w.bytes[place], 1, w.sizes[place], stdout) != w.sizes[place];
        free(w.bytes[place]);
    }
    free(w.bytes);
    free(w.sizes);
    return failed || fflush(stdout) != 0;
}
