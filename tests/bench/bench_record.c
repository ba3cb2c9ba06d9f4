/* SPDX-License-Identifier: Apache-2.0 */
/* Whole records through the library against the peer (peer_record.c): in cache and from memory, one thread and all,
 * each instruction set. The library's status and flags are asked for beside its results, so its checks are on.
 *
 *     bench_record [records in memory] [rounds]
 */
#define _XOPEN_SOURCE 700 /* clock_gettime, posix_memalign, M_LN10 */
#include "bench_case.h"
#include "bench_timer.h"
#include "draws.h"
#include "flowcomp/batch.h"
#include "threads_for.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define IN_CACHE 4096
#define PASSES 2 /* over the records in cache, in one run */
#define ONE_BY_ONE 4096

static void *room(size_t bytes)
{
    void *memory = NULL;
    if (posix_memalign(&memory, 64, bytes + 64) != 0) {
        fprintf(stderr, "no memory for %zu bytes\n", bytes);
        exit(1);
    }
    memset(memory, 0, bytes);
    return memory;
}

static void must(flc_status status)
{
    if (status != FLC_OK) {
        fprintf(stderr, "the case is refused: %s\n", flc_status_text(status));
        exit(1);
    }
}

/* ---- the case, as the library has it ---- */

static flc_meter *meter_like(const peer_meter *peer)
{
    double x[CASE_KNOTS], st[CASE_KNOTS], slope[CASE_KNOTS], c[4 * (CASE_KNOTS - 1)];
    peer_knots(peer, x, st, slope);
    for (size_t i = 0; i < CASE_KNOTS; i++) { /* from log10 to ln */
        x[i] *= M_LN10;
        slope[i] /= M_LN10;
    }
    for (size_t i = 0; i + 1 < CASE_KNOTS; i++) {
        const double h = x[i + 1] - x[i], rise = (st[i + 1] - st[i]) / h;
        c[4 * i] = st[i];
        c[4 * i + 1] = slope[i];
        c[4 * i + 2] = (3.0 * rise - 2.0 * slope[i] - slope[i + 1]) / h;
        c[4 * i + 3] = (slope[i] + slope[i + 1] - 2.0 * rise) / (h * h);
    }
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = CASE_BORE_M;
    body.t0_degc = CASE_T0_DEGC;
    body.p0_kpag = 0.0;
    body.end = FLC_END_THIN_WALL;
    body.wall_m = CASE_WALL_M;
    must(flc_metal_mean(CASE_ALPHA_PER_K, -50.0, 150.0, CASE_MODULUS_GPA, 0.29, FLC_USER_GIVEN, "invented",
                        &body.housing, NULL));
    flc_curve *curve = NULL;
    must(flc_curve_new(flc_curve_reference_for(FLC_CONVENTION_DIMENSIONLESS, FLC_BODY_AS_RUN, &body), CASE_KNOTS, x, st,
                       c, &curve, NULL));
    flc_meter_options options;
    flc_meter_options_init(&options);
    options.name = "invented 52.6 mm";
    flc_meter *meter = NULL;
    must(flc_meter_new(&options, &body, curve, &meter, NULL));
    flc_curve_free(curve);
    return meter;
}

static flc_liquid *crude_oil(flc_d341_form form, flc_petroleum_base base)
{
    const double t[2] = {0.0, 60.0}, nu[2] = {peer_viscosity(0.0), peer_viscosity(60.0)};
    flc_liquid_options options;
    flc_liquid_options_init(&options);
    options.name = "invented crude oil";
    options.volume = FLC_VOLUME_PETROLEUM_2004;
    options.product = flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE);
    options.base = base;
    options.viscosity = FLC_VISCOSITY_POINTS;
    options.form = form;
    options.points = (flc_viscosity_points){2, t, nu, 0.0};
    options.u_nu_relative = 0.01;
    options.nu_source = "invented";
    flc_liquid *liquid = NULL;
    must(flc_liquid_new(&options, &liquid, NULL));
    return liquid;
}

static case_columns draw_columns(size_t n)
{
    case_columns in = {room(8 * n), room(8 * n), room(8 * n), room(8 * n)};
    uint64_t seed = 41;
    for (size_t i = 0; i < n; i++) {
        in.f_hz[i] = flc_draw_between(&seed, CASE_F_LOW, CASE_F_HIGH);
        in.t_degc[i] = flc_draw_between(&seed, CASE_T_LOW, CASE_T_HIGH);
        in.p_kpag[i] = flc_draw_between(&seed, CASE_P_LOW, CASE_P_HIGH);
        in.rho60_kgm3[i] = flc_draw_between(&seed, CASE_RHO_LOW, CASE_RHO_HIGH);
    }
    return in;
}

/* ---- pieces of work ---- */

typedef struct library_work {
    const flc_meter *meter;
    const flc_liquid *liquid;
    const case_columns *in;
    size_t n, passes;
    flc_results out;
    flc_instruction_set set;
} library_work;

static flc_readings readings_of(const library_work *w)
{
    flc_readings readings;
    flc_readings_init(&readings);
    readings.instruction_set = w->set;
    readings.f_hz = (flc_column){w->in->f_hz, 1};
    readings.t_degc = (flc_column){w->in->t_degc, 1};
    readings.p_kpag = (flc_column){w->in->p_kpag, 1};
    readings.rho_base_kgm3 = (flc_column){w->in->rho60_kgm3, 1};
    return readings;
}

static void run_library(const void *what)
{
    const library_work *w = what;
    const flc_readings readings = readings_of(w);
    size_t refused = 0;
    for (size_t pass = 0; pass < w->passes; pass++) {
        must(flc_meter_evaluate_n(w->meter, w->liquid, &readings, w->n, &w->out, NULL, &refused));
    }
    if (refused != 0) {
        fprintf(stderr, "%zu records refused\n", refused);
        exit(1);
    }
}

/* One call per record: the readings lie ready, as a flow computer has them. */
typedef struct scalar_work {
    const flc_meter *meter;
    const flc_liquid *liquid;
    const flc_reading *readings;
    double *q_base_m3s;
} scalar_work;

static void run_scalar(const void *what)
{
    const scalar_work *w = what;
    flc_result result;
    flc_result_init(&result);
    for (size_t i = 0; i < ONE_BY_ONE; i++) {
        must(flc_meter_evaluate(w->meter, w->liquid, &w->readings[i], &result, NULL));
        w->q_base_m3s[i] = result.q_base_m3s;
    }
}

static flc_reading *draw_readings(const case_columns *in)
{
    flc_reading *readings = room(ONE_BY_ONE * sizeof *readings);
    for (size_t i = 0; i < ONE_BY_ONE; i++) {
        flc_reading_init(&readings[i]);
        readings[i].f_hz = in->f_hz[i];
        readings[i].t_degc = in->t_degc[i];
        readings[i].p_kpag = in->p_kpag[i];
        readings[i].density.rho_base_kgm3 = in->rho60_kgm3[i];
    }
    return readings;
}

typedef struct peer_work {
    const peer_meter *peer;
    const case_columns *in;
    size_t n, passes;
    double *q_base_m3s;
} peer_work;

static void run_peer(const void *what)
{
    const peer_work *w = what;
    for (size_t pass = 0; pass < w->passes; pass++) {
        peer_records(w->peer, w->in, w->n, w->q_base_m3s);
    }
}

/* What memory alone takes: four columns in and one out. */
static void run_stream(const void *what)
{
    const peer_work *w = what;
    const double *restrict f = w->in->f_hz, *restrict t = w->in->t_degc, *restrict p = w->in->p_kpag,
                           *restrict rho = w->in->rho60_kgm3;
    double *restrict out = w->q_base_m3s;
    for (size_t pass = 0; pass < w->passes; pass++) {
        for (size_t i = 0; i < w->n; i++) {
            out[i] = (f[i] + t[i]) + (p[i] + rho[i]);
        }
    }
}

/* ---- columns out ---- */

static flc_results one_output(size_t n)
{
    flc_results out;
    flc_results_init(&out);
    out.q_base_m3s = room(8 * n);
    out.status = room(n);
    out.flags = room(4 * n);
    return out;
}

static flc_results all_outputs(size_t n)
{
    flc_results out = one_output(n);
#define ROOM(name, unit, meaning) out.name = out.name != NULL ? out.name : room(8 * n);
    FLC_RESULT_LIST(ROOM)
#undef ROOM
    return out;
}

/* Both must have computed the same record, or the times say nothing. */
static void compare(const double *ours, const double *theirs, size_t n)
{
    double worst = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double difference = fabs(ours[i] / theirs[i] - 1.0);
        worst = difference > worst || difference != difference ? difference : worst;
    }
    if (!(worst < 1e-11)) {
        fprintf(stderr, "both ways differ by %g, relative\n", worst);
        exit(1);
    }
    printf("note\tboth ways differ by at most %.1e, relative\n", worst);
}

/* ---- the figures ---- */

/* What the library is to reach against the peer, by instruction set. */
static const struct {
    flc_instruction_set set;
    const char *name;
    double reach, aim;
} sets[] = {{FLC_INSTRUCTIONS_BASE, "SSE2", 4.5, 6.0},
            {FLC_INSTRUCTIONS_AVX2, "AVX2", 10.0, 13.0},
            {FLC_INSTRUCTIONS_AVX512, "AVX-512", 18.0, 26.0}};
#define SETS (sizeof sets / sizeof sets[0])
#define WORKS 24

typedef struct bench {
    timed_work work[WORKS];
    library_work library[WORKS];
    char name[WORKS][80];
    size_t count;
} bench;

static timed_work *add(bench *b, const char *what, const char *how, const char *where, void (*run)(const void *),
                       const void *with, double records)
{
    snprintf(b->name[b->count], sizeof b->name[0], "%s%s%s, %s", what, how[0] != 0 ? ", " : "", how, where);
    b->work[b->count] = (timed_work){b->name[b->count], run, with, records, 0.0};
    return &b->work[b->count++];
}

static timed_work *add_library(bench *b, const char *what, const char *how, const char *where, library_work w)
{
    b->library[b->count] = w;
    return add(b, what, how, where, run_library, &b->library[b->count], (double)w.n * (double)w.passes);
}

static void against_peer(const timed_work *peer, const timed_work *ours, double reach, double aim)
{
    char name[128];
    snprintf(name, sizeof name, "whole record against plain C + GSL: %s", ours->name);
    timer_print_figure(name, peer->best_ns / ours->best_ns, "x", reach, aim);
}

static void whole_records(const peer_meter *peer, const flc_meter *meter, const case_columns *in, size_t n,
                          size_t passes, int rounds, const char *where)
{
    flc_liquid *const simple = crude_oil(FLC_D341_SIMPLE, FLC_PETROLEUM_BASE_60F);
    flc_liquid *const other = crude_oil(FLC_D341_BODY, FLC_PETROLEUM_BASE_15C);
    const flc_results all = all_outputs(n);
    flc_results one = one_output(n);
    one.status = all.status;
    one.flags = all.flags;
    const peer_work theirs = {peer, in, n, passes, all.st};
    const peer_work stream = {peer, in, n, passes, all.re};
    static bench b;
    timed_work *ones[SETS] = {NULL}, *alls[SETS] = {NULL}, *others[SETS] = {NULL};
    b.count = 0;
    timed_work *const peer_time = add(&b, "peer", "", where, run_peer, &theirs, (double)n * (double)passes);
    (void)add(&b, "four columns in, one out", "", where, run_stream, &stream, (double)n * (double)passes);
    for (size_t s = 0; s < SETS; s++) {
        if (flc_instructions_taken(sets[s].set) != sets[s].set) {
            continue;
        }
        library_work w = {meter, simple, in, n, passes, one, sets[s].set};
        ones[s] = add_library(&b, sets[s].name, "", where, w);
        w.out = all;
        alls[s] = add_library(&b, sets[s].name, "all outputs", where, w);
        w.out = one;
        w.liquid = other;
        others[s] = add_library(&b, sets[s].name, "body form of D341 and base 15 degC", where, w);
    }
    timer_take(b.work, b.count, rounds, CLOCK_THREAD_CPUTIME_ID);
    run_peer(&theirs);
    library_work check = {meter, simple, in, n, 1, one, FLC_INSTRUCTIONS_BEST};
    run_library(&check);
    compare(one.q_base_m3s, theirs.q_base_m3s, n);
    timer_print_times(b.work, b.count);
    for (size_t s = 0; s < SETS; s++) {
        if (ones[s] != NULL) {
            against_peer(peer_time, ones[s], sets[s].reach, sets[s].aim);
        }
    }
    for (size_t s = 0; s < SETS; s++) {
        if (ones[s] != NULL) {
            against_peer(peer_time, alls[s], 0.0, 0.0);
            against_peer(peer_time, others[s], 0.0, 0.0);
        }
    }
    flc_liquid_free(simple);
    flc_liquid_free(other);
}

static void scalar_call(const peer_meter *peer, const flc_meter *meter, const case_columns *in, int rounds)
{
    flc_liquid *const liquid = crude_oil(FLC_D341_SIMPLE, FLC_PETROLEUM_BASE_60F);
    const peer_work theirs = {peer, in, ONE_BY_ONE, 1, room(8 * ONE_BY_ONE)};
    const scalar_work ours = {meter, liquid, draw_readings(in), room(8 * ONE_BY_ONE)};
    timed_work work[] = {{"peer, one by one", run_peer, &theirs, ONE_BY_ONE, 0.0},
                         {"scalar call", run_scalar, &ours, ONE_BY_ONE, 0.0}};
    timer_take(work, 2, rounds, CLOCK_THREAD_CPUTIME_ID);
    compare(ours.q_base_m3s, theirs.q_base_m3s, ONE_BY_ONE);
    timer_print_times(work, 2);
    timer_print_figure("scalar call against plain C + GSL scalar", work[0].best_ns / work[1].best_ns, "x", 1.15, 1.6);
    flc_liquid_free(liquid);
}

/* ---- threads, and a method with its inverse ---- */

typedef struct threads_work {
    const library_work *library;
    const uint32_t *threads;
} threads_work;

static void run_threads(const void *what)
{
    const threads_work *w = what;
    const flc_readings readings = readings_of(w->library);
    const flc_parallel parallel = threads_for(w->threads);
    must(flc_meter_evaluate_parallel_n(w->library->meter, w->library->liquid, &readings, w->library->n,
                                       &w->library->out, NULL, NULL, &parallel));
}

static void threads(const flc_meter *meter, const case_columns *in, size_t n, int rounds)
{
    static const uint32_t one = 1, two = 2;
    const long processors = sysconf(_SC_NPROCESSORS_ONLN);
    const uint32_t all = processors < 1 ? 1 : processors > THREADS_FOR_MOST ? THREADS_FOR_MOST : (uint32_t)processors;
    flc_liquid *const liquid = crude_oil(FLC_D341_SIMPLE, FLC_PETROLEUM_BASE_60F);
    const library_work library = {meter, liquid, in, n, 1, one_output(n), FLC_INSTRUCTIONS_BEST};
    const threads_work single = {&library, &one}, pair = {&library, &two}, whole = {&library, &all};
    timed_work work[] = {{"one thread, from memory, by the wall clock", run_threads, &single, (double)n, 0.0},
                         {"two threads, from memory, by the wall clock", run_threads, &pair, (double)n, 0.0},
                         {"all threads, from memory, by the wall clock", run_threads, &whole, (double)n, 0.0}};
    timer_take(work, 3, 3 * rounds, CLOCK_MONOTONIC);
    timer_print_times(work, 3);
    timer_print_figure("2 threads against 1 (memory-resident)", work[0].best_ns / work[1].best_ns, "x", 1.85, 1.95);
    timer_print_figure("all threads against 1 (memory-resident)", work[0].best_ns / work[2].best_ns, "x", 0.0, 0.0);
    flc_liquid_free(liquid);
}

typedef struct method_work {
    const flc_method_info *method;
    flc_column columns[5];
    size_t count, n;
    double *result;
} method_work;

static void run_method(const void *what)
{
    const method_work *w = what;
    must(flc_method_call_n(w->method, w->columns, w->count, w->n, w->result, NULL, NULL));
}

/* CTPL forward, and the density at 60 degF back from an observed one, in degF and psi. */
static void inverse(const case_columns *in, int rounds)
{
    static const double group = FLC_PETROLEUM_CRUDE, no_alpha60 = NAN;
    double *const t = room(8 * IN_CACHE), *const p = room(8 * IN_CACHE), *const ctpl = room(8 * IN_CACHE);
    double *const observed = room(8 * IN_CACHE), *const rho60 = room(8 * IN_CACHE);
    for (size_t i = 0; i < IN_CACHE; i++) {
        t[i] = 1.8 * in->t_degc[i] + 32.0;
        p[i] = in->p_kpag[i] / 6.894757;
    }
    const flc_column of_t = {t, 1}, of_p = {p, 1}, of_group = {&group, 0}, of_alpha = {&no_alpha60, 0};
    const method_work forward = {flc_method_find("ctpl60_petroleum_2004"),
                                 {{in->rho60_kgm3, 1}, of_t, of_p, of_group, of_alpha},
                                 5,
                                 IN_CACHE,
                                 ctpl};
    const method_work back = {flc_method_find("rho60_from_observed_petroleum_2004"),
                              {{observed, 1}, of_t, of_p, of_group, of_alpha},
                              5,
                              IN_CACHE,
                              rho60};
    run_method(&forward);
    for (size_t i = 0; i < IN_CACHE; i++) {
        observed[i] = in->rho60_kgm3[i] * ctpl[i];
    }
    timed_work work[] = {{"ctpl60_petroleum_2004, batch", run_method, &forward, IN_CACHE, 0.0},
                         {"rho60_from_observed_petroleum_2004, batch", run_method, &back, IN_CACHE, 0.0}};
    timer_take(work, 2, rounds, CLOCK_THREAD_CPUTIME_ID);
    compare(rho60, in->rho60_kgm3, IN_CACHE);
    timer_print_times(work, 2);
    timer_print_figure("observed to base inverse of 11.1-2004, batch, against the forward",
                       work[1].best_ns / work[0].best_ns, "x at most", 4.0, 3.0);
}

int main(int count, char **argument)
{
    const size_t in_memory = count > 1 ? strtoull(argument[1], NULL, 10) : 8388608;
    const int rounds = count > 2 ? atoi(argument[2]) : 7;
    peer_meter *const peer = peer_new();
    flc_meter *const meter = meter_like(peer);
    const case_columns in = draw_columns(in_memory < IN_CACHE ? IN_CACHE : in_memory);
    scalar_call(peer, meter, &in, 40 * rounds);
    whole_records(peer, meter, &in, IN_CACHE, PASSES, 40 * rounds, "in cache");
    inverse(&in, 20 * rounds);
    if (in_memory > 0) {
        threads(meter, &in, in_memory, rounds);
        whole_records(peer, meter, &in, in_memory, 1, rounds, "from memory");
    }
    flc_meter_free(meter);
    peer_free(peer);
    return 0;
}
