/* SPDX-License-Identifier: Apache-2.0 */
/* Filling flc_error, and the two judgements every input meets: is it a number, is it inside its range. */
#ifndef FLC_ERROR_H
#define FLC_ERROR_H

#include "flowcomp/status.h"

/** The one NaN that ever leaves the library: 0x7FF8000000000000. */
static inline double flc_nan(void)
{
    union {
        uint64_t bits;
        double number;
    } quiet = {UINT64_C(0x7FF8000000000000)};
    return quiet.number;
}

static inline double flc_infinity(void)
{
    union {
        uint64_t bits;
        double number;
    } infinite = {UINT64_C(0x7FF0000000000000)};
    return infinite.number;
}

/** Is the number a NaN, or infinite: read off the bits, because under -fno-trapping-math and with traps on a
 *  floating-point comparison is no safe question to ask of a NaN. */
static inline uint64_t flc_bits_of(double number)
{
    union {
        double number;
        uint64_t bits;
    } both = {number};
    return both.bits;
}
static inline int flc_is_nan(double number)
{
    return (flc_bits_of(number) & UINT64_C(0x7FFFFFFFFFFFFFFF)) > UINT64_C(0x7FF0000000000000);
}
static inline int flc_is_finite(double number)
{
    return (flc_bits_of(number) & UINT64_C(0x7FF0000000000000)) != UINT64_C(0x7FF0000000000000);
}

/** Clear an error (NULL allowed). */
void flc_error_clear(flc_error *error);

/** Fill an error (NULL allowed) and return the status, so that a caller can write return flc_fail(...). The message is
 *  made from the parts: "t_degf = 350 is above the valid range: at most 302". hint may be NULL; it says what to change.
 */
flc_status flc_fail(flc_error *error, flc_status status, const char *argument, int64_t index, double value,
                    double limit, const char *hint);

/** Why a value is not inside [low, high]: not a number, infinite, below, above; with detail. */
flc_status flc_fail_range(flc_error *error, const char *argument, int64_t index, double value, double low, double high);

/** FLC_OK inside [low, high], else flc_fail_range. Inline, because a record is judged a dozen times. */
static inline flc_status flc_check_range(flc_error *error, const char *argument, int64_t index, double value,
                                         double low, double high)
{
    const int is_inside = flc_is_finite(value) && value >= low && value <= high;
    return is_inside ? FLC_OK : flc_fail_range(error, argument, index, value, low, high);
}

#endif
