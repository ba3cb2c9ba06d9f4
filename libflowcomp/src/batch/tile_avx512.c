/* SPDX-License-Identifier: Apache-2.0 */
/* The stages with AVX-512 (compiled with -march=x86-64-v4 and 512-bit vectors, contraction off). */
#ifdef __x86_64__
#if !defined(__AVX512F__) || !defined(__AVX512DQ__) || !defined(__AVX512VL__)
#error "tile_avx512.c needs -mavx512f -mavx512dq -mavx512vl"
#endif
#define FLC_TILE_CODE flc_tile_avx512
#include "tile_stages.h"
#else
typedef int flc_tile_avx512_is_for_x86_64;
#endif
