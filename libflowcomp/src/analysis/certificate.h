/* SPDX-License-Identifier: Apache-2.0 */
/* From a certificate's row to one point in the library's own coordinates. */
#ifndef FLC_CERTIFICATE_H
#define FLC_CERTIFICATE_H

#include "flowcomp/analysis.h"

typedef struct flc_understood {
    double k_per_m3; /* at the meter, with the body as the certificate states it */
    double ro, st;   /* body at T0 and P0 */
    double u;        /* relative standard uncertainty of St */
} flc_understood;

/** Understand one row; options and body are checked.
 *  @return FLC_OK; FLC_E_SIZE, FLC_E_INFINITE, FLC_E_BELOW, FLC_E_ABOVE, FLC_E_MISSING, FLC_E_CONFLICT */
flc_status flc_certificate_understand(const flc_fit_options *options, const flc_body_options *body,
                                      const flc_certificate_point *point, size_t index, flc_understood *understood,
                                      flc_error *error);

#endif
