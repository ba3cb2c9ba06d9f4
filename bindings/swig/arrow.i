/* SPDX-License-Identifier: Apache-2.0 */
/* The Arrow C data interface in the capsules of Python: a struct in a capsule of the standard's name is borrowed for the
 * time of a call; one that a call makes goes into a capsule of its own, which releases what nobody has taken out of it.
 * Part of flowcomp.i. */

%ignore ArrowSchema;
%ignore ArrowArray;
%ignore ArrowArrayStream;

%define FLC_CAPSULE(STRUCT, TITLE)
%{
static void drop_##STRUCT(struct STRUCT *held)
{
    if (held != NULL && held->release != NULL) {
        held->release(held);
    }
    free(held);
}
static void close_##STRUCT(PyObject *capsule)
{
    drop_##STRUCT((struct STRUCT *)PyCapsule_GetPointer(capsule, TITLE));
}
/* A struct that a call has filled becomes a capsule of the answer; None where it came back released. */
static PyObject *append_##STRUCT(PyObject *answer, struct STRUCT **made, int replaces_none)
{
    PyObject *capsule = NULL;
    if ((*made)->release == NULL) {
        capsule = SWIG_Py_Void();
    } else if ((capsule = PyCapsule_New(*made, TITLE, close_##STRUCT)) != NULL) {
        *made = NULL;
    }
    if (capsule == NULL) {
        Py_XDECREF(answer);
        return NULL;
    }
    return SWIG_Python_AppendOutput(answer, capsule, replaces_none);
}
%}

%typemap(in, noblock=1) const struct STRUCT *, struct STRUCT *borrowed {
    $1 = (struct STRUCT *)PyCapsule_GetPointer($input, TITLE);
    if ($1 == NULL) {
        SWIG_fail;
    }
}
%typemap(arginit, noblock=1) const struct STRUCT *, struct STRUCT *borrowed ""
%typemap(argout, noblock=1) const struct STRUCT *, struct STRUCT *borrowed ""
%typemap(freearg, noblock=1) const struct STRUCT *, struct STRUCT *borrowed ""

%typemap(arginit, noblock=1) struct STRUCT * { $1 = NULL; }
%typemap(in, numinputs=0, noblock=1) struct STRUCT * {
    $1 = (struct STRUCT *)calloc(1, sizeof(struct STRUCT));
    if ($1 == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
}
%typemap(argout, noblock=1) struct STRUCT * {
    $result = append_##STRUCT($result, &$1, 1);
    if ($result == NULL) {
        SWIG_fail;
    }
}
/* Beside a text that may be None, which then stays. */
%typemap(argout, noblock=1) struct STRUCT *made {
    $result = append_##STRUCT($result, &$1, 0);
    if ($result == NULL) {
        SWIG_fail;
    }
}
%typemap(freearg, noblock=1) struct STRUCT * { drop_##STRUCT($1); }
%enddef
FLC_CAPSULE(ArrowSchema, "arrow_schema")
FLC_CAPSULE(ArrowArray, "arrow_array")
FLC_CAPSULE(ArrowArrayStream, "arrow_array_stream")

/* Capsules of arrays: a tuple of them. */
%typemap(arginit, noblock=1) (const struct ArrowArray *const *results, size_t count) { $1 = NULL; }
%typemap(argout, noblock=1) (const struct ArrowArray *const *results, size_t count) ""
%typemap(freearg, noblock=1) (const struct ArrowArray *const *results, size_t count) { free($1); }
%typemap(in) (const struct ArrowArray *const *results, size_t count) {
    const Py_ssize_t count = tuple_size($input, PY_SSIZE_T_MAX, 0);
    if (count < 0) {
        SWIG_fail;
    }
    const struct ArrowArray **arrays = (const struct ArrowArray **)calloc((size_t)count + 1, sizeof *arrays);
    $1 = ($1_ltype)arrays;
    if (arrays == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < count; i++) {
        arrays[i] = (const struct ArrowArray *)PyCapsule_GetPointer(PyTuple_GetItem($input, i), "arrow_array");
        if (arrays[i] == NULL) {
            SWIG_fail;
        }
    }
    $2 = (size_t)count;
}

/* Names of outputs: a tuple of words; None for all. */
%typemap(arginit, noblock=1) (const char *const *outputs, size_t output_count) { $1 = NULL; }
%typemap(freearg, noblock=1) (const char *const *outputs, size_t output_count) { free((void *)$1); }
%typemap(in) (const char *const *outputs, size_t output_count) {
    $2 = 0;
    if ($input != Py_None) {
        const Py_ssize_t count = tuple_size($input, PY_SSIZE_T_MAX, 0);
        if (count < 0) {
            SWIG_fail;
        }
        const char **words = (const char **)calloc((size_t)count + 1, sizeof *words);
        $1 = ($1_ltype)words;
        if (words == NULL) {
            PyErr_NoMemory();
            SWIG_fail;
        }
        for (Py_ssize_t i = 0; i < count; i++) {
            words[i] = PyUnicode_AsUTF8AndSize(PyTuple_GetItem($input, i), NULL);
            if (words[i] == NULL) {
                SWIG_fail;
            }
        }
        $2 = (size_t)count;
    }
}

%apply const flc_reading *reading { const flc_reading *constants };

/* A reading out: a tuple of its numbers, NaN for one that is absent. */
%typemap(in, numinputs=0, noblock=1) flc_reading *reading (flc_reading found) {
    flc_reading_init(&found);
    $1 = &found;
}
%typemap(argout) flc_reading *reading {
    PyObject *numbers = PyTuple_New(READING_FIELDS);
    if (numbers == NULL) {
        SWIG_fail;
    }
    for (size_t i = 0; i < READING_FIELDS; i++) {
        PyTuple_SetItem(numbers, (Py_ssize_t)i,
                        PyFloat_FromDouble(*AT($1, reading_fields[i].in_reading, double)));
    }
    $result = SWIG_Python_AppendOutput($result, numbers, 1);
}

%include "flowcomp/arrow.h"

%inline %{
/* What the producer of a stream says has failed; NULL where nothing has. */
static const char *arrow_stream_complaint(struct ArrowArrayStream *borrowed, int failed)
{
    if (failed == 0) {
        return NULL;
    }
    const char *words = borrowed->get_last_error(borrowed);
    return words != NULL ? words : "its producer gave no reason";
}

/* Type and next array of another program's stream, each with the complaint. */
static const char *arrow_stream_schema(struct ArrowArrayStream *borrowed, struct ArrowSchema *made)
{
    if (borrowed->release == NULL) {
        return "it has been released or moved: export it again";
    }
    return arrow_stream_complaint(borrowed, borrowed->get_schema(borrowed, made));
}
static const char *arrow_stream_next(struct ArrowArrayStream *borrowed, struct ArrowArray *made)
{
    return arrow_stream_complaint(borrowed, borrowed->get_next(borrowed, made));
}

static size_t arrow_length(const struct ArrowArray *array)
{
    return (size_t)array->length;
}

/* Statuses of results, their last column; room for as many as there are records. */
static void arrow_statuses(const struct ArrowArray *array, uint8_t *statuses)
{
    memcpy(statuses, array->children[array->n_children - 1]->buffers[1], (size_t)array->length);
}
%}
