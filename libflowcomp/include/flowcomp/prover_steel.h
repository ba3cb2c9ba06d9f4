/* SPDX-License-Identifier: Apache-2.0 */
/* What temperature and pressure do to the steel of a prover: CTSp and CPSp of API MPMS 12.2, from memory.
 *
 * Where a factor can be asked for in two systems of units, give one set complete and leave the other out (NaN): inputs
 * of both sets are refused (FLC_E_CONFLICT), and so is a set that is not complete (FLC_E_MISSING). Each set keeps its
 * own arithmetic; nothing is converted. A tank prover takes CTSp by the cubical expansion and no CPSp; a prover with a
 * double wall at equal pressures has CPSp = 1. No range is stated for these formulas: those given are of prover steels.
 */
#ifndef FLOWCOMP_PROVER_STEEL_H
#define FLOWCOMP_PROVER_STEEL_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** CTSp of a prover of one metal with its detectors on the pipe
 *  CTSp = 1 + Gc (Tp - Tb)
 *
 *  @param gc_per_degf cubical expansion {1/degF} [0, 1e-4] optional
 *  @param t_degf      temperature of the pipe {degF} [-100, 400] optional
 *  @param tb_degf     base temperature {degF} [-100, 400] optional
 *  @param decimals    round half away from zero to so many; left out: not rounded {1} [0, 12] optional
 *  @param gc_per_degc cubical expansion {1/degC} [0, 1.8e-4] optional
 *  @param t_degc      temperature of the pipe {degC} [-75, 205] optional
 *  @param tb_degc     base temperature {degC} [-75, 205] optional
 *  @return CTSp {1}; FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_NOT_WHOLE (decimals)
 *  @source API MPMS 12.2, CTSp
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cts_prover_pipe(double gc_per_degf, double t_degf, double tb_degf, double decimals,
                                       double gc_per_degc, double t_degc, double tb_degc, double *result);

/** CTSp of a small volume prover with its detectors on a separate rod
 *  CTSp = [1 + Ga (Tp - Tb)] [1 + Gl (Td - Tb)]
 *
 *  @param ga_per_degf     area expansion of the cylinder {1/degF} [0, 1e-4]
 *  @param gl_rod_per_degf linear expansion of the rod {1/degF} [0, 1e-4]
 *  @param t_degf          temperature of the cylinder {degF} [-100, 400]
 *  @param t_rod_degf      temperature of the rod, or of the air about it {degF} [-100, 400]
 *  @param tb_degf         base temperature {degF} [-100, 400]
 *  @return CTSp {1}
 *  @source API MPMS 12.2, CTSp with externally mounted detectors
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cts_prover_small_volume(double ga_per_degf, double gl_rod_per_degf, double t_degf,
                                               double t_rod_degf, double tb_degf, double *result);

/** CPSp of a prover with a single wall
 *  CPSp = 1 + P ID/(E WT)
 *
 *  @param p_psig   pressure in the prover, gauge {psi} [-15, 15000] optional
 *  @param id_in    inner diameter {in} [0.1, 200] optional
 *  @param wall_in  wall {in} [0.01, 20] optional
 *  @param e_psi    modulus of elasticity {psi} [1e6, 1e8] optional
 *  @param decimals round half away from zero to so many; left out: not rounded {1} [0, 12] optional
 *  @param p_kpag   pressure in the prover, gauge {kPa} [-102, 100000] optional
 *  @param id_mm    inner diameter {mm} [2, 5000] optional
 *  @param wall_mm  wall {mm} [0.2, 500] optional
 *  @param e_kpa    modulus of elasticity {kPa} [6e6, 7e8] optional
 *  @return CPSp {1}; FLC_E_MISSING, FLC_E_CONFLICT, FLC_E_NOT_WHOLE (decimals)
 *  @source API MPMS 12.2, CPSp
 *  @status from memory; ignores Poisson and the stretch along the pipe
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cps_prover(double p_psig, double id_in, double wall_in, double e_psi, double decimals,
                                  double p_kpag, double id_mm, double wall_mm, double e_kpa, double *result);

FLC_END_DECLS

#endif
