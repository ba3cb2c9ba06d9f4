/* SPDX-License-Identifier: Apache-2.0 */
#include "memory.h"
#include <stdint.h>
#include <string.h>

#ifdef FLC_TEST_ALLOCATIONS
void *flc_test_malloc(size_t size);
void flc_test_free(void *memory);
#define HEAP_TAKE flc_test_malloc
#define HEAP_GIVE flc_test_free
#else
#include <stdlib.h>
#define HEAP_TAKE malloc
#define HEAP_GIVE free
#endif

void *flc_allocate(size_t size)
{
    return HEAP_TAKE(size);
}

void *flc_allocate_array(size_t count, size_t size)
{
    if (size != 0 && count > SIZE_MAX / size) {
        return NULL;
    }
    void *memory = flc_allocate(count * size);
    if (memory != NULL) {
        memset(memory, 0, count * size);
    }
    return memory;
}

void flc_release(void *memory)
{
    HEAP_GIVE(memory);
}
