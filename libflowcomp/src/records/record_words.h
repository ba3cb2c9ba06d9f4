/* SPDX-License-Identifier: Apache-2.0 */
/* The words of every choice in a file: those of the _from_name functions, which a test compares. */
#ifndef FLC_RECORD_WORDS_H
#define FLC_RECORD_WORDS_H

#include "record_fields.h"

extern const flc_record_words flc_words_beyond;            /* flc_curve_beyond */
extern const flc_record_words flc_words_convention;        /* flc_curve_convention */
extern const flc_record_words flc_words_treatment;         /* flc_body_treatment */
extern const flc_record_words flc_words_end;               /* flc_body_end */
extern const flc_record_words flc_words_law;               /* flc_expansion_law */
extern const flc_record_words flc_words_nist;              /* flc_nist_material */
extern const flc_record_words flc_words_volume;            /* flc_volume_method */
extern const flc_record_words flc_words_compressibility;   /* flc_compressibility */
extern const flc_record_words flc_words_vapour;            /* flc_vapour_pressure */
extern const flc_record_words flc_words_aromatic;          /* flc_aromatic */
extern const flc_record_words flc_words_water;             /* flc_water_formulation */
extern const flc_record_words flc_words_glycol;            /* flc_glycol */
extern const flc_record_words flc_words_saturated;         /* flc_saturated_liquid */
extern const flc_record_words flc_words_costald;           /* flc_costald_fluid */
extern const flc_record_words flc_words_degree;            /* flc_polynomial_degree */
extern const flc_record_words flc_words_group;             /* flc_petroleum_group */
extern const flc_record_words flc_words_base;              /* flc_petroleum_base */
extern const flc_record_words flc_words_negative_pressure; /* flc_negative_pressure */
extern const flc_record_words flc_words_viscosity;         /* flc_viscosity_source */
extern const flc_record_words flc_words_form;              /* flc_d341_form */
extern const flc_record_words flc_words_extend;            /* flc_viscosity_beyond, flc_body_beyond */
extern const flc_record_words flc_words_provenance;        /* flc_provenance */
extern const flc_record_words flc_words_way;               /* flc_proving_way */
extern const flc_record_words flc_words_sw_basis;          /* flc_sw_basis */
extern const flc_record_words flc_words_air_form;          /* flc_air_form */
extern const flc_record_words flc_words_rounding;          /* flc_rounding_kind */
extern const flc_record_words flc_words_iv_source;         /* flc_iv_source */
extern const flc_record_words flc_words_factor_source;     /* flc_factor_source */

#endif
