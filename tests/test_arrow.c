/* SPDX-License-Identifier: Apache-2.0 */
/* Arrays of the Arrow C data interface: the bits of the batch, whole, sliced, with nulls and at any address, and every
 * refusal names its child. The layout is that of the standard (Apache Arrow, The Arrow C data interface). */
#include "arrow_producer.h"

#include "arrow_core.h"

/* ---- the same bits ---- */

static void test_bits_of_the_batch(void **state)
{
    (void)state;
    size_t expected_refused = 0;
    flc_totals whole, totals;
    assert_int_equal(flc_totals_start(&whole, 1e-9), FLC_OK);
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    for (size_t i = 0; i < RECORDS; i++) {
        expected_refused += expected[i].status != FLC_OK;
        assert_int_equal(flc_totals_add(&whole, readings[i].pulses, &expected[i]), FLC_OK);
    }
    assert_in_range(expected_refused, RECORDS / 10, RECORDS * 9 / 10);
    for (size_t shift = 0; shift <= 8; shift++) { /* addresses that are no multiple of anything */
        producer p;
        struct ArrowArray results;
        size_t refused = 0;
        produce(&p, 0, RECORDS, 0, shift);
        assert_int_equal(flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, NULL, NULL, 0,
                                                  shift == 3 ? &totals : NULL, &results, &refused, NULL),
                         FLC_OK);
        assert_int_equal(refused, expected_refused);
        check_records(&results, 0, RECORDS);
        results.release(&results);
        drop(&p);
    }
    assert_memory_equal(&totals, &whole, sizeof totals);
}

static void test_slices(void **state)
{
    (void)state;
    static const size_t skips[] = {0, 1, 7, 8, 9, 63};
    static const size_t lengths[] = {0, 1, 7, 8, 64, 65, 1500};
    for (size_t a = 0; a < sizeof skips / sizeof skips[0]; a++) {
        for (size_t b = 0; b < sizeof lengths / sizeof lengths[0]; b++) {
            producer p;
            struct ArrowArray results;
            produce(&p, 0, 1600, skips[a], 0); /* children with an offset, and a struct with one of its own */
            p.array.offset = (int64_t)(a * 11);
            p.array.length = (int64_t)lengths[b];
            uint8_t *bits = add_validity(&p, 5, 1600 + skips[a]);
            for (size_t i = 0; i < skips[a] + a * 11; i++) {
                clear_bit(bits, i); /* nulls before the slice are none of it */
            }
            assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
            check_records(&results, a * 11, lengths[b]);
            results.release(&results);
            drop(&p);
        }
    }
}

/* A NaN of the producer's, of whatever bits, leaves as the one NaN. */
static void test_one_nan(void **state)
{
    (void)state;
    producer p;
    produce(&p, 0, RECORDS, 0, 0);
    double odd[RECORDS];
    memcpy(odd, p.children[5].buffers[1], sizeof odd);
    const uint64_t bits = UINT64_C(0xFFF8DEAD00000000);
    memcpy(&odd[0], &bits, sizeof bits);
    p.buffers[5][1] = odd;
    flc_reading reading;
    flc_reading_init(&reading);
    assert_int_equal(flc_arrow_reading(&p.schema, &p.array, NULL, 0, &reading, NULL), FLC_OK);
    flc_check_same_bits(reading.t_degc, flc_nan());
    drop(&p);
}

static void test_nulls_are_absent(void **state)
{
    (void)state;
    producer p;
    struct ArrowArray results;
    produce(&p, 0, RECORDS, 3, 0);
    uint8_t *bits[3] = {add_validity(&p, 0, RECORDS + 3), add_validity(&p, 5, RECORDS + 3),
                        add_validity(&p, COLUMNS, RECORDS)};
    uint64_t seed = 7;
    flc_reading *with_nulls = calloc(RECORDS, sizeof *with_nulls);
    assert_non_null(with_nulls);
    for (size_t i = 0; i < RECORDS; i++) {
        with_nulls[i] = readings[i];
        const uint64_t which = flc_draw_below(&seed, 9);
        if (which == 0) {
            with_nulls[i].pulses = flc_nan();
            clear_bit(bits[0], i + 3);
        } else if (which == 1) {
            with_nulls[i].t_degc = flc_nan();
            clear_bit(bits[1], i + 3);
        } else if (which == 2) {
            clear_bit(bits[2], i); /* the record as a whole */
            flc_reading_init(&with_nulls[i]);
            with_nulls[i].density.densitometer_factor = flc_nan();
        }
    }
    assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
    for (size_t i = 0; i < RECORDS; i++) {
        const flc_result one = evaluated(meter, liquid, &with_nulls[i]);
        check_record(&results, i, &one);
        flc_reading reading;
        flc_reading_init(&reading);
        assert_int_equal(flc_arrow_reading(&p.schema, &p.array, NULL, i, &reading, NULL), FLC_OK);
        flc_check_same_bits(reading.pulses, flc_is_nan(with_nulls[i].pulses) ? flc_nan() : with_nulls[i].pulses);
        flc_check_same_bits(reading.t_degc, flc_is_nan(with_nulls[i].t_degc) ? flc_nan() : with_nulls[i].t_degc);
        const flc_result again = evaluated(meter, liquid, &reading);
        check_same_result(&again, &one);
    }
    results.release(&results);
    p.children[0].null_count = 0; /* a producer that says so is believed: the bitmap is not looked at */
    p.children[5].null_count = 0;
    p.array.null_count = 0;
    assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
    check_records(&results, 0, RECORDS);
    results.release(&results);
    free(with_nulls);
    drop(&p);
}

static void test_columns_are_read_where_they_lie(void **state)
{
    (void)state;
    producer p;
    flc_arrow_table table;
    struct ArrowArray results;
    produce(&p, 0, RECORDS, 5, 0);
    add_validity(&p, 0, RECORDS + 5); /* a bitmap without a null in it changes nothing */
    p.array.offset = 10;
    p.array.length = RECORDS - 10;
    assert_int_equal(flc_arrow_open(&p.schema, &p.array, NULL, &table, NULL), FLC_OK);
    assert_int_equal(table.copied, 0);
    assert_ptr_equal(table.readings.pulses.start, p.memory[0] + 15 * sizeof(double));
    assert_ptr_equal(table.readings.f_highest_hz.start, p.memory[COLUMNS - 1] + 15 * sizeof(double));
    const long before = flc_test_allocations();
    assert_int_equal(evaluate(&p, NULL, &results, NULL, NULL), FLC_OK);
    assert_int_equal(flc_test_allocations() - before, 2); /* the memory of the results, and their struct */
    results.release(&results);
    drop(&p);
}

/* ---- constants and outputs ---- */

static void test_constants_and_outputs(void **state)
{
    (void)state;
    static const char *const wanted[] = {"v_base_m3", "k_per_m3"};
    const flc_reading hour = invented_reading();
    const flc_result one = evaluated(meter, liquid, &hour);
    producer p;
    struct ArrowArray results;
    size_t refused = 9;
    flc_error error;
    produce(&p, 0, RECORDS, 0, 0);
    p.array.n_children = p.schema.n_children = 0;
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, &hour, wanted, 2, NULL, &results, &refused, NULL),
        FLC_OK);
    assert_int_equal(refused, 0);
    assert_int_equal(results.n_children, 4);
    for (size_t i = 0; i < RECORDS; i += 97) {
        flc_check_same_bits(number_at(&results, 0, i), one.v_base_m3);
        flc_check_same_bits(number_at(&results, 1, i), one.k_per_m3);
        assert_int_equal(((const uint32_t *)results.children[2]->buffers[1])[i], one.flags);
    }
    results.release(&results);
    assert_int_equal(evaluate(&p, NULL, &results, &refused, NULL), FLC_OK); /* nothing given: every record is refused */
    assert_int_equal(refused, RECORDS);
    results.release(&results);
    p.array.n_children = p.schema.n_children = 2;
    assert_int_equal(evaluate(&p, &hour, &results, &refused, &error), FLC_E_CONFLICT);
    assert_string_equal(error.argument, "pulses");
    assert_null(results.release);
    drop(&p);
}

static void test_the_type(void **state)
{
    (void)state;
    static const char *const wanted[] = {"st"};
    struct ArrowSchema schema;
    assert_int_equal(flc_arrow_schema(NULL, 0, &schema, NULL), FLC_OK);
    assert_string_equal(schema.format, "+s");
    assert_int_equal(schema.n_children, RESULT_COLUMNS + 2);
    assert_string_equal(schema.children[0]->name, "f_hz");
    assert_string_equal(schema.children[0]->format, "g");
    assert_string_equal(schema.children[RESULT_COLUMNS]->name, "flags");
    assert_string_equal(schema.children[RESULT_COLUMNS]->format, "I");
    assert_string_equal(schema.children[RESULT_COLUMNS + 1]->name, "status");
    assert_string_equal(schema.children[RESULT_COLUMNS + 1]->format, "C");
    struct ArrowSchema moved = *schema.children[3];
    schema.children[3]->release = NULL;
    schema.release(&schema);
    assert_null(schema.release);
    assert_string_equal(moved.name, "b_ratio");
    moved.release(&moved);
    assert_null(moved.release);
    assert_int_equal(flc_arrow_schema(wanted, 1, &schema, NULL), FLC_OK);
    assert_int_equal(schema.n_children, 3);
    schema.release(&schema);
    assert_int_equal(flc_arrow_schema(wanted, 0, &schema, NULL), FLC_OK); /* flags and status alone */
    assert_int_equal(schema.n_children, 2);
    schema.release(&schema);
}

/* ---- refusals ---- */

static void refused_as(const producer *p, flc_status status, const char *argument, const char *words)
{
    struct ArrowArray results = {.release = release_array};
    flc_reading reading;
    flc_reading_init(&reading);
    flc_error error;
    size_t refused = 9;
    const long blocks = flc_test_live_blocks();
    assert_int_equal(evaluate(p, NULL, &results, &refused, &error), status);
    assert_null(results.release);
    assert_int_equal(refused, 0);
    assert_int_equal(flc_test_live_blocks(), blocks);
    assert_int_equal(error.status, status);
    assert_string_equal(error.argument, argument);
    if (strstr(error.message, words) == NULL) {
        fail_msg("\"%s\" does not say \"%s\"", error.message, words);
    }
    assert_int_equal(flc_arrow_reading(&p->schema, &p->array, NULL, 0, &reading, NULL), status);
    flc_check_nan(reading.pulses);
}

#define REFUSED(CHANGE, STATUS, ARGUMENT, WORDS) \
    do {                                         \
        producer p;                              \
        produce(&p, 0, 20, 0, 0);                \
        CHANGE;                                  \
        refused_as(&p, STATUS, ARGUMENT, WORDS); \
        drop(&p);                                \
    } while (0)

static void test_refusals_name_the_child(void **state)
{
    (void)state;
    REFUSED(p.types[3].name = "frequency", FLC_E_UNKNOWN_NAME, "frequency", "rename it");
    REFUSED(p.types[3].name = NULL, FLC_E_UNKNOWN_NAME, "", "rename it");
    REFUSED(p.types[3].name = "pulses", FLC_E_DUPLICATE, "pulses", "leave one of them out");
    REFUSED(p.types[0].format = "l", FLC_E_SCHEMA, "pulses", "cast it to float64; its Arrow format is l");
    REFUSED(p.types[0].format = NULL, FLC_E_SCHEMA, "pulses", "cast it to float64");
    REFUSED(p.types[0].dictionary = &p.types[1], FLC_E_SCHEMA, "pulses", "a dictionary");
    REFUSED(p.schema.format = "g", FLC_E_SCHEMA, "readings", "give a struct");
    REFUSED(p.children[5].length = 19, FLC_E_COUNT, "t_degc", "shorter");
    REFUSED(p.array.offset = 1, FLC_E_COUNT, "pulses", "shorter");
    REFUSED(p.array.length = INT64_MAX, FLC_E_COUNT, "readings", "length");
    REFUSED(p.array.length = -1, FLC_E_COUNT, "readings", "length");
    REFUSED(p.children[1].offset = -1, FLC_E_COUNT, "duration_s", "offset");
    REFUSED(p.children[1].offset = INT64_MAX, FLC_E_COUNT, "duration_s", "offset");
    REFUSED(p.children[1].n_buffers = 3, FLC_E_COUNT, "duration_s", "two");
    REFUSED(p.children[1].buffers = NULL, FLC_E_COUNT, "duration_s", "two");
    REFUSED(p.children[1].null_count = 2, FLC_E_COUNT, "duration_s", "no validity bitmap");
    REFUSED(p.array.null_count = 2, FLC_E_COUNT, "readings", "no validity bitmap");
    REFUSED(p.array.n_buffers = 0, FLC_E_COUNT, "readings", "one buffer");
    REFUSED(p.buffers[1][1] = NULL, FLC_E_MISSING, "duration_s", "NULL");
    REFUSED(p.array.n_children = 3, FLC_E_COUNT, "readings", "not the same children");
    REFUSED(p.array.n_children = p.schema.n_children = -1, FLC_E_COUNT, "readings", "not the same children");
    REFUSED(p.array.children = NULL, FLC_E_COUNT, "readings", "not the same children");
    REFUSED(p.array.children[2] = NULL, FLC_E_MISSING, "flowing_s", "export the table again");
    REFUSED(p.schema.children[2] = NULL, FLC_E_MISSING, "readings", "export the table again");
    REFUSED(p.children[2].release = NULL, FLC_E_MISSING, "flowing_s", "export the table again");
    REFUSED(p.array.release = NULL, FLC_E_MISSING, "readings", "export it again");
    REFUSED(p.schema.release = NULL, FLC_E_MISSING, "schema", "export it again");
}

static void test_refused_pointers_and_outputs(void **state)
{
    (void)state;
    static const char *const unknown[] = {"st", "volume"}, *const twice[] = {"st", "ro", "st"}, *const none[] = {NULL};
    struct ArrowArray results;
    struct ArrowSchema schema;
    struct ArrowArrayStream stream;
    flc_reading reading;
    flc_error error;
    producer p;
    produce(&p, 0, 20, 0, 0);
    assert_int_equal(
        flc_meter_evaluate_arrow(NULL, liquid, &p.schema, &p.array, NULL, NULL, 0, NULL, &results, NULL, NULL),
        FLC_E_NULL);
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, NULL, &p.schema, &p.array, NULL, NULL, 0, NULL, &results, NULL, NULL),
        FLC_E_NULL);
    assert_int_equal(flc_meter_evaluate_arrow(meter, liquid, NULL, &p.array, NULL, NULL, 0, NULL, &results, NULL, NULL),
                     FLC_E_NULL);
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, NULL, NULL, NULL, 0, NULL, &results, NULL, NULL),
        FLC_E_NULL);
    assert_null(results.release);
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, NULL, NULL, 0, NULL, NULL, NULL, NULL),
        FLC_E_NULL);
    flc_totals totals = {0};
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, NULL, NULL, 0, &totals, &results, NULL, NULL),
        FLC_E_SIZE);
    flc_reading_init(&reading);
    reading.size = 1;
    assert_int_equal(evaluate(&p, &reading, &results, NULL, NULL), FLC_E_SIZE);
    assert_int_equal(flc_arrow_reading(&p.schema, &p.array, NULL, 0, &reading, NULL), FLC_E_SIZE);
    flc_reading_init(&reading);
    assert_int_equal(flc_arrow_reading(&p.schema, &p.array, NULL, 20, &reading, &error), FLC_E_ABOVE);
    flc_check_near(error.limit, 19.0, 0.0);
    assert_int_equal(flc_arrow_reading(&p.schema, &p.array, NULL, 0, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_schema(unknown, 2, &schema, &error), FLC_E_UNKNOWN_NAME);
    assert_null(schema.release);
    assert_int_equal(error.index, 1);
    assert_non_null(strstr(error.message, "volume"));
    assert_int_equal(flc_arrow_schema(twice, 3, &schema, &error), FLC_E_DUPLICATE);
    assert_int_equal(flc_arrow_schema(none, 1, &schema, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_schema(NULL, 0, NULL, NULL), FLC_E_NULL);
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, NULL, unknown, 2, NULL, &results, NULL, NULL),
        FLC_E_UNKNOWN_NAME);
    assert_int_equal(flc_arrow_share(NULL, &results), FLC_E_NULL);
    assert_int_equal(flc_arrow_share(&p.array, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_share(&p.array, &results), FLC_E_CHOICE);
    const struct ArrowArray *foreign[] = {&p.array}, *nothing[] = {NULL};
    assert_int_equal(flc_arrow_stream(foreign, 1, NULL, 0, &stream, &error), FLC_E_CHOICE);
    assert_null(stream.release);
    assert_int_equal(flc_arrow_stream(nothing, 1, NULL, 0, &stream, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_stream(NULL, 1, NULL, 0, &stream, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_stream(foreign, 1, NULL, 0, NULL, NULL), FLC_E_NULL);
    assert_int_equal(flc_arrow_stream(NULL, 0, unknown, 2, &stream, NULL), FLC_E_UNKNOWN_NAME);
    drop(&p);
}

static void test_totals_that_overflow(void **state)
{
    (void)state;
    producer p;
    struct ArrowArray results;
    flc_totals totals;
    flc_error error;
    const long blocks = flc_test_live_blocks();
    produce(&p, 0, RECORDS, 0, 1);
    assert_int_equal(flc_totals_start(&totals, 1e-9), FLC_OK);
    totals.pulses_in = INT64_MAX - 100;
    assert_int_equal(
        flc_meter_evaluate_arrow(meter, liquid, &p.schema, &p.array, NULL, NULL, 0, &totals, &results, NULL, &error),
        FLC_E_OVERFLOW);
    assert_string_equal(error.argument, "totals");
    assert_null(results.release);
    assert_int_equal(flc_test_live_blocks(), blocks);
    drop(&p);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_bits_of_the_batch),       cmocka_unit_test(test_slices),
        cmocka_unit_test(test_one_nan),
        cmocka_unit_test(test_nulls_are_absent),
        cmocka_unit_test(test_columns_are_read_where_they_lie),
        cmocka_unit_test(test_constants_and_outputs),   cmocka_unit_test(test_the_type),
        cmocka_unit_test(test_refusals_name_the_child), cmocka_unit_test(test_refused_pointers_and_outputs),
        cmocka_unit_test(test_totals_that_overflow),
    };
    return cmocka_run_group_tests(tests, make_records, drop_records);
}
