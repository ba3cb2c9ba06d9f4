/* SPDX-License-Identifier: Apache-2.0 */
/* Custody: pulses, meter factors, provings, tickets, limits, and where a batch ends. Part of flowcomp.i. */

%apply int *RESULT { flc_counter_event *event };
%ignore flc_pulse_pair::count; /* pairs of A and B: see the methods below */
%ignore flc_pulse_pair::missing;
%ignore flc_pulse_pair::extra;
%ignore flc_pulse_pair::own_tick;
%include "flowcomp/pulses.h"
%extend flc_pulse_pair {
    int64_t count_of(flc_pulse_train train) { return $self->count[train == FLC_TRAIN_B]; }
    int64_t missing_of(flc_pulse_train train) { return $self->missing[train == FLC_TRAIN_B]; }
    int64_t extra_of(flc_pulse_train train) { return $self->extra[train == FLC_TRAIN_B]; }
}

%ignore flc_factor::x; /* arrays: set by the methods below */
%ignore flc_factor::mf;
%ignore flc_factor::c;
%ignore flc_void_numbers::number;
%include "flowcomp/meter_factor.h"
%extend flc_factor {
    /* Point or coefficient at a place below FLC_FACTOR_POINTS; further ones are left out. */
    void set_point(size_t place, double x, double mf)
    {
        if (place < FLC_FACTOR_POINTS) {
            $self->x[place] = x;
            $self->mf[place] = mf;
        }
    }
    void set_coefficient(size_t place, double c)
    {
        if (place < FLC_FACTOR_POINTS) {
            $self->c[place] = c;
        }
    }
}
%extend flc_void_numbers {
    void set_number(size_t place, double number)
    {
        if (place < FLC_VOID_COUNT) {
            $self->number[place] = number;
        }
    }
}

%include "flowcomp/quantities.h"
%include "flowcomp/legal_limits.h"

%rename(place) flc_proving_finding::pass; /* a word of Python's own */
FLC_STRUCTS(flc_pass, passes, n)
FLC_STRUCTS_ROOM(flc_proving_run, runs, run_capacity)
FLC_STRUCTS_ROOM(flc_proving_finding, findings, finding_capacity)
FLC_STATUS_IS_ANSWER(flc_proving_steps)
%include "flowcomp/proving.h"

FLC_STRUCTS(flc_ticket_interval, intervals, n)
FLC_STATUS_IS_ANSWER(flc_ticket_steps)
%include "flowcomp/quantity.h"

FLC_STRUCTS(flc_cut_record, records, n)
%include "flowcomp/interface_cut.h"
