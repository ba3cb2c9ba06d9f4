/* SPDX-License-Identifier: Apache-2.0 */
/* EOS-80 as a function of salinity at one temperature and pressure, for the other files of this layer. No checks. */
#ifndef FLC_SEAWATER_EOS80_CORE_H
#define FLC_SEAWATER_EOS80_CORE_H

#include "fpmath.h"

/* A polynomial in S and its square root: at0 + by_s S + by_s15 S^1.5 + by_s2 S^2. */
typedef struct flc_salinity_terms {
    double at0, by_s, by_s15, by_s2;
} flc_salinity_terms;

static inline double flc_salinity_sum(flc_salinity_terms f, double s)
{
    return f.at0 + s * (f.by_s + flc_sqrt(s) * f.by_s15 + s * f.by_s2);
}

static inline double flc_salinity_slope(flc_salinity_terms f, double s)
{
    return f.by_s + 1.5 * (flc_sqrt(s) * f.by_s15) + 2.0 * (s * f.by_s2);
}

/** Density at 1 atm in kg/m3, t in degC. */
static inline flc_salinity_terms flc_seawater_surface(double t)
{
    flc_salinity_terms rho;
    rho.at0 =
        999.842594 + t * (6.793952e-2 + t * (-9.095290e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
    rho.by_s = 8.24493e-1 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
    rho.by_s15 = -5.72466e-3 + t * (1.0227e-4 + t * -1.6546e-6);
    rho.by_s2 = 4.8314e-4;
    return rho;
}

/** Secant bulk modulus K0 + A p + B p^2 in bar, t in degC, p in bar above 1 atm. */
static inline flc_salinity_terms flc_seawater_modulus(double t, double p)
{
    double k0 = 19652.21 + t * (148.4206 + t * (-2.327105 + t * (1.360477e-2 + t * -5.155288e-5)));
    double k0_s = 54.6746 + t * (-0.603459 + t * (1.09987e-2 + t * -6.1670e-5));
    double k0_s15 = 7.944e-2 + t * (1.6483e-2 + t * -5.3009e-4);
    double a = 3.239908 + t * (1.43713e-3 + t * (1.16092e-4 + t * -5.77905e-7));
    double a_s = 2.2838e-3 + t * (-1.0981e-5 + t * -1.6078e-6);
    double a_s15 = 1.91075e-4;
    double b = 8.50935e-5 + t * (-6.12293e-6 + t * 5.2787e-8);
    double b_s = -9.9348e-7 + t * (2.0816e-8 + t * 9.1697e-10);
    flc_salinity_terms k = {k0 + p * (a + p * b), k0_s + p * (a_s + p * b_s), k0_s15 + p * a_s15, 0.0};
    return k;
}

/** Density at 1 atm in kg/m3. */
static inline double flc_seawater_surface_density(double s, double t)
{
    return flc_salinity_sum(flc_seawater_surface(t), s);
}

#endif
