# SPDX-License-Identifier: Apache-2.0
"""Quantities of a ticket, provings, legal limits, pulses, rounding and the formulas of metals recomputed with 40 digits,
apart from the library.

Written from the formulas, not from the C; coefficients are read from the tables as printed. value, condition, draw and
NAMES as in viscosity_oracle.py. A quantity that is rounded has no value here closer to a tie than the rounding of
binary64 allows to judge, and its condition number is that of the unrounded one.
"""

from __future__ import annotations

import random
from typing import Any

from drawing import arguments_of, number, point
from petroleum_oracle import EXACT, NoValue, mpf
from viscosity_formulas import Formulas, printed_rows
from viscosity_oracle import evaluator, sensitivity

Inputs = dict[str, Any]


class Rounded(Formulas):
    def _round(self, x: Any, decimals: Any) -> Any:
        """Half away from zero; None: not rounded."""
        if decimals is None:
            return x
        scaled = abs(x) * 10 ** decimals
        below = self.floor(scaled)
        if abs(scaled - below - self.n("0.5")) < self.n("1e-9") + scaled * self.n("1e-14"):
            raise NoValue
        whole = below + (1 if scaled - below > self.n("0.5") else 0)
        return (whole if x > 0 else -whole) / 10 ** decimals


class Rounding(Rounded):
    def round_half_away(self, value: Any, decimals: Any) -> Any:
        return self._round(value, decimals)


class Quantities(Rounded):
    def net_observed_volume(self, total_observed: Any, free_water: Any) -> Any:
        return total_observed - free_water

    def indicated_volume(self, opening: Any, closing: Any) -> Any:
        return closing - opening

    def indicated_volume_from_pulses(self, pulses: Any, nominal_k: Any) -> Any:
        return pulses / nominal_k

    def standard_volume(self, gross: Any, vcf: Any) -> Any:
        return gross * vcf

    def cpl(self, p: Any, f: Any, pe: Any = 0) -> Any:
        part = (p - max(pe, 0 * p)) * f
        if part >= 1:
            raise NoValue
        return 1 / (1 - part)

    def ccf(self, mf: Any, ctl: Any, cpl: Any, decimals: Any = None) -> Any:
        return self._round(mf * ctl * cpl, decimals)

    def csw(self, sw_pct: Any, decimals: Any = None) -> Any:
        return self._round(1 - sw_pct / 100, decimals)

    def gsv(self, iv: Any, mf: Any, ctl: Any, cpl: Any, ccf_decimals: Any = None, volume_decimals: Any = None) -> Any:
        return self._round(iv * self.ccf(mf, ctl, cpl, ccf_decimals), volume_decimals)

    def nsv(self, iv: Any, mf: Any, ctl: Any, cpl: Any, sw_pct: Any, ccf_decimals: Any = None, csw_decimals: Any = None,
            volume_decimals: Any = None) -> Any:
        gsv = self.gsv(iv, mf, ctl, cpl, ccf_decimals, volume_decimals)
        return self._round(gsv * self.csw(sw_pct, csw_decimals), volume_decimals)

    def swv(self, iv: Any, mf: Any, ctl: Any, cpl: Any, sw_pct: Any, ccf_decimals: Any = None, csw_decimals: Any = None,
            volume_decimals: Any = None) -> Any:
        gsv = self.gsv(iv, mf, ctl, cpl, ccf_decimals, volume_decimals)
        return gsv - self.nsv(iv, mf, ctl, cpl, sw_pct, ccf_decimals, csw_decimals, volume_decimals)

    def gsv_rounding_effect_ppm(self, iv: Any, mf: Any, ctl: Any, cpl: Any, ccf_decimals: Any = None,
                                volume_decimals: Any = None) -> Any:
        return 10 ** 6 * (self.gsv(iv, mf, ctl, cpl, ccf_decimals, volume_decimals) / self.gsv(iv, mf, ctl, cpl) - 1)

    def composite_meter_factor(self, mf: Any, cpl_meter: Any, decimals: Any = None) -> Any:
        return self._round(mf * cpl_meter, decimals)

    def k_factor_actual(self, nominal_k: Any, mf: Any) -> Any:
        return nominal_k / mf

    def flow_weighted_average(self, volumes: list, values: list) -> Any:
        return sum(v * x for v, x in zip(volumes, values, strict=True)) / sum(volumes)

    def weight_in_air_factor(self, rho_kgm3: Any, rho_air_kgm3: Any, rho_weights_kgm3: Any) -> Any:
        return (1 - rho_air_kgm3 / rho_kgm3) / (1 - rho_air_kgm3 / rho_weights_kgm3)

    def weight_in_air_factor_petroleum(self, rho_kgm3: Any) -> Any:
        return (rho_kgm3 - self.n("1.1")) / rho_kgm3

    def weight_in_air_difference_ppm(self, rho_kgm3: Any) -> Any:
        other = self.weight_in_air_factor(rho_kgm3, self.n("1.2"), self.n(8000))
        return 10 ** 6 * (self.weight_in_air_factor_petroleum(rho_kgm3) / other - 1)


class Proving(Rounded):
    def ccf_prover(self, cts: Any, cps: Any, ctl: Any, cpl: Any) -> Any:
        return cts * cps * ctl * cpl

    def gsv_prover(self, base_volume: Any, cts: Any, cps: Any, ctl: Any, cpl: Any) -> Any:
        return base_volume * cts * cps * ctl * cpl

    def isv_meter(self, pulses: list, nominal_k: Any, ctl: Any, cpl: Any) -> Any:
        return sum(pulses) / len(pulses) / nominal_k * ctl * cpl

    def mf_pipe_prover(self, base_volume: Any, nominal_k: Any, pulses: list, cts: Any, cps: Any, ctl_prover: Any,
                       cpl_prover: Any, ctl_meter: Any, cpl_meter: Any, decimals: Any = None) -> Any:
        prover = self.gsv_prover(base_volume, cts, cps, ctl_prover, cpl_prover)
        return self._round(prover / self.isv_meter(pulses, nominal_k, ctl_meter, cpl_meter), decimals)

    def mf_pipe_prover_average_mf(self, base_volume: Any, nominal_k: Any, pulses: list, cts: Any, cps: Any,
                                  ctl_prover: Any, cpl_prover: Any, ctl_meter: Any, cpl_meter: Any) -> Any:
        prover = self.gsv_prover(base_volume, cts, cps, ctl_prover, cpl_prover)
        return sum(prover / self.isv_meter([n], nominal_k, ctl_meter, cpl_meter) for n in pulses) / len(pulses)

    def mf_method_difference_ppm(self, pulses: list) -> Any:
        """mean N mean(1/N) - 1 as the sum over the pairs of (N_i - N_j)^2 / (n^2 N_i N_j): also right in binary64."""
        pairs = [(a, b) for i, a in enumerate(pulses) for b in pulses[:i]]
        return 10 ** 6 * sum((a - b) ** 2 / (a * b) for a, b in pairs) / len(pulses) ** 2

    def bidirectional_pulses(self, pulses_out: Any, pulses_back: Any) -> Any:
        return pulses_out + pulses_back

    def mf_tank_prover(self, upper: Any, lower: Any, gc_per_degc: Any, t_degc: Any, tb_degc: Any, ctl_prover: Any,
                       iv: Any, ctl_meter: Any, cpl_meter: Any) -> Any:
        cts = 1 + gc_per_degc * (t_degc - tb_degc)
        return (upper - lower) * cts * ctl_prover / (iv * ctl_meter * cpl_meter)

    def mf_master_meter(self, iv_master: Any, mf_master: Any, ctl_master: Any, cpl_master: Any, iv: Any, ctl_meter: Any,
                        cpl_meter: Any) -> Any:
        return iv_master * mf_master * ctl_master * cpl_master / (iv * ctl_meter * cpl_meter)

    def minimum_pulses_without_interpolation(self, resolution: Any) -> Any:
        return 1 / resolution

    def mf_chart_mean(self, mf: list) -> Any:
        return sum(mf) / len(mf)

    def mf_chart_stdev(self, mf: list) -> Any:
        mean = self.mf_chart_mean(mf)
        return (sum((x - mean) ** 2 for x in mf) / (len(mf) - 1)) ** self.n("0.5")

    def mf_chart_sigma_moving_range(self, mf: list, d2: Any) -> Any:
        return sum(abs(a - b) for a, b in zip(mf[1:], mf)) / (len(mf) - 1) / d2

    def mf_chart_upper_limit(self, mf: list, d2: Any, sigmas: Any) -> Any:
        return self.mf_chart_mean(mf) + sigmas * self.mf_chart_sigma_moving_range(mf, d2)

    def mf_chart_lower_limit(self, mf: list, d2: Any, sigmas: Any) -> Any:
        return self.mf_chart_mean(mf) - sigmas * self.mf_chart_sigma_moving_range(mf, d2)


class Limits(Formulas):
    """Directive 2014/32/EU, Annex VII."""

    LINES = {row["accuracy_class"]: row for row in printed_rows("mid_2014_annex7/mid_2014_annex7_classes")}
    # volumes from, share of line A in force, and the volume that it is of (None: the measured one)
    SMALL = (("0", 4, "0.1"), ("0.1", 4, None), ("0.2", 2, "0.4"), ("0.4", 2, None), ("1", 1, "2"), ("2", 1, None))

    def _line(self, accuracy_class: str, line: str) -> Any:
        return self.n(self.LINES[accuracy_class][f"line_{line}_pct"])

    def _printed(self, volume: Any, accuracy_class: str) -> Any:
        share, of = next((s, v) for start, s, v in reversed(self.SMALL) if volume >= self.n(start))
        return share * self._line(accuracy_class, "a") * (volume if of is None else self.n(of)) / 100

    def mpe_conversion_device_pct(self, accuracy_class: str) -> Any:
        return self._line(accuracy_class, "a") - self._line(accuracy_class, "b")

    def mpe_calculator_pct(self, accuracy_class: str) -> Any:
        return self._line(accuracy_class, "a") / 10

    def emin_l(self, mmq_l: Any, accuracy_class: str) -> Any:
        return 2 * self._printed(mmq_l, accuracy_class)

    def mpe_quantity_l(self, volume_l: Any, accuracy_class: str, mmq_l: Any, scale_interval_l: Any) -> Any:
        return max(self._printed(volume_l, accuracy_class), self.emin_l(mmq_l, accuracy_class), 2 * scale_interval_l)

    def mpe_pressure_sensor_kpa(self, p_mpa: Any) -> Any:
        return 50 * min(max(p_mpa, self.n(1)), self.n(4))


class Pulses(Formulas):
    def pulse_frequency_from_count_hz(self, pulses: Any, time_s: Any) -> Any:
        return pulses / time_s

    def pulse_frequency_gate_resolution_hz(self, time_s: Any) -> Any:
        return 1 / time_s

    def pulse_frequency_timed_resolution_hz(self, pulses: Any, time_s: Any, clock_hz: Any) -> Any:
        return pulses / (time_s ** 2 * clock_hz)


class Metals(Formulas):
    """Tables as printed: API MPMS 12.2 and NIST."""

    PROVER = {row["material"]: row for row in printed_rows("api_12_2_1_1995/prover_metals")}
    WHOLE = [material for material, row in PROVER.items() if row["modulus_psi"]]
    STRAIN = {material: row for row in printed_rows("nist_cryogenic/expansion") for material in row["materials"].split()}
    MODULUS = printed_rows("nist_cryogenic/modulus")
    PSI = "6.894757293168"  # kPa

    def prover_linear_expansion_per_degc(self, material: str) -> Any:
        return self.n("1.8") * self.n(self.PROVER[material]["linear_per_degf"])

    def prover_area_expansion_per_degc(self, material: str) -> Any:
        return 2 * self.prover_linear_expansion_per_degc(material)

    def prover_cubical_expansion_per_degc(self, material: str) -> Any:
        return self.n("1.8") * self.n(self.PROVER[material]["cubical_per_degf"])

    def prover_modulus_kpa(self, material: str) -> Any:
        return self.n(self.PROVER[material]["modulus_psi"]) * self.n(self.PSI)

    def area_expansion_from_linear(self, linear: Any) -> Any:
        return 2 * linear

    def cubical_expansion_from_linear(self, linear: Any) -> Any:
        return 3 * linear

    def linear_growth_in_per_100ft(self, mean_expansion_per_degf: Any, t_lo_degf: Any, t_hi_degf: Any) -> Any:
        return 1200 * mean_expansion_per_degf * (t_hi_degf - t_lo_degf) / 10 ** 6

    def youngs_modulus_from_msi_gpa(self, e_msi: Any) -> Any:
        return e_msi * self.n(self.PSI)

    def youngs_modulus_interpolated_gpa(self, t_degc: Any, t1_degc: Any, e1_gpa: Any, t2_degc: Any, e2_gpa: Any) -> Any:
        return (e1_gpa * (t2_degc - t_degc) + e2_gpa * (t_degc - t1_degc)) / (t2_degc - t1_degc)

    def strain_nist_cryogenic(self, material: str, t_k: Any) -> Any:
        row = self.STRAIN[material]
        if t_k < self.n(row["t_low_k"]):
            return self.n(row["f"])
        return sum(self.n(row[letter]) * t_k ** power for power, letter in enumerate("abcde"))

    def strain_nist_cryogenic_pct(self, material: str, t_k: Any) -> Any:
        return self.strain_nist_cryogenic(material, t_k) / 1000

    def local_expansion_nist_cryogenic(self, material: str, t_k: Any) -> Any:
        row = self.STRAIN[material]
        if t_k < self.n(row["t_low_k"]):
            raise NoValue
        return 10 * sum(power * self.n(row[letter]) * t_k ** (power - 1) for power, letter in enumerate("bcde", 1))

    def youngs_modulus_nist_cryogenic_gpa(self, material: str, t_k: Any) -> Any:
        row = next(row for row in reversed(self.MODULUS) if row["material"] == material and t_k >= int(row["t_lo_k"]))
        return sum(self.n(row[f"c{power}"]) * t_k ** power for power in range(5))


FAMILIES = (Rounding, Quantities, Proving, Limits, Pulses, Metals)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())
_evaluate = evaluator(FAMILIES)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits; decimals are whole."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|, unrounded. An effect of rounding, and a difference of two volumes that may be
    rounded, count the two numbers that it is the difference of."""
    if name == "round_half_away":
        return 1.0
    if name == "gsv_rounding_effect_ppm":
        return 2e6 / max(abs(float(value(name, **inputs))), 1e-300)
    if name == "swv":
        gsv = float(value("gsv", **{key: x for key, x in inputs.items() if key not in ("sw_pct", "csw_decimals")}))
        return 4 * abs(gsv) / max(abs(float(value(name, **inputs))), 1e-300)
    return sensitivity(_evaluate, name, {key: x for key, x in inputs.items() if "decimals" not in key})


# --- points of the domain ---------------------------------------------------------------------------------------------

CLASSES = list(Limits.LINES)
RANGES = {
    "free_water": (0, 1e6), "opening": (0, 1e12), "pulses": (1, 1e12), "nominal_k": (1e-9, 1e15), "gross": (-1e9, 1e9),
    "vcf": (0.1, 2), "p": (-100, 2000), "pe": (-100, 500), "f": (1e-7, 1e-4), "mf": (0.8, 1.2), "ctl": (0.1, 2),
    "cpl": (0.5, 2), "sw_pct": (0, 100), "iv": (1e-3, 1e6), "cpl_meter": (0.5, 2), "rho_kgm3": (100, 25000),
    "rho_air_kgm3": (0, 10), "rho_weights_kgm3": (1000, 25000), "base_volume": (1e-9, 1e9), "cts": (0.9, 1.1),
    "cps": (0.9, 1.1), "ctl_prover": (0.1, 2), "cpl_prover": (0.5, 2), "ctl_meter": (0.1, 2), "pulses_out": (1, 1e15),
    "pulses_back": (1, 1e15), "lower": (0, 1e3), "gc_per_degc": (1e-7, 1.8e-4), "t_degc": (-75, 205),
    "tb_degc": (-75, 205), "iv_master": (1e-9, 1e9), "mf_master": (0.8, 1.2), "ctl_master": (0.1, 2),
    "cpl_master": (0.5, 2), "resolution": (1e-9, 1), "d2": (1, 1.3), "sigmas": (0, 10), "accuracy_class": CLASSES,
    "mmq_l": (1e-3, 1e9), "volume_l": (1e-3, 1e12), "scale_interval_l": (1e-4, 1e6), "p_mpa": (0, 10),
    "time_s": (1e-9, 1e9), "clock_hz": (1, 1e12), "linear": (0, 1e-4), "mean_expansion_per_degf": (0, 100),
    "t_lo_degf": (-459, 5500), "t_hi_degf": (-459, 5500), "e_msi": (0, 200), "e1_gpa": (0, 1000), "e2_gpa": (0, 1000),
    "t1_degc": (-273, 1000), "value": (-1e6, 1e6),
}


def _runs(rng: random.Random) -> list[float]:
    """Pulses of some runs, within a per mille."""
    near = number(rng, 100, 1e9)
    return [near * rng.uniform(0.9995, 1.0005) for _ in range(rng.randint(2, 10))]


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity; a rounding is asked for half of the time."""
    family = next(family for family in FAMILIES if name in vars(family))
    names = arguments_of(family, name)
    inputs = point(rng, names, RANGES)
    for key in names:
        if key.endswith("decimals") and (rng.random() < 0.5 or name == "round_half_away"):
            inputs[key] = float(rng.randint(0, 6))
    if "mf" in names and "mf_chart" in name:
        inputs["mf"] = [rng.uniform(0.995, 1.005) for _ in range(rng.randint(2, 20))]
    if "pulses" in names and family is Proving:
        inputs["pulses"] = _runs(rng)
    if "pulses" in names and family is Pulses:
        inputs["pulses"] = float(round(inputs["pulses"]))
    if name == "flow_weighted_average":
        count = rng.randint(1, 10)
        return {"volumes": [number(rng, 1e-3, 1e6) for _ in range(count)],
                "values": [rng.uniform(-100, 1000) for _ in range(count)]}
    for low, high in (("free_water", "total_observed"), ("opening", "closing"), ("lower", "upper"), ("t1_degc", "t2_degc")):
        if high in names:
            inputs[high] = inputs[low] + number(rng, 1, 1e3)
    if "t1_degc" in names:
        inputs["t_degc"] = rng.uniform(inputs["t1_degc"], inputs["t2_degc"])
    if "material" in names:
        inputs.update(_metal(name, rng))
    return inputs


def _metal(name: str, rng: random.Random) -> Inputs:
    """A metal of the table that the quantity reads, and a temperature of its range."""
    if name.startswith("prover"):
        return {"material": rng.choice(list(Metals.PROVER) if "linear" in name else Metals.WHOLE)}
    if name.startswith("youngs"):
        row = rng.choice(Metals.MODULUS)
        return {"material": row["material"], "t_k": rng.uniform(int(row["t_lo_k"]), int(row["t_hi_k"]))}
    material = rng.choice(list(Metals.STRAIN))
    row = Metals.STRAIN[material]
    return {"material": material, "t_k": rng.uniform(int(row["range_lo_k"]), int(row["range_hi_k"]))}
