/* SPDX-License-Identifier: Apache-2.0 */
/* Inverse of a formula that changes its constants at borders of its argument, as the refined groups do: the piece is
 * found first, then the root on it. Where two pieces answer, or none, at a border, the side whose value there is nearer
 * is taken: its root if it has one, else the border itself (lower side: the largest double below it). */
#ifndef FLC_PIECEWISE_ROOT_H
#define FLC_PIECEWISE_ROOT_H

#include "petroleum_2004_core.h"
#include "bracketed_newton.h"

#define FLC_PIECES_MAX 4

typedef struct flc_pieces {
    flc_excess_function *excess;          /* of every piece */
    const void *problems[FLC_PIECES_MAX]; /* one per piece, from the lowest argument up */
    double borders[FLC_PIECES_MAX - 1];   /* where the next piece begins */
    size_t count;                         /* of pieces */
} flc_pieces;

/** The pieces of a product group, without their problems: refined has one for each of the groups it stands for, any
 *  other has one. The group of each goes into groups. */
static inline flc_pieces flc_petroleum_pieces(flc_excess_function *excess, flc_petroleum_group group,
                                              flc_petroleum_group groups[FLC_PIECES_MAX])
{
    static const flc_petroleum_group refined[FLC_PIECES_MAX] = {FLC_PETROLEUM_GASOLINE, FLC_PETROLEUM_TRANSITION,
                                                                FLC_PETROLEUM_JET, FLC_PETROLEUM_FUEL_OIL};
    flc_pieces pieces = {
        excess,
        {NULL},
        {FLC_PETROLEUM_2004_TRANSITION_FROM, FLC_PETROLEUM_2004_JET_FROM, FLC_PETROLEUM_2004_FUEL_OIL_FROM},
        group == FLC_PETROLEUM_REFINED ? FLC_PIECES_MAX : 1};
    for (size_t i = 0; i < pieces.count; i++) {
        groups[i] = group == FLC_PETROLEUM_REFINED ? refined[i] : group;
    }
    return pieces;
}

static inline double flc_piece_excess(const flc_pieces *pieces, size_t place, double x)
{
    double slope;
    return pieces->excess(pieces->problems[place], x, &slope);
}

/** Root on one piece, or the end of the piece that is nearer where the piece does not reach it. */
static inline double flc_piece_root(const flc_pieces *pieces, size_t place, double low, double high, double start)
{
    if (flc_piece_excess(pieces, place, low) >= 0.0) {
        return low;
    }
    if (flc_piece_excess(pieces, place, high) <= 0.0) {
        return high;
    }
    double inside = start < low ? low : start > high ? high : start;
    double root = flc_bracketed_newton(pieces->excess, pieces->problems[place], low, high, inside);
    return root < low ? low : root > high ? high : root;
}

/** The excess of the two pieces that meet at a border decides for its lower or its upper side. */
static inline int flc_lies_below_border(double excess_below, double excess_above)
{
    if (excess_below > 0.0 && excess_above > 0.0) {
        return 1;
    }
    int between = excess_below >= 0.0 || excess_above >= 0.0; /* no root, or one on each side */
    return between && flc_fabs(excess_below) < flc_fabs(excess_above);
}

/** Where the excess is zero, low <= x <= high, low and high inside the first and the last piece; FLC_E_NO_ROOT where
 *  the ends do not enclose zero. The excess rises on every piece. */
static inline flc_status flc_piecewise_root(const flc_pieces *pieces, double low, double high, double start,
                                            double *root)
{
    size_t place = 0;
    if (flc_piece_excess(pieces, 0, low) > 0.0 || flc_piece_excess(pieces, pieces->count - 1, high) < 0.0) {
        return FLC_E_NO_ROOT;
    }
    for (; place + 1 < pieces->count; place++) {
        double border = pieces->borders[place];
        if (flc_lies_below_border(flc_piece_excess(pieces, place, border),
                                  flc_piece_excess(pieces, place + 1, border))) {
            high = border - border * 0x1p-53; /* the largest double below it */
            break;
        }
        low = border;
    }
    *root = flc_piece_root(pieces, place, low, high, start);
    return FLC_OK;
}

#endif
