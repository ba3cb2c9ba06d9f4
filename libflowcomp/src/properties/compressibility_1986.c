/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/compressibility_1986.h"
#include "light_ends_2007_core.h"
#include "bracketed_newton.h"
#include "double_double.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

/* One term of A / 1e5 or B / 1e5: value T^t_power G^g_power, T in degR. */
typedef struct term {
    int t_power, g_power;
    flc_dd value;
} term;

#include "tables/compressibility_1986_table.inc"

#define RD60_LOW 0.35
#define RD60_HIGH 0.637
#define LIMIT_ROUNDING 2e-5 /* as an inverse of TP-27 may pass a limit */

#define WALK_STEP 0x1p-9 /* of relative density: finer than the turns of the product near the critical point */
#define HALVINGS 60      /* of such a step, down to the last bit */

/* A / 1e5 or B / 1e5 at one temperature, and how it rises with relative density G. */
typedef struct coefficient {
    double value, rise;
} coefficient;

/* Sum of the terms. Those of A cancel to a hundredth of their size and less, so they are carried as pairs. */
static coefficient coefficient_at(const term *terms, size_t count, double g, double t_degf)
{
    flc_dd t_powers[4] = {{1.0, 0.0}}, g_powers[7] = {{1.0, 0.0}};
    for (size_t i = 1; i < FLC_COUNT_OF(t_powers); i++) {
        t_powers[i] = flc_dd_multiply(t_powers[i - 1], flc_dd_sum(t_degf, 459.67));
    }
    for (size_t i = 1; i < FLC_COUNT_OF(g_powers); i++) {
        g_powers[i] = flc_dd_multiply(g_powers[i - 1], flc_dd_of(g));
    }
    flc_dd sum = {0.0, 0.0};
    double rise = 0.0;
    for (size_t i = 0; i < count; i++) {
        flc_dd by_t = flc_dd_multiply(terms[i].value, t_powers[terms[i].t_power]);
        sum = flc_dd_add(sum, flc_dd_multiply(by_t, g_powers[terms[i].g_power]));
        rise += terms[i].g_power == 0 ? 0.0 : terms[i].g_power * by_t.hi * g_powers[terms[i].g_power - 1].hi;
    }
    return (coefficient){sum.hi, rise};
}

/* F in 1e-5/psi; d ln F / dG goes into rise. */
static flc_status factor(double g, double t_degf, double dp_psi, double *f, double *rise)
{
    coefficient a = coefficient_at(terms_of_a, FLC_COUNT_OF(terms_of_a), g, t_degf);
    coefficient b = coefficient_at(terms_of_b, FLC_COUNT_OF(terms_of_b), g, t_degf);
    double sum = a.value + b.value * dp_psi;
    if (a.value <= 0.0 || sum <= 0.0) {
        return FLC_E_DOMAIN;
    }
    *f = 1.0 / sum;
    *rise = -(a.rise + b.rise * dp_psi) / sum;
    return FLC_OK;
}

static flc_status f_compressibility_1986(double rd60, double t_degf, double dp_psi, double *result)
{
    double rise;
    return factor(rd60, t_degf, dp_psi, result, &rise);
}

/* CPL; d ln CPL / dG goes into rise. */
static flc_status cpl_at(double g, double t_degf, double dp_psi, double *cpl, double *rise)
{
    double f, f_rise;
    flc_status status = factor(g, t_degf, dp_psi, &f, &f_rise);
    if (status != FLC_OK) {
        return status;
    }
    double part = 1e-5 * f * dp_psi;
    if (part >= 1.0) {
        return FLC_E_DOMAIN;
    }
    *cpl = 1.0 / (1.0 - part);
    *rise = *cpl * part * f_rise;
    return FLC_OK;
}

static flc_status cpl_compressibility_1986(double rd60, double t_degf, double dp_psi, double *result)
{
    double rise;
    return cpl_at(rd60, t_degf, dp_psi, result, &rise);
}

/* --- from an observed density under pressure ---------------------------------------------------------------------- */

typedef struct observation {
    double rd, t_degf, dp_psi;
} observation;

/* rd60 CTL CPL less the observed one; a slope of 0 where the formulas have no value. */
static double observed_excess(const void *problem, double rd60, double *slope)
{
    const observation *o = problem;
    double ctl_rise, cpl = 1.0, cpl_rise = 0.0;
    int above_critical;
    double ctl = flc_light_ends_2007_ctl60(rd60, flc_light_ends_2007_k_of_degf(o->t_degf), &ctl_rise, &above_critical);
    flc_status status = cpl_at(rd60, o->t_degf, o->dp_psi, &cpl, &cpl_rise);
    double observed = rd60 * ctl * cpl;
    *slope = above_critical || status != FLC_OK ? 0.0 : observed * (1.0 / rd60 + ctl_rise + cpl_rise);
    return observed - o->rd;
}

static int rises_at(const observation *o, double rd60)
{
    double slope;
    (void)observed_excess(o, rd60, &slope);
    return slope > 0.0;
}

/* Between a place where the product rises and a lighter one where it does not: the lightest where it does. */
static double lightest_rising(const observation *o, double light, double heavy)
{
    for (int step = 0; step < HALVINGS; step++) {
        double middle = light + 0.5 * (heavy - light);
        if (rises_at(o, middle)) {
            heavy = middle;
        } else {
            light = middle;
        }
    }
    return heavy;
}

/* From the heavy end down to the first step that holds the observed density. */
static flc_status rd60_from_observed_compressibility_1986(double rd, double t_degf, double dp_psi, double *result)
{
    const observation o = {rd, t_degf, dp_psi};
    const double lowest = RD60_LOW - LIMIT_ROUNDING;
    double slope;
    double high = RD60_HIGH + LIMIT_ROUNDING;
    if (observed_excess(&o, high, &slope) < 0.0) {
        return FLC_E_NO_ROOT;
    }
    for (int is_last = 0; !is_last;) {
        double low = high - WALK_STEP;
        is_last = low <= lowest;
        low = is_last ? lowest : low;
        if (!rises_at(&o, low)) {
            low = lightest_rising(&o, low, high);
            is_last = 1;
        }
        if (observed_excess(&o, low, &slope) <= 0.0) {
            *result = flc_bracketed_newton(observed_excess, &o, low, high, low + 0.5 * (high - low));
            return FLC_OK;
        }
        high = low;
    }
    return FLC_E_NO_ROOT;
}

#include "methods/compressibility_1986.inc"
