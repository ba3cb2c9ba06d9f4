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

/* A search starts in one of these equal parts of the curve and has then, as a rule, one segment left or two. */
#define FLC_CURVE_PARTS 256

struct flc_curve {
    flc_curve_reference reference;
    size_t segments;
    double x_low, x_high;                /* first and last knot, ln Ro */
    double st_high;                      /* St at the last knot, as given */
    double ro_low, ro_high;              /* exp of the ends, for people and bounds */
    double slope_low, slope_high;        /* dSt/dx at the ends, for extend_slope */
    double parts_per_x;                  /* FLC_CURVE_PARTS over the length */
    uint16_t first[FLC_CURVE_PARTS + 2]; /* the last knot that lies in an earlier part, 0 where there is none */
    int is_sparse;                       /* no part holds more than one knot: one comparison finds the segment */
    flc_curve_segment segment[];         /* segments rows, and one whose knot is never reached */
};

/* How far extend_slope reaches beyond an end: a factor of ten in Ro. */
#define FLC_CURVE_REACH 2.302585092994045684

/* An abscissa this close to an end is the end. */
#define FLC_CURVE_END 1e-12

/** x, or the end that it is so close to: a point of the certificate comes back with another last bit. */
static inline double flc_curve_at_end(const flc_curve *curve, double x)
{
    double near_low = flc_fabs(x - curve->x_low) <= FLC_CURVE_END ? curve->x_low : x;
    return flc_fabs(near_low - curve->x_high) <= FLC_CURVE_END ? curve->x_high : near_low;
}

/* How parts lie on the curve. */
typedef struct flc_curve_scale {
    double x_low, parts_per_x;
} flc_curve_scale;

static inline flc_curve_scale flc_curve_scale_of(const flc_curve *curve)
{
    const flc_curve_scale scale = {curve->x_low, curve->parts_per_x};
    return scale;
}

/** The part, 0 to FLC_CURVE_PARTS, that holds x (x_low <= x <= x_high): (x - x_low) parts_per_x rounded to the nearest
 *  by adding 2^52. It never falls as x rises. */
static inline uint64_t flc_curve_part_at(flc_curve_scale scale, double x)
{
    return flc_to_bits((x - scale.x_low) * scale.parts_per_x + 0x1p52) & UINT64_C(0x1ff);
}

static inline uint64_t flc_curve_part_of(const flc_curve *curve, double x)
{
    return flc_curve_part_at(flc_curve_scale_of(curve), x);
}

/** Segment that holds x (x_low <= x <= x_high): the last whose left knot is not above x. */
static inline size_t flc_curve_segment_in(const flc_curve *curve, uint64_t part, double x)
{
    size_t low = curve->first[part], high = curve->first[part + 1] + (size_t)1;
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

/** The same for a sparse curve, without a branch. */
static inline size_t flc_curve_segment_in_sparse(const flc_curve *curve, uint64_t part, double x)
{
    const size_t low = curve->first[part];
    return low + (curve->segment[low + 1].x <= x);
}

static inline size_t flc_curve_segment_of(const flc_curve *curve, double x)
{
    return flc_curve_segment_in(curve, flc_curve_part_of(curve, x), x);
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

/** The same for ln_ro outside the ends: what the policy of that side makes of it. */
flc_status flc_curve_evaluate_beyond(const flc_curve *curve, double ln_ro, flc_curve_beyond below,
                                     flc_curve_beyond above, flc_curve_value *value);

/** Lowest and highest St of the curve between two abscissas inside it: ends, knots and the turning points of each
 *  cubic. */
void flc_curve_extremes(const flc_curve *curve, double x_from, double x_to, double *st_low, double *st_high);

/** Canonical bytes. */
void flc_curve_put(flc_canonical *out, const flc_curve *curve);

/** Size of a curve's memory block. */
static inline size_t flc_curve_size(size_t segments)
{
    return sizeof(flc_curve) + (segments + 1) * sizeof(flc_curve_segment);
}

#endif
