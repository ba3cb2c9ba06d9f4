/* SPDX-License-Identifier: Apache-2.0 */
/* Collecting the steps of a trace. */
#ifndef FLC_EXPLAIN_CORE_H
#define FLC_EXPLAIN_CORE_H

#include "flowcomp/explain.h"
#include "meter_core.h"

#define FLC_STEPS_MAX 160 /* more than any evaluation has */

typedef struct flc_steps {
    flc_step *step;
    size_t capacity;
    size_t count; /* steps there are, also those that found no room */
} flc_steps;

void flc_steps_add(flc_steps *steps, flc_step step);
void flc_steps_of(const flc_meter *meter, const flc_liquid *liquid, const flc_trace *trace, flc_steps *steps);

/** The steps of a volume correction that ran as a program. */
void flc_explain_plan(const flc_volume_trace *trace, flc_steps *steps);

#endif
