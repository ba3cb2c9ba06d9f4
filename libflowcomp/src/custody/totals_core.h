/* SPDX-License-Identifier: Apache-2.0 */
/* Every counter of a set of totals, listed once, in the order of its canonical bytes. */
#ifndef FLC_TOTALS_CORE_H
#define FLC_TOTALS_CORE_H

#include "flowcomp/totals.h"

#define FLC_TOTALS_COUNTERS(ROW) \
    ROW(records)                 \
    ROW(unreadable)              \
    ROW(refused)                 \
    ROW(pulses_in)               \
    ROW(pulses_forward)          \
    ROW(pulses_reverse)          \
    ROW(pulses_below)            \
    ROW(pulses_cutoff)           \
    ROW(pulses_refused)          \
    ROW(gross_forward)           \
    ROW(gross_reverse)           \
    ROW(base_forward)            \
    ROW(base_reverse)            \
    ROW(mass_forward)            \
    ROW(mass_reverse)

#endif
