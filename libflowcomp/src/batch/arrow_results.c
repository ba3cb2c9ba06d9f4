/* SPDX-License-Identifier: Apache-2.0 */
/* Results as arrays for other programs. The columns of one evaluation lie in one block of memory; every struct and
 * child given out holds it, and the last to be released frees it. */
#include "arrow_core.h"
#include "error.h"
#include "memory.h"
#include <errno.h>
#include <stdatomic.h>
#include <string.h>

#define OUTPUT(name, unit, meaning) {#name, "g", sizeof(double), offsetof(flc_results, name)},
static const struct {
    const char *name, *format;
    size_t size, in_results;
} all_outputs[] = {
    /* clang-format off */
    FLC_RESULT_LIST(OUTPUT)
    {"flags", "I", sizeof(uint32_t), offsetof(flc_results, flags)},
    {"status", "C", sizeof(uint8_t), offsetof(flc_results, status)},
    /* clang-format on */
};
#undef OUTPUT
_Static_assert(sizeof all_outputs / sizeof all_outputs[0] == FLC_ARROW_OUTPUTS, "every result, flags and status");

#define ALIGNMENT 64 /* of a column: what the standard recommends */

/* ---- which ---- */

static flc_status add_output(const char *name, size_t index, flc_arrow_choice *choice, flc_error *error)
{
    size_t place = 0;
    while (place < FLC_ARROW_OUTPUTS - 2 && strcmp(all_outputs[place].name, name) != 0) {
        place++;
    }
    flc_status status = place < FLC_ARROW_OUTPUTS - 2 ? FLC_OK : FLC_E_UNKNOWN_NAME;
    for (size_t i = 0; i < choice->count; i++) {
        status = choice->place[i] == place ? FLC_E_DUPLICATE : status;
    }
    if (status != FLC_OK) {
        return flc_fail(error, status, "outputs", (int64_t)index, flc_nan(), flc_nan(), name);
    }
    choice->place[choice->count++] = place;
    return FLC_OK;
}

flc_status flc_arrow_choose(const char *const *outputs, size_t output_count, flc_arrow_choice *choice, flc_error *error)
{
    choice->count = 0;
    for (size_t i = 0; outputs != NULL && i < output_count; i++) {
        if (outputs[i] == NULL) {
            return flc_fail(error, FLC_E_NULL, "outputs", (int64_t)i, flc_nan(), flc_nan(), NULL);
        }
        const flc_status status = add_output(outputs[i], i, choice, error);
        if (status != FLC_OK) {
            return status;
        }
    }
    for (size_t place = outputs == NULL ? 0 : FLC_ARROW_OUTPUTS - 2; place < FLC_ARROW_OUTPUTS; place++) {
        choice->place[choice->count++] = place;
    }
    return FLC_OK;
}

/* ---- the memory ---- */

typedef struct results_memory {
    atomic_size_t holders; /* arrays given out that point at it */
    size_t columns, records;
    const void *buffers[FLC_ARROW_OUTPUTS][2]; /* no validity, values */
} results_memory;

/* A struct given out: its children, and the one buffer that it says it has not. */
typedef struct results_struct {
    results_memory *memory;
    const void *no_validity[1];
    struct ArrowArray *places[FLC_ARROW_OUTPUTS];
    struct ArrowArray children[FLC_ARROW_OUTPUTS];
} results_struct;

static void drop(results_memory *memory)
{
    if (atomic_fetch_sub(&memory->holders, 1) == 1) {
        flc_release(memory);
    }
}

static void release_child(struct ArrowArray *array)
{
    drop((results_memory *)array->private_data);
    array->release = NULL;
}

/* Children that were moved out have been marked as released here, and hold the memory themselves. */
static void release_struct(struct ArrowArray *array)
{
    results_struct *given = (results_struct *)array->private_data;
    for (int64_t i = 0; i < array->n_children; i++) {
        if (given->children[i].release != NULL) {
            given->children[i].release(&given->children[i]);
        }
    }
    drop(given->memory);
    flc_release(given);
    array->release = NULL;
}

static flc_status give_out(results_memory *memory, struct ArrowArray *array)
{
    results_struct *given = flc_allocate_array(1, sizeof *given);
    if (given == NULL) {
        return FLC_E_MEMORY;
    }
    given->memory = memory;
    for (size_t i = 0; i < memory->columns; i++) {
        given->places[i] = &given->children[i];
        given->children[i] = (struct ArrowArray){.length = (int64_t)memory->records,
                                                 .n_buffers = 2,
                                                 .buffers = memory->buffers[i],
                                                 .release = release_child,
                                                 .private_data = memory};
    }
    *array = (struct ArrowArray){.length = (int64_t)memory->records,
                                 .n_buffers = 1,
                                 .n_children = (int64_t)memory->columns,
                                 .buffers = given->no_validity,
                                 .children = given->places,
                                 .release = release_struct,
                                 .private_data = given};
    atomic_fetch_add(&memory->holders, memory->columns + 1);
    return FLC_OK;
}

static size_t padded(size_t bytes)
{
    return (bytes + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
}

static results_memory *take_memory(const flc_arrow_choice *choice, size_t records)
{
    if (records > (SIZE_MAX / 2) / (FLC_ARROW_OUTPUTS * sizeof(double))) {
        return NULL;
    }
    size_t size = padded(sizeof(results_memory)) + ALIGNMENT;
    for (size_t i = 0; i < choice->count; i++) {
        size += padded(records * all_outputs[choice->place[i]].size);
    }
    results_memory *memory = flc_allocate(size);
    if (memory != NULL) {
        memset(memory, 0, sizeof *memory);
        atomic_init(&memory->holders, 0);
        memory->columns = choice->count;
        memory->records = records;
    }
    return memory;
}

flc_status flc_arrow_take(const flc_arrow_choice *choice, size_t records, struct ArrowArray *array,
                          flc_results *columns)
{
    array->release = NULL;
    flc_results_init(columns);
    results_memory *memory = take_memory(choice, records);
    if (memory == NULL) {
        return FLC_E_MEMORY;
    }
    unsigned char *free_from = (unsigned char *)memory + padded(sizeof *memory);
    free_from += ALIGNMENT - (uintptr_t)free_from % ALIGNMENT;
    for (size_t i = 0; i < choice->count; i++) {
        const size_t place = choice->place[i];
        memory->buffers[i][1] = free_from;
        memcpy((char *)columns + all_outputs[place].in_results, &memory->buffers[i][1], sizeof(void *));
        free_from += padded(records * all_outputs[place].size);
    }
    const flc_status status = give_out(memory, array);
    if (status != FLC_OK) {
        flc_release(memory);
    }
    return status;
}

int flc_arrow_is_ours(const struct ArrowArray *array)
{
    return array->release == release_struct;
}

flc_status flc_arrow_share(const struct ArrowArray *results, struct ArrowArray *same)
{
    if (same == NULL) {
        return FLC_E_NULL;
    }
    same->release = NULL;
    if (results == NULL) {
        return FLC_E_NULL;
    }
    if (!flc_arrow_is_ours(results)) {
        return FLC_E_CHOICE;
    }
    return give_out(((const results_struct *)results->private_data)->memory, same);
}

/* ---- their type ---- */

static void release_child_type(struct ArrowSchema *type)
{
    type->release = NULL;
}

typedef struct types {
    struct ArrowSchema *places[FLC_ARROW_OUTPUTS];
    struct ArrowSchema children[FLC_ARROW_OUTPUTS];
} types;

static void release_type(struct ArrowSchema *type)
{
    types *given = (types *)type->private_data;
    for (int64_t i = 0; i < type->n_children; i++) {
        if (given->children[i].release != NULL) {
            given->children[i].release(&given->children[i]);
        }
    }
    flc_release(given);
    type->release = NULL;
}

static flc_status make_type(const flc_arrow_choice *choice, struct ArrowSchema *schema)
{
    types *given = flc_allocate_array(1, sizeof *given);
    if (given == NULL) {
        return FLC_E_MEMORY;
    }
    for (size_t i = 0; i < choice->count; i++) {
        given->places[i] = &given->children[i];
        given->children[i] = (struct ArrowSchema){.format = all_outputs[choice->place[i]].format,
                                                  .name = all_outputs[choice->place[i]].name,
                                                  .release = release_child_type};
    }
    *schema = (struct ArrowSchema){.format = "+s",
                                   .name = "",
                                   .n_children = (int64_t)choice->count,
                                   .children = given->places,
                                   .release = release_type,
                                   .private_data = given};
    return FLC_OK;
}

flc_status flc_arrow_schema(const char *const *outputs, size_t output_count, struct ArrowSchema *schema,
                            flc_error *error)
{
    flc_error_clear(error);
    if (schema == NULL) {
        return flc_fail(error, FLC_E_NULL, "schema", -1, flc_nan(), flc_nan(), NULL);
    }
    schema->release = NULL;
    flc_arrow_choice choice;
    flc_status status = flc_arrow_choose(outputs, output_count, &choice, error);
    if (status == FLC_OK) {
        status = make_type(&choice, schema);
        if (status != FLC_OK) {
            (void)flc_fail(error, status, "schema", -1, flc_nan(), flc_nan(), NULL);
        }
    }
    return status;
}

/* ---- a stream of them ---- */

typedef struct results_stream {
    flc_arrow_choice choice;
    size_t next, count;
    struct ArrowArray arrays[];
} results_stream;

static int stream_type(struct ArrowArrayStream *stream, struct ArrowSchema *schema)
{
    schema->release = NULL;
    return make_type(&((const results_stream *)stream->private_data)->choice, schema) == FLC_OK ? 0 : ENOMEM;
}

static int stream_next(struct ArrowArrayStream *stream, struct ArrowArray *array)
{
    results_stream *given = (results_stream *)stream->private_data;
    array->release = NULL;
    if (given->next < given->count) {
        *array = given->arrays[given->next];
        given->arrays[given->next++].release = NULL;
    }
    return 0;
}

static const char *stream_error(struct ArrowArrayStream *stream)
{
    (void)stream;
    return NULL; /* ENOMEM, the one there is, says enough */
}

static void release_stream(struct ArrowArrayStream *stream)
{
    results_stream *given = (results_stream *)stream->private_data;
    for (size_t i = given->next; i < given->count; i++) {
        given->arrays[i].release(&given->arrays[i]);
    }
    flc_release(given);
    stream->release = NULL;
}

static flc_status judge_array(const struct ArrowArray *array, const flc_arrow_choice *choice, size_t place,
                              flc_error *error)
{
    const char *hint = NULL;
    flc_status status = FLC_OK;
    if (array == NULL) {
        status = FLC_E_NULL;
    } else if (!flc_arrow_is_ours(array)) {
        status = FLC_E_CHOICE;
        hint = "give arrays of flc_meter_evaluate_arrow that are not released";
    } else if (array->n_children != (int64_t)choice->count) {
        status = FLC_E_COUNT;
        hint = "it has not the columns of these outputs";
    }
    return status == FLC_OK ? FLC_OK : flc_fail(error, status, "results", (int64_t)place, flc_nan(), flc_nan(), hint);
}

flc_status flc_arrow_stream(const struct ArrowArray *const *results, size_t count, const char *const *outputs,
                            size_t output_count, struct ArrowArrayStream *stream, flc_error *error)
{
    flc_error_clear(error);
    if (stream == NULL) {
        return flc_fail(error, FLC_E_NULL, "stream", -1, flc_nan(), flc_nan(), NULL);
    }
    stream->release = NULL;
    if (results == NULL && count > 0) {
        return flc_fail(error, FLC_E_NULL, "results", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_arrow_choice choice;
    flc_status status = flc_arrow_choose(outputs, output_count, &choice, error);
    for (size_t i = 0; i < count && status == FLC_OK; i++) {
        status = judge_array(results[i], &choice, i, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    results_stream *given = NULL;
    if (count <= (SIZE_MAX - sizeof *given) / sizeof given->arrays[0]) {
        given = flc_allocate(sizeof *given + count * sizeof given->arrays[0]);
    }
    if (given == NULL) {
        return flc_fail(error, FLC_E_MEMORY, "stream", -1, flc_nan(), flc_nan(), NULL);
    }
    given->choice = choice;
    given->next = 0;
    given->count = 0;
    *stream = (struct ArrowArrayStream){stream_type, stream_next, stream_error, release_stream, given};
    while (given->count < count) {
        if (flc_arrow_share(results[given->count], &given->arrays[given->count]) != FLC_OK) {
            release_stream(stream);
            return flc_fail(error, FLC_E_MEMORY, "stream", -1, flc_nan(), flc_nan(), NULL);
        }
        given->count++;
    }
    return FLC_OK;
}
