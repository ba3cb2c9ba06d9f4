/* SPDX-License-Identifier: Apache-2.0 */
/* A proving: factors against the worked chains of quantities_proving.csv (formulas of API MPMS 12.2.3 from memory,
 * numbers recomputed), the verdict with its reasons, and refusals. Pipe provers are worked in m³ for the barrels of
 * that chain: the meter factor has no unit. */
#include "check.h"
#include "flowcomp/proving.h"
#include "proving_core.h"
#include <math.h>

#define OK(call) assert_int_equal((call), FLC_OK)
#define COUNT(list) (sizeof(list) / sizeof((list)[0]))
#define ROOM 20

typedef struct fixture {
    flc_prover prover;
    flc_proving_options options;
    flc_pass pass[ROOM];
    size_t count;
    flc_proving_run run[ROOM];
    flc_proving_finding finding[ROOM];
    flc_proving proving;
    flc_error error;
} fixture;

static flc_status prove(fixture *f)
{
    flc_proving_init(&f->proving);
    return flc_prove(&f->prover, &f->options, f->pass, f->count, f->run, ROOM, f->finding, ROOM, &f->proving,
                     &f->error);
}

/* Q-PRV: BPV 16.80425, Gc 1.86e-5/degF (x 1.8 per degC), 78.38 degF = 25.7667 degC, base 60 degF, 150 psig, ID 10.020
 * in, wall 0.365 in, E 30e6 psi, five runs of pulses at 1000 per unit, CTLp 0.9908 CPLp 1.0010 CTLm 0.9909 CPLm 1.0010.
 */
static fixture pipe_prover(void)
{
    static const double pulses[] = {16793.0, 16795.0, 16792.0, 16796.0, 16794.0};
    fixture f;
    flc_prover_init(&f.prover);
    f.prover.kind = FLC_PROVER_PIPE;
    f.prover.base_volume_m3 = 16.80425;
    f.prover.base_t_degc = 140.0 / 9.0;
    f.prover.gc_per_degc = 1.86e-5 * 1.8;
    f.prover.e_kpa = 30.0e6 * 6.894757;
    f.prover.id_m = 10.020 * 0.0254;
    f.prover.wall_m = 0.365 * 0.0254;
    flc_proving_options_init(&f.options);
    f.options.nominal_k_per_m3 = 1000.0;
    f.count = COUNT(pulses);
    for (size_t i = 0; i < f.count; i++) {
        flc_pass *pass = &f.pass[i];
        flc_pass_init(pass);
        pass->run = (uint32_t)i + 1;
        pass->pulses = pulses[i];
        pass->t_meter_degc = pass->t_prover_degc = (78.38 - 32.0) / 1.8;
        pass->p_meter_kpag = pass->p_prover_kpag = 150.0 * 6.894757;
        pass->ctl_prover = 0.9908;
        pass->cpl_prover = pass->cpl_meter = 1.0010;
        pass->ctl_meter = 0.9909;
        pass->start_ms = (int64_t)i * 60000;
        pass->end_ms = pass->start_ms + 16794;
    }
    return f;
}

static void pipe(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    OK(prove(&f));
    const double cts = 1.0 + 1.86e-5 * 18.38, cps = 1.0 + 150.0 * 10.020 / (30.0e6 * 0.365);
    flc_check_relative(f.run[0].cts_prover, cts, 1e-14);
    flc_check_relative(f.run[0].cps_prover, cps, 1e-14);
    flc_check_relative(f.run[0].gsv_prover_m3, 16.80425 * cts * cps * 0.9908 * 1.0010, 1e-14);
    flc_check_relative(f.run[0].isv_meter_m3, 16.793 * 0.9909 * 1.0010, 1e-14);
    flc_check_relative(f.run[0].f_hz, 16793.0 / 16.794, 1e-14);
    flc_check_relative(f.proving.mf_average_data, 16.80425 * cts * cps * 0.9908 / (16.794 * 0.9909), 1e-14);
    flc_check_near(1e6 * (f.proving.mf_average_factor / f.proving.mf_average_data - 1.0), 0.0070912, 1e-6);
    flc_check_near(f.proving.range_pct, 0.02382, 5e-6);       /* Q-PRV-1 */
    flc_check_near(f.proving.range_limit_pct, 0.05058, 5e-6); /* S-REPd-5 */
    flc_check_near(f.proving.u_mean_pct, 0.02382 / 0.05058 * 0.027, 5e-6);
    flc_check_same_bits(f.proving.mf, f.proving.mf_average_data);
    flc_check_relative(f.proving.ma, 1.0 / f.proving.mf, 1e-15);
    flc_check_relative(f.proving.kf_per_m3, 1000.0 / f.proving.mf, 1e-15);
    flc_check_nan(f.proving.st_proved);
    assert_int_equal(f.proving.accepted, 1);
    assert_int_equal(f.proving.used_count, 5);
    f.options.method = FLC_PROVING_AVERAGE_FACTOR;
    OK(prove(&f));
    flc_check_same_bits(f.proving.mf, f.proving.mf_average_factor);
    f.prover.double_wall = 1;
    OK(prove(&f));
    flc_check_same_bits(f.run[0].cps_prover, 1.0);
}

/* The same chain rounded step by step: Q-PRV-2 to Q-PRV-7, four decimals for factors and MF, 0.1 degF and 1 psi. */
static void rounded_as_in_1995(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    OK(flc_proving_rounding_1995(FLC_READ_CUSTOMARY, &f.options.rounding));
    OK(prove(&f));
    flc_check_relative(f.proving.average.t_meter_degc, (78.4 - 32.0) / 1.8, 1e-15);
    flc_check_relative(f.proving.average.p_prover_kpag, 150.0 * 6.894757293168361, 1e-15);
    flc_check_same_bits(f.proving.average.cts_prover, 1.0003);
    flc_check_same_bits(f.proving.average.cps_prover, 1.0001);
    flc_check_near(f.proving.average.gsv_prover_m3, 16.672968, 5e-7); /* Q-PRV-5 */
    flc_check_near(f.proving.average.isv_meter_m3, 16.657816, 5e-7);  /* Q-PRV-6 */
    flc_check_same_bits(f.proving.mf, 1.0009);                        /* Q-PRV-7 */
    flc_check_same_bits(f.proving.mf_average_factor, 1.0009);
    flc_check_same_bits(f.proving.range_pct, 0.024); /* Q-PRV-1, 0.02382 to three decimals */
    OK(flc_proving_rounding_1995(FLC_READ_SI, &f.options.rounding));
    OK(prove(&f));
    flc_check_relative(f.run[0].t_meter_degc, 25.75, 1e-15); /* 25.7667 to 0.05 degC */
    flc_check_same_bits(f.run[0].p_meter_kpag, 1030.0);      /* 10.342 bar to 0.1 bar */
    flc_check_same_bits(f.proving.mf, 1.0009);
    assert_int_equal(flc_proving_rounding_1995((flc_reading_units)2, &f.options.rounding), FLC_E_CHOICE);
    assert_int_equal(f.options.rounding.mf.kind, FLC_ROUNDING_NONE);
    assert_int_equal(flc_proving_rounding_1995(FLC_READ_SI, NULL), FLC_E_NULL);
    f.options.rounding.mf = flc_rounding_to_decimals(99);
    assert_int_equal(prove(&f), FLC_E_ABOVE);
    assert_string_equal(f.error.argument, "rounding");
    f.options.rounding.units = (flc_reading_units)7;
    assert_int_equal(prove(&f), FLC_E_CHOICE);
    flc_reading_units units = FLC_READ_SI;
    OK(flc_reading_units_from_name("customary", &units));
    assert_int_equal(units, FLC_READ_CUSTOMARY);
}

/* Out 8397.2, back 8396.1 (Q-SVP-2): 16793.3 pulses against the volume of the round trip. */
static void bidirectional(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.prover.kind = FLC_PROVER_PIPE_BIDIRECTIONAL;
    f.options.passes_per_run = 2;
    f.options.pulses_min = 1000.0;
    f.options.runs_min = 2;
    f.count = 4;
    for (size_t i = 0; i < f.count; i++) {
        f.pass[i].run = (uint32_t)(i / 2) + 1;
        f.pass[i].direction = i % 2 == 0 ? FLC_PASS_OUT : FLC_PASS_BACK;
        f.pass[i].pulses = i % 2 == 0 ? 8397.2 : 8396.1;
    }
    OK(prove(&f));
    flc_check_relative(f.run[0].pulses, 16793.3, 1e-15);
    flc_check_relative(f.run[0].iv_meter_m3, 16.7933, 1e-15);
    flc_check_same_bits(f.run[0].volume_m3, 16.80425);
    f.count = 3; /* the way back of run 2 is missing */
    assert_int_equal(prove(&f), FLC_E_MISSING);
    assert_int_equal(f.error.index, 2);
    flc_check_nan(f.proving.mf);
    flc_check_nan(f.run[0].mf);
    f.count = 4;
    f.pass[1].direction = FLC_PASS_OUT;
    assert_int_equal(prove(&f), FLC_E_MISSING);
    assert_string_equal(f.error.argument, "direction");
    f.options.passes_per_run = 3;
    assert_int_equal(prove(&f), FLC_E_COUNT);
}

/* Q-SVP-1: 1253 pulses, 0.5012345 and 0.5014210 s -> 1253.46622. CTSp = [1 + Ga dT][1 + Gl dTd], each averaged. */
static void small_volume(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.prover.kind = FLC_PROVER_SMALL_VOLUME;
    f.prover.base_volume_m3 = 1.2534;
    f.prover.ga_per_degc = 2.16e-5;
    f.prover.gl_rod_per_degc = 1.44e-6;
    f.options.passes_per_run = 2;
    f.options.runs_min = 2;
    f.options.clock_hz = 1e5;
    f.count = 4;
    for (size_t i = 0; i < f.count; i++) {
        f.pass[i].run = (uint32_t)(i / 2) + 1;
        f.pass[i].pulses = NAN;
        f.pass[i].pulses_whole = 1253.0;
        f.pass[i].t_pulses_s = 0.5012345;
        f.pass[i].t_detectors_s = 0.5014210;
        f.pass[i].t_rod_degc = 20.0;
    }
    OK(prove(&f));
    flc_check_near(f.run[0].pulses, 1253.46622, 5e-6);
    flc_check_relative(f.run[0].f_hz, 1253.0 / 0.5012345, 1e-14);
    flc_check_relative(f.run[0].cts_prover,
                       (1.0 + 2.16e-5 * ((78.38 - 60.0) / 1.8)) * (1.0 + 1.44e-6 * (20.0 - 140.0 / 9.0)), 1e-14);
    assert_int_equal(f.proving.accepted, 1); /* 50 123 ticks, and few pulses do not matter when interpolated */
    f.options.clock_hz = 3e4;                /* 15 037 ticks */
    OK(prove(&f));
    assert_int_equal(f.proving.accepted, 0);
    assert_int_equal(f.finding[0].fault, FLC_FAULT_CLOCK);
    assert_int_equal(f.finding[0].pass, 0);
    flc_check_near(f.finding[0].value, 15037.035, 1e-6);
    assert_int_equal(f.proving.finding_count, 4);
    f.options.clock_hz = NAN;
    assert_int_equal(prove(&f), FLC_E_NAN);
    assert_string_equal(f.error.argument, "clock_hz");
    f.options.clock_hz = 1e5;
    f.pass[2].pulses = 1253.0;
    assert_int_equal(prove(&f), FLC_E_CONFLICT);
    f.pass[2].pulses = f.pass[2].pulses_whole = NAN;
    assert_int_equal(prove(&f), FLC_E_MISSING);
    f.pass[2].pulses_whole = 1253.5;
    assert_int_equal(prove(&f), FLC_E_NOT_WHOLE);
    assert_int_equal(f.error.index, 2);
}

/* Q-TNK-1 (0.99890421) and Q-MST-1 (0.99904881). */
static void tank_and_master(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.prover.kind = FLC_PROVER_TANK;
    f.prover.gc_per_degc = 51.8e-6;
    f.prover.base_t_degc = 15.0;
    f.options.runs_min = f.options.passes_per_run = 1;
    f.options.range = FLC_RANGE_FIXED;
    f.options.range_limit_pct = 0.05;
    f.count = 1;
    flc_pass *pass = &f.pass[0];
    pass->upper_m3 = 500.12;
    pass->lower_m3 = 0.05;
    pass->t_prover_degc = 21.4;
    pass->p_prover_kpag = pass->cpl_prover = NAN;
    pass->ctl_prover = 0.99465;
    pass->ctl_meter = 0.99452;
    pass->cpl_meter = 1.0;
    pass->pulses = 500850.0;
    OK(prove(&f));
    flc_check_near(f.proving.mf, 0.99890421, 5e-9);
    flc_check_nan(f.proving.u_mean_pct);
    assert_int_equal(f.proving.accepted, 1);
    pass->upper_m3 = 0.04;
    assert_int_equal(prove(&f), FLC_E_ORDER);
    f = pipe_prover();
    f.prover.kind = FLC_PROVER_MASTER_METER;
    f.prover.master_k_per_m3 = 2000.0;
    f.prover.master_mf = 1.00052;
    f.options.runs_min = 1;
    f.options.range = FLC_RANGE_FIXED;
    f.options.range_limit_pct = 0.05;
    f.count = 1;
    pass = &f.pass[0];
    pass->pulses_master = 998.734 * 2000.0;
    pass->ctl_prover = 0.99381;
    pass->cpl_prover = 1.00071;
    pass->pulses = 1000215.0;
    pass->ctl_meter = 0.99377;
    pass->cpl_meter = 1.00074;
    OK(prove(&f));
    flc_check_near(f.proving.mf, 0.99904881, 5e-9);
}

static const flc_proving_finding *found(const fixture *f, flc_proving_fault fault)
{
    for (size_t i = 0; i < f->proving.finding_count; i++) {
        if (f->finding[i].fault == fault) {
            return &f->finding[i];
        }
    }
    return NULL;
}

/* Each limit broken on purpose: the run that broke it is named. */
static void verdict(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.pass[3].pulses = 16810.0; /* (16810 - 16792)/16792 = 0.1072 % */
    f.pass[3].t_prover_degc += 0.5;
    f.pass[4].t_meter_degc += 2.0;
    f.pass[2].pulses = 9000.0;
    f.pass[2].f_hz = 1030.0;
    f.options.temperature_difference_k = 0.3;
    f.options.temperature_drift_k = 1.0;
    f.options.flow_spread_pct = 2.0;
    f.options.waiting_s = 300.0;
    f.options.flow_started_ms = -200000;
    f.options.runs_min = 6;
    f.options.mf_high = 1.0005;
    f.options.day = 20000;
    f.prover.water_draw_day = 19000;
    f.prover.expiry_day = 19999;
    f.pass[2].pulses = 16792.0;
    OK(prove(&f));
    assert_int_equal(f.proving.accepted, 0);
    assert_int_equal(found(&f, FLC_FAULT_RANGE)->run, 4);
    flc_check_near(found(&f, FLC_FAULT_RANGE)->value, 100.0 * 18.0 / 16792.0, 1e-12);
    assert_int_equal(found(&f, FLC_FAULT_TEMPERATURE_DIFFERENCE)->run, 4);
    flc_check_near(found(&f, FLC_FAULT_TEMPERATURE_DIFFERENCE)->value, 0.5, 1e-12);
    assert_int_equal(found(&f, FLC_FAULT_TEMPERATURE_DRIFT)->run, 5);
    assert_int_equal(found(&f, FLC_FAULT_FLOW_SPREAD)->run, 3);
    flc_check_near(found(&f, FLC_FAULT_WAITING)->value, 200.0, 1e-12);
    assert_non_null(found(&f, FLC_FAULT_FEW_RUNS));
    assert_non_null(found(&f, FLC_FAULT_EXPIRED));
    assert_non_null(found(&f, FLC_FAULT_FACTOR));
    assert_null(found(&f, FLC_FAULT_BEFORE_WATER_DRAW));
    f.options.day = 18999;
    f.options.pulses_min = 16793.0;
    OK(prove(&f));
    assert_non_null(found(&f, FLC_FAULT_BEFORE_WATER_DRAW));
    assert_int_equal(found(&f, FLC_FAULT_FEW_PULSES)->pass, 2);
    f.options.range = FLC_RANGE_API_4_8;
    f.count = 2;
    OK(prove(&f));
    assert_non_null(found(&f, FLC_FAULT_NO_LIMIT));
    assert_string_equal(flc_proving_fault_word(FLC_FAULT_RANGE), "range");
    assert_non_null(flc_proving_fault_text(FLC_FAULT_CLOCK));
    assert_null(flc_proving_fault_word((flc_proving_fault)0));
}

/* Off by default; each rule by name; never below the runs asked for; the runs left out stay in the record. */
static void rejection(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.pass[1].pulses = 16900.0;
    f.options.runs_min = 3;
    OK(prove(&f));
    assert_int_equal(f.proving.used_count, 5);
    assert_int_equal(f.proving.accepted, 0);
    f.options.rejection = FLC_REJECT_FURTHEST;
    OK(prove(&f)); /* reject_max is 0 */
    assert_int_equal(f.proving.used_count, 5);
    f.options.reject_max = 2;
    OK(prove(&f));
    assert_int_equal(f.proving.used_count, 4);
    assert_int_equal(f.run[1].rejected, FLC_REJECT_FURTHEST);
    assert_int_equal(f.proving.accepted, 1);
    flc_check_relative(f.proving.average.pulses, (16793.0 + 16792.0 + 16796.0 + 16794.0) / 4.0, 1e-15);
    f.options.rejection = FLC_REJECT_FIRST;
    OK(prove(&f));
    assert_int_equal(f.proving.used_count, 3);
    assert_int_equal(f.run[0].rejected, FLC_REJECT_FIRST);
    f.options.rejection = FLC_REJECT_ALL_BUT_LAST;
    f.options.runs_min = 4;
    OK(prove(&f));
    assert_int_equal(f.proving.used_count, 4);
    f.options.runs_min = 5;
    OK(prove(&f)); /* nothing to spare */
    assert_int_equal(f.proving.used_count, 5);
}

/* Limits for five runs: 0.027 sqrt 5 d2/t = 0.05058; 0.027/0.5066 (Lord); 0.05 (table, from memory); fixed. */
static void range_policies(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    f.options.range_of = FLC_RANGE_OF_FACTORS;
    f.options.range = FLC_RANGE_LORD;
    OK(prove(&f));
    flc_check_near(f.proving.range_limit_pct, 0.027 / 0.5066, 2e-5);
    flc_check_near(f.proving.range_pct, 0.02382, 5e-6); /* of factors: the same to the second order */
    f.options.range = FLC_RANGE_API_4_8;
    OK(prove(&f));
    flc_check_same_bits(f.proving.range_limit_pct, 0.05);
    f.options.range = FLC_RANGE_FIXED;
    f.options.range_limit_pct = 0.02;
    OK(prove(&f));
    assert_int_equal(f.proving.accepted, 0);
}

#define REFUSED(change, status, name)                  \
    do {                                               \
        fixture f = pipe_prover();                     \
        change;                                        \
        assert_int_equal(prove(&f), (status));         \
        assert_string_equal(f.error.argument, (name)); \
        flc_check_nan(f.proving.mf);                   \
    } while (0)

static void refusals(void **state)
{
    (void)state;
    REFUSED(f.prover.base_volume_m3 = 0.0, FLC_E_BELOW, "base_volume_m3");
    REFUSED(f.prover.base_volume_m3 = NAN, FLC_E_NAN, "base_volume_m3");
    REFUSED(f.prover.gc_per_degc = 1.0, FLC_E_ABOVE, "gc_per_degc");
    REFUSED(f.prover.kind = (flc_prover_kind)9, FLC_E_CHOICE, "kind");
    REFUSED(f.prover.water_draw_day = 10; f.prover.expiry_day = 9, FLC_E_ORDER, "expiry_day");
    REFUSED(f.prover.size = 8, FLC_E_SIZE, "prover");
    REFUSED(f.options.size = 8, FLC_E_SIZE, "options");
    REFUSED(f.pass[1].size = 8, FLC_E_SIZE, "passes");
    REFUSED(f.pass[2].t_prover_degc = 298.9, FLC_E_ABOVE, "t_prover_degc"); /* kelvin */
    REFUSED(f.pass[2].t_meter_degc = INFINITY, FLC_E_INFINITE, "t_meter_degc");
    REFUSED(f.pass[2].run = 1, FLC_E_ORDER, "run");
    REFUSED(f.pass[2].run = 7, FLC_E_ORDER, "run");
    REFUSED(f.pass[0].run = 0, FLC_E_ORDER, "run");
    REFUSED(f.pass[3].start_ms = 0, FLC_E_ORDER, "start_ms"); /* the clock ran backwards */
    REFUSED(f.pass[3].end_ms = f.pass[3].start_ms - 1, FLC_E_ORDER, "end_ms");
    REFUSED(f.pass[3].pulses = -5.0, FLC_E_BELOW, "pulses");
    REFUSED(f.pass[3].ctl_meter = NAN, FLC_E_NAN, "ctl_meter");
    REFUSED(f.pass[3].direction = FLC_PASS_BACK, FLC_E_CHOICE, "direction");
    REFUSED(f.options.nominal_k_per_m3 = 1300.0, FLC_E_ABOVE, "mf"); /* MF = 1.3 is a mistake */
    REFUSED(f.options.nominal_k_per_m3 = 700.0, FLC_E_BELOW, "mf");
    REFUSED(f.options.nominal_k_per_m3 = NAN, FLC_E_NAN, "nominal_k_per_m3");
    REFUSED(f.options.way = FLC_WAY_CURVE, FLC_E_CONFLICT, "nominal_k_per_m3");
    REFUSED(f.options.way = FLC_WAY_CURVE; f.options.nominal_k_per_m3 = NAN, FLC_E_MISSING, "meter");
    REFUSED(f.options.range = (flc_range_policy)7, FLC_E_CHOICE, "range");
    REFUSED(f.options.waiting_s = 60.0, FLC_E_MISSING, "flow_started_ms");
    REFUSED(f.options.runs_min = 0, FLC_E_COUNT, "runs_min");
    REFUSED(f.options.passes_per_run = 0, FLC_E_COUNT, "passes_per_run");
    REFUSED(f.options.target_pct = -1.0, FLC_E_BELOW, "target_pct");
    fixture f = pipe_prover();
    flc_proving_init(&f.proving);
    assert_int_equal(flc_prove(NULL, &f.options, f.pass, 5, f.run, ROOM, NULL, 0, &f.proving, NULL), FLC_E_NULL);
    assert_int_equal(flc_prove(&f.prover, &f.options, f.pass, 0, f.run, ROOM, NULL, 0, &f.proving, NULL), FLC_E_COUNT);
    assert_int_equal(flc_prove(&f.prover, &f.options, f.pass, 5, f.run, 4, NULL, 0, &f.proving, &f.error),
                     FLC_E_BUFFER);
    assert_int_equal(flc_prove(&f.prover, &f.options, f.pass, 5, f.run, ROOM, NULL, 3, &f.proving, NULL), FLC_E_NULL);
    OK(flc_prove(&f.prover, &f.options, f.pass, 5, f.run, ROOM, NULL, 0, &f.proving, NULL));
    assert_int_equal(flc_prover_check(NULL, &f.error), FLC_E_NULL);
    OK(flc_prover_check(&f.prover, &f.error));
}

static void steps_and_words(void **state)
{
    (void)state;
    fixture f = pipe_prover();
    flc_step step[40];
    size_t count;
    OK(prove(&f));
    OK(flc_proving_steps(&f.proving.average, step, COUNT(step), &count));
    assert_string_equal(step[0].symbol, "N");
    assert_string_equal(step[count - 1].symbol, "MF");
    flc_check_same_bits(step[count - 1].value, f.proving.mf);
    assert_int_equal(flc_proving_steps(&f.proving.average, NULL, 0, &count), FLC_E_BUFFER);
    assert_true(count > 15);
    assert_int_equal(flc_proving_steps(NULL, step, 1, &count), FLC_E_NULL);
    flc_prover_kind kind;
    flc_proving_method method;
    flc_proving_way way;
    flc_range_policy range;
    flc_range_of of;
    flc_rejection rule;
    OK(flc_prover_kind_from_name("small_volume", &kind));
    assert_int_equal(kind, FLC_PROVER_SMALL_VOLUME);
    OK(flc_proving_method_from_name("average_factor", &method));
    OK(flc_proving_way_from_name("curve", &way));
    OK(flc_range_policy_from_name("api_4_8", &range));
    assert_int_equal(range, FLC_RANGE_API_4_8);
    OK(flc_range_of_from_name("factors", &of));
    OK(flc_rejection_from_name("all_but_last", &rule));
    assert_int_equal(rule, FLC_REJECT_ALL_BUT_LAST);
    assert_int_equal(flc_rejection_from_name("worst", &rule), FLC_E_UNKNOWN_NAME);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pipe),
        cmocka_unit_test(rounded_as_in_1995),
        cmocka_unit_test(bidirectional),
        cmocka_unit_test(small_volume),
        cmocka_unit_test(tank_and_master),
        cmocka_unit_test(verdict),
        cmocka_unit_test(rejection),
        cmocka_unit_test(range_policies),
        cmocka_unit_test(refusals),
        cmocka_unit_test(steps_and_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
