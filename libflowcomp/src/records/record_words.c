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
static const char *const volume[] = {"none",
                                     "petroleum_2004",
                                     "petroleum_1980",
                                     "light_ends_2007",
                                     "aromatics_d1555",
                                     "ethanol_oiml_r22",
                                     "water",
                                     "seawater_eos80",
                                     "produced_water_api20",
                                     "glycol_water_melinder_2010",
                                     "fame_en14214",
                                     "lng_iso6578",
                                     "saturated_liquid",
                                     "costald",
                                     "polynomial",
                                     "density_table",
                                     NULL};
static const char *const compressibility[] = {"of_method", "none", "1984", "1986", "supplied", NULL};
static const char *const vapour[] = {"none", "measured", "laboratory", "supplied", NULL};
static const char *const aromatic[] = {"benzene",
                                       "cumene",
                                       "cyclohexane",
                                       "ethylbenzene",
                                       "styrene",
                                       "toluene",
                                       "m_xylene",
                                       "mixed_xylenes",
                                       "o_xylene",
                                       "p_xylene",
                                       "aromatics_300_350f",
                                       "aromatics_350_400f",
                                       NULL};
static const char *const water[] = {"cipm_2001", "patterson_morris_1994", "jones_harris_1992", "kell_1975", "iapws95",
                                    NULL};
static const char *const glycol[] = {"meg", "mpg", NULL};
static const char *const saturated[] = {"carbon_dioxide", "ethane",  "ethylene",  "isobutane", "methane", "n_butane",
                                        "nitrogen",       "propane", "propylene", "water",     NULL};
static const char *const costald[] = {"ethane",   "ethylene",  "isobutane", "methane",   "n_butane",
                                      "n_hexane", "n_pentane", "propane",   "propylene", NULL};
static const char *const degree[] = {"degc", "degf", NULL};
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
const flc_record_words flc_words_compressibility = {0, compressibility};
const flc_record_words flc_words_vapour = {0, vapour};
const flc_record_words flc_words_aromatic = {0, aromatic};
const flc_record_words flc_words_water = {0, water};
const flc_record_words flc_words_glycol = {0, glycol};
const flc_record_words flc_words_saturated = {0, saturated};
const flc_record_words flc_words_costald = {0, costald};
const flc_record_words flc_words_degree = {0, degree};
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
