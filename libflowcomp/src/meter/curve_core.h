/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a curve, and its unchecked evaluation. */
#ifndef FLC_CURVE_CORE_H
#define FLC_CURVE_CORE_H

#include "flowcomp/curve.h"
#include "canonical.h"
#include "error.h"
#include "fpmath.h"

/* One segment: its left knot and its cubic, so that an evaluation reads one row. */
typedef struct flc_curve_segment {
    double x;
    double c[4];
} flc_curve_segment;

struct flc_curve {
    flc_curve_convention convention;
    flc_body_treatment treatment;
    size_t segments;
    double x_low, x_high;         /* first and last knot, ln Ro */
    double st_high;               /* St at the last knot, as given */
    double ro_low, ro_high;       /* exp of the ends, for people and bounds */
    double slope_low, slope_high; /* dSt/dx at the ends, for extend_slope */
    flc_curve_segment segment[];  /* segments rows */
};

/* How far extend_slope reaches beyond an end: a factor of ten in Ro. */
#define FLC_CURVE_REACH 2.302585092994045684

/* An abscissa this close to an end is the end. */
#define FLC_CURVE_END 1e-12

/** Segment that holds x (x_low <= x <= x_high): the last whose left knot is not above x. */
static inline size_t flc_curve_segment_of(const flc_curve *curve, double x)
{
    size_t low = 0, high = curve->segments;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        if (curve->segment[middle].x <= x) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

static inline double flc_segment_value(const flc_curve_segment *s, double u)
{
    return s->c[0] + u * (s->c[1] + u * (s->c[2] + u * s->c[3]));
}

static inline double flc_segment_derivative(const flc_curve_segment *s, double u)
{
    return s->c[1] + u * (2.0 * s->c[2] + u * (3.0 * s->c[3]));
}

/** Evaluate at ln Ro; FLC_OK, FLC_E_BELOW_CURVE or FLC_E_ABOVE_CURVE. */
flc_status flc_curve_evaluate(const flc_curve *curve, double ln_ro, flc_curve_beyond below, flc_curve_beyond above,
                              flc_curve_value *value);

/** Lowest and highest St of the curve between two abscissas inside it: ends, knots and the turning points of each
 *  cubic. */
void flc_curve_extremes(const flc_curve *curve, double x_from, double x_to, double *st_low, double *st_high);

/** Canonical bytes. */
void flc_curve_put(flc_canonical *out, const flc_curve *curve);

/** Size of a curve's memory block. */
static inline size_t flc_curve_size(size_t segments)
{
    return sizeof(flc_curve) + segments * sizeof(flc_curve_segment);
}

#endif
