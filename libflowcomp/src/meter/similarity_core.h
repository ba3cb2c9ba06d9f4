/* SPDX-License-Identifier: Apache-2.0 */
/* The similarity numbers, unchecked, in the units of the objects: Hz, m, mm2/s, m3/s, pulses/m3. */
#ifndef FLC_SIMILARITY_CORE_H
#define FLC_SIMILARITY_CORE_H

#define FLC_PI 0x1.921fb54442d18p+1 /* the double nearest to pi: 3.141592653589793 */

#define FLC_MM2S_PER_M2S 1e6

/** Ro = f D^2/nu. */
static inline double flc_ro(double f_hz, double d_m, double nu_mm2s)
{
    return f_hz * (d_m * d_m) * FLC_MM2S_PER_M2S / nu_mm2s;
}

/** Re = 4 Q/(pi D nu). */
static inline double flc_re(double q_m3s, double d_m, double nu_mm2s)
{
    return 4.0 * q_m3s * FLC_MM2S_PER_M2S / (FLC_PI * d_m * nu_mm2s);
}

/** St = (pi/4) K D^3. */
static inline double flc_st(double k_per_m3, double d_m)
{
    return 0.25 * FLC_PI * k_per_m3 * (d_m * d_m * d_m);
}

/** K = 4 St/(pi D^3). */
static inline double flc_k(double strouhal, double d_m)
{
    return 4.0 * strouhal / (FLC_PI * (d_m * d_m * d_m));
}

#endif
