/* SPDX-License-Identifier: Apache-2.0 */
#include "meter_body_core.h"
#include "fp_guard.h"
#include "method.h"
#include "struct_size.h"

static const char *const beyond_words[] = {"refuse", "extend", NULL};

flc_status flc_body_beyond_from_name(const char *name, flc_body_beyond *choice)
{
    return flc_choice_from_name(beyond_words, name, (int *)choice);
}

void flc_body_options_init_sized(flc_body_options *options, size_t own_size)
{
    flc_body_options fresh = {0};
    fresh.size = sizeof fresh;
    fresh.bore_m = flc_nan();
    fresh.t0_degc = flc_nan();
    fresh.p0_kpag = 0.0;
    fresh.housing.alpha_per_k = flc_nan();
    fresh.rotor.alpha_per_k = flc_nan();
    fresh.end = (flc_body_end)-1;
    fresh.wall_m = flc_nan();
    flc_give_sized(options, own_size, &fresh, sizeof fresh);
}

static int is_absent(const flc_metal *metal)
{
    return metal->law == FLC_EXPANSION_MEAN && flc_is_nan(metal->alpha_per_k);
}

const flc_metal *flc_body_rotor(const flc_body_options *options)
{
    return is_absent(&options->rotor) ? &options->housing : &options->rotor;
}

static flc_status require(flc_error *error, const char *field, double value, double low, double high)
{
    if (flc_is_nan(value)) {
        return flc_fail(error, FLC_E_MISSING, field, -1, flc_nan(), flc_nan(), NULL);
    }
    return flc_check_range(error, field, -1, value, low, high);
}

typedef struct metal_fields {
    const char *law, *alpha_per_k, *nist, *provenance, *source;
} metal_fields;

static flc_status check_metal(const flc_metal *metal, const metal_fields *field, flc_error *error)
{
    if (memchr(metal->source, '\0', sizeof metal->source) == NULL) {
        return flc_fail(error, FLC_E_BUFFER, field->source, -1, flc_nan(), sizeof metal->source - 1.0,
                        "the text has no end");
    }
    if (metal->source[0] == '\0') {
        return flc_fail(error, FLC_E_MISSING, field->source, -1, flc_nan(), flc_nan(),
                        "a coefficient names its source: the data sheet or certificate it was read from");
    }
    if ((int)metal->provenance < FLC_PUBLISHED || metal->provenance > FLC_USER_GIVEN) {
        return flc_fail(error, FLC_E_CHOICE, field->provenance, -1, (double)metal->provenance, flc_nan(),
                        "say where the coefficient comes from");
    }
    if (metal->law == FLC_EXPANSION_NIST_CRYOGENIC) {
        const int alloy = (int)metal->nist;
        return alloy >= FLC_NIST_304 && alloy <= FLC_NIST_C17200
                   ? FLC_OK
                   : flc_fail(error, FLC_E_CHOICE, field->nist, -1, (double)alloy, flc_nan(), NULL);
    }
    if (metal->law != FLC_EXPANSION_MEAN) {
        return flc_fail(error, FLC_E_CHOICE, field->law, -1, (double)metal->law, flc_nan(), NULL);
    }
    return flc_check_range(error, field->alpha_per_k, -1, metal->alpha_per_k, -5e-6, 1e-4);
}

static flc_status check_stretch(const flc_body_options *options, flc_error *error)
{
    if ((int)options->end < FLC_END_NONE || options->end > FLC_END_LAME_HELD) {
        return flc_fail(error, (int)options->end == -1 ? FLC_E_MISSING : FLC_E_CHOICE, "end", -1, (double)options->end,
                        flc_nan(), "choose an end condition; none for a pressure-balanced body");
    }
    if (options->end == FLC_END_NONE) {
        return FLC_OK;
    }
    flc_status status = require(error, "wall_m", options->wall_m, 1e-4, 1.0);
    if (status == FLC_OK) {
        status = require(error, "housing.modulus_gpa", options->housing.modulus_gpa, 1.0, 1000.0);
    }
    if (status == FLC_OK) {
        status = require(error, "housing.poisson", options->housing.poisson, 0.0, 0.5);
    }
    return status;
}

static flc_status check_beyond(const flc_body_options *options, flc_error *error)
{
    if ((int)options->beyond < FLC_BODY_REFUSE || options->beyond > FLC_BODY_EXTEND) {
        return flc_fail(error, FLC_E_CHOICE, "beyond", -1, (double)options->beyond, flc_nan(), "refuse or extend");
    }
    const flc_body_model model = flc_body_model_of(options);
    return flc_body_check_temperature(&model, "t0_degc", options->t0_degc, error);
}

static const metal_fields housing_fields = {"housing.law", "housing.alpha_per_k", "housing.nist", "housing.provenance",
                                            "housing.source"};
static const metal_fields rotor_fields = {"rotor.law", "rotor.alpha_per_k", "rotor.nist", "rotor.provenance",
                                          "rotor.source"};

flc_status flc_body_check(const flc_body_options *options, flc_error *error)
{
    flc_error_clear(error);
    if (options == NULL) {
        return flc_fail(error, FLC_E_NULL, "body", -1, flc_nan(), flc_nan(), NULL);
    }
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "body", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    flc_fp_state state = flc_fp_enter();
    flc_status status = require(error, "bore_m", options->bore_m, 0.001, 2.0);
    if (status == FLC_OK) {
        status = require(error, "t0_degc", options->t0_degc, FLC_BODY_T_LOW, FLC_BODY_T_HIGH);
    }
    if (status == FLC_OK) {
        status = require(error, "p0_kpag", options->p0_kpag, 0.0, FLC_BODY_P_HIGH);
    }
    if (status == FLC_OK && is_absent(&options->housing)) {
        status = flc_fail(error, FLC_E_MISSING, "housing", -1, flc_nan(), flc_nan(), "name the metal and its source");
    }
    if (status == FLC_OK) {
        status = check_metal(&options->housing, &housing_fields, error);
    }
    if (status == FLC_OK) {
        status = check_metal(flc_body_rotor(options), &rotor_fields, error);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "area_blocked", -1, options->area_blocked, 0.0, 0.95);
    }
    if (status == FLC_OK) {
        status = check_stretch(options, error);
    }
    if (status == FLC_OK) {
        status = check_beyond(options, error);
    }
    flc_fp_leave(state);
    return status;
}

static double higher(double a, double b)
{
    return a > b ? a : b;
}

static double lower(double a, double b)
{
    return a < b ? a : b;
}

flc_body_model flc_body_model_of(const flc_body_options *options)
{
    flc_body_model model = {.d0_m = options->bore_m,
                            .t0_degc = options->t0_degc,
                            .p0_kpag = options->p0_kpag,
                            .area_blocked = options->area_blocked,
                            .per_open = 1.0 / (1.0 - options->area_blocked),
                            .housing = options->housing,
                            .rotor = *flc_body_rotor(options),
                            .t_low_degc = FLC_BODY_T_LOW,
                            .t_high_degc = FLC_BODY_T_HIGH};
    if (options->beyond == FLC_BODY_REFUSE) {
        model.t_low_degc = higher(model.housing.t_low_degc, model.rotor.t_low_degc);
        model.t_high_degc = lower(model.housing.t_high_degc, model.rotor.t_high_degc);
    }
    if (options->end != FLC_END_NONE) {
        const double outer_m = options->bore_m + 2.0 * options->wall_m;
        model.strain_per_kpa = flc_body_hoop_per_pressure(options->end, options->bore_m, outer_m,
                                                          options->housing.modulus_gpa * 1e6, options->housing.poisson);
    }
    if (model.housing.provenance == FLC_FROM_MEMORY || model.rotor.provenance == FLC_FROM_MEMORY) {
        model.flags |= FLC_FLAG_FROM_MEMORY;
    }
    return model;
}

static void state_to_nan(flc_body_state *state)
{
    const double nothing = flc_nan();
    const flc_body_state blank = {nothing, nothing, nothing, nothing, nothing, 0};
    *state = blank;
}

flc_status flc_body_at(const flc_body_options *body, double t_degc, double p_kpag, flc_body_state *state)
{
    if (state == NULL) {
        return FLC_E_NULL;
    }
    state_to_nan(state);
    flc_status status = flc_body_check(body, NULL);
    if (status != FLC_OK) {
        return status;
    }
    flc_fp_state fp = flc_fp_enter();
    status = flc_check_range(NULL, "t_degc", -1, t_degc, FLC_BODY_T_LOW, FLC_BODY_T_HIGH);
    if (status == FLC_OK) {
        status = flc_check_range(NULL, "p_kpag", -1, p_kpag, 0.0, FLC_BODY_P_HIGH);
        status = status == FLC_E_BELOW ? FLC_E_NEGATIVE_PRESSURE : status;
    }
    const flc_body_model model = flc_body_model_of(body);
    if (status == FLC_OK) {
        status = flc_body_check_temperature(&model, "t_degc", t_degc, NULL);
    }
    if (status == FLC_OK) {
        *state = flc_body_evaluate(&model, t_degc, p_kpag);
    }
    flc_fp_leave(fp);
    return status;
}

static void put_metal(flc_canonical *out, const flc_metal *metal)
{
    flc_put_i64(out, metal->law);
    flc_put_double(out, metal->alpha_per_k);
    flc_put_i64(out, metal->law == FLC_EXPANSION_NIST_CRYOGENIC ? (int64_t)metal->nist : -1);
    flc_put_double(out, metal->t_low_degc);
    flc_put_double(out, metal->t_high_degc);
    flc_put_double(out, metal->modulus_gpa);
    flc_put_double(out, metal->poisson);
    flc_put_i64(out, metal->provenance);
    flc_put_text(out, metal->source);
}

void flc_body_put(flc_canonical *out, const flc_body_options *options)
{
    flc_put_text(out, "flowcomp-body-1");
    flc_put_double(out, options->bore_m);
    flc_put_double(out, options->t0_degc);
    flc_put_double(out, options->p0_kpag);
    put_metal(out, &options->housing);
    put_metal(out, flc_body_rotor(options));
    flc_put_double(out, options->area_blocked);
    flc_put_i64(out, options->end);
    flc_put_double(out, options->end == FLC_END_NONE ? flc_nan() : options->wall_m);
    flc_put_i64(out, options->beyond);
}
