/* SPDX-License-Identifier: Apache-2.0 */
#include "record_words.h"

static const char *const beyond[] = {"refuse", "hold_end", "extend_slope", NULL};
static const char *const convention[] = {"dimensionless", "normalised", "raw", NULL};
static const char *const treatment[] = {"as_run", "already_corrected", NULL};
static const char *const end[] = {"none",      "thin_wall", "thin_wall_closed", "lame_open", "lame_closed",
                                  "lame_held", NULL};
static const char *const law[] = {"mean", "nist_cryogenic", NULL};
static const char *const nist[] = {"304",       "304L",   "310",          "316",    "6061-T6", "3003", "5083",
                                   "Ti-6Al-4V", "K93600", "nickel_steel", "N07718", "C17200",  NULL};
static const char *const volume[] = {"none", "petroleum_2004", NULL};
static const char *const group[] = {"crude", "refined", "fuel_oil", "jet", "transition", "gasoline", "lube", NULL};
static const char *const base[] = {"60F", "15C", "20C", NULL};
static const char *const negative_pressure[] = {"refuse", "clamp", NULL};
static const char *const viscosity[] = {"measured", "points", "one_point", "between", "typical", NULL};
static const char *const form[] = {"simple", "body", "full", NULL};
static const char *const extend[] = {"refuse", "extend", NULL};
/* those of flc_provenance_text */
static const char *const provenance[] = {"published", "from memory",       "common practice, no source",
                                         "computed",  "given by the user", NULL};
static const char *const way[] = {"nominal_k", "curve", NULL};
static const char *const sw_basis[] = {"volume_at_base", "volume_at_meter", "mass", NULL};
static const char *const air_form[] = {"conventional", "petroleum", NULL};
static const char *const rounding[] = {"none", "decimals", "increment", NULL};
static const char *const iv_source[] = {"given", "readings", "pulses", "intervals", NULL};
static const char *const factor_source[] = {"given", "averages", "intervals", NULL};

const flc_record_words flc_words_beyond = {0, beyond};
const flc_record_words flc_words_convention = {0, convention};
const flc_record_words flc_words_treatment = {0, treatment};
const flc_record_words flc_words_end = {0, end};
const flc_record_words flc_words_law = {0, law};
const flc_record_words flc_words_nist = {0, nist};
const flc_record_words flc_words_volume = {0, volume};
const flc_record_words flc_words_group = {0, group};
const flc_record_words flc_words_base = {0, base};
const flc_record_words flc_words_negative_pressure = {0, negative_pressure};
const flc_record_words flc_words_viscosity = {0, viscosity};
const flc_record_words flc_words_form = {0, form};
const flc_record_words flc_words_extend = {0, extend};
const flc_record_words flc_words_provenance = {1, provenance};
const flc_record_words flc_words_way = {0, way};
const flc_record_words flc_words_sw_basis = {0, sw_basis};
const flc_record_words flc_words_air_form = {0, air_form};
const flc_record_words flc_words_rounding = {0, rounding};
const flc_record_words flc_words_iv_source = {0, iv_source};
const flc_record_words flc_words_factor_source = {0, factor_source};
