/* SPDX-License-Identifier: Apache-2.0 */
#include "flowcomp/lng_iso6578.h"
#include "fractions.h"
#include "method.h"

#include "tables/lng_iso6578_table.inc"

#define COMPONENTS 9
#define T_FIRST 93.15 /* K of the first column */
#define T_STEP 5.0
#define M_FIRST 16.0 /* kg/kmol of the first row of k1 and k2 */
#define BUTANES_MAX 0.04
#define PENTANES_MAX 0.02
#define ROUNDING 1e-12 /* by which a sum at a limit may pass it */

/* kg/kmol, in the order of flc_lng_component */
static const double molar_masses[COMPONENTS] = {16.043, 30.070, 44.097, 58.123, 58.123,
                                                72.150, 72.150, 86.177, 28.0134};

/* A place between the lines of a table: the lower line, and the share of the way to the next. */
typedef struct table_place {
    size_t line;
    double part;
} table_place;

static table_place place_of(double x, double first, double step, size_t lines)
{
    const double steps = (x - first) / step;
    size_t line = (size_t)steps; /* 0 for the hair below the first, too */
    line = line + 2 > lines ? lines - 2 : line;
    return (table_place){line, steps - (double)line};
}

static double between(table_place place, double low, double high)
{
    return low + (high - low) * place.part;
}

static table_place column_of(double t_k)
{
    return place_of(t_k, T_FIRST, T_STEP, FLC_COUNT_OF(lng_molar_volumes[0]));
}

static double at_column(table_place column, const double *row)
{
    return between(column, row[column.line], row[column.line + 1]);
}

/* k1 or k2, m3/kmol */
static double correction(const double table[][9], double t_k, double molar_mass)
{
    const table_place column = column_of(t_k), row = place_of(molar_mass, M_FIRST, 1.0, FLC_COUNT_OF(lng_k1));
    return 1e-3 * between(row, at_column(column, table[row.line]), at_column(column, table[row.line + 1]));
}

static double molar_mass(const double *x)
{
    double sum = 0.0;
    for (size_t i = 0; i < COMPONENTS; i++) {
        sum += x[i] * molar_masses[i];
    }
    return sum;
}

static double molar_volume(const double *x, double t_k)
{
    const double mass = molar_mass(x);
    const double k1 = correction(lng_k1, t_k, mass), k2 = correction(lng_k2, t_k, mass);
    double sum = 0.0;
    for (size_t i = 0; i < COMPONENTS; i++) {
        sum += x[i] * at_column(column_of(t_k), lng_molar_volumes[i]);
    }
    return sum - (k1 + (k2 - k1) * x[FLC_LNG_N2] / 0.0425) * x[FLC_LNG_C1];
}

static flc_status check_composition(const double *x)
{
    const double butanes = x[FLC_LNG_NC4] + x[FLC_LNG_IC4];
    const double pentanes = x[FLC_LNG_NC5] + x[FLC_LNG_IC5] + x[FLC_LNG_NC6];
    if (butanes > BUTANES_MAX + ROUNDING || pentanes > PENTANES_MAX + ROUNDING) {
        return FLC_E_ABOVE;
    }
    return flc_fractions_check(x, COMPONENTS);
}

static flc_status molar_volume_lng_iso6578(flc_lng_component component, double t_k, double *result)
{
    *result = at_column(column_of(t_k), lng_molar_volumes[component]);
    return FLC_OK;
}

static flc_status molar_mass_lng_iso6578(double x_c1, double x_c2, double x_c3, double x_nc4, double x_ic4,
                                         double x_nc5, double x_ic5, double x_nc6, double x_n2, double *result)
{
    const double x[COMPONENTS] = {x_c1, x_c2, x_c3, x_nc4, x_ic4, x_nc5, x_ic5, x_nc6, x_n2};
    *result = molar_mass(x);
    return flc_fractions_check(x, COMPONENTS);
}

static flc_status k1_lng_iso6578(double t_k, double molar_mass_kgkmol, double *result)
{
    *result = correction(lng_k1, t_k, molar_mass_kgkmol);
    return FLC_OK;
}

static flc_status k2_lng_iso6578(double t_k, double molar_mass_kgkmol, double *result)
{
    *result = correction(lng_k2, t_k, molar_mass_kgkmol);
    return FLC_OK;
}

static flc_status rho_lng_iso6578(double t_k, double x_c1, double x_c2, double x_c3, double x_nc4, double x_ic4,
                                  double x_nc5, double x_ic5, double x_nc6, double x_n2, double *result)
{
    const double x[COMPONENTS] = {x_c1, x_c2, x_c3, x_nc4, x_ic4, x_nc5, x_ic5, x_nc6, x_n2};
    const flc_status status = check_composition(x);
    if (status == FLC_OK) {
        *result = molar_mass(x) / molar_volume(x, t_k);
    }
    return status;
}

static flc_status ctl_lng_iso6578(double t_k, double t_base_k, double x_c1, double x_c2, double x_c3, double x_nc4,
                                  double x_ic4, double x_nc5, double x_ic5, double x_nc6, double x_n2, double *result)
{
    const double x[COMPONENTS] = {x_c1, x_c2, x_c3, x_nc4, x_ic4, x_nc5, x_ic5, x_nc6, x_n2};
    const flc_status status = check_composition(x);
    if (status == FLC_OK) {
        *result = molar_volume(x, t_base_k) / molar_volume(x, t_k);
    }
    return status;
}

#include "methods/lng_iso6578.inc"
