/* SPDX-License-Identifier: Apache-2.0 */
/* libflowcomp-records: meter files and liquid files. JSON with a published schema, every double written so that it
 * reads back to the same bits, and the SHA-256 of the canonical bytes inside: a file in which anything that moves a
 * result was damaged, cut or edited is refused with the place and the reason. The run-time library touches no files. */
#ifndef FLOWCOMP_RECORDS_H
#define FLOWCOMP_RECORDS_H

#include "flowcomp/bits_contract.h"
#include "flowcomp/liquid.h"
#include "flowcomp/meter.h"

FLC_BEGIN_DECLS

#define FLC_HASH_TEXT 65 /* room for a SHA-256 as 64 hexadecimal digits and a NUL */

/** SHA-256 of the canonical bytes of a meter, as text.
 *  @param meter  never NULL
 *  @param[out] hash  room for FLC_HASH_TEXT characters
 *  @return FLC_OK; FLC_E_NULL, FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_hash(const flc_meter *meter, char *hash);

/** SHA-256 of the canonical bytes of a liquid, as text.
 *  @param liquid  never NULL
 *  @param[out] hash  room for FLC_HASH_TEXT characters
 *  @return FLC_OK; FLC_E_NULL, FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_hash(const flc_liquid *liquid, char *hash);

/* Reading judges in this order, and tells the first that applies:
 *   1  NULL; text longer than 16 MiB (FLC_E_ABOVE)
 *   2  a NUL byte (FLC_E_SYNTAX); nested deeper than 8 levels or more than 65 536 values (FLC_E_SCHEMA), by line
 *   3  not valid JSON in UTF-8, cut, or followed by something (FLC_E_SYNTAX); a key twice in one object (FLC_E_SCHEMA); a
 *      number too large for a double (FLC_E_NUMBER): whichever stands first, by line
 *   4  a number too small for a double, that would be read as 0 (FLC_E_NUMBER)
 *   5  another format (FLC_E_SCHEMA); a later version of it (FLC_E_VERSION)
 *   6  object by object: an unknown key, in the order of the text; then key by key missing or of the wrong kind
 *      (FLC_E_SCHEMA), no word of the choice (FLC_E_CHOICE), a text too long (FLC_E_BUFFER), lists that should be equally
 *      long (FLC_E_COUNT)
 *   7  what flc_body_check, flc_curve_new and flc_meter_new, or flc_liquid_new refuse, in this order
 *   8  sha256, or a value that is given but not in use, such as the wall of a body that does not stretch (FLC_E_HASH)
 *   9  head_sha256 (FLC_E_HASH); a later contract of bits (FLC_E_VERSION)
 * FLC_E_MEMORY and FLC_E_LIBRARY come where they happen. In flc_error, argument is the JSON path of the field
 * ("body.housing.alpha_per_k", with index for an array), or "line" with the line in index.
 *
 * sha256 is that of the thing, whoever wrote it: its name in tickets. library, bits_contract and methods say what wrote
 * the file and are under head_sha256. The hashes tell damage and edits, not who wrote the file: they are no signature. */

/** A meter as JSON text (schema flowcomp-meter-1): sorted keys, two-space indent, a final newline. Writing what was read
 *  gives the same bytes, in any locale and rounding mode.
 *  @param meter  never NULL
 *  @param[out] text   new NUL-terminated text, to be freed by flc_text_free; NULL on failure
 *  @param[out] error  detail, or NULL
 *  @return FLC_OK; FLC_E_NULL, FLC_E_MEMORY, FLC_E_LIBRARY; what a file cannot hold: FLC_E_NUMBER (infinite), FLC_E_CHOICE,
 *          FLC_E_SCHEMA (a text is not UTF-8)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_to_json(const flc_meter *meter, char **text, flc_error *error);

/** A meter from JSON text.
 *  @param text    length bytes, UTF-8
 *  @param length  up to 16 MiB
 *  @param[out] meter  new handle, to be freed by flc_meter_free; NULL on failure
 *  @param[out] error  place and reason as said above, or NULL
 *  @return FLC_OK, or as said above
 *  @since 0.1 */
FLC_API FLC_STATUS flc_meter_from_json(const char *text, size_t length, flc_meter **meter, flc_error *error);

/** A liquid as JSON text (schema flowcomp-liquid-1); the same form as for meters.
 *  @param liquid  never NULL
 *  @param[out] text   new NUL-terminated text, to be freed by flc_text_free; NULL on failure
 *  @param[out] error  detail, or NULL
 *  @return as flc_meter_to_json
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_to_json(const flc_liquid *liquid, char **text, flc_error *error);

/** A liquid from JSON text.
 *  @param text    length bytes, UTF-8
 *  @param length  up to 16 MiB
 *  @param[out] liquid  new handle, to be freed by flc_liquid_free; NULL on failure
 *  @param[out] error  place and reason as said above, or NULL
 *  @return FLC_OK, or as said above
 *  @since 0.1 */
FLC_API FLC_STATUS flc_liquid_from_json(const char *text, size_t length, flc_liquid **liquid, flc_error *error);

/** SHA-256 of the set of the contract of bits (bits_contract.h), evaluated here and now, as text. It takes about a second.
 *  Where it is not flc_bits_published(), this build or this processor gives other results than it should.
 *  @param instructions  of whole records in batches
 *  @param chunk  0: one call per point or record; else batches of so many
 *  @param[out] hash  room for FLC_HASH_TEXT characters
 *  @return FLC_OK; FLC_E_NULL, FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_hash(flc_instruction_set instructions, size_t chunk, char *hash);

/** SHA-256 of one part of that set, as text.
 *  @param place  of the part
 *  @param instructions, chunk  as above
 *  @param[out] hash  room for FLC_HASH_TEXT characters
 *  @return FLC_OK; FLC_E_NULL, FLC_E_ABOVE, FLC_E_MEMORY, FLC_E_LIBRARY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_part_hash(size_t place, flc_instruction_set instructions, size_t chunk, char *hash);

/** Free a text of this library; NULL is allowed.
 *  @since 0.1 */
FLC_API void flc_text_free(char *text);

FLC_END_DECLS

#endif
