/* SPDX-License-Identifier: Apache-2.0 */
/* Raw module of the run-time library. The package flowcomp puts names, units and arrays on top of it. */
%module(package="flowcomp", threads="1") _flowcomp

%{
#include "flowcomp/flowcomp.h"
#include <stddef.h>
#include <stdlib.h>
%}

%include <stdint.i>
%include "flowcomp/export.h"
%include "python.i"
%include "columns.i"

/* Structs that a call takes or gives as a tuple (columns.i). */
%ignore flc_reading;
%ignore flc_reading_init_sized;
%ignore flc_readings;
%ignore flc_readings_init_sized;
%ignore flc_result;
%ignore flc_result_init_sized;
%ignore flc_results;
%ignore flc_results_init_sized;
%ignore flc_step;
%ignore flc_column;
%ignore flc_value;
%ignore flc_error;

%include "flowcomp/version.h"
FLC_STATUS_IS_ANSWER(flc_status_at)
%include "flowcomp/status.h"

/* --- units: the batch functions take arrays ----------------------------------------------------------------------- */

%apply (const double *DOUBLES, size_t n) { (const double *values, size_t n) };
%typemap(in, numinputs=0, noblock=1) flc_unit *unit (flc_unit found) { $1 = &found; }
%typemap(argout, noblock=1) flc_unit *unit {
    $result = SWIG_Python_AppendOutput($result, PyLong_FromLong((long)$1->id), 1);
}
%typemap(in, noblock=1) flc_unit {
    $1.id = (int32_t)PyLong_AsLong($input);
    if (PyErr_Occurred()) {
        SWIG_fail;
    }
}
%typemap(out, noblock=1) flc_unit { $result = PyLong_FromLong((long)$1.id); }
%ignore flc_unit;       /* a unit is its number here */
%ignore flc_unit_names; /* flc_unit_at and flc_unit_kind_of tell the same */
flc_status flc_convert_n(const double *values, size_t n, flc_unit from, flc_unit to, double *results, uint8_t *statuses,
                         size_t *refused, flc_error *error);
flc_status flc_convert_pressure_n(const double *values, size_t n, flc_unit from, flc_unit to, double p_atmospheric_kpaa,
                                  double *results, uint8_t *statuses, size_t *refused, flc_error *error);
flc_status flc_convert_viscosity_n(const double *values, const double *rho_kgm3, size_t n, flc_unit from, flc_unit to,
                                   double *results, uint8_t *statuses, size_t *refused, flc_error *error);
%immutable; /* rows are the library's constants */
%include "flowcomp/units.h"
%mutable;

%include "flowcomp/rounding.h"

/* --- published methods -------------------------------------------------------------------------------------------- */

/* Methods are called by their row (flc_method_call). Of their headers only those are read that define types of the
 * objects below. */
%include "flowcomp/nist_cryogenic.h"
%include "flowcomp/metals.h"
%include "flowcomp/viscosity_d341.h"
%include "flowcomp/petroleum_2004.h"
%include "flowcomp/body_strain.h"

flc_status flc_method_call_n(const flc_method_info *method, const flc_column *columns, size_t column_count, size_t n,
                             double *results, uint8_t *statuses, size_t *refused);
%immutable; /* rows are the library's constants */
%include "flowcomp/methods.h"
%mutable;
%extend flc_method_info {
    /* Argument at a place below argument_count; NULL past the last. */
    const flc_method_argument *argument(size_t place)
    {
        return place < $self->argument_count ? &$self->arguments[place] : NULL;
    }
}

/* --- body, curve, liquid, meter ----------------------------------------------------------------------------------- */

%include "flowcomp/meter_body.h"

FLC_HANDLE(flc_curve)
%apply double *ROOM { double *room_ln_ro, double *room_st, double *room_coefficients };
flc_status flc_curve_copy(const flc_curve *curve, double *room_ln_ro, double *room_st, double *room_coefficients);
FLC_STATUS_IS_ANSWER(flc_curve_canonical)
%include "flowcomp/curve.h"

FLC_HANDLE(flc_liquid)
%apply int *RESULT { flc_provenance *provenance };
FLC_STATUS_IS_ANSWER(flc_liquid_canonical)
/* Texts and arrays that an options struct points to live for the time of the call: see make_liquid and make_meter. */
%ignore flc_liquid_new;
%ignore flc_meter_new;
%immutable flc_liquid_options::name;
%immutable flc_liquid_options::nu_source;
%immutable flc_viscosity_points::t_degc;
%immutable flc_viscosity_points::nu_mm2s;
%immutable flc_meter_options::name;
%include "flowcomp/liquid.h"
%extend flc_viscosity_points {
    double t_degc_at(size_t place) { return $self->t_degc[place]; }
    double nu_mm2s_at(size_t place) { return $self->nu_mm2s[place]; }
}

FLC_HANDLE(flc_meter)
FLC_STATUS_IS_ANSWER(flc_meter_canonical)
FLC_STATUS_IS_ANSWER(flc_meter_evaluate)
%typemap(in, numinputs=0, noblock=1) const flc_curve **curve (const flc_curve *own) { $1 = ($1_ltype)&own; }
%typemap(argout, noblock=1) const flc_curve **curve {
    $result = SWIG_Python_AppendOutput($result, SWIG_NewPointerObj((void *)*$1, $*descriptor, 0), 1);
}
flc_status flc_meter_evaluate(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading,
                              flc_result *result, flc_error *answer);
%include "flowcomp/meter.h"

%inline %{
/* flc_liquid_new with the texts and points that the options point to. */
static flc_status make_liquid(const flc_liquid_options *options, const char *name, const char *nu_source, size_t n,
                              const double *t_degc, const double *nu_mm2s, size_t n_second, const double *t_second_degc,
                              const double *nu_second_mm2s, flc_liquid **liquid, flc_error *error)
{
    flc_liquid_options whole = *options;
    whole.name = name;
    whole.nu_source = nu_source;
    whole.points.count = n;
    whole.points.t_degc = t_degc;
    whole.points.nu_mm2s = nu_mm2s;
    whole.second.count = n_second;
    whole.second.t_degc = t_second_degc;
    whole.second.nu_mm2s = nu_second_mm2s;
    return flc_liquid_new(&whole, liquid, error);
}

/* flc_meter_new with the name that the options point to. */
static flc_status make_meter(const flc_meter_options *options, const char *name, const flc_body_options *body,
                             const flc_curve *curve, flc_meter **meter, flc_error *error)
{
    flc_meter_options whole = *options;
    whole.name = name;
    return flc_meter_new(&whole, body, curve, meter, error);
}
%}

/* --- totals, explain, batch --------------------------------------------------------------------------------------- */

FLC_STATUS_IS_ANSWER(flc_totals_canonical)
%ignore flc_totals_add; /* flc_meter_evaluate_n adds the records */
%ignore flc_total_set;  /* two totals */
%ignore flc_total_set_start;
%ignore flc_total_set_add;
%include "flowcomp/totals.h"

FLC_STATUS_IS_ANSWER(flc_explain)
FLC_STATUS_IS_ANSWER(flc_explain_text)
flc_status flc_explain(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, flc_step *steps,
                       size_t capacity, size_t *count, flc_error *answer);
%include "flowcomp/explain.h"

%include "custody.i"

%include "flowcomp/batch.h"

/* --- the contract of bits ----------------------------------------------------------------------------------------- */

FLC_STATUS_IS_ANSWER(flc_bits_bytes)
%immutable flc_bits_part::name;
%immutable flc_bits_part::method;
%include "flowcomp/bits_contract.h"

%include "arrow.i"
