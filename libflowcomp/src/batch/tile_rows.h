/* SPDX-License-Identifier: Apache-2.0 */
/* The segment of the curve that holds each lane: where the lane is in it, and the coefficients of its cubic. A row of
 * coefficients per lane becomes four columns: a processor with vectors turns a square of numbers, another one moves
 * them one by one. Moving numbers changes no bit. Part of tile_stages.h. */
#ifndef FLC_TILE_ROWS_H
#define FLC_TILE_ROWS_H

#include "tile.h"

static inline const flc_curve_segment *segment_at(const flc_curve *curve, int is_sparse, uint64_t part, double x)
{
    return &curve->segment[is_sparse ? flc_curve_segment_in_sparse(curve, part, x)
                                     : flc_curve_segment_in(curve, part, x)];
}

#if defined(__AVX2__)
#include <immintrin.h>
#define ROWS 4 /* at a time */

static inline void turn(const flc_curve_segment *const s[ROWS], const double *x, double *into, flc_lane *column,
                        size_t i)
{
    const __m256d a = _mm256_loadu_pd(s[0]->c), b = _mm256_loadu_pd(s[1]->c);
    const __m256d c = _mm256_loadu_pd(s[2]->c), d = _mm256_loadu_pd(s[3]->c);
    const __m256d ab02 = _mm256_unpacklo_pd(a, b), ab13 = _mm256_unpackhi_pd(a, b);
    const __m256d cd02 = _mm256_unpacklo_pd(c, d), cd13 = _mm256_unpackhi_pd(c, d);
    const __m256d knot = _mm256_set_pd(s[3]->x, s[2]->x, s[1]->x, s[0]->x);
    _mm256_storeu_pd(into, _mm256_sub_pd(_mm256_loadu_pd(x), knot));
    _mm256_storeu_pd(&column[0][i], _mm256_permute2f128_pd(ab02, cd02, 0x20));
    _mm256_storeu_pd(&column[1][i], _mm256_permute2f128_pd(ab13, cd13, 0x20));
    _mm256_storeu_pd(&column[2][i], _mm256_permute2f128_pd(ab02, cd02, 0x31));
    _mm256_storeu_pd(&column[3][i], _mm256_permute2f128_pd(ab13, cd13, 0x31));
}

#elif defined(__SSE2__)
#include <emmintrin.h>
#define ROWS 2

static inline void turn(const flc_curve_segment *const s[ROWS], const double *x, double *into, flc_lane *column,
                        size_t i)
{
    const __m128d a01 = _mm_loadu_pd(s[0]->c), a23 = _mm_loadu_pd(s[0]->c + 2);
    const __m128d b01 = _mm_loadu_pd(s[1]->c), b23 = _mm_loadu_pd(s[1]->c + 2);
    _mm_storeu_pd(into, _mm_sub_pd(_mm_loadu_pd(x), _mm_set_pd(s[1]->x, s[0]->x)));
    _mm_storeu_pd(&column[0][i], _mm_unpacklo_pd(a01, b01));
    _mm_storeu_pd(&column[1][i], _mm_unpackhi_pd(a01, b01));
    _mm_storeu_pd(&column[2][i], _mm_unpacklo_pd(a23, b23));
    _mm_storeu_pd(&column[3][i], _mm_unpackhi_pd(a23, b23));
}

#else
#define ROWS 1

static inline void turn(const flc_curve_segment *const s[ROWS], const double *x, double *into, flc_lane *column,
                        size_t i)
{
    *into = *x - s[0]->x;
    for (size_t j = 0; j < 4; j++) {
        column[j][i] = s[0]->c[j];
    }
}

#endif

/* x is a lane of abscissas on the curve, cubic receives the place in the segment and c0 to c3. */
static inline void find_segments(const flc_curve *curve, int is_sparse, const uint64_t *part, const double *x,
                                 flc_lane *cubic)
{
    for (size_t i = 0; i < FLC_TILE; i += ROWS) {
        const flc_curve_segment *s[ROWS];
        for (size_t j = 0; j < ROWS; j++) {
            s[j] = segment_at(curve, is_sparse, part[i + j], x[i + j]);
        }
        turn(s, &x[i], &cubic[0][i], &cubic[1], i);
    }
}

#endif
