/* SPDX-License-Identifier: Apache-2.0 */
/* How a pipe or meter body stretches under pressure, and what that and its warming do to the K-factor.
 *
 * The formula is a choice. Free and closed ends differ by 14 % (thick wall, OD/ID 1.14); a thin-wall formula, which
 * leaves out the radial stress, lies 7 to 13 % from the thick wall with the same ends, while the form without a Poisson
 * term comes within 2 % of the thick wall with closed ends. Closed ends is the usual choice for a body between flanges.
 * All strains are elastic; nothing here judges whether a wall is strong enough: that is for the design code and a
 * licensed engineer. No standard states ranges for these formulas: the ranges given are those a meter body can sanely
 * have. Left out of the K ratios: the change of tip clearance, which for unlike metals can be of the same order, and
 * the squeeze of the rotor by the liquid, which is negligible. */
#ifndef FLOWCOMP_BODY_STRAIN_H
#define FLOWCOMP_BODY_STRAIN_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* How the bore answers to pressure: which formula, which end condition. */
typedef enum flc_body_end {
    FLC_END_NONE = 0,             /* a pressure-balanced cartridge: no stretch */
    FLC_END_THIN_WALL = 1,        /* P ID/(2 E t), no Poisson term */
    FLC_END_THIN_WALL_CLOSED = 2, /* thin wall, closed ends */
    FLC_END_LAME_OPEN = 3,        /* thick wall, open ends: a free pipe */
    FLC_END_LAME_CLOSED = 4,      /* thick wall, closed ends: the usual body between flanges */
    FLC_END_LAME_HELD = 5         /* thick wall, ends held: plane strain */
} flc_body_end;

/** End condition from its word ("none", "thin_wall", "thin_wall_closed", "lame_open", "lame_closed", "lame_held").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_end_from_name(const char *name, flc_body_end *choice);

/** Area strain of the bore, thin wall, without a Poisson term (the form of the prover factor CPS)
 *  dA/A = P ID/(E t), t = (OD - ID)/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return area strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source API MPMS 12.2, the form of CPSp
 *  @status from memory; 2 % from the thick wall with closed ends, 11 % from open ends, at OD/ID 1.14
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_area_strain_thin_wall(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                             double *result);

/** Hoop strain of the bore, thin wall, without a Poisson term
 *  e_h = P ID/(2 E t), t = (OD - ID)/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return hoop strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thin-wall theory of the strength of materials (textbook)
 *  @status computed; 11 % below the thick wall with open ends, 2 % above it with closed ends, at OD/ID 1.14
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_strain_thin_wall(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                             double *result);

/** Hoop strain of the bore, thin wall, closed ends
 *  e_h = P ID/(2 E t) (1 - nu/2), t = (OD - ID)/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return hoop strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thin-wall theory of the strength of materials (textbook)
 *  @status computed; 13 % below the thick wall with closed ends at OD/ID 1.14
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                    double poisson, double *result);

/** Axial strain, thin wall, closed ends
 *  e_a = P ID/(2 E t) (1/2 - nu), t = (OD - ID)/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return axial strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thin-wall theory of the strength of materials (textbook)
 *  @status computed; 7 % above the thick wall with closed ends at OD/ID 1.14
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_axial_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                     double poisson, double *result);

/** Volume strain of the bore, thin wall, closed ends, first order
 *  dV/V = P ID/(4 E t) (5 - 4 nu), t = (OD - ID)/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return volume strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thin-wall theory of the strength of materials (textbook)
 *  @status computed; 11 % below the thick wall with closed ends at OD/ID 1.14
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_volume_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                      double poisson, double *result);

/** Hoop strain at the bore, thick wall, open ends (free pipe)
 *  e_h = P [(1 - nu) a^2 + (1 + nu) b^2]/[E (b^2 - a^2)], a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return hoop strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                             double *result);

/** Axial strain, thick wall, open ends (free pipe)
 *  e_a = -2 nu P a^2/[E (b^2 - a^2)], a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return axial strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_axial_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                              double *result);

/** Hoop strain at the bore, thick wall, closed ends
 *  e_h = P [(1 - 2 nu) a^2 + (1 + nu) b^2]/[E (b^2 - a^2)], a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return hoop strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                               double *result);

/** Axial strain, thick wall, closed ends
 *  e_a = (1 - 2 nu) P a^2/[E (b^2 - a^2)], a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return axial strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_axial_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                                double *result);

/** Hoop strain at the bore, thick wall, held ends (plane strain)
 *  e_h = P (1 + nu) [(1 - 2 nu) a^2 + b^2]/[E (b^2 - a^2)], a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return hoop strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_strain_lame_held(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                             double *result);

/** Area strain of the bore, thick wall, open ends
 *  dA/A = (1 + e_h)^2 - 1 = e_h (2 + e_h)
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return area strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_area_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                             double *result);

/** Area strain of the bore, thick wall, closed ends
 *  dA/A = (1 + e_h)^2 - 1 = e_h (2 + e_h)
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return area strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_area_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                               double *result);

/** Volume strain of the bore, thick wall, closed ends, first order
 *  dV/V = 2 e_h + e_a
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return volume strain {1}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); Encyclopaedia Britannica, 11th edition, Elasticity: the same strains
 *  @status computed; Hooke's law on the Lame stresses returns it
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_volume_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                 double poisson, double *result);

/** Radial displacement of the bore, thick wall, held ends (plane strain)
 *  u = e_h ID/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param e_gpa   modulus of elasticity {GPa} [1, 1000]
 *  @param poisson Poisson ratio {1} [0, 0.5]
 *  @return radial displacement {m}; FLC_E_ORDER unless od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); worked case a = 10 mm, b = 20 mm, 100 MPa, 210 GPa, 0.3 of an open
 *          finite element solver's verification manual
 *  @status published; that manual prints 9.08e-6 m
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_bore_displacement_lame_held_m(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                     double poisson, double *result);

/** Hoop stress in a thick wall at a radius
 *  s = P a^2 (b^2/r^2 + 1)/(b^2 - a^2), a = ID/2, b = OD/2
 *
 *  @param p_mpag  inner pressure, gauge {MPa} [-0.1, 200]
 *  @param id_mm   bore {mm} [1, 3000]
 *  @param od_mm   outer diameter, above id_mm {mm} [1, 4000]
 *  @param r_mm    radius, from id_mm/2 to od_mm/2 {mm} [0.5, 2000]
 *  @return hoop stress {MPa}; FLC_E_ORDER unless id_mm/2 <= r_mm <= od_mm/2 and od_mm > id_mm
 *  @source thick cylinder of Lame (textbook); worked case a = 10 mm, b = 20 mm, 100 MPa of an open finite element
 *          solver's verification manual
 *  @status published; that manual prints 166.7 MPa at the bore and 66.7 MPa outside
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_hoop_stress_lame_mpa(double p_mpag, double id_mm, double od_mm, double r_mm, double *result);

/** K(T,P)/K0 with housing and rotor of different metal, exact
 *  K/K0 = 1/{(1 + eR) [(1 + eH)^2 (1 + eP)^2 - k (1 + eR)^2]/(1 - k)}, eH = aH dT, eR = aR dT, k = (r/R)^2
 *
 *  @param dt_k                body temperature less reference temperature {K} [-300, 800]
 *  @param alpha_housing_per_k linear expansion of the housing {1/K} [-1e-5, 3e-4]
 *  @param alpha_rotor_per_k   linear expansion of the rotor {1/K} [-1e-5, 3e-4]
 *  @param bore_radius_mm      R, radius of the bore {mm} [0.5, 1500]
 *  @param hub_radius_mm       r, radius of the rotor's hub, below R {mm} [0, 1500]
 *  @param bore_hoop_strain    eP, hoop strain of the bore from pressure {1} [-0.01, 0.01]
 *  @return K/K0 {1}; FLC_E_ORDER unless hub below bore, FLC_E_DOMAIN where the hub would fill the bore
 *  @source derived from the ideal rotor w = Q tan(beta)/(r_m A), A = pi (R^2 - r^2), blade angle kept
 *  @status computed; one metal returns (1 + a dT)^-3, no hub returns two parts housing and one part rotor
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_ratio_two_metal(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                         double bore_radius_mm, double hub_radius_mm, double bore_hoop_strain,
                                         double *result);

/** K(T,P)/K0 with housing and rotor of different metal, linearised
 *  K/K0 = 1 - {aR dT + 2 [aH dT + eP - k aR dT]/(1 - k)}, k = (r/R)^2
 *
 *  @param dt_k                body temperature less reference temperature {K} [-300, 800]
 *  @param alpha_housing_per_k linear expansion of the housing {1/K} [-1e-5, 3e-4]
 *  @param alpha_rotor_per_k   linear expansion of the rotor {1/K} [-1e-5, 3e-4]
 *  @param bore_radius_mm      R, radius of the bore {mm} [0.5, 1500]
 *  @param hub_radius_mm       r, radius of the rotor's hub, below R {mm} [0, 1500]
 *  @param bore_hoop_strain    eP, hoop strain of the bore from pressure {1} [-0.01, 0.01]
 *  @return K/K0 {1}; FLC_E_ORDER unless hub below bore
 *  @source derived: first order of k_ratio_two_metal
 *  @status computed; 0.6 ppm from the exact form at 30 K on steel with a titanium rotor
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_ratio_two_metal_linear(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                                double bore_radius_mm, double hub_radius_mm, double bore_hoop_strain,
                                                double *result);

/** K(T)/K0 with housing and rotor of one metal
 *  K/K0 = (1 + alpha dT)^-3
 *
 *  @param alpha_per_k linear expansion {1/K} [-1e-5, 3e-4]
 *  @param dt_k        body temperature less reference temperature {K} [-300, 800]
 *  @return K/K0 {1}
 *  @source derived: similarity of shape, K D^3 constant
 *  @status computed; identity
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_ratio_one_metal(double alpha_per_k, double dt_k, double *result);

/** Change of K with temperature, housing and rotor of different metal, linear
 *  100 dK/K = -100 dT [aR + 2 (aH R^2 - aR r^2)/(R^2 - r^2)]
 *
 *  @param dt_k                body temperature less reference temperature {K} [-300, 800]
 *  @param alpha_housing_per_k linear expansion of the housing {1/K} [-1e-5, 3e-4]
 *  @param alpha_rotor_per_k   linear expansion of the rotor {1/K} [-1e-5, 3e-4]
 *  @param bore_radius_mm      R, radius of the bore {mm} [0.5, 1500]
 *  @param hub_radius_mm       r, radius of the rotor's hub, below R {mm} [0, 1500]
 *  @return change of K {%}; FLC_E_ORDER unless hub below bore
 *  @source derived from the ideal rotor: r_m and hub move with the rotor, the bore with the housing
 *  @status computed; equal metals return -300 alpha dT
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_change_two_metal_pct(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                              double bore_radius_mm, double hub_radius_mm, double *result);

/** Change of K with temperature, two metals, hub left out
 *  100 dK/K = -100 (aR + 2 aH) dT
 *
 *  @param dt_k                body temperature less reference temperature {K} [-300, 800]
 *  @param alpha_housing_per_k linear expansion of the housing {1/K} [-1e-5, 3e-4]
 *  @param alpha_rotor_per_k   linear expansion of the rotor {1/K} [-1e-5, 3e-4]
 *  @return change of K {%}
 *  @source derived: k_change_two_metal_pct with a small hub
 *  @status computed; the hub is not negligible: 126 ppm at 40 K, hub half the bore, 16e-6 and 10.5e-6 1/K
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_change_no_hub_pct(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                           double *result);

/** Single expansion that stands for two metals
 *  alpha = [aR + 2 (aH R^2 - aR r^2)/(R^2 - r^2)]/3
 *
 *  @param alpha_housing_per_k linear expansion of the housing {1/K} [-1e-5, 3e-4]
 *  @param alpha_rotor_per_k   linear expansion of the rotor {1/K} [-1e-5, 3e-4]
 *  @param bore_radius_mm      R, radius of the bore {mm} [0.5, 1500]
 *  @param hub_radius_mm       r, radius of the rotor's hub, below R {mm} [0, 1500]
 *  @return effective linear expansion {1/K}; FLC_E_ORDER unless hub below bore
 *  @source derived: one third of the bracket of k_change_two_metal_pct
 *  @status computed; equal metals return their own expansion
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_effective_expansion_per_k(double alpha_housing_per_k, double alpha_rotor_per_k,
                                                 double bore_radius_mm, double hub_radius_mm, double *result);

/** Change of K from a constant expansion, linear
 *  100 dK/K = -300 alpha dT
 *
 *  @param alpha_per_k linear expansion {1/K} [-1e-5, 3e-4]
 *  @param dt_k        body temperature less reference temperature {K} [-300, 800]
 *  @return change of K {%}
 *  @source derived: first order of k_ratio_one_metal
 *  @status computed; over a cryogenic range use the integrated strain instead (293 to 77 K: 0.15 to 0.2 % of K apart)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_change_constant_expansion_pct(double alpha_per_k, double dt_k, double *result);

/** Change of K with pressure, thin wall, closed ends, rotor blocking part of the bore
 *  100 dK/K = -100 dP R (2 - nu)/[E t (1 - Ar/A)]
 *
 *  @param dp_mpa     pressure less calibration pressure {MPa} [-200, 200]
 *  @param radius_mm  R, radius of the bore {mm} [0.5, 1500]
 *  @param wall_mm    t, wall {mm} [0.1, 500]
 *  @param e_gpa      modulus of elasticity {GPa} [1, 1000]
 *  @param poisson    Poisson ratio {1} [0, 0.5]
 *  @param area_ratio Ar/A, part of the bore's area that the rotor blocks {1} [0, 0.95]
 *  @return change of K {%}
 *  @source derived: closed thin cylinder, dA/A = P R (2 - nu)/(E t), rotor area constant
 *  @status computed; standards print a factor with the same groups, from memory, some perhaps with 2R for R
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_pressure_change_pct(double dp_mpa, double radius_mm, double wall_mm, double e_gpa,
                                             double poisson, double area_ratio, double *result);

FLC_END_DECLS

#endif
