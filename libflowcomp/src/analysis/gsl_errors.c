/* SPDX-License-Identifier: Apache-2.0 */
/* GSL and its BLAS report a refused argument by calling these two functions; their own versions print and abort the
 * host, and keep the handler in one global of the process. libflowcomp-analysis links GSL privately with these hidden
 * versions instead, which do nothing: GSL's functions then return their error code (or NaN), and every call in this
 * folder checks the code and whether the numbers are finite. The host's own GSL, if it has one, is never touched.
 * Nothing in this folder may call gsl_set_error_handler or gsl_set_error_handler_off: they would bring in GSL's
 * version beside this one. */
#include <gsl/gsl_errno.h>

void cblas_xerbla(int argument, const char *routine, const char *format, ...);

void gsl_error(const char *reason, const char *file, int line, int code)
{
    (void)reason;
    (void)file;
    (void)line;
    (void)code;
}

void cblas_xerbla(int argument, const char *routine, const char *format, ...)
{
    (void)argument;
    (void)routine;
    (void)format;
}
