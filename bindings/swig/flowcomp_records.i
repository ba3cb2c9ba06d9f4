/* SPDX-License-Identifier: Apache-2.0 */
/* Raw module of libflowcomp-records: meter files and liquid files. */
%module(package="flowcomp", threads="1") _records

%{
#include "flowcomp/records.h"
#include <stddef.h>
#include <stdlib.h>
%}

%include "python.i"
%import(module="_flowcomp") "flowcomp.i"

%typemap(in, numinputs=0, noblock=1) char **text (char *made) {
    made = NULL;
    $1 = &made;
}
%typemap(argout, noblock=1) char **text {
    $result = SWIG_Python_AppendOutput($result, PyUnicode_FromString(*$1), 1);
}
%typemap(freearg, noblock=1) char **text { flc_text_free(*$1); }
%typemap(in, numinputs=0, noblock=1) char *hash (char digits[FLC_HASH_TEXT]) { $1 = digits; }
%typemap(argout, noblock=1) char *hash {
    $result = SWIG_Python_AppendOutput($result, PyUnicode_FromString($1), 1);
}
%ignore flc_text_free; /* called once the text is a Python string */
%include "flowcomp/records.h"
