/* SPDX-License-Identifier: Apache-2.0 */
/* Raw module of libflowcomp-analysis: fits and statistics. */
%module(package="flowcomp", threads="1") _analysis

%{
#include "flowcomp/analysis.h"
#include <stddef.h>
#include <stdlib.h>
%}

%include "python.i"
%import(module="_flowcomp") "flowcomp.i"

FLC_STRUCTS(flc_certificate_point, points, count)
FLC_HANDLE(flc_fit)
%include "flowcomp/analysis_methods.h"
%apply (const double *DOUBLES, size_t n) { (const double *viscosity, size_t n) };
%apply double *ROOM { double *residual_pct };
%include "flowcomp/viscosity_fit.h"
%include "flowcomp/analysis.h"
