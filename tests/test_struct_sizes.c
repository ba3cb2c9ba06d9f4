/* SPDX-License-Identifier: Apache-2.0 */
/* An initialiser gives no byte beyond the size that the caller knows: a program built against an older header, whose
 * struct ended earlier, keeps what lies behind it. */
#include "check.h"
#include "flowcomp/analysis.h"
#include "flowcomp/flowcomp.h"
#include "flowcomp/identity.h"
#include "flowcomp/ticket_file.h"
#include <stdlib.h>
#include <string.h>

#define GUARD 64

#define CASE(type)                                                                          \
    static void type##_stays_within_its_size(void **state)                                  \
    {                                                                                       \
        (void)state;                                                                        \
        unsigned char *bytes = malloc(sizeof(type) + GUARD);                                \
        assert_non_null(bytes);                                                             \
        for (size_t size = sizeof(uint32_t); size <= sizeof(type) + GUARD / 2; size += 4) { \
            memset(bytes, 0x5A, sizeof(type) + GUARD);                                      \
            type##_init_sized((type *)(void *)bytes, size);                                 \
            uint32_t told;                                                                  \
            memcpy(&told, bytes, sizeof told);                                              \
            assert_int_equal(told, size);                                                   \
            const size_t known = size < sizeof(type) ? size : sizeof(type);                 \
            for (size_t i = known; i < sizeof(type) + GUARD; i++) {                         \
                assert_int_equal(bytes[i], i < size ? 0 : 0x5A);                            \
            }                                                                               \
        }                                                                                   \
        free(bytes);                                                                        \
    }

#define LIST(ROW)              \
    ROW(flc_certificate_point) \
    ROW(flc_fit_options)       \
    ROW(flc_fit_point)         \
    ROW(flc_fit_summary)       \
    ROW(flc_readings)          \
    ROW(flc_results)           \
    ROW(flc_cut)               \
    ROW(flc_liquid_options)    \
    ROW(flc_meter_options)     \
    ROW(flc_reading)           \
    ROW(flc_result)            \
    ROW(flc_body_options)      \
    ROW(flc_factor)            \
    ROW(flc_prover)            \
    ROW(flc_pass)              \
    ROW(flc_proving_options)   \
    ROW(flc_proving)           \
    ROW(flc_ticket)            \
    ROW(flc_ticket_result)     \
    ROW(flc_trail_options)     \
    ROW(flc_trail_event)       \
    ROW(flc_trail_report)      \
    ROW(flc_ticket_content)    \
    ROW(flc_ticket_verdict)    \
    ROW(flc_identity)

LIST(CASE)

int main(void)
{
#define TEST(type) cmocka_unit_test(type##_stays_within_its_size),
    const struct CMUnitTest tests[] = {LIST(TEST)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
