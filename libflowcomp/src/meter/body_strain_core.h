/* SPDX-License-Identifier: Apache-2.0 */
/* The arithmetic of the meter body, unchecked, shared by its methods and by the meter. Strains go in as strains, not as
 * expansion times temperature, so that an integrated strain serves as well as a coefficient. */
#ifndef FLC_BODY_STRAIN_CORE_H
#define FLC_BODY_STRAIN_CORE_H

#include "flowcomp/body_strain.h"

/** Hoop strain of the bore per unit of pressure, in 1/(unit of e): with e in MPa, per MPa. id and od in one unit,
 *  id < od; FLC_END_NONE gives 0. */
static inline double flc_body_hoop_per_pressure(flc_body_end end, double id, double od, double e, double poisson)
{
    const double wall = e * (od - id);    /* 2 E t */
    const double ring = wall * (od + id); /* E (b^2 - a^2), times 4 as are a^2 and b^2 below */
    switch (end) {
    case FLC_END_THIN_WALL:
        return id / wall;
    case FLC_END_THIN_WALL_CLOSED:
        return id * (1.0 - 0.5 * poisson) / wall;
    case FLC_END_LAME_OPEN:
        return ((1.0 - poisson) * (id * id) + (1.0 + poisson) * (od * od)) / ring;
    case FLC_END_LAME_CLOSED:
        return ((1.0 - 2.0 * poisson) * (id * id) + (1.0 + poisson) * (od * od)) / ring;
    case FLC_END_LAME_HELD:
        return (1.0 + poisson) * ((1.0 - 2.0 * poisson) * (id * id) + od * od) / ring;
    case FLC_END_NONE:
        break;
    }
    return 0.0;
}

/** K0/K at constant Strouhal number, exact form, from the strains of housing and rotor, the hoop strain of the bore from
 * pressure, and the part k_area = (r/R)^2 of the bore's area that the hub fills (per_open is 1/(1 - k_area)). The bracket
 * over 1 - k is taken as rotor^2 + (bore^2 - rotor^2)/(1 - k): the difference comes from the strains, so a thick hub
 * costs no digits. */
static inline double flc_body_k_fall(double e_housing, double e_rotor, double e_pressure, double per_open)
{
    const double bore = (1.0 + e_housing) * (1.0 + e_pressure);
    const double rotor = 1.0 + e_rotor;
    const double gap = e_housing - e_rotor + e_pressure * (1.0 + e_housing); /* bore - rotor */
    return rotor * (rotor * rotor + gap * (bore + rotor) * per_open);
}

/** K/K0: one over it. */
static inline double flc_body_k_ratio(double e_housing, double e_rotor, double e_pressure, double k_area)
{
    return 1.0 / flc_body_k_fall(e_housing, e_rotor, e_pressure, 1.0 / (1.0 - k_area));
}

#endif
