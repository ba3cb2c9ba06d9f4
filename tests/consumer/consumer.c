/* SPDX-License-Identifier: Apache-2.0 */
/* A program that knows nothing but the installed headers and libraries. It calls one function of each library it was
 * built with and prints what came out; it exits 0 only if all of it is as expected. */
#include <flowcomp/flowcomp.h>
#ifdef WITH_ANALYSIS
#include <flowcomp/analysis.h>
#endif
#ifdef WITH_RECORDS
#include <flowcomp/records.h>
#endif
#include <stdio.h>
#include <string.h>

static int wrong;

static void expect(const char *what, int good)
{
    printf("  %-28s %s\n", what, good ? "as expected" : "WRONG");
    wrong += !good;
}

static int is_near(double value, double expected, double tolerance)
{
    double difference = value > expected ? value - expected : expected - value;
    return difference <= tolerance; /* false for a NaN */
}

int main(void)
{
    char header_version[32];
    snprintf(header_version, sizeof header_version, "%d.%d.%d", FLC_VERSION_MAJOR, FLC_VERSION_MINOR,
             FLC_VERSION_PATCH);
    expect("flc_version", strcmp(flc_version(), header_version) == 0);

    /* Crude oil of 823.7 kg/m3 at 27.7 degF: the method's equations recomputed in 40 digits apart from the library. */
    double ctl = 0.0;
    flc_status status =
        flc_ctl60_petroleum_2004(823.7, 27.7, flc_petroleum_product_of_group(FLC_PETROLEUM_CRUDE), &ctl);
    expect("flc_ctl60_petroleum_2004", status == FLC_OK && is_near(ctl, 1.0161603865, 1.02e-9));

#ifdef WITH_ANALYSIS
    /* Student's t, 95 %, 10 degrees of freedom: 2.228 in any printed table (JCGM 100:2008 Table G.2: 2.23). */
    double t = 0.0;
    expect("flc_student_t", flc_student_t(0.95, 10.0, &t) == FLC_OK && is_near(t, 2.228, 0.0005));
#endif
#ifdef WITH_RECORDS
    /* A file that is cut after its first character is refused, and no meter comes out. */
    flc_meter *meter = NULL;
    flc_error error;
    status = flc_meter_from_json("{", 1, &meter, &error);
    expect("flc_meter_from_json", status == FLC_E_SYNTAX && meter == NULL && error.status == FLC_E_SYNTAX);
#endif
    return wrong == 0 ? 0 : 1;
}
