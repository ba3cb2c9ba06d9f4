/* SPDX-License-Identifier: Apache-2.0 */
/* Invented liquids with each viscosity model, pressure and blend, and what the published methods give for them. */
#ifndef FLC_MODEL_LIQUIDS_H
#define FLC_MODEL_LIQUIDS_H

#include "family_liquids.h"

typedef struct model_liquid {
    const char *name;
    void (*set)(flc_liquid_options *options);
    double (*expect)(double rho_base, double t, double p); /* mm2/s */
    double rho, t_low, t_high, p_high;
} model_liquid;

#define LIQUID(name) static void set_##name(flc_liquid_options *o)
#define NU(name) static double nu_##name(double rho_base, double t, double p)

static double density(double rho_base, double t, double p)
{
    double ctl, cpl;
    OK(flc_ctl_table54_petroleum_1980(rho_base, t, FLC_PETROLEUM_REFINED, &ctl));
    OK(flc_cpl_compressibility_1984_metric(rho_base, t, p, NAN, &cpl));
    return rho_base * ctl * cpl;
}

static void oil(flc_liquid_options *o, flc_viscosity_model model, double c1, double c2, double c3, double c4, double c5)
{
    set_p1980_15c(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = model;
    o->coefficients = (flc_viscosity_coefficients){c1, c2, c3, c4, c5};
    o->model_t_low_degc = -20.0, o->model_t_high_degc = 85.0;
}

#define K(t) ((t) + 273.15)

LIQUID(andrade)
{
    oil(o, FLC_MODEL_ANDRADE, -4.0, 1500.0, NAN, NAN, NAN);
}
NU(andrade)
{
    double mu;
    OK(flc_mu_andrade(-4.0, 1500.0, K(t), &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(vogel)
{
    oil(o, FLC_MODEL_VOGEL, -2.5, 700.0, -110.0, NAN, NAN);
    o->kind = FLC_VISCOSITY_KINEMATIC;
}
NU(vogel)
{
    double nu;
    (void)rho_base, (void)p;
    OK(flc_mu_vogel(-2.5, 700.0, -110.0, K(t), &nu));
    return nu;
}
LIQUID(dutt)
{
    oil(o, FLC_MODEL_DUTT_PRASAD, -1.2, -320.0, 100.0, NAN, NAN);
}
NU(dutt)
{
    double mu;
    OK(flc_mu_dutt_prasad(-1.2, -320.0, 100.0, K(t), &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(dippr)
{
    oil(o, FLC_MODEL_DIPPR101, -20.607, 1943.0, 1.3205, 0.0, 0.0);
} /* n-dodecane, Perry 8th ed., Table 2-313 */
NU(dippr)
{
    double mu;
    OK(flc_mu_dippr101(-20.607, 1943.0, 1.3205, 0.0, 0.0, K(t), &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(power)
{
    oil(o, FLC_MODEL_POWER_LAW, 1e12, -6.0, NAN, NAN, NAN);
}
NU(power)
{
    double mu;
    OK(flc_mu_power_law(1e12, -6.0, K(t), &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(yaws)
{
    oil(o, FLC_MODEL_YAWS, -8.0, 1200.0, 0.005, -5e-6, NAN);
}
NU(yaws)
{
    double mu;
    OK(flc_mu_yaws(-8.0, 1200.0, 0.005, -5e-6, K(t), &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(polynomial_nu)
{
    oil(o, FLC_MODEL_POLYNOMIAL, 1.2, -0.02, 1e-4, 0.0, 20.0);
    o->kind = FLC_VISCOSITY_KINEMATIC;
}
NU(polynomial_nu)
{
    (void)rho_base, (void)p;
    return exp(1.2 - 0.02 * (t - 20.0) + 1e-4 * (t - 20.0) * (t - 20.0));
}
LIQUID(d341)
{
    oil(o, FLC_MODEL_D341_AB, 9.5, 3.8, NAN, NAN, NAN);
}
NU(d341)
{
    double nu;
    (void)rho_base, (void)p;
    OK(flc_nu_d341_ab(t, 9.5, 3.8, FLC_D341_BODY, &nu));
    return nu;
}

LIQUID(barus)
{
    oil(o, FLC_MODEL_ANDRADE, -4.0, 1500.0, NAN, NAN, NAN);
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_BARUS;
    o->alpha_per_gpa = 15.0;
}
NU(barus)
{
    double mu0, mu;
    OK(flc_mu_andrade(-4.0, 1500.0, K(t), &mu0));
    OK(flc_mu_barus(mu0, 15.0, p / 1000.0, &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(roelands)
{
    oil(o, FLC_MODEL_D341_AB, 9.5, 3.8, NAN, NAN, NAN);
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_ROELANDS;
    o->alpha_per_gpa = 15.0;
}
NU(roelands)
{
    double nu0, mu;
    OK(flc_nu_d341_ab(t, 9.5, 3.8, FLC_D341_BODY, &nu0));
    OK(flc_mu_roelands(nu0 * density(rho_base, t, 0.0) / 1000.0, 15.0, p / 1000.0, NAN, NAN, NAN, &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(kouzel)
{
    set_p1980_15c(o);
    o->viscosity = FLC_VISCOSITY_POINTS;
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_KOUZEL_1965;
}
NU(kouzel)
{
    double nu0, mu;
    OK(flc_nu_d341_table(t, invented_t_degc, invented_nu_mm2s, 4, FLC_D341_BODY, &nu0));
    OK(flc_mu_kouzel_1965(nu0 * density(rho_base, t, 0.0) / 1000.0, p / 1000.0, &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}
LIQUID(kouzel_api)
{
    oil(o, FLC_MODEL_ANDRADE, -4.0, 1500.0, NAN, NAN, NAN);
    o->viscosity_pressure = FLC_VISCOSITY_PRESSURE_KOUZEL_API;
}
NU(kouzel_api)
{
    double mu0, mu;
    OK(flc_mu_andrade(-4.0, 1500.0, K(t), &mu0));
    OK(flc_mu_kouzel_api(mu0, (p + ATMOSPHERE_KPA) / 1000.0, &mu));
    return 1000.0 * mu / density(rho_base, t, p);
}

LIQUID(r12_08)
{
    set_iapws(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = FLC_MODEL_WATER_R12_08;
}
NU(r12_08)
{
    double rho, mu;
    (void)rho_base;
    OK(flc_rho_water_iapws95(K(t), (p + ATMOSPHERE_KPA) / 1000.0, &rho));
    OK(flc_mu_water_r12_08(K(t), rho, &mu));
    return 1000.0 * mu / rho;
}
LIQUID(sr6_08)
{
    set_kell(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = FLC_MODEL_WATER_SR6_08;
}
NU(sr6_08)
{
    double rho, mu, kappa;
    (void)rho_base;
    OK(flc_rho_water_kell_1975(t, &rho));
    OK(flc_kappa_water_kell_1975(t, &kappa));
    OK(flc_mu_water_sr6_08(K(t), &mu));
    return 1000.0 * mu / (rho / (1.0 - kappa * 1e-8 * p));
}
LIQUID(sharqawy)
{
    set_sea_fixed(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = FLC_MODEL_SEAWATER_SHARQAWY;
}
NU(sharqawy)
{
    double rho, mu;
    (void)rho_base;
    OK(flc_rho_seawater_eos80(35.0, t, p / 100.0, &rho));
    OK(flc_mu_seawater_sharqawy(t, 0.035, &mu));
    return 1000.0 * mu / rho;
}
LIQUID(millero)
{
    set_sea_density(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = FLC_MODEL_SEAWATER_MILLERO;
}
NU(millero)
{
    double s, rho, mu;
    OK(flc_s_psu_from_observed_seawater_eos80(rho_base, 20.0, 0.0, &s));
    OK(flc_rho_seawater_eos80(s, t, p / 100.0, &rho));
    OK(flc_mu_seawater_millero(t, s, &mu));
    return 1000.0 * mu / rho;
}
LIQUID(glycol)
{
    set_mpg_density(o);
    o->viscosity = FLC_VISCOSITY_MODEL;
    o->model = FLC_MODEL_GLYCOL_MELINDER;
}
NU(glycol)
{
    double w, rho, mu;
    (void)p;
    OK(flc_mass_fraction_from_density_mpg_water_melinder_2010(rho_base, 20.0, &w));
    OK(flc_rho_mpg_water_melinder_2010(w, t, &rho));
    OK(flc_mu_mpg_water_melinder_2010(w, t, &mu));
    return 1000.0 * mu / rho;
}

static void two_parts(flc_liquid_options *o, flc_blend_rule rule)
{
    o->viscosity = FLC_VISCOSITY_BLEND;
    o->blend = rule;
    o->share_second = 0.3;
}
static double blended(double t, int is_refutas)
{
    const double share[] = {0.7, 0.3};
    double nu[2], mixed;
    OK(flc_nu_d341_table(t, invented_t_degc, invented_nu_mm2s, 4, FLC_D341_BODY, &nu[0]));
    OK(flc_nu_d341_table(t, invented_t_degc, invented_thick_mm2s, 4, FLC_D341_BODY, &nu[1]));
    OK(is_refutas ? flc_nu_blend_refutas(share, nu, 2, &mixed)
                  : flc_nu_blend_astm(share, nu, 2, FLC_D341_BODY, &mixed));
    return mixed;
}
LIQUID(refutas)
{
    set_p1980_15c(o);
    two_parts(o, FLC_BLEND_REFUTAS);
}
NU(refutas)
{
    (void)rho_base, (void)p;
    return blended(t, 1);
}
LIQUID(astm)
{
    set_p1980_15c(o);
    two_parts(o, FLC_BLEND_ASTM_D7152);
}
NU(astm)
{
    (void)rho_base, (void)p;
    return blended(t, 0);
}

#define MODEL(name, ...)                          \
    {                                             \
#name, set_##name, nu_##name, __VA_ARGS__ \
    }

static const model_liquid model_liquids[] = {
    MODEL(andrade, 850.0, -20.0, 85.0, 8000.0),    MODEL(vogel, 850.0, -20.0, 85.0, 8000.0),
    MODEL(dutt, 850.0, -20.0, 85.0, 8000.0),       MODEL(dippr, 760.0, -20.0, 85.0, 8000.0),
    MODEL(power, 850.0, -20.0, 85.0, 8000.0),      MODEL(yaws, 850.0, -20.0, 85.0, 8000.0),
    MODEL(polynomial_nu, 850.0, -20.0, 85.0, 8e3), MODEL(d341, 850.0, -20.0, 85.0, 8000.0),
    MODEL(barus, 850.0, -20.0, 85.0, 8000.0),      MODEL(roelands, 850.0, -20.0, 85.0, 8000.0),
    MODEL(kouzel, 850.0, -20.0, 85.0, 8000.0),     MODEL(kouzel_api, 850.0, -20.0, 85.0, 8000.0),
    MODEL(r12_08, NAN, 1.0, 90.0, 9000.0),         MODEL(sr6_08, NAN, 1.0, 100.0, 9000.0),
    MODEL(sharqawy, NAN, 1.0, 40.0, 9000.0),       MODEL(millero, 1020.0, 1.0, 29.0, 9000.0),
    MODEL(glycol, 1020.0, 10.0, 90.0, 3000.0),     MODEL(refutas, 850.0, -20.0, 85.0, 8000.0),
    MODEL(astm, 850.0, -20.0, 85.0, 8000.0),
};
#define MODELS (sizeof model_liquids / sizeof model_liquids[0])

#endif
