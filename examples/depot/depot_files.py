# SPDX-License-Identifier: Apache-2.0
"""Write the files of the invented depot, with the gaps and bad rows that real histories have.

Every file opens with a comment line that says the data are invented. Numbers are written with fixed formats.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from depot_operation import HOURS, Batch, hour_end, month_of_hour

if TYPE_CHECKING:
    from make_depot import Points, Site, Year

INVENTED = "Invented data: no real site"
COUNTER_SIZE = 2**32
FLOWING_KNOWN_FROM_MONTH = 7
RESET_FROM_MONTH = 9
RESET_SHARE = 0.4  # of the pulses of its hour that came before the counter was reset
FAILED_SENSOR_DEGC = 850.0
GAP_HOURS = (1, 1, 4, 15, 40)
SINGLE_FAULTS = ("sensor_failed", "sensor_failed", "duplicate_time", "negative_pressure", "nan")
FAHRENHEIT_ROWS = 2

Row = dict[str, str]
Fault = tuple[int, str]


def write_table(path: Path, comments: Iterable[str], header: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
    """A CSV file: comment lines, header, rows; the same bytes on every system."""
    with path.open("w", encoding="utf-8", newline="") as file:
        for comment in (INVENTED, *comments):
            file.write(f"# {comment}\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        writer.writerows(rows)


def booked_k_per_m3(points: list[Points]) -> float:
    """The site's one K: mean of the first oil's points from 40 m3/h up, to 0.1 pulse per m3."""
    first = points[0]
    return round(float(first.k_per_m3[first.q_m3h >= 40].mean()), 1)


def booked_m3(site: Site, points: list[Points], year: Year) -> tuple[np.ndarray, np.ndarray]:
    """Gross and base volumes of each hour as the site booked them, m3."""
    gross = year.pulses / booked_k_per_m3(points)
    return gross, gross * (1 - site.booked_expansion * (year.t_degc - 15))


def counter_readings(year: Year, reset_hour: int) -> tuple[np.ndarray, int]:
    """Counter at the end of each hour, started so as to roll over in spring, reset once; and the roll-over's hour."""
    start = COUNTER_SIZE - int(year.pulses_total[HOURS * 3 // 8] // 1000) * 1000
    total = start + year.pulses_total.astype(np.int64)
    rollover = int(np.argmax(total >= COUNTER_SIZE))
    counter = total % COUNTER_SIZE
    lost = total[reset_hour - 1] + int(RESET_SHARE * year.pulses[reset_hour])
    counter[reset_hour:] = total[reset_hour:] - lost
    return counter, rollover


def spread_hours(rng: np.random.RandomState, year: Year) -> list[int]:
    """Full-flow hours in random order, three days or more apart, away from the ends of the year."""
    spots: list[int] = []
    for hour in rng.permutation(np.flatnonzero(year.full_flow)).tolist():
        if 100 < hour < HOURS - 100 and all(abs(hour - other) >= 72 for other in spots):
            spots.append(hour)
    return spots


def choose_faults(rng: np.random.RandomState, year: Year) -> tuple[list[Fault], int]:
    """Faults as (hour, kind), and the hour of a counter's reset; Fahrenheit only where it is warm enough to show."""
    spots = spread_hours(rng, year)
    reset = next(hour for hour in spots if month_of_hour(hour) >= RESET_FROM_MONTH)
    warm = [hour for hour in spots if hour != reset and year.t_degc[hour] > 10][:FAHRENHEIT_ROWS]
    places = [hour for hour in spots if hour != reset and hour not in warm]
    faults = [(hour, "fahrenheit") for hour in warm]
    faults += [(hour + i, "missing") for hour, length in zip(places, GAP_HOURS, strict=False) for i in range(length)]
    faults += list(zip(places[len(GAP_HOURS):], SINGLE_FAULTS, strict=False))
    return sorted(faults), reset


def spoil(row: Row, fault: str, pulse_column: str) -> list[Row]:
    """What the log holds instead of a good row."""
    if fault == "missing":
        return []
    if fault == "duplicate_time":
        return [row, dict(row)]
    if fault == "sensor_failed":
        return [row | {"t_degc": f"{FAILED_SENSOR_DEGC:.2f}"}]
    if fault == "fahrenheit":
        return [row | {"t_degc": f"{1.8 * float(row['t_degc']) + 32:.2f}"}]
    if fault == "negative_pressure":
        return [row | {"p_kpag": "-12.0"}]
    if fault == "nan":
        return [row | {pulse_column if pulse_column == "pulses" else "t_degc": "NaN"}]
    raise ValueError(fault)


def reading_rows(site: Site, year: Year, counter: np.ndarray | None, booked: np.ndarray) -> list[Row]:
    """Good rows of the year, as text; a counter with times that carry their offset, or pulses in local time."""
    rows = []
    for hour in range(HOURS):
        row = {"time": hour_end(hour).isoformat(), "meter": site.tag}
        if counter is not None:
            row["counter"] = f"{counter[hour]:d}"
        else:
            row["time"] = row["time"][:19]
            row["pulses"] = f"{year.pulses[hour]:.0f}"
            known = month_of_hour(hour) >= FLOWING_KNOWN_FROM_MONTH
            row["flowing_s"] = f"{year.flowing_s[hour]:.0f}" if known else ""
        row["t_degc"] = f"{year.t_degc[hour]:.2f}"
        row["p_kpag"] = f"{year.p_kpag[hour]:.1f}"
        row["booked_m3"] = f"{booked[hour]:.4f}"
        rows.append(row)
    return rows


def write_readings(out: Path, site: Site, year: Year, booked: np.ndarray, rng: np.random.RandomState,
                   kind: str, parquet: bool) -> list[list[str]]:
    """The history of one meter; returns the planted faults as rows."""
    faults, reset = choose_faults(rng, year)
    counter, comments = None, [f"hourly readings, time at the end of the hour; booked_m3 is the {kind} volume"]
    planted = list(faults)
    if site.fuel == "diesel":
        counter, rollover = counter_readings(year, reset)
        planted = sorted([*faults, (rollover, "counter_rollover"), (reset, "counter_reset")])
        comments.append(f"the counter counts from 0 to {COUNTER_SIZE - 1}, then from 0 again")
    else:
        comments.append("local times of Europe/Berlin, used as a time zone only")
    by_hour = dict(faults)
    rows: list[Row] = []
    for hour, row in enumerate(reading_rows(site, year, counter, booked)):
        column = "counter" if counter is not None else "pulses"
        rows += spoil(row, by_hour[hour], column) if hour in by_hour else [row]
    path = out / f"readings_{site.fuel}.csv"
    write_table(path, comments, list(rows[0]), (list(row.values()) for row in rows))
    if parquet:
        write_parquet(path)
    return [[hour_end(hour).isoformat(), site.tag, fault] for hour, fault in planted]


def write_parquet(path: Path) -> None:
    """The same table as Parquet beside the CSV file, with times as text and numbers as float64 or int64."""
    import pandas

    frame = pandas.read_csv(path, comment="#")
    frame.attrs["note"] = INVENTED
    frame.to_parquet(path.with_suffix(".parquet"), engine="pyarrow", index=False)


def write_certificate(out: Path, site: Site, points: list[Points]) -> None:
    """One certificate with a block of points for each oil."""
    body = site.meter.body
    lines = [f"# {INVENTED}", "# hub_mm is a diameter, as bore_mm is; the metals' expansions are the handbook's",
             f"#! meter: {site.tag}", "#! convention: raw", "#! body: as_run", "#! reference_volume: at_meter",
             "#! t0_degc: 20", f"#! bore_mm: {1000 * body.bore_m:.2f}", f"#! wall_mm: {1000 * body.wall_m:.1f}",
             "#! housing: 316 (set api_12_2_1_1995)", "#! rotor: 17-4PH (set api_12_2_1_1995)",
             f"#! hub_mm: {1000 * body.hub_m:.0f}", "#! end: lame_closed", "#! u_k_pct: 0.01",
             "point,q_m3h,f_hz,k_per_m3,t_degc,p_kpag,nu_mm2s,rho_kgm3"]
    number = 0
    for block in points:
        lines.append(f"#! block: {block.oil}; nu_mm2s: {block.nu20_mm2s:.4f}; t_degc: 20; "
                     f"rho_kgm3: {block.rho20_kgm3:.1f}")
        for q, k, t, p, nu, rho in zip(block.q_m3h, block.k_per_m3, block.t_degc, block.p_kpag, block.nu_mm2s,
                                       block.rho_kgm3, strict=True):
            number += 1
            lines.append(f"{number},{q:.4f},{q * k / 3600:.5f},{k:.2f},{t:.2f},{p:.1f},{nu:.4f},{rho:.1f}")
    (out / f"certificate_{site.fuel}.csv").write_text("\n".join(lines) + "\n", encoding="utf-8", newline="")


def batch_rows(site: Site, deliveries: list[Batch]) -> list[list[str]]:
    """What the depot knows of each batch: density at 15 °C to 0.1 kg/m3, viscosity at 40 °C to 0.01 mm2/s."""
    return [[hour_end(batch.start_hour - 1).isoformat(), site.tag, batch.fuel.name, f"{batch.rho15_kgm3:.1f}",
             f"{batch.nu_factor * batch.fuel.nu40_mm2s:.2f}"] for batch in deliveries]


def liquid_rows(deliveries: list[Batch]) -> list[list[str]]:
    """Laboratory report of each quality: viscosity at 0, 20 and 40 °C, its expanded uncertainty in per cent."""
    fuels = {batch.fuel.name: batch.fuel for batch in deliveries}
    return [[name, "refined", "15C", f"{t:d}", f"{float(fuels[name].nu(float(t))):.3f}", "1.0"]
            for name in sorted(fuels) for t in (0, 20, 40)]


TRUTH_NUMBERS = ("gross_m3", "base_m3", "booked_gross_m3", "booked_base_m3")


def truth_rows(site: Site, year: Year, booked: tuple[np.ndarray, np.ndarray]) -> list[list[str]]:
    """True and booked volumes of every hour, m3, to 0.1 mL."""
    volumes = (year.gross_m3, year.base_m3, *booked)
    return [[hour_end(hour).isoformat(), site.tag, *(f"{volume[hour]:.7f}" for volume in volumes),
             f"{year.pulses[hour]:.0f}", f"{year.flowing_s[hour]:.0f}", f"{year.full_flow[hour]:d}",
             f"{year.t_true_degc[hour]:.4f}", f"{year.nu_true_mm2s[hour]:.5f}"] for hour in range(HOURS)]


def month_rows(site: Site, year: Year, booked: tuple[np.ndarray, np.ndarray]) -> list[list[str]]:
    """Sums by the local month in which the hour begins, over all hours and over full-flow hours."""
    month = np.array([month_of_hour(hour) for hour in range(HOURS)])
    volumes = (year.gross_m3, year.base_m3, *booked)
    rows = []
    for number in range(1, 13):
        for scope, chosen in (("all", month == number), ("full_flow", (month == number) & year.full_flow)):
            sums = [float(volume[chosen].sum()) for volume in volumes]
            errors = [100 * (sums[2] / sums[0] - 1), 100 * (sums[3] / sums[1] - 1)]
            rows.append([f"2025-{number:02d}", site.tag, scope, f"{int(chosen.sum()):d}", *(f"{v:.4f}" for v in sums),
                         *(f"{error:.4f}" for error in errors)])
    return rows


def write_depot(out: Path, depot: list[tuple[Site, list[Points], list[Batch], Year]], seed: int, kind: str,
                parquet: bool) -> None:
    """All files of the depot, into a folder that is made if absent."""
    out.mkdir(parents=True, exist_ok=True)
    faults, batch, liquid, truth, months = [], [], [], [], []
    for number, (site, points, deliveries, year) in enumerate(depot):
        booked = booked_m3(site, points, year)
        rng = np.random.RandomState([seed, number, 7])
        faults += write_readings(out, site, year, booked[kind == "base"], rng, kind, parquet)
        write_certificate(out, site, points)
        batch += batch_rows(site, deliveries)
        liquid += liquid_rows(deliveries)
        truth += truth_rows(site, year, booked)
        months += month_rows(site, year, booked)
        print(f"{site.tag}: booked with K = {booked_k_per_m3(points):.1f} pulses per m3", file=sys.stderr)
    write_table(out / "planted_faults.csv", ["time is the end of the hour"], ("time", "meter", "fault"), faults)
    note = "rho_base_kgm3 at 15 °C; nu40_mm2s at 40 °C, for information: see liquids.csv"
    write_table(out / "batches.csv", [note],
                ("start", "meter", "liquid", "rho_base_kgm3", "nu40_mm2s"), batch)
    write_table(out / "liquids.csv", ["laboratory viscosities of each quality; u_nu_pct is expanded, k=2"],
                ("liquid", "group", "base", "t_degc", "nu_mm2s", "u_nu_pct"), liquid)
    write_table(out / "truth.csv", ["time at the end of the hour; base is 15 °C and 0 gauge"],
                ("time", "meter", *TRUTH_NUMBERS, "pulses", "flowing_s", "full_flow", "t_degc", "nu_mm2s"), truth)
    write_table(out / "truth_months.csv", ["an hour belongs to the local month in which it begins"],
                ("month", "meter", "scope", "hours", *TRUTH_NUMBERS, "booked_gross_error_pct", "booked_base_error_pct"),
                months)
