/* SPDX-License-Identifier: Apache-2.0 */
/* SHA-256 and Ed25519 by libsodium, as hexadecimal text. */
#ifndef FLC_SIGNING_H
#define FLC_SIGNING_H

#include "flowcomp/trail.h"

#define FLC_HASH_DIGITS 64
#define FLC_SIGNATURE_DIGITS 128
#define FLC_SIGNATURE_TEXT (FLC_SIGNATURE_DIGITS + 1)

/* A pair of keys; secret holds the seed and the public key. */
typedef struct flc_key_pair {
    uint8_t secret[64];
    uint8_t open[FLC_KEY_BYTES];
} flc_key_pair;

/** SHA-256 of bytes as FLC_HASH_TEXT characters. libsodium must have been started. */
void flc_hash_bytes(const void *bytes, size_t size, char *hash);

/** Pair of a seed. */
FLC_STATUS flc_key_pair_of(const uint8_t *seed, flc_key_pair *pair);

/** Overwrite a pair. */
void flc_key_pair_forget(flc_key_pair *pair);

/** Signature of a hash as FLC_SIGNATURE_TEXT characters. What is signed is the domain ("flowcomp-trail-1"), a newline
 *  and the 64 digits, so that a signature of one kind of thing is never one of another. */
FLC_STATUS flc_sign_hash(const flc_key_pair *pair, const char *domain, const char *hash, char *signature);

/** Is it the signature of that hash? Digits are lower case. */
int flc_signature_is_good(const uint8_t *public_key, const char *domain, const char *hash, const char *signature);

/** Exactly count lower-case hexadecimal digits? */
int flc_is_hex(const char *text, size_t count);

/** Bytes of 2 size digits that flc_is_hex accepts, and digits of bytes with a NUL. */
void flc_hex_to_bytes(const char *text, uint8_t *bytes, size_t size);
void flc_bytes_to_hex(const uint8_t *bytes, size_t size, char *text);

#endif
