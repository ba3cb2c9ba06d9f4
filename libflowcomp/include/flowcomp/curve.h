/* SPDX-License-Identifier: Apache-2.0 */
/* The calibration curve: Strouhal number against the logarithm of the Roshko number.
 *
 *   Ro = f D^2 / nu      St = (pi/4) K D0^3 / B      x = ln Ro
 *   St(x) = c0 + c1 u + c2 u^2 + c3 u^3,  u = x - x_i,  between knots x_i and x_(i+1)
 *
 * A curve is made once (by a fit in libflowcomp-analysis, or from a meter file) and keeps its coefficients as exact
 * doubles; evaluating it is plain arithmetic in a fixed order, so that everybody gets the same bits. */
#ifndef FLOWCOMP_CURVE_H
#define FLOWCOMP_CURVE_H

#include "flowcomp/meter_body.h"

FLC_BEGIN_DECLS

/* What the numbers on the certificate mean. There is no default: the three differ by more than any meter's error. */
typedef enum flc_curve_convention {
    FLC_CONVENTION_DIMENSIONLESS = 0, /* St = (pi/4) K D^3 and Ro = f D^2/nu, both pure numbers */
    FLC_CONVENTION_NORMALISED = 1, /* "Strouhal" K (D/D0)^3 in pulses per volume, "Roshko" (f/nu)(D/D0)^2 in Hz/cSt */
    FLC_CONVENTION_RAW = 2         /* K in pulses per volume against f/nu in Hz/cSt */
} flc_curve_convention;

/** Convention from its word ("dimensionless", "normalised", "raw").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_convention_from_name(const char *name, flc_curve_convention *choice);

/* Whether the certificate's numbers still hold the body as it was on the day (temperature and pressure of the run), or
 * were already taken to D0 at T0. Required. */
typedef enum flc_body_treatment {
    FLC_BODY_AS_RUN = 0,           /* formed with D0: the body's growth at the run is still in the numbers */
    FLC_BODY_ALREADY_CORRECTED = 1 /* the laboratory has taken the body to T0 and P0 */
} flc_body_treatment;

/** Body treatment from its word ("as_run", "already_corrected").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_treatment_from_name(const char *name, flc_body_treatment *choice);

/** One certificate point in the library's own coordinates.
 *  @param convention  what x and y mean
 *  @param treatment   whether the body's growth is still in them
 *  @param body        checked options; D0 and T0 are its own
 *  @param x           Ro (1), or (f/nu)(D/D0)^2 or f/nu in Hz/cSt; positive
 *  @param y           St (1), or K (D/D0)^3 or K in pulses/m3; positive
 *  @param t_degc      temperature of the run, °C (used only for FLC_BODY_AS_RUN)
 *  @param p_kpag      pressure of the run, kPa gauge (used only for FLC_BODY_AS_RUN)
 *  @param[out] ro     dimensionless Roshko number, NaN on failure
 *  @param[out] st     dimensionless Strouhal number with the body at T0 and P0, NaN on failure
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_CHOICE, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_point(flc_curve_convention convention, flc_body_treatment treatment,
                                   const flc_body_options *body, double x, double y, double t_degc, double p_kpag,
                                   double *ro, double *st, flc_error *error);

/* What lies beyond the ends of the curve. Refusing is the default; the other two are named and flagged. */
typedef enum flc_curve_beyond {
    FLC_BEYOND_REFUSE = 0,      /* FLC_E_BELOW_CURVE or FLC_E_ABOVE_CURVE */
    FLC_BEYOND_HOLD_END = 1,    /* St of the end */
    FLC_BEYOND_EXTEND_SLOPE = 2 /* straight on from the end, in ln Ro, down to a tenth and up to ten times the end */
} flc_curve_beyond;

/** Policy from its word ("refuse", "hold_end", "extend_slope").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_beyond_from_name(const char *name, flc_curve_beyond *choice);

/* What a curve rests on: how the certificate stated its numbers, and the body that Ro and St were taken to. A curve in
 * a meter of another bore or another reference temperature would be wrong by per cent, so flc_meter_new compares. */
typedef struct flc_curve_reference {
    flc_curve_convention convention;
    flc_body_treatment treatment;
    double d0_m;    /* bore D0 at t0 and p0, m, 0.001 to 2 */
    double t0_degc; /* reference temperature, °C, -273.15 to 600 */
    double p0_kpag; /* reference pressure, kPa gauge, 0 to 100 000 */
} flc_curve_reference;

/** Reference of a curve that belongs to a body: D0, T0 and P0 are the body's.
 *  @param convention  how the certificate stated its numbers
 *  @param treatment   whether the body's growth was in them
 *  @param body        NULL gives NaN for D0, T0 and P0, which flc_curve_new refuses
 *  @since 0.1 */
FLC_API flc_curve_reference flc_curve_reference_for(flc_curve_convention convention, flc_body_treatment treatment,
                                                    const flc_body_options *body);

typedef struct flc_curve flc_curve; /* immutable; a const pointer serves any number of threads */

/** Make a curve from knots and coefficients in the library's own coordinates.
 *  @param reference   what the curve rests on (kept, shown by explain, compared by flc_meter_new)
 *  @param knots       2 to 4096
 *  @param ln_ro       knots values, -50 to 50, rising by at least 1e-9 each
 *  @param st          knots values: St at each knot, 1e-12 to 1e12
 *  @param coefficients  4 (knots - 1) values, -1e100 to 1e100: c0 c1 c2 c3 of each segment; c0 must be st of its left
 *                     knot
 *  @param[out] curve  new handle, to be freed by flc_curve_free; NULL on failure
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_CHOICE, FLC_E_COUNT, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE,
 *          FLC_E_ORDER, FLC_E_DOMAIN (segments do not join within 1e-9, or St is not positive inside),
 *          FLC_E_NOT_MONOTONIC (d ln St/d ln Ro reaches 1 somewhere: flow would not rise with frequency),
 *          FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_new(flc_curve_reference reference, size_t knots, const double *ln_ro, const double *st,
                                 const double *coefficients, flc_curve **curve, flc_error *error);

/** Free a curve; NULL is allowed.
 *  @since 0.1 */
FLC_API void flc_curve_free(flc_curve *curve);

/* One value of the curve. */
typedef struct flc_curve_value {
    double st;      /* 1 */
    double slope;   /* s = d ln St / d ln Ro, 1; beyond an end that of the end */
    double ln_ro;   /* as used */
    size_t segment; /* place of the segment used */
    uint32_t flags; /* FLC_FLAG_BELOW_CURVE, _ABOVE_CURVE, _EXTRAPOLATED */
} flc_curve_value;

/** St and slope at a Roshko number. Within 1e-12 of an end, relative, it is the end.
 *  @param curve   never NULL
 *  @param ro      Roshko number, 1e-300 to 1e300
 *  @param below, above  policy at each end
 *  @param[out] value  NaN on failure, with the flag that says which end
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_CHOICE, FLC_E_BELOW_CURVE,
 *          FLC_E_ABOVE_CURVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_at(const flc_curve *curve, double ro, flc_curve_beyond below, flc_curve_beyond above,
                                flc_curve_value *value);

/** Facts of a curve: number of knots, reference, ends in Ro. Of NULL: 0 knots, and NaN for every other number.
 *  @since 0.1 */
FLC_API size_t flc_curve_knots(const flc_curve *curve);
FLC_API flc_curve_reference flc_curve_reference_of(const flc_curve *curve);
FLC_API double flc_curve_ro_low(const flc_curve *curve);
FLC_API double flc_curve_ro_high(const flc_curve *curve);

/** Copy the knots and coefficients out, exactly as stored.
 *  @param curve   never NULL
 *  @param[out] ln_ro  room for flc_curve_knots values
 *  @param[out] st     the same
 *  @param[out] coefficients  room for 4 (knots - 1) values
 *  @return FLC_OK, FLC_E_NULL
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_copy(const flc_curve *curve, double *ln_ro, double *st, double *coefficients);

/** Canonical bytes of a curve for hashing: big-endian, IEEE doubles, fixed field order.
 *  @param curve   never NULL
 *  @param[out] bytes  room for size bytes, or NULL with size 0
 *  @param size    room
 *  @param[out] needed  bytes it takes
 *  @return FLC_OK, FLC_E_NULL, FLC_E_BUFFER (needed is set)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_curve_canonical(const flc_curve *curve, uint8_t *bytes, size_t size, size_t *needed);

FLC_END_DECLS

#endif
