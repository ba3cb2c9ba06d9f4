/* SPDX-License-Identifier: Apache-2.0 */
/* The steps of a volume correction that ran as a program: each with the numbers it read, where they are new. */
#include "explain_core.h"
#include "error.h"

/* What was said already: by point, and for numbers that hold at every point. */
typedef struct said {
    unsigned char of_point[3][FLC_SLOTS];
} said;

static int is_result(const flc_volume_run *run, size_t before, unsigned slot)
{
    for (size_t i = 0; i < before; i++) {
        if (run->done[i].step->to == slot) {
            return 1;
        }
    }
    return 0;
}

/* A choice is shown by its number and its word. */
static const char *word_of(const flc_volume_step *step, size_t place, double value, const char *otherwise)
{
    if (step->row == NULL) {
        return otherwise;
    }
    const flc_method_argument *argument = &step->row->info.arguments[place];
    return argument->kind == FLC_ARGUMENT_CHOICE && value >= 0.0 ? argument->choices[(size_t)value] : otherwise;
}

static void list(flc_steps *steps, const flc_volume_run *run, unsigned slot)
{
    static const char *const coefficient[] = {"c0", "c1", "c2", "c3", "c4", "c5", "c6", "c7", "c8", "c9", "c10", "c11"};
    const flc_volume_polynomial *polynomial = &run->liquid->polynomial;
    if (slot == SLOT_LIST_C) {
        for (size_t i = 0; i < polynomial->count; i++) {
            const flc_step step = {coefficient[i],
                                   "coefficient",
                                   polynomial->c[i],
                                   "1",
                                   "of the liquid file",
                                   "input",
                                   "",
                                   "",
                                   FLC_USER_GIVEN,
                                   0};
            flc_steps_add(steps, step);
        }
    } else if (slot == SLOT_LIST_RHO) {
        const flc_step step = {"n",
                               "densities in the table",
                               (double)run->liquid->table.count,
                               "1",
                               "of the liquid file",
                               "input",
                               "",
                               "",
                               FLC_USER_GIVEN,
                               0};
        flc_steps_add(steps, step);
    }
}

static double condition(const flc_volume_run *run, unsigned slot, flc_point point)
{
    if (slot == SLOT_T_DEGF && point == FLC_AT_BASE) {
        return run->slot[SLOT_TB_DEGF];
    }
    return flc_slot_converted((flc_slot)slot, run->condition[point][0], run->condition[point][1],
                              run->liquid->p_atmospheric_kpa);
}

static void converted(flc_steps *steps, const flc_volume_run *run, unsigned slot, flc_point point, double observed)
{
    const flc_slot_info *info = &flc_slot_infos[slot];
    const int is_density = slot == SLOT_RHO_OBS;
    if (is_density && point == FLC_AT_BASE) {
        return; /* the base density of the record, an input */
    }
    const double value = is_density ? observed : condition(run, slot, point);
    const flc_step step = {
        info->symbol[point], info->quantity, value, info->unit, info->equation, "unit", "", "", FLC_COMPUTED, 0};
    flc_steps_add(steps, step);
}

/* The numbers that a step reads, where they have not been shown. */
static void reads(flc_steps *steps, const flc_volume_run *run, size_t place, double observed, said *shown)
{
    const flc_volume_done *done = &run->done[place];
    const flc_volume_step *step = done->step;
    for (size_t i = 0; i < FLC_STEP_ARGUMENTS && step->from[i] != SLOT_END; i++) {
        const unsigned slot = step->from[i];
        const flc_slot_info *info = &flc_slot_infos[slot];
        const flc_point point = info->origin == FLC_SLOT_FILE ? FLC_AT_METER : done->point;
        if (shown->of_point[point][slot] || is_result(run, place, slot)) {
            continue;
        }
        shown->of_point[point][slot] = 1;
        const double value = run->slot[slot];
        if (slot >= SLOT_LIST_C) {
            list(steps, run, slot);
        } else if (info->origin == FLC_SLOT_CONVERTED) {
            converted(steps, run, slot, point, observed);
        } else if (info->origin == FLC_SLOT_FILE && !flc_is_nan(value)) {
            const flc_step given = {info->symbol[point],
                                    info->quantity,
                                    value,
                                    info->unit,
                                    word_of(step, i, value, info->equation),
                                    "input",
                                    "",
                                    "",
                                    FLC_USER_GIVEN,
                                    0};
            flc_steps_add(steps, given);
        }
    }
}

static void result(flc_steps *steps, const flc_volume_done *done, uint32_t flags)
{
    const flc_volume_step *step = done->step;
    const flc_slot_info *info = &flc_slot_infos[step->to];
    const flc_method_info *method = step->row != NULL ? &step->row->info : NULL;
    const flc_step shown = {info->symbol[done->point],
                            info->quantity,
                            done->value,
                            info->unit,
                            method != NULL ? method->formula : step->equation,
                            method != NULL ? method->source : "arithmetic",
                            "",
                            method != NULL ? method->name : "",
                            method != NULL ? method->status : FLC_COMPUTED,
                            flags};
    flc_steps_add(steps, shown);
}

static void factor(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit,
                   const char *equation)
{
    if (!flc_is_nan(value)) {
        const flc_step step = {symbol, quantity, value, unit, equation, "volume correction", "", "", FLC_COMPUTED, 0};
        flc_steps_add(steps, step);
    }
}

void flc_explain_plan(const flc_volume_trace *trace, flc_steps *steps)
{
    const flc_volume_run *run = &trace->run;
    const flc_volume_factors *f = &trace->factors;
    static const uint32_t vapour =
        FLC_FLAG_VAPOUR_MEASURED | FLC_FLAG_VAPOUR_LABORATORY | FLC_FLAG_VAPOUR_SUPPLIED | FLC_FLAG_VAPOUR_MARGIN;
    said shown = {{{0}}};
    for (size_t i = 0; i < run->count; i++) {
        reads(steps, run, i, trace->rho_observed_kgm3, &shown);
        const int is_vapour = run->done[i].step->to == SLOT_PE_KPAG && run->done[i].point == FLC_AT_METER;
        result(steps, &run->done[i], is_vapour ? f->flags & vapour : 0u);
    }
    const int based = run->liquid->p_base_kpag != 0.0;
    if (based) {
        factor(steps, "CPL", "pressure correction to the base pressure", f->cpl, "1", "CPL / CPL_b");
    }
    factor(steps, "rho_b", "density at base", f->rho_base_kgm3, "kg/m3",
           based ? "given, or rho_b CPL_b" : "given, or as above");
    factor(steps, "CTPL", "combined correction", f->ctpl, "1", "CTL CPL");
}
