/* SPDX-License-Identifier: Apache-2.0 */
/* Figures, and the methods they rest on, as JSON. */
#include "ticket_core.h"
#include "record_file.h"
#include "error.h"

/* ---- small builders: a key that could not be set makes the whole object fail, once, at the end ---- */

typedef struct builder {
    json_t *object;
    int failed;
} builder;

static builder start(void)
{
    builder b = {json_object(), 0};
    b.failed = b.object == NULL;
    return b;
}

static void put(builder *b, const char *key, json_t *value)
{
    b->failed |= json_object_set_new(b->object, key, value) != 0;
}

static void put_number(builder *b, const char *key, double number)
{
    put(b, key, flc_is_nan(number) ? json_null() : json_real(number)); /* an infinite one fails */
}

static void put_whole(builder *b, const char *key, int64_t number)
{
    put(b, key, json_integer(number));
}

/* Words of the bits that are set. */
static void put_words(builder *b, const char *key, uint32_t bits, const char *(*word_of)(unsigned bit))
{
    json_t *words = json_array();
    for (unsigned bit = 0; bit < 32; bit++) {
        if ((bits & (UINT32_C(1) << bit)) && word_of(bit) != NULL) {
            b->failed |= json_array_append_new(words, json_string(word_of(bit))) != 0;
        }
    }
    put(b, key, words);
}

static const char *trigger_word(unsigned bit)
{
    return flc_void_word((flc_void_trigger)bit);
}

static json_t *finish(builder *b)
{
    if (b->failed) {
        json_decref(b->object);
        b->object = NULL;
    }
    return b->object;
}

/* ---- figures ---- */

static json_t *result_tree(const flc_ticket_result *result)
{
    builder b = start();
#define PUT(name, unit, symbol, meaning, equation) put_number(&b, #name, result->name);
    FLC_TICKET_LIST(PUT)
#undef PUT
    put_whole(&b, "apart", result->apart);
    put_words(&b, "flags", result->flags, flc_flag_word);
    return finish(&b);
}

static json_t *ways_tree(const flc_two_ways *ways)
{
    builder b = start();
    put_number(&b, "gsv_intervals", ways->gsv_intervals);
    put_number(&b, "gsv_averages", ways->gsv_averages);
    put_number(&b, "difference_ppm", ways->difference_ppm);
    put_number(&b, "iv", ways->iv);
    put_number(&b, "gv", ways->gv);
    put_number(&b, "t_degc", ways->t_degc);
    put_number(&b, "p_kpag", ways->p_kpag);
    put_number(&b, "ctl", ways->ctl);
    put_number(&b, "cpl", ways->cpl);
    return finish(&b);
}

static json_t *density_tree(const flc_volume_factors *factors)
{
    builder b = start();
    put_number(&b, "rho60_kgm3", factors->rho60_kgm3);
    put_number(&b, "rho_base_kgm3", factors->rho_base_kgm3);
    put_words(&b, "flags", factors->flags, flc_flag_word);
    return finish(&b);
}

static json_t *interval_tree(const flc_interval_figures *interval)
{
    builder b = start();
    put_number(&b, "k", interval->k);
    put_number(&b, "iv", interval->iv);
    put_number(&b, "gv", interval->gv);
    put_number(&b, "ctl", interval->ctl);
    put_number(&b, "cpl", interval->cpl);
    put_number(&b, "gsv", interval->gsv);
    put_words(&b, "flags", interval->flags, flc_flag_word);
    return finish(&b);
}

static json_t *validity_tree(const flc_ticket_figures *figures)
{
    builder b = start();
    put_words(&b, "exceeded", figures->exceeded, trigger_word);
    put_words(&b, "unknown", figures->unknown, trigger_word);
    return finish(&b);
}

static flc_status put_hashes(builder *b, const flc_ticket_content *content)
{
    char meter[FLC_HASH_TEXT] = "", liquid[FLC_HASH_TEXT] = "";
    flc_status status = content->meter != NULL ? flc_meter_hash(content->meter, meter) : FLC_OK;
    if (status == FLC_OK && content->liquid != NULL) {
        status = flc_liquid_hash(content->liquid, liquid);
    }
    put(b, "meter_sha256", json_string(meter));
    put(b, "liquid_sha256", json_string(liquid));
    return status;
}

flc_status flc_ticket_write_figures(const flc_ticket_content *content, const flc_ticket_figures *figures, json_t **tree,
                                    flc_error *error)
{
    builder b = start();
    json_t *rows = json_array();
    for (size_t i = 0; i < figures->interval_count; i++) {
        b.failed |= json_array_append_new(rows, interval_tree(&figures->intervals[i])) != 0;
    }
    put(&b, "intervals", rows);
    put(&b, "result", result_tree(&figures->result));
    put(&b, "two_ways", ways_tree(&figures->ways));
    put(&b, "density", density_tree(&figures->at_averages));
    put(&b, "validity", validity_tree(figures));
    put_number(&b, "pulses", figures->pulses);
    put_number(&b, "gap_s", figures->gap_s);
    put_number(&b, "line_fill_change_m3", figures->line_fill_change_m3);
    put_whole(&b, "substituted", figures->substituted);
    const flc_status status = put_hashes(&b, content);
    *tree = finish(&b);
    if (status != FLC_OK) {
        json_decref(*tree);
        *tree = NULL;
        return flc_fail(error, status, "figures", -1, flc_nan(), flc_nan(), NULL);
    }
    return *tree != NULL ? FLC_OK : flc_ticket_no_memory(error);
}

/* ---- methods ---- */

static void add_chain(const flc_ticket_content *content, flc_record_head *head)
{
    const flc_ticket *ticket = &content->ticket;
    if (content->iv_source == FLC_IV_READINGS) {
        flc_record_add_method(head, "indicated_volume");
    }
    if (ticket->way == FLC_WAY_NOMINAL_K && !flc_is_nan(content->nkf)) {
        flc_record_add_method(head, "indicated_volume_from_pulses");
    }
    flc_record_add_method(head, "ccf");
    flc_record_add_method(head, "gsv");
    flc_record_add_method(head, "csw");
    flc_record_add_method(head, "nsv");
    flc_record_add_method(head, "swv");
    flc_record_add_method(head, ticket->air_form == FLC_AIR_PETROLEUM ? "weight_in_air_factor_petroleum"
                                                                      : "weight_in_air_factor");
}

static flc_status add_file_methods(json_t *methods, const json_t *file, flc_error *error)
{
    json_t *theirs = json_object_get(file, "methods");
    return theirs == NULL || json_array_extend(methods, theirs) == 0 ? FLC_OK : flc_ticket_no_memory(error);
}

flc_status flc_ticket_write_methods(const flc_ticket_content *content, const json_t *inputs, json_t **tree,
                                    flc_error *error)
{
    static const flc_record_field fields[] = {
        FLC_RECORD_ROWS_OF(flc_record_head, methods, method_count, FLC_RECORD_METHODS, &flc_record_method_object),
        FLC_RECORD_END,
    };
    static const flc_record_object object = {sizeof(flc_record_head), fields};
    const flc_record_place root = {NULL, "", -1};
    flc_record_head head;
    json_t *holder = NULL;
    memset(&head, 0, sizeof head);
    add_chain(content, &head);
    flc_status status = flc_record_write(&object, &head, &root, &holder, error);
    json_t *methods = json_incref(json_object_get(holder, "methods"));
    json_decref(holder);
    if (status == FLC_OK) {
        status = add_file_methods(methods, json_object_get(inputs, "meter"), error);
    }
    if (status == FLC_OK) {
        status = add_file_methods(methods, json_object_get(inputs, "liquid"), error);
    }
    if (status != FLC_OK) {
        json_decref(methods);
        methods = NULL;
    }
    *tree = methods;
    return status;
}
