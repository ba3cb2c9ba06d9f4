/* SPDX-License-Identifier: Apache-2.0 */
/* Meter files and the host: a million doubles, any locale, any floating-point state, no memory, no randomness. */
#define _DEFAULT_SOURCE /* mkdtemp, setenv, syscall */
#include "failing_allocator.h"
#include "json_edit.h"
#include "record_examples.h"
#include "record_fields.h"
#include "record_text.h"
#include <errno.h>
#include <fenv.h>
#include <locale.h>
#include <sys/random.h>
#include <sys/syscall.h>
#include <unistd.h>

/* ---- a million doubles ---- */

typedef struct numbers {
    double *list;
    size_t count;
} numbers;

static const flc_record_field number_fields[] = {FLC_RECORD_LIST_OF(numbers, list, count), FLC_RECORD_END};
static const flc_record_object number_object = {sizeof(numbers), number_fields};

static uint64_t next_bits(uint64_t *state) /* splitmix64, Steele, Lea and Flood 2014 */
{
    uint64_t z = *state += UINT64_C(0x9E3779B97F4A7C15);
    z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
    return z ^ (z >> 31);
}

/* Any finite double, zeros and subnormals included; every second one near the size of what meters have. */
static double next_double(uint64_t *state)
{
    for (;;) {
        uint64_t bits = next_bits(state);
        if (bits & 1) {
            bits = (bits & UINT64_C(0x800FFFFFFFFFFFFF)) | ((UINT64_C(1003) + (bits >> 52) % 40) << 52);
        }
        double number;
        memcpy(&number, &bits, sizeof number);
        if (flc_is_finite(number)) {
            return number;
        }
    }
}

static void numbers_go_round(const numbers *out)
{
    const flc_record_place root = {NULL, "", -1};
    flc_record_host host;
    assert_int_equal(flc_record_enter(&host, NULL), FLC_OK);
    json_t *tree = NULL;
    char *text = NULL;
    numbers in = {NULL, 0};
    flc_error error;
    flc_error_clear(&error);
    assert_int_equal(flc_record_write(&number_object, out, &root, &tree, &error), FLC_OK);
    assert_int_equal(flc_record_print(tree, &text, &error), FLC_OK);
    json_decref(tree);
    assert_int_equal(flc_record_parse(text, strlen(text), &tree, &error), FLC_OK);
    assert_int_equal(flc_record_read(&number_object, tree, &root, &in, &error), FLC_OK);
    json_decref(tree);
    flc_text_free(text);
    flc_record_leave(&host);
    assert_int_equal(in.count, out->count);
    for (size_t i = 0; i < in.count; i++) {
        flc_check_same_bits(in.list[i], out->list[i]);
    }
    flc_record_release(&number_object, &in);
}

static void a_million_doubles_read_back(void **state)
{
    (void)state;
    enum { BATCH = 50000, BATCHES = 20 };
    uint64_t seed = 1;
    numbers out = {malloc(BATCH * sizeof(double)), BATCH};
    assert_non_null(out.list);
    for (int batch = 0; batch < BATCHES; batch++) {
        for (size_t i = 0; i < BATCH; i++) {
            out.list[i] = next_double(&seed);
        }
        if (batch == 0) {
            const double edges[] = {0.0,
                                    -0.0,
                                    0x1p-1074,
                                    -0x1p-1074,
                                    0x1p-1022,
                                    0x1.fffffffffffffp-1023,
                                    0x1.fffffffffffffp1023,
                                    -0x1.fffffffffffffp1023,
                                    1e15,
                                    1e17,
                                    123456789012345678.0};
            memcpy(out.list, edges, sizeof edges);
        }
        numbers_go_round(&out);
    }
    free(out.list);
}

/* ---- locales ---- */

static char expected_meter[8192];

static void the_same_file_comes_and_goes(void)
{
    flc_meter *meter = NULL;
    char *text = NULL;
    const flc_status read = flc_meter_from_json(expected_meter, strlen(expected_meter), &meter, NULL);
    const flc_status written = read == FLC_OK ? flc_meter_to_json(meter, &text, NULL) : read;
    assert_int_equal(read, FLC_OK);
    assert_int_equal(written, FLC_OK);
    assert_string_equal(text, expected_meter);
    flc_meter_free(meter);
    flc_text_free(text);
}

/* de_DE: a decimal comma. ps_AF: a decimal point of two bytes, on which jansson 2.14 left alone ends the process. */
static void locales_make_no_difference(void **state)
{
    (void)state;
    static const char *const made[] = {"de_DE", "ps_AF"};
    const char *temporary = getenv("TMPDIR");
    char folder[128], command[512], name[32];
    snprintf(folder, sizeof folder, "%s/flowcomp_locale_XXXXXX", temporary != NULL ? temporary : P_tmpdir);
    assert_non_null(mkdtemp(folder));
    int tried = 0;
    for (int i = 0; i < 2; i++) {
        snprintf(command, sizeof command, "localedef -i %s -f UTF-8 %s/%s.UTF-8 >%s/log 2>&1", made[i], folder, made[i],
                 folder);
        snprintf(name, sizeof name, "%s.UTF-8", made[i]);
        const int status = system(command);
        setenv("LOCPATH", folder, 1);
        if (setlocale(LC_ALL, name) == NULL) {
            print_message("locale %s could not be made here (localedef gave %d)\n", name, status);
            continue;
        }
        tried++;
        assert_string_not_equal(localeconv()->decimal_point, ".");
        the_same_file_comes_and_goes();
        assert_string_equal(setlocale(LC_ALL, NULL), name);
        assert_true(uselocale((locale_t)0) == LC_GLOBAL_LOCALE);
        setlocale(LC_ALL, "C");
    }
    unsetenv("LOCPATH");
    snprintf(command, sizeof command, "rm -r %s", folder);
    assert_int_equal(system(command), 0);
    if (tried == 0) {
        print_message("skipped: install the package locales for localedef\n");
        skip();
    }
}

/* ---- floating-point state ---- */

static void rounding_modes_make_no_difference(void **state)
{
    (void)state;
    static const int modes[] = {FE_UPWARD, FE_DOWNWARD, FE_TOWARDZERO};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(fesetround(modes[i]), 0);
        the_same_file_comes_and_goes();
        const int after = fegetround();
        fesetround(FE_TONEAREST);
        assert_int_equal(after, modes[i]);
    }
}

/* Traps on, flush to zero, rounding upward, all at once: doubles down to the smallest read back, and the control word
 * is as it was found. */
static void the_control_word_makes_no_difference(void **state)
{
    (void)state;
#if defined(__x86_64__)
    const unsigned int hostile = 0xC040u; /* FTZ, DAZ, round up, no exception masked */
    const unsigned int before = _mm_getcsr();
    double small[] = {0x1p-1074, 0x1.23456789abcdep-1030, 0.1, -3.3e-310};
    const numbers out = {small, 4};
    _mm_setcsr(hostile | 0x1F80u); /* masked: the test itself does arithmetic */
    numbers_go_round(&out);
    _mm_setcsr(hostile);
    char *text = NULL;
    flc_meter *meter = NULL;
    const flc_status read = flc_meter_from_json(expected_meter, strlen(expected_meter), &meter, NULL);
    const flc_status written = read == FLC_OK ? flc_meter_to_json(meter, &text, NULL) : read;
    const unsigned int after = _mm_getcsr();
    _mm_setcsr(before);
    assert_int_equal(read, FLC_OK);
    assert_int_equal(written, FLC_OK);
    assert_int_equal(after & 0xFFCDu, hostile); /* inexact and underflow may be raised */
    assert_string_equal(text, expected_meter);
    flc_text_free(text);
    flc_meter_free(meter);
#else
    skip();
#endif
}

static void errno_is_left_alone(void **state)
{
    (void)state;
    flc_meter *meter = NULL;
    char *edited = with_edit(expected_meter, "0.1000", "1e400"), *text = NULL, hash[FLC_HASH_TEXT];
    errno = 4711;
    assert_int_equal(flc_meter_from_json(edited, strlen(edited), &meter, NULL), FLC_E_NUMBER);
    assert_int_equal(flc_meter_from_json(expected_meter, strlen(expected_meter), &meter, NULL), FLC_OK);
    assert_int_equal(flc_meter_to_json(meter, &text, NULL), FLC_OK);
    assert_int_equal(flc_meter_hash(meter, hash), FLC_OK);
    assert_int_equal(errno, 4711);
    free(edited);
    flc_text_free(text);
    flc_meter_free(meter);
}

/* ---- no memory ---- */

/* The allocations of jansson, which the test may replace as the host of the library. */
static long jansson_asked, jansson_live, jansson_fails_at;

/* jansson 2.14 does not check the growth of its token buffer, by doubling from 16 bytes; the library asks for more than
 * that beforehand. What has such a size is not made to fail here. */
static void *jansson_malloc(size_t size)
{
    const int may_be_token_buffer = size >= 32 && (size & (size - 1)) == 0;
    jansson_asked += !may_be_token_buffer;
    if (jansson_asked == jansson_fails_at && !may_be_token_buffer) {
        return NULL;
    }
    jansson_live++;
    return malloc(size);
}

static void jansson_free(void *memory)
{
    jansson_live -= memory != NULL;
    free(memory);
}

static int jansson_failed(void)
{
    return jansson_fails_at > 0 && jansson_asked >= jansson_fails_at;
}

static flc_status write_meter(void)
{
    flc_meter *meter = example_meter();
    char *text = (char *)"left as it was";
    flc_error error;
    jansson_asked = 0;
    const flc_status status = flc_meter_to_json(meter, &text, &error);
    flc_meter_free(meter);
    assert_int_equal(error.status, status);
    if (status != FLC_OK) {
        assert_null(text);
    }
    flc_text_free(text);
    return status;
}

static flc_status read_meter(void)
{
    flc_meter *meter = NULL;
    flc_error error;
    jansson_asked = 0;
    const flc_status status = flc_meter_from_json(expected_meter, strlen(expected_meter), &meter, &error);
    assert_int_equal(error.status, status);
    if (status != FLC_OK) {
        assert_null(meter);
    }
    flc_meter_free(meter);
    return status;
}

static void our_allocations_fail_cleanly(void **state)
{
    (void)state;
    flc_meter *meter = example_meter();
    const long live = flc_test_live_blocks();
    long failures = 0;
    for (int what = 0; what < 3; what++) {
        for (long n = 1;; n++) {
            char *text = NULL, hash[FLC_HASH_TEXT];
            flc_meter *loaded = NULL;
            flc_test_fail_allocation(n);
            flc_status status = what == 0   ? flc_meter_to_json(meter, &text, NULL)
                                : what == 1 ? flc_meter_from_json(expected_meter, strlen(expected_meter), &loaded, NULL)
                                            : flc_meter_hash(meter, hash);
            const int failed = flc_test_allocation_failed();
            flc_test_fail_allocation(0);
            assert_int_equal(status, failed ? FLC_E_MEMORY : FLC_OK);
            flc_text_free(text);
            flc_meter_free(loaded);
            assert_int_equal(flc_test_live_blocks(), live);
            if (!failed) {
                break;
            }
            failures++;
        }
    }
    flc_meter_free(meter);
    print_message("%ld allocations of the library made to fail\n", failures);
    assert_true(failures > 10);
}

static void allocations_of_jansson_fail_cleanly(void **state)
{
    (void)state;
    const long live = flc_test_live_blocks();
    long failures = 0;
    json_set_alloc_funcs(jansson_malloc, jansson_free);
    for (int reading = 0; reading <= 1; reading++) {
        for (jansson_fails_at = 1;; jansson_fails_at++) {
            const flc_status status = reading ? read_meter() : write_meter();
            if (!jansson_failed()) {
                assert_int_equal(status, FLC_OK);
                break;
            }
            failures++;
            /* where the copy of a string fails, jansson says "invalid token" */
            assert_true(status == FLC_E_MEMORY || (reading && status == FLC_E_SYNTAX));
            assert_int_equal(flc_test_live_blocks(), live);
            assert_int_equal(jansson_live, 0);
        }
    }
    jansson_fails_at = 0;
    json_set_alloc_funcs(malloc, free);
    print_message("%ld allocations of jansson made to fail\n", failures);
    assert_true(failures > 100);
}

/* ---- no randomness ---- */

static int no_randomness;

/* Stands in for the C library's: libsodium would end the process where the system has none to give. */
ssize_t getrandom(void *buffer, size_t length, unsigned int flags)
{
    if (no_randomness) {
        errno = ENOSYS;
        return -1;
    }
    return syscall(SYS_getrandom, buffer, length, flags);
}

static void no_randomness_is_refused(void **state)
{
    (void)state;
    flc_meter *meter = example_meter(), *loaded = NULL;
    char hash[FLC_HASH_TEXT] = "left as it was", *text = NULL;
    no_randomness = 1;
    const flc_status hashed = flc_meter_hash(meter, hash);
    const flc_status written = flc_meter_to_json(meter, &text, NULL);
    const flc_status read = flc_meter_from_json(expected_meter, strlen(expected_meter), &loaded, NULL);
    no_randomness = 0;
    assert_int_equal(hashed, FLC_E_LIBRARY);
    assert_string_equal(hash, "");
    assert_int_equal(written, FLC_E_LIBRARY);
    assert_null(text);
    assert_int_equal(read, FLC_E_LIBRARY);
    assert_null(loaded);
    flc_meter_free(meter);
}

static int set_up(void **state)
{
    (void)state;
    char *text = example_meter_text();
    assert_true(strlen(text) < sizeof expected_meter);
    memcpy(expected_meter, text, strlen(text) + 1);
    flc_text_free(text);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_million_doubles_read_back),
        cmocka_unit_test(locales_make_no_difference),
        cmocka_unit_test(rounding_modes_make_no_difference),
        cmocka_unit_test(the_control_word_makes_no_difference),
        cmocka_unit_test(errno_is_left_alone),
        cmocka_unit_test(our_allocations_fail_cleanly),
        cmocka_unit_test(allocations_of_jansson_fail_cleanly),
        cmocka_unit_test(no_randomness_is_refused),
    };
    return cmocka_run_group_tests(tests, set_up, NULL);
}
