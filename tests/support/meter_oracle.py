# SPDX-License-Identifier: Apache-2.0
"""Strains of a body, its K ratios, prover steel, similarity and performance recomputed with 40 digits, apart from the
library.

Written from the formulas, not from the C. value, condition, draw and NAMES as in viscosity_oracle.py.
"""

from __future__ import annotations

import random
from typing import Any

from drawing import arguments_of, number, point
from petroleum_oracle import EXACT, NoValue, mpf
from viscosity_formulas import Formulas
from viscosity_oracle import evaluator, sensitivity

Inputs = dict[str, Any]
PI = "3.14159265358979323846264338327950288419716939937511"


class Strain(Formulas):
    """A cylinder, inner radius a, outer b, under inner pressure; E in GPa, pressure in MPa."""

    def _thin(self, p: Any, inner: Any, outer: Any, e: Any) -> Any:
        return p * inner / (e * 1000 * (outer - inner))

    def _thick(self, p: Any, inner: Any, outer: Any, e: Any, inner_part: Any, outer_part: Any) -> Any:
        a2, b2 = (inner / 2) ** 2, (outer / 2) ** 2
        return p * (inner_part * a2 + outer_part * b2) / (e * 1000 * (b2 - a2))

    def area_strain_thin_wall(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return 2 * self._thin(p_mpag, id_mm, od_mm, e_gpa)

    def hoop_strain_thin_wall(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thin(p_mpag, id_mm, od_mm, e_gpa)

    def hoop_strain_thin_wall_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thin(p_mpag, id_mm, od_mm, e_gpa) * (1 - poisson / 2)

    def axial_strain_thin_wall_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thin(p_mpag, id_mm, od_mm, e_gpa) * (1 - 2 * poisson) / 2

    def volume_strain_thin_wall_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thin(p_mpag, id_mm, od_mm, e_gpa) * (5 - 4 * poisson) / 2

    def hoop_strain_lame_open(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thick(p_mpag, id_mm, od_mm, e_gpa, 1 - poisson, 1 + poisson)

    def axial_strain_lame_open(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thick(p_mpag, id_mm, od_mm, e_gpa, -2 * poisson, 0)

    def hoop_strain_lame_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thick(p_mpag, id_mm, od_mm, e_gpa, 1 - 2 * poisson, 1 + poisson)

    def axial_strain_lame_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thick(p_mpag, id_mm, od_mm, e_gpa, 1 - 2 * poisson, 0)

    def hoop_strain_lame_held(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return (1 + poisson) * self._thick(p_mpag, id_mm, od_mm, e_gpa, 1 - 2 * poisson, 1)

    def area_strain_lame_open(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        hoop = self.hoop_strain_lame_open(p_mpag, id_mm, od_mm, e_gpa, poisson)
        return hoop * (2 + hoop)

    def area_strain_lame_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        hoop = self.hoop_strain_lame_closed(p_mpag, id_mm, od_mm, e_gpa, poisson)
        return hoop * (2 + hoop)

    def volume_strain_lame_closed(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self._thick(p_mpag, id_mm, od_mm, e_gpa, 3 * (1 - 2 * poisson), 2 * (1 + poisson))

    def bore_displacement_lame_held_m(self, p_mpag: Any, id_mm: Any, od_mm: Any, e_gpa: Any, poisson: Any) -> Any:
        return self.hoop_strain_lame_held(p_mpag, id_mm, od_mm, e_gpa, poisson) * id_mm / 2000

    def hoop_stress_lame_mpa(self, p_mpag: Any, id_mm: Any, od_mm: Any, r_mm: Any) -> Any:
        a2, b2 = (id_mm / 2) ** 2, (od_mm / 2) ** 2
        return p_mpag * a2 * (b2 / r_mm ** 2 + 1) / (b2 - a2)


class KRatio(Formulas):
    """K of an ideal rotor, of one metal or two; dt is T - T0."""

    def _bracket(self, housing: Any, rotor: Any, bore: Any, hub: Any) -> Any:
        return rotor + 2 * (housing * bore ** 2 - rotor * hub ** 2) / (bore ** 2 - hub ** 2)

    def k_ratio_two_metal(self, dt_k: Any, alpha_housing_per_k: Any, alpha_rotor_per_k: Any, bore_radius_mm: Any,
                          hub_radius_mm: Any, bore_hoop_strain: Any) -> Any:
        housing, rotor = (1 + alpha * dt_k for alpha in (alpha_housing_per_k, alpha_rotor_per_k))
        bore2, hub2 = (bore_radius_mm * housing * (1 + bore_hoop_strain)) ** 2, (hub_radius_mm * rotor) ** 2
        if bore2 <= hub2:
            raise NoValue
        return (bore_radius_mm ** 2 - hub_radius_mm ** 2) / (rotor * (bore2 - hub2))

    def k_ratio_two_metal_linear(self, dt_k: Any, alpha_housing_per_k: Any, alpha_rotor_per_k: Any, bore_radius_mm: Any,
                                 hub_radius_mm: Any, bore_hoop_strain: Any) -> Any:
        k = (hub_radius_mm / bore_radius_mm) ** 2
        warm = self._bracket(alpha_housing_per_k, alpha_rotor_per_k, bore_radius_mm, hub_radius_mm) * dt_k
        return 1 - warm - 2 * bore_hoop_strain / (1 - k)

    def k_ratio_one_metal(self, alpha_per_k: Any, dt_k: Any) -> Any:
        return 1 / (1 + alpha_per_k * dt_k) ** 3

    def k_change_two_metal_pct(self, dt_k: Any, alpha_housing_per_k: Any, alpha_rotor_per_k: Any, bore_radius_mm: Any,
                               hub_radius_mm: Any) -> Any:
        return -100 * dt_k * self._bracket(alpha_housing_per_k, alpha_rotor_per_k, bore_radius_mm, hub_radius_mm)

    def k_change_no_hub_pct(self, dt_k: Any, alpha_housing_per_k: Any, alpha_rotor_per_k: Any) -> Any:
        return -100 * dt_k * (alpha_rotor_per_k + 2 * alpha_housing_per_k)

    def effective_expansion_per_k(self, alpha_housing_per_k: Any, alpha_rotor_per_k: Any, bore_radius_mm: Any,
                                  hub_radius_mm: Any) -> Any:
        return self._bracket(alpha_housing_per_k, alpha_rotor_per_k, bore_radius_mm, hub_radius_mm) / 3

    def k_change_constant_expansion_pct(self, alpha_per_k: Any, dt_k: Any) -> Any:
        return -300 * alpha_per_k * dt_k

    def k_pressure_change_pct(self, dp_mpa: Any, radius_mm: Any, wall_mm: Any, e_gpa: Any, poisson: Any,
                              area_ratio: Any) -> Any:
        return -100 * dp_mpa * radius_mm * (2 - poisson) / (1000 * e_gpa * wall_mm * (1 - area_ratio))


class Prover(Formulas):
    def cts_prover_pipe(self, gc_per_degf: Any = None, t_degf: Any = None, tb_degf: Any = None, gc_per_degc: Any = None,
                        t_degc: Any = None, tb_degc: Any = None) -> Any:
        if gc_per_degf is None:
            return 1 + gc_per_degc * (t_degc - tb_degc)
        return 1 + gc_per_degf * (t_degf - tb_degf)

    def cts_prover_small_volume(self, ga_per_degf: Any, gl_rod_per_degf: Any, t_degf: Any, t_rod_degf: Any,
                                tb_degf: Any) -> Any:
        return (1 + ga_per_degf * (t_degf - tb_degf)) * (1 + gl_rod_per_degf * (t_rod_degf - tb_degf))

    def cps_prover(self, p_psig: Any = None, id_in: Any = None, wall_in: Any = None, e_psi: Any = None,
                   p_kpag: Any = None, id_mm: Any = None, wall_mm: Any = None, e_kpa: Any = None) -> Any:
        if p_psig is None:
            return 1 + p_kpag * id_mm / (e_kpa * wall_mm)
        return 1 + p_psig * id_in / (e_psi * wall_in)


class Similarity(Formulas):
    """In m, s, m3 throughout."""

    def _flow(self, q_lpm: Any) -> Any:
        return q_lpm / 60000

    def _bore(self, d0_mm: Any, alpha_per_k: Any, t_degc: Any, t0_degc: Any) -> Any:
        return d0_mm / 1000 * self.diameter_ratio(alpha_per_k, t_degc, t0_degc)

    def pulse_frequency_hz(self, k_per_usgal: Any, q_lpm: Any = None, q_usgpm: Any = None) -> Any:
        gallons = q_usgpm if q_lpm is None else q_lpm / self.n("3.785411784")
        return k_per_usgal * gallons / 60

    def pipe_velocity_m_per_s(self, q_lpm: Any, d_mm: Any) -> Any:
        return 4 * self._flow(q_lpm) / (self.n(PI) * (d_mm / 1000) ** 2)

    def strouhal(self, d_mm: Any, k_per_usgal: Any = None, k_per_m3: Any = None) -> Any:
        k = k_per_m3 if k_per_usgal is None else k_per_usgal / self.n("0.003785411784")
        return self.n(PI) / 4 * k * (d_mm / 1000) ** 3

    def reynolds(self, q_lpm: Any, d_mm: Any, nu_mm2s: Any) -> Any:
        return self.pipe_velocity_m_per_s(q_lpm, d_mm) * d_mm * 1000 / nu_mm2s

    def roshko(self, f_hz: Any, d_mm: Any, nu_mm2s: Any) -> Any:
        return f_hz * d_mm ** 2 / nu_mm2s

    def frequency_over_viscosity(self, f_hz: Any, nu_mm2s: Any) -> Any:
        return f_hz / nu_mm2s

    def roshko_from_frequency_over_viscosity(self, f_over_nu: Any, d_mm: Any) -> Any:
        return f_over_nu * d_mm ** 2

    def reynolds_from_roshko(self, roshko: Any, strouhal: Any) -> Any:
        return roshko / strouhal

    def diameter_ratio(self, alpha_per_k: Any, t_degc: Any, t0_degc: Any) -> Any:
        return 1 + alpha_per_k * (t_degc - t0_degc)

    def roshko_compensated(self, f_hz: Any, d0_mm: Any, nu_mm2s: Any, alpha_per_k: Any, t_degc: Any,
                           t0_degc: Any) -> Any:
        return f_hz * self._bore(d0_mm, alpha_per_k, t_degc, t0_degc) ** 2 * 10 ** 6 / nu_mm2s

    def flow_from_strouhal_lpm(self, f_hz: Any, strouhal: Any, d0_mm: Any, alpha_per_k: Any, t_degc: Any,
                               t0_degc: Any) -> Any:
        bore = self._bore(d0_mm, alpha_per_k, t_degc, t0_degc)
        return 60000 * self.n(PI) * f_hz * bore ** 3 / (4 * strouhal)

    def k_from_strouhal_per_m3(self, strouhal: Any, d_mm: Any) -> Any:
        return 4 * strouhal / (self.n(PI) * (d_mm / 1000) ** 3)

    def strouhal_normalised(self, k: Any, diameter_ratio: Any) -> Any:
        return k * diameter_ratio ** 3

    def roshko_normalised(self, f_hz: Any, nu_mm2s: Any, diameter_ratio: Any) -> Any:
        return f_hz / nu_mm2s * diameter_ratio ** 2

    def flow_sensitivity_pct(self, s: Any, dnu_pct: Any, df_pct: Any, dd_pct: Any) -> Any:
        return (1 - s) * df_pct + s * dnu_pct + (3 - 2 * s) * dd_pct

    def curve_error_pct(self, strouhal_new: Any, strouhal_curve: Any) -> Any:
        return 100 * (strouhal_new - strouhal_curve) / strouhal_curve

    def bearing_term_per_n_m2(self, rho_kgm3: Any, q_m3s: Any) -> Any:
        return 1 / (rho_kgm3 * q_m3s ** 2)


class Performance(Formulas):
    KS = {"reducer": "0.75", "elbow": "1", "two_elbows_in_plane": "1.25", "two_elbows_out_of_plane": "2.5"}

    def linearity_mid_pct(self, k: list) -> Any:
        return 100 * (max(k) - min(k)) / (max(k) + min(k))

    def linearity_mean_pct(self, k: list) -> Any:
        mean = sum(k) / len(k)
        return 100 * max(abs(value - mean) for value in k) / mean

    def repeatability_pct(self, runs: list) -> Any:
        return 100 * (max(runs) - min(runs)) / min(runs)

    def turndown(self, q_max: Any, q_min: Any) -> Any:
        return q_max / q_min

    def meter_factor(self, true_volume: Any, indicated_volume: Any) -> Any:
        return true_volume / indicated_volume

    def back_pressure_min(self, dp: Any, pe: Any) -> Any:
        return 2 * dp + self.n("1.25") * pe

    def straight_run_estimate_diameters(self, fitting: str, friction_factor: Any) -> Any:
        return self.n("0.35") * self.n(self.KS[fitting]) / friction_factor

    def minimum_flow_ratio(self, density: Any, density_reference: Any) -> Any:
        return (density_reference / density) ** self.n("0.5")

    def coating_k_change_pct(self, thickness_um: Any, d_mm: Any) -> Any:
        return 400 * thickness_um / (1000 * d_mm)

    def spin_down_time_s(self, inertia: Any, b0: Any, b1: Any, omega0: Any) -> Any:
        x = b1 * omega0 / b0
        log = self.ln(1 + x) if x > 1e-9 else x - x ** 2 / 2 + x ** 3 / 3 - x ** 4 / 4  # of ln(1 + x): keeps 40 digits
        return inertia / b1 * log

    def clock_frequency_min_hz(self, time_s: Any, ticks: Any) -> Any:
        return ticks / time_s

    def pulses_interpolated(self, n: Any, t_pulses_s: Any, t_detectors_s: Any) -> Any:
        return n * t_detectors_s / t_pulses_s


FAMILIES = (Strain, KRatio, Prover, Similarity, Performance)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())
_evaluate = evaluator(FAMILIES)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|."""
    return sensitivity(_evaluate, name, inputs)


# --- points of the domain ---------------------------------------------------------------------------------------------

RANGES = {
    "p_mpag": (-0.1, 200), "id_mm": (1, 3000), "e_gpa": (1, 1000), "poisson": (0, 0.5), "dt_k": (-300, 800),
    "alpha_housing_per_k": (-1e-5, 3e-4), "alpha_rotor_per_k": (-1e-5, 3e-4), "bore_radius_mm": (0.5, 1500),
    "bore_hoop_strain": (-0.01, 0.01), "alpha_per_k": (-1e-5, 3e-4), "dp_mpa": (-200, 200), "radius_mm": (0.5, 1500),
    "wall_mm": (0.1, 500), "area_ratio": (0, 0.95), "ga_per_degf": (1e-7, 1e-4), "gl_rod_per_degf": (1e-7, 1e-4),
    "t_degf": (-100, 400), "t_rod_degf": (-100, 400), "tb_degf": (-100, 400), "k_per_usgal": (1e-9, 1e12),
    "k_per_m3": (1e-9, 1e15), "q_lpm": (1e-6, 1e9), "q_usgpm": (1e-6, 1e9), "d_mm": (0.1, 5000), "d0_mm": (0.1, 5000),
    "nu_mm2s": (1e-4, 1e8), "f_hz": (1e-6, 1e9), "f_over_nu": (1e-6, 1e12), "roshko": (1e-6, 1e15),
    "strouhal": (1e-9, 1e9), "t_degc": (-273.15, 600), "t0_degc": (-273.15, 600), "k": (1e-9, 1e15),
    "diameter_ratio": (0.5, 2), "s": (-10, 10), "dnu_pct": (-1000, 1000), "df_pct": (-1000, 1000),
    "dd_pct": (-1000, 1000), "strouhal_curve": (1.2e-9, 9e8), "rho_kgm3": (0.01, 30000), "q_m3s": (1e-12, 1e6),
    "q_min": (1e-12, 1e9), "true_volume": (1e-12, 1e15), "indicated_volume": (1e-12, 1e15), "dp": (0, 10000),
    "pe": (0, 10000), "fitting": list(Performance.KS), "friction_factor": (0.005, 0.1), "density": (1e-6, 1e6),
    "density_reference": (1e-6, 1e6), "thickness_um": (-10000, 10000), "inertia": (1e-15, 1e6), "b0": (1e-15, 1e6),
    "b1": (1e-15, 1e6), "omega0": (1e-9, 1e6), "time_s": (1e-9, 1e9), "ticks": (1, 1e15), "t_pulses_s": (1e-9, 1e9),
    "t_detectors_s": (1e-9, 1e9),
}
PROVER = {"gc_per_degf": (1e-7, 1e-4), "gc_per_degc": (1e-7, 1.8e-4), "t_degc": (-75, 205), "tb_degc": (-75, 205),
          "t_degf": (-100, 400), "tb_degf": (-100, 400), "p_psig": (-15, 15000), "id_in": (0.1, 200),
          "wall_in": (0.01, 20), "e_psi": (1e6, 1e8), "p_kpag": (-102, 100000), "id_mm": (2, 5000),
          "wall_mm": (0.2, 500), "e_kpa": (6e6, 7e8)}


def _draw_prover(name: str, rng: random.Random, names: list[str]) -> Inputs:
    """In one of the two systems of units."""
    metric = rng.random() < 0.5
    return point(rng, [argument for argument in names
                       if argument.endswith(("degc", "kpag", "mm", "kpa")) == metric], PROVER)


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity."""
    family = next(family for family in FAMILIES if name in vars(family))
    names = arguments_of(family, name)
    if name in ("cts_prover_pipe", "cps_prover"):
        return _draw_prover(name, rng, names)
    if name in ("linearity_mid_pct", "linearity_mean_pct", "repeatability_pct"):
        near = number(rng, 1e-6, 1e12)
        return {names[0]: [near * rng.uniform(0.9, 1.1) for _ in range(rng.randint(2, 8))]}
    if name in ("pulse_frequency_hz", "strouhal"):  # one of two alternatives
        names.remove(rng.choice(names[-2:]))
    inputs = point(rng, names, RANGES)
    if "id_mm" in names:
        inputs["od_mm"] = min(4000.0, inputs["id_mm"] * (1 + number(rng, 0.005, 3)))
    if "r_mm" in names:
        inputs["r_mm"] = rng.uniform(inputs["id_mm"] / 2, inputs["od_mm"] / 2)
    if "hub_radius_mm" in names:
        inputs["hub_radius_mm"] = inputs["bore_radius_mm"] * rng.uniform(0, 0.95)
    if "strouhal_new" in names:
        inputs["strouhal_new"] = inputs["strouhal_curve"] * rng.uniform(0.9, 1.1)
    if "q_max" in names:
        inputs["q_max"] = inputs["q_min"] * number(rng, 1, 1000)
    if "n" in names:
        inputs["n"] = float(round(number(rng, 1, 1e12)))
    return inputs
