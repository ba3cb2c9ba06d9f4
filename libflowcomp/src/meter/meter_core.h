/* SPDX-License-Identifier: Apache-2.0 */
/* Inside a meter, and one evaluation with everything it went through. The public evaluation, the batch and explain all
 * read the same trace, so they cannot disagree in a bit. */
#ifndef FLC_METER_CORE_H
#define FLC_METER_CORE_H

#include "flowcomp/meter.h"
#include "curve_core.h"
#include "liquid_core.h"
#include "meter_body_core.h"
#include "similarity_core.h"

#define FLC_METER_NAME 48

#define FLC_F_MAX 1e6                     /* Hz */
#define FLC_PULSES_MAX 9007199254740992.0 /* 2^53 */
#define FLC_DURATION_LOW_S 1e-9
#define FLC_DURATION_HIGH_S 1e9

struct flc_meter {
    char name[FLC_METER_NAME];
    flc_meter_options options;
    flc_body_options body_options;
    flc_body_model body;
    double plain_t_low_degc, plain_t_high_degc; /* of plain records: inside the ranges of both metals */
    double k_per_st;                            /* K of St = 1 with the body as at T0 and P0, pulses/m3 */
    flc_curve *curve;
};

/** m3 per pulse, 1/K, from St and what the body takes off K (flc_body_k_fall). Flow and volume are products with it:
 * one division for both. */
static inline double flc_meter_volume_per_pulse(const flc_meter *meter, double st, double k_fall)
{
    return k_fall / (st * meter->k_per_st);
}

/** Everything that follows from body and curve. f_hz, d_m, nu_mm2s and the flag reverse are in the result already. */
static inline void flc_meter_results(const flc_meter *meter, const flc_liquid *liquid, const flc_body_state *body,
                                     double st, double slope, double ctpl, double pulses, flc_result *result)
{
    const double sign = result->flags & FLC_FLAG_REVERSE ? -1.0 : 1.0;
    const int has_window = !flc_is_nan(pulses);
    const double k_fall =
        flc_body_k_fall(body->strain_housing, body->strain_rotor, body->strain_bore, meter->body.per_open);
    const double m3_per_pulse = flc_meter_volume_per_pulse(meter, st, k_fall);
    result->st = st;
    result->k_per_m3 = st * meter->k_per_st * body->b_ratio;
    result->q_m3s = sign * (result->f_hz * m3_per_pulse);
    result->re = flc_re(sign * result->q_m3s, result->d_m, result->nu_mm2s);
    result->v_m3 = has_window ? pulses * m3_per_pulse : flc_nan();
    result->q_base_m3s = result->q_m3s * ctpl;
    result->v_base_m3 = has_window ? result->v_m3 * ctpl : flc_nan();
    result->slope = slope;
    result->dlnq_dlnf = 1.0 - slope;
    result->dlnq_dlnnu = slope;
    result->dlnq_dlnd = -2.0 * slope;
    result->dlnq_dlnb = -1.0;
    result->u_v_nu = flc_fabs(slope) * liquid->options.u_nu_relative;
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
    flc_stage reached;          /* the last stage that was completed */
    int has_flow;               /* 0: no pulses, or under the cut-off: nothing to evaluate */
    double f_mean_hz;           /* over the whole window, or the frequency given */
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

/** Evaluate the record if it is plain: 1, with the bits of flc_meter_trace and without a trace; else 0. */
int flc_meter_plain(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, flc_result *result);

/** Which temperatures are plain for the body; once the rest of the meter is filled. */
void flc_meter_find_plain(flc_meter *meter);

/** Evaluate one record in whichever of the two ways is the shorter. */
flc_status flc_meter_record(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                            flc_result *result, flc_error *error);

#endif
