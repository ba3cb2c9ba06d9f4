/* SPDX-License-Identifier: Apache-2.0 */
/* The typemaps of the Python binding, shared by its three raw modules.
 *
 * Status: a status other than FLC_OK becomes the exception of flowcomp.errors after the call, with the interpreter's
 * lock held again; where the function has a flc_error, the exception carries its detail. Arrays: any object with the
 * buffer protocol and native doubles. Results through pointers become the return value, several of them a list in the
 * order of the prototype.
 *
 * The raw modules are for the package only: lengths of buffers that a function takes apart from one another are made
 * equal there. */

%{
#define PY_SSIZE_T_CLEAN
#include <string.h>
%}

%{
/* Sets the Python exception of a status; detail may be NULL. */
static void raise_status(flc_status status, const flc_error *detail)
{
    PyObject *errors = PyImport_ImportModule("flowcomp.errors");
    PyObject *error = NULL;
    if (errors != NULL && detail != NULL) {
        error = PyObject_CallMethod(errors, "of_status", "isLdds", (int)status, detail->argument,
                                    (long long)detail->index, detail->value, detail->limit, detail->message);
    } else if (errors != NULL) {
        error = PyObject_CallMethod(errors, "of_status", "i", (int)status);
    }
    if (error != NULL) {
        PyErr_SetObject((PyObject *)Py_TYPE(error), error);
    }
    Py_XDECREF(error);
    Py_XDECREF(errors);
}

/* A view of native doubles: contiguous, or, for columns, of one dimension with any whole stride. */
static int get_doubles(PyObject *object, Py_buffer *view, int flags)
{
    if (PyObject_GetBuffer(object, view, flags | PyBUF_FORMAT) != 0) {
        return -1;
    }
    if (view->format == NULL || strcmp(view->format, "d") != 0 || view->itemsize != (Py_ssize_t)sizeof(double)) {
        PyBuffer_Release(view);
        PyErr_SetString(PyExc_TypeError, "a buffer of native doubles (float64) is needed");
        return -1;
    }
    return 0;
}

static int get_bytes(PyObject *object, Py_buffer *view, size_t itemsize)
{
    if (PyObject_GetBuffer(object, view, PyBUF_C_CONTIGUOUS | PyBUF_WRITABLE) != 0) {
        return -1;
    }
    if (view->itemsize != (Py_ssize_t)itemsize) {
        PyBuffer_Release(view);
        PyErr_SetString(PyExc_TypeError, "a buffer of another item size is needed");
        return -1;
    }
    return 0;
}
%}

/* --- status ------------------------------------------------------------------------------------------------------- */

%typemap(out, noblock=1) flc_status {
    if ($1 != FLC_OK) {
        raise_status($1, NULL);
        SWIG_fail;
    }
    $result = SWIG_Py_Void();
}

%typemap(in, numinputs=0, noblock=1) flc_error *error (flc_error detail) {
    detail.status = FLC_OK;
    $1 = &detail;
}

/* Also run on the way out of a failure, with the exception of the status set: put the detail into it. */
%typemap(freearg, noblock=1) flc_error *error {
    if (detail$argnum.status != FLC_OK && PyErr_Occurred()) {
        PyErr_Clear();
        raise_status(detail$argnum.status, &detail$argnum);
    }
}

/* A status that is part of the answer, not an exception: for functions named in the interface files. */
%define FLC_STATUS_IS_ANSWER(FUNCTION)
%typemap(out, noblock=1) flc_status FUNCTION { $result = PyLong_FromLong((long)$1); }
%enddef

/* --- numbers and handles through pointers ------------------------------------------------------------------------- */

%define FLC_RESULT(TYPE, CONVERT)
%typemap(in, numinputs=0, noblock=1) TYPE *RESULT (TYPE value) { $1 = ($1_ltype)&value; }
%typemap(argout, noblock=1) TYPE *RESULT { $result = SWIG_Python_AppendOutput($result, CONVERT(*$1), 1); }
%enddef
FLC_RESULT(double, PyFloat_FromDouble)
FLC_RESULT(int, PyLong_FromLong)
FLC_RESULT(size_t, PyLong_FromSize_t)
FLC_RESULT(uint32_t, PyLong_FromUnsignedLong)
FLC_RESULT(int64_t, PyLong_FromLongLong)

%apply double *RESULT { double *result, double *ro, double *st, double *nu_mm2s, double *low_kgm3, double *high_kgm3,
                        double *b, double *quantity, double *u_relative, double *change_m3 };
%apply size_t *RESULT { size_t *refused, size_t *count, size_t *needed };
%apply uint32_t *RESULT { uint32_t *flags, uint32_t *exceeded, uint32_t *unknown };
%apply int64_t *RESULT { int64_t *difference, int64_t *advance };

/* A choice from its word: flc_<enum>_from_name(name, choice). */
%typemap(in, numinputs=0, noblock=1) SWIGTYPE *choice (int value) { $1 = ($1_ltype)&value; }
%typemap(argout, noblock=1) SWIGTYPE *choice {
    $result = SWIG_Python_AppendOutput($result, PyLong_FromLong((long)*$1), 1);
}

/* An object behind a handle: made by a function with a last NOUN **, freed when Python lets go of it. */
%define FLC_HANDLE(NOUN)
%nodefaultctor NOUN;
struct NOUN {};
%extend NOUN {
    ~NOUN() { NOUN##_free($self); }
}
%ignore NOUN##_free;
%typemap(in, numinputs=0, noblock=1) NOUN ** (NOUN *made) {
    made = NULL;
    $1 = &made;
}
%typemap(argout, noblock=1) NOUN ** {
    $result = SWIG_Python_AppendOutput($result, SWIG_NewPointerObj(*$1, $*descriptor, SWIG_POINTER_OWN), 1);
}
%enddef

/* --- arrays ------------------------------------------------------------------------------------------------------- */

/* A view is marked empty before anything can fail, and released where it is not. */
%define FLC_VIEW(ARGUMENTS)
%typemap(arginit, noblock=1) ARGUMENTS { view$argnum.obj = NULL; }
%typemap(freearg, noblock=1) ARGUMENTS {
    if (view$argnum.obj != NULL) {
        PyBuffer_Release(&view$argnum);
    }
}
%enddef

/* Doubles in; NULL for None. The empty typemap keeps SWIG from looking further, at results of the same name. */
FLC_VIEW(const double *)
%typemap(argout) const double * ""
%typemap(in, noblock=1) const double * (Py_buffer view) {
    $1 = NULL;
    if ($input != Py_None) {
        if (get_doubles($input, &view, PyBUF_C_CONTIGUOUS) != 0) {
            SWIG_fail;
        }
        $1 = (double *)view.buf;
    }
}

/* Doubles in with their number. */
FLC_VIEW((const double *DOUBLES, size_t n))
%typemap(in, noblock=1) (const double *DOUBLES, size_t n) (Py_buffer view) {
    if (get_doubles($input, &view, PyBUF_C_CONTIGUOUS) != 0) {
        SWIG_fail;
    }
    $1 = (double *)view.buf;
    $2 = (size_t)view.len / sizeof(double);
}

/* Room for doubles, or for statuses of one byte; NULL for None. */
%define FLC_ROOM(TYPE, GET)
FLC_VIEW(TYPE *ROOM)
%typemap(in, noblock=1) TYPE *ROOM (Py_buffer view) {
    $1 = NULL;
    if ($input != Py_None) {
        if (GET != 0) {
            SWIG_fail;
        }
        $1 = (TYPE *)view.buf;
    }
}
%enddef
FLC_ROOM(double, get_doubles($input, &view, PyBUF_C_CONTIGUOUS | PyBUF_WRITABLE))
FLC_ROOM(uint8_t, get_bytes($input, &view, sizeof(uint8_t)))
%apply double *ROOM { double *results };
%apply uint8_t *ROOM { uint8_t *statuses };

/* An initialiser is a macro in C, which passes the size of the caller's struct; so does the wrapper. */
%rename("%(regex:/^(flc_[a-z_]+_init)_sized$/\\1/)s", %$isfunction) "";
%typemap(in, numinputs=0, noblock=1) size_t own_size {}
%typemap(check, noblock=1) size_t own_size { $1 = sizeof *arg1; }

/* Structs in: a tuple of them. */
%define FLC_STRUCTS(TYPE, NAME, COUNT)
%typemap(arginit, noblock=1) (const TYPE *NAME, size_t COUNT) { $1 = NULL; }
%typemap(freearg, noblock=1) (const TYPE *NAME, size_t COUNT) { free($1); }
%typemap(in) (const TYPE *NAME, size_t COUNT) {
    const Py_ssize_t count = PyTuple_Check($input) ? PyTuple_Size($input) : -1;
    $1 = count < 0 ? NULL : (TYPE *)calloc((size_t)count + 1, sizeof(TYPE));
    if ($1 == NULL) {
        PyErr_SetString(count < 0 ? PyExc_TypeError : PyExc_MemoryError, "a tuple of " #TYPE " is needed");
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < count; i++) {
        void *item = NULL;
        if (!SWIG_IsOK(SWIG_ConvertPtr(PyTuple_GetItem($input, i), &item, $1_descriptor, SWIG_POINTER_NO_NULL))) {
            PyErr_SetString(PyExc_TypeError, "a tuple of " #TYPE " is needed");
            SWIG_fail;
        }
        $1[i] = *(TYPE *)item;
    }
    $2 = (size_t)count;
}
%enddef

/* Structs out, with room for so many: a tuple of that many, of which the function says how many it has filled. */
%define FLC_STRUCTS_ROOM(TYPE, NAME, CAPACITY)
%typemap(arginit, noblock=1) (TYPE *NAME, size_t CAPACITY) { $1 = NULL; }
%typemap(freearg, noblock=1) (TYPE *NAME, size_t CAPACITY) { free($1); }
%typemap(in) (TYPE *NAME, size_t CAPACITY) {
    $2 = PyLong_AsSize_t($input);
    $1 = PyErr_Occurred() ? NULL : (TYPE *)calloc($2 + 1, sizeof(TYPE));
    if ($1 == NULL) {
        if (!PyErr_Occurred()) {
            PyErr_NoMemory();
        }
        SWIG_fail;
    }
}
%typemap(argout) (TYPE *NAME, size_t CAPACITY) {
    PyObject *list = PyList_New(0);
    for (size_t i = 0; list != NULL && i < $2; i++) {
        TYPE *copy = (TYPE *)malloc(sizeof *copy);
        if (copy == NULL) {
            PyErr_NoMemory();
            SWIG_fail;
        }
        *copy = $1[i];
        PyObject *item = SWIG_NewPointerObj(copy, $1_descriptor, SWIG_POINTER_OWN);
        PyList_Append(list, item);
        Py_DECREF(item);
    }
    /* A tuple: to a list SWIG would append the next output. */
    $result = SWIG_Python_AppendOutput($result, PyList_AsTuple(list), 1);
    Py_DECREF(list);
}
%enddef

/* Bytes in with their number. */
%typemap(in, noblock=1) (const char *text, size_t length) {
    char *bytes$argnum = NULL;
    Py_ssize_t length$argnum = 0;
    if (PyBytes_AsStringAndSize($input, &bytes$argnum, &length$argnum) != 0) {
        SWIG_fail;
    }
    $1 = bytes$argnum;
    $2 = (size_t)length$argnum;
}

%typemap(argout) (const uint8_t *bytes, size_t size) ""
%typemap(freearg) (const uint8_t *bytes, size_t size) ""
%typemap(arginit) (const uint8_t *bytes, size_t size) ""
%typemap(in, noblock=1) (const uint8_t *bytes, size_t size) {
    char *bytes$argnum = NULL;
    Py_ssize_t size$argnum = 0;
    if (PyBytes_AsStringAndSize($input, &bytes$argnum, &size$argnum) != 0) {
        SWIG_fail;
    }
    $1 = (uint8_t *)bytes$argnum;
    $2 = (size_t)size$argnum;
}

/* Bytes out into room of the size given; the caller asks for the size first. */
%typemap(in, noblock=1) (uint8_t *bytes, size_t size) {
    $2 = PyLong_AsSize_t($input);
    if (PyErr_Occurred()) {
        SWIG_fail;
    }
    $1 = $2 == 0 ? NULL : (uint8_t *)malloc($2);
    if ($2 > 0 && $1 == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
}
%typemap(arginit, noblock=1) (uint8_t *bytes, size_t size) { $1 = NULL; }
%typemap(argout, noblock=1) (uint8_t *bytes, size_t size) {
    $result = SWIG_Python_AppendOutput($result, PyBytes_FromStringAndSize((const char *)$1, (Py_ssize_t)$2), 1);
}
%typemap(freearg, noblock=1) (uint8_t *bytes, size_t size) { free($1); }

/* NULL-terminated words as a tuple; None for NULL. */
%typemap(out, noblock=1) const char *const *choices {
    if ($1 == NULL) {
        $result = SWIG_Py_Void();
    } else {
        Py_ssize_t words = 0;
        while ($1[words] != NULL) {
            words++;
        }
        $result = PyTuple_New(words);
        for (Py_ssize_t i = 0; $result != NULL && i < words; i++) {
            PyTuple_SetItem($result, i, PyUnicode_FromString($1[i]));
        }
    }
}
