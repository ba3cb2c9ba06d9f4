/* SPDX-License-Identifier: Apache-2.0 */
/* The body with its constants folded once, and its unchecked evaluation. */
#ifndef FLC_METER_BODY_CORE_H
#define FLC_METER_BODY_CORE_H

#include "flowcomp/meter_body.h"
#include "body_strain_core.h"
#include "canonical.h"
#include "metals_core.h"

typedef struct flc_body_model {
    double d0_m, t0_degc, p0_kpag;
    double strain_per_kpa; /* hoop strain of the bore per kPa */
    double area_blocked;
    double per_open; /* 1 / (1 - area_blocked) */
    flc_metal housing, rotor;
    double t_low_degc, t_high_degc; /* what is not refused: both metals' ranges, or every temperature */
    uint32_t flags;                 /* those that every evaluation carries */
} flc_body_model;

/** Fold checked options. */
flc_body_model flc_body_model_of(const flc_body_options *options);

/** The metal of the rotor: its own, or the housing's where none is given. */
const flc_metal *flc_body_rotor(const flc_body_options *options);

/** Canonical bytes of body options. */
void flc_body_put(flc_canonical *out, const flc_body_options *options);

/** FLC_OK, or why a temperature is outside what the body's metals are good for. */
static inline flc_status flc_body_check_temperature(const flc_body_model *body, const char *argument, double t_degc,
                                                    flc_error *error)
{
    if (t_degc >= body->t_low_degc && t_degc <= body->t_high_degc) {
        return FLC_OK;
    }
    const int is_below = t_degc < body->t_low_degc;
    return flc_fail(error, is_below ? FLC_E_BELOW : FLC_E_ABOVE, argument, -1, t_degc,
                    is_below ? body->t_low_degc : body->t_high_degc,
                    "outside the range of a metal of the body; name a table that reaches it, or set beyond to extend");
}

#define FLC_BODY_T_LOW (-273.15)
#define FLC_BODY_T_HIGH 600.0
#define FLC_BODY_P_HIGH 100000.0

static inline int flc_body_outside(const flc_metal *metal, double t_degc)
{
    return t_degc < metal->t_low_degc || t_degc > metal->t_high_degc;
}

/** D(T,P) from the strains. */
static inline double flc_body_bore(double d0_m, double e_housing, double e_bore)
{
    return d0_m * (1.0 + e_housing) * (1.0 + e_bore);
}

static inline flc_body_state flc_body_evaluate(const flc_body_model *body, double t_degc, double p_kpag)
{
    flc_body_state state;
    state.strain_housing = flc_metal_strain(&body->housing, t_degc, body->t0_degc);
    state.strain_rotor = flc_metal_strain(&body->rotor, t_degc, body->t0_degc);
    state.strain_bore = body->strain_per_kpa * (p_kpag - body->p0_kpag);
    state.d_m = flc_body_bore(body->d0_m, state.strain_housing, state.strain_bore);
    state.b_ratio = 1.0 / flc_body_k_fall(state.strain_housing, state.strain_rotor, state.strain_bore, body->per_open);
    state.flags = body->flags;
    if (flc_body_outside(&body->housing, t_degc) || flc_body_outside(&body->rotor, t_degc)) {
        state.flags |= FLC_FLAG_BODY_EXTRAPOLATED;
    }
    return state;
}

#endif
