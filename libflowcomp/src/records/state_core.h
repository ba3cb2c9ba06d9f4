/* SPDX-License-Identifier: Apache-2.0 */
/* The saved state's door for tests, which bring a disk of their own. */
#ifndef FLC_STATE_CORE_H
#define FLC_STATE_CORE_H

#include "flowcomp/state_file.h"
#include "disk.h"

FLC_STATUS flc_state_save_on(const flc_disk *disk, const char *path, const uint8_t *bytes, size_t size,
                             flc_error *error);
FLC_STATUS flc_state_load_on(const flc_disk *disk, const char *path, uint8_t *bytes, size_t size, size_t *needed,
                             flc_error *error);

#endif
