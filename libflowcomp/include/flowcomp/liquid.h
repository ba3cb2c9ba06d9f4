/* SPDX-License-Identifier: Apache-2.0 */
/* The liquid: one method that takes its volume to base conditions, and one declared source of its viscosity. A liquid
 * is chosen by the batch it belongs to; the product group is never taken from a live density. */
#ifndef FLOWCOMP_LIQUID_H
#define FLOWCOMP_LIQUID_H

#include "flowcomp/petroleum_2004.h"
#include "flowcomp/viscosity_d341.h"

FLC_BEGIN_DECLS

typedef enum flc_volume_method {
    FLC_VOLUME_NONE = 0,          /* no base volume: results carry gross volumes only, flagged */
    FLC_VOLUME_PETROLEUM_2004 = 1 /* API MPMS 11.1 (2004) */
} flc_volume_method;

/** Method from its word ("none", "petroleum_2004").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_volume_method_from_name(const char *name, flc_volume_method *choice);

/* Where the viscosity comes from. Each says so in the flags of every result. */
typedef enum flc_viscosity_source {
    FLC_VISCOSITY_MEASURED = 0,  /* given with every record, at the meter's temperature */
    FLC_VISCOSITY_POINTS = 1,    /* two or more laboratory points of this liquid, ASTM D341 between them */
    FLC_VISCOSITY_ONE_POINT = 2, /* one laboratory point and the D341 slope B of a family */
    FLC_VISCOSITY_BETWEEN = 3,   /* between two named liquids, by base density */
    FLC_VISCOSITY_TYPICAL = 4    /* a typical value (one point: constant) or curve (more), not of this liquid */
} flc_viscosity_source;

/** Source from its word ("measured", "points", "one_point", "between", "typical").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_viscosity_source_from_name(const char *name, flc_viscosity_source *choice);

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

/** D341 slope B of a family, with the provenance of the points it comes from.
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

/* Set up by flc_liquid_options_init, then filled in. Fields are only ever appended. */
typedef struct flc_liquid_options {
    uint32_t size;
    const char *name;              /* up to 47 bytes, shown in explain and files; required */
    flc_volume_method volume;      /* required */
    flc_petroleum_product product; /* for petroleum methods: a group, or a given alpha60 */
    flc_petroleum_base base;       /* required unless volume is none */
    flc_negative_pressure negative_pressure;
    flc_viscosity_source viscosity; /* required */
    flc_d341_form form;             /* body */
    flc_viscosity_points points;    /* of this liquid; or of the first of two */
    flc_viscosity_points second;    /* of the second, FLC_VISCOSITY_BETWEEN only */
    double slope_b;                 /* FLC_VISCOSITY_ONE_POINT: see flc_d341_family_slope */
    flc_viscosity_beyond beyond;
    double u_nu_relative;          /* standard uncertainty of the viscosity, relative (0.01 is 1 %), 0 to 1; required */
    flc_provenance nu_provenance;  /* of the viscosity points; FLC_USER_GIVEN */
    const char *nu_source;         /* up to 95 bytes: report, laboratory, date; "" where none */
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
 *  @param rho_base_kgm3  base density, kg/m³ (used by FLC_VISCOSITY_BETWEEN only; else may be NaN)
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

/* The density of a record: exactly one of the two forms. */
typedef struct flc_density {
    double rho_base_kgm3;       /* at the liquid's base, kg/m³; NaN where observed is given */
    double rho_observed_kgm3;   /* as read by a densitometer or hydrometer free of glass, kg/m³; NaN where base is given */
    double t_observed_degc;     /* at the densitometer, °C */
    double p_observed_kpag;     /* at the densitometer, kPa gauge */
    double densitometer_factor; /* multiplies the observed density, 0.9 to 1.1; 1 */
} flc_density;

/* A volume's way to base conditions. */
typedef struct flc_volume_factors {
    double rho60_kgm3;    /* base density at 60 °F that the method works with, kg/m³ */
    double rho_base_kgm3; /* at the liquid's own base, kg/m³ */
    double ctl, cpl, ctpl;
    double p_used_kpag; /* after the negative-pressure policy */
    uint32_t flags;
} flc_volume_factors;

/** CTL, CPL and CTPL at a temperature and pressure.
 *  @param liquid   never NULL
 *  @param density  base density, or an observed one with its own temperature and pressure
 *  @param t_degc   temperature at the meter, °C
 *  @param p_kpag   pressure at the meter, kPa gauge
 *  @param[out] factors  NaN on failure
 *  @return FLC_OK (also for FLC_VOLUME_NONE: factors NaN, flag FLC_FLAG_NO_VOLUME_CORRECTION); FLC_E_NULL, FLC_E_NAN,
 *          FLC_E_INFINITE, FLC_E_MISSING (neither density), FLC_E_CONFLICT (both), FLC_E_BELOW, FLC_E_ABOVE,
 *          FLC_E_NEGATIVE_PRESSURE, FLC_E_NO_ROOT
 *  @source API MPMS 11.1 (2004) for FLC_VOLUME_PETROLEUM_2004
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_volume(const flc_liquid *liquid, const flc_density *density, double t_degc, double p_kpag,
                                     flc_volume_factors *factors);

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
