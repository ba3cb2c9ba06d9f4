/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction of crude oil, refined products and lubricating oil: API MPMS chapter 11.1, edition 2004 with the
 * addendum of 2007 (ASTM D1250-04/-08, IP 200/04). Base 60 degF, 15 degC and 20 degC; unrounded throughout.
 *
 * The constants and clause numbers are from memory. The constants close on the density limits of the standard, on the
 * continuity of alpha at the borders of the product groups and on the published cells of the 1980 edition. Confirm
 * against the print before claiming conformity.
 *
 * The density limits depend on the product (flc_petroleum_2004_density_limits); the range in each contract below is
 * the widest of them. After the arguments, from left to right, the product is judged (FLC_E_MISSING, FLC_E_CONFLICT),
 * then the density against its product (FLC_E_BELOW, FLC_E_ABOVE). No glass correction: a hydrometer reading is
 * corrected first. Negative gauge pressure is refused.
 *
 * From an observed density, or one at 15 or 20 degC, the density at 60 degF is found inside the limits, to the last
 * bits; outside them FLC_E_NO_ROOT. It may pass a limit by 0.01 kg/m3, for which the printed limits are rounded.
 *   Refined products: at the three borders of the groups alpha steps by up to 3.2e-10/degF, so that over less than
 *   1e-4 kg/m3 of observed density there is no density at 60 degF, or there are two. Then the side of the border whose
 *   product rho60 CTPL is nearer is taken: its root if it has one, else the border itself (lower side: the largest
 *   double below it).
 *   Given alpha60: near 300 degF and 1500 psig the product falls as rho60 rises below about 630 kg/m3. Where therefore
 *   no single density answers, FLC_E_NOT_MONOTONIC. */
#ifndef FLOWCOMP_PETROLEUM_2004_H
#define FLOWCOMP_PETROLEUM_2004_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_petroleum_group {
    FLC_PETROLEUM_GROUP_NONE = -1, /* alpha60 is given instead */
    FLC_PETROLEUM_CRUDE = 0,       /* crude oil */
    FLC_PETROLEUM_REFINED = 1,     /* refined product: the group follows from the density at 60 degF */
    FLC_PETROLEUM_FUEL_OIL = 2,    /* from here on: the group as named, whatever the density */
    FLC_PETROLEUM_JET = 3,         /* */
    FLC_PETROLEUM_TRANSITION = 4,  /* as named, where its alpha60 is inside 230e-6 to 930e-6/degF */
    FLC_PETROLEUM_GASOLINE = 5,    /* */
    FLC_PETROLEUM_LUBE = 6         /* lubricating oil */
} flc_petroleum_group;

/** Group from its word ("crude", "refined", "fuel_oil", "jet", "transition", "gasoline", "lube").
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the group is then FLC_PETROLEUM_GROUP_NONE)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_petroleum_group_from_name(const char *name, flc_petroleum_group *choice);

/* Base conditions, at 0 gauge pressure. */
typedef enum flc_petroleum_base {
    FLC_PETROLEUM_BASE_60F = 0, /* "60F" */
    FLC_PETROLEUM_BASE_15C = 1, /* "15C" */
    FLC_PETROLEUM_BASE_20C = 2  /* "20C" */
} flc_petroleum_base;

/** Base from its word ("60F", "15C", "20C").
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the base is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_petroleum_base_from_name(const char *name, flc_petroleum_base *choice);

/* Either a product group or a given thermal expansion at 60 degF ("special applications"): make it with one of the two
 * functions below. Both or neither is refused (FLC_E_CONFLICT, FLC_E_MISSING). */
typedef struct flc_petroleum_product {
    flc_petroleum_group group;
    double alpha60_per_degf; /* NaN where a group is named */
} flc_petroleum_product;

/** Product of a group, and product with its own alpha60 in 1/degF, 230e-6 to 930e-6.
 *  @since 0.1 */
FLC_API flc_petroleum_product flc_petroleum_product_of_group(flc_petroleum_group group);
FLC_API flc_petroleum_product flc_petroleum_product_of_alpha60(double alpha60_per_degf);

/** Density limits of a product at a base, ends included. Those of crude, refined and lube are the standard's. fuel_oil,
 *  jet and gasoline, named by the user, and products with a given alpha60 take those of refined (at 20 degC the widest,
 *  for a given alpha60); transition is computed (see its group).
 *  @param product  product group, or given alpha60
 *  @param base     base conditions of the density
 *  @param[out] low_kgm3, high_kgm3  limits in kg/m3, NaN on failure
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_CHOICE, FLC_E_MISSING, FLC_E_CONFLICT, and those of a number for alpha60
 *  @since 0.1 */
FLC_API FLC_STATUS flc_petroleum_2004_density_limits(flc_petroleum_product product, flc_petroleum_base base,
                                                     double *low_kgm3, double *high_kgm3);

/** Scale difference t90 - t68 at an ITS-90 temperature
 *  sum of a_k tau^k, k = 1 to 8, tau = t90 / 630 degC
 *
 *  @param t_degc  temperature, ITS-90 {degC} [-50, 150]
 *  @return t90 - t68 {K}
 *  @source Preston-Thomas and Quinn (1997), polynomial of t90 - t68; used by API MPMS 11.1 (2004)
 *  @status published; within 1 mK of the tabulated differences; the range is that of 11.1
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_t90_minus_t68_its90(double t_degc, double *result);

/** Temperature on IPTS-68 from ITS-90
 *  t* = t - 1.8 (t90 - t68)
 *
 *  @param t_degf  temperature, ITS-90 {degF} [-58, 302]
 *  @return t* {degF}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; the published scale difference gives the 60.0068749 degF of the standard at 60 degF
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_t68_from_t90_petroleum_2004(double t_degf, double *result);

/** Density at 60 degF from API gravity, unrounded
 *  rho60 = 141.5 / (api60 + 131.5) * 999.016 kg/m3
 *
 *  @param api60  API gravity at 60 degF, lube to 45 {degAPI} [-10, 100]
 *  @return rho60 {kg/m3}
 *  @source API MPMS 11.1 (2004); water 999.016 kg/m3 as in ASTM D1555-16
 *  @status from memory; the water density is published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_api60_petroleum_2004(double api60, double *result);

/** API gravity from density at 60 degF, unrounded
 *  api60 = 141.5 * 999.016 kg/m3 / rho60 - 131.5
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @return api60 {degAPI}
 *  @source API MPMS 11.1 (2004); water 999.016 kg/m3 as in ASTM D1555-16
 *  @status from memory; the water density is published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_api60_from_rho60_petroleum_2004(double rho60_kgm3, double *result);

/** Density shifted to 60 degF of IPTS-68, base 60 degF, unrounded
 *  rho* = rho60 (1 + (exp(A (1 + 0.8 A)) - 1) / (1 + A (1 + 1.6 A) B)), A = delta60 / 2 ((K0 / rho60 + K1) /
 *  rho60 + K2), B = (2 K0 + K1 rho60) / (K0 + (K1 + K2 rho60) rho60)
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param product     product group, or given alpha60
 *  @return rho* {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_star_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result);

/** Thermal expansion factor at 60 degF, unrounded
 *  alpha60 = (K0 / rho* + K1) / rho* + K2, or as given
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param product     product group, or given alpha60
 *  @return alpha60 {1/degF}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_alpha60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product, double *result);

/** CTL, base 60 degF, unrounded
 *  ctl = exp(-alpha60 dt (1 + 0.8 alpha60 (dt + delta60))), dt = t* - 60.0068749, delta60 = 0.01374979547
 *  degF
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param t_degf      temperature, ITS-90 {degF} [-58, 302]
 *  @param product     product group, or given alpha60
 *  @return CTL {1}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl60_petroleum_2004(double rho60_kgm3, double t_degf, flc_petroleum_product product,
                                            double *result);

/** Scaled compressibility factor, base 60 degF, unrounded
 *  fp = exp(-1.9947 + 0.00013427 t* + (793920 + 2326 t*) / rho*^2)
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param t_degf      temperature, ITS-90 {degF} [-58, 302]
 *  @param product     product group, or given alpha60
 *  @return Fp {1e-5/psi}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_fp60_petroleum_2004(double rho60_kgm3, double t_degf, flc_petroleum_product product,
                                           double *result);

/** CPL, base 60 degF, unrounded
 *  cpl = 1 / (1 - 1e-5 fp p)
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param t_degf      temperature, ITS-90 {degF} [-58, 302]
 *  @param p_psig      gauge pressure {psi} [0, 1500]
 *  @param product     product group, or given alpha60
 *  @return CPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl60_petroleum_2004(double rho60_kgm3, double t_degf, double p_psig,
                                            flc_petroleum_product product, double *result);

/** Combined correction CTPL, base 60 degF, unrounded
 *  ctpl = ctl cpl
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param t_degf      temperature, ITS-90 {degF} [-58, 302]
 *  @param p_psig      gauge pressure {psi} [0, 1500]
 *  @param product     product group, or given alpha60
 *  @return CTPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctpl60_petroleum_2004(double rho60_kgm3, double t_degf, double p_psig,
                                             flc_petroleum_product product, double *result);

/** CTL, base 60 degF, entered with API gravity, unrounded
 *  ctl60 at rho60 from api60
 *
 *  @param api60   API gravity at 60 degF, lube to 45 {degAPI} [-10, 100]
 *  @param t_degf  temperature, ITS-90 {degF} [-58, 302]
 *  @param group   product group
 *  @return CTL {1}
 *  @source API MPMS 11.1 (2004), 11.1.6.1
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl60_from_api60_petroleum_2004(double api60, double t_degf, flc_petroleum_group group,
                                                       double *result);

/** Density at 60 degF from an observed density, unrounded
 *  rho60 CTPL(rho60, t, p) = rho, solved for rho60
 *
 *  @param rho_kgm3  observed density, true, at t and p {kg/m3} [468, 1291]
 *  @param t_degf    temperature, ITS-90 {degF} [-58, 302]
 *  @param p_psig    gauge pressure {psi} [0, 1500]
 *  @param product   product group, or given alpha60
 *  @return rho60 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.6.2, solved inside a bracket instead of by its printed iteration
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_observed_petroleum_2004(double rho_kgm3, double t_degf, double p_psig,
                                                          flc_petroleum_product product, double *result);

/** Density at 60 degF from density at 15 degC, unrounded
 *  rho60 CTL60(rho60, 15 degC) = rho15, solved for rho60
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [611.16, 1163.86]
 *  @param product     product group, or given alpha60
 *  @return rho60 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_rho15_petroleum_2004(double rho15_kgm3, flc_petroleum_product product,
                                                       double *result);

/** CTL, base 15 degC, unrounded
 *  ctl = CTL60(rho60, t) / CTL60(rho60, 15 degC), rho60 from rho15
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [611.16, 1163.86]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param product     product group, or given alpha60
 *  @return CTL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_petroleum_2004(double rho15_kgm3, double t_degc, flc_petroleum_product product,
                                            double *result);

/** Scaled compressibility factor, metric, base 15 degC, unrounded
 *  fp = Fp60(rho60, t) / 6.894757, rho60 from rho15
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [611.16, 1163.86]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param product     product group, or given alpha60
 *  @return Fp {1e-5/kPa}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_fp15_petroleum_2004(double rho15_kgm3, double t_degc, flc_petroleum_product product,
                                           double *result);

/** CPL, base 15 degC, unrounded
 *  cpl = CPL60(rho60, t, p / 6.894757), rho60 from rho15
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [611.16, 1163.86]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag      gauge pressure {kPa} [0, 10340]
 *  @param product     product group, or given alpha60
 *  @return CPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl15_petroleum_2004(double rho15_kgm3, double t_degc, double p_kpag,
                                            flc_petroleum_product product, double *result);

/** Combined correction CTPL, base 15 degC, unrounded
 *  ctpl = ctl cpl
 *
 *  @param rho15_kgm3  density at 15 degC and 0 gauge {kg/m3} [611.16, 1163.86]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag      gauge pressure {kPa} [0, 10340]
 *  @param product     product group, or given alpha60
 *  @return CTPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctpl15_petroleum_2004(double rho15_kgm3, double t_degc, double p_kpag,
                                             flc_petroleum_product product, double *result);

/** Density at 15 degC and 0 gauge from density at 60 degF, unrounded
 *  rho15 = rho60 CTL60(rho60, 15 degC)
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param product     product group, or given alpha60
 *  @return rho15 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_rho60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product,
                                                       double *result);

/** Density at 15 degC from an observed density, unrounded
 *  rho60 from observed, times CTL60(rho60, 15 degC)
 *
 *  @param rho_kgm3  observed density, true, at t and p {kg/m3} [468, 1291]
 *  @param t_degc    temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag    gauge pressure {kPa} [0, 10340]
 *  @param product   product group, or given alpha60
 *  @return rho15 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_observed_petroleum_2004(double rho_kgm3, double t_degc, double p_kpag,
                                                          flc_petroleum_product product, double *result);

/** Density at 60 degF from density at 20 degC, unrounded
 *  rho60 CTL60(rho60, 20 degC) = rho20, solved for rho60
 *
 *  @param rho20_kgm3  density at 20 degC and 0 gauge {kg/m3} [606.12, 1161.15]
 *  @param product     product group, or given alpha60
 *  @return rho60 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_rho20_petroleum_2004(double rho20_kgm3, flc_petroleum_product product,
                                                       double *result);

/** CTL, base 20 degC, unrounded
 *  ctl = CTL60(rho60, t) / CTL60(rho60, 20 degC), rho60 from rho20
 *
 *  @param rho20_kgm3  density at 20 degC and 0 gauge {kg/m3} [606.12, 1161.15]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param product     product group, or given alpha60
 *  @return CTL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl20_petroleum_2004(double rho20_kgm3, double t_degc, flc_petroleum_product product,
                                            double *result);

/** Scaled compressibility factor, metric, base 20 degC, unrounded
 *  fp = Fp60(rho60, t) / 6.894757, rho60 from rho20
 *
 *  @param rho20_kgm3  density at 20 degC and 0 gauge {kg/m3} [606.12, 1161.15]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param product     product group, or given alpha60
 *  @return Fp {1e-5/kPa}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_fp20_petroleum_2004(double rho20_kgm3, double t_degc, flc_petroleum_product product,
                                           double *result);

/** CPL, base 20 degC, unrounded
 *  cpl = CPL60(rho60, t, p / 6.894757), rho60 from rho20
 *
 *  @param rho20_kgm3  density at 20 degC and 0 gauge {kg/m3} [606.12, 1161.15]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag      gauge pressure {kPa} [0, 10340]
 *  @param product     product group, or given alpha60
 *  @return CPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl20_petroleum_2004(double rho20_kgm3, double t_degc, double p_kpag,
                                            flc_petroleum_product product, double *result);

/** Combined correction CTPL, base 20 degC, unrounded
 *  ctpl = ctl cpl
 *
 *  @param rho20_kgm3  density at 20 degC and 0 gauge {kg/m3} [606.12, 1161.15]
 *  @param t_degc      temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag      gauge pressure {kPa} [0, 10340]
 *  @param product     product group, or given alpha60
 *  @return CTPL {1}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctpl20_petroleum_2004(double rho20_kgm3, double t_degc, double p_kpag,
                                             flc_petroleum_product product, double *result);

/** Density at 20 degC and 0 gauge from density at 60 degF, unrounded
 *  rho20 = rho60 CTL60(rho60, 20 degC)
 *
 *  @param rho60_kgm3  density at 60 degF and 0 psig {kg/m3} [610.6, 1163.5]
 *  @param product     product group, or given alpha60
 *  @return rho20 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_from_rho60_petroleum_2004(double rho60_kgm3, flc_petroleum_product product,
                                                       double *result);

/** Density at 20 degC from an observed density, unrounded
 *  rho60 from observed, times CTL60(rho60, 20 degC)
 *
 *  @param rho_kgm3  observed density, true, at t and p {kg/m3} [468, 1291]
 *  @param t_degc    temperature, ITS-90 {degC} [-50, 150]
 *  @param p_kpag    gauge pressure {kPa} [0, 10340]
 *  @param product   product group, or given alpha60
 *  @return rho20 {kg/m3}
 *  @source API MPMS 11.1 (2004), 11.1.7
 *  @status from memory; see the head of this header
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_from_observed_petroleum_2004(double rho_kgm3, double t_degc, double p_kpag,
                                                          flc_petroleum_product product, double *result);

FLC_END_DECLS

#endif
