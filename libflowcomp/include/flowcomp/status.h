/* SPDX-License-Identifier: Apache-2.0 */
/* Status numbers, the caller-owned error detail, and the flags that say how a good result should be read.
 *
 * A function that can fail returns flc_status and gives its results through pointers. On failure every number it
 * would have written is NaN and every handle NULL. Where several statuses apply, pointers that must not be NULL and
 * structs that must have their size come first, then the values from left to right (of a struct: its fields in order),
 * and for one value the order is not a number, infinite, below, above. An evaluation judges pulses and times, then
 * temperature and pressure, density, viscosity, and last the curve. */
#ifndef FLOWCOMP_STATUS_H
#define FLOWCOMP_STATUS_H

#include "flowcomp/export.h"
#include <stddef.h>
#include <stdint.h>

FLC_BEGIN_DECLS

/* One row per status: name, number, text. The number stands in its row, families leave gaps, and a number once
 * released never moves. */
#define FLC_STATUS_LIST(ROW)                                                                                           \
    ROW(OK, 0, "success")                                                                                              \
                                                                                                                       \
    ROW(E_NULL, 10, "a required pointer is NULL")                                                                      \
    ROW(E_NAN, 11, "an argument is not a number")                                                                      \
    ROW(E_INFINITE, 12, "an argument is infinite")                                                                     \
    ROW(E_BELOW, 13, "an argument is below the valid range")                                                           \
    ROW(E_ABOVE, 14, "an argument is above the valid range")                                                           \
    ROW(E_CHOICE, 15, "an argument is not one of the choices")                                                         \
    ROW(E_MISSING, 16, "a required input is missing")                                                                  \
    ROW(E_CONFLICT, 17, "two inputs that exclude each other are both given")                                           \
    ROW(E_COUNT, 18, "too few or too many values")                                                                     \
    ROW(E_ORDER, 19, "values are not in rising order")                                                                 \
    ROW(E_DUPLICATE, 20, "a value occurs twice")                                                                       \
    ROW(E_SIZE, 21, "a struct was not set up by its initialiser")                                                      \
    ROW(E_NOT_WHOLE, 22, "a number that must be whole is not")                                                         \
                                                                                                                       \
    ROW(E_NO_ROOT, 30, "no solution inside the valid range")                                                           \
    ROW(E_DOMAIN, 31, "the formula has no value here")                                                                 \
    ROW(E_OVERFLOW, 32, "a total or result does not fit")                                                              \
    ROW(E_SINGULAR, 33, "the points do not determine the fit")                                                         \
    ROW(E_NOT_MONOTONIC, 34, "the curve turns back on itself")                                                         \
                                                                                                                       \
    ROW(E_BELOW_CURVE, 40, "below the range of the calibration curve")                                                 \
    ROW(E_ABOVE_CURVE, 41, "above the range of the calibration curve")                                                 \
    ROW(E_NEGATIVE_PRESSURE, 42, "negative gauge pressure")                                                            \
    ROW(E_BELOW_VISCOSITY_RANGE, 43, "below the temperature range of the viscosity source")                            \
    ROW(E_ABOVE_VISCOSITY_RANGE, 44, "above the temperature range of the viscosity source")                            \
                                                                                                                       \
    ROW(E_MEMORY, 50, "out of memory")                                                                                 \
    ROW(E_BUFFER, 51, "the buffer given is too small")                                                                 \
                                                                                                                       \
    ROW(E_UNKNOWN_NAME, 60, "the name is not known")                                                                   \
    ROW(E_AMBIGUOUS_UNIT, 61, "the unit name has more than one meaning")                                               \
    ROW(E_UNIT_KIND, 62, "the units measure different quantities")                                                     \
                                                                                                                       \
    ROW(E_SYNTAX, 70, "the text is not valid JSON")                                                                    \
    ROW(E_SCHEMA, 71, "a field is missing, unknown, or of the wrong kind")                                             \
    ROW(E_HASH, 72, "the content does not match its hash")                                                             \
    ROW(E_VERSION, 73, "written by a later version of the format")                                                     \
    ROW(E_NUMBER, 74, "a number cannot be held exactly enough")                                                        \
    ROW(E_LIBRARY, 75, "a library this one rests on refused to start")                                                 \
    ROW(E_FILE, 76, "a file could not be read or written")                                                             \
    ROW(E_BUSY, 77, "another program is writing the file")                                                             \
    ROW(E_SIGNATURE, 78, "a signature does not match")                                                                 \
                                                                                                                       \
    ROW(E_INTERNAL, 90, "internal error: please report it")

typedef enum flc_status {
#define FLC_STATUS_ROW(name, number, text) FLC_##name = (number),
    FLC_STATUS_LIST(FLC_STATUS_ROW)
#undef FLC_STATUS_ROW
} flc_status;

/** Text of a status, for people. Never NULL; "unknown status" for a number that is none.
 *  @since 0.1 */
FLC_API const char *flc_status_text(flc_status status);

/** Name of a status as spelled in this header without the prefix ("E_BELOW"). Never NULL.
 *  @since 0.1 */
FLC_API const char *flc_status_name(flc_status status);

/** Number of statuses, and the status at a place in the list, for walking it.
 *  @since 0.1 */
FLC_API size_t flc_status_count(void);
FLC_API flc_status flc_status_at(size_t place);

/** What went wrong, in the caller's own memory. Always left defined: status FLC_OK and empty texts when nothing did.
 *  argument: name of the offending input ("" where none); index: its place in an array, or -1;
 *  value: what was given; limit: the bound it broke (NaN where none applies). */
typedef struct flc_error {
    flc_status status;
    int64_t index;
    double value;
    double limit;
    char argument[48];
    char message[256];
} flc_error;

/* Doubt is a flag, not a status: a result that carries flags is a good result with something to know about it. */
#define FLC_FLAG_LIST(ROW)                                                                                             \
    ROW(NO_FLOW, 0, "no_flow", "no pulses in the window")                                                              \
    ROW(PARTIAL_FLOW, 1, "partial_flow", "the meter may have run for part of the window only")                         \
    ROW(BELOW_CURVE, 2, "below_curve", "Roshko number below the calibrated range")                                     \
    ROW(ABOVE_CURVE, 3, "above_curve", "Roshko number above the calibrated range")                                     \
    ROW(EXTRAPOLATED, 4, "extrapolated", "a named policy extended the curve")                                          \
    ROW(BELOW_CUTOFF, 5, "below_cutoff", "under the low-flow cut-off")                                                 \
    ROW(REVERSE, 6, "reverse", "reverse flow")                                                                         \
    ROW(PRESSURE_CLAMPED, 7, "pressure_clamped", "negative gauge pressure taken as zero by a named policy")            \
    ROW(VISCOSITY_EXTRAPOLATED, 8, "viscosity_extrapolated", "viscosity outside the range of its points")              \
    ROW(VISCOSITY_ONE_POINT, 9, "viscosity_one_point", "viscosity from one point and the slope of a family")           \
    ROW(VISCOSITY_INTERPOLATED, 10, "viscosity_interpolated", "viscosity interpolated between two liquids")            \
    ROW(VISCOSITY_TYPICAL, 11, "viscosity_typical", "a typical viscosity, not that of this liquid")                    \
    ROW(FROM_MEMORY, 12, "from_memory", "rests on constants not yet confirmed against the print")                      \
    ROW(BODY_EXTRAPOLATED, 13, "body_extrapolated", "body temperature outside the range of the expansion coefficient") \
    ROW(OBSERVED_DENSITY, 14, "observed_density", "base density derived from an observed density")                     \
    ROW(ROUNDED, 15, "rounded", "rounded by the policy asked for")                                                     \
    ROW(NO_VOLUME_CORRECTION, 16, "no_volume_correction", "no method for base conditions: base volume not given")      \
    ROW(FLOWING_KNOWN, 17, "flowing_time_known", "frequency taken from flowing seconds or a flowing mean")             \
    ROW(NO_PRESSURE_CORRECTION, 18, "no_pressure_correction", "no compressibility was chosen: CPL is 1")               \
    ROW(VAPOUR_MEASURED, 19, "vapour_measured", "vapour pressure measured with the record")                            \
    ROW(VAPOUR_LABORATORY, 20, "vapour_laboratory", "vapour pressure from a laboratory value at 37.8 degC")            \
    ROW(VAPOUR_SUPPLIED, 21, "vapour_supplied", "vapour pressure from the user's correlation")                         \
    ROW(VAPOUR_MARGIN, 22, "vapour_margin", "pressure under 1.25 times the vapour pressure: the liquid may flash")     \
    ROW(VISCOSITY_MODEL, 23, "viscosity_model", "viscosity from a model with given coefficients")

typedef enum flc_flag {
#define FLC_FLAG_ROW(name, bit, word, text) FLC_FLAG_##name = 1 << (bit),
    FLC_FLAG_LIST(FLC_FLAG_ROW)
#undef FLC_FLAG_ROW
} flc_flag;

/** Word of the flag with this bit number ("no_flow"), or NULL past the last.
 *  @since 0.1 */
FLC_API const char *flc_flag_word(unsigned bit);

/** Sentence that explains the flag with this bit number, or NULL past the last.
 *  @since 0.1 */
FLC_API const char *flc_flag_text(unsigned bit);

/* Where a number rests. Never empty; carried with constants into results and tickets. */
typedef enum flc_provenance {
    FLC_PUBLISHED = 1,       /* read in a public source that is named */
    FLC_FROM_MEMORY = 2,     /* recalled from a named standard; confirm against the print */
    FLC_COMMON_PRACTICE = 3, /* a habit of the trade, no source */
    FLC_COMPUTED = 4,        /* derived here from a formula that is named */
    FLC_USER_GIVEN = 5       /* supplied by the caller, who holds the evidence */
} flc_provenance;

/** Words of a provenance ("from memory"); "unknown" for a number that is none.
 *  @since 0.1 */
FLC_API const char *flc_provenance_text(flc_provenance provenance);

/** Library version ("0.1.0") and the identifier of its contract of bits ("FLC-BITS-1"): two facts, queried apart.
 *  @since 0.1 */
FLC_API const char *flc_version(void);
FLC_API const char *flc_bits_contract(void);

FLC_END_DECLS

#endif
