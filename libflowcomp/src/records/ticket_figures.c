/* SPDX-License-Identifier: Apache-2.0 */
/* The figures of a ticket file. Everything is worked out by the public functions of custody, so that a ticket file and
 * a program that calls them get the same bits; what is done here is to bring their inputs together. */
#include "ticket_core.h"
#include "flowcomp/quantities.h"
#include "error.h"
#include "fp_guard.h"
#include "memory.h"
#include "signing.h"
#include "utc_text.h"

typedef struct work {
    const flc_ticket_content *content;
    flc_ticket_figures *figures;
    flc_error *error;
} work;

static int is_given(double number)
{
    return !flc_is_nan(number);
}

static flc_status fail(const work *w, flc_status status, const char *field, int64_t index, double value, double limit,
                       const char *hint)
{
    flc_text text;
    char path[sizeof w->error->argument];
    text = flc_text_start(path, sizeof path);
    flc_text_add(&text, "inputs.");
    if (index >= 0) {
        flc_text_add(&text, "intervals[");
        flc_text_add_integer(&text, index);
        flc_text_add(&text, "].");
    }
    flc_text_add(&text, field);
    return flc_fail(w->error, status, path, -1, value, limit, hint);
}

static flc_status refuse(const work *w, flc_status status, const char *field, const char *hint)
{
    return fail(w, status, field, -1, flc_nan(), flc_nan(), hint);
}

/* The detail of a function of custody, under the path of its inputs. */
static flc_status pass_on(const work *w, flc_status status, const char *prefix)
{
    if (status != FLC_OK) {
        flc_record_prefix(w->error, prefix);
    }
    return status;
}

static flc_status pass_on_at(const work *w, flc_status status, size_t interval)
{
    char prefix[48];
    flc_text text = flc_text_start(prefix, sizeof prefix);
    flc_text_add(&text, "inputs.intervals[");
    flc_text_add_integer(&text, (int64_t)interval);
    flc_text_add(&text, "].");
    return pass_on(w, status, prefix);
}

/* ---- judging ---- */

static flc_status check_times(const work *w)
{
    const flc_ticket_content *c = w->content;
    if (c->start_ms == FLC_TIME_NONE || c->end_ms == FLC_TIME_NONE) {
        return refuse(w, FLC_E_MISSING, c->start_ms == FLC_TIME_NONE ? "start" : "end", NULL);
    }
    if (c->start_ms < FLC_UTC_LOW || c->end_ms > FLC_UTC_HIGH) {
        return refuse(w, c->start_ms < FLC_UTC_LOW ? FLC_E_BELOW : FLC_E_ABOVE,
                      c->start_ms < FLC_UTC_LOW ? "start" : "end", "from 1970 to 9999");
    }
    if (c->end_ms <= c->start_ms) {
        return refuse(w, FLC_E_ORDER, "end", "a ticket ends after it starts");
    }
    return FLC_OK;
}

static flc_status check_text(const work *w, const char *words, size_t longest, const char *field)
{
    if (words == NULL) {
        return refuse(w, FLC_E_NULL, field, NULL);
    }
    const size_t length = strlen(words);
    return length <= longest ? FLC_OK : fail(w, FLC_E_BUFFER, field, -1, (double)length, (double)longest, "bytes");
}

static flc_status check_texts(const work *w)
{
    const flc_ticket_content *c = w->content;
    const struct {
        const char *words, *field;
        size_t longest;
    } texts[] = {{c->id, "id", 63},
                 {c->place, "place", 63},
                 {c->volume_unit, "volume_unit", 63},
                 {c->proving, "proving", 63},
                 {c->remark, "remark", 255},
                 {c->beside.interface_rule, "beside.interface_rule", 63}};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        flc_status status = check_text(w, texts[i].words, texts[i].longest, texts[i].field);
        if (status != FLC_OK) {
            return status;
        }
    }
    if (c->id[0] == '\0') {
        return refuse(w, FLC_E_MISSING, "id", "a ticket has a number of its own");
    }
    const int no_head = c->trail.number == 0 && c->trail.hash[0] == '\0';
    const int has_head =
        c->trail.number > 0 && c->trail.hash[FLC_HASH_DIGITS] == '\0' && flc_is_hex(c->trail.hash, FLC_HASH_DIGITS);
    return no_head || has_head ? FLC_OK
                               : refuse(w, FLC_E_CHOICE, "trail", "number and hash of an entry, or 0 and \"\"");
}

static flc_status check_choices(const work *w)
{
    const flc_ticket_content *c = w->content;
    if ((int)c->iv_source < 0 || c->iv_source > FLC_IV_INTERVALS) {
        return refuse(w, FLC_E_CHOICE, "iv_source", NULL);
    }
    if ((int)c->factors < 0 || c->factors > FLC_FACTORS_INTERVALS) {
        return refuse(w, FLC_E_CHOICE, "factors", NULL);
    }
    if ((int)c->ticket.way < 0 || c->ticket.way > FLC_WAY_CURVE) {
        return refuse(w, FLC_E_CHOICE, "ticket.way", NULL);
    }
    if (c->interval_count > FLC_TICKET_INTERVALS_MAX) {
        return fail(w, FLC_E_COUNT, "intervals", -1, (double)c->interval_count, FLC_TICKET_INTERVALS_MAX, NULL);
    }
    const int needs = c->iv_source == FLC_IV_INTERVALS || c->factors != FLC_FACTORS_GIVEN;
    if (needs && (c->intervals == NULL || c->interval_count == 0)) {
        return refuse(w, FLC_E_MISSING, "intervals", NULL);
    }
    if (c->factors != FLC_FACTORS_GIVEN && c->liquid == NULL) {
        return refuse(w, FLC_E_MISSING, "liquid", "the factors come from it");
    }
    return FLC_OK;
}

/* What is worked out must not be given too. */
static flc_status check_given_once(const work *w)
{
    const flc_ticket_content *c = w->content;
    const flc_ticket *t = &c->ticket;
    if (c->iv_source != FLC_IV_GIVEN && is_given(t->iv)) {
        return refuse(w, FLC_E_CONFLICT, "ticket.iv", "iv_source says that it is worked out");
    }
    if (c->factors != FLC_FACTORS_GIVEN && (is_given(t->ctl) || is_given(t->cpl) || is_given(t->ctpl))) {
        return refuse(w, FLC_E_CONFLICT,
                      is_given(t->ctl)   ? "ticket.ctl"
                      : is_given(t->cpl) ? "ticket.cpl"
                                         : "ticket.ctpl",
                      "factors says that they are worked out");
    }
    if (c->iv_source == FLC_IV_PULSES && t->way == FLC_WAY_CURVE) {
        return refuse(w, FLC_E_CONFLICT, "iv_source", "on the curve's way K belongs to each interval");
    }
    if (t->way == FLC_WAY_CURVE && is_given(c->nkf)) {
        return refuse(w, FLC_E_CONFLICT, "nkf", "on the curve's way K comes from the meter");
    }
    flc_status status = flc_ticket_check_unit(c, w->error);
    if (status == FLC_OK) {
        status = flc_ticket_check_beside(c, w->error);
    }
    return status == FLC_OK && c->intervals != NULL ? flc_ticket_check_factors(c, w->error) : status;
}

static flc_status check_interval(const work *w, size_t i)
{
    const flc_ticket_content *c = w->content;
    const flc_interval *in = &c->intervals[i];
    const int64_t from = i > 0 ? c->intervals[i - 1].end_ms : c->start_ms;
    if (in->start_ms == FLC_TIME_NONE || in->end_ms == FLC_TIME_NONE) {
        return fail(w, FLC_E_MISSING, in->start_ms == FLC_TIME_NONE ? "start" : "end", (int64_t)i, flc_nan(), flc_nan(),
                    NULL);
    }
    if (in->start_ms < from || in->end_ms <= in->start_ms || in->end_ms > c->end_ms) {
        return fail(w, FLC_E_ORDER, in->start_ms < from ? "start" : "end", (int64_t)i, flc_nan(), flc_nan(),
                    "intervals follow each other inside the ticket");
    }
    if (is_given(in->iv) == is_given(in->pulses)) {
        return fail(w, is_given(in->iv) ? FLC_E_CONFLICT : FLC_E_MISSING, "iv", (int64_t)i, in->iv, flc_nan(),
                    "give iv or pulses");
    }
    if (in->substituted == NULL || strlen(in->substituted) > 95) {
        return fail(w, in->substituted == NULL ? FLC_E_NULL : FLC_E_BUFFER, "substituted", (int64_t)i, flc_nan(), 95.0,
                    NULL);
    }
    flc_status status = flc_check_range(w->error, "mf", -1, in->mf, 0.8, 1.2);
    if (status == FLC_OK && is_given(in->iv)) {
        status = flc_check_range(w->error, "iv", -1, in->iv, 0.0, 1e15);
    }
    return pass_on_at(w, status, i);
}

/* ---- intervals ---- */

static flc_status volume_by_curve(const work *w, size_t i, flc_interval_figures *out)
{
    const flc_ticket_content *c = w->content;
    const flc_interval *in = &c->intervals[i];
    if (c->meter == NULL || c->liquid == NULL) {
        return refuse(w, FLC_E_MISSING, c->meter == NULL ? "meter" : "liquid", "K of the curve needs it");
    }
    flc_reading reading;
    flc_result result;
    flc_reading_init(&reading);
    flc_result_init(&result);
    reading.pulses = in->pulses;
    reading.duration_s = (double)(in->end_ms - in->start_ms) / 1000.0;
    reading.flowing_s = in->flowing_s;
    reading.t_degc = in->t_degc;
    reading.p_kpag = in->p_kpag;
    reading.nu_mm2s = in->nu_mm2s;
    reading.density = c->density;
    flc_status status = flc_meter_evaluate(c->meter, c->liquid, &reading, &result, w->error);
    if (status != FLC_OK) {
        return pass_on_at(w, status, i);
    }
    out->iv = result.v_m3 / c->ticket.unit_m3;
    out->k = result.k_per_m3 * c->ticket.unit_m3;
    out->flags = result.flags;
    return FLC_OK;
}

static flc_status volume_of(const work *w, size_t i, flc_interval_figures *out)
{
    const flc_ticket_content *c = w->content;
    const flc_interval *in = &c->intervals[i];
    if (is_given(in->iv)) {
        out->iv = in->iv;
        return FLC_OK;
    }
    flc_status status = flc_check_range(w->error, "pulses", -1, in->pulses, 0.0, 9007199254740992.0);
    if (status == FLC_OK && in->pulses != (double)(int64_t)in->pulses) {
        status = FLC_E_NOT_WHOLE;
    }
    if (status != FLC_OK) {
        return fail(w, status, "pulses", (int64_t)i, in->pulses, flc_nan(), NULL);
    }
    if (c->ticket.way == FLC_WAY_CURVE) {
        return volume_by_curve(w, i, out);
    }
    if (!is_given(c->nkf)) {
        return refuse(w, FLC_E_MISSING, "nkf", "pulses need it");
    }
    status = flc_indicated_volume_from_pulses(in->pulses, c->nkf, &out->iv);
    out->k = in->pulses > 0.0 ? c->nkf : flc_nan();
    return status == FLC_OK ? FLC_OK : fail(w, status, "nkf", -1, c->nkf, flc_nan(), NULL);
}

static flc_status factors_of(const work *w, size_t i, flc_interval_figures *out)
{
    const flc_ticket_content *c = w->content;
    const flc_interval *in = &c->intervals[i];
    flc_volume_factors factors;
    flc_status status = flc_liquid_volume(c->liquid, &c->density, in->t_degc, in->p_kpag, &factors);
    if (status == FLC_E_MISSING || status == FLC_E_CONFLICT) {
        return refuse(w, status, "density",
                      "give the one at base, or the observed one with its temperature and pressure");
    }
    if (status != FLC_OK) {
        return fail(w, status, "t_degc, p_kpag or density", (int64_t)i, in->t_degc, in->p_kpag, NULL);
    }
    out->ctl = factors.ctl;
    out->cpl = factors.cpl;
    out->gsv = out->gv * factors.ctl * factors.cpl;
    out->flags |= factors.flags;
    return FLC_OK;
}

static flc_status interval_of(const work *w, size_t i)
{
    const double none = flc_nan();
    flc_interval_figures *out = &w->figures->intervals[i];
    *out = (flc_interval_figures){none, none, none, none, none, none, 0};
    flc_status status = check_interval(w, i);
    if (status == FLC_OK) {
        status = volume_of(w, i, out);
    }
    if (status != FLC_OK) {
        return status;
    }
    out->gv = out->iv * w->content->intervals[i].mf;
    return out->iv > 0.0 && w->content->liquid != NULL ? factors_of(w, i, out) : FLC_OK;
}

/* Sums in the order of time; both ways where there is a liquid with a volume method and something flowed. */
static flc_status ways_of(const work *w)
{
    const flc_ticket_content *c = w->content;
    flc_ticket_figures *f = w->figures;
    flc_ticket_interval *rows = flc_allocate_array(c->interval_count, sizeof *rows);
    if (rows == NULL) {
        return flc_ticket_no_memory(w->error);
    }
    double iv = 0.0, gv = 0.0;
    int with_factors = 0;
    for (size_t i = 0; i < c->interval_count; i++) {
        const flc_interval *in = &c->intervals[i];
        rows[i] = (flc_ticket_interval){f->intervals[i].iv, in->mf, in->t_degc, in->p_kpag};
        iv += f->intervals[i].iv;
        gv += f->intervals[i].gv;
        with_factors |= is_given(f->intervals[i].ctl);
    }
    f->ways.iv = iv;
    f->ways.gv = gv;
    flc_status status = FLC_OK;
    if (with_factors) {
        status = flc_ticket_two_ways(c->liquid, &c->density, rows, c->interval_count, &f->ways, w->error);
        status = pass_on(w, status, "inputs.intervals.");
    }
    if (status == FLC_OK && with_factors) {
        status = flc_liquid_volume(c->liquid, &c->density, f->ways.t_degc, f->ways.p_kpag, &f->at_averages);
    }
    flc_release(rows);
    return status;
}

/* Whole numbers: their sum is exact up to 2^53. */
static flc_status pulses_of(const work *w)
{
    const flc_ticket_content *c = w->content;
    double sum = 0.0;
    int all = c->interval_count > 0;
    for (size_t i = 0; i < c->interval_count; i++) {
        all = all && is_given(c->intervals[i].pulses);
        sum += all ? c->intervals[i].pulses : 0.0;
    }
    w->figures->pulses = is_given(c->pulses) ? c->pulses : all ? sum : flc_nan();
    if (all && is_given(c->pulses) && c->pulses != sum) {
        return fail(w, FLC_E_CONFLICT, "pulses", -1, c->pulses, sum, "the pulses of the intervals have another sum");
    }
    return FLC_OK;
}

static flc_status intervals_of(const work *w)
{
    const flc_ticket_content *c = w->content;
    flc_ticket_figures *f = w->figures;
    if (c->interval_count == 0) {
        return FLC_OK;
    }
    f->intervals = flc_allocate_array(c->interval_count, sizeof *f->intervals);
    if (f->intervals == NULL) {
        return flc_ticket_no_memory(w->error);
    }
    f->interval_count = c->interval_count;
    int64_t covered = 0;
    for (size_t i = 0; i < c->interval_count; i++) {
        flc_status status = interval_of(w, i);
        if (status != FLC_OK) {
            return status;
        }
        covered += c->intervals[i].end_ms - c->intervals[i].start_ms;
        f->substituted += c->intervals[i].substituted[0] != '\0';
    }
    f->gap_s = (double)(c->end_ms - c->start_ms - covered) / 1000.0;
    return ways_of(w);
}

/* ---- the chain ---- */

static flc_status set_volume(const work *w, flc_ticket *ticket)
{
    const flc_ticket_content *c = w->content;
    flc_status status = FLC_OK;
    switch (c->iv_source) {
    case FLC_IV_READINGS:
        status = flc_indicated_volume(c->opening, c->closing, &ticket->iv);
        return status == FLC_OK ? FLC_OK : fail(w, status, "closing", -1, c->closing, c->opening, NULL);
    case FLC_IV_PULSES:
        status = flc_indicated_volume_from_pulses(w->figures->pulses, c->nkf, &ticket->iv);
        return status == FLC_OK ? FLC_OK : fail(w, status, "pulses or nkf", -1, w->figures->pulses, c->nkf, NULL);
    case FLC_IV_INTERVALS:
        ticket->iv = w->figures->ways.iv;
        return FLC_OK;
    case FLC_IV_GIVEN:
    default:
        return FLC_OK;
    }
}

static void set_meter_factor(const work *w, flc_ticket *ticket)
{
    const flc_ticket_content *c = w->content;
    int same = 1;
    if (is_given(ticket->mf) || c->interval_count == 0) {
        return;
    }
    for (size_t i = 1; i < c->interval_count; i++) {
        same = same && c->intervals[i].mf == c->intervals[0].mf;
    }
    ticket->mf = same ? c->intervals[0].mf : w->figures->ways.gv / w->figures->ways.iv;
}

static void set_factors(const work *w, flc_ticket *ticket)
{
    const flc_two_ways *ways = &w->figures->ways;
    if (w->content->factors == FLC_FACTORS_AVERAGES) {
        ticket->ctl = ways->ctl;
        ticket->cpl = ways->cpl;
    } else if (w->content->factors == FLC_FACTORS_INTERVALS) {
        ticket->ctpl = ways->gsv_intervals / ways->gv;
    }
    if (!is_given(ticket->rho_base_kgm3)) {
        ticket->rho_base_kgm3 = is_given(w->content->density.rho_base_kgm3) ? w->content->density.rho_base_kgm3
                                                                            : w->figures->at_averages.rho_base_kgm3;
    }
}

static flc_status chain_of(const work *w)
{
    flc_ticket ticket = w->content->ticket;
    if (w->content->factors != FLC_FACTORS_GIVEN && !is_given(w->figures->ways.ctl)) {
        return refuse(w, FLC_E_DOMAIN, "intervals", "nothing flowed, or the liquid has no volume method");
    }
    flc_status status = set_volume(w, &ticket);
    if (status != FLC_OK) {
        return status;
    }
    set_meter_factor(w, &ticket);
    set_factors(w, &ticket);
    status = flc_ticket_evaluate(&ticket, &w->figures->result, w->error);
    return pass_on(w, status, "inputs.ticket.");
}

/* ---- what stands beside ---- */

static flc_status validity_of(const work *w)
{
    const flc_factor_validity *v = &w->content->validity;
    flc_status status =
        flc_factor_void_check(&v->proving, &v->now, &v->limits, &w->figures->exceeded, &w->figures->unknown);
    return status == FLC_OK ? FLC_OK : refuse(w, status, "validity", NULL);
}

static flc_status line_fill_of(const work *w)
{
    const flc_line_fills *fills = &w->content->line_fill;
    if (!is_given(fills->opening.base_volume_m3) && !is_given(fills->closing.base_volume_m3)) {
        return FLC_OK;
    }
    flc_status status =
        flc_line_fill_change(&fills->opening, &fills->closing, &w->figures->line_fill_change_m3, w->error);
    return pass_on(w, status, "inputs.line_fill.");
}

static void blank(flc_ticket_figures *figures)
{
    const double none = flc_nan();
    memset(figures, 0, sizeof *figures);
    flc_ticket_result_init(&figures->result);
    figures->ways = (flc_two_ways){none, none, none, none, none, none, none, none, none};
    figures->at_averages = (flc_volume_factors){none, none, none, none, none, none, 0};
    figures->pulses = none;
    figures->gap_s = none;
    figures->line_fill_change_m3 = none;
}

flc_status flc_ticket_work_out(const flc_ticket_content *content, flc_ticket_figures *figures, flc_error *error)
{
    static flc_status (*const steps[])(const work *) = {check_times,      check_texts, check_choices,
                                                        check_given_once, pulses_of,   intervals_of,
                                                        chain_of,         validity_of, line_fill_of};
    const work w = {content, figures, error};
    blank(figures);
    if (content->size != sizeof *content) {
        return flc_fail(error, FLC_E_SIZE, "content", -1, (double)content->size, (double)sizeof *content, NULL);
    }
    flc_status status = FLC_OK;
    for (size_t i = 0; status == FLC_OK && i < sizeof steps / sizeof steps[0]; i++) {
        status = steps[i](&w);
    }
    return status;
}

void flc_ticket_release_figures(flc_ticket_figures *figures)
{
    flc_release(figures->intervals);
    figures->intervals = NULL;
}
