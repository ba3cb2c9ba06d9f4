/* SPDX-License-Identifier: Apache-2.0 */
/* The list of methods of libflowcomp-analysis. */
#include "flowcomp/analysis.h"
#include "method.h"
#include "methods/analysis_method_list.inc"

#define DECLARE(name) extern const flc_method_row flc_row_##name;
FLC_ANALYSIS_METHOD_LIST(DECLARE)
#undef DECLARE

static const flc_method_row *const rows[] = {
#define ROW(name) &flc_row_##name,
    FLC_ANALYSIS_METHOD_LIST(ROW)
#undef ROW
};

size_t flc_analysis_method_count(void)
{
    return FLC_COUNT_OF(rows);
}

const flc_method_info *flc_analysis_method_at(size_t place)
{
    return place < FLC_COUNT_OF(rows) ? &rows[place]->info : NULL;
}
