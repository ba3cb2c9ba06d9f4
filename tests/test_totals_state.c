/* SPDX-License-Identifier: Apache-2.0 */
/* Totals saved and brought back: every bit, and nothing else is taken. Maintenance stays apart. */
#include "check.h"
#include "flowcomp/totals.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)

static flc_result record(double v_m3)
{
    flc_result result;
    flc_result_init(&result);
    result.status = FLC_OK;
    result.flags = FLC_FLAG_FROM_MEMORY;
    result.v_m3 = v_m3;
    result.v_base_m3 = 0.99 * v_m3;
    result.rho_base_kgm3 = 850.0;
    return result;
}

static flc_totals filled(void)
{
    flc_totals totals;
    OK(flc_totals_start(&totals, 1e-9));
    for (int i = 1; i <= 20; i++) {
        const flc_result result = record(i / 3.0);
        OK(flc_totals_add(&totals, 1000.0 * i, &result));
    }
    flc_result refused = record(NAN);
    refused.status = FLC_E_ABOVE_CURVE;
    OK(flc_totals_add(&totals, 77.0, &refused));
    return totals;
}

static void there_and_back(void **state)
{
    (void)state;
    const flc_totals totals = filled();
    flc_totals back;
    uint8_t bytes[256], again[256];
    size_t needed, size;
    assert_int_equal(flc_totals_canonical(&totals, NULL, 0, &needed), FLC_E_BUFFER);
    assert_true(needed > 100 && needed <= sizeof bytes);
    OK(flc_totals_canonical(&totals, bytes, sizeof bytes, &size));
    assert_int_equal(size, needed);
    OK(flc_totals_restore(bytes, size, &back));
    OK(flc_totals_canonical(&back, again, sizeof again, &needed));
    assert_memory_equal(bytes, again, size);
    assert_true(back.gross_forward == totals.gross_forward && back.mass_forward == totals.mass_forward);
    assert_true(back.pulses_in == totals.pulses_in && back.flags == totals.flags);
    flc_check_same_bits(back.unit_m3, totals.unit_m3);
    flc_check_same_bits(back.mass_unit_kg, totals.mass_unit_kg);
    const flc_result next = record(2.5); /* and it goes on as if nothing had happened */
    flc_totals on = totals;
    OK(flc_totals_add(&on, 5.0, &next));
    OK(flc_totals_add(&back, 5.0, &next));
    assert_true(back.gross_forward == on.gross_forward && back.records == on.records);
}

static void refusals(void **state)
{
    (void)state;
    const flc_totals totals = filled();
    flc_totals back;
    uint8_t bytes[256];
    size_t size, needed;
    OK(flc_totals_canonical(&totals, bytes, sizeof bytes, &size));
    assert_int_equal(flc_totals_restore(bytes, size - 1, &back), FLC_E_SYNTAX);
    flc_check_nan(back.unit_m3);
    assert_int_equal(back.size, 0);
    bytes[10] ^= 1; /* the mark */
    assert_int_equal(flc_totals_restore(bytes, size, &back), FLC_E_SYNTAX);
    bytes[10] ^= 1;
    bytes[size - 8 * 15 + 8 * 3 + 7] ^= 1; /* pulses in: they no longer balance */
    assert_int_equal(flc_totals_restore(bytes, size, &back), FLC_E_CONFLICT);
    bytes[size - 8 * 15 + 8 * 3 + 7] ^= 1;
    bytes[size - 8 * 16] ^= 0x7F; /* the unit */
    assert_int_not_equal(flc_totals_restore(bytes, size, &back), FLC_OK);
    assert_int_equal(flc_totals_restore(NULL, size, &back), FLC_E_NULL);
    assert_int_equal(flc_totals_restore(bytes, size, NULL), FLC_E_NULL);
    assert_int_equal(flc_totals_canonical(NULL, bytes, sizeof bytes, &needed), FLC_E_NULL);
    flc_totals spoilt = totals;
    spoilt.size = 1;
    assert_int_equal(flc_totals_canonical(&spoilt, bytes, sizeof bytes, &needed), FLC_E_SIZE);
}

static void maintenance(void **state)
{
    (void)state;
    flc_total_set set;
    const flc_result result = record(3.0);
    OK(flc_total_set_start(&set, 1e-9));
    OK(flc_total_set_add(&set, 0, 100.0, &result));
    OK(flc_total_set_add(&set, 1, 40.0, &result));
    assert_int_equal(set.custody.pulses_forward, 100);
    assert_int_equal(set.maintenance.pulses_forward, 40);
    assert_int_equal(set.custody.gross_forward, 3000000000);
    assert_int_equal(flc_total_set_start(&set, 1.0), FLC_E_ABOVE);
    assert_int_equal(flc_total_set_start(NULL, 1e-9), FLC_E_NULL);
    assert_int_equal(flc_total_set_add(NULL, 0, 1.0, &result), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(there_and_back), cmocka_unit_test(refusals),
                                       cmocka_unit_test(maintenance)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
