/* SPDX-License-Identifier: Apache-2.0 */
/* Quantities of a measurement ticket and of a proving, one formula each, in the form of API MPMS 12.2 and ISO 4267-2:
 *
 *   IV = closing - opening = N/NKF     CCF = MF CTL CPL     GSV = IV CCF     NSV = GSV CSW     SWV = GSV - NSV
 *
 * The formulas are from memory: the standards' texts were not at hand. Volumes are in any one unit used throughout.
 * Rounding: the editions of 1995 to 1998 asked for identical results by prescribed rounding between the steps, later
 * ones for results within a tolerance. So every decimals argument is a switch that is off unless given. The whole
 * chain with its steps is in quantity.h, a whole proving in proving.h. Where no standard states a range, it is ours. */
#ifndef FLOWCOMP_QUANTITIES_H
#define FLOWCOMP_QUANTITIES_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/** Net observed volume
 *  total observed less free water
 *
 *  @param total_observed  total observed volume {any volume} [0, 1e15]
 *  @param free_water      free water in it, same unit {any volume} [0, 1e15]
 *  @return net observed volume {any volume}; FLC_E_ORDER where there is more water than volume
 *  @source definition, API MPMS 12.1
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_net_observed_volume(double total_observed, double free_water, double *result);

/** Indicated volume from readings
 *  closing - opening
 *
 *  @param opening  opening reading {any volume} [0, 1e15]
 *  @param closing  closing reading of the same register, not rolled over {any volume} [0, 1e15]
 *  @return indicated volume {any volume}; FLC_E_ORDER where the closing is below the opening: see pulses.h for
 * registers that roll over
 *  @source definition, API MPMS 12.2.2
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_indicated_volume(double opening, double closing, double *result);

/** Indicated volume from pulses
 *  IV = N/NKF
 *
 *  @param pulses     N, may carry a fraction from interpolation {pulses} [0, 1e15]
 *  @param nominal_k  NKF, nominal K-factor {pulses per volume} [1e-9, 1e15]
 *  @return indicated volume {any volume}
 *  @source API MPMS 12.2
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_indicated_volume_from_pulses(double pulses, double nominal_k, double *result);

/** Standard volume from a gross one
 *  gross VCF
 *
 *  @param gross  gross observed volume {any volume} [-1e15, 1e15]
 *  @param vcf    volume correction factor {1} [0.1, 2]
 *  @return standard volume {any volume}
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_standard_volume(double gross, double vcf, double *result);

/** Correction for the pressure of the liquid
 *  CPL = 1/[1 - (P - Pe) F], Pe = 0 if below atmospheric
 *
 *  @param p   pressure at the meter, gauge {any pressure} [-1e6, 1e6]
 *  @param pe  equilibrium vapour pressure, gauge; below 0 it counts as 0 {any pressure} [-1e6, 1e6] optional, 0
 *  @param f   compressibility factor, in the inverse of that unit {1/any pressure} [0, 0.1]
 *  @return CPL {1}; FLC_E_DOMAIN where (P - Pe) F reaches 1
 *  @source API MPMS 12.2, 11.2.1
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_cpl(double p, double pe, double f, double *result);

/** Combined correction factor
 *  CCF = MF CTL CPL, rounded once at the end
 *
 *  @param mf        meter factor {1} [0.8, 1.2]
 *  @param ctl       CTL {1} [0.1, 2]
 *  @param cpl       CPL {1} [0.5, 2]
 *  @param decimals  round to so many; left out: not rounded {1} [0, 12] optional
 *  @return CCF {1}; FLC_E_NOT_WHOLE (decimals)
 *  @source API MPMS 12.2.2
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_ccf(double mf, double ctl, double cpl, double decimals, double *result);

/** Correction for sediment and water
 *  CSW = 1 - S&W/100
 *
 *  @param sw_pct    sediment and water of the standard volume {%} [0, 100]
 *  @param decimals  round to so many; left out: not rounded {1} [0, 12] optional
 *  @return CSW {1}; FLC_E_NOT_WHOLE (decimals)
 *  @source API MPMS 12.2.2
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_csw(double sw_pct, double decimals, double *result);

/** Gross standard volume
 *  GSV = IV CCF
 *
 *  @param iv               indicated volume {any volume} [-1e15, 1e15]
 *  @param mf               meter factor {1} [0.8, 1.2]
 *  @param ctl              CTL {1} [0.1, 2]
 *  @param cpl              CPL {1} [0.5, 2]
 *  @param ccf_decimals     round CCF first; left out: not rounded {1} [0, 12] optional
 *  @param volume_decimals  round GSV; left out: not rounded {1} [-9, 12] optional
 *  @return GSV {any volume}; FLC_E_NOT_WHOLE (decimals), FLC_E_OVERFLOW (rounding)
 *  @source API MPMS 12.2.2; rounding between the steps by the editions of 1995 to 1998
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_gsv(double iv, double mf, double ctl, double cpl, double ccf_decimals, double volume_decimals,
                           double *result);

/** Net standard volume
 *  NSV = GSV CSW
 *
 *  @param iv               indicated volume {any volume} [-1e15, 1e15]
 *  @param mf               meter factor {1} [0.8, 1.2]
 *  @param ctl              CTL {1} [0.1, 2]
 *  @param cpl              CPL {1} [0.5, 2]
 *  @param sw_pct           sediment and water of the standard volume {%} [0, 100]
 *  @param ccf_decimals     round CCF first; left out: not rounded {1} [0, 12] optional
 *  @param csw_decimals     round CSW first; left out: not rounded {1} [0, 12] optional
 *  @param volume_decimals  round GSV and NSV; left out: not rounded {1} [-9, 12] optional
 *  @return NSV {any volume}; FLC_E_NOT_WHOLE (decimals), FLC_E_OVERFLOW (rounding)
 *  @source API MPMS 12.2.2; rounding between the steps by the editions of 1995 to 1998
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_nsv(double iv, double mf, double ctl, double cpl, double sw_pct, double ccf_decimals,
                           double csw_decimals, double volume_decimals, double *result);

/** Sediment and water volume
 *  SWV = GSV - NSV
 *
 *  @param iv               indicated volume {any volume} [-1e15, 1e15]
 *  @param mf               meter factor {1} [0.8, 1.2]
 *  @param ctl              CTL {1} [0.1, 2]
 *  @param cpl              CPL {1} [0.5, 2]
 *  @param sw_pct           sediment and water of the standard volume {%} [0, 100]
 *  @param ccf_decimals     round CCF first; left out: not rounded {1} [0, 12] optional
 *  @param csw_decimals     round CSW first; left out: not rounded {1} [0, 12] optional
 *  @param volume_decimals  round GSV, NSV and SWV; left out: not rounded {1} [-9, 12] optional
 *  @return SWV {any volume}; FLC_E_NOT_WHOLE (decimals), FLC_E_OVERFLOW (rounding)
 *  @source API MPMS 12.2.2; rounding between the steps by the editions of 1995 to 1998
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_swv(double iv, double mf, double ctl, double cpl, double sw_pct, double ccf_decimals,
                           double csw_decimals, double volume_decimals, double *result);

/** What rounding between the steps does to GSV
 *  1e6 (GSV rounded/GSV unrounded - 1)
 *
 *  @param iv               indicated volume {any volume} [1e-9, 1e15]
 *  @param mf               meter factor {1} [0.8, 1.2]
 *  @param ctl              CTL {1} [0.1, 2]
 *  @param cpl              CPL {1} [0.5, 2]
 *  @param ccf_decimals     round CCF first; left out: not rounded {1} [0, 12] optional
 *  @param volume_decimals  round GSV; left out: not rounded {1} [-9, 12] optional
 *  @return effect of the rounding {ppm}; FLC_E_NOT_WHOLE (decimals), FLC_E_OVERFLOW (rounding)
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_gsv_rounding_effect_ppm(double iv, double mf, double ctl, double cpl, double ccf_decimals,
                                               double volume_decimals, double *result);

/** Composite meter factor
 *  CMF = MF CPLm
 *
 *  @param mf         meter factor at operating pressure {1} [0.8, 1.2]
 *  @param cpl_meter  CPL at the meter's normal operating pressure {1} [0.5, 2]
 *  @param decimals   round to so many; left out: not rounded {1} [0, 12] optional
 *  @return composite meter factor {1}; FLC_E_NOT_WHOLE (decimals)
 *  @source definition of 43 CFR 3174.1
 *  @status published; only where the pressure stays the same between provings
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_composite_meter_factor(double mf, double cpl_meter, double decimals, double *result);

/** K-factor that a proving found
 *  KF = NKF/MF
 *
 *  @param nominal_k  NKF {pulses per volume} [1e-9, 1e15]
 *  @param mf         meter factor {1} [0.8, 1.2]
 *  @return KF {pulses per volume}
 *  @source API MPMS 12.2.3
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_k_factor_actual(double nominal_k, double mf, double *result);

/** Flow-weighted average
 *  sum(x dV)/sum(dV)
 *
 *  @param volumes  volume of each interval; 0 leaves it out {any volume} [0, 1e12]
 *  @param values   mean value over each interval {any} [-1e9, 1e9]
 *  @param n        number of intervals
 *  @return average while flowing {any}; FLC_E_DOMAIN where nothing flowed
 *  @source API MPMS 21.2
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_flow_weighted_average(const double *volumes, const double *values, size_t n, double *result);

/** Weight in air over mass
 *  (1 - ra/rho)/(1 - ra/rw)
 *
 *  @param rho_kgm3          density of the liquid {kg/m3} [100, 25000]
 *  @param rho_air_kgm3      density of the air, 1.2 by convention {kg/m3} [0, 10]
 *  @param rho_weights_kgm3  density of the weights, 8000 by convention {kg/m3} [1000, 25000]
 *  @return weight in air over mass {1}
 *  @source conventional value of weighing in air, OIML D 28
 *  @status from memory; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_weight_in_air_factor(double rho_kgm3, double rho_air_kgm3, double rho_weights_kgm3,
                                            double *result);

/** Weight in air over mass, short form of petroleum tables
 *  (rho - 1.1)/rho
 *
 *  @param rho_kgm3  density of the liquid {kg/m3} [100, 25000]
 *  @return weight in air over mass {1}
 *  @source convention of petroleum tables
 *  @status common practice; 32 ppm below the other form at 850 kg/m3: say on the ticket which is used
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_weight_in_air_factor_petroleum(double rho_kgm3, double *result);

/** Short form of weight in air against the other, ra = 1.2, rw = 8000
 *  1e6 (short/other - 1) = (100165 - 150 rho)/(rho - 1.2)
 *
 *  @param rho_kgm3  density of the liquid {kg/m3} [100, 25000]
 *  @return difference {ppm}
 *  @source definition
 *  @status computed; definition
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_weight_in_air_difference_ppm(double rho_kgm3, double *result);

/* Named rules that set a fixed limit (tables/acceptance_limits says what each is a limit of, and its source). */
typedef enum flc_acceptance_rule {
    FLC_RULE_US_ARMY_QM5096_MF_DEPARTURE = 0,                   /* departure of MF from 1, 1 */
    FLC_RULE_US_ARMY_QM5096_PROVER_MINUTES = 1,                 /* a prover holds the delivery of so many min */
    FLC_RULE_CFR43_3174_BASE_PRESSURE_PSIA = 2,                 /* psia */
    FLC_RULE_CFR43_3174_BASE_TEMPERATURE_DEGF = 3,              /* degF */
    FLC_RULE_CFR43_3174_UNCERTAINTY_PCT_GE_30000_BBL_MONTH = 4, /* of the volume, % */
    FLC_RULE_CFR43_3174_UNCERTAINTY_PCT_LT_30000_BBL_MONTH = 5, /* of the volume, % */
    FLC_RULE_UK_SI_1987_51_REPEATABILITY_RANGE5_PCT = 6,        /* range of five tests, % */
    FLC_RULE_UK_SI_1987_51_LINEARITY_RANGE_OF_MEANS_PCT = 7,    /* range of the means of five, % */
    FLC_RULE_UK_SI_1987_51_RECHECK_PCT = 8,                     /* mean of five against the last test, % */
    FLC_RULE_UK_SI_1987_51_DISCRIMINATION_PCT = 9,              /* of the reference standard, % */
    FLC_RULE_GUIDELINE_MF_VS_INITIAL_PCT = 10,                  /* % */
    FLC_RULE_GUIDELINE_MF_VS_LAST_TEN_PCT = 11,                 /* % */
    FLC_RULE_GUIDELINE_MASTER_METER_3_RUNS_PCT = 12,            /* % */
    FLC_RULE_CFR43_3174_11_RUNS_RANGE_PCT = 13,                 /* five consecutive runs, % */
    FLC_RULE_CFR43_3174_11_MF_CHANGE = 14,                      /* between consecutive provings, 1 */
    FLC_RULE_CFR43_3174_11_MF_LOW = 15,                         /* 1 */
    FLC_RULE_CFR43_3174_11_MF_HIGH = 16,                        /* 1 */
    FLC_RULE_CFR43_3174_11_NEW_METER_MF_LOW = 17,               /* 1 */
    FLC_RULE_CFR43_3174_11_NEW_METER_MF_HIGH = 18,              /* 1 */
    FLC_RULE_CFR43_3174_11_MF_AVERAGE_SPREAD = 19               /* within it several MFs may be averaged, 1 */
} flc_acceptance_rule;

/** Rule from its word ("cfr43_3174_11_mf_change").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_acceptance_rule_from_name(const char *name, flc_acceptance_rule *choice);

/** Where the limit of a rule rests.
 *  @param rule  one of the enum
 *  @param[out] provenance  published, common practice or from memory
 *  @return FLC_OK, FLC_E_NULL, FLC_E_CHOICE
 *  @since 0.1 */
FLC_API FLC_STATUS flc_acceptance_rule_provenance(flc_acceptance_rule rule, flc_provenance *provenance);

/** Fixed limit of a named rule
 *  table entry
 *
 *  @param rule  which rule
 *  @return limit, in the unit that stands behind the rule in its enum {as the rule says}
 *  @source tables/acceptance_limits names the source of each
 *  @status published; guideline rules are common practice, rules of cfr43_3174_11 from memory. Contract and local code
 *  come first
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_acceptance_limit(flc_acceptance_rule rule, double *result);

/* What is recorded, for the number of its decimals. */
typedef enum flc_reporting_item {
    FLC_ITEM_LITRES = 0,
    FLC_ITEM_US_GALLONS = 1,
    FLC_ITEM_BARRELS = 2,
    FLC_ITEM_CUBIC_METRES = 3,
    FLC_ITEM_POUNDS = 4,
    FLC_ITEM_KILOGRAMS = 5,
    FLC_ITEM_SHORT_TONS = 6,
    FLC_ITEM_METRIC_TONS = 7,
    FLC_ITEM_LONG_TONS = 8,
    FLC_ITEM_API_GRAVITY = 9,
    FLC_ITEM_DENSITY_LB_PER_GAL = 10,
    FLC_ITEM_DENSITY_KG_PER_L = 11,
    FLC_ITEM_RELATIVE_DENSITY = 12,
    FLC_ITEM_VCF = 13,
    FLC_ITEM_SW_PCT = 14,
    FLC_ITEM_CSW = 15,
    FLC_ITEM_TEMPERATURE_DEGF = 16,
    FLC_ITEM_TEMPERATURE_DEGC = 17,
    FLC_ITEM_TSH_SHELL_TEMPERATURE_DEGF = 18,
    FLC_ITEM_CTSH = 19,
    FLC_ITEM_CTL_CPL_CTS_CPS_MF_CMF = 20, /* on tickets and in a proving */
    FLC_ITEM_CCF = 21,
    FLC_ITEM_BASE_PROVER_FACTORS = 22, /* CTS CPS CTL CPL when the base volume of a prover is found */
    FLC_ITEM_METER_FACTOR = 23,
    FLC_ITEM_PRESSURE_PSIG = 24,
    FLC_ITEM_PRESSURE_BAR = 25,
    FLC_ITEM_REPEATABILITY_PCT = 26
} flc_reporting_item;

/** Item from its word ("barrels").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_reporting_item_from_name(const char *name, flc_reporting_item *choice);

/* Whose decimals. */
typedef enum flc_reporting_policy {
    FLC_REPORTING_INSPECTION_HANDBOOK = 0, /* published */
    FLC_REPORTING_API_12_2_1995 = 1,       /* from memory */
    FLC_REPORTING_COMSTOCK_1993 = 2        /* meter factor only, published */
} flc_reporting_policy;

/** Policy from its word ("inspection_handbook", "api_12_2_1995", "comstock_1993").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_reporting_policy_from_name(const char *name, flc_reporting_policy *choice);

/* Which of two printed numbers. */
typedef enum flc_reporting_bound {
    FLC_BOUND_NONE = -1, /* only one is printed */
    FLC_BOUND_MIN = 0,
    FLC_BOUND_MAX = 1
} flc_reporting_bound;

/** Bound from its word ("min", "max").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_reporting_bound_from_name(const char *name, flc_reporting_bound *choice);

/** Decimals to be recorded
 *  table entry
 *
 *  @param item    what is recorded
 *  @param policy  whose decimals
 *  @param bound   which, where the print allows two numbers optional
 *  @return number of decimals {decimals}; FLC_E_UNKNOWN_NAME where the policy has none for it, FLC_E_MISSING where it
 *  allows two and bound is not given
 *  @source tables of the policies: inspection_handbook, api_12_2_1995, comstock_1993
 *  @status published; api_12_2_1995 is from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_reporting_decimals(flc_reporting_item item, flc_reporting_policy policy,
                                          flc_reporting_bound bound, double *result);

/** Increment to be recorded, where it is no power of ten
 *  table entry
 *
 *  @param item    what is recorded
 *  @param policy  whose increment
 *  @return increment {unit of the item}; FLC_E_UNKNOWN_NAME where there is none
 *  @source table of the policy api_12_2_1995
 *  @status from memory
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_reporting_increment(flc_reporting_item item, flc_reporting_policy policy, double *result);

FLC_END_DECLS

#endif
