/* SPDX-License-Identifier: Apache-2.0 */
/* Times of several pieces of work, taken in turns so that a busy machine slows all of them alike; the least time of
 * each counts. Lines for bench_table.py: "time" with ns per record, "figure" with a ratio and what it is to reach. */
#ifndef FLC_BENCH_TIMER_H
#define FLC_BENCH_TIMER_H

#include <stdio.h>
#include <time.h>

typedef struct timed_work {
    const char *name;
    void (*run)(const void *what);
    const void *what;
    double records; /* in one run */
    double best_ns; /* per record; 0 before the first */
} timed_work;

/* Of the calling thread, so that what else the machine does is not in it; of the wall for work by several threads. */
static inline double timer_now_ns(clockid_t clock)
{
    struct timespec t;
    clock_gettime(clock, &t);
    return (double)t.tv_sec * 1e9 + (double)t.tv_nsec;
}

/** Run each piece of work in turn, rounds times over. */
static inline void timer_take(timed_work *work, size_t count, int rounds, clockid_t clock)
{
    for (int round = 0; round < rounds; round++) {
        for (size_t i = 0; i < count; i++) {
            const double start = timer_now_ns(clock);
            work[i].run(work[i].what);
            const double ns = (timer_now_ns(clock) - start) / work[i].records;
            work[i].best_ns = work[i].best_ns == 0.0 || ns < work[i].best_ns ? ns : work[i].best_ns;
        }
    }
}

static inline void timer_print_times(const timed_work *work, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        printf("time\t%s\t%.4g\n", work[i].name, work[i].best_ns);
    }
}

/* unit "x": at least reach; another: at most reach. reach 0: shown beside the figures that have one. */
static inline void timer_print_figure(const char *name, double value, const char *unit, double reach, double aim)
{
    printf("figure\t%s\t%.5g\t%s\t%g\t%g\n", name, value, unit, reach, aim);
}

#endif
