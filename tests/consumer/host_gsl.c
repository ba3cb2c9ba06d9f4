/* SPDX-License-Identifier: Apache-2.0 */
/* A host that uses GSL itself, with its own error handler, beside libflowcomp-analysis: both link without a clash, the
 * host's handler is never called by us, neither in a fit nor in a refusal, and it is still in place afterwards. */
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

/* Fit a line by every method, and once points that are all at one Ro. */
static flc_status fit_line(flc_fit_method method, double step)
{
    flc_body_options body;
    flc_body_options_init(&body);
    body.bore_m = 0.05;
    body.t0_degc = 20.0;
    body.end = FLC_END_NONE;
    flc_status status = flc_metal_mean(16e-6, 0.0, 100.0, 200.0, 0.3, FLC_USER_GIVEN, "host", &body.housing, NULL);

    flc_fit_options options;
    flc_fit_options_init(&options);
    options.convention = FLC_CONVENTION_DIMENSIONLESS;
    options.treatment = FLC_BODY_ALREADY_CORRECTED;
    options.reference = FLC_REFERENCE_AT_METER;
    options.method = method;

    flc_certificate_point points[12];
    for (int i = 0; i < 12; i++) {
        flc_certificate_point_init(&points[i]);
        points[i].x = 1e4 + step * i;
        points[i].k_per_m3 = i == 5 ? 3.6 : 3.4 + 0.001 * i;
    }
    flc_fit *fit = NULL;
    if (status == FLC_OK) {
        status = flc_fit_certificate(&options, &body, points, 12, &fit, NULL);
    }
    flc_fit_free(fit);
    return status;
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
    int fits = 1;
    for (int method = FLC_FIT_STEFFEN; method <= FLC_FIT_ROBUST; method++) {
        fits = fits && fit_line((flc_fit_method)method, 5e3) == FLC_OK;
        fits = fits && fit_line((flc_fit_method)method, 0.0) == FLC_E_COUNT;
    }
    int untouched = calls == before && gsl_set_error_handler(NULL) == count_calls;

    printf("  host's own error is reported %s\n", host_code != 0 && before == 1 ? "as expected" : "WRONG");
    printf("  ours is a status             %s\n", good == FLC_OK && bad != FLC_OK ? "as expected" : "WRONG");
    printf("  fits and a refused fit       %s\n", fits ? "as expected" : "WRONG");
    printf("  host's handler is untouched  %s\n", untouched ? "as expected" : "WRONG");
    return host_code != 0 && before == 1 && good == FLC_OK && bad != FLC_OK && fits && untouched ? 0 : 1;
}
