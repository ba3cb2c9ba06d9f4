/* SPDX-License-Identifier: Apache-2.0 */
/* What the parts of a proving share. */
#ifndef FLC_PROVING_CORE_H
#define FLC_PROVING_CORE_H

#include "flowcomp/proving.h"

#define FLC_RANGE_RUNS_MIN 2 /* runs of the range factors */
#define FLC_RANGE_RUNS_MAX 30
#define FLC_PASSES_MAX 1000
#define FLC_MF_LOW 0.8 /* outside it is no meter factor but a mistake */
#define FLC_MF_HIGH 1.2

/** BPV CTSp CPSp CTLp CPLp, in this order. */
static inline double flc_gsv_prover_of(double base_volume, double cts, double cps, double ctl, double cpl)
{
    return base_volume * cts * cps * ctl * cpl;
}

/** Largest range by the table of API MPMS 4.8, %; NaN outside 3 to 20 runs. */
double flc_run_range_api_4_8(size_t runs);

/** Half width at 95 % of the interval of the mean per unit of range: Student's t over d2, or Lord's exact factor.
 *  NaN outside FLC_RANGE_RUNS_MIN to _MAX. */
double flc_run_range_student(size_t runs);
double flc_run_range_lord(size_t runs);

/* A number with its name and range, for checking several in turn. */
typedef struct flc_named_range {
    const char *name;
    double value, low, high;
} flc_named_range;

/** The first of them that is not a number or outside its range. */
flc_status flc_check_ranges(const flc_named_range *list, size_t count, int64_t index, flc_error *error);

/* What a proving is worked out with. */
typedef struct flc_proving_task {
    const flc_prover *prover;
    const flc_proving_options *options;
    const flc_pass *pass;
    size_t pass_count;
    flc_proving_run *run;
    size_t run_count;
    flc_proving_finding *finding;
    size_t finding_capacity;
    flc_proving *proving;
    flc_error *error;
} flc_proving_task;

/* The inputs of a run, averaged over its passes; or of the average, over the runs used. */
typedef struct flc_run_inputs {
    flc_proving_run run; /* pulses, frequency, temperatures, pressures, tank or master volume, given factors */
    double nu_mm2s;
    int64_t index; /* of the pass or run to name in an error */
} flc_run_inputs;

void flc_proving_run_init(flc_proving_run *run);
flc_status flc_proving_options_check(const flc_prover *prover, const flc_proving_options *options, flc_error *error);

/** Passes first to first + count - 1 as the inputs of one run, every pass checked. */
flc_status flc_run_of_passes(flc_proving_task *task, size_t first, size_t count, flc_run_inputs *inputs);

/** The factors of a run from its inputs. */
flc_status flc_run_evaluate(const flc_proving_task *task, const flc_run_inputs *inputs, flc_proving_run *run);

/** Temperatures and pressures of a run as they are recorded; its factors as they are recorded. */
flc_status flc_proving_round_readings(const flc_proving_rounding *policy, flc_proving_run *run, flc_error *error);
flc_status flc_proving_round_factors(const flc_proving_rounding *policy, flc_proving_run *run, flc_error *error);

/** Range and meter factors of the proving as they are recorded. */
flc_status flc_proving_round_range(flc_proving_task *task);
flc_status flc_proving_round_mf(flc_proving_task *task);

/** Leave out runs by the rule of the options, then range, limit and uncertainty of those that remain. */
flc_status flc_proving_judge_range(flc_proving_task *task);

/** Everything else that is judged. */
void flc_proving_judge_conditions(flc_proving_task *task);
void flc_proving_find(flc_proving_task *task, flc_proving_fault fault, uint32_t run, int64_t pass, double value,
                      double limit);

#endif
