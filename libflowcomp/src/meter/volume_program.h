/* SPDX-License-Identifier: Apache-2.0 */
/* Volume corrections as short programs. A method of correction is a list of steps, each a published method or one line
 * of arithmetic, that read and write named numbers (slots). One interpreter runs them: evaluation, explain and the list
 * of methods in a liquid file read the same steps, so they cannot disagree. */
#ifndef FLC_VOLUME_PROGRAM_H
#define FLC_VOLUME_PROGRAM_H

#include "flowcomp/liquid.h"
#include "method.h"

/* Conditions that a step is run at. */
typedef enum flc_point { FLC_AT_METER = 0, FLC_AT_BASE = 1, FLC_AT_DENSITOMETER = 2 } flc_point;

/* The numbers of a program. Those of conditions hold for the point that is being worked on. */
typedef enum flc_slot {
    SLOT_END = 0,
    /* conditions of the point, and those of the base at every point */
    SLOT_T_DEGC,
    SLOT_T_DEGF,
    SLOT_T_K,
    SLOT_TB_DEGC,
    SLOT_TB_DEGF,
    SLOT_TB_K,
    SLOT_P_KPAG,
    SLOT_P_PSI,
    SLOT_P_PSI_2004,
    SLOT_P_BAR,
    SLOT_P_KPAA,
    SLOT_P_MPAA,
    SLOT_PB_KPAG,
    SLOT_ATM_KPAA,
    SLOT_ATM_MPAA,
    /* vapour pressure at the point */
    SLOT_PE_KPAA,
    SLOT_PE_KPAG,
    SLOT_PE_PSI,
    SLOT_DP_PSI,
    SLOT_PE378,
    SLOT_PE_SLOPE,
    SLOT_PE_A,
    SLOT_PE_B,
    SLOT_PE_C,
    /* density */
    SLOT_RHO_OBS,
    SLOT_RHO0,
    SLOT_RHO_BASE,
    SLOT_RHO15,
    SLOT_RHO60,
    SLOT_RD,
    SLOT_RD60,
    SLOT_RHO_T,
    SLOT_RHO_TB,
    SLOT_RHO_TP,
    /* the liquid */
    SLOT_GROUP,
    SLOT_ALPHA60,
    SLOT_ALPHA15,
    SLOT_AROMATIC,
    SLOT_SATURATED,
    SLOT_COSTALD,
    SLOT_PC,
    SLOT_PERCENT,
    SLOT_W,
    SLOT_S_PSU,
    SLOT_X_C1,
    SLOT_X_C2,
    SLOT_X_C3,
    SLOT_X_NC4,
    SLOT_X_IC4,
    SLOT_X_NC5,
    SLOT_X_IC5,
    SLOT_X_NC6,
    SLOT_X_N2,
    SLOT_POLY_LOW,
    SLOT_POLY_HIGH,
    SLOT_F_PER_KPA,
    SLOT_KAPPA,
    /* factors */
    SLOT_CTL_T,
    SLOT_CTL_B,
    SLOT_CTL,
    SLOT_CPL,
    /* numbers that never change */
    SLOT_ABSENT,
    SLOT_ZERO,
    SLOT_FIFTEEN,
    /* lists of the liquid */
    SLOT_LIST_C,
    SLOT_LIST_T,
    SLOT_LIST_P,
    SLOT_LIST_RHO,
    FLC_SLOTS
} flc_slot;

/* Where a slot's number comes from. */
typedef enum flc_slot_origin {
    FLC_SLOT_STEP = 0,  /* result of a step */
    FLC_SLOT_RECORD,    /* given with the record */
    FLC_SLOT_CONVERTED, /* the same in another unit */
    FLC_SLOT_FILE,      /* of the liquid file */
    FLC_SLOT_CONSTANT
} flc_slot_origin;

typedef struct flc_slot_info {
    const char *symbol[3]; /* at the meter, at base, at the densitometer */
    const char *quantity, *unit;
    const char *equation; /* of a converted one */
    flc_slot_origin origin;
    const char *argument[3];                  /* what an error calls it; NULL: the density that was given */
    double (*back)(double value, double atm); /* to the unit of that argument; NULL: the same */
} flc_slot_info;

extern const flc_slot_info flc_slot_infos[FLC_SLOTS];

#define FLC_STEP_ARGUMENTS 16

typedef struct flc_volume_step {
    const flc_method_row *row;                                   /* a published method; NULL: arithmetic */
    flc_status (*arithmetic)(const double *slot, double *value); /* with its equation */
    const char *equation;
    unsigned char to;
    unsigned char from[FLC_STEP_ARGUMENTS]; /* in the order of the row's arguments; closed by SLOT_END */
} flc_volume_step;

/* Rows of a program; it ends with FLC_PROGRAM_END. */
#define FLC_BY(to, method, ...)              \
    {                                        \
        &flc_row_##method, NULL, NULL, (to), \
        {                                    \
            __VA_ARGS__                      \
        }                                    \
    }
#define FLC_AS(to, function, equation, ...) \
    {                                       \
        NULL, (function), (equation), (to), \
        {                                   \
            __VA_ARGS__                     \
        }                                   \
    }
#define FLC_PROGRAM_END             \
    {                               \
        NULL, NULL, NULL, SLOT_END, \
        {                           \
            SLOT_END                \
        }                           \
    }
#define FLC_USES(method) extern const flc_method_row flc_row_##method

typedef enum flc_density_need {
    FLC_DENSITY_NEEDED = 0, /* by the method, from every record */
    FLC_DENSITY_OPTIONAL,   /* the method goes without */
    FLC_DENSITY_OWN         /* the liquid has its own */
} flc_density_need;

/* How one liquid is taken to its base. The programs, in the order they run:
 *   own            at base: density (and what else is fixed) where the record has none
 *   from_observed  at the densitometer, from the density without pressure (RHO0), to RHO_BASE
 *   under_pressure the same from the observed density itself; takes the place of from_observed
 *   from_base      at base, from RHO_BASE: what ctl and cpl need of it
 *   ctl, cpl       at the meter */
typedef struct flc_volume_plan {
    flc_density_need density;
    const flc_volume_step *own, *from_observed, *under_pressure, *from_base, *ctl, *cpl;
    int cpl_needs_density; /* so that RHO0 cannot be had from it */
    unsigned allows;       /* 1 << flc_compressibility, several */
} flc_volume_plan;

/* Kind of base: tables are printed for three. */
typedef enum flc_base_kind { FLC_KIND_60F, FLC_KIND_15C, FLC_KIND_20C, FLC_KIND_ANY } flc_base_kind;
flc_base_kind flc_base_kind_of(const flc_liquid_options *options);

/** Temperature of the base, °C. */
double flc_base_degc_of(const flc_liquid_options *options);

/** The plan of the options' volume method; programs NULL where the method is none, or API MPMS 11.1 (2004) at one of
 *  its own bases, which liquid_volume.c evaluates directly. Choices in the options may still be wrong. */
void flc_volume_plan_of(const flc_liquid_options *options, flc_volume_plan *plan);

/* Parts of flc_volume_plan_of, by family. */
void flc_plan_petroleum_2004(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_petroleum_1980(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_light_ends(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_aromatics(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_fame(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_ethanol(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_water(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_seawater(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_produced_water(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_glycol(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_lng(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_saturated(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_costald(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_polynomial(const flc_liquid_options *options, flc_volume_plan *plan);
void flc_plan_density_table(const flc_liquid_options *options, flc_volume_plan *plan);

/** The program that gives PE_KPAG and the like at a point; NULL where the liquid has no vapour pressure. */
const flc_volume_step *flc_vapour_program(flc_vapour_pressure vapour);

/* Arithmetic that several families share. */
flc_status flc_ctl_quotient(const double *slot, double *value);      /* CTL_T / CTL_B */
flc_status flc_ctl_of_densities(const double *slot, double *value);  /* RHO_T / RHO_TB */
flc_status flc_cpl_of_densities(const double *slot, double *value);  /* RHO_TP / RHO_T */
flc_status flc_rho_base_by_ctl(const double *slot, double *value);   /* RHO0 / CTL */
flc_status flc_rho15_is_rho_base(const double *slot, double *value); /* RHO_BASE */
flc_status flc_rho_base_is_rho15(const double *slot, double *value); /* RHO15 */
flc_status flc_dp_psi(const double *slot, double *value);            /* P_PSI - max(PE_PSI, 0) */

/* One step that was run. */
typedef struct flc_volume_done {
    const flc_volume_step *step;
    flc_point point;
    double value;
} flc_volume_done;

#define FLC_DONE_MAX 32 /* more than any plan runs */

/* A program under way. */
typedef struct flc_volume_run {
    const flc_liquid_options *liquid;
    flc_point point;
    uint32_t flags;
    double given_kgm3; /* density of the record, for errors; its name: */
    const char *given_name;
    double slot[FLC_SLOTS];
    double condition[3][2]; /* t and p of each point, for explain */
    size_t count;
    flc_volume_done done[FLC_DONE_MAX];
} flc_volume_run;

/** Start a run: the slots of the liquid. */
void flc_run_start(flc_volume_run *run, const flc_liquid_options *liquid);

/** Put the conditions of a point into their slots. */
void flc_run_at(flc_volume_run *run, flc_point point, double t_degc, double p_kpag);

/** Run a program (NULL: nothing to do) at the point; the error is in the words of the record. */
flc_status flc_run_program(flc_volume_run *run, const flc_volume_step *program, flc_error *error);

/** Number of a converted slot, from the conditions of a point. */
double flc_slot_converted(flc_slot slot, double t_degc, double p_kpag, double atm_kpaa);

#endif
