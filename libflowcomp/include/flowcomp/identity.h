/* SPDX-License-Identifier: Apache-2.0 */
/* Which software this is: what OIML D 31 asks a legally relevant module to show on demand and at start. A host shows
 * it, keeps it, compares it at each start, and enters a change into its trail. */
#ifndef FLOWCOMP_IDENTITY_H
#define FLOWCOMP_IDENTITY_H

#include "flowcomp/records.h"

FLC_BEGIN_DECLS

typedef struct flc_identity {
    uint32_t size;
    const char *version;                /* of libflowcomp */
    const char *bits_contract;          /* results of the same contract have the same bits */
    char code_sha256[FLC_HASH_TEXT];    /* of code and constants of the loaded library, as they stand in memory */
    char methods_sha256[FLC_HASH_TEXT]; /* of the list of methods: names, formulas, sources, ranges, choices */
    char tables_sha256[FLC_HASH_TEXT];  /* of the list of printed tables: names, sources, editions, their SHA-256 */
    int64_t methods, tables;            /* how many */
} flc_identity;

/** Set up an identity: size, zero elsewhere.
 *  @param[out] identity  never NULL
 *  @since 0.1 */
FLC_API void flc_identity_init(flc_identity *identity);

/** Identify the library that is loaded. code_sha256 runs over the segments of the loaded object that cannot be written
 *  (the program itself where it is linked statically): another build has another one, and so has a library that was
 *  changed on disk or in memory. methods_sha256 and tables_sha256 are the same for every build of one source.
 *  @param[out] identity  from flc_identity_init; empty texts on failure
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_SIZE, FLC_E_LIBRARY, FLC_E_MEMORY
 *  @source OIML D 31:2023, 6.2.1 and 6.2.6.1
 *  @since 0.1 */
FLC_API FLC_STATUS flc_identify(flc_identity *identity, flc_error *error);

FLC_END_DECLS

#endif
