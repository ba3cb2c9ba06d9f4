/* SPDX-License-Identifier: Apache-2.0 */
/* A number carried as the unevaluated sum of two doubles, about 106 bits, for arithmetic that must round only once.
 * Sums and products without error: T. J. Dekker, "A floating-point technique for extending the available precision",
 * Numerische Mathematik 18 (1971) 224-242; D. E. Knuth, The Art of Computer Programming vol. 2, 4.2.2. Only + - * / in
 * a fixed order, round to nearest, no fused multiply-add. Factors must stay below 2^996 in size (the split). */
#ifndef FLC_DOUBLE_DOUBLE_H
#define FLC_DOUBLE_DOUBLE_H

typedef struct flc_dd {
    double hi; /* the sum rounded to nearest */
    double lo; /* what hi leaves out */
} flc_dd;

static inline flc_dd flc_dd_of(double number)
{
    return (flc_dd){number, 0.0};
}

/** a + b without error. */
static inline flc_dd flc_dd_sum(double a, double b)
{
    double hi = a + b;
    double b_seen = hi - a;
    double a_seen = hi - b_seen;
    return (flc_dd){hi, (a - a_seen) + (b - b_seen)};
}

/** a + b without error where |a| >= |b|, or a = 0. */
static inline flc_dd flc_dd_sum_ordered(double a, double b)
{
    double hi = a + b;
    return (flc_dd){hi, b - (hi - a)};
}

/** The leading 26 bits of a, rounded, so that what is left has 26 bits too. */
static inline double flc_dd_head(double a)
{
    double scaled = 134217729.0 * a; /* 2^27 + 1 */
    return scaled - (scaled - a);
}

/** a b without error. */
static inline flc_dd flc_dd_product(double a, double b)
{
    double a_head = flc_dd_head(a), a_tail = a - a_head;
    double b_head = flc_dd_head(b), b_tail = b - b_head;
    double hi = a * b;
    double lo = ((a_head * b_head - hi) + a_head * b_tail + a_tail * b_head) + a_tail * b_tail;
    return (flc_dd){hi, lo};
}

static inline flc_dd flc_dd_add(flc_dd a, flc_dd b)
{
    flc_dd hi = flc_dd_sum(a.hi, b.hi);
    flc_dd lo = flc_dd_sum(a.lo, b.lo);
    flc_dd sum = flc_dd_sum_ordered(hi.hi, hi.lo + lo.hi);
    return flc_dd_sum_ordered(sum.hi, sum.lo + lo.lo);
}

static inline flc_dd flc_dd_multiply(flc_dd a, flc_dd b)
{
    flc_dd product = flc_dd_product(a.hi, b.hi);
    return flc_dd_sum_ordered(product.hi, product.lo + (a.hi * b.lo + a.lo * b.hi));
}

static inline flc_dd flc_dd_negative(flc_dd a)
{
    return (flc_dd){-a.hi, -a.lo};
}

/** a / b by long division with three digits of 53 bits. b must not be zero. */
static inline flc_dd flc_dd_divide(flc_dd a, flc_dd b)
{
    double first = a.hi / b.hi;
    flc_dd rest = flc_dd_add(a, flc_dd_negative(flc_dd_multiply(b, flc_dd_of(first))));
    double second = rest.hi / b.hi;
    rest = flc_dd_add(rest, flc_dd_negative(flc_dd_multiply(b, flc_dd_of(second))));
    double third = rest.hi / b.hi;
    return flc_dd_add(flc_dd_sum_ordered(first, second), flc_dd_of(third));
}

#endif
