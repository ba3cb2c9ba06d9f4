/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The elementary functions of the evaluation path: exp, log, log10, exp10, pow, cbrt, and a few small helpers.
 *
 * Why not the C library's: its bits depend on the processor (with or without fused multiply-add) and on its
 * version. Here every result is fixed by the source text: only + - * / and sqrt of binary64, in the order written,
 * and integer work on the 64 bits. It needs round to nearest, no contraction (-ffp-contract=off) and
 * -fno-math-errno (flc_sqrt then is one instruction and no call); the guard round each public call sees to the
 * rounding mode.
 *
 * Every path is free of branches (the ?: below are selects) and of tables, so a loop over arrays vectorises, with
 * the same bits as one call at a time.
 *
 * Rules that hold for all functions:
 *   NaN in gives 0x7FF8000000000000, and so does every invalid argument.
 *   A subnormal argument counts as zero (of its sign), and a result below 2^-1022 is 0: the bits do not depend on
 *   flush-to-zero or denormals-are-zero.
 *   Outside the domain a status flag of the processor may be raised, within it only INEXACT (and UNDERFLOW).
 *
 * Largest errors seen against MPFR, 10 million points a region (tests/accuracy/fpmath_mpfr.c and its table), in ulp:
 * exp 0.73, exp10 0.74, log 0.84, log10 0.72, pow 0.79, cbrt 0.502, sqrt 0.5. The polynomial coefficients come from
 * tests/accuracy/fpmath_coefficients.py (minimax, mpmath).
 */
#ifndef FLC_BASE_FPMATH_H
#define FLC_BASE_FPMATH_H

#include <float.h>
#include <stdint.h>
#include <string.h>

#if defined(__FAST_MATH__) || (defined(__FINITE_MATH_ONLY__) && __FINITE_MATH_ONLY__)
#error "fpmath.h needs IEEE arithmetic: compile without -ffast-math"
#endif
#if FLT_EVAL_METHOD != 0 && FLT_EVAL_METHOD != 1
#error "fpmath.h needs double arithmetic without extra precision (FLT_EVAL_METHOD 0 or 1)"
#endif
#if DBL_MANT_DIG != 53 || DBL_MAX_EXP != 1024
#error "fpmath.h needs IEEE binary64"
#endif
#ifdef __clang__
#pragma STDC FP_CONTRACT OFF /* gcc has only the option -ffp-contract=off */
#endif

/* Adding and taking away 1.5 * 2^52 rounds to a whole number (|x| < 2^51, round to nearest); while it is added, the
 * low bits of the sum are that number in two's complement. */
#define FLC_ROUND_SHIFT 0x1.8p52
#define FLC_LN2_HI 0x1.62e42fefa3800p-1 /* 42 bits, so that k * FLC_LN2_HI is exact for |k| < 2^11 */
#define FLC_LN2_LO 0x1.ef35793c76730p-45
#define FLC_LOG2_E 0x1.71547652b82fep+0
#define FLC_LOG10_2_HI 0x1.34413509f7800p-2 /* 42 bits */
#define FLC_LOG10_2_LO 0x1.fef311f12b358p-46
#define FLC_LOG2_10 0x1.a934f0979a371p+1
#define FLC_LN10_HI 0x1.26bb1b8000000p+1 /* 26 bits: the product with another 26 bits is exact */
#define FLC_LN10_LO 0x1.daaa8ac16ea57p-26
#define FLC_LOG10_E_HI 0x1.bcb7b10000000p-2 /* 26 bits */
#define FLC_LOG10_E_LO 0x1.49b9438ca9aaep-28
#define FLC_MANTISSA UINT64_C(0x000fffffffffffff)
#define FLC_SIGN UINT64_C(0x8000000000000000)
#define FLC_QUIET_NAN flc_from_bits(UINT64_C(0x7ff8000000000000)) /* the one NaN that leaves the library */
#define FLC_INFINITE flc_from_bits(UINT64_C(0x7ff0000000000000))

/** A number as the sum of two: hi carries the leading bits, lo what they leave out. */
typedef struct {
    double hi;
    double lo;
} flc_pair;

static inline uint64_t flc_to_bits(double x)
{
    uint64_t bits;
    memcpy(&bits, &x, sizeof bits);
    return bits;
}

static inline double flc_from_bits(uint64_t bits)
{
    double x;
    memcpy(&x, &bits, sizeof x);
    return x;
}

/* Work on the 64 bits of a number. One record at a time its result is waited for, and to have the bits in another kind of
 * register and back takes longer than the work itself: there SSE2 is told to leave them where they are. Sources that
 * treat many records define FLC_MANY and keep to plain C, which becomes vectors. */
#if defined(__SSE2__) && !defined(FLC_MANY)
#include <emmintrin.h>

static inline __m128i flc_bits_in_place(double x)
{
    return _mm_castpd_si128(_mm_set_sd(x));
}
static inline double flc_and_bits(double x, uint64_t mask)
{
    return _mm_cvtsd_f64(_mm_castsi128_pd(_mm_and_si128(flc_bits_in_place(x), _mm_cvtsi64_si128((int64_t)mask))));
}
static inline double flc_add_bits(double x, uint64_t bits)
{
    return _mm_cvtsd_f64(_mm_castsi128_pd(_mm_add_epi64(flc_bits_in_place(x), _mm_cvtsi64_si128((int64_t)bits))));
}
/** x 2^k, shifted being k + FLC_ROUND_SHIFT: k goes into the exponent field. */
static inline double flc_scale(double x, double shifted)
{
    __m128i k = _mm_slli_epi64(flc_bits_in_place(shifted), 52);
    return _mm_cvtsd_f64(_mm_castsi128_pd(_mm_add_epi64(flc_bits_in_place(x), k)));
}
#else
static inline double flc_and_bits(double x, uint64_t mask)
{
    return flc_from_bits(flc_to_bits(x) & mask);
}
static inline double flc_add_bits(double x, uint64_t bits)
{
    return flc_from_bits(flc_to_bits(x) + bits);
}
static inline double flc_scale(double x, double shifted)
{
    return flc_from_bits(flc_to_bits(x) + (flc_to_bits(shifted) << 52));
}
#endif

/** |x|; of a NaN the sign bit is cleared and the payload kept. */
static inline double flc_fabs(double x)
{
    return flc_from_bits(flc_to_bits(x) & ~FLC_SIGN);
}

/** x with the sign bit of sign. */
static inline double flc_copysign(double x, double sign)
{
    return flc_from_bits((flc_to_bits(x) & ~FLC_SIGN) | (flc_to_bits(sign) & FLC_SIGN));
}

/** x without the low 27 bits of its mantissa: 26 bits are left, and the product of two such numbers is exact. */
static inline double flc_high26(double x)
{
    return flc_and_bits(x, ~UINT64_C(0x7ffffff));
}

/** x as a double for a whole number 0 <= x < 2^52, without an integer conversion (which SSE2 has not in vectors). */
static inline double flc_from_whole(uint64_t x)
{
    return flc_from_bits(x | UINT64_C(0x4330000000000000)) - 0x1p52;
}

/** Whole number nearest to zero from x: trunc(-0.3) = -0; infinities stay. Exact. */
static inline double flc_trunc(double x)
{
    double size = flc_fabs(x);
    double near = (size + 0x1p52) - 0x1p52; /* round to nearest, for size < 2^52 */
    double down = near > size ? near - 1.0 : near;
    double whole = size < 0x1p52 ? flc_copysign(down, x) : x;
    return x != x ? FLC_QUIET_NAN : whole;
}

/** Largest whole number not above x: floor(-0) = -0; infinities stay. Exact. */
static inline double flc_floor(double x)
{
    double size = flc_fabs(x);
    double near = flc_copysign((size + 0x1p52) - 0x1p52, x);
    double down = near - x >= DBL_MIN ? near - 1.0 : near;
    double whole = size < 0x1p52 ? down : x;
    return x != x ? FLC_QUIET_NAN : whole;
}

/** Square root, correctly rounded: sqrt(0) = sqrt(-0) = 0, sqrt(< 0) = NaN, sqrt(inf) = inf. */
static inline double flc_sqrt(double x)
{
    double inside = x >= DBL_MIN ? x : 0.0;
    double root = __builtin_sqrt(inside);
    return x > -DBL_MIN ? root : FLC_QUIET_NAN;
}

/**
 * exp(hi + lo) * 2^k for |hi + lo| <= 0.35, |lo| < 2^-16. shifted is k + FLC_ROUND_SHIFT.
 * exp(r) = 1 + r + r^2 q(r), where 1 + hi is taken as an exact sum of two, so that only q and the last addition
 * round. k goes into the exponent field: the caller sees to results outside [2^-1022, 2^1024).
 */
static inline double flc_exp_reduced(double hi, double lo, double shifted)
{
    double r = hi + lo;
    double r2 = r * r;
    double r4 = r2 * r2;
    double q01 = 0.5 + 0x1.5555555555501p-3 * r;
    double q23 = 0x1.5555555553203p-5 + 0x1.11111111289d8p-7 * r;
    double q45 = 0x1.6c16c17cc4848p-10 + 0x1.a01a011b948a5p-13 * r;
    double q67 = 0x1.a019ab28a9deap-16 + 0x1.71df56b0f3ef8p-19 * r;
    double q89 = 0x1.289f8fb8877fdp-22 + 0x1.ad1d886b3170dp-26 * r;
    double q = (q01 + r2 * q23) + r4 * ((q45 + r2 * q67) + r4 * q89);
    double sum = 1.0 + hi;
    double left = (1.0 - sum) + hi; /* exact */
    double y = sum + ((left + lo) + r2 * q);
    return flc_scale(y, shifted);
}

/* The functions that end in _inside leave the special cases out: for arguments that are known to be inside, with the
 * bits of the whole function. They cost a third less where there is no branch. */

/** e^x for |x| <= 0.34, where k is 0. */
static inline double flc_exp_small(double x)
{
    return flc_exp_reduced(x, 0.0, FLC_ROUND_SHIFT);
}

/** An exponential's argument, ready for flc_exp_reduced. The two halves of an exponential, as those of a logarithm
 * below, are functions of their own because loops over many records are the faster the shorter they are. */
typedef struct {
    double hi, lo, shifted;
} flc_reduced;

static inline flc_reduced flc_exp_reduction(double x)
{
    double shifted = x * FLC_LOG2_E + FLC_ROUND_SHIFT;
    double k = shifted - FLC_ROUND_SHIFT;
    flc_reduced reduced = {x - k * FLC_LN2_HI, -(k * FLC_LN2_LO), shifted};
    return reduced;
}

/** e^x for |x| <= 700. */
static inline double flc_exp_inside(double x)
{
    flc_reduced reduced = flc_exp_reduction(x);
    return flc_exp_reduced(reduced.hi, reduced.lo, reduced.shifted);
}

/**
 * e^x. exp(x) = inf above 709.782712893384 (ln 2^1024), 0 below -708.396418532264 (ln 2^-1022).
 */
static inline double flc_exp(double x)
{
    double y = flc_exp_inside(x);
    y = x > 0x1.62e42fefa39efp+9 ? FLC_INFINITE : y;
    y = x < -0x1.6232bdd7abcd2p+9 ? 0.0 : y;
    return x != x ? FLC_QUIET_NAN : y;
}

/** 10^x = 2^k e^(r ln 10) with r = x - k log10(2); r ln 10 is kept as a sum of two. */
static inline flc_reduced flc_exp10_reduction(double x)
{
    double shifted = x * FLC_LOG2_10 + FLC_ROUND_SHIFT;
    double k = shifted - FLC_ROUND_SHIFT;
    double r = x - k * FLC_LOG10_2_HI; /* exact */
    double high = flc_high26(r);
    double low = (r - high) - k * FLC_LOG10_2_LO;
    double lo = low * (FLC_LN10_HI + FLC_LN10_LO) + high * FLC_LN10_LO;
    flc_reduced reduced = {high * FLC_LN10_HI, lo, shifted};
    return reduced;
}

/** 10^x for |x| <= 300. */
static inline double flc_exp10_inside(double x)
{
    flc_reduced reduced = flc_exp10_reduction(x);
    return flc_exp_reduced(reduced.hi, reduced.lo, reduced.shifted);
}

/** 10^x. Exact for whole x from 0 to 22; inf above 308.254715559917, 0 below -307.652655568589. */
static inline double flc_exp10(double x)
{
    double y = flc_exp10_inside(x);
    y = x > 0x1.34413509f79fep+8 ? FLC_INFINITE : y;
    y = x < -0x1.33a7146f72a41p+8 ? 0.0 : y;
    return x != x ? FLC_QUIET_NAN : y;
}

/* A positive normal x is 2^k m with sqrt(1/2) <= m < sqrt(2). Adding the distance from sqrt(1/2) to 1 moves the step
 * of the exponent field from m = 1 to m = sqrt(1/2), so that near x = 1 always k = 0. */
#define FLC_SQRT_HALF_BITS UINT64_C(0x3fe6a09e667f3bcd)

static inline uint64_t flc_log_shift(double x)
{
    return flc_to_bits(x) + (UINT64_C(0x3ff0000000000000) - FLC_SQRT_HALF_BITS);
}

/** The k of x = 2^k m. */
static inline double flc_log_exponent(double x)
{
    return flc_from_whole(flc_log_shift(x) >> 52) - 1023.0;
}

/** The m of x = 2^k m. */
static inline double flc_log_mantissa(double x)
{
    double moved = flc_add_bits(x, UINT64_C(0x3ff0000000000000) - FLC_SQRT_HALF_BITS);
    return flc_add_bits(flc_and_bits(moved, FLC_MANTISSA), FLC_SQRT_HALF_BITS);
}

/** What a logarithm of x = 2^k (1 + f) needs, s = f / (2 + f). */
typedef struct {
    double k, f, s;
} flc_log_parts;

static inline flc_log_parts flc_log_take_apart(double x)
{
    double f = flc_log_mantissa(x) - 1.0; /* exact */
    flc_log_parts parts = {flc_log_exponent(x), f, f / (2.0 + f)};
    return parts;
}

/**
 * f - ln(1 + f) = hi - lo, for sqrt(1/2) <= 1 + f < sqrt(2); lo < hi / 4. ln(1 + f) = 2 atanh(s) = 2 s + s R(s^2), and
 * 2 s = f - f^2/2 + s f^2/2, in which s has little weight.
 */
static inline flc_pair flc_log_remainder(double f, double s)
{
    double half_square = 0.5 * f * f;
    double z = s * s;
    double z2 = z * z;
    double r01 = 0x1.5555555555592p-1 + 0x1.999999997ff06p-2 * z;
    double r23 = 0x1.24924941e30dap-2 + 0x1.c71c521284046p-3 * z;
    double r45 = 0x1.74663d5d4b84ep-3 + 0x1.39a1dc0253b27p-3 * z;
    double r = z * ((r01 + z2 * r23) + (z2 * z2) * (r45 + z2 * 0x1.2f044864c263cp-3));
    flc_pair remainder = {half_square, s * (half_square + r)};
    return remainder;
}

/** The result y of a logarithm of x, with the special cases: log(0) = -inf, log(< 0) = NaN, log(inf) = inf. */
static inline double flc_log_special(double x, double y)
{
    y = x > DBL_MAX ? FLC_INFINITE : y;
    y = x < DBL_MIN ? -FLC_INFINITE : y;
    y = x <= -DBL_MIN ? FLC_QUIET_NAN : y;
    return x != x ? FLC_QUIET_NAN : y;
}

static inline double flc_log_of_parts(double k, double f, double s)
{
    flc_pair w = flc_log_remainder(f, s);
    double whole = k * FLC_LN2_HI;
    double sum = whole + f;
    double left = (whole - sum) + f; /* exact: k = 0 or |whole| > |f| */
    return sum + (((left + k * FLC_LN2_LO) + w.lo) - w.hi);
}

/** Natural logarithm of a positive normal number. */
static inline double flc_log_inside(double x)
{
    flc_log_parts parts = flc_log_take_apart(x);
    return flc_log_of_parts(parts.k, parts.f, parts.s);
}

/** Natural logarithm. log(1) = 0. */
static inline double flc_log(double x)
{
    return flc_log_special(x, flc_log_inside(x));
}

/** ln m = high + low, high with 26 bits, so that high * FLC_LOG10_E_HI is exact. */
static inline double flc_log10_of_parts(double k, double f, double s)
{
    flc_pair w = flc_log_remainder(f, s);
    double high = flc_high26(f - w.hi);
    double low = ((f - high) - w.hi) + w.lo;
    double main_part = high * FLC_LOG10_E_HI;
    double rest = low * (FLC_LOG10_E_HI + FLC_LOG10_E_LO) + high * FLC_LOG10_E_LO;
    double whole = k * FLC_LOG10_2_HI;
    double sum = whole + main_part;
    double left = (whole - sum) + main_part;
    return sum + ((left + k * FLC_LOG10_2_LO) + rest);
}

/** Decimal logarithm of a positive normal number. */
static inline double flc_log10_inside(double x)
{
    flc_log_parts parts = flc_log_take_apart(x);
    return flc_log10_of_parts(parts.k, parts.f, parts.s);
}

/** Decimal logarithm. log10(10^k) = k exactly for k from 0 to 22. */
static inline double flc_log10(double x)
{
    return flc_log_special(x, flc_log10_inside(x));
}

/**
 * ln m as a sum of two, |error| < 2^-63 |ln m| (seen: 2^-64.1), for sqrt(1/2) <= m < sqrt(2).
 * With S = (m - 1) / ((m + 1) / 2), ln m = S + S^3 (1/12 + w), w = S^2/80 + S^4/448 + ... (2 atanh(S / 2)).
 * Each product of leading parts has at most 26 + 26 bits and is exact.
 */
static inline flc_pair flc_log_pair(double m)
{
    double f = m - 1.0; /* exact */
    double e = 0.5 * m + 0.5;
    double e_left = 0.5 * m - (e - 0.5); /* exact */
    double e_hi = flc_high26(e);
    double e_lo = (e - e_hi) + e_left;
    double inverse = 1.0 / e;
    double s = f * inverse;
    double s_hi = flc_high26(s);
    double s_lo = ((f - s_hi * e_hi) - s_hi * e_lo) * inverse;
    double z_main = s_hi * s_hi; /* S^2 = z_main + z_left */
    double z_left = s_lo * (s_hi + s);
    double z = z_main + z_left;
    double z2 = z * z;
    double p01 = 0x1.9999999999996p-7 + 0x1.2492492492f51p-9 * z;
    double p23 = 0x1.c71c71c5968bep-12 + 0x1.745d18295a49ap-14 * z;
    double p45 = 0x1.3b1364c7c91f9p-16 + 0x1.11206f7881dfcp-18 * z;
    double p67 = 0x1.de3d627ec5520p-21 + 0x1.eac643de5ef5cp-23 * z;
    double w = z * ((p01 + z2 * p23) + (z2 * z2) * (p45 + z2 * p67));
    double c = 0x1.5555555555555p-4 + w; /* 1/12 + w = c_hi + c_lo */
    double c_hi = flc_high26(c);
    double c_lo = ((0x1.5555555555555p-4 - c_hi) + w) + 0x1.5555555555555p-58;
    double z_hi = flc_high26(z);
    double z_lo = (z_main - z_hi) + z_left;
    double u_main = z_hi * c_hi; /* S^2 (1/12 + w) = u_hi + u_lo */
    double u_left = z_hi * c_lo + z_lo * c;
    double u_hi = flc_high26(u_main + u_left);
    double u_lo = (u_main - u_hi) + u_left;
    double v = s_hi * u_hi; /* S^3 (1/12 + w), leading part */
    flc_pair log;
    log.hi = s_hi + v;
    log.lo = ((s_hi - log.hi) + v) + (s_lo + (s_hi * u_lo + s_lo * (u_hi + u_lo)));
    return log;
}

/** y ln x as a sum of two, for positive normal x and |y| <= 2^66. hi has at most 52 bits. */
static inline flc_pair flc_pow_exponent(double x, double y)
{
    double k = flc_log_exponent(x);
    flc_pair log_m = flc_log_pair(flc_log_mantissa(x));
    double whole = k * FLC_LN2_HI;
    double main_part = whole + log_m.hi;
    double rest = ((whole - main_part) + log_m.hi) + (log_m.lo + k * FLC_LN2_LO);
    double log_hi = flc_high26(main_part + rest);
    double log_lo = (main_part - log_hi) + rest;
    double y_hi = flc_high26(y);
    flc_pair product;
    product.hi = y_hi * log_hi;
    product.lo = y * log_lo + (y - y_hi) * log_hi;
    return product;
}

/**
 * The result r of pow(x, y) with the special cases, in this order: NaN in = NaN; pow(x, 0) = 1; pow(0, y > 0) = 0,
 * pow(0, y < 0) = NaN; pow(x < 0, y) = NaN; pow(inf, y > 0) = inf, pow(inf, y < 0) = 0. A zero may have either sign.
 */
static inline double flc_pow_special(double x, double y, double r)
{
    double at_zero = x > -DBL_MIN && y > 0.0 ? 0.0 : FLC_QUIET_NAN;
    double at_infinity = y > 0.0 ? FLC_INFINITE : 0.0;
    r = x > DBL_MAX ? at_infinity : r;
    r = x < DBL_MIN ? at_zero : r;
    r = flc_fabs(y) < DBL_MIN ? 1.0 : r;
    return x != x || y != y ? FLC_QUIET_NAN : r;
}

/**
 * x^y for x > 0; see flc_pow_special for the rest. inf from 2^1024, 0 below 2^-1022.
 */
static inline double flc_pow(double x, double y)
{
    /* beyond 2^66 every x but 1 overflows or underflows, and y may be infinite */
    double limited = y > 0x1p66 ? 0x1p66 : (y < -0x1p66 ? -0x1p66 : y);
    flc_pair v = flc_pow_exponent(x, limited);
    double shifted = (v.hi + v.lo) * FLC_LOG2_E + FLC_ROUND_SHIFT;
    double k = shifted - FLC_ROUND_SHIFT;
    double r = flc_exp_reduced(v.hi - k * FLC_LN2_HI, v.lo - k * FLC_LN2_LO, shifted);
    double above = (v.hi - 0x1.62e42fefa39efp+9) + (v.lo - 0x1.abc9e3b39803fp-46); /* v - ln 2^1024 */
    double below = (v.hi + 0x1.6232bdd7abcd2p+9) + (v.lo + 0x1.eef3fec1be37fp-46); /* v - ln 2^-1022 */
    r = above >= 0.0 ? FLC_INFINITE : r;
    r = below < -0x1p-55 ? 0.0 : r; /* nearer than that, v rounds to ln 2^-1022 and r is 2^-1022 */
    return flc_pow_special(x, y, r);
}

/**
 * Cube root; cbrt(-x) = -cbrt(x), exact for cubes, cbrt(0) and cbrt(inf) keep their sign.
 * |x| = 8^q z with 1 <= z < 8. t is z^(1/3) to 18 bits, so that t^3 and z - t^3 are exact, and
 * z^(1/3) = t (1 + d)^(1/3) with d = (z - t^3) / t^3 < 2^-14.
 */
static inline double flc_cbrt(double x)
{
    uint64_t bits = flc_to_bits(x) & ~FLC_SIGN;
    uint64_t field = bits >> 52;
    uint64_t third = (field * 43691u) >> 17; /* field / 3 for field < 2^16; the bias 1023 is 3 * 341 */
    uint64_t left = field - 3u * third;      /* 0, 1, 2 */
    double z = flc_from_bits((bits & FLC_MANTISSA) | ((1023u + left) << 52));
    double m = flc_from_bits((bits & FLC_MANTISSA) | (UINT64_C(1023) << 52));
    double j = flc_from_whole(left);
    double root2 = 1.0 + j * (0.226141573805646 + 0.033779476089227 * j); /* 2^(j/3) for j = 0, 1, 2 */
    double m2 = m * m;
    double guess = ((0x1.0392bf06efe32p-1 + 0x1.6fb2056ff84c9p-1 * m) +
                    m2 * ((-0x1.33d3cfab2f75ap-2 + 0x1.60a1d4c980c6ap-4 * m) + m2 * -0x1.5b7895b37f2ebp-7)) *
                   root2;
    double t = (guess + 0x1.8p36) - 0x1.8p36; /* multiples of 2^-16 */
    double t3 = t * t * t;
    double d = (z - t3) / t3;
    double y = t + t * (d * (1.0 / 3.0 + d * (-1.0 / 9.0 + d * (5.0 / 81.0))));
    y = flc_from_bits(flc_to_bits(y) + ((third - 341u) << 52));
    y = flc_fabs(x) > DBL_MAX ? FLC_INFINITE : y;
    y = flc_fabs(x) < DBL_MIN ? 0.0 : y;
    return x != x ? FLC_QUIET_NAN : flc_copysign(y, x);
}

#endif
