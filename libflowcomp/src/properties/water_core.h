/* SPDX-License-Identifier: Apache-2.0 */
/* Arithmetic of water that other files share. No checks. */
#ifndef FLC_WATER_CORE_H
#define FLC_WATER_CORE_H

/** Density in kg/m3 at 1 atm, t in degC (Kell 1975). */
static inline double flc_water_kell_density(double t)
{
    double top = -280.54253e-12;
    top = top * t + 105.56302e-9;
    top = top * t - 46.170461e-6;
    top = top * t - 7.9870401e-3;
    top = top * t + 16.945176;
    top = top * t + 999.83952;
    return top / (1.0 + 16.879850e-3 * t);
}

/** CPL of common practice at a gauge pressure in psi. */
static inline double flc_water_cpl(double p_psig)
{
    return 1.0 / (1.0 - 3.2e-6 * p_psig);
}

#endif
