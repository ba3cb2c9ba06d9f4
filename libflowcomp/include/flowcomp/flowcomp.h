/* SPDX-License-Identifier: Apache-2.0 */
/* libflowcomp, the run-time library: everything that runs at the meter, in the order of a calculation.
 *
 *   status.h          status numbers, error detail, flags, provenance, version
 *   units.h           units in and out, exact factors
 *   rounding.h        rounding policies
 *   metals.h          expansion and elasticity of metals
 *   viscosity_d341.h  kinematic viscosity against temperature, ASTM D341
 *   viscosity_water.h viscosity of water and sea water
 *   viscosity_models.h    dynamic viscosity against temperature: Andrade, Vogel and the forms of handbooks
 *   viscosity_pressure.h  viscosity under pressure: Barus, Roelands, Kouzel
 *   viscosity_blending.h  viscosity of a blend: Refutas, ASTM D7152
 *   viscosity_index_d2270.h  viscosity index, ASTM D2270
 *   viscosity_units.h     Saybolt seconds (ASTM D2161), dynamic and kinematic, customary units
 *   petroleum_2004.h  volume correction of petroleum liquids, API MPMS 11.1 (2004)
 *   petroleum_1980.h  the same by the tables of 1980 (API Standard 2540)
 *   compressibility_1984.h  compressibility of liquid hydrocarbons, API MPMS 11.2.1 and 11.2.1M
 *   light_ends_2007.h       volume correction of NGL and LPG, GPA TP-27
 *   compressibility_1986.h  compressibility of light hydrocarbons, API MPMS 11.2.2
 *   aromatics_d1555.h volume correction of aromatics and cyclohexane, density in air
 *   ethanol_oiml_r22.h  density of ethanol-water, mass and volume fractions
 *   water.h           density of water at 1 atm, CTL, CPL
 *   water_iapws95.h   water under pressure, saturation
 *   seawater_eos80.h  density of sea water
 *   produced_water.h  volume correction of produced water
 *   glycol_water_melinder_2010.h  density and viscosity of glycol and water
 *   fame_en14214.h    density of biodiesel
 *   saturated_liquids.h  density of pure liquids at their vapour pressure
 *   costald.h         density of light hydrocarbons by corresponding states
 *   lng_iso6578.h     density of liquefied natural gas, ISO 6578
 *   supplied_liquid.h  a liquid by a polynomial, density table, compressibility or vapour pressure of its own
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
 *   quantities.h      quantities of a ticket, one formula each
 *   proving_quantities.h  quantities of a proving, and the chart of a history of meter factors
 *   legal_limits.h    legal limits of error
 *   proving.h         a proving: runs, factors, verdict
 *   meter_factor.h    the factor in force, and what makes it void
 *   quantity.h        a ticket from indicated volume to mass
 *   interface_cut.h   where one batch ends and the next begins
 *   pulses.h          counters, frequency, two pulse trains
 *   batch.h           many records
 *   arrow.h           the same from and into tables of other programs (Arrow C data interface)
 *   methods.h         the list of published methods, and calling them by name
 *   bits_contract.h   the contract of bits, and the set of results it is measured on
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
#include "flowcomp/viscosity_water.h"
#include "flowcomp/viscosity_models.h"
#include "flowcomp/viscosity_pressure.h"
#include "flowcomp/viscosity_blending.h"
#include "flowcomp/viscosity_index_d2270.h"
#include "flowcomp/viscosity_units.h"
#include "flowcomp/petroleum_2004.h"
#include "flowcomp/petroleum_1980.h"
#include "flowcomp/compressibility_1984.h"
#include "flowcomp/light_ends_2007.h"
#include "flowcomp/compressibility_1986.h"
#include "flowcomp/aromatics_d1555.h"
#include "flowcomp/ethanol_oiml_r22.h"
#include "flowcomp/water.h"
#include "flowcomp/water_iapws95.h"
#include "flowcomp/seawater_eos80.h"
#include "flowcomp/produced_water.h"
#include "flowcomp/glycol_water_melinder_2010.h"
#include "flowcomp/fame_en14214.h"
#include "flowcomp/saturated_liquids.h"
#include "flowcomp/costald.h"
#include "flowcomp/lng_iso6578.h"
#include "flowcomp/supplied_liquid.h"
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
#include "flowcomp/quantities.h"
#include "flowcomp/proving_quantities.h"
#include "flowcomp/legal_limits.h"
#include "flowcomp/proving.h"
#include "flowcomp/meter_factor.h"
#include "flowcomp/quantity.h"
#include "flowcomp/interface_cut.h"
#include "flowcomp/pulses.h"
#include "flowcomp/batch.h"
#include "flowcomp/arrow.h"
#include "flowcomp/methods.h"
#include "flowcomp/bits_contract.h"

#endif
