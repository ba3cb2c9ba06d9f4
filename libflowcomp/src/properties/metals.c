/* SPDX-License-Identifier: Apache-2.0 */
#include "metals_core.h"
#include "method.h"
#include "error.h"
#include "fp_guard.h"
#include "text.h"
#include <string.h>

#define KPA_PER_PSI 6.894757293168 /* 1 psi = 4.4482216152605 N / (25.4 mm)^2 */
#define DEGF_PER_DEGC 1.8

/* --- the tables --------------------------------------------------------------------------------------------------- */

typedef enum metal_quantity {
    MEAN_PER_K, /* 1e-6, as are the next three */
    MEAN_PER_DEGF,
    LOCAL_PER_K,
    LOCAL_PER_DEGF,
    MODULUS_GPA,
    POISSON
} metal_quantity;

/* Temperatures are those printed with a value, NaN where none is; the only one of a value stands at the low end. */
typedef struct printed_range {
    double lo_degc, hi_degc, lo_degf, hi_degf;
} printed_range;

typedef struct metal_entry {
    flc_metal_name metal;
    flc_metal_set set;
    metal_quantity quantity;
    printed_range range;
    double value;
    flc_provenance status;
} metal_entry;

typedef struct prover_row {
    flc_metal_name metal;
    double linear_per_degf, area_per_degf, cubical_per_degf, modulus_psi;
    flc_provenance status;
} prover_row;

typedef struct elastic_default_row {
    flc_metal_name metal;
    int modulus_metal, modulus_set, poisson_metal, poisson_set; /* flc_metal_name, flc_metal_set; -1: none */
} elastic_default_row;

#include "tables/metals_table.inc"

/* --- prover metals ------------------------------------------------------------------------------------------------ */

static const prover_row *prover_row_of(flc_metal_name metal)
{
    for (size_t i = 0; i < FLC_COUNT_OF(prover_metals); i++) {
        if (prover_metals[i].metal == metal) {
            return &prover_metals[i];
        }
    }
    return NULL;
}

/* factor times one number of the row; the detector rod has the linear coefficient only. */
static flc_status prover_entry(flc_metal_name metal, size_t column, double factor, double *result)
{
    const prover_row *row = prover_row_of(metal);
    if (row == NULL) {
        return FLC_E_UNKNOWN_NAME;
    }
    const double columns[] = {row->linear_per_degf, row->area_per_degf, row->cubical_per_degf, row->modulus_psi};
    if (flc_is_nan(columns[column])) {
        return FLC_E_UNKNOWN_NAME;
    }
    *result = factor * columns[column];
    return FLC_OK;
}

enum { PROVER_LINEAR, PROVER_AREA, PROVER_CUBICAL, PROVER_MODULUS };

static flc_status prover_linear_expansion_per_degf(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_LINEAR, 1.0, result);
}

static flc_status prover_area_expansion_per_degf(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_AREA, 1.0, result);
}

static flc_status prover_cubical_expansion_per_degf(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_CUBICAL, 1.0, result);
}

static flc_status prover_linear_expansion_per_degc(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_LINEAR, DEGF_PER_DEGC, result);
}

/* From the linear coefficient, where the set prints an area coefficient at all. */
static flc_status prover_area_expansion_per_degc(flc_metal_name material, double *result)
{
    flc_status status = prover_entry(material, PROVER_AREA, 1.0, result);
    return status != FLC_OK ? status : prover_entry(material, PROVER_LINEAR, 2.0 * DEGF_PER_DEGC, result);
}

static flc_status prover_cubical_expansion_per_degc(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_CUBICAL, DEGF_PER_DEGC, result);
}

static flc_status prover_modulus_psi(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_MODULUS, 1.0, result);
}

static flc_status prover_modulus_kpa(flc_metal_name material, double *result)
{
    return prover_entry(material, PROVER_MODULUS, KPA_PER_PSI, result);
}

static flc_status area_expansion_from_linear(double linear, double *result)
{
    *result = 2.0 * linear;
    return FLC_OK;
}

static flc_status cubical_expansion_from_linear(double linear, double *result)
{
    *result = 3.0 * linear;
    return FLC_OK;
}

/* --- look-ups ----------------------------------------------------------------------------------------------------- */

/* A temperature of the call against the printed one: absent does not count. */
static int agrees(double asked, double printed)
{
    return flc_is_nan(asked) || asked == printed;
}

static int range_agrees(printed_range asked, printed_range printed)
{
    return agrees(asked.lo_degc, printed.lo_degc) && agrees(asked.hi_degc, printed.hi_degc) &&
           agrees(asked.lo_degf, printed.lo_degf) && agrees(asked.hi_degf, printed.hi_degf);
}

static flc_status look_up(metal_quantity quantity, flc_metal_name metal, flc_metal_set set, printed_range range,
                          double *result)
{
    int count = 0;
    for (size_t i = 0; i < FLC_COUNT_OF(metal_entries); i++) {
        const metal_entry *entry = &metal_entries[i];
        if (entry->quantity == quantity && entry->metal == metal && entry->set == set &&
            range_agrees(range, entry->range)) {
            count++;
            *result = entry->value;
        }
    }
    return count == 1 ? FLC_OK : count == 0 ? FLC_E_UNKNOWN_NAME : FLC_E_MISSING;
}

static flc_status mean_expansion(flc_metal_name material, flc_metal_set set, double t_lo_degc, double t_hi_degc,
                                 double *result)
{
    printed_range range = {t_lo_degc, t_hi_degc, flc_nan(), flc_nan()};
    return look_up(MEAN_PER_K, material, set, range, result);
}

static flc_status mean_expansion_per_degf(flc_metal_name material, flc_metal_set set, double t_lo_degc,
                                          double t_hi_degc, double t_lo_degf, double t_hi_degf, double *result)
{
    printed_range range = {t_lo_degc, t_hi_degc, t_lo_degf, t_hi_degf};
    return look_up(MEAN_PER_DEGF, material, set, range, result);
}

static flc_status local_expansion(flc_metal_name material, flc_metal_set set, double t_degc, double *result)
{
    printed_range range = {t_degc, flc_nan(), flc_nan(), flc_nan()};
    return look_up(LOCAL_PER_K, material, set, range, result);
}

static flc_status local_expansion_per_degf(flc_metal_name material, flc_metal_set set, double t_degf, double *result)
{
    printed_range range = {flc_nan(), flc_nan(), t_degf, flc_nan()};
    return look_up(LOCAL_PER_DEGF, material, set, range, result);
}

static flc_status youngs_modulus_gpa(flc_metal_name material, flc_metal_set set, double t_degc, double *result)
{
    printed_range range = {t_degc, flc_nan(), flc_nan(), flc_nan()};
    return look_up(MODULUS_GPA, material, set, range, result);
}

static flc_status poisson_ratio(flc_metal_name material, flc_metal_set set, double t_degc, double *result)
{
    printed_range range = {t_degc, flc_nan(), flc_nan(), flc_nan()};
    return look_up(POISSON, material, set, range, result);
}

static flc_status linear_growth_in_per_100ft(double mean_per_degf, double t_lo_degf, double t_hi_degf, double *result)
{
    *result = 1200.0 * (1e-6 * mean_per_degf) * (t_hi_degf - t_lo_degf);
    return FLC_OK;
}

static flc_status youngs_modulus_from_msi_gpa(double e_msi, double *result)
{
    *result = KPA_PER_PSI * e_msi;
    return FLC_OK;
}

static flc_status youngs_modulus_interpolated_gpa(double t_degc, double t1_degc, double e1_gpa, double t2_degc,
                                                  double e2_gpa, double *result)
{
    if (t2_degc <= t1_degc) {
        return t2_degc < t1_degc ? FLC_E_ORDER : FLC_E_DUPLICATE;
    }
    if (t_degc < t1_degc || t_degc > t2_degc) {
        return t_degc < t1_degc ? FLC_E_BELOW : FLC_E_ABOVE;
    }
    *result = e1_gpa + (e2_gpa - e1_gpa) * ((t_degc - t1_degc) / (t2_degc - t1_degc));
    return FLC_OK;
}

#include "methods/metals.inc"

/* --- the metal of a body ------------------------------------------------------------------------------------------ */

/* The range taken for a set that prints none: its figures agree with the 0-100 degC means of other sets. */
#define USUAL_LOW_DEGC 0.0
#define USUAL_HIGH_DEGC 100.0
#define REACH_DEGC 90.0 /* a range that ends below does not cover an ordinary meter body */

static flc_metal unknown_metal(void)
{
    flc_metal metal = {FLC_EXPANSION_MEAN, flc_nan(), FLC_NIST_304,   flc_nan(), flc_nan(),
                       flc_nan(),          flc_nan(), FLC_USER_GIVEN, ""};
    return metal;
}

static flc_status check_optional(flc_error *error, const char *name, double value, double low, double high)
{
    return flc_is_nan(value) ? FLC_OK : flc_check_range(error, name, -1, value, low, high);
}

static flc_status check_metal(const flc_metal *m, flc_error *error)
{
    flc_status status = flc_check_range(error, "alpha_per_k", -1, m->alpha_per_k, 0.0, 1e-4);
    if (status == FLC_OK) {
        status = flc_check_range(error, "t_low_degc", -1, m->t_low_degc, -273.15, 2000.0);
    }
    if (status == FLC_OK) {
        status = flc_check_range(error, "t_high_degc", -1, m->t_high_degc, -273.15, 2000.0);
    }
    if (status == FLC_OK && m->t_high_degc <= m->t_low_degc) {
        status = flc_fail(error, FLC_E_ORDER, "t_high_degc", -1, m->t_high_degc, m->t_low_degc,
                          "it must be above t_low_degc");
    }
    if (status == FLC_OK) {
        status = check_optional(error, "modulus_gpa", m->modulus_gpa, 1.0, 1000.0);
    }
    if (status == FLC_OK) {
        status = check_optional(error, "poisson", m->poisson, 0.0, 0.5);
    }
    if (status == FLC_OK && ((int)m->provenance < FLC_PUBLISHED || (int)m->provenance > FLC_USER_GIVEN)) {
        status = flc_fail(error, FLC_E_CHOICE, "provenance", -1, (double)m->provenance, FLC_USER_GIVEN, NULL);
    }
    return status;
}

flc_status flc_metal_mean(double alpha_per_k, double t_low_degc, double t_high_degc, double modulus_gpa, double poisson,
                          flc_provenance provenance, const char *source, flc_metal *metal, flc_error *error)
{
    flc_error_clear(error);
    if (metal == NULL) {
        return flc_fail(error, FLC_E_NULL, "metal", -1, flc_nan(), flc_nan(), NULL);
    }
    *metal = unknown_metal();
    flc_metal given = unknown_metal();
    given.alpha_per_k = alpha_per_k;
    given.t_low_degc = t_low_degc;
    given.t_high_degc = t_high_degc;
    given.modulus_gpa = flc_is_nan(modulus_gpa) ? flc_nan() : modulus_gpa;
    given.poisson = flc_is_nan(poisson) ? flc_nan() : poisson;
    given.provenance = provenance;
    flc_fp_state state = flc_fp_enter();
    flc_status status = check_metal(&given, error);
    flc_fp_leave(state);
    flc_text words = flc_text_start(given.source, sizeof given.source);
    flc_text_add(&words, source != NULL ? source : "");
    if (status == FLC_OK && words.needed == 0) {
        status = flc_fail(error, FLC_E_MISSING, "source", -1, flc_nan(), flc_nan(),
                          "a coefficient names its source: the data sheet or certificate it was read from");
    }
    if (status == FLC_OK && words.needed >= sizeof given.source) {
        status = flc_fail(error, FLC_E_BUFFER, "source", -1, (double)words.needed, sizeof given.source - 1.0, NULL);
    }
    if (status == FLC_OK) {
        *metal = given;
    }
    return status;
}

/* From memory is weaker than common practice, which is weaker than published. */
static flc_provenance weaker(flc_provenance one, flc_provenance other)
{
    if (one == FLC_FROM_MEMORY || other == FLC_FROM_MEMORY) {
        return FLC_FROM_MEMORY;
    }
    return one == FLC_COMMON_PRACTICE ? one : other;
}

static void add_place(flc_text *source, const char *what, int set, int metal)
{
    flc_text_add(source, what);
    flc_text_add(source, words_flc_metal_set[set]);
    flc_text_add(source, " ");
    flc_text_add(source, words_flc_metal_name[metal]);
}

static const metal_entry *entry_of(metal_quantity quantity, int metal, int set)
{
    for (size_t i = 0; i < FLC_COUNT_OF(metal_entries); i++) {
        const metal_entry *entry = &metal_entries[i];
        if (entry->quantity == quantity && (int)entry->metal == metal && (int)entry->set == set) {
            return entry;
        }
    }
    return NULL;
}

static const elastic_default_row *default_of(int metal)
{
    for (size_t i = 0; i < FLC_COUNT_OF(elastic_defaults); i++) {
        if ((int)elastic_defaults[i].metal == metal) {
            return &elastic_defaults[i];
        }
    }
    return NULL;
}

/* One elastic constant: from the set itself, else from the default of the metal, which is then named in source. */
static double elastic_constant(metal_quantity quantity, int metal, int set, flc_metal *m, flc_text *source)
{
    const metal_entry *entry = entry_of(quantity, metal, set);
    const elastic_default_row *row = default_of(metal);
    if (entry == NULL && row != NULL) {
        int default_metal = quantity == MODULUS_GPA ? row->modulus_metal : row->poisson_metal;
        int default_set = quantity == MODULUS_GPA ? row->modulus_set : row->poisson_set;
        entry = entry_of(quantity, default_metal, default_set);
        if (entry != NULL) {
            add_place(source, quantity == MODULUS_GPA ? "; E " : "; nu ", default_set, default_metal);
            m->provenance = weaker(m->provenance, FLC_COMMON_PRACTICE);
        }
    }
    if (entry == NULL) {
        return flc_nan();
    }
    m->provenance = weaker(m->provenance, entry->status);
    return entry->value;
}

static printed_range range_in_degc(printed_range printed)
{
    if (flc_is_nan(printed.lo_degc) && flc_is_nan(printed.lo_degf)) {
        printed.lo_degc = USUAL_LOW_DEGC;
        printed.hi_degc = USUAL_HIGH_DEGC;
    } else if (flc_is_nan(printed.lo_degc)) {
        printed.lo_degc = (printed.lo_degf - 32.0) / DEGF_PER_DEGC;
        printed.hi_degc = (printed.hi_degf - 32.0) / DEGF_PER_DEGC;
    }
    return printed;
}

/* Mean expansion of the narrowest range that reaches 90 degC: per K where that is printed, else 1.8 times per degF. */
static int take_mean_expansion(metal_quantity quantity, double factor, int metal, int set, flc_metal *m)
{
    int found = 0;
    for (size_t i = 0; i < FLC_COUNT_OF(metal_entries); i++) {
        const metal_entry *entry = &metal_entries[i];
        printed_range range = range_in_degc(entry->range);
        if (entry->quantity == quantity && (int)entry->metal == metal && (int)entry->set == set &&
            range.hi_degc >= REACH_DEGC && (!found || range.hi_degc - range.lo_degc < m->t_high_degc - m->t_low_degc)) {
            found = 1;
            m->alpha_per_k = factor * entry->value;
            m->t_low_degc = range.lo_degc;
            m->t_high_degc = range.hi_degc;
            m->provenance = entry->status;
        }
    }
    return found;
}

/* The metal of one entry; the words of metal and set have been found. */
static int build_from_table(int metal, int set, flc_metal *m)
{
    if (!take_mean_expansion(MEAN_PER_K, 1e-6, metal, set, m) &&
        !take_mean_expansion(MEAN_PER_DEGF, DEGF_PER_DEGC * 1e-6, metal, set, m)) {
        return 0;
    }
    flc_text source = flc_text_start(m->source, sizeof m->source);
    add_place(&source, "", set, metal);
    const prover_row *prover = set == FLC_METAL_SET_API_12_2_1_1995 ? prover_row_of((flc_metal_name)metal) : NULL;
    int has_own = prover != NULL && !flc_is_nan(prover->modulus_psi);
    m->modulus_gpa =
        has_own ? prover->modulus_psi * (1e-6 * KPA_PER_PSI) : elastic_constant(MODULUS_GPA, metal, set, m, &source);
    m->poisson = elastic_constant(POISSON, metal, set, m, &source);
    return 1;
}

flc_status flc_metal_from_table(const char *material, const char *set, flc_metal *metal, flc_error *error)
{
    flc_error_clear(error);
    if (metal != NULL) {
        *metal = unknown_metal();
    }
    if (material == NULL || set == NULL || metal == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        material == NULL ? "material"
                        : set == NULL    ? "set"
                                         : "metal",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    flc_metal_name metal_place;
    flc_metal_set set_place;
    if (flc_metal_name_from_name(material, &metal_place) != FLC_OK) {
        return flc_fail(error, FLC_E_UNKNOWN_NAME, "material", -1, flc_nan(), flc_nan(), NULL);
    }
    if (flc_metal_set_from_name(set, &set_place) != FLC_OK) {
        return flc_fail(error, FLC_E_UNKNOWN_NAME, "set", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_metal built = unknown_metal();
    flc_fp_state state = flc_fp_enter();
    int found = build_from_table((int)metal_place, (int)set_place, &built);
    flc_fp_leave(state);
    if (!found) {
        return flc_fail(error, FLC_E_UNKNOWN_NAME, "set", -1, flc_nan(), flc_nan(),
                        "it has no mean expansion of this metal");
    }
    *metal = built;
    return FLC_OK;
}

static void build_nist(flc_nist_material nist, const char *material, flc_metal *m)
{
    const flc_nist_expansion_row *row = &flc_nist_expansions[nist];
    m->law = FLC_EXPANSION_NIST_CRYOGENIC;
    m->nist = nist;
    m->alpha_per_k = 1e-5 * flc_nist_strain_slope(row, 293.0);
    m->t_low_degc = row->range_lo_k - FLC_METALS_KELVIN;
    m->t_high_degc = row->range_hi_k - FLC_METALS_KELVIN;
    m->provenance = row->status;
    flc_text source = flc_text_start(m->source, sizeof m->source);
    flc_text_add(&source, "nist_cryogenic ");
    flc_text_add(&source, material);
    flc_metal_name metal; /* -1 where the alloy has no other table */
    if (flc_metal_name_from_name(material, &metal) != FLC_OK) {
        metal = (flc_metal_name)-1;
    }
    double modulus = flc_nist_modulus_at_293_k(nist);
    m->modulus_gpa = flc_is_nan(modulus) ? elastic_constant(MODULUS_GPA, (int)metal, -1, m, &source) : modulus;
    m->poisson = elastic_constant(POISSON, (int)metal, -1, m, &source);
}

flc_status flc_metal_nist(const char *material, flc_metal *metal, flc_error *error)
{
    flc_error_clear(error);
    if (metal != NULL) {
        *metal = unknown_metal();
    }
    if (material == NULL || metal == NULL) {
        return flc_fail(error, FLC_E_NULL, material == NULL ? "material" : "metal", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_nist_material nist;
    if (flc_nist_material_from_name(material, &nist) != FLC_OK) {
        return flc_fail(error, FLC_E_UNKNOWN_NAME, "material", -1, flc_nan(), flc_nan(), NULL);
    }
    flc_fp_state state = flc_fp_enter();
    build_nist(nist, material, metal);
    flc_fp_leave(state);
    return FLC_OK;
}
