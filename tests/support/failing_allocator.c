/* SPDX-License-Identifier: Apache-2.0 */
#include "failing_allocator.h"
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

static atomic_long asked, live, countdown;
static atomic_int failed;

void *flc_test_malloc(size_t size)
{
    atomic_fetch_add(&asked, 1);
    if (atomic_load(&countdown) > 0 && atomic_fetch_sub(&countdown, 1) == 1) {
        atomic_store(&failed, 1);
        return NULL;
    }
    void *memory = malloc(size);
    if (memory != NULL) {
        /* A constructor that reads what it did not write meets this pattern, not a lucky zero. */
        memset(memory, 0xA5, size);
        atomic_fetch_add(&live, 1);
    }
    return memory;
}

void flc_test_free(void *memory)
{
    if (memory != NULL) {
        atomic_fetch_sub(&live, 1);
    }
    free(memory);
}

void flc_test_fail_allocation(long n)
{
    atomic_store(&failed, 0);
    atomic_store(&countdown, n);
}

int flc_test_allocation_failed(void)
{
    return atomic_load(&failed);
}

long flc_test_live_blocks(void)
{
    return atomic_load(&live);
}

long flc_test_allocations(void)
{
    return atomic_load(&asked);
}
