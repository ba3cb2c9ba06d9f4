/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a meter, and one evaluation with everything it went through. The public evaluation, the batch and explain all
 * read the same trace, so they cannot disagree in a bit. */
#ifndef FLC_METER_CORE_H
#define FLC_METER_CORE_H

#include "flowcomp/meter.h"
#include "curve_core.h"
#include "liquid_core.h"
#include "meter_body_core.h"

#define FLC_METER_NAME 48

#define FLC_F_MAX 1e6                         /* Hz */
#define FLC_PULSES_MAX 9007199254740992.0     /* 2^53 */
#define FLC_DURATION_LOW_S 1e-9
#define FLC_DURATION_HIGH_S 1e9

struct flc_meter {
    char name[FLC_METER_NAME];
    flc_meter_options options;
    flc_body_options body_options;
    flc_body_model body;
    double k_per_st; /* K of St = 1 with the body as at T0 and P0, pulses/m3 */
    flc_curve *curve;
};

/** m3 per pulse, 1/K, from St and what the body takes off K (flc_body_k_fall). Flow and volume are products with it: one
 *  division for both. */
static inline double flc_meter_volume_per_pulse(const flc_meter *meter, double st, double k_fall)
{
    return k_fall / (st * meter->k_per_st);
}

/* How far an evaluation came. */
typedef enum flc_stage {
    FLC_STAGE_INPUT = 0,
    FLC_STAGE_FREQUENCY,
    FLC_STAGE_VOLUME_FACTORS,
    FLC_STAGE_VISCOSITY,
    FLC_STAGE_BODY,
    FLC_STAGE_CURVE,
    FLC_STAGE_RESULT
} flc_stage;

typedef struct flc_trace {
    const flc_reading *reading; /* the caller's */
    flc_result *result;         /* the caller's, written as the stages go */
    flc_stage reached; /* the last stage that was completed */
    int has_flow;      /* 0: no pulses, or under the cut-off: nothing to evaluate */
    double f_mean_hz;  /* over the whole window, or the frequency given */
    double p_used_kpag;
    flc_volume_trace volume;
    flc_viscosity_trace viscosity;
    flc_body_state body;
    flc_curve_value curve;
    double f_bound_hz; /* highest frequency that partial flow may have had; NaN where none is suspected */
} flc_trace;

/** Evaluate one record; the status is also in result->status. The trace points at reading and result. */
flc_status flc_meter_trace(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                           flc_result *result, flc_trace *trace, flc_error *error);

#endif
