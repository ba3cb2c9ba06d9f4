/* SPDX-License-Identifier: Apache-2.0 */
#include "nist_cryogenic_core.h"
#include "method.h"
#include "error.h"

typedef struct nist_modulus_row {
    flc_nist_material material;
    double t_lo_k, t_hi_k;
    double c[5]; /* E = sum of c[n] T^n, GPa */
    flc_provenance status;
} nist_modulus_row;

#include "tables/nist_cryogenic_table.inc"

/* --- expansion ---------------------------------------------------------------------------------------------------- */

static flc_status check_equation_range(const flc_nist_expansion_row *row, double t_k)
{
    return t_k < row->range_lo_k ? FLC_E_BELOW : t_k > row->range_hi_k ? FLC_E_ABOVE : FLC_OK;
}

static flc_status nist_expansion_coefficient(flc_nist_material material, flc_nist_coefficient coefficient,
                                             double *result)
{
    const flc_nist_expansion_row *row = &flc_nist_expansions[material];
    const double coefficients[] = {row->a, row->b, row->c, row->d, row->e, row->f};
    *result = coefficients[coefficient];
    return FLC_OK;
}

static flc_status strain_nist_cryogenic(flc_nist_material material, double t_k, double *result)
{
    const flc_nist_expansion_row *row = &flc_nist_expansions[material];
    *result = flc_nist_strain(row, t_k);
    return check_equation_range(row, t_k);
}

static flc_status strain_nist_cryogenic_pct(flc_nist_material material, double t_k, double *result)
{
    const flc_nist_expansion_row *row = &flc_nist_expansions[material];
    *result = flc_nist_strain(row, t_k) / 1000.0;
    return check_equation_range(row, t_k);
}

static flc_status local_expansion_nist_cryogenic(flc_nist_material material, double t_k, double *result)
{
    const flc_nist_expansion_row *row = &flc_nist_expansions[material];
    *result = 10.0 * flc_nist_strain_slope(row, t_k);
    return t_k < row->t_low_k ? FLC_E_BELOW : check_equation_range(row, t_k);
}

/* --- Young's modulus ---------------------------------------------------------------------------------------------- */

static double modulus_on(const nist_modulus_row *row, double t_k)
{
    const double *c = row->c;
    return c[0] + t_k * (c[1] + t_k * (c[2] + t_k * (c[3] + t_k * c[4])));
}

/* Segment that starts at that temperature, as printed. */
static const nist_modulus_row *segment_from(flc_nist_material material, double t_lo_k)
{
    for (size_t i = 0; i < FLC_COUNT_OF(nist_moduli); i++) {
        if (nist_moduli[i].material == material && nist_moduli[i].t_lo_k == t_lo_k) {
            return &nist_moduli[i];
        }
    }
    return NULL;
}

/* Segment a temperature lies in: the last one that starts at or below it, so at a joint the upper; the first one for
 * a temperature below them all. The table has the segments of an alloy in rising order. */
static const nist_modulus_row *segment_of(flc_nist_material material, double t_k)
{
    const nist_modulus_row *found = NULL;
    for (size_t i = 0; i < FLC_COUNT_OF(nist_moduli); i++) {
        if (nist_moduli[i].material == material && (found == NULL || nist_moduli[i].t_lo_k <= t_k)) {
            found = &nist_moduli[i];
        }
    }
    return found;
}

double flc_nist_modulus_at_293_k(flc_nist_material material)
{
    const nist_modulus_row *row = segment_of(material, 293.0);
    return row == NULL ? flc_nan() : modulus_on(row, 293.0);
}

static flc_status nist_modulus_coefficient(flc_nist_material material, double t_lo_k, double power, double *result)
{
    const nist_modulus_row *row = segment_from(material, t_lo_k);
    int place = (int)power;
    if (row == NULL || (double)place != power) {
        return FLC_E_UNKNOWN_NAME;
    }
    *result = row->c[place];
    return FLC_OK;
}

static flc_status youngs_modulus_nist_cryogenic_gpa(flc_nist_material material, double t_k, double t_lo_k,
                                                    double *result)
{
    const nist_modulus_row *row = flc_is_nan(t_lo_k) ? segment_of(material, t_k) : segment_from(material, t_lo_k);
    if (row == NULL) {
        return FLC_E_UNKNOWN_NAME;
    }
    *result = modulus_on(row, t_k);
    return t_k < row->t_lo_k ? FLC_E_BELOW : t_k > row->t_hi_k ? FLC_E_ABOVE : FLC_OK;
}

#include "methods/nist_cryogenic.inc"
