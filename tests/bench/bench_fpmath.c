/* SPDX-License-Identifier: Apache-2.0 */
/*
 * Time per element of fpmath.h against the C library, in the same run, on arrays of 4096.
 * Prints ns per element (the least of the rounds, taken in turn) and the ratio library / ours. No verdict.
 * gcc makes vectors of the loops only under -fno-trapping-math (as batch/ is compiled) or with AVX-512.
 */
#define _POSIX_C_SOURCE 199309L
#define FLC_MANY /* loops over arrays: see fpmath.h */
#include "fpmath.h"

#include <math.h>
#include <stdio.h>
#include <time.h>

#define COUNT 4096
#define ROUNDS 41
#define REPEATS 20

static double x[COUNT], y[COUNT], result[COUNT];

#define LOOPS(name, ours, theirs)       \
    static void ours_##name(void)       \
    {                                   \
        for (int i = 0; i < COUNT; i++) \
            result[i] = ours;           \
    }                                   \
    static void theirs_##name(void)     \
    {                                   \
        for (int i = 0; i < COUNT; i++) \
            result[i] = theirs;         \
    }

LOOPS(exp, flc_exp(x[i]), exp(x[i]))
LOOPS(exp10, flc_exp10(x[i]), pow(10.0, x[i])) /* ISO C has no exp10 */
LOOPS(log, flc_log(x[i]), log(x[i]))
LOOPS(log10, flc_log10(x[i]), log10(x[i]))
LOOPS(pow, flc_pow(x[i], y[i]), pow(x[i], y[i]))
LOOPS(cbrt, flc_cbrt(x[i]), cbrt(x[i]))
LOOPS(sqrt, flc_sqrt(x[i]), sqrt(x[i]))

typedef struct {
    const char *name;
    void (*ours)(void);
    void (*theirs)(void);
    double low, high;
} entry;

static const entry entries[] = {
    {"exp", ours_exp, theirs_exp, -20, 20},     {"exp10", ours_exp10, theirs_exp10, -10, 10},
    {"log", ours_log, theirs_log, 0.5, 2e7},    {"log10", ours_log10, theirs_log10, 0.5, 2e7},
    {"pow", ours_pow, theirs_pow, 0.5, 2e7},    {"cbrt", ours_cbrt, theirs_cbrt, 0.5, 2e7},
    {"sqrt", ours_sqrt, theirs_sqrt, 0.5, 2e7},
};

static double now_ns(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e9 * (double)t.tv_sec + (double)t.tv_nsec;
}

static double time_once(void (*loop)(void))
{
    double start = now_ns();
    for (int i = 0; i < REPEATS; i++)
        loop();
    return (now_ns() - start) / ((double)REPEATS * COUNT);
}

static void fill(double low, double high)
{
    uint64_t state = 7;
    for (int i = 0; i < COUNT; i++) {
        state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
        x[i] = low + (high - low) * ((double)(state >> 11) * 0x1p-53);
        state = state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
        y[i] = -10.0 + 50.0 * ((double)(state >> 11) * 0x1p-53);
    }
}

int main(void)
{
    double check = 0.0;
    printf("| function | x | ours, ns | C library, ns | library / ours |\n|---|---|---|---|---|\n");
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
        const entry *e = &entries[i];
        double ours = 1e9, theirs = 1e9;
        fill(e->low, e->high);
        for (int round = 0; round < ROUNDS; round++) {
            double t = time_once(e->ours);
            ours = t < ours ? t : ours;
            check += result[round];
            t = time_once(e->theirs);
            theirs = t < theirs ? t : theirs;
            check += result[round];
        }
        printf("| %s | %g .. %g | %.3f | %.3f | %.2f |\n", e->name, e->low, e->high, ours, theirs, theirs / ours);
    }
    return check == -1.0; /* the results are used */
}
