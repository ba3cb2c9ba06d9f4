/* SPDX-License-Identifier: Apache-2.0 */
/*
 * The elementary functions. Expected values: checks/fpmath.csv (mpmath, 40 digits), IEEE 754 and the contract in
 * fpmath.h for the special cases, and identities. Large counts against MPFR are in accuracy/fpmath_mpfr.c.
 */
#include "check.h"
#include "fpmath.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#ifndef FLC_TEST_CHECKS_DIR
#define FLC_TEST_CHECKS_DIR "tests/checks"
#endif

#define INF FLC_INFINITE
#define TINY 0x1p-1074                    /* smallest subnormal */
#define SUBNORMAL 0x1.ffffffffffffep-1023 /* the largest */
#define LENGTH(array) (sizeof(array) / sizeof(array)[0])

typedef double function(double);

static const struct {
    const char *name;
    function *call;
} functions[] = {{"exp", flc_exp},   {"exp10", flc_exp10}, {"log", flc_log},     {"log10", flc_log10},
                 {"cbrt", flc_cbrt}, {"sqrt", flc_sqrt},   {"floor", flc_floor}, {"trunc", flc_trunc}};

static uint64_t state = 1;

static uint64_t next_bits(void) /* xorshift64 */
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return state;
}

static double uniform(double low, double high)
{
    return low + (high - low) * ((double)(next_bits() >> 11) * 0x1p-53);
}

/* The next double away from zero. */
static double outward(double x)
{
    return flc_from_bits(flc_to_bits(x) + 1);
}

static double inward(double x)
{
    return flc_from_bits(flc_to_bits(x) - 1);
}

/* 1 ulp of a normal x. */
static double ulp(double x)
{
    return outward(flc_fabs(x)) - flc_fabs(x);
}

static void nan_in_is_the_one_nan_out(void **unused)
{
    (void)unused;
    const uint64_t nans[] = {UINT64_C(0x7ff8000000000000), UINT64_C(0xfff8000000000000), UINT64_C(0x7ff8000000000123),
                             UINT64_C(0x7ff0000000000001), UINT64_C(0xffffffffffffffff)};
    for (size_t n = 0; n < LENGTH(nans); n++) {
        double x = flc_from_bits(nans[n]);
        for (size_t i = 0; i < LENGTH(functions); i++)
            flc_check_nan(functions[i].call(x));
        const double others[] = {0.0, 1.0, -1.0, 2.0, INF, -INF, x};
        for (size_t i = 0; i < LENGTH(others); i++) {
            flc_check_nan(flc_pow(x, others[i]));
            flc_check_nan(flc_pow(others[i], x));
        }
    }
}

static void every_nan_out_is_the_one_nan(void **unused)
{
    (void)unused;
    for (int n = 0; n < 200000; n++) {
        double x = flc_from_bits(next_bits()), y = flc_from_bits(next_bits());
        for (size_t i = 0; i <= LENGTH(functions); i++) {
            double result = i < LENGTH(functions) ? functions[i].call(x) : flc_pow(x, y);
            if (result != result)
                flc_check_nan(result);
        }
    }
}

static void exp_special(void **unused)
{
    (void)unused;
    flc_check_same_bits(flc_exp(0.0), 1.0);
    flc_check_same_bits(flc_exp(-0.0), 1.0);
    flc_check_same_bits(flc_exp(TINY), 1.0);
    flc_check_same_bits(flc_exp(-0x1p-54), 1.0); /* halfway to the next double below, and a little more */
    flc_check_same_bits(flc_exp(INF), INF);
    flc_check_same_bits(flc_exp(-INF), 0.0);
    flc_check_same_bits(flc_exp(1e300), INF);
    flc_check_same_bits(flc_exp(-1e300), 0.0);
    /* ln 2^1024 = 709.78271289338399678..., ln 2^-1022 = -708.39641853226410621... (mpmath): the doubles beside them */
    flc_check_relative(flc_exp(0x1.62e42fefa39efp+9), 0x1.fffffffffff2ap+1023, 4e-16);
    flc_check_same_bits(flc_exp(outward(0x1.62e42fefa39efp+9)), INF);
    assert_true(flc_exp(-0x1.6232bdd7abcd2p+9) >= DBL_MIN);
    flc_check_same_bits(flc_exp(outward(-0x1.6232bdd7abcd2p+9)), 0.0);
    flc_check_same_bits(flc_exp(-745.0), 0.0);
}

static void exp10_special(void **unused)
{
    (void)unused;
    flc_check_same_bits(flc_exp10(-0.0), 1.0);
    flc_check_same_bits(flc_exp10(TINY), 1.0);
    flc_check_same_bits(flc_exp10(INF), INF);
    flc_check_same_bits(flc_exp10(-INF), 0.0);
    flc_check_same_bits(flc_exp10(1e300), INF);
    flc_check_same_bits(flc_exp10(-1e300), 0.0);
    /* log10 2^1024 = 308.25471555991674..., log10 2^-1022 = -307.65265556858878... (mpmath) */
    assert_true(flc_exp10(0x1.34413509f79fep+8) <= DBL_MAX);
    flc_check_same_bits(flc_exp10(outward(0x1.34413509f79fep+8)), INF);
    assert_true(flc_exp10(-0x1.33a7146f72a41p+8) >= DBL_MIN);
    flc_check_same_bits(flc_exp10(outward(-0x1.33a7146f72a41p+8)), 0.0);
    flc_check_same_bits(flc_exp10(-323.0), 0.0);
}

static void log_special(void **unused)
{
    (void)unused;
    function *const logs[] = {flc_log, flc_log10};
    for (size_t i = 0; i < LENGTH(logs); i++) {
        flc_check_same_bits(logs[i](1.0), 0.0);
        flc_check_same_bits(logs[i](0.0), -INF);
        flc_check_same_bits(logs[i](-0.0), -INF);
        flc_check_same_bits(logs[i](TINY), -INF);
        flc_check_same_bits(logs[i](SUBNORMAL), -INF);
        flc_check_same_bits(logs[i](-SUBNORMAL), -INF);
        flc_check_nan(logs[i](-DBL_MIN));
        flc_check_nan(logs[i](-1.0));
        flc_check_nan(logs[i](-INF));
        flc_check_same_bits(logs[i](INF), INF);
        assert_true(logs[i](DBL_MAX) < 710.0 && logs[i](DBL_MIN) > -709.0);
    }
}

static void pow_special(void **unused)
{
    (void)unused;
    const double any[] = {0.0, -0.0, 1.0, -1.0, 2.0, -2.5, INF, -INF, TINY, DBL_MAX};
    for (size_t i = 0; i < LENGTH(any); i++) {
        flc_check_same_bits(flc_pow(any[i], 0.0), 1.0);
        flc_check_same_bits(flc_pow(any[i], -0.0), 1.0);
        flc_check_same_bits(flc_pow(any[i], SUBNORMAL), 1.0);
        flc_check_same_bits(flc_pow(1.0, any[i]), 1.0);
    }
    const double zeros[] = {0.0, -0.0, TINY, -TINY, SUBNORMAL, -SUBNORMAL};
    for (size_t i = 0; i < LENGTH(zeros); i++) {
        flc_check_same_bits(flc_pow(zeros[i], 1.5), 0.0);
        flc_check_same_bits(flc_pow(zeros[i], 3.0), 0.0);
        flc_check_same_bits(flc_pow(zeros[i], INF), 0.0);
        flc_check_nan(flc_pow(zeros[i], -1.0));
        flc_check_nan(flc_pow(zeros[i], -INF));
    }
    const double negative[] = {-DBL_MIN, -1.0, -3.0, -INF};
    for (size_t i = 0; i < LENGTH(negative); i++) {
        flc_check_nan(flc_pow(negative[i], 2.0));
        flc_check_nan(flc_pow(negative[i], -2.0));
        flc_check_nan(flc_pow(negative[i], 0.5));
    }
    flc_check_same_bits(flc_pow(INF, 0.5), INF);
    flc_check_same_bits(flc_pow(INF, -0.5), 0.0);
    flc_check_same_bits(flc_pow(outward(1.0), INF), INF);
    flc_check_same_bits(flc_pow(outward(1.0), -INF), 0.0);
    flc_check_same_bits(flc_pow(inward(1.0), INF), 0.0);
    flc_check_same_bits(flc_pow(inward(1.0), -DBL_MAX), INF);
    flc_check_same_bits(flc_pow(1.5, 1e300), INF);
    flc_check_same_bits(flc_pow(1.5, 1e-300), 1.0);
}

/* 2^y at the ends of the range, where the exact result is a power of two */
static void pow_range(void **unused)
{
    (void)unused;
    flc_check_same_bits(flc_pow(2.0, 1024.0), INF);
    assert_true(flc_pow(2.0, inward(1024.0)) <= DBL_MAX);
    flc_check_same_bits(flc_pow(2.0, -1022.0), DBL_MIN);
    flc_check_same_bits(flc_pow(2.0, outward(-1022.0)), 0.0);
    flc_check_same_bits(flc_pow(0.5, -1024.0), INF);
    flc_check_same_bits(flc_pow(DBL_MAX, 1.0), DBL_MAX);
    flc_check_same_bits(flc_pow(DBL_MIN, 1.0), DBL_MIN);
    flc_check_same_bits(flc_pow(DBL_MAX, outward(1.0)), INF);
}

static void cbrt_sqrt_special(void **unused)
{
    (void)unused;
    const double kept[] = {0.0, -0.0, INF, -INF, 1.0, -1.0};
    for (size_t i = 0; i < LENGTH(kept); i++)
        flc_check_same_bits(flc_cbrt(kept[i]), kept[i]);
    flc_check_same_bits(flc_cbrt(SUBNORMAL), 0.0);
    flc_check_same_bits(flc_cbrt(-TINY), -0.0);
    flc_check_same_bits(flc_sqrt(0.0), 0.0);
    flc_check_same_bits(flc_sqrt(-0.0), 0.0);
    flc_check_same_bits(flc_sqrt(SUBNORMAL), 0.0);
    flc_check_same_bits(flc_sqrt(-SUBNORMAL), 0.0);
    flc_check_same_bits(flc_sqrt(INF), INF);
    flc_check_same_bits(flc_sqrt(DBL_MIN), 0x1p-511);
    flc_check_nan(flc_sqrt(-DBL_MIN));
    flc_check_nan(flc_sqrt(-INF));
}

static void floor_and_trunc(void **unused)
{
    (void)unused;
    static const struct {
        double x, floor, trunc;
    } rows[] = {
        {0.0, 0.0, 0.0},
        {-0.0, -0.0, -0.0},
        {0.49999999999999994, 0.0, 0.0},
        {0.5, 0.0, 0.0},
        {-0.5, -1.0, -0.0},
        {1.5, 1.0, 1.0},
        {-1.5, -2.0, -1.0},
        {2.5, 2.0, 2.0},
        {-2.0, -2.0, -2.0},
        {0x1.fffffffffffffp+0, 1.0, 1.0},
        {-0x1.0000000000001p+0, -2.0, -1.0},
        {0x1.fffffffffffffp+51, 0x1.ffffffffffffep+51, 0x1.ffffffffffffep+51},
        {-0x1.fffffffffffffp+51, -0x1p+52, -0x1.ffffffffffffep+51},
        {0x1.fffffffffffffp+52, 0x1.fffffffffffffp+52, 0x1.fffffffffffffp+52},
        {-1e300, -1e300, -1e300},
        {TINY, 0.0, 0.0},
        {-TINY, -0.0, -0.0},
        {-DBL_MIN, -1.0, -0.0},
    };
    for (size_t i = 0; i < LENGTH(rows); i++) {
        flc_check_same_bits(flc_floor(rows[i].x), rows[i].floor);
        flc_check_same_bits(flc_trunc(rows[i].x), rows[i].trunc);
    }
    flc_check_same_bits(flc_floor(-INF), -INF);
    flc_check_same_bits(flc_trunc(INF), INF);
    for (int i = 0; i < 100000; i++) { /* the conversion of C truncates */
        double x = uniform(-1e6, 1e6);
        double whole = (double)(int64_t)x;
        flc_check_near(flc_trunc(x), whole, 0.0);
        flc_check_near(flc_floor(x), whole > x ? whole - 1.0 : whole, 0.0);
    }
}

static void exact_results(void **unused)
{
    (void)unused;
    double power = 1.0; /* 10^k is a double up to 22 */
    for (int k = 0; k <= 22; k++, power *= 10.0) {
        flc_check_same_bits(flc_log10(power), k);
        flc_check_same_bits(flc_exp10(k), power);
        flc_check_same_bits(flc_pow(10.0, k), power);
    }
    for (int n = -1022; n <= 1023; n++)
        flc_check_same_bits(flc_pow(2.0, n), flc_from_bits((uint64_t)(n + 1023) << 52));
    for (int n = 1; n < 200000; n += 7) {
        double whole = n;
        flc_check_same_bits(flc_cbrt(whole * whole * whole), whole);
        flc_check_same_bits(flc_cbrt(-(whole * whole * whole)), -whole);
        flc_check_same_bits(flc_sqrt(whole * whole), whole);
        flc_check_same_bits(flc_pow(whole, 2.0), whole * whole);
        flc_check_same_bits(flc_pow(whole, 3.0), whole * whole * whole);
        flc_check_same_bits(flc_pow(whole * whole, 0.5), whole);
    }
    for (int i = 0; i < 100000; i++) {
        double x = flc_from_bits((next_bits() % UINT64_C(0x7fe0000000000000)) + UINT64_C(0x0010000000000000));
        flc_check_same_bits(flc_pow(x, 1.0), x);
    }
}

/* Limits: 1.1 ulp for each function in the identity, of which 1 ulp is at most 2^-52 relative. */
static void identities(void **unused)
{
    (void)unused;
    const double u = 0x1p-52;
    for (int i = 0; i < 50000; i++) {
        double x = uniform(-700.0, 700.0);
        double e = flc_exp(x);
        flc_check_near(flc_log(e), x, 1.1 * u + 1.1 * ulp(x));
        flc_check_relative(e * flc_exp(-x), 1.0, 3.2 * u);
        double t = uniform(0.5, 2e7);
        double y = uniform(-10.0, 40.0);
        flc_check_relative(flc_pow(t, -1.0), 1.0 / t, 2.1 * u);
        flc_check_relative(flc_pow(t, y) * flc_pow(t, -y), 1.0, 3.2 * u);
        flc_check_relative(flc_pow(t, 0.5), flc_sqrt(t), 2.1 * u);
        flc_check_relative(flc_pow(10.0, y), flc_exp10(y), 2.2 * u);
        flc_check_relative(flc_log10(t) * 2.302585092994045684, flc_log(t), 4.0 * u);
        double c = flc_cbrt(t);
        flc_check_relative(c * c * c, t, 4.5 * u);
        flc_check_same_bits(flc_cbrt(-t), -c);
    }
}

/* Over 4000 neighbouring doubles round x the result is never more than 1 ulp below the highest before it. */
static void check_rising(function *f, double x)
{
    uint64_t bits = flc_to_bits(x) - 2000;
    double highest = f(flc_from_bits(x < 0 ? bits + 4000 : bits));
    for (uint64_t i = 1; i <= 4000; i++) {
        double y = f(flc_from_bits(x < 0 ? bits + 4000 - i : bits + i));
        assert_true(y >= highest - ulp(highest));
        highest = y > highest ? y : highest;
    }
}

static double pow_of_x(double x)
{
    return flc_pow(x, 3.7);
}

static double pow_of_y(double y)
{
    return flc_pow(1.7, y);
}

static void rising_at_reduction_points(void **unused)
{
    (void)unused;
    const double ln2 = 0.69314718055994530942, log10_2 = 0.30102999566398119521;
    for (int k = -1000; k <= 1000; k += k > -20 && k < 20 ? 1 : 49) {
        double half = k + 0.5;
        check_rising(flc_exp, half * ln2);
        check_rising(flc_exp10, half * log10_2);
        check_rising(pow_of_y, half * ln2 / 0.53062825106217039623 /* ln 1.7 */);
        double two = flc_from_bits((uint64_t)(k + 1023) << 52);
        double step = two * 0.70710678118654752440;
        check_rising(flc_log, step);
        check_rising(flc_log10, step);
        if (k != 0) { /* at 1 the logarithm has no ulp */
            check_rising(flc_log, two);
            check_rising(flc_log10, two);
        }
        check_rising(flc_cbrt, two);
        if (k > -250 && k < 250) {
            check_rising(pow_of_x, step);
            check_rising(pow_of_x, two);
        }
    }
}

/* A loop, which the compiler may turn into vectors, gives the bits of single calls. */
static void loop_and_call_agree(void **unused)
{
    (void)unused;
    enum { COUNT = 1003 };
    static double x[COUNT], y[COUNT], log_n[COUNT], exp_n[COUNT], pow_n[COUNT], cbrt_n[COUNT];
    for (int i = 0; i < COUNT; i++) {
        x[i] = i % 17 == 0 ? flc_from_bits(next_bits()) : uniform(-1.0, 800.0);
        y[i] = uniform(-20.0, 20.0);
    }
    for (int i = 0; i < COUNT; i++)
        log_n[i] = flc_log(x[i]);
    for (int i = 0; i < COUNT; i++)
        exp_n[i] = flc_exp(x[i]);
    for (int i = 0; i < COUNT; i++)
        pow_n[i] = flc_pow(x[i], y[i]);
    for (int i = 0; i < COUNT; i++)
        cbrt_n[i] = flc_cbrt(x[i]);
    for (int i = 0; i < COUNT; i++) {
        volatile double one_x = x[i], one_y = y[i];
        flc_check_same_bits(log_n[i], flc_log(one_x));
        flc_check_same_bits(exp_n[i], flc_exp(one_x));
        flc_check_same_bits(pow_n[i], flc_pow(one_x, one_y));
        flc_check_same_bits(cbrt_n[i], flc_cbrt(one_x));
    }
}

typedef struct {
    char name[16];
    double x, y, nearest, rest, limit_ulp;
} check_row;

/* function,x,y,value_40_digits,nearest,rest,limit_ulp; false for comments and the header */
static bool parse_row(char *line, check_row *row)
{
    char *fields[7];
    size_t count = 0;
    for (char *field = line; field != NULL && count < LENGTH(fields); count++) {
        fields[count] = field;
        field = strchr(field, ',');
        if (field != NULL)
            *field++ = '\0';
    }
    if (line[0] == '#' || count != LENGTH(fields) || strcmp(fields[0], "function") == 0)
        return false;
    snprintf(row->name, sizeof row->name, "%.15s", fields[0]);
    row->x = strtod(fields[1], NULL);
    row->y = strtod(fields[2], NULL);
    row->nearest = strtod(fields[4], NULL);
    row->rest = strtod(fields[5], NULL);
    row->limit_ulp = strtod(fields[6], NULL);
    return true;
}

static double call_row(const check_row *row)
{
    if (strcmp(row->name, "pow") == 0)
        return flc_pow(row->x, row->y);
    for (size_t i = 0; i < LENGTH(functions); i++)
        if (strcmp(row->name, functions[i].name) == 0)
            return functions[i].call(row->x);
    fail_msg("no function %s", row->name);
    return 0.0;
}

static bool row_holds(const check_row *row, double ours)
{
    return flc_fabs((ours - row->nearest) - row->rest) <=
           row->limit_ulp * ulp(row->nearest == 0.0 ? 1.0 : row->nearest);
}

static void rows_computed_with_mpmath(void **unused)
{
    (void)unused;
    FILE *file = fopen(FLC_TEST_CHECKS_DIR "/fpmath.csv", "r");
    assert_non_null(file);
    char line[256];
    check_row row;
    int count = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        if (!parse_row(line, &row))
            continue;
        double ours = call_row(&row);
        if (!row_holds(&row, ours))
            fail_msg("%s(%a, %a) = %a, expected %a + %a within %g ulp", row.name, row.x, row.y, ours, row.nearest,
                     row.rest, row.limit_ulp);
        /* positive control: the same row shifted by 3 ulp must not hold */
        assert_false(row_holds(&row, ours + 3.0 * ulp(ours)));
        count++;
    }
    fclose(file);
    assert_true(count > 200);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nan_in_is_the_one_nan_out),
        cmocka_unit_test(every_nan_out_is_the_one_nan),
        cmocka_unit_test(exp_special),
        cmocka_unit_test(exp10_special),
        cmocka_unit_test(log_special),
        cmocka_unit_test(pow_special),
        cmocka_unit_test(pow_range),
        cmocka_unit_test(cbrt_sqrt_special),
        cmocka_unit_test(floor_and_trunc),
        cmocka_unit_test(exact_results),
        cmocka_unit_test(identities),
        cmocka_unit_test(rising_at_reduction_points),
        cmocka_unit_test(loop_and_call_agree),
        cmocka_unit_test(rows_computed_with_mpmath),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
