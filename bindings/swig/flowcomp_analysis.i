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

/* Certificate points: a tuple of them. */
%typemap(arginit, noblock=1) (const flc_certificate_point *points, size_t count) { $1 = NULL; }
%typemap(freearg, noblock=1) (const flc_certificate_point *points, size_t count) { free($1); }
%typemap(in) (const flc_certificate_point *points, size_t count) {
    const Py_ssize_t count = PyTuple_Check($input) ? PyTuple_Size($input) : -1;
    if (count < 0) {
        PyErr_SetString(PyExc_TypeError, "a tuple of certificate points is needed");
        SWIG_fail;
    }
    $1 = (flc_certificate_point *)calloc((size_t)count + 1, sizeof(flc_certificate_point));
    if ($1 == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < count; i++) {
        void *point = NULL;
        if (!SWIG_IsOK(SWIG_ConvertPtr(PyTuple_GetItem($input, i), &point, $1_descriptor, SWIG_POINTER_NO_NULL))) {
            PyErr_SetString(PyExc_TypeError, "a tuple of certificate points is needed");
            SWIG_fail;
        }
        $1[i] = *(flc_certificate_point *)point;
    }
    $2 = (size_t)count;
}

FLC_HANDLE(flc_fit)
%include "flowcomp/analysis_methods.h"
%include "flowcomp/analysis.h"
