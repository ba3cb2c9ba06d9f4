/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a liquid. */
#ifndef FLC_LIQUID_CORE_H
#define FLC_LIQUID_CORE_H

#include "flowcomp/liquid.h"
#include "petroleum_2004_core.h"
#include "viscosity_d341_core.h"
#include "volume_program.h"

#define FLC_LIQUID_POINTS 64
#define FLC_LIQUID_NAME 48
#define FLC_LIQUID_SOURCE 96
#define FLC_LIQUID_COEFFICIENTS 12
#define FLC_LIQUID_TABLE 256

#define FLC_VISCOSITY_REACH_K 40.0 /* how far the policy extend, and a single point, are trusted */

/* Ranges of API MPMS 11.1 (2004), in the units of a record. */
#define FLC_VOLUME_T_LOW_DEGC ((-58.0 - 32.0) / 1.8)
#define FLC_VOLUME_T_HIGH_DEGC ((302.0 - 32.0) / 1.8)
#define FLC_VOLUME_P_HIGH_KPAG (1500.0 * FLC_PETROLEUM_2004_KPA_PER_PSI)

/* Ranges of any record, whatever its liquid. */
#define FLC_RECORD_T_LOW_DEGC (-200.0)
#define FLC_RECORD_T_HIGH_DEGC 600.0
#define FLC_RECORD_P_LOW_KPAG (-101.4)
#define FLC_RECORD_P_HIGH_KPAG 100000.0
#define FLC_FACTOR_LOW 0.9 /* of a densitometer */
#define FLC_FACTOR_HIGH 1.1
#define FLC_OBSERVED_LOW_KGM3 300.0
#define FLC_OBSERVED_HIGH_KGM3 1500.0
#define FLC_NU_LOW_MM2S 0.01 /* of a measured viscosity */
#define FLC_NU_HIGH_MM2S 2e7

/* Points of one liquid with the D341 line between each two of them. */
typedef struct flc_viscosity_table {
    size_t count;
    double t_degc[FLC_LIQUID_POINTS], nu_mm2s[FLC_LIQUID_POINTS];
    flc_d341_line line[FLC_LIQUID_POINTS]; /* line i: from point i to the next, or through the only point */
    double t_low_degc, t_high_degc;        /* where they hold without a policy */
    double rho_base_kgm3;
} flc_viscosity_table;

/** The line that covers a temperature: the last whose first point is not above it. */
static inline size_t flc_viscosity_line_of(const flc_viscosity_table *table, double t_degc)
{
    size_t line = 0;
    while (line + 2 < table->count && t_degc >= table->t_degc[line + 1]) {
        line++;
    }
    return line;
}

/* Temperatures and base densities of plain records (meter_plain.c); low above high where a liquid has none. */
typedef struct flc_plain_ranges {
    double t_low_degc, t_high_degc, rho_low_kgm3, rho_high_kgm3;
} flc_plain_ranges;

struct flc_liquid {
    char name[FLC_LIQUID_NAME];
    char nu_source[FLC_LIQUID_SOURCE];
    flc_liquid_options options; /* its pointers point into this block */
    flc_viscosity_table first, second;
    uint32_t viscosity_flags; /* those that every viscosity of it carries */
    flc_volume_plan volume;   /* programs NULL where liquid_volume.c goes its direct way */
    flc_viscosity_plan nu_plan;
    flc_plain_ranges plain;
    double coefficient[FLC_LIQUID_COEFFICIENTS];
    double table_t[FLC_LIQUID_TABLE], table_p[FLC_LIQUID_TABLE], table_rho[FLC_LIQUID_TABLE];
};

/** Judge what the volume method of the options needs; the error names the field. */
flc_status flc_liquid_check_volume(const flc_liquid_options *options, flc_error *error);

/** Set the fields that the volume method does not use to what flc_liquid_options_init gives. */
void flc_liquid_keep_volume(flc_liquid_options *options);

/** Judge a viscosity model, a blend and the pressure on a viscosity; and clear what is not used. */
flc_status flc_liquid_check_model(const flc_liquid_options *options, flc_error *error);
void flc_liquid_keep_model(flc_liquid_options *options);

/** Is the viscosity read off D341 lines, or given, alone? */
static inline int flc_liquid_nu_is_direct(const flc_liquid *liquid)
{
    return liquid->nu_plan.model == NULL && liquid->nu_plan.pressure == NULL &&
           liquid->options.viscosity != FLC_VISCOSITY_BLEND;
}

/** Do the options need the second edition of the canonical form: do they say anything the first has no place for? */
int flc_liquid_is_second_edition(const flc_liquid_options *options);

/** Where the slope of a line rests. A slope of a family is known by its value, so that its provenance is not lost where
 * a caller says only that of the points, nor in a file; any other slope rests where the points do. */
flc_provenance flc_liquid_slope_provenance(const flc_liquid_options *options);

/** Which records of the liquid are plain; once the rest of it is filled. */
void flc_liquid_find_plain(flc_liquid *liquid);

/** Fill the tables of a liquid from its checked options. */
void flc_liquid_build_tables(flc_liquid *liquid);

/* A volume correction with every intermediate, for explain. */
typedef struct flc_volume_trace {
    flc_volume_factors factors;
    double rho_observed_kgm3;          /* after the densitometer factor; NaN where the base density was given */
    flc_petroleum_2004_steps at_meter; /* at t, p of the meter, from rho60; for the direct way */
    flc_volume_run run;                /* for a liquid with a plan */
} flc_volume_trace;

/* What a record says to a volume correction. */
typedef struct flc_volume_input {
    const flc_density *density;
    double t_degc, p_kpag; /* at the meter, after the negative-pressure policy */
    double pe_kpa;         /* measured vapour pressure; NaN */
} flc_volume_input;

flc_status flc_liquid_volume_trace(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                   flc_error *error);

/** The same for a liquid with a plan. */
flc_status flc_liquid_planned_volume(const flc_liquid *liquid, const flc_volume_input *in, flc_volume_trace *trace,
                                     flc_error *error);

/** Evaluate the liquid at its base where it has a density of its own: refuses a base that the method has not. */
flc_status flc_liquid_try_base(const flc_liquid *liquid, flc_error *error);

/** Judge an observed density, the densitometer's temperature and factor, and its pressure by the policy. */
flc_status flc_liquid_check_observed(const flc_liquid *liquid, const flc_density *density, double *p_used_kpag,
                                     uint32_t *flags, flc_error *error);

/* A viscosity with its lines, for explain. */
typedef struct flc_viscosity_trace {
    double nu_mm2s;
    int lines; /* lines used: 0, 1, or 2 between two liquids */
    flc_d341_line first, second;
    double share; /* of the second liquid, 0 to 1; NaN where there is none */
    double w;     /* W at the temperature; NaN without lines */
    double nu_first_mm2s, nu_second_mm2s; /* of the parts of a blend; NaN */
    double nu_line_mm2s;                  /* before the pressure */
    uint32_t flags;
    flc_volume_run run; /* of a model, and of the pressure */
} flc_viscosity_trace;

/* What a record says to a viscosity. */
typedef struct flc_viscosity_input {
    double t_degc, p_kpag, nu_given_mm2s;
    const flc_volume_trace *volume; /* with the density at base, and the composition */
} flc_viscosity_input;

flc_status flc_liquid_viscosity_trace(const flc_liquid *liquid, const flc_viscosity_input *in,
                                      flc_viscosity_trace *trace, flc_error *error);

/** The pressure after the negative-pressure policy, with its flag; FLC_E_NEGATIVE_PRESSURE where it refuses. */
flc_status flc_liquid_pressure(const flc_liquid *liquid, double p_kpag, const char *argument, double *p_used_kpag,
                               uint32_t *flags, flc_error *error);

#endif
