/* SPDX-License-Identifier: Apache-2.0 */
#include "body_strain_core.h"
#include "error.h"
#include "method.h"

/* A formula that opens with 0.0 + or 0.0 - does so to return +0, never -0, where nothing changes. */

#define MPA_PER_GPA 1000.0

static flc_status wall_is_ordered(double id_mm, double od_mm)
{
    return od_mm > id_mm ? FLC_OK : FLC_E_ORDER;
}

/* E (b^2 - a^2) with b and a as diameters: four times that of the radii. */
static double ring_mpa_mm2(double id_mm, double od_mm, double e_gpa)
{
    return MPA_PER_GPA * e_gpa * (od_mm - id_mm) * (od_mm + id_mm);
}

static flc_status hoop_strain(flc_body_end end, double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                              double *result)
{
    *result = p_mpag * flc_body_hoop_per_pressure(end, id_mm, od_mm, MPA_PER_GPA * e_gpa, poisson);
    return wall_is_ordered(id_mm, od_mm);
}

static flc_status area_strain(flc_body_end end, double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                              double *result)
{
    flc_status status = hoop_strain(end, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
    *result = *result * (2.0 + *result);
    return status;
}

static flc_status area_strain_thin_wall(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                        double *result)
{
    flc_status status = hoop_strain(FLC_END_THIN_WALL, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
    *result = 2.0 * *result;
    return status;
}

static flc_status hoop_strain_thin_wall(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                        double *result)
{
    return hoop_strain(FLC_END_THIN_WALL, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status hoop_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                               double *result)
{
    return hoop_strain(FLC_END_THIN_WALL_CLOSED, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status axial_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                                double *result)
{
    *result = 0.0 + p_mpag * id_mm * (0.5 - poisson) / (MPA_PER_GPA * e_gpa * (od_mm - id_mm));
    return wall_is_ordered(id_mm, od_mm);
}

static flc_status volume_strain_thin_wall_closed(double p_mpag, double id_mm, double od_mm, double e_gpa,
                                                 double poisson, double *result)
{
    *result = p_mpag * id_mm * (2.5 - 2.0 * poisson) / (MPA_PER_GPA * e_gpa * (od_mm - id_mm));
    return wall_is_ordered(id_mm, od_mm);
}

static flc_status hoop_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                        double *result)
{
    return hoop_strain(FLC_END_LAME_OPEN, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status axial_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                         double *result)
{
    *result = 0.0 - 2.0 * poisson * p_mpag * (id_mm * id_mm) / ring_mpa_mm2(id_mm, od_mm, e_gpa);
    return wall_is_ordered(id_mm, od_mm);
}

static flc_status hoop_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                          double *result)
{
    return hoop_strain(FLC_END_LAME_CLOSED, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status axial_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                           double *result)
{
    *result = 0.0 + (1.0 - 2.0 * poisson) * p_mpag * (id_mm * id_mm) / ring_mpa_mm2(id_mm, od_mm, e_gpa);
    return wall_is_ordered(id_mm, od_mm);
}

static flc_status hoop_strain_lame_held(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                        double *result)
{
    return hoop_strain(FLC_END_LAME_HELD, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status area_strain_lame_open(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                        double *result)
{
    return area_strain(FLC_END_LAME_OPEN, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status area_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                          double *result)
{
    return area_strain(FLC_END_LAME_CLOSED, p_mpag, id_mm, od_mm, e_gpa, poisson, result);
}

static flc_status volume_strain_lame_closed(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                            double *result)
{
    double hoop, axial;
    flc_status status = hoop_strain_lame_closed(p_mpag, id_mm, od_mm, e_gpa, poisson, &hoop);
    axial_strain_lame_closed(p_mpag, id_mm, od_mm, e_gpa, poisson, &axial);
    *result = 2.0 * hoop + axial;
    return status;
}

static flc_status bore_displacement_lame_held_m(double p_mpag, double id_mm, double od_mm, double e_gpa, double poisson,
                                                double *result)
{
    flc_status status = hoop_strain_lame_held(p_mpag, id_mm, od_mm, e_gpa, poisson, result);
    *result = *result * id_mm / 2000.0;
    return status;
}

static flc_status hoop_stress_lame_mpa(double p_mpag, double id_mm, double od_mm, double r_mm, double *result)
{
    const double d = 2.0 * r_mm;
    if (!(od_mm > id_mm && d >= id_mm && d <= od_mm)) {
        return FLC_E_ORDER;
    }
    *result = p_mpag * (id_mm * id_mm) * ((od_mm / d) * (od_mm / d) + 1.0) / ((od_mm - id_mm) * (od_mm + id_mm));
    return FLC_OK;
}

/* k = (r/R)^2, the part of the bore's area that the hub fills. */
static flc_status hub_area(double bore_radius_mm, double hub_radius_mm, double *k_area)
{
    const double ratio = hub_radius_mm / bore_radius_mm;
    *k_area = ratio * ratio;
    return *k_area < 1.0 ? FLC_OK : FLC_E_ORDER;
}

/* aR + 2 (aH - k aR)/(1 - k): by how much K falls per kelvin. */
static double two_metal_expansion(double alpha_housing_per_k, double alpha_rotor_per_k, double k_area)
{
    return alpha_rotor_per_k + 2.0 * (alpha_housing_per_k - k_area * alpha_rotor_per_k) / (1.0 - k_area);
}

static flc_status k_ratio_two_metal(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                    double bore_radius_mm, double hub_radius_mm, double bore_hoop_strain,
                                    double *result)
{
    double k_area;
    flc_status status = hub_area(bore_radius_mm, hub_radius_mm, &k_area);
    if (status != FLC_OK) {
        return status;
    }
    *result = flc_body_k_ratio(alpha_housing_per_k * dt_k, alpha_rotor_per_k * dt_k, bore_hoop_strain, k_area);
    return *result > 0.0 ? FLC_OK : FLC_E_DOMAIN;
}

static flc_status k_ratio_two_metal_linear(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                           double bore_radius_mm, double hub_radius_mm, double bore_hoop_strain,
                                           double *result)
{
    double k_area;
    flc_status status = hub_area(bore_radius_mm, hub_radius_mm, &k_area);
    if (status != FLC_OK) {
        return status;
    }
    *result = 1.0 - (two_metal_expansion(alpha_housing_per_k, alpha_rotor_per_k, k_area) * dt_k +
                     2.0 * bore_hoop_strain / (1.0 - k_area));
    return FLC_OK;
}

static flc_status k_ratio_one_metal(double alpha_per_k, double dt_k, double *result)
{
    const double growth = 1.0 + alpha_per_k * dt_k;
    *result = 1.0 / (growth * growth * growth);
    return FLC_OK;
}

static flc_status effective_expansion_per_k(double alpha_housing_per_k, double alpha_rotor_per_k, double bore_radius_mm,
                                            double hub_radius_mm, double *result)
{
    double k_area;
    flc_status status = hub_area(bore_radius_mm, hub_radius_mm, &k_area);
    if (status == FLC_OK) {
        *result = two_metal_expansion(alpha_housing_per_k, alpha_rotor_per_k, k_area) / 3.0;
    }
    return status;
}

static flc_status k_change_two_metal_pct(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k,
                                         double bore_radius_mm, double hub_radius_mm, double *result)
{
    double k_area;
    flc_status status = hub_area(bore_radius_mm, hub_radius_mm, &k_area);
    if (status == FLC_OK) {
        *result = 0.0 - 100.0 * dt_k * two_metal_expansion(alpha_housing_per_k, alpha_rotor_per_k, k_area);
    }
    return status;
}

static flc_status k_change_no_hub_pct(double dt_k, double alpha_housing_per_k, double alpha_rotor_per_k, double *result)
{
    *result = 0.0 - 100.0 * dt_k * (alpha_rotor_per_k + 2.0 * alpha_housing_per_k);
    return FLC_OK;
}

static flc_status k_change_constant_expansion_pct(double alpha_per_k, double dt_k, double *result)
{
    *result = 0.0 - 300.0 * alpha_per_k * dt_k;
    return FLC_OK;
}

static flc_status k_pressure_change_pct(double dp_mpa, double radius_mm, double wall_mm, double e_gpa, double poisson,
                                        double area_ratio, double *result)
{
    *result = 0.0 - 100.0 * dp_mpa * radius_mm * (2.0 - poisson) / (MPA_PER_GPA * e_gpa * wall_mm * (1.0 - area_ratio));
    return FLC_OK;
}

#include "methods/body_strain.inc"
