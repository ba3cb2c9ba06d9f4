/* SPDX-License-Identifier: Apache-2.0 */
/* The liquid: one method that takes its volume to base conditions, and one declared source of its viscosity. A liquid
 * is chosen by the batch it belongs to; the product group is never taken from a live density. */
#ifndef FLOWCOMP_LIQUID_H
#define FLOWCOMP_LIQUID_H

#include "flowcomp/aromatics_d1555.h"
#include "flowcomp/costald.h"
#include "flowcomp/methods.h"
#include "flowcomp/petroleum_2004.h"
#include "flowcomp/saturated_liquids.h"
#include "flowcomp/viscosity_d341.h"

FLC_BEGIN_DECLS

typedef enum flc_volume_method {
    FLC_VOLUME_NONE = 0,          /* no base volume: results carry gross volumes only, flagged */
    FLC_VOLUME_PETROLEUM_2004 = 1, /* API MPMS 11.1 (2004) */
    FLC_VOLUME_PETROLEUM_1980 = 2, /* API Standard 2540 (1980): a group, or a given thermal expansion (C tables) */
    FLC_VOLUME_LIGHT_ENDS_2007 = 3,   /* LPG, NGL: API MPMS 11.2.4 = GPA TP-27 (2007) */
    FLC_VOLUME_AROMATICS_D1555 = 4,   /* ASTM D1555 */
    FLC_VOLUME_ETHANOL_OIML_R22 = 5,  /* ethanol with water, at constant mass fraction */
    FLC_VOLUME_WATER = 6,             /* the formulation is named */
    FLC_VOLUME_SEAWATER_EOS80 = 7,    /* UNESCO EOS-80 with pressure */
    FLC_VOLUME_PRODUCED_WATER_API20 = 8, /* brine, by its density */
    FLC_VOLUME_GLYCOL_WATER_MELINDER_2010 = 9, /* ethylene or propylene glycol with water */
    FLC_VOLUME_FAME_EN14214 = 10,     /* biodiesel */
    FLC_VOLUME_LNG_ISO6578 = 11,      /* by its composition */
    FLC_VOLUME_SATURATED_LIQUID = 12, /* pure fluid at saturation, ancillary equation */
    FLC_VOLUME_COSTALD = 13,          /* pure fluid, COSTALD 1979, with pressure 1982 */
    FLC_VOLUME_POLYNOMIAL = 14,       /* the user's polynomial in temperature */
    FLC_VOLUME_DENSITY_TABLE = 15     /* the user's densities over temperature, or temperature and pressure */
} flc_volume_method;

/** Method from its word ("none", "petroleum_2004", "petroleum_1980", "light_ends_2007", "aromatics_d1555",
 *  "ethanol_oiml_r22", "water", "seawater_eos80", "produced_water_api20", "glycol_water_melinder_2010", "fame_en14214",
 *  "lng_iso6578", "saturated_liquid", "costald", "polynomial", "density_table").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_volume_method_from_name(const char *name, flc_volume_method *choice);

/* What corrects for pressure. Each volume method allows some of them; flc_liquid_new names the others. */
typedef enum flc_compressibility {
    FLC_COMPRESSIBILITY_OF_METHOD = 0, /* the pressure part of the volume method itself; refused where it has none */
    FLC_COMPRESSIBILITY_NONE = 1,      /* CPL is 1, flagged */
    FLC_COMPRESSIBILITY_1984 = 2,      /* API MPMS 11.2.1 (60 degF) and 11.2.1M (metric bases) */
    FLC_COMPRESSIBILITY_1986 = 3,      /* light hydrocarbons: API MPMS 11.2.2 */
    FLC_COMPRESSIBILITY_SUPPLIED = 4   /* f_per_kpa of the user */
} flc_compressibility;

/** Choice from its word ("of_method", "none", "1984", "1986", "supplied").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_compressibility_from_name(const char *name, flc_compressibility *choice);

/* Where the equilibrium vapour pressure comes from, the pressure that compression counts from. Each says so in the
 * flags; where the meter's pressure is less than 1.25 times as high (both absolute), the small margin is flagged. */
typedef enum flc_vapour_pressure {
    FLC_VAPOUR_NONE = 0,       /* not above atmospheric: compression counts from 0 gauge */
    FLC_VAPOUR_MEASURED = 1,   /* given with every record, at the meter's temperature */
    FLC_VAPOUR_LABORATORY = 2, /* one value at 37.8 degC and a slope: pe = pe378 exp(-b (1/T - 1/310.928)) */
    FLC_VAPOUR_SUPPLIED = 3    /* the user's correlation: log10 pe = a - b/(c + t), pe in kPa absolute, t in degC */
} flc_vapour_pressure;

/** Choice from its word ("none", "measured", "laboratory", "supplied").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_vapour_pressure_from_name(const char *name, flc_vapour_pressure *choice);

/* Formulations of the density of water. */
typedef enum flc_water_formulation {
    FLC_WATER_CIPM_2001 = 0,             /* 0 to 40 degC, with pressure */
    FLC_WATER_PATTERSON_MORRIS_1994 = 1, /* 1 to 40 degC */
    FLC_WATER_JONES_HARRIS_1992 = 2,     /* 5 to 40 degC */
    FLC_WATER_KELL_1975 = 3,             /* 0 to 150 degC, with its compressibility */
    FLC_WATER_IAPWS95 = 4                /* with pressure */
} flc_water_formulation;

/** Formulation from its word ("cipm_2001", "patterson_morris_1994", "jones_harris_1992", "kell_1975", "iapws95").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_water_formulation_from_name(const char *name, flc_water_formulation *choice);

typedef enum flc_glycol {
    FLC_GLYCOL_MEG = 0, /* ethylene glycol */
    FLC_GLYCOL_MPG = 1  /* propylene glycol */
} flc_glycol;

/** Glycol from its word ("meg", "mpg").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_glycol_from_name(const char *name, flc_glycol *choice);

/* The degree that a user's polynomial counts in. */
typedef enum flc_polynomial_degree {
    FLC_POLYNOMIAL_DEGC = 0,
    FLC_POLYNOMIAL_DEGF = 1
} flc_polynomial_degree;

/** Degree from its word ("degc", "degf").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_polynomial_degree_from_name(const char *name, flc_polynomial_degree *choice);

/* Where the viscosity comes from. Each says so in the flags of every result. */
typedef enum flc_viscosity_source {
    FLC_VISCOSITY_MEASURED = 0,  /* given with every record, at the meter's temperature */
    FLC_VISCOSITY_POINTS = 1,    /* two or more laboratory points of this liquid, ASTM D341 between them */
    FLC_VISCOSITY_ONE_POINT = 2, /* one laboratory point and the D341 slope B of a family */
    FLC_VISCOSITY_BETWEEN = 3,   /* between two named liquids, by base density */
    FLC_VISCOSITY_TYPICAL = 4,   /* a typical value (one point: constant) or curve (more), not of this liquid */
    FLC_VISCOSITY_MODEL = 5,     /* a model with given coefficients, or that of a named liquid */
    FLC_VISCOSITY_BLEND = 6      /* a blend of two liquids, each by its points, in fixed shares */
} flc_viscosity_source;

/** Source from its word ("measured", "points", "one_point", "between", "typical", "model", "blend").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_source_from_name(const char *name, flc_viscosity_source *choice);

/* Models of viscosity against temperature. The first eight take coefficients c1 to c5 as the method of that name does
 * (viscosity_models.h, viscosity_d341.h); the others are those of a named liquid and take its composition from the
 * volume method. */
typedef enum flc_viscosity_model {
    FLC_MODEL_ANDRADE = 0,      /* c1 A, c2 B */
    FLC_MODEL_VOGEL = 1,        /* c1 A, c2 B, c3 C */
    FLC_MODEL_DUTT_PRASAD = 2,  /* c1 A, c2 B, c3 C */
    FLC_MODEL_DIPPR101 = 3,     /* c1 to c5 */
    FLC_MODEL_POWER_LAW = 4,    /* c1 C, c2 D */
    FLC_MODEL_YAWS = 5,         /* c1 A, c2 B, c3 C, c4 D */
    FLC_MODEL_POLYNOMIAL = 6,   /* ln mu = c1 + c2 x + c3 x^2 + c4 x^3, x = t - c5 */
    FLC_MODEL_D341_AB = 7,      /* c1 A, c2 B, in the form of the options; kinematic */
    FLC_MODEL_WATER_R12_08 = 8, /* at the density of the liquid */
    FLC_MODEL_WATER_SR6_08 = 9,
    FLC_MODEL_SEAWATER_SHARQAWY = 10, /* for FLC_VOLUME_SEAWATER_EOS80 */
    FLC_MODEL_SEAWATER_MILLERO = 11,  /* the same */
    FLC_MODEL_GLYCOL_MELINDER = 12    /* for FLC_VOLUME_GLYCOL_WATER_MELINDER_2010 */
} flc_viscosity_model;

/** Model from its word ("andrade", "vogel", "dutt_prasad", "dippr101", "power_law", "yaws", "polynomial", "d341_ab",
 *  "water_r12_08", "water_sr6_08", "seawater_sharqawy", "seawater_millero", "glycol_melinder").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_model_from_name(const char *name, flc_viscosity_model *choice);

/* What the coefficients of a model give. */
typedef enum flc_viscosity_kind {
    FLC_VISCOSITY_DYNAMIC = 0,  /* mPa s (DIPPR, power law and Yaws by their own formulas too); kinematic with the
                                   density of the same liquid at the same temperature and pressure */
    FLC_VISCOSITY_KINEMATIC = 1 /* mm²/s: coefficients that were fitted to kinematic viscosities by that formula. The
                                   factor 1000 in DIPPR, power law and Yaws stays: ln(nu in mm²/s) = C1 + ... of a
                                   paper goes in as C1 - ln 1000 */
} flc_viscosity_kind;

/** Kind from its word ("dynamic", "kinematic").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_kind_from_name(const char *name, flc_viscosity_kind *choice);

/* What pressure does to the viscosity; needs the density, so a volume method. */
typedef enum flc_viscosity_pressure {
    FLC_VISCOSITY_PRESSURE_NONE = 0,
    FLC_VISCOSITY_PRESSURE_BARUS = 1,       /* alpha_per_gpa */
    FLC_VISCOSITY_PRESSURE_ROELANDS = 2,    /* alpha_per_gpa, that at the temperature of the meter */
    FLC_VISCOSITY_PRESSURE_KOUZEL_1965 = 3, /* mineral oils */
    FLC_VISCOSITY_PRESSURE_KOUZEL_API = 4   /* hydrocarbons */
} flc_viscosity_pressure;

/** Choice from its word ("none", "barus", "roelands", "kouzel_1965", "kouzel_api").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_pressure_from_name(const char *name, flc_viscosity_pressure *choice);

/* How two liquids blend. */
typedef enum flc_blend_rule {
    FLC_BLEND_REFUTAS = 0,   /* by mass fraction */
    FLC_BLEND_ASTM_D7152 = 1 /* at one temperature, by volume fraction (by mass for fuels) */
} flc_blend_rule;

/** Rule from its word ("refutas", "astm_d7152").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_blend_rule_from_name(const char *name, flc_blend_rule *choice);

typedef struct flc_viscosity_coefficients {
    double c1, c2, c3, c4, c5; /* NaN where the model has fewer */
} flc_viscosity_coefficients;

/* A named policy for temperatures outside the viscosity points. Refusing is the default: real oils leave their D341
 * line (a jet fuel by 8 % twenty kelvin out, a shear-stable hydraulic oil by a factor of five at -54 °C). */
typedef enum flc_viscosity_beyond {
    FLC_VISCOSITY_REFUSE = 0, /* */
    FLC_VISCOSITY_EXTEND = 1  /* along the last D341 line, at most 40 K out, flagged */
} flc_viscosity_beyond;

/** Policy from its word ("refuse", "extend").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_beyond_from_name(const char *name, flc_viscosity_beyond *choice);

/* A named policy for a negative gauge pressure in the volume correction. */
typedef enum flc_negative_pressure {
    FLC_NEGATIVE_REFUSE = 0, /* FLC_E_NEGATIVE_PRESSURE */
    FLC_NEGATIVE_CLAMP = 1   /* taken as 0, flagged; that the standard does so is from memory */
} flc_negative_pressure;

/** Policy from its word ("refuse", "clamp").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_negative_pressure_from_name(const char *name, flc_negative_pressure *choice);

/* Families of liquids with a known D341 slope B (body form), for FLC_VISCOSITY_ONE_POINT. */
typedef enum flc_d341_family {
    FLC_FAMILY_JET_A = 0,      /* AFRL POSF 10325, -40 to 100 °C, least squares: published points */
    FLC_FAMILY_JP_8 = 1,       /* AFRL POSF 10264, the same */
    FLC_FAMILY_JP_5 = 2,       /* AFRL POSF 10289, the same */
    FLC_FAMILY_N_DODECANE = 3, /* NIST WebBook values at 0.45 and 100.45 °C */
    FLC_FAMILY_OIL_S6 = 4,     /* standard oil S6, ASTM D2162 nominal values at 20 and 100 °C, from memory */
    FLC_FAMILY_OIL_S20 = 5,    /* S20, the same */
    FLC_FAMILY_OIL_S60 = 6,    /* S60, the same */
    FLC_FAMILY_OIL_S200 = 7    /* S200, the same */
} flc_d341_family;

/** Family from its word ("jet_a", "jp_8", "jp_5", "n_dodecane", "oil_s6", "oil_s20", "oil_s60", "oil_s200").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_d341_family_from_name(const char *name, flc_d341_family *choice);

/** D341 slope B of a family, with the provenance of the points it comes from. A liquid with this very slope carries that
 *  provenance by itself, beside that of its own point: in the flag from_memory and in explain.
 *  @param family  one of the enum
 *  @param[out] b  slope of W against log10 T, 1; NaN on failure
 *  @param[out] provenance  of the points
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_d341_family_slope(flc_d341_family family, double *b, flc_provenance *provenance);

/* Points of a viscosity-temperature line or table. */
typedef struct flc_viscosity_points {
    size_t count;           /* 1 to 64 */
    const double *t_degc;   /* rising, °C, -100 to 400 */
    const double *nu_mm2s;  /* falling, mm²/s, 0.21 to 2e7 */
    double rho_base_kgm3;   /* base density of that liquid; needed by FLC_VISCOSITY_BETWEEN only */
} flc_viscosity_points;

/* A polynomial c0 + c1 t + c2 t^2 + ... proportional to the density, and the range it holds for. */
typedef struct flc_volume_polynomial {
    size_t count;    /* 2 to 12 */
    const double *c; /* coefficients */
    double t_low, t_high;
    flc_polynomial_degree degree; /* of t, t_low, t_high */
} flc_volume_polynomial;

/* Densities over temperature alone (every pressure 0), or on a full grid: for each temperature, rising, every pressure,
 * rising. */
typedef struct flc_density_table {
    size_t count; /* 2 to 256 */
    const double *t_degc, *p_kpag, *rho_kgm3;
} flc_density_table;

/* Mole fractions of LNG, in the order of flc_lng_component. */
typedef struct flc_lng_composition {
    double x_c1, x_c2, x_c3, x_nc4, x_ic4, x_nc5, x_ic5, x_nc6, x_n2;
} flc_lng_composition;

/* Set up by flc_liquid_options_init, then filled in. Fields are only ever appended. */
typedef struct flc_liquid_options {
    uint32_t size;
    const char *name;              /* up to 47 bytes, shown in explain and files; required */
    flc_volume_method volume;      /* required */
    flc_petroleum_product product; /* for petroleum methods: a group, or a given alpha60 */
    flc_petroleum_base base;       /* required unless volume is none, or t_base_degc is given */
    flc_negative_pressure negative_pressure;
    flc_viscosity_source viscosity; /* required */
    flc_d341_form form;             /* body */
    flc_viscosity_points points;    /* of this liquid; or of the first of two */
    flc_viscosity_points second;    /* of the second, FLC_VISCOSITY_BETWEEN only */
    double slope_b;                 /* FLC_VISCOSITY_ONE_POINT: see flc_d341_family_slope */
    flc_viscosity_beyond beyond;
    double u_nu_relative;          /* standard uncertainty of the viscosity, relative (0.01 is 1 %), 0 to 1; required */
    flc_provenance nu_provenance;  /* of the viscosity points; FLC_USER_GIVEN. The slope of a family keeps its own */
    const char *nu_source;         /* up to 95 bytes: report, laboratory, date; "" where none */
    /* any base in place of base */
    double t_base_degc; /* -200 to 400 °C; NaN where base is named */
    double p_base_kpag; /* 0 to 10000 kPa gauge; 0 */
    /* pressure */
    double p_atmospheric_kpa; /* of the site, absolute, 50 to 115 kPa; 101.325 */
    flc_compressibility compressibility;
    double f_per_kpa; /* FLC_COMPRESSIBILITY_SUPPLIED, 1/kPa */
    flc_vapour_pressure vapour;
    double pe378_kpa, vapour_slope_k;      /* FLC_VAPOUR_LABORATORY: kPa absolute; b, K */
    double vapour_a, vapour_b, vapour_c;   /* FLC_VAPOUR_SUPPLIED */
    /* what some volume methods need */
    double alpha15_per_degc; /* petroleum_1980 at metric bases with a given expansion (table 54C), 1/degC */
    flc_aromatic aromatic;
    flc_water_formulation water;
    flc_glycol glycol;
    flc_saturated_liquid saturated;
    flc_costald_fluid costald;
    double pc_kpa;        /* costald: critical pressure, absolute, kPa */
    double mass_fraction; /* of ethanol or glycol; NaN: from the density of every record */
    double salinity_psu;  /* of sea water; NaN: from the density of every record */
    flc_lng_composition lng;
    flc_volume_polynomial polynomial;
    flc_density_table table;
    /* viscosity */
    flc_viscosity_model model; /* FLC_VISCOSITY_MODEL */
    flc_viscosity_kind kind;
    flc_viscosity_coefficients coefficients;
    double model_t_low_degc, model_t_high_degc; /* where the coefficients hold, -200 to 600 °C; required with them */
    flc_viscosity_pressure viscosity_pressure;
    double alpha_per_gpa;
    flc_blend_rule blend; /* FLC_VISCOSITY_BLEND */
    double share_second;  /* of the second liquid, 0 to 1 */
} flc_liquid_options;

/** Set up liquid options: size, "not chosen" where a choice is required, defaults elsewhere.
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_liquid_options_init_sized(flc_liquid_options *options, size_t own_size);
#define flc_liquid_options_init(options) flc_liquid_options_init_sized((options), sizeof *(options))

typedef struct flc_liquid flc_liquid; /* immutable; a const pointer serves any number of threads */

/** Make a liquid. Everything pointed to is copied.
 *  @param options  from flc_liquid_options_init, filled in
 *  @param[out] liquid  new handle, to be freed by flc_liquid_free; NULL on failure
 *  @param[out] error   names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_CHOICE, FLC_E_COUNT, FLC_E_NAN,
 *          FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_ORDER, FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_new(const flc_liquid_options *options, flc_liquid **liquid, flc_error *error);

/** Free a liquid; NULL is allowed.
 *  @since 0.1 */
FLC_API void flc_liquid_free(flc_liquid *liquid);

/** What a liquid was made from. The pointers in options point into the liquid and live as long as it.
 *  @param liquid  never NULL
 *  @param[out] options  filled
 *  @return FLC_OK, FLC_E_NULL
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_describe(const flc_liquid *liquid, flc_liquid_options *options);

/** Kinematic viscosity of the liquid at a temperature.
 *  @param liquid   never NULL
 *  @param t_degc   temperature at the meter, °C
 *  @param rho_base_kgm3  base density, kg/m³ (used by FLC_VISCOSITY_BETWEEN, and where the viscosity needs the density
 *                  of the liquid, then taken at 0 gauge; else may be NaN)
 *  @param nu_given_mm2s  the record's own viscosity, mm²/s (FLC_VISCOSITY_MEASURED only; else must be NaN)
 *  @param[out] nu_mm2s   mm²/s, NaN on failure
 *  @param[out] flags     FLC_FLAG_VISCOSITY_*
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_MISSING (measured viscosity not given), FLC_E_CONFLICT
 *          (given although the liquid has its own), FLC_E_BELOW, FLC_E_ABOVE, FLC_E_BELOW_VISCOSITY_RANGE,
 *          FLC_E_ABOVE_VISCOSITY_RANGE, FLC_E_NO_ROOT (the line leaves the viscosities of its form)
 *  @source ASTM D341 for all but measured
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_viscosity(const flc_liquid *liquid, double t_degc, double rho_base_kgm3,
                                        double nu_given_mm2s, double *nu_mm2s, uint32_t *flags);

/* The density of a record: one of the two forms. */
typedef struct flc_density {
    double rho_base_kgm3;       /* at the liquid's base, kg/m³; NaN where observed is given */
    double rho_observed_kgm3;   /* as read by a densitometer or hydrometer free of glass, kg/m³; NaN where base is given */
    double t_observed_degc;     /* at the densitometer, °C */
    double p_observed_kpag;     /* at the densitometer, kPa gauge */
    double densitometer_factor; /* multiplies the observed density, 0.9 to 1.1; 1 */
} flc_density;

/* A volume's way to base conditions. */
typedef struct flc_volume_factors {
    double rho60_kgm3;    /* base density at 60 °F that petroleum_2004 works with, kg/m³; else NaN */
    double rho_base_kgm3; /* at the liquid's own base, kg/m³ */
    double ctl, cpl, ctpl;
    double p_used_kpag; /* after the negative-pressure policy */
    uint32_t flags;
} flc_volume_factors;

/** CTL, CPL and CTPL at a temperature and pressure.
 *  @param liquid   never NULL
 *  @param density  base density, or an observed one with its own temperature and pressure; neither for a liquid that
 *                  has its own density (water, a composition), and where the method goes without
 *  @param t_degc   temperature at the meter, °C
 *  @param p_kpag   pressure at the meter, kPa gauge
 *  @param[out] factors  NaN on failure
 *  @return FLC_OK (also for FLC_VOLUME_NONE: factors NaN, flag FLC_FLAG_NO_VOLUME_CORRECTION); FLC_E_NULL, FLC_E_NAN,
 *          FLC_E_INFINITE, FLC_E_MISSING (neither density), FLC_E_CONFLICT (both), FLC_E_BELOW, FLC_E_ABOVE,
 *          FLC_E_NEGATIVE_PRESSURE, FLC_E_NO_ROOT
 *  @source the volume method of the liquid: each has its own header
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_volume(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                                     flc_volume_factors *factors);

/** Kinematic viscosity of the liquid at the meter, with the density of the same record.
 *  @param liquid   never NULL
 *  @param density  as for flc_liquid_volume
 *  @param t_degc   temperature at the meter, °C
 *  @param p_kpag   pressure at the meter, kPa gauge
 *  @param pe_kpa   measured vapour pressure, kPa absolute; NaN where the liquid does not take it
 *  @param nu_given_mm2s  as for flc_liquid_viscosity
 *  @param[out] nu_mm2s   mm²/s, NaN on failure
 *  @param[out] flags     those of viscosity and volume correction
 *  @return as flc_liquid_volume and flc_liquid_viscosity
 *  @source that of the liquid's viscosity
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_viscosity_at(const flc_liquid *liquid, const flc_density *density, double t_degc,
                                           double p_kpag, double pe_kpa, double nu_given_mm2s, double *nu_mm2s,
                                           uint32_t *flags);

/** CTL, CPL and CTPL for a liquid whose equilibrium vapour pressure is measured with every record.
 *  @param liquid   never NULL
 *  @param density  as for flc_liquid_volume; an observed one is taken at the same vapour pressure
 *  @param t_degc   temperature at the meter, °C
 *  @param p_kpag   pressure at the meter, kPa gauge
 *  @param pe_kpa   equilibrium vapour pressure at t_degc, kPa absolute; NaN where the liquid has its own source
 *  @param[out] factors  NaN on failure
 *  @return as flc_liquid_volume
 *  @source the volume method of the liquid
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_volume_above_vapour(const flc_liquid *liquid, const flc_density *density, double t_degc,
                                                  double p_kpag, double pe_kpa, flc_volume_factors *factors);

/** The published methods that a liquid rests on, for files and tickets.
 *  @param liquid  a liquid
 *  @param place   0 and on
 *  @return the method, or NULL past the last one
 *  @since 0.1 */
FLC_API const flc_method_info *flc_liquid_method_at(const flc_liquid *liquid, size_t place);

/** Edition of a liquid's canonical form: 1 for what it had a place for (API MPMS 11.1 (2004) at its own bases, D341
 *  lines), so that hashes stay; 2 for everything else; 0 for NULL.
 *  @since 0.1 */
FLC_API int flc_liquid_edition(const flc_liquid *liquid);

/** Canonical bytes of a liquid for hashing: big-endian, IEEE doubles, fixed field order.
 *  @param liquid  never NULL
 *  @param[out] bytes  room for size bytes, or NULL with size 0
 *  @param size    room
 *  @param[out] needed  bytes it takes
 *  @return FLC_OK, FLC_E_NULL, FLC_E_BUFFER (needed is set)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_canonical(const flc_liquid *liquid, uint8_t *bytes, size_t size, size_t *needed);

FLC_END_DECLS

#endif
