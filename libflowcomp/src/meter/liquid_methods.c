/* SPDX-License-Identifier: Apache-2.0 */
/* The published methods that a liquid rests on. */
#include "liquid_core.h"

FLC_USES(ctl60_petroleum_2004);
FLC_USES(ctl15_petroleum_2004);
FLC_USES(ctl20_petroleum_2004);
FLC_USES(cpl60_petroleum_2004);
FLC_USES(cpl15_petroleum_2004);
FLC_USES(cpl20_petroleum_2004);
FLC_USES(nu_d341_ab);

#define FOUND_MAX 24

typedef struct found {
    const flc_method_info *method[FOUND_MAX];
    size_t count;
} found;

/* Each once. */
static void add(found *list, const flc_method_row *row)
{
    for (size_t i = 0; i < list->count; i++) {
        if (list->method[i] == &row->info) {
            return;
        }
    }
    if (list->count < FOUND_MAX) {
        list->method[list->count++] = &row->info;
    }
}

static void add_program(found *list, const flc_volume_step *program)
{
    for (const flc_volume_step *step = program; step != NULL && step->to != SLOT_END; step++) {
        if (step->row != NULL) {
            add(list, step->row);
        }
    }
}

static void add_volume(found *list, const flc_liquid *liquid)
{
    static const flc_method_row *const direct[][2] = {
        [FLC_PETROLEUM_BASE_60F] = {&flc_row_ctl60_petroleum_2004, &flc_row_cpl60_petroleum_2004},
        [FLC_PETROLEUM_BASE_15C] = {&flc_row_ctl15_petroleum_2004, &flc_row_cpl15_petroleum_2004},
        [FLC_PETROLEUM_BASE_20C] = {&flc_row_ctl20_petroleum_2004, &flc_row_cpl20_petroleum_2004},
    };
    const flc_volume_plan *plan = &liquid->volume;
    if (plan->ctl == NULL && liquid->options.volume == FLC_VOLUME_PETROLEUM_2004) {
        add(list, direct[liquid->options.base][0]);
        add(list, direct[liquid->options.base][1]);
        return;
    }
    add_program(list, plan->ctl);
    add_program(list, plan->cpl);
    add_program(list, plan->own);
    add_program(list, plan->from_base);
    add_program(list, plan->under_pressure != NULL ? plan->under_pressure : plan->from_observed);
    add_program(list, flc_vapour_program(liquid->options.vapour));
}

const flc_method_info *flc_liquid_method_at(const flc_liquid *liquid, size_t place)
{
    if (liquid == NULL) {
        return NULL;
    }
    found list = {{NULL}, 0};
    add_volume(&list, liquid);
    if (liquid->options.viscosity != FLC_VISCOSITY_MEASURED) {
        add(&list, &flc_row_nu_d341_ab);
    }
    return place < list.count ? list.method[place] : NULL;
}

int flc_liquid_edition(const flc_liquid *liquid)
{
    return liquid == NULL ? 0 : flc_liquid_is_second_edition(&liquid->options) ? 2 : 1;
}
