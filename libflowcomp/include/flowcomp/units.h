/* SPDX-License-Identifier: Apache-2.0 */
/* Units at the border: a value comes in as the site writes it, is converted once, and the objects of this library work
 * in m3, m3/h, degC, kPa gauge, kg/m3, mm2/s, Hz and m.
 *
 * Factors are exact ratios of two whole numbers, one row of data per unit, built on the international inch and pound,
 * the US gallon of 231 in3, the imperial gallon of 4.54609 L and standard gravity 9.80665 m/s2. So 1 psi is
 * 0.45359237 x 9.80665 / 0.0254^2 Pa = 6.894757293168... kPa. Methods that are defined in degF and psi keep their
 * own units and their own printed constants inside their own functions (6.894757 kPa/psi and 999.016 kg/m3 in API MPMS
 * 11.1-2004, 999.012 kg/m3 in the tables of 1980): this part does not touch them.
 *
 * Arithmetic. Every conversion is (value + before) x ratio + after, or for API gravity ratio / (value + before) +
 * after, carried in pairs of doubles (106 bits) and rounded once. For sizes from 1e-250 to 1e250 the result lies within
 * 0.5001 units in the last place of the exact one, and there and back returns within one unit in the last place. An
 * offset (temperatures, API gravity, atmospheric pressure) is the double nearest to its decimal; there and back is then
 * within one unit in the last place of the value's size and the offset together. A result of zero is +0.
 *
 * Names. A name is taken exactly as listed; else in its normal form, which compares the same for
 *   "°C" and "degC", "m³" "m^3" and "m3", "mm²/s" and "mm2/s", "µm" and "um", "Pa·s" "Pa*s" and "Pa.s", "Δ" and
 * "delta_", "pulses per litre" and "pulses/litre", with or without spaces, underscores and round brackets ("kPa (g)" is
 * kPag). Case matters, as in mPa.s and MPag; only spellings without such danger (BBL, GPM, PSIG) are taken in any case.
 * A name that could mean two things is refused with the choices: gal, psi, bar, kPa, ton, SG. */
#ifndef FLOWCOMP_UNITS_H
#define FLOWCOMP_UNITS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* What a unit measures: name, number, word. */
#define FLC_UNIT_KIND_LIST(ROW)                                   \
    ROW(VOLUME, 0, "volume")                                      \
    ROW(VOLUME_FLOW, 1, "volume_flow")                            \
    ROW(MASS, 2, "mass")                                          \
    ROW(MASS_FLOW, 3, "mass_flow")                                \
    ROW(TEMPERATURE, 4, "temperature")                            \
    ROW(TEMPERATURE_DIFFERENCE, 5, "temperature_difference")      \
    ROW(PRESSURE_GAUGE, 6, "pressure_gauge")                      \
    ROW(PRESSURE_ABSOLUTE, 7, "pressure_absolute")                \
    ROW(PRESSURE_DIFFERENCE, 8, "pressure_difference")            \
    ROW(DENSITY, 9, "density")                                    \
    ROW(KINEMATIC_VISCOSITY, 10, "kinematic_viscosity")           \
    ROW(DYNAMIC_VISCOSITY, 11, "dynamic_viscosity")               \
    ROW(K_FACTOR, 12, "k_factor")                                 \
    ROW(FREQUENCY, 13, "frequency")                               \
    ROW(FREQUENCY_OVER_VISCOSITY, 14, "frequency_over_viscosity") \
    ROW(LENGTH, 15, "length")                                     \
    ROW(MODULUS, 16, "modulus")                                   \
    ROW(EXPANSION, 17, "expansion")                               \
    ROW(COMPRESSIBILITY, 18, "compressibility")                   \
    ROW(TIME, 19, "time")

typedef enum flc_unit_kind {
    FLC_UNIT_KIND_NONE = -1, /* of a handle that is no unit */
#define FLC_UNIT_KIND_ROW(name, number, word) FLC_UNIT_##name = (number),
    FLC_UNIT_KIND_LIST(FLC_UNIT_KIND_ROW)
#undef FLC_UNIT_KIND_ROW
} flc_unit_kind;

/** Number of kinds; they are numbered from 0.
 *  @since 0.1 */
FLC_API size_t flc_unit_kind_count(void);

/** Word of a kind ("volume_flow"); "unknown" for a number that is none. Never NULL.
 *  @since 0.1 */
FLC_API const char *flc_unit_kind_name(flc_unit_kind kind);

/** Kind from its word.
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME (the kind is then FLC_UNIT_KIND_NONE)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_unit_kind_from_name(const char *name, flc_unit_kind *choice);

/* A unit: a small plain value. All zero is no unit. The number may move between versions: keep the name in files. */
typedef struct flc_unit {
    int32_t id;
} flc_unit;

/* How a value v is taken to the base unit of its kind. */
typedef enum flc_unit_law {
    FLC_UNIT_LAW_FACTOR = 0,      /* v x numerator / denominator */
    FLC_UNIT_LAW_TEMPERATURE = 1, /* a scale: degrees of numerator / denominator K, lowest is absolute zero */
    FLC_UNIT_LAW_API_GRAVITY = 2  /* numerator / denominator / (v + 131.5) */
} flc_unit_law;

/* The row of a unit. Base units are those of SI without prefix (m3, m3/s, kg, K, Pa, kg/m3, m2/s, Pa.s, 1/m3 ...). */
typedef struct flc_unit_info {
    const char *name;      /* the spelling this library writes, ASCII, unique: "USgal/min" */
    const char *symbol;    /* for reports, UTF-8: "m³/h", "°C" */
    const char *spellings; /* other normal forms, case as written, separated by '|' */
    const char *words;     /* further normal forms, any case, lower case here, separated by '|' */
    flc_unit_kind kind;
    flc_unit_law law;
    double numerator, denominator; /* exact */
    double lowest;                 /* least value that has a meaning: absolute zero, 0; else -1e250 */
    const char *base_temperature;  /* of a density unit that carries one: "60 degF", "15 degC", "20 degC"; else "" */
    const char *source;
} flc_unit_info;

/** Number of units, and the unit at a place from 0 to count - 1 (no unit past the last). Units of a kind stand
 * together.
 *  @since 0.1 */
FLC_API size_t flc_unit_count(void);
FLC_API flc_unit flc_unit_at(size_t place);

/** Row of a unit, in the library's constant memory; NULL for a handle that is no unit.
 *  @since 0.1 */
FLC_API const flc_unit_info *flc_unit_info_of(flc_unit unit);

/** Name ("m3/h"), symbol for reports ("m³/h") and kind of a unit; "" and FLC_UNIT_KIND_NONE for a handle that is none.
 *  @since 0.1 */
FLC_API const char *flc_unit_name(flc_unit unit);
FLC_API const char *flc_unit_symbol(flc_unit unit);
FLC_API flc_unit_kind flc_unit_kind_of(flc_unit unit);

/** Names of the units of a kind, in the order of the list.
 *  @param kind   one of the kinds
 *  @param[out] names  the first size names, in the library's constant memory; may be NULL if size is 0
 *  @param size   room in names
 *  @return how many units the kind has (0 for a number that is no kind)
 *  @since 0.1 */
FLC_API size_t flc_unit_names(flc_unit_kind kind, const char **names, size_t size);

/** Unit from a name whose kind is not stated: "kPag", "delta_kPa" and "modulus_kPa" are known, bare "kPa" is ambiguous.
 *  @param name   as in the list, or in its normal form (head of this header)
 *  @param[out] unit   no unit on failure
 *  @param[out] error  says what the choices are, or which names are close; or NULL
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME, FLC_E_AMBIGUOUS_UNIT
 *  @since 0.1 */
FLC_API FLC_STATUS flc_unit_from_name(const char *name, flc_unit *unit, flc_error *error);

/** Unit from a name where the kind is stated. The prefix of delta_ and modulus_ units may then be left out: "psi" is a
 *  pressure difference, a modulus, and still ambiguous as a gauge or absolute pressure.
 *  @param kind   one of the kinds, else FLC_E_CHOICE
 *  @param name   likewise
 *  @param[out] unit   no unit on failure
 *  @param[out] error  likewise
 *  @return FLC_OK, FLC_E_CHOICE, FLC_E_NULL, FLC_E_UNKNOWN_NAME, FLC_E_AMBIGUOUS_UNIT, FLC_E_UNIT_KIND (a unit of
 * another kind)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_unit_of_kind_from_name(flc_unit_kind kind, const char *name, flc_unit *unit, flc_error *error);

/** Convert one value.
 *
 *  Which error wins: result NULL; the value not a number, infinite, beyond 1e250 in size; from, then to, no unit; the
 * kinds differ; base temperatures differ; an input is missing or outside its range; the value below what its unit
 * allows; the result.
 *
 *  A density in degAPI, rd60_60 (60 degF), sg15_4 (15 degC) or sg20_4 (20 degC) holds at that base temperature, and so
 * does the kg/m3 made from it. Going to a unit of another base temperature is refused: that takes a volume correction.
 *
 *  @param value  in the unit from; temperatures not below absolute zero, absolute pressures and densities not below 0,
 *                degAPI above -131.5, all within +-1e250
 *  @param from   unit of value
 *  @param to     unit wanted, of the same kind
 *  @param[out] result  in the unit to; NaN on failure
 *  @param[out] error   detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE (value); FLC_E_CHOICE (from or to is
 * no unit); FLC_E_UNIT_KIND; FLC_E_MISSING (gauge to absolute or back needs the atmospheric pressure, dynamic to
 *          kinematic or back the density: use the functions below); FLC_E_DOMAIN (API gravity of density zero, or
 * density at -131.5 degAPI); FLC_E_OVERFLOW
 *  @since 0.1 */
FLC_API FLC_STATUS flc_convert(double value, flc_unit from, flc_unit to, double *result, flc_error *error);

/** Convert one value, gauge to absolute pressure and back included. Other pairs are converted as by flc_convert, and
 * the atmospheric pressure is then not looked at.
 *  @param value  in the unit from
 *  @param from   unit of value
 *  @param to     unit wanted
 *  @param p_atmospheric_kpaa  the site's atmospheric pressure, kPa absolute, 30 to 120 (a bound of our own: from the
 *                highest ground to the deepest, and no mistaken psi, bar, mbar or mmHg falls inside it); NaN: not given
 *  @param[out] result  in the unit to; NaN on failure
 *  @param[out] error   detail, or NULL
 *  @return as flc_convert; FLC_E_MISSING where p_atmospheric_kpaa is needed and NaN; FLC_E_INFINITE, FLC_E_BELOW,
 *          FLC_E_ABOVE (p_atmospheric_kpaa); FLC_E_BELOW (a gauge pressure below absolute zero)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_convert_pressure(double value, flc_unit from, flc_unit to, double p_atmospheric_kpaa,
                                        double *result, flc_error *error);

/** Convert one value, dynamic to kinematic viscosity and back included: nu = mu / rho. Other pairs are converted as by
 *  flc_convert, and the density is then not looked at.
 *  @param value  in the unit from
 *  @param from   unit of value
 *  @param to     unit wanted
 *  @param rho_kgm3  density of the liquid at the temperature and pressure of the viscosity, kg/m3, 0.001 to 100000 (a
 *                bound of our own: any fluid); NaN: not given
 *  @param[out] result  in the unit to; NaN on failure
 *  @param[out] error   detail, or NULL
 *  @return as flc_convert; FLC_E_MISSING where rho_kgm3 is needed and NaN; FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE
 *          (rho_kgm3)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_convert_viscosity(double value, flc_unit from, flc_unit to, double rho_kgm3, double *result,
                                         flc_error *error);

/** The same three for n values, with the same bits. A NaN among the values passes as NaN with status FLC_OK (a missing
 *  reading stays missing). A refused value gives NaN and its status, and the batch goes on. Where the batch does not
 * start, all results are NaN and all statuses that of the failure.
 *  @param values  n values in the unit from
 *  @param n       number of values
 *  @param from    unit of values
 *  @param to      unit wanted
 *  @param p_atmospheric_kpaa  one for all; as flc_convert_pressure
 *  @param rho_kgm3            n densities, one per value; as flc_convert_viscosity
 *  @param[out] result   n values in the unit to; may be the memory of values (or of rho_kgm3), else must not overlap it
 *  @param[out] status   n statuses as numbers, or NULL
 *  @param[out] refused  how many values were refused, or NULL
 *  @param[out] error    what stopped the batch, else the first refused value with its index; or NULL
 *  @return FLC_OK when the batch ran (even with refused values), else why it did not start: FLC_E_NULL, FLC_E_CHOICE,
 *          FLC_E_UNIT_KIND, FLC_E_MISSING, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE (p_atmospheric_kpaa)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_convert_n(const double *values, size_t n, flc_unit from, flc_unit to, double *result,
                                 uint8_t *status, size_t *refused, flc_error *error);
FLC_API FLC_STATUS flc_convert_pressure_n(const double *values, size_t n, flc_unit from, flc_unit to,
                                          double p_atmospheric_kpaa, double *result, uint8_t *status, size_t *refused,
                                          flc_error *error);
FLC_API FLC_STATUS flc_convert_viscosity_n(const double *values, const double *rho_kgm3, size_t n, flc_unit from,
                                           flc_unit to, double *result, uint8_t *status, size_t *refused,
                                           flc_error *error);

FLC_END_DECLS

#endif
