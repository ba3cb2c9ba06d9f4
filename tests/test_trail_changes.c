/* SPDX-License-Identifier: Apache-2.0 */
/* Every change that a check of a trail must find, and where it says that it is. */
#include "trail_examples.h"

#define ENTRIES EXAMPLE_ENTRIES

/* The check is a fold over the lines: a finding in the changed line or the one behind it stays a finding of the whole.
 * So before[i] keeps the fold as it stands before line i, and a change there is judged from it. */
typedef struct fold {
    flc_trail_judge before[ENTRIES];
    flc_trail_report reports[ENTRIES];
} fold;

static void make_fold(const example_trail *trail, fold *made)
{
    flc_trail_report report;
    flc_trail_judge judge = {.report = &report, .signatures = 0};
    flc_trail_report_init(&report);
    const char *bytes = trail->file->bytes;
    assert_int_equal(flc_trail_judge_start(&judge, bytes, trail->start[1] - 1, trail->key, NULL), FLC_OK);
    for (size_t i = 0; i < ENTRIES; i++) {
        made->before[i] = judge;
        made->reports[i] = report;
        flc_trail_judge_line(&judge, FLC_TRAIL_LINE, bytes + trail->start[i], trail->start[i + 1] - trail->start[i] - 1,
                             (int64_t)trail->start[i]);
    }
    assert_int_equal(report.findings, 0);
}

/* Is the change in line i of these bytes found? */
static int is_found(const example_trail *trail, const fold *folds, size_t i, int signatures)
{
    const char *bytes = trail->file->bytes;
    const size_t stop = trail->start[i + 2 <= ENTRIES ? i + 2 : ENTRIES];
    flc_trail_report report = folds->reports[i];
    flc_trail_judge judge = folds->before[i];
    judge.report = &report;
    judge.signatures = signatures;
    if (i == 0) {
        flc_trail_report_init(&report);
        memset(&judge, 0, sizeof judge);
        judge.report = &report;
        judge.signatures = signatures;
        const char *first = memchr(bytes, '\n', stop);
        if (flc_trail_judge_start(&judge, bytes, (size_t)(first - bytes), trail->key, NULL) != FLC_OK) {
            return 1;
        }
    }
    for (size_t at = trail->start[i]; at < stop && report.findings == 0;) {
        const char *end = memchr(bytes + at, '\n', stop - at);
        const size_t length = (end != NULL ? (size_t)(end - bytes) : stop) - at;
        flc_trail_judge_line(&judge, end != NULL ? FLC_TRAIL_LINE : FLC_TRAIL_PART, bytes + at, length, (int64_t)at);
        at += length + 1;
    }
    return report.findings > 0;
}

/* Every bit of every byte, and the byte as zero, as a space and as its complement. Signatures are verified only where
 * the change leaves a digit in one, because everything else is found without them. */
static void every_changed_byte_is_found(void **state)
{
    (void)state;
    static example_trail trail;
    static fold folds;
    make_trail(&trail, example_seed);
    make_fold(&trail, &folds);
    for (size_t i = 0; i < ENTRIES; i++) {
        assert_false(is_found(&trail, &folds, i, 1)); /* nothing is changed yet */
    }
    long changes = 0, whole_checks = 0;
    for (size_t i = 0; i < ENTRIES; i++) {
        for (size_t at = trail.start[i]; at < trail.start[i + 1]; at++) {
            char *byte = &trail.file->bytes[at];
            const char was = *byte;
            for (int change = 0; change < 11; change++) {
                *byte = change < 8 ? (char)(was ^ (1 << change)) : change == 8 ? '\0' : change == 9 ? ' ' : (char)~was;
                if (*byte == was) {
                    continue;
                }
                changes++;
                if (!is_found(&trail, &folds, i, flc_is_hex(byte, 1))) {
                    fail_msg("byte %zu of entry %zu, 0x%02x to 0x%02x, is not found", at, i + 1, was & 255,
                             *byte & 255);
                }
                if (changes % 997 == 0) { /* the public check says the same */
                    flc_trail_report report;
                    flc_trail_report_init(&report);
                    const flc_status status = flc_trail_check_on(&trail.disk.table, EXAMPLE_PATH, trail.key,
                                                                 &trail.head, 1, &report, NULL, 0, NULL);
                    assert_true(status != FLC_OK || !report.intact);
                    whole_checks++;
                }
            }
            *byte = was;
        }
    }
    print_message(
        "%zu bytes of a signed trail of %d entries, %ld changes, all found; %ld of them by whole checks too\n",
        trail.file->size, ENTRIES, changes, whole_checks);
    assert_true(check_disk(&trail.disk, trail.key, &trail.head, 1, NULL, 0).intact);
    memory_disk_end(&trail.disk);
}

/* Lines of the trail in this order (-1 ends it) as a new file. */
static flc_trail_report check_lines(const example_trail *trail, const int *lines, flc_trail_finding *found)
{
    memory_disk disk;
    memory_disk_start(&disk);
    const int file = disk.table.open(&disk, EXAMPLE_PATH, FLC_DISK_NEW);
    size_t size = 0;
    for (; *lines >= 0; lines++) {
        const size_t start = trail->start[*lines], length = trail->start[*lines + 1] - start;
        memory_put(&disk.files[file], size, trail->file->bytes + start, length);
        size += length;
    }
    const flc_trail_report report = check_disk(&disk, trail->key, &trail->head, 1, found, 8);
    memory_disk_end(&disk);
    return report;
}

static void deletions_and_gaps_are_located(void **state)
{
    (void)state;
    static example_trail trail;
    make_trail(&trail, example_seed);
    for (int gone = 1; gone < ENTRIES; gone++) {
        for (int many = 1; many <= 3 && gone + many <= ENTRIES; many++) {
            int lines[ENTRIES + 1], count = 0;
            for (int i = 0; i < ENTRIES; i++) {
                if (i < gone || i >= gone + many) {
                    lines[count++] = i;
                }
            }
            lines[count] = -1;
            flc_trail_finding found[8];
            const flc_trail_report report = check_lines(&trail, lines, found);
            assert_int_equal(report.findings, 1);
            assert_int_equal(found[0].reason, gone + many == ENTRIES ? FLC_TRAIL_IS_CUT : FLC_TRAIL_IS_GAP);
            assert_int_equal(found[0].entry, gone + 1);
        }
    }
    memory_disk_end(&trail.disk);
}

static void reordering_and_repeating_are_located(void **state)
{
    (void)state;
    static example_trail trail;
    make_trail(&trail, example_seed);
    for (int i = 1; i + 1 < ENTRIES; i++) {
        int swapped[ENTRIES + 1], repeated[ENTRIES + 2];
        for (int k = 0; k <= ENTRIES; k++) {
            swapped[k] = k == ENTRIES ? -1 : k == i ? i + 1 : k == i + 1 ? i : k;
            repeated[k] = k <= i ? k : k - 1;
        }
        repeated[ENTRIES + 1] = -1;
        flc_trail_finding found[8];
        flc_trail_report report = check_lines(&trail, swapped, found);
        assert_int_equal(report.findings, 2);
        assert_int_equal(found[0].reason, FLC_TRAIL_IS_GAP);
        assert_int_equal(found[1].reason, FLC_TRAIL_IS_ORDER);
        assert_int_equal(found[1].entry, i + 1);
        report = check_lines(&trail, repeated, found);
        assert_int_equal(report.findings, 1);
        assert_int_equal(found[0].reason, FLC_TRAIL_IS_ORDER);
        assert_int_equal(found[0].line, i + 2);
    }
    memory_disk_end(&trail.disk);
}

/* Cutting whole last entries off leaves a trail that is good in itself: only a head held elsewhere tells. */
static void a_cut_end_is_found_by_a_head_held_elsewhere(void **state)
{
    (void)state;
    static example_trail trail;
    make_trail(&trail, example_seed);
    const size_t whole = trail.file->size;
    for (size_t left = 1; left < ENTRIES; left++) {
        trail.file->size = trail.start[left];
        flc_trail_finding found[2];
        assert_true(check_disk(&trail.disk, trail.key, NULL, 0, NULL, 0).intact);
        const flc_trail_report report = check_disk(&trail.disk, trail.key, &trail.head, 0, found, 2);
        assert_int_equal(report.findings, 1);
        assert_int_equal(found[0].reason, FLC_TRAIL_IS_CUT);
        assert_int_equal(found[0].entry, left + 1);
    }
    trail.file->size = whole;
    flc_trail_head other = trail.head;
    other.hash[5] = other.hash[5] == '0' ? '1' : '0';
    flc_trail_finding found[2];
    const flc_trail_report report = check_disk(&trail.disk, trail.key, &other, 0, found, 2);
    assert_int_equal(report.findings, 1);
    assert_int_equal(found[0].reason, FLC_TRAIL_IS_HEAD);
    memory_disk_end(&trail.disk);
}

/* Whoever rewrites a trail from one entry on, hashes and all, must sign by another key. */
static void a_rewritten_trail_is_found_by_its_key(void **state)
{
    (void)state;
    static example_trail trail, forged;
    make_trail(&trail, example_seed);
    make_trail(&forged, other_seed);
    flc_trail_finding found[3];
    flc_trail_report report = check_disk(&forged.disk, trail.key, NULL, 1, found, 3);
    assert_int_equal(report.findings, 1);
    assert_int_equal(found[0].reason, FLC_TRAIL_IS_KEY);
    assert_true(check_disk(&forged.disk, NULL, NULL, 1, NULL, 0).intact); /* by its own word it is good */
    memory_disk_end(&trail.disk);
    memory_disk_end(&forged.disk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_changed_byte_is_found),
        cmocka_unit_test(deletions_and_gaps_are_located),
        cmocka_unit_test(reordering_and_repeating_are_located),
        cmocka_unit_test(a_cut_end_is_found_by_a_head_held_elsewhere),
        cmocka_unit_test(a_rewritten_trail_is_found_by_its_key),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
