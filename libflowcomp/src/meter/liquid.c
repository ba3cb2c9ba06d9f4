/* SPDX-License-Identifier: Apache-2.0 */
#include "liquid_core.h"
#include "error.h"
#include "fp_guard.h"
#include "memory.h"
#include "method.h"
#include "struct_size.h"

static const char *const volume_words[] = {"none",
                                           "petroleum_2004",
                                           "petroleum_1980",
                                           "light_ends_2007",
                                           "aromatics_d1555",
                                           "ethanol_oiml_r22",
                                           "water",
                                           "seawater_eos80",
                                           "produced_water_api20",
                                           "glycol_water_melinder_2010",
                                           "fame_en14214",
                                           "lng_iso6578",
                                           "saturated_liquid",
                                           "costald",
                                           "polynomial",
                                           "density_table",
                                           NULL};
static const char *const compressibility_words[] = {"of_method", "none", "1984", "1986", "supplied", NULL};
static const char *const vapour_words[] = {"none", "measured", "laboratory", "supplied", NULL};
static const char *const water_words[] = {"cipm_2001", "patterson_morris_1994", "jones_harris_1992",
                                          "kell_1975", "iapws95",               NULL};
static const char *const glycol_words[] = {"meg", "mpg", NULL};
static const char *const degree_words[] = {"degc", "degf", NULL};
static const char *const source_words[] = {"measured", "points", "one_point", "between", "typical", "model", "blend", NULL};
static const char *const model_words[] = {"andrade",           "vogel",            "dutt_prasad",     "dippr101",
                                          "power_law",         "yaws",             "polynomial",      "d341_ab",
                                          "water_r12_08",      "water_sr6_08",     "seawater_sharqawy",
                                          "seawater_millero",  "glycol_melinder",  NULL};
static const char *const kind_words[] = {"dynamic", "kinematic", NULL};
static const char *const pressure_words[] = {"none", "barus", "roelands", "kouzel_1965", "kouzel_api", NULL};
static const char *const blend_words[] = {"refutas", "astm_d7152", NULL};
static const char *const beyond_words[] = {"refuse", "extend", NULL};
static const char *const negative_words[] = {"refuse", "clamp", NULL};

flc_status flc_volume_method_from_name(const char *name, flc_volume_method *choice)
{
    return flc_choice_from_name(volume_words, name, (int *)choice);
}

flc_status flc_compressibility_from_name(const char *name, flc_compressibility *choice)
{
    return flc_choice_from_name(compressibility_words, name, (int *)choice);
}

flc_status flc_vapour_pressure_from_name(const char *name, flc_vapour_pressure *choice)
{
    return flc_choice_from_name(vapour_words, name, (int *)choice);
}

flc_status flc_water_formulation_from_name(const char *name, flc_water_formulation *choice)
{
    return flc_choice_from_name(water_words, name, (int *)choice);
}

flc_status flc_glycol_from_name(const char *name, flc_glycol *choice)
{
    return flc_choice_from_name(glycol_words, name, (int *)choice);
}

flc_status flc_polynomial_degree_from_name(const char *name, flc_polynomial_degree *choice)
{
    return flc_choice_from_name(degree_words, name, (int *)choice);
}

flc_status flc_viscosity_model_from_name(const char *name, flc_viscosity_model *choice)
{
    return flc_choice_from_name(model_words, name, (int *)choice);
}

flc_status flc_viscosity_kind_from_name(const char *name, flc_viscosity_kind *choice)
{
    return flc_choice_from_name(kind_words, name, (int *)choice);
}

flc_status flc_viscosity_pressure_from_name(const char *name, flc_viscosity_pressure *choice)
{
    return flc_choice_from_name(pressure_words, name, (int *)choice);
}

flc_status flc_blend_rule_from_name(const char *name, flc_blend_rule *choice)
{
    return flc_choice_from_name(blend_words, name, (int *)choice);
}

flc_status flc_viscosity_source_from_name(const char *name, flc_viscosity_source *choice)
{
    return flc_choice_from_name(source_words, name, (int *)choice);
}

flc_status flc_viscosity_beyond_from_name(const char *name, flc_viscosity_beyond *choice)
{
    return flc_choice_from_name(beyond_words, name, (int *)choice);
}

flc_status flc_negative_pressure_from_name(const char *name, flc_negative_pressure *choice)
{
    return flc_choice_from_name(negative_words, name, (int *)choice);
}

static void init_volume(flc_liquid_options *options)
{
    const double nothing = flc_nan();
    options->t_base_degc = nothing;
    options->p_atmospheric_kpa = 101.325;
    options->f_per_kpa = nothing;
    options->pe378_kpa = options->vapour_slope_k = nothing;
    options->vapour_a = options->vapour_b = options->vapour_c = nothing;
    options->alpha15_per_degc = nothing;
    options->aromatic = (flc_aromatic)-1;
    options->water = (flc_water_formulation)-1;
    options->glycol = (flc_glycol)-1;
    options->saturated = (flc_saturated_liquid)-1;
    options->costald = (flc_costald_fluid)-1;
    options->pc_kpa = options->mass_fraction = options->salinity_psu = nothing;
    const flc_lng_composition unknown = {nothing, nothing, nothing, nothing, nothing,
                                         nothing, nothing, nothing, nothing};
    options->lng = unknown;
    options->polynomial.t_low = options->polynomial.t_high = nothing;
    options->polynomial.degree = (flc_polynomial_degree)-1;
}

static void init_viscosity(flc_liquid_options *options)
{
    const double nothing = flc_nan();
    const flc_viscosity_coefficients none = {nothing, nothing, nothing, nothing, nothing};
    options->model = (flc_viscosity_model)-1;
    options->coefficients = none;
    options->model_t_low_degc = options->model_t_high_degc = nothing;
    options->alpha_per_gpa = nothing;
    options->blend = (flc_blend_rule)-1;
    options->share_second = nothing;
}

void flc_liquid_options_init_sized(flc_liquid_options *options, size_t own_size)
{
    flc_liquid_options fresh = {0};
    fresh.size = sizeof fresh;
    fresh.volume = (flc_volume_method)-1;
    fresh.product.group = FLC_PETROLEUM_GROUP_NONE;
    fresh.product.alpha60_per_degf = flc_nan();
    fresh.base = (flc_petroleum_base)-1;
    fresh.viscosity = (flc_viscosity_source)-1;
    fresh.form = FLC_D341_BODY;
    fresh.points.rho_base_kgm3 = flc_nan();
    fresh.second.rho_base_kgm3 = flc_nan();
    fresh.slope_b = flc_nan();
    fresh.u_nu_relative = flc_nan();
    fresh.nu_provenance = FLC_USER_GIVEN;
    fresh.nu_source = "";
    init_volume(&fresh);
    init_viscosity(&fresh);
    flc_give_sized(options, own_size, &fresh, sizeof fresh);
}

static flc_status check_text(const char *text, const char *field, size_t room, int required, flc_error *error)
{
    if (text == NULL || (required && text[0] == '\0')) {
        return flc_fail(error, FLC_E_MISSING, field, -1, flc_nan(), flc_nan(), NULL);
    }
    if (strlen(text) >= room) {
        return flc_fail(error, FLC_E_BUFFER, field, -1, (double)strlen(text), (double)room - 1.0, "shorten the text");
    }
    return FLC_OK;
}

static flc_status check_choice(int value, int last, const char *field, flc_error *error)
{
    if (value == -1) {
        return flc_fail(error, FLC_E_MISSING, field, -1, flc_nan(), flc_nan(),
                        "it must be chosen: there is no default");
    }
    if (value < 0 || value > last) {
        return flc_fail(error, FLC_E_CHOICE, field, -1, (double)value, (double)last, NULL);
    }
    return FLC_OK;
}

/* Names for errors: points of this liquid, and of the second. */
typedef struct points_fields {
    const char *points, *t_degc, *nu_mm2s;
} points_fields;

static const points_fields first_fields = {"points", "points.t_degc", "points.nu_mm2s"};
static const points_fields second_fields = {"second", "second.t_degc", "second.nu_mm2s"};

static flc_status check_points(const flc_viscosity_points *points, const points_fields *field, size_t least,
                               flc_d341_form form, flc_error *error)
{
    if (points->count < least || points->count > FLC_LIQUID_POINTS) {
        return flc_fail(error, FLC_E_COUNT, field->points, -1, (double)points->count,
                        points->count < least ? (double)least : FLC_LIQUID_POINTS, "viscosity points of the liquid");
    }
    if (points->t_degc == NULL || points->nu_mm2s == NULL) {
        return flc_fail(error, FLC_E_NULL, field->points, -1, flc_nan(), flc_nan(), NULL);
    }
    for (size_t i = 0; i < points->count; i++) {
        flc_status status = flc_check_range(error, field->t_degc, (int64_t)i, points->t_degc[i], -100.0, 400.0);
        if (status == FLC_OK) {
            status = flc_check_range(error, field->nu_mm2s, (int64_t)i, points->nu_mm2s[i], flc_d341_nu_low(form),
                                     FLC_D341_NU_HIGH);
        }
        if (status != FLC_OK) {
            return status;
        }
        if (i > 0 && points->t_degc[i] <= points->t_degc[i - 1]) {
            return flc_fail(error, FLC_E_ORDER, field->t_degc, (int64_t)i, points->t_degc[i], points->t_degc[i - 1],
                            "temperatures must rise");
        }
        if (i > 0 && points->nu_mm2s[i] >= points->nu_mm2s[i - 1]) {
            return flc_fail(error, FLC_E_ORDER, field->nu_mm2s, (int64_t)i, points->nu_mm2s[i], points->nu_mm2s[i - 1],
                            "viscosities must fall as the temperature rises");
        }
    }
    return FLC_OK;
}

static flc_status check_between(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = check_points(&options->points, &first_fields, 2, options->form, error);
    if (status == FLC_OK) {
        status = check_points(&options->second, &second_fields, 2, options->form, error);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "points.rho_base_kgm3", -1, options->points.rho_base_kgm3, 300.0, 2000.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "second.rho_base_kgm3", -1, options->second.rho_base_kgm3, 300.0, 2000.0);
    }
    if (status == FLC_OK && !(options->second.rho_base_kgm3 > options->points.rho_base_kgm3)) {
        status = flc_fail(error, FLC_E_ORDER, "second.rho_base_kgm3", -1, options->second.rho_base_kgm3,
                          options->points.rho_base_kgm3, "the second liquid is the denser one");
    }
    if (status == FLC_OK && options->volume == FLC_VOLUME_NONE) {
        status = flc_fail(error, FLC_E_CONFLICT, "viscosity", -1, flc_nan(), flc_nan(),
                          "between two liquids by base density needs a volume correction");
    }
    return status;
}

static flc_status check_one_point(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = check_points(&options->points, &first_fields, 1, options->form, error);
    if (status == FLC_OK && options->points.count != 1) {
        status = flc_fail(error, FLC_E_COUNT, "points", -1, (double)options->points.count, 1.0,
                          "use the source \"points\" for more than one");
    }
    return status == FLC_OK ? flc_check_range(error, "slope_b", -1, options->slope_b, 0.5, 10.0) : status;
}

static flc_status check_blend(const flc_liquid_options *options, flc_error *error)
{
    const flc_status status = check_points(&options->points, &first_fields, 2, options->form, error);
    return status == FLC_OK ? check_points(&options->second, &second_fields, 2, options->form, error) : status;
}

static flc_status check_source(const flc_liquid_options *options, flc_error *error)
{
    switch (options->viscosity) {
    case FLC_VISCOSITY_POINTS:
        return check_points(&options->points, &first_fields, 2, options->form, error);
    case FLC_VISCOSITY_ONE_POINT:
        return check_one_point(options, error);
    case FLC_VISCOSITY_BETWEEN:
        return check_between(options, error);
    case FLC_VISCOSITY_TYPICAL:
        return check_points(&options->points, &first_fields, 1, options->form, error);
    case FLC_VISCOSITY_BLEND:
        return check_blend(options, error);
    case FLC_VISCOSITY_MEASURED:
    case FLC_VISCOSITY_MODEL:
        break;
    }
    return FLC_OK;
}

static flc_status check_viscosity(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = check_choice((int)options->viscosity, FLC_VISCOSITY_BLEND, "viscosity", error);
    if (status == FLC_OK) {
        status = check_choice((int)options->form, FLC_D341_FULL, "form", error);
    }
    if (status == FLC_OK) {
        status = check_choice((int)options->beyond, FLC_VISCOSITY_EXTEND, "beyond", error);
    }
    if (status == FLC_OK) {
        status = check_source(options, error);
    }
    if (status == FLC_OK) {
        status = flc_liquid_check_model(options, error);
    }
    if (status == FLC_OK && flc_is_nan(options->u_nu_relative)) {
        return flc_fail(error, FLC_E_MISSING, "u_nu_relative", -1, flc_nan(), flc_nan(),
                        "say how sure the viscosity is, relative standard uncertainty (0.01 is 1 %)");
    }
    return status == FLC_OK ? flc_check_range(error, "u_nu_relative", -1, options->u_nu_relative, 0.0, 1.0) : status;
}

static flc_status check_options(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = check_text(options->name, "name", FLC_LIQUID_NAME, 1, error);
    if (status == FLC_OK) {
        status = flc_liquid_check_volume(options, error);
    }
    if (status == FLC_OK) {
        status = check_choice((int)options->negative_pressure, FLC_NEGATIVE_CLAMP, "negative_pressure", error);
    }
    if (status == FLC_OK) {
        status = check_viscosity(options, error);
    }
    if (status == FLC_OK) {
        status = check_choice((int)options->nu_provenance - 1, FLC_USER_GIVEN - 1, "nu_provenance", error);
    }
    if (status == FLC_OK) {
        status = check_text(options->nu_source, "nu_source", FLC_LIQUID_SOURCE, 0, error);
    }
    return status;
}

static void copy_points(const flc_viscosity_points *from, flc_viscosity_table *table)
{
    table->count = from->count;
    if (from->count > 0) {
        memcpy(table->t_degc, from->t_degc, from->count * sizeof *from->t_degc);
        memcpy(table->nu_mm2s, from->nu_mm2s, from->count * sizeof *from->nu_mm2s);
    }
    table->rho_base_kgm3 = from->rho_base_kgm3;
}

/* Keep of the options what the chosen source uses, so that two liquids that act alike have the same canonical bytes. */
static void keep_used(flc_liquid_options *options)
{
    const int is_model = options->viscosity == FLC_VISCOSITY_MODEL;
    const int uses_points = options->viscosity != FLC_VISCOSITY_MEASURED && !is_model;
    const int between = options->viscosity == FLC_VISCOSITY_BETWEEN;
    const int two = between || options->viscosity == FLC_VISCOSITY_BLEND;
    const int has_range = is_model && options->model <= FLC_MODEL_D341_AB;
    const int uses_lines = uses_points && !(options->viscosity == FLC_VISCOSITY_TYPICAL && options->points.count == 1);
    const int uses_form = uses_lines || (is_model && options->model == FLC_MODEL_D341_AB);
    options->form = uses_form ? options->form : FLC_D341_BODY;
    options->beyond = uses_lines || has_range ? options->beyond : FLC_VISCOSITY_REFUSE;
    options->points.count = uses_points ? options->points.count : 0;
    options->second.count = two ? options->second.count : 0;
    options->points.rho_base_kgm3 = between ? options->points.rho_base_kgm3 : flc_nan();
    options->second.rho_base_kgm3 = between ? options->second.rho_base_kgm3 : flc_nan();
    options->slope_b = options->viscosity == FLC_VISCOSITY_ONE_POINT ? options->slope_b : flc_nan();
    flc_liquid_keep_model(options);
    flc_liquid_keep_volume(options);
}

static void copy_list(double *to, const double *from, size_t count, const double **pointer)
{
    if (count > 0) {
        memcpy(to, from, count * sizeof *from);
    }
    *pointer = to;
}

static void copy_supplied(flc_liquid *liquid)
{
    flc_volume_polynomial *polynomial = &liquid->options.polynomial;
    flc_density_table *table = &liquid->options.table;
    copy_list(liquid->coefficient, polynomial->c, polynomial->count, &polynomial->c);
    copy_list(liquid->table_t, table->t_degc, table->count, &table->t_degc);
    copy_list(liquid->table_p, table->p_kpag, table->count, &table->p_kpag);
    copy_list(liquid->table_rho, table->rho_kgm3, table->count, &table->rho_kgm3);
    flc_volume_plan_of(&liquid->options, &liquid->volume);
    flc_viscosity_plan_of(&liquid->options, &liquid->nu_plan);
}

static void fill(flc_liquid *liquid, const flc_liquid_options *options)
{
    memset(liquid, 0, sizeof *liquid);
    liquid->options = *options;
    keep_used(&liquid->options);
    memcpy(liquid->name, options->name, strlen(options->name) + 1);
    memcpy(liquid->nu_source, options->nu_source, strlen(options->nu_source) + 1);
    copy_points(&liquid->options.points, &liquid->first);
    copy_points(&liquid->options.second, &liquid->second);
    liquid->options.name = liquid->name;
    liquid->options.nu_source = liquid->nu_source;
    liquid->options.points.t_degc = liquid->first.t_degc;
    liquid->options.points.nu_mm2s = liquid->first.nu_mm2s;
    liquid->options.second.t_degc = liquid->second.t_degc;
    liquid->options.second.nu_mm2s = liquid->second.nu_mm2s;
    flc_liquid_build_tables(liquid);
    copy_supplied(liquid);
    flc_liquid_find_plain(liquid);
}

flc_status flc_liquid_new(const flc_liquid_options *options, flc_liquid **liquid, flc_error *error)
{
    flc_error_clear(error);
    if (liquid != NULL) {
        *liquid = NULL;
    }
    if (options == NULL || liquid == NULL) {
        return flc_fail(error, FLC_E_NULL, options == NULL ? "options" : "liquid", -1, flc_nan(), flc_nan(), NULL);
    }
    if (options->size != sizeof *options) {
        return flc_fail(error, FLC_E_SIZE, "options", -1, (double)options->size, (double)sizeof *options, NULL);
    }
    flc_fp_state fp = flc_fp_enter();
    flc_status status = check_options(options, error);
    if (status == FLC_OK) {
        flc_liquid *made = flc_allocate(sizeof *made);
        if (made == NULL) {
            status = flc_fail(error, FLC_E_MEMORY, "liquid", -1, flc_nan(), flc_nan(), NULL);
        } else {
            fill(made, options);
            status = flc_liquid_try_base(made, error);
            *liquid = status == FLC_OK ? made : NULL;
            if (status != FLC_OK) {
                flc_release(made);
            }
        }
    }
    flc_fp_leave(fp);
    return status;
}

void flc_liquid_free(flc_liquid *liquid)
{
    flc_release(liquid);
}

flc_status flc_liquid_describe(const flc_liquid *liquid, flc_liquid_options *options)
{
    if (liquid == NULL || options == NULL) {
        return FLC_E_NULL;
    }
    *options = liquid->options;
    return FLC_OK;
}
