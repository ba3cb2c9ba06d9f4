/* SPDX-License-Identifier: Apache-2.0 */
/* Expansion and stiffness of metals: coefficients as printed, each with the set (table) it stands in; the metal
 * of a meter body. Which set to use is the user's choice: for one metal they differ by up to 10 %, and none is a
 * measurement of the body at hand.
 *
 * A look-up finds an entry by metal, set and, where the table prints them, temperatures, which must equal the printed
 * ones; a temperature left out does not count. No entry: FLC_E_UNKNOWN_NAME; several (the range is needed to tell them
 * apart): FLC_E_MISSING. Values are those printed, never converted from the other unit. The tables and their sources
 * are in tables/ of the source tree. */
#ifndef FLOWCOMP_METALS_H
#define FLOWCOMP_METALS_H

#include "flowcomp/nist_cryogenic.h"
#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* Alloys by UNS number where they have a trade name only. */
typedef enum flc_metal_name {
    FLC_METAL_304 = 0,                      /* "304" */
    FLC_METAL_316 = 1,                      /* "316" */
    FLC_METAL_17_4PH = 2,                   /* "17-4PH" */
    FLC_METAL_MILD_CARBON_STEEL = 3,        /* "mild_carbon_steel" */
    FLC_METAL_K93600 = 4,                   /* "K93600" */
    FLC_METAL_STEEL = 5,                    /* "steel" */
    FLC_METAL_STEEL_1010 = 6,               /* "steel_1010" */
    FLC_METAL_STEEL_1020 = 7,               /* "steel_1020" */
    FLC_METAL_STEEL_1040 = 8,               /* "steel_1040" */
    FLC_METAL_STEEL_4140 = 9,               /* "steel_4140" */
    FLC_METAL_STEEL_4340 = 10,              /* "steel_4340" */
    FLC_METAL_STEEL_A36 = 11,               /* "steel_A36" */
    FLC_METAL_MILD_STEEL = 12,              /* "mild_steel" */
    FLC_METAL_CARBON_STEEL_GROUP_1 = 13,    /* "carbon_steel_group_1" */
    FLC_METAL_LOW_ALLOY_STEEL_GROUP_2 = 14, /* "low_alloy_steel_group_2" */
    FLC_METAL_405 = 15,                     /* "405" */
    FLC_METAL_410 = 16,                     /* "410" */
    FLC_METAL_416 = 17,                     /* "416" */
    FLC_METAL_430 = 18,                     /* "430" */
    FLC_METAL_430F = 19,                    /* "430F" */
    FLC_METAL_440A = 20,                    /* "440A" */
    FLC_METAL_440C = 21,                    /* "440C" */
    FLC_METAL_17_7PH = 22,                  /* "17-7PH" */
    FLC_METAL_DUPLEX_2205 = 23,             /* "duplex_2205" */
    FLC_METAL_6MO = 24,                     /* "6Mo" */
    FLC_METAL_STAINLESS_2NI_18CR = 25,      /* "stainless_2Ni-18Cr" */
    FLC_METAL_6061 = 26,                    /* "6061" */
    FLC_METAL_6061_T6 = 27,                 /* "6061-T6" */
    FLC_METAL_ALUMINIUM = 28,               /* "aluminium" */
    FLC_METAL_C17200 = 29,                  /* "C17200" */
    FLC_METAL_COPPER = 30,                  /* "copper" */
    FLC_METAL_TITANIUM = 31,                /* "titanium" */
    FLC_METAL_TITANIUM_CP_GRADE_1 = 32,     /* "titanium_CP_grade_1" */
    FLC_METAL_TITANIUM_GRADE_2 = 33,        /* "titanium_grade_2" */
    FLC_METAL_TI_6AL_4V = 34,               /* "Ti-6Al-4V" */
    FLC_METAL_NICKEL_200 = 35,              /* "nickel_200" */
    FLC_METAL_N04400 = 36,                  /* "N04400" */
    FLC_METAL_N06625 = 37,                  /* "N06625" */
    FLC_METAL_N10276 = 38,                  /* "N10276" */
    FLC_METAL_NICKEL_ALLOY = 39,            /* "nickel_alloy" */
    FLC_METAL_NICKEL_COPPER_67NI_30CU = 40, /* "nickel-copper_67Ni-30Cu" */
    FLC_METAL_NICKEL_COPPER_WROUGHT = 41,   /* "nickel-copper_wrought" */
    FLC_METAL_FE_32NI_5CO = 42,             /* "Fe-32Ni-5Co" */
    FLC_METAL_K94610 = 43,                  /* "K94610" */
    FLC_METAL_TUNGSTEN = 44,                /* "tungsten" */
    FLC_METAL_TUNGSTEN_CARBIDE_6CO = 45,    /* "tungsten_carbide_6Co" */
    FLC_METAL_ALUMINA = 46,                 /* "alumina" */
    FLC_METAL_ALUMINA_99_5 = 47,            /* "alumina_99.5" */
    FLC_METAL_ZIRCONIA_Y_TZP = 48,          /* "zirconia_Y-TZP" */
    FLC_METAL_SILICON = 49,                 /* "silicon" */
    FLC_METAL_SRM_731_BOROSILICATE = 50,    /* "SRM_731_borosilicate" */
    FLC_METAL_SRM_736_COPPER = 51,          /* "SRM_736_copper" */
    FLC_METAL_SRM_738_AISI_446 = 52,        /* "SRM_738_AISI_446" */
    FLC_METAL_SRM_739_FUSED_SILICA = 53     /* "SRM_739_fused_silica" */
} flc_metal_name;

/* Tables, as the folders of tables/ name them. */
typedef enum flc_metal_set {
    FLC_METAL_SET_API_12_2_1_1995 = 0,         /* "api_12_2_1_1995" */
    FLC_METAL_SET_CALLISTER_B6 = 1,            /* "callister_b6" */
    FLC_METAL_SET_ENGINEERING_PAGE_STEEL = 2,  /* "engineering_page_steel" */
    FLC_METAL_SET_EN_10088_1 = 3,              /* "en_10088_1" */
    FLC_METAL_SET_ASME_IID_TE1_2001 = 4,       /* "asme_iid_te1_2001" */
    FLC_METAL_SET_MILL_SHEET_316 = 5,          /* "mill_sheet_316" */
    FLC_METAL_SET_DATA_SHEET_430 = 6,          /* "data_sheet_430" */
    FLC_METAL_SET_DATA_SHEET_416 = 7,          /* "data_sheet_416" */
    FLC_METAL_SET_SWYT_1994 = 8,               /* "swyt_1994" */
    FLC_METAL_SET_HANDBOOK_MEMORY = 9,         /* "handbook_memory" */
    FLC_METAL_SET_SRM_CERTIFICATE_MEMORY = 10, /* "srm_certificate_memory" */
    FLC_METAL_SET_DOWLING_5_2 = 11,            /* "dowling_5_2" */
    FLC_METAL_SET_GERE_T1 = 12,                /* "gere_t1" */
    FLC_METAL_SET_TRITON_COURSE = 13,          /* "triton_course" */
    FLC_METAL_SET_HIGHTEMP_TEXT = 14           /* "hightemp_text" */
} flc_metal_set;

/** Metal and set from their words.
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the choice is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_metal_name_from_name(const char *name, flc_metal_name *choice);
FLC_API FLC_STATUS flc_metal_set_from_name(const char *name, flc_metal_set *choice);

/* How the length of a body follows its temperature. */
typedef enum flc_expansion_law {
    FLC_EXPANSION_MEAN = 0,          /* "mean": L(T) / L(T0) - 1 = alpha (T - T0) */
    FLC_EXPANSION_NIST_CRYOGENIC = 1 /* "nist_cryogenic": the polynomial of the alloy */
} flc_expansion_law;

/** Law from its word ("mean", "nist_cryogenic").
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (the law is then -1)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_expansion_law_from_name(const char *name, flc_expansion_law *choice);

/* The metal of a body or rotor: expansion, its temperature range, stiffness, and where the numbers rest. Made by one of
 * the three functions below, which leave all numbers NaN where they fail. Modulus and Poisson's ratio are NaN where
 * none is known: such a metal serves where no pressure acts on it. */
typedef struct flc_metal {
    flc_expansion_law law;
    double alpha_per_k;             /* mean expansion; of the NIST law that at 293 K, for information */
    flc_nist_material nist;         /* alloy of the NIST law; else without meaning, 0 */
    double t_low_degc, t_high_degc; /* range of the expansion */
    double modulus_gpa, poisson;
    flc_provenance provenance; /* the weakest of what the numbers rest on */
    char source[96];           /* which tables, or what the caller gave */
} flc_metal;

/** Metal from the caller's own numbers.
 *  @param alpha_per_k  mean linear expansion {1/K} [0, 1e-4]
 *  @param t_low_degc   lower end of its range {degC} [-273.15, 2000]
 *  @param t_high_degc  upper end, above the lower {degC} [-273.15, 2000]
 *  @param modulus_gpa  Young's modulus {GPa} [1, 1000], or NaN: not known
 *  @param poisson      Poisson's ratio {1} [0, 0.5], or NaN: not known
 *  @param provenance   where the numbers rest
 *  @param source       words for it, 1 to 95 characters: the data sheet or certificate it was read from
 *  @param[out] metal   the metal
 *  @param[out] error   detail, or NULL
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_CHOICE, FLC_E_ORDER, FLC_E_MISSING (no source), FLC_E_BUFFER (source too long), and
 *          those of a number
 *  @since 0.1 */
FLC_API FLC_STATUS flc_metal_mean(double alpha_per_k, double t_low_degc, double t_high_degc, double modulus_gpa,
                                  double poisson, flc_provenance provenance, const char *source, flc_metal *metal,
                                  flc_error *error);

/** Metal from a set of mean expansions. Of several ranges the narrowest that reaches 90 degC; a set that prints no
 * range is taken as 0 to 100 degC, with whose means its figures agree. Modulus and Poisson's ratio from the same set,
 * else from the table metal_defaults/elastic_defaults, whose choice source names.
 *  @param material  word of flc_metal_name
 *  @param set       word of flc_metal_set
 *  @param[out] metal  the metal
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME (also where the set has no mean expansion of the metal)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_metal_from_table(const char *material, const char *set, flc_metal *metal, flc_error *error);

/** Metal with the NIST cryogenic polynomial of an alloy. Modulus from the NIST polynomial at 293 K where there is one;
 *  the rest as in flc_metal_from_table.
 *  @param material  word of flc_nist_material
 *  @param[out] metal  the metal
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK, or FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_metal_nist(const char *material, flc_metal *metal, flc_error *error);

/** Linear expansion of a prover metal, per degF
 *  Gl, as printed
 *
 *  @param material  metal
 *  @return Gl {1/degF}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_linear_expansion_per_degf(flc_metal_name material, double *result);

/** Area expansion of a prover metal, per degF
 *  Ga = 2 Gl, as printed and rounded there
 *
 *  @param material  metal
 *  @return Ga {1/degF}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_area_expansion_per_degf(flc_metal_name material, double *result);

/** Cubical expansion of a prover metal, per degF
 *  Gc = 3 Gl, as printed and rounded there
 *
 *  @param material  metal
 *  @return Gc {1/degF}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_cubical_expansion_per_degf(flc_metal_name material, double *result);

/** Linear expansion of a prover metal, per degC
 *  1.8 Gl
 *
 *  @param material  metal
 *  @return Gl {1/degC}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_linear_expansion_per_degc(flc_metal_name material, double *result);

/** Area expansion of a prover metal, per degC
 *  1.8 x 2 Gl
 *
 *  @param material  metal
 *  @return Ga {1/degC}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_area_expansion_per_degc(flc_metal_name material, double *result);

/** Cubical expansion of a prover metal, per degC
 *  1.8 Gc, Gc per degF as printed
 *
 *  @param material  metal
 *  @return Gc {1/degC}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_cubical_expansion_per_degc(flc_metal_name material, double *result);

/** Modulus of elasticity of a prover metal
 *  E, as printed
 *
 *  @param material  metal
 *  @return E {psi}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_modulus_psi(flc_metal_name material, double *result);

/** Modulus of elasticity of a prover metal, in kPa
 *  E in psi times 6.894757293168
 *
 *  @param material  metal
 *  @return E {kPa}
 *  @source API MPMS 12.2.1 (1995), Appendix A
 *  @status from memory; the linear values equal the 0-100 degC means of handbooks
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_prover_modulus_kpa(flc_metal_name material, double *result);

/** Area expansion from linear expansion
 *  2 linear
 *
 *  @param linear  linear expansion {1/degF} [0, 1e-4]
 *  @return area expansion {1/degF}
 *  @source definition, first order
 *  @status common practice; exact to first order in the strain
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_area_expansion_from_linear(double linear, double *result);

/** Cubical expansion from linear expansion
 *  3 linear
 *
 *  @param linear  linear expansion {1/degF} [0, 1e-4]
 *  @return cubical expansion {1/degF}
 *  @source definition, first order
 *  @status common practice; exact to first order in the strain
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cubical_expansion_from_linear(double linear, double *result);

/** Mean linear expansion of a metal, as printed
 *  table entry
 *
 *  @param material   metal
 *  @param set        table
 *  @param t_lo_degc  lower end of the printed range {degC} [-273.15, 3000] optional
 *  @param t_hi_degc  upper end of the printed range {degC} [-273.15, 3000] optional
 *  @return mean expansion {1e-6/K}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mean_expansion(flc_metal_name material, flc_metal_set set, double t_lo_degc, double t_hi_degc,
                                      double *result);

/** Mean linear expansion of a metal per degF, as printed
 *  table entry
 *
 *  @param material   metal
 *  @param set        table
 *  @param t_lo_degc  lower end of the printed range {degC} [-273.15, 3000] optional
 *  @param t_hi_degc  upper end of the printed range {degC} [-273.15, 3000] optional
 *  @param t_lo_degf  lower end of the printed range {degF} [-459.67, 5500] optional
 *  @param t_hi_degf  upper end of the printed range {degF} [-459.67, 5500] optional
 *  @return mean expansion {1e-6/degF}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mean_expansion_per_degf(flc_metal_name material, flc_metal_set set, double t_lo_degc,
                                               double t_hi_degc, double t_lo_degf, double t_hi_degf, double *result);

/** Linear expansion of a metal at one temperature, as printed
 *  table entry
 *
 *  @param material  metal
 *  @param set       table
 *  @param t_degc    the printed temperature {degC} [-273.15, 3000]
 *  @return local expansion {1e-6/K}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_local_expansion(flc_metal_name material, flc_metal_set set, double t_degc, double *result);

/** Linear expansion of a metal at one temperature per degF, as printed
 *  table entry
 *
 *  @param material  metal
 *  @param set       table
 *  @param t_degf    the printed temperature {degF} [-459.67, 5500]
 *  @return local expansion {1e-6/degF}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_local_expansion_per_degf(flc_metal_name material, flc_metal_set set, double t_degf,
                                                double *result);

/** Growth of 100 ft from the mean expansion
 *  1200 in times 1e-6 mean (t_hi - t_lo)
 *
 *  @param mean_expansion_per_degf  mean linear expansion {1e-6/degF} [0, 100]
 *  @param t_lo_degf                temperature before {degF} [-459.67, 5500]
 *  @param t_hi_degf                temperature after {degF} [-459.67, 5500]
 *  @return growth {in/100 ft}
 *  @source ASME BPVC II-D (2001), Table TE-1, column C
 *  @status published; two printed cells do not follow from the printed rounded mean
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_linear_growth_in_per_100ft(double mean_expansion_per_degf, double t_lo_degf, double t_hi_degf,
                                                  double *result);

/** Young's modulus of a metal, as printed
 *  table entry
 *
 *  @param material  metal
 *  @param set       table
 *  @param t_degc    the printed temperature {degC} [-273.15, 3000] optional
 *  @return E {GPa}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_youngs_modulus_gpa(flc_metal_name material, flc_metal_set set, double t_degc, double *result);

/** Young's modulus from millions of psi
 *  E = 6.894757293168 e_msi
 *
 *  @param e_msi  Young's modulus {1e6 psi} [0, 200]
 *  @return E {GPa}
 *  @source 1 psi = 6894.757293168 Pa
 *  @status common practice; conversion of units, exact to 13 digits
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_youngs_modulus_from_msi_gpa(double e_msi, double *result);

/** Young's modulus between two table values, linear in temperature
 *  E = e1 + (e2 - e1) (t - t1) / (t2 - t1), t1 <= t <= t2
 *
 *  @param t_degc   temperature {degC} [-273.15, 3000]
 *  @param t1_degc  lower table temperature {degC} [-273.15, 3000]
 *  @param e1_gpa   modulus there {GPa} [0, 1000]
 *  @param t2_degc  upper table temperature, above t1 {degC} [-273.15, 3000]
 *  @param e2_gpa   modulus there {GPa} [0, 1000]
 *  @return E {GPa}
 *  @source linear interpolation in the tables of ASME B31.1
 *  @status common practice; FLC_E_BELOW or FLC_E_ABOVE outside the two, FLC_E_ORDER or FLC_E_DUPLICATE where t2
 *  is not above t1
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_youngs_modulus_interpolated_gpa(double t_degc, double t1_degc, double e1_gpa, double t2_degc,
                                                       double e2_gpa, double *result);

/** Poisson's ratio of a metal, as printed
 *  table entry
 *
 *  @param material  metal
 *  @param set       table
 *  @param t_degc    the printed temperature {degC} [-273.15, 3000] optional
 *  @return Poisson's ratio {1}
 *  @source the table that set names (tables/<set>/)
 *  @status published; entries of api_12_2_1_1995, handbook_memory and srm_certificate_memory are from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_poisson_ratio(flc_metal_name material, flc_metal_set set, double t_degc, double *result);

FLC_END_DECLS

#endif
