/* SPDX-License-Identifier: Apache-2.0 */
/* Three hashes: of what is loaded, of what its methods say, of the printed tables they rest on. */
#define _GNU_SOURCE /* dl_iterate_phdr: the loaded segments, by glibc */
#include "flowcomp/identity.h"
#include "flowcomp/methods.h"
#include "canonical.h"
#include "memory.h"
#include "record_hash.h"
#include "signing.h"
#include "tables/table_list.inc"
#include <link.h>
#include <sodium.h>

static flc_status fail(flc_error *error, flc_status status, const char *argument)
{
    return flc_fail(error, status, argument, -1, flc_nan(), flc_nan(), NULL);
}

void flc_identity_init(flc_identity *identity)
{
    memset(identity, 0, sizeof *identity);
    identity->size = sizeof *identity;
}

/* ---- code ---- */

typedef struct code {
    uintptr_t inside; /* an address in the library */
    crypto_hash_sha256_state state;
    int found;
} code;

static int holds(const struct dl_phdr_info *object, uintptr_t address)
{
    for (ElfW(Half) i = 0; i < object->dlpi_phnum; i++) {
        const ElfW(Phdr) *segment = &object->dlpi_phdr[i];
        const uintptr_t start = (uintptr_t)object->dlpi_addr + segment->p_vaddr;
        if (segment->p_type == PT_LOAD && address >= start && address - start < segment->p_memsz) {
            return 1;
        }
    }
    return 0;
}

/* Segments that cannot be written hold the same bytes in memory as in the file, wherever they were loaded. */
static int hash_object(struct dl_phdr_info *object, size_t size, void *context)
{
    code *sought = context;
    (void)size;
    if (!holds(object, sought->inside)) {
        return 0;
    }
    for (ElfW(Half) i = 0; i < object->dlpi_phnum; i++) {
        const ElfW(Phdr) *segment = &object->dlpi_phdr[i];
        if (segment->p_type == PT_LOAD && (segment->p_flags & PF_R) && !(segment->p_flags & PF_W)) {
            const uintptr_t start = (uintptr_t)object->dlpi_addr + segment->p_vaddr;
            crypto_hash_sha256_update(&sought->state, (const uint8_t *)start, segment->p_filesz);
        }
    }
    sought->found = 1;
    return 1;
}

static flc_status hash_code(char *hash)
{
    uint8_t digest[crypto_hash_sha256_BYTES];
    code sought = {.inside = (uintptr_t)flc_version()}; /* a constant of libflowcomp */
    crypto_hash_sha256_init(&sought.state);
    dl_iterate_phdr(hash_object, &sought);
    if (!sought.found) {
        return FLC_E_LIBRARY;
    }
    crypto_hash_sha256_final(&sought.state, digest);
    flc_bytes_to_hex(digest, sizeof digest, hash);
    return FLC_OK;
}

/* ---- methods and tables ---- */

static void put_argument(flc_canonical *out, const flc_method_argument *argument)
{
    flc_put_text(out, argument->name);
    flc_put_text(out, argument->unit);
    flc_put_u64(out, (uint64_t)argument->kind);
    flc_put_u64(out, (uint64_t)argument->optional);
    flc_put_double(out, argument->low);
    flc_put_double(out, argument->high);
    flc_put_double(out, argument->fallback);
    for (const char *const *word = argument->choices; word != NULL && *word != NULL; word++) {
        flc_put_text(out, *word);
    }
}

static flc_status put_methods(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    flc_canonical out = {bytes, size, 0};
    (void)thing;
    for (size_t i = 0; i < flc_method_count(); i++) {
        const flc_method_info *method = flc_method_at(i);
        flc_put_text(&out, method->name);
        flc_put_text(&out, method->formula);
        flc_put_text(&out, method->unit);
        flc_put_text(&out, method->source);
        flc_put_u64(&out, (uint64_t)method->status);
        flc_put_u64(&out, method->argument_count);
        for (size_t k = 0; k < method->argument_count; k++) {
            put_argument(&out, &method->arguments[k]);
        }
    }
    return flc_canonical_end(&out, needed);
}

typedef struct table_row {
    const char *name, *source, *edition, *sha256;
} table_row;

static const table_row tables[] = {
#define ROW(name, source, edition, sha256) {name, source, edition, sha256},
    FLC_TABLE_LIST(ROW)
#undef ROW
};
#define TABLES (sizeof tables / sizeof tables[0])

static flc_status put_tables(const void *thing, uint8_t *bytes, size_t size, size_t *needed)
{
    flc_canonical out = {bytes, size, 0};
    (void)thing;
    for (size_t i = 0; i < TABLES; i++) {
        flc_put_text(&out, tables[i].name);
        flc_put_text(&out, tables[i].source);
        flc_put_text(&out, tables[i].edition);
        flc_put_text(&out, tables[i].sha256);
    }
    return flc_canonical_end(&out, needed);
}

flc_status flc_identify(flc_identity *identity, flc_error *error)
{
    flc_error_clear(error);
    if (identity == NULL) {
        return fail(error, FLC_E_NULL, "identity");
    }
    if (identity->size != sizeof *identity) {
        return fail(error, FLC_E_SIZE, "identity");
    }
    flc_identity_init(identity);
    identity->version = flc_version();
    identity->bits_contract = flc_bits_contract();
    identity->methods = (int64_t)flc_method_count();
    identity->tables = (int64_t)TABLES;
    flc_status status = flc_record_hash(put_methods, identity, identity->methods_sha256);
    if (status == FLC_OK) {
        status = flc_record_hash(put_tables, identity, identity->tables_sha256);
    }
    if (status == FLC_OK) {
        status = hash_code(identity->code_sha256);
    }
    if (status != FLC_OK) {
        flc_identity_init(identity);
        return fail(error, status, "");
    }
    return FLC_OK;
}
