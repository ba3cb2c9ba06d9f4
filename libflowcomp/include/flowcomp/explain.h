/* SPDX-License-Identifier: Apache-2.0 */
/* Show the work: one evaluation as an ordered list of steps that a person can redo on paper. The values are the very
 * doubles of flc_meter_evaluate. */
#ifndef FLOWCOMP_EXPLAIN_H
#define FLOWCOMP_EXPLAIN_H

#include "flowcomp/meter.h"

FLC_BEGIN_DECLS

typedef struct flc_step {
    const char *symbol;     /* "Ro" */
    const char *quantity;   /* "Roshko number" */
    double value;           /* as used; NaN where the step gave none */
    const char *unit;       /* "1" */
    const char *equation;   /* "f D^2 / nu" */
    const char *method;     /* "API MPMS 11.1" */
    const char *edition;    /* "2004"; "" where none applies */
    const char *clause;     /* "11.1.6.1 step 5"; "" */
    flc_provenance status;  /* of the constants the step rests on */
    uint32_t flags;         /* limits met in this step */
} flc_step;

/** Steps of one evaluation.
 *  @param meter    never NULL
 *  @param liquid   never NULL
 *  @param reading  as for flc_meter_evaluate
 *  @param[out] steps  room for capacity steps, or NULL with capacity 0; the texts live as long as the meter
 *  @param capacity room
 *  @param[out] count  steps there are; with a status other than FLC_E_BUFFER those that were reached
 *  @param[out] error  detail of a refused record, or NULL
 *  @return FLC_OK; FLC_E_BUFFER (count is set, nothing written); or the status of the evaluation, with the steps up to
 *          the one that failed
 *  @since 0.1 */
FLC_API FLC_STATUS flc_explain(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                               flc_step *steps, size_t capacity, size_t *count, flc_error *error);

/** The same as text, a line per step with symbol, value, unit, equation and source.
 *  @param meter    never NULL
 *  @param liquid   never NULL
 *  @param reading  as for flc_meter_evaluate
 *  @param[out] text  room for size bytes including the final NUL, or NULL with size 0
 *  @param size     room
 *  @param[out] needed  bytes the whole text takes, without the final NUL
 *  @return FLC_OK; FLC_E_BUFFER (needed is set; what fits is written and terminated); FLC_E_NULL; or the status of the
 *          evaluation, with the text up to the step that failed and the reason
 *  @since 0.1 */
FLC_API FLC_STATUS flc_explain_text(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                                    char *text, size_t size, size_t *needed);

FLC_END_DECLS

#endif
