/* SPDX-License-Identifier: Apache-2.0 */
/* Dynamic viscosity against temperature: the equations that handbooks print coefficients for, and two that are fitted
 * to measured points (Andrade by least squares, Vogel through three points). T in K, t = T - 273.15 in degC, mu in mPa
 * s; coefficients in the unit their handbook uses, as each function says.
 *
 * No handbook prints one range for all liquids: the ranges here hold every published set that was met, and whether an
 * equation describes the liquid at a temperature is for the source of its coefficients to say. Beside the reference
 * correlations of n-alkanes and toluene at 20 degC, DIPPR 101 with handbook coefficients lies within 0.5 %, for water
 * 2 %: a second opinion, not for calibration. Kinematic viscosities of oils are the matter of viscosity_d341.h.
 *
 * Lists of points: FLC_E_COUNT for too few (or not three), FLC_E_DUPLICATE where two of three temperatures are equal,
 * FLC_E_SINGULAR where the points do not determine the curve. FLC_E_DOMAIN where the viscosity that the coefficients
 * give is too large or too small for a double. */
#ifndef FLOWCOMP_VISCOSITY_MODELS_H
#define FLOWCOMP_VISCOSITY_MODELS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Viscosity, Andrade
 *  mu = exp(a + b / T)
 *
 *  @param a    A, for mPa s {1} [-100, 100]
 *  @param b    B {K} [0, 20000]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source Andrade (1930); Viswanath and Natarajan, Data Book on the Viscosity of Liquids (1989), two-constant form
 *  @status published; a published value for 1-butanol is met to its 15 digits (0.4 % above the literature value)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_andrade(double a, double b, double t_k, double *result);

/** A of Andrade by least squares of ln mu on 1/T
 *  a = mean(ln mu) - b mean(1 / T), T = t + 273.15
 *
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return A, for mPa s {1}
 *  @source ordinary least squares in the coordinates of Andrade's equation
 *  @status common practice; a textbook fit to water is met within 0.3 % (its printed result, from memory, is rounded)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_a_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result);

/** B of Andrade by least squares of ln mu on 1/T
 *  b = sum((x - mean x)(y - mean y)) / sum((x - mean x)^2), x = 1 / T, y = ln mu
 *
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return B {K}
 *  @source ordinary least squares in the coordinates of Andrade's equation
 *  @status common practice; a textbook fit to water is met within 1 K (its printed result, from memory, is rounded)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_b_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result);

/** D of Andrade by least squares of ln mu on 1/T
 *  d = exp(a), so that mu = d exp(b / T)
 *
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return D {mPa s}
 *  @source ordinary least squares in the coordinates of Andrade's equation
 *  @status common practice; a textbook fit to water is met within 0.3 % (its printed result, from memory, is rounded)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_d_andrade_lsq(const double *t_fit_degc, const double *mu_fit_mpas, size_t n, double *result);

/** Viscosity on the Andrade curve fitted by least squares
 *  mu = exp(a + b / T) of that fit
 *
 *  @param t_degc       temperature {degC} [-200, 700]
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return mu {mPa s}
 *  @source ordinary least squares in the coordinates of Andrade's equation
 *  @status common practice; a textbook answer for water at 50 degC (from memory) is met to its three digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_andrade_lsq(double t_degc, const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                      double *result);

/** Viscosity, Vogel (Vogel, Fulcher, Tammann)
 *  mu = exp(a + b / (T + c)); FLC_E_DOMAIN unless T + c > 0
 *
 *  @param a    A, for mPa s, natural exponential {1} [-100, 100]
 *  @param b    B {K} [0, 20000]
 *  @param c    C, negative for liquids {K} [-500, 500]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source Vogel (1921), three-constant form of ln mu
 *  @status published; the form is in every handbook, its coefficients are the caller's
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_vogel(double a, double b, double c, double t_k, double *result);

/** A of the Vogel curve through three points
 *  a = y1 - b / (T1 + c), y = ln mu
 *
 *  @param t_fit_degc   temperatures of the three points {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return A, for mPa s {1}; FLC_E_DOMAIN where the curve breaks off between the points
 *  @source exact solution of Vogel's equation for three points
 *  @status computed; returns its own points, and the coefficients of a curve whose points are taken
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_a_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                           double *result);

/** B of the Vogel curve through three points
 *  b = (y1 - y2) (T1 + c) (T2 + c) / (T2 - T1), y = ln mu
 *
 *  @param t_fit_degc   temperatures of the three points {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return B {K}; FLC_E_DOMAIN where the curve breaks off between the points
 *  @source exact solution of Vogel's equation for three points
 *  @status computed; returns its own points, and the coefficients of a curve whose points are taken
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_b_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                           double *result);

/** C of the Vogel curve through three points
 *  c = (T3 - r T2) / (r - 1), r = (y1 - y2) (T3 - T1) / ((y1 - y3) (T2 - T1)), y = ln mu
 *
 *  @param t_fit_degc   temperatures of the three points {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return C {K}; FLC_E_DOMAIN where the curve breaks off between the points
 *  @source exact solution of Vogel's equation for three points
 *  @status computed; returns its own points, and the coefficients of a curve whose points are taken
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_c_vogel_three_point(const double *t_fit_degc, const double *mu_fit_mpas, size_t n,
                                           double *result);

/** Viscosity on the Vogel curve through three points
 *  mu = exp(a + b / (T + c)) of that curve
 *
 *  @param t_degc       temperature {degC} [-200, 700]
 *  @param t_fit_degc   temperatures of the three points {degC} [-200, 700]
 *  @param mu_fit_mpas  their viscosities {mPa s} [1e-4, 1e9]
 *  @return mu {mPa s}; FLC_E_DOMAIN where the curve breaks off between the points or on the way to t
 *  @source exact solution of Vogel's equation for three points
 *  @status computed; returns its own points, and the coefficients of a curve whose points are taken
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_vogel_three_point(double t_degc, const double *t_fit_degc, const double *mu_fit_mpas,
                                            size_t n, double *result);

/** Viscosity, Dutt and Prasad
 *  mu = 10^(a + b / (c - T)); FLC_E_DOMAIN unless T > c
 *
 *  @param a    A, for mPa s, decimal {1} [-50, 50]
 *  @param b    B, negative {K} [-20000, 0]
 *  @param c    C {K} [-500, 500]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source Dutt and Prasad, as in Viswanath and Natarajan, Data Book on the Viscosity of Liquids (1989)
 *  @status published; a published value for benzene is met to its 16 digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_dutt_prasad(double a, double b, double c, double t_k, double *result);

/** Viscosity, DIPPR equation 101
 *  mu = 1000 exp(c1 + c2 / T + c3 ln T + c4 T^c5)
 *
 *  @param c1   C1, for Pa s {1} [-2000, 2000]
 *  @param c2   C2 {K} [-200000, 200000]
 *  @param c3   C3 {1} [-500, 500]
 *  @param c4   C4, unit 1/K^C5 {1} [-1e60, 1e60]
 *  @param c5   C5 {1} [-30, 30]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source DIPPR equation 101; coefficients for instance Perry's Chemical Engineers' Handbook, 8th ed., Table 2-313
 *  @status published; with those coefficients within 0.9 % of the NIST tables of n-alkanes, 2.4 % at the freezing
 *  point of n-decane
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_dippr101(double c1, double c2, double c3, double c4, double c5, double t_k, double *result);

/** Viscosity, power law in temperature
 *  mu = 1000 c T^d
 *
 *  @param c    C, for Pa s {1} [1e-20, 1e40]
 *  @param d    D {1} [-20, 20]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source Viswanath and Natarajan, Data Book on the Viscosity of Liquids (1989), exponential form
 *  @status published; a published value is met to its 16 digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_power_law(double c, double d, double t_k, double *result);

/** Viscosity, Yaws
 *  mu = 1000 10^(a + b / T + c T + d T^2)
 *
 *  @param a    A, for Pa s, decimal {1} [-300, 300]
 *  @param b    B {K} [-100000, 100000]
 *  @param c    C {1/K} [-10, 10]
 *  @param d    D {1/K2} [-0.1, 0.1]
 *  @param t_k  temperature {K} [50, 1000]
 *  @return mu {mPa s}
 *  @source Yaws, Thermophysical Properties of Chemicals and Hydrocarbons (2014)
 *  @status published; a published value for water is met to its digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mu_yaws(double a, double b, double c, double d, double t_k, double *result);

FLC_END_DECLS

#endif
