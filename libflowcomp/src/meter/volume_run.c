/* SPDX-License-Identifier: Apache-2.0 */
/* Running the steps of a volume correction. */
#include "volume_program.h"
#include "error.h"
#include <string.h>

static void take_composition(double *slot, const flc_liquid_options *liquid)
{
    const flc_lng_composition *x = &liquid->lng;
    slot[SLOT_X_C1] = x->x_c1;
    slot[SLOT_X_C2] = x->x_c2;
    slot[SLOT_X_C3] = x->x_c3;
    slot[SLOT_X_NC4] = x->x_nc4;
    slot[SLOT_X_IC4] = x->x_ic4;
    slot[SLOT_X_NC5] = x->x_nc5;
    slot[SLOT_X_IC5] = x->x_ic5;
    slot[SLOT_X_NC6] = x->x_nc6;
    slot[SLOT_X_N2] = x->x_n2;
    slot[SLOT_W] = liquid->mass_fraction;
    slot[SLOT_S_PSU] = liquid->salinity_psu;
}

static void take_base(double *slot, const flc_liquid_options *liquid)
{
    const double t_base = flc_base_degc_of(liquid);
    slot[SLOT_TB_DEGC] = t_base;
    slot[SLOT_TB_DEGF] =
        flc_base_kind_of(liquid) == FLC_KIND_60F ? 60.0 : flc_slot_converted(SLOT_T_DEGF, t_base, 0.0, 0.0);
    slot[SLOT_TB_K] = flc_slot_converted(SLOT_T_K, t_base, 0.0, 0.0);
    slot[SLOT_PB_KPAG] = liquid->p_base_kpag;
    slot[SLOT_ATM_KPAA] = liquid->p_atmospheric_kpa;
    slot[SLOT_ATM_MPAA] = liquid->p_atmospheric_kpa / 1000.0;
}

void flc_run_start(flc_volume_run *run, const flc_liquid_options *liquid)
{
    double *slot = run->slot;
    run->liquid = liquid;
    run->flags = 0;
    run->count = 0;
    run->given_kgm3 = flc_nan();
    run->given_name = "rho_base_kgm3";
    for (size_t i = 0; i < FLC_SLOTS; i++) {
        slot[i] = flc_nan();
    }
    take_base(slot, liquid);
    take_composition(slot, liquid);
    slot[SLOT_GROUP] = (double)liquid->product.group;
    slot[SLOT_ALPHA60] = liquid->product.alpha60_per_degf;
    slot[SLOT_ALPHA15] = liquid->alpha15_per_degc;
    slot[SLOT_AROMATIC] = (double)liquid->aromatic;
    slot[SLOT_SATURATED] = (double)liquid->saturated;
    slot[SLOT_COSTALD] = (double)liquid->costald;
    slot[SLOT_PC] = liquid->pc_kpa;
    slot[SLOT_POLY_LOW] = liquid->polynomial.t_low;
    slot[SLOT_POLY_HIGH] = liquid->polynomial.t_high;
    slot[SLOT_F_PER_KPA] = liquid->f_per_kpa;
    slot[SLOT_PE378] = liquid->pe378_kpa;
    slot[SLOT_PE_SLOPE] = liquid->vapour_slope_k;
    slot[SLOT_PE_A] = liquid->vapour_a;
    slot[SLOT_PE_B] = liquid->vapour_b;
    slot[SLOT_PE_C] = liquid->vapour_c;
    slot[SLOT_ZERO] = 0.0;
    slot[SLOT_FIFTEEN] = 15.0;
}

void flc_run_at(flc_volume_run *run, flc_point point, double t_degc, double p_kpag)
{
    run->point = point;
    run->condition[point][0] = t_degc;
    run->condition[point][1] = p_kpag;
    static const unsigned char of_point[] = {SLOT_T_DEGC,     SLOT_T_DEGF, SLOT_T_K,    SLOT_P_KPAG, SLOT_P_PSI,
                                             SLOT_P_PSI_2004, SLOT_P_BAR,  SLOT_P_KPAA, SLOT_P_MPAA};
    for (size_t i = 0; i < FLC_COUNT_OF(of_point); i++) {
        run->slot[of_point[i]] =
            flc_slot_converted((flc_slot)of_point[i], t_degc, p_kpag, run->liquid->p_atmospheric_kpa);
    }
    if (point == FLC_AT_BASE) { /* 60 degF is no decimal in degC */
        run->slot[SLOT_T_DEGF] = run->slot[SLOT_TB_DEGF];
    }
}

static flc_value list_of(const flc_liquid_options *liquid, unsigned slot)
{
    const flc_density_table *table = &liquid->table;
    flc_value value = {flc_nan(), liquid->polynomial.c, liquid->polynomial.count};
    if (slot != SLOT_LIST_C) {
        value.list = slot == SLOT_LIST_T ? table->t_degc : slot == SLOT_LIST_P ? table->p_kpag : table->rho_kgm3;
        value.count = table->count;
    }
    return value;
}

/* Which argument of the record a refusal is about: the one that the method names; where the formula refused, the
 * density that was given, or else the temperature. */
static unsigned blamed(const flc_volume_step *step, flc_status status, const char *argument)
{
    const flc_method_info *info = &step->row->info;
    unsigned temperature = SLOT_T_DEGC, density = SLOT_END;
    for (size_t i = 0; i < info->argument_count; i++) {
        const unsigned slot = step->from[i];
        const int is_list = slot >= SLOT_LIST_C;
        if (strcmp(info->arguments[i].name, argument) == 0 ||
            (is_list && (status == FLC_E_ORDER || status == FLC_E_COUNT))) {
            return slot;
        }
        if (slot == SLOT_T_DEGF || slot == SLOT_T_K) {
            temperature = slot;
        }
        if (slot >= SLOT_RHO_OBS && slot <= SLOT_RD60) {
            density = slot;
        }
    }
    return density != SLOT_END ? density : temperature;
}

static flc_status refuse(const flc_volume_run *run, const flc_volume_step *step, flc_status status, flc_error *error)
{
    if (error == NULL) {
        return status;
    }
    const unsigned slot = blamed(step, status, error->argument);
    const flc_slot_info *info = &flc_slot_infos[slot];
    const double atm = run->liquid->p_atmospheric_kpa;
    const double limit = error->limit;
    const char *method = step->row->info.name;
    if (info->argument[run->point] == NULL) { /* some form of the density: what the record gave */
        const int same = slot == SLOT_RHO_OBS || (slot == SLOT_RHO_BASE && run->given_name[4] == 'b');
        return flc_fail(error, status, run->given_name, -1, run->given_kgm3, same ? limit : flc_nan(), method);
    }
    const double value = run->slot[slot];
    return flc_fail(error, status, info->argument[run->point], error->index,
                    info->back != NULL ? info->back(value, atm) : value,
                    info->back != NULL ? info->back(limit, atm) : limit, method);
}

static flc_status run_method(flc_volume_run *run, const flc_volume_step *step, double *value, flc_error *error)
{
    const flc_method_info *info = &step->row->info;
    flc_value values[FLC_STEP_ARGUMENTS];
    for (size_t i = 0; i < info->argument_count; i++) {
        const unsigned slot = step->from[i];
        values[i] = slot >= SLOT_LIST_C ? list_of(run->liquid, slot) : (flc_value){run->slot[slot], NULL, 0};
    }
    const flc_status status = flc_method_call(info, values, info->argument_count, value, error);
    if (status != FLC_OK) {
        return refuse(run, step, status, error);
    }
    run->flags |= info->status == FLC_FROM_MEMORY ? FLC_FLAG_FROM_MEMORY : 0u;
    return FLC_OK;
}

static flc_status run_arithmetic(flc_volume_run *run, const flc_volume_step *step, double *value, flc_error *error)
{
    flc_status status = step->arithmetic(run->slot, value);
    if (status == FLC_OK && !flc_is_finite(*value)) {
        status = FLC_E_DOMAIN;
    }
    if (status != FLC_OK) {
        const char *name = flc_slot_infos[step->from[0]].argument[run->point];
        return flc_fail(error, status, name != NULL ? name : run->given_name, -1, run->slot[step->from[0]], flc_nan(),
                        flc_slot_infos[step->to].quantity);
    }
    return FLC_OK;
}

flc_status flc_run_program(flc_volume_run *run, const flc_volume_step *program, flc_error *error)
{
    for (const flc_volume_step *step = program; step != NULL && step->to != SLOT_END; step++) {
        double value = flc_nan();
        const flc_status status =
            step->row != NULL ? run_method(run, step, &value, error) : run_arithmetic(run, step, &value, error);
        if (status != FLC_OK) {
            return status;
        }
        run->slot[step->to] = value;
        if (run->count < FLC_DONE_MAX) {
            run->done[run->count++] = (flc_volume_done){step, run->point, value};
        }
    }
    return FLC_OK;
}
