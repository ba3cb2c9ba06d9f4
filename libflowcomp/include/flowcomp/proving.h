/* SPDX-License-Identifier: Apache-2.0 */
/* A proving: runs of a meter against a prover, every factor a named result, and a verdict that says which run and why.
 *
 *   GSVp = BPV CTSp CPSp CTLp CPLp     ISVm = N/K CTLm CPLm     MF = GSVp/ISVm     MA = 1/MF     KF = K/MF
 *
 * The form is that of API MPMS 12.2.3 and ISO 7278, from memory. A run is one or more passes; repeatability is judged
 * on runs. There are two ways of using a calibration, and they are never mixed:
 *   nominal K  K is a fixed number. MF holds the body at proving conditions, and no body term is applied here; a
 * contract that wants the difference to metering conditions takes it from flc_body_difference (meter_factor.h). curve
 * K = K(Ro,T,P) from the meter's St(Ro), so the body is on both sides already; Ro and St stay with each run.
 *
 * A proving decides about money: contract, local code and the witnesses come first. */
#ifndef FLOWCOMP_PROVING_H
#define FLOWCOMP_PROVING_H

#include "flowcomp/explain.h"
#include "flowcomp/meter.h"
#include "flowcomp/rounding.h"

FLC_BEGIN_DECLS

#define FLC_TIME_NONE INT64_MIN /* a day or a millisecond that is not known */

typedef enum flc_prover_kind {
    FLC_PROVER_PIPE = 0,               /* one way, detectors on the pipe */
    FLC_PROVER_PIPE_BIDIRECTIONAL = 1, /* a run is out and back; the base volume is that of the round trip */
    FLC_PROVER_SMALL_VOLUME = 2,       /* detectors on a separate rod */
    FLC_PROVER_TANK = 3,               /* open tank, read before and after */
    FLC_PROVER_MASTER_METER = 4        /* another meter with its own factor */
} flc_prover_kind;

/** Kind from its word ("pipe", "pipe_bidirectional", "small_volume", "tank", "master_meter").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_prover_kind_from_name(const char *name, flc_prover_kind *choice);

/* A prover as its certificate has it. Set up by flc_prover_init (numbers NaN, days unknown), then filled in. */
typedef struct flc_prover {
    uint32_t size;
    flc_prover_kind kind;
    double base_volume_m3;  /* BPV, m³, 1e-6 to 1e4; pipe and small volume provers */
    double base_t_degc;     /* temperature of BPV, °C; all but master meters */
    double gc_per_degc;     /* cubical expansion, 1/°C; pipe and tank */
    double ga_per_degc;     /* area expansion, 1/°C; small volume */
    double gl_rod_per_degc; /* linear expansion of the rod, 1/°C; small volume */
    double e_kpa;           /* modulus of the wall, kPa; pipe and small volume with a single wall */
    double id_m, wall_m;    /* inner diameter and wall, m; the same */
    int32_t double_wall;    /* 1: equal pressures on both sides of the wall, CPSp = 1 */
    double master_k_per_m3; /* K-factor of a master meter, 1/m³ */
    double master_mf;       /* its meter factor, 0.8 to 1.2 */
    int64_t water_draw_day; /* of the calibration, days since 1970-01-01, or FLC_TIME_NONE */
    int64_t expiry_day;     /* last day of validity, or FLC_TIME_NONE */
} flc_prover;

/** Set up a prover: size, NaN where a value is required, days unknown.
 *  @param[out] prover  never NULL
 *  @since 0.1 */
FLC_API void flc_prover_init_sized(flc_prover *prover, size_t own_size);
#define flc_prover_init(prover) flc_prover_init_sized((prover), sizeof *(prover))

/** Check a prover.
 *  @param prover  from flc_prover_init, filled in
 *  @param[out] error  names the field, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE,
 * FLC_E_ORDER (expires before its water draw)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_prover_check(const flc_prover *prover, flc_error *error);

/* Direction of a pass. */
typedef enum flc_pass_direction {
    FLC_PASS_SINGLE = 0, /* a prover with one direction */
    FLC_PASS_OUT = 1,    /* */
    FLC_PASS_BACK = 2    /* */
} flc_pass_direction;

/* One pass. Set up by flc_pass_init (numbers NaN), then filled in. Pulses come counted (pulses) or by double
 * chronometry (pulses_whole with its two times), never both. The liquid's factors come from the liquid of the options,
 * or are given here. */
typedef struct flc_pass {
    uint32_t size;
    uint32_t run; /* 1, 2, ...: passes of one run stand together */
    flc_pass_direction direction;
    double pulses;        /* counted */
    double pulses_whole;  /* N: whole pulses between the first after each detector */
    double t_pulses_s;    /* time of those N pulses, s */
    double t_detectors_s; /* time between the detectors, s */
    double f_hz;          /* frequency, Hz, where neither chronometry nor start and end tell it */
    double t_meter_degc, p_meter_kpag;
    double t_prover_degc, p_prover_kpag;                 /* pressure not needed for a tank */
    double t_rod_degc;                                   /* small volume */
    double nu_mm2s;                                      /* only with a curve and a liquid of measured viscosity */
    double ctl_prover, cpl_prover, ctl_meter, cpl_meter; /* only where the options have no liquid */
    double upper_m3, lower_m3;                           /* readings of a tank, m³ */
    double pulses_master;                                /* of the master meter */
    int64_t start_ms, end_ms;                            /* since 1970-01-01, UTC, or FLC_TIME_NONE */
} flc_pass;

/** Set up a pass: size, run 1, numbers NaN, times unknown.
 *  @param[out] pass  never NULL
 *  @since 0.1 */
FLC_API void flc_pass_init_sized(flc_pass *pass, size_t own_size);
#define flc_pass_init(pass) flc_pass_init_sized((pass), sizeof *(pass))

typedef enum flc_proving_method {
    FLC_PROVING_AVERAGE_DATA = 0,  /* one MF from the averages of all runs */
    FLC_PROVING_AVERAGE_FACTOR = 1 /* mean of the runs' MF: where temperature, pressure or pulses differ between runs */
} flc_proving_method;

/** Method from its word ("average_data", "average_factor").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_proving_method_from_name(const char *name, flc_proving_method *choice);

typedef enum flc_proving_way {
    FLC_WAY_NOMINAL_K = 0, /* */
    FLC_WAY_CURVE = 1      /* */
} flc_proving_way;

/** Way from its word ("nominal_k", "curve").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_proving_way_from_name(const char *name, flc_proving_way *choice);

/* The largest range of runs that is accepted. */
typedef enum flc_range_policy {
    FLC_RANGE_TARGET = 0,  /* R = u sqrt(n) d2/t at 95 %, 2 to 30 runs: the formula behind the table */
    FLC_RANGE_LORD = 1,    /* R = u/c, Lord's exact factor at 95 %, 2 to 30 runs */
    FLC_RANGE_API_4_8 = 2, /* API MPMS 4.8 Table A-1, from memory, 3 to 20 runs */
    FLC_RANGE_FIXED = 3    /* range_limit_pct whatever the number of runs */
} flc_range_policy;

/** Policy from its word ("target", "lord", "api_4_8", "fixed").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_range_policy_from_name(const char *name, flc_range_policy *choice);

/* What the range is taken of. */
typedef enum flc_range_of { FLC_RANGE_OF_PULSES = 0, FLC_RANGE_OF_FACTORS = 1 } flc_range_of;

/** From its word ("pulses", "factors").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_range_of_from_name(const char *name, flc_range_of *choice);

/* Named rules for leaving out runs; off unless chosen, and every run left out stays in the record. */
typedef enum flc_rejection {
    FLC_REJECT_NONE = 0,        /* */
    FLC_REJECT_FIRST = 1,       /* the first reject_max runs, as warming up */
    FLC_REJECT_FURTHEST = 2,    /* while the range is too large: the run furthest from the median, reject_max at most */
    FLC_REJECT_ALL_BUT_LAST = 3 /* keep the last runs_min consecutive runs */
} flc_rejection;

/** Rule from its word ("none", "first", "furthest", "all_but_last").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_rejection_from_name(const char *name, flc_rejection *choice);

/* The units in which temperatures and pressures were read, and are rounded. */
typedef enum flc_reading_units {
    FLC_READ_SI = 0,       /* °C, kPa */
    FLC_READ_CUSTOMARY = 1 /* °F, psi */
} flc_reading_units;

/** Units from their word ("si", "customary").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_reading_units_from_name(const char *name, flc_reading_units *choice);

/* Rounding between the steps of a proving: none by default, the editions of 1995 to 1998, or the user's own table. It
 * holds for each run and for the averages. Pulses, volumes and the factors of single runs stay as they are. */
typedef struct flc_proving_rounding {
    flc_reading_units units;
    flc_rounding temperature; /* Tm Tp Td, in these units, before anything is worked out from them */
    flc_rounding pressure;    /* Pm Pp, the same */
    flc_rounding factors;     /* CTSp CPSp CTLp CPLp CTLm CPLm */
    flc_rounding range;       /* the range of the runs, before it is judged */
    flc_rounding mf;          /* the meter factor of the proving */
} flc_proving_rounding;

/** Rounding of the editions of 1995 to 1998: the discrimination table api_12_2_1995.
 *  @param units  in which temperatures and pressures were read
 *  @param[out] rounding  none on failure
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE
 *  @source API MPMS 12.2.1 Appendix B, 12.2.3, from memory; that the steps are rounded is published: those editions ask
 * for identical results, the later one for results within a tolerance
 *  @since 0.1 */
FLC_API FLC_STATUS flc_proving_rounding_1995(flc_reading_units units, flc_proving_rounding *rounding);

/* How a proving is done and judged. Set up by flc_proving_options_init; a limit that is NaN is not judged. */
typedef struct flc_proving_options {
    uint32_t size;
    flc_proving_way way;
    flc_proving_method method;
    double nominal_k_per_m3;  /* way nominal K, 1/m³ */
    const flc_meter *meter;   /* way curve */
    const flc_liquid *liquid; /* gives CTL and CPL; NULL: given with each pass. Way curve needs it */
    flc_density density;      /* for the liquid */
    uint32_t passes_per_run;  /* 1; 2 for a bidirectional prover */
    uint32_t runs_min;        /* 5 */
    flc_range_policy range;
    flc_range_of range_of;
    double target_pct;      /* u of the mean at 95 %, 0.027 % */
    double range_limit_pct; /* for FLC_RANGE_FIXED */
    flc_rejection rejection;
    uint32_t reject_max;
    double pulses_min;               /* whole pulses a pass needs without interpolation, 10 000 */
    double clock_hz;                 /* clock of the double chronometry, Hz; required where it is used */
    double clock_ticks_min;          /* ticks the shorter time must hold, 20 000 */
    double temperature_difference_k; /* largest between meter and prover, K */
    double temperature_drift_k;      /* largest range over the runs, K */
    double flow_spread_pct;          /* largest range of the flow over the runs, % */
    double waiting_s;                /* least time of steady flow before the first run, s */
    int64_t flow_started_ms;         /* when it became steady */
    double mf_low, mf_high;          /* contract limits of MF */
    int64_t day;                     /* of the proving, for the certificate's dates */
    flc_proving_rounding rounding;
} flc_proving_options;

/** Set up options: size, the defaults above, every other limit NaN.
 *  @param[out] options  never NULL
 *  @since 0.1 */
FLC_API void flc_proving_options_init_sized(flc_proving_options *options, size_t own_size);
#define flc_proving_options_init(options) flc_proving_options_init_sized((options), sizeof *(options))

/* The factors of a run, listed once: name, unit, symbol, meaning, equation. */
#define FLC_PROVING_RUN_LIST(ROW)                                                                              \
    ROW(pulses, "1", "N", "pulses of the run", "mean of its passes; out + back; N T_detectors/T_pulses")       \
    ROW(f_hz, "Hz", "f", "pulse frequency", "given, or pulses over time")                                      \
    ROW(t_meter_degc, "degC", "Tm", "temperature at the meter", "mean of the passes")                          \
    ROW(p_meter_kpag, "kPa", "Pm", "pressure at the meter, gauge", "mean of the passes")                       \
    ROW(t_prover_degc, "degC", "Tp", "temperature in the prover", "mean of the passes")                        \
    ROW(p_prover_kpag, "kPa", "Pp", "pressure in the prover, gauge", "mean of the passes")                     \
    ROW(t_rod_degc, "degC", "Td", "temperature of the detector rod", "mean of the passes")                     \
    ROW(volume_m3, "m3", "Vp", "volume of the prover at base, of the tank, or by the master meter",            \
        "BPV; upper - lower; N_mm/K_mm MMF")                                                                   \
    ROW(cts_prover, "1", "CTSp", "steel of the prover, temperature",                                           \
        "1 + Gc (Tp - Tb); [1 + Ga (Tp - Tb)][1 + Gl (Td - Tb)]")                                              \
    ROW(cps_prover, "1", "CPSp", "steel of the prover, pressure", "1 + Pp ID/(E WT)")                          \
    ROW(ctl_prover, "1", "CTLp", "liquid in the prover, temperature", "volume method of the liquid, or given") \
    ROW(cpl_prover, "1", "CPLp", "liquid in the prover, pressure", "volume method of the liquid, or given")    \
    ROW(gsv_prover_m3, "m3", "GSVp", "gross standard volume of the prover", "Vp CTSp CPSp CTLp CPLp")          \
    ROW(k_per_m3, "1/m3", "K", "K-factor", "nominal; or [4 St/(pi D0^3)] B of the curve")                      \
    ROW(ro, "1", "Ro", "Roshko number", "f D^2/nu")                                                            \
    ROW(st, "1", "St", "Strouhal number of the curve", "curve(Ro)")                                            \
    ROW(iv_meter_m3, "m3", "IVm", "indicated volume of the meter", "N/K")                                      \
    ROW(q_m3s, "m3/s", "q", "indicated flow", "f/K")                                                           \
    ROW(ctl_meter, "1", "CTLm", "liquid at the meter, temperature", "volume method of the liquid, or given")   \
    ROW(cpl_meter, "1", "CPLm", "liquid at the meter, pressure", "volume method of the liquid, or given")      \
    ROW(isv_meter_m3, "m3", "ISVm", "indicated standard volume of the meter", "IVm CTLm CPLm")                 \
    ROW(mf, "1", "MF", "meter factor", "GSVp/ISVm")

typedef struct flc_proving_run {
    uint32_t run;           /* number of the run; 0 for the averages */
    flc_rejection rejected; /* the rule that left it out, or FLC_REJECT_NONE */
#define FLC_PROVING_RUN_FIELD(name, unit, symbol, meaning, equation) double name;
    FLC_PROVING_RUN_LIST(FLC_PROVING_RUN_FIELD)
#undef FLC_PROVING_RUN_FIELD
} flc_proving_run;

/* Why a proving is not accepted, listed once: name, number, word, text. */
#define FLC_PROVING_FAULT_LIST(ROW)                                                                               \
    ROW(FEW_RUNS, 1, "few_runs", "fewer runs than asked for")                                                     \
    ROW(RANGE, 2, "range", "the runs differ by more than is accepted; the run furthest from the median is named") \
    ROW(NO_LIMIT, 3, "no_limit", "the policy has no limit for this number of runs")                               \
    ROW(FEW_PULSES, 4, "few_pulses", "too few pulses in a pass, and not interpolated")                            \
    ROW(CLOCK, 5, "clock", "the clock is too slow for the time of a pass")                                        \
    ROW(TEMPERATURE_DIFFERENCE, 6, "temperature_difference", "meter and prover differ too much in temperature")   \
    ROW(TEMPERATURE_DRIFT, 7, "temperature_drift", "the temperature drifted over the runs")                       \
    ROW(FLOW_SPREAD, 8, "flow_spread", "the flow changed over the runs")                                          \
    ROW(WAITING, 9, "waiting", "the first run began too soon after the flow became steady")                       \
    ROW(EXPIRED, 10, "expired", "the prover's certificate had expired")                                           \
    ROW(BEFORE_WATER_DRAW, 11, "before_water_draw", "the proving is older than the prover's certificate")         \
    ROW(FACTOR, 12, "factor", "the meter factor is outside the limits of the contract")

typedef enum flc_proving_fault {
#define FLC_PROVING_FAULT_ROW(name, number, word, text) FLC_FAULT_##name = (number),
    FLC_PROVING_FAULT_LIST(FLC_PROVING_FAULT_ROW)
#undef FLC_PROVING_FAULT_ROW
} flc_proving_fault;

/** Word of a fault ("range"), and the sentence that explains it; NULL for a number that is none.
 *  @since 0.1 */
FLC_API const char *flc_proving_fault_word(flc_proving_fault fault);
FLC_API const char *flc_proving_fault_text(flc_proving_fault fault);

/* One reason: what, which run and pass, what was found and the limit it broke. */
typedef struct flc_proving_finding {
    flc_proving_fault fault;
    uint32_t run; /* number of the run, or 0: the proving as a whole */
    int64_t pass; /* place of the pass, or -1 */
    double value;
    double limit;
} flc_proving_finding;

/* Outcome of a proving. Set up by flc_proving_init. */
typedef struct flc_proving {
    uint32_t size;
    int32_t accepted; /* 1: no finding */
    flc_proving_way way;
    flc_proving_method method;
    size_t run_count;        /* runs there are */
    size_t used_count;       /* runs that were not left out */
    size_t finding_count;    /* findings there are, also those that found no room */
    flc_proving_run average; /* of the runs used: averages of the inputs, and the factors at those */
    double range_pct;        /* (max - min)/min of the runs used, % */
    double range_limit_pct;  /* by the policy; NaN where it has none */
    double u_mean_pct;       /* half width at 95 % of the mean, from the range, %; NaN beyond 30 runs */
    double mf_average_data;
    double mf_average_factor;
    double mf;        /* by the method chosen */
    double ma;        /* meter accuracy, 1/MF */
    double kf_per_m3; /* K/MF at the average, 1/m³ */
    double st_proved; /* way curve: St/MF at the average, to be held against the curve */
} flc_proving;

/** Set up an outcome: size, NaN everywhere.
 *  @param[out] proving  never NULL
 *  @since 0.1 */
FLC_API void flc_proving_init_sized(flc_proving *proving, size_t own_size);
#define flc_proving_init(proving) flc_proving_init_sized((proving), sizeof *(proving))

/** Work out a proving.
 *  A wrong input is refused with a status and named; a proving that was done but fails its limits is FLC_OK with
 *  findings and accepted 0.
 *  @param prover   checked here too
 *  @param options  from flc_proving_options_init, filled in
 *  @param passes   in the order they were made
 *  @param n        number of passes, 1 to 1000
 *  @param[out] runs      room for run_capacity runs
 *  @param run_capacity   room
 *  @param[out] findings  room for finding_capacity findings, or NULL with 0
 *  @param finding_capacity room
 *  @param[out] proving   from flc_proving_init; NaN on failure
 *  @param[out] error     names field and pass or run, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_CHOICE, FLC_E_MISSING (also a pass of a round trip), FLC_E_CONFLICT,
 *          FLC_E_COUNT (passes of a run), FLC_E_ORDER (runs or times out of order), FLC_E_NAN, FLC_E_INFINITE,
 * FLC_E_BELOW, FLC_E_ABOVE (also a meter factor outside 0.8 to 1.2), FLC_E_NOT_WHOLE, FLC_E_BUFFER (runs), or the
 * status of the liquid or the curve
 *  @source API MPMS 12.2.3, 4.8 and ISO 7278-3, from memory; custom of the trade for the limits
 *  @since 0.1 */
FLC_API FLC_STATUS flc_prove(const flc_prover *prover, const flc_proving_options *options, const flc_pass *passes,
                             size_t n, flc_proving_run *runs, size_t run_capacity, flc_proving_finding *findings,
                             size_t finding_capacity, flc_proving *proving, flc_error *error);

/** Steps of one run, or of the average, in the order of the calculation.
 *  @param run  of flc_prove, or its average
 *  @param[out] steps  room for capacity steps, or NULL with 0; the texts live as long as the library
 *  @param capacity  room
 *  @param[out] count  steps there are
 *  @return FLC_OK; FLC_E_NULL; FLC_E_BUFFER (count is set, nothing written)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_proving_steps(const flc_proving_run *run, flc_step *steps, size_t capacity, size_t *count);

FLC_END_DECLS

#endif
