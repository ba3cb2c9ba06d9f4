/* SPDX-License-Identifier: Apache-2.0 */
#include "unit_limits.h"
#include "double_double.h"
#include "error.h"
#include "fp_guard.h"
#include "text.h"
#include <string.h>

#define PA_PER_KPA 1e3
#define ICE_DEGF 32.0
#define P_ATMOSPHERIC_LOW 30.0
#define P_ATMOSPHERIC_HIGH 120.0
#define RHO_LOW 0.001
#define RHO_HIGH 1e5

/* One conversion, ready to run: (value + before) x ratio + after, or ratio / (value + before) + after. */
typedef struct conversion {
    double lowest;        /* least value the unit from allows */
    double lowest_result; /* least result the unit to allows, where only the result can be judged */
    double before;
    flc_dd ratio;
    flc_dd after;
    int reciprocal;
} conversion;

/* What flc_convert lacks and its two sisters are given; NaN where not given. */
typedef struct other_inputs {
    double p_atmospheric_kpaa;
    double rho_kgm3;
} other_inputs;

/* from / to as a pair of doubles: the two products are exact, the division is good to 104 bits. */
static flc_dd ratio_of(double numerator, double denominator, const flc_unit_info *to)
{
    return flc_dd_divide(flc_dd_product(numerator, to->denominator), flc_dd_product(denominator, to->numerator));
}

/* Of the two scales that do not start at absolute zero. */
static double ice_point(const flc_unit_info *row)
{
    return row->numerator < row->denominator ? ICE_DEGF : 0.0;
}

/* T/K = t/degC + 273.15 = (t/degF + 459.67)/1.8 = (T/degR)/1.8, but t/degC = (t/degF - 32)/1.8: degC and degF meet at
 * the ice point, every other two scales at absolute zero. */
static void plan_temperature(const flc_unit_info *from, const flc_unit_info *to, conversion *plan)
{
    int by_ice = from->lowest < 0.0 && to->lowest < 0.0;
    plan->before = by_ice ? -ice_point(from) : -from->lowest;
    plan->after = flc_dd_of(by_ice ? ice_point(to) : to->lowest);
}

/* rho = 141.5 x 999.016 / (API + 131.5) and its inverse; the row holds the product as numerator / denominator. */
static void plan_gravity(const flc_unit_info *from, const flc_unit_info *to, conversion *plan)
{
    plan->reciprocal = 1;
    if (from->law == FLC_UNIT_LAW_API_GRAVITY) {
        plan->before = FLC_API_OFFSET;
    } else {
        plan->ratio = flc_dd_divide(flc_dd_product(to->numerator, from->denominator),
                                    flc_dd_product(to->denominator, from->numerator));
        plan->after = flc_dd_of(-FLC_API_OFFSET);
    }
}

/* p_abs = p_gauge + p_atm, the sum taken in the unit wanted. */
static flc_status plan_pressure(const flc_unit_info *to, double p_atmospheric_kpaa, conversion *plan, flc_error *error)
{
    const char *argument = "p_atmospheric_kpaa";
    if (flc_is_nan(p_atmospheric_kpaa)) {
        return flc_fail(error, FLC_E_MISSING, argument, -1, flc_nan(), flc_nan(),
                        "gauge and absolute differ by the site's atmospheric pressure: give it in kPa absolute");
    }
    flc_status status = flc_check_range(error, argument, -1, p_atmospheric_kpaa, P_ATMOSPHERIC_LOW, P_ATMOSPHERIC_HIGH);
    if (status == FLC_OK) {
        plan->after = flc_dd_multiply(ratio_of(PA_PER_KPA, 1.0, to), flc_dd_of(p_atmospheric_kpaa));
        if (to->kind == FLC_UNIT_PRESSURE_GAUGE) {
            plan->after = flc_dd_negative(plan->after);
        } else {
            plan->lowest_result = 0.0;
        }
    }
    return status;
}

/* mu = nu rho. */
static flc_status plan_viscosity(const flc_unit_info *to, double rho_kgm3, int64_t index, conversion *plan,
                                 flc_error *error)
{
    if (flc_is_nan(rho_kgm3)) {
        return flc_fail(error, FLC_E_MISSING, "rho_kgm3", index, flc_nan(), flc_nan(),
                        "dynamic and kinematic viscosity differ by the density: give it in kg/m3");
    }
    flc_status status = flc_check_range(error, "rho_kgm3", index, rho_kgm3, RHO_LOW, RHO_HIGH);
    if (status == FLC_OK && to->kind == FLC_UNIT_DYNAMIC_VISCOSITY) {
        plan->ratio = flc_dd_multiply(plan->ratio, flc_dd_of(rho_kgm3));
    } else if (status == FLC_OK) {
        plan->ratio = flc_dd_divide(plan->ratio, flc_dd_of(rho_kgm3));
    }
    return status;
}

static int is_pair(const flc_unit_info *from, const flc_unit_info *to, flc_unit_kind one, flc_unit_kind other)
{
    return (from->kind == one && to->kind == other) || (from->kind == other && to->kind == one);
}

/* Units that measure different things, by kind or by base temperature. */
static flc_status refuse_pair(const flc_unit_info *from, const flc_unit_info *to, flc_error *error)
{
    char words[160];
    flc_text hint = flc_text_start(words, sizeof words);
    int same_kind = from->kind == to->kind;
    flc_text_add(&hint, from->name);
    flc_text_add(&hint, same_kind ? " holds at " : " is ");
    flc_text_add(&hint, same_kind ? from->base_temperature : flc_unit_kind_name(from->kind));
    flc_text_add(&hint, ", ");
    flc_text_add(&hint, to->name);
    flc_text_add(&hint, same_kind ? " at " : " is ");
    flc_text_add(&hint, same_kind ? to->base_temperature : flc_unit_kind_name(to->kind));
    flc_text_add(&hint, same_kind ? ": a volume correction is needed" : "");
    return flc_fail(error, FLC_E_UNIT_KIND, "to", -1, flc_nan(), flc_nan(), words);
}

static int bases_differ(const flc_unit_info *from, const flc_unit_info *to)
{
    int both = from->base_temperature[0] != '\0' && to->base_temperature[0] != '\0';
    return both && strcmp(from->base_temperature, to->base_temperature) != 0;
}

static flc_status plan_row_pair(const flc_unit_info *from, const flc_unit_info *to, other_inputs given, int64_t index,
                                conversion *plan, flc_error *error)
{
    *plan = (conversion){from->lowest, -flc_infinity(), 0.0, flc_dd_of(1.0), flc_dd_of(0.0), 0};
    if (from == to) {
        return FLC_OK;
    }
    plan->ratio = ratio_of(from->numerator, from->denominator, to);
    if (is_pair(from, to, FLC_UNIT_PRESSURE_GAUGE, FLC_UNIT_PRESSURE_ABSOLUTE)) {
        return plan_pressure(to, given.p_atmospheric_kpaa, plan, error);
    }
    if (is_pair(from, to, FLC_UNIT_KINEMATIC_VISCOSITY, FLC_UNIT_DYNAMIC_VISCOSITY)) {
        return plan_viscosity(to, given.rho_kgm3, index, plan, error);
    }
    if (from->kind != to->kind || bases_differ(from, to)) {
        return refuse_pair(from, to, error);
    }
    if (from->law == FLC_UNIT_LAW_TEMPERATURE) {
        plan_temperature(from, to, plan);
    }
    if (from->law == FLC_UNIT_LAW_API_GRAVITY || to->law == FLC_UNIT_LAW_API_GRAVITY) {
        plan_gravity(from, to, plan);
    }
    return FLC_OK;
}

static flc_status make_plan(flc_unit from, flc_unit to, other_inputs given, int64_t index, conversion *plan,
                            flc_error *error)
{
    const flc_unit_info *from_row = flc_unit_info_of(from), *to_row = flc_unit_info_of(to);
    if (from_row == NULL || to_row == NULL) {
        return flc_fail(error, FLC_E_CHOICE, from_row == NULL ? "from" : "to", -1, flc_nan(), flc_nan(),
                        "not a unit: take it from its name");
    }
    return plan_row_pair(from_row, to_row, given, index, plan, error);
}

static flc_status run_plan(const conversion *plan, double value, int64_t index, double *result, flc_error *error)
{
    flc_status status = flc_check_range(error, "value", index, value, plan->lowest, FLC_UNIT_LARGEST);
    if (status != FLC_OK) {
        return status;
    }
    flc_dd number = flc_dd_sum(value, plan->before);
    if (plan->reciprocal && number.hi == 0.0) {
        return flc_fail(error, FLC_E_DOMAIN, "value", index, value, flc_nan(),
                        "API gravity and density need density > 0");
    }
    number = plan->reciprocal ? flc_dd_divide(plan->ratio, number) : flc_dd_multiply(plan->ratio, number);
    double answer = flc_dd_add(number, plan->after).hi; /* an after of +0 turns -0 into +0 */
    if (!flc_is_finite(answer)) {
        return flc_fail(error, FLC_E_OVERFLOW, "value", index, value, flc_nan(), NULL);
    }
    if (answer < plan->lowest_result) {
        return flc_fail(error, FLC_E_BELOW, "value", index, value, flc_nan(), "below absolute zero pressure");
    }
    *result = answer;
    return FLC_OK;
}

static flc_status convert(double value, flc_unit from, flc_unit to, other_inputs given, double *result,
                          flc_error *error)
{
    flc_error_clear(error);
    if (result == NULL) {
        return flc_fail(error, FLC_E_NULL, "result", -1, flc_nan(), flc_nan(), NULL);
    }
    *result = flc_nan();
    flc_fp_state state = flc_fp_enter();
    conversion plan;
    flc_status status = flc_check_range(error, "value", -1, value, -FLC_UNIT_LARGEST, FLC_UNIT_LARGEST);
    if (status == FLC_OK) {
        status = make_plan(from, to, given, -1, &plan, error);
    }
    if (status == FLC_OK) {
        status = run_plan(&plan, value, -1, result, error);
    }
    flc_fp_leave(state);
    return status;
}

flc_status flc_convert(double value, flc_unit from, flc_unit to, double *result, flc_error *error)
{
    return convert(value, from, to, (other_inputs){flc_nan(), flc_nan()}, result, error);
}

flc_status flc_convert_pressure(double value, flc_unit from, flc_unit to, double p_atmospheric_kpaa, double *result,
                                flc_error *error)
{
    return convert(value, from, to, (other_inputs){p_atmospheric_kpaa, flc_nan()}, result, error);
}

flc_status flc_convert_viscosity(double value, flc_unit from, flc_unit to, double rho_kgm3, double *result,
                                 flc_error *error)
{
    return convert(value, from, to, (other_inputs){flc_nan(), rho_kgm3}, result, error);
}

/* The results of a batch that does not start. */
static flc_status refuse_all(flc_status why, size_t n, double *result, uint8_t *status)
{
    for (size_t i = 0; i < n; i++) {
        if (result != NULL) {
            result[i] = flc_nan();
        }
        if (status != NULL) {
            status[i] = (uint8_t)why;
        }
    }
    return why;
}

/* A batch under way: one plan, which each record copies where it has a density of its own. */
typedef struct record_batch {
    const double *values;
    const double *rho_kgm3; /* NULL where the plan needs none */
    const flc_unit_info *to;
    conversion plan;
} record_batch;

static flc_status run_record(const record_batch *batch, size_t i, double *result, flc_error *error)
{
    double value = batch->values[i];
    int64_t index = (int64_t)i;
    conversion plan = batch->plan;
    flc_status status = flc_check_range(error, "value", index, value, -FLC_UNIT_LARGEST, FLC_UNIT_LARGEST);
    if (status == FLC_OK && batch->rho_kgm3 != NULL) {
        status = plan_viscosity(batch->to, batch->rho_kgm3[i], index, &plan, error);
    }
    return status == FLC_OK ? run_plan(&plan, value, index, result, error) : status;
}

static size_t run_batch(const record_batch *batch, size_t n, double *result, uint8_t *status, flc_error *error)
{
    size_t refused = 0;
    for (size_t i = 0; i < n; i++) {
        double answer = flc_nan();
        flc_status one = FLC_OK;
        if (!flc_is_nan(batch->values[i])) {
            one = run_record(batch, i, &answer, refused == 0 ? error : NULL);
        }
        result[i] = answer;
        if (status != NULL) {
            status[i] = (uint8_t)one;
        }
        refused += one != FLC_OK;
    }
    return refused;
}

static flc_status convert_n(const double *values, const double *rho_kgm3, size_t n, flc_unit from, flc_unit to,
                            double p_atmospheric_kpaa, double *result, uint8_t *status, size_t *refused,
                            flc_error *error)
{
    flc_error_clear(error);
    if (refused != NULL) {
        *refused = 0;
    }
    if (values == NULL || result == NULL) {
        flc_fail(error, FLC_E_NULL, values == NULL ? "values" : "result", -1, flc_nan(), flc_nan(), NULL);
        return refuse_all(FLC_E_NULL, n, result, status);
    }
    flc_fp_state state = flc_fp_enter();
    record_batch batch = {.values = values, .rho_kgm3 = rho_kgm3, .to = flc_unit_info_of(to)};
    /* The plan is made with a density of 1, which changes nothing, where each record brings its own. */
    other_inputs given = {p_atmospheric_kpaa, rho_kgm3 != NULL ? 1.0 : flc_nan()};
    flc_status start = make_plan(from, to, given, -1, &batch.plan, error);
    if (start == FLC_OK) {
        if (flc_unit_kind_of(from) == flc_unit_kind_of(to)) {
            batch.rho_kgm3 = NULL;
        }
        size_t count = run_batch(&batch, n, result, status, error);
        if (refused != NULL) {
            *refused = count;
        }
    } else {
        refuse_all(start, n, result, status);
    }
    flc_fp_leave(state);
    return start;
}

flc_status flc_convert_n(const double *values, size_t n, flc_unit from, flc_unit to, double *result, uint8_t *status,
                         size_t *refused, flc_error *error)
{
    return convert_n(values, NULL, n, from, to, flc_nan(), result, status, refused, error);
}

flc_status flc_convert_pressure_n(const double *values, size_t n, flc_unit from, flc_unit to, double p_atmospheric_kpaa,
                                  double *result, uint8_t *status, size_t *refused, flc_error *error)
{
    return convert_n(values, NULL, n, from, to, p_atmospheric_kpaa, result, status, refused, error);
}

flc_status flc_convert_viscosity_n(const double *values, const double *rho_kgm3, size_t n, flc_unit from, flc_unit to,
                                   double *result, uint8_t *status, size_t *refused, flc_error *error)
{
    if (rho_kgm3 == NULL) {
        flc_error_clear(error);
        flc_fail(error, FLC_E_NULL, "rho_kgm3", -1, flc_nan(), flc_nan(), NULL);
        if (refused != NULL) {
            *refused = 0;
        }
        return refuse_all(FLC_E_NULL, n, result, status);
    }
    return convert_n(values, rho_kgm3, n, from, to, flc_nan(), result, status, refused, error);
}
