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

static const flc_record_field liquid_fields[] = {
    FLC_RECORD_HEAD_ROWS,
    FLC_RECORD_TEXT_AT("name", liquid_file, liquid.name, 48),
    FLC_RECORD_CHOICE_AT("volume", liquid_file, liquid.volume, &flc_words_volume),
    FLC_RECORD_OBJECT_AT("product", liquid_file, liquid.product, &product_object),
    FLC_RECORD_CHOICE_AT("base", liquid_file, liquid.base, &flc_words_base),
    FLC_RECORD_CHOICE_AT("negative_pressure", liquid_file, liquid.negative_pressure, &flc_words_negative_pressure),
    FLC_RECORD_CHOICE_AT("viscosity", liquid_file, liquid.viscosity, &flc_words_viscosity),
    FLC_RECORD_CHOICE_AT("form", liquid_file, liquid.form, &flc_words_form),
    FLC_RECORD_OBJECT_AT("points", liquid_file, liquid.points, &points_object),
    FLC_RECORD_OBJECT_AT("second", liquid_file, liquid.second, &points_object),
    FLC_RECORD_NUMBER_AT("slope_b", liquid_file, liquid.slope_b),
    FLC_RECORD_CHOICE_AT("beyond", liquid_file, liquid.beyond, &flc_words_extend),
    FLC_RECORD_NUMBER_AT("u_nu_relative", liquid_file, liquid.u_nu_relative),
    FLC_RECORD_CHOICE_AT("nu_provenance", liquid_file, liquid.nu_provenance, &flc_words_provenance),
    FLC_RECORD_TEXT_AT("nu_source", liquid_file, liquid.nu_source, 96),
    FLC_RECORD_END,
};
static const flc_record_object liquid_object = {sizeof(liquid_file), liquid_fields};

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

static void add_methods(liquid_file *file)
{
    static const char *const ctl[] = {
        [FLC_PETROLEUM_BASE_60F] = "ctl60_petroleum_2004",
        [FLC_PETROLEUM_BASE_15C] = "ctl15_petroleum_2004",
        [FLC_PETROLEUM_BASE_20C] = "ctl20_petroleum_2004",
    };
    static const char *const cpl[] = {
        [FLC_PETROLEUM_BASE_60F] = "cpl60_petroleum_2004",
        [FLC_PETROLEUM_BASE_15C] = "cpl15_petroleum_2004",
        [FLC_PETROLEUM_BASE_20C] = "cpl20_petroleum_2004",
    };
    if (file->liquid.volume == FLC_VOLUME_PETROLEUM_2004) {
        flc_record_add_method(&file->head, ctl[file->liquid.base]);
        flc_record_add_method(&file->head, cpl[file->liquid.base]);
    }
    if (file->liquid.viscosity != FLC_VISCOSITY_MEASURED) {
        flc_record_add_method(&file->head, "nu_d341_ab");
    }
}

static flc_status describe(const void *thing, void *values)
{
    liquid_file *file = values;
    flc_status status = flc_liquid_describe(thing, &file->liquid);
    if (status == FLC_OK) {
        const flc_status first = copy_points(&file->liquid.points), second = copy_points(&file->liquid.second);
        status = first != FLC_OK ? first : second;
        add_methods(file);
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

static const flc_record_type liquid_type = {
    .noun = "liquid",
    .format = "flowcomp-liquid",
    .other_format = "this is no flowcomp-liquid file",
    .object = &liquid_object,
    .bytes_of = bytes_of,
    .prepare = prepare,
    .describe = describe,
    .make = make,
    .unmake = unmake,
};

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
