/* SPDX-License-Identifier: Apache-2.0 */
/* The canonical bytes of a liquid. A liquid that the first edition has a place for keeps its bytes, and so its hash. */
#include "liquid_core.h"
#include "canonical.h"

static void put_points(flc_canonical *out, const flc_viscosity_points *points)
{
    flc_put_u64(out, points->count);
    for (size_t i = 0; i < points->count; i++) {
        flc_put_double(out, points->t_degc[i]);
        flc_put_double(out, points->nu_mm2s[i]);
    }
    flc_put_double(out, points->rho_base_kgm3);
}

static void put_composition(flc_canonical *out, const flc_lng_composition *x)
{
    const double fraction[] = {x->x_c1, x->x_c2, x->x_c3, x->x_nc4, x->x_ic4, x->x_nc5, x->x_ic5, x->x_nc6, x->x_n2};
    for (size_t i = 0; i < FLC_COUNT_OF(fraction); i++) {
        flc_put_double(out, fraction[i]);
    }
}

static void put_supplied(flc_canonical *out, const flc_volume_polynomial *polynomial, const flc_density_table *table)
{
    flc_put_u64(out, polynomial->count);
    for (size_t i = 0; i < polynomial->count; i++) {
        flc_put_double(out, polynomial->c[i]);
    }
    flc_put_double(out, polynomial->t_low);
    flc_put_double(out, polynomial->t_high);
    flc_put_i64(out, polynomial->degree);
    flc_put_u64(out, table->count);
    for (size_t i = 0; i < table->count; i++) {
        flc_put_double(out, table->t_degc[i]);
        flc_put_double(out, table->p_kpag[i]);
        flc_put_double(out, table->rho_kgm3[i]);
    }
}

/* What the second edition adds, in the order of the options. */
static void put_second_edition(flc_canonical *out, const flc_liquid_options *options)
{
    flc_put_double(out, options->t_base_degc);
    flc_put_double(out, options->p_base_kpag);
    flc_put_double(out, options->p_atmospheric_kpa);
    flc_put_i64(out, options->compressibility);
    flc_put_double(out, options->f_per_kpa);
    flc_put_i64(out, options->vapour);
    flc_put_double(out, options->pe378_kpa);
    flc_put_double(out, options->vapour_slope_k);
    flc_put_double(out, options->vapour_a);
    flc_put_double(out, options->vapour_b);
    flc_put_double(out, options->vapour_c);
    flc_put_double(out, options->alpha15_per_degc);
    flc_put_i64(out, (int)options->aromatic);
    flc_put_i64(out, (int)options->water);
    flc_put_i64(out, (int)options->glycol);
    flc_put_i64(out, (int)options->saturated);
    flc_put_i64(out, (int)options->costald);
    flc_put_double(out, options->pc_kpa);
    flc_put_double(out, options->mass_fraction);
    flc_put_double(out, options->salinity_psu);
    put_composition(out, &options->lng);
    put_supplied(out, &options->polynomial, &options->table);
}

flc_status flc_liquid_canonical(const flc_liquid *liquid, uint8_t *bytes, size_t size, size_t *needed)
{
    if (liquid == NULL || needed == NULL || (bytes == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    const flc_liquid_options *options = &liquid->options;
    flc_canonical out = {bytes, size, 0};
    const int second = flc_liquid_is_second_edition(options);
    flc_put_text(&out, second ? "flowcomp-liquid-2" : "flowcomp-liquid-1");
    flc_put_text(&out, options->name);
    flc_put_i64(&out, options->volume);
    flc_put_i64(&out, options->product.group);
    flc_put_double(&out, options->product.alpha60_per_degf);
    flc_put_i64(&out, (int)options->base);
    flc_put_i64(&out, options->negative_pressure);
    flc_put_i64(&out, options->viscosity);
    flc_put_i64(&out, options->form);
    put_points(&out, &options->points);
    put_points(&out, &options->second);
    flc_put_double(&out, options->slope_b);
    flc_put_i64(&out, options->beyond);
    flc_put_double(&out, options->u_nu_relative);
    flc_put_i64(&out, options->nu_provenance);
    flc_put_text(&out, options->nu_source);
    if (second) {
        put_second_edition(&out, options);
    }
    return flc_canonical_end(&out, needed);
}
