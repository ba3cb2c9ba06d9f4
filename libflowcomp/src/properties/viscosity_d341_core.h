/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of ASTM D341 for the other layers. No checks; a viscosity outside the form's range (see
 * flc_d341_nu_is_inside) means that there is none. */
#ifndef FLC_VISCOSITY_D341_CORE_H
#define FLC_VISCOSITY_D341_CORE_H

#include "flowcomp/viscosity_d341.h"
#include "bracketed_newton.h"
#include "fpmath.h"

#define FLC_D341_KELVIN 273.15
#define FLC_D341_NU_HIGH 2e7 /* mm2/s */

/* From here up the exponentials are below the last bit of Z (the largest is 1e-46 of it) and are left out. */
#define FLC_D341_NU_THICK 40.0

/* The exponentials add between 0 and this much to nu + 0.7, for nu >= 0.21. */
#define FLC_D341_LARGEST_ADDITION 0.16

/** Lowest viscosity a form takes, mm2/s. */
static inline double flc_d341_nu_low(flc_d341_form form)
{
    return form == FLC_D341_SIMPLE ? 2.0 : 0.21;
}

/** Is it a viscosity of the form? Rounding in an inverse may pass a bound by 1e-9 of it. */
static inline int flc_d341_nu_is_inside(flc_d341_form form, double nu)
{
    return nu >= flc_d341_nu_low(form) * (1.0 - 1e-9) && nu <= FLC_D341_NU_HIGH * (1.0 + 1e-9);
}

/* What the exponentials add to nu + 0.7, and its derivative. */
typedef struct flc_d341_addition {
    double value, slope;
} flc_d341_addition;

static inline flc_d341_addition flc_d341_addition_body(double nu)
{
    double value = flc_exp(-1.47 - 1.84 * nu - 0.51 * nu * nu);
    flc_d341_addition addition = {value, -(1.84 + 1.02 * nu) * value};
    return addition;
}

static inline flc_d341_addition flc_d341_addition_full(double nu)
{
    double c = flc_exp(-1.14883 - 2.65868 * nu);
    double d = flc_exp(-0.0038138 - 12.5645 * nu);
    double e = flc_exp(5.46491 - 37.6289 * nu);
    double f = flc_exp(13.0458 - 74.6851 * nu);
    double g = flc_exp(37.4619 - 192.643 * nu);
    double h = flc_exp(80.4945 - 400.468 * nu);
    flc_d341_addition addition;
    addition.value = c - d + e - f + g - h;
    addition.slope = -2.65868 * c + 12.5645 * d - 37.6289 * e + 74.6851 * f - 192.643 * g + 400.468 * h;
    return addition;
}

static inline flc_d341_addition flc_d341_addition_of(flc_d341_form form, double nu)
{
    flc_d341_addition none = {0.0, 0.0};
    if (form == FLC_D341_SIMPLE || nu > FLC_D341_NU_THICK) {
        return none;
    }
    return form == FLC_D341_BODY ? flc_d341_addition_body(nu) : flc_d341_addition_full(nu);
}

/** Z of a viscosity in mm2/s. */
static inline double flc_d341_z(flc_d341_form form, double nu)
{
    return (nu + 0.7) + flc_d341_addition_of(form, nu).value;
}

/** W of a viscosity in mm2/s. */
static inline double flc_d341_w(flc_d341_form form, double nu)
{
    return flc_log10(flc_log10(flc_d341_z(form, nu)));
}

/* nu + addition(nu) = x, with x = z - 0.7. */

/** What the addition of the body form is at x, to 3e-5 from x = 0.36 up; a fit of a fourth root, its argument held at
 *  4.5, where nothing is left. */
static inline double flc_d341_body_guess(double x)
{
    double held = x < 4.5 ? x : 4.5;
    double h2 = held * held;
    double root = (0.8315629986672118 - 0.6982861500543462 * held) +
                  h2 * ((0.4391664307662329 - 0.2595710634415645 * held) +
                        h2 * (0.09126899664213686 - 0.01275382708443113 * held));
    root = root > 0.0 ? root : 0.0;
    double square = root * root;
    return square * square;
}

/** One step of Newton towards nu. The exponential is held above e^-247, where it is far below the last bit. */
static inline double flc_d341_body_step(double x, double nu)
{
    double held = nu < 20.0 ? nu : 20.0;
    double value = flc_exp_inside(-1.47 - 1.84 * held - 0.51 * held * held);
    return nu - ((nu - x) + value) / (1.0 - (1.84 + 1.02 * held) * value);
}

/** Viscosity of the body form, to the last bits from the lowest viscosity up: the guess is 3e-5 off, the first step
 *  3e-10, the second 1e-19. x below 0.36 has none and gives a number below the range. */
static inline double flc_d341_nu_body(double x)
{
    double nu = flc_d341_body_step(x, flc_d341_body_step(x, x - flc_d341_body_guess(x)));
    return x < 0.36 ? x - FLC_D341_LARGEST_ADDITION : nu;
}

typedef struct flc_d341_inverse {
    flc_d341_form form;
    double x;
} flc_d341_inverse;

static inline double flc_d341_inverse_excess(const void *problem, double nu, double *slope)
{
    const flc_d341_inverse *inverse = (const flc_d341_inverse *)problem;
    flc_d341_addition addition = flc_d341_addition_of(inverse->form, nu);
    *slope = 1.0 + addition.slope;
    return (nu - inverse->x) + addition.value;
}

/** Viscosity of the full form, whose Z is nearly flat at its low end: a bracketed search. */
static inline double flc_d341_nu_full(double x)
{
    if (x > FLC_D341_NU_THICK) {
        return x;
    }
    double low = x - FLC_D341_LARGEST_ADDITION;
    double lowest = flc_d341_nu_low(FLC_D341_FULL) * (1.0 - 1e-6);
    low = low > lowest ? low : lowest;
    flc_d341_inverse inverse = {FLC_D341_FULL, x};
    return x <= low ? low : flc_bracketed_newton(flc_d341_inverse_excess, &inverse, low, x, x);
}

/** Viscosity in mm2/s of a Z, exact inverse of flc_d341_z. Below the range of the form a number that is not inside. */
static inline double flc_d341_nu_from_z(flc_d341_form form, double z)
{
    double x = z - 0.7;
    return form == FLC_D341_SIMPLE ? x : form == FLC_D341_BODY ? flc_d341_nu_body(x) : flc_d341_nu_full(x);
}

/** W, or where it is beyond what any viscosity has, a value whose viscosity is not inside. */
static inline double flc_d341_w_held(double w)
{
    double held = w > 1.0 ? 1.0 : w;
    return w < -4.0 ? -4.0 : held;
}

/** Z of a W. */
static inline double flc_d341_z_of_w(double w)
{
    return flc_exp10_inside(flc_exp10_inside(flc_d341_w_held(w)));
}

/** Viscosity in mm2/s of a W. */
static inline double flc_d341_nu_from_w(flc_d341_form form, double w)
{
    return flc_d341_nu_from_z(form, flc_d341_z_of_w(w));
}

/* A line W = w1 - b log10(T / t1_k). It goes through a point instead of being kept as A and B, because A - B log10 T is
 * a small difference of large numbers. A given A and B is the point at T = 1 K. */
typedef struct flc_d341_line {
    flc_d341_form form;
    double t1_k, w1, b;
} flc_d341_line;

/** Line through two points at different temperatures. */
static inline flc_d341_line flc_d341_line_of_two_points(flc_d341_form form, double t1_degc, double nu1_mm2s,
                                                        double t2_degc, double nu2_mm2s)
{
    flc_d341_line line = {form, t1_degc + FLC_D341_KELVIN, flc_d341_w(form, nu1_mm2s), 0.0};
    line.b = (line.w1 - flc_d341_w(form, nu2_mm2s)) / flc_log10((t2_degc + FLC_D341_KELVIN) / line.t1_k);
    return line;
}

/** Line from A and B. */
static inline flc_d341_line flc_d341_line_of_ab(flc_d341_form form, double a, double b)
{
    flc_d341_line line = {form, 1.0, a, b};
    return line;
}

/** A of the line. */
static inline double flc_d341_line_a(const flc_d341_line *line)
{
    return line->w1 + line->b * flc_log10(line->t1_k);
}

/** T / T1. */
static inline double flc_d341_t_ratio(double t1_k, double t_degc)
{
    return (t_degc + FLC_D341_KELVIN) / t1_k;
}

/** W from log10(T / T1). */
static inline double flc_d341_w_of_log(double w1, double b, double log10_ratio)
{
    return w1 - b * log10_ratio;
}

/** W at a temperature above absolute zero of a line through w1 at t1_k with slope b. */
static inline double flc_d341_w_at(double t1_k, double w1, double b, double t_degc)
{
    return flc_d341_w_of_log(w1, b, flc_log10_inside(flc_d341_t_ratio(t1_k, t_degc)));
}

/** W of the line at a temperature. */
static inline double flc_d341_line_w(const flc_d341_line *line, double t_degc)
{
    return flc_d341_w_at(line->t1_k, line->w1, line->b, t_degc);
}

/** Viscosity of the line at a temperature, mm2/s. */
static inline double flc_d341_line_nu(const flc_d341_line *line, double t_degc)
{
    return flc_d341_nu_from_w(line->form, flc_d341_line_w(line, t_degc));
}

#endif
