/* SPDX-License-Identifier: Apache-2.0 */
/* Real files and processes: writers that are killed, writers side by side, and a trail of a million entries. */
#define _DEFAULT_SOURCE /* mkdtemp, fork, kill, usleep */
#include "flowcomp/state_file.h"
#include "trail_examples.h"
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define MANY 20000
#define KILLS 200
#else
#define MANY 1000000
#define KILLS 1000
#endif
#define KILLS_A_FILE 50

/* A kill leaves to the system what it was handed, on whatever kind of disk, so the quick one is used where there is
 * one; the long trail goes to the other, to spare memory. */
static char quick_folder[] = "/dev/shm/flowcomp-trail-XXXXXX", large_folder[] = "/tmp/flowcomp-trail-XXXXXX";
static const char *folder = quick_folder;

static const char *path_of(const char *name)
{
    static char path[128];
    snprintf(path, sizeof path, "%s/%s", folder, name);
    return path;
}

static int make_folder(void **state)
{
    (void)state;
    if (mkdtemp(large_folder) == NULL) {
        return 1;
    }
    folder = mkdtemp(quick_folder) != NULL ? quick_folder : large_folder;
    return 0;
}

static int remove_folder(void **state)
{
    char command[160];
    (void)state;
    snprintf(command, sizeof command, "rm -rf '%s' '%s'", quick_folder, large_folder);
    return system(command);
}

/* ---- killed writers ---- */

/* What the writer says once an entry, and the totals with as many records, are on the disk. */
typedef struct said {
    flc_trail_head head;
    int64_t records;
} said;

static void write_until_killed(int to_parent, int first)
{
    flc_totals totals;
    if (flc_totals_load(path_of("totals"), &totals, NULL) != FLC_OK && flc_totals_start(&totals, 1e-9) != FLC_OK) {
        _exit(1);
    }
    const flc_trail_options options = example_options(example_seed);
    flc_trail *trail = NULL;
    if (flc_trail_open(path_of("killed"), &options, &trail, NULL, NULL) != FLC_OK) {
        _exit(2);
    }
    for (int i = first;; i++) {
        said now;
        memset(&now, 0, sizeof now);
        if (append_example(trail, 5 * i, &now.head, NULL) != FLC_OK) {
            _exit(3);
        }
        totals.records++;
        if (flc_totals_save(path_of("totals"), &totals, NULL) != FLC_OK) {
            _exit(4);
        }
        now.records = totals.records;
        if (write(to_parent, &now, sizeof now) != (ssize_t)sizeof now) {
            _exit(5);
        }
    }
}

/* Starts a writer, kills it after so many microseconds, or so long after its first word; gives what it said last. */
static int kill_one(int after_us, int waits_for_a_word, int first, said *last)
{
    int ends[2], count = 0, result = 0;
    said one;
    assert_int_equal(pipe(ends), 0);
    const pid_t child = fork();
    if (child == 0) {
        close(ends[0]);
        write_until_killed(ends[1], first);
    }
    close(ends[1]);
    if (waits_for_a_word && read(ends[0], &one, sizeof one) == (ssize_t)sizeof one) {
        *last = one;
        count++;
    }
    usleep((useconds_t)after_us);
    kill(child, SIGKILL);
    assert_int_equal(waitpid(child, &result, 0), child);
    if (!WIFSIGNALED(result)) {
        fail_msg("the writer ended by itself: %d", WEXITSTATUS(result));
    }
    while (read(ends[0], &one, sizeof one) == (ssize_t)sizeof one) {
        *last = one;
        count++;
    }
    close(ends[0]);
    return count;
}

/* Microseconds in which a writer here says something a few times, so that kills fall between its steps. */
static int time_of_a_few(void)
{
    said last;
    for (int us = 2000; us < 2000000; us *= 2) {
        if (kill_one(us, 0, us, &last) >= 6) {
            return us;
        }
    }
    fail_msg("the disk of %s is too slow for this test", folder);
    return 0;
}

static void nothing_acknowledged_is_lost_when_killed(void **state)
{
    (void)state;
    const int a_few = time_of_a_few();
    uint64_t draw = 5;
    long entries = 0, silent = 0;
    said last;
    memset(&last, 0, sizeof last);
    for (int i = 0; i < KILLS; i++) {
        if (i % KILLS_A_FILE == 0) {
            unlink(path_of("killed"));
            unlink(path_of("totals"));
            memset(&last, 0, sizeof last);
        }
        const int after_us = (int)(memory_draw(&draw) % (uint64_t)a_few);
        const int said_so = kill_one(after_us, i % 2, 1000000 + 10000 * i, &last);
        entries += said_so;
        silent += said_so == 0;
        flc_trail_report report;
        flc_trail_report_init(&report);
        const flc_status status = flc_trail_check(path_of("killed"), NULL, &last.head, 0, &report, NULL, 0, NULL);
        if (last.head.number > 0 || status == FLC_OK) { /* what stands there is good up to a torn end */
            flc_trail *trail = NULL;
            const flc_trail_options options = example_options(example_seed);
            assert_int_equal(flc_trail_open(path_of("killed"), &options, &trail, NULL, NULL), FLC_OK);
            flc_trail_free(trail);
            flc_trail_report_init(&report);
            assert_int_equal(flc_trail_check(path_of("killed"), NULL, &last.head, 0, &report, NULL, 0, NULL), FLC_OK);
            assert_true(report.intact && report.head.number >= last.head.number);
        }
        flc_totals totals;
        const flc_status loaded = flc_totals_load(path_of("totals"), &totals, NULL);
        assert_true(loaded == FLC_OK ? totals.records >= last.records : last.records == 0);
    }
    print_message(
        "%d writers killed, %ld entries and saved totals acknowledged, none lost (%ld had said nothing yet)\n", KILLS,
        entries, silent);
    assert_true(entries >= KILLS / 2);
}

/* ---- writers side by side ---- */

static void a_second_writer_is_refused_or_waits(void **state)
{
    (void)state;
    enum { WRITERS = 4, EACH = 25 };
    flc_trail *first = open_example(&flc_disk_of_system, path_of("shared"), example_seed, 1), *second = NULL;
    flc_trail_options options = example_options(example_seed);
    assert_int_equal(flc_trail_open(path_of("shared"), &options, &second, NULL, NULL), FLC_E_BUSY);
    assert_null(second);
    flc_trail_free(first);
    unlink(path_of("shared"));
    options.wait = 1;
    for (int w = 0; w < WRITERS; w++) { /* who comes first makes the file, too */
        if (fork() == 0) {
            for (int i = 0; i < EACH; i++) {
                flc_trail *trail = NULL;
                if (flc_trail_open(path_of("shared"), &options, &trail, NULL, NULL) != FLC_OK ||
                    append_example(trail, 1000 * (w + 1) + i, NULL, NULL) != FLC_OK) {
                    _exit(1);
                }
                flc_trail_free(trail);
            }
            _exit(0);
        }
    }
    for (int w = 0; w < WRITERS; w++) {
        int result = 1;
        wait(&result);
        assert_true(WIFEXITED(result) && WEXITSTATUS(result) == 0);
    }
    flc_trail_report report;
    flc_trail_report_init(&report);
    assert_int_equal(flc_trail_check(path_of("shared"), NULL, NULL, 1, &report, NULL, 0, NULL), FLC_OK);
    assert_true(report.intact);
    assert_int_equal(report.lines, 1 + WRITERS * EACH);
}

static void a_file_that_may_not_be_written_is_refused(void **state)
{
    (void)state;
    flc_trail *trail = NULL;
    flc_error error;
    flc_trail_options options = example_options(example_seed);
    assert_int_equal(flc_trail_open("/nowhere/at/all", &options, &trail, NULL, &error), FLC_E_FILE);
    assert_int_equal(flc_trail_open(folder, &options, &trail, NULL, &error), FLC_E_FILE);
    trail = open_example(&flc_disk_of_system, path_of("kept"), example_seed, 1);
    append_examples(trail, 0, 3);
    flc_trail_free(trail);
    assert_int_equal(chmod(path_of("kept"), 0444), 0);
    if (geteuid() != 0) { /* root may write to it all the same */
        assert_int_equal(flc_trail_open(path_of("kept"), &options, &trail, NULL, &error), FLC_E_FILE);
        assert_non_null(strstr(error.message, "not allowed"));
    }
    flc_trail_report report;
    flc_trail_report_init(&report);
    assert_int_equal(flc_trail_check(path_of("kept"), NULL, NULL, 1, &report, NULL, 0, NULL), FLC_OK);
    assert_true(report.intact && report.lines == 4);
}

/* ---- a million ---- */

static double seconds(void) /* of this processor: other programs do not count */
{
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static int no_sync(void *self, int file)
{
    (void)self, (void)file;
    return 0;
}

static double timed_check(const char *name, int signatures, int64_t lines)
{
    flc_trail_report report;
    flc_trail_report_init(&report);
    const double start = seconds();
    assert_int_equal(flc_trail_check(path_of(name), NULL, NULL, signatures, &report, NULL, 0, NULL), FLC_OK);
    const double taken = seconds() - start;
    assert_true(report.intact);
    assert_int_equal(report.lines, lines);
    return taken;
}

/* Times are printed, nothing passes or fails on them. */
static void a_million_entries_are_checked(void **state)
{
    (void)state;
    flc_disk quick = flc_disk_of_system;
    folder = large_folder;
    quick.sync = no_sync; /* writing is not what is timed */
    flc_trail *trail = open_example(&quick, path_of("long"), example_seed, 1000000);
    for (int i = 0; i < MANY - 1; i++) {
        assert_int_equal(append_example(trail, 5 * i, NULL, NULL), FLC_OK);
    }
    flc_trail_free(trail);
    print_message("hash chain of %d entries: %.2f s\n", MANY, timed_check("long", 0, MANY));
    trail = open_example(&quick, path_of("signed"), example_seed, 1);
    for (int i = 0; i < MANY / 100 - 1; i++) {
        assert_int_equal(append_example(trail, 5 * i, NULL, NULL), FLC_OK);
    }
    flc_trail_free(trail);
    const double hashes = timed_check("signed", 0, MANY / 100), both = timed_check("signed", 1, MANY / 100);
    print_message("%d signatures: %.2f s, %.0f microseconds each\n", MANY / 100, both - hashes,
                  1e8 * (both - hashes) / MANY);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_acknowledged_is_lost_when_killed),
        cmocka_unit_test(a_second_writer_is_refused_or_waits),
        cmocka_unit_test(a_file_that_may_not_be_written_is_refused),
        cmocka_unit_test(a_million_entries_are_checked),
    };
    return cmocka_run_group_tests(tests, make_folder, remove_folder);
}
