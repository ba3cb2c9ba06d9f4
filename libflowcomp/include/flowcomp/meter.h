/* SPDX-License-Identifier: Apache-2.0 */
/* The meter: body and curve together, and one evaluation of one record.
 *
 *   D, B = body(T,P);  nu = liquid(T);  Ro = f D^2/nu;  St = curve(Ro);  K = [4 St/(pi D0^3)] B;  q = f/K;  V = N/K
 *   base volume = V CTL CPL
 *
 * f is the frequency while the meter was flowing: N over the flowing seconds where they are known, else over the whole
 * window. An hour that ran for twenty minutes has a Roshko number three times the one N/3600 s gives, so a window next to
 * standstill, or at under half of a neighbour's frequency, is flagged with a bound on what that does to K: it may have
 * flowed at any frequency from its mean up. A neighbour's own mean is no limit, since it may have run in part too. */
#ifndef FLOWCOMP_METER_H
#define FLOWCOMP_METER_H

#include "flowcomp/curve.h"
#include "flowcomp/liquid.h"

FLC_BEGIN_DECLS

/* Set up by flc_meter_options_init, then filled in. Fields are only ever appended. */
typedef struct flc_meter_options {
    uint32_t size;
    const char *name;       /* tag of the meter, up to 47 bytes; required */
    flc_curve_beyond below; /* policy under the curve; refuse */
    flc_curve_beyond above; /* policy over the curve; refuse */
    double cutoff_hz;       /* low-flow cut-off, Hz, 0 to 1e6: under this frequency while flowing pulses only; 0: off */
} flc_meter_options;

/** Set up meter options with the defaults above.
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_meter_options_init_sized(flc_meter_options *options, size_t own_size);
#define flc_meter_options_init(options) flc_meter_options_init_sized((options), sizeof *(options))

typedef struct flc_meter flc_meter; /* immutable; a const pointer serves any number of threads */

/** Make a meter. Body and curve are copied. D0, T0 and P0 of both must be the same (FLC_E_CONFLICT).
 *  @param options  from flc_meter_options_init
 *  @param body     from flc_body_options_init, filled in
 *  @param curve    a curve
 *  @param[out] meter  new handle, to be freed by flc_meter_free; NULL on failure
 *  @param[out] error  names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING, FLC_E_CHOICE, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW,
 *          FLC_E_ABOVE, FLC_E_CONFLICT, FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_new(const flc_meter_options *options, const flc_body_options *body, const flc_curve *curve,
                                 flc_meter **meter, flc_error *error);

/** Free a meter; NULL is allowed.
 *  @since 0.1 */
FLC_API void flc_meter_free(flc_meter *meter);

/** What a meter was made from. Pointers live as long as the meter.
 *  @param meter  never NULL
 *  @param[out] options, body  filled
 *  @param[out] curve  the meter's own curve, not to be freed
 *  @return FLC_OK, FLC_E_NULL
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_describe(const flc_meter *meter, flc_meter_options *options, flc_body_options *body,
                                      const flc_curve **curve);

/** Canonical bytes of a meter (options, body, curve) for hashing: big-endian, IEEE doubles, fixed field order.
 *  @param meter  never NULL
 *  @param[out] bytes  room for size bytes, or NULL with size 0
 *  @param size    room
 *  @param[out] needed  bytes it takes
 *  @return FLC_OK, FLC_E_NULL, FLC_E_BUFFER (needed is set)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_canonical(const flc_meter *meter, uint8_t *bytes, size_t size, size_t *needed);

/* One record. Set up by flc_reading_init (every number NaN, factor 1), then filled in. Either a window (pulses with
 * duration_s) or a frequency (f_hz alone): both or neither is refused. */
typedef struct flc_reading {
    uint32_t size;
    double pulses;     /* pulses in the window: whole; negative for reverse flow */
    double duration_s; /* length of the window, s, above 0 to 1e9 */
    double flowing_s;  /* seconds of it with flow, where known, s; up to a thousandth over duration_s is all of it */
    double f_flowing_hz; /* or the mean frequency while flowing, where known, Hz; a thousandth under N/duration_s is that */
    double f_hz;       /* a frequency instead of a window, Hz, 0 to 1e6 */
    double t_degc;     /* temperature at the meter, °C */
    double p_kpag;     /* pressure at the meter, kPa gauge */
    double nu_mm2s;    /* measured viscosity at t_degc, only for a liquid with FLC_VISCOSITY_MEASURED */
    flc_density density;
    double f_before_hz; /* mean frequency of the window before, where known (0: no flow), Hz, not negative */
    double f_after_hz;  /* of the window after */
    double f_highest_hz; /* highest frequency that the meter runs at here, where declared: the end of the bound for
                            partial flow, Hz; else the top of the curve is */
    double pe_kpa; /* measured vapour pressure at t_degc, kPa absolute, only for a liquid with FLC_VAPOUR_MEASURED */
} flc_reading;

/** Set up a reading: every number NaN, densitometer factor 1.
 *  @param[out] reading  never NULL
 *  @since 0.1 */
FLC_API void flc_reading_init_sized(flc_reading *reading, size_t own_size);
#define flc_reading_init(reading) flc_reading_init_sized((reading), sizeof *(reading))

/* The fields of a result, listed once: name, unit, meaning. */
#define FLC_RESULT_LIST(ROW)                                                                                           \
    ROW(f_hz, "Hz", "pulse frequency while flowing")                                                                   \
    ROW(nu_mm2s, "mm2/s", "kinematic viscosity at the meter")                                                          \
    ROW(d_m, "m", "bore at the meter's temperature and pressure")                                                      \
    ROW(b_ratio, "1", "K ratio of the body at constant St")                                                            \
    ROW(ro, "1", "Roshko number f D^2/nu")                                                                             \
    ROW(re, "1", "Reynolds number 4 q/(pi D nu)")                                                                      \
    ROW(st, "1", "Strouhal number from the curve")                                                                     \
    ROW(k_per_m3, "1/m3", "K-factor, pulses per cubic metre at the meter")                                             \
    ROW(q_m3s, "m3/s", "volume flow at the meter while flowing")                                                       \
    ROW(v_m3, "m3", "gross volume of the window")                                                                      \
    ROW(rho_base_kgm3, "kg/m3", "density at base conditions")                                                          \
    ROW(ctl, "1", "temperature correction of the liquid")                                                              \
    ROW(cpl, "1", "pressure correction of the liquid")                                                                 \
    ROW(q_base_m3s, "m3/s", "volume flow at base conditions while flowing")                                            \
    ROW(v_base_m3, "m3", "base volume of the window")                                                                  \
    ROW(slope, "1", "s = d ln St/d ln Ro")                                                                             \
    ROW(dlnq_dlnf, "1", "sensitivity of the flow to frequency, 1 - s")                                                 \
    ROW(dlnq_dlnnu, "1", "sensitivity of the flow to viscosity, s")                                                    \
    ROW(dlnq_dlnd, "1", "sensitivity of the flow to the bore in Ro, -2 s")                                             \
    ROW(dlnq_dlnb, "1", "sensitivity of the flow to the body's K ratio, -1")                                           \
    ROW(u_v_nu, "1", "relative standard uncertainty of the volume from the viscosity, |s| u(nu)")                      \
    ROW(k_bound, "1", "bound on the relative error of K from partial flow; 0: none suspected; NaN: beyond the curve")

typedef struct flc_result {
    uint32_t size;
    uint32_t flags;    /* FLC_FLAG_*, several at once */
    flc_status status; /* FLC_OK or why the record was refused */
#define FLC_RESULT_FIELD(name, unit, meaning) double name;
    FLC_RESULT_LIST(FLC_RESULT_FIELD)
#undef FLC_RESULT_FIELD
} flc_result;

/** Set up a result: size, NaN everywhere.
 *  @param[out] result  never NULL
 *  @since 0.1 */
FLC_API void flc_result_init_sized(flc_result *result, size_t own_size);
#define flc_result_init(result) flc_result_init_sized((result), sizeof *(result))

/** Evaluate one record.
 *
 *  No pulses: volume exactly 0, flag no_flow, K and the rest NaN, no error. Under the cut-off: volume 0, flag
 *  below_cutoff. Reverse pulses: evaluated at |f|, volumes negative, flag reverse. Outside the curve with the policy
 *  refuse: FLC_E_BELOW_CURVE or FLC_E_ABOVE_CURVE with Ro set, so that the pulses can be totalled apart.
 *  @param meter    never NULL
 *  @param liquid   never NULL
 *  @param reading  from flc_reading_init, filled in
 *  @param[out] result  from flc_result_init; on failure NaN but for what was reached before the failure (f_hz, nu, d,
 *                  b_ratio, ro), with status and flags
 *  @param[out] error   names the input, or NULL
 *  @return result->status: FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_NAN, FLC_E_INFINITE,
 *          FLC_E_BELOW, FLC_E_ABOVE, FLC_E_NOT_WHOLE, FLC_E_NEGATIVE_PRESSURE, FLC_E_NO_ROOT, FLC_E_BELOW_CURVE,
 *          FLC_E_ABOVE_CURVE, FLC_E_BELOW_VISCOSITY_RANGE, FLC_E_ABOVE_VISCOSITY_RANGE
 *  @source similarity: definitions of St, Ro, Re; body and liquid: their own headers
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_evaluate(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                                      flc_result *result, flc_error *error);

FLC_END_DECLS

#endif
