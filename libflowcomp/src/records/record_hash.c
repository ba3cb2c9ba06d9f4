/* SPDX-License-Identifier: Apache-2.0 */
#include "record_hash.h"
#include "memory.h"
#include <errno.h>
#include <sodium.h>
#include <sys/random.h>

/* sodium_init seeds a random generator that we never use, and ends the process where the system has no randomness to
 * give. So that is asked for first, without waiting. sodium_init may be called any number of times by any thread. */
int flc_start_sodium(void)
{
    const int error_number = errno;
    uint8_t sample[16];
    const int started = getrandom(sample, sizeof sample, GRND_NONBLOCK) == (ssize_t)sizeof sample && sodium_init() >= 0;
    errno = error_number;
    return started;
}

flc_status flc_record_hash(flc_record_bytes bytes_of, const void *thing, char *hash)
{
    if (hash != NULL) {
        hash[0] = '\0';
    }
    if (thing == NULL || hash == NULL) {
        return FLC_E_NULL;
    }
    if (!flc_start_sodium()) {
        return FLC_E_LIBRARY;
    }
    size_t needed = 0;
    flc_status status = bytes_of(thing, NULL, 0, &needed);
    if (status != FLC_E_BUFFER) {
        return FLC_E_INTERNAL;
    }
    uint8_t *bytes = flc_allocate(needed);
    if (bytes == NULL) {
        return FLC_E_MEMORY;
    }
    status = bytes_of(thing, bytes, needed, &needed);
    if (status == FLC_OK) {
        uint8_t digest[crypto_hash_sha256_BYTES];
        crypto_hash_sha256(digest, bytes, needed);
        sodium_bin2hex(hash, FLC_HASH_TEXT, digest, sizeof digest);
    }
    flc_release(bytes);
    return status;
}
