/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a viscosity fit: a model as basis functions of temperature. */
#ifndef FLC_FIT_VISCOSITY_CORE_H
#define FLC_FIT_VISCOSITY_CORE_H

#include "flowcomp/viscosity_fit.h"

#define FLC_BASIS_MAX 4

/* y = sum of c_k times basis k of T; the basis may hold one number q that is not linear. */
typedef struct flc_viscosity_form {
    size_t least;        /* points */
    size_t coefficients; /* linear ones */
    int has_q;
    double q_low, q_high; /* of the search; ends that are none are found from the points */
    void (*basis)(double t_k, double q, double *row);
    void (*hand_over)(const double *c, double q, flc_viscosity_coefficients *out);
} flc_viscosity_form;

typedef struct flc_viscosity_data {
    const flc_viscosity_form *form;
    size_t count;
    const double *t_k, *y;
    double *room; /* (coefficients + 3) doubles a point */
} flc_viscosity_data;

/** Linear least squares at a q.
 *  @param[out] c  coefficients
 *  @param[out] squares  sum of squares
 *  @return FLC_OK, FLC_E_SINGULAR */
flc_status flc_viscosity_solve(const flc_viscosity_data *data, double q, double *c, double *squares);

/** The q of the least sum of squares.
 *  @return FLC_OK; FLC_E_SINGULAR where it lies at an end of the search, FLC_E_MEMORY */
flc_status flc_viscosity_search(const flc_viscosity_data *data, double *q);

#endif
