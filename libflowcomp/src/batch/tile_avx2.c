/* SPDX-License-Identifier: Apache-2.0 */
/* The stages with AVX2 (compiled with -mavx2, without fused multiply-add). */
#ifdef __x86_64__
#ifndef __AVX2__
#error "tile_avx2.c needs -mavx2"
#endif
#define FLC_TILE_CODE flc_tile_avx2
#include "tile_stages.h"
#else
typedef int flc_tile_avx2_is_for_x86_64;
#endif
