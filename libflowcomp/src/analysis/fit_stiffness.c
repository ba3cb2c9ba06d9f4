/* SPDX-License-Identifier: Apache-2.0 */
/* How many pieces: the stiffest curve that the stated uncertainties allow, not beyond the one of least chi^2 + p ln n.
 * The contract is over flc_fit_method. */
#include "fit_core.h"
#include "error.h"
#include "fpmath.h"
#include "memory.h"
#include "method.h"
#include <string.h>

/* From stiff to flexible. */
static const struct {
    size_t order, pieces;
} ladder[] = {{1, 1}, {2, 1}, {3, 1}, {4, 1}, {4, 2}, {4, 3}, {4, 4}, {4, 5}, {4, 6}, {4, 8}, {4, 10}, {4, 12}};

#define RUNGS FLC_COUNT_OF(ladder)

static size_t coefficients_of(size_t rung)
{
    return ladder[rung].order + ladder[rung].pieces - 1;
}

static flc_status open_trial(size_t n, size_t order, size_t pieces, flc_trial *trial)
{
    trial->order = order;
    trial->pieces = pieces;
    trial->residual = flc_allocate_array(n, sizeof *trial->residual);
    trial->weight = flc_allocate_array(n, sizeof *trial->weight);
    return trial->residual != NULL && trial->weight != NULL ? FLC_OK : FLC_E_MEMORY;
}

static void close_trial(flc_trial *trial)
{
    flc_release(trial->residual);
    flc_release(trial->weight);
}

/* ---- judging the trials ---- */

typedef struct trials {
    flc_trial *rung; /* RUNGS of them */
    int fitted[RUNGS];
    size_t top; /* the most flexible that could be fitted */
} trials;

/* The loss of one residual that corresponds to chi^2: its square, or the bisquare's bounded one (twice rho). */
static double loss(double residual, int robust)
{
    if (!robust) {
        return residual * residual;
    }
    const double z = residual / FLC_BISQUARE;
    const double left = z * z < 1.0 ? 1.0 - z * z : 0.0;
    return FLC_BISQUARE * FLC_BISQUARE / 3.0 * (1.0 - left * left * left);
}

/* The rung of least chi^2 + p ln n, residuals in units of the scatter about the most flexible curve. */
static size_t least_criterion(const trials *all, size_t n, int robust)
{
    const double scatter = all->rung[all->top].spline.scatter;
    const double unit = scatter > FLC_U_BELIEVED ? scatter : FLC_U_BELIEVED;
    size_t best = all->top;
    double least = flc_infinity();
    for (size_t r = 0; r <= all->top; r++) {
        double criterion = (double)coefficients_of(r) * flc_log((double)n);
        for (size_t i = 0; i < n && all->fitted[r]; i++) {
            criterion += loss(all->rung[r].residual[i] / unit, robust);
        }
        if (all->fitted[r] && criterion < least) {
            least = criterion;
            best = r;
        }
    }
    return best;
}

/* The first rung whose curve the points allow: chi^2 at the stated u, over the points that the rung `best` keeps. Where
 * the scatter is far under u, u is not what scatters from point to point, and allows nothing. */
static size_t stiffest_allowed(const trials *all, size_t n, size_t best)
{
    if (!(all->rung[best].spline.scatter >= FLC_U_BELIEVED)) {
        return best;
    }
    for (size_t r = 0; r < best; r++) {
        double chi2 = 0.0, freedom = -(double)coefficients_of(r);
        for (size_t i = 0; i < n && all->fitted[r]; i++) {
            if (all->rung[best].weight[i] >= 0.5) {
                chi2 += all->rung[r].residual[i] * all->rung[r].residual[i];
                freedom += 1.0;
            }
        }
        if (all->fitted[r] && freedom > 0.0 && chi2 <= freedom + flc_sqrt(2.0 * freedom)) {
            return r;
        }
    }
    return best;
}

/* ---- making them ---- */

static flc_status fit_ladder(const flc_fit_data *data, int robust, trials *all)
{
    const size_t distinct = data->knot_count;
    const size_t most = !robust && distinct / 2 < 4 ? (distinct > 4 ? 4 : distinct - 1) : distinct / 2;
    flc_status status = FLC_OK, refused = FLC_E_SINGULAR;
    int any = 0;
    for (size_t r = 0; r < RUNGS && coefficients_of(r) <= most && status == FLC_OK; r++) {
        status = open_trial(data->count, ladder[r].order, ladder[r].pieces, &all->rung[r]);
        if (status == FLC_OK) {
            status = flc_trial_fit(data, robust, &all->rung[r]);
        }
        if (status == FLC_OK) {
            all->fitted[r] = any = 1;
            all->top = r;
        } else if (status != FLC_E_MEMORY) { /* this one cannot be fitted; others may */
            refused = status;
            status = FLC_OK;
        }
    }
    return status != FLC_OK ? status : any ? FLC_OK : refused;
}

static flc_status keep(const flc_trial *trial, flc_spline **spline)
{
    *spline = flc_allocate(sizeof **spline);
    if (*spline == NULL) {
        return FLC_E_MEMORY;
    }
    **spline = trial->spline;
    return FLC_OK;
}

static void keep_weights(const flc_fit_data *data, const flc_trial *trial)
{
    for (size_t i = 0; i < data->count; i++) {
        data->rows[i].weight = trial->weight[i];
    }
}

static flc_status choose(const flc_fit_data *data, int robust, flc_spline **chosen, flc_spline **richer)
{
    trials all = {flc_allocate_array(RUNGS, sizeof(flc_trial)), {0}, 0};
    if (all.rung == NULL) {
        return FLC_E_MEMORY;
    }
    flc_status status = fit_ladder(data, robust, &all);
    if (status == FLC_OK) {
        const size_t best = least_criterion(&all, data->count, robust);
        const size_t taken = stiffest_allowed(&all, data->count, best);
        keep_weights(data, &all.rung[taken]);
        status = keep(&all.rung[taken], chosen);
        if (status == FLC_OK && taken != best) {
            status = keep(&all.rung[best], richer);
        }
    }
    for (size_t r = 0; r < RUNGS; r++) {
        close_trial(&all.rung[r]);
    }
    flc_release(all.rung);
    return status;
}

static flc_status as_asked(const flc_fit_data *data, int robust, size_t pieces, flc_spline **chosen)
{
    flc_trial *trial = flc_allocate_array(1, sizeof *trial);
    if (trial == NULL) {
        return FLC_E_MEMORY;
    }
    flc_status status = open_trial(data->count, 4, pieces, trial);
    if (status == FLC_OK) {
        status = flc_trial_fit(data, robust, trial);
    }
    if (status == FLC_OK) {
        keep_weights(data, trial);
        status = keep(trial, chosen);
    }
    close_trial(trial);
    flc_release(trial);
    return status;
}

flc_status flc_fit_spline(const flc_fit_options *options, const flc_fit_data *data, flc_spline **chosen,
                          flc_spline **richer, flc_error *error)
{
    const int robust = options->method == FLC_FIT_ROBUST;
    *chosen = *richer = NULL;
    const flc_status status = options->break_points == 0 ? choose(data, robust, chosen, richer)
                                                         : as_asked(data, robust, options->break_points, chosen);
    if (status == FLC_OK) {
        return FLC_OK;
    }
    flc_release(*chosen);
    flc_release(*richer);
    *chosen = *richer = NULL;
    return flc_fail(error, status, "points", -1, flc_nan(), flc_nan(),
                    status == FLC_E_SINGULAR ? "fewer pieces, or more points where they are sparse" : NULL);
}
