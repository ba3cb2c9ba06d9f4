/* SPDX-License-Identifier: Apache-2.0 */
/* Volume correction of aromatic hydrocarbons and cyclohexane, and density in air: ASTM D1555, unrounded.
 *
 * VCF(t) = a + b t + c t^2 + d t^3 + e t^4, t in degF: a property of the fluid alone, so a base density is the observed
 * one over it. VCF(60 degF) is 1 within 5e-6, as printed. Another base is the quotient of two VCF.
 *
 * The range in temperature is ours (none was at hand): from -20 to 60 degC the quotient to 60 degF lies within 1.7e-3
 * of reference equations of state (benzene and xylenes below their freezing points), from 5 to 38 degC within 3.5e-4.
 * Where a fluid freezes (benzene, cyclohexane and p-xylene above 5 degC) is not judged. Agreement with the standard is
 * what a contract asks for. */
#ifndef FLOWCOMP_AROMATICS_D1555_H
#define FLOWCOMP_AROMATICS_D1555_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_aromatic {
    FLC_AROMATIC_BENZENE = 0,             /* */
    FLC_AROMATIC_CUMENE = 1,              /* */
    FLC_AROMATIC_CYCLOHEXANE = 2,         /* */
    FLC_AROMATIC_ETHYLBENZENE = 3,        /* */
    FLC_AROMATIC_STYRENE = 4,             /* */
    FLC_AROMATIC_TOLUENE = 5,             /* */
    FLC_AROMATIC_M_XYLENE = 6,            /* */
    FLC_AROMATIC_MIXED_XYLENES = 7,       /* the row of m-xylene */
    FLC_AROMATIC_O_XYLENE = 8,            /* */
    FLC_AROMATIC_P_XYLENE = 9,            /* */
    FLC_AROMATIC_AROMATICS_300_350F = 10, /* boiling from 300 to 350 degF */
    FLC_AROMATIC_AROMATICS_350_400F = 11  /* boiling from 350 to 400 degF */
} flc_aromatic;

/** Fluid from its word ("benzene", "m_xylene", "aromatics_300_350f", ...).
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the fluid is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_aromatic_from_name(const char *name, flc_aromatic *choice);

/** Volume correction factor to 60 degF, unrounded
 *  vcf = a + b t + c t^2 + d t^3 + e t^4
 *
 *  @param fluid   fluid, as pure as the standard asks for
 *  @param t_degf  temperature {degF} [-4, 140]
 *  @return CTL {1}
 *  @source ASTM D1555 (2004 and later), volume correction equation and its table of coefficients
 *  @status from memory; seven published pairs of densities at 15 and 20 degC agree within 1e-5, VCF(60 degF) is 1
 *  within 5e-6
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl60_aromatics_d1555(flc_aromatic fluid, double t_degf, double *result);

/** Volume correction factor to 15 degC, unrounded
 *  ctl = vcf(t) / vcf(59 degF)
 *
 *  @param fluid   fluid, as pure as the standard asks for
 *  @param t_degc  temperature {degC} [-20, 60]
 *  @return CTL {1}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; seven published pairs of densities at 15 and 20 degC agree within 1e-5
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl15_aromatics_d1555(flc_aromatic fluid, double t_degc, double *result);

/** Volume correction factor to 20 degC, unrounded
 *  ctl = vcf(t) / vcf(68 degF)
 *
 *  @param fluid   fluid, as pure as the standard asks for
 *  @param t_degc  temperature {degC} [-20, 60]
 *  @return CTL {1}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; seven published pairs of densities at 15 and 20 degC agree within 1e-5
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl20_aromatics_d1555(flc_aromatic fluid, double t_degc, double *result);

/** Volume correction factor to any base temperature, unrounded
 *  ctl = vcf(t) / vcf(t_base)
 *
 *  @param fluid        fluid, as pure as the standard asks for
 *  @param t_degc       temperature {degC} [-20, 60]
 *  @param t_base_degc  base temperature {degC} [-20, 60]
 *  @return CTL {1}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; seven published pairs of densities at 15 and 20 degC agree within 1e-5
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ctl_aromatics_d1555(flc_aromatic fluid, double t_degc, double t_base_degc, double *result);

/** Density at 60 degF from an observed density, unrounded
 *  rho60 = rho / vcf(t)
 *
 *  @param fluid     fluid, as pure as the standard asks for
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [600, 1100]
 *  @param t_degf    temperature {degF} [-4, 140]
 *  @return rho60 {kg/m3}
 *  @source ASTM D1555 (2004 and later), volume correction equation and its table of coefficients
 *  @status from memory; the range of density is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho60_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degf,
                                                           double *result);

/** Density at 15 degC from an observed density, unrounded
 *  rho15 = rho / ctl15(t)
 *
 *  @param fluid     fluid, as pure as the standard asks for
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [600, 1100]
 *  @param t_degc    temperature {degC} [-20, 60]
 *  @return rho15 {kg/m3}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; the range of density is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho15_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                           double *result);

/** Density at 20 degC from an observed density, unrounded
 *  rho20 = rho / ctl20(t)
 *
 *  @param fluid     fluid, as pure as the standard asks for
 *  @param rho_kgm3  observed density, true (in vacuo), at t {kg/m3} [600, 1100]
 *  @param t_degc    temperature {degC} [-20, 60]
 *  @return rho20 {kg/m3}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; the range of density is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho20_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                           double *result);

/** Density at any base temperature from an observed density, unrounded
 *  rho_base = rho vcf(t_base) / vcf(t)
 *
 *  @param fluid        fluid, as pure as the standard asks for
 *  @param rho_kgm3     observed density, true (in vacuo), at t {kg/m3} [600, 1100]
 *  @param t_degc       temperature {degC} [-20, 60]
 *  @param t_base_degc  base temperature {degC} [-20, 60]
 *  @return rho_base {kg/m3}
 *  @source ASTM D1555 (2004 and later), quotient of two volume correction factors
 *  @status from memory; the range of density is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_base_from_observed_aromatics_d1555(flc_aromatic fluid, double rho_kgm3, double t_degc,
                                                              double t_base_degc, double *result);

/** Apparent density in air from density in vacuo
 *  rho_air = 1.000149926 rho - 0.001199407795 g/cm3
 *
 *  @param rho_gcm3  density in vacuo {g/cm3} [0.5, 1.5]
 *  @return density in air {g/cm3}
 *  @source ASTM D1555-16, page of the standard
 *  @status published; reproduces 14 of 14 published pairs of D1555M-08e1 Table 1; the range is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_air_from_rho_vacuum_d1555(double rho_gcm3, double *result);

/** Density in vacuo from apparent density in air
 *  rho = (rho_air + 0.001199407795 g/cm3) / 1.000149926
 *
 *  @param rho_air_gcm3  density in air {g/cm3} [0.4988, 1.4991]
 *  @return density in vacuo {g/cm3}
 *  @source ASTM D1555-16, page of the standard, solved for the density in vacuo
 *  @status published; reproduces 14 of 14 published pairs of D1555M-08e1 Table 1; the range is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_vacuum_from_rho_air_d1555(double rho_air_gcm3, double *result);

/** Pounds per US gallon from g/cm3, on the same basis (vacuo or air)
 *  lb_per_gal = 8.345404452 rho
 *
 *  @param rho_gcm3  density, in vacuo or in air {g/cm3} [0.4, 1.6]
 *  @return pounds per gallon {lb/gal}
 *  @source ASTM D1555-16, page of the standard
 *  @status published; the factor is 3785.411784 / 453.59237 within 1e-10; the range is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_lb_per_gal_from_gcm3_d1555(double rho_gcm3, double *result);

/** g/cm3 from pounds per US gallon, on the same basis (vacuo or air)
 *  rho = lb_per_gal / 8.345404452
 *
 *  @param rho_lb_per_gal  density, in vacuo or in air {lb/gal} [3.34, 13.35]
 *  @return density {g/cm3}
 *  @source ASTM D1555-16, page of the standard
 *  @status published; the factor is 3785.411784 / 453.59237 within 1e-10; the range is ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_gcm3_from_lb_per_gal_d1555(double rho_lb_per_gal, double *result);

FLC_END_DECLS

#endif
