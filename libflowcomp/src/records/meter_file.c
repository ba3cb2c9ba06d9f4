/* SPDX-License-Identifier: Apache-2.0 */
#include "record_file.h"
#include "record_words.h"
#include "error.h"
#include "memory.h"

typedef struct curve_part {
    flc_curve_convention convention;
    flc_body_treatment treatment;
    double d0_m, t0_degc, p0_kpag;
    size_t knots, coefficient_count;
    double *ln_ro, *st, *coefficients;
} curve_part;

typedef struct meter_file {
    flc_record_head head;
    flc_meter_options options;
    flc_body_options body;
    curve_part curve;
} meter_file;

static const flc_record_field metal_fields[] = {
    FLC_RECORD_CHOICE_OF(flc_metal, law, &flc_words_law),
    FLC_RECORD_NUMBER_OF(flc_metal, alpha_per_k),
    FLC_RECORD_CHOICE_OF(flc_metal, nist, &flc_words_nist),
    FLC_RECORD_NUMBER_OF(flc_metal, t_low_degc),
    FLC_RECORD_NUMBER_OF(flc_metal, t_high_degc),
    FLC_RECORD_NUMBER_OF(flc_metal, modulus_gpa),
    FLC_RECORD_NUMBER_OF(flc_metal, poisson),
    FLC_RECORD_CHOICE_OF(flc_metal, provenance, &flc_words_provenance),
    FLC_RECORD_CHARS_OF(flc_metal, source),
    FLC_RECORD_END,
};
static const flc_record_object metal_object = {sizeof(flc_metal), metal_fields};

static const flc_record_field body_fields[] = {
    FLC_RECORD_NUMBER_OF(flc_body_options, bore_m),
    FLC_RECORD_NUMBER_OF(flc_body_options, t0_degc),
    FLC_RECORD_NUMBER_OF(flc_body_options, p0_kpag),
    FLC_RECORD_OBJECT_OF(flc_body_options, housing, &metal_object),
    FLC_RECORD_OBJECT_OF(flc_body_options, rotor, &metal_object),
    FLC_RECORD_NUMBER_OF(flc_body_options, area_blocked),
    FLC_RECORD_CHOICE_OF(flc_body_options, end, &flc_words_end),
    FLC_RECORD_NUMBER_OF(flc_body_options, wall_m),
    FLC_RECORD_CHOICE_OF(flc_body_options, beyond, &flc_words_extend),
    FLC_RECORD_END,
};
static const flc_record_object body_object = {sizeof(flc_body_options), body_fields};

static const flc_record_field curve_fields[] = {
    FLC_RECORD_CHOICE_OF(curve_part, convention, &flc_words_convention),
    FLC_RECORD_CHOICE_OF(curve_part, treatment, &flc_words_treatment),
    FLC_RECORD_NUMBER_OF(curve_part, d0_m),
    FLC_RECORD_NUMBER_OF(curve_part, t0_degc),
    FLC_RECORD_NUMBER_OF(curve_part, p0_kpag),
    FLC_RECORD_LIST_OF(curve_part, ln_ro, knots),
    FLC_RECORD_LIST_OF(curve_part, st, knots),
    FLC_RECORD_LIST_OF(curve_part, coefficients, coefficient_count),
    FLC_RECORD_END,
};
static const flc_record_object curve_object = {sizeof(curve_part), curve_fields};

static const flc_record_field meter_fields[] = {
    FLC_RECORD_HEAD_ROWS,
    FLC_RECORD_TEXT_AT("name", meter_file, options.name, 48),
    FLC_RECORD_CHOICE_AT("below", meter_file, options.below, &flc_words_beyond),
    FLC_RECORD_CHOICE_AT("above", meter_file, options.above, &flc_words_beyond),
    FLC_RECORD_NUMBER_AT("cutoff_hz", meter_file, options.cutoff_hz),
    FLC_RECORD_OBJECT_OF(meter_file, body, &body_object),
    FLC_RECORD_OBJECT_OF(meter_file, curve, &curve_object),
    FLC_RECORD_END,
};
static const flc_record_object meter_object = {sizeof(meter_file), meter_fields};

static void prepare(void *values)
{
    meter_file *file = values;
    flc_meter_options_init(&file->options);
    flc_body_options_init(&file->body);
}

/* ---- a meter into the struct ---- */

static flc_status copy_curve(const flc_curve *curve, curve_part *part)
{
    const flc_curve_reference reference = flc_curve_reference_of(curve);
    part->convention = reference.convention;
    part->treatment = reference.treatment;
    part->d0_m = reference.d0_m;
    part->t0_degc = reference.t0_degc;
    part->p0_kpag = reference.p0_kpag;
    part->knots = flc_curve_knots(curve);
    part->coefficient_count = 4 * (part->knots - 1);
    part->ln_ro = flc_allocate_array(part->knots, sizeof *part->ln_ro);
    part->st = flc_allocate_array(part->knots, sizeof *part->st);
    part->coefficients = flc_allocate_array(part->coefficient_count, sizeof *part->coefficients);
    if (part->ln_ro == NULL || part->st == NULL || part->coefficients == NULL) {
        return FLC_E_MEMORY;
    }
    return flc_curve_copy(curve, part->ln_ro, part->st, part->coefficients);
}

static int is_absent(const flc_metal *metal)
{
    return metal->law == FLC_EXPANSION_MEAN && flc_is_nan(metal->alpha_per_k);
}

/* What is not in use is not in the canonical bytes, so it does not go into the file either: the rotor is named even
 * where it is that of the housing, the wall only where the body stretches, the alloy only with the law that reads it.
 */
static void keep_used(flc_body_options *body)
{
    if (is_absent(&body->rotor)) {
        body->rotor = body->housing;
    }
    if (body->end == FLC_END_NONE) {
        body->wall_m = flc_nan();
    }
    if (body->housing.law == FLC_EXPANSION_MEAN) {
        body->housing.nist = (flc_nist_material)-1;
    }
    if (body->rotor.law == FLC_EXPANSION_MEAN) {
        body->rotor.nist = (flc_nist_material)-1;
    }
}

static void add_methods(meter_file *file)
{
    static const char *const strain[] = {
        [FLC_END_THIN_WALL] = "hoop_strain_thin_wall", [FLC_END_THIN_WALL_CLOSED] = "hoop_strain_thin_wall_closed",
        [FLC_END_LAME_OPEN] = "hoop_strain_lame_open", [FLC_END_LAME_CLOSED] = "hoop_strain_lame_closed",
        [FLC_END_LAME_HELD] = "hoop_strain_lame_held",
    };
    const flc_body_options *body = &file->body;
    flc_record_add_method(&file->head, "roshko");
    flc_record_add_method(&file->head, "k_from_strouhal_per_m3");
    flc_record_add_method(&file->head, "k_ratio_two_metal");
    if (body->housing.law == FLC_EXPANSION_NIST_CRYOGENIC || body->rotor.law == FLC_EXPANSION_NIST_CRYOGENIC) {
        flc_record_add_method(&file->head, "strain_nist_cryogenic");
    }
    if (body->end != FLC_END_NONE) {
        flc_record_add_method(&file->head, strain[body->end]);
    }
}

static flc_status describe(const void *thing, void *values)
{
    meter_file *file = values;
    const flc_curve *curve = NULL;
    flc_status status = flc_meter_describe(thing, &file->options, &file->body, &curve);
    if (status == FLC_OK) {
        status = copy_curve(curve, &file->curve);
        keep_used(&file->body);
        add_methods(file);
    }
    return status;
}

/* ---- a meter from the struct ---- */

static flc_status make_curve(const curve_part *part, flc_curve **curve, flc_error *error)
{
    const size_t needed = part->knots > 0 ? 4 * (part->knots - 1) : 0;
    if (part->coefficient_count != needed) {
        return flc_fail(error, FLC_E_COUNT, "curve.coefficients", -1, (double)part->coefficient_count, (double)needed,
                        "four for each segment between knots");
    }
    if (part->knots < 2) {
        return flc_fail(error, FLC_E_COUNT, "curve.ln_ro", -1, (double)part->knots, 2.0, "knots");
    }
    const flc_curve_reference reference = {part->convention, part->treatment, part->d0_m, part->t0_degc, part->p0_kpag};
    flc_status status = flc_curve_new(reference, part->knots, part->ln_ro, part->st, part->coefficients, curve, error);
    flc_record_prefix(error, "curve.");
    return status;
}

static flc_status make(const void *values, void **thing, flc_error *error)
{
    const meter_file *file = values;
    flc_curve *curve = NULL;
    flc_meter *meter = NULL;
    flc_status status = flc_body_check(&file->body, error);
    flc_record_prefix(error, "body.");
    if (status == FLC_OK) {
        status = make_curve(&file->curve, &curve, error);
    }
    if (status == FLC_OK) {
        status = flc_meter_new(&file->options, &file->body, curve, &meter, error);
    }
    flc_curve_free(curve);
    *thing = meter;
    return status;
}

static void unmake(void *thing)
{
    flc_meter_free(thing);
}

static flc_status bytes_of(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    return flc_meter_canonical(thing, bytes, size, needed);
}

static const flc_record_type meter_type = {
    .noun = "meter",
    .format = "flowcomp-meter",
    .version = 1,
    .other_format = "this is no flowcomp-meter file",
    .object = &meter_object,
    .bytes_of = bytes_of,
    .prepare = prepare,
    .describe = describe,
    .make = make,
    .unmake = unmake,
};

/* ---- public ---- */

flc_status flc_meter_hash(const flc_meter *meter, char *hash)
{
    return flc_record_hash(bytes_of, meter, hash);
}

flc_status flc_meter_to_json(const flc_meter *meter, char **text, flc_error *error)
{
    return flc_record_to_json(&meter_type, meter, text, error);
}

flc_status flc_meter_from_json(const char *text, size_t length, flc_meter **meter, flc_error *error)
{
    void *thing = NULL;
    flc_status status = flc_record_from_json(&meter_type, text, length, meter != NULL ? &thing : NULL, error);
    if (meter != NULL) {
        *meter = thing;
    }
    return status;
}
