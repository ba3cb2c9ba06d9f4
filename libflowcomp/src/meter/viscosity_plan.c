/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity models, pressure and density as programs. */
#include "volume_program.h"
#include "error.h"
#include "fpmath.h"

FLC_USES(mu_andrade);
FLC_USES(mu_vogel);
FLC_USES(mu_dutt_prasad);
FLC_USES(mu_dippr101);
FLC_USES(mu_power_law);
FLC_USES(mu_yaws);
FLC_USES(nu_d341_ab);
FLC_USES(mu_water_r12_08);
FLC_USES(mu_water_sr6_08);
FLC_USES(mu_seawater_sharqawy);
FLC_USES(mu_seawater_millero);
FLC_USES(mu_meg_water_melinder_2010);
FLC_USES(mu_mpg_water_melinder_2010);
FLC_USES(mu_barus);
FLC_USES(mu_roelands);
FLC_USES(mu_kouzel_1965);
FLC_USES(mu_kouzel_api);

/* ---- models: the formula is the same for dynamic and kinematic coefficients ---- */

static flc_status polynomial(const double *slot, double *value)
{
    const double x = slot[SLOT_T_DEGC] - slot[SLOT_C5];
    *value = flc_exp(slot[SLOT_C1] + x * (slot[SLOT_C2] + x * (slot[SLOT_C3] + x * slot[SLOT_C4])));
    return FLC_OK;
}

static flc_status density_at_t_and_p(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE] * (slot[SLOT_CTL] * slot[SLOT_CPL]);
    return FLC_OK;
}

static flc_status density_at_t(const double *slot, double *value)
{
    *value = slot[SLOT_RHO_BASE] * slot[SLOT_CTL];
    return FLC_OK;
}

static flc_status kg_per_kg(const double *slot, double *value)
{
    *value = slot[SLOT_S_PSU] / 1000.0;
    return FLC_OK;
}

#define MODEL(method, ...)                                        \
    {                                                             \
        {FLC_BY(SLOT_MU, method, __VA_ARGS__), FLC_PROGRAM_END},  \
        {                                                         \
            FLC_BY(SLOT_NU, method, __VA_ARGS__), FLC_PROGRAM_END \
        }                                                         \
    }
#define POLYNOMIAL(to)                                                                                                 \
    {                                                                                                                  \
        FLC_AS(to, polynomial, "exp(C1 + C2 x + C3 x^2 + C4 x^3), x = t - C5", SLOT_T_DEGC, SLOT_C1, SLOT_C2, SLOT_C3, \
               SLOT_C4, SLOT_C5),                                                                                      \
            FLC_PROGRAM_END                                                                                            \
    }

static const flc_volume_step models[][2][2] = {
    [FLC_MODEL_ANDRADE] = MODEL(mu_andrade, SLOT_C1, SLOT_C2, SLOT_T_K),
    [FLC_MODEL_VOGEL] = MODEL(mu_vogel, SLOT_C1, SLOT_C2, SLOT_C3, SLOT_T_K),
    [FLC_MODEL_DUTT_PRASAD] = MODEL(mu_dutt_prasad, SLOT_C1, SLOT_C2, SLOT_C3, SLOT_T_K),
    [FLC_MODEL_DIPPR101] = MODEL(mu_dippr101, SLOT_C1, SLOT_C2, SLOT_C3, SLOT_C4, SLOT_C5, SLOT_T_K),
    [FLC_MODEL_POWER_LAW] = MODEL(mu_power_law, SLOT_C1, SLOT_C2, SLOT_T_K),
    [FLC_MODEL_YAWS] = MODEL(mu_yaws, SLOT_C1, SLOT_C2, SLOT_C3, SLOT_C4, SLOT_T_K),
    [FLC_MODEL_POLYNOMIAL] = {POLYNOMIAL(SLOT_MU), POLYNOMIAL(SLOT_NU)},
    [FLC_MODEL_D341_AB] = MODEL(nu_d341_ab, SLOT_T_DEGC, SLOT_C1, SLOT_C2, SLOT_FORM),
};

#define RHO_TP FLC_AS(SLOT_RHO_TP, density_at_t_and_p, "rho_b CTL CPL", SLOT_RHO_BASE, SLOT_CTL, SLOT_CPL)

static const flc_volume_step r12_08[] = {
    RHO_TP,
    FLC_BY(SLOT_MU, mu_water_r12_08, SLOT_T_K, SLOT_RHO_TP),
    FLC_PROGRAM_END,
};
static const flc_volume_step sr6_08[] = {FLC_BY(SLOT_MU, mu_water_sr6_08, SLOT_T_K), FLC_PROGRAM_END};
static const flc_volume_step sharqawy[] = {
    FLC_AS(SLOT_S_KGKG, kg_per_kg, "S / 1000", SLOT_S_PSU),
    FLC_BY(SLOT_MU, mu_seawater_sharqawy, SLOT_T_DEGC, SLOT_S_KGKG),
    FLC_PROGRAM_END,
};
static const flc_volume_step millero[] = {
    FLC_BY(SLOT_MU, mu_seawater_millero, SLOT_T_DEGC, SLOT_S_PSU),
    FLC_PROGRAM_END,
};
static const flc_volume_step meg[] = {
    FLC_BY(SLOT_MU, mu_meg_water_melinder_2010, SLOT_W, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};
static const flc_volume_step mpg[] = {
    FLC_BY(SLOT_MU, mu_mpg_water_melinder_2010, SLOT_W, SLOT_T_DEGC),
    FLC_PROGRAM_END,
};

static const flc_volume_step *model_of(const flc_liquid_options *options)
{
    switch (options->model) {
    case FLC_MODEL_WATER_R12_08:
        return r12_08;
    case FLC_MODEL_WATER_SR6_08:
        return sr6_08;
    case FLC_MODEL_SEAWATER_SHARQAWY:
        return sharqawy;
    case FLC_MODEL_SEAWATER_MILLERO:
        return millero;
    case FLC_MODEL_GLYCOL_MELINDER:
        return options->glycol == FLC_GLYCOL_MPG ? mpg : meg;
    default:
        return models[options->model][options->model == FLC_MODEL_D341_AB ? FLC_VISCOSITY_KINEMATIC : options->kind];
    }
}

/* ---- pressure and density ---- */

static flc_status mu_of_nu(const double *slot, double *value)
{
    *value = slot[SLOT_NU] * slot[SLOT_RHO_T] / 1000.0;
    return FLC_OK;
}

static flc_status nu_of_mu(const double *slot, double *value)
{
    *value = 1000.0 * slot[SLOT_MU] / slot[SLOT_RHO_TP];
    return FLC_OK;
}

static flc_status keep_mu(const double *slot, double *value)
{
    *value = slot[SLOT_MU];
    return FLC_OK;
}

static const flc_volume_step to_mu[] = {
    FLC_AS(SLOT_RHO_T, density_at_t, "rho_b CTL", SLOT_RHO_BASE, SLOT_CTL),
    FLC_AS(SLOT_MU, mu_of_nu, "nu rho_t / 1000", SLOT_NU, SLOT_RHO_T),
    FLC_PROGRAM_END,
};
static const flc_volume_step to_nu[] = {
    RHO_TP,
    FLC_AS(SLOT_NU, nu_of_mu, "1000 mu / rho_tp", SLOT_MU, SLOT_RHO_TP),
    FLC_PROGRAM_END,
};

#define MU_0 FLC_AS(SLOT_MU_0, keep_mu, "mu", SLOT_MU)

static const flc_volume_step pressures[][3] = {
    [FLC_VISCOSITY_PRESSURE_BARUS] = {MU_0, FLC_BY(SLOT_MU, mu_barus, SLOT_MU_0, SLOT_ALPHA_P, SLOT_P_MPAG),
                                      FLC_PROGRAM_END},
    [FLC_VISCOSITY_PRESSURE_ROELANDS] = {MU_0,
                                         FLC_BY(SLOT_MU, mu_roelands, SLOT_MU_0, SLOT_ALPHA_P, SLOT_P_MPAG, SLOT_ABSENT,
                                                SLOT_ABSENT, SLOT_ABSENT),
                                         FLC_PROGRAM_END},
    [FLC_VISCOSITY_PRESSURE_KOUZEL_1965] = {MU_0, FLC_BY(SLOT_MU, mu_kouzel_1965, SLOT_MU_0, SLOT_P_MPAG),
                                            FLC_PROGRAM_END},
    [FLC_VISCOSITY_PRESSURE_KOUZEL_API] = {MU_0, FLC_BY(SLOT_MU, mu_kouzel_api, SLOT_MU_0, SLOT_P_MPAA),
                                           FLC_PROGRAM_END},
};

void flc_viscosity_plan_of(const flc_liquid_options *options, flc_viscosity_plan *plan)
{
    const int is_model = options->viscosity == FLC_VISCOSITY_MODEL;
    const int pressed = options->viscosity_pressure != FLC_VISCOSITY_PRESSURE_NONE;
    const int is_dynamic = is_model && options->kind == FLC_VISCOSITY_DYNAMIC && options->model != FLC_MODEL_D341_AB;
    const flc_viscosity_plan blank = {NULL, NULL, NULL, NULL, 0};
    *plan = blank;
    plan->model = is_model ? model_of(options) : NULL;
    plan->pressure = pressed ? pressures[options->viscosity_pressure] : NULL;
    plan->to_mu = pressed && !is_dynamic ? to_mu : NULL;
    plan->to_nu = pressed || is_dynamic ? to_nu : NULL;
    plan->needs_density = pressed || is_dynamic;
}
