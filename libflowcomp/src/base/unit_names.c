/* SPDX-License-Identifier: Apache-2.0 */
/* From a name to a unit: exactly as listed, else in normal form; a name with two meanings is refused with its choices,
 * an unknown one with the names that are close. */
#include "flowcomp/units.h"
#include "error.h"
#include "method.h"
#include "text.h"
#include <string.h>

#define NORMAL_SIZE 48 /* no name in normal form is longer than 47 bytes */
#define HINT_SIZE 192
#define SHOWN 40 /* of a name that is not known */
#define CLOSE_NAMES 5

/* The normal form: each of these is replaced where it stands, the rest stays. The order matters for " per ". */
static const char *const replacements[][2] = {
    {" per ", "/"},
    {" ", ""},
    {"\t", ""},
    {"_", ""},
    {"^", ""},
    {"(", ""},
    {")", ""},
    {"*", "."},
    {"\xC2\xA0", ""},
    {"\xE2\x80\xAF", ""},
    {"\xC2\xB0", "deg"},
    {"\xC2\xBA", "deg"},
    {"\xC2\xB2", "2"},
    {"\xC2\xB3", "3"},
    {"\xC2\xB5", "u"},
    {"\xCE\xBC", "u"},
    {"\xC2\xB7", "."},
    {"\xE2\x8B\x85", "."},
    {"\xCE\x94", "delta"},
    {"\xE2\x88\x86", "delta"},
    {"\xE2\x84\x83", "degC"},
    {"\xE2\x84\x89", "degF"},
};

/* Names that could mean more than one thing, or that are no unit: normal forms in lower case, compared in any case. */
typedef struct refusal {
    const char *words;
    flc_status status;
    const char *hint;
} refusal;

static const refusal refusals[] = {
    {"gal|gals|gallon|gallons", FLC_E_AMBIGUOUS_UNIT, "write USgal or impgal"},
    {"gal/s|gal/min|gals/min|gal/h|gal/hr|gal/d|gallons/min|gph|gpd", FLC_E_AMBIGUOUS_UNIT,
     "write USgal/min or impgal/min, likewise /h; gpm is USgal/min, igpm impgal/min"},
    {"lb/gal|lbs/gal|lbm/gal", FLC_E_AMBIGUOUS_UNIT, "write lb/USgal or lb/impgal"},
    {"pulses/gal|pulse/gal|p/gal|1/gal|pulses/gallon", FLC_E_AMBIGUOUS_UNIT, "write pulses/USgal or pulses/impgal"},
    {"ppg", FLC_E_AMBIGUOUS_UNIT, "write pulses/USgal, or lb/USgal for pounds"},
    {"barrel|barrels|barrels/h|barrels/d", FLC_E_AMBIGUOUS_UNIT, "write bbl (42 US gallons), bbl/h, bbl/d"},
    {"mbbl|mbbls|mbbl/d|mbpd", FLC_E_AMBIGUOUS_UNIT,
     "M before bbl is a thousand to some and a million to others: write bbl or bbl/d"},
    {"psi|lbf/in2|lb/in2", FLC_E_AMBIGUOUS_UNIT,
     "write psig (gauge), psia (absolute), delta_psi (difference) or modulus_psi"},
    {"bar", FLC_E_AMBIGUOUS_UNIT, "write barg (gauge), bara (absolute) or delta_bar (difference)"},
    {"mbar", FLC_E_AMBIGUOUS_UNIT, "write mbarg (gauge), mbara (absolute) or delta_mbar (difference)"},
    {"pa", FLC_E_AMBIGUOUS_UNIT, "write Pag (gauge), Paa (absolute), delta_Pa (difference) or modulus_Pa"},
    {"hpa", FLC_E_AMBIGUOUS_UNIT, "write hPaa (absolute), mbarg (gauge) or delta_mbar (difference)"},
    {"kpa", FLC_E_AMBIGUOUS_UNIT, "write kPag (gauge), kPaa (absolute), delta_kPa (difference) or modulus_kPa"},
    {"mpa", FLC_E_AMBIGUOUS_UNIT,
     "write MPag (gauge), MPaa (absolute), delta_MPa (difference) or modulus_MPa, all mega; mPa.s is a viscosity"},
    {"kgf/cm2|kg/cm2", FLC_E_AMBIGUOUS_UNIT,
     "write kgf/cm2g (gauge), kgf/cm2a (absolute) or delta_kgf/cm2 (difference)"},
    {"ton|tons", FLC_E_AMBIGUOUS_UNIT, "write t (1000 kg), short_ton (2000 lb) or long_ton (2240 lb)"},
    {"ton/h|tons/h|ton/hr|tph", FLC_E_AMBIGUOUS_UNIT, "write t/h, short_ton/h or long_ton/h"},
    {"c", FLC_E_AMBIGUOUS_UNIT, "write degC (temperature) or delta_degC (difference)"},
    {"f", FLC_E_AMBIGUOUS_UNIT, "write degF (temperature) or delta_degF (difference)"},
    {"sg|s.g.|specificgravity|rd|relativedensity|gravity", FLC_E_AMBIGUOUS_UNIT,
     "say at which temperatures: rd60_60, sg15_4 or sg20_4"},
    {"api|apigravity|apigravityobserved|observedapigravity|apiobserved|observedapi|degapiobserved|apiobs",
     FLC_E_AMBIGUOUS_UNIT,
     "degAPI is at the base 60 degF; a gravity observed at another temperature must be corrected to it"},
    {"sus|ssu|sfs|ssf|sayboltseconds", FLC_E_UNKNOWN_NAME,
     "Saybolt seconds are converted by the method nu_from_sus_d2161, with their temperature"},
};

static char lower(char letter)
{
    return letter >= 'A' && letter <= 'Z' ? (char)(letter - 'A' + 'a') : letter;
}

/* Writes the normal form behind what the text holds already. */
static void normalise(flc_text *normal, const char *name)
{
    while (*name != '\0') {
        size_t taken = 0;
        for (size_t i = 0; i < FLC_COUNT_OF(replacements) && taken == 0; i++) {
            size_t length = strlen(replacements[i][0]);
            if (strncmp(name, replacements[i][0], length) == 0) {
                flc_text_add(normal, replacements[i][1]);
                taken = length;
            }
        }
        if (taken == 0) {
            char letter[2] = {*name, '\0'};
            flc_text_add(normal, letter);
            taken = 1;
        }
        name += taken;
    }
}

/* Is the word one of a list separated by '|'; a list compared in any case is in lower case itself. */
static int is_listed(const char *list, const char *word, int any_case)
{
    size_t length = strlen(word);
    while (*list != '\0') {
        size_t size = strcspn(list, "|");
        size_t same = 0;
        while (same < size && same < length && list[same] == (any_case ? lower(word[same]) : word[same])) {
            same++;
        }
        if (same == size && size == length) {
            return 1;
        }
        list += size + (list[size] == '|');
    }
    return 0;
}

/* The unit of an exact name or a normal form, of one kind or (FLC_UNIT_KIND_NONE) of any. */
static flc_unit search(flc_unit_kind kind, const char *name, const char *normal)
{
    for (size_t place = 0; place < flc_unit_count(); place++) {
        flc_unit unit = flc_unit_at(place);
        const flc_unit_info *row = flc_unit_info_of(unit);
        if (kind != FLC_UNIT_KIND_NONE && kind != row->kind) {
            continue;
        }
        if (strcmp(row->name, name) == 0 || strcmp(row->name, normal) == 0 || is_listed(row->spellings, normal, 0) ||
            is_listed(row->words, normal, 1)) {
            return unit;
        }
    }
    return (flc_unit){0};
}

/* What may be left out where the kind is stated. */
static const char *prefix_of(flc_unit_kind kind)
{
    switch (kind) {
    case FLC_UNIT_TEMPERATURE_DIFFERENCE:
    case FLC_UNIT_PRESSURE_DIFFERENCE:
        return "delta";
    case FLC_UNIT_MODULUS:
        return "modulus";
    default:
        return "";
    }
}

/* Letters to add, drop, change or swap with a neighbour that turn one word into the other, in any case; at most limit +
 * 1 is told. */
static size_t distance(const char *a, const char *b, size_t limit)
{
    size_t rows[3][NORMAL_SIZE]; /* the row before the last, the last, the one being made */
    size_t a_length = strlen(a), b_length = strlen(b);
    if (a_length + limit < b_length || b_length + limit < a_length) {
        return limit + 1;
    }
    for (size_t j = 0; j <= b_length; j++) {
        rows[1][j] = j;
    }
    for (size_t i = 1; i <= a_length; i++) {
        rows[2][0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            char here = lower(a[i - 1]), there = lower(b[j - 1]);
            size_t best = rows[1][j - 1] + (here != there);
            best = rows[1][j] + 1 < best ? rows[1][j] + 1 : best;
            best = rows[2][j - 1] + 1 < best ? rows[2][j - 1] + 1 : best;
            if (i > 1 && j > 1 && here == lower(b[j - 2]) && there == lower(a[i - 2]) && rows[0][j - 2] + 1 < best) {
                best = rows[0][j - 2] + 1;
            }
            rows[2][j] = best;
        }
        memcpy(rows[0], rows[1], sizeof rows[0]);
        memcpy(rows[1], rows[2], sizeof rows[1]);
    }
    return rows[1][b_length];
}

/* The closest names of the kind, nearest first; returns how many were written. */
static size_t add_close(flc_text *hint, flc_unit_kind kind, const char *normal)
{
    size_t limit = strlen(normal) <= 3 ? 1 : 2;
    size_t written = 0;
    for (size_t wanted = 0; wanted <= limit; wanted++) {
        for (size_t place = 0; place < flc_unit_count() && written < CLOSE_NAMES; place++) {
            const flc_unit_info *row = flc_unit_info_of(flc_unit_at(place));
            char listed[NORMAL_SIZE];
            flc_text text = flc_text_start(listed, sizeof listed);
            normalise(&text, row->name);
            if ((kind == FLC_UNIT_KIND_NONE || kind == row->kind) && distance(normal, listed, limit) == wanted) {
                flc_text_add(hint, written > 0 ? ", " : " is close to ");
                flc_text_add(hint, row->name);
                written++;
            }
        }
    }
    return written;
}

/* All names of a kind, as far as whole names fit. */
static void add_all(flc_text *hint, flc_unit_kind kind)
{
    const char *start = " is not among: ";
    for (size_t place = 0; place < flc_unit_count(); place++) {
        const flc_unit_info *row = flc_unit_info_of(flc_unit_at(place));
        if (row->kind != kind) {
            continue;
        }
        if (hint->needed + strlen(row->name) + sizeof ", ..." > hint->size) {
            flc_text_add(hint, ", ...");
            return;
        }
        flc_text_add(hint, start);
        flc_text_add(hint, row->name);
        start = ", ";
    }
}

/* The name as given, in quotes, cut short and with a question mark for what is not plain ASCII. */
static void add_quoted(flc_text *hint, const char *name)
{
    char shown[SHOWN + 1];
    size_t length = 0;
    for (; length < SHOWN && name[length] != '\0'; length++) {
        shown[length] = name[length] >= ' ' && name[length] <= '~' ? name[length] : '?';
    }
    shown[length] = '\0';
    flc_text_add(hint, "\"");
    flc_text_add(hint, shown);
    flc_text_add(hint, name[length] != '\0' ? "...\"" : "\"");
}

static flc_status fail_name(flc_error *error, flc_status status, const char *hint)
{
    return flc_fail(error, status, "name", -1, flc_nan(), flc_nan(), hint);
}

static flc_status refuse(flc_unit_kind kind, const char *name, const char *normal, flc_error *error)
{
    for (size_t i = 0; i < FLC_COUNT_OF(refusals); i++) {
        if (is_listed(refusals[i].words, normal, 1)) {
            return fail_name(error, refusals[i].status, refusals[i].hint);
        }
    }
    char words[HINT_SIZE];
    flc_text hint = flc_text_start(words, sizeof words);
    add_quoted(&hint, name);
    if (add_close(&hint, kind, normal) == 0) {
        if (kind != FLC_UNIT_KIND_NONE) {
            add_all(&hint, kind);
        } else {
            flc_text_add(&hint, " is close to no unit; units are written as m3/h, USgal/min, kPag, degC, kg/m3, mm2/s");
        }
    }
    return fail_name(error, FLC_E_UNKNOWN_NAME, words);
}

static flc_status refuse_kind(flc_unit_kind kind, flc_unit found, flc_error *error)
{
    char words[HINT_SIZE];
    flc_text hint = flc_text_start(words, sizeof words);
    flc_text_add(&hint, flc_unit_name(found));
    flc_text_add(&hint, " is ");
    flc_text_add(&hint, flc_unit_kind_name(flc_unit_kind_of(found)));
    flc_text_add(&hint, ", wanted is ");
    flc_text_add(&hint, flc_unit_kind_name(kind));
    return fail_name(error, FLC_E_UNIT_KIND, words);
}

/* kind may be FLC_UNIT_KIND_NONE: any. */
static flc_status find(flc_unit_kind kind, const char *name, flc_unit *unit, flc_error *error)
{
    char normal[NORMAL_SIZE], full[NORMAL_SIZE];
    flc_text text = flc_text_start(normal, sizeof normal);
    normalise(&text, name);
    flc_text prefixed = flc_text_start(full, sizeof full);
    flc_text_add(&prefixed, prefix_of(kind));
    normalise(&prefixed, name);
    if (prefixed.needed >= sizeof full) {
        return refuse(kind, name, normal, error);
    }
    flc_unit found = search(kind, name, normal);
    if (found.id == 0 && prefix_of(kind)[0] != '\0') {
        found = search(kind, name, full);
    }
    if (found.id == 0 && kind != FLC_UNIT_KIND_NONE && search(FLC_UNIT_KIND_NONE, name, normal).id != 0) {
        return refuse_kind(kind, search(FLC_UNIT_KIND_NONE, name, normal), error);
    }
    if (found.id == 0) {
        return refuse(kind, name, normal, error);
    }
    *unit = found;
    return FLC_OK;
}

flc_status flc_unit_from_name(const char *name, flc_unit *unit, flc_error *error)
{
    flc_error_clear(error);
    if (unit != NULL) {
        *unit = (flc_unit){0};
    }
    if (name == NULL || unit == NULL) {
        return flc_fail(error, FLC_E_NULL, name == NULL ? "name" : "unit", -1, flc_nan(), flc_nan(), NULL);
    }
    return find(FLC_UNIT_KIND_NONE, name, unit, error);
}

flc_status flc_unit_of_kind_from_name(flc_unit_kind kind, const char *name, flc_unit *unit, flc_error *error)
{
    flc_error_clear(error);
    if (unit != NULL) {
        *unit = (flc_unit){0};
    }
    if (kind < 0 || (size_t)kind >= flc_unit_kind_count()) {
        return flc_fail(error, FLC_E_CHOICE, "kind", -1, flc_nan(), flc_nan(), NULL);
    }
    if (name == NULL || unit == NULL) {
        return flc_fail(error, FLC_E_NULL, name == NULL ? "name" : "unit", -1, flc_nan(), flc_nan(), NULL);
    }
    return find(kind, name, unit, error);
}

flc_status flc_unit_kind_from_name(const char *name, flc_unit_kind *choice)
{
    int place = -1;
    if (choice != NULL) {
        *choice = FLC_UNIT_KIND_NONE;
    }
    if (name == NULL || choice == NULL) {
        return FLC_E_NULL;
    }
    for (size_t kind = 0; kind < flc_unit_kind_count() && place < 0; kind++) {
        if (strcmp(flc_unit_kind_name((flc_unit_kind)kind), name) == 0) {
            place = (int)kind;
        }
    }
    *choice = (flc_unit_kind)place;
    return place >= 0 ? FLC_OK : FLC_E_UNKNOWN_NAME;
}
