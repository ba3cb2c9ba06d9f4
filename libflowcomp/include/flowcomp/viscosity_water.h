/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity of water and of sea water.
 *
 *   IAPWS R12-08   mu = 1e-6 mu0(T) mu1(T, rho) mu2 Pa s, here with mu2 = 1
 *   IAPWS SR6-08   closed form at 0.1 MPa, the cheapest
 *   water_1atm     R12-08 at the density of Kell (water.h): 20 degC 1.0016 mPa s, 1.0034 mm2/s
 *   Swindells      the older calibration formula, 0.04 to 0.20 % above R12-08
 *
 * mu2 differs from 1 near the critical point only; where it counts (645.91 to 650.77 K and 245.8 to 405.3 kg/m3, from
 * memory) mu is refused, FLC_E_DOMAIN. SR6-08 agrees with R12-08 within 0.004 %. Older handbooks print 1.0038 mm2/s for
 * 20 degC.
 *
 * Kinematic viscosities of sea water divide by the density of EOS-80 (seawater_eos80.h) at 1 atm. */
#ifndef FLOWCOMP_VISCOSITY_WATER_H
#define FLOWCOMP_VISCOSITY_WATER_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Dynamic viscosity of water, IAPWS R12-08 with mu2 = 1
 *  mu = 1e-3 mu0 mu1, mu0 = 100 sqrt(Tr) / sum H_i Tr^-i, mu1 = exp(r sum H_ij (1 / Tr - 1)^i (r - 1)^j), Tr = T /
 *  647.096 K, r = rho / 322 kg/m3
 *
 *  @param t_k       temperature, ITS-90 {K} [253.15, 1173.15]
 *  @param rho_kgm3  density {kg/m3} [0, 1250]
 *  @return mu {mPa s}
 *  @source IAPWS R12-08, equations 10 to 12, Tables 1 and 2, mu2 = 1
 *  @status published; the 11 verification points with mu2 = 1 (Table 4) reproduce to every printed digit. Leaving out
 *  mu2 costs 1e-8 (relative) in the liquid below 500 K and 0.15 % at 640 K
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_water_r12_08(double t_k, double rho_kgm3, double *result);

/** Dynamic viscosity of water at 0.1 MPa, IAPWS SR6-08
 *  mu = 1e-3 (280.68 x^-1.9 + 511.45 x^-7.7 + 61.131 x^-19.6 + 0.45903 x^-40), x = T / 300 K
 *
 *  @param t_k  temperature, ITS-90 {K} [253.15, 383.15]
 *  @return mu {mPa s}
 *  @source IAPWS SR6-08(2011), viscosity at 0.1 MPa
 *  @status from memory; its check value at 298.15 K, 0.889996774 mPa s, is met to 9 digits; R12-08 within 0.004 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_water_sr6_08(double t_k, double *result);

/** Dynamic viscosity of water at 1 atm
 *  R12-08 at the density of Kell 1975, T = t + 273.15 K
 *
 *  @param t_degc  temperature {degC} [0, 100]
 *  @return mu {mPa s}
 *  @source IAPWS R12-08; density Kell, J. Chem. Eng. Data 20 (1975) 97-105
 *  @status published; SR6-08 within 0.004 %, 1.0016 mPa s at 20 degC as in ISO/TR 3666
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_water_1atm(double t_degc, double *result);

/** Kinematic viscosity of water at 1 atm
 *  nu = 1000 mu / rho, mu as mu_water_1atm, rho of Kell 1975
 *
 *  @param t_degc  temperature {degC} [0, 100]
 *  @return nu {mm2/s}
 *  @source IAPWS R12-08; density Kell, J. Chem. Eng. Data 20 (1975) 97-105
 *  @status published; 1.0034 mm2/s at 20 degC as in ASTM D2161-17
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_water_1atm(double t_degc, double *result);

/** Dynamic viscosity of water, Swindells form, 20 to 100 degC
 *  mu = 1.002 10^((1.3272 (20 - t) - 0.001053 (t - 20)^2) / (t + 105))
 *
 *  @param t_degc  temperature {degC} [20, 100]
 *  @return mu {mPa s}
 *  @source Swindells, Coe and Godfrey form, as in the CRC Handbook
 *  @status published; 0.04 % (20 degC) to 0.20 % (80 degC) above R12-08. Its branch below 20 degC is not given: refused
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_water_swindells(double t_degc, double *result);

/** Dynamic viscosity of sea water, Sharqawy
 *  mu = 1000 (4.2844e-5 + 1 / (0.157 (t + 64.993)^2 - 91.296)) (1 + A S + B S^2), A = 1.541 + 1.998e-2 t - 9.52e-5 t^2,
 *  B = 7.974 - 7.561e-2 t + 4.724e-4 t^2
 *
 *  @param t_degc  temperature {degC} [0, 180]
 *  @param s_kgkg  salinity {kg/kg} [0, 0.15]
 *  @return mu {mPa s}
 *  @source Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010) 354-380
 *  @status from memory; the range too; 0.1 % below Dorsey (1940) at 10 degC and 30 g/kg
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_seawater_sharqawy(double t_degc, double s_kgkg, double *result);

/** Kinematic viscosity of sea water, Sharqawy
 *  nu = 1000 mu(t, S / 1000) / rho, rho of EOS-80 with practical salinity taken equal to S in g/kg
 *
 *  @param t_degc  temperature {degC} [0, 40]
 *  @param s_gkg   salinity {g/kg} [0, 42]
 *  @return nu {mm2/s}
 *  @source Sharqawy, Lienhard and Zubair (2010); density EOS-80
 *  @status from memory; a published table (0 to 30 degC, 35 g/kg) within 1.4 %. 0.5 % of the salinity is left out
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_seawater_sharqawy(double t_degc, double s_gkg, double *result);

/** Dynamic viscosity of sea water, Millero
 *  mu = mu_w (1 + A Cl^0.5 + B Cl), Cl = rho S / 1806.55, A = 1.0675e-4 + 5.185e-5 t, B = 2.591e-3 + 3.300e-5 t, mu_w
 *  = 1.002 10^((1.1709 (20 - t) - 0.001827 (t - 20)^2) / (t + 89.93))
 *
 *  @param t_degc  temperature, 5 to 25 in the source {degC} [0, 30]
 *  @param s_psu   practical salinity {1} [0, 40]
 *  @return mu {mPa s}
 *  @source Millero, The Sea 5 (1974), as coded in public oceanographic toolboxes; density EOS-80 in kg/m3
 *  @status published; their check value, 0.96541 mPa s at 25 degC and S = 40, is met. 0 to 5 and 25 to 30 degC are
 *  taken in because a published table (S = 35) agrees within 1.4 % there too
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_seawater_millero(double t_degc, double s_psu, double *result);

/** Kinematic viscosity of sea water, Millero
 *  nu = 1000 mu / rho, mu as mu_seawater_millero, rho of EOS-80
 *
 *  @param t_degc  temperature, 5 to 25 in the source {degC} [0, 30]
 *  @param s_psu   practical salinity {1} [0, 40]
 *  @return nu {mm2/s}
 *  @source Millero, The Sea 5 (1974), as coded in public oceanographic toolboxes; density EOS-80
 *  @status published; a published table (0 to 30 degC, S = 35) within 1.4 %
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_seawater_millero(double t_degc, double s_psu, double *result);

FLC_END_DECLS

#endif
