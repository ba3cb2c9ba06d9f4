# SPDX-License-Identifier: Apache-2.0
"""The liquid: one method that takes its volume to base conditions, and one declared source of its viscosity."""

from __future__ import annotations

import math
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from . import _flowcomp as _raw
from . import _records_files as _files
from . import errors
from ._arrays import as_doubles, map_records
from ._immutable import Immutable
from ._structs import fill
from ._words import PROVENANCES, choice, number_or_nan, provenance, words_of_enum


@dataclass(frozen=True)
class Viscosity:
    """Kinematic viscosity, and flags that say how it was got: numbers, or arrays of the broadcast shape."""

    nu_mm2s: Any  #: mm2/s
    flags: Any  #: see flag_words


@dataclass(frozen=True)
class VolumeFactors:
    """A volume's way to base conditions: numbers, or arrays of the broadcast shape."""

    rho60_kgm3: Any  #: base density at 60 degF that the method works with, kg/m3
    rho_base_kgm3: Any  #: at the liquid's own base, kg/m3
    ctl: Any  #: temperature correction
    cpl: Any  #: pressure correction
    ctpl: Any  #: their product
    p_used_kpag: Any  #: after the negative-pressure policy, kPa gauge
    flags: Any  #: see flag_words


@dataclass(frozen=True)
class ViscosityPoints:
    """Laboratory points: temperatures (degC), viscosities (mm2/s), and the base density of that liquid (kg/m3)."""

    t_degc: tuple[float, ...]
    nu_mm2s: tuple[float, ...]
    rho_base_kgm3: float = math.nan


@dataclass(frozen=True)
class Polynomial:
    """A polynomial c0 + c1 t + c2 t^2 ... proportional to the density, in the degree ("degc", "degf") of its range."""

    c: tuple[float, ...]
    t_low: float
    t_high: float
    degree: str = "degc"


@dataclass(frozen=True)
class DensityTable:
    """Densities (kg/m3) over temperature (degC); with pressures (kPa gauge) on a full grid, temperature by
    temperature."""

    t_degc: tuple[float, ...]
    rho_kgm3: tuple[float, ...]
    p_kpag: tuple[float, ...] = ()


#: choices of a liquid beside those with a name of their own, and where their words come from
CHOICES = {
    "compressibility": ("FLC_COMPRESSIBILITY_", _raw.flc_compressibility_from_name),
    "vapour": ("FLC_VAPOUR_", _raw.flc_vapour_pressure_from_name),
    "aromatic": ("FLC_AROMATIC_", _raw.flc_aromatic_from_name),
    "water": ("FLC_WATER_", _raw.flc_water_formulation_from_name),
    "glycol": ("FLC_GLYCOL_", _raw.flc_glycol_from_name),
    "saturated": ("FLC_SATURATED_", _raw.flc_saturated_liquid_from_name),
    "costald": ("FLC_COSTALD_", _raw.flc_costald_fluid_from_name),
    "model": ("FLC_MODEL_", _raw.flc_viscosity_model_from_name),
    "kind": ("FLC_VISCOSITY_", _raw.flc_viscosity_kind_from_name),
    "viscosity_pressure": ("FLC_VISCOSITY_PRESSURE_", _raw.flc_viscosity_pressure_from_name),
    "blend": ("FLC_BLEND_", _raw.flc_blend_rule_from_name),
}
#: numbers of a liquid beside those with a name of their own
NUMBERS = ("t_base_degc", "p_base_kpag", "p_atmospheric_kpa", "f_per_kpa", "pe378_kpa", "vapour_slope_k", "vapour_a",
           "vapour_b", "vapour_c", "alpha15_per_degc", "pc_kpa", "mass_fraction", "salinity_psu", "model_t_low_degc",
           "model_t_high_degc", "alpha_per_gpa", "share_second")


def _points(t_degc: Any, nu_mm2s: Any, rho_base_kgm3: float | None = None) -> ViscosityPoints:
    t, nu = (tuple(np.atleast_1d(as_doubles(values, name)).tolist())
             for values, name in ((t_degc, "t_degc"), (nu_mm2s, "nu_mm2s")))
    if len(t) != len(nu):
        raise errors.E_COUNT("nu_mm2s", message=f"{len(t)} temperatures, but {len(nu)} viscosities")
    return ViscosityPoints(t, nu, number_or_nan(rho_base_kgm3))


class Liquid(Immutable):
    """A liquid; immutable.

    :param name: up to 47 bytes, shown in explanations and files
    :param volume: method to base conditions: "none", "petroleum_2004", "petroleum_1980", "light_ends_2007",
        "aromatics_d1555", "ethanol_oiml_r22", "water", "seawater_eos80", "produced_water_api20",
        "glycol_water_melinder_2010", "fame_en14214", "lng_iso6578", "saturated_liquid", "costald", "polynomial",
        "density_table"
    :param group: product group of petroleum methods: "crude", "refined", "fuel_oil", "jet", "transition", "gasoline",
        "lube"; or give alpha60_per_degf
    :param base: base conditions: "60F", "15C" or "20C"; or give t_base_degc, and p_base_kpag where it is not 0
    :param viscosity: "measured" (given with every record), "points", "one_point", "between", "typical", "model" or
        "blend"
    :param t_degc, nu_mm2s: laboratory points, degC rising and mm2/s falling
    :param u_nu_relative: relative standard uncertainty of the viscosity (0.01 is 1 %)
    :param form: ASTM D341 form: "simple", "body", "full"
    :param beyond: outside the points: "refuse", or "extend" by at most 40 K, flagged
    :param negative_pressure: "refuse", or "clamp" to zero, flagged
    :param nu_provenance: where the viscosities rest: "published", "from_memory", "common_practice", "computed",
        "user_given"
    :param nu_source: report, laboratory, date
    :param polynomial, density_table: the user's own densities
    :param lng: mole fractions by component: {"c1": 0.92, "n2": 0.01, ...}; what is left out is 0
    :param coefficients: of a viscosity model, c1 and on
    :param details: what the methods chosen need, by the names of flc_liquid_options: compressibility ("of_method",
        "none", "1984", "1986", "supplied" with f_per_kpa); vapour ("none", "measured", "laboratory" with pe378_kpa and
        vapour_slope_k, "supplied" with vapour_a, vapour_b, vapour_c); p_atmospheric_kpa; alpha15_per_degc; aromatic;
        water; glycol; saturated; costald with pc_kpa; mass_fraction; salinity_psu; model with kind ("dynamic",
        "kinematic"), model_t_low_degc and model_t_high_degc; viscosity_pressure with alpha_per_gpa; blend with
        share_second

    >>> jet = Liquid("Jet A-1", volume="petroleum_2004", group="jet", base="15C", viscosity="points",
    ...              t_degc=[-20, 40], nu_mm2s=[4.6, 1.3], u_nu_relative=0.01, nu_source="invented report")
    >>> f"{jet.viscosity(15.0).nu_mm2s:.4f} mm2/s"
    '1.9662 mm2/s'
    >>> f"{jet.volume(rho_base_kgm3=800.0, t_degc=25.0, p_kpag=300.0).ctpl:.6f}"
    '0.990952'
    >>> water = Liquid("water", volume="water", water="cipm_2001", base="15C", viscosity="model",
    ...                model="water_sr6_08", u_nu_relative=0.01)
    >>> f"{water.viscosity(20.0).nu_mm2s:.3f} mm2/s, CTL {water.volume(t_degc=30.0).ctl:.6f}"
    '1.003 mm2/s, CTL 0.996543'
    """

    __slots__ = ("_raw", "_options")

    def __init__(self, name: str, *, volume: str, viscosity: str, u_nu_relative: float, group: str | None = None,
                 alpha60_per_degf: float | None = None, base: str | None = None, t_degc: Any = (), nu_mm2s: Any = (),
                 slope_b: float | None = None, second: ViscosityPoints | None = None,
                 rho_base_kgm3: float | None = None, form: str = "body", beyond: str = "refuse",
                 negative_pressure: str = "refuse", nu_provenance: str = "user_given", nu_source: str = "",
                 polynomial: Polynomial | None = None, density_table: DensityTable | None = None,
                 lng: Mapping[str, float] | None = None, coefficients: Sequence[float] = (),
                 **details: float | str | None) -> None:
        options = _raw.flc_liquid_options()
        _raw.flc_liquid_options_init(options)
        options.volume = choice("volume", volume, _raw.flc_volume_method_from_name)
        if group is not None:
            options.product.group = choice("group", group, _raw.flc_petroleum_group_from_name)
        if alpha60_per_degf is not None:
            options.product.alpha60_per_degf = float(alpha60_per_degf)
        if base is not None:
            options.base = choice("base", base, _raw.flc_petroleum_base_from_name)
        options.negative_pressure = choice("negative_pressure", negative_pressure,
                                           _raw.flc_negative_pressure_from_name)
        options.viscosity = choice("viscosity", viscosity, _raw.flc_viscosity_source_from_name)
        options.form = choice("form", form, _raw.flc_d341_form_from_name)
        options.beyond = choice("beyond", beyond, _raw.flc_viscosity_beyond_from_name)
        if slope_b is not None:
            options.slope_b = float(slope_b)
        options.u_nu_relative = float(u_nu_relative)
        options.nu_provenance = provenance(nu_provenance)
        first = _points(t_degc, nu_mm2s, rho_base_kgm3)
        options.points.rho_base_kgm3 = first.rho_base_kgm3
        lists = _lists(first)
        if second is not None:
            options.second.rho_base_kgm3 = second.rho_base_kgm3
        unknown = sorted(set(details) - set(CHOICES) - set(NUMBERS))
        if unknown:
            raise TypeError(f"Liquid: no {', '.join(unknown)}; there are {', '.join((*CHOICES, *NUMBERS))}")
        fill(options, details, {word: from_name for word, (_, from_name) in CHOICES.items()}, "Liquid")
        _set_composition(options, lng, coefficients)
        self._set(_raw.make_liquid(options, name, nu_source, *lists, *_lists(second),
                                   *_polynomial_lists(options, polynomial), *_table_lists(density_table)))

    def _set(self, raw: Any) -> None:
        options = _raw.flc_liquid_options()
        _raw.flc_liquid_describe(raw, options)
        self._fix(_raw=raw, _options=options)

    def __reduce__(self) -> tuple[Any, ...]:
        return Liquid.from_json, (self.to_json(),)

    @classmethod
    def measured(cls, name: str, *, u_nu_relative: float, **options: Any) -> Liquid:
        """Viscosity given with every record, at the meter's temperature."""
        return cls(name, viscosity="measured", u_nu_relative=u_nu_relative, **options)

    @classmethod
    def one_point(cls, name: str, *, t_degc: float, nu_mm2s: float, family: str, u_nu_relative: float,
                  **options: Any) -> Liquid:
        """One laboratory point, and the D341 slope of a family: "jet_a", "jp_8", "n_dodecane", "oil_s20" ...

        Where the slope of the family rests is said by ``family_slope``; a slope from memory is flagged in every result,
        whatever nu_provenance says of the point.
        """
        return cls(name, viscosity="one_point", t_degc=[t_degc], nu_mm2s=[nu_mm2s], slope_b=family_slope(family)[0],
                   u_nu_relative=u_nu_relative, **options)

    @classmethod
    def between(cls, name: str, *, first: ViscosityPoints, second: ViscosityPoints, u_nu_relative: float,
                **options: Any) -> Liquid:
        """Between two liquids, each with its base density, by the base density of the record."""
        return cls(name, viscosity="between", t_degc=first.t_degc, nu_mm2s=first.nu_mm2s,
                   rho_base_kgm3=first.rho_base_kgm3, second=second, u_nu_relative=u_nu_relative, **options)

    @classmethod
    def typical(cls, name: str, *, t_degc: Sequence[float] | float, nu_mm2s: Sequence[float] | float,
                u_nu_relative: float, **options: Any) -> Liquid:
        """A typical value (one point: constant) or curve (more points), not that of this liquid."""
        return cls(name, viscosity="typical", t_degc=t_degc, nu_mm2s=nu_mm2s, u_nu_relative=u_nu_relative, **options)

    # --- what it was made from ----------------------------------------------------------------------------------------

    @property
    def name(self) -> str:
        """Name of the liquid."""
        return self._options.name

    @property
    def volume_method(self) -> str:
        """Method to base conditions."""
        return words_of_enum("FLC_VOLUME_", _raw.flc_volume_method_from_name)[self._options.volume]

    @property
    def group(self) -> str | None:
        """Product group; None where alpha60 is given, or there is no volume method."""
        words = words_of_enum("FLC_PETROLEUM_", _raw.flc_petroleum_group_from_name)
        return words.get(self._options.product.group)

    @property
    def alpha60_per_degf(self) -> float:
        """Given thermal expansion at 60 degF, 1/degF; NaN where a group is named."""
        return self._options.product.alpha60_per_degf

    @property
    def base(self) -> str | None:
        """Base conditions; None without a volume method, or where t_base_degc is given."""
        if self._options.volume == _raw.FLC_VOLUME_NONE or self._options.base < 0:
            return None
        return words_of_enum("FLC_PETROLEUM_BASE_", _raw.flc_petroleum_base_from_name)[self._options.base]

    @property
    def t_base_degc(self) -> float:
        """Base temperature, degC; NaN without a volume method."""
        named = {"60F": 140 / 9, "15C": 15.0, "20C": 20.0}.get(self.base or "", math.nan)
        return self._options.t_base_degc if math.isnan(named) else named

    @property
    def details(self) -> dict[str, float | str]:
        """What the liquid was made from beside names, base and points; what is not in use is left out."""
        found: dict[str, float | str] = {}
        for name, (prefix, from_name) in CHOICES.items():
            word = words_of_enum(prefix, from_name).get(getattr(self._options, name))
            if word is not None and word not in ("none", "of_method"):
                found[name] = word
        if self.viscosity_source != "model":
            found.pop("kind", None)
        found.update((name, value) for name in NUMBERS
                     if not math.isnan(value := getattr(self._options, name)))
        for name in ("p_base_kpag", "p_atmospheric_kpa"):
            if found.get(name) in (0.0, 101.325):
                del found[name]
        return found

    @property
    def coefficients(self) -> tuple[float, ...]:
        """Coefficients of its viscosity model."""
        held = self._options.coefficients
        return tuple(c for c in (held.c1, held.c2, held.c3, held.c4, held.c5) if not math.isnan(c))

    @property
    def methods(self) -> tuple[str, ...]:
        """Names of the published methods it rests on."""
        found = []
        while (info := _raw.flc_liquid_method_at(self._raw, len(found))) is not None:
            found.append(info.name)
        return tuple(found)

    @property
    def has_own_density(self) -> bool:
        """Whether the density follows from what it was made from (water, a composition), so that none may be given."""
        return self.volume_method in ("water", "lng_iso6578") or not math.isnan(self._options.mass_fraction) or \
            not math.isnan(self._options.salinity_psu)

    @property
    def viscosity_source(self) -> str:
        """Source of the viscosity."""
        return words_of_enum("FLC_VISCOSITY_", _raw.flc_viscosity_source_from_name)[self._options.viscosity]

    @property
    def u_nu_relative(self) -> float:
        """Relative standard uncertainty of the viscosity."""
        return self._options.u_nu_relative

    @property
    def nu_source(self) -> str:
        """Where the viscosities come from."""
        return self._options.nu_source

    @property
    def points(self) -> ViscosityPoints:
        """Its laboratory points."""
        points = self._options.points
        return ViscosityPoints(tuple(points.t_degc_at(i) for i in range(points.count)),
                               tuple(points.nu_mm2s_at(i) for i in range(points.count)), points.rho_base_kgm3)

    # --- values -------------------------------------------------------------------------------------------------------

    def viscosity(self, t_degc: Any, *, rho_base_kgm3: Any = None, nu_mm2s: Any = None, p_kpag: Any = None,
                  pe_kpa: Any = None) -> Viscosity:
        """Kinematic viscosity at temperatures (degC): numbers, arrays or Series.

        :param rho_base_kgm3: for a liquid between two others, and where the viscosity needs the density, kg/m3
        :param nu_mm2s: for a liquid whose viscosity is measured, mm2/s
        :param p_kpag: gauge pressure, kPa; without it at 0 gauge
        :param pe_kpa: for a liquid whose vapour pressure is measured, kPa absolute
        """
        def one(t: float, rho: float, nu: float, p: float, pe: float) -> tuple[float, ...]:
            if math.isnan(p):
                return tuple(_raw.flc_liquid_viscosity(self._raw, t, rho, nu))
            density = _density(rho, math.nan, math.nan, math.nan, 1.0)
            return tuple(_raw.flc_liquid_viscosity_at(self._raw, density, t, p, pe, nu))

        return Viscosity(**map_records(one, {"t_degc": t_degc, "rho_base_kgm3": rho_base_kgm3, "nu_mm2s": nu_mm2s,
                                             "p_kpag": p_kpag, "pe_kpa": pe_kpa}, ("nu_mm2s", "flags")))

    def volume(self, *, t_degc: Any, p_kpag: Any = 0.0, rho_base_kgm3: Any = None, rho_observed_kgm3: Any = None,
               t_observed_degc: Any = None, p_observed_kpag: Any = None,
               densitometer_factor: Any = 1.0, pe_kpa: Any = None) -> VolumeFactors:
        """CTL, CPL and CTPL at temperatures (degC) and pressures (kPa gauge): numbers, arrays or Series.

        Give the base density (kg/m3), or an observed one with its own temperature and pressure; neither for a liquid
        that has its own. pe_kpa: for a liquid whose vapour pressure is measured, kPa absolute.
        """
        fields = tuple(VolumeFactors.__dataclass_fields__)

        def one(t: float, p: float, pe: float, *density_of: float) -> tuple[float, ...]:
            density, factors = _density(*density_of), _raw.flc_volume_factors()
            _raw.flc_liquid_volume_above_vapour(self._raw, density, t, p, pe, factors)
            return tuple(getattr(factors, field) for field in fields)

        return VolumeFactors(**map_records(one, {
            "t_degc": t_degc, "p_kpag": p_kpag, "pe_kpa": pe_kpa, "rho_base_kgm3": rho_base_kgm3,
            "rho_observed_kgm3": rho_observed_kgm3, "t_observed_degc": t_observed_degc,
            "p_observed_kpag": p_observed_kpag, "densitometer_factor": densitometer_factor}, fields))

    # --- files --------------------------------------------------------------------------------------------------------

    @property
    def hash(self) -> str:
        """SHA-256 of the liquid's canonical bytes, 64 hexadecimal digits."""
        return _files.hash_of("liquid", self._raw)

    def to_json(self) -> str:
        """The liquid file as text."""
        return _files.to_json("liquid", self._raw)

    @classmethod
    def from_json(cls, text: str | bytes) -> Liquid:
        """A liquid from the text of a liquid file."""
        liquid = cls.__new__(cls)
        liquid._set(_files.from_json("liquid", text))
        return liquid

    def save(self, path: str | os.PathLike[str]) -> None:
        """Write a liquid file."""
        _files.save("liquid", self._raw, path)

    @classmethod
    def load(cls, path: str | os.PathLike[str]) -> Liquid:
        """Read a liquid file; one that was damaged or edited is refused."""
        liquid = cls.__new__(cls)
        liquid._set(_files.load("liquid", path))
        return liquid

    def __repr__(self) -> str:
        product = self.group or ("" if math.isnan(self.alpha60_per_degf) else
                                 f"alpha60 {self.alpha60_per_degf:.6g} /degF")
        volume = "no volume correction" if self.volume_method == "none" else ", ".join(
            part for part in (self.volume_method, product, f"base {self.base or f'{self.t_base_degc:.6g} degC'}") if part)
        details = "".join(f", {name} {value if isinstance(value, str) else f'{value:.6g}'}"
                          for name, value in self.details.items() if name != "t_base_degc")
        points = self.points
        nu = "; ".join(f"{nu:.6g} mm2/s at {t:.6g} degC" for t, nu in zip(points.t_degc, points.nu_mm2s))
        return (f"Liquid({self.name!r}, {volume}{details}; viscosity {self.viscosity_source}{': ' if nu else ''}{nu}, "
                f"u {100 * self.u_nu_relative:.6g} %)")


def _lists(points: ViscosityPoints | None) -> tuple[int, np.ndarray | None, np.ndarray | None]:
    if points is None or not points.t_degc:
        return 0, None, None
    return len(points.t_degc), np.array(points.t_degc, dtype=np.float64), np.array(points.nu_mm2s, dtype=np.float64)


def _density(base: float, observed: float, t_degc: float, p_kpag: float, factor: float) -> Any:
    density = _raw.flc_density()
    density.rho_base_kgm3, density.rho_observed_kgm3, density.t_observed_degc = base, observed, t_degc
    density.p_observed_kpag, density.densitometer_factor = p_kpag, factor
    return density


def _set_composition(options: Any, lng: Mapping[str, float] | None, coefficients: Sequence[float]) -> None:
    if lng is not None:
        known = ("c1", "c2", "c3", "nc4", "ic4", "nc5", "ic5", "nc6", "n2")
        for component in lng:
            if component not in known:
                raise errors.E_UNKNOWN_NAME("lng", message=f"lng: {component!r} is none of {', '.join(known)}")
        for component in known:
            setattr(options.lng, "x_" + component, float(lng.get(component, 0.0)))
    if len(coefficients) > 5:
        raise errors.E_COUNT("coefficients", message=f"{len(coefficients)} coefficients, at most 5")
    for place, value in enumerate(coefficients, start=1):
        setattr(options.coefficients, f"c{place}", float(value))


def _polynomial_lists(options: Any, polynomial: Polynomial | None) -> tuple[int, np.ndarray | None]:
    if polynomial is None:
        return 0, None
    options.polynomial.t_low, options.polynomial.t_high = float(polynomial.t_low), float(polynomial.t_high)
    options.polynomial.degree = choice("polynomial.degree", polynomial.degree, _raw.flc_polynomial_degree_from_name)
    return len(polynomial.c), np.array(polynomial.c, dtype=np.float64)


def _table_lists(table: DensityTable | None) -> tuple[int, Any, Any, Any]:
    if table is None:
        return 0, None, None, None
    t, rho = (np.array(values, dtype=np.float64) for values in (table.t_degc, table.rho_kgm3))
    p = np.array(table.p_kpag, dtype=np.float64) if len(table.p_kpag) else np.zeros_like(t)
    if not len(t) == len(p) == len(rho):
        raise errors.E_COUNT("density_table", message="density_table: the columns have different lengths")
    return len(t), t, p, rho


def family_slope(family: str) -> tuple[float, str]:
    """D341 slope B of a family of liquids, and where it rests ("published", "from_memory").

    >>> family_slope("jet_a")[1]
    'published'
    """
    number = choice("family", family, _raw.flc_d341_family_from_name)
    slope_b, where = _raw.flc_d341_family_slope(number)
    return slope_b, next(word for word, number in PROVENANCES.items() if number == where)
