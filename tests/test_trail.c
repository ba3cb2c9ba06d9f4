/* SPDX-License-Identifier: Apache-2.0 */
/* The trail: what it holds, what it refuses, and every change that a check must find. SHA-256 and Ed25519 are
 * libsodium's; the key pair of RFC 8032 shows that they are what they are called. */
#include "failing_allocator.h"
#include "trail_examples.h"

/* ---- keys and form ---- */

static void keys_are_those_of_rfc_8032(void **state)
{
    (void)state;
    /* RFC 8032, 7.1, test 1 */
    uint8_t seed[FLC_KEY_BYTES], key[FLC_KEY_BYTES];
    char text[2 * FLC_KEY_BYTES + 1];
    flc_hex_to_bytes("9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60", seed, sizeof seed);
    assert_int_equal(flc_public_key(seed, key), FLC_OK);
    flc_bytes_to_hex(key, sizeof key, text);
    assert_string_equal(text, "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
    assert_int_equal(flc_public_key(NULL, key), FLC_E_NULL);
}

static void times_are_civil(void **state)
{
    (void)state;
    static const struct {
        int64_t ms;
        const char *text;
    } known[] = {{0, "1970-01-01T00:00:00.000Z"},                     /* by definition of the epoch */
                 {INT64_C(951782400000), "2000-02-29T00:00:00.000Z"}, /* date -u -d @951782400 */
                 {INT64_C(1735689599999), "2024-12-31T23:59:59.999Z"},
                 {INT64_C(253402300799999), "9999-12-31T23:59:59.999Z"}};
    char text[FLC_UTC_TEXT];
    for (size_t i = 0; i < 4; i++) {
        flc_utc_to_text(known[i].ms, text);
        assert_string_equal(text, known[i].text);
        assert_int_equal(flc_utc_from_text(text), known[i].ms);
    }
    for (int64_t ms = 0; ms < FLC_UTC_HIGH; ms += INT64_C(86400000) * 997 + 12345) {
        flc_utc_to_text(ms, text);
        assert_int_equal(flc_utc_from_text(text), ms);
    }
    static const char *const wrong[] = {
        "2025-02-29T00:00:00.000Z", "2025-04-31T00:00:00.000Z", "2025-01-01T24:00:00.000Z", "2025-01-01T00:00:60.000Z",
        "2025-13-01T00:00:00.000Z", "2025-00-01T00:00:00.000Z", "2025-01-01 00:00:00.000Z", "1969-12-31T23:59:59.999Z"};
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        assert_int_equal(flc_utc_from_text(wrong[i]), -1);
    }
}

static void a_trail_holds_what_was_appended(void **state)
{
    (void)state;
    for (int32_t every = 1; every <= 30; every += 29) {
        memory_disk disk;
        flc_trail_head head;
        uint8_t key[FLC_KEY_BYTES];
        memory_disk_start(&disk);
        flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, every);
        append_examples(trail, 0, EXAMPLE_ENTRIES - 1);
        assert_int_equal(flc_trail_head_of(trail, &head), FLC_OK);
        flc_trail_free(trail);
        assert_int_equal(flc_public_key(example_seed, key), FLC_OK);
        const flc_trail_report report = check_disk(&disk, key, &head, 1, NULL, 0);
        assert_true(report.intact && report.is_signed && report.key_given && report.head_given);
        assert_int_equal(report.lines, EXAMPLE_ENTRIES);
        assert_int_equal(report.head.number, EXAMPLE_ENTRIES);
        assert_string_equal(report.head.hash, head.hash);
        assert_string_equal(report.name, "invented depot");
        assert_int_equal(report.clock_backwards, 0);
        assert_memory_equal(report.public_key, key, sizeof key);
        /* every entry; or the first, 19 heads, and 30, 60 and 90, of which 30, 60, 90 are no heads (6, 11, ... are) */
        assert_int_equal(report.signatures, every == 1 ? EXAMPLE_ENTRIES : 1 + 19 + 3);
        memory_disk_end(&disk);
    }
}

static void an_unsigned_trail_says_so(void **state)
{
    (void)state;
    memory_disk disk;
    memory_disk_start(&disk);
    flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, NULL, 1);
    append_examples(trail, 0, 9);
    flc_trail_free(trail);
    flc_trail_report report = check_disk(&disk, NULL, NULL, 1, NULL, 0);
    assert_true(report.intact && !report.is_signed && report.signatures == 0);
    assert_non_null(strstr(flc_trail_report_text(&report), "accidents only"));
    flc_trail_finding found[4];
    report = check_disk(&disk, example_seed, NULL, 1, found, 4); /* a key was expected */
    assert_int_equal(report.findings, 1);
    assert_int_equal(found[0].reason, FLC_TRAIL_IS_KEY);
    memory_disk_end(&disk);
}

static void a_clock_that_runs_backwards_is_remarked(void **state)
{
    (void)state;
    memory_disk disk;
    memory_disk_start(&disk);
    flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, 1);
    append_examples(trail, 10, 12);
    append_examples(trail, 5, 7);
    flc_trail_free(trail);
    const flc_trail_report report = check_disk(&disk, NULL, NULL, 1, NULL, 0);
    assert_true(report.intact);
    assert_int_equal(report.clock_backwards, 1);
    memory_disk_end(&disk);
}

/* ---- refusals ---- */

static void opening_refuses(void **state)
{
    (void)state;
    memory_disk disk;
    flc_trail *trail = NULL;
    flc_error error;
    memory_disk_start(&disk);
    flc_trail_options options = example_options(NULL);
    options.unsigned_allowed = 0;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_MISSING);
    assert_string_equal(error.argument, "seed");
    assert_null(trail);
    options = example_options(example_seed);
    options.create = 0;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_FILE);
    flc_check_same_bits(error.value, (double)ENOENT);
    options.create = 1;
    options.sign_every = 0;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_BELOW);
    options.sign_every = 1;
    options.at_ms = FLC_TIME_NONE;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_MISSING);
    options.at_ms = -1;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_BELOW);
    options.at_ms = EXAMPLE_TIME;
    options.size = 0;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_SIZE);
    assert_int_equal(flc_trail_open_on(&disk.table, NULL, &options, &trail, NULL, &error), FLC_E_NULL);
    assert_int_equal(memory_find(&disk, EXAMPLE_PATH), -1);

    flc_trail_free(open_example(&disk.table, EXAMPLE_PATH, example_seed, 1));
    options = example_options(other_seed);
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_CONFLICT);
    options = example_options(NULL);
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_MISSING);
    flc_trail_free(open_example(&disk.table, "unsigned", NULL, 1));
    options = example_options(example_seed);
    assert_int_equal(flc_trail_open_on(&disk.table, "unsigned", &options, &trail, NULL, &error), FLC_E_CONFLICT);
    const int file = disk.table.open(&disk, "letter", FLC_DISK_NEW);
    memory_put(&disk.files[file], 0, "Dear sir,\n", 10);
    assert_int_equal(flc_trail_open_on(&disk.table, "letter", &options, &trail, NULL, &error), FLC_E_SCHEMA);
    assert_int_equal(disk.files[file].size, 10); /* not touched */
    flc_trail_report report;
    flc_trail_report_init(&report);
    assert_int_equal(flc_trail_check_on(&disk.table, "letter", NULL, NULL, 1, &report, NULL, 0, &error), FLC_E_SCHEMA);
    disk.fail_open = EROFS;
    assert_int_equal(flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, &error), FLC_E_FILE);
    assert_non_null(strstr(error.message, "read-only"));
    memory_disk_end(&disk);
}

/* More than one entry's length damaged at the end is no torn end. */
static void a_damaged_end_is_no_torn_end(void **state)
{
    (void)state;
    static example_trail trail;
    flc_trail *opened = NULL;
    flc_error error;
    make_trail(&trail, example_seed);
    const size_t at = trail.file->size;
    for (size_t i = 0; i <= FLC_TRAIL_ENTRY_MAX; i += 64) {
        memory_put(trail.file, at + i, "0123456789012345678901234567890123456789012345678901234567890123", 64);
    }
    const flc_trail_options options = example_options(example_seed);
    assert_int_equal(flc_trail_open_on(&trail.disk.table, EXAMPLE_PATH, &options, &opened, NULL, &error), FLC_E_HASH);
    trail.file->bytes[40] ^= 1; /* in the first entry */
    assert_int_equal(flc_trail_open_on(&trail.disk.table, EXAMPLE_PATH, &options, &opened, NULL, &error), FLC_E_HASH);
    memory_disk_end(&trail.disk);
}

static flc_status try_event(flc_trail *trail, flc_trail_event_kind kind, const char *id, const char *by,
                            const char *data, flc_error *error)
{
    flc_trail_event event;
    flc_trail_event_init(&event);
    event.kind = kind;
    event.at_ms = EXAMPLE_TIME;
    event.id = id;
    event.by = by;
    event.data = data;
    return flc_trail_append(trail, &event, NULL, error);
}

static void appending_refuses(void **state)
{
    (void)state;
    static const struct {
        flc_trail_event_kind kind;
        const char *id, *by, *data;
        flc_status status;
        const char *argument;
    } bad[] = {
        {FLC_TRAIL_OPENED, "a", "b", "{}", FLC_E_CHOICE, "kind"},
        {FLC_TRAIL_SET_ASIDE, "a", "b", "{}", FLC_E_CHOICE, "kind"},
        {FLC_TRAIL_EVENT_COUNT, "a", "b", "{}", FLC_E_CHOICE, "kind"},
        {FLC_TRAIL_TICKET, "", "b", "{\"sha256\":\"\"}", FLC_E_MISSING, "id"},
        {FLC_TRAIL_TICKET, "a", "b", "{}", FLC_E_MISSING, "sha256"},
        {FLC_TRAIL_PROVING, "a", "b", "{}", FLC_E_MISSING, "accepted"},
        {FLC_TRAIL_CORRECTION, "a", "", "{\"old\":1,\"new\":2,\"reason\":\"\"}", FLC_E_MISSING, "by"},
        {FLC_TRAIL_CORRECTION, "a", "b", "{\"old\":1,\"new\":2}", FLC_E_MISSING, "reason"},
        {FLC_TRAIL_CONFIGURATION, "a", "b", "{\"before\":1}", FLC_E_MISSING, "after"},
        {FLC_TRAIL_CONFIGURATION, "a", "b", "[1]", FLC_E_SCHEMA, "data"},
        {FLC_TRAIL_CONFIGURATION, "a", "b", "{\"before\":1,", FLC_E_SYNTAX, "line"},
        {FLC_TRAIL_CONFIGURATION, "a", "b", "{\"before\":1,\"after\":1e999}", FLC_E_NUMBER, "line"},
        {FLC_TRAIL_CONFIGURATION, "a", "b", "{\"before\":1,\"before\":1}", FLC_E_SCHEMA, "line"},
        {FLC_TRAIL_CONFIGURATION, "a", "\xff", "{\"before\":1,\"after\":2}", FLC_E_SCHEMA, "by"},
        {FLC_TRAIL_CONFIGURATION, "0123456789012345678901234567890123456789012345678901234567890123", "b", "{}",
         FLC_E_BUFFER, "id"},
        {FLC_TRAIL_CONFIGURATION, NULL, "b", "{}", FLC_E_NULL, "id"},
    };
    memory_disk disk;
    memory_disk_start(&disk);
    flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, 1);
    const size_t before = disk.step_count;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        flc_error error;
        const flc_status status = try_event(trail, bad[i].kind, bad[i].id, bad[i].by, bad[i].data, &error);
        if (status != bad[i].status || strcmp(error.argument, bad[i].argument) != 0) {
            fail_msg("row %zu: %d %s", i, (int)status, error.message);
        }
    }
    assert_int_equal(disk.step_count, before); /* nothing was written */
    flc_trail_free(trail);
    memory_disk_end(&disk);
}

static void an_identifier_is_used_once(void **state)
{
    (void)state;
    memory_disk disk;
    flc_error error;
    memory_disk_start(&disk);
    flc_trail *trail = open_example(&disk.table, EXAMPLE_PATH, example_seed, 1);
    const char *data = "{\"sha256\":\"00\",\"accepted\":false,\"by\":{\"type\":\"ticket\",\"id\":\"T-9\"}}";
    assert_int_equal(try_event(trail, FLC_TRAIL_TICKET, "T \"1\"", "", data, &error), FLC_OK);
    assert_int_equal(try_event(trail, FLC_TRAIL_PROVING, "T \"1\"", "", data, &error), FLC_OK);
    assert_int_equal(try_event(trail, FLC_TRAIL_TICKET, "T \"1", "", data, &error), FLC_OK);
    assert_int_equal(try_event(trail, FLC_TRAIL_TICKET, "T-9", "", data, &error), FLC_OK);
    assert_int_equal(try_event(trail, FLC_TRAIL_TICKET, "T \"1\"", "", data, &error), FLC_E_DUPLICATE);
    assert_int_equal(error.index, 2);
    assert_int_equal(try_event(trail, FLC_TRAIL_PROVING, "T \"1\"", "", data, &error), FLC_E_DUPLICATE);
    flc_trail_free(trail);
    memory_disk_end(&disk);
}

static void memory_may_run_out(void **state)
{
    (void)state;
    memory_disk disk;
    memory_disk_start(&disk);
    flc_trail_free(open_example(&disk.table, EXAMPLE_PATH, example_seed, 1));
    const long live = flc_test_live_blocks();
    for (long n = 1;; n++) {
        const flc_trail_options options = example_options(example_seed);
        flc_trail *trail = NULL;
        flc_trail_report report;
        flc_trail_report_init(&report);
        flc_test_fail_allocation(n);
        flc_status status = flc_trail_open_on(&disk.table, EXAMPLE_PATH, &options, &trail, NULL, NULL);
        if (status == FLC_OK) {
            status = append_example(trail, (int)n * 5 + 2, NULL, NULL);
        }
        if (status == FLC_OK) {
            status = flc_trail_check_on(&disk.table, EXAMPLE_PATH, NULL, NULL, 1, &report, NULL, 0, NULL);
        }
        const int failed = flc_test_allocation_failed();
        flc_test_fail_allocation(0);
        flc_trail_free(trail);
        assert_int_equal(flc_test_live_blocks(), live);
        if (!failed) {
            assert_int_equal(status, FLC_OK);
            assert_true(n > 5);
            break;
        }
        assert_int_equal(status, FLC_E_MEMORY);
    }
    assert_true(check_disk(&disk, NULL, NULL, 1, NULL, 0).intact);
    memory_disk_end(&disk);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_are_those_of_rfc_8032),
        cmocka_unit_test(times_are_civil),
        cmocka_unit_test(a_trail_holds_what_was_appended),
        cmocka_unit_test(an_unsigned_trail_says_so),
        cmocka_unit_test(a_clock_that_runs_backwards_is_remarked),
        cmocka_unit_test(opening_refuses),
        cmocka_unit_test(a_damaged_end_is_no_torn_end),
        cmocka_unit_test(appending_refuses),
        cmocka_unit_test(an_identifier_is_used_once),
        cmocka_unit_test(memory_may_run_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
