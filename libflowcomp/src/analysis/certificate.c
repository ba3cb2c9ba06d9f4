/* SPDX-License-Identifier: Apache-2.0 */
#include "certificate.h"
#include "error.h"
#include "fpmath.h"
#include "method.h"
#include "similarity_core.h"
#include "struct_size.h"
#include <stddef.h>

#define K_AGREES 5e-4 /* two ways to one K, relative */
#define X_AGREES 1e-2 /* two ways to one abscissa */
#define ST_LOW 0.1    /* of a rotor of two long blades: about 0.5 */
#define ST_HIGH 500.0 /* of a rim with a hundred marks: about 50 */

void flc_certificate_point_init_sized(flc_certificate_point *point, size_t own_size)
{
    const double nothing = flc_nan();
    const flc_certificate_point fresh = {sizeof fresh, nothing, nothing, nothing, nothing, nothing, nothing, nothing,
                                         nothing,      nothing, nothing, nothing, nothing, nothing, nothing, 0};
    flc_give_sized(point, own_size, &fresh, sizeof fresh);
}

static const char *const reference_words[] = {"at_meter", "at_base", NULL};

flc_status flc_reference_volume_from_name(const char *name, flc_reference_volume *choice)
{
    return flc_choice_from_name(reference_words, name, (int *)choice);
}

static const struct {
    const char *name;
    size_t place;
    double low, high;
} fields[] = {
#define FIELD(name) #name, offsetof(flc_certificate_point, name)
    {FIELD(f_hz), 1e-6, 1e6},         {FIELD(q_m3s), 1e-12, 100.0},    {FIELD(k_per_m3), 1e-6, 1e12},
    {FIELD(error_pct), -50.0, 100.0}, {FIELD(meter_factor), 0.5, 2.0}, {FIELD(pulses), 1.0, 1e15},
    {FIELD(volume_m3), 1e-9, 1e9},    {FIELD(time_s), 1e-3, 1e8},      {FIELD(x), 1e-6, 1e12},
    {FIELD(t_degc), -273.15, 600.0},  {FIELD(p_kpag), 0.0, 1e5},       {FIELD(nu_mm2s), 1e-3, 1e6},
    {FIELD(ctpl), 0.5, 1.5},          {FIELD(u_relative), 1e-7, 0.5},
#undef FIELD
};

static flc_status check_ranges(const flc_certificate_point *point, int64_t index, flc_error *error)
{
    if (point->size != sizeof *point) {
        return flc_fail(error, FLC_E_SIZE, "points", index, (double)point->size, (double)sizeof *point, NULL);
    }
    for (size_t i = 0; i < FLC_COUNT_OF(fields); i++) {
        const double value = *(const double *)(const void *)((const char *)point + fields[i].place);
        if (!flc_is_nan(value)) {
            const flc_status status =
                flc_check_range(error, fields[i].name, index, value, fields[i].low, fields[i].high);
            if (status != FLC_OK) {
                return status;
            }
        }
    }
    return FLC_OK;
}

/* Several ways to one number: the first that is given is used, the others must agree with it. NaN: not given. */
typedef struct way {
    const char *field;
    double value;
} way;

static flc_status first_given(const way *ways, size_t count, double tolerance, int64_t index, const char *missing,
                              double *value, flc_error *error)
{
    *value = flc_nan();
    for (size_t i = 0; i < count; i++) {
        if (flc_is_nan(ways[i].value)) {
            continue;
        }
        if (flc_is_nan(*value)) {
            *value = ways[i].value;
        } else if (flc_fabs(ways[i].value / *value - 1.0) > tolerance) {
            return flc_fail(error, FLC_E_CONFLICT, ways[i].field, index, ways[i].value, *value,
                            tolerance == K_AGREES
                                ? "two ways to K differ by more than 0.05 %"
                                : "two ways to the abscissa differ by more than 1 %: look at the units");
        }
    }
    if (flc_is_nan(*value)) {
        return flc_fail(error, FLC_E_MISSING, ways[0].field, index, flc_nan(), flc_nan(), missing);
    }
    return FLC_OK;
}

static int holds_st(const flc_fit_options *options, const flc_certificate_point *point)
{
    return options->convention == FLC_CONVENTION_DIMENSIONLESS && !flc_is_nan(point->x);
}

/* K of the row, still per reference volume. */
static flc_status ordinate(const flc_fit_options *options, const flc_certificate_point *point, double d0_m,
                           int64_t index, double *k, flc_error *error)
{
    const double nominal = options->k_nominal_per_m3;
    if (flc_is_nan(nominal) && !(flc_is_nan(point->error_pct) && flc_is_nan(point->meter_factor))) {
        return flc_fail(error, FLC_E_MISSING, "k_nominal_per_m3", -1, flc_nan(), flc_nan(),
                        "error_pct and meter_factor are about a nominal K");
    }
    const way ways[] = {
        {"k_per_m3", holds_st(options, point) ? flc_k(point->k_per_m3, d0_m) : point->k_per_m3},
        {"error_pct", nominal * (1.0 + 0.01 * point->error_pct)},
        {"meter_factor", nominal / point->meter_factor},
        {"q_m3s", point->f_hz / point->q_m3s},
        {"volume_m3", point->pulses / point->volume_m3},
    };
    return first_given(ways, FLC_COUNT_OF(ways), K_AGREES, index,
                       "give it, or error_pct or meter_factor, or f_hz with q_m3s, or pulses with volume_m3", k, error);
}

/* The abscissa in the declared convention where it is printed, else f/nu in Hz/cSt. */
static flc_status abscissa(const flc_fit_options *options, const flc_certificate_point *point, double d0_m, double k,
                           int64_t index, double *x, flc_error *error)
{
    const double nu = point->nu_mm2s;
    const double unit = holds_st(options, point) ? flc_ro(1.0, d0_m, 1.0) : 1.0;
    const way ways[] = {
        {"x", point->x},
        {"f_hz", unit * (point->f_hz / nu)},
        {"time_s", unit * (point->pulses / point->time_s / nu)},
        {"q_m3s", unit * (k * point->q_m3s / nu)},
    };
    if (flc_is_nan(point->x) && flc_is_nan(nu)) {
        return flc_fail(error, FLC_E_MISSING, "nu_mm2s", index, flc_nan(), flc_nan(),
                        "the abscissa is x, or a frequency with nu_mm2s");
    }
    return first_given(ways, FLC_COUNT_OF(ways), X_AGREES, index,
                       "give it, or nu_mm2s with f_hz, or with pulses and time_s, or with q_m3s", x, error);
}

/* Temperature, pressure and volume correction, where the choices ask for them. */
static flc_status conditions(const flc_fit_options *options, const flc_body_options *body,
                             const flc_certificate_point *point, int64_t index, double *p_kpag, double *ctpl,
                             flc_error *error)
{
    *p_kpag = flc_is_nan(point->p_kpag) ? 0.0 : point->p_kpag;
    *ctpl = options->reference == FLC_REFERENCE_AT_BASE ? point->ctpl : 1.0;
    const int as_run = options->treatment == FLC_BODY_AS_RUN;
    const char *missing = NULL;
    if (as_run && flc_is_nan(point->t_degc)) {
        missing = "t_degc";
    } else if (as_run && body->end != FLC_END_NONE && flc_is_nan(point->p_kpag)) {
        missing = "p_kpag";
    } else if (flc_is_nan(*ctpl)) {
        missing = "ctpl";
    }
    return missing == NULL ? FLC_OK : flc_fail(error, FLC_E_MISSING, missing, index, flc_nan(), flc_nan(), NULL);
}

/* Rotors make some pulses to some hundred in the time that the liquid takes for a bore's length (common practice, no
 * source), so K in a unit that is a factor of 264 or 1000 off shows, and so does a bore in another unit. */
static flc_status check_unit(const flc_understood *understood, double d0_m, int64_t place, flc_error *error)
{
    if (understood->st >= ST_LOW && understood->st <= ST_HIGH) {
        return FLC_OK;
    }
    const int is_low = understood->st < ST_LOW;
    return flc_fail(error, is_low ? FLC_E_BELOW : FLC_E_ABOVE, "k_per_m3", place, understood->k_per_m3,
                    flc_k(is_low ? ST_LOW : ST_HIGH, d0_m),
                    "no turbine meter of this bore: is K in pulses per m3, and the bore in m?");
}

flc_status flc_certificate_understand(const flc_fit_options *options, const flc_body_options *body,
                                      const flc_certificate_point *point, size_t index, flc_understood *understood,
                                      flc_error *error)
{
    const int64_t place = (int64_t)index;
    double k = flc_nan(), x = flc_nan(), p_kpag = flc_nan(), ctpl = flc_nan();
    flc_status status = check_ranges(point, place, error);
    if (status == FLC_OK) {
        status = ordinate(options, point, body->bore_m, place, &k, error);
    }
    if (status == FLC_OK) {
        status = abscissa(options, point, body->bore_m, k, place, &x, error);
    }
    if (status == FLC_OK) {
        status = conditions(options, body, point, place, &p_kpag, &ctpl, error);
    }
    if (status != FLC_OK) {
        return status;
    }
    understood->k_per_m3 = k * ctpl;
    understood->u = flc_is_nan(point->u_relative) ? options->u_relative : point->u_relative;
    /* A printed St goes through as it is, so that the curve meets it to the last bit. */
    const int as_printed = holds_st(options, point) && !flc_is_nan(point->k_per_m3);
    const double y = as_printed                 ? point->k_per_m3 * ctpl
                     : holds_st(options, point) ? flc_st(understood->k_per_m3, body->bore_m)
                                                : understood->k_per_m3;
    const flc_curve_convention form = flc_is_nan(point->x) ? FLC_CONVENTION_RAW : options->convention;
    flc_error why;
    status = flc_curve_point(form, options->treatment, body, x, y, point->t_degc, p_kpag, &understood->ro,
                             &understood->st, &why);
    return status == FLC_OK ? check_unit(understood, body->bore_m, place, error)
                            : flc_fail(error, status, why.argument, place, why.value, why.limit, NULL);
}
