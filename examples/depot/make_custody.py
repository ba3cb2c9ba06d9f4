# SPDX-License-Identifier: Apache-2.0
"""Make a year of provings and tickets of the invented fuel depot, and the truth behind them.

    python3 make_custody.py --out FOLDER [--seed 2025]

Invented data: no real site, meter, prover or product. Nothing is taken from the library, as in make_depot.py; the two
meters here are others than those of make_depot.py, at the same depot.

Files: certificate_e.csv, certificate_f.csv, liquids.csv, prover_e.csv, prover_f.csv, provings/E-01.csv ... F-26.csv,
readings_e.csv, readings_f.csv (hourly, during the tickets), tickets.csv, truth_provings.csv, truth_tickets.csv,
planted_custody.csv.

Meters. DN80-E on diesel and DN80-F on kerosene have the bodies and balances of make_depot.py's diesel and kerosene
meter. From proving E-13 (25 June) on, the K of DN80-E falls by 0.012 % every fortnight, day by day.

Provings, every 14 days from 8 January, at 60 m3/h (E) and 70 m3/h (F), 1 % scatter from proving to proving and 0.3 %
from pass to pass.
    E  small volume prover: 0.0600 m3 at 15 °C, 304 with the set api_12_2_1_1995, detectors on a rod of Fe-36Ni, inner
       diameter 250 mm, wall 12 mm; five runs of five passes; double chronometry with a clock of 1 MHz
    F  bidirectional pipe prover: 2.4000 m3 the round trip at 15 °C, mild carbon steel, inner diameter 305 mm, wall
       9.5 mm; five runs; whole pulses
The prover is 0.06 K colder than the meter (0.02 K scatter), at 40 kPa less. K scatters by 0.006 % from pass to pass and
by 0.008 % from proving to proving. Sensors: 0.01 K and 0.3 kPa of noise. At F-17 (20 August) the thermometer of the
prover shows 2.0 K too much.

Tickets: one a month and meter, 36 hours from 6 h on the 20th; flow 45 to 75 m3/h, a new value every hour; sensors as in
the provings, averaged over the hour. E has 0.02 % of sediment and water by the laboratory, F none.

Liquids: those of make_depot.py, with densities that scatter by 1.8 kg/m3 and viscosities by 0.4 % about the typical
ones; density is known to 0.1 kg/m3. Temperature of the liquid: 11.5 °C, ± 8 K over the year (E), 13 °C, ± 9.5 K (F);
520 and 430 kPa gauge.
"""

from __future__ import annotations

import argparse
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, timezone
from pathlib import Path

import numpy as np
from depot_files import INVENTED, write_certificate, write_table
from invented_meter import Array, Fuel
from make_depot import DIESEL_SUMMER, DIESEL_WINTER, KEROSENE, SITES, Site, calibrate
from petroleum_independent import ctpl15

FIRST_DAY, PROVINGS, EVERY_DAYS = date(2025, 1, 8), 26, 14
DRIFT_FROM, DRIFT_PER_DAY = date(2025, 6, 25), 0.00012 / 14
WRONG_THERMOMETER, THERMOMETER_ERROR_K = "F-17", 2.0
TICKET_HOURS = 36
RUNS = 5


@dataclass(frozen=True)
class Prover:
    """What the certificate of a prover says, and what it is; metres, kPa, 1/°C. rod: linear expansion, 0 for a pipe."""

    kind: str
    name: str
    volume_m3: float
    base_t_degc: float
    expansion: float  # cubical, or of the area where there is a rod
    rod: float
    e_kpa: float
    id_m: float
    wall_m: float
    passes: int

    def volume(self, t: float, t_rod: float, p: float) -> float:
        """Its volume at temperature, °C, and gauge pressure, kPa; m3."""
        cts = (1 + self.expansion * (t - self.base_t_degc)) * (1 + self.rod * (t_rod - self.base_t_degc))
        return self.volume_m3 * cts * (1 + p * self.id_m / (self.e_kpa * self.wall_m))

    def head(self) -> list[str]:
        own = (["ga_per_degc", "gl_rod_per_degc"], [self.expansion, self.rod]) if self.rod else (
            ["gc_per_degc"], [self.expansion])
        return [f"# {INVENTED}", f"#! prover: {self.kind}", f"#! prover_id: {self.name}",
                f"#! base_volume_m3: {self.volume_m3:.4f}", f"#! base_t_degc: {self.base_t_degc:g}",
                *(f"#! {name}: {value:.4g}" for name, value in zip(*own, strict=True)), f"#! e_kpa: {self.e_kpa:.4g}",
                f"#! id_mm: {1000 * self.id_m:g}", f"#! wall_mm: {1000 * self.wall_m:g}", "#! water_draw: 2024-11-04",
                "#! expiry: 2026-11-03"]


@dataclass(frozen=True)
class Line:
    """One meter with its prover and what it sees."""

    letter: str
    site: Site
    prover: Prover
    q_m3h: float
    sw_pct: float

    @property
    def tag(self) -> str:
        return self.site.tag

    def fuel(self, day: date) -> Fuel:
        if self.letter == "F":
            return KEROSENE[day.month % 2]
        return (DIESEL_SUMMER if 4 <= day.month <= 10 else DIESEL_WINTER)[day.month % 2]

    def k_share(self, day: float) -> float:
        """K over that of the new meter; day: days since 1 January."""
        worn = max(0.0, day - (DRIFT_FROM - date(2025, 1, 1)).days)
        return 1.0 - DRIFT_PER_DAY * worn if self.letter == "E" else 1.0

    def temperature(self, day: float) -> float:
        plan = self.site.plan
        return plan.t_mean_degc - plan.t_season_k * float(np.cos(2 * np.pi * (day - 25) / 365))

    def k_per_m3(self, q_m3s: Array, nu: Array, rho: Array, t: Array, p: Array) -> Array:
        body = self.site.meter.body
        return self.site.meter.k_per_m3(q_m3s, nu, rho, body.bore(t, p), body.k_ratio(t, p))


LINES = (
    Line("E", replace(SITES[0], tag="DN80-E", fuel="e"),
         Prover("small_volume", "SVP-1", 0.06, 15.0, 2 * 17.28e-6, 1.44e-6, 1.931e8, 0.250, 0.012, 5), 60.0, 0.02),
    Line("F", replace(SITES[1], tag="DN80-F", fuel="f"),
         Prover("pipe_bidirectional", "BPP-2", 2.4, 15.0, 33.48e-6, 0.0, 2.068e8, 0.305, 0.0095, 2), 70.0, 0.0),
)


@dataclass(frozen=True)
class Parcel:
    """Liquid of a proving or ticket: true density at 15 °C, kg/m3, what is known of it, and its true viscosity."""

    fuel: Fuel
    rho15_kgm3: float
    nu_factor: float

    @property
    def rho_known(self) -> str:
        return f"{self.rho15_kgm3:.1f}"


def parcel(rng: np.random.RandomState, line: Line, day: date) -> Parcel:
    fuel = line.fuel(day)
    return Parcel(fuel, fuel.rho15_kgm3 + 1.8 * rng.standard_normal(),
                  1 + float(np.clip(0.004 * rng.standard_normal(), -0.008, 0.008)))


# --- provings ---------------------------------------------------------------------------------------------------------

@dataclass(frozen=True)
class Stroke:
    """What happened in one pass, and what was read of it."""

    pulses: float
    seconds: float
    t_meter: float
    p_meter: float
    t_prover: float
    p_prover: float
    t_rod: float


def stroke(rng: np.random.RandomState, line: Line, liquid: Parcel, share: float, q_m3h: float, t: float) -> Stroke:
    """One pass with true conditions drawn about those of the proving."""
    t_meter = t + 0.01 * rng.standard_normal()
    t_prover = t_meter - 0.06 + 0.02 * rng.standard_normal()
    p_meter = line.site.plan.p_mean_kpag + 3 * rng.standard_normal()
    p_prover, t_rod = p_meter - 40.0, t_prover + 1.0
    part = 1.0 if line.prover.rod else 0.5  # a pass of a round trip is half of it
    base = part * line.prover.volume(t_prover, t_rod, p_prover) * float(ctpl15(liquid.rho15_kgm3, t_prover, p_prover))
    ctpl = float(ctpl15(liquid.rho15_kgm3, t_meter, p_meter))
    through_meter, q = base / ctpl, q_m3h / 3600 * (1 + 0.003 * rng.standard_normal())
    k = float(line.k_per_m3(np.array(q), np.array(liquid.nu_factor * liquid.fuel.nu(t_meter)),
                            np.array(liquid.rho15_kgm3 * ctpl), np.array(t_meter), np.array(p_meter)))
    pulses = through_meter * k * share * (1 + 6e-5 * rng.standard_normal())
    return Stroke(pulses, through_meter / q, t_meter, p_meter, t_prover, p_prover, t_rod)


def pass_row(rng: np.random.RandomState, line: Line, run: int, number: int, one: Stroke, error_k: float,
             start: datetime) -> list[str]:
    """The pass as it was written down."""
    def read(value: float, noise: float, decimals: int) -> str:
        return f"{value + noise * rng.standard_normal():.{decimals}f}"

    end = start + timedelta(seconds=one.seconds)
    shown = [read(one.t_meter, 0.01, 2), read(one.p_meter, 0.3, 1), read(one.t_prover + error_k, 0.01, 2),
             read(one.p_prover, 0.3, 1)]
    times = [start.isoformat(timespec="milliseconds"), end.isoformat(timespec="milliseconds")]
    if line.prover.rod:
        whole = int(one.pulses)
        return [str(run), str(whole), f"{one.seconds * whole / one.pulses:.6f}", f"{one.seconds:.6f}", *shown,
                read(one.t_rod, 0.01, 2), *times]
    whole = int(one.pulses + rng.random_sample())
    return [str(run), ("out", "back")[number % 2], str(whole), *shown, *times]


def write_proving(out: Path, line: Line, number: int, seed: int) -> tuple[list[str], list[list[str]]]:
    """One file of runs; returns its row of the truth, and what was planted in it."""
    name, day = f"{line.letter}-{number:02d}", FIRST_DAY + timedelta(days=EVERY_DAYS * (number - 1))
    rng = np.random.RandomState([seed, ord(line.letter), number])
    liquid, days = parcel(rng, line, day), float((day - date(2025, 1, 1)).days)
    share = line.k_share(days) * (1 + 8e-5 * rng.standard_normal())
    q, t = line.q_m3h * (1 + 0.01 * rng.standard_normal()), line.temperature(days) + 0.7 * rng.standard_normal()
    error = THERMOMETER_ERROR_K if name == WRONG_THERMOMETER else 0.0
    clock = datetime(day.year, day.month, day.day, 9, 0, tzinfo=timezone.utc)
    head = [f"# {INVENTED}", f"#! proving: {name}", f"#! meter: {line.tag}", f"#! date: {day}",
            f"#! liquid: {liquid.fuel.name}", f"#! rho_base_kgm3: {liquid.rho_known}", "#! method: average_factor",
            "#! range_of: factors", "#! temperature_difference_k: 5", "#! flow_spread_pct: 5", "#! mf_low: 0.9900",
            "#! mf_high: 1.0100", "#! void_flow: 0.15", "#! void_temperature: 10", "#! void_days: 31",
            "#! void_factor_last: 0.0025"]
    extra = [f"#! passes_per_run: {line.prover.passes}", "#! clock_hz: 1e6"] if line.prover.rod else []
    columns = ["t_meter_degc", "p_meter_kpag", "t_prover_degc", "p_prover_kpag"]
    header = ["run", "pulses_whole", "t_pulses_s", "t_detectors_s", *columns, "t_rod_degc", "start", "end"] if (
        line.prover.rod) else ["run", "direction", "pulses", *columns, "start", "end"]
    rows = []
    for run in range(1, RUNS + 1):
        for place in range(line.prover.passes):
            one = stroke(rng, line, liquid, share, q, t)
            rows.append(pass_row(rng, line, run, place, one, error, clock))
            clock += timedelta(seconds=round(one.seconds) + 30)
    text = "\n".join([*head, *extra, ",".join(header), *(",".join(row) for row in rows)]) + "\n"
    (out / f"{name}.csv").write_text(text, encoding="utf-8", newline="")
    truth = [name, line.tag, str(day), f"{1 / share:.7f}", f"{error:.1f}"]
    return truth, [[line.tag, name, "prover_temperature", f"{error:+.1f} K"]] if error else []


# --- tickets ----------------------------------------------------------------------------------------------------------

def ticket_of(line: Line, month: int, seed: int) -> tuple[list[list[str]], list[str], list[str]]:
    """Readings of a ticket, its row, and the row of its truth."""
    rng = np.random.RandomState([seed, ord(line.letter), 100 + month])
    day = date(2025, month, 20)
    liquid, name = parcel(rng, line, day), f"{line.letter}-2025-{month:02d}"
    start = datetime(2025, month, 20, 6, tzinfo=timezone.utc)
    days = (start - datetime(2025, 1, 1, tzinfo=timezone.utc)).total_seconds() / 86400 + (
        np.arange(TICKET_HOURS) + 0.5) / 24
    volume = rng.uniform(45, 75, TICKET_HOURS)  # of one hour each
    t = line.temperature(float(days[0])) + 0.5 * np.sin(2 * np.pi * days) + 0.1 * rng.standard_normal(TICKET_HOURS)
    p = line.site.plan.p_mean_kpag + 10 * rng.standard_normal(TICKET_HOURS)
    ctpl = ctpl15(liquid.rho15_kgm3, t, p)
    k = line.k_per_m3(volume / 3600, liquid.nu_factor * liquid.fuel.nu(t), liquid.rho15_kgm3 * ctpl, t, p)
    share = np.array([line.k_share(float(one)) for one in days])
    counted = np.diff(np.floor(np.cumsum(volume * k * share)), prepend=0.0)
    readings = [[(start + timedelta(hours=hour + 1)).isoformat(), line.tag, f"{counted[hour]:.0f}", "3600",
                 f"{t[hour] + 0.01 * rng.standard_normal():.2f}", f"{p[hour] + 0.3 * rng.standard_normal():.1f}"]
                for hour in range(TICKET_HOURS)]
    end = start + timedelta(hours=TICKET_HOURS)
    ticket = [name, line.tag, start.isoformat(), end.isoformat(), liquid.fuel.name, liquid.rho_known,
              f"{line.sw_pct:.2f}"]
    return readings, ticket, [name, line.tag, f"{volume.sum():.5f}", f"{(volume * ctpl).sum():.5f}"]


def liquid_table() -> list[list[str]]:
    fuels = sorted({fuel.name: fuel for fuel in (*DIESEL_WINTER, *DIESEL_SUMMER, *KEROSENE)}.items())
    return [[name, "refined", "15C", f"{t:d}", f"{float(fuel.nu(float(t))):.3f}", "1.0"]
            for name, fuel in fuels for t in (0, 20, 40)]


def main() -> None:
    parser = argparse.ArgumentParser(description="Make a year of provings and tickets of an invented fuel depot.")
    parser.add_argument("--out", type=Path, required=True, help="folder for the files, made if absent")
    parser.add_argument("--seed", type=int, default=2025)
    arguments = parser.parse_args()
    out, seed = arguments.out, arguments.seed
    (out / "provings").mkdir(parents=True, exist_ok=True)
    proved, planted, tickets, truth = [], [], [], []
    for place, line in enumerate(LINES):
        write_certificate(out, line.site, calibrate(np.random.RandomState([seed, 10 + place]), line.site.meter))
        (out / f"prover_{line.site.fuel}.csv").write_text("\n".join(line.prover.head()) + "\n", encoding="utf-8")
        for number in range(1, PROVINGS + 1):
            row, found = write_proving(out / "provings", line, number, seed)
            proved.append(row)
            planted += found
        readings = []
        for month in range(1, 13):
            rows, ticket, true = ticket_of(line, month, seed)
            readings += rows
            tickets.append(ticket)
            truth.append(true)
        write_table(out / f"readings_{line.site.fuel}.csv", ["hourly, time at the end of the hour, during tickets only"],
                    ("time", "meter", "pulses", "flowing_s", "t_degc", "p_kpag"), readings)
    planted.append(["DN80-E", "E-13", "drift", "K falls by 0.012 % every 14 days from here on"])
    write_table(out / "liquids.csv", ["laboratory viscosities of each quality; u_nu_pct is expanded, k=2"],
                ("liquid", "group", "base", "t_degc", "nu_mm2s", "u_nu_pct"), liquid_table())
    write_table(out / "tickets.csv", ["rho_base_kgm3 at 15 °C; sw_pct by volume at base"],
                ("ticket", "meter", "start", "end", "liquid", "rho_base_kgm3", "sw_pct"), tickets)
    write_table(out / "truth_provings.csv", ["mf: true K of the new meter over true K on the day"],
                ("proving", "meter", "date", "mf", "prover_temperature_error_k"), proved)
    write_table(out / "truth_tickets.csv", ["gross at the meter, base at 15 °C and 0 gauge"],
                ("ticket", "meter", "gross_m3", "base_m3"), truth)
    write_table(out / "planted_custody.csv", ["what there is to find"], ("meter", "proving", "fault", "note"), planted)


if __name__ == "__main__":
    main()
