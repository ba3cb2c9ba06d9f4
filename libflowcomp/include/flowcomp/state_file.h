/* SPDX-License-Identifier: Apache-2.0 */
/* Bytes kept over a restart: totals, above all. A file is replaced as a whole or not at all, whatever happens between:
 * a crash, a full disk, a cut of the power. */
#ifndef FLOWCOMP_STATE_FILE_H
#define FLOWCOMP_STATE_FILE_H

#include "flowcomp/records.h"
#include "flowcomp/totals.h"

FLC_BEGIN_DECLS

#define FLC_STATE_MAX ((size_t)16 << 20) /* bytes */

/** Save bytes: written beside the file, brought to the disk, and put in its place. FLC_OK once all that is on the disk.
 *  @param path   of the file, up to 500 bytes; path.new is used beside it
 *  @param bytes  size of them
 *  @param size   up to FLC_STATE_MAX
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_ABOVE, FLC_E_BUFFER (path), FLC_E_FILE (value is errno; the file is as it was),
 *          FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_state_save(const char *path, const uint8_t *bytes, size_t size, flc_error *error);

/** Bytes of a file that flc_state_save wrote.
 *  @param path  of the file
 *  @param[out] bytes   room for size bytes, or NULL with 0
 *  @param size  room
 *  @param[out] needed  bytes there are
 *  @param[out] error   detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_BUFFER (needed is set), FLC_E_FILE (value is errno), FLC_E_SCHEMA (not such a
 * file), FLC_E_HASH (damaged), FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_state_load(const char *path, uint8_t *bytes, size_t size, size_t *needed, flc_error *error);

/** Save totals by flc_state_save.
 *  @param path    of the file
 *  @param totals  from flc_totals_start
 *  @param[out] error  detail, or NULL
 *  @return as flc_state_save and flc_totals_canonical
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_save(const char *path, const flc_totals *totals, flc_error *error);

/** Totals that flc_totals_save saved, the very same.
 *  @param path  of the file
 *  @param[out] totals  zero with unit NaN on failure
 *  @param[out] error   detail, or NULL
 *  @return as flc_state_load and flc_totals_restore
 *  @since 0.1 */
FLC_API FLC_STATUS flc_totals_load(const char *path, flc_totals *totals, flc_error *error);

FLC_END_DECLS

#endif
