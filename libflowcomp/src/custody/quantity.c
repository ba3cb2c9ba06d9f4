/* SPDX-License-Identifier: Apache-2.0 */
/* A ticket: one pass from the indicated volume to mass and weight, each value rounded by the policy where it arises. */
#include "flowcomp/quantity.h"
#include "error.h"
#include "fp_guard.h"
#include "method.h"
#include "proving_core.h"
#include "quantities_core.h"
#include "rounding_core.h"
#include "struct_size.h"

static const char *const basis_words[] = {"volume_at_base", "volume_at_meter", "mass", NULL};
static const char *const air_words[] = {"conventional", "petroleum", NULL};

flc_status flc_sw_basis_from_name(const char *name, flc_sw_basis *choice)
{
    return flc_choice_from_name(basis_words, name, (int *)choice);
}

flc_status flc_air_form_from_name(const char *name, flc_air_form *choice)
{
    return flc_choice_from_name(air_words, name, (int *)choice);
}

flc_status flc_ticket_rounding_1995(flc_reporting_item volume, flc_ticket_rounding *rounding)
{
    if (rounding == NULL) {
        return FLC_E_NULL;
    }
    const flc_ticket_rounding none = {0};
    const flc_reporting_policy policy = FLC_REPORTING_API_12_2_1995;
    double decimals[4];
    *rounding = none;
    flc_status status = flc_reporting_decimals(volume, policy, FLC_BOUND_NONE, &decimals[0]);
    if (status == FLC_OK) {
        status = flc_reporting_decimals(FLC_ITEM_CTL_CPL_CTS_CPS_MF_CMF, policy, FLC_BOUND_NONE, &decimals[1]);
    }
    if (status == FLC_OK) {
        status = flc_reporting_decimals(FLC_ITEM_CCF, policy, FLC_BOUND_NONE, &decimals[2]);
    }
    if (status == FLC_OK) {
        status = flc_reporting_decimals(FLC_ITEM_CSW, policy, FLC_BOUND_NONE, &decimals[3]);
    }
    if (status == FLC_OK) {
        rounding->volume = flc_rounding_to_decimals((int32_t)decimals[0]);
        rounding->factors = flc_rounding_to_decimals((int32_t)decimals[1]);
        rounding->ccf = flc_rounding_to_decimals((int32_t)decimals[2]);
        rounding->csw = flc_rounding_to_decimals((int32_t)decimals[3]);
    }
    return status;
}

void flc_ticket_init_sized(flc_ticket *ticket, size_t own_size)
{
    const double none = flc_nan();
    const flc_ticket fresh = {.size = sizeof fresh,
                              .way = FLC_WAY_NOMINAL_K,
                              .iv = none,
                              .unit_m3 = 1.0,
                              .mf = 1.0,
                              .body_ratio = none,
                              .ctl = none,
                              .cpl = none,
                              .ctpl = none,
                              .sw_pct = 0.0,
                              .sw_basis = FLC_SW_VOLUME_AT_BASE,
                              .sw_limit_pct = 5.0,
                              .ctl_water = none,
                              .cpl_water = none,
                              .rho_base_kgm3 = none,
                              .rho_water_base_kgm3 = none,
                              .air_form = FLC_AIR_CONVENTIONAL,
                              .rho_air_kgm3 = 1.2,
                              .rho_weights_kgm3 = 8000.0};
    flc_give_sized(ticket, own_size, &fresh, sizeof fresh);
}

void flc_ticket_result_init_sized(flc_ticket_result *result, size_t own_size)
{
    flc_ticket_result fresh;
    fresh.size = sizeof fresh;
    fresh.flags = 0;
    fresh.apart = 0;
#define BLANK(name, unit, symbol, meaning, equation) fresh.name = flc_nan();
    FLC_TICKET_LIST(BLANK)
#undef BLANK
    flc_give_sized(result, own_size, &fresh, sizeof fresh);
}

/* --- checks ------------------------------------------------------------------------------------------------------- */

static int is_given(double number)
{
    return !flc_is_nan(number);
}

static flc_status check_choices(const flc_ticket *t, flc_error *error)
{
    const double none = flc_nan();
    if ((int)t->way < 0 || t->way > FLC_WAY_CURVE) {
        return flc_fail(error, FLC_E_CHOICE, "way", -1, (double)(int)t->way, FLC_WAY_CURVE, NULL);
    }
    if ((int)t->sw_basis < 0 || t->sw_basis > FLC_SW_MASS) {
        return flc_fail(error, FLC_E_CHOICE, "sw_basis", -1, (double)(int)t->sw_basis, FLC_SW_MASS, NULL);
    }
    if ((int)t->air_form < 0 || t->air_form > FLC_AIR_PETROLEUM) {
        return flc_fail(error, FLC_E_CHOICE, "air_form", -1, (double)(int)t->air_form, FLC_AIR_PETROLEUM, NULL);
    }
    if (is_given(t->ctpl) && (is_given(t->ctl) || is_given(t->cpl))) {
        return flc_fail(error, FLC_E_CONFLICT, "ctpl", -1, t->ctpl, none, "give CTL and CPL, or CTPL");
    }
    if (t->way == FLC_WAY_CURVE && is_given(t->body_ratio)) {
        return flc_fail(error, FLC_E_CONFLICT, "body_ratio", -1, t->body_ratio, none,
                        "a curve has the body on both sides already");
    }
    return FLC_OK;
}

static flc_status check_wet(const flc_ticket *t, flc_error *error)
{
    const double none = flc_nan();
    const int by_mass = t->sw_basis == FLC_SW_MASS && t->sw_pct > 0.0;
    if (t->sw_pct > t->sw_limit_pct && !is_given(t->ctl_water)) {
        return flc_fail(error, FLC_E_MISSING, "ctl_water", -1, t->sw_pct, t->sw_limit_pct,
                        "so much water cannot be corrected as oil: give the factors of the water");
    }
    if (is_given(t->ctl_water) != is_given(t->cpl_water)) {
        return flc_fail(error, FLC_E_MISSING, is_given(t->ctl_water) ? "cpl_water" : "ctl_water", -1, none, none, NULL);
    }
    if (by_mass && (!is_given(t->rho_base_kgm3) || !is_given(t->rho_water_base_kgm3))) {
        return flc_fail(error, FLC_E_MISSING, is_given(t->rho_base_kgm3) ? "rho_water_base_kgm3" : "rho_base_kgm3", -1,
                        none, none, "sediment and water by mass needs both densities");
    }
    return FLC_OK;
}

static flc_status check_ticket(const flc_ticket *t, flc_error *error)
{
    const int whole = is_given(t->ctpl);
    const flc_named_range ranges[] = {
        {"iv", t->iv, 0.0, 1e15},
        {"unit_m3", t->unit_m3, 1e-9, 1e6},
        {"mf", t->mf, FLC_MF_LOW, FLC_MF_HIGH},
        {"body_ratio", is_given(t->body_ratio) ? t->body_ratio : 1.0, 0.9, 1.1},
        {"ctl", whole ? 1.0 : t->ctl, 0.1, 2.0},
        {"cpl", whole ? 1.0 : t->cpl, 0.5, 2.0},
        {"ctpl", whole ? t->ctpl : 1.0, 0.1, 2.0},
        {"sw_pct", t->sw_pct, 0.0, 100.0},
        {"sw_limit_pct", t->sw_limit_pct, 0.0, 100.0},
        {"ctl_water", is_given(t->ctl_water) ? t->ctl_water : 1.0, 0.5, 2.0},
        {"cpl_water", is_given(t->cpl_water) ? t->cpl_water : 1.0, 0.5, 2.0},
        {"rho_base_kgm3", is_given(t->rho_base_kgm3) ? t->rho_base_kgm3 : 800.0, 100.0, 2500.0},
        {"rho_water_base_kgm3", is_given(t->rho_water_base_kgm3) ? t->rho_water_base_kgm3 : 1000.0, 900.0, 1300.0},
        {"rho_air_kgm3", t->rho_air_kgm3, 0.0, 10.0},
        {"rho_weights_kgm3", t->rho_weights_kgm3, 1000.0, 25000.0},
    };
    if (t->size != sizeof *t) {
        return flc_fail(error, FLC_E_SIZE, "ticket", -1, (double)t->size, (double)sizeof *t, NULL);
    }
    flc_status status = check_choices(t, error);
    if (status == FLC_OK) {
        status = flc_check_ranges(ranges, FLC_COUNT_OF(ranges), -1, error);
    }
    return status != FLC_OK ? status : check_wet(t, error);
}

/* --- calculation -------------------------------------------------------------------------------------------------- */

/* A value in the making: rounded by a policy; the first failure stands. */
typedef struct ticket_task {
    const flc_ticket *ticket;
    flc_ticket_result *result;
    flc_status status;
} ticket_task;

static double by(ticket_task *task, double value, flc_rounding policy)
{
    double rounded = value;
    if (task->status == FLC_OK && policy.kind != FLC_ROUNDING_NONE) {
        task->status = flc_round_by(value, policy, &rounded);
        task->result->flags |= FLC_FLAG_ROUNDED;
    }
    return rounded;
}

static void gross(ticket_task *task)
{
    const flc_ticket *t = task->ticket;
    const flc_ticket_rounding *policy = &t->rounding;
    flc_ticket_result *r = task->result;
    r->iv = by(task, t->iv, policy->volume);
    r->mf = by(task, t->mf, policy->factors);
    r->body_ratio = t->body_ratio;
    r->mf_used = is_given(t->body_ratio) ? by(task, r->mf / t->body_ratio, policy->factors) : r->mf;
    r->gv = by(task, r->iv * r->mf_used, policy->volume);
    if (is_given(t->ctpl)) {
        r->ctpl = by(task, t->ctpl, policy->factors);
        r->ccf = by(task, r->mf_used * r->ctpl, policy->ccf);
    } else {
        r->ctl = by(task, t->ctl, policy->factors);
        r->cpl = by(task, t->cpl, policy->factors);
        r->ctpl = r->ctl * r->cpl;
        r->ccf = by(task, flc_ccf_of(r->mf_used, r->ctl, r->cpl), policy->ccf);
    }
}

/* Share of sediment and water; by mass it is turned into a share of the volume at base. */
static double share(const flc_ticket *t)
{
    const double given = t->sw_pct / 100.0;
    if (t->sw_basis != FLC_SW_MASS || t->sw_pct == 0.0) {
        return given;
    }
    const double water = given / t->rho_water_base_kgm3, oil = (1.0 - given) / t->rho_base_kgm3;
    return water / (water + oil);
}

static void net_as_oil(ticket_task *task)
{
    const flc_ticket *t = task->ticket;
    const flc_ticket_rounding *policy = &t->rounding;
    flc_ticket_result *r = task->result;
    r->gsv = by(task, r->iv * r->ccf, policy->volume);
    r->csw = by(task, t->sw_basis == FLC_SW_MASS ? 1.0 - r->water_share : flc_csw_of(t->sw_pct), policy->csw);
    r->nsv = by(task, r->gsv * r->csw, policy->volume);
    r->swv = by(task, r->gsv - r->nsv, policy->volume);
}

static void net_apart(ticket_task *task)
{
    const flc_ticket *t = task->ticket;
    const flc_ticket_rounding *policy = &t->rounding;
    flc_ticket_result *r = task->result;
    const double x = r->water_share, whole = r->iv * r->mf_used;
    r->apart = 1;
    r->ctpl_water = by(task, t->ctl_water, policy->factors) * by(task, t->cpl_water, policy->factors);
    double oil, water;
    if (t->sw_basis == FLC_SW_VOLUME_AT_METER) {
        oil = whole * (1.0 - x) * r->ctpl;
        water = whole * x * r->ctpl_water;
    } else { /* the share is known at base: the volume at the meter is the sum of both, expanded back */
        const double at_base = whole / ((1.0 - x) / r->ctpl + x / r->ctpl_water);
        oil = at_base * (1.0 - x);
        water = at_base * x;
    }
    r->ccf = flc_nan(); /* no one factor for the whole volume */
    r->nsv = by(task, oil, policy->volume);
    r->swv = by(task, water, policy->volume);
    r->gsv = by(task, r->nsv + r->swv, policy->volume);
}

static void mass(ticket_task *task)
{
    const flc_ticket *t = task->ticket;
    flc_ticket_result *r = task->result;
    if (!is_given(t->rho_base_kgm3)) {
        return;
    }
    r->mass_kg = by(task, r->nsv * t->unit_m3 * t->rho_base_kgm3, t->rounding.mass);
    r->air_factor = t->air_form == FLC_AIR_PETROLEUM
                        ? flc_weight_in_air_petroleum_of(t->rho_base_kgm3)
                        : flc_weight_in_air_of(t->rho_base_kgm3, t->rho_air_kgm3, t->rho_weights_kgm3);
    r->weight_kg = by(task, r->mass_kg * r->air_factor, t->rounding.mass);
}

static flc_status evaluate(const flc_ticket *ticket, flc_ticket_result *result, flc_error *error)
{
    flc_status status = check_ticket(ticket, error);
    if (status != FLC_OK) {
        return status;
    }
    ticket_task task = {ticket, result, FLC_OK};
    gross(&task);
    result->water_share = share(ticket);
    if (is_given(ticket->ctl_water)) {
        net_apart(&task);
    } else {
        net_as_oil(&task);
    }
    mass(&task);
    if (task.status != FLC_OK) {
        return flc_fail(error, task.status, "rounding", -1, flc_nan(), flc_nan(), NULL);
    }
#define TIDY(name, unit, symbol, meaning, equation) result->name = flc_is_nan(result->name) ? flc_nan() : result->name;
    FLC_TICKET_LIST(TIDY)
#undef TIDY
    return FLC_OK;
}

flc_status flc_ticket_evaluate(const flc_ticket *ticket, flc_ticket_result *result, flc_error *error)
{
    flc_error_clear(error);
    if (ticket == NULL || result == NULL) {
        return flc_fail(error, FLC_E_NULL, ticket == NULL ? "ticket" : "result", -1, flc_nan(), flc_nan(), NULL);
    }
    if (result->size != sizeof *result) {
        return flc_fail(error, FLC_E_SIZE, "result", -1, (double)result->size, (double)sizeof *result, NULL);
    }
    flc_ticket_result_init(result);
    flc_fp_state fp = flc_fp_enter();
    flc_status status = evaluate(ticket, result, error);
    if (status != FLC_OK) {
        flc_ticket_result_init(result);
    }
    flc_fp_leave(fp);
    return status;
}

flc_status flc_ticket_steps(const flc_ticket_result *result, flc_step *steps, size_t capacity, size_t *count)
{
    if (result == NULL || count == NULL || (steps == NULL && capacity > 0)) {
        return FLC_E_NULL;
    }
    *count = 0;
    if (result->size != sizeof *result) {
        return FLC_E_SIZE;
    }
    const flc_step all[] = {
#define STEP(name, unit, symbol, meaning, equation) \
    {symbol, meaning, result->name, unit, equation, "ticket, API MPMS 12.2", "", "", FLC_FROM_MEMORY, result->flags},
        FLC_TICKET_LIST(STEP)
#undef STEP
    };
    for (size_t i = 0; i < FLC_COUNT_OF(all); i++) {
        *count += is_given(all[i].value) ? 1 : 0;
    }
    if (*count > capacity) {
        return FLC_E_BUFFER;
    }
    for (size_t i = 0, place = 0; i < FLC_COUNT_OF(all); i++) {
        if (is_given(all[i].value)) {
            steps[place++] = all[i];
        }
    }
    return FLC_OK;
}
