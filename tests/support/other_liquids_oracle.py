# SPDX-License-Identifier: Apache-2.0
"""Glycol-water, FAME, saturated liquids, COSTALD and LNG recomputed with mpmath at 40 digits, apart from the library.

Written from the formulas and coefficients of the sources, not from the C; the tables of LNG are read as printed. value,
condition, draw and NAMES as in viscosity_oracle.py. An input in degC counts as such: no formula here adds 273.15 to it.
"""

from __future__ import annotations

import math
import random
from typing import Any

from aqueous_oracle import root
from petroleum_oracle import EXACT, FAST, Arithmetic, NoValue, mpf
from viscosity_formulas import Formulas, printed_rows
from viscosity_oracle import evaluator, logarithmic, sensitivity

Inputs = dict[str, Any]


class Glycol(Formulas):
    """Melinder (2010)."""

    TERMS = [(i, j) for i, count in enumerate((4, 4, 4, 3, 2, 1)) for j in range(count)]
    MEANS = {"meg": ("30.8462", "31.728"), "mpg": ("30.7031", "32.7083")}
    C = {
        "rho meg": "1034 -0.4781 -0.002692 4.725e-06 1.311 -0.006876 4.805e-05 1.69e-08 7.49e-05 7.855e-05 -3.995e-07 "
                   "4.982e-09 -0.0001062 1.229e-06 -1.153e-08 -9.623e-07 -7.211e-08 4.891e-08",
        "lnmu meg": "0.4705 -0.0255 0.0001782 -7.669e-07 0.02471 -0.0001171 1.052e-06 -1.634e-08 3.328e-06 1.086e-06 "
                    "1.051e-08 -6.475e-10 1.659e-06 3.157e-09 4.063e-10 3.089e-08 1.831e-10 -1.865e-09",
        "rho mpg": "1018 -0.5406 -0.002666 1.347e-05 0.7604 -0.00945 5.541e-05 -1.343e-07 -0.002498 2.7e-05 -4.018e-07 "
                   "3.376e-09 -0.000155 2.829e-06 -7.175e-09 -1.131e-06 -2.221e-08 2.342e-08",
        "lnmu mpg": "0.6837 -0.03045 0.0002525 -1.399e-06 0.03328 -0.0003984 4.332e-06 -1.86e-08 5.453e-05 -8.6e-08 "
                    "-1.593e-08 -4.465e-11 -3.9e-06 1.054e-07 -1.589e-09 -1.587e-08 4.475e-10 3.564e-09",
    }

    def _sum(self, of: str, mass_fraction: Any, t_degc: Any) -> Any:
        x_mean, t_mean = (self.n(v) for v in self.MEANS[of.split()[1]])
        x, t = 100 * mass_fraction - x_mean, t_degc - t_mean
        return sum(self.n(c) * x ** i * t ** j for c, (i, j) in zip(self.C[of].split(), self.TERMS, strict=True))

    def _fraction(self, of: str, rho: Any, t_degc: Any) -> Any:
        def excess(a: Arithmetic, x: Any) -> Any:
            r, t = (float(rho), float(t_degc)) if a is FAST else (rho, t_degc)
            return Glycol(a)._sum(f"rho {of}", x, t) - r
        return root(self.a, excess, 0.05, 0.6)

    def rho_meg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self._sum("rho meg", mass_fraction, t_degc)

    def rho_mpg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self._sum("rho mpg", mass_fraction, t_degc)

    def lnmu_meg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self._sum("lnmu meg", mass_fraction, t_degc)

    def lnmu_mpg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self._sum("lnmu mpg", mass_fraction, t_degc)

    def mu_meg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self.exp(self._sum("lnmu meg", mass_fraction, t_degc))

    def mu_mpg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any) -> Any:
        return self.exp(self._sum("lnmu mpg", mass_fraction, t_degc))

    def ctl_meg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self._sum("rho meg", mass_fraction, t_degc) / self._sum("rho meg", mass_fraction, t_base_degc)

    def ctl_mpg_water_melinder_2010(self, mass_fraction: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self._sum("rho mpg", mass_fraction, t_degc) / self._sum("rho mpg", mass_fraction, t_base_degc)

    def mass_fraction_from_density_meg_water_melinder_2010(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self._fraction("meg", rho_kgm3, t_degc)

    def mass_fraction_from_density_mpg_water_melinder_2010(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return self._fraction("mpg", rho_kgm3, t_degc)

    def rho_base_from_observed_meg_water_melinder_2010(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self._sum("rho meg", self._fraction("meg", rho_kgm3, t_degc), t_base_degc)

    def rho_base_from_observed_mpg_water_melinder_2010(self, rho_kgm3: Any, t_degc: Any, t_base_degc: Any) -> Any:
        return self._sum("rho mpg", self._fraction("mpg", rho_kgm3, t_degc), t_base_degc)


class Fame(Formulas):
    def rho15_fame_en14214(self, rho_kgm3: Any, t_degc: Any) -> Any:
        return rho_kgm3 + self.n("0.723") * (t_degc - 15)

    def rho_fame_en14214(self, rho15_kgm3: Any, t_degc: Any) -> Any:
        return rho15_kgm3 - self.n("0.723") * (t_degc - 15)

    def ctl15_fame_en14214(self, rho15_kgm3: Any, t_degc: Any) -> Any:
        return self.rho_fame_en14214(rho15_kgm3, t_degc) / rho15_kgm3


class Saturated(Formulas):
    FLUIDS = {  # form, lowest temperature, Tc, rho_c, n e n e ...
        "methane": "ln 90.6941 190.564 162.66 1.9906389 .354 -.78756197 .5 .036976723 2.5",
        "ethane": "ln 90.368 305.322 206.18 1.56138026 .329 -.381552776 4/6 .078537204 8/6 .0370315089 19/6",
        "propane": "lin 85.525 369.89 220.4781 1.82205 .345 .65802 .74 .21109 2.6 .083973 7.2",
        "n_butane": "lin 134.895 425.125 228 1.97874515 .345 .85679951 1 -.341871887 1.5 .304337558 3",
        "isobutane": "lin 113.73 407.81 225.5 2.04025104 .355 .850874089 1 -.479052281 4/3 .348201252 7/3",
        "ethylene": "ln 103.989 282.35 214.24 1.8673079 1.029/3 -.61533892 .5 -.058973772 4/3 .1074472 2",
        "propylene": "lin 87.953 364.211 229.63 .40543 .195 2.02481 .47 .304022 2.25 .179159 8.3",
        "nitrogen": "ln 63.151 126.192 313.3 1.48654237 .3294 -.280476066 4/6 .0894143085 16/6 -.119879866 35/6",
        "carbon_dioxide": "ln 216.592 304.1282 467.6 1.9245108 .34 -.62385555 .5 -.32731127 10/6 .39245142 11/6",
        "water": "lin 273.16 647.096 322 1.99274064 1/3 1.09965342 2/3 -.510839303 5/3 -1.75493479 16/3 "
                 "-45.5170352 43/3 -674694.45 110/3",
    }

    def rho_saturated_liquid_ancillary(self, fluid: str, t_k: Any) -> Any:
        form, low, *rest = self.FLUIDS[fluid].split()
        tc, rho_c, *terms = (self.n(v.split("/")[0]) / (self.n(v.split("/")[1]) if "/" in v else 1) for v in rest)
        if not self.n(low) <= t_k <= tc:
            raise NoValue
        total = sum(n * (1 - t_k / tc) ** e for n, e in zip(terms[::2], terms[1::2], strict=True))
        return rho_c * (self.exp(total) if form == "ln" else 1 + total)

    def ctl_saturated_liquid_ancillary(self, fluid: str, t_k: Any, t_base_k: Any) -> Any:
        return self.rho_saturated_liquid_ancillary(fluid, t_k) / self.rho_saturated_liquid_ancillary(fluid, t_base_k)

    def rho_base_from_observed_saturated_liquid_ancillary(self, fluid: str, rho_kgm3: Any, t_k: Any,
                                                          t_base_k: Any) -> Any:
        return rho_kgm3 / self.ctl_saturated_liquid_ancillary(fluid, t_k, t_base_k)

    def ctl_from_density_ratio(self, rho_kgm3: Any, rho_base_kgm3: Any) -> Any:
        return rho_kgm3 / rho_base_kgm3


class Costald(Formulas):
    FLUIDS = {  # Tc, V*, omega, M
        "methane": "190.58 0.0994 0.0074 16.0425", "ethane": "305.42 0.1458 0.0983 30.069",
        "propane": "369.83 0.2001 0.1532 44.0956", "isobutane": "408.14 0.2568 0.1825 58.1222",
        "n_butane": "425.18 0.2544 0.2008 58.1222", "n_pentane": "469.65 0.3113 0.2522 72.1488",
        "n_hexane": "507.43 0.3682 0.3007 86.1754", "ethylene": "282.36 0.1310 0.0882 28.0532",
        "propylene": "365.0 0.1829 0.1455 42.0797",
    }

    def _powers(self, text: str, root_of_x: Any) -> Any:
        """Coefficients of x^0, x^(1/3), x^(2/3), ..."""
        return sum(self.n(c) * root_of_x ** power for power, c in enumerate(text.split()))

    def _row(self, fluid: str) -> list[Any]:
        return [self.n(v) for v in self.FLUIDS[fluid].split()]

    def rho_saturated_liquid_costald_1979(self, fluid: str, t_k: Any) -> Any:
        tc, v_star, omega, mass = self._row(fluid)
        tr, n = t_k / tc, self.n
        if not n("0.25") * (1 - n("1e-12")) <= tr <= n("0.95") * (1 + n("1e-12")):
            raise NoValue
        v0 = self._powers("1 -1.52816 1.43907 -0.81446 0.190454", (1 - tr) ** (self.n(1) / 3))
        vd = (n("-0.296123") + n("0.386914") * tr - n("0.0427258") * tr ** 2 - n("0.0480645") * tr ** 3) / (
            tr - n("1.00001"))
        return mass / (v_star * v0 * (1 - omega * vd))

    def ctl_saturated_liquid_costald_1979(self, fluid: str, t_k: Any, t_base_k: Any) -> Any:
        return (self.rho_saturated_liquid_costald_1979(fluid, t_k)
                / self.rho_saturated_liquid_costald_1979(fluid, t_base_k))

    def cpl_costald_1982(self, fluid: str, t_k: Any, p_kpa: Any, psat_kpa: Any, pc_kpa: Any) -> Any:
        tc, _, omega, _ = self._row(fluid)
        n = self.n
        e = self.exp(n("4.79594") + n("0.250047") * omega + n("1.14188") * omega ** 2)
        x = (1 - t_k / tc) ** (n(1) / 3)
        b = pc_kpa * (self._powers("-1 -9.070217 62.45326 -135.1102", x) + e * x ** 4)
        c = n("0.0861488") + n("0.0344483") * omega
        if b + psat_kpa <= 0 or p_kpa < psat_kpa:
            raise NoValue
        return 1 / (1 - c * (self.ln(b + p_kpa) - self.ln(b + psat_kpa)))

    def rho_compressed_liquid_costald_1982(self, fluid: str, t_k: Any, p_kpa: Any, psat_kpa: Any, pc_kpa: Any) -> Any:
        return (self.rho_saturated_liquid_costald_1979(fluid, t_k)
                * self.cpl_costald_1982(fluid, t_k, p_kpa, psat_kpa, pc_kpa))

    def rho_base_from_observed_costald_1982(self, fluid: str, rho_kgm3: Any, t_k: Any, p_kpa: Any, psat_kpa: Any,
                                            pc_kpa: Any, t_base_k: Any) -> Any:
        return (rho_kgm3 / self.ctl_saturated_liquid_costald_1979(fluid, t_k, t_base_k)
                / self.cpl_costald_1982(fluid, t_k, p_kpa, psat_kpa, pc_kpa))


class Lng(Formulas):
    COLUMNS = ("-180", "-175", "-170", "-165", "-160", "-155", "-150", "-145", "-140")
    COMPONENTS = ("c1", "c2", "c3", "nc4", "ic4", "nc5", "ic5", "nc6", "n2")
    MASSES = ("16.043", "30.070", "44.097", "58.123", "58.123", "72.150", "72.150", "86.177", "28.0134")
    VOLUMES = {row["component"]: row for row in printed_rows("iso_6578/iso_6578_molar_volume")}
    K = {k: {int(row["molar_mass"]): row for row in printed_rows(f"iso_6578/iso_6578_{k}")} for k in ("k1", "k2")}

    def _at(self, row: dict[str, str], t_k: Any) -> Any:
        t = t_k - self.n("273.15")
        i = min(7, max(0, int(self.floor((t + 180) / 5))))
        low, high = self.n(row[self.COLUMNS[i]]), self.n(row[self.COLUMNS[i + 1]])
        return low + (high - low) * (t - int(self.COLUMNS[i])) / 5

    def molar_volume_lng_iso6578(self, component: str, t_k: Any) -> Any:
        return self._at(self.VOLUMES[component], t_k)

    def molar_mass_lng_iso6578(self, **x: Any) -> Any:
        masses = dict(zip(self.COMPONENTS, self.MASSES, strict=True))
        return sum(value * self.n(masses[key[2:]]) for key, value in x.items())

    def _k(self, k: str, t_k: Any, mass: Any) -> Any:
        i = min(29, int(self.floor(mass)))
        low, high = self._at(self.K[k][i], t_k), self._at(self.K[k][i + 1], t_k)
        return (low + (high - low) * (mass - i)) / 1000

    def k1_lng_iso6578(self, t_k: Any, molar_mass_kgkmol: Any) -> Any:
        return self._k("k1", t_k, molar_mass_kgkmol)

    def k2_lng_iso6578(self, t_k: Any, molar_mass_kgkmol: Any) -> Any:
        return self._k("k2", t_k, molar_mass_kgkmol)

    def rho_lng_iso6578(self, t_k: Any, **x: Any) -> Any:
        mass = self.molar_mass_lng_iso6578(**x)
        k1, k2 = self._k("k1", t_k, mass), self._k("k2", t_k, mass)
        ideal = sum(value * self.molar_volume_lng_iso6578(key[2:], t_k) for key, value in x.items())
        return mass / (ideal - (k1 + (k2 - k1) * x.get("x_n2", 0) / self.n("0.0425")) * x["x_c1"])

    def ctl_lng_iso6578(self, t_k: Any, t_base_k: Any, **x: Any) -> Any:
        return self.rho_lng_iso6578(t_k, **x) / self.rho_lng_iso6578(t_base_k, **x)


FAMILIES = (Glycol, Fame, Saturated, Costald, Lng)
NAMES = frozenset(name for family in FAMILIES for name in vars(family) if name[0] != "_" and name.islower())
_evaluate = evaluator(FAMILIES)


def value(name: str, **inputs: Any) -> mpf:
    """The quantity to 40 digits."""
    return _evaluate(EXACT, name, inputs)


def condition(name: str, **inputs: Any) -> float:
    """Sum over the inputs of |x df/dx / f|."""
    return sensitivity(_evaluate, name, inputs)


# --- points of the domain ---------------------------------------------------------------------------------------------

def _draw_glycol(name: str, rng: random.Random) -> Inputs:
    inputs: Inputs = {"mass_fraction": rng.uniform(0.05, 0.6), "t_degc": rng.uniform(-50, 100)}
    base = {"t_base_degc": rng.uniform(-50, 100)} if "base" in name or name.startswith("ctl") else {}
    if "density" not in name and "observed" not in name:
        return {**inputs, **base}
    of = "rho meg" if "_meg_" in name else "rho mpg"
    return {"rho_kgm3": Glycol(FAST)._sum(of, **inputs), "t_degc": inputs["t_degc"], **base}


def _draw_fame(name: str, rng: random.Random) -> Inputs:
    return {"rho_kgm3" if name.startswith("rho15") else "rho15_kgm3": rng.uniform(750, 1000),
            "t_degc": rng.uniform(20, 60)}


def _draw_saturated(name: str, rng: random.Random) -> Inputs:
    if name == "ctl_from_density_ratio":
        return {"rho_kgm3": rng.uniform(1, 25000), "rho_base_kgm3": rng.uniform(1, 25000)}
    fluid = rng.choice(list(Saturated.FLUIDS))
    low, high = (float(v) for v in Saturated.FLUIDS[fluid].split()[1:3])
    inputs: Inputs = {"fluid": fluid, "t_k": rng.uniform(low, 0.9999 * high)}
    if not name.startswith("rho_saturated"):
        inputs["t_base_k"] = rng.uniform(low, 0.9999 * high)
    return {**inputs, "rho_kgm3": rng.uniform(1, 2000)} if "observed" in name else inputs


def _draw_costald(name: str, rng: random.Random) -> Inputs:
    fluid = rng.choice(list(Costald.FLUIDS))
    tc = float(Costald.FLUIDS[fluid].split()[0])
    inputs: Inputs = {"fluid": fluid, "t_k": tc * rng.uniform(0.25, 0.95)}
    if "1982" in name:  # vapour pressure by the rule that ln p falls with 1 / T, within 20 %
        pc = rng.uniform(3000, 5000)
        psat = max(0.001, pc * math.exp(5.4 * (1 - tc / inputs["t_k"])) * rng.uniform(0.8, 1.2))
        inputs.update(p_kpa=logarithmic(rng, psat, 70000), psat_kpa=psat, pc_kpa=pc)
    if "observed" in name or name.startswith("ctl"):
        inputs["t_base_k"] = tc * rng.uniform(0.25, 0.95)
    return {**inputs, "rho_kgm3": rng.uniform(1, 2000)} if "observed" in name else inputs


def _draw_lng(name: str, rng: random.Random) -> Inputs:
    if name.startswith("molar_volume"):
        return {"component": rng.choice(Lng.COMPONENTS), "t_k": rng.uniform(93.15, 133.15)}
    if name[0] == "k":
        return {"t_k": rng.uniform(93.15, 115), "molar_mass_kgkmol": rng.uniform(16.1, 30)}
    x = {"x_c2": rng.uniform(0, 0.2), "x_c3": rng.uniform(0, 0.1), "x_nc4": rng.uniform(0, 0.02),
         "x_ic4": rng.uniform(0, 0.02), "x_nc5": rng.uniform(0, 0.006), "x_ic5": rng.uniform(0, 0.006),
         "x_nc6": rng.uniform(0, 0.006), "x_n2": rng.uniform(0, 0.04)}
    x["x_c1"] = 1.0 - sum(x.values())
    if name.startswith("molar_mass"):
        return x
    return {"t_k": rng.uniform(93.15, 115), **({"t_base_k": rng.uniform(93.15, 115)} if name[0] == "c" else {}), **x}


DRAWS = {Glycol: _draw_glycol, Fame: _draw_fame, Saturated: _draw_saturated, Costald: _draw_costald, Lng: _draw_lng}


def draw(name: str, rng: random.Random) -> Inputs:
    """A point of the domain of a quantity, with every optional argument given."""
    family = next(family for family in FAMILIES if name in vars(family))
    return DRAWS[family](name, rng)
