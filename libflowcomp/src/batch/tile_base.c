/* SPDX-License-Identifier: Apache-2.0 */
/* The stages with what every processor of the family has. */
#define FLC_TILE_CODE flc_tile_base
#include "tile_stages.h"
