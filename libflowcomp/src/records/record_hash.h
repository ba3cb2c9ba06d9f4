/* SPDX-License-Identifier: Apache-2.0 */
#ifndef FLC_RECORD_HASH_H
#define FLC_RECORD_HASH_H

#include "flowcomp/records.h"

/* Canonical bytes of a thing: writes up to size bytes, FLC_E_BUFFER with the size needed where they do not fit. */
typedef flc_status (*flc_record_bytes)(const void *thing, uint8_t *bytes, size_t size, size_t *needed);

/** Make libsodium ready; 0 where the system has no randomness to give. */
int flc_start_sodium(void);

/** SHA-256 of the canonical bytes of a thing as FLC_HASH_TEXT characters; an empty text on failure.
 *  @return FLC_OK; FLC_E_NULL, FLC_E_MEMORY, FLC_E_LIBRARY */
FLC_STATUS flc_record_hash(flc_record_bytes bytes_of, const void *thing, char *hash);

/** Make libsodium ready; 0 where the system does not let it. */
int flc_start_sodium(void);

#endif
