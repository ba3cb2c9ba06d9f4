/* SPDX-License-Identifier: Apache-2.0 */
/* The hash of the set of the contract of bits. */
#include "memory.h"
#include "record_hash.h"
#include <sodium.h>

/* The bytes of one part, into the hash under way. */
static flc_status add_part(size_t place, flc_instruction_set instructions, size_t chunk, crypto_hash_sha256_state *sha)
{
    flc_bits_part part;
    flc_status status = flc_bits_part_at(place, &part);
    if (status != FLC_OK) {
        return status;
    }
    uint8_t *bytes = flc_allocate(part.bytes);
    if (bytes == NULL) {
        return FLC_E_MEMORY;
    }
    size_t needed = 0;
    status = flc_bits_bytes(place, instructions, chunk, 0, bytes, part.bytes, &needed);
    if (status == FLC_OK) {
        crypto_hash_sha256_update(sha, bytes, needed);
    }
    flc_release(bytes);
    return status;
}

static flc_status hash_parts(size_t from, size_t count, flc_instruction_set instructions, size_t chunk, char *hash)
{
    if (hash == NULL) {
        return FLC_E_NULL;
    }
    hash[0] = '\0';
    if (!flc_start_sodium()) {
        return FLC_E_LIBRARY;
    }
    crypto_hash_sha256_state sha;
    crypto_hash_sha256_init(&sha);
    flc_status status = FLC_OK;
    for (size_t place = from; place < from + count && status == FLC_OK; place++) {
        status = add_part(place, instructions, chunk, &sha);
    }
    if (status == FLC_OK) {
        uint8_t digest[crypto_hash_sha256_BYTES];
        crypto_hash_sha256_final(&sha, digest);
        sodium_bin2hex(hash, FLC_HASH_TEXT, digest, sizeof digest);
    }
    return status;
}

flc_status flc_bits_hash(flc_instruction_set instructions, size_t chunk, char *hash)
{
    return hash_parts(0, flc_bits_part_count(), instructions, chunk, hash);
}

flc_status flc_bits_part_hash(size_t place, flc_instruction_set instructions, size_t chunk, char *hash)
{
    return hash_parts(place, 1, instructions, chunk, hash);
}
