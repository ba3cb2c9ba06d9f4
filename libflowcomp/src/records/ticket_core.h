/* SPDX-License-Identifier: Apache-2.0 */
/* The parts of a ticket file: its inputs as a table of fields, the figures that follow from them, and the document.
 * Include this first in a source file. */
#ifndef FLC_TICKET_CORE_H
#define FLC_TICKET_CORE_H

#include "record_text.h"
#include "flowcomp/ticket_file.h"
#include "record_fields.h"

#define FLC_TICKET_FORMAT "flowcomp-ticket"
#define FLC_TICKET_VERSION 1
#define FLC_TICKET_DOMAIN "flowcomp-ticket-1"

/* ---- inputs ---- */

/* A content that was read: it owns the intervals and the handles, its texts live in the tree. */
typedef struct flc_ticket_inputs {
    flc_ticket_content content;
    flc_meter *meter;
    flc_liquid *liquid;
} flc_ticket_inputs;

/** Content to JSON, meter and liquid files included. */
FLC_STATUS flc_ticket_write_inputs(const flc_ticket_content *content, json_t **tree, flc_error *error);

/** JSON to content. The tree is not changed and must outlive the content. Release it also after a failure. */
FLC_STATUS flc_ticket_read_inputs(const json_t *tree, flc_ticket_inputs *inputs, flc_error *error);
void flc_ticket_release_inputs(flc_ticket_inputs *inputs);

/** Inputs with every key: those given over the defaults. */
FLC_STATUS flc_ticket_complete_inputs(const json_t *given, json_t **tree, flc_error *error);

/* ---- figures ---- */

typedef struct flc_interval_figures {
    double k; /* pulses per ticket unit; NaN where iv was given or nothing flowed */
    double iv, gv, ctl, cpl, gsv;
    uint32_t flags;
} flc_interval_figures;

typedef struct flc_ticket_figures {
    flc_ticket_result result;
    flc_two_ways ways;
    flc_volume_factors at_averages; /* of the liquid at the averages: base densities */
    flc_interval_figures *intervals;
    size_t interval_count;
    double pulses;
    int64_t substituted;
    double gap_s;
    uint32_t exceeded, unknown;
    double line_fill_change_m3;
} flc_ticket_figures;

/** What is said twice agrees: the unit's name with its size, the meter factor with those of the
 * intervals, an interface with what of it is shared out. */
FLC_STATUS flc_ticket_check_unit(const flc_ticket_content *content, flc_error *error);
FLC_STATUS flc_ticket_check_beside(const flc_ticket_content *content, flc_error *error);
FLC_STATUS flc_ticket_check_factors(const flc_ticket_content *content, flc_error *error);

/** Judge a content and work out its figures. Release them also after a failure. */
FLC_STATUS flc_ticket_work_out(const flc_ticket_content *content, flc_ticket_figures *figures, flc_error *error);
void flc_ticket_release_figures(flc_ticket_figures *figures);

/** Figures to JSON. */
FLC_STATUS flc_ticket_write_figures(const flc_ticket_content *content, const flc_ticket_figures *figures, json_t **tree,
                                    flc_error *error);

/** The methods a ticket rests on, those of its liquid file included. */
FLC_STATUS flc_ticket_write_methods(const flc_ticket_content *content, const json_t *inputs, json_t **tree,
                                    flc_error *error);

/* ---- document ---- */

/** SHA-256 of a document whose sha256 and signature are set to "" for it; they are left so. */
FLC_STATUS flc_ticket_hash_document(json_t *document, char *hash, flc_error *error);

/** FLC_E_MEMORY, for trees that jansson could not make. */
flc_status flc_ticket_no_memory(flc_error *error);

#endif
