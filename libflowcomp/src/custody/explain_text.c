/* SPDX-License-Identifier: Apache-2.0 */
/* The steps as text: a line per step, then the verdict and what a reader should know of it. */
#include "explain_core.h"
#include "error.h"
#include "fp_guard.h"
#include "text.h"

#define DIGITS 17 /* enough to get the very double back */

static void write_flags(flc_text *text, uint32_t flags)
{
    for (unsigned bit = 0; flc_flag_word(bit) != NULL; bit++) {
        if (flags & (UINT32_C(1) << bit)) {
            flc_text_add(text, " !");
            flc_text_add(text, flc_flag_word(bit));
        }
    }
}

static void write_step(flc_text *text, size_t number, const flc_step *step)
{
    flc_text_add_integer(text, (int64_t)number);
    flc_text_pad(text, 4);
    flc_text_add(text, step->symbol);
    flc_text_pad(text, 13);
    flc_text_add(text, "= ");
    flc_text_add_number(text, step->value, DIGITS);
    flc_text_add(text, " ");
    flc_text_add(text, step->unit);
    flc_text_pad(text, 47);
    flc_text_add(text, step->quantity);
    flc_text_add(text, ": ");
    flc_text_add(text, step->equation);
    flc_text_add(text, "  [");
    flc_text_add(text, step->method);
    if (step->edition[0] != '\0') {
        flc_text_add(text, " ");
        flc_text_add(text, step->edition);
    }
    if (step->clause[0] != '\0') {
        flc_text_add(text, ", ");
        flc_text_add(text, step->clause);
    }
    flc_text_add(text, "; ");
    flc_text_add(text, flc_provenance_text(step->status));
    flc_text_add(text, "]");
    write_flags(text, step->flags);
    flc_text_add(text, "\n");
}

static void write_verdict(flc_text *text, const flc_trace *trace, const flc_error *error)
{
    if (trace->result->status != FLC_OK) {
        flc_text_add(text, "refused: ");
        flc_text_add(text, error->message);
        flc_text_add(text, "\n");
    }
    for (unsigned bit = 0; flc_flag_word(bit) != NULL; bit++) {
        if (trace->result->flags & (UINT32_C(1) << bit)) {
            flc_text_add(text, "flag ");
            flc_text_add(text, flc_flag_word(bit));
            flc_text_add(text, ": ");
            flc_text_add(text, flc_flag_text(bit));
            flc_text_add(text, "\n");
        }
    }
    flc_text_add(text, "A recomputed figure is a claim until both parties agree; the contract's method decides.\n");
}

flc_status flc_explain_text(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, char *text,
                            size_t size, size_t *needed)
{
    if (text != NULL && size > 0) {
        text[0] = '\0';
    }
    if (needed == NULL || meter == NULL || liquid == NULL || reading == NULL || (text == NULL && size > 0)) {
        return FLC_E_NULL;
    }
    *needed = 0;
    if (reading->size != sizeof *reading) {
        return FLC_E_SIZE;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_error error;
    flc_error_clear(&error);
    flc_result result;
    flc_trace trace;
    flc_status status = flc_meter_trace(meter, liquid, reading, &result, &trace, &error);
    flc_step step[FLC_STEPS_MAX];
    flc_steps steps = {step, FLC_STEPS_MAX, 0};
    flc_steps_of(meter, liquid, &trace, &steps);
    flc_text out = flc_text_start(text, size);
    for (size_t i = 0; i < steps.count && i < steps.capacity; i++) {
        write_step(&out, i + 1, &step[i]);
    }
    write_verdict(&out, &trace, &error);
    *needed = out.needed;
    if (out.needed >= size) {
        status = FLC_E_BUFFER;
    }
    flc_fp_leave(fp);
    return status;
}
