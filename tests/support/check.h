/* SPDX-License-Identifier: Apache-2.0 */
/* Checks of doubles for cmocka programs (cmocka's own assert_float_equal casts to float). A failure prints where, the
 * value, the expected value, absolute and relative difference and the limit. A NaN anywhere is a failure.
 *
 *     flc_check_near(k, 1234.5, 1e-9);       absolute tolerance
 *     flc_check_relative(k, 1234.5, 2e-15);  tolerance relative to the expected value
 *     flc_check_same_bits(a, b);             every bit, so -0 is not 0
 *     flc_check_nan(result);                 the one NaN that leaves the library, 0x7FF8000000000000
 *
 * Include this first: it brings in what cmocka.h needs before it. */
#ifndef FLC_CHECK_H
#define FLC_CHECK_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#define flc_check_near(actual, expected, tolerance) \
    flc_check_near_at(actual, expected, tolerance, #actual, __FILE__, __LINE__)
#define flc_check_relative(actual, expected, tolerance) \
    flc_check_relative_at(actual, expected, tolerance, #actual, __FILE__, __LINE__)
#define flc_check_same_bits(actual, expected) flc_check_same_bits_at(actual, expected, #actual, __FILE__, __LINE__)
#define flc_check_nan(actual) flc_check_nan_at(actual, #actual, __FILE__, __LINE__)

static inline double flc_check_size_of(double number)
{
    return number < 0.0 ? -number : number;
}

static inline uint64_t flc_check_bits(double number)
{
    uint64_t bits;
    memcpy(&bits, &number, sizeof bits);
    return bits;
}

static inline void flc_check_report(double actual, double expected, double limit, const char *kind, const char *what,
                                    const char *file, int line)
{
    double absolute = flc_check_size_of(actual - expected);
    print_error("%s:%d: %s\n  value    %.17g\n  expected %.17g\n  absolute difference %.3g, relative %.3g, "
                "limit %.3g %s\n",
                file, line, what, actual, expected, absolute, absolute / flc_check_size_of(expected), limit, kind);
    _fail(file, line);
}

/* The comparisons are written so that a NaN on either side, or as tolerance, does not pass. */
static inline void flc_check_near_at(double actual, double expected, double tolerance, const char *what,
                                     const char *file, int line)
{
    if (!(flc_check_size_of(actual - expected) <= tolerance)) {
        flc_check_report(actual, expected, tolerance, "absolute", what, file, line);
    }
}

static inline void flc_check_relative_at(double actual, double expected, double tolerance, const char *what,
                                         const char *file, int line)
{
    if (!(flc_check_size_of(actual - expected) <= tolerance * flc_check_size_of(expected))) {
        flc_check_report(actual, expected, tolerance, "relative", what, file, line);
    }
}

static inline void flc_check_same_bits_at(double actual, double expected, const char *what, const char *file, int line)
{
    if (flc_check_bits(actual) != flc_check_bits(expected)) {
        print_error("%s:%d: %s: bits %016llx, expected %016llx\n", file, line, what,
                    (unsigned long long)flc_check_bits(actual), (unsigned long long)flc_check_bits(expected));
        flc_check_report(actual, expected, 0.0, "(same bits)", what, file, line);
    }
}

static inline void flc_check_nan_at(double actual, const char *what, const char *file, int line)
{
    if (flc_check_bits(actual) != UINT64_C(0x7FF8000000000000)) {
        print_error("%s:%d: %s: bits %016llx (%.17g), expected the quiet NaN 7ff8000000000000\n", file, line, what,
                    (unsigned long long)flc_check_bits(actual), actual);
        _fail(file, line);
    }
}

#endif
