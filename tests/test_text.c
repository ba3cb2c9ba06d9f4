/* SPDX-License-Identifier: Apache-2.0 */
/* Text without printf. The reference for numbers is the C library's printf, which rounds correctly (glibc manual: the
 * exact binary value, half to even in the default rounding mode); it stands in the tests only, never in the library. */
#include "check.h"
#include "draws.h"
#include "text.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char *number_text(double number, int digits, char *room, size_t size)
{
    flc_text text = flc_text_start(room, size);
    flc_text_add_number(&text, number, digits);
    assert_true(text.needed < size);
    assert_int_equal(strlen(room), text.needed);
    return room;
}

/* The digits d1d2d3... and the power of ten of d1 that the C library finds, trailing zeros cut. */
static int reference_digits(double number, int digits, char *found)
{
    char printed[64];
    snprintf(printed, sizeof printed, "%.*e", digits - 1, fabs(number));
    int count = 0;
    for (const char *c = printed; *c != 'e'; c++) {
        if (*c >= '0' && *c <= '9') {
            found[count++] = *c;
        }
    }
    while (count > 1 && found[count - 1] == '0') {
        count--;
    }
    found[count] = '\0';
    return atoi(strchr(printed, 'e') + 1);
}

/* Plain from 1e-5 up to below 1e15, else with an exponent of two figures or more: the layout that text.h states. */
static void reference_text(double number, int digits, char *room)
{
    char d[32];
    const int power = reference_digits(number, digits, d), count = (int)strlen(d);
    room += sprintf(room, "%s", signbit(number) ? "-" : "");
    if (power < -5 || power >= 15) {
        sprintf(room, "%c%s%se%c%02d", d[0], count > 1 ? "." : "", d + 1, power < 0 ? '-' : '+', abs(power));
    } else if (power < 0) {
        sprintf(room, "0.%.*s%s", -power - 1, "0000000000", d);
    } else if (count <= power + 1) {
        sprintf(room, "%s%.*s", d, power + 1 - count, "00000000000000000");
    } else {
        sprintf(room, "%.*s.%s", power + 1, d, d + power + 1);
    }
}

static void check_number(double number, int digits)
{
    char room[64], expected[64];
    reference_text(number, digits, expected);
    assert_string_equal(number_text(number, digits, room, sizeof room), expected);
}

static void test_numbers_that_are_easy_to_get_wrong(void **state)
{
    (void)state;
    static const double numbers[] = {1.0,
                                     10.0,
                                     0.1,
                                     1.0 / 3.0,
                                     2.0 / 3.0,
                                     0.5,
                                     0.125,
                                     2.5,
                                     9.5,
                                     99.5,
                                     0.995,
                                     9.995,
                                     999999.5,
                                     9.9999999,
                                     1e-5,
                                     9.99999e-6,
                                     1e15,
                                     999999999999999.0,
                                     1e22,
                                     1e23,
                                     5e-324,
                                     0x1p-1022,
                                     0x1p-1074,
                                     0x1p1023,
                                     0x1p-1021,
                                     0x1p53,
                                     9007199254740993.0,
                                     1.00805,
                                     1.005,
                                     123456.789,
                                     4503599627370497.5,
                                     2251799813685248.25,
                                     1.7976931348623157e308,
                                     2.2250738585072011e-308,
                                     1e-7,
                                     -0.00123,
                                     -6.02e23,
                                     8.5,
                                     7.5,
                                     6.5,
                                     1000000.0};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        for (int digits = 1; digits <= 17; digits++) {
            check_number(numbers[i], digits);
        }
    }
}

static void test_numbers_against_the_c_library(void **state)
{
    (void)state;
    uint64_t seed = 20250101;
    for (int i = 0; i < 1500; i++) {
        const double number = flc_draw_any(&seed);
        if (isfinite(number)) {
            check_number(number, 1 + (int)flc_draw_below(&seed, 17));
        }
    }
    for (int i = 0; i < 20000; i++) {
        const double size = pow(10.0, flc_draw_between(&seed, -6.0, 16.0));
        const int digits = 1 + (int)flc_draw_below(&seed, 17);
        check_number(size, digits);
        check_number(-rint(size) / 8.0 - 0.125, digits); /* many exact ties */
    }
}

static void test_seventeen_digits_read_back(void **state)
{
    (void)state;
    uint64_t seed = 17;
    char room[64];
    for (int i = 0; i < 1500; i++) {
        const double number = flc_draw_any(&seed);
        if (isfinite(number)) {
            flc_check_same_bits(strtod(number_text(number, 17, room, sizeof room), NULL), number);
        }
    }
}

static void test_special_numbers(void **state)
{
    (void)state;
    char room[64];
    assert_string_equal(number_text(NAN, 17, room, sizeof room), "nan");
    assert_string_equal(number_text(-NAN, 17, room, sizeof room), "nan");
    assert_string_equal(number_text(INFINITY, 17, room, sizeof room), "inf");
    assert_string_equal(number_text(-INFINITY, 17, room, sizeof room), "-inf");
    assert_string_equal(number_text(0.0, 17, room, sizeof room), "0");
    assert_string_equal(number_text(-0.0, 17, room, sizeof room), "-0");
    /* digits outside 1 to 17 are taken as the nearer end */
    assert_string_equal(number_text(1.0 / 3.0, 0, room, sizeof room), "0.3");
    assert_string_equal(number_text(1.0 / 3.0, 40, room, sizeof room), "0.33333333333333331");
}

static void test_integers(void **state)
{
    (void)state;
    static const int64_t numbers[] = {0, 7, -7, 10, 1000000007, INT64_MAX, INT64_MIN, -1, 99, -100};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        char room[32], expected[32];
        flc_text text = flc_text_start(room, sizeof room);
        flc_text_add_integer(&text, numbers[i]);
        snprintf(expected, sizeof expected, "%lld", (long long)numbers[i]);
        assert_string_equal(room, expected);
    }
}

static void write_sample(flc_text *text)
{
    flc_text_add(text, "Ro");
    flc_text_pad(text, 6);
    flc_text_add_number(text, 142028.25, 17);
    flc_text_pad(text, 3); /* already past: one space */
    flc_text_add(text, "1\nSt");
    flc_text_pad(text, 6);
    flc_text_add_integer(text, -3);
    flc_text_add(text, "\n");
}

static const char sample[] = "Ro    142028.25 1\nSt    -3\n";

static void test_columns_count_from_the_start_of_the_line(void **state)
{
    (void)state;
    char room[64];
    flc_text text = flc_text_start(room, sizeof room);
    write_sample(&text);
    assert_string_equal(room, sample);
}

static void test_size_query_equals_what_is_written(void **state)
{
    (void)state;
    flc_text query = flc_text_start(NULL, 0);
    write_sample(&query);
    assert_int_equal(query.needed, strlen(sample));
    flc_text sized_null = flc_text_start(NULL, 100); /* no buffer: no room, whatever the size says */
    write_sample(&sized_null);
    assert_int_equal(sized_null.needed, strlen(sample));
}

static void test_any_shorter_room_is_cut_and_terminated(void **state)
{
    (void)state;
    for (size_t size = 0; size <= sizeof sample + 1; size++) {
        char room[sizeof sample + 8];
        memset(room, '#', sizeof room);
        flc_text text = flc_text_start(room, size);
        write_sample(&text);
        assert_int_equal(text.needed, strlen(sample));
        const size_t kept = size == 0 ? 0 : size - 1 < strlen(sample) ? size - 1 : strlen(sample);
        assert_memory_equal(room, sample, kept);
        if (size > 0) {
            assert_int_equal(room[kept], '\0');
        }
        for (size_t i = size; i < sizeof room; i++) {
            assert_int_equal(room[i], '#');
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_numbers_that_are_easy_to_get_wrong),
        cmocka_unit_test(test_numbers_against_the_c_library),
        cmocka_unit_test(test_seventeen_digits_read_back),
        cmocka_unit_test(test_special_numbers),
        cmocka_unit_test(test_integers),
        cmocka_unit_test(test_columns_count_from_the_start_of_the_line),
        cmocka_unit_test(test_size_query_equals_what_is_written),
        cmocka_unit_test(test_any_shorter_room_is_cut_and_terminated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
