/* SPDX-License-Identifier: Apache-2.0 */
/* The steps of one evaluation, read off the trace of the evaluation itself. */
#include "flowcomp/explain.h"
#include "error.h"
#include "fp_guard.h"
#include "explain_core.h"

static const char *const SIMILARITY = "similarity of turbine meters";
static const char *const BODY = "meter body";
static const char *const D341 = "ASTM D341";
static const char *const PETROLEUM = "API MPMS 11.1";

void flc_steps_add(flc_steps *steps, flc_step step)
{
    if (steps->count < steps->capacity) {
        if (flc_is_nan(step.value)) {
            step.value = flc_nan();
        }
        steps->step[steps->count] = step;
    }
    steps->count++;
}

static void given(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit)
{
    if (!flc_is_nan(value)) {
        const flc_step step = {symbol, quantity, value, unit, "given", "input", "", "", FLC_USER_GIVEN, 0};
        flc_steps_add(steps, step);
    }
}

static void inputs(flc_steps *steps, const flc_reading *in)
{
    given(steps, "N", "pulses in the window", in->pulses, "1");
    given(steps, "t_w", "length of the window", in->duration_s, "s");
    given(steps, "t_f", "seconds with flow", in->flowing_s, "s");
    given(steps, "f_f", "mean frequency while flowing", in->f_flowing_hz, "Hz");
    given(steps, "f", "pulse frequency", in->f_hz, "Hz");
    given(steps, "f_b", "frequency of the window before", in->f_before_hz, "Hz");
    given(steps, "f_a", "frequency of the window after", in->f_after_hz, "Hz");
    given(steps, "f_m", "highest frequency declared for this meter", in->f_highest_hz, "Hz");
    given(steps, "t", "temperature at the meter", in->t_degc, "degC");
    given(steps, "P", "pressure at the meter, gauge", in->p_kpag, "kPa");
    given(steps, "rho_b", "base density", in->density.rho_base_kgm3, "kg/m3");
    given(steps, "rho_o", "observed density", in->density.rho_observed_kgm3, "kg/m3");
    if (!flc_is_nan(in->density.rho_observed_kgm3)) {
        given(steps, "t_o", "temperature at the densitometer", in->density.t_observed_degc, "degC");
        given(steps, "P_o", "pressure at the densitometer, gauge", in->density.p_observed_kpag, "kPa");
        given(steps, "DF", "densitometer factor", in->density.densitometer_factor, "1");
    }
    given(steps, "nu_m", "measured kinematic viscosity", in->nu_mm2s, "mm2/s");
    given(steps, "pe", "measured vapour pressure, absolute", in->pe_kpa, "kPa");
}

static void frequency(flc_steps *steps, const flc_trace *trace)
{
    if (!flc_is_nan(trace->reading->f_hz)) {
        return;
    }
    const uint32_t known = trace->result->flags & FLC_FLAG_FLOWING_KNOWN;
    const flc_step step = {"f",
                           "pulse frequency while flowing",
                           trace->result->f_hz,
                           "Hz",
                           !known                                     ? "|N| / t_w"
                           : flc_is_nan(trace->reading->f_flowing_hz) ? "|N| / t_f"
                                                                      : "f_f",
                           SIMILARITY,
                           "",
                           "",
                           FLC_COMPUTED,
                           trace->result->flags &
                               (FLC_FLAG_NO_FLOW | FLC_FLAG_FLOWING_KNOWN | FLC_FLAG_BELOW_CUTOFF | FLC_FLAG_REVERSE)};
    flc_steps_add(steps, step);
}

static void pressure(flc_steps *steps, const flc_trace *trace)
{
    if (trace->result->flags & FLC_FLAG_PRESSURE_CLAMPED) {
        const flc_step step = {"P",
                               "pressure used, gauge",
                               trace->p_used_kpag,
                               "kPa",
                               "0 where P < 0 (policy clamp of the liquid)",
                               PETROLEUM,
                               "2004",
                               "",
                               FLC_FROM_MEMORY,
                               FLC_FLAG_PRESSURE_CLAMPED};
        flc_steps_add(steps, step);
    }
}

static void petroleum(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit,
                      const char *equation, const char *clause)
{
    const flc_step step = {symbol, quantity, value, unit, equation, PETROLEUM, "2004", clause, FLC_FROM_MEMORY, 0};
    flc_steps_add(steps, step);
}

static void base_density(flc_steps *steps, const flc_volume_trace *volume, flc_petroleum_base base)
{
    const flc_volume_factors *f = &volume->factors;
    if (!flc_is_nan(volume->rho_observed_kgm3)) {
        petroleum(steps, "rho_d", "density at the densitometer", volume->rho_observed_kgm3, "kg/m3", "rho_o DF", "");
        petroleum(steps, "rho60", "density at 60 degF", f->rho60_kgm3, "kg/m3",
                  "the rho60 with rho60 CTPL(rho60, t_o, P_o) = rho_d, bracketed to the last bits", "11.1.6.2");
        petroleum(steps, "rho_b", "density at base", f->rho_base_kgm3, "kg/m3", "rho60 CTL60(base)", "11.1.7.2");
    } else if (base == FLC_PETROLEUM_BASE_60F) {
        petroleum(steps, "rho60", "density at 60 degF", f->rho60_kgm3, "kg/m3", "rho_b", "");
    } else {
        petroleum(steps, "rho60", "density at 60 degF", f->rho60_kgm3, "kg/m3",
                  "the rho60 with rho60 CTL60(base) = rho_b, bracketed to the last bits", "11.1.7.1");
    }
}

/* The row of the product group by its name, or the expansion that the user gave in its place. */
static void coefficients(flc_steps *steps, const flc_petroleum_2004_steps *s)
{
    static const char *const rows[] = {"row crude",      "row refined",  "row fuel oil", "row jet",
                                       "row transition", "row gasoline", "row lube"};
    if (s->group == FLC_PETROLEUM_GROUP_NONE) {
        const flc_step zero[] = {
            {"K0", "no product group", s->k0, "kg2/(m6 degF)", "0", "input", "", "", FLC_USER_GIVEN, 0},
            {"K1", "no product group", s->k1, "kg/(m3 degF)", "0", "input", "", "", FLC_USER_GIVEN, 0},
            {"K2", "thermal expansion given", s->k2, "1/degF", "given", "input", "", "", FLC_USER_GIVEN, 0},
        };
        for (size_t i = 0; i < sizeof zero / sizeof zero[0]; i++) {
            flc_steps_add(steps, zero[i]);
        }
        return;
    }
    const char *row = rows[s->group];
    petroleum(steps, "K0", "coefficient of the product group", s->k0, "kg2/(m6 degF)", row, "11.1.6.1");
    petroleum(steps, "K1", "coefficient of the product group", s->k1, "kg/(m3 degF)", row, "11.1.6.1");
    petroleum(steps, "K2", "coefficient of the product group", s->k2, "1/degF", row, "11.1.6.1");
}

static void volume_factors(flc_steps *steps, const flc_trace *trace, const flc_liquid *liquid)
{
    const flc_petroleum_2004_steps *s = &trace->volume.at_meter;
    if (liquid->options.volume == FLC_VOLUME_NONE) {
        return;
    }
    if (liquid->volume.ctl != NULL) {
        flc_explain_plan(&trace->volume, steps);
        return;
    }
    base_density(steps, &trace->volume, liquid->options.base);
    petroleum(steps, "t_F", "temperature", s->t_degf, "degF", "1.8 t + 32", "");
    petroleum(steps, "t*", "temperature on IPTS-68", s->t_star_degf, "degF", "t_F - 1.8 (t90 - t68)", "11.1.5.3");
    coefficients(steps, s);
    petroleum(steps, "A*", "half the shift of 60 degF times alpha60", flc_petroleum_2004_a(s), "1",
              "0.006874897735 ((K0/rho60 + K1)/rho60 + K2)", "11.1.6.1");
    petroleum(steps, "B*", "sensitivity of alpha60 to the density", flc_petroleum_2004_b(s), "1",
              "(2 K0 + K1 rho60)/(K0 + (K1 + K2 rho60) rho60)", "11.1.6.1");
    petroleum(steps, "rho*", "density shifted to IPTS-68", s->rho_star_kgm3, "kg/m3",
              "rho60 {1 + [exp(A*(1 + 0.8 A*)) - 1]/[1 + A*(1 + 1.6 A*) B*]}", "11.1.6.1");
    petroleum(steps, "alpha60", "thermal expansion at 60 degF", s->alpha60_per_degf, "1/degF",
              "(K0/rho* + K1)/rho* + K2", "11.1.6.1");
    petroleum(steps, "dt", "temperature difference", s->dt_degf, "degF", "t* - 60.0068749", "11.1.6.1");
    petroleum(steps, "CTL60", "temperature correction to 60 degF", s->ctl60, "1",
              "exp{-alpha60 dt [1 + 0.8 alpha60 (dt + 0.01374979547)]}", "11.1.6.1");
    petroleum(steps, "CTL60b", "the same at the base temperature", s->ctl60_at_base, "1", "CTL60(base), 1 at 60 degF",
              "11.1.7.1");
    petroleum(steps, "CTL", "temperature correction to base", s->ctl, "1", "CTL60 / CTL60b", "11.1.7.1");
    petroleum(steps, "P_psi", "pressure", s->p_psig, "psi", "P / 6.894757", "");
    petroleum(steps, "Fp", "scaled compressibility factor", s->fp, "1e-5/psi",
              "exp(-1.9947 + 0.00013427 t* + (793920 + 2326 t*)/rho*^2)", "11.1.6.1");
    petroleum(steps, "CPL", "pressure correction", s->cpl, "1", "1/(1 - 1e-5 Fp P_psi)", "11.1.6.1");
    petroleum(steps, "CTPL", "combined correction", s->ctpl, "1", "CTL CPL", "11.1.6.1");
}

static void constant(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit,
                     const char *where, const char *source, flc_provenance status)
{
    if (!flc_is_nan(value)) {
        const flc_step step = {symbol, quantity, value, unit, where, source, "", "", status, 0};
        flc_steps_add(steps, step);
    }
}

static void viscosity(flc_steps *steps, const flc_trace *trace, const flc_liquid *liquid)
{
    const flc_viscosity_trace *v = &trace->viscosity;
    const flc_provenance status = liquid->options.nu_provenance;
    if (liquid->options.viscosity == FLC_VISCOSITY_MODEL) {
        return;
    }
    const double nu = v->run.count > 0 ? v->nu_line_mm2s : v->nu_mm2s; /* before the pressure */
    if (liquid->options.viscosity == FLC_VISCOSITY_BLEND) {
        flc_explain_blend(v, &liquid->options, nu, steps);
        return;
    }
    if (flc_is_nan(v->w)) {
        const int is_measured = liquid->options.viscosity == FLC_VISCOSITY_MEASURED;
        const flc_step step = {"nu",
                               "kinematic viscosity",
                               nu,
                               "mm2/s",
                               is_measured ? "nu_m" : "typical value of the liquid file",
                               "declared viscosity source",
                               "",
                               "",
                               status,
                               v->flags};
        flc_steps_add(steps, step);
        return;
    }
    static const char *const z_of_nu[] = {
        "10^10^W = nu + 0.7 (simple form)",
        "the nu with 10^10^W = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2) (body form)",
        "the nu with 10^10^W = nu + 0.7 + C - D + E - F + G - H (full form)",
    };
    const char *slope = liquid->options.viscosity == FLC_VISCOSITY_ONE_POINT
                            ? "slope of the family, given with the point"
                            : "from the viscosity points";
    const flc_provenance of_slope = flc_liquid_slope_provenance(&liquid->options);
    const double none = flc_nan();
    const int two = v->lines == 2;
    const flc_step line[] = {
        {"T1", "reference point of the line", v->first.t1_k, "K", "from the viscosity points", D341, "2020", "", status,
         0},
        {"W1", "log10 log10 Z there", v->first.w1, "1", "from the viscosity points", D341, "2020", "", status, 0},
        {"B1", "slope of the line", v->first.b, "1", slope, D341, "2020", "", of_slope, 0},
        {"T2", "the same, second liquid", two ? v->second.t1_k : none, "K", "from its points", D341, "2020", "", status,
         0},
        {"W2", "the same, second liquid", two ? v->second.w1 : none, "1", "from its points", D341, "2020", "", status,
         0},
        {"B2", "the same, second liquid", two ? v->second.b : none, "1", "from its points", D341, "2020", "", status,
         0},
        {"rho_b1", "base density of the first liquid", two ? liquid->first.rho_base_kgm3 : none, "kg/m3",
         "of the liquid file", "interpolation by base density", "", "", status, 0},
        {"rho_b2", "base density of the second liquid", two ? liquid->second.rho_base_kgm3 : none, "kg/m3",
         "of the liquid file", "interpolation by base density", "", "", status, 0},
        {"x2", "share of the second liquid", v->share, "1", "(rho_b - rho_b1)/(rho_b2 - rho_b1)",
         "interpolation by base density", "", "", FLC_COMMON_PRACTICE, 0},
        {"W", "log10 log10 Z", v->w, "1",
         two ? "(1 - x2) w1 + x2 w2, each w = W_i - B_i log10((t + 273.15)/T_i)" : "W1 - B1 log10((t + 273.15)/T1)",
         D341, "2020", "", of_slope == FLC_FROM_MEMORY ? of_slope : status, 0},
        {"nu", "kinematic viscosity", nu, "mm2/s", z_of_nu[liquid->options.form], D341, "2020", "",
         FLC_PUBLISHED, v->flags},
    };
    for (size_t i = 0; i < sizeof line / sizeof line[0]; i++) {
        if (!flc_is_nan(line[i].value)) {
            flc_steps_add(steps, line[i]);
        }
    }
}

static void of_meter(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit,
                     const char *source, flc_provenance status)
{
    constant(steps, symbol, quantity, value, unit, "of the meter file", source, status);
}

static void strain(flc_steps *steps, const char *symbol, const char *quantity, double value, const flc_metal *metal,
                   uint32_t flags)
{
    const flc_step step = {symbol,
                           quantity,
                           value,
                           "1",
                           metal->law == FLC_EXPANSION_MEAN ? "alpha (t - T0)"
                                                            : "L(t)/L(T0) - 1, integrated strain of the metal",
                           metal->source,
                           "",
                           "",
                           metal->provenance,
                           flags & FLC_FLAG_BODY_EXTRAPOLATED};
    flc_steps_add(steps, step);
}

/* The hoop strain per pressure, with the formula of the end condition. */
static void stretch(flc_steps *steps, const flc_body_options *options, double strain_per_kpa)
{
    static const char *const formula[] = {
        [FLC_END_NONE] = "0: pressure-balanced body",
        [FLC_END_THIN_WALL] = "D0/(2 E wall)",
        [FLC_END_THIN_WALL_CLOSED] = "D0 (1 - mu/2)/(2 E wall)",
        [FLC_END_LAME_OPEN] = "[(1 - mu) a^2 + (1 + mu) b^2]/[E (b^2 - a^2)], a = D0/2, b = a + wall",
        [FLC_END_LAME_CLOSED] = "[(1 - 2 mu) a^2 + (1 + mu) b^2]/[E (b^2 - a^2)], a = D0/2, b = a + wall",
        [FLC_END_LAME_HELD] = "(1 + mu)[(1 - 2 mu) a^2 + b^2]/[E (b^2 - a^2)], a = D0/2, b = a + wall",
    };
    if (options->end != FLC_END_NONE) {
        const flc_metal *metal = &options->housing;
        of_meter(steps, "wall", "wall of the housing", options->wall_m, "m", BODY, FLC_USER_GIVEN);
        of_meter(steps, "E", "Young's modulus of the housing", metal->modulus_gpa * 1e6, "kPa", metal->source,
                 metal->provenance);
        of_meter(steps, "mu", "Poisson's ratio of the housing", metal->poisson, "1", metal->source, metal->provenance);
    }
    constant(steps, "eps", "hoop strain of the bore per pressure", strain_per_kpa, "1/kPa", formula[options->end], BODY,
             FLC_COMPUTED);
}

static void body(flc_steps *steps, const flc_trace *trace, const flc_meter *meter)
{
    const flc_body_state *b = &trace->body;
    const flc_body_model *m = &meter->body;
    const double none = flc_nan();
    of_meter(steps, "D0", "bore at T0 and P0", m->d0_m, "m", BODY, FLC_USER_GIVEN);
    of_meter(steps, "T0", "reference temperature of D0", m->t0_degc, "degC", BODY, FLC_USER_GIVEN);
    of_meter(steps, "P0", "reference pressure of D0, gauge", m->p0_kpag, "kPa", BODY, FLC_USER_GIVEN);
    of_meter(steps, "k", "part of the bore's area blocked by hub and blade roots", m->area_blocked, "1", BODY,
             FLC_USER_GIVEN);
    of_meter(steps, "alphaH", "linear expansion, housing",
             m->housing.law == FLC_EXPANSION_MEAN ? m->housing.alpha_per_k : none, "1/K", m->housing.source,
             m->housing.provenance);
    of_meter(steps, "alphaR", "linear expansion, rotor",
             m->rotor.law == FLC_EXPANSION_MEAN ? m->rotor.alpha_per_k : none, "1/K", m->rotor.source,
             m->rotor.provenance);
    stretch(steps, &meter->body_options, m->strain_per_kpa);
    strain(steps, "eH", "strain of the housing", b->strain_housing, &m->housing, b->flags);
    strain(steps, "eR", "strain of the rotor", b->strain_rotor, &m->rotor, b->flags);
    const flc_step step[] = {
        {"eP", "hoop strain of the bore", b->strain_bore, "1", "eps (P - P0)", BODY, "", "", FLC_COMPUTED, 0},
        {"D", "bore", b->d_m, "m", "D0 (1 + eH)(1 + eP)", BODY, "", "", FLC_COMPUTED, 0},
        {"B", "K ratio at constant St", b->b_ratio, "1", "(1 - k)/{(1 + eR)[(1 + eH)^2 (1 + eP)^2 - k (1 + eR)^2]}",
         BODY, "", "", FLC_COMPUTED, 0},
    };
    for (size_t i = 0; i < sizeof step / sizeof step[0]; i++) {
        flc_steps_add(steps, step[i]);
    }
}

static void similarity(flc_steps *steps, const char *symbol, const char *quantity, double value, const char *unit,
                       const char *equation, uint32_t flags)
{
    if (!flc_is_nan(value)) {
        const flc_step step = {symbol, quantity, value, unit, equation, SIMILARITY, "", "", FLC_COMPUTED, flags};
        flc_steps_add(steps, step);
    }
}

static void roshko(flc_steps *steps, const flc_trace *trace)
{
    similarity(steps, "Ro", "Roshko number", trace->result->ro, "1", "f D^2 / nu",
               trace->result->flags & (FLC_FLAG_BELOW_CURVE | FLC_FLAG_ABOVE_CURVE));
}

/* The end of the curve and the policy that goes on from it. */
static void beyond(flc_steps *steps, const flc_trace *trace, const flc_meter *meter)
{
    const flc_result *r = trace->result;
    const flc_curve *c = meter->curve;
    const int is_below = (r->flags & FLC_FLAG_BELOW_CURVE) != 0;
    const int holds = (is_below ? meter->options.below : meter->options.above) == FLC_BEYOND_HOLD_END;
    of_meter(steps, "x_e", "end of the curve", is_below ? c->x_low : c->x_high, "1", "calibration curve",
             FLC_USER_GIVEN);
    of_meter(steps, "St_e", "St there", is_below ? c->segment[0].c[0] : c->st_high, "1", "calibration curve",
             FLC_USER_GIVEN);
    of_meter(steps, "m_e", "dSt/dx there", is_below ? c->slope_low : c->slope_high, "1", "calibration curve",
             FLC_USER_GIVEN);
    similarity(steps, "St", "Strouhal number", r->st, "1",
               holds ? "St_e (policy hold_end)" : "St_e + m_e (x - x_e) (policy extend_slope)", FLC_FLAG_EXTRAPOLATED);
    similarity(steps, "s", "slope of the curve, d ln St/d ln Ro", r->slope, "1", "m_e / St", 0);
}

/* What the certificate's numbers were, before they became Ro and St. */
static void declared(flc_steps *steps, const flc_curve *curve)
{
    static const char *const conventions[] = {"dimensionless", "normalised", "raw"};
    static const char *const treatments[] = {"as_run", "already_corrected"};
    const flc_step step[] = {
        {"conv", "convention of the certificate, by number", (double)curve->reference.convention, "1",
         conventions[curve->reference.convention], "calibration curve", "", "", FLC_USER_GIVEN, 0},
        {"treat", "body in the certificate, by number", (double)curve->reference.treatment, "1",
         treatments[curve->reference.treatment], "calibration curve", "", "", FLC_USER_GIVEN, 0},
    };
    flc_steps_add(steps, step[0]);
    flc_steps_add(steps, step[1]);
}

/* The row of the curve that was used, so that St can be redone by hand. */
static void curve(flc_steps *steps, const flc_trace *trace, const flc_meter *meter)
{
    static const char *const symbols[] = {"c0", "c1", "c2", "c3"};
    const flc_result *r = trace->result;
    if (flc_is_nan(r->st)) {
        return;
    }
    declared(steps, meter->curve);
    similarity(steps, "x", "abscissa of the curve", trace->curve.ln_ro, "1", "ln Ro", 0);
    if (r->flags & FLC_FLAG_EXTRAPOLATED) {
        beyond(steps, trace, meter);
        return;
    }
    const flc_curve_segment *segment = &meter->curve->segment[trace->curve.segment];
    of_meter(steps, "x_i", "left knot of the segment", segment->x, "1", "calibration curve", FLC_USER_GIVEN);
    for (size_t j = 0; j < 4; j++) {
        of_meter(steps, symbols[j], "coefficient of the segment", segment->c[j], "1", "calibration curve",
                 FLC_USER_GIVEN);
    }
    similarity(steps, "St", "Strouhal number", r->st, "1", "c0 + u (c1 + u (c2 + u c3)), u = x - x_i", 0);
    similarity(steps, "s", "slope of the curve, d ln St/d ln Ro", r->slope, "1", "(c1 + u (2 c2 + u 3 c3)) / St", 0);
}

static void results(flc_steps *steps, const flc_trace *trace, const flc_meter *meter, const flc_liquid *liquid)
{
    const flc_result *r = trace->result;
    curve(steps, trace, meter);
    similarity(steps, "K", "K-factor at the meter", r->k_per_m3, "1/m3", "[4 St/(pi D0^3)] B", 0);
    similarity(steps, "q", "volume flow while flowing", r->q_m3s, "m3/s", "f / K", 0);
    similarity(steps, "Re", "Reynolds number", r->re, "1", "4 q/(pi D nu)", 0);
    similarity(steps, "V", "gross volume", r->v_m3, "m3", "N / K", 0);
    similarity(steps, "q_b", "volume flow at base", r->q_base_m3s, "m3/s", "q CTPL", 0);
    similarity(steps, "V_b", "base volume", r->v_base_m3, "m3", "V CTPL", 0);
    if (!flc_is_nan(r->u_v_nu)) {
        constant(steps, "u(nu)", "relative standard uncertainty of nu", liquid->options.u_nu_relative, "1",
                 "of the liquid file", "declared viscosity source", FLC_USER_GIVEN);
    }
    similarity(steps, "dq/df", "sensitivity, d ln q/d ln f", r->dlnq_dlnf, "1", "1 - s", 0);
    similarity(steps, "dq/dnu", "sensitivity, d ln q/d ln nu", r->dlnq_dlnnu, "1", "s", 0);
    similarity(steps, "dq/dD", "sensitivity, d ln q/d ln D in Ro", r->dlnq_dlnd, "1", "-2 s", 0);
    similarity(steps, "dq/dB", "sensitivity, d ln q/d ln B", r->dlnq_dlnb, "1", "-1", 0);
    similarity(steps, "u_nu", "relative standard uncertainty of V from nu", r->u_v_nu, "1", "|s| u(nu)", 0);
    similarity(steps, "f_x", "highest frequency that partial flow may have had", trace->f_bound_hz, "Hz",
               "the smaller of f_m and the frequency at the top of the curve", 0);
    similarity(steps, "dK", "bound on the relative error of K", r->k_bound, "1",
               "largest |St/St(Ro) - 1| from f up to f_x", r->flags & FLC_FLAG_PARTIAL_FLOW);
}

void flc_steps_of(const flc_meter *meter, const flc_liquid *liquid, const flc_trace *trace, flc_steps *steps)
{
    inputs(steps, trace->reading);
    if (trace->reached >= FLC_STAGE_FREQUENCY) {
        frequency(steps, trace);
    }
    if (trace->has_flow && trace->reached >= FLC_STAGE_VOLUME_FACTORS) {
        pressure(steps, trace);
        volume_factors(steps, trace, liquid);
    }
    if (trace->has_flow && trace->reached >= FLC_STAGE_VISCOSITY) {
        viscosity(steps, trace, liquid);
        flc_explain_model(&trace->viscosity, steps);
    }
    if (trace->has_flow && trace->reached >= FLC_STAGE_BODY) {
        body(steps, trace, meter);
        roshko(steps, trace);
    }
    if (trace->reached == FLC_STAGE_RESULT) {
        results(steps, trace, meter, liquid);
    }
}

static flc_status check(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, flc_error *error)
{
    if (meter == NULL || liquid == NULL || reading == NULL) {
        return flc_fail(error, FLC_E_NULL,
                        meter == NULL    ? "meter"
                        : liquid == NULL ? "liquid"
                                         : "reading",
                        -1, flc_nan(), flc_nan(), NULL);
    }
    if (reading->size != sizeof *reading) {
        return flc_fail(error, FLC_E_SIZE, "reading", -1, (double)reading->size, (double)sizeof *reading, NULL);
    }
    return FLC_OK;
}

flc_status flc_explain(const flc_meter *meter, const flc_liquid *liquid, const flc_reading *reading, flc_step *steps,
                       size_t capacity, size_t *count, flc_error *error)
{
    flc_error_clear(error);
    if (count == NULL || (steps == NULL && capacity > 0)) {
        return flc_fail(error, FLC_E_NULL, count == NULL ? "count" : "steps", -1, flc_nan(), flc_nan(), NULL);
    }
    *count = 0;
    flc_status status = check(meter, liquid, reading, error);
    if (status != FLC_OK) {
        return status;
    }
    flc_fp_state fp = flc_fp_enter();
    flc_result result;
    flc_trace trace;
    status = flc_meter_trace(meter, liquid, reading, &result, &trace, error);
    flc_steps list = {NULL, 0, 0};
    flc_steps_of(meter, liquid, &trace, &list);
    *count = list.count;
    if (list.count <= capacity) {
        list = (flc_steps){steps, capacity, 0};
        flc_steps_of(meter, liquid, &trace, &list);
    } else {
        status = flc_fail(error, FLC_E_BUFFER, "capacity", -1, (double)capacity, (double)list.count, NULL);
    }
    flc_fp_leave(fp);
    return status;
}
