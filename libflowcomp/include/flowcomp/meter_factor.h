/* SPDX-License-Identifier: Apache-2.0 */
/* The meter factor in force: one, several over flow or Roshko number, or composite; what makes it void; and what the
 * body does between proving and metering conditions. A factor outside 0.8 to 1.2 is refused as a mistake; the limits of
 * a contract only flag. Which trigger ends the life of a factor is for the contract and the local code. */
#ifndef FLOWCOMP_METER_FACTOR_H
#define FLOWCOMP_METER_FACTOR_H

#include "flowcomp/meter_body.h"
#include "flowcomp/status.h"

FLC_BEGIN_DECLS

#define FLC_FACTOR_POINTS 16 /* points or coefficients, at most */

typedef enum flc_factor_form {
    FLC_FACTOR_SINGLE = 0,       /* one MF */
    FLC_FACTOR_INTERPOLATED = 1, /* linear between points */
    FLC_FACTOR_POLYNOMIAL = 2,   /* c0 + c1 x + c2 x^2 ..., x = axis/scale */
    FLC_FACTOR_COMPOSITE = 3     /* one MF times CPLm at the normal operating pressure (43 CFR 3174.1) */
} flc_factor_form;

/** Form from its word ("single", "interpolated", "polynomial", "composite").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_form_from_name(const char *name, flc_factor_form *choice);

typedef enum flc_factor_axis {
    FLC_FACTOR_OF_FLOW = 0,  /* q, m³/s */
    FLC_FACTOR_OF_ROSHKO = 1 /* Ro */
} flc_factor_axis;

/** Axis from its word ("flow", "roshko").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_axis_from_name(const char *name, flc_factor_axis *choice);

/* Beyond the range of the points. */
typedef enum flc_factor_beyond {
    FLC_FACTOR_REFUSE = 0, /* FLC_E_BELOW_CURVE, FLC_E_ABOVE_CURVE */
    FLC_FACTOR_HOLD = 1    /* the value at the end, flagged extrapolated */
} flc_factor_beyond;

/** Policy from its word ("refuse", "hold").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_beyond_from_name(const char *name, flc_factor_beyond *choice);

/* A factor as it is in force. Set up by flc_factor_init, then filled in. */
typedef struct flc_factor {
    uint32_t size;
    flc_factor_form form;
    flc_factor_axis axis;
    flc_factor_beyond beyond;
    uint32_t count;                     /* points, 2 or more; coefficients, 1 or more */
    double x[FLC_FACTOR_POINTS];        /* rising, above 0: flow or Roshko number of the points */
    double mf[FLC_FACTOR_POINTS];       /* of the points; mf[0] for single and composite */
    double c[FLC_FACTOR_POINTS];        /* coefficients of a polynomial */
    double scale;                       /* of x in a polynomial; 1 */
    double low, high;                   /* range of a polynomial on its axis */
    double cpl_meter;                   /* composite */
    double contract_low, contract_high; /* a factor outside is flagged; NaN: not judged */
} flc_factor;

/** Set up a factor: size, single, refuse, NaN elsewhere.
 *  @param[out] factor  never NULL
 *  @since 0.1 */
FLC_API void flc_factor_init_sized(flc_factor *factor, size_t own_size);
#define flc_factor_init(factor) flc_factor_init_sized((factor), sizeof *(factor))

/* The factor at one flow or Roshko number. */
typedef struct flc_factor_value {
    double mf;
    uint32_t flags;           /* FLC_FLAG_EXTRAPOLATED */
    int32_t outside_contract; /* -1 below, 1 above, 0 inside or not judged */
} flc_factor_value;

/** Factor in force.
 *  @param factor  from flc_factor_init, filled in
 *  @param x       flow, m³/s, or Roshko number; not looked at for single and composite, where it may be NaN
 *  @param[out] value  NaN on failure
 *  @param[out] error  names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_COUNT, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW,
 * FLC_E_ABOVE (also a factor outside 0.8 to 1.2), FLC_E_ORDER (points), FLC_E_BELOW_CURVE, FLC_E_ABOVE_CURVE
 *  @source dynamic and composite meter factor: 43 CFR 3174.1
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_at(const flc_factor *factor, double x, flc_factor_value *value, flc_error *error);

/* What may make a factor void, listed once: name, word, unit, meaning. Each trigger compares the present with the
 * proving. */
#define FLC_VOID_LIST(ROW)                                                          \
    ROW(FLOW, "flow", "m3/s", "relative change of the flow")                        \
    ROW(TEMPERATURE, "temperature", "degC", "change of temperature")                \
    ROW(VISCOSITY, "viscosity", "mm2/s", "relative change of the viscosity")        \
    ROW(ROSHKO, "roshko", "1", "relative change of the Roshko number")              \
    ROW(DENSITY, "density", "kg/m3", "change of density")                           \
    ROW(LIQUID, "liquid", "1", "another liquid: its number in the site's own list") \
    ROW(DAYS, "days", "d", "days since the proving")                                \
    ROW(VOLUME, "volume", "m3", "volume since the proving")                         \
    ROW(FACTOR_LAST, "factor_last", "1", "factor against the one before")           \
    ROW(FACTOR_FIRST, "factor_first", "1", "factor against the first")

typedef enum flc_void_trigger {
#define FLC_VOID_NUMBER(name, word, unit, meaning) FLC_VOID_##name,
    FLC_VOID_LIST(FLC_VOID_NUMBER)
#undef FLC_VOID_NUMBER
        FLC_VOID_COUNT
} flc_void_trigger;

/* One number per trigger, by the place in the list: conditions or limits. NaN: not known, or not judged. */
typedef struct flc_void_numbers {
    double number[FLC_VOID_COUNT];
} flc_void_numbers;

/** Word of a trigger ("temperature"), or NULL past the last.
 *  @since 0.1 */
FLC_API const char *flc_void_word(flc_void_trigger trigger);

/** Which triggers are exceeded.
 *  Days and volume of now are counted since the proving; the two factors of proving are the one before and the first,
 * both of now the present one; liquid is a whole number and its limit 0. Flow, viscosity and Roshko number are judged
 * relative to the proving: a limit of 0.1 is 10 %.
 *  @param proving  at the proving
 *  @param now      at present
 *  @param limits   largest change; NaN: not judged
 *  @param[out] exceeded  bit 1 << trigger of each that is exceeded; 0 on failure
 *  @param[out] unknown   bit of each that has a limit but not both numbers; may be NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_INFINITE, FLC_E_BELOW (a limit below 0; a relative trigger whose proving is not
 * above 0)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_void_check(const flc_void_numbers *proving, const flc_void_numbers *now,
                                         const flc_void_numbers *limits, uint32_t *exceeded, uint32_t *unknown);

/* What the body does to K between two conditions. */
typedef struct flc_body_change {
    double b_proving;  /* B at proving conditions */
    double b_metering; /* B at metering conditions */
    double ratio;      /* B(metering)/B(proving): multiplies K, divides MF */
    double pct;        /* 100 (ratio - 1) */
    uint32_t flags;
} flc_body_change;

/** The body term of a nominal K with MF, for a contract that asks for it: flc_ticket.body_ratio. Never with a curve,
 * which has the body on both sides.
 *  @param body  checked options
 *  @param t_proving_degc, p_proving_kpag    at the meter when it was proved
 *  @param t_metering_degc, p_metering_kpag  at the meter now
 *  @param[out] change  NaN on failure
 *  @return FLC_OK or the status of flc_body_at
 *  @since 0.1 */
FLC_API FLC_STATUS flc_body_difference(const flc_body_options *body, double t_proving_degc, double p_proving_kpag,
                                       double t_metering_degc, double p_metering_kpag, flc_body_change *change);

FLC_END_DECLS

#endif
