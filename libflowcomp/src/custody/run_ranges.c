/* SPDX-License-Identifier: Apache-2.0 */
/* What a range of runs says about their mean, at 95 %, from tables: the run-time library has no GSL. The functions of
 * any probability are in libflowcomp-analysis, which the tests hold these against. */
#include "proving_core.h"
#include "error.h"
#include "fpmath.h"

typedef struct range_factors {
    double student_t, d2, lord;
} range_factors;

#include "tables/run_ranges_table.inc"

#define API_4_8_FIRST 3

double flc_run_range_api_4_8(size_t runs)
{
    const size_t count = sizeof api_4_8_ranges / sizeof api_4_8_ranges[0];
    return runs >= API_4_8_FIRST && runs < API_4_8_FIRST + count ? api_4_8_ranges[runs - API_4_8_FIRST] : flc_nan();
}

double flc_run_range_student(size_t runs)
{
    if (runs < FLC_RANGE_RUNS_MIN || runs > FLC_RANGE_RUNS_MAX) {
        return flc_nan();
    }
    const range_factors *row = &factors_95[runs - FLC_RANGE_RUNS_MIN];
    return row->student_t / (row->d2 * flc_sqrt((double)runs));
}

double flc_run_range_lord(size_t runs)
{
    return runs < FLC_RANGE_RUNS_MIN || runs > FLC_RANGE_RUNS_MAX ? flc_nan()
                                                                  : factors_95[runs - FLC_RANGE_RUNS_MIN].lord;
}
