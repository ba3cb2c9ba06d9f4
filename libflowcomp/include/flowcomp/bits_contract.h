/* SPDX-License-Identifier: Apache-2.0 */
/* The contract of bits: the same inputs give the same 64 bits, on every processor, with every compiler, one call at a
 * time or a million. What is promised:
 *
 *   Numbers     IEEE 754 binary64. FLT_EVAL_METHOD is 0 or 1.
 *   Operations  + - * / and sqrt, each rounded to the nearest number, ties to even; comparisons and selections;
 *               whole-number work on the 64 bits. No fused multiply-add, no approximate reciprocal, no libm, nothing
 *               that lets a compiler reorder (-ffast-math is an #error; gcc needs -ffp-contract=off).
 *   Order       as the source writes it: C's precedence, left to right within one. No sum of floating-point numbers
 *               depends on how many records there are or how they are cut; totals add whole numbers.
 *   Constants   decimal or hexadecimal, each rounded once to the nearest double. A quotient of constants (1.0/630.0)
 *               is a division, by the same rules.
 *   Functions   exp, log, log10, exp10, pow and cbrt are our own (base/fpmath.h) and part of the contract.
 *   NaN         a NaN that leaves is 0x7FF8000000000000, whatever sign and payload came in.
 *   -0          is what the operations give, and is not normalised: zero times or over a negative number (reverse flow
 *               times zero), a negative number rounded to zero, an input of -0 handed on. In ranges, comparisons and
 *               branches -0 is 0.
 *   Subnormals  a subnormal argument of an elementary function counts as zero, and its result below 2^-1022 is 0.
 *   The guard   a public evaluation reads the processor's control word; where it is not the default (round to
 *               nearest, traps masked, no flush to zero) it is set to it and put back. INVALID, DIVBYZERO and
 *               OVERFLOW are not left raised by us; what the host had raised stays.
 *   Many        a record of a batch has the bits of one call for it, for every instruction set, length, alignment,
 *               stride and choice of columns. The vector code is the scalar source over tiles of 64 records; what it
 *               does not treat (bad input, suspected partial flow, a search that was declined) goes through the
 *               scalar code.
 *   Status      statuses and flags belong to the contract as the bits do.
 *
 * The identifier FLC_BITS_CONTRACT names all this together with every formula of the library. Where one bit of a
 * result that existed before changes, the identifier changes, and a line in tests/bits/CHANGES.md says which results
 * and why. A new method adds to the set: then the hash changes and the identifier stays. DEVELOPERS.md writes the
 * whole record out, operation by operation.
 *
 * The set of results, of which FLC_BITS_HASH is the SHA-256:
 *
 *   One part per method, in the order of flc_method_at: 1024 points. Then one part per configuration of whole
 *   records: the plain one, 4096 records (frequency, temperature, pressure, density, viscosity; crude at 60 degF),
 *   and 105 others of 1024 records (7 products, 3 bases, 5 sources of viscosity; policies and readings of every kind).
 *   Meter and liquids are invented. Draws are those of splitmix64, begun at FNV-1a (64 bits) of the part's name; a
 *   number between low and high is low + (high - low) (draw >> 11) 2^-53. An argument is, by a draw of 8: its low
 *   end; its high end; three times a place in its range; three times a place in the lowest 2^-h of it, h a draw of
 *   24; and one time in four it is rounded to a whole number, if that lies inside. Optional arguments are absent
 *   every second time; lists have three or four places in order; fractions sum to one; tables are full grids;
 *   look-ups take a printed entry every second time. src/batch/bits_points.h and bits_records.h say the same in C.
 *
 *   Bytes of a part: its name (length in 8 bytes, then the characters); per point the status in one byte and the
 *   result in 8; per record the status in one byte, the flags in 8, and the fields of FLC_RESULT_LIST in order. All
 *   big-endian. */
#ifndef FLOWCOMP_BITS_CONTRACT_H
#define FLOWCOMP_BITS_CONTRACT_H

#include "flowcomp/batch.h"
#include "flowcomp/version.h"

FLC_BEGIN_DECLS

#define FLC_BITS_POINTS 1024 /* of a method */
#define FLC_BITS_RECORDS 1024 /* of a configuration of whole records but the plain one */
#define FLC_BITS_LIST 4      /* places that a list has at most */

/** The published hash of the set: FLC_BITS_HASH of the library that runs.
 *  @since 0.1 */
FLC_API const char *flc_bits_published(void);

/* One part of the set. */
typedef struct flc_bits_part {
    char name[80];
    const flc_method_info *method; /* NULL for whole records */
    size_t points;                 /* or records */
    size_t arguments;              /* of the method, or the fields of flc_readings */
    size_t places;                 /* doubles per argument: FLC_BITS_LIST where the method takes lists, else 1 */
    size_t results;                /* numbers in its bytes */
    size_t bytes;                  /* canonical bytes of the part */
} flc_bits_part;

/** Number of parts.
 *  @since 0.1 */
FLC_API size_t flc_bits_part_count(void);

/** Describe a part.
 *  @param place  0 to flc_bits_part_count() - 1
 *  @param[out] part  filled; never NULL
 *  @return FLC_OK, FLC_E_NULL, FLC_E_ABOVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_part_at(size_t place, flc_bits_part *part);

/** The arguments of a part, for an evaluation of your own.
 *  @param place  of the part
 *  @param[out] results  room for arguments x places x points doubles, in this order, the points last; NaN for a place
 *                       that a list has not and for what is absent
 *  @return FLC_OK, FLC_E_NULL, FLC_E_ABOVE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_arguments(size_t place, double *results);

/** The invented meter and liquid of a part of whole records.
 *  @param place  of the part
 *  @param[out] meter   new handle, to be freed by flc_meter_free; NULL on failure
 *  @param[out] liquid  new handle, to be freed by flc_liquid_free; NULL on failure
 *  @return FLC_OK, FLC_E_NULL, FLC_E_ABOVE, FLC_E_CHOICE (no part of whole records), FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_objects(size_t place, flc_meter **meter, flc_liquid **liquid);

/** Evaluate a part and write its canonical bytes. Whatever way is asked for, the bytes are the same: that is the
 * contract. Parts may be evaluated side by side.
 *  @param place  of the part
 *  @param instructions  of whole records in batches
 *  @param chunk   0: one call per point or record; else batches of so many
 *  @param offset  where columns begin, in doubles past a multiple of 64 bytes, 0 to 7
 *  @param[out] bytes  room for size bytes, or NULL with size 0
 *  @param size    room
 *  @param[out] needed  bytes it takes; FLC_E_BUFFER where there is no room for them, with nothing evaluated
 *  @return FLC_OK, FLC_E_NULL, FLC_E_ABOVE, FLC_E_BUFFER, FLC_E_MEMORY
 *  @since 0.1 */
FLC_API FLC_STATUS flc_bits_bytes(size_t place, flc_instruction_set instructions, size_t chunk, size_t offset,
                                  uint8_t *bytes, size_t size, size_t *needed);

FLC_END_DECLS

#endif
