/* SPDX-License-Identifier: Apache-2.0 */
/* A host that uses GSL itself, with its own error handler, beside libflowcomp-analysis: both link without a clash, the
 * host's handler is never called by us, and it is still in place afterwards. */
#include <flowcomp/analysis.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_gamma.h>
#include <stdio.h>

static int calls;

static void count_calls(const char *reason, const char *file, int line, int code)
{
    (void)reason;
    (void)file;
    (void)line;
    (void)code;
    calls++;
}

int main(void)
{
    gsl_set_error_handler(count_calls);
    gsl_sf_result gamma;
    int host_code = gsl_sf_gamma_e(0.0, &gamma); /* a pole: the host's own error */
    int before = calls;

    double t = 0.0;
    flc_status good = flc_student_t(0.95, 10.0, &t);
    flc_status bad = flc_student_t(2.0, -1.0, &t);
    int untouched = calls == before && gsl_set_error_handler(NULL) == count_calls;

    printf("  host's own error is reported %s\n", host_code != 0 && before == 1 ? "as expected" : "WRONG");
    printf("  ours is a status             %s\n", good == FLC_OK && bad != FLC_OK ? "as expected" : "WRONG");
    printf("  host's handler is untouched  %s\n", untouched ? "as expected" : "WRONG");
    return host_code != 0 && before == 1 && good == FLC_OK && bad != FLC_OK && untouched ? 0 : 1;
}
