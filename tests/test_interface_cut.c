/* SPDX-License-Identifier: Apache-2.0 */
/* Batches cut at an interface, against sums made by hand; the parts always add up. Rules: common practice, no source.
 */
#include "check.h"
#include "flowcomp/interface_cut.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)

/* Four records of a minute, 10 m³ and 1000 pulses each; density goes from 850 over 840 and 810 to 800. */
static const flc_cut_record RECORDS[] = {{0, 60000, 1000.0, 10.0, 850.0},
                                         {60000, 120000, 1000.0, 10.0, 840.0},
                                         {120000, 180000, 1000.0, 10.0, 810.0},
                                         {180000, 240000, 1000.0, 10.0, 800.0}};

static flc_cut cut_by(flc_cut_by by)
{
    flc_cut cut;
    flc_cut_init(&cut);
    cut.by = by;
    cut.rho_head_kgm3 = 850.0;
    cut.rho_tail_kgm3 = 800.0;
    cut.rho_tolerance_kgm3 = 1.0;
    return cut;
}

static flc_cut_parts parts_of(const flc_cut *cut)
{
    flc_cut_parts parts;
    OK(flc_cut_records(cut, RECORDS, 4, &parts, NULL));
    flc_check_near(parts.head + parts.interface + parts.tail, 40.0, 1e-13);
    flc_check_near(parts.head_pulses + parts.interface_pulses + parts.tail_pulses, 4000.0, 1e-10);
    return parts;
}

static void borders(void **state)
{
    (void)state;
    flc_cut cut = cut_by(FLC_CUT_TIME);
    cut.first = 90000.0; /* half of the second record */
    cut.last = 135000.0; /* a quarter of the third */
    flc_cut_parts parts = parts_of(&cut);
    flc_check_near(parts.head, 15.0, 1e-14);
    flc_check_near(parts.interface, 7.5, 1e-14);
    flc_check_near(parts.tail, 17.5, 1e-14);
    flc_check_near(parts.batch_head, 15.0, 1e-14);
    flc_check_nan(parts.interface_to_head);
    cut = cut_by(FLC_CUT_PULSES);
    cut.first = 1500.0;
    cut.last = 2250.0;
    parts = parts_of(&cut);
    flc_check_near(parts.head, 15.0, 1e-14);
    flc_check_near(parts.interface_pulses, 750.0, 1e-12);
    cut = cut_by(FLC_CUT_DENSITY);
    parts = parts_of(&cut);
    flc_check_same_bits(parts.head, 10.0);
    flc_check_same_bits(parts.interface, 20.0);
    flc_check_same_bits(parts.tail, 10.0);
    cut.rho_tolerance_kgm3 = 15.0; /* 840 is still head and 810 already tail */
    flc_check_same_bits(parts_of(&cut).interface, 0.0);
    cut = cut_by(FLC_CUT_TIME); /* a cut outside the records leaves one batch */
    cut.first = cut.last = 1e9;
    flc_check_same_bits(parts_of(&cut).head, 40.0);
}

/* By density: 840 is 4/5 head, 810 is 1/5: 8 + 2 = 10 of 20. */
static void allocation(void **state)
{
    (void)state;
    static const double to_head[] = {NAN, 20.0, 0.0, 10.0, 10.0};
    flc_cut cut = cut_by(FLC_CUT_DENSITY);
    for (int rule = FLC_ALLOCATE_HEAD; rule <= FLC_ALLOCATE_DENSITY; rule++) {
        cut.allocation = (flc_allocation)rule;
        const flc_cut_parts parts = parts_of(&cut);
        flc_check_near(parts.interface_to_head, to_head[rule], 1e-14);
        flc_check_near(parts.batch_head, 10.0 + to_head[rule], 1e-13);
        flc_check_near(parts.batch_head + parts.batch_tail, 40.0, 1e-13);
    }
    flc_allocation rule;
    flc_cut_by by;
    OK(flc_allocation_from_name("density", &rule));
    OK(flc_cut_by_from_name("pulses", &by));
    assert_int_equal(rule, FLC_ALLOCATE_DENSITY);
    assert_int_equal(by, FLC_CUT_PULSES);
}

static void refusals(void **state)
{
    (void)state;
    flc_cut_record bad[4];
    flc_cut cut = cut_by(FLC_CUT_DENSITY);
    flc_cut_parts parts;
    flc_error error;
#define REFUSED(status, name)                                                  \
    assert_int_equal(flc_cut_records(&cut, bad, 4, &parts, &error), (status)); \
    assert_string_equal(error.argument, (name));                               \
    flc_check_nan(parts.head);                                                 \
    memcpy(bad, RECORDS, sizeof bad);                                          \
    cut = cut_by(FLC_CUT_DENSITY)
    memcpy(bad, RECORDS, sizeof bad);
    bad[2].start_ms = 100000;
    REFUSED(FLC_E_ORDER, "start_ms"); /* the clock ran backwards */
    bad[2].end_ms = bad[2].start_ms;
    REFUSED(FLC_E_ORDER, "end_ms");
    bad[1].volume = -1.0;
    REFUSED(FLC_E_BELOW, "volume");
    bad[1].rho_kgm3 = NAN;
    REFUSED(FLC_E_NAN, "rho_kgm3");
    cut.rho_tail_kgm3 = 850.0;
    REFUSED(FLC_E_CONFLICT, "rho_tail_kgm3");
    cut.by = (flc_cut_by)3;
    REFUSED(FLC_E_CHOICE, "by");
    cut.allocation = (flc_allocation)-1;
    REFUSED(FLC_E_CHOICE, "allocation");
    cut.size = 1;
    REFUSED(FLC_E_SIZE, "cut");
    cut = cut_by(FLC_CUT_TIME);
    cut.first = 2.0;
    cut.last = 1.0;
    REFUSED(FLC_E_ORDER, "last");
    cut = cut_by(FLC_CUT_TIME);
    REFUSED(FLC_E_NAN, "first");
    assert_int_equal(flc_cut_records(&cut, bad, 0, &parts, &error), FLC_E_COUNT);
    assert_int_equal(flc_cut_records(NULL, bad, 4, &parts, &error), FLC_E_NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(borders), cmocka_unit_test(allocation),
                                       cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
