/* SPDX-License-Identifier: Apache-2.0 */
/* A viscosity model through measured points, in libflowcomp-analysis. The result is the coefficients that
 * flc_liquid_options take, with the range of the points: a liquid made of them refuses temperatures outside, because
 * real liquids leave their model there (a shear-stable hydraulic oil by a factor of five at -54 degC).
 *
 * Least squares in the coordinates where the model is linear: ln mu for all but ASTM D341, W against log10 T for that.
 * Every point counts the same, relatively. Vogel and Dutt-Prasad have one coefficient, DIPPR 101 with six points or more
 * another, that is not linear: for each value of it the others are linear least squares, and the sum of squares is
 * minimised over it (variable projection, Golub and Pereyra, SIAM J. Numer. Anal. 10 (1973) 413). */
#ifndef FLOWCOMP_VISCOSITY_FIT_H
#define FLOWCOMP_VISCOSITY_FIT_H

#include "flowcomp/liquid.h"

FLC_BEGIN_DECLS

typedef struct flc_viscosity_fit {
    uint32_t size;
    flc_viscosity_model model;
    flc_viscosity_kind kind; /* of the points, and so of the coefficients */
    flc_d341_form form;      /* of FLC_MODEL_D341_AB */
    flc_viscosity_coefficients coefficients; /* NaN where the model has fewer */
    double t_low_degc, t_high_degc;          /* of the points, °C */
    size_t points;
    size_t free;      /* points less coefficients: 0 is a curve through the points, that says nothing of its fit */
    double rms_pct;   /* root mean square of the residuals, % */
    double worst_pct; /* the largest, with its sign, % */
    size_t worst;     /* its place */
} flc_viscosity_fit;

/** Set up a result: size, NaN everywhere.
 *  @param[out] fit  never NULL
 *  @since 0.1 */
FLC_API void flc_viscosity_fit_init_sized(flc_viscosity_fit *fit, size_t own_size);
#define flc_viscosity_fit_init(fit) flc_viscosity_fit_init_sized((fit), sizeof *(fit))

/** Fit a model to measured points.
 *  @param model   one with coefficients: FLC_MODEL_ANDRADE (2 points or more), FLC_MODEL_POWER_LAW (2), FLC_MODEL_D341_AB
 *                 (2, kinematic only), FLC_MODEL_VOGEL (3), FLC_MODEL_DUTT_PRASAD (3), FLC_MODEL_DIPPR101 (3: C4 and C5
 *                 are 0; from 6 on all five), FLC_MODEL_YAWS (4), FLC_MODEL_POLYNOMIAL (4, about the mean temperature)
 *  @param kind    what the viscosities are: mPa s or mm²/s
 *  @param form    of ASTM D341; else not looked at
 *  @param t_degc  temperatures, rising (repeats are allowed), °C, -200 to 600
 *  @param viscosity  mPa s or mm²/s, falling as the temperature rises, 0.001 to 1e9 (D341: the limits of its form)
 *  @param n       number of points, to 1024
 *  @param[out] fit  from flc_viscosity_fit_init; NaN on failure
 *  @param[out] residual_pct  100 (model/measured - 1) of each point, n of them, or NULL
 *  @param[out] error  names the point, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_CONFLICT (a dynamic viscosity for D341), FLC_E_COUNT (too
 *          few or too many points), FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_ORDER, FLC_E_SINGULAR
 *          (too few different temperatures, or the points do not determine the coefficients), FLC_E_DOMAIN (the
 *          coefficients lie outside what the model's method takes), FLC_E_MEMORY
 *  @source least squares; see the head of this header
 *  @since 0.1 */
FLC_API FLC_STATUS flc_fit_viscosity(flc_viscosity_model model, flc_viscosity_kind kind, flc_d341_form form,
                                     const double *t_degc, const double *viscosity, size_t n, flc_viscosity_fit *fit,
                                     double *residual_pct, flc_error *error);

FLC_END_DECLS

#endif
