/* SPDX-License-Identifier: Apache-2.0 */
/* Many records: columns in, columns out, the same bits as one call per record. A refused record gets NaN, its status and
 * its flags, and the batch goes on. No allocation, no threads: split the columns as you like, any split gives the same
 * bits. */
#ifndef FLOWCOMP_BATCH_H
#define FLOWCOMP_BATCH_H

#include "flowcomp/methods.h"
#include "flowcomp/totals.h"

FLC_BEGIN_DECLS

/* Which instructions a batch uses. Every one gives the same bits; a lower one is asked for only to prove that. One that
 * the processor or the library has not is answered by the best below it. */
typedef enum flc_instruction_set {
    FLC_INSTRUCTIONS_BEST = 0,
    FLC_INSTRUCTIONS_SCALAR = 1, /* one call per record */
    FLC_INSTRUCTIONS_BASE = 2,   /* what every processor of the family has: SSE2, NEON */
    FLC_INSTRUCTIONS_AVX2 = 3,
    FLC_INSTRUCTIONS_AVX512 = 4
} flc_instruction_set;

/** The instruction set that a batch takes when this one is asked for, on this processor.
 *  @since 0.1 */
FLC_API flc_instruction_set flc_instructions_taken(flc_instruction_set asked);

/* Columns of readings; a column with start NULL is absent (NaN in every record). Set up by flc_readings_init. */
typedef struct flc_readings {
    uint32_t size;
    uint32_t instruction_set; /* flc_instruction_set; 0: the best */
    flc_column pulses, duration_s, flowing_s, f_flowing_hz, f_hz;
    flc_column t_degc, p_kpag, nu_mm2s;
    flc_column rho_base_kgm3, rho_observed_kgm3, t_observed_degc, p_observed_kpag, densitometer_factor;
    flc_column f_before_hz, f_after_hz, f_highest_hz;
    flc_column pe_kpa;
} flc_readings;

/* Those columns, listed once: name, and the field of flc_reading that it fills. */
#define FLC_READING_LIST(ROW)                                                                                          \
    ROW(pulses, pulses)                                                                                                \
    ROW(duration_s, duration_s)                                                                                        \
    ROW(flowing_s, flowing_s)                                                                                          \
    ROW(f_flowing_hz, f_flowing_hz)                                                                                    \
    ROW(f_hz, f_hz)                                                                                                    \
    ROW(t_degc, t_degc)                                                                                                \
    ROW(p_kpag, p_kpag)                                                                                                \
    ROW(nu_mm2s, nu_mm2s)                                                                                              \
    ROW(rho_base_kgm3, density.rho_base_kgm3)                                                                          \
    ROW(rho_observed_kgm3, density.rho_observed_kgm3)                                                                  \
    ROW(t_observed_degc, density.t_observed_degc)                                                                      \
    ROW(p_observed_kpag, density.p_observed_kpag)                                                                      \
    ROW(densitometer_factor, density.densitometer_factor)                                                              \
    ROW(f_before_hz, f_before_hz)                                                                                      \
    ROW(f_after_hz, f_after_hz)                                                                                        \
    ROW(f_highest_hz, f_highest_hz)                                                                                    \
    ROW(pe_kpa, pe_kpa)

/** Set up columns of readings: all absent, best instructions (an absent densitometer factor is 1).
 *  @param[out] readings  never NULL
 *  @since 0.1 */
FLC_API void flc_readings_init_sized(flc_readings *readings, size_t own_size);
#define flc_readings_init(readings) flc_readings_init_sized((readings), sizeof *(readings))

/* Columns of results, each n doubles of stride 1; NULL where not wanted. Set up by flc_results_init. */
typedef struct flc_results {
    uint32_t size;
    uint8_t *status; /* status numbers */
    uint32_t *flags;
#define FLC_RESULT_COLUMN(name, unit, meaning) double *name;
    FLC_RESULT_LIST(FLC_RESULT_COLUMN)
#undef FLC_RESULT_COLUMN
} flc_results;

/** Set up columns of results: none wanted.
 *  @param[out] results  never NULL
 *  @since 0.1 */
FLC_API void flc_results_init_sized(flc_results *results, size_t own_size);
#define flc_results_init(results) flc_results_init_sized((results), sizeof *(results))

/** Evaluate n records.
 *  @param meter     never NULL
 *  @param liquid    never NULL
 *  @param readings  columns in; see flc_meter_evaluate for what a record needs
 *  @param n         number of records
 *  @param[out] results  columns out; a column out may be the memory of a column in of stride 1
 *  @param totals    every record is added to it in order, or NULL
 *  @param[out] refused  records refused, or NULL
 *  @return FLC_OK when the batch ran (even with refused records); FLC_E_NULL, FLC_E_SIZE (nothing was evaluated: results
 *          NaN, every status the one returned); FLC_E_OVERFLOW from the totals (records before the one that did not fit
 *          are in them, none from there on; all records are evaluated)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_evaluate_n(const flc_meter *meter, const flc_liquid *liquid, const flc_readings *readings,
                                        size_t n, const flc_results *results, flc_totals *totals, size_t *refused);

FLC_END_DECLS

#endif
