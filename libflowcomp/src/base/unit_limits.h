/* SPDX-License-Identifier: Apache-2.0 */
/* Bounds and offsets that the list of units and the conversion share. */
#ifndef FLC_UNIT_LIMITS_H
#define FLC_UNIT_LIMITS_H

#include "flowcomp/units.h"

/* No quantity of this trade comes near; and every step of a conversion stays far inside the range of a double. */
#define FLC_UNIT_LARGEST 1e250

/* API gravity = 141.5 / (relative density 60/60) - 131.5 */
#define FLC_API_OFFSET 131.5

#endif
