# SPDX-License-Identifier: Apache-2.0
"""Hold restated volumes of the invented depot (examples/depot) against its truth, month by month.

    folder = make_depot(tmp_path)
    truth = load_truth(folder, "DN80-D")
    restated = [Restated(end, 3600.0, gross, base), ...]    # one per usable reading, from the library
    for month in compare_months(truth, restated):
        assert abs(month.gross_error_pct) < 0.03

Only hours that were restated are compared: the truth is summed over the same hours. A reading after a gap may cover
several hours; it is compared with their sum, and counts as full-flow only if all of them are. Volumes are in m3,
times carry their offset, an hour belongs to the local month in which it begins. The depot's own 11.1 implementation
can be imported as petroleum_independent once DEPOT is on sys.path.
"""

from __future__ import annotations

import csv
import math
import subprocess
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from pathlib import Path
from zoneinfo import ZoneInfo

DEPOT = Path(__file__).resolve().parents[2] / "examples" / "depot"
ZONE = ZoneInfo("Europe/Berlin")
HOUR = timedelta(hours=1)


@dataclass(frozen=True)
class Hour:
    """Truth and booking of one hour."""

    gross_m3: float
    base_m3: float
    booked_gross_m3: float
    booked_base_m3: float
    pulses: int
    flowing_s: float
    full_flow: bool


@dataclass(frozen=True)
class Restated:
    """What the library makes of one reading: end of its window, length in s, gross and base volume in m3."""

    end: datetime
    duration_s: float
    gross_m3: float
    base_m3: float


@dataclass
class Month:
    """Sums over the compared hours of a month, m3."""

    month: str
    hours: int = 0
    true_gross_m3: float = 0.0
    true_base_m3: float = 0.0
    restated_gross_m3: float = 0.0
    restated_base_m3: float = 0.0
    booked_gross_m3: float = 0.0
    booked_base_m3: float = 0.0

    @property
    def gross_error_pct(self) -> float:
        return 100 * (self.restated_gross_m3 / self.true_gross_m3 - 1)

    @property
    def base_error_pct(self) -> float:
        return 100 * (self.restated_base_m3 / self.true_base_m3 - 1)

    @property
    def booked_gross_error_pct(self) -> float:
        return 100 * (self.booked_gross_m3 / self.true_gross_m3 - 1)

    @property
    def booked_base_error_pct(self) -> float:
        return 100 * (self.booked_base_m3 / self.true_base_m3 - 1)


def make_depot(folder: Path, *options: str) -> Path:
    """Run the generator into a folder; options as on its command line. Returns the folder."""
    subprocess.run([sys.executable, str(DEPOT / "make_depot.py"), "--out", str(folder), *options], check=True)
    return folder


def read_rows(path: Path) -> list[dict[str, str]]:
    """Rows of one of the depot's CSV files, comment lines left out."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def instant(text: str) -> datetime:
    """A time that carries its offset, in UTC."""
    time = datetime.fromisoformat(text)
    if time.tzinfo is None:
        raise ValueError(f"no offset in {text}")
    return time.astimezone(timezone.utc)


def hour_of(row: dict[str, str]) -> Hour:
    """One row of truth.csv."""
    return Hour(
        gross_m3=float(row["gross_m3"]),
        base_m3=float(row["base_m3"]),
        booked_gross_m3=float(row["booked_gross_m3"]),
        booked_base_m3=float(row["booked_base_m3"]),
        pulses=int(row["pulses"]),
        flowing_s=float(row["flowing_s"]),
        full_flow=row["full_flow"] == "1",
    )


def load_truth(folder: Path, meter: str) -> dict[datetime, Hour]:
    """Truth of one meter by the end of the hour, UTC."""
    truth = {instant(row["time"]): hour_of(row) for row in read_rows(folder / "truth.csv") if row["meter"] == meter}
    if not truth:
        raise ValueError(f"no truth for meter {meter}")
    return truth


def load_faults(folder: Path, meter: str) -> dict[datetime, str]:
    """Planted faults of one meter by the end of the hour, UTC; a counter's roll-over is listed, though it is none."""
    return {instant(row["time"]): row["fault"] for row in read_rows(folder / "planted_faults.csv")
            if row["meter"] == meter}


def hours_of(truth: dict[datetime, Hour], row: Restated) -> list[Hour]:
    """The hours that a reading covers, last first."""
    count = round(row.duration_s / 3600)
    if count < 1 or abs(row.duration_s - 3600 * count) > 0.5:
        raise ValueError(f"{row.duration_s} s is not a number of whole hours")
    end = row.end.astimezone(timezone.utc)
    return [truth[end - i * HOUR] for i in range(count)]


def compare_months(truth: dict[datetime, Hour], restated: Iterable[Restated], full_flow: bool = True) -> list[Month]:
    """Monthly sums of truth, restatement and booking over the restated hours.

    :param full_flow: only readings that ran at a steady flow all the time; otherwise every reading
    :raises ValueError: where nothing is compared, a volume is not finite, or two readings cover one hour
    """
    months: dict[str, Month] = {}
    seen: set[int] = set()
    for row in restated:
        hours = hours_of(truth, row)
        if full_flow and not all(hour.full_flow for hour in hours):
            continue
        if not (math.isfinite(row.gross_m3) and math.isfinite(row.base_m3)):
            raise ValueError(f"no volume at {row.end.isoformat()}")
        if seen & {id(hour) for hour in hours}:
            raise ValueError(f"an hour twice at {row.end.isoformat()}")
        seen |= {id(hour) for hour in hours}
        begin = (row.end.astimezone(timezone.utc) - timedelta(seconds=row.duration_s)).astimezone(ZONE)
        month = months.setdefault(f"{begin:%Y-%m}", Month(f"{begin:%Y-%m}"))
        month.hours += len(hours)
        month.restated_gross_m3 += row.gross_m3
        month.restated_base_m3 += row.base_m3
        month.true_gross_m3 += sum(hour.gross_m3 for hour in hours)
        month.true_base_m3 += sum(hour.base_m3 for hour in hours)
        month.booked_gross_m3 += sum(hour.booked_gross_m3 for hour in hours)
        month.booked_base_m3 += sum(hour.booked_base_m3 for hour in hours)
    if not months:
        raise ValueError("nothing compared")
    return [months[name] for name in sorted(months)]
