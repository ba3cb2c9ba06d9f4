/* SPDX-License-Identifier: Apache-2.0 */
/* Crashes at every step of a log of writes, with what was not synced lost, torn or in any order; full disks and failing
 * ones. What was acknowledged is never lost. */
#include "memory_disk.h"
#include "state_core.h"
#include "trail_examples.h"

#define DRAWS 24
#define ACKNOWLEDGED_MAX 64

/* ---- the log of a writer ---- */

/* After so many steps of the log this head had been acknowledged. */
typedef struct acknowledged {
    size_t steps;
    flc_trail_head head;
} acknowledged;

typedef struct writer {
    memory_disk disk;
    acknowledged list[ACKNOWLEDGED_MAX];
    int count;
} writer;

static void note(writer *w, const flc_trail *trail)
{
    assert_true(w->count < ACKNOWLEDGED_MAX);
    acknowledged *new = &w->list[w->count++];
    assert_int_equal(flc_trail_head_of(trail, &new->head), FLC_OK);
    new->steps = w->disk.step_count;
}

/* Opens, appends a few, and does it again. */
static void write_some(writer *w, int rounds, int entries)
{
    for (int round = 0; round < rounds; round++) {
        flc_trail *trail = open_example(&w->disk.table, EXAMPLE_PATH, example_seed, 1);
        note(w, trail);
        for (int i = 0; i < entries; i++) {
            append_examples(trail, 100 * round + i, 100 * round + i + 1);
            note(w, trail);
        }
        flc_trail_free(trail);
    }
}

static const flc_trail_head *last_acknowledged(const writer *w, size_t steps)
{
    const flc_trail_head *last = NULL;
    for (int i = 0; i < w->count && w->list[i].steps <= steps; i++) {
        last = &w->list[i].head;
    }
    return last;
}

/* What a crash left is opened again: everything acknowledged is there, and the writer goes on. */
static void open_after_crash(memory_disk *left, const flc_trail_head *last, const char *what, size_t steps)
{
    flc_trail_options options = example_options(example_seed);
    flc_trail_report report;
    flc_trail_head head;
    flc_trail *trail = NULL;
    flc_error error;
    flc_trail_report_init(&report);
    options.create = last == NULL;
    if (flc_trail_open_on(&left->table, EXAMPLE_PATH, &options, &trail, NULL, &error) != FLC_OK) {
        fail_msg("%s after step %zu: %s", what, steps, error.message);
    }
    append_examples(trail, 9000, 9001);
    assert_int_equal(flc_trail_head_of(trail, &head), FLC_OK);
    flc_trail_free(trail);
    assert_int_equal(flc_trail_check_on(&left->table, EXAMPLE_PATH, NULL, last, 0, &report, NULL, 0, &error), FLC_OK);
    if (!report.intact || report.head.number != head.number || (last != NULL && head.number <= last->number)) {
        fail_msg("%s after step %zu: an acknowledged entry is lost", what, steps);
    }
}

static const struct {
    memory_fate fate;
    int draws;
    const char *what;
} fates[] = {{MEMORY_LOST, 1, "all lost"},
             {MEMORY_KEPT, 1, "all kept"},
             {MEMORY_PREFIX, DRAWS, "torn"},
             {MEMORY_SECTORS, DRAWS, "sectors"},
             {MEMORY_REORDER, DRAWS, "reordered"}};
#define FATES (sizeof fates / sizeof fates[0])

/* Every state that a crash after every step may leave; states of a crash in the repair of such a state too, where deep.
 */
static long replay(const writer *w, int deep, long *in_repairs)
{
    long crashes = 0;
    for (size_t steps = 0; steps <= w->disk.step_count; steps++) {
        const flc_trail_head *last = last_acknowledged(w, steps);
        for (size_t f = 0; f < FATES; f++) {
            for (int draw = 0; draw < fates[f].draws; draw++) {
                memory_disk left;
                memory_crash(&w->disk, steps, fates[f].fate, (uint64_t)draw + 1000 * steps, &left);
                writer repair = {.count = 0};
                repair.disk = left;
                repair.disk.table.self = &repair.disk;
                open_after_crash(&repair.disk, last, fates[f].what, steps);
                crashes++;
                for (size_t again = 0; deep && draw < 2 && again < repair.disk.step_count; again++) {
                    memory_disk twice, base;
                    /* the repair's log starts from what the crash left: give it that as synced content */
                    memory_crash(&w->disk, steps, fates[f].fate, (uint64_t)draw + 1000 * steps, &base);
                    memory_crash_on(&base, &repair.disk, again, MEMORY_SECTORS, again + 77, &twice);
                    open_after_crash(&twice, last, "crash in a repair", steps);
                    (*in_repairs)++;
                    memory_disk_end(&base);
                    memory_disk_end(&twice);
                }
                memory_disk_end(&repair.disk);
            }
        }
    }
    return crashes;
}

static void nothing_acknowledged_is_lost_in_a_crash(void **state)
{
    (void)state;
    writer w = {.count = 0};
    long repairs = 0;
    memory_disk_start(&w.disk);
    write_some(&w, 3, 8);
    const long crashes = replay(&w, 1, &repairs);
    print_message(
        "trail: %ld states after a crash at each of %zu steps, %ld after a second crash in the repair: nothing "
        "acknowledged is lost\n",
        crashes, w.disk.step_count, repairs);
    memory_disk_end(&w.disk);
}

/* The replay must see a writer that acknowledges too early. */
static int lazy_sync(void *self, int file)
{
    (void)self, (void)file;
    return 0;
}

static void a_writer_without_sync_loses(void **state)
{
    (void)state;
    writer w = {.count = 0};
    memory_disk_start(&w.disk);
    w.disk.table.sync = lazy_sync;
    write_some(&w, 1, 4);
    memory_disk left;
    memory_crash(&w.disk, w.disk.step_count, MEMORY_LOST, 1, &left);
    flc_trail *trail = NULL;
    const flc_trail_options options = example_options(example_seed);
    assert_int_not_equal(flc_trail_open_on(&left.table, EXAMPLE_PATH, &options, &trail, NULL, NULL), FLC_OK);
    memory_disk_end(&left);
    memory_disk_end(&w.disk);
}

/* ---- the torn end ---- */

static void a_torn_end_is_set_aside(void **state)
{
    (void)state;
    static example_trail trail;
    make_trail(&trail, example_seed);
    const size_t whole = trail.file->size, last = trail.start[EXAMPLE_ENTRIES - 1];
    char *content = malloc(whole);
    memcpy(content, trail.file->bytes, whole);
    for (size_t size = last + 1; size < whole; size++) {
        flc_trail *opened = NULL;
        flc_trail_opening opening;
        flc_error error;
        trail.file->size = 0;
        memory_put(trail.file, 0, content, size);
        const flc_trail_options options = example_options(example_seed);
        if (flc_trail_open_on(&trail.disk.table, EXAMPLE_PATH, &options, &opened, &opening, &error) != FLC_OK) {
            fail_msg("%zu bytes: %s", size, error.message);
        }
        flc_trail_free(opened);
        assert_int_equal(opening.set_aside_bytes, size - last);
        const int place = memory_find(&trail.disk, opening.set_aside_path);
        assert_true(place >= 0);
        const memory_file *aside = &trail.disk.files[trail.disk.names[place].file];
        assert_int_equal(aside->size, size - last);
        assert_memory_equal(aside->bytes, content + last, size - last);
        assert_memory_equal(trail.file->bytes, content, last); /* nothing before it is touched */
        assert_non_null(strstr(trail.file->bytes + last, "\"type\":\"set_aside\""));
        memory_drop_name(&trail.disk, opening.set_aside_path);
        trail.disk.file_count--;
    }
    free(content);
    memory_disk_end(&trail.disk);
}

/* ---- disks that are full or fail ---- */

static void a_full_disk_is_refused_and_taken_back(void **state)
{
    (void)state;
    memory_disk disk;
    flc_trail_head before, after;
    flc_trail_report report;
    flc_error error;
    long refused = 0;
    memory_disk_start(&disk);
    flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, 1);
    append_examples(trail, 0, 3);
    assert_int_equal(flc_trail_head_of(trail, &before), FLC_OK);
    const memory_file *file = &disk.files[disk.names[memory_find(&disk, EXAMPLE_PATH)].file];
    const size_t size = file->size;
    for (size_t room = 0;; room++) {
        disk.bytes_left = room;
        const flc_status status = append_example(trail, 3, &after, &error);
        if (status == FLC_OK) {
            break;
        }
        refused++;
        assert_int_equal(status, FLC_E_FILE);
        flc_check_same_bits(error.value, (double)ENOSPC);
        assert_non_null(strstr(error.message, "full"));
        assert_int_equal(after.number, before.number);
        assert_int_equal(file->size, size); /* no part of a line stays behind */
    }
    assert_true(refused > 400);
    assert_int_equal(after.number, before.number + 1);
    flc_trail_free(trail);
    flc_trail_report_init(&report);
    assert_int_equal(flc_trail_check_on(&disk.table, EXAMPLE_PATH, NULL, &after, 1, &report, NULL, 0, NULL), FLC_OK);
    assert_true(report.intact);
    print_message("full disk: refused with room for 0 to %ld bytes of an entry, nothing damaged\n", refused - 1);

    for (size_t room = 0; room < 300; room++) { /* a new trail leaves nothing of that name */
        const flc_trail_options options = example_options(example_seed);
        disk.bytes_left = room;
        assert_int_equal(flc_trail_open_on(&disk.table, "another", &options, &trail, NULL, &error), FLC_E_FILE);
        assert_int_equal(memory_find(&disk, "another"), -1);
    }
    memory_disk_end(&disk);
}

static void a_failing_disk_ends_the_handle(void **state)
{
    (void)state;
    for (int cut_fails = 0; cut_fails < 2; cut_fails++) {
        memory_disk disk;
        flc_trail_head head;
        flc_error error;
        memory_disk_start(&disk);
        flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, 1);
        append_examples(trail, 0, 3);
        assert_int_equal(flc_trail_head_of(trail, &head), FLC_OK);
        disk.fail_sync = EIO;
        disk.fail_cut = cut_fails ? EIO : 0;
        assert_int_equal(append_example(trail, 3, NULL, &error), FLC_E_FILE);
        disk.fail_sync = 0;
        disk.fail_cut = 0;
        assert_int_equal(append_example(trail, 3, NULL, &error), FLC_E_FILE); /* the disk has lost our trust */
        flc_trail_free(trail);
        open_after_crash(&disk, &head, "failing disk", 0);
        memory_disk_end(&disk);
    }
}

/* ---- saved state ---- */

static void saved_state_is_the_old_or_the_new(void **state)
{
    (void)state;
    memory_disk disk;
    size_t acknowledged_at[8];
    long crashes = 0;
    memory_disk_start(&disk);
    for (uint8_t i = 0; i < 8; i++) {
        uint8_t bytes[200];
        memset(bytes, i + 1, sizeof bytes);
        assert_int_equal(flc_state_save_on(&disk.table, "state", bytes, sizeof bytes - i, NULL), FLC_OK);
        acknowledged_at[i] = disk.step_count;
    }
    for (size_t steps = 0; steps <= disk.step_count; steps++) {
        uint8_t last = 0;
        while (last < 8 && acknowledged_at[last] <= steps) {
            last++;
        }
        for (size_t f = 0; f < FATES; f++) {
            for (int draw = 0; draw < fates[f].draws; draw++) {
                memory_disk left;
                uint8_t bytes[256] = {0};
                size_t size = 0;
                memory_crash(&disk, steps, fates[f].fate, (uint64_t)draw + 1000 * steps, &left);
                const flc_status status = flc_state_load_on(&left.table, "state", bytes, sizeof bytes, &size, NULL);
                if (status != FLC_OK || (bytes[0] != last && bytes[0] != last + 1)) {
                    assert_true(status == FLC_E_FILE && last == 0);
                } else {
                    assert_int_equal(size, 201 - bytes[0]);
                }
                crashes++;
                memory_disk_end(&left);
            }
        }
    }
    print_message("saved state: %ld states after a crash at each of %zu steps: the last acknowledged or the next\n",
                  crashes, disk.step_count);
    for (size_t room = 0; room < 200; room++) {
        uint8_t bytes[200] = {0};
        size_t size;
        disk.bytes_left = room;
        assert_int_equal(flc_state_save_on(&disk.table, "state", bytes, sizeof bytes, NULL), FLC_E_FILE);
        assert_int_equal(flc_state_load_on(&disk.table, "state", bytes, sizeof bytes, &size, NULL), FLC_OK);
        assert_int_equal(bytes[0], 8);
        disk.file_count--; /* what was written beside it is removed */
    }
    memory_disk_end(&disk);
}

static void saved_state_refuses_what_was_changed(void **state)
{
    (void)state;
    memory_disk disk;
    uint8_t bytes[8] = {1, 2, 3, 4, 5, 6, 7, 8};
    size_t size;
    flc_error error;
    memory_disk_start(&disk);
    assert_int_equal(flc_state_save_on(&disk.table, "state", bytes, sizeof bytes, NULL), FLC_OK);
    memory_file *file = &disk.files[disk.names[memory_find(&disk, "state")].file];
    for (size_t at = 0; at < file->size; at++) {
        for (int value = 1; value < 256; value++) {
            file->bytes[at] = (char)(file->bytes[at] ^ value);
            const flc_status status = flc_state_load_on(&disk.table, "state", bytes, sizeof bytes, &size, &error);
            assert_true(status == FLC_E_HASH || status == FLC_E_SCHEMA);
            file->bytes[at] = (char)(file->bytes[at] ^ value);
        }
    }
    for (size_t left = 0; left < file->size; left++) {
        const size_t whole = file->size;
        file->size = left;
        assert_int_not_equal(flc_state_load_on(&disk.table, "state", bytes, sizeof bytes, &size, &error), FLC_OK);
        file->size = whole;
    }
    assert_int_equal(flc_state_load_on(&disk.table, "state", bytes, 7, &size, &error), FLC_E_BUFFER);
    assert_int_equal(size, 8);
    assert_int_equal(flc_state_load_on(&disk.table, "none", bytes, 8, &size, &error), FLC_E_FILE);
    assert_int_equal(flc_state_load_on(&disk.table, "state", bytes, 8, &size, &error), FLC_OK);
    memory_disk_end(&disk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_acknowledged_is_lost_in_a_crash),
        cmocka_unit_test(a_writer_without_sync_loses),
        cmocka_unit_test(a_torn_end_is_set_aside),
        cmocka_unit_test(a_full_disk_is_refused_and_taken_back),
        cmocka_unit_test(a_failing_disk_ends_the_handle),
        cmocka_unit_test(saved_state_is_the_old_or_the_new),
        cmocka_unit_test(saved_state_refuses_what_was_changed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
