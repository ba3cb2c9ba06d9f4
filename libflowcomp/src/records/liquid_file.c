/* SPDX-License-Identifier: Apache-2.0 */
#include "record_file.h"
#include "record_words.h"
#include "error.h"

typedef struct liquid_file {
    flc_record_head head;
    flc_liquid_options liquid;
} liquid_file;

static const flc_record_field product_fields[] = {
    FLC_RECORD_CHOICE_OF(flc_petroleum_product, group, &flc_words_group),
    FLC_RECORD_NUMBER_OF(flc_petroleum_product, alpha60_per_degf),
    FLC_RECORD_END,
};
static const flc_record_object product_object = {sizeof(flc_petroleum_product), product_fields};

static const flc_record_field points_fields[] = {
    FLC_RECORD_LIST_OF(flc_viscosity_points, t_degc, count),
    FLC_RECORD_LIST_OF(flc_viscosity_points, nu_mm2s, count),
    FLC_RECORD_NUMBER_OF(flc_viscosity_points, rho_base_kgm3),
    FLC_RECORD_END,
};
static const flc_record_object points_object = {sizeof(flc_viscosity_points), points_fields};

static const flc_record_field lng_fields[] = {
    FLC_RECORD_NUMBER_OF(flc_lng_composition, x_c1),  FLC_RECORD_NUMBER_OF(flc_lng_composition, x_c2),
    FLC_RECORD_NUMBER_OF(flc_lng_composition, x_c3),  FLC_RECORD_NUMBER_OF(flc_lng_composition, x_nc4),
    FLC_RECORD_NUMBER_OF(flc_lng_composition, x_ic4), FLC_RECORD_NUMBER_OF(flc_lng_composition, x_nc5),
    FLC_RECORD_NUMBER_OF(flc_lng_composition, x_ic5), FLC_RECORD_NUMBER_OF(flc_lng_composition, x_nc6),
    FLC_RECORD_NUMBER_OF(flc_lng_composition, x_n2),  FLC_RECORD_END,
};
static const flc_record_object lng_object = {sizeof(flc_lng_composition), lng_fields};

static const flc_record_field polynomial_fields[] = {
    FLC_RECORD_LIST_OF(flc_volume_polynomial, c, count),
    FLC_RECORD_NUMBER_OF(flc_volume_polynomial, t_low),
    FLC_RECORD_NUMBER_OF(flc_volume_polynomial, t_high),
    FLC_RECORD_CHOICE_OF(flc_volume_polynomial, degree, &flc_words_degree),
    FLC_RECORD_END,
};
static const flc_record_object polynomial_object = {sizeof(flc_volume_polynomial), polynomial_fields};

static const flc_record_field table_fields[] = {
    FLC_RECORD_LIST_OF(flc_density_table, t_degc, count),
    FLC_RECORD_LIST_OF(flc_density_table, p_kpag, count),
    FLC_RECORD_LIST_OF(flc_density_table, rho_kgm3, count),
    FLC_RECORD_END,
};
static const flc_record_object table_object = {sizeof(flc_density_table), table_fields};

#define NUMBER(name) FLC_RECORD_NUMBER_AT(#name, liquid_file, liquid.name)
#define CHOICE(name, words) FLC_RECORD_CHOICE_AT(#name, liquid_file, liquid.name, &flc_words_##words)

/* Rows of the first version of the file, and what the second adds. */
#define FIRST_ROWS                                                                                       \
    FLC_RECORD_HEAD_ROWS, FLC_RECORD_TEXT_AT("name", liquid_file, liquid.name, 48),                      \
        FLC_RECORD_CHOICE_AT("volume", liquid_file, liquid.volume, &flc_words_volume),                   \
        FLC_RECORD_OBJECT_AT("product", liquid_file, liquid.product, &product_object),                   \
        FLC_RECORD_CHOICE_AT("base", liquid_file, liquid.base, &flc_words_base),                         \
        FLC_RECORD_CHOICE_AT("negative_pressure", liquid_file, liquid.negative_pressure,                 \
                             &flc_words_negative_pressure),                                              \
        FLC_RECORD_CHOICE_AT("viscosity", liquid_file, liquid.viscosity, &flc_words_viscosity),          \
        FLC_RECORD_CHOICE_AT("form", liquid_file, liquid.form, &flc_words_form),                         \
        FLC_RECORD_OBJECT_AT("points", liquid_file, liquid.points, &points_object),                      \
        FLC_RECORD_OBJECT_AT("second", liquid_file, liquid.second, &points_object),                      \
        FLC_RECORD_NUMBER_AT("slope_b", liquid_file, liquid.slope_b),                                    \
        FLC_RECORD_CHOICE_AT("beyond", liquid_file, liquid.beyond, &flc_words_extend),                   \
        FLC_RECORD_NUMBER_AT("u_nu_relative", liquid_file, liquid.u_nu_relative),                        \
        FLC_RECORD_CHOICE_AT("nu_provenance", liquid_file, liquid.nu_provenance, &flc_words_provenance), \
        FLC_RECORD_TEXT_AT("nu_source", liquid_file, liquid.nu_source, 96)

static const flc_record_field liquid_fields[] = {FIRST_ROWS, FLC_RECORD_END};
static const flc_record_object liquid_object = {sizeof(liquid_file), liquid_fields};

static const flc_record_field liquid_fields_2[] = {
    FIRST_ROWS,
    NUMBER(t_base_degc),
    NUMBER(p_base_kpag),
    NUMBER(p_atmospheric_kpa),
    CHOICE(compressibility, compressibility),
    NUMBER(f_per_kpa),
    CHOICE(vapour, vapour),
    NUMBER(pe378_kpa),
    NUMBER(vapour_slope_k),
    NUMBER(vapour_a),
    NUMBER(vapour_b),
    NUMBER(vapour_c),
    NUMBER(alpha15_per_degc),
    CHOICE(aromatic, aromatic),
    CHOICE(water, water),
    CHOICE(glycol, glycol),
    CHOICE(saturated, saturated),
    CHOICE(costald, costald),
    NUMBER(pc_kpa),
    NUMBER(mass_fraction),
    NUMBER(salinity_psu),
    FLC_RECORD_OBJECT_AT("lng", liquid_file, liquid.lng, &lng_object),
    FLC_RECORD_OBJECT_AT("polynomial", liquid_file, liquid.polynomial, &polynomial_object),
    FLC_RECORD_OBJECT_AT("table", liquid_file, liquid.table, &table_object),
    FLC_RECORD_END,
};
static const flc_record_object liquid_object_2 = {sizeof(liquid_file), liquid_fields_2};

static void prepare(void *values)
{
    liquid_file *file = values;
    flc_liquid_options_init(&file->liquid);
}

/* Lists of a file belong to the file. */
static flc_status copy_points(flc_viscosity_points *points)
{
    double *t_degc = flc_record_copy_list(points->t_degc, points->count);
    double *nu_mm2s = flc_record_copy_list(points->nu_mm2s, points->count);
    points->t_degc = t_degc;
    points->nu_mm2s = nu_mm2s;
    return points->count == 0 || (t_degc != NULL && nu_mm2s != NULL) ? FLC_OK : FLC_E_MEMORY;
}

/* Lists of the second version. */
static flc_status copy_supplied(flc_liquid_options *liquid)
{
    flc_density_table *table = &liquid->table;
    double *c = flc_record_copy_list(liquid->polynomial.c, liquid->polynomial.count);
    double *t_degc = flc_record_copy_list(table->t_degc, table->count);
    double *p_kpag = flc_record_copy_list(table->p_kpag, table->count);
    double *rho_kgm3 = flc_record_copy_list(table->rho_kgm3, table->count);
    liquid->polynomial.c = c;
    table->t_degc = t_degc;
    table->p_kpag = p_kpag;
    table->rho_kgm3 = rho_kgm3;
    const int has_c = liquid->polynomial.count == 0 || c != NULL;
    return has_c && (table->count == 0 || (t_degc != NULL && p_kpag != NULL && rho_kgm3 != NULL)) ? FLC_OK
                                                                                                  : FLC_E_MEMORY;
}

static void add_methods(flc_record_head *head, const flc_liquid *liquid)
{
    const flc_method_info *info;
    for (size_t place = 0; (info = flc_liquid_method_at(liquid, place)) != NULL; place++) {
        flc_record_add_method(head, info->name);
    }
}

static flc_status describe(const void *thing, void *values)
{
    liquid_file *file = values;
    flc_status status = flc_liquid_describe(thing, &file->liquid);
    if (status == FLC_OK) {
        const flc_status first = copy_points(&file->liquid.points), second = copy_points(&file->liquid.second);
        const flc_status supplied = copy_supplied(&file->liquid);
        status = first != FLC_OK ? first : second != FLC_OK ? second : supplied;
        add_methods(&file->head, thing);
    }
    return status;
}

/* The product's judge knows its own fields only. */
static void complete_path(flc_error *error)
{
    if (error != NULL && (strcmp(error->argument, "group") == 0 || strcmp(error->argument, "alpha60_per_degf") == 0)) {
        flc_record_prefix(error, "product.");
    }
}

static flc_status make(const void *values, void **thing, flc_error *error)
{
    const liquid_file *file = values;
    flc_liquid *liquid = NULL;
    flc_status status = flc_liquid_new(&file->liquid, &liquid, error);
    complete_path(error);
    *thing = liquid;
    return status;
}

static void unmake(void *thing)
{
    flc_liquid_free(thing);
}

static flc_status bytes_of(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    return flc_liquid_canonical(thing, bytes, size, needed);
}

static int is_second(const void *thing)
{
    return flc_liquid_edition(thing) == 2;
}

#define LIQUID_TYPE                                                                                   \
    .noun = "liquid", .format = "flowcomp-liquid", .other_format = "this is no flowcomp-liquid file", \
    .bytes_of = bytes_of, .prepare = prepare, .describe = describe, .make = make, .unmake = unmake

static const flc_record_type liquid_type_2 = {LIQUID_TYPE, .version = 2, .object = &liquid_object_2};
static const flc_record_type liquid_type = {LIQUID_TYPE, .version = 1, .object = &liquid_object, .next = &liquid_type_2,
                                            .needs_next = is_second};

flc_status flc_liquid_hash(const flc_liquid *liquid, char *hash)
{
    return flc_record_hash(bytes_of, liquid, hash);
}

flc_status flc_liquid_to_json(const flc_liquid *liquid, char **text, flc_error *error)
{
    return flc_record_to_json(&liquid_type, liquid, text, error);
}

flc_status flc_liquid_from_json(const char *text, size_t length, flc_liquid **liquid, flc_error *error)
{
    void *thing = NULL;
    flc_status status = flc_record_from_json(&liquid_type, text, length, liquid != NULL ? &thing : NULL, error);
    if (liquid != NULL) {
        *liquid = thing;
    }
    return status;
}
