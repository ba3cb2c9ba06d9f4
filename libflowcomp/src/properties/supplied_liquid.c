/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/supplied_liquid.h"
#include "equilibrium_pressure.h"
#include "method.h"
#include "error.h"

/* --- polynomials in temperature ----------------------------------------------------------------------------------- */

/* Value at a temperature inside the stated range; it must be positive. */
static flc_status polynomial(double t, double t_low, double t_high, const double *c, size_t n, double *value)
{
    if (t < t_low || t > t_high) {
        return t < t_low ? FLC_E_BELOW : FLC_E_ABOVE;
    }
    double sum = c[n - 1];
    for (size_t i = n - 1; i > 0; i--) {
        sum = sum * t + c[i - 1];
    }
    *value = sum;
    return sum > 0.0 ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status rho_polynomial(double t, double t_low, double t_high, const double *c, size_t n, double *result)
{
    return polynomial(t, t_low, t_high, c, n, result);
}

static flc_status ctl_polynomial(double t, double t_base, double t_low, double t_high, const double *c, size_t n,
                                 double *result)
{
    double at_t, at_base;
    flc_status status = polynomial(t, t_low, t_high, c, n, &at_t);
    if (status == FLC_OK) {
        status = polynomial(t_base, t_low, t_high, c, n, &at_base);
    }
    if (status == FLC_OK) {
        *result = at_t / at_base;
    }
    return status;
}

static flc_status rho_base_from_observed_polynomial(double rho_kgm3, double t, double t_base, double t_low,
                                                    double t_high, const double *c, size_t n, double *result)
{
    double ctl;
    flc_status status = ctl_polynomial(t, t_base, t_low, t_high, c, n, &ctl);
    if (status == FLC_OK) {
        *result = rho_kgm3 / ctl;
    }
    return status;
}

/* --- density table ------------------------------------------------------------------------------------------------ */

/* An axis of the grid: count values, stride entries apart. */
typedef struct axis {
    const double *values;
    size_t count, stride;
} axis;

static double axis_at(axis a, size_t place)
{
    return a.values[place * a.stride];
}

static flc_status check_rising(axis a)
{
    for (size_t i = 1; i < a.count; i++) {
        if (axis_at(a, i) <= axis_at(a, i - 1)) {
            return FLC_E_ORDER;
        }
    }
    return FLC_OK;
}

/* The two axes of a full grid in the order of the contract. */
static flc_status axes_of(const double *t_table, const double *p_table, size_t n, axis *t, axis *p)
{
    size_t width = 1; /* entries of the first temperature */
    while (width < n && t_table[width] == t_table[0]) {
        width++;
    }
    if (width < 2 || width == n || n % width != 0) {
        return FLC_E_COUNT;
    }
    for (size_t i = width; i < n; i++) {
        if (t_table[i] != t_table[i - i % width] || p_table[i] != p_table[i % width]) {
            return FLC_E_ORDER;
        }
    }
    *t = (axis){t_table, n / width, width};
    *p = (axis){p_table, width, 1};
    flc_status status = check_rising(*t);
    return status != FLC_OK ? status : check_rising(*p);
}

/* Interval of a rising axis that x lies in: the place of its lower end, and the part of the interval below x. */
static flc_status interval_of(axis a, double x, size_t *place, double *part)
{
    if (x < axis_at(a, 0) || x > axis_at(a, a.count - 1)) {
        return x < axis_at(a, 0) ? FLC_E_BELOW : FLC_E_ABOVE;
    }
    *place = 0;
    while (*place + 2 < a.count && x >= axis_at(a, *place + 1)) {
        (*place)++;
    }
    double low = axis_at(a, *place);
    *part = (x - low) / (axis_at(a, *place + 1) - low);
    return FLC_OK;
}

/* Between the two ends of an interval; at the upper end the table's own number. */
static double between(double low, double high, double part)
{
    return part < 1.0 ? low + (high - low) * part : high;
}

static flc_status rho_table_bilinear(double t_degc, double p_kpag, const double *t_table_degc,
                                     const double *p_table_kpag, const double *rho_table_kgm3, size_t n, double *result)
{
    axis t, p;
    size_t row, column;
    double t_part, p_part;
    flc_status status = axes_of(t_table_degc, p_table_kpag, n, &t, &p);
    if (status == FLC_OK) {
        status = interval_of(t, t_degc, &row, &t_part);
    }
    if (status == FLC_OK) {
        status = interval_of(p, p_kpag, &column, &p_part);
    }
    if (status == FLC_OK) {
        const double *cooler = &rho_table_kgm3[row * t.stride + column];
        const double *warmer = cooler + t.stride;
        *result = between(between(cooler[0], cooler[1], p_part), between(warmer[0], warmer[1], p_part), t_part);
    }
    return status;
}

/* --- pressure ----------------------------------------------------------------------------------------------------- */

static flc_status cpl_supplied_compressibility(double f_per_kpa, double p_kpag, double pe_kpag, double *result)
{
    return flc_cpl_above_equilibrium(f_per_kpa, p_kpag, pe_kpag, result);
}

static flc_status equilibrium_pressure_gauge(double pe_kpa, double p_atmospheric_kpa, double *result)
{
    *result = flc_equilibrium_base(pe_kpa - p_atmospheric_kpa);
    return FLC_OK;
}

#include "methods/supplied_liquid.inc"
