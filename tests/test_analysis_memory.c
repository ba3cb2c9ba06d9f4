/* SPDX-License-Identifier: Apache-2.0 */
/* Fits when memory runs out: each allocation, of the library and of GSL beneath it, fails once, and every time the fit
 * ends in FLC_E_MEMORY with nothing left behind. GSL's allocations are reached by standing in for malloc, which a
 * sanitizer's own heap does not allow: there only the library's are tried. */
#include "failing_allocator.h"
#include "fit_examples.h"
#include <stdlib.h>

#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define HEAP_IS_OURS 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) || __has_feature(memory_sanitizer)
#define HEAP_IS_OURS 0
#endif
#endif
#if !defined(HEAP_IS_OURS)
#define HEAP_IS_OURS 1
#endif

/* GSL reports a failed allocation here; its own version would abort. */
static int gsl_reports;
void gsl_error(const char *reason, const char *file, int line, int code);
void gsl_error(const char *reason, const char *file, int line, int code)
{
    (void)reason;
    (void)file;
    (void)line;
    (void)code;
    gsl_reports++;
}

#if HEAP_IS_OURS
/* glibc's heap under its other names. */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void __libc_free(void *memory);

static long heap_countdown, heap_failed, heap_live;

static int heap_fails(void)
{
    if (heap_countdown > 0 && --heap_countdown == 0) {
        heap_failed++;
        return 1;
    }
    return 0;
}

void *malloc(size_t size)
{
    void *memory = heap_fails() ? NULL : __libc_malloc(size);
    heap_live += memory != NULL;
    return memory;
}

void *calloc(size_t count, size_t size)
{
    void *memory = heap_fails() ? NULL : __libc_calloc(count, size);
    heap_live += memory != NULL;
    return memory;
}

void free(void *memory)
{
    heap_live -= memory != NULL;
    __libc_free(memory);
}
#endif

enum { N = 12 };

static flc_status fit_once(flc_fit_method method, flc_fit **fit, flc_error *error)
{
    flc_certificate_point points[N];
    for (size_t i = 0; i < N; i++) {
        const double ro = 5e3 * pow(1.5, (double)i);
        points[i] = example_point(ro, example_st(ro) * (i == 5 ? 1.05 : 1.0));
    }
    const flc_body_options body = example_body();
    const flc_fit_options options = example_options(method);
    return flc_fit_certificate(&options, &body, points, N, fit, error);
}

static void check_failed(flc_status status, const flc_fit *fit, const flc_error *error)
{
    assert_int_equal(status, FLC_E_MEMORY);
    assert_int_equal(error->status, FLC_E_MEMORY);
    assert_null(fit);
}

static void every_allocation_of_ours_fails(void **state)
{
    (void)state;
    for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_ROBUST; method++) {
        long tried = 0;
        for (long n = 1;; n++) {
            const long live = flc_test_live_blocks();
            flc_fit *fit = NULL;
            flc_error error;
            flc_test_fail_allocation(n);
            const flc_status status = fit_once((flc_fit_method)method, &fit, &error);
            const int failed = flc_test_allocation_failed();
            flc_test_fail_allocation(0);
            if (!failed) {
                assert_int_equal(status, FLC_OK);
                flc_fit_free(fit);
                assert_int_equal(flc_test_live_blocks(), live);
                break;
            }
            check_failed(status, fit, &error);
            assert_int_equal(flc_test_live_blocks(), live);
            tried++;
        }
        assert_true(tried >= 8);
    }
}

#if HEAP_IS_OURS
/* The C library's qsort asks for memory too, and does without where there is none. GSL's gsl_matrix_alloc, beneath
 * gsl_bspline_alloc, loses its 48 bytes where the next allocation fails. */
static void every_allocation_of_the_heap_fails(void **state)
{
    (void)state;
    for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_ROBUST; method++) {
        long refused = 0, done_without = 0;
        do {
            flc_fit *fit = NULL;
            flc_error error;
            const long live = heap_live;
            const int reports = gsl_reports;
            heap_failed = 0;
            heap_countdown = refused + done_without + 1;
            const flc_status status = fit_once((flc_fit_method)method, &fit, &error);
            heap_countdown = 0;
            if (status == FLC_OK) {
                flc_fit_free(fit);
                done_without += heap_failed;
            } else {
                check_failed(status, fit, &error);
                refused += heap_failed;
            }
            assert_in_range(heap_live - live, 0, gsl_reports > reports ? 1 : 0);
        } while (heap_failed > 0);
        assert_true(done_without <= 2);
        assert_true(refused >= 9); /* more than the library's own */
    }
    assert_true(gsl_reports > 0);
}
#endif

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_allocation_of_ours_fails),
#if HEAP_IS_OURS
        cmocka_unit_test(every_allocation_of_the_heap_fails),
#endif
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
