/* SPDX-License-Identifier: Apache-2.0 */
/* What a viscosity model, a blend and the pressure on a viscosity need of the options: judged, and cleared of what is
 * not used. */
#include "liquid_core.h"
#include "error.h"

#define COEFFICIENTS 5

static const unsigned char coefficients_of[] = {
    [FLC_MODEL_ANDRADE] = 2,   [FLC_MODEL_VOGEL] = 3, [FLC_MODEL_DUTT_PRASAD] = 3, [FLC_MODEL_DIPPR101] = 5,
    [FLC_MODEL_POWER_LAW] = 2, [FLC_MODEL_YAWS] = 4,  [FLC_MODEL_POLYNOMIAL] = 5,  [FLC_MODEL_D341_AB] = 2,
};

static int has_coefficients(const flc_liquid_options *options)
{
    return options->viscosity == FLC_VISCOSITY_MODEL && options->model <= FLC_MODEL_D341_AB;
}

static flc_status missing(const char *field, const char *hint, flc_error *error)
{
    return flc_fail(error, FLC_E_MISSING, field, -1, flc_nan(), flc_nan(), hint);
}

static flc_status choice(int value, int last, const char *field, flc_error *error)
{
    if (value == -1) {
        return missing(field, "it must be chosen: there is no default", error);
    }
    return value < 0 || value > last ? flc_fail(error, FLC_E_CHOICE, field, -1, (double)value, (double)last, NULL)
                                     : FLC_OK;
}

/* The formulas judge their own coefficients; here that they are numbers, and that the range is one. */
static flc_status check_coefficients(const flc_liquid_options *options, flc_error *error)
{
    static const char *const names[] = {"coefficients.c1", "coefficients.c2", "coefficients.c3", "coefficients.c4",
                                        "coefficients.c5"};
    const flc_viscosity_coefficients *c = &options->coefficients;
    const double value[COEFFICIENTS] = {c->c1, c->c2, c->c3, c->c4, c->c5};
    flc_status status = choice((int)options->kind, FLC_VISCOSITY_KINEMATIC, "kind", error);
    for (size_t i = 0; i < coefficients_of[options->model] && status == FLC_OK; i++) {
        status = flc_check_range(error, names[i], -1, value[i], -1e60, 1e60);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "model_t_low_degc", -1, options->model_t_low_degc, -200.0, 600.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "model_t_high_degc", -1, options->model_t_high_degc, options->model_t_low_degc,
                                 600.0);
    }
    return status;
}

/* A named liquid's model goes with its volume method. */
static flc_status check_named(const flc_liquid_options *options, flc_error *error)
{
    static const flc_volume_method of_model[] = {
        [FLC_MODEL_WATER_R12_08] = FLC_VOLUME_WATER,
        [FLC_MODEL_WATER_SR6_08] = FLC_VOLUME_WATER,
        [FLC_MODEL_SEAWATER_SHARQAWY] = FLC_VOLUME_SEAWATER_EOS80,
        [FLC_MODEL_SEAWATER_MILLERO] = FLC_VOLUME_SEAWATER_EOS80,
        [FLC_MODEL_GLYCOL_MELINDER] = FLC_VOLUME_GLYCOL_WATER_MELINDER_2010,
    };
    return options->volume == of_model[options->model]
               ? FLC_OK
               : flc_fail(error, FLC_E_CONFLICT, "model", -1, flc_nan(), flc_nan(),
                          "the model is that of another liquid than the volume method's");
}

static flc_status check_pressure(const flc_liquid_options *options, flc_error *error)
{
    flc_status status =
        choice((int)options->viscosity_pressure, FLC_VISCOSITY_PRESSURE_KOUZEL_API, "viscosity_pressure", error);
    const flc_viscosity_pressure pressure = options->viscosity_pressure;
    if (status == FLC_OK && (pressure == FLC_VISCOSITY_PRESSURE_BARUS || pressure == FLC_VISCOSITY_PRESSURE_ROELANDS)) {
        status = flc_check_range(error, "alpha_per_gpa", -1, options->alpha_per_gpa, 0.0, 200.0);
    }
    if (status == FLC_OK && pressure != FLC_VISCOSITY_PRESSURE_NONE && options->viscosity == FLC_VISCOSITY_MEASURED) {
        status = flc_fail(error, FLC_E_CONFLICT, "viscosity_pressure", -1, flc_nan(), flc_nan(),
                          "a measured viscosity is that at the meter");
    }
    return status;
}

flc_status flc_liquid_check_model(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = check_pressure(options, error);
    if (status == FLC_OK && options->viscosity == FLC_VISCOSITY_MODEL) {
        status = choice((int)options->model, FLC_MODEL_GLYCOL_MELINDER, "model", error);
        if (status == FLC_OK) {
            status = has_coefficients(options) ? check_coefficients(options, error) : check_named(options, error);
        }
    }
    if (status == FLC_OK && options->viscosity == FLC_VISCOSITY_BLEND) {
        status = choice((int)options->blend, FLC_BLEND_ASTM_D7152, "blend", error);
        if (status == FLC_OK) {
            status = flc_check_range(error, "share_second", -1, options->share_second, 0.0, 1.0);
        }
    }
    if (status != FLC_OK) {
        return status;
    }
    flc_viscosity_plan plan;
    flc_viscosity_plan_of(options, &plan);
    return plan.needs_density && options->volume == FLC_VOLUME_NONE
               ? flc_fail(error, FLC_E_CONFLICT, "viscosity", -1, flc_nan(), flc_nan(),
                          "this viscosity needs the density of the liquid: choose a volume correction")
               : FLC_OK;
}

void flc_liquid_keep_model(flc_liquid_options *options)
{
    flc_liquid_options blank;
    flc_liquid_options_init(&blank);
    double *const of[COEFFICIENTS] = {&options->coefficients.c1, &options->coefficients.c2, &options->coefficients.c3,
                                      &options->coefficients.c4, &options->coefficients.c5};
    const int own = has_coefficients(options);
    for (size_t i = own ? coefficients_of[options->model] : 0; i < COEFFICIENTS; i++) {
        *of[i] = flc_nan();
    }
    options->model = options->viscosity == FLC_VISCOSITY_MODEL ? options->model : blank.model;
    options->kind = !own                                  ? FLC_VISCOSITY_DYNAMIC
                    : options->model == FLC_MODEL_D341_AB ? FLC_VISCOSITY_KINEMATIC
                                                          : options->kind;
    options->model_t_low_degc = own ? options->model_t_low_degc : blank.model_t_low_degc;
    options->model_t_high_degc = own ? options->model_t_high_degc : blank.model_t_high_degc;
    const int has_alpha = options->viscosity_pressure == FLC_VISCOSITY_PRESSURE_BARUS ||
                          options->viscosity_pressure == FLC_VISCOSITY_PRESSURE_ROELANDS;
    options->alpha_per_gpa = has_alpha ? options->alpha_per_gpa : blank.alpha_per_gpa;
    const int is_blend = options->viscosity == FLC_VISCOSITY_BLEND;
    options->blend = is_blend ? options->blend : blank.blend;
    options->share_second = is_blend ? options->share_second : blank.share_second;
}
