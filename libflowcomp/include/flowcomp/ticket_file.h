/* SPDX-License-Identifier: Apache-2.0 */
/* Ticket files: a ticket as a JSON document (schema flowcomp-ticket-1) that holds whatever its figures rest on, so that
 * anybody can work them out again: raw inputs, factors, rounding, the meter and the liquid themselves, methods with
 * their editions and statuses, the contract of bits, and the head of the trail at the time. There is one canonical byte
 * form, and any other is refused. A recomputed figure is a claim until the parties agree; contract and local code come
 * first. */
#ifndef FLOWCOMP_TICKET_FILE_H
#define FLOWCOMP_TICKET_FILE_H

#include "flowcomp/meter_factor.h"
#include "flowcomp/quantity.h"
#include "flowcomp/trail.h"

FLC_BEGIN_DECLS

#define FLC_TICKET_INTERVALS_MAX 2000

/* Where the indicated volume comes from. */
typedef enum flc_iv_source {
    FLC_IV_GIVEN = 0,    /* it is an input */
    FLC_IV_READINGS = 1, /* closing - opening */
    FLC_IV_PULSES = 2,   /* pulses/NKF of the whole ticket: nominal K only */
    FLC_IV_INTERVALS = 3 /* the sum over the intervals */
} flc_iv_source;

/** Source from its word ("given", "readings", "pulses", "intervals").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_iv_source_from_name(const char *name, flc_iv_source *choice);

/* Where CTL and CPL come from. Both ways over the intervals are worked out and stand in the file with their difference;
 * this says which one the ticket is settled by. */
typedef enum flc_factor_source {
    FLC_FACTORS_GIVEN = 0,    /* ctl and cpl, or ctpl, are inputs */
    FLC_FACTORS_AVERAGES = 1, /* one CTL and CPL at the flow-weighted averages of the intervals */
    FLC_FACTORS_INTERVALS = 2 /* CTPL = (sum of the intervals' GSV)/(sum of their GV) */
} flc_factor_source;

/** Source from its word ("given", "averages", "intervals").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_factor_source_from_name(const char *name, flc_factor_source *choice);

/* One interval of a ticket file. Set up by flc_interval_init (numbers NaN, mf 1), then filled in. Its indicated volume:
 * iv, or pulses over the ticket's nkf, or, on the curve's way, pulses over the meter's K. */
typedef struct flc_interval {
    int64_t start_ms, end_ms; /* ms since 1970 UTC; end after start, intervals in the order of time */
    double iv;                /* in the ticket's unit; NaN where pulses tell it */
    double pulses;            /* whole, 0 or more; NaN where iv is given */
    double flowing_s;         /* seconds of it with flow, where known; curve's way only */
    double mf;                /* 0.8 to 1.2 */
    double t_degc, p_kpag;    /* means over the interval; not looked at where nothing flowed */
    double nu_mm2s;           /* only with a curve and a liquid of measured viscosity */
    const char *substituted;  /* what was put in for a missing or alarmed value, and why, up to 95 bytes; "" */
} flc_interval;

/** Set up an interval.
 *  @param[out] interval  never NULL
 *  @since 0.1 */
FLC_API void flc_interval_init(flc_interval *interval);

/* What may make the meter factor void (meter_factor.h). NaN: not known, not judged. */
typedef struct flc_factor_validity {
    flc_void_numbers proving, now, limits;
} flc_factor_validity;

/* The line between meter and custody point at opening and closing of the ticket: a line of its own on the ticket, not
 * part of its volume. NaN throughout: none. */
typedef struct flc_line_fills {
    flc_line_fill opening, closing;
} flc_line_fills;

/* What was metered beside the ticket's quantity and is in none of its totals: gross volumes in the ticket's unit, 0 or
 * more, as their own registers (totals.h) or the cut of the batches (interface_cut.h) have them; NaN: none was kept. */
typedef struct flc_ticket_beside {
    double reverse;             /* flowed back; it has a ticket of its own */
    double below_range;         /* below the range of meter or curve */
    double maintenance;         /* while the meter was out of custody */
    double interface;           /* between this batch and another, and */
    double interface_share;     /* what of it the rule gives to this batch; at most all of it */
    const char *interface_rule; /* word of an flc_allocation, or the contract's own, up to 63 bytes; "" */
} flc_ticket_beside;

/* What a ticket file is made from. Set up by flc_ticket_content_init, then filled in. Texts up to 63 bytes. */
typedef struct flc_ticket_content {
    uint32_t size;
    const char *id;            /* of the ticket; required */
    const char *place;         /* where: site, meter tag; "" */
    const char *volume_unit;   /* name of the ticket's unit of volume, ticket.unit_m3 m³; "m3" */
    const char *proving;       /* id of the proving that gave the meter factor; "" */
    const char *remark;        /* up to 255 bytes; "" */
    int64_t start_ms, end_ms;  /* of the ticket, ms since 1970 UTC; required */
    flc_iv_source iv_source;   /* given */
    flc_factor_source factors; /* given */
    double opening, closing;   /* readings of the register, in the ticket's unit; NaN */
    double pulses;             /* of the whole ticket; NaN */
    double nkf;                /* nominal K-factor, pulses per ticket unit; NaN */
    flc_ticket ticket;         /* way, unit, S&W, densities, rounding ...; iv, ctl, cpl, ctpl only where given; mf: NaN
                                  (with intervals: theirs) or given, then each interval's is the same; unit_m3: the
                                  size of volume_unit, where the list of units has that name */
    flc_density density;       /* for the liquid's CTL and CPL; ticket.rho_base_kgm3 is taken from it where NaN */
    const flc_meter *meter;    /* required on the curve's way with intervals of pulses; else may be NULL */
    const flc_liquid *liquid;  /* required where factors come from intervals; else may be NULL */
    const flc_interval *intervals;
    size_t interval_count;
    flc_factor_validity validity; /* which triggers are exceeded stands among the figures */
    flc_line_fills line_fill;
    flc_trail_head trail; /* head of the trail when the ticket was made; 0 and "": none was kept */
    flc_ticket_beside beside;
} flc_ticket_content;

/** Set up a content: size, the defaults above, flc_ticket_init.
 *  @param[out] content  never NULL
 *  @since 0.1 */
FLC_API void flc_ticket_content_init_sized(flc_ticket_content *content, size_t own_size);
#define flc_ticket_content_init(content) flc_ticket_content_init_sized((content), sizeof *(content))

/** Make a ticket file: work out every figure, write the canonical text, sign it.
 *  @param content  from flc_ticket_content_init, filled in
 *  @param seed     FLC_KEY_BYTES bytes, secret, or NULL: not signed, and its hash tells accidents only
 *  @param[out] text   new NUL-terminated text, to be freed by flc_text_free; NULL on failure
 *  @param[out] error  names the field ("inputs.intervals[3].mf"), or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_COUNT, FLC_E_CHOICE, FLC_E_NAN,
 *          FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_ORDER (times run backwards, intervals overlap),
 * FLC_E_NOT_WHOLE, FLC_E_BUFFER (a text too long), what flc_ticket_evaluate, flc_ticket_two_ways, flc_meter_evaluate
 * and the liquid refuse, what a file cannot hold (FLC_E_SCHEMA: not UTF-8), FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_file_new(const flc_ticket_content *content, const uint8_t *seed, char **text,
                                       flc_error *error);

/** The same from the inputs as JSON: the object under the key "inputs" of a ticket file. Keys may be left out, and
 * stand at their defaults; meter and liquid are whole meter and liquid files.
 *  @param inputs  length bytes, UTF-8
 *  @param length  up to 16 MiB
 *  @param seed, text, error  as above
 *  @return as above, and as reading (records.h)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_file_from_inputs(const char *inputs, size_t length, const uint8_t *seed, char **text,
                                               flc_error *error);

/* A figure that is not what its inputs give. */
typedef struct flc_ticket_difference {
    char figure[64]; /* "figures.result.gsv", "figures.intervals[3].ctl" */
    double stored;   /* in the file; NaN for null or a text */
    double recomputed;
} flc_ticket_difference;

/* Who vouches for a file. */
typedef enum flc_seal {
    FLC_SEAL_NONE = 0,      /* not signed: the hash tells accidents only */
    FLC_SEAL_GOOD = 1,      /* signed by the key given */
    FLC_SEAL_OWN = 2,       /* signed by the key that the file itself names; whose it is, only the caller can know */
    FLC_SEAL_BAD = 3,       /* the signature does not match */
    FLC_SEAL_OTHER_KEY = 4, /* signed by another key than the one given */
    FLC_SEAL_MISSING = 5    /* a key was given, and the file is not signed */
} flc_seal;

/** Word of a seal ("none", "good", "own", "bad", "other_key", "missing"); NULL past the last.
 *  @since 0.1 */
FLC_API const char *flc_seal_word(flc_seal seal);

/* What verifying says. Set up by flc_ticket_verdict_init. */
typedef struct flc_ticket_verdict {
    uint32_t size;
    int32_t good;          /* 1: hash, figures and seal are good (FLC_SEAL_NONE is, where no key was given) */
    int32_t hash_good;     /* the content matches its SHA-256 */
    int32_t same_contract; /* the file's contract of bits is that of this library */
    flc_seal seal;
    int64_t figures;            /* compared, bit by bit */
    int64_t differences;        /* all, also those there was no room for */
    char sha256[FLC_HASH_TEXT]; /* as it stands in the file */
    char id[64];
    uint8_t public_key[FLC_KEY_BYTES]; /* that the file names; zero where none */
    flc_trail_head trail;              /* head of the trail when the ticket was made */
} flc_ticket_verdict;

/** Set up a verdict: size, zero elsewhere.
 *  @param[out] verdict  never NULL
 *  @since 0.1 */
FLC_API void flc_ticket_verdict_init_sized(flc_ticket_verdict *verdict, size_t own_size);
#define flc_ticket_verdict_init(verdict) flc_ticket_verdict_init_sized((verdict), sizeof *(verdict))

/** Verify a ticket file: its form, its hash, its signature, and every figure worked out again from what it holds and
 *  compared bit by bit; the list of methods too, where this version of the library wrote the file. The status says
 * whether that could be done; the verdict says what came out.
 *  @param text        length bytes
 *  @param length      up to 16 MiB
 *  @param public_key  FLC_KEY_BYTES bytes that the caller trusts, or NULL
 *  @param[out] verdict      from flc_ticket_verdict_init
 *  @param[out] differences  room for capacity differences, or NULL with 0
 *  @param capacity  room
 *  @param[out] error  place and reason, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, as reading (records.h), FLC_E_SCHEMA also for any but the canonical bytes
 *          ("line" with its number), what the constructors of meter and liquid and the calculations refuse
 *  @since 0.1 */
FLC_API FLC_STATUS flc_ticket_verify(const char *text, size_t length, const uint8_t *public_key,
                                     flc_ticket_verdict *verdict, flc_ticket_difference *differences, size_t capacity,
                                     flc_error *error);

FLC_END_DECLS

#endif
