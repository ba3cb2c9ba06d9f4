/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a fit: the points as sorted, the curve as coefficients, and the ways to draw it. */
#ifndef FLC_FIT_CORE_H
#define FLC_FIT_CORE_H

#include "flowcomp/analysis.h"

#define FLC_PIECES_MAX 64
#define FLC_BISQUARE 4.685 /* Tukey's bisquare: 95 % of the efficiency of least squares on normal errors */

/* A stated u is believed down to this part of it: less scatter than that makes no point an outlier, and no detail of a
 * curve real. */
#define FLC_U_BELIEVED 0.5

/* One point, sorted by Ro. */
typedef struct flc_fit_row {
    size_t place; /* in the order given */
    int32_t liquid;
    uint32_t flags;
    double k_per_m3, ro, x, st, u; /* x = ln Ro; u relative */
    double weight;
} flc_fit_row;

/* Points that lie too near to each other in Ro to be told apart: their weighted means. */
typedef struct flc_fit_knot {
    double x, st, u;
    size_t first, count; /* rows */
} flc_fit_knot;

/* A cubic spline by least squares: breaks, St there, the power coefficients of each piece and their covariance. */
typedef struct flc_spline {
    size_t pieces, coefficients;
    double x[FLC_PIECES_MAX + 1], st[FLC_PIECES_MAX + 1];
    double c[FLC_PIECES_MAX][4];
    double covariance[FLC_PIECES_MAX][4][4];
    double condition;
    double scatter; /* of the points in units of their u, NaN where there are no degrees of freedom */
} flc_spline;

struct flc_fit {
    flc_curve *curve;
    flc_fit_summary summary;
    flc_fit_point *points; /* in the order given */
    double *knot_x;        /* of an interpolation: ln Ro of each knot, */
    double *knot_u;        /* and relative u there (the second half of the same memory) */
    flc_spline *chosen;    /* of a least squares */
    flc_spline *richer;    /* the curve of least chi^2 + p ln n, where a stiffer one was chosen, else NULL */
};

/* What a fit is made from: rows sorted, and knots over them. */
typedef struct flc_fit_data {
    flc_fit_row *rows;
    size_t count;
    flc_fit_knot *knots;
    size_t knot_count;
} flc_fit_data;

/** Cubic coefficients (4 a segment) of an interpolation through two knots or more.
 *  @param room  for 2 knots numbers */
void flc_interpolate(flc_fit_method method, const double *x, const double *st, size_t knots, double *room,
                     double *coefficients);

/* One least-squares problem: order 1 to 4 (constant to cubic) on so many pieces, and its result. */
typedef struct flc_trial {
    size_t order, pieces;
    double *residual; /* of each row in units of its own u */
    double *weight;   /* robust weight of each row; 1 in a plain fit */
    flc_spline spline;
} flc_trial;

/** Fit a trial to all rows, plainly or with the bisquare.
 *  @return FLC_OK, FLC_E_SINGULAR, FLC_E_DOMAIN, FLC_E_MEMORY */
flc_status flc_trial_fit(const flc_fit_data *data, int robust, flc_trial *trial);

/** Fit as the options ask, choosing the pieces where they leave it open; weights go into the rows.
 *  @param[out] chosen, richer  new, to be released; richer may come out NULL
 *  @return FLC_OK, FLC_E_SINGULAR, FLC_E_DOMAIN, FLC_E_MEMORY */
flc_status flc_fit_spline(const flc_fit_options *options, const flc_fit_data *data, flc_spline **chosen,
                          flc_spline **richer, flc_error *error);

/** St of a spline, x inside its breaks, and the piece that holds x. */
double flc_spline_at(const flc_spline *spline, double x);
size_t flc_spline_piece(const flc_spline *spline, double x);

/** Flags, residuals and figures, once the curve stands.
 *  @return FLC_OK, FLC_E_MEMORY */
flc_status flc_fit_describe(const flc_fit_options *options, const flc_body_options *body, const flc_fit_data *data,
                            flc_fit *fit);

#endif
