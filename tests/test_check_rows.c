/* SPDX-License-Identifier: Apache-2.0 */
/* The check rows through the C library alone, by its list of methods: those of tests/checks, and those of the reference
 * beside the checkout where they are. tests/check_rows.py does the same through the Python package; rows of units are
 * read by test_units.c. */
#define _POSIX_C_SOURCE 200809L /* getline, dirent.h */
#include "check.h"
#include "flowcomp/analysis.h"
#include "flowcomp/methods.h"
#include <dirent.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define REFERENCE FLC_TEST_CHECKS_DIR "/../../../shared/reference/checks"
#define HEAD "id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note"
#define ARGUMENTS 32
#define PLACES 64 /* of a list */

enum { ID, QUANTITY, INPUTS, EXPECTED, TOLERANCE, UNIT, ROLE, CELLS };

static size_t passed, failed, unknown, not_judged;

/* ---- a row's cells, in place ---- */

/* Cut a line of comma-separated cells; a cell in quotes may hold commas, and a quote is written twice. */
static size_t cut_line(char *line, char *cell[CELLS])
{
    size_t count = 0;
    char *from = line;
    while (count < CELLS) {
        char *to = from;
        cell[count++] = to;
        int is_quoted = 0;
        for (; *from != '\0' && (is_quoted || (*from != ',' && *from != '\n' && *from != '\r')); from++) {
            if (*from == '"' && !(is_quoted && from[1] == '"')) {
                is_quoted = !is_quoted;
            } else {
                from += *from == '"';
                *to++ = *from;
            }
        }
        const int is_last = *from != ',';
        *to = '\0';
        if (is_last) {
            break;
        }
        from++;
    }
    return count;
}

/* ---- from its inputs to values ---- */

typedef struct given {
    flc_value value[ARGUMENTS];
    double list[ARGUMENTS][PLACES];
} given;

static void leave_out(const flc_method_info *method, given *g)
{
    for (size_t i = 0; i < method->argument_count; i++) {
        g->value[i] = (flc_value){method->arguments[i].kind == FLC_ARGUMENT_CHOICE ? -1.0 : (double)NAN, NULL, 0};
    }
}

/* A word that is none of the choice gets the status that the from_name function of its enum gives. */
static flc_status take_choice(const flc_method_argument *argument, const char *text, flc_value *value)
{
    for (size_t i = 0; argument->choices[i] != NULL; i++) {
        if (strcmp(argument->choices[i], text) == 0) {
            value->number = (double)i;
            return FLC_OK;
        }
    }
    return FLC_E_UNKNOWN_NAME;
}

static flc_status take(const flc_method_argument *argument, char *text, flc_value *value, double *list)
{
    if (argument->kind == FLC_ARGUMENT_CHOICE) {
        return take_choice(argument, text, value);
    }
    if (argument->kind == FLC_ARGUMENT_NUMBER) {
        char *end;
        value->number = strtod(text, &end);
        return end != text && *end == '\0' ? FLC_OK : FLC_E_INTERNAL;
    }
    value->list = list;
    for (char *end = text; value->count < PLACES; text = end) {
        list[value->count] = strtod(text, &end);
        if (end == text) {
            break;
        }
        value->count++;
    }
    return text[strspn(text, " ")] == '\0' ? FLC_OK : FLC_E_INTERNAL;
}

/* name=value;name=value */
static flc_status read_inputs(const flc_method_info *method, char *inputs, given *g)
{
    leave_out(method, g);
    flc_status status = FLC_OK;
    char *rest = inputs;
    for (char *pair = strtok_r(inputs, ";", &rest); status == FLC_OK && pair != NULL;
         pair = strtok_r(NULL, ";", &rest)) {
        char *equals = strchr(pair, '=');
        pair += strspn(pair, " ");
        if (equals == NULL) {
            return FLC_E_INTERNAL;
        }
        *equals = '\0';
        size_t i = 0;
        while (i < method->argument_count && strcmp(method->arguments[i].name, pair) != 0) {
            i++;
        }
        status = i == method->argument_count ? FLC_E_INTERNAL
                                             : take(&method->arguments[i], equals + 1, &g->value[i], g->list[i]);
    }
    return status;
}

/* ---- judging ---- */

static const flc_method_info *find(const char *name)
{
    const flc_method_info *method = flc_method_find(name);
    for (size_t i = 0; method == NULL && i < flc_analysis_method_count(); i++) {
        method = strcmp(flc_analysis_method_at(i)->name, name) == 0 ? flc_analysis_method_at(i) : NULL;
    }
    return method;
}

static int agrees(flc_status status, double value, char *cell[CELLS])
{
    if (cell[EXPECTED][0] == 'E') {
        return strcmp(flc_status_name(status), cell[EXPECTED]) == 0;
    }
    const long double expected = strtold(cell[EXPECTED], NULL), tolerance = strtold(cell[TOLERANCE], NULL);
    const long double error = (long double)value - expected;
    const long double reading = 2e-19L * (expected < 0 ? -expected : expected); /* of the expected value */
    return status == FLC_OK && (error < 0 ? -error : error) <= tolerance + reading;
}

static void judge(const char *file, char *cell[CELLS])
{
    if (strcmp(cell[ROLE], "contrast") == 0) {
        not_judged++;
        return;
    }
    const flc_method_info *method = find(cell[QUANTITY]);
    if (method == NULL) {
        unknown++;
        return;
    }
    given g;
    double value = (double)NAN;
    assert_true(method->argument_count <= ARGUMENTS);
    flc_status status = read_inputs(method, cell[INPUTS], &g);
    if (status == FLC_OK) {
        status = flc_method_call(method, g.value, method->argument_count, &value, NULL);
    }
    if (agrees(status, value, cell)) {
        passed++;
    } else {
        failed++;
        print_message("%s %s %s: %s, %.17g, expected %s within %s\n", file, cell[ID], cell[QUANTITY],
                      flc_status_name(status), value, cell[EXPECTED], cell[TOLERANCE]);
    }
}

static void judge_file(const char *folder, const char *name)
{
    char path[1024], *line = NULL, *cell[CELLS];
    size_t room = 0;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    int is_judged = 0;
    while (getline(&line, &room, file) > 0) {
        if (line[0] == '#') {
            continue;
        }
        if (!is_judged && strncmp(line, HEAD, sizeof HEAD - 1) != 0) {
            break; /* a file of another form */
        }
        if (is_judged) {
            assert_int_equal(cut_line(line, cell), CELLS);
            judge(name, cell);
        }
        is_judged = 1;
    }
    free(line);
    fclose(file);
}

static void judge_folder(const char *folder, size_t at_least)
{
    DIR *open = opendir(folder);
    if (open == NULL) {
        print_message("%s is not there: its rows are skipped\n", folder);
        skip();
    }
    passed = failed = unknown = not_judged = 0;
    for (const struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        const char *end = strrchr(entry->d_name, '.');
        if (end != NULL && strcmp(end, ".csv") == 0) {
            judge_file(folder, entry->d_name);
        }
    }
    closedir(open);
    print_message("%zu rows passed, %zu failed, %zu of quantities that are no method, %zu contrast rows not judged\n",
                  passed, failed, unknown, not_judged);
    assert_int_equal(failed, 0);
    assert_true(passed > at_least);
}

static void rows_of_the_project(void **state)
{
    (void)state;
    judge_folder(FLC_TEST_CHECKS_DIR, 3000);
}

static void rows_of_the_reference(void **state)
{
    (void)state;
    judge_folder(REFERENCE, 2000);
}

/* What judges must be able to refuse. */
static void a_wrong_row_is_seen(void **state)
{
    (void)state;
    char row[] = "x,\"ctl15_petroleum_2004\",rho15_kgm3=835;t_degc=35;group=refined,0.5,0.1,1,conformance,computed,,,";
    char *cell[CELLS];
    assert_int_equal(cut_line(row, cell), CELLS);
    assert_string_equal(cell[QUANTITY], "ctl15_petroleum_2004");
    passed = failed = 0;
    judge("invented", cell);
    assert_int_equal(failed, 1);
    assert_int_equal(passed, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_of_the_project),
        cmocka_unit_test(rows_of_the_reference),
        cmocka_unit_test(a_wrong_row_is_seen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
