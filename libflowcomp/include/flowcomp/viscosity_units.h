/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity in other units: Saybolt Universal (SUS) and Saybolt Furol (SFS) seconds by ASTM D2161, dynamic and
 * kinematic viscosity by the density, and the customary units whose factors are exact. (units.h converts between all
 * units that differ by a factor; seconds of a Saybolt cup do not, and depend on the temperature.)
 *
 *   SUS at 100 degF = 4.6324 nu + (1 + 0.03264 nu) / ((3930.2 + 262.7 nu + 23.97 nu^2 + 1.646 nu^3) 1e-5)
 *   SUS at t        = SUS at 100 degF (1 + 0.000061 (t - 100))
 *
 * up to 500 mm2/s, at any temperature; above, a factor: 4.632 at 100 degF, 4.664 at 210 degF, which the standard
 * prints, and 4.6324 (1 + 0.000061 (t - 100)) elsewhere (our reading). The pieces do not meet: at 100 degF those from
 * 2316.0 to 2316.2 SUS have two viscosities, and the equation's is given; at 210 degF those from 2331.75 to 2332.0 SUS
 * have none, and the factor's is given, just below 500 mm2/s. Other tables of SUS (pump standards) lie up to 1.9 % off
 * above 500 SUS and 6 % off at 35 SUS.
 *
 * Furol seconds are defined at 122 and 210 degF only: FLC_E_DOMAIN elsewhere. */
#ifndef FLOWCOMP_VISCOSITY_UNITS_H
#define FLOWCOMP_VISCOSITY_UNITS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Saybolt Universal seconds per mm2/s, above 500 mm2/s
 *  4.632 at 100 degF, 4.664 at 210 degF, else 4.6324 (1 + 0.000061 (t - 100))
 *
 *  @param t_degf  temperature {degF} [0, 500]
 *  @return factor {SUS/(mm2/s)}
 *  @source ASTM D2161, 5.2; other temperatures by its temperature coefficient
 *  @status published; 100 and 210 degF printed, the others our reading; range ours
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_sus_factor_d2161(double t_degf, double *result);

/** Saybolt Universal seconds from kinematic viscosity
 *  the equation above up to 500 mm2/s, factor times nu from there
 *
 *  @param nu_mm2s  kinematic viscosity at t {mm2/s} [1.81, 2e7]
 *  @param t_degf   temperature {degF} [0, 500]
 *  @return SUS {SUS}
 *  @source ASTM D2161, equation and factors for Saybolt Universal
 *  @status published; the constants in two public sources
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_sus_d2161(double nu_mm2s, double t_degf, double *result);

/** Kinematic viscosity from Saybolt Universal seconds
 *  solves the equation up to 500 mm2/s, divides by the factor from there
 *
 *  @param sus     Saybolt Universal seconds at t {SUS} [30, 1e8]
 *  @param t_degf  temperature {degF} [0, 500]
 *  @return nu {mm2/s}; FLC_E_BELOW or FLC_E_ABOVE beyond 1.81 to 2e7 mm2/s
 *  @source ASTM D2161, solved for the viscosity inside a bracket
 *  @status published; a published inverse (700 SUS at 100 degF: 151.0891475152 mm2/s) is met
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_from_sus_d2161(double sus, double t_degf, double *result);

/** Saybolt Furol seconds from kinematic viscosity
 *  122 degF: 0.4717 nu + 13924 / (nu^2 - 72.59 nu + 6816); 210 degF: 0.4792 nu + 5610 / (nu^2 + 2130)
 *
 *  @param nu_mm2s  kinematic viscosity at t, from 48 (122 degF) or 50 (210 degF) {mm2/s} [48, 2e7]
 *  @param t_degf   temperature, 122 or 210 {degF} [122, 210]
 *  @return SFS {SFS}; FLC_E_DOMAIN at other temperatures
 *  @source ASTM D2161, equations for Saybolt Furol
 *  @status from memory; about a tenth of the Universal seconds, as it must be
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_sfs_d2161(double nu_mm2s, double t_degf, double *result);

/** Kinematic viscosity from Saybolt Furol seconds
 *  solves the equation of sfs_d2161
 *
 *  @param sfs     Saybolt Furol seconds at t {SFS} [25, 1e7]
 *  @param t_degf  temperature, 122 or 210 {degF} [122, 210]
 *  @return nu {mm2/s}; FLC_E_DOMAIN at other temperatures, FLC_E_BELOW below 48 (122 degF) or 50 mm2/s (210 degF),
 *  FLC_E_ABOVE above 2e7 mm2/s
 *  @source ASTM D2161, solved for the viscosity inside a bracket
 *  @status from memory; see sfs_d2161
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_from_sfs_d2161(double sfs, double t_degf, double *result);

/** Dynamic from kinematic viscosity
 *  mu = nu rho
 *
 *  @param nu_mm2s   kinematic viscosity {mm2/s} [1e-4, 2e7]
 *  @param rho_kgm3  density at the same temperature and pressure {kg/m3} [1, 25000]
 *  @return mu {mPa s}
 *  @source definition of kinematic viscosity
 *  @status common practice; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_from_nu_rho(double nu_mm2s, double rho_kgm3, double *result);

/** Kinematic from dynamic viscosity
 *  nu = mu / rho
 *
 *  @param mu_mpas   dynamic viscosity {mPa s} [1e-5, 1e9]
 *  @param rho_kgm3  density at the same temperature and pressure {kg/m3} [1, 25000]
 *  @return nu {mm2/s}
 *  @source definition of kinematic viscosity
 *  @status common practice; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_from_mu_rho(double mu_mpas, double rho_kgm3, double *result);

/** Kinematic viscosity from square feet per second
 *  1 ft2/s = 92903.04 mm2/s
 *
 *  @param nu_ft2s  kinematic viscosity {ft2/s} [0, 1000]
 *  @return nu {mm2/s}
 *  @source international foot, 0.3048 m
 *  @status common practice; definition, exact
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_mm2s_from_ft2s(double nu_ft2s, double *result);

/** Kinematic viscosity from square inches per second
 *  1 in2/s = 645.16 mm2/s
 *
 *  @param nu_in2s  kinematic viscosity {in2/s} [0, 100000]
 *  @return nu {mm2/s}
 *  @source international inch, 0.0254 m
 *  @status common practice; definition, exact
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_mm2s_from_in2s(double nu_in2s, double *result);

/** Dynamic viscosity from reyn
 *  1 reyn = 1 lbf s/in2 = 4448.2216152605 / 0.00064516 mPa s
 *
 *  @param mu_lbf_s_in2  dynamic viscosity {lbf s/in2} [0, 1000]
 *  @return mu {mPa s}
 *  @source pound 0.45359237 kg, standard gravity 9.80665 m/s2, inch 0.0254 m
 *  @status common practice; definition, exact
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_mpas_from_reyn(double mu_lbf_s_in2, double *result);

/** Dynamic viscosity from pounds (mass) per foot and second
 *  1 lb/(ft s) = 453.59237 / 0.3048 mPa s
 *
 *  @param mu_lb_ft_s  dynamic viscosity {lb/(ft s)} [0, 1e6]
 *  @return mu {mPa s}
 *  @source pound 0.45359237 kg, foot 0.3048 m
 *  @status common practice; definition, exact
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_mpas_from_lb_ft_s(double mu_lb_ft_s, double *result);

FLC_END_DECLS

#endif
