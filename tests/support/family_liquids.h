/* SPDX-License-Identifier: Apache-2.0 */
/* Invented liquids of every family of volume correction, with the factors that the family's own published methods give
 * at the same temperature, pressure and density: what a meter must book. */
#ifndef FLC_FAMILY_LIQUIDS_H
#define FLC_FAMILY_LIQUIDS_H

#include "family_hydrocarbons.h"

/* ---- ethanol, glycols ---- */

SET(ethanol_density)
{
    base_of(o, FLC_VOLUME_ETHANOL_OIML_R22, FLC_PETROLEUM_BASE_20C);
    supplied(o, 1e-6);
}
EXPECT(ethanol_density)
{
    double percent;
    OK(flc_mass_percent_from_density_ethanol_oiml_r22(r->rho, 20.0, &percent));
    OK(flc_ctl20_ethanol_water_oiml_r22(percent / 100.0, r->t, ctl));
    OK(flc_cpl_supplied_compressibility(1e-6, r->p, NAN, cpl));
}

SET(ethanol_15c)
{
    base_of(o, FLC_VOLUME_ETHANOL_OIML_R22, FLC_PETROLEUM_BASE_15C);
    o->mass_fraction = 0.96;
}
EXPECT(ethanol_15c)
{
    OK(flc_ctl15_ethanol_water_oiml_r22(0.96, r->t, ctl));
    *cpl = 1.0;
}

SET(ethanol_any)
{
    at_degc(o, FLC_VOLUME_ETHANOL_OIML_R22, 30.0);
}
EXPECT(ethanol_any)
{
    double percent;
    OK(flc_mass_percent_from_density_ethanol_oiml_r22(r->rho, 30.0, &percent));
    OK(flc_ctl_ethanol_water_oiml_r22(percent / 100.0, r->t, 30.0, ctl));
    *cpl = 1.0;
}

SET(meg_fixed)
{
    base_of(o, FLC_VOLUME_GLYCOL_WATER_MELINDER_2010, FLC_PETROLEUM_BASE_15C);
    o->glycol = FLC_GLYCOL_MEG;
    o->mass_fraction = 0.4;
    supplied(o, 4e-7);
}
EXPECT(meg_fixed)
{
    OK(flc_ctl_meg_water_melinder_2010(0.4, r->t, 15.0, ctl));
    OK(flc_cpl_supplied_compressibility(4e-7, r->p, NAN, cpl));
}

SET(mpg_density)
{
    base_of(o, FLC_VOLUME_GLYCOL_WATER_MELINDER_2010, FLC_PETROLEUM_BASE_20C);
    o->glycol = FLC_GLYCOL_MPG;
}
EXPECT(mpg_density)
{
    double w;
    OK(flc_mass_fraction_from_density_mpg_water_melinder_2010(r->rho, 20.0, &w));
    OK(flc_ctl_mpg_water_melinder_2010(w, r->t, 20.0, ctl));
    *cpl = 1.0;
}

/* ---- waters ---- */

#define OWN_WATER(short_name, which)                      \
    base_of(o, FLC_VOLUME_WATER, FLC_PETROLEUM_BASE_15C); \
    o->water = FLC_WATER_##which;                         \
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD

SET(cipm)
{
    OWN_WATER(cipm, CIPM_2001);
}
EXPECT(cipm)
{
    double at_p, at_0;
    OK(flc_ctl_water_cipm_2001(r->t, 15.0, ctl));
    OK(flc_rho_water_cipm_2001(r->t, r->p + ATMOSPHERE_KPA, &at_p));
    OK(flc_rho_water_cipm_2001(r->t, ATMOSPHERE_KPA, &at_0));
    *cpl = at_p / at_0;
}

SET(patterson)
{
    OWN_WATER(patterson, PATTERSON_MORRIS_1994);
}
EXPECT(patterson)
{
    OK(flc_ctl_water_patterson_morris_1994(r->t, 15.0, ctl));
    OK(flc_cpl_water_common_practice(r->p / 6.894757, cpl));
}

SET(jones)
{
    OWN_WATER(jones, JONES_HARRIS_1992);
    o->compressibility = FLC_COMPRESSIBILITY_NONE;
}
EXPECT(jones)
{
    OK(flc_ctl_water_jones_harris_1992(r->t, 15.0, ctl));
    *cpl = 1.0;
}

SET(kell)
{
    OWN_WATER(kell, KELL_1975);
}
EXPECT(kell)
{
    double kappa;
    OK(flc_ctl_water_kell_1975(r->t, 15.0, ctl));
    OK(flc_kappa_water_kell_1975(r->t, &kappa));
    *cpl = 1.0 / (1.0 - kappa * 1e-8 * r->p); /* kappa in 1e-6/bar */
}

SET(iapws)
{
    OWN_WATER(iapws, IAPWS95);
}
EXPECT(iapws)
{
    double at_p, at_0, base;
    OK(flc_rho_water_iapws95(r->t + 273.15, (r->p + ATMOSPHERE_KPA) / 1000.0, &at_p));
    OK(flc_rho_water_iapws95(r->t + 273.15, ATMOSPHERE_KPA / 1000.0, &at_0));
    OK(flc_rho_water_iapws95(15.0 + 273.15, ATMOSPHERE_KPA / 1000.0, &base));
    *ctl = at_0 / base;
    *cpl = at_p / at_0;
}

SET(sea_fixed)
{
    base_of(o, FLC_VOLUME_SEAWATER_EOS80, FLC_PETROLEUM_BASE_15C);
    o->salinity_psu = 35.0;
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(sea_fixed)
{
    OK(flc_ctl_seawater_eos80(35.0, r->t, 15.0, ctl));
    OK(flc_cpl_seawater_eos80(35.0, r->t, r->p / 100.0, cpl));
}

SET(sea_density)
{
    base_of(o, FLC_VOLUME_SEAWATER_EOS80, FLC_PETROLEUM_BASE_20C);
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(sea_density)
{
    double s;
    OK(flc_s_psu_from_observed_seawater_eos80(r->rho, 20.0, 0.0, &s));
    OK(flc_ctl_seawater_eos80(s, r->t, 20.0, ctl));
    OK(flc_cpl_seawater_eos80(s, r->t, r->p / 100.0, cpl));
}

SET(produced_60f)
{
    base_of(o, FLC_VOLUME_PRODUCED_WATER_API20, FLC_PETROLEUM_BASE_60F);
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(produced_60f)
{
    OK(flc_ctl60_produced_water_api20(r->rho, degf(r->t), ctl));
    OK(flc_cpl_water_common_practice(r->p / 6.894757, cpl));
}

SET(produced_15c)
{
    base_of(o, FLC_VOLUME_PRODUCED_WATER_API20, FLC_PETROLEUM_BASE_15C);
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(produced_15c)
{
    OK(flc_ctl_produced_water_api20(r->rho, 15.0, r->t, ctl));
    OK(flc_cpl_water_common_practice(r->p / 6.894757, cpl));
}

/* ---- cold and pure liquids ---- */

SET(lng)
{
    at_degc(o, FLC_VOLUME_LNG_ISO6578, -162.0);
    o->lng = (flc_lng_composition){0.92, 0.05, 0.018, 0.004, 0.003, 0.0, 0.0, 0.0, 0.005};
    supplied(o, 2e-6);
}
EXPECT(lng)
{
    OK(flc_ctl_lng_iso6578(r->t + 273.15, -162.0 + 273.15, 0.92, 0.05, 0.018, 0.004, 0.003, 0.0, 0.0, 0.0, 0.005, ctl));
    OK(flc_cpl_supplied_compressibility(2e-6, r->p, NAN, cpl));
}

SET(saturated)
{
    base_of(o, FLC_VOLUME_SATURATED_LIQUID, FLC_PETROLEUM_BASE_15C);
    o->saturated = FLC_SATURATED_PROPANE;
}
EXPECT(saturated)
{
    OK(flc_ctl_saturated_liquid_ancillary(FLC_SATURATED_PROPANE, r->t + 273.15, 288.15, ctl));
    *cpl = 1.0;
}

SET(costald)
{
    base_of(o, FLC_VOLUME_COSTALD, FLC_PETROLEUM_BASE_15C);
    o->costald = FLC_COSTALD_N_BUTANE;
    o->pc_kpa = 3796.0;
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
    o->vapour = FLC_VAPOUR_SUPPLIED;
    o->vapour_a = 5.5, o->vapour_b = 800.0, o->vapour_c = 245.0;
}
EXPECT(costald)
{
    OK(flc_ctl_saturated_liquid_costald_1979(FLC_COSTALD_N_BUTANE, r->t + 273.15, 288.15, ctl));
    const double psat = pow(10.0, 5.5 - 800.0 / (245.0 + r->t));
    OK(flc_cpl_costald_1982(FLC_COSTALD_N_BUTANE, r->t + 273.15, r->p + ATMOSPHERE_KPA, psat, 3796.0, cpl));
}

/* ---- the user's own ---- */

static const double own_c[] = {870.0, -0.62, -2e-4};

SET(polynomial)
{
    base_of(o, FLC_VOLUME_POLYNOMIAL, FLC_PETROLEUM_BASE_15C);
    o->polynomial = (flc_volume_polynomial){3, own_c, -20.0, 80.0, FLC_POLYNOMIAL_DEGC};
    supplied(o, 5e-7);
}
EXPECT(polynomial)
{
    *ctl = (870.0 + r->t * (-0.62 + r->t * -2e-4)) / (870.0 + 15.0 * (-0.62 + 15.0 * -2e-4));
    OK(flc_cpl_supplied_compressibility(5e-7, r->p, NAN, cpl));
}

SET(polynomial_degf)
{
    base_of(o, FLC_VOLUME_POLYNOMIAL, FLC_PETROLEUM_BASE_60F);
    o->polynomial = (flc_volume_polynomial){3, own_c, 0.0, 200.0, FLC_POLYNOMIAL_DEGF};
}
EXPECT(polynomial_degf)
{
    OK(flc_ctl_polynomial(degf(r->t), 60.0, 0.0, 200.0, own_c, 3, ctl));
    *cpl = 1.0;
}

static const double line_t[] = {0.0, 20.0, 60.0}, line_p[] = {0.0, 0.0, 0.0}, line_rho[] = {900.0, 886.0, 858.0};

SET(line)
{
    base_of(o, FLC_VOLUME_DENSITY_TABLE, FLC_PETROLEUM_BASE_20C);
    o->table = (flc_density_table){3, line_t, line_p, line_rho};
}
EXPECT(line) /* by hand: 0.7 kg/m3 per degree all along */
{
    *ctl = (900.0 - 0.7 * r->t) / 886.0;
    *cpl = 1.0;
}

static const double grid_t[] = {0.0, 0.0, 40.0, 40.0}, grid_p[] = {0.0, 5000.0, 0.0, 5000.0};
static const double grid_rho[] = {900.0, 904.0, 872.0, 877.0};

SET(grid)
{
    at_degc(o, FLC_VOLUME_DENSITY_TABLE, 20.0);
    o->table = (flc_density_table){4, grid_t, grid_p, grid_rho};
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(grid)
{
    double at_0, at_p, base;
    OK(flc_rho_table_bilinear(r->t, 0.0, grid_t, grid_p, grid_rho, 4, &at_0));
    OK(flc_rho_table_bilinear(r->t, r->p, grid_t, grid_p, grid_rho, 4, &at_p));
    OK(flc_rho_table_bilinear(20.0, 0.0, grid_t, grid_p, grid_rho, 4, &base));
    *ctl = at_0 / base;
    *cpl = at_p / at_0;
}

#define FAMILY(name, ...)                             \
    {                                                 \
#name, set_##name, expect_##name, __VA_ARGS__ \
    }

static const family_liquid family_liquids[] = {
    FAMILY(p2004_any, 750.0, 950.0, -20.0, 120.0, 0.0, 8000.0),
    FAMILY(p1980_60f, 750.0, 950.0, -10.0, 90.0, 0.0, 8000.0),
    FAMILY(p1980_15c, 700.0, 900.0, -20.0, 85.0, 0.0, 8000.0),
    FAMILY(p1980_20c, 850.0, 950.0, -20.0, 85.0, 0.0, 8000.0),
    FAMILY(p1980_any, 750.0, 950.0, -20.0, 85.0, 0.0, 8000.0),
    FAMILY(p1980_6c, 700.0, 900.0, -20.0, 90.0, 0.0, 8000.0),
    FAMILY(p1980_54c, NAN, NAN, -20.0, 85.0, 0.0, 8000.0),
    FAMILY(p1980_60c, 700.0, 900.0, -20.0, 85.0, 0.0, 8000.0),
    FAMILY(light_60f, 480.0, 600.0, -40.0, 30.0, 2200.0, 8000.0),
    FAMILY(light_15c, 480.0, 600.0, -40.0, 30.0, 2200.0, 8000.0),
    FAMILY(light_20c, 480.0, 600.0, -40.0, 30.0, 2200.0, 8000.0),
    FAMILY(light_any, 500.0, 600.0, -40.0, 30.0, 2200.0, 8000.0),
    FAMILY(aromatic_60f, NAN, NAN, -10.0, 60.0, 0.0, 3000.0),
    FAMILY(aromatic_15c, 860.0, 880.0, -10.0, 60.0, 0.0, 3000.0),
    FAMILY(aromatic_20c, NAN, NAN, -10.0, 60.0, 0.0, 3000.0),
    FAMILY(aromatic_any, NAN, NAN, -10.0, 60.0, 0.0, 3000.0),
    FAMILY(fame_15c, 860.0, 900.0, 20.0, 60.0, 0.0, 3000.0),
    FAMILY(fame_20c, 860.0, 900.0, 20.0, 60.0, 0.0, 3000.0),
    FAMILY(ethanol_density, 800.0, 970.0, -10.0, 40.0, 0.0, 3000.0),
    FAMILY(ethanol_15c, NAN, NAN, -10.0, 40.0, 0.0, 3000.0),
    FAMILY(ethanol_any, 800.0, 960.0, -10.0, 40.0, 0.0, 3000.0),
    FAMILY(meg_fixed, NAN, NAN, -10.0, 90.0, 0.0, 3000.0),
    FAMILY(mpg_density, 1010.0, 1035.0, 0.0, 90.0, 0.0, 3000.0),
    FAMILY(cipm, NAN, NAN, 1.0, 40.0, 0.0, 1800.0),
    FAMILY(patterson, NAN, NAN, 1.0, 40.0, 0.0, 10000.0),
    FAMILY(jones, NAN, NAN, 5.0, 40.0, 0.0, 10000.0),
    FAMILY(kell, NAN, NAN, 0.0, 140.0, 0.0, 10000.0),
    FAMILY(iapws, NAN, NAN, 1.0, 90.0, 0.0, 20000.0),
    FAMILY(sea_fixed, NAN, NAN, 0.0, 40.0, 0.0, 20000.0),
    FAMILY(sea_density, 1000.0, 1028.0, 0.0, 40.0, 0.0, 20000.0),
    FAMILY(produced_60f, 1000.0, 1090.0, 6.0, 90.0, 0.0, 8000.0),
    FAMILY(produced_15c, 1000.0, 1090.0, 6.0, 90.0, 0.0, 8000.0),
    FAMILY(lng, NAN, NAN, -175.0, -159.0, 0.0, 1000.0),
    FAMILY(saturated, NAN, NAN, -40.0, 60.0, 0.0, 3000.0),
    FAMILY(costald, NAN, NAN, -40.0, 60.0, 1500.0, 6000.0),
    FAMILY(polynomial, NAN, NAN, -20.0, 80.0, 0.0, 5000.0),
    FAMILY(polynomial_degf, NAN, NAN, -15.0, 90.0, 0.0, 5000.0),
    FAMILY(line, NAN, NAN, 0.0, 60.0, 0.0, 5000.0),
    FAMILY(grid, NAN, NAN, 0.0, 40.0, 0.0, 5000.0),
};
#define FAMILIES (sizeof family_liquids / sizeof family_liquids[0])

static inline flc_liquid_options family_options(const family_liquid *family)
{
    flc_liquid_options options = invented_liquid_options(FLC_VOLUME_NONE, FLC_VISCOSITY_MEASURED);
    options.name = family->name;
    family->set(&options);
    return options;
}

static inline flc_liquid *family_new(const family_liquid *family)
{
    const flc_liquid_options options = family_options(family);
    return invented_liquid_of(&options);
}

/** The invented meter, taken also to the temperature of LNG. */
static inline flc_meter *family_meter(void)
{
    const flc_meter_options options = invented_options();
    flc_body_options body = invented_body();
    body.beyond = FLC_BODY_EXTEND;
    return invented_meter_of(&options, &body);
}

static inline double drawn(uint64_t *seed, double low, double high)
{
    return isnan(low) ? low : flc_draw_between(seed, low, high);
}

static inline family_record family_draw(const family_liquid *family, uint64_t *seed)
{
    const family_record record = {drawn(seed, family->rho_low, family->rho_high),
                                  flc_draw_between(seed, family->t_low, family->t_high),
                                  flc_draw_between(seed, family->p_low, family->p_high), NAN};
    return record;
}

#endif
