/* SPDX-License-Identifier: Apache-2.0 */
/* Whose memory an Arrow array is: children and shared arrays outlive their struct, streams, memory that runs out, and
 * threads that release. */
#define _POSIX_C_SOURCE 200809L /* pthread.h */
#include "arrow_producer.h"

#include <pthread.h>

/* ---- whose memory ---- */

static void test_children_outlive_their_struct(void **state)
{
    (void)state;
    producer p;
    struct ArrowArray results, same;
    const long blocks = flc_test_live_blocks();
    produce(&p, 0, RECORDS, 0, 0);
    assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
    drop(&p);
    struct ArrowArray child = *results.children[9];
    results.children[9]->release = NULL;
    assert_int_equal(flc_arrow_share(&results, &same), FLC_OK);
    assert_ptr_equal(same.children[9]->buffers[1], child.buffers[1]); /* no copy */
    assert_int_equal((uintptr_t)child.buffers[1] % 64, 0);
    results.release(&results);
    assert_null(results.release);
    check_records(&same, 0, RECORDS);
    same.release(&same);
    for (size_t i = 0; i < RECORDS; i++) {
        flc_check_same_bits(((const double *)child.buffers[1])[i], expected[i].v_m3);
    }
    child.release(&child);
    assert_int_equal(flc_test_live_blocks(), blocks);
}

static void test_stream(void **state)
{
    (void)state;
    producer p;
    struct ArrowArray parts[3], next;
    struct ArrowSchema schema;
    struct ArrowArrayStream stream;
    static const char *const wanted[] = {"st"};
    const long blocks = flc_test_live_blocks();
    for (size_t i = 0; i < 3; i++) {
        produce(&p, i * 1000, 1000, 0, 0);
        assert_int_equal(evaluate(&p, NULL, &parts[i], NULL, NULL), FLC_OK);
        drop(&p);
    }
    const struct ArrowArray *all[] = {&parts[0], &parts[1], &parts[2]};
    assert_int_equal(flc_arrow_stream(all, 3, wanted, 1, &stream, NULL), FLC_E_COUNT);
    for (int reads = 0; reads <= 4; reads++) { /* also given up half-way */
        assert_int_equal(flc_arrow_stream(all, 3, NULL, 0, &stream, NULL), FLC_OK);
        assert_int_equal(stream.get_schema(&stream, &schema), 0);
        assert_int_equal(schema.n_children, RESULT_COLUMNS + 2);
        schema.release(&schema);
        for (int i = 0; i < reads; i++) {
            assert_int_equal(stream.get_next(&stream, &next), 0);
            assert_int_equal(next.release != NULL, i < 3);
            if (i < 3) {
                check_records(&next, (size_t)i * 1000, 1000);
                next.release(&next);
            }
        }
        assert_null(stream.get_last_error(&stream));
        stream.release(&stream);
        assert_null(stream.release);
    }
    assert_int_equal(flc_arrow_stream(all, 2, NULL, 0, &stream, NULL), FLC_OK);
    for (size_t i = 0; i < 3; i++) {
        parts[i].release(&parts[i]);
    }
    assert_int_equal(flc_arrow_stream(all, 3, NULL, 0, &(struct ArrowArrayStream){0}, NULL), FLC_E_CHOICE);
    assert_int_equal(stream.get_next(&stream, &next), 0); /* the stream holds what it gives out */
    check_records(&next, 0, 1000);
    stream.release(&stream);
    next.release(&next);
    assert_int_equal(flc_arrow_stream(NULL, 0, NULL, 0, &stream, NULL), FLC_OK);
    assert_int_equal(stream.get_next(&stream, &next), 0);
    assert_null(next.release);
    stream.release(&stream);
    assert_int_equal(flc_test_live_blocks(), blocks);
}

/* ---- memory that runs out, and threads ---- */

static flc_status every_step(const producer *p)
{
    struct ArrowArray results, same;
    struct ArrowSchema schema;
    struct ArrowArrayStream stream;
    flc_status status = evaluate(p, NULL, &results, NULL, NULL);
    if (status != FLC_OK) {
        assert_null(results.release);
        return status;
    }
    const struct ArrowArray *all[] = {&results, &results};
    status = flc_arrow_share(&results, &same);
    assert_int_equal(same.release != NULL, status == FLC_OK);
    if (status == FLC_OK) {
        same.release(&same);
        status = flc_arrow_schema(NULL, 0, &schema, NULL);
        assert_int_equal(schema.release != NULL, status == FLC_OK);
    }
    if (status == FLC_OK) {
        schema.release(&schema);
        status = flc_arrow_stream(all, 2, NULL, 0, &stream, NULL);
        assert_int_equal(stream.release != NULL, status == FLC_OK);
    }
    if (status == FLC_OK) {
        status = stream.get_schema(&stream, &schema) == 0 ? FLC_OK : FLC_E_MEMORY;
        assert_int_equal(schema.release != NULL, status == FLC_OK);
        if (status == FLC_OK) {
            schema.release(&schema);
        }
        stream.release(&stream);
    }
    results.release(&results);
    return status;
}

static void test_every_allocation_may_fail(void **state)
{
    (void)state;
    producer p;
    produce(&p, 0, 100, 0, 1); /* not aligned, so that there is scratch memory too */
    const long blocks = flc_test_live_blocks();
    long n = 1;
    for (;; n++) {
        flc_test_fail_allocation(n);
        const flc_status status = every_step(&p);
        const int failed = flc_test_allocation_failed();
        flc_test_fail_allocation(0);
        assert_int_equal(flc_test_live_blocks(), blocks);
        if (!failed) {
            assert_int_equal(status, FLC_OK);
            break;
        }
        assert_int_equal(status, FLC_E_MEMORY);
    }
    assert_int_equal(n - 1, 9);
    drop(&p);
}

static void *share_and_release(void *results)
{
    for (int i = 0; i < 2000; i++) {
        struct ArrowArray same;
        if (flc_arrow_share(results, &same) != FLC_OK) {
            return results;
        }
        struct ArrowArray child = *same.children[i % RESULT_COLUMNS];
        same.children[i % RESULT_COLUMNS]->release = NULL;
        same.release(&same);
        child.release(&child);
    }
    return NULL;
}

static void test_threads_share(void **state)
{
    (void)state;
    pthread_t threads[8];
    producer p;
    struct ArrowArray results;
    produce(&p, 0, 100, 0, 0);
    assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
    drop(&p);
    for (size_t i = 0; i < 8; i++) {
        assert_int_equal(pthread_create(&threads[i], NULL, share_and_release, &results), 0);
    }
    for (size_t i = 0; i < 8; i++) {
        void *failed = &results;
        assert_int_equal(pthread_join(threads[i], &failed), 0);
        assert_null(failed);
    }
    check_records(&results, 0, 100);
    results.release(&results);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_children_outlive_their_struct),
        cmocka_unit_test(test_stream),
        cmocka_unit_test(test_every_allocation_may_fail),
        cmocka_unit_test(test_threads_share),
    };
    return cmocka_run_group_tests(tests, make_records, drop_records);
}
