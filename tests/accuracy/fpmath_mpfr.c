/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Largest error of fpmath.h against MPFR, in units in the last place of the exact result.
 * fpmath_mpfr [points per region] [function] prints one row per region; the exit status is 1 when an error is above
 * 1.1 ulp, when a result beyond the range is not inf or 0, or when nothing was measured. The points come from a
 * seeded generator: the same on every run.
 */
#include "fpmath.h"

#include <mpfr.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>

#define LIMIT_ULP 1.1
#define PRECISION 128

typedef enum {
    BITS,        /* uniform in the bits between low and high, both > 0 */
    SIGNED_BITS, /* the same with a random sign */
    UNIFORM,     /* uniform between low and high */
    AROUND_ONE   /* 1 +- d, d uniform in its bits */
} spread;

typedef enum { NO_Y, Y_UNIFORM, Y_BY_RESULT /* y = a uniform number / ln x */ } second;

typedef struct {
    const char *function;
    const char *region;
    double (*ours)(double x, double y);
    int (*exact)(mpfr_t result, mpfr_t x, mpfr_t y);
    spread how;
    double low, high;
    second how_y;
    double y_low, y_high;
} region;

static uint64_t state;

/* splitmix64 */
static uint64_t next_bits(void)
{
    state += UINT64_C(0x9e3779b97f4a7c15);
    uint64_t z = state;
    z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
    z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
    return z ^ (z >> 31);
}

static double uniform(double low, double high)
{
    return low + (high - low) * ((double)(next_bits() >> 11) * 0x1p-53);
}

static double draw_bits(double low, double high)
{
    uint64_t first = flc_to_bits(low);
    return flc_from_bits(first + next_bits() % (flc_to_bits(high) - first + 1));
}

static double draw(const region *r)
{
    switch (r->how) {
    case BITS:
        return draw_bits(r->low, r->high);
    case SIGNED_BITS:
        return flc_copysign(draw_bits(r->low, r->high), (next_bits() & 1) ? 1.0 : -1.0);
    case AROUND_ONE: {
        double d = draw_bits(r->low, r->high);
        return (next_bits() & 1) ? 1.0 + d : 1.0 - d;
    }
    case UNIFORM:
    default:
        return uniform(r->low, r->high);
    }
}

#define OURS(name)                                             \
    static double ours_##name(double x, double y)              \
    {                                                          \
        (void)y;                                               \
        return flc_##name(x);                                  \
    }                                                          \
    static int exact_##name(mpfr_t result, mpfr_t x, mpfr_t y) \
    {                                                          \
        (void)y;                                               \
        return mpfr_##name(result, x, MPFR_RNDN);              \
    }

OURS(exp)
OURS(exp10)
OURS(log)
OURS(log10)
OURS(cbrt)
OURS(sqrt)

static int exact_pow(mpfr_t result, mpfr_t x, mpfr_t y)
{
    return mpfr_pow(result, x, y, MPFR_RNDN);
}

static const region regions[] = {
    {"exp", "uniform in bits, 2^-54 .. 745, both signs", ours_exp, exact_exp, SIGNED_BITS, 0x1p-54, 745, NO_Y, 0, 0},
    {"exp", "uniform, -745 .. 709.78", ours_exp, exact_exp, UNIFORM, -745, 709.78, NO_Y, 0, 0},
    {"exp", "uniform, -1 .. 1", ours_exp, exact_exp, UNIFORM, -1, 1, NO_Y, 0, 0},
    {"exp10", "uniform in bits, 2^-54 .. 323, both signs", ours_exp10, exact_exp10, SIGNED_BITS, 0x1p-54, 323, NO_Y, 0,
     0},
    {"exp10", "uniform, -323 .. 308.25", ours_exp10, exact_exp10, UNIFORM, -323, 308.25, NO_Y, 0, 0},
    {"exp10", "uniform, -1 .. 1", ours_exp10, exact_exp10, UNIFORM, -1, 1, NO_Y, 0, 0},
    {"log", "uniform in bits, 2^-1022 .. max", ours_log, exact_log, BITS, DBL_MIN, DBL_MAX, NO_Y, 0, 0},
    {"log", "uniform, 0.5 .. 2", ours_log, exact_log, UNIFORM, 0.5, 2, NO_Y, 0, 0},
    {"log", "1 +- d, d uniform in bits, 2^-52 .. 0.5", ours_log, exact_log, AROUND_ONE, 0x1p-52, 0.5, NO_Y, 0, 0},
    {"log10", "uniform in bits, 2^-1022 .. max", ours_log10, exact_log10, BITS, DBL_MIN, DBL_MAX, NO_Y, 0, 0},
    {"log10", "uniform, 0.5 .. 2", ours_log10, exact_log10, UNIFORM, 0.5, 2, NO_Y, 0, 0},
    {"log10", "1 +- d, d uniform in bits, 2^-52 .. 0.5", ours_log10, exact_log10, AROUND_ONE, 0x1p-52, 0.5, NO_Y, 0, 0},
    {"pow", "x bits 1e-300 .. 1e300, y ln x in -745 .. 709.78", flc_pow, exact_pow, BITS, 1e-300, 1e300, Y_BY_RESULT,
     -745, 709.78},
    {"pow", "x bits 1e-300 .. 1e300, y in -2 .. 2", flc_pow, exact_pow, BITS, 1e-300, 1e300, Y_UNIFORM, -2, 2},
    {"pow", "x 0.7 .. 1.42, y ln x in -745 .. 709.78", flc_pow, exact_pow, UNIFORM, 0.7, 1.42, Y_BY_RESULT, -745,
     709.78},
    {"pow", "x 1 +- d, d bits 2^-52 .. 0.5, y ln x as above", flc_pow, exact_pow, AROUND_ONE, 0x1p-52, 0.5, Y_BY_RESULT,
     -745, 709.78},
    {"pow", "x bits 0.5 .. 2e7, y in -10 .. 40", flc_pow, exact_pow, BITS, 0.5, 2e7, Y_UNIFORM, -10, 40},
    {"pow", "x uniform 0.5 .. 20, y in -4 .. 4", flc_pow, exact_pow, UNIFORM, 0.5, 20, Y_UNIFORM, -4, 4},
    {"cbrt", "uniform in bits, 2^-1022 .. max, both signs", ours_cbrt, exact_cbrt, SIGNED_BITS, DBL_MIN, DBL_MAX, NO_Y,
     0, 0},
    {"cbrt", "uniform, 1 .. 8", ours_cbrt, exact_cbrt, UNIFORM, 1, 8, NO_Y, 0, 0},
    {"sqrt", "uniform in bits, 2^-1022 .. max", ours_sqrt, exact_sqrt, BITS, DBL_MIN, DBL_MAX, NO_Y, 0, 0},
};

typedef struct {
    mpfr_t x, y, exact, error;
    double worst, worst_x, worst_y;
    bool range_kept;
} measurement;

/* Error of ours in ulp of the exact result; a result beyond the range must be inf or 0 and counts nothing. */
static double ulp_error(measurement *m, double ours)
{
    if (mpfr_cmpabs_ui(m->exact, 0) == 0)
        return ours == 0.0 ? 0.0 : 1e300;
    mpfr_exp_t exponent = mpfr_get_exp(m->exact);
    double rounded = mpfr_get_d(m->exact, MPFR_RNDN);
    if (flc_fabs(rounded) > DBL_MAX || exponent < -1021) {
        double wanted = exponent < -1021 ? 0.0 : rounded;
        m->range_kept = m->range_kept && ours == wanted;
        return 0.0;
    }
    if (!(flc_fabs(ours) <= DBL_MAX))
        return 1e300;
    mpfr_d_sub(m->error, ours, m->exact, MPFR_RNDN);
    mpfr_mul_2si(m->error, m->error, 53 - exponent, MPFR_RNDN);
    return flc_fabs(mpfr_get_d(m->error, MPFR_RNDN));
}

static void measure(measurement *m, const region *r, long points)
{
    m->worst = -1.0;
    m->range_kept = true;
    state = 20240229;
    for (long i = 0; i < points; i++) {
        double x = draw(r);
        double y = r->how_y == NO_Y ? 0.0 : uniform(r->y_low, r->y_high);
        if (r->how_y == Y_BY_RESULT)
            y = x == 1.0 ? y : y / flc_log(x);
        mpfr_set_d(m->x, x, MPFR_RNDN);
        mpfr_set_d(m->y, y, MPFR_RNDN);
        r->exact(m->exact, m->x, m->y);
        double error = ulp_error(m, r->ours(x, y));
        if (error > m->worst) {
            m->worst = error;
            m->worst_x = x;
            m->worst_y = y;
        }
    }
}

int main(int argc, char **argv)
{
    long points = argc > 1 ? strtol(argv[1], NULL, 10) : 100000;
    bool good = true;
    int rows = 0;
    measurement m;
    mpfr_inits2(53, m.x, m.y, (mpfr_ptr)0);
    mpfr_inits2(PRECISION, m.exact, m.error, (mpfr_ptr)0);
    printf("| function | region | points | max ulp | at |\n|---|---|---|---|---|\n");
    for (size_t i = 0; i < sizeof regions / sizeof regions[0]; i++) {
        const region *r = &regions[i];
        if (argc > 2 && strcmp(argv[2], r->function) != 0)
            continue;
        measure(&m, r, points);
        rows += m.worst >= 0.0;
        good = good && m.range_kept && m.worst >= 0.0 && m.worst <= LIMIT_ULP;
        printf("| %s | %s | %ld | %.4f%s | %a", r->function, r->region, points, m.worst,
               m.range_kept ? "" : " BEYOND RANGE WRONG", m.worst_x);
        if (r->how_y != NO_Y)
            printf(", %a", m.worst_y);
        printf(" |\n");
        fflush(stdout);
    }
    mpfr_clears(m.x, m.y, m.exact, m.error, (mpfr_ptr)0);
    mpfr_free_cache();
    return good && rows > 0 ? 0 : 1;
}
