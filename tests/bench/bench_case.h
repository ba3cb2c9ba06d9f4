/* SPDX-License-Identifier: Apache-2.0 */
/* The record that is timed, for the library and its peer alike: an invented 52.6 mm meter in an invented crude oil.
 * Drawn at random, so that no two neighbours share a segment of the curve. */
#ifndef FLC_BENCH_CASE_H
#define FLC_BENCH_CASE_H

#include <stddef.h>

#define CASE_BORE_M 0.0526
#define CASE_ALPHA_PER_K 16e-6
#define CASE_T0_DEGC 20.0
#define CASE_MODULUS_GPA 193.0
#define CASE_WALL_M 0.0136
#define CASE_A 9.5 /* ASTM D341: W = A - B log10 T */
#define CASE_B 3.7
#define CASE_KNOTS 24

#define CASE_F_LOW 200.0
#define CASE_F_HIGH 1000.0
#define CASE_T_LOW 5.0
#define CASE_T_HIGH 55.0
#define CASE_P_LOW 100.0
#define CASE_P_HIGH 2100.0
#define CASE_RHO_LOW 780.0
#define CASE_RHO_HIGH 900.0

typedef struct case_columns {
    double *f_hz, *t_degc, *p_kpag, *rho60_kgm3;
} case_columns;

/* ---- the peer: plain C with the C library's functions and GSL's spline ---- */

typedef struct peer_meter peer_meter;

peer_meter *peer_new(void);
void peer_free(peer_meter *peer);

/** Base volume flow of n records, one after the other; m3/s. */
void peer_records(const peer_meter *peer, const case_columns *in, size_t n, double *q_base_m3s);

/** The knots of its spline in log10 Ro, with value and slope. */
void peer_knots(const peer_meter *peer, double x[CASE_KNOTS], double st[CASE_KNOTS], double slope[CASE_KNOTS]);

/** Its viscosity, mm2/s. */
double peer_viscosity(double t_degc);

#endif
