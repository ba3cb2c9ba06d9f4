/* SPDX-License-Identifier: Apache-2.0 */
/* Pulses as they come: counters that roll over, frequency with its resolution, and two pulse trains that watch each
 * other (ISO 6551, API MPMS 5.5).
 *
 * Two trains about a quarter period apart arrive as A B A B. A train out of turn means that a pulse of the other was
 * missed, or that this one is extra: extra where it follows its own train in less than half the last good period.
 * Levels of pulse security, A the highest: E good installation only; D comparison by hand; C automatic comparison of
 * the two counts; B continuous watch of number and sequence with alarm; A the same with correction. C and B are as
 * printed; E, D and A are from memory. No level makes a bad cable good. */
#ifndef FLOWCOMP_PULSES_H
#define FLOWCOMP_PULSES_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Frequency from a count
 *  f = N/t
 *
 *  @param pulses  N, whole {pulses} [0, 9007199254740992]
 *  @param time_s  t {s} [1e-9, 1e9]
 *  @return frequency {Hz}; FLC_E_NOT_WHOLE
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pulse_frequency_from_count_hz(double pulses, double time_s, double *result);

/** Resolution of a frequency counted over a gate
 *  1/t: one pulse more or less
 *
 *  @param time_s  t, length of the gate {s} [1e-9, 1e9]
 *  @return step of the frequency {Hz}
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pulse_frequency_gate_resolution_hz(double time_s, double *result);

/** Resolution of a frequency from timed whole periods
 *  f/(t fc) = N/(t^2 fc): one tick of the clock more or less
 *
 *  @param pulses    N, whole periods timed {pulses} [1, 9007199254740992]
 *  @param time_s    t, their time {s} [1e-9, 1e9]
 *  @param clock_hz  fc, frequency of the clock {Hz} [1, 1e12]
 *  @return step of the frequency {Hz}; FLC_E_NOT_WHOLE
 *  @source definition, first order
 *  @status computed; first order in one tick
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_pulse_frequency_timed_resolution_hz(double pulses, double time_s, double clock_hz,
                                                           double *result);

/* --- counters ----------------------------------------------------------------------------------------------------- */

/* What a counter that reads less than before may be taken for. */
typedef enum flc_counter_reset {
    FLC_COUNTER_REFUSE = 0, /* an advance above the most that is possible is refused */
    FLC_COUNTER_RESTART = 1 /* it was set to zero: the new reading is the advance */
} flc_counter_reset;

/** Policy from its word ("refuse", "restart").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_counter_reset_from_name(const char *name, flc_counter_reset *choice);

typedef enum flc_counter_event {
    FLC_COUNTER_ON = 0,       /* nothing special */
    FLC_COUNTER_ROLLED = 1,   /* it passed its end and began again at zero */
    FLC_COUNTER_WAS_RESET = 2 /* taken for a reset by the policy */
} flc_counter_event;

/** Event from its word ("on", "rolled", "was_reset").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_counter_event_from_name(const char *name, flc_counter_event *choice);

/** Advance of a register between two readings.
 *  @param before, after  readings, 0 to modulus - 1
 *  @param modulus  readings there are: 1 000 000 for six digits, 2^32 for a 32-bit counter
 *  @param most     largest advance that is possible between the two
 *  @param reset    what a larger one means
 *  @param[out] advance  0 or more; INT64_MIN on failure
 *  @param[out] event    what was seen
 *  @return FLC_OK; FLC_E_NULL, FLC_E_CHOICE, FLC_E_BELOW, FLC_E_ABOVE (a reading outside the register; an advance above
 *          the most, refused)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_counter_advance(int64_t before, int64_t after, int64_t modulus, int64_t most,
                                       flc_counter_reset reset, int64_t *advance, flc_counter_event *event);

/* --- two trains --------------------------------------------------------------------------------------------------- */

typedef enum flc_pulse_train {
    FLC_TRAIN_A = 0, /* "A" */
    FLC_TRAIN_B = 1  /* "B" */
} flc_pulse_train;

/** Train from its word ("A", "B").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_pulse_train_from_name(const char *name, flc_pulse_train *choice);

/* What two trains have done so far. A plain value: set up by flc_pulse_pair_start, kept by the caller. */
typedef struct flc_pulse_pair {
    uint32_t size;
    int32_t coincidence_ticks; /* edges of both trains this close are one coincidence */
    int64_t count[2];          /* pulses of A and B */
    int64_t missing[2];        /* pulses that A and B should have had */
    int64_t extra[2];          /* pulses of A and B out of turn and too early */
    int64_t coincident;        /* pairs that came together */
    int64_t last_tick;         /* FLC_TICK_NONE before the first */
    int64_t period_ticks;      /* last good period of a train; 0 before one was seen */
    int64_t own_tick[2];       /* last edge of each train */
    int32_t last_train;        /* -1: none, or a coincidence, after which either may come */
} flc_pulse_pair;

#define FLC_TICK_NONE INT64_MIN

/** Start watching two trains.
 *  @param[out] pair  never NULL
 *  @param coincidence_ticks  0 or more; 0: only edges at the very same tick
 *  @return FLC_OK, FLC_E_NULL, FLC_E_BELOW
 *  @since 0.1 */
FLC_API FLC_STATUS flc_pulse_pair_start(flc_pulse_pair *pair, int32_t coincidence_ticks);

/** One edge. Nothing is added when it fails.
 *  @param pair   from flc_pulse_pair_start
 *  @param train  whose edge
 *  @param tick   time of the edge in ticks of any clock, never before the last one
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_ORDER (the clock ran backwards), FLC_E_OVERFLOW
 *          (a tick beyond 2^62)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_pulse_pair_add(flc_pulse_pair *pair, flc_pulse_train train, int64_t tick);

typedef enum flc_pulse_level {
    FLC_LEVEL_E = 0, /* "E" */
    FLC_LEVEL_D = 1, /* "D" */
    FLC_LEVEL_C = 2, /* "C" */
    FLC_LEVEL_B = 3, /* "B" */
    FLC_LEVEL_A = 4  /* "A" */
} flc_pulse_level;

/** Level from its word ("E", "D", "C", "B", "A").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_pulse_level_from_name(const char *name, flc_pulse_level *choice);

/* What is made of the two trains at a level. */
typedef struct flc_pulse_verdict {
    int64_t difference; /* A less B */
    int64_t faults;     /* missing, extra and coincident; at levels C and D the magnitude of the difference */
    double ratio;       /* faults over the larger count; NaN before the first pulse */
    int64_t pulses;     /* to be totalled: those of A; at level A those of the train with fewer faults */
    int32_t alarm;      /* 1: more faults than most_faults, or a larger ratio than most_ratio; never at level E */
} flc_pulse_verdict;

/** Judge two trains.
 *  At level C and D simultaneous disturbances of both trains are not seen. D asks a person to compare: the numbers are
 * the same as for C.
 *  @param pair         from flc_pulse_pair_start
 *  @param level        of pulse security
 *  @param most_faults  0 or more
 *  @param most_ratio   0 to 1; NaN: not judged
 *  @param[out] verdict  zero and NaN on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE
 *  @source ISO 6551, API MPMS 5.5: levels; the half-period rule is ours
 *  @since 0.1 */
FLC_API FLC_STATUS flc_pulse_pair_judge(const flc_pulse_pair *pair, flc_pulse_level level, int64_t most_faults,
                                        double most_ratio, flc_pulse_verdict *verdict);

FLC_END_DECLS

#endif
