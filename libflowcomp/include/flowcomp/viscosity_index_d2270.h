/* SPDX-License-Identifier: Apache-2.0 */
/* Viscosity index, ASTM D2270 (ISO 2909), from the kinematic viscosities U at 40 degC and Y at 100 degC, both in mm2/s.
 *
 *   L, H  of the table by linear interpolation, Y from 2 to 70; above, L = 0.8353 Y^2 + 14.67 Y - 216 and
 *         H = 0.1684 Y^2 + 11.85 Y - 97. The table is the method; at 70 it ends 1.1 (L) and 0.3 mm2/s (H) above them.
 *   A     U >= H:  VI = 100 (L - U) / (L - H)
 *   B     U < H:   VI = 100 + (10^N - 1) / 0.00715, N = log10(H / U) / log10(Y)
 *
 * vi_d2270 rounds nothing, vi_d2270_reported rounds it once to the integer that is reported; the worked examples of the
 * standard round on the way and are met by *_printed_rounding. U must be above Y (FLC_E_ORDER). The standard names no
 * upper end; here Y ends at 1000 and U at 1e6 mm2/s. */
#ifndef FLOWCOMP_VISCOSITY_INDEX_D2270_H
#define FLOWCOMP_VISCOSITY_INDEX_D2270_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** L, the viscosity at 40 degC of the oil of index 0
 *  L of the table, linear in nu100; 0.8353 Y^2 + 14.67 Y - 216 above 70
 *
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return L {mm2/s}
 *  @source ASTM D2270, Table 1 and 5.1.2
 *  @status published; the table as transcribed in an open-source library, not read from the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_l_d2270(double nu100_mm2s, double *result);

/** H, the viscosity at 40 degC of the oil of index 100
 *  H of the table, linear in nu100; 0.1684 Y^2 + 11.85 Y - 97 above 70
 *
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return H {mm2/s}
 *  @source ASTM D2270, Table 1 and 5.1.2
 *  @status published; the table as transcribed in an open-source library, not read from the print
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_h_d2270(double nu100_mm2s, double *result);

/** L from the quadratic pieces
 *  a Y^2 + b Y + c of the piece; a joint belongs to the lower piece
 *
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 70]
 *  @return L {mm2/s}
 *  @source ASTM D2270, equations for the table
 *  @status from memory; within 0.10 % of the table, 0.12 % at the joint 7.7. The table is the method
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_l_d2270_quadratic(double nu100_mm2s, double *result);

/** H from the quadratic pieces
 *  d Y^2 + e Y + f of the piece; a joint belongs to the lower piece
 *
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 70]
 *  @return H {mm2/s}
 *  @source ASTM D2270, equations for the table
 *  @status from memory; within 0.10 % of the table, 0.12 % at the joint 7.7. The table is the method
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_h_d2270_quadratic(double nu100_mm2s, double *result);

/** N of procedure B, not rounded
 *  n = log10(H / U) / log10(Y)
 *
 *  @param nu40_mm2s   kinematic viscosity at 40 degC, above nu100_mm2s {mm2/s} [2, 1e6]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return N {1}; FLC_E_ORDER unless nu40_mm2s > nu100_mm2s
 *  @source ASTM D2270, procedure B
 *  @status published; the worked example is met once its roundings are made
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_n_d2270(double nu40_mm2s, double nu100_mm2s, double *result);

/** N of procedure B with the roundings of the worked example
 *  H first rounded to 2 decimals (a tie goes down), N to 5 decimals
 *
 *  @param nu40_mm2s   kinematic viscosity at 40 degC, above nu100_mm2s {mm2/s} [2, 1e6]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return N {1}; FLC_E_ORDER unless nu40_mm2s > nu100_mm2s
 *  @source ASTM D2270-93(1998), example in 6.1.4: H 28.975 is written 28.97, N 0.14708
 *  @status published; the example is met
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_n_d2270_printed_rounding(double nu40_mm2s, double nu100_mm2s, double *result);

/** Viscosity index, not rounded
 *  U >= H: 100 (L - U) / (L - H); else 100 + (10^N - 1) / 0.00715
 *
 *  @param nu40_mm2s   kinematic viscosity at 40 degC, above nu100_mm2s {mm2/s} [2, 1e6]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return VI {1}; FLC_E_ORDER unless nu40_mm2s > nu100_mm2s
 *  @source ASTM D2270, procedures A and B
 *  @status published; the worked examples are met after rounding (92, 156)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_vi_d2270(double nu40_mm2s, double nu100_mm2s, double *result);

/** Viscosity index with the roundings of the worked example
 *  L and H to 2 decimals (a tie goes down), N and 10^N to 5 decimals
 *
 *  @param nu40_mm2s   kinematic viscosity at 40 degC, above nu100_mm2s {mm2/s} [2, 1e6]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return VI {1}; FLC_E_ORDER unless nu40_mm2s > nu100_mm2s
 *  @source ASTM D2270-93(1998), examples in 5.1.4 and 6.1.4
 *  @status published; the examples are met (92.43, 156.37)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_vi_d2270_printed_rounding(double nu40_mm2s, double nu100_mm2s, double *result);

/** Viscosity index as reported
 *  vi_d2270 rounded once to an integer, a tie to the even one
 *
 *  @param nu40_mm2s   kinematic viscosity at 40 degC, above nu100_mm2s {mm2/s} [2, 1e6]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return VI {1}; FLC_E_ORDER unless nu40_mm2s > nu100_mm2s
 *  @source ASTM D2270, reporting
 *  @status published; the worked examples are met (92, 156)
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_vi_d2270_reported(double nu40_mm2s, double nu100_mm2s, double *result);

/** Viscosity at 40 degC that has this index
 *  VI <= 100: U = L - VI (L - H) / 100; else U = H / Y^N, N = log10(1 + 0.00715 (VI - 100))
 *
 *  @param vi          viscosity index {1} [-1000, 1000]
 *  @param nu100_mm2s  kinematic viscosity at 100 degC {mm2/s} [2, 1000]
 *  @return U {mm2/s}; FLC_E_NO_ROOT where it would not be above nu100_mm2s
 *  @source ASTM D2270, solved for the viscosity at 40 degC
 *  @status published; returns the viscosity of vi_d2270
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu40_from_vi_d2270(double vi, double nu100_mm2s, double *result);

/** Viscosity at 100 degC that has this index
 *  Y such that nu40_from_vi_d2270(vi, Y) = U; where table and formula overlap at 70 mm2/s, that of the table
 *
 *  @param vi         viscosity index {1} [-1000, 1000]
 *  @param nu40_mm2s  kinematic viscosity at 40 degC {mm2/s} [2, 1e6]
 *  @return Y {mm2/s}; FLC_E_NO_ROOT where there is none from 2 to 1000 mm2/s and below nu40_mm2s
 *  @source ASTM D2270, solved for the viscosity at 100 degC inside a bracket
 *  @status published; returns the viscosity of vi_d2270
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nu100_from_vi_d2270(double vi, double nu40_mm2s, double *result);

FLC_END_DECLS

#endif
