# SPDX-License-Identifier: Apache-2.0
"""Make a year of an invented fuel depot: hourly readings of two turbine meters, and the truth behind them.

    python3 make_depot.py --out FOLDER [--seed 2025] [--booked gross|base] [--parquet]

Invented data: no real site, no real meter, no real product. Nothing is taken from the library: meter, body, viscosity
and volume correction have their own code here (invented_meter.py, petroleum_independent.py), so that what the library
makes of the readings can be held against a truth made apart from it. One seed gives the same files again: the draws
are NumPy's RandomState, whose stream is frozen.

Files: readings_diesel.csv, readings_kerosene.csv, batches.csv, liquids.csv (laboratory report of each quality),
certificate_diesel.csv, certificate_kerosene.csv, truth.csv, truth_months.csv, planted_faults.csv.

What happens in a second. The flow follows the profile of set-points, times slow wander (0.4 %, a new value every
20 s, straight lines between) and flicker (0.3 %). The meter's balance gives the pulses of that second without delay.
Volume and pulses are summed over the seconds of the hour; temperature, pressure, viscosity and base-volume factor
change once a minute. A second with flow is a flowing second. An hour is full-flow if every second of it lies within a
quarter of the hour's mean flow.

Meters. Both DN80 bodies: bore 77.93 mm at 20 °C and 0 gauge, wall 5.5 mm, hub 32 mm, housing 16.0e-6 and rotor
10.9e-6 per K, modulus 200 GPa, Poisson ratio 0.29. The certificates say 316 and 17-4PH of the set api_12_2_1_1995: with its
15.9e-6 and 10.8e-6 per K and 193 GPa the body is known nearly, not exactly. Balance (see invented_meter.py):
    diesel meter    S0 4.600, S1 8.0, S2 10, S3 4e-6 N m^2, blades 0.40 of Re, transition at Re 60 000, power 2
    kerosene meter  S0 4.760, S1 11.0, S2 12, S3 3e-6 N m^2, blades 0.45 of Re, transition at Re 45 000, power 2.5
Over 30 to 100 m3/h and 1.2 to 6 mm2/s K changes by 1.3 % (diesel meter) and 1.6 % (kerosene meter); at 2.7 mm2/s alone
by 0.4 %.

Fuels: viscosity at 0 and 40 °C, typical density at 15 °C.
    diesel_winter_a 4.90, 2.00 mm2/s, 832 kg/m3    diesel_winter_b 5.40, 2.12, 834    (November to March)
    diesel_summer_a 7.40, 2.70, 841                diesel_summer_b 6.90, 2.58, 839    (April to October)
    kerosene_a      2.30, 1.18, 801                kerosene_b      2.00, 1.07, 796    (all year)
The laboratory reports viscosity at 0, 20 and 40 °C to 0.001 mm2/s. Batches last 5 to 15 days; their density scatters
by 1.8 kg/m3 about the typical one (table: to 0.1), their viscosity by 0.4 %, at most
0.8 %, about that of their quality (table: at 40 °C, to 0.01).

Operation. Short loadings of 12 to 75 minutes with 3 to 45 minutes between them, 5 to 21 h from Monday to Saturday; on
two days a week (diesel Tuesday and Thursday, kerosene Monday and Wednesday) a transfer of 12 to 30 h. Starts, stops
and changes take 20 to 60 s; a loading changes its set-point about every 40 minutes, a transfer every 6 hours. Set-
points: diesel 32, 45, 62, 85 m3/h, kerosene 38, 55, 75, 100 m3/h, each with 2 % scatter. No run starts in the first
six hours and the last two days of the year. Liquid in the line (coldest on 26 January and at 3 h; slow noise
remembers 60 h in temperature, 8 h in pressure):
    diesel    11.5 °C, ± 8.0 K over the year, ± 0.8 K over the day, 0.7 K slow noise; 520 kPa gauge, 30 kPa noise
    kerosene  13.0 °C, ± 9.5 K, ± 1.0 K, 0.8 K; 430 kPa gauge, 25 kPa

Readings at the end of the hour: temperature and pressure averaged over the flowing seconds (the whole hour if none),
plus a sensor error of +0.04 °C and +2 kPa (diesel) or -0.03 °C and -1 kPa (kerosene) and noise of 0.02 °C and 0.5
kPa. The diesel meter delivers a 32-bit counter (0 to 4294967295) that rolls over once and is reset once; times carry
their offset. The kerosene meter delivers pulses of the hour, in local time, and from 1 July on the flowing seconds.
Both have gaps and bad rows, listed in planted_faults.csv.

Booked by the site: gross = pulses/K, one K per meter: the mean of its certificate points on the first oil from 40
m3/h up; base = gross [1 - a (t - 15)], a = 0.00083 (diesel), 0.00093 (kerosene) per K. booked_m3 in the readings is
what --booked says.

Certificates: 12 flows from 10 to 110 m3/h on each of three oils (2.70, 1.20 and 5.50 mm2/s at 20 °C), at 20 ± 0.5 °C
and 320 ± 10 kPa; scatter of K 0.002 %, at most 0.005 % (stated: 0.01 %, k=2); the laboratory's viscosity is wrong by
up to 0.1 % on each oil. The oils have 825, 790 and 845 kg/m3 at 20 °C and lose 2.5 % of viscosity and 0.7 kg/m3 per K.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
from depot_files import write_depot
from depot_operation import HOURS, YEAR_S, Batch, Plan, batches, flow_profile, weather
from invented_meter import Array, Body, Fuel, Meter
from petroleum_independent import ctpl15

BODY = Body(0.07793, 0.0055, 0.032, 16.0e-6, 10.9e-6, 200e6, 0.29)
DIESEL_WINTER = (Fuel("diesel_winter_a", 4.90, 2.00, 832.0), Fuel("diesel_winter_b", 5.40, 2.12, 834.0))
DIESEL_SUMMER = (Fuel("diesel_summer_a", 7.40, 2.70, 841.0), Fuel("diesel_summer_b", 6.90, 2.58, 839.0))
KEROSENE = (Fuel("kerosene_a", 2.30, 1.18, 801.0), Fuel("kerosene_b", 2.00, 1.07, 796.0))
CERTIFICATE_OILS = (("calibration oil 2.7", 2.70, 825.0), ("calibration oil 1.2", 1.20, 790.0),
                    ("calibration oil 5.5", 5.50, 845.0))
CHUNK_S = 5 * 86400


@dataclass(frozen=True)
class Site:
    """One meter and all that is particular to it; the expansion per K is that of the site's own booking."""

    tag: str
    fuel: str
    meter: Meter
    plan: Plan
    booked_expansion: float
    t_error_k: float
    p_error_kpa: float


SITES = (
    Site("DN80-D", "diesel", Meter(BODY, 4.600, 8.0, 10.0, 4e-6, 0.40, 60e3, 2.0),
         Plan((32.0, 45.0, 62.0, 85.0), (1, 3), 11.5, 8.0, 0.8, 0.7, 520.0, 30.0, DIESEL_WINTER, DIESEL_SUMMER),
         0.00083, 0.04, 2.0),
    Site("DN80-K", "kerosene", Meter(BODY, 4.760, 11.0, 12.0, 3e-6, 0.45, 45e3, 2.5),
         Plan((38.0, 55.0, 75.0, 100.0), (0, 2), 13.0, 9.5, 1.0, 0.8, 430.0, 25.0, KEROSENE, KEROSENE),
         0.00093, -0.03, -1.0),
)


@dataclass(frozen=True)
class Points:
    """Certificate points of one oil, arrays of one length, and what the laboratory says about the oil at 20 °C."""

    oil: str
    nu20_mm2s: float
    rho20_kgm3: float
    q_m3h: Array
    k_per_m3: Array
    t_degc: Array
    p_kpag: Array
    nu_mm2s: Array
    rho_kgm3: Array


@dataclass(frozen=True)
class Year:
    """Hourly results, arrays of 8760: true volumes in m3, whole pulses, what the sensors show and the truth behind."""

    gross_m3: Array
    base_m3: Array
    pulses: Array
    pulses_total: Array
    flowing_s: Array
    full_flow: npt.NDArray[np.bool_]
    t_degc: Array
    p_kpag: Array
    t_true_degc: Array
    nu_true_mm2s: Array


def calibrate(rng: np.random.RandomState, meter: Meter) -> list[Points]:
    """What the invented laboratory measures on its three oils."""
    found = []
    for oil, nu20, rho20 in CERTIFICATE_OILS:
        q = np.geomspace(10, 110, 12) * (1 + 0.003 * rng.standard_normal(12))
        t, p = 20 + rng.uniform(-0.5, 0.5, 12), 320 + rng.uniform(-10, 10, 12)
        nu, rho = nu20 * np.exp(-0.025 * (t - 20)), rho20 - 0.7 * (t - 20)
        k = meter.k_per_m3(q / 3600, nu, rho, meter.body.bore(t, p), meter.body.k_ratio(t, p))
        k = k * (1 + np.clip(2e-5 * rng.standard_normal(12), -5e-5, 5e-5))
        wrong = 1 + rng.uniform(-1e-3, 1e-3)
        found.append(Points(oil, nu20 * wrong, rho20, q, k, t, p, nu * wrong, rho))
    return found


@dataclass(frozen=True)
class Minutes:
    """State of liquid and body at every minute of the year: arrays of 525 600."""

    t_degc: Array
    p_kpag: Array
    nu_mm2s: Array
    rho_kgm3: Array
    ctpl: Array
    bore_m: Array
    k_ratio: Array


def minutes_of_year(site: Site, deliveries: list[Batch], rng: np.random.RandomState) -> Minutes:
    """Weather and batches turned into the state of liquid and body."""
    t, p = weather(rng, site.plan)
    nu, rho, ctpl = np.empty_like(t), np.empty_like(t), np.empty_like(t)
    ends = [batch.start_hour for batch in deliveries[1:]] + [HOURS]
    for batch, end in zip(deliveries, ends, strict=True):
        part = slice(batch.start_hour * 60, end * 60)
        nu[part] = batch.nu_factor * batch.fuel.nu(t[part])
        ctpl[part] = ctpl15(batch.rho15_kgm3, t[part], p[part])
        rho[part] = batch.rho15_kgm3 * ctpl[part]
    return Minutes(t, p, nu, rho, ctpl, site.meter.body.bore(t, p), site.meter.body.k_ratio(t, p))


def flow_of_chunk(rng: np.random.RandomState, corners: tuple[Array, Array], first_s: int, count: int) -> Array:
    """Flow in m3/h at the middle of each second of a chunk, noise included."""
    seconds = np.arange(count) + 0.5
    flow = np.interp(first_s + seconds, *corners)
    wander = np.interp(seconds, np.arange(0, count + 20, 20), 0.004 * rng.standard_normal(count // 20 + 1))
    flicker = 0.003 * 12**0.5 * (rng.random_sample(count) - 0.5)
    return flow * (1 + wander + flicker)


def simulate(site: Site, deliveries: list[Batch], seed: int, number: int) -> Year:
    """Run one meter through the year, second by second, in chunks of five days."""
    state = minutes_of_year(site, deliveries, np.random.RandomState([seed, number, 1]))
    corners = flow_profile(np.random.RandomState([seed, number, 2]), site.plan)
    noise = np.random.RandomState([seed, number, 3])
    names = ("gross", "base", "pulses", "flowing", "steady", "t", "p", "nu")
    hourly = {name: np.zeros(HOURS) for name in names}
    hours = CHUNK_S // 3600
    for first_s in range(0, YEAR_S, CHUNK_S):
        q = flow_of_chunk(noise, corners, first_s, CHUNK_S)
        mean = np.repeat(q.reshape(-1, 3600).mean(axis=1), 3600)
        second = np.flatnonzero(q > 0)
        hour, minute = second // 3600, (first_s + second) // 60
        volume, steady = q[second] / 3600, np.abs(q[second] - mean[second]) < 0.25 * mean[second]
        k = site.meter.k_per_m3(volume, state.nu_mm2s[minute], state.rho_kgm3[minute], state.bore_m[minute],
                                state.k_ratio[minute])
        values = (volume, volume * state.ctpl[minute], volume * k, np.ones_like(volume), steady * 1.0,
                  state.t_degc[minute], state.p_kpag[minute], state.nu_mm2s[minute])
        first_hour = first_s // 3600
        for name, value in zip(names, values, strict=True):
            hourly[name][first_hour : first_hour + hours] = np.bincount(hour, weights=value, minlength=hours)
    return read_sensors(site, state, hourly, np.random.RandomState([seed, number, 4]))


def read_sensors(site: Site, state: Minutes, hourly: dict[str, Array], rng: np.random.RandomState) -> Year:
    """Whole pulses, sensor readings and averages of the hours."""
    flowing = hourly["flowing"]

    def average(name: str, minutes: Array) -> Array:
        still = minutes.reshape(-1, 60).mean(axis=1)
        return np.where(flowing > 0, hourly[name] / np.maximum(flowing, 1), still)

    t = average("t", state.t_degc)
    total = np.floor(np.cumsum(hourly["pulses"]))
    return Year(
        gross_m3=hourly["gross"],
        base_m3=hourly["base"],
        pulses=np.diff(total, prepend=0.0),
        pulses_total=total,
        flowing_s=flowing,
        full_flow=hourly["steady"] == 3600,
        t_degc=t + site.t_error_k + 0.02 * rng.standard_normal(HOURS),
        p_kpag=average("p", state.p_kpag) + site.p_error_kpa + 0.5 * rng.standard_normal(HOURS),
        t_true_degc=t,
        nu_true_mm2s=average("nu", state.nu_mm2s),
    )


def main() -> None:
    parser = argparse.ArgumentParser(description="Make a year of an invented fuel depot.")
    parser.add_argument("--out", type=Path, required=True, help="folder for the files, made if absent")
    parser.add_argument("--seed", type=int, default=2025)
    parser.add_argument("--booked", choices=("gross", "base"), default="gross", help="what booked_m3 holds")
    parser.add_argument("--parquet", action="store_true", help="write the readings as Parquet too (pandas, pyarrow)")
    arguments = parser.parse_args()
    depot = []
    for number, site in enumerate(SITES):
        points = calibrate(np.random.RandomState([arguments.seed, number, 5]), site.meter)
        deliveries = batches(np.random.RandomState([arguments.seed, number, 6]), site.plan)
        depot.append((site, points, deliveries, simulate(site, deliveries, arguments.seed, number)))
    write_depot(arguments.out, depot, arguments.seed, arguments.booked, arguments.parquet)


if __name__ == "__main__":
    main()
