/* SPDX-License-Identifier: Apache-2.0 */
/* libflowcomp, the run-time library: everything that runs at the meter, in the order of a calculation.
 *
 *   status.h          status numbers, error detail, flags, provenance, version
 *   units.h           units in and out, exact factors
 *   rounding.h        rounding policies
 *   metals.h          expansion and elasticity of metals
 *   viscosity_d341.h  kinematic viscosity against temperature, ASTM D341
 *   petroleum_2004.h  volume correction of petroleum liquids, API MPMS 11.1 (2004)
 *   body_strain.h     strains of a pipe or meter body, and what they do to K
 *   prover_steel.h    prover steel corrections
 *   similarity.h      Strouhal, Roshko, Reynolds, K
 *   performance.h     linearity, repeatability, turndown and other figures of the trade
 *   meter_body.h      the body of a meter: D(T,P) and B(T,P)
 *   curve.h           the calibration curve St(Ro)
 *   liquid.h          a volume correction and a viscosity source
 *   meter.h           body + curve; one record evaluated
 *   totals.h          totals that grouping cannot change
 *   explain.h         one evaluation step by step
 *   batch.h           many records
 *   methods.h         the list of published methods, and calling them by name
 *
 * Beside it: analysis.h (libflowcomp-analysis: fits, GSL) and records.h (libflowcomp-records: files, hashes).
 *
 * In every function: SI-based units as the names say; a status is returned and results go out through pointers; on
 * failure numbers are NaN and handles NULL; const handles serve any number of threads; nothing is printed, nothing global
 * is changed, and the host's floating-point state is left as found. */
#ifndef FLOWCOMP_FLOWCOMP_H
#define FLOWCOMP_FLOWCOMP_H

#include "flowcomp/version.h"
#include "flowcomp/status.h"
#include "flowcomp/units.h"
#include "flowcomp/rounding.h"
#include "flowcomp/metals.h"
#include "flowcomp/viscosity_d341.h"
#include "flowcomp/petroleum_2004.h"
#include "flowcomp/body_strain.h"
#include "flowcomp/prover_steel.h"
#include "flowcomp/similarity.h"
#include "flowcomp/performance.h"
#include "flowcomp/meter_body.h"
#include "flowcomp/curve.h"
#include "flowcomp/liquid.h"
#include "flowcomp/meter.h"
#include "flowcomp/totals.h"
#include "flowcomp/explain.h"
#include "flowcomp/batch.h"
#include "flowcomp/methods.h"

#endif
