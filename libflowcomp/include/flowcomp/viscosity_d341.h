/* SPDX-License-Identifier: Apache-2.0 */
/* Kinematic viscosity against temperature: ASTM D341 (Walther, MacCoull). W = log10 log10 Z falls linearly with
 * log10 T, T = t + 273.15 K; Z is the viscosity nu in mm2/s plus 0.7 and, for thin liquids, exponentials in nu.
 *
 *   simple  Z = nu + 0.7, for nu >= 2
 *   body    Z = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2), for nu >= 0.21
 *   full    Z = nu + 0.7 + C - D + E - F + G - H, for nu >= 0.21: all terms at every nu, no switching between them
 *
 * Body and full differ by up to 0.5 % in Z: pick one per liquid and keep it. nu is at most 2e7 mm2/s. Temperatures are
 * taken from -100 to 400 degC; the standard's own bounds, cloud point and initial boiling point, belong to the liquid.
 * A line is drawn through what is given and may be read beyond it: whether it still describes the liquid there is the
 * caller's to judge. Where the line leaves the viscosities of its form, FLC_E_NO_ROOT; a viscosity given below those of
 * its form, FLC_E_BELOW. Two points, and the temperatures of a table: FLC_E_DUPLICATE where two are equal, FLC_E_ORDER
 * where a table does not rise. An oil with a viscosity improver is no such line: use a table. */
#ifndef FLOWCOMP_VISCOSITY_D341_H
#define FLOWCOMP_VISCOSITY_D341_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

typedef enum flc_d341_form {
    FLC_D341_SIMPLE = 0, /* "simple" */
    FLC_D341_BODY = 1,   /* "body" */
    FLC_D341_FULL = 2    /* "full" */
} flc_d341_form;

/** Form from its word ("simple", "body", "full").
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the form is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_d341_form_from_name(const char *name, flc_d341_form *choice);

/** Z, simple form
 *  z = nu + 0.7
 *
 *  @param nu_mm2s  kinematic viscosity {mm2/s} [2, 2e7]
 *  @return Z {1}
 *  @source ASTM D341, Z for nu above 2 mm2/s
 *  @status published; body form and series stand on several public pages
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_z_d341_simple(double nu_mm2s, double *result);

/** Z, form of the body of D341
 *  z = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2)
 *
 *  @param nu_mm2s  kinematic viscosity {mm2/s} [0.21, 2e7]
 *  @return Z {1}
 *  @source ASTM D341, simplified Z in the body of the standard
 *  @status published; body form and series stand on several public pages
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_z_d341_body(double nu_mm2s, double *result);

/** Z, full form
 *  z = nu + 0.7 + C - D + E - F + G - H: C = exp(-1.14883 - 2.65868 nu), D = exp(-0.0038138 - 12.5645 nu), E
 *  = exp(5.46491 - 37.6289 nu), F = exp(13.0458 - 74.6851 nu), G = exp(37.4619 - 192.643 nu), H = exp(80.4945
 *  - 400.468 nu)
 *
 *  @param nu_mm2s  kinematic viscosity {mm2/s} [0.21, 2e7]
 *  @return Z {1}
 *  @source ASTM D341, annex with terms C to H
 *  @status from memory; terms C to H agree with an independent open-source implementation, digit for digit
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_z_d341_full(double nu_mm2s, double *result);

/** W of a viscosity
 *  w = log10(log10(z))
 *
 *  @param nu_mm2s  kinematic viscosity {mm2/s} [0.21, 2e7]
 *  @param form     form of Z; simple takes nu from 2 mm2/s
 *  @return W {1}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_w_d341(double nu_mm2s, flc_d341_form form, double *result);

/** Viscosity from Z by the printed series; it belongs to the body form
 *  nu = x - exp(-0.7487 - 3.295 x + 0.6119 x^2 - 0.3193 x^3), x = z - 0.7
 *
 *  @param z  Z of the body form {1} [1.0627, 20000000.7]
 *  @return nu {mm2/s}
 *  @source ASTM D341, inverse of the simplified Z
 *  @status published; body form and series stand on several public pages; within 0.03 % of the exact inverse
 *  from 0.21 to 5 mm2/s
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_inverse_series(double z, double *result);

/** Viscosity from Z, exact inverse of the form
 *  nu solves z(nu) = z
 *
 *  @param z     Z, of a viscosity that the form takes {1} [1.059, 20000000.7]
 *  @param form  form of Z; simple takes nu from 2 mm2/s
 *  @return nu {mm2/s}
 *  @source ASTM D341; Newton inside a bracket, to the last bits
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_from_z(double z, flc_d341_form form, double *result);

/** A of the line through two points
 *  a = w1 + b log10 T1
 *
 *  @param t1_degc   temperature of one point {degC} [-100, 400]
 *  @param nu1_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param t2_degc   temperature of the other point {degC} [-100, 400]
 *  @param nu2_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param form      form of Z; simple takes nu from 2 mm2/s
 *  @return A {1}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_a_d341_two_point(double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s,
                                        flc_d341_form form, double *result);

/** B of the line through two points
 *  b = (w1 - w2) / log10(T2 / T1)
 *
 *  @param t1_degc   temperature of one point {degC} [-100, 400]
 *  @param nu1_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param t2_degc   temperature of the other point {degC} [-100, 400]
 *  @param nu2_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param form      form of Z; simple takes nu from 2 mm2/s
 *  @return B {1}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_b_d341_two_point(double t1_degc, double nu1_mm2s, double t2_degc, double nu2_mm2s,
                                        flc_d341_form form, double *result);

/** Viscosity on the line through two points
 *  w = w1 - b log10(T / T1), nu from w by the exact inverse
 *
 *  @param t_degc    temperature {degC} [-100, 400]
 *  @param t1_degc   temperature of one point {degC} [-100, 400]
 *  @param nu1_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param t2_degc   temperature of the other point {degC} [-100, 400]
 *  @param nu2_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param form      form of Z; simple takes nu from 2 mm2/s
 *  @return nu {mm2/s}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_two_point(double t_degc, double t1_degc, double nu1_mm2s, double t2_degc,
                                         double nu2_mm2s, flc_d341_form form, double *result);

/** Temperature at which the line through two points has a viscosity
 *  T = T1 10^((w1 - w) / b)
 *
 *  @param nu_mm2s   kinematic viscosity {mm2/s} [0.21, 2e7]
 *  @param t1_degc   temperature of one point {degC} [-100, 400]
 *  @param nu1_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param t2_degc   temperature of the other point {degC} [-100, 400]
 *  @param nu2_mm2s  viscosity of that point {mm2/s} [0.21, 2e7]
 *  @param form      form of Z; simple takes nu from 2 mm2/s
 *  @return t {degC}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_t_d341_two_point(double nu_mm2s, double t1_degc, double nu1_mm2s, double t2_degc,
                                        double nu2_mm2s, flc_d341_form form, double *result);

/** Viscosity from A and B
 *  w = a - b log10 T, nu from w by the exact inverse
 *
 *  @param t_degc  temperature {degC} [-100, 400]
 *  @param a       A of the line {1} [-60, 60]
 *  @param b       B of the line {1} [0, 20]
 *  @param form    form of Z; simple takes nu from 2 mm2/s
 *  @return nu {mm2/s}
 *  @source ASTM D341
 *  @status published; one worked example reproduced to its digits (with its own offset 273); full form from
 *  memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_ab(double t_degc, double a, double b, flc_d341_form form, double *result);

/** A by least squares of W on log10 T
 *  a = mean(w) + b mean(log10 T)
 *
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-100, 400]
 *  @param nu_fit_mm2s  their viscosities {mm2/s} [0.21, 2e7]
 *  @param form         form of Z; simple takes nu from 2 mm2/s
 *  @return A {1}
 *  @source least squares in the coordinates of ASTM D341
 *  @status common practice; the standard gives a rule for two points only
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_a_d341_lsq(const double *t_fit_degc, const double *nu_fit_mm2s, size_t n, flc_d341_form form,
                                  double *result);

/** B by least squares of W on log10 T
 *  b = -sum((x - mean x)(w - mean w)) / sum((x - mean x)^2), x = log10 T
 *
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-100, 400]
 *  @param nu_fit_mm2s  their viscosities {mm2/s} [0.21, 2e7]
 *  @param form         form of Z; simple takes nu from 2 mm2/s
 *  @return B {1}
 *  @source least squares in the coordinates of ASTM D341
 *  @status common practice; the standard gives a rule for two points only
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_b_d341_lsq(const double *t_fit_degc, const double *nu_fit_mm2s, size_t n, flc_d341_form form,
                                  double *result);

/** Viscosity on the line fitted by least squares
 *  w = a - b log10 T of that fit, nu from w by the exact inverse
 *
 *  @param t_degc       temperature {degC} [-100, 400]
 *  @param t_fit_degc   temperatures of the points, at least two different {degC} [-100, 400]
 *  @param nu_fit_mm2s  their viscosities {mm2/s} [0.21, 2e7]
 *  @param form         form of Z; simple takes nu from 2 mm2/s
 *  @return nu {mm2/s}
 *  @source least squares in the coordinates of ASTM D341
 *  @status common practice; the standard gives a rule for two points only
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_lsq(double t_degc, const double *t_fit_degc, const double *nu_fit_mm2s, size_t n,
                                   flc_d341_form form, double *result);

/** Viscosity from a table, interpolated in log10 T and W
 *  the two-point line of the interval that t lies in; outside the table FLC_E_BELOW or FLC_E_ABOVE
 *
 *  @param t_degc         temperature {degC} [-100, 400]
 *  @param t_table_degc   temperatures of the table, rising, at least two {degC} [-100, 400]
 *  @param nu_table_mm2s  their viscosities {mm2/s} [0.21, 2e7]
 *  @param form           form of Z; simple takes nu from 2 mm2/s
 *  @return nu {mm2/s}
 *  @source ASTM D341 line between neighbouring points
 *  @status common practice; n-alkanes with points 20 K apart: within 0.1 % of a point left out
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu_d341_table(double t_degc, const double *t_table_degc, const double *nu_table_mm2s, size_t n,
                                     flc_d341_form form, double *result);

/** Density from a table, interpolated linearly in temperature
 *  rho = rho1 + (rho2 - rho1) (t - t1) / (t2 - t1); outside the table FLC_E_BELOW or FLC_E_ABOVE
 *
 *  @param t_degc          temperature {degC} [-100, 400]
 *  @param t_table_degc    temperatures of the table, rising, at least two {degC} [-100, 400]
 *  @param rho_table_kgm3  their densities {kg/m3} [1, 25000]
 *  @return rho {kg/m3}
 *  @source linear interpolation
 *  @status common practice; n-alkanes with points 20 K apart: within 0.075 kg/m3 of a point left out
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_rho_table_linear(double t_degc, const double *t_table_degc, const double *rho_table_kgm3,
                                        size_t n, double *result);

FLC_END_DECLS

#endif
