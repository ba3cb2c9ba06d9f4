/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/viscosity_index_d2270.h"
#include "bracketed_newton.h"
#include "error.h"
#include "fpmath.h"
#include "method.h"

/* Viscosity at 100 degC, and L and H beside it. */
typedef struct table_row {
    double nu100, l, h;
} table_row;

/* From lo to hi, L = a Y^2 + b Y + c and H = d Y^2 + e Y + f. */
typedef struct quadratic_piece {
    double lo, hi, a, b, c, d, e, f;
} quadratic_piece;

#include "tables/viscosity_index_d2270_table.inc"

#define LAST (FLC_COUNT_OF(lh_table) - 1)
#define NU100_HIGH 1000.0 /* mm2/s, as in the contracts */
#define PER_INDEX 0.00715
#define ROUNDING 1e-12                /* by which a viscosity at an end of the table may miss it */
#define TIE (1.0 - 4.0 * DBL_EPSILON) /* a value so near to a tie is one */

/* L and H at one viscosity, and their slopes. */
typedef struct basic_values {
    double l, h, l_slope, h_slope;
} basic_values;

/* --- L and H ------------------------------------------------------------------------------------------------------ */

/* Lower row of the interval of the table that holds y, 2 <= y <= 70. */
static size_t interval_of(double y)
{
    size_t low = 0, high = LAST;
    while (high - low > 1) {
        const size_t middle = low + (high - low) / 2;
        low = lh_table[middle].nu100 <= y ? middle : low;
        high = lh_table[middle].nu100 <= y ? high : middle;
    }
    return low;
}

static basic_values in_interval(size_t i, double y)
{
    const table_row *below = &lh_table[i], *above = &lh_table[i + 1];
    const double width = above->nu100 - below->nu100, part = (y - below->nu100) / width;
    const double l_rise = above->l - below->l, h_rise = above->h - below->h;
    return (basic_values){below->l + l_rise * part, below->h + h_rise * part, l_rise / width, h_rise / width};
}

static basic_values above_table(double y)
{
    return (basic_values){y * (0.8353 * y + 14.67) - 216.0, y * (0.1684 * y + 11.85) - 97.0, 1.6706 * y + 14.67,
                          0.3368 * y + 11.85};
}

static basic_values basic(double y)
{
    return y > lh_table[LAST].nu100 ? above_table(y) : in_interval(interval_of(y), y);
}

static flc_status l_d2270(double nu100_mm2s, double *result)
{
    *result = basic(nu100_mm2s).l;
    return FLC_OK;
}

static flc_status h_d2270(double nu100_mm2s, double *result)
{
    *result = basic(nu100_mm2s).h;
    return FLC_OK;
}

static const quadratic_piece *piece_of(double y)
{
    size_t i = 0;
    while (y > lh_quadratic[i].hi) {
        i++;
    }
    return &lh_quadratic[i];
}

static flc_status l_d2270_quadratic(double nu100_mm2s, double *result)
{
    const quadratic_piece *piece = piece_of(nu100_mm2s);
    *result = nu100_mm2s * (piece->a * nu100_mm2s + piece->b) + piece->c;
    return FLC_OK;
}

static flc_status h_d2270_quadratic(double nu100_mm2s, double *result)
{
    const quadratic_piece *piece = piece_of(nu100_mm2s);
    *result = nu100_mm2s * (piece->d * nu100_mm2s + piece->e) + piece->f;
    return FLC_OK;
}

/* --- the index ---------------------------------------------------------------------------------------------------- */

/* To so many parts of 1; a tie goes down. */
static double round_ties_down(double value, double parts)
{
    return flc_floor(value * parts * TIE + 0.5) / parts;
}

/* To an integer; a tie goes to the even one. */
static double round_ties_even(double value)
{
    const double down = flc_floor(value), rest = value - down;
    if (flc_fabs(rest - 0.5) <= 4.0 * DBL_EPSILON * flc_fabs(value)) {
        return down == 2.0 * flc_floor(0.5 * down) ? down : down + 1.0;
    }
    return rest < 0.5 ? down : down + 1.0;
}

static double exponent_b(double u, double y, double h)
{
    return flc_log10(h / u) / flc_log10(y);
}

static double index_a(double u, double l, double h)
{
    return 100.0 * (l - u) / (l - h);
}

static double index_b(double antilog)
{
    return 100.0 + (antilog - 1.0) / PER_INDEX;
}

static flc_status n_d2270(double nu40_mm2s, double nu100_mm2s, double *result)
{
    *result = exponent_b(nu40_mm2s, nu100_mm2s, basic(nu100_mm2s).h);
    return nu40_mm2s > nu100_mm2s ? FLC_OK : FLC_E_ORDER;
}

static flc_status n_d2270_printed_rounding(double nu40_mm2s, double nu100_mm2s, double *result)
{
    const double h = round_ties_down(basic(nu100_mm2s).h, 100.0);
    *result = round_ties_down(exponent_b(nu40_mm2s, nu100_mm2s, h), 1e5);
    return nu40_mm2s > nu100_mm2s ? FLC_OK : FLC_E_ORDER;
}

static flc_status vi_d2270(double nu40_mm2s, double nu100_mm2s, double *result)
{
    const basic_values at = basic(nu100_mm2s);
    *result = nu40_mm2s >= at.h ? index_a(nu40_mm2s, at.l, at.h)
                                : index_b(flc_exp10(exponent_b(nu40_mm2s, nu100_mm2s, at.h)));
    return nu40_mm2s > nu100_mm2s ? FLC_OK : FLC_E_ORDER;
}

static flc_status vi_d2270_printed_rounding(double nu40_mm2s, double nu100_mm2s, double *result)
{
    const basic_values at = basic(nu100_mm2s);
    const double l = round_ties_down(at.l, 100.0), h = round_ties_down(at.h, 100.0);
    const double n = round_ties_down(exponent_b(nu40_mm2s, nu100_mm2s, h), 1e5);
    *result = nu40_mm2s >= h ? index_a(nu40_mm2s, l, h) : index_b(round_ties_down(flc_exp10(n), 1e5));
    return nu40_mm2s > nu100_mm2s ? FLC_OK : FLC_E_ORDER;
}

static flc_status vi_d2270_reported(double nu40_mm2s, double nu100_mm2s, double *result)
{
    double vi = 0.0;
    const flc_status status = vi_d2270(nu40_mm2s, nu100_mm2s, &vi);
    *result = round_ties_even(vi);
    return status;
}

/* --- the viscosities that have an index --------------------------------------------------------------------------- */

/* N of an index above 100; 0 up to 100. */
static double exponent_of_index(double vi)
{
    return vi > 100.0 ? flc_log10(1.0 + PER_INDEX * (vi - 100.0)) : 0.0;
}

/* U of an index up to 100: L - VI (L - H) / 100 */
static double u_of_index(double vi, double l, double h)
{
    return l - vi * (l - h) / 100.0;
}

static flc_status nu40_from_vi_d2270(double vi, double nu100_mm2s, double *result)
{
    const basic_values at = basic(nu100_mm2s);
    *result = vi > 100.0 ? at.h / flc_pow(nu100_mm2s, exponent_of_index(vi)) : u_of_index(vi, at.l, at.h);
    return *result > nu100_mm2s ? FLC_OK : FLC_E_NO_ROOT;
}

/* U of an index, and an interval of the table, or the formula above it (interval = LAST). */
typedef struct index_problem {
    double vi, n, u;
    size_t interval;
} index_problem;

/* How far U that Y needs is above the one given, relative to it. Rises with Y: L and H do, H faster than Y^N with
 * N < 0.88, and L - H too. */
static double index_excess(const void *problem, double y, double *slope)
{
    const index_problem *sought = (const index_problem *)problem;
    const basic_values at = sought->interval == LAST ? above_table(y) : in_interval(sought->interval, y);
    if (sought->vi > 100.0) {
        *slope = at.h_slope / at.h - sought->n / y;
        return flc_log(at.h / sought->u) - sought->n * flc_log(y);
    }
    *slope = u_of_index(sought->vi, at.l_slope, at.h_slope) / sought->u;
    return (u_of_index(sought->vi, at.l, at.h) - sought->u) / sought->u;
}

/* Sets the interval: the lowest whose upper end needs U or more. */
static void seek_interval(index_problem *sought)
{
    double slope;
    size_t low = 0, high = LAST;
    while (low < high) {
        sought->interval = low + (high - low) / 2;
        if (index_excess(sought, lh_table[sought->interval + 1].nu100, &slope) < 0.0) {
            low = sought->interval + 1;
        } else {
            high = sought->interval;
        }
    }
    sought->interval = low;
}

static flc_status nu100_from_vi_d2270(double vi, double nu40_mm2s, double *result)
{
    index_problem sought = {vi, exponent_of_index(vi), nu40_mm2s, 0};
    seek_interval(&sought);
    const double low = lh_table[sought.interval].nu100;
    const double high = sought.interval == LAST ? NU100_HIGH : lh_table[sought.interval + 1].nu100;
    double slope;
    if (index_excess(&sought, high, &slope) < -ROUNDING ||
        (sought.interval == 0 && index_excess(&sought, low, &slope) > ROUNDING)) {
        return FLC_E_NO_ROOT;
    }
    *result = flc_bracketed_newton(index_excess, &sought, low, high, low + 0.5 * (high - low));
    return *result < nu40_mm2s ? FLC_OK : FLC_E_NO_ROOT;
}

#include "methods/viscosity_index_d2270.inc"
