/* SPDX-License-Identifier: Apache-2.0 */
/* What a volume method needs of the options of a liquid: judged, and cleared of what it does not use. */
#include "liquid_core.h"
#include "error.h"

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

/* ---- what each method needs of its own ---- */

static flc_status check_product_2004(const flc_liquid_options *options, flc_error *error)
{
    return flc_petroleum_check_product(options->product, error);
}

/* Table 54C has its expansion at 15 degC, table 6C at 60 degF. */
static flc_status check_product_1980(const flc_liquid_options *options, flc_error *error)
{
    if (flc_is_nan(options->alpha15_per_degc)) {
        const flc_status status = flc_petroleum_check_product(options->product, error);
        if (status == FLC_OK && options->product.group == FLC_PETROLEUM_GROUP_NONE &&
            flc_base_kind_of(options) != FLC_KIND_60F) {
            return missing("alpha15_per_degc", "at a metric base the expansion is that at 15 degC", error);
        }
        return status;
    }
    if (options->product.group != FLC_PETROLEUM_GROUP_NONE || !flc_is_nan(options->product.alpha60_per_degf) ||
        flc_base_kind_of(options) == FLC_KIND_60F) {
        return flc_fail(error, FLC_E_CONFLICT, "alpha15_per_degc", -1, options->alpha15_per_degc, flc_nan(),
                        "it goes with a metric base, without a group or alpha60");
    }
    return flc_check_range(error, "alpha15_per_degc", -1, options->alpha15_per_degc, 414e-6, 1674e-6);
}

static flc_status check_aromatic(const flc_liquid_options *options, flc_error *error)
{
    return choice((int)options->aromatic, FLC_AROMATIC_AROMATICS_350_400F, "aromatic", error);
}

static flc_status check_fraction(const flc_liquid_options *options, flc_error *error)
{
    return flc_is_nan(options->mass_fraction)
               ? FLC_OK
               : flc_check_range(error, "mass_fraction", -1, options->mass_fraction, 0.0, 1.0);
}

static flc_status check_water(const flc_liquid_options *options, flc_error *error)
{
    return choice((int)options->water, FLC_WATER_IAPWS95, "water", error);
}

static flc_status check_salinity(const flc_liquid_options *options, flc_error *error)
{
    return flc_is_nan(options->salinity_psu)
               ? FLC_OK
               : flc_check_range(error, "salinity_psu", -1, options->salinity_psu, 0.0, 42.0);
}

static flc_status check_glycol(const flc_liquid_options *options, flc_error *error)
{
    const flc_status status = choice((int)options->glycol, FLC_GLYCOL_MPG, "glycol", error);
    return status == FLC_OK ? check_fraction(options, error) : status;
}

static flc_status check_lng(const flc_liquid_options *options, flc_error *error)
{
    return flc_is_nan(options->lng.x_c1) ? missing("lng.x_c1", "give the mole fractions", error) : FLC_OK;
}

static flc_status check_saturated(const flc_liquid_options *options, flc_error *error)
{
    return choice((int)options->saturated, FLC_SATURATED_WATER, "saturated", error);
}

static flc_status check_costald(const flc_liquid_options *options, flc_error *error)
{
    const flc_status status = choice((int)options->costald, FLC_COSTALD_PROPYLENE, "costald", error);
    if (status != FLC_OK || options->compressibility != FLC_COMPRESSIBILITY_OF_METHOD) {
        return status;
    }
    if (options->vapour == FLC_VAPOUR_NONE) {
        return missing("vapour", "the pressure part counts from the vapour pressure", error);
    }
    return flc_check_range(error, "pc_kpa", -1, options->pc_kpa, 1000.0, 10000.0);
}

static flc_status check_polynomial(const flc_liquid_options *options, flc_error *error)
{
    const flc_volume_polynomial *polynomial = &options->polynomial;
    if (polynomial->count < 2 || polynomial->count > FLC_LIQUID_COEFFICIENTS) {
        return flc_fail(error, FLC_E_COUNT, "polynomial.c", -1, (double)polynomial->count,
                        polynomial->count < 2 ? 2.0 : FLC_LIQUID_COEFFICIENTS, "coefficients");
    }
    if (polynomial->c == NULL) {
        return flc_fail(error, FLC_E_NULL, "polynomial.c", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_status status = choice((int)polynomial->degree, FLC_POLYNOMIAL_DEGF, "polynomial.degree", error);
    for (size_t i = 0; i < polynomial->count && status == FLC_OK; i++) {
        status = flc_check_range(error, "polynomial.c", (int64_t)i, polynomial->c[i], -1e6, 1e6);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "polynomial.t_low", -1, polynomial->t_low, -460.0, 1000.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "polynomial.t_high", -1, polynomial->t_high, polynomial->t_low, 1000.0);
    }
    return status;
}

static flc_status check_table(const flc_liquid_options *options, flc_error *error)
{
    const flc_density_table *table = &options->table;
    if (table->count < 2 || table->count > FLC_LIQUID_TABLE) {
        return flc_fail(error, FLC_E_COUNT, "table", -1, (double)table->count,
                        table->count < 2 ? 2.0 : FLC_LIQUID_TABLE, "densities");
    }
    if (table->t_degc == NULL || table->p_kpag == NULL || table->rho_kgm3 == NULL) {
        return flc_fail(error, FLC_E_NULL, "table", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_status status = FLC_OK;
    for (size_t i = 0; i < table->count && status == FLC_OK; i++) {
        status = flc_check_range(error, "table.t_degc", (int64_t)i, table->t_degc[i], -200.0, 400.0);
        if (status == FLC_OK) {
            status = flc_check_range(error, "table.p_kpag", (int64_t)i, table->p_kpag[i], 0.0, 1e5);
        }
        if (status == FLC_OK) {
            status = flc_check_range(error, "table.rho_kgm3", (int64_t)i, table->rho_kgm3[i], 1.0, 25000.0);
        }
    }
    return status;
}

typedef flc_status check_needs(const flc_liquid_options *options, flc_error *error);

static check_needs *const needs[] = {
    [FLC_VOLUME_NONE] = NULL,
    [FLC_VOLUME_PETROLEUM_2004] = check_product_2004,
    [FLC_VOLUME_PETROLEUM_1980] = check_product_1980,
    [FLC_VOLUME_LIGHT_ENDS_2007] = NULL,
    [FLC_VOLUME_AROMATICS_D1555] = check_aromatic,
    [FLC_VOLUME_ETHANOL_OIML_R22] = check_fraction,
    [FLC_VOLUME_WATER] = check_water,
    [FLC_VOLUME_SEAWATER_EOS80] = check_salinity,
    [FLC_VOLUME_PRODUCED_WATER_API20] = NULL,
    [FLC_VOLUME_GLYCOL_WATER_MELINDER_2010] = check_glycol,
    [FLC_VOLUME_FAME_EN14214] = NULL,
    [FLC_VOLUME_LNG_ISO6578] = check_lng,
    [FLC_VOLUME_SATURATED_LIQUID] = check_saturated,
    [FLC_VOLUME_COSTALD] = check_costald,
    [FLC_VOLUME_POLYNOMIAL] = check_polynomial,
    [FLC_VOLUME_DENSITY_TABLE] = check_table,
};

/* ---- base, pressure, vapour ---- */

static flc_status check_base(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = FLC_OK;
    if (flc_is_nan(options->t_base_degc)) {
        status = choice((int)options->base, FLC_PETROLEUM_BASE_20C, "base", error);
    } else if ((int)options->base != -1) {
        status = flc_fail(error, FLC_E_CONFLICT, "t_base_degc", -1, options->t_base_degc, flc_nan(),
                          "name a base or give its temperature, not both");
    } else {
        status = flc_check_range(error, "t_base_degc", -1, options->t_base_degc, -200.0, 400.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "p_base_kpag", -1, options->p_base_kpag, 0.0, 10000.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "p_atmospheric_kpa", -1, options->p_atmospheric_kpa, 50.0, 115.0);
    }
    return status;
}

static flc_status check_vapour(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = choice((int)options->vapour, FLC_VAPOUR_SUPPLIED, "vapour", error);
    if (status == FLC_OK && options->vapour != FLC_VAPOUR_NONE && options->volume == FLC_VOLUME_PETROLEUM_2004) {
        status = flc_fail(error, FLC_E_CONFLICT, "vapour", -1, flc_nan(), flc_nan(),
                          "API MPMS 11.1 (2004) counts the pressure from 0 gauge");
    }
    if (status == FLC_OK && options->vapour == FLC_VAPOUR_MEASURED && options->p_base_kpag != 0.0) {
        status = flc_fail(error, FLC_E_CONFLICT, "p_base_kpag", -1, options->p_base_kpag, 0.0,
                          "at the base no vapour pressure is measured");
    }
    if (status == FLC_OK && options->vapour == FLC_VAPOUR_LABORATORY) {
        status = flc_check_range(error, "pe378_kpa", -1, options->pe378_kpa, 0.1, 1e4);
        if (status == FLC_OK) {
            status = flc_check_range(error, "vapour_slope_k", -1, options->vapour_slope_k, 500.0, 10000.0);
        }
    }
    if (status == FLC_OK && options->vapour == FLC_VAPOUR_SUPPLIED) {
        status = flc_check_range(error, "vapour_a", -1, options->vapour_a, -20.0, 20.0);
        if (status == FLC_OK) {
            status = flc_check_range(error, "vapour_b", -1, options->vapour_b, 0.0, 10000.0);
        }
        if (status == FLC_OK) {
            status = flc_check_range(error, "vapour_c", -1, options->vapour_c, 0.0, 500.0);
        }
    }
    return status;
}

static flc_status check_compressibility(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = choice((int)options->compressibility, FLC_COMPRESSIBILITY_SUPPLIED, "compressibility", error);
    if (status != FLC_OK) {
        return status;
    }
    flc_volume_plan plan;
    flc_volume_plan_of(options, &plan);
    if (!(plan.allows & (1u << options->compressibility))) {
        return options->compressibility == FLC_COMPRESSIBILITY_OF_METHOD
                   ? missing("compressibility", "this volume method has no pressure part; choose one, or none", error)
                   : flc_fail(error, FLC_E_CONFLICT, "compressibility", -1, flc_nan(), flc_nan(),
                              "this volume method does not go with it");
    }
    if (options->compressibility == FLC_COMPRESSIBILITY_1986 && options->vapour == FLC_VAPOUR_NONE) {
        return missing("vapour", "compression of light hydrocarbons counts from their vapour pressure", error);
    }
    return options->compressibility == FLC_COMPRESSIBILITY_SUPPLIED
               ? flc_check_range(error, "f_per_kpa", -1, options->f_per_kpa, 0.0, 1e-4)
               : FLC_OK;
}

flc_status flc_liquid_check_volume(const flc_liquid_options *options, flc_error *error)
{
    flc_status status = choice((int)options->volume, FLC_VOLUME_DENSITY_TABLE, "volume", error);
    if (status != FLC_OK || options->volume == FLC_VOLUME_NONE) {
        return status;
    }
    status = check_base(options, error);
    if (status == FLC_OK && needs[options->volume] != NULL) {
        status = needs[options->volume](options, error);
    }
    if (status == FLC_OK) {
        status = check_vapour(options, error);
    }
    return status == FLC_OK ? check_compressibility(options, error) : status;
}

/* ---- what is not used ---- */

static void keep_vapour(flc_liquid_options *options, const flc_liquid_options *blank)
{
    if (options->vapour != FLC_VAPOUR_LABORATORY) {
        options->pe378_kpa = blank->pe378_kpa;
        options->vapour_slope_k = blank->vapour_slope_k;
    }
    if (options->vapour != FLC_VAPOUR_SUPPLIED) {
        options->vapour_a = blank->vapour_a;
        options->vapour_b = blank->vapour_b;
        options->vapour_c = blank->vapour_c;
    }
}

static void keep_pressure(flc_liquid_options *options, const flc_liquid_options *blank)
{
    const flc_volume_method volume = options->volume;
    if (volume == FLC_VOLUME_NONE || volume == FLC_VOLUME_PETROLEUM_2004) {
        options->vapour = blank->vapour;
        options->compressibility = blank->compressibility;
    }
    const int absolute = options->vapour != FLC_VAPOUR_NONE || volume == FLC_VOLUME_WATER;
    options->p_atmospheric_kpa = absolute ? options->p_atmospheric_kpa : blank->p_atmospheric_kpa;
    if (options->compressibility != FLC_COMPRESSIBILITY_SUPPLIED) {
        options->f_per_kpa = blank->f_per_kpa;
    }
    if (volume == FLC_VOLUME_NONE) {
        options->base = FLC_PETROLEUM_BASE_15C;
        options->t_base_degc = blank->t_base_degc;
        options->p_base_kpag = blank->p_base_kpag;
    }
    keep_vapour(options, blank);
}

void flc_liquid_keep_volume(flc_liquid_options *options)
{
    flc_liquid_options blank;
    flc_liquid_options_init(&blank);
    const flc_volume_method volume = options->volume;
    keep_pressure(options, &blank);
    if (volume != FLC_VOLUME_PETROLEUM_2004 && volume != FLC_VOLUME_PETROLEUM_1980) {
        options->product = blank.product;
    }
    if (volume != FLC_VOLUME_PETROLEUM_1980) {
        options->alpha15_per_degc = blank.alpha15_per_degc;
    }
    options->aromatic = volume == FLC_VOLUME_AROMATICS_D1555 ? options->aromatic : blank.aromatic;
    options->water = volume == FLC_VOLUME_WATER ? options->water : blank.water;
    options->glycol = volume == FLC_VOLUME_GLYCOL_WATER_MELINDER_2010 ? options->glycol : blank.glycol;
    options->saturated = volume == FLC_VOLUME_SATURATED_LIQUID ? options->saturated : blank.saturated;
    options->costald = volume == FLC_VOLUME_COSTALD ? options->costald : blank.costald;
    if (volume != FLC_VOLUME_COSTALD || options->compressibility != FLC_COMPRESSIBILITY_OF_METHOD) {
        options->pc_kpa = blank.pc_kpa;
    }
    if (volume != FLC_VOLUME_ETHANOL_OIML_R22 && volume != FLC_VOLUME_GLYCOL_WATER_MELINDER_2010) {
        options->mass_fraction = blank.mass_fraction;
    }
    options->salinity_psu = volume == FLC_VOLUME_SEAWATER_EOS80 ? options->salinity_psu : blank.salinity_psu;
    options->lng = volume == FLC_VOLUME_LNG_ISO6578 ? options->lng : blank.lng;
    options->polynomial = volume == FLC_VOLUME_POLYNOMIAL ? options->polynomial : blank.polynomial;
    options->table = volume == FLC_VOLUME_DENSITY_TABLE ? options->table : blank.table;
}

int flc_liquid_is_second_edition(const flc_liquid_options *options)
{
    return options->volume > FLC_VOLUME_PETROLEUM_2004 || !flc_is_nan(options->t_base_degc) ||
           options->p_base_kpag != 0.0 || options->viscosity >= FLC_VISCOSITY_MODEL ||
           options->viscosity_pressure != FLC_VISCOSITY_PRESSURE_NONE;
}
