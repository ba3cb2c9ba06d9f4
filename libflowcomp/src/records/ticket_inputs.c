/* SPDX-License-Identifier: Apache-2.0 */
/* The inputs of a ticket file: one table serves writing and reading; meter and liquid are whole files inside. */
#include "ticket_core.h"
#include "error.h"
#include "memory.h"
#include "record_words.h"
#include "struct_size.h"

static const flc_record_place inputs_place = {&(const flc_record_place){NULL, "", -1}, "inputs", -1};

void flc_interval_init(flc_interval *interval)
{
    const double none = flc_nan();
    *interval = (flc_interval){.start_ms = FLC_TIME_NONE,
                               .end_ms = FLC_TIME_NONE,
                               .iv = none,
                               .pulses = none,
                               .flowing_s = none,
                               .mf = 1.0,
                               .t_degc = none,
                               .p_kpag = none,
                               .nu_mm2s = none,
                               .substituted = ""};
}

static void blank_numbers(flc_void_numbers *numbers)
{
    for (int i = 0; i < FLC_VOID_COUNT; i++) {
        numbers->number[i] = flc_nan();
    }
}

void flc_ticket_content_init_sized(flc_ticket_content *content, size_t own_size)
{
    const double none = flc_nan();
    const flc_line_fill no_fill = {none, none, none, none, none, none, none, none, none, none};
    flc_ticket_content fresh = {.size = sizeof fresh,
                                .id = "",
                                .place = "",
                                .volume_unit = "m3",
                                .proving = "",
                                .remark = "",
                                .start_ms = FLC_TIME_NONE,
                                .end_ms = FLC_TIME_NONE,
                                .opening = none,
                                .closing = none,
                                .pulses = none,
                                .nkf = none,
                                .density = {none, none, none, none, 1.0},
                                .line_fill = {no_fill, no_fill},
                                .beside = {none, none, none, none, none, ""}};
    flc_ticket_init(&fresh.ticket);
    fresh.ticket.mf = none;
    blank_numbers(&fresh.validity.proving);
    blank_numbers(&fresh.validity.now);
    blank_numbers(&fresh.validity.limits);
    flc_give_sized(content, own_size, &fresh, sizeof fresh);
}

/* ---- the table ---- */

#define NUMBER(member) FLC_RECORD_NUMBER_OF(HERE, member)

#define HERE flc_rounding
static const flc_record_field rounding_fields[] = {
    FLC_RECORD_CHOICE_OF(HERE, kind, &flc_words_rounding),
    FLC_RECORD_SIGNED_OF(HERE, decimals),
    NUMBER(step),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object rounding_object = {sizeof(flc_rounding), rounding_fields};

#define HERE flc_ticket_rounding
static const flc_record_field policy_fields[] = {
    FLC_RECORD_OBJECT_OF(HERE, factors, &rounding_object), FLC_RECORD_OBJECT_OF(HERE, ccf, &rounding_object),
    FLC_RECORD_OBJECT_OF(HERE, csw, &rounding_object),     FLC_RECORD_OBJECT_OF(HERE, volume, &rounding_object),
    FLC_RECORD_OBJECT_OF(HERE, mass, &rounding_object),    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object policy_object = {sizeof(flc_ticket_rounding), policy_fields};

#define HERE flc_ticket
static const flc_record_field ticket_fields[] = {
    FLC_RECORD_CHOICE_OF(HERE, way, &flc_words_way),
    NUMBER(iv),
    NUMBER(unit_m3),
    NUMBER(mf),
    NUMBER(body_ratio),
    NUMBER(ctl),
    NUMBER(cpl),
    NUMBER(ctpl),
    NUMBER(sw_pct),
    FLC_RECORD_CHOICE_OF(HERE, sw_basis, &flc_words_sw_basis),
    NUMBER(sw_limit_pct),
    NUMBER(ctl_water),
    NUMBER(cpl_water),
    NUMBER(rho_base_kgm3),
    NUMBER(rho_water_base_kgm3),
    FLC_RECORD_CHOICE_OF(HERE, air_form, &flc_words_air_form),
    NUMBER(rho_air_kgm3),
    NUMBER(rho_weights_kgm3),
    FLC_RECORD_OBJECT_OF(HERE, rounding, &policy_object),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object ticket_object = {sizeof(flc_ticket), ticket_fields};

#define HERE flc_density
static const flc_record_field density_fields[] = {
    NUMBER(rho_base_kgm3),   NUMBER(rho_observed_kgm3),   NUMBER(t_observed_degc),
    NUMBER(p_observed_kpag), NUMBER(densitometer_factor), FLC_RECORD_END,
};
#undef HERE
static const flc_record_object density_object = {sizeof(flc_density), density_fields};

#define HERE flc_interval
static const flc_record_field interval_fields[] = {
    FLC_RECORD_TIME_AT("start", HERE, start_ms),
    FLC_RECORD_TIME_AT("end", HERE, end_ms),
    NUMBER(iv),
    NUMBER(pulses),
    NUMBER(flowing_s),
    NUMBER(mf),
    NUMBER(t_degc),
    NUMBER(p_kpag),
    NUMBER(nu_mm2s),
    FLC_RECORD_TEXT_OF(HERE, substituted, 96),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object interval_object = {sizeof(flc_interval), interval_fields};

static void prepare_interval(void *row)
{
    flc_interval_init(row);
}

static const flc_record_field numbers_fields[] = {
#define TRIGGER(name, word, unit, meaning) FLC_RECORD_NUMBER_AT(word, flc_void_numbers, number[FLC_VOID_##name]),
    FLC_VOID_LIST(TRIGGER) FLC_RECORD_END,
#undef TRIGGER
};
static const flc_record_object numbers_object = {sizeof(flc_void_numbers), numbers_fields};

#define HERE flc_factor_validity
static const flc_record_field validity_fields[] = {
    FLC_RECORD_OBJECT_OF(HERE, proving, &numbers_object),
    FLC_RECORD_OBJECT_OF(HERE, now, &numbers_object),
    FLC_RECORD_OBJECT_OF(HERE, limits, &numbers_object),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object validity_object = {sizeof(flc_factor_validity), validity_fields};

#define HERE flc_line_fill
static const flc_record_field fill_fields[] = {
    NUMBER(base_volume_m3), NUMBER(base_t_degc), NUMBER(gc_per_degc), NUMBER(e_kpa), NUMBER(id_m),   NUMBER(wall_m),
    NUMBER(t_degc),         NUMBER(p_kpag),      NUMBER(ctl),         NUMBER(cpl),   FLC_RECORD_END,
};
#undef HERE
static const flc_record_object fill_object = {sizeof(flc_line_fill), fill_fields};

#define HERE flc_line_fills
static const flc_record_field fills_fields[] = {
    FLC_RECORD_OBJECT_OF(HERE, opening, &fill_object),
    FLC_RECORD_OBJECT_OF(HERE, closing, &fill_object),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object fills_object = {sizeof(flc_line_fills), fills_fields};

#define HERE flc_trail_head
static const flc_record_field head_fields[] = {
    FLC_RECORD_LONG_OF(HERE, number),
    FLC_RECORD_CHARS_OF(HERE, hash),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object head_object = {sizeof(flc_trail_head), head_fields};

#define HERE flc_ticket_beside
static const flc_record_field beside_fields[] = {
    NUMBER(reverse),   NUMBER(below_range),     NUMBER(maintenance),
    NUMBER(interface), NUMBER(interface_share), FLC_RECORD_TEXT_OF(HERE, interface_rule, 64),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object beside_object = {sizeof(flc_ticket_beside), beside_fields};

#define HERE flc_ticket_content
static const flc_record_field content_fields[] = {
    FLC_RECORD_TEXT_OF(HERE, id, 64),
    FLC_RECORD_TEXT_OF(HERE, place, 64),
    FLC_RECORD_TEXT_OF(HERE, volume_unit, 64),
    FLC_RECORD_TEXT_OF(HERE, proving, 64),
    FLC_RECORD_TEXT_OF(HERE, remark, 256),
    FLC_RECORD_TIME_AT("start", HERE, start_ms),
    FLC_RECORD_TIME_AT("end", HERE, end_ms),
    FLC_RECORD_CHOICE_OF(HERE, iv_source, &flc_words_iv_source),
    FLC_RECORD_CHOICE_OF(HERE, factors, &flc_words_factor_source),
    NUMBER(opening),
    NUMBER(closing),
    NUMBER(pulses),
    NUMBER(nkf),
    FLC_RECORD_OBJECT_OF(HERE, ticket, &ticket_object),
    FLC_RECORD_OBJECT_OF(HERE, density, &density_object),
    FLC_RECORD_TABLE_OF(HERE, intervals, interval_count, FLC_TICKET_INTERVALS_MAX, &interval_object, prepare_interval),
    FLC_RECORD_OBJECT_OF(HERE, validity, &validity_object),
    FLC_RECORD_OBJECT_OF(HERE, line_fill, &fills_object),
    FLC_RECORD_OBJECT_OF(HERE, beside, &beside_object),
    FLC_RECORD_OBJECT_OF(HERE, trail, &head_object),
    FLC_RECORD_END,
};
#undef HERE
static const flc_record_object content_object = {sizeof(flc_ticket_content), content_fields};

/* ---- writing ---- */

flc_status flc_ticket_no_memory(flc_error *error)
{
    return flc_fail(error, FLC_E_MEMORY, "", -1, flc_nan(), flc_nan(), NULL);
}

static flc_status set(json_t *object, const char *key, json_t *value, flc_error *error)
{
    return json_object_set_new(object, key, value) == 0 ? FLC_OK : flc_ticket_no_memory(error);
}

/* A text of this library as a tree. */
static flc_status set_file(json_t *object, const char *key, flc_status made, char *text, flc_error *error)
{
    json_t *tree = NULL;
    if (made == FLC_OK) {
        made = flc_record_parse(text, strlen(text), &tree, error);
    }
    flc_text_free(text);
    return made == FLC_OK ? set(object, key, tree, error) : made;
}

static flc_status set_files(const flc_ticket_content *content, json_t *tree, flc_error *error)
{
    flc_status status = FLC_OK;
    char *text = NULL;
    if (content->meter == NULL) {
        status = set(tree, "meter", json_null(), error);
    } else {
        const flc_status made = flc_meter_to_json(content->meter, &text, error);
        status = set_file(tree, "meter", made, text, error);
    }
    text = NULL;
    if (status == FLC_OK && content->liquid == NULL) {
        status = set(tree, "liquid", json_null(), error);
    } else if (status == FLC_OK) {
        const flc_status made = flc_liquid_to_json(content->liquid, &text, error);
        status = set_file(tree, "liquid", made, text, error);
    }
    return status;
}

flc_status flc_ticket_write_inputs(const flc_ticket_content *content, json_t **tree, flc_error *error)
{
    flc_status status = flc_record_write(&content_object, content, &inputs_place, tree, error);
    if (status == FLC_OK) {
        status = set_files(content, *tree, error);
    }
    if (status != FLC_OK) {
        json_decref(*tree);
        *tree = NULL;
    }
    return status;
}

/* ---- reading ---- */

static flc_status read_file(const json_t *file, int is_meter, flc_ticket_inputs *inputs, flc_error *error)
{
    if (json_is_null(file)) {
        return FLC_OK;
    }
    const char *key = is_meter ? "meter" : "liquid";
    char *text = json_is_object(file) ? json_dumps(file, JSON_REAL_PRECISION(17)) : NULL;
    if (text == NULL) {
        return json_is_object(file) ? flc_ticket_no_memory(error)
                                    : flc_record_fail(error, FLC_E_SCHEMA, &inputs_place, key, -1, flc_nan(), flc_nan(),
                                                      "an object or null belongs here");
    }
    const flc_status status = is_meter ? flc_meter_from_json(text, strlen(text), &inputs->meter, error)
                                       : flc_liquid_from_json(text, strlen(text), &inputs->liquid, error);
    flc_record_prefix(error, is_meter ? "inputs.meter." : "inputs.liquid.");
    free(text); /* jansson's */
    return status;
}

flc_status flc_ticket_read_inputs(const json_t *tree, flc_ticket_inputs *inputs, flc_error *error)
{
    memset(inputs, 0, sizeof *inputs);
    flc_ticket_content_init(&inputs->content);
    if (!json_is_object(tree)) {
        return flc_fail(error, FLC_E_SCHEMA, "inputs", -1, flc_nan(), flc_nan(), "an object belongs here");
    }
    json_t *fields = json_copy((json_t *)(uintptr_t)tree); /* shallow: texts stay where they are */
    if (fields == NULL) {
        return flc_ticket_no_memory(error);
    }
    const json_t *meter = json_object_get(tree, "meter"), *liquid = json_object_get(tree, "liquid");
    flc_status status = FLC_OK;
    if (meter == NULL || liquid == NULL) {
        status = flc_record_fail(error, FLC_E_SCHEMA, &inputs_place, meter == NULL ? "meter" : "liquid", -1, flc_nan(),
                                 flc_nan(), "missing");
    }
    json_object_del(fields, "meter");
    json_object_del(fields, "liquid");
    if (status == FLC_OK) {
        status = flc_record_read(&content_object, fields, &inputs_place, &inputs->content, error);
    }
    json_decref(fields);
    if (status == FLC_OK) {
        status = read_file(meter, 1, inputs, error);
    }
    if (status == FLC_OK) {
        status = read_file(liquid, 0, inputs, error);
    }
    inputs->content.meter = inputs->meter;
    inputs->content.liquid = inputs->liquid;
    return status;
}

void flc_ticket_release_inputs(flc_ticket_inputs *inputs)
{
    flc_record_release(&content_object, &inputs->content);
    flc_meter_free(inputs->meter);
    flc_liquid_free(inputs->liquid);
}

/* ---- inputs with keys left out ---- */

/* Put what is given over what is there; an object is gone into, anything else is replaced. */
static int lay_over(json_t *under, const json_t *over)
{
    json_t *walked = (json_t *)(uintptr_t)over;
    for (void *step = json_object_iter(walked); step != NULL; step = json_object_iter_next(walked, step)) {
        const char *key = json_object_iter_key(step);
        json_t *value = json_object_iter_value(step), *there = json_object_get(under, key);
        const int failed = json_is_object(there) && json_is_object(value) ? lay_over(there, value)
                                                                          : json_object_set(under, key, value);
        if (failed) {
            return failed;
        }
    }
    return 0;
}

static flc_status complete_intervals(json_t *tree, flc_error *error)
{
    flc_interval blank;
    json_t *given = json_object_get(tree, "intervals"), *rows = json_array();
    flc_interval_init(&blank);
    flc_status status = rows != NULL ? FLC_OK : flc_ticket_no_memory(error);
    for (size_t i = 0; status == FLC_OK && i < json_array_size(given); i++) {
        const json_t *row = json_array_get(given, i);
        json_t *whole = NULL;
        status = flc_record_write(&interval_object, &blank, &inputs_place, &whole, error);
        if (status == FLC_OK && !json_is_object(row)) {
            json_decref(whole);
            whole = json_incref(json_array_get(given, i)); /* reading refuses it by its place */
        } else if (status == FLC_OK && lay_over(whole, row) != 0) {
            status = flc_ticket_no_memory(error);
        }
        if (status == FLC_OK) {
            status = json_array_append(rows, whole) == 0 ? FLC_OK : flc_ticket_no_memory(error);
        }
        json_decref(whole);
    }
    if (status == FLC_OK && json_is_array(given)) {
        status = json_object_set(tree, "intervals", rows) == 0 ? FLC_OK : flc_ticket_no_memory(error);
    }
    json_decref(rows);
    return status;
}

flc_status flc_ticket_complete_inputs(const json_t *given, json_t **tree, flc_error *error)
{
    flc_ticket_content defaults;
    flc_ticket_content_init(&defaults);
    if (!json_is_object(given)) {
        return flc_fail(error, FLC_E_SCHEMA, "inputs", -1, flc_nan(), flc_nan(), "an object belongs here");
    }
    flc_status status = flc_ticket_write_inputs(&defaults, tree, error);
    if (status == FLC_OK && lay_over(*tree, given) != 0) {
        status = flc_ticket_no_memory(error);
    }
    if (status == FLC_OK) {
        status = complete_intervals(*tree, error);
    }
    if (status != FLC_OK) {
        json_decref(*tree);
        *tree = NULL;
    }
    return status;
}
