/* SPDX-License-Identifier: Apache-2.0 */
#include "petroleum_2004_core.h"
#include "petroleum_2004_direct.h"
#include "bracketed_newton.h"
#include "method.h"
#include "error.h"
#include "fpmath.h"

#define ALPHA60_LOW 230.0e-6 /* 1/degF, special applications */
#define ALPHA60_HIGH 930.0e-6
#define LUBE_API60_HIGH 45.0

/* A density at 60 degF that was solved for may pass a limit by this much, kg/m3: the printed limits are rounded. */
#define LIMIT_ROUNDING 0.01

/* --- the product and its limits ----------------------------------------------------------------------------------- */

flc_petroleum_product flc_petroleum_product_of_group(flc_petroleum_group group)
{
    flc_petroleum_product product = {group, flc_nan()};
    return product;
}

flc_petroleum_product flc_petroleum_product_of_alpha60(double alpha60_per_degf)
{
    flc_petroleum_product product = {FLC_PETROLEUM_GROUP_NONE, alpha60_per_degf};
    return product;
}

flc_status flc_petroleum_check_product(flc_petroleum_product product, flc_error *error)
{
    int has_alpha60 = !flc_is_nan(product.alpha60_per_degf);
    int group = (int)product.group;
    if (group < FLC_PETROLEUM_GROUP_NONE || group > FLC_PETROLEUM_LUBE) {
        return flc_fail(error, FLC_E_CHOICE, "group", -1, (double)group, FLC_PETROLEUM_LUBE, NULL);
    }
    if (group == FLC_PETROLEUM_GROUP_NONE && !has_alpha60) {
        return flc_fail(error, FLC_E_MISSING, "group", -1, flc_nan(), flc_nan(), "give group or alpha60_per_degf");
    }
    if (group != FLC_PETROLEUM_GROUP_NONE && has_alpha60) {
        return flc_fail(error, FLC_E_CONFLICT, "alpha60_per_degf", -1, product.alpha60_per_degf, flc_nan(),
                        "give either group or alpha60_per_degf");
    }
    return has_alpha60
               ? flc_check_range(error, "alpha60_per_degf", -1, product.alpha60_per_degf, ALPHA60_LOW, ALPHA60_HIGH)
               : FLC_OK;
}

typedef struct density_limits {
    double low[3], high[3]; /* kg/m3, by base: 60 degF, 15 degC, 20 degC */
} density_limits;

/* Crude, refined and lube as in the standard (from memory). Transition, computed: where its alpha60 leaves the range
 * of special applications, rounded inwards. Place 0 is a given alpha60. */
static const density_limits limits_by_group[] = {
    [FLC_PETROLEUM_GROUP_NONE + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.86, 1161.15}},
    [FLC_PETROLEUM_CRUDE + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.79, 1161.15}},
    [FLC_PETROLEUM_REFINED + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.86, 1160.62}},
    [FLC_PETROLEUM_FUEL_OIL + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.86, 1160.62}},
    [FLC_PETROLEUM_JET + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.86, 1160.62}},
    [FLC_PETROLEUM_TRANSITION + 1] = {{729.5, 730.18, 724.07}, {842.3, 842.49, 840.74}},
    [FLC_PETROLEUM_GASOLINE + 1] = {{610.6, 611.16, 606.12}, {1163.5, 1163.86, 1160.62}},
    [FLC_PETROLEUM_LUBE + 1] = {{800.9, 801.25, 798.11}, {1163.5, 1163.85, 1160.71}},
};

flc_status flc_petroleum_2004_check_density(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                            flc_error *error)
{
    static const char *const names[] = {"rho60_kgm3", "rho15_kgm3", "rho20_kgm3"};
    const density_limits *limits = &limits_by_group[(int)product.group + 1];
    return flc_check_range(error, names[base], -1, rho_kgm3, limits->low[base], limits->high[base]);
}

flc_status flc_petroleum_2004_density_limits(flc_petroleum_product product, flc_petroleum_base base, double *low_kgm3,
                                             double *high_kgm3)
{
    if (low_kgm3 != NULL) {
        *low_kgm3 = flc_nan();
    }
    if (high_kgm3 != NULL) {
        *high_kgm3 = flc_nan();
    }
    if (low_kgm3 == NULL || high_kgm3 == NULL) {
        return FLC_E_NULL;
    }
    flc_status status = flc_petroleum_check_product(product, NULL);
    if (status == FLC_OK && ((int)base < FLC_PETROLEUM_BASE_60F || (int)base > FLC_PETROLEUM_BASE_20C)) {
        status = FLC_E_CHOICE;
    }
    if (status == FLC_OK) {
        *low_kgm3 = limits_by_group[(int)product.group + 1].low[base];
        *high_kgm3 = limits_by_group[(int)product.group + 1].high[base];
    }
    return status;
}

/* --- from an observed density ------------------------------------------------------------------------------------- */

/* One smooth piece of rho60 -> rho60 CTPL(rho60, t, p): a product whose coefficients do not change with density. */
typedef struct observation {
    flc_petroleum_product product;
    double rho_kgm3, t_degf, p_psig;
} observation;

/* rho60 CTPL - rho. Its slope is CTPL (1 + d ln CTL / d ln rho60 + d ln CPL / d ln rho60), rho* taken as rho60. */
static double observed_excess(const void *problem, double rho60, double *slope)
{
    const observation *o = problem;
    flc_petroleum_2004_steps s;
    flc_petroleum_2004_forward(o->product, rho60, o->t_degf, o->p_psig, &s);
    double rho = s.rho_star_kgm3;
    double alpha_fall = (2.0 * s.k0 / rho + s.k1) / rho; /* - d alpha60 / d ln rho */
    double ctl_rise = alpha_fall * s.dt_degf * (1.0 + 1.6 * s.alpha60_per_degf * s.dt_degf);
    double fp_fall = 2.0 * s.fp * (793920.0 + 2326.0 * s.t_star_degf) / (rho * rho);
    *slope = s.ctpl * (1.0 + ctl_rise - 1e-5 * s.cpl * o->p_psig * fp_fall);
    return rho60 * s.ctpl - o->rho_kgm3;
}

static double excess_at(const observation *o, double rho60)
{
    double slope;
    return observed_excess(o, rho60, &slope);
}

/* Root on one piece, or the end of the piece that is nearer where the piece does not reach the observed density. */
static double root_on_piece(const observation *o, double low, double high)
{
    if (excess_at(o, low) >= 0.0) {
        return low;
    }
    if (excess_at(o, high) <= 0.0) {
        return high;
    }
    double start = o->rho_kgm3 < low ? low : o->rho_kgm3 > high ? high : o->rho_kgm3;
    double root = flc_bracketed_newton(observed_excess, o, low, high, start);
    return root < low ? low : root > high ? high : root;
}

/* The excess of the two groups that meet at a border decides for the lower or the upper side of it. */
static int lies_below_border(double excess_below, double excess_above)
{
    if (excess_below > 0.0 && excess_above > 0.0) {
        return 1;
    }
    int between = excess_below >= 0.0 || excess_above >= 0.0; /* no root, or one on each side */
    return between && flc_fabs(excess_below) < flc_fabs(excess_above);
}

static double largest_below(double positive)
{
    return positive - positive * 0x1p-53;
}

/* Refined products: find the piece, then the root on it. */
static double refined_root(observation o, double low, double high)
{
    static const flc_petroleum_group groups[] = {FLC_PETROLEUM_GASOLINE, FLC_PETROLEUM_TRANSITION, FLC_PETROLEUM_JET,
                                                 FLC_PETROLEUM_FUEL_OIL};
    static const double borders[] = {FLC_PETROLEUM_2004_TRANSITION_FROM, FLC_PETROLEUM_2004_JET_FROM,
                                     FLC_PETROLEUM_2004_FUEL_OIL_FROM};
    observation above = o;
    o.product.group = groups[0];
    for (size_t i = 0; i < FLC_COUNT_OF(borders); i++) {
        above.product.group = groups[i + 1];
        if (lies_below_border(excess_at(&o, borders[i]), excess_at(&above, borders[i]))) {
            return root_on_piece(&o, low, largest_below(borders[i]));
        }
        low = borders[i];
        o.product.group = groups[i + 1];
    }
    return root_on_piece(&o, low, high);
}

flc_petroleum_2004_liquid flc_petroleum_2004_liquid_of(flc_petroleum_product product, flc_petroleum_base base)
{
    const density_limits *limits = &limits_by_group[(int)product.group + 1];
    const int is_refined = product.group == FLC_PETROLEUM_REFINED;
    flc_petroleum_2004_liquid liquid;
    liquid.row =
        flc_petroleum_2004_row_of(is_refined ? FLC_PETROLEUM_GASOLINE : product.group, product.alpha60_per_degf);
    liquid.is_refined = is_refined;
    liquid.low60 = limits->low[FLC_PETROLEUM_BASE_60F];
    liquid.high60 = limits->high[FLC_PETROLEUM_BASE_60F];
    liquid.low = liquid.low60 - LIMIT_ROUNDING;
    liquid.high = liquid.high60 + LIMIT_ROUNDING;
    liquid.base_low = limits->low[base];
    liquid.base_high = limits->high[base];
    return liquid;
}

/* The complete procedure: any density, any conditions. */
static flc_status search_rho60(flc_petroleum_product product, double rho_kgm3, double t_degf, double p_psig,
                               double *rho60_kgm3)
{
    const flc_petroleum_2004_liquid liquid = flc_petroleum_2004_liquid_of(product, FLC_PETROLEUM_BASE_60F);
    const double low = liquid.low, high = liquid.high;
    observation o = {product, rho_kgm3, t_degf, p_psig};
    double slope;
    *rho60_kgm3 = flc_nan();
    double excess_low = observed_excess(&o, low, &slope);
    if (slope <= 0.0 && excess_low >= 0.0) {
        return FLC_E_NOT_MONOTONIC;
    }
    if (excess_low > 0.0 || excess_at(&o, high) < 0.0) {
        return FLC_E_NO_ROOT;
    }
    *rho60_kgm3 = product.group == FLC_PETROLEUM_REFINED ? refined_root(o, low, high) : root_on_piece(&o, low, high);
    return FLC_OK;
}

static flc_status found(double direct, double *rho60_kgm3)
{
    *rho60_kgm3 = direct;
    return FLC_OK;
}

flc_status flc_petroleum_2004_rho60_from_observed(flc_petroleum_product product, double rho_kgm3, double t_degf,
                                                  double p_psig, double *rho60_kgm3)
{
    const flc_petroleum_2004_liquid liquid = flc_petroleum_2004_liquid_of(product, FLC_PETROLEUM_BASE_60F);
    const double direct = flc_petroleum_2004_rho60_direct(&liquid, liquid.is_refined, 1, rho_kgm3, t_degf, p_psig);
    return flc_is_nan(direct) ? search_rho60(product, rho_kgm3, t_degf, p_psig, rho60_kgm3) : found(direct, rho60_kgm3);
}

flc_status flc_petroleum_2004_rho60_from_base(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                              double *rho60_kgm3)
{
    if (base == FLC_PETROLEUM_BASE_60F) {
        *rho60_kgm3 = rho_kgm3;
        return FLC_OK;
    }
    const double t_degf = flc_petroleum_2004_base_degf(base);
    const flc_petroleum_2004_liquid liquid = flc_petroleum_2004_liquid_of(product, base);
    const double direct = flc_petroleum_2004_rho60_direct(&liquid, liquid.is_refined, 0, rho_kgm3, t_degf, 0.0);
    return flc_is_nan(direct) ? search_rho60(product, rho_kgm3, t_degf, 0.0, rho60_kgm3) : found(direct, rho60_kgm3);
}

/* --- the methods -------------------------------------------------------------------------------------------------- */

/* Checks, density at 60 degF, forward evaluation, base: the path of every method below that starts from a density at
 * the base. On failure the steps are all zero. */
static flc_status evaluate(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3, double t_degf,
                           double p_psig, flc_petroleum_2004_steps *steps)
{
    *steps = (flc_petroleum_2004_steps){0};
    double rho60 = flc_nan();
    flc_status status = flc_petroleum_check_product(product, NULL);
    if (status == FLC_OK) {
        status = flc_petroleum_2004_check_density(product, base, rho_kgm3, NULL);
    }
    if (status == FLC_OK) {
        status = flc_petroleum_2004_rho60_from_base(product, base, rho_kgm3, &rho60);
    }
    if (status == FLC_OK) {
        flc_petroleum_2004_forward(product, rho60, t_degf, p_psig, steps);
        flc_petroleum_2004_rebase(steps, flc_petroleum_2004_ctl60_at_base(product, base, rho60));
    }
    return status;
}

static flc_status evaluate_metric(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                  double t_degc, double p_kpag, flc_petroleum_2004_steps *steps)
{
    return evaluate(product, base, rho_kgm3, flc_petroleum_2004_degf(t_degc), flc_petroleum_2004_psi(p_kpag), steps);
}

/* Observed density to the density at a base. */
static flc_status base_from_observed(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                     double t_degf, double p_psig, double *result)
{
    double rho60 = flc_nan();
    flc_status status = flc_petroleum_check_product(product, NULL);
    if (status == FLC_OK) {
        status = flc_petroleum_2004_rho60_from_observed(product, rho_kgm3, t_degf, p_psig, &rho60);
    }
    if (status == FLC_OK) {
        *result = rho60 * flc_petroleum_2004_ctl60_at_base(product, base, rho60);
    }
    return status;
}

/* Density at 60 degF to the density at a base. */
static flc_status base_from_rho60(flc_petroleum_product product, flc_petroleum_base base, double rho60_kgm3,
                                  double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, 60.0, 0.0, &s);
    if (status == FLC_OK) {
        *result = rho60_kgm3 * flc_petroleum_2004_ctl60_at_base(product, base, rho60_kgm3);
    }
    return status;
}

/* Density at a base to the density at 60 degF. */
static flc_status rho60_from_base(flc_petroleum_product product, flc_petroleum_base base, double rho_kgm3,
                                  double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, base, rho_kgm3, 60.0, 0.0, &s);
    *result = s.rho60_kgm3;
    return status;
}

static flc_status t90_minus_t68_its90(double t_degc, double *result)
{
    *result = flc_t90_minus_t68(t_degc);
    return FLC_OK;
}

static flc_status t68_from_t90_petroleum_2004(double t_degf, double *result)
{
    *result = flc_petroleum_2004_t_star(t_degf, flc_t90_minus_t68((t_degf - 32.0) / 1.8));
    return FLC_OK;
}

static flc_status rho60_from_api60_petroleum_2004(double api60, double *result)
{
    *result = 141.5 * FLC_PETROLEUM_2004_WATER_KGM3 / (api60 + 131.5);
    return FLC_OK;
}

static flc_status api60_from_rho60_petroleum_2004(double rho60_kgm3, double *result)
{
    *result = 141.5 * FLC_PETROLEUM_2004_WATER_KGM3 / rho60_kgm3 - 131.5;
    return FLC_OK;
}

static flc_status rho_star_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, 60.0, 0.0, &s);
    *result = s.rho_star_kgm3;
    return status;
}

static flc_status alpha60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, 60.0, 0.0, &s);
    *result = s.alpha60_per_degf;
    return status;
}

static flc_status ctl60_petroleum_2004(double rho60_kgm3, double t_degf, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, t_degf, 0.0, &s);
    *result = s.ctl;
    return status;
}

static flc_status fp60_petroleum_2004(double rho60_kgm3, double t_degf, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, t_degf, 0.0, &s);
    *result = s.fp;
    return status;
}

static flc_status cpl60_petroleum_2004(double rho60_kgm3, double t_degf, double p_psig, flc_petroleum_product product,
                                       double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, t_degf, p_psig, &s);
    *result = s.cpl;
    return status;
}

static flc_status ctpl60_petroleum_2004(double rho60_kgm3, double t_degf, double p_psig, flc_petroleum_product product,
                                        double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate(product, FLC_PETROLEUM_BASE_60F, rho60_kgm3, t_degf, p_psig, &s);
    *result = s.ctpl;
    return status;
}

static flc_status ctl60_from_api60_petroleum_2004(double api60, double t_degf, flc_petroleum_group group,
                                                  double *result)
{
    if (group == FLC_PETROLEUM_LUBE && api60 > LUBE_API60_HIGH) {
        return FLC_E_ABOVE;
    }
    double rho60 = flc_nan();
    flc_status status = rho60_from_api60_petroleum_2004(api60, &rho60);
    return status != FLC_OK ? status
                            : ctl60_petroleum_2004(rho60, t_degf, flc_petroleum_product_of_group(group), result);
}

static flc_status rho60_from_observed_petroleum_2004(double rho_kgm3, double t_degf, double p_psig,
                                                     flc_petroleum_product product, double *result)
{
    return base_from_observed(product, FLC_PETROLEUM_BASE_60F, rho_kgm3, t_degf, p_psig, result);
}

static flc_status rho60_from_rho15_petroleum_2004(double rho15_kgm3, flc_petroleum_product product, double *result)
{
    return rho60_from_base(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, result);
}

static flc_status ctl15_petroleum_2004(double rho15_kgm3, double t_degc, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, t_degc, 0.0, &s);
    *result = s.ctl;
    return status;
}

static flc_status fp15_petroleum_2004(double rho15_kgm3, double t_degc, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, t_degc, 0.0, &s);
    *result = s.fp / FLC_PETROLEUM_2004_KPA_PER_PSI;
    return status;
}

static flc_status cpl15_petroleum_2004(double rho15_kgm3, double t_degc, double p_kpag, flc_petroleum_product product,
                                       double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, t_degc, p_kpag, &s);
    *result = s.cpl;
    return status;
}

static flc_status ctpl15_petroleum_2004(double rho15_kgm3, double t_degc, double p_kpag, flc_petroleum_product product,
                                        double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_15C, rho15_kgm3, t_degc, p_kpag, &s);
    *result = s.ctpl;
    return status;
}

static flc_status rho15_from_rho60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result)
{
    return base_from_rho60(product, FLC_PETROLEUM_BASE_15C, rho60_kgm3, result);
}

static flc_status rho15_from_observed_petroleum_2004(double rho_kgm3, double t_degc, double p_kpag,
                                                     flc_petroleum_product product, double *result)
{
    return base_from_observed(product, FLC_PETROLEUM_BASE_15C, rho_kgm3, flc_petroleum_2004_degf(t_degc),
                              flc_petroleum_2004_psi(p_kpag), result);
}

static flc_status rho60_from_rho20_petroleum_2004(double rho20_kgm3, flc_petroleum_product product, double *result)
{
    return rho60_from_base(product, FLC_PETROLEUM_BASE_20C, rho20_kgm3, result);
}

static flc_status ctl20_petroleum_2004(double rho20_kgm3, double t_degc, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_20C, rho20_kgm3, t_degc, 0.0, &s);
    *result = s.ctl;
    return status;
}

static flc_status fp20_petroleum_2004(double rho20_kgm3, double t_degc, flc_petroleum_product product, double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_20C, rho20_kgm3, t_degc, 0.0, &s);
    *result = s.fp / FLC_PETROLEUM_2004_KPA_PER_PSI;
    return status;
}

static flc_status cpl20_petroleum_2004(double rho20_kgm3, double t_degc, double p_kpag, flc_petroleum_product product,
                                       double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_20C, rho20_kgm3, t_degc, p_kpag, &s);
    *result = s.cpl;
    return status;
}

static flc_status ctpl20_petroleum_2004(double rho20_kgm3, double t_degc, double p_kpag, flc_petroleum_product product,
                                        double *result)
{
    flc_petroleum_2004_steps s;
    flc_status status = evaluate_metric(product, FLC_PETROLEUM_BASE_20C, rho20_kgm3, t_degc, p_kpag, &s);
    *result = s.ctpl;
    return status;
}

static flc_status rho20_from_rho60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result)
{
    return base_from_rho60(product, FLC_PETROLEUM_BASE_20C, rho60_kgm3, result);
}

static flc_status rho20_from_observed_petroleum_2004(double rho_kgm3, double t_degc, double p_kpag,
                                                     flc_petroleum_product product, double *result)
{
    return base_from_observed(product, FLC_PETROLEUM_BASE_20C, rho_kgm3, flc_petroleum_2004_degf(t_degc),
                              flc_petroleum_2004_psi(p_kpag), result);
}

#include "methods/petroleum_2004.inc"
