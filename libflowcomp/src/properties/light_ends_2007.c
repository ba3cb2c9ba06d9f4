/* SPDX-License-Identifier: Apache-2.0 */
#include "light_ends_2007_core.h"
#include "bracketed_newton.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

#include "tables/light_ends_2007_table.inc"

#define FLUIDS FLC_COUNT_OF(reference_fluids)
#define RD60_LOW 0.35
#define RD60_HIGH 0.688
#define LIMIT_ROUNDING 2e-5 /* of relative density: the metric limits are printed to 0.1 kg/m3 */
#define T60_K (519.67 / 1.8)
#define WATER FLC_LIGHT_ENDS_2007_WATER_KGM3

/* d ln rho / d ln Tr at the critical point, where it is infinite: any slope too steep to be met beside it. */
#define STEEPEST (-1e6)

/* --- reference fluids --------------------------------------------------------------------------------------------- */

const flc_light_ends_2007_fluid *flc_light_ends_2007_fluids(size_t *count)
{
    *count = FLUIDS;
    return reference_fluids;
}

flc_light_ends_2007_saturated flc_light_ends_2007_density(const flc_light_ends_2007_fluid *fluid, double tr)
{
    double s = 1.0 - tr;
    if (s <= 0.0) {
        return (flc_light_ends_2007_saturated){fluid->rho_c, STEEPEST};
    }
    double s035 = flc_pow(s, 0.35);
    double s065 = s / s035;
    double top = fluid->k1 * s035 + fluid->k3 * s * s + fluid->k4 * s * s * s;
    double bottom = 1.0 + fluid->k2 * s065;
    double excess = top / bottom; /* rho / rho_c - 1 */
    double top_rise = 0.35 * fluid->k1 * s035 / s + 2.0 * fluid->k3 * s + 3.0 * fluid->k4 * s * s;
    double bottom_rise = 0.65 * fluid->k2 * s065 / s;
    double rise = (top_rise - excess * bottom_rise) / bottom; /* of excess with s */
    return (flc_light_ends_2007_saturated){fluid->rho_c * (1.0 + excess), -tr * rise / (1.0 + excess)};
}

/* Place of the lighter of the two fluids that rd60 lies between. */
static size_t pair_of(double rd60)
{
    size_t place = 0;
    while (place + 2 < FLUIDS && rd60 >= reference_fluids[place + 1].rd60) {
        place++;
    }
    return place;
}

/* A liquid between two reference fluids: its place d between them, its critical temperature, and how that rises. */
typedef struct mixture {
    const flc_light_ends_2007_fluid *light, *heavy;
    double d, d_rise; /* with rd60 */
    double tc_k, tc_rise;
} mixture;

static mixture mixture_of(size_t pair, double rd60)
{
    mixture m = {.light = &reference_fluids[pair], .heavy = &reference_fluids[pair + 1]};
    double span = m.heavy->rd60 - m.light->rd60;
    m.d = (rd60 - m.light->rd60) / span;
    m.d_rise = 1.0 / span;
    m.tc_rise = (m.heavy->tc_k - m.light->tc_k) / span;
    m.tc_k = m.light->tc_k + m.d * (m.heavy->tc_k - m.light->tc_k);
    return m;
}

/* X at T; d ln X / d rd60 goes into slope. */
static double mixed_density(const mixture *m, double t_k, double *slope)
{
    double tr = t_k / m->tc_k;
    flc_light_ends_2007_saturated light = flc_light_ends_2007_density(m->light, tr);
    flc_light_ends_2007_saturated heavy = flc_light_ends_2007_density(m->heavy, tr);
    double h = m->light->zc * m->light->rho_c / (m->heavy->zc * m->heavy->rho_c);
    double ratio = light.rho / (h * heavy.rho);
    double bottom = 1.0 + m->d * (ratio - 1.0);
    double ln_tr_rise = -m->tc_rise / m->tc_k;
    double bottom_rise = m->d_rise * (ratio - 1.0) + m->d * ratio * (light.slope - heavy.slope) * ln_tr_rise;
    *slope = light.slope * ln_tr_rise - bottom_rise / bottom;
    return light.rho / bottom;
}

static double ctl60_of(const mixture *m, double t_k, double *slope)
{
    double slope_60;
    double x = mixed_density(m, t_k, slope);
    double x_60 = mixed_density(m, T60_K, &slope_60);
    *slope -= slope_60;
    return x / x_60;
}

double flc_light_ends_2007_ctl60(double rd60, double t_k, double *slope, int *above_critical)
{
    mixture m = mixture_of(pair_of(rd60), rd60);
    *above_critical = t_k > m.tc_k;
    return ctl60_of(&m, t_k, slope);
}

/* --- from an observed density ------------------------------------------------------------------------------------- */

typedef struct observation {
    size_t pair;
    double rd, t_k;
} observation;

static double observed_excess(const void *problem, double rd60, double *slope)
{
    const observation *o = problem;
    mixture m = mixture_of(o->pair, rd60);
    double ln_slope;
    double observed = rd60 * ctl60_of(&m, o->t_k, &ln_slope);
    *slope = observed * (1.0 / rd60 + ln_slope);
    return observed - o->rd;
}

static double excess_at(const observation *o, double rd60)
{
    double slope;
    return observed_excess(o, rd60, &slope);
}

/* Relative density whose critical temperature is T, T above that of the lightest fluid. */
static double rd60_critical_at(double t_k)
{
    size_t pair = 0;
    while (pair + 2 < FLUIDS && t_k >= reference_fluids[pair + 1].tc_k) {
        pair++;
    }
    const flc_light_ends_2007_fluid *light = &reference_fluids[pair], *heavy = &reference_fluids[pair + 1];
    return light->rd60 + (t_k - light->tc_k) / (heavy->tc_k - light->tc_k) * (heavy->rd60 - light->rd60);
}

flc_status flc_light_ends_2007_rd60_from_observed(double rd, double t_k, double *rd60)
{
    double low = RD60_LOW - LIMIT_ROUNDING, high = RD60_HIGH + LIMIT_ROUNDING;
    double critical = t_k > reference_fluids[0].tc_k ? rd60_critical_at(t_k) : 0.0;
    low = critical > low ? critical : low;
    observation o = {pair_of(low), rd, t_k};
    double excess_low = excess_at(&o, low);
    *rd60 = flc_nan();
    if (excess_low > 0.0) {
        return FLC_E_NO_ROOT;
    }
    for (; o.pair + 1 < FLUIDS; o.pair++) {
        double end = reference_fluids[o.pair + 1].rd60;
        end = end < high ? end : high;
        double excess_end = excess_at(&o, end);
        if (excess_end >= 0.0) {
            double start = low + (end - low) * (excess_low / (excess_low - excess_end));
            *rd60 = excess_end == excess_low ? end : flc_bracketed_newton(observed_excess, &o, low, end, start);
            return FLC_OK;
        }
        low = end;
        excess_low = excess_end;
    }
    return FLC_E_NO_ROOT;
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

static flc_status ctl60(double rd60, double t_k, double *result)
{
    double slope;
    int above_critical;
    *result = flc_light_ends_2007_ctl60(rd60, t_k, &slope, &above_critical);
    return above_critical ? FLC_E_DOMAIN : FLC_OK;
}

static flc_status ctl60_light_ends_2007(double rd60, double t_degf, double *result)
{
    return ctl60(rd60, flc_light_ends_2007_k_of_degf(t_degf), result);
}

static flc_status rd60_from_observed_light_ends_2007(double rd, double t_degf, double *result)
{
    return flc_light_ends_2007_rd60_from_observed(rd, flc_light_ends_2007_k_of_degf(t_degf), result);
}

/* CTL60(t)/CTL60(base), with CTL60(base) = rho_base/(rd60 water): near the critical temperature of the liquid the last
 * bit of rd60 would be seen in a CTL60 that is worked out again. */
static flc_status ctl_light_ends_2007(double rho_base_kgm3, double t_degc, double t_base_degc, double *result)
{
    double rd60, at_t;
    flc_status status = flc_light_ends_2007_rd60_from_observed(rho_base_kgm3 / WATER,
                                                               flc_light_ends_2007_k_of_degc(t_base_degc), &rd60);
    if (status == FLC_OK) {
        status = ctl60(rd60, flc_light_ends_2007_k_of_degc(t_degc), &at_t);
    }
    if (status == FLC_OK) {
        *result = t_degc == t_base_degc ? 1.0 : at_t * (rd60 * WATER / rho_base_kgm3);
    }
    return status;
}

static flc_status rho_base_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double t_base_degc,
                                                         double *result)
{
    double rd60, at_base;
    flc_status status =
        flc_light_ends_2007_rd60_from_observed(rho_kgm3 / WATER, flc_light_ends_2007_k_of_degc(t_degc), &rd60);
    if (status == FLC_OK) {
        status = ctl60(rd60, flc_light_ends_2007_k_of_degc(t_base_degc), &at_base);
    }
    if (status == FLC_OK) {
        *result = rd60 * WATER * at_base;
    }
    return status;
}

static flc_status ctl15_light_ends_2007(double rho15_kgm3, double t_degc, double *result)
{
    return ctl_light_ends_2007(rho15_kgm3, t_degc, 15.0, result);
}

static flc_status rho15_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double *result)
{
    return rho_base_from_observed_light_ends_2007(rho_kgm3, t_degc, 15.0, result);
}

static flc_status ctl20_light_ends_2007(double rho20_kgm3, double t_degc, double *result)
{
    return ctl_light_ends_2007(rho20_kgm3, t_degc, 20.0, result);
}

static flc_status rho20_from_observed_light_ends_2007(double rho_kgm3, double t_degc, double *result)
{
    return rho_base_from_observed_light_ends_2007(rho_kgm3, t_degc, 20.0, result);
}

#include "methods/light_ends_2007.inc"
