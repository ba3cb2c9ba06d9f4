/* SPDX-License-Identifier: Apache-2.0 */
/* The meter body: how its bore and its K-factor move with temperature and pressure.
 *
 *   D(T,P) = D0 (1 + eH) (1 + eP)                              the bore, of the housing
 *   B(T,P) = K/K0 at constant St
 *          = 1 / { (1 + eR) [ (1 + eH)^2 (1 + eP)^2 - k (1 + eR)^2 ] / (1 - k) }
 *
 * eH and eR are the strains of housing and rotor from T0 to T, eP the hoop strain of the bore from P0 to P, k the part
 * of the bore's area that hub and blade roots block, (r/R)^2. Left out: the change of tip clearance, which for unlike
 * metals can be of the same order. A body is a plain value: build it once, it is copied into a meter. */
#ifndef FLOWCOMP_METER_BODY_H
#define FLOWCOMP_METER_BODY_H

#include "flowcomp/body_strain.h"
#include "flowcomp/metals.h"

FLC_BEGIN_DECLS

/* What happens at a temperature outside the range that a metal's expansion was printed for. */
typedef enum flc_body_beyond {
    FLC_BODY_REFUSE = 0,
    FLC_BODY_EXTEND = 1 /* the same expansion, flagged body_extrapolated */
} flc_body_beyond;

/** Policy from its word ("refuse", "extend").
 *  @param name     word
 *  @param[out] choice  filled on success
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_beyond_from_name(const char *name, flc_body_beyond *choice);

/* Set up by flc_body_options_init, then filled in. Fields are only ever appended. */
typedef struct flc_body_options {
    uint32_t size;
    double bore_m;          /* D0, bore at t0 and p0, m, 0.001 to 2; required */
    double t0_degc;         /* reference temperature of D0, °C; required */
    double p0_kpag;         /* reference pressure of D0, kPa gauge; 0 */
    flc_metal housing;      /* required; its modulus and Poisson ratio only where end is not none */
    flc_metal rotor;        /* law 0 and alpha NaN: same as the housing */
    double area_blocked;    /* k = (hub radius / bore radius)^2, 0 to 0.95; 0 */
    flc_body_end end;       /* end condition of the pressure stretch; FLC_END_NONE: no stretch. Required */
    double wall_m;          /* wall of the housing, m; required where end is not none */
    flc_body_beyond beyond; /* outside a metal's range: refuse; judged at t0 too */
} flc_body_options;

/** Set up body options: size, NaN where a value is required, defaults elsewhere.
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_body_options_init_sized(flc_body_options *options, size_t own_size);
#define flc_body_options_init(options) flc_body_options_init_sized((options), sizeof *(options))

/** Check body options.
 *  @param options  from flc_body_options_init, filled in
 *  @param[out] error  names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE,
 *          FLC_E_CHOICE, FLC_E_BUFFER (a metal's source without an end)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_check(const flc_body_options *options, flc_error *error);

/* What the body does at one temperature and pressure. */
typedef struct flc_body_state {
    double strain_housing; /* eH, 1 */
    double strain_rotor;   /* eR, 1 */
    double strain_bore;    /* eP, 1 */
    double d_m;            /* D(T,P), m */
    double b_ratio;        /* B(T,P) = K/K0 at constant St, 1 */
    uint32_t flags;        /* FLC_FLAG_BODY_EXTRAPOLATED, FLC_FLAG_FROM_MEMORY */
} flc_body_state;

/** Bore and K ratio at a temperature and pressure.
 *  @param body     checked options
 *  @param t_degc   body temperature, °C, -273.15 to 600
 *  @param p_kpag   pressure, kPa gauge, 0 to 100 000
 *  @param[out] state  NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING (body not complete), FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW,
 *          FLC_E_ABOVE (also outside a metal's range, unless beyond is extend), FLC_E_NEGATIVE_PRESSURE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_at(const flc_body_options *body, double t_degc, double p_kpag, flc_body_state *state);

FLC_END_DECLS

#endif
