/* SPDX-License-Identifier: Apache-2.0 */
/* libflowcomp-analysis: from a certificate to a curve. It links GSL, so its binary is under GPL-3.0-or-later; the
 * curves it makes are plain numbers that the run-time library evaluates on its own. */
#ifndef FLOWCOMP_ANALYSIS_H
#define FLOWCOMP_ANALYSIS_H

#include "flowcomp/analysis_methods.h"
#include "flowcomp/curve.h"
#include "flowcomp/methods.h"

FLC_BEGIN_DECLS

/* One row of a certificate; every number NaN where the certificate does not give it (flc_certificate_point_init).
 *
 * Ordinate, in this order: k_per_m3; error_pct, then meter_factor, each with the nominal K of the options; f_hz with
 * q_m3s; pulses with volume_m3. The first that is given is used; every further one must agree with it within 0.05 %.
 *
 * Abscissa: x; else f/nu with nu_mm2s, and f from f_hz, pulses/time_s or K q_m3s, in this order. A further one must
 * agree within 1 % (enough to tell a wrong unit, wide enough for a printed viscosity).
 *
 * In the dimensionless convention a row with x holds St in k_per_m3. Where the body is already corrected, every number
 * of the row is taken to be so: a corrected K beside the measured flow and frequency is a conflict as soon as the
 * body's growth passes 0.05 %. */
typedef struct flc_certificate_point {
    uint32_t size;
    double f_hz;         /* pulse frequency, Hz, 1e-6 to 1e6 */
    double q_m3s;        /* reference flow, m³/s, 1e-12 to 100 */
    double k_per_m3;     /* pulses/m³, or St (dimensionless convention with x), 1e-6 to 1e12 */
    double error_pct;    /* meter error at the nominal K, %, -50 to 100: K = K_nominal (1 + E/100) */
    double meter_factor; /* 0.5 to 2: K = K_nominal / MF */
    double pulses;       /* collected pulses, 1 to 1e15; need not be whole (interpolated pulses) */
    double volume_m3;    /* reference volume, m³, 1e-9 to 1e9 */
    double time_s;       /* collection time, s, 1e-3 to 1e8 */
    double x;            /* abscissa as printed: Ro, or Hz/cSt, 1e-6 to 1e12 */
    double t_degc;       /* at the meter, °C; required for FLC_BODY_AS_RUN */
    double p_kpag;       /* at the meter, kPa gauge; required for FLC_BODY_AS_RUN with a pressure stretch */
    double nu_mm2s;      /* kinematic viscosity at the meter, mm²/s, 1e-3 to 1e6; required without x */
    double ctpl;         /* CTL CPL of the point, 0.5 to 1.5; required where the reference volume is at base conditions:
                            K at the meter = K CTL CPL */
    double u_relative;   /* standard uncertainty of K, relative, 1e-7 to 0.5; NaN: that of the options */
    int32_t liquid;      /* tag of the liquid */
} flc_certificate_point;

/** Set up a certificate point: every number NaN, liquid 0.
 *  @param[out] point  never NULL
 *  @since 0.1 */
FLC_API void flc_certificate_point_init_sized(flc_certificate_point *point, size_t own_size);
#define flc_certificate_point_init(point) flc_certificate_point_init_sized((point), sizeof *(point))

typedef enum flc_reference_volume {
    FLC_REFERENCE_AT_METER = 0, /* the laboratory gives volumes at the meter's temperature and pressure */
    FLC_REFERENCE_AT_BASE = 1   /* the laboratory gives volumes at base conditions */
} flc_reference_volume;

/** Reference volume from its word ("at_meter", "at_base").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_reference_volume_from_name(const char *name, flc_reference_volume *choice);

/* How the curve is drawn through or along the points.
 *
 * The two interpolations go through the points, those nearer than merge_ro averaged; nothing is rejected.
 *
 * The two least squares weight each point with 1/(u St)^2; none is averaged. Robust: Tukey's bisquare (Beaton and
 * Tukey, Technometrics 16 (1974) 147), weight [1 - (r/(4.685 s))^2]^2 with r the residual in units of u; 4.685 keeps
 * 95 % of the efficiency of plain least squares on normal errors (Holland and Welsch, Comm. Stat. A6 (1977) 813). The
 * start is the least sum of absolute deviations; the scale s is its median absolute residual/0.6745 (the p - 1 smallest
 * left out, for p coefficients), at least 0.5; it is taken anew from the settled fit as long as it falls.
 *
 * Pieces of the B-spline: as asked for; or the choice is among a constant, line, parabola, cubic, and cubics of 2, 3,
 * 4, 5, 6, 8, 10, 12 pieces with equally many distinct points each, and at most one coefficient for two distinct points
 * (plain: four coefficients from five points up). First the one of least chi^2 + p ln n (Schwarz, Ann. Stat. 6 (1978)
 * 461), chi^2 in units of the scatter about the most flexible, at least 0.5 u. Then, where the points scatter about it
 * by 0.5 u or more, so that u is what they scatter by, the stiffest that u allows: chi^2 <= m + sqrt(2 m), m degrees of
 * freedom (Reinsch, Numer. Math. 10 (1967) 177), over the points not weighted down by the first. So a rise of the curve
 * inside the stated uncertainty is not claimed; flc_fit_band holds it. (Papers cited from memory.) */
typedef enum flc_fit_method {
    FLC_FIT_STEFFEN = 0, /* monotone interpolation (Steffen, Astron. Astrophys. 239 (1990) 443): the default */
    FLC_FIT_CUBIC = 1,   /* natural cubic spline interpolation */
    FLC_FIT_BSPLINE = 2, /* weighted least squares on a cubic B-spline */
    FLC_FIT_ROBUST = 3   /* the same with the bisquare; every weight is reported */
} flc_fit_method;

/** Fit method from its word ("steffen", "cubic", "bspline", "robust").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_method_from_name(const char *name, flc_fit_method *choice);

/* Set up by flc_fit_options_init, then filled in. Fields are only ever appended. */
typedef struct flc_fit_options {
    uint32_t size;
    flc_curve_convention convention; /* required */
    flc_body_treatment treatment;    /* required */
    flc_reference_volume reference;  /* required */
    flc_fit_method method;           /* steffen */
    double k_nominal_per_m3;         /* for error_pct and meter_factor; NaN */
    double u_relative;               /* standard uncertainty of every K without its own, relative; 0.0005. Its part that
                                        differs from point to point: what all points share (the reference standard) is
                                        not reduced by a fit and is to be added to flc_fit_band */
    double merge_ro;                 /* points nearer than this in Ro, relative, count as one; 0 to 0.1; 0.005 */
    size_t break_points;             /* pieces of the B-spline, 1 to 64; 0: chosen, see flc_fit_method */
} flc_fit_options;

/** Set up fit options with the defaults above; required choices are "not chosen".
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_fit_options_init_sized(flc_fit_options *options, size_t own_size);
#define flc_fit_options_init(options) flc_fit_options_init_sized((options), sizeof *(options))

typedef struct flc_fit flc_fit; /* immutable result of a fit */

/** Fit a curve to certificate points.
 *  @param options  from flc_fit_options_init, filled in
 *  @param body     the meter body the curve belongs to
 *  @param points   count points, in any order
 *  @param count    2 to 100 000; distinct in Ro at least 2 for the interpolations (at most 4096), 4 for bspline, 6 for
 *                  robust, and with break_points given break_points + 3, robust + 5
 *  @param[out] fit    new handle, to be freed by flc_fit_free; NULL on failure
 *  @param[out] error  names the field and the point (index), or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_COUNT (fewer distinct points than the method needs),
 *          FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_SINGULAR,
 *          FLC_E_DOMAIN, FLC_E_NOT_MONOTONIC, FLC_E_MEMORY. Judged in the order options, body, points (each: size,
 *          ranges in the order of the fields, ordinate, abscissa, conditions), their number, the curve
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_certificate(const flc_fit_options *options, const flc_body_options *body,
                                       const flc_certificate_point *points, size_t count, flc_fit **fit,
                                       flc_error *error);

/** Free a fit; NULL is allowed. Its curve goes with it.
 *  @since 0.1 */
FLC_API void flc_fit_free(flc_fit *fit);

/** The fitted curve; it lives as long as the fit (a meter made from it has its own copy). NULL of NULL.
 *  @since 0.1 */
FLC_API const flc_curve *flc_fit_curve(const flc_fit *fit);

/* Flags of a point. It disagrees where its nearest neighbour of another liquid, on either side and within merge_ro,
 * differs by more than three standard uncertainties of the difference: not noise, but one curve failing to hold for
 * both liquids. Repeats of one liquid differ by the same rule: one of the two is wrong, or u is too small. A point
 * weighted down at an end leaves the range resting on a doubtful point. */
#define FLC_FIT_POINT_AVERAGED 1u  /* shares its knot with near neighbours in Ro (interpolations) */
#define FLC_FIT_POINT_DISAGREES 2u /* with another liquid */
#define FLC_FIT_POINT_DOWN 4u      /* robust weight under 0.5 */
#define FLC_FIT_POINT_END_DOWN 8u  /* and it is the lowest or highest Ro */
#define FLC_FIT_POINT_DIFFERS 16u  /* from a repeat with the same liquid */

/* What became of one certificate point. */
typedef struct flc_fit_point {
    uint32_t size;
    uint32_t flags; /* FLC_FIT_POINT_* */
    int32_t liquid;
    double k_per_m3;     /* K as understood, pulses/m³ at the meter (with the body as the certificate states it) */
    double ro, st;       /* in the library's coordinates: the body at T0 and P0 */
    double re;           /* Ro/St */
    double residual_pct; /* 100 (St/St_curve - 1), % of reading */
    double weight;       /* robust weight 0 to 1; 1 elsewhere */
    double u_relative;   /* as used */
} flc_fit_point;

/** Set up a fit point: size, NaN everywhere.
 *  @param[out] point  never NULL
 *  @since 0.1 */
FLC_API void flc_fit_point_init_sized(flc_fit_point *point, size_t own_size);
#define flc_fit_point_init(point) flc_fit_point_init_sized((point), sizeof *(point))

/** Number of points of a fit; 0 of NULL.
 *  @since 0.1 */
FLC_API size_t flc_fit_count(const flc_fit *fit);

/** What became of a point, counted in the order given.
 *  @param fit    never NULL
 *  @param index  0 to count - 1
 *  @param[out] point  from flc_fit_point_init; NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_ABOVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_point_at(const flc_fit *fit, size_t index, flc_fit_point *point);

/* Figures of a fit. K-factors are those of the points at T0 and P0, without the points weighted down. */
typedef struct flc_fit_summary {
    uint32_t size;
    flc_fit_method method;
    size_t points, knots, liquids, averaged, disagreeing, weighted_down;
    double ro_low, ro_high;
    double residual_rms_pct, residual_max_pct; /* without the points weighted down */
    double linearity_mid_pct;                  /* 100 (Kmax - Kmin)/(Kmax + Kmin) about the mid value */
    double linearity_mean_pct;                 /* largest deviation from the mean K */
    double k_mean_per_m3;                      /* mean K */
    double condition;            /* condition number of the least squares, columns balanced; 1 for an interpolation */
    double slope_min, slope_max; /* of s over the curve's knots and mid-points */
    size_t coefficients;         /* of the least squares; 0 for an interpolation */
    double scatter;              /* scatter of the points about the curve in units of their stated u (robust: the median
                                    absolute one): well above 1, u is too small. NaN for an interpolation, and
                                    where there are no more points than coefficients */
    size_t differing;            /* points that differ from a repeat */
} flc_fit_summary;

/** Set up a summary: size, counts 0, NaN elsewhere.
 *  @param[out] summary  never NULL
 *  @since 0.1 */
FLC_API void flc_fit_summary_init_sized(flc_fit_summary *summary, size_t own_size);
#define flc_fit_summary_init(summary) flc_fit_summary_init_sized((summary), sizeof *(summary))

/** Summary of a fit.
 *  @param fit  never NULL
 *  @param[out] summary  from flc_fit_summary_init; filled
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_summarise(const flc_fit *fit, flc_fit_summary *summary);

/** Relative standard uncertainty of St on the fitted curve: that of the points, taken as independent, carried through
 *  the fit. Interpolations: linear in ln Ro between the knots, an averaged knot with 1/sqrt(sum 1/u^2). Least squares:
 *  from its covariance; where the pieces were chosen stiffer than the least chi^2 + p ln n, the distance to that curve
 *  is added (root of the sum of squares). Both are widened where the points scatter more than their u explains, by the
 *  root of chi^2 over its degrees of freedom (robust: by the scatter of the summary). Interpolation error between
 *  points is not in it.
 *  @param fit  never NULL
 *  @param ro   inside the curve
 *  @param[out] u_relative  1; NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW (ro not positive), FLC_E_BELOW_CURVE,
 *          FLC_E_ABOVE_CURVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_band(const flc_fit *fit, double ro, double *u_relative);

/** Number of published methods in this library, as flc_method_count for the run-time library.
 *  @since 0.1 */
FLC_API size_t flc_analysis_method_count(void);

/** Row of the method at this place (0 to count - 1), or NULL. flc_method_call takes it like any other.
 *  @since 0.1 */
FLC_API const flc_method_info *flc_analysis_method_at(size_t place);

FLC_END_DECLS

#endif
