/* SPDX-License-Identifier: Apache-2.0 */
#include "signing.h"
#include "record_hash.h"
#include <sodium.h>
#include <string.h>

#define MESSAGE_MAX 128

_Static_assert(crypto_sign_SEEDBYTES == FLC_KEY_BYTES && crypto_sign_PUBLICKEYBYTES == FLC_KEY_BYTES, "Ed25519 keys");
_Static_assert(sizeof((flc_key_pair *)0)->secret == crypto_sign_SECRETKEYBYTES, "Ed25519 secret");
_Static_assert(2 * crypto_sign_BYTES == FLC_SIGNATURE_DIGITS, "Ed25519 signature");

void flc_bytes_to_hex(const uint8_t *bytes, size_t size, char *text)
{
    sodium_bin2hex(text, 2 * size + 1, bytes, size);
}

static int digit_of(char c)
{
    return c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

int flc_is_hex(const char *text, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (digit_of(text[i]) < 0) {
            return 0;
        }
    }
    return 1;
}

void flc_hex_to_bytes(const char *text, uint8_t *bytes, size_t size)
{
    for (size_t i = 0; i < size; i++) {
        bytes[i] = (uint8_t)(digit_of(text[2 * i]) * 16 + digit_of(text[2 * i + 1]));
    }
}

void flc_hash_bytes(const void *bytes, size_t size, char *hash)
{
    uint8_t digest[crypto_hash_sha256_BYTES];
    crypto_hash_sha256(digest, bytes, size);
    flc_bytes_to_hex(digest, sizeof digest, hash);
}

flc_status flc_key_pair_of(const uint8_t *seed, flc_key_pair *pair)
{
    memset(pair, 0, sizeof *pair);
    if (!flc_start_sodium()) {
        return FLC_E_LIBRARY;
    }
    return crypto_sign_seed_keypair(pair->open, pair->secret, seed) == 0 ? FLC_OK : FLC_E_LIBRARY;
}

void flc_key_pair_forget(flc_key_pair *pair)
{
    sodium_memzero(pair, sizeof *pair);
}

flc_status flc_public_key(const uint8_t *seed, uint8_t *public_key)
{
    if (public_key != NULL) {
        memset(public_key, 0, FLC_KEY_BYTES);
    }
    if (seed == NULL || public_key == NULL) {
        return FLC_E_NULL;
    }
    flc_key_pair pair;
    const flc_status status = flc_key_pair_of(seed, &pair);
    if (status == FLC_OK) {
        memcpy(public_key, pair.open, FLC_KEY_BYTES);
    }
    flc_key_pair_forget(&pair);
    return status;
}

static size_t message_of(const char *domain, const char *hash, uint8_t *message)
{
    const size_t length = strlen(domain);
    memcpy(message, domain, length);
    message[length] = '\n';
    memcpy(message + length + 1, hash, FLC_HASH_DIGITS);
    return length + 1 + FLC_HASH_DIGITS;
}

flc_status flc_sign_hash(const flc_key_pair *pair, const char *domain, const char *hash, char *signature)
{
    uint8_t message[MESSAGE_MAX], made[crypto_sign_BYTES];
    const size_t size = message_of(domain, hash, message);
    if (crypto_sign_detached(made, NULL, message, size, pair->secret) != 0) {
        return FLC_E_LIBRARY;
    }
    flc_bytes_to_hex(made, sizeof made, signature);
    return FLC_OK;
}

int flc_signature_is_good(const uint8_t *public_key, const char *domain, const char *hash, const char *signature)
{
    uint8_t message[MESSAGE_MAX], given[crypto_sign_BYTES];
    if (!flc_is_hex(signature, FLC_SIGNATURE_DIGITS)) {
        return 0;
    }
    const size_t size = message_of(domain, hash, message);
    flc_hex_to_bytes(signature, given, sizeof given);
    return crypto_sign_verify_detached(given, message, size, public_key) == 0;
}
