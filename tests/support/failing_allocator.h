/* SPDX-License-Identifier: Apache-2.0 */
/* The heap of the test build: counts, and fails when told to. Usage, for a constructor under test:
 *
 *     for (long n = 1;; n++) {
 *         flc_test_fail_allocation(n);
 *         flc_status status = flc_thing_new(..., &thing, NULL);
 *         int failed = flc_test_allocation_failed();
 *         flc_test_fail_allocation(0);
 *         if (!failed) { release the thing; break; }
 *         check status FLC_E_MEMORY, thing NULL, flc_test_live_blocks() as before
 *     }
 */
#ifndef FLC_FAILING_ALLOCATOR_H
#define FLC_FAILING_ALLOCATOR_H

#include <stddef.h>

/** Called by src/base/memory.c in the test build, in place of malloc and free. */
void *flc_test_malloc(size_t size);
void flc_test_free(void *memory);

/** Make the n-th allocation from now fail (n = 1: the next one), once; 0: fail none. */
void flc_test_fail_allocation(long n);

/** Did the allocation that was told to fail happen? Cleared by flc_test_fail_allocation. */
int flc_test_allocation_failed(void);

/** Blocks handed out and not given back, and allocations asked for so far (to show that a path makes none). */
long flc_test_live_blocks(void);
long flc_test_allocations(void);

#endif
