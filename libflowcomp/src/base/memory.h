/* SPDX-License-Identifier: Apache-2.0 */
/* The one door to the heap. Constructors, fits and parsers allocate through it; the evaluation path never does. The
 * tests link a build of the library (FLC_TEST_ALLOCATIONS) whose door leads to tests/support/failing_allocator.c,
 * where every allocation can be made to fail once and blocks that were not released are counted. */
#ifndef FLC_MEMORY_H
#define FLC_MEMORY_H

#include <stddef.h>

/** Uninitialised memory, or NULL (the caller then returns FLC_E_MEMORY). */
void *flc_allocate(size_t size);

/** Zeroed memory for count elements of that size, or NULL, also where the product does not fit in a size_t. Use it
 *  wherever a count comes from a caller. */
void *flc_allocate_array(size_t count, size_t size);

/** Give memory back; NULL is allowed. */
void flc_release(void *memory);

#endif
