/* SPDX-License-Identifier: Apache-2.0 */
/* Typemaps of the calls that carry many numbers: values of a method, columns of a batch, one reading and its result,
 * steps of an explanation. Each takes a tuple in the order of the struct behind it. */

%{
#define ARGUMENTS_MAX 24 /* the longest row of a method */

/* The fields of a reading in the order of flc_readings, and where flc_reading has them. */
#define READING_FIELD(name, place) {#name, offsetof(flc_reading, place), offsetof(flc_readings, name)},
static const struct {
    const char *name;
    size_t in_reading, in_readings;
} reading_fields[] = {FLC_READING_LIST(READING_FIELD)};
#define READING_FIELDS (sizeof reading_fields / sizeof reading_fields[0])
_Static_assert(sizeof(flc_readings) == offsetof(flc_readings, pulses) + READING_FIELDS * sizeof(flc_column),
               "FLC_READING_LIST has every field of flc_readings");

#define RESULT_ROW(name, unit, meaning) {#name, unit, meaning, offsetof(flc_result, name), offsetof(flc_results, name)},
static const struct {
    const char *name, *unit, *meaning;
    size_t in_result, in_results;
} result_fields[] = {FLC_RESULT_LIST(RESULT_ROW)};
#define RESULT_FIELDS (sizeof result_fields / sizeof result_fields[0])

#define AT(object, offset, type) ((type *)(void *)((char *)(object) + (offset)))

/* A tuple of so many items, or of at most so many where exact is 0. Its size, or -1. */
static Py_ssize_t tuple_size(PyObject *object, Py_ssize_t size, int exact)
{
    const Py_ssize_t count = PyTuple_Check(object) ? PyTuple_Size(object) : -1;
    if (count < 0 || count > size || (exact && count != size)) {
        PyErr_Format(PyExc_TypeError, "a tuple of %s%zd items is needed", exact ? "" : "at most ", size);
        return -1;
    }
    return count;
}

static int get_column(PyObject *object, Py_buffer *view, flc_column *column)
{
    if (get_doubles(object, view, PyBUF_STRIDES) != 0) {
        return -1;
    }
    if (view->ndim > 1 || (view->ndim == 1 && view->strides[0] % (Py_ssize_t)sizeof(double) != 0)) {
        PyBuffer_Release(view);
        PyErr_SetString(PyExc_ValueError, "a column has one dimension and a stride of whole doubles");
        return -1;
    }
    const int one = view->len == (Py_ssize_t)sizeof(double);
    column->start = (const double *)view->buf;
    column->stride = one ? 0 : view->strides[0] / (Py_ssize_t)sizeof(double);
    return 0;
}
%}

/* Views held by a call, released however it ends. */
%define FLC_VIEWS(ARGUMENTS)
%typemap(arginit, noblock=1) ARGUMENTS { held$argnum = 0; }
%typemap(freearg, noblock=1) ARGUMENTS {
    while (held$argnum > 0) {
        PyBuffer_Release(&views$argnum[--held$argnum]);
    }
}
%enddef

/* One value per argument of a method's row: a number, or an array of doubles for a list. */
FLC_VIEWS((const flc_value *values, size_t count))
%typemap(in) (const flc_value *values, size_t count)
    (flc_value values[ARGUMENTS_MAX], Py_buffer views[ARGUMENTS_MAX], Py_ssize_t held) {
    const Py_ssize_t count = tuple_size($input, ARGUMENTS_MAX, 0);
    if (count < 0) {
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < count; i++) {
        PyObject *item = PyTuple_GetItem($input, i);
        values[i].number = 0.0;
        values[i].list = NULL;
        values[i].count = 0;
        if (PyFloat_Check(item) || !PyObject_CheckBuffer(item)) {
            values[i].number = PyFloat_AsDouble(item);
            if (PyErr_Occurred()) {
                SWIG_fail;
            }
        } else {
            if (get_doubles(item, &views[held], PyBUF_C_CONTIGUOUS) != 0) {
                SWIG_fail;
            }
            values[i].list = (const double *)views[held].buf;
            values[i].count = (size_t)views[held].len / sizeof(double);
            held++;
        }
    }
    $1 = values;
    $2 = (size_t)count;
}

/* Columns: arrays of doubles of one dimension, of any stride; an array of one element repeats it. */
FLC_VIEWS((const flc_column *columns, size_t column_count))
%typemap(in) (const flc_column *columns, size_t column_count)
    (flc_column columns[ARGUMENTS_MAX], Py_buffer views[ARGUMENTS_MAX], Py_ssize_t held) {
    const Py_ssize_t count = tuple_size($input, ARGUMENTS_MAX, 0);
    if (count < 0) {
        SWIG_fail;
    }
    for (Py_ssize_t i = 0; i < count; i++) {
        if (get_column(PyTuple_GetItem($input, i), &views[held], &columns[i]) != 0) {
            SWIG_fail;
        }
        held++;
    }
    $1 = columns;
    $2 = (size_t)count;
}

/* Columns of readings; None for one that is absent. */
FLC_VIEWS(const flc_readings *readings)
%typemap(in) const flc_readings *readings
    (flc_readings readings, Py_buffer views[READING_FIELDS], Py_ssize_t held) {
    if (tuple_size($input, READING_FIELDS, 1) < 0) {
        SWIG_fail;
    }
    flc_readings_init(&readings);
    for (size_t i = 0; i < READING_FIELDS; i++) {
        PyObject *item = PyTuple_GetItem($input, (Py_ssize_t)i);
        if (item == Py_None) {
            continue;
        }
        if (get_column(item, &views[held], AT(&readings, reading_fields[i].in_readings, flc_column)) != 0) {
            SWIG_fail;
        }
        held++;
    }
    $1 = &readings;
}

/* Columns of results: status, flags, then the fields of FLC_RESULT_LIST; None for one that is not wanted. */
FLC_VIEWS(const flc_results *results)
%typemap(in) const flc_results *results
    (flc_results results, Py_buffer views[RESULT_FIELDS + 2], Py_ssize_t held) {
    if (tuple_size($input, RESULT_FIELDS + 2, 1) < 0) {
        SWIG_fail;
    }
    flc_results_init(&results);
    for (size_t i = 0; i < RESULT_FIELDS + 2; i++) {
        PyObject *item = PyTuple_GetItem($input, (Py_ssize_t)i);
        if (item == Py_None) {
            continue;
        }
        const size_t itemsize = i == 0 ? sizeof(uint8_t) : sizeof(uint32_t);
        if (i >= 2 ? get_doubles(item, &views[held], PyBUF_C_CONTIGUOUS | PyBUF_WRITABLE) != 0
                   : get_bytes(item, &views[held], itemsize) != 0) {
            SWIG_fail;
        }
        void *start = views[held++].buf;
        if (i == 0) {
            results.status = (uint8_t *)start;
        } else if (i == 1) {
            results.flags = (uint32_t *)start;
        } else {
            *AT(&results, result_fields[i - 2].in_results, double *) = (double *)start;
        }
    }
    $1 = &results;
}

/* One reading; None for a field that is absent. */
%typemap(in) const flc_reading *reading (flc_reading reading) {
    if (tuple_size($input, READING_FIELDS, 1) < 0) {
        SWIG_fail;
    }
    flc_reading_init(&reading);
    for (size_t i = 0; i < READING_FIELDS; i++) {
        PyObject *item = PyTuple_GetItem($input, (Py_ssize_t)i);
        if (item != Py_None) {
            const double value = PyFloat_AsDouble(item);
            if (PyErr_Occurred()) {
                SWIG_fail;
            }
            *AT(&reading, reading_fields[i].in_reading, double) = value;
        }
    }
    $1 = &reading;
}

/* Its result: a tuple of the flags and the fields of FLC_RESULT_LIST. */
%typemap(in, numinputs=0, noblock=1) flc_result *result (flc_result evaluated) {
    flc_result_init(&evaluated);
    $1 = &evaluated;
}
%typemap(argout) flc_result *result {
    PyObject *fields = PyTuple_New(RESULT_FIELDS + 1);
    if (fields == NULL) {
        SWIG_fail;
    }
    PyTuple_SetItem(fields, 0, PyLong_FromUnsignedLong($1->flags));
    for (size_t i = 0; i < RESULT_FIELDS; i++) {
        PyTuple_SetItem(fields, (Py_ssize_t)i + 1,
                        PyFloat_FromDouble(*AT($1, result_fields[i].in_result, double)));
    }
    $result = SWIG_Python_AppendOutput($result, fields, 0);
}

/* The error detail as part of the answer: None, or (argument, index, value, limit, message). */
%typemap(in, numinputs=0, noblock=1) flc_error *answer (flc_error detail) {
    detail.status = FLC_OK;
    $1 = &detail;
}
%typemap(argout, noblock=1) flc_error *answer {
    $result = SWIG_Python_AppendOutput($result, $1->status == FLC_OK ? SWIG_Py_Void()
        : Py_BuildValue("sLdds", $1->argument, (long long)$1->index, $1->value, $1->limit, $1->message), 0);
}

/* Steps, with room for so many: a list of tuples in the order of flc_step. */
%typemap(arginit, noblock=1) (flc_step *steps, size_t capacity) { $1 = NULL; }
%typemap(freearg, noblock=1) (flc_step *steps, size_t capacity) { free($1); }
%typemap(in, noblock=1) (flc_step *steps, size_t capacity) {
    $2 = PyLong_AsSize_t($input);
    if (PyErr_Occurred()) {
        SWIG_fail;
    }
    $1 = (flc_step *)calloc($2 + 1, sizeof(flc_step));
    if ($1 == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
}
%typemap(argout) (flc_step *steps, size_t capacity) {
    PyObject *list = PyList_New(0);
    for (size_t i = 0; list != NULL && i < $2 && $1[i].symbol != NULL; i++) {
        const flc_step *s = &$1[i];
        PyObject *step = Py_BuildValue("ssdsssssiI", s->symbol, s->quantity, s->value, s->unit, s->equation, s->method,
                                       s->edition, s->clause, (int)s->status, (unsigned)s->flags);
        if (step == NULL || PyList_Append(list, step) != 0) {
            Py_XDECREF(step);
            Py_DECREF(list);
            SWIG_fail;
        }
        Py_DECREF(step);
    }
    $result = SWIG_Python_AppendOutput($result, list, 0);
}

/* Text into room of the size given. */
%typemap(arginit, noblock=1) (char *text, size_t size) { $1 = NULL; }
%typemap(freearg, noblock=1) (char *text, size_t size) { free($1); }
%typemap(in, noblock=1) (char *text, size_t size) {
    $2 = PyLong_AsSize_t($input);
    if (PyErr_Occurred()) {
        SWIG_fail;
    }
    $1 = (char *)calloc($2 + 1, 1);
    if ($1 == NULL) {
        PyErr_NoMemory();
        SWIG_fail;
    }
}
%typemap(argout, noblock=1) (char *text, size_t size) {
    $result = SWIG_Python_AppendOutput($result, PyUnicode_FromString($1), 0);
}

%inline %{
/* Names of the fields of a reading, in the order that a tuple of them has; NULL past the last. */
static const char *reading_name(size_t place)
{
    return place < READING_FIELDS ? reading_fields[place].name : NULL;
}

/* Name, unit and meaning of the fields of a result; NULL past the last. */
static const char *result_name(size_t place)
{
    return place < RESULT_FIELDS ? result_fields[place].name : NULL;
}
static const char *result_unit(size_t place)
{
    return place < RESULT_FIELDS ? result_fields[place].unit : NULL;
}
static const char *result_meaning(size_t place)
{
    return place < RESULT_FIELDS ? result_fields[place].meaning : NULL;
}
%}
