/* SPDX-License-Identifier: Apache-2.0 */
#include "unit_limits.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static const flc_unit_info rows[] = {
#define FACTOR(kind, name, symbol, spellings, words, numerator, denominator, source)         \
    {name,      symbol,      spellings,         words, FLC_UNIT_##kind, FLC_UNIT_LAW_FACTOR, \
     numerator, denominator, -FLC_UNIT_LARGEST, "",    source},
#define ABSOLUTE(name, symbol, spellings, words, numerator, denominator, source)                        \
    {name,        symbol, spellings, words, FLC_UNIT_PRESSURE_ABSOLUTE, FLC_UNIT_LAW_FACTOR, numerator, \
     denominator, 0.0,    "",        source},
#define SCALE(name, symbol, spellings, words, numerator, denominator, absolute_zero, source)                  \
    {name,        symbol,        spellings, words, FLC_UNIT_TEMPERATURE, FLC_UNIT_LAW_TEMPERATURE, numerator, \
     denominator, absolute_zero, "",        source},
#define MASS_DENSITY(name, symbol, spellings, words, numerator, denominator, base, source) \
    {name, symbol, spellings, words, FLC_UNIT_DENSITY, FLC_UNIT_LAW_FACTOR, numerator, denominator, 0.0, base, source},
#define GRAVITY(name, symbol, spellings, words, numerator, denominator, base, source)                       \
    {name,        symbol,          spellings, words, FLC_UNIT_DENSITY, FLC_UNIT_LAW_API_GRAVITY, numerator, \
     denominator, -FLC_API_OFFSET, base,      source},
#include "units_table.inc"
};

static const char *const kind_words[] = {
#define KIND_ROW(name, number, word) word,
    FLC_UNIT_KIND_LIST(KIND_ROW)
#undef KIND_ROW
};

size_t flc_unit_kind_count(void)
{
    return COUNT(kind_words);
}

const char *flc_unit_kind_name(flc_unit_kind kind)
{
    return kind >= 0 && (size_t)kind < COUNT(kind_words) ? kind_words[kind] : "unknown";
}

size_t flc_unit_count(void)
{
    return COUNT(rows);
}

flc_unit flc_unit_at(size_t place)
{
    return (flc_unit){place < COUNT(rows) ? (int32_t)place + 1 : 0};
}

const flc_unit_info *flc_unit_info_of(flc_unit unit)
{
    return unit.id >= 1 && (size_t)unit.id <= COUNT(rows) ? &rows[unit.id - 1] : NULL;
}

const char *flc_unit_name(flc_unit unit)
{
    const flc_unit_info *row = flc_unit_info_of(unit);
    return row != NULL ? row->name : "";
}

const char *flc_unit_symbol(flc_unit unit)
{
    const flc_unit_info *row = flc_unit_info_of(unit);
    return row != NULL ? row->symbol : "";
}

flc_unit_kind flc_unit_kind_of(flc_unit unit)
{
    const flc_unit_info *row = flc_unit_info_of(unit);
    return row != NULL ? row->kind : FLC_UNIT_KIND_NONE;
}

size_t flc_unit_names(flc_unit_kind kind, const char **names, size_t size)
{
    size_t found = 0;
    for (size_t place = 0; place < COUNT(rows); place++) {
        if (rows[place].kind == kind) {
            if (names != NULL && found < size) {
                names[found] = rows[place].name;
            }
            found++;
        }
    }
    return found;
}
