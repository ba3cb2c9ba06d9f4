/* SPDX-License-Identifier: Apache-2.0 */
/* Thermal strain and Young's modulus of alloys from a few kelvin to room temperature: the polynomials of the NIST
 * Cryogenic Material Properties database. They end at 300 K (nickel_steel at 265 K), are fits within 1.5 to 5 % of the
 * strain (304 and 316: 5 %; E: 1 %), and their slope at 293 K lies below the means of handbooks (304: 15.4 against 17.2
 * in 1e-6/K): for a body near room temperature use a mean expansion (metals.h). The ranges in the contracts are the
 * widest of the alloys; outside its own an alloy gives FLC_E_BELOW or FLC_E_ABOVE. */
#ifndef FLOWCOMP_NIST_CRYOGENIC_H
#define FLOWCOMP_NIST_CRYOGENIC_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* Alloys with a NIST cryogenic polynomial; some share one. nickel_steel has 2.25 to 9 % Ni. */
typedef enum flc_nist_material {
    FLC_NIST_304 = 0,          /* "304" */
    FLC_NIST_304L = 1,         /* "304L" */
    FLC_NIST_310 = 2,          /* "310" */
    FLC_NIST_316 = 3,          /* "316" */
    FLC_NIST_6061_T6 = 4,      /* "6061-T6" */
    FLC_NIST_3003 = 5,         /* "3003" */
    FLC_NIST_5083 = 6,         /* "5083" */
    FLC_NIST_TI_6AL_4V = 7,    /* "Ti-6Al-4V" */
    FLC_NIST_K93600 = 8,       /* "K93600" */
    FLC_NIST_NICKEL_STEEL = 9, /* "nickel_steel" */
    FLC_NIST_N07718 = 10,      /* "N07718" */
    FLC_NIST_C17200 = 11       /* "C17200" */
} flc_nist_material;

typedef enum flc_nist_coefficient {
    FLC_NIST_COEFFICIENT_A = 0,
    FLC_NIST_COEFFICIENT_B = 1,
    FLC_NIST_COEFFICIENT_C = 2,
    FLC_NIST_COEFFICIENT_D = 3,
    FLC_NIST_COEFFICIENT_E = 4,
    FLC_NIST_COEFFICIENT_F = 5
} flc_nist_coefficient;

/** Alloy and coefficient from their words.
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the choice is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_nist_material_from_name(const char *name, flc_nist_material *choice);
FLC_API FLC_STATUS flc_nist_coefficient_from_name(const char *name, flc_nist_coefficient *choice);

/** Coefficient of the NIST cryogenic expansion polynomial
 *  1e5 (L(T) - L(293 K)) / L(293 K) = a + b T + c T^2 + d T^3 + e T^4 from T_low up, f below
 *
 *  @param material     alloy
 *  @param coefficient  which one; f is the value below T_low
 *  @return coefficient {1e-5/K^n}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nist_expansion_coefficient(flc_nist_material material, flc_nist_coefficient coefficient,
                                                  double *result);

/** Thermal strain from 293 K
 *  1e5 (L(T) - L(293 K)) / L(293 K): polynomial from T_low up, plateau f below
 *
 *  @param material  alloy
 *  @param t_k       temperature, to 265 K for nickel_steel {K} [4, 300]
 *  @return strain {1e-5}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_strain_nist_cryogenic(flc_nist_material material, double t_k, double *result);

/** Thermal strain from 293 K, in per cent
 *  strain_nist_cryogenic / 1000
 *
 *  @param material  alloy
 *  @param t_k       temperature, to 265 K for nickel_steel {K} [4, 300]
 *  @return strain {%}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_strain_nist_cryogenic_pct(flc_nist_material material, double t_k, double *result);

/** Local linear expansion, derivative of the NIST polynomial
 *  10 (b + 2 c T + 3 d T^2 + 4 e T^3); FLC_E_BELOW under T_low, where no polynomial holds
 *
 *  @param material  alloy
 *  @param t_k       temperature, to 265 K for nickel_steel {K} [4, 300]
 *  @return local expansion {1e-6/K}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_local_expansion_nist_cryogenic(flc_nist_material material, double t_k, double *result);

/** Coefficient of the NIST polynomial of E
 *  E(T) = c0 + c1 T + c2 T^2 + c3 T^3 + c4 T^4 in the segment that starts at t_lo_k
 *
 *  @param material  alloy
 *  @param t_lo_k    where the segment starts, as printed {K} [2, 294]
 *  @param power     power of T, a whole number {1} [0, 4]
 *  @return coefficient {GPa/K^n}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nist_modulus_coefficient(flc_nist_material material, double t_lo_k, double power,
                                                double *result);

/** Young's modulus from the NIST polynomial
 *  E(T) of the segment that starts at t_lo_k, else of the one T lies in (the upper where two meet)
 *
 *  @param material  alloy
 *  @param t_k       temperature {K} [2, 295]
 *  @param t_lo_k    where the segment starts, as printed {K} [2, 294] optional
 *  @return E {GPa}
 *  @source NIST Cryogenic Material Properties database
 *  @status published; read through public copies, the polynomials close at 293 K, at T_low and at the
 *  joint of E
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_youngs_modulus_nist_cryogenic_gpa(flc_nist_material material, double t_k, double t_lo_k,
                                                         double *result);

FLC_END_DECLS

#endif
