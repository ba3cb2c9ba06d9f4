/* SPDX-License-Identifier: Apache-2.0 */
/* Making a liquid: every field judged, which of several bad ones is named, every allocation made to fail; what it was
 * made from, and its bytes. */
#include "example_meter.h"
#include "failing_allocator.h"

#include <stddef.h>

/* A good set of options that uses every field: between two liquids. */
static flc_liquid_options all_fields(void)
{
    return invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, FLC_VISCOSITY_BETWEEN);
}

static void expect_refused(const flc_liquid_options *options, flc_status status, const char *argument)
{
    flc_liquid *liquid = (flc_liquid *)(void *)&status;
    flc_error error;
    memset(&error, 0xFF, sizeof error);
    assert_int_equal(flc_liquid_new(options, &liquid, &error), status);
    assert_int_equal(error.status, status);
    assert_string_equal(error.argument, argument);
    assert_null(liquid);
}

/* ---- spoilt fields, in the order in which they are judged ---- */

typedef void spoil(flc_liquid_options *options);

static void no_name(flc_liquid_options *o)
{
    o->name = NULL;
}
static void empty_name(flc_liquid_options *o)
{
    o->name = "";
}
static void long_name(flc_liquid_options *o)
{
    o->name = "a name of forty-eight bytes, one more than it holds";
}
static void no_volume(flc_liquid_options *o)
{
    o->volume = (flc_volume_method)-1;
}
static void odd_volume(flc_liquid_options *o)
{
    o->volume = (flc_volume_method)99;
}
static void no_base(flc_liquid_options *o)
{
    o->base = (flc_petroleum_base)-1;
}
static void odd_base(flc_liquid_options *o)
{
    o->base = (flc_petroleum_base)3;
}
static void no_product(flc_liquid_options *o)
{
    o->product.group = FLC_PETROLEUM_GROUP_NONE;
}
static void two_products(flc_liquid_options *o)
{
    o->product.alpha60_per_degf = 450e-6;
}
static void odd_negative(flc_liquid_options *o)
{
    o->negative_pressure = (flc_negative_pressure)2;
}
static void no_viscosity(flc_liquid_options *o)
{
    o->viscosity = (flc_viscosity_source)-1;
}
static void odd_viscosity(flc_liquid_options *o)
{
    o->viscosity = (flc_viscosity_source)5;
}
static void odd_form(flc_liquid_options *o)
{
    o->form = (flc_d341_form)3;
}
static void odd_beyond(flc_liquid_options *o)
{
    o->beyond = (flc_viscosity_beyond)2;
}
static void one_point(flc_liquid_options *o)
{
    o->points.count = 1;
}
static void many_points(flc_liquid_options *o)
{
    o->points.count = 65;
}
static void no_points(flc_liquid_options *o)
{
    o->points.t_degc = NULL;
}
static void no_second(flc_liquid_options *o)
{
    o->second.nu_mm2s = NULL;
}
static void no_first_density(flc_liquid_options *o)
{
    o->points.rho_base_kgm3 = NAN;
}
static void low_second_density(flc_liquid_options *o)
{
    o->second.rho_base_kgm3 = 299.0;
}
static void same_density(flc_liquid_options *o)
{
    o->second.rho_base_kgm3 = o->points.rho_base_kgm3;
}
static void no_uncertainty(flc_liquid_options *o)
{
    o->u_nu_relative = NAN;
}
static void large_uncertainty(flc_liquid_options *o)
{
    o->u_nu_relative = 2.0;
} /* per cent by mistake */
static void no_provenance(flc_liquid_options *o)
{
    o->nu_provenance = (flc_provenance)0;
}
static void odd_provenance(flc_liquid_options *o)
{
    o->nu_provenance = (flc_provenance)6;
}
static void no_source(flc_liquid_options *o)
{
    o->nu_source = NULL;
}

static const struct {
    spoil *spoil;
    int field; /* fields of one number exclude each other */
    flc_status status;
    const char *argument;
} spoilt[] = {
    {no_name, 1, FLC_E_MISSING, "name"},
    {empty_name, 1, FLC_E_MISSING, "name"},
    {long_name, 1, FLC_E_BUFFER, "name"},
    {no_volume, 2, FLC_E_MISSING, "volume"},
    {odd_volume, 2, FLC_E_CHOICE, "volume"},
    {no_base, 3, FLC_E_MISSING, "base"},
    {odd_base, 3, FLC_E_CHOICE, "base"},
    {no_product, 4, FLC_E_MISSING, "group"},
    {two_products, 4, FLC_E_CONFLICT, "alpha60_per_degf"},
    {odd_negative, 5, FLC_E_CHOICE, "negative_pressure"},
    {no_viscosity, 6, FLC_E_MISSING, "viscosity"},
    {odd_viscosity, 6, FLC_E_CHOICE, "viscosity"},
    {odd_form, 7, FLC_E_CHOICE, "form"},
    {odd_beyond, 8, FLC_E_CHOICE, "beyond"},
    {one_point, 9, FLC_E_COUNT, "points"},
    {many_points, 9, FLC_E_COUNT, "points"},
    {no_points, 10, FLC_E_NULL, "points"},
    {no_second, 11, FLC_E_NULL, "second"},
    {no_first_density, 12, FLC_E_NAN, "points.rho_base_kgm3"},
    {low_second_density, 13, FLC_E_BELOW, "second.rho_base_kgm3"},
    {same_density, 13, FLC_E_ORDER, "second.rho_base_kgm3"},
    {no_uncertainty, 14, FLC_E_MISSING, "u_nu_relative"},
    {large_uncertainty, 14, FLC_E_ABOVE, "u_nu_relative"},
    {no_provenance, 15, FLC_E_MISSING, "nu_provenance"},
    {odd_provenance, 15, FLC_E_CHOICE, "nu_provenance"},
    {no_source, 16, FLC_E_MISSING, "nu_source"},
};

#define SPOILT (sizeof spoilt / sizeof spoilt[0])

static void test_every_field_is_judged_and_the_first_bad_one_named(void **state)
{
    (void)state;
    for (size_t i = 0; i < SPOILT; i++) {
        flc_liquid_options options = all_fields();
        spoilt[i].spoil(&options);
        expect_refused(&options, spoilt[i].status, spoilt[i].argument);
        for (size_t j = i + 1; j < SPOILT; j++) {
            if (spoilt[j].field != spoilt[i].field) {
                options = all_fields();
                spoilt[j].spoil(&options);
                spoilt[i].spoil(&options);
                expect_refused(&options, spoilt[i].status, spoilt[i].argument);
            }
        }
    }
}

static void test_every_point_is_judged(void **state)
{
    (void)state;
    static const struct {
        int of_nu;
        size_t place;
        double value;
        flc_status status;
        const char *argument;
    } cases[] = {
        {0, 0, NAN, FLC_E_NAN, "points.t_degc"},      {0, 3, INFINITY, FLC_E_INFINITE, "points.t_degc"},
        {0, 0, -100.1, FLC_E_BELOW, "points.t_degc"}, {0, 3, 400.1, FLC_E_ABOVE, "points.t_degc"},
        {0, 2, 20.0, FLC_E_ORDER, "points.t_degc"},   {0, 2, 19.0, FLC_E_ORDER, "points.t_degc"},
        {1, 1, NAN, FLC_E_NAN, "points.nu_mm2s"},     {1, 3, 0.2, FLC_E_BELOW, "points.nu_mm2s"},
        {1, 0, 2.1e7, FLC_E_ABOVE, "points.nu_mm2s"}, {1, 2, 2.2, FLC_E_ORDER, "points.nu_mm2s"},
        {1, 2, 2.3, FLC_E_ORDER, "points.nu_mm2s"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        double t[4], nu[4];
        memcpy(t, invented_t_degc, sizeof t);
        memcpy(nu, invented_nu_mm2s, sizeof nu);
        (cases[i].of_nu ? nu : t)[cases[i].place] = cases[i].value;
        flc_liquid_options options = all_fields();
        options.points = (flc_viscosity_points){4, t, nu, 790.0};
        expect_refused(&options, cases[i].status, cases[i].argument);
        flc_liquid *liquid;
        flc_error error;
        assert_int_equal(flc_liquid_new(&options, &liquid, &error), cases[i].status);
        assert_int_equal(error.index, (int64_t)cases[i].place);
    }
}

static void test_rules_of_single_sources(void **state)
{
    (void)state;
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_ONE_POINT);
    options.slope_b = NAN;
    expect_refused(&options, FLC_E_NAN, "slope_b");
    options.slope_b = 0.4;
    expect_refused(&options, FLC_E_BELOW, "slope_b");
    options.points.count = 2;
    expect_refused(&options, FLC_E_COUNT, "points");
    options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_BETWEEN);
    expect_refused(&options, FLC_E_CONFLICT, "viscosity"); /* between by base density, and no base */
    options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_POINTS);
    options.form = FLC_D341_SIMPLE; /* from 2 mm2/s up only */
    expect_refused(&options, FLC_E_BELOW, "points.nu_mm2s");
    options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_TYPICAL);
    options.points.count = 0;
    expect_refused(&options, FLC_E_COUNT, "points");
}

static void test_options_not_set_up(void **state)
{
    (void)state;
    flc_liquid *liquid;
    flc_error error;
    flc_liquid_options options = all_fields();
    expect_refused(NULL, FLC_E_NULL, "options");
    assert_int_equal(flc_liquid_new(&options, NULL, &error), FLC_E_NULL);
    assert_string_equal(error.argument, "liquid");
    options.size--;
    expect_refused(&options, FLC_E_SIZE, "options");
    flc_liquid_options_init(&options);
    expect_refused(&options, FLC_E_MISSING, "name");
    assert_int_equal(flc_liquid_new(&options, &liquid, NULL), FLC_E_MISSING);
    flc_liquid_free(NULL);
}

static void test_the_allocation_may_fail(void **state)
{
    (void)state;
    const flc_liquid_options options = all_fields();
    const long before = flc_test_live_blocks();
    flc_test_fail_allocation(1);
    expect_refused(&options, FLC_E_MEMORY, "liquid");
    assert_true(flc_test_allocation_failed());
    flc_test_fail_allocation(0);
    assert_int_equal(flc_test_live_blocks(), before);
    flc_liquid_free(invented_liquid_of(&options));
    assert_int_equal(flc_test_live_blocks(), before);
}

/* ---- what it was made from ---- */

#define BYTES 4096

static size_t bytes_of(const flc_liquid_options *options, uint8_t bytes[BYTES])
{
    flc_liquid *liquid = invented_liquid_of(options);
    size_t needed = 0, again = 0;
    assert_int_equal(flc_liquid_canonical(liquid, NULL, 0, &needed), FLC_E_BUFFER);
    assert_true(needed < BYTES);
    bytes[needed] = 0x5A;
    assert_int_equal(flc_liquid_canonical(liquid, bytes, needed, &again), FLC_OK);
    assert_int_equal(needed, again);
    assert_int_equal(bytes[needed], 0x5A);
    assert_int_equal(flc_liquid_canonical(liquid, bytes, needed, NULL), FLC_E_NULL);
    assert_int_equal(flc_liquid_canonical(NULL, bytes, needed, &again), FLC_E_NULL);
    flc_liquid_free(liquid);
    return needed;
}

/* A liquid made again from its own description is the same; what it was given may be gone by then. */
static void test_describe_and_copy(void **state)
{
    (void)state;
    uint8_t first[BYTES], second[BYTES];
    for (int source = FLC_VISCOSITY_MEASURED; source <= FLC_VISCOSITY_TYPICAL; source++) {
        char name[] = "a name that is overwritten", nu_source[] = "so is the source";
        double t[] = {-20.0, 20.0, 60.0}, nu[] = {6.0, 2.0, 1.0};
        flc_liquid_options options = invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source),
                           told;
        options.name = name;
        options.nu_source = nu_source;
        options.points.t_degc = t;
        options.points.nu_mm2s = nu;
        options.points.count = source == FLC_VISCOSITY_ONE_POINT ? 1 : 3;
        const size_t needed = bytes_of(&options, first);
        flc_liquid *liquid = invented_liquid_of(&options);
        memset(name, '?', sizeof name - 1);
        memset(nu_source, '?', sizeof nu_source - 1);
        memset(t, 0xFF, sizeof t);
        memset(nu, 0xFF, sizeof nu);
        assert_int_equal(flc_liquid_describe(liquid, &told), FLC_OK);
        assert_string_equal(told.name, "a name that is overwritten");
        assert_int_equal(bytes_of(&told, second), needed);
        assert_memory_equal(first, second, needed);
        assert_int_equal(flc_liquid_describe(NULL, &told), FLC_E_NULL);
        assert_int_equal(flc_liquid_describe(liquid, NULL), FLC_E_NULL);
        flc_liquid_free(liquid);
    }
}

static const double other_t[] = {-20.0, 20.0, 60.0, 101.0}, other_nu[] = {6.1, 2.2, 1.15, 0.7100000000000001};

static void change_name(flc_liquid_options *o)
{
    o->name = "invented light fuel.";
}
static void change_volume(flc_liquid_options *o)
{
    o->volume = FLC_VOLUME_NONE;
}
static void change_group(flc_liquid_options *o)
{
    o->product.group = FLC_PETROLEUM_CRUDE;
}
static void give_alpha(flc_liquid_options *o)
{
    o->product = flc_petroleum_product_of_alpha60(450e-6);
}
static void change_base(flc_liquid_options *o)
{
    o->base = FLC_PETROLEUM_BASE_20C;
}
static void change_negative(flc_liquid_options *o)
{
    o->negative_pressure = FLC_NEGATIVE_CLAMP;
}
static void change_viscosity(flc_liquid_options *o)
{
    o->viscosity = FLC_VISCOSITY_TYPICAL;
}
static void change_form(flc_liquid_options *o)
{
    o->form = FLC_D341_FULL;
}
static void change_t(flc_liquid_options *o)
{
    o->points.t_degc = other_t;
}
static void change_nu(flc_liquid_options *o)
{
    o->points.nu_mm2s = other_nu;
}
static void change_count(flc_liquid_options *o)
{
    o->points.count = 3;
}
static void change_beyond(flc_liquid_options *o)
{
    o->beyond = FLC_VISCOSITY_EXTEND;
}
static void change_u(flc_liquid_options *o)
{
    o->u_nu_relative = 0.020000000000000004;
}
static void change_provenance(flc_liquid_options *o)
{
    o->nu_provenance = FLC_PUBLISHED;
}
static void change_source(flc_liquid_options *o)
{
    o->nu_source = "";
}
static void change_second_nu(flc_liquid_options *o)
{
    o->second.nu_mm2s = invented_nu_mm2s;
}
static void change_second_count(flc_liquid_options *o)
{
    o->second.count = 2;
}
static void change_density(flc_liquid_options *o)
{
    o->points.rho_base_kgm3 = 791.0;
}
static void change_second_density(flc_liquid_options *o)
{
    o->second.rho_base_kgm3 = 871.0;
}
static void change_slope(flc_liquid_options *o)
{
    o->slope_b = 4.0;
}

static const struct {
    spoil *change;
    unsigned used_by; /* bit of each source that the field matters to */
} changes[] = {
    {change_name, 31},        {change_group, 31},         {give_alpha, 31},      {change_base, 31},
    {change_negative, 31},    {change_viscosity, 15},     {change_form, 30},     {change_t, 30},
    {change_nu, 30},          {change_count, 26},         {change_beyond, 30},   {change_u, 31},
    {change_source, 31},      {change_provenance, 31},    {change_second_nu, 8}, {change_density, 8},
    {change_second_count, 8}, {change_second_density, 8}, {change_slope, 4},     {change_volume, 23},
};

/* A field that a liquid uses changes its bytes; one that it does not use leaves them. */
static void test_bytes_differ_where_the_liquids_differ(void **state)
{
    (void)state;
    uint8_t before[BYTES], after[BYTES];
    for (int source = FLC_VISCOSITY_MEASURED; source <= FLC_VISCOSITY_TYPICAL; source++) {
        const flc_liquid_options options =
            invented_liquid_options(FLC_VOLUME_PETROLEUM_2004, (flc_viscosity_source)source);
        const size_t needed = bytes_of(&options, before);
        for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
            const int matters = (changes[i].used_by >> source) & 1;
            if ((changes[i].change == change_volume && source == FLC_VISCOSITY_BETWEEN) ||
                (changes[i].change == change_count && source == FLC_VISCOSITY_ONE_POINT)) {
                continue; /* no such liquid */
            }
            flc_liquid_options changed = options;
            changes[i].change(&changed);
            const size_t size = bytes_of(&changed, after);
            const int same = size == needed && memcmp(before, after, size) == 0;
            if (same == matters) {
                fail_msg("source %d, change %zu: bytes are %s", source, i, same ? "the same" : "different");
            }
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_every_field_is_judged_and_the_first_bad_one_named),
        cmocka_unit_test(test_every_point_is_judged),
        cmocka_unit_test(test_rules_of_single_sources),
        cmocka_unit_test(test_options_not_set_up),
        cmocka_unit_test(test_the_allocation_may_fail),
        cmocka_unit_test(test_describe_and_copy),
        cmocka_unit_test(test_bytes_differ_where_the_liquids_differ),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
