# SPDX-License-Identifier: Apache-2.0
"""Write one small invented certificate in each layout.

    python3 make_certificates.py [FOLDER]

Invented data: no real site, meter or laboratory. Every file holds the same fourteen points of the same DN50 meter, seven
on each of two oils, so all must give one curve. Layout d is the root: whole pulses, collected volume and time. The
others are computed from its printed numbers and printed to 12 digits, far more than a laboratory would, so that all
agree to 1e-9 (layout f with the body stated below).

    layout_a_flow_frequency_k.csv  flow, frequency and K
    layout_b_error.csv             flow and error at a nominal K, 100 (K/K_nominal - 1) per cent
    layout_c_meter_factor.csv      flow and meter factor K_nominal/K, US units; mu and rho instead of nu
    layout_d_pulses_volume.csv     pulses, volume and time
    layout_e_blocks.csv            a block of points for each oil, what the oil is in the block's head
    layout_f_raw.csv               f/nu in Hz/cSt and K, as run
    layout_f_normalised.csv        (f/nu)(D/D0)^2 in Hz/cSt and K/B per m3, body corrected
    layout_f_dimensionless.csv     Roshko f D^2/nu and Strouhal (pi/4) K D0^3/B, body corrected

Meter: see invented_meter.py; bore 52.50 mm at 20 °C and 0 gauge, wall 3.9 mm, hub 22 mm, 316 housing and 17-4PH rotor
with the expansions and moduli of the set api_12_2_1_1995, Poisson ratio 0.283; S0 4.50, S1 7.0, S2 9, S3 1.5e-6 N m^2,
blades 0.40 of Re, transition at Re 50 000, power 2. Oils: kerosene, run at 22 °C, 1.52 mm2/s there, and gas oil, at
18 °C and 4.10 mm2/s; scatter of K 0.003 %.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent / "depot"))

from invented_meter import Body, Meter  # noqa: E402

SEED = 50
EXPANSION_316, EXPANSION_17_4PH = 1.8 * 8.83e-6, 1.8 * 6.00e-6
MODULUS_316_KPA = 28.0e6 * 6.894757293168
POISSON = 0.283  # what the library takes for 316: Dowling table 5.2, stainless 2Ni-18Cr
BODY = Body(0.05250, 0.0039, 0.022, EXPANSION_316, EXPANSION_17_4PH, MODULUS_316_KPA, POISSON)
METER = Meter(BODY, 4.50, 7.0, 9.0, 1.5e-6, 0.40, 50e3, 2.0)
FLOWS_M3H = (4.0, 6.5, 10.0, 16.0, 25.0, 40.0, 60.0)
K_NOMINAL_PER_M3 = 38000.0
M3_PER_USGAL = 0.003785411784
KPA_PER_PSI = 6.894757293168


@dataclass(frozen=True)
class Oil:
    """An oil at the temperature it is run at: °C, mm2/s, kg/m3."""

    name: str
    t_degc: float
    nu_mm2s: float
    rho_kgm3: float


OILS = (Oil("kerosene", 22.0, 1.52, 798.6), Oil("gas oil", 18.0, 4.10, 839.4))


@dataclass(frozen=True)
class Point:
    """One run as layout d prints it: pulses, litres, seconds and kPa gauge, on an oil."""

    oil: Oil
    pulses: int
    volume_l: float
    time_s: float
    p_kpag: float

    @property
    def k_per_m3(self) -> float:
        return self.pulses / (self.volume_l / 1000)

    @property
    def f_hz(self) -> float:
        return self.pulses / self.time_s

    @property
    def q_m3s(self) -> float:
        return self.volume_l / 1000 / self.time_s


def run(rng: np.random.RandomState, q_m3h: float, oil: Oil) -> Point:
    """One run at a flow near q, a minute long or 12 000 pulses if that is longer, its numbers rounded as printed."""
    q = q_m3h * (1 + rng.uniform(-0.005, 0.005)) / 3600
    p = round(260 + rng.uniform(-15, 15), 1)
    bore, ratio = BODY.bore(oil.t_degc, p), BODY.k_ratio(oil.t_degc, p)
    k = float(METER.k_per_m3(np.array(q), oil.nu_mm2s, oil.rho_kgm3, bore, ratio))
    k *= 1 + float(np.clip(3e-5 * rng.standard_normal(), -5e-5, 5e-5))
    pulses = round(max(60 * k * q, 12000.0))
    volume_l = round(1000 * pulses / k, 4)
    return Point(oil, pulses, volume_l, round(volume_l / 1000 / q, 4), p)


def digits(value: float) -> str:
    return f"{value:.12g}"


def head(convention: str, body: str, extra: tuple[str, ...] = ()) -> list[str]:
    """Comment and key lines that every layout opens with."""
    return ["# Invented data: no real site", "# hub_mm is a diameter, as bore_mm is", "#! meter: EX-50",
            f"#! convention: {convention}", f"#! body: {body}", "#! reference_volume: at_meter", *extra,
            "#! t0_degc: 20", "#! bore_mm: 52.50", "#! wall_mm: 3.9", "#! housing: 316 (set api_12_2_1_1995)",
            "#! rotor: 17-4PH (set api_12_2_1_1995)", "#! hub_mm: 22", "#! end: lame_closed", "#! u_k_pct: 0.02"]


def table(columns: str, rows: list[list[str]]) -> list[str]:
    """Header and numbered rows."""
    return [f"point,{columns}", *(f"{number},{','.join(row)}" for number, row in enumerate(rows, 1))]


def state(point: Point) -> list[str]:
    oil = point.oil
    return [f"{oil.t_degc:.2f}", f"{point.p_kpag:.1f}", f"{oil.nu_mm2s:.4f}", oil.name]


def us_state(point: Point) -> list[str]:
    oil = point.oil
    return [f"{1.8 * oil.t_degc + 32:.3f}", digits(point.p_kpag / KPA_PER_PSI),
            digits(oil.nu_mm2s * oil.rho_kgm3 / 1000), f"{oil.rho_kgm3:.1f}", oil.name]


def raw_layouts(points: list[Point]) -> dict[str, list[str]]:
    """Layouts a to d and the raw form of f."""
    raw = ("raw", "as_run")
    nominal_l, nominal_usgal = K_NOMINAL_PER_M3 / 1000, K_NOMINAL_PER_M3 * M3_PER_USGAL
    return {
        "layout_a_flow_frequency_k.csv": head(*raw) + table(
            "q_m3h,f_hz,k_per_m3,t_degc,p_kpag,nu_mm2s,liquid",
            [[digits(3600 * p.q_m3s), digits(p.f_hz), digits(p.k_per_m3), *state(p)] for p in points]),
        "layout_b_error.csv": head(*raw, (f"#! k_nominal_per_l: {nominal_l:.1f}",)) + table(
            "q_lpm,error_pct,t_degc,p_kpag,nu_mm2s,liquid",
            [[digits(60000 * p.q_m3s), digits(100 * (p.k_per_m3 / K_NOMINAL_PER_M3 - 1)), *state(p)] for p in points]),
        "layout_c_meter_factor.csv": head(*raw, (f"#! k_nominal_per_usgal: {nominal_usgal:.12g}",)) + table(
            "q_usgpm,meter_factor,t_degf,p_psig,mu_mpas,rho_kgm3,liquid",
            [[digits(60 * p.q_m3s / M3_PER_USGAL), digits(K_NOMINAL_PER_M3 / p.k_per_m3), *us_state(p)]
             for p in points]),
        "layout_d_pulses_volume.csv": head(*raw) + table(
            "pulses,volume_l,time_s,t_degc,p_kpag,nu_mm2s,liquid",
            [[f"{p.pulses}", f"{p.volume_l:.4f}", f"{p.time_s:.4f}", *state(p)] for p in points]),
        "layout_f_raw.csv": head(*raw) + table(
            "f_over_nu_hz_per_cst,k_per_m3,t_degc,p_kpag,liquid",
            [[digits(p.f_hz / p.oil.nu_mm2s), digits(p.k_per_m3), *state(p)[:2], p.oil.name] for p in points]),
    }


def corrected_layouts(points: list[Point]) -> dict[str, list[str]]:
    """Layout f, dimensionless and normalised: the body taken to 20 °C and 0 gauge."""
    pure, normalised = [], []
    for p in points:
        growth = float(BODY.bore(p.oil.t_degc, p.p_kpag)) / BODY.bore_m
        f_over_nu = p.f_hz / p.oil.nu_mm2s * growth**2
        k = p.k_per_m3 / float(BODY.k_ratio(p.oil.t_degc, p.p_kpag))
        pure.append([digits(f_over_nu * 1e6 * BODY.bore_m**2), digits(np.pi / 4 * k * BODY.bore_m**3), p.oil.name])
        normalised.append([digits(f_over_nu), digits(k), p.oil.name])
    return {
        "layout_f_dimensionless.csv": head("dimensionless", "already_corrected") + table(
            "roshko,strouhal,liquid", pure),
        "layout_f_normalised.csv": head("normalised", "already_corrected") + table(
            "f_over_nu_hz_per_cst,k_per_m3,liquid", normalised),
    }


def block_layout(points: list[Point]) -> list[str]:
    """Layout e: the oil of each block stands in its own line, with the temperature it was held at."""
    lines = head("raw", "as_run") + ["point,q_m3h,f_hz,k_per_m3,p_kpag"]
    for number, p in enumerate(points, 1):
        if number == 1 or p.oil != points[number - 2].oil:
            lines.append(f"#! block: {p.oil.name}; nu_mm2s: {p.oil.nu_mm2s:.2f}; t_degc: {p.oil.t_degc:g}; "
                         f"rho_kgm3: {p.oil.rho_kgm3:.1f}")
        lines.append(f"{number},{digits(3600 * p.q_m3s)},{digits(p.f_hz)},{digits(p.k_per_m3)},{p.p_kpag:.1f}")
    return lines


def main() -> None:
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else HERE
    out.mkdir(parents=True, exist_ok=True)
    rng = np.random.RandomState(SEED)
    points = [run(rng, flow, oil) for oil in OILS for flow in FLOWS_M3H]
    files = raw_layouts(points) | corrected_layouts(points) | {"layout_e_blocks.csv": block_layout(points)}
    for name, lines in files.items():
        (out / name).write_text("\n".join(lines) + "\n", encoding="utf-8", newline="")


if __name__ == "__main__":
    main()
