/* SPDX-License-Identifier: Apache-2.0 */
/* Legal limits of error of measuring systems for liquids other than water: Directive 2014/32/EU, Annex VII (MI-005),
 * whose figures are those of OIML R 117-1. Which class and which limit bind is for the authority to say: this is
 * arithmetic on the printed figures, no approval. Limits are magnitudes, to be read as plus or minus. */
#ifndef FLOWCOMP_LEGAL_LIMITS_H
#define FLOWCOMP_LEGAL_LIMITS_H

#include "flowcomp/status.h"

FLC_BEGIN_DECLS

/* Accuracy class. Class 0.3 is that of pipelines. */
typedef enum flc_accuracy_class {
    FLC_CLASS_0_3 = 0, /* "0.3" */
    FLC_CLASS_0_5 = 1, /* "0.5" */
    FLC_CLASS_1_0 = 2, /* "1.0" */
    FLC_CLASS_1_5 = 3, /* "1.5" */
    FLC_CLASS_2_5 = 4  /* "2.5" */
} flc_accuracy_class;

/** Class from its word ("0.3", "0.5", "1.0", "1.5", "2.5").
 *  @return FLC_OK, FLC_E_NULL, FLC_E_UNKNOWN_NAME
 *  @since 0.1 */
FLC_API FLC_STATUS flc_accuracy_class_from_name(const char *name, flc_accuracy_class *choice);

/** Limit of error of a measuring system
 *  line A of Table 2
 *
 *  @param accuracy_class  class
 *  @return limit, for volumes from 2 L {%}
 *  @source Directive 2014/32/EU, Annex VII, Table 2 line A; OIML R 117-1
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_system_pct(flc_accuracy_class accuracy_class, double *result);

/** Limit of error of a meter
 *  line B of Table 2
 *
 *  @param accuracy_class  class
 *  @return limit, for volumes from 2 L {%}
 *  @source Directive 2014/32/EU, Annex VII, Table 2 line B; OIML R 117-1
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_meter_pct(flc_accuracy_class accuracy_class, double *result);

/** Limit of error of a conversion device
 *  line A less line B
 *
 *  @param accuracy_class  class
 *  @return limit {%}
 *  @source Directive 2014/32/EU, Annex VII, clause 2.6
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_conversion_device_pct(flc_accuracy_class accuracy_class, double *result);

/** Limit of error of a calculator
 *  line A/10
 *
 *  @param accuracy_class  class
 *  @return limit {%}
 *  @source Directive 2014/32/EU, Annex VII, clause 2.6(a)
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_calculator_pct(flc_accuracy_class accuracy_class, double *result);

/** Least specified error of a quantity, without the scale interval
 *  Emin = 2 MMQ A/100; for MMQ below 2 L twice the small-volume value at the MMQ
 *
 *  @param mmq_l           minimum measured quantity {L} [1e-3, 1e9]
 *  @param accuracy_class  class
 *  @return Emin; the law adds that it is at least two scale intervals, see mpe_quantity_l {L}
 *  @source Directive 2014/32/EU, Annex VII, clauses 2.4.1 and 2.4.2; UK SI 2006/1270 Schedule 1 paragraph 36(4)
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_emin_l(double mmq_l, flc_accuracy_class accuracy_class, double *result);

/** Limit of error of a measured quantity
 *  the larger of the Table 2 or 3 value and Emin, Emin being at least two scale intervals
 *  below 2 L (Table 3): 4A of 0.1 L below 0.1 L, 4A to 0.2 L, 2A of 0.4 L to 0.4 L, 2A to 1 L, A of 2 L to 2 L
 *
 *  @param volume_l          measured quantity {L} [1e-3, 1e12]
 *  @param accuracy_class    class
 *  @param mmq_l             minimum measured quantity {L} [1e-3, 1e9]
 *  @param scale_interval_l  scale interval {L} [0, 1e6] optional, 0
 *  @return limit {L}
 *  @source Directive 2014/32/EU, Annex VII, clauses 2.1 to 2.4, Tables 2 and 3
 *  @status published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_quantity_l(double volume_l, flc_accuracy_class accuracy_class, double mmq_l,
                                      double scale_interval_l, double *result);

/** Limit of error of a temperature sensor
 *  Table 4
 *
 *  @param accuracy_class  class
 *  @return limit {degC}
 *  @source Directive 2014/32/EU, Annex VII, Table 4
 *  @status from memory; class 0.3 published; which class has 0.5 and which 1.0 degC is unverified
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_temperature_sensor_degc(flc_accuracy_class accuracy_class, double *result);

/** Limit of error of a pressure sensor
 *  Table 4: 50 kPa below 1 MPa, 5 % from 1 to 4 MPa, 200 kPa above
 *
 *  @param p_mpa  pressure, gauge {MPa} [0, 1000]
 *  @return limit {kPa}
 *  @source Directive 2014/32/EU, Annex VII, Table 4
 *  @status from memory; below 1 MPa published
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_pressure_sensor_kpa(double p_mpa, double *result);

/** Limit of error of a density sensor
 *  Table 4
 *
 *  @param accuracy_class  class
 *  @return limit {kg/m3}
 *  @source Directive 2014/32/EU, Annex VII, Table 4
 *  @status from memory; which class has which value is unverified
 *  @since 0.1
 */
FLC_API FLC_STATUS flc_mpe_density_sensor_kgm3(flc_accuracy_class accuracy_class, double *result);

/* An error against its limit. */
typedef struct flc_limit_check {
    double error;  /* found less true, in the unit asked about */
    double limit;  /* magnitude */
    double margin; /* limit - |error|: negative by as much as the error is outside */
    int inside;    /* 1: |error| <= limit */
} flc_limit_check;

/** Is an error inside a limit, and by how much? On the limit is inside.
 *  @param found  what was indicated
 *  @param truth  what was right, in the same unit
 *  @param limit  magnitude of the limit in that unit, 0 or more
 *  @param[out] check  numbers NaN and inside 0 on failure
 *  @return FLC_OK; FLC_E_NULL, FLC_E_NAN, FLC_E_INFINITE, FLC_E_BELOW (limit)
 *  @since 0.1 */
FLC_API FLC_STATUS flc_limit_judge(double found, double truth, double limit, flc_limit_check *check);

FLC_END_DECLS

#endif
