/* SPDX-License-Identifier: Apache-2.0 */
/* Raw module of libflowcomp-records: meter files and liquid files, trail, ticket files, identity, saved state. */
%module(package="flowcomp", threads="1") _records

%{
#include "flowcomp/identity.h"
#include "flowcomp/records.h"
#include "flowcomp/state_file.h"
#include "flowcomp/ticket_file.h"
#include "flowcomp/trail.h"
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

/* --- keys: 32 bytes, or None -------------------------------------------------------------------------------------- */

%typemap(in, noblock=1) const uint8_t *KEY {
    $1 = NULL;
    if ($input != Py_None) {
        char *bytes$argnum = NULL;
        Py_ssize_t size$argnum = 0;
        if (PyBytes_AsStringAndSize($input, &bytes$argnum, &size$argnum) != 0) {
            SWIG_fail;
        }
        if (size$argnum != FLC_KEY_BYTES) {
            PyErr_SetString(PyExc_ValueError, "a key has 32 bytes");
            SWIG_fail;
        }
        $1 = (uint8_t *)bytes$argnum;
    }
}
%typemap(argout) const uint8_t *KEY ""
%typemap(freearg) const uint8_t *KEY ""
%typemap(arginit) const uint8_t *KEY ""
%apply const uint8_t *KEY { const uint8_t *seed, const uint8_t *public_key };
%typemap(in, numinputs=0, noblock=1) uint8_t *public_key (uint8_t key[FLC_KEY_BYTES]) { $1 = key; }
%typemap(argout, noblock=1) uint8_t *public_key {
    $result = SWIG_Python_AppendOutput($result, PyBytes_FromStringAndSize((const char *)$1, FLC_KEY_BYTES), 1);
}
%typemap(out, noblock=1) uint8_t [ANY] {
    $result = PyBytes_FromStringAndSize((const char *)$1, FLC_KEY_BYTES);
}
%immutable public_key;

/* --- trail -------------------------------------------------------------------------------------------------------- */

/* Texts and keys that options and events point to live for the time of the call: see open_trail and append_trail. */
%ignore flc_trail_options;
%ignore flc_trail_options_init_sized;
%ignore flc_trail_open;
%ignore flc_trail_event;
%ignore flc_trail_event_init_sized;
%ignore flc_trail_append;
FLC_HANDLE(flc_trail)
FLC_STRUCTS_ROOM(flc_trail_finding, found, capacity)
%include "flowcomp/trail.h"

%inline %{
static flc_status open_trail(const char *path, const uint8_t *seed, int unsigned_allowed, int create, int wait,
                             int sign_every, const char *name, int64_t at_ms, flc_trail **trail,
                             flc_trail_opening *opening, flc_error *error)
{
    flc_trail_options options;
    flc_trail_options_init(&options);
    options.seed = seed;
    options.unsigned_allowed = unsigned_allowed;
    options.create = create;
    options.wait = wait;
    options.sign_every = sign_every;
    options.name = name;
    options.at_ms = at_ms;
    return flc_trail_open(path, &options, trail, opening, error);
}

static flc_status append_trail(flc_trail *trail, int kind, int64_t at_ms, const char *id, const char *by,
                               const char *data, flc_trail_head *head, flc_error *error)
{
    flc_trail_event event;
    flc_trail_event_init(&event);
    event.kind = (flc_trail_event_kind)kind;
    event.at_ms = at_ms;
    event.id = id;
    event.by = by;
    event.data = data;
    return flc_trail_append(trail, &event, head, error);
}
%}

/* --- ticket files: from Python the inputs come as JSON ------------------------------------------------------------ */

%ignore flc_interval;
%ignore flc_interval_init;
%ignore flc_factor_validity;
%ignore flc_line_fills;
%ignore flc_ticket_content;
%ignore flc_ticket_beside;
%ignore flc_ticket_content_init_sized;
%ignore flc_ticket_file_new;
%typemap(in, noblock=1) (const char *inputs, size_t length) = (const char *text, size_t length);
FLC_STRUCTS_ROOM(flc_ticket_difference, differences, capacity)
%include "flowcomp/ticket_file.h"

%immutable flc_identity::version;
%immutable flc_identity::bits_contract;
%include "flowcomp/identity.h"

/* --- saved state -------------------------------------------------------------------------------------------------- */

FLC_STATUS_IS_ANSWER(flc_state_load)
%include "flowcomp/state_file.h"
