/* SPDX-License-Identifier: Apache-2.0 */
/* Invented liquids of the families of petroleum, light ends, aromatics and biodiesel; see family_liquids.h. */
#ifndef FLC_FAMILY_HYDROCARBONS_H
#define FLC_FAMILY_HYDROCARBONS_H

#include "example_meter.h"
#include "flowcomp/flowcomp.h"

#define KPA_PER_PSI 6.894757293168361 /* 4.4482216152605 N / (25.4 mm)^2 */
#define ATMOSPHERE_KPA 101.325

typedef struct family_record {
    double rho, t, p; /* base density; NaN where the liquid has its own */
    double tb;        /* temperature of the base, °C */
} family_record;

typedef struct family_liquid {
    const char *name;
    void (*set)(flc_liquid_options *options);
    void (*expect)(const family_record *r, double *ctl, double *cpl);
    double rho_low, rho_high, t_low, t_high, p_low, p_high;
} family_liquid;

#define OK(call) assert_int_equal(call, FLC_OK)

static inline double degf(double t)
{
    return 1.8 * t + 32.0;
}

static inline void base_of(flc_liquid_options *o, flc_volume_method volume, flc_petroleum_base base)
{
    o->volume = volume;
    o->base = base;
    o->compressibility = FLC_COMPRESSIBILITY_NONE;
    o->product = flc_petroleum_product_of_group(FLC_PETROLEUM_GROUP_NONE);
}

static inline void at_degc(flc_liquid_options *o, flc_volume_method volume, double t_base)
{
    base_of(o, volume, (flc_petroleum_base)-1);
    o->t_base_degc = t_base;
}

static inline void supplied(flc_liquid_options *o, double f_per_kpa)
{
    o->compressibility = FLC_COMPRESSIBILITY_SUPPLIED;
    o->f_per_kpa = f_per_kpa;
}

#define GROUP(o, which) (o)->product = flc_petroleum_product_of_group(FLC_PETROLEUM_##which)
#define SET(name) static inline void set_##name(flc_liquid_options *o)
#define EXPECT(name) static inline void expect_##name(const family_record *r, double *ctl, double *cpl)

/* ---- petroleum ---- */

SET(p2004_any)
{
    at_degc(o, FLC_VOLUME_PETROLEUM_2004, 30.0);
    GROUP(o, CRUDE);
    o->compressibility = FLC_COMPRESSIBILITY_OF_METHOD;
}
EXPECT(p2004_any)
{
    double rho60, at, base;
    const flc_petroleum_product crude = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
    OK(flc_rho60_from_observed_petroleum_2004(r->rho, degf(30.0), 0.0, crude, &rho60));
    OK(flc_ctl60_petroleum_2004(rho60, degf(r->t), crude, &at));
    OK(flc_ctl60_petroleum_2004(rho60, degf(30.0), crude, &base));
    OK(flc_cpl60_petroleum_2004(rho60, degf(r->t), r->p / 6.894757, crude, cpl));
    *ctl = at / base;
}

SET(p1980_60f)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_60F);
    GROUP(o, CRUDE);
    o->compressibility = FLC_COMPRESSIBILITY_1984;
}
EXPECT(p1980_60f)
{
    OK(flc_ctl_table24_petroleum_1980(r->rho / 999.012, degf(r->t), FLC_PETROLEUM_CRUDE, ctl));
    OK(flc_cpl_compressibility_1984_customary(r->rho, degf(r->t), r->p / KPA_PER_PSI, NAN, cpl));
}

SET(p1980_15c)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_15C);
    GROUP(o, REFINED);
    o->compressibility = FLC_COMPRESSIBILITY_1984;
}
EXPECT(p1980_15c)
{
    OK(flc_ctl_table54_petroleum_1980(r->rho, r->t, FLC_PETROLEUM_REFINED, ctl));
    OK(flc_cpl_compressibility_1984_metric(r->rho, r->t, r->p, NAN, cpl));
}

SET(p1980_20c)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_20C);
    GROUP(o, LUBE);
    o->compressibility = FLC_COMPRESSIBILITY_1984;
}
EXPECT(p1980_20c)
{
    double rho15;
    OK(flc_ctl_table60_petroleum_1980(r->rho, r->t, FLC_PETROLEUM_LUBE, ctl));
    OK(flc_rho15_table53_petroleum_1980(r->rho, 20.0, FLC_PETROLEUM_LUBE, NAN, &rho15));
    OK(flc_cpl_compressibility_1984_metric(rho15, r->t, r->p, NAN, cpl));
}

SET(p1980_any)
{
    at_degc(o, FLC_VOLUME_PETROLEUM_1980, 25.0);
    GROUP(o, CRUDE);
    supplied(o, 8e-7);
}
EXPECT(p1980_any)
{
    OK(flc_ctl_petroleum_1980(r->rho, r->t, 25.0, FLC_PETROLEUM_CRUDE, ctl));
    OK(flc_cpl_supplied_compressibility(8e-7, r->p, NAN, cpl));
}

SET(p1980_6c)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_60F);
    o->product = flc_petroleum_product_of_alpha60(4.2e-4);
    o->compressibility = FLC_COMPRESSIBILITY_1984;
}
EXPECT(p1980_6c)
{
    OK(flc_ctl_table6c_petroleum_1980(4.2e-4, degf(r->t), ctl));
    OK(flc_cpl_compressibility_1984_customary(r->rho, degf(r->t), r->p / KPA_PER_PSI, NAN, cpl));
}

SET(p1980_54c)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_15C);
    o->alpha15_per_degc = 8.1e-4;
}
EXPECT(p1980_54c)
{
    OK(flc_ctl_table54c_petroleum_1980(8.1e-4, r->t, ctl));
    *cpl = 1.0;
}

SET(p1980_60c)
{
    base_of(o, FLC_VOLUME_PETROLEUM_1980, FLC_PETROLEUM_BASE_20C);
    o->alpha15_per_degc = 8.1e-4;
    o->compressibility = FLC_COMPRESSIBILITY_1984;
}
EXPECT(p1980_60c)
{
    double at, base;
    OK(flc_ctl_table54c_petroleum_1980(8.1e-4, r->t, &at));
    OK(flc_ctl_table54c_petroleum_1980(8.1e-4, 20.0, &base));
    *ctl = at / base;
    OK(flc_cpl_compressibility_1984_metric(r->rho / base, r->t, r->p, NAN, cpl));
}

/* ---- light ends: propane at 49 degC has about 1700 kPa absolute; an invented correlation of that size ---- */

static inline double pe_supplied(double t)
{
    return pow(10.0, 5.9 - 800.0 / (245.0 + t));
}

SET(light_60f)
{
    base_of(o, FLC_VOLUME_LIGHT_ENDS_2007, FLC_PETROLEUM_BASE_60F);
    o->compressibility = FLC_COMPRESSIBILITY_1986;
    o->vapour = FLC_VAPOUR_SUPPLIED;
    o->vapour_a = 5.9, o->vapour_b = 800.0, o->vapour_c = 245.0;
}
EXPECT(light_60f)
{
    OK(flc_ctl60_light_ends_2007(r->rho / 999.016, degf(r->t), ctl));
    const double pe = pe_supplied(r->t) - ATMOSPHERE_KPA;
    OK(flc_cpl_compressibility_1986(r->rho / 999.016, degf(r->t), (r->p - (pe > 0.0 ? pe : 0.0)) / KPA_PER_PSI, cpl));
}

SET(light_15c)
{
    base_of(o, FLC_VOLUME_LIGHT_ENDS_2007, FLC_PETROLEUM_BASE_15C);
    o->compressibility = FLC_COMPRESSIBILITY_1986;
    o->vapour = FLC_VAPOUR_LABORATORY;
    o->pe378_kpa = 1100.0, o->vapour_slope_k = 2200.0;
}
EXPECT(light_15c)
{
    double rd60;
    OK(flc_ctl15_light_ends_2007(r->rho, r->t, ctl));
    OK(flc_rd60_from_observed_light_ends_2007(r->rho / 999.016, 59.0, &rd60));
    const double pe = 1100.0 * exp(-2200.0 * (1.0 / (r->t + 273.15) - 1.0 / 310.928)) - ATMOSPHERE_KPA;
    OK(flc_cpl_compressibility_1986(rd60, degf(r->t), (r->p - (pe > 0.0 ? pe : 0.0)) / KPA_PER_PSI, cpl));
}

SET(light_20c)
{
    base_of(o, FLC_VOLUME_LIGHT_ENDS_2007, FLC_PETROLEUM_BASE_20C);
}
EXPECT(light_20c)
{
    OK(flc_ctl20_light_ends_2007(r->rho, r->t, ctl));
    *cpl = 1.0;
}

SET(light_any)
{
    at_degc(o, FLC_VOLUME_LIGHT_ENDS_2007, 5.0);
    supplied(o, 3e-6);
}
EXPECT(light_any)
{
    OK(flc_ctl_light_ends_2007(r->rho, r->t, 5.0, ctl));
    OK(flc_cpl_supplied_compressibility(3e-6, r->p, NAN, cpl));
}

/* ---- aromatics, biodiesel ---- */

SET(aromatic_60f)
{
    base_of(o, FLC_VOLUME_AROMATICS_D1555, FLC_PETROLEUM_BASE_60F);
    o->aromatic = FLC_AROMATIC_BENZENE;
}
EXPECT(aromatic_60f)
{
    OK(flc_ctl60_aromatics_d1555(FLC_AROMATIC_BENZENE, degf(r->t), ctl));
    *cpl = 1.0;
}

SET(aromatic_15c)
{
    base_of(o, FLC_VOLUME_AROMATICS_D1555, FLC_PETROLEUM_BASE_15C);
    o->aromatic = FLC_AROMATIC_TOLUENE;
    supplied(o, 9e-7);
}
EXPECT(aromatic_15c)
{
    OK(flc_ctl15_aromatics_d1555(FLC_AROMATIC_TOLUENE, r->t, ctl));
    OK(flc_cpl_supplied_compressibility(9e-7, r->p, NAN, cpl));
}

SET(aromatic_20c)
{
    base_of(o, FLC_VOLUME_AROMATICS_D1555, FLC_PETROLEUM_BASE_20C);
    o->aromatic = FLC_AROMATIC_STYRENE;
}
EXPECT(aromatic_20c)
{
    OK(flc_ctl20_aromatics_d1555(FLC_AROMATIC_STYRENE, r->t, ctl));
    *cpl = 1.0;
}

SET(aromatic_any)
{
    at_degc(o, FLC_VOLUME_AROMATICS_D1555, 10.0);
    o->aromatic = FLC_AROMATIC_CUMENE;
}
EXPECT(aromatic_any)
{
    OK(flc_ctl_aromatics_d1555(FLC_AROMATIC_CUMENE, r->t, 10.0, ctl));
    *cpl = 1.0;
}

SET(fame_15c)
{
    base_of(o, FLC_VOLUME_FAME_EN14214, FLC_PETROLEUM_BASE_15C);
    supplied(o, 6e-7);
}
EXPECT(fame_15c)
{
    OK(flc_ctl15_fame_en14214(r->rho, r->t, ctl));
    OK(flc_cpl_supplied_compressibility(6e-7, r->p, NAN, cpl));
}

SET(fame_20c)
{
    base_of(o, FLC_VOLUME_FAME_EN14214, FLC_PETROLEUM_BASE_20C);
}
EXPECT(fame_20c)
{
    double rho15, at, base;
    OK(flc_rho15_fame_en14214(r->rho, 20.0, &rho15));
    OK(flc_ctl15_fame_en14214(rho15, r->t, &at));
    OK(flc_ctl15_fame_en14214(rho15, 20.0, &base));
    *ctl = at / base;
    *cpl = 1.0;
}

#endif
