/* SPDX-License-Identifier: Apache-2.0 */
/* Threads for a flc_parallel: a plain crew of POSIX threads, started and joined at each call. */
#ifndef FLC_THREADS_FOR_H
#define FLC_THREADS_FOR_H

#include "flowcomp/batch.h"
#include <pthread.h>
#include <stdlib.h>

#define THREADS_FOR_MOST 64

typedef struct threads_for_one {
    pthread_t thread;
    size_t first, step, parts;
    void (*work)(void *what, size_t part);
    void *what;
} threads_for_one;

static inline void *threads_for_body(void *given)
{
    const threads_for_one *own = given;
    for (size_t part = own->first; part < own->parts; part += own->step) {
        own->work(own->what, own->parts - 1 - part); /* the last first: no order is promised */
    }
    return NULL;
}

static inline void threads_for_run(void *context, size_t parts, void (*work)(void *what, size_t part), void *what)
{
    const size_t threads = *(const uint32_t *)context;
    threads_for_one crew[THREADS_FOR_MOST] = {{0}};
    for (size_t i = 0; i < threads; i++) {
        crew[i] = (threads_for_one){.first = i, .step = threads, .parts = parts, .work = work, .what = what};
        if (i > 0 && pthread_create(&crew[i].thread, NULL, threads_for_body, &crew[i]) != 0) {
            abort();
        }
    }
    threads_for_body(&crew[0]); /* the calling thread does its share */
    for (size_t i = 1; i < threads; i++) {
        pthread_join(crew[i].thread, NULL);
    }
}

/** A crew of so many threads, the caller's included; the number must outlive it. */
static inline flc_parallel threads_for(const uint32_t *threads)
{
    flc_parallel parallel;
    flc_parallel_init(&parallel);
    parallel.threads = *threads;
    parallel.run = threads_for_run;
    parallel.context = (void *)(uintptr_t)threads;
    return parallel;
}

#endif
