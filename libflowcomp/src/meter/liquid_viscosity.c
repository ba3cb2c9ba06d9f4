/* SPDX-License-Identifier: Apache-2.0 */
/* The declared sources of viscosity. */
#include "liquid_core.h"
#include "error.h"
#include "fp_guard.h"
#include "flowcomp/viscosity_blending.h"
#include "method.h"

static const char *const family_words[] = {"jet_a",   "jp_8",    "jp_5",     "n_dodecane", "oil_s6",
                                           "oil_s20", "oil_s60", "oil_s200", NULL};

flc_status flc_d341_family_from_name(const char *name, flc_d341_family *choice)
{
    return flc_choice_from_name(family_words, name, (int *)choice);
}

/* B of W = A - B log10 T, body form. Jet fuels: least squares through the AFRL points at -40, -20, 40 and 100 °C
 * (Jet A 9.2 4.5 1.31 0.68; JP-8 6.6 3.5 1.14 0.61; JP-5 14.1 6.5 1.57 0.76 mm²/s). n-Dodecane: NIST
 * WebBook 2.938704991 mm²/s at 0.45 °C and 0.733723864 at 100.45 °C. Oils: ASTM D2162 nominal values at 20 and 100 °C
 * (11 1.8; 44 3.9; 170 7.2; 640 17 mm²/s), printed to two digits, so good to a few per cent. */
static const struct {
    double b;
    flc_provenance provenance;
} families[] = {
    [FLC_FAMILY_JET_A] = {3.94928860, FLC_PUBLISHED},     [FLC_FAMILY_JP_8] = {3.91481676, FLC_PUBLISHED},
    [FLC_FAMILY_JP_5] = {4.03940948, FLC_PUBLISHED},      [FLC_FAMILY_N_DODECANE] = {3.83280299, FLC_PUBLISHED},
    [FLC_FAMILY_OIL_S6] = {4.08923141, FLC_FROM_MEMORY},  [FLC_FAMILY_OIL_S20] = {3.78086262, FLC_FROM_MEMORY},
    [FLC_FAMILY_OIL_S60] = {3.77545836, FLC_FROM_MEMORY}, [FLC_FAMILY_OIL_S200] = {3.35882996, FLC_FROM_MEMORY},
};

flc_status flc_d341_family_slope(flc_d341_family family, double *b, flc_provenance *provenance)
{
    if (b != NULL) {
        *b = flc_nan();
    }
    if (b == NULL || provenance == NULL) {
        return FLC_E_NULL;
    }
    if ((int)family < 0 || (size_t)family >= FLC_COUNT_OF(families)) {
        return FLC_E_CHOICE;
    }
    *b = families[family].b;
    *provenance = families[family].provenance;
    return FLC_OK;
}

flc_provenance flc_liquid_slope_provenance(const flc_liquid_options *options)
{
    for (size_t i = 0; i < FLC_COUNT_OF(families); i++) {
        if (options->viscosity == FLC_VISCOSITY_ONE_POINT && options->slope_b == families[i].b) {
            return families[i].provenance;
        }
    }
    return options->nu_provenance;
}

/* ---- tables ---- */

static void build_lines(flc_viscosity_table *table, flc_d341_form form)
{
    for (size_t i = 0; i + 1 < table->count; i++) {
        table->line[i] = flc_d341_line_of_two_points(form, table->t_degc[i], table->nu_mm2s[i], table->t_degc[i + 1],
                                                     table->nu_mm2s[i + 1]);
    }
    table->t_low_degc = table->t_degc[0];
    table->t_high_degc = table->t_degc[table->count - 1];
}

static void build_one_point(flc_viscosity_table *table, flc_d341_form form, double slope_b)
{
    const flc_d341_line line = {form, table->t_degc[0] + FLC_D341_KELVIN, flc_d341_w(form, table->nu_mm2s[0]), slope_b};
    table->line[0] = line;
    table->t_low_degc = table->t_degc[0] - FLC_VISCOSITY_REACH_K;
    table->t_high_degc = table->t_degc[0] + FLC_VISCOSITY_REACH_K;
}

void flc_liquid_build_tables(flc_liquid *liquid)
{
    const flc_liquid_options *options = &liquid->options;
    switch (options->viscosity) {
    case FLC_VISCOSITY_MEASURED:
        break;
    case FLC_VISCOSITY_POINTS:
        build_lines(&liquid->first, options->form);
        break;
    case FLC_VISCOSITY_ONE_POINT:
        build_one_point(&liquid->first, options->form, options->slope_b);
        liquid->viscosity_flags = FLC_FLAG_VISCOSITY_ONE_POINT;
        break;
    case FLC_VISCOSITY_BETWEEN:
        build_lines(&liquid->first, options->form);
        build_lines(&liquid->second, options->form);
        liquid->viscosity_flags = FLC_FLAG_VISCOSITY_INTERPOLATED;
        break;
    case FLC_VISCOSITY_TYPICAL:
        build_lines(&liquid->first, options->form);
        liquid->viscosity_flags = FLC_FLAG_VISCOSITY_TYPICAL;
        break;
    case FLC_VISCOSITY_MODEL:
        liquid->first.t_low_degc = options->model_t_low_degc;
        liquid->first.t_high_degc = options->model_t_high_degc;
        liquid->viscosity_flags = FLC_FLAG_VISCOSITY_MODEL;
        break;
    case FLC_VISCOSITY_BLEND:
        build_lines(&liquid->first, options->form);
        build_lines(&liquid->second, options->form);
        liquid->viscosity_flags = FLC_FLAG_VISCOSITY_INTERPOLATED;
        break;
    }
    if (options->nu_provenance == FLC_FROM_MEMORY || flc_liquid_slope_provenance(options) == FLC_FROM_MEMORY) {
        liquid->viscosity_flags |= FLC_FLAG_FROM_MEMORY;
    }
}

/* ---- evaluating ---- */

static flc_status check_temperature(const flc_liquid *liquid, const flc_viscosity_table *table, double t_degc,
                                    uint32_t *flags, flc_error *error)
{
    const double reach = liquid->options.beyond == FLC_VISCOSITY_EXTEND ? FLC_VISCOSITY_REACH_K : 0.0;
    if (t_degc >= table->t_low_degc && t_degc <= table->t_high_degc) {
        return FLC_OK;
    }
    if (t_degc < table->t_low_degc - reach) {
        return flc_fail(error, FLC_E_BELOW_VISCOSITY_RANGE, "t_degc", -1, t_degc, table->t_low_degc - reach, NULL);
    }
    if (t_degc > table->t_high_degc + reach) {
        return flc_fail(error, FLC_E_ABOVE_VISCOSITY_RANGE, "t_degc", -1, t_degc, table->t_high_degc + reach, NULL);
    }
    *flags |= FLC_FLAG_VISCOSITY_EXTRAPOLATED;
    return FLC_OK;
}

/* From W to the viscosity, which must be one that the form has. */
static flc_status take_w(const flc_liquid *liquid, flc_viscosity_trace *trace)
{
    trace->nu_mm2s = flc_d341_nu_from_w(liquid->options.form, trace->w);
    return flc_d341_nu_is_inside(liquid->options.form, trace->nu_mm2s) ? FLC_OK : FLC_E_NO_ROOT;
}

static flc_status on_line(const flc_liquid *liquid, double t_degc, flc_viscosity_trace *trace, flc_error *error)
{
    flc_status status = check_temperature(liquid, &liquid->first, t_degc, &trace->flags, error);
    if (status != FLC_OK) {
        return status;
    }
    trace->lines = 1;
    trace->first = liquid->first.line[flc_viscosity_line_of(&liquid->first, t_degc)];
    trace->w = flc_d341_line_w(&trace->first, t_degc);
    return take_w(liquid, trace);
}

static flc_status between(const flc_liquid *liquid, double t_degc, double rho_base_kgm3, flc_viscosity_trace *trace,
                          flc_error *error)
{
    const double rho1 = liquid->first.rho_base_kgm3, rho2 = liquid->second.rho_base_kgm3;
    flc_status status = flc_check_range(error, "rho_base_kgm3", -1, rho_base_kgm3, rho1, rho2);
    if (status == FLC_OK) {
        status = check_temperature(liquid, &liquid->first, t_degc, &trace->flags, error);
    }
    if (status == FLC_OK) {
        status = check_temperature(liquid, &liquid->second, t_degc, &trace->flags, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    trace->lines = 2;
    trace->first = liquid->first.line[flc_viscosity_line_of(&liquid->first, t_degc)];
    trace->second = liquid->second.line[flc_viscosity_line_of(&liquid->second, t_degc)];
    trace->share = (rho_base_kgm3 - rho1) / (rho2 - rho1);
    const double w1 = flc_d341_line_w(&trace->first, t_degc), w2 = flc_d341_line_w(&trace->second, t_degc);
    trace->w = w1 + trace->share * (w2 - w1);
    return take_w(liquid, trace);
}

/* Both parts at the temperature, then the rule of the blend. */
static flc_status blend(const flc_liquid *liquid, double t_degc, flc_viscosity_trace *trace, flc_error *error)
{
    const flc_liquid_options *options = &liquid->options;
    const double share = options->share_second;
    flc_status status = check_temperature(liquid, &liquid->first, t_degc, &trace->flags, error);
    if (status == FLC_OK) {
        status = check_temperature(liquid, &liquid->second, t_degc, &trace->flags, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    trace->lines = 2;
    trace->first = liquid->first.line[flc_viscosity_line_of(&liquid->first, t_degc)];
    trace->second = liquid->second.line[flc_viscosity_line_of(&liquid->second, t_degc)];
    trace->share = share;
    trace->nu_first_mm2s = flc_d341_nu_from_w(options->form, flc_d341_line_w(&trace->first, t_degc));
    trace->nu_second_mm2s = flc_d341_nu_from_w(options->form, flc_d341_line_w(&trace->second, t_degc));
    const double shares[] = {1.0 - share, share}, nu[] = {trace->nu_first_mm2s, trace->nu_second_mm2s};
    return options->blend == FLC_BLEND_REFUTAS ? flc_nu_blend_refutas(shares, nu, 2, &trace->nu_mm2s)
                                               : flc_nu_blend_astm(shares, nu, 2, options->form, &trace->nu_mm2s);
}

static flc_status measured(double nu_given_mm2s, flc_viscosity_trace *trace, flc_error *error)
{
    if (flc_is_nan(nu_given_mm2s)) {
        return flc_fail(error, FLC_E_MISSING, "nu_mm2s", -1, flc_nan(), flc_nan(),
                        "this liquid takes its viscosity from every record");
    }
    trace->nu_mm2s = nu_given_mm2s;
    return flc_check_range(error, "nu_mm2s", -1, nu_given_mm2s, FLC_NU_LOW_MM2S, FLC_NU_HIGH_MM2S);
}

/* ---- models, pressure ---- */

/* The numbers that a program takes from the volume correction of the same record. */
static flc_status take_density(const flc_liquid *liquid, const flc_viscosity_input *in, flc_volume_run *run,
                               flc_error *error)
{
    const flc_volume_factors *factors = &in->volume->factors;
    if (!liquid->nu_plan.needs_density) {
        return FLC_OK;
    }
    if (liquid->volume.ctl != NULL) {
        run->slot[SLOT_W] = in->volume->run.slot[SLOT_W];
        run->slot[SLOT_S_PSU] = in->volume->run.slot[SLOT_S_PSU];
    }
    run->slot[SLOT_RHO_BASE] = run->given_kgm3 = factors->rho_base_kgm3;
    run->slot[SLOT_CTL] = factors->ctl;
    run->slot[SLOT_CPL] = factors->cpl;
    if (flc_is_nan(factors->rho_base_kgm3)) {
        return flc_fail(error, FLC_E_MISSING, "rho_base_kgm3", -1, flc_nan(), flc_nan(),
                        "this viscosity needs the density of the liquid");
    }
    return FLC_OK;
}

static flc_status planned(const flc_liquid *liquid, const flc_viscosity_input *in, flc_viscosity_trace *trace,
                          flc_error *error)
{
    const flc_viscosity_plan *plan = &liquid->nu_plan;
    flc_volume_run *run = &trace->run;
    flc_run_start(run, &liquid->options);
    flc_run_at(run, FLC_AT_METER, in->t_degc, in->p_kpag);
    run->slot[SLOT_NU] = trace->nu_mm2s;
    trace->nu_line_mm2s = trace->nu_mm2s;
    flc_status status = take_density(liquid, in, run, error);
    if (status == FLC_OK && !flc_is_nan(liquid->first.t_low_degc) && plan->model != NULL) {
        status = check_temperature(liquid, &liquid->first, in->t_degc, &trace->flags, error);
    }
    const flc_volume_step *const programs[] = {plan->model, plan->to_mu, plan->pressure, plan->to_nu};
    for (size_t i = 0; i < FLC_COUNT_OF(programs) && status == FLC_OK; i++) {
        status = flc_run_program(run, programs[i], error);
    }
    trace->flags |= run->flags;
    trace->nu_mm2s = run->slot[SLOT_NU];
    if (status == FLC_OK && !(trace->nu_mm2s >= FLC_NU_LOW_MM2S && trace->nu_mm2s <= FLC_NU_HIGH_MM2S)) {
        status = flc_fail(error, FLC_E_DOMAIN, "t_degc", -1, in->t_degc, flc_nan(),
                          "the model gives no viscosity between 0.01 and 2e7 mm2/s there");
    }
    return status;
}

static flc_status of_source(const flc_liquid *liquid, const flc_viscosity_input *in, flc_viscosity_trace *trace,
                            flc_error *error)
{
    switch (liquid->options.viscosity) {
    case FLC_VISCOSITY_MEASURED:
        return measured(in->nu_given_mm2s, trace, error);
    case FLC_VISCOSITY_BETWEEN:
        return between(liquid, in->t_degc, in->volume->factors.rho_base_kgm3, trace, error);
    case FLC_VISCOSITY_BLEND:
        return blend(liquid, in->t_degc, trace, error);
    case FLC_VISCOSITY_MODEL:
        return FLC_OK;
    case FLC_VISCOSITY_TYPICAL:
        if (liquid->first.count == 1) { /* a typical value holds at any temperature: that is how little it knows */
            trace->nu_mm2s = liquid->first.nu_mm2s[0];
            return FLC_OK;
        }
        break;
    case FLC_VISCOSITY_POINTS:
    case FLC_VISCOSITY_ONE_POINT:
        break;
    }
    return on_line(liquid, in->t_degc, trace, error);
}

flc_status flc_liquid_viscosity_trace(const flc_liquid *liquid, const flc_viscosity_input *in,
                                      flc_viscosity_trace *trace, flc_error *error)
{
    const double nothing = flc_nan();
    trace->lines = 0;
    trace->run.count = 0;
    trace->nu_mm2s = trace->share = trace->w = nothing;
    trace->nu_first_mm2s = trace->nu_second_mm2s = trace->nu_line_mm2s = nothing;
    trace->flags = liquid->viscosity_flags;
    flc_status status = flc_check_range(error, "t_degc", -1, in->t_degc, FLC_RECORD_T_LOW_DEGC, FLC_RECORD_T_HIGH_DEGC);
    if (status != FLC_OK) {
        return status;
    }
    if (liquid->options.viscosity != FLC_VISCOSITY_MEASURED && !flc_is_nan(in->nu_given_mm2s)) {
        return flc_fail(error, FLC_E_CONFLICT, "nu_mm2s", -1, in->nu_given_mm2s, nothing,
                        "this liquid has its own viscosity source");
    }
    status = of_source(liquid, in, trace, error);
    if (status == FLC_OK && (liquid->nu_plan.model != NULL || liquid->nu_plan.pressure != NULL)) {
        status = planned(liquid, in, trace, error);
    }
    if (status != FLC_OK) {
        trace->nu_mm2s = nothing;
        if (error != NULL && error->status == FLC_OK) {
            flc_fail(error, status, "nu_mm2s", -1, nothing, nothing, NULL);
        }
    }
    return status;
}

/* The density, where it is needed at all: at 0 gauge, from the base density. */
static flc_status volume_for(const flc_liquid *liquid, double t_degc, double rho_base_kgm3, flc_volume_trace *volume)
{
    const double nothing = flc_nan();
    if (!liquid->nu_plan.needs_density) {
        volume->factors.rho_base_kgm3 = rho_base_kgm3;
        return FLC_OK;
    }
    const flc_density density = {rho_base_kgm3, nothing, nothing, nothing, 1.0};
    const flc_volume_input in = {&density, t_degc, 0.0, nothing};
    return flc_liquid_volume_trace(liquid, &in, volume, NULL);
}

flc_status flc_liquid_viscosity(const flc_liquid *liquid, double t_degc, double rho_base_kgm3, double nu_given_mm2s,
                                double *nu_mm2s, uint32_t *flags)
{
    if (nu_mm2s != NULL) {
        *nu_mm2s = flc_nan();
    }
    if (flags != NULL) {
        *flags = 0;
    }
    if (liquid == NULL || nu_mm2s == NULL || flags == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_viscosity_trace trace;
    flc_volume_trace volume;
    flc_status status = volume_for(liquid, t_degc, rho_base_kgm3, &volume);
    if (status == FLC_OK) {
        const flc_viscosity_input in = {t_degc, 0.0, nu_given_mm2s, &volume};
        status = flc_liquid_viscosity_trace(liquid, &in, &trace, NULL);
        *nu_mm2s = trace.nu_mm2s;
        *flags = trace.flags;
    }
    flc_fp_leave(fp);
    return status;
}

flc_status flc_liquid_viscosity_at(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                                   double pe_kpa, double nu_given_mm2s, double *nu_mm2s, uint32_t *flags)
{
    if (nu_mm2s != NULL) {
        *nu_mm2s = flc_nan();
    }
    if (flags != NULL) {
        *flags = 0;
    }
    if (liquid == NULL || density == NULL || nu_mm2s == NULL || flags == NULL) {
        return FLC_E_NULL;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_viscosity_trace trace;
    flc_volume_trace volume;
    flc_volume_input at = {density, t_degc, p_kpag, pe_kpa};
    flc_status status = flc_liquid_pressure(liquid, p_kpag, "p_kpag", &at.p_kpag, flags, NULL);
    if (status == FLC_OK) {
        status = flc_liquid_volume_trace(liquid, &at, &volume, NULL);
        *flags |= volume.factors.flags;
    }
    if (status == FLC_OK) {
        const flc_viscosity_input in = {t_degc, at.p_kpag, nu_given_mm2s, &volume};
        status = flc_liquid_viscosity_trace(liquid, &in, &trace, NULL);
        *nu_mm2s = trace.nu_mm2s;
        *flags |= trace.flags;
    }
    flc_fp_leave(fp);
    return status;
}
