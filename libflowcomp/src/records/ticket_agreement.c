/* SPDX-License-Identifier: Apache-2.0 */
/* What a ticket says twice must agree: the name of its unit with unit_m3, its meter factor with those of the intervals.
 * Two that differ would put two quantities on one ticket, and both would verify. */
#include "ticket_core.h"
#include "error.h"
#include "flowcomp/units.h"

#define UNIT_TOLERANCE 1e-9 /* relative; a factor of a unit is often written with fewer digits than it has */

/* A name that no list of units has is the parties' own: unit_m3 says what it is. */
flc_status flc_ticket_check_unit(const flc_ticket_content *content, flc_error *error)
{
    double m3 = flc_nan();
    flc_unit unit, cubic_metre;
    flc_status status = flc_unit_of_kind_from_name(FLC_UNIT_VOLUME, content->volume_unit, &unit, NULL);
    if (status == FLC_E_UNKNOWN_NAME) {
        return FLC_OK;
    }
    if (status == FLC_OK) {
        status = flc_unit_of_kind_from_name(FLC_UNIT_VOLUME, "m3", &cubic_metre, NULL);
    }
    if (status == FLC_OK) {
        status = flc_convert(1.0, unit, cubic_metre, &m3, NULL);
    }
    if (status != FLC_OK) {
        return flc_fail(error, status, "inputs.volume_unit", -1, flc_nan(), flc_nan(), "a unit of volume is needed");
    }
    const double apart = content->ticket.unit_m3 / m3 - 1.0;
    return apart <= UNIT_TOLERANCE && apart >= -UNIT_TOLERANCE
               ? FLC_OK
               : flc_fail(error, FLC_E_CONFLICT, "inputs.ticket.unit_m3", -1, content->ticket.unit_m3, m3,
                          "volume_unit says another size of the unit");
}

flc_status flc_ticket_check_factors(const flc_ticket_content *content, flc_error *error)
{
    const double mf = content->ticket.mf;
    for (size_t i = 0; !flc_is_nan(mf) && i < content->interval_count; i++) {
        if (content->intervals[i].mf != mf) {
            return flc_fail(error, FLC_E_CONFLICT, "inputs.ticket.mf", -1, mf, content->intervals[i].mf,
                            "an interval has another meter factor: leave this one out, or make them the same");
        }
    }
    return FLC_OK;
}

/* Volumes of 0 or more; a share that has its interface and its rule, and is no more than the whole. */
flc_status flc_ticket_check_beside(const flc_ticket_content *content, flc_error *error)
{
    const flc_ticket_beside *b = &content->beside;
    const int shared = !flc_is_nan(b->interface_share);
    const struct {
        const char *field;
        double value, high;
    } volumes[] = {{"inputs.beside.reverse", b->reverse, 1e15},
                   {"inputs.beside.below_range", b->below_range, 1e15},
                   {"inputs.beside.maintenance", b->maintenance, 1e15},
                   {"inputs.beside.interface", b->interface, 1e15},
                   {"inputs.beside.interface_share", b->interface_share, b->interface}};
    if (shared && (flc_is_nan(b->interface) || b->interface_rule[0] == '\0')) {
        return flc_fail(error, FLC_E_MISSING,
                        flc_is_nan(b->interface) ? "inputs.beside.interface" : "inputs.beside.interface_rule", -1,
                        flc_nan(), flc_nan(), "a share is of an interface, by a rule that has a name");
    }
    flc_status status = FLC_OK;
    for (size_t i = 0; i < sizeof volumes / sizeof volumes[0] && status == FLC_OK; i++) {
        if (!flc_is_nan(volumes[i].value)) {
            status = flc_check_range(error, volumes[i].field, -1, volumes[i].value, 0.0, volumes[i].high);
        }
    }
    return status;
}
