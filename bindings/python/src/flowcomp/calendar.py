# SPDX-License-Identifier: Apache-2.0
"""Local time and contract months.

A contract day begins at the contract hour, local time, and a contract month at the contract hour of its first day. A
window belongs to the contract month in which it begins. A beginning that falls into a skipped hour is the moment of
the change; one that falls into a repeated hour is the first of the two.

Instants are int64 microseconds since 1970-01-01T00:00Z.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

import numpy as np
import numpy.typing as npt
import pyarrow as pa
import pyarrow.compute as pc

from .input_error import InputError, close_names

Instants = npt.NDArray[np.int64]

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
MICROSECOND = timedelta(microseconds=1)
FIRST_YEAR, LAST_YEAR = 1971, 2199


def zone_of(name: str) -> tzinfo:
    """A time zone by its name in the tz database, or a fixed offset such as +01:00."""
    fixed = re.fullmatch(r"([+-])(\d\d):?(\d\d)", name)
    if fixed:
        size = timedelta(hours=int(fixed[2]), minutes=int(fixed[3]))
        if size < timedelta(hours=24):
            return timezone(-size if fixed[1] == "-" else size)
    try:
        zone = ZoneInfo(name)
        pc.local_timestamp(pa.array([0], pa.timestamp("us", tz=name)))
        return zone
    except pa.ArrowInvalid:
        raise InputError(f"--timezone {name}: the system has no time zones; install its package tzdata") from None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise InputError(f"--timezone {name}: no such time zone{close_names(name, available_timezones())}; give a name "
                         "such as Europe/Berlin, or a fixed offset such as +01:00") from None


def microseconds(time: datetime) -> int:
    """Instant of a time that knows its offset."""
    return (time - EPOCH) // MICROSECOND


def local_time(instant: int, zone: tzinfo) -> datetime:
    """Local time of an instant."""
    return (EPOCH + timedelta(microseconds=int(instant))).astimezone(zone)


def iso(instant: int, zone: tzinfo) -> str:
    """Local time of an instant as ISO 8601 text with its offset."""
    return local_time(instant, zone).isoformat()


@dataclass(frozen=True)
class Candidates:
    """What local times may mean. earliest and latest are equal but in a repeated hour; in a skipped hour both are the
    moment of the change and skipped is true. Arrays of shape (n,)."""

    earliest: Instants
    latest: Instants
    skipped: npt.NDArray[np.bool_]


def arrow_zone(zone: tzinfo) -> str:
    """The zone as Arrow spells it."""
    if isinstance(zone, ZoneInfo):
        return zone.key
    offset = zone.utcoffset(None) or timedelta()
    minutes = int(offset.total_seconds()) // 60
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02d}:{abs(minutes) % 60:02d}"


def instants_of(array: pa.Array) -> Instants:
    """Microseconds of a timestamp array without nulls."""
    return np.asarray(array.cast(pa.timestamp("us", tz=array.type.tz)).cast(pa.int64()).to_numpy(zero_copy_only=False))


def candidates(local: pa.Array, zone: tzinfo) -> Candidates:
    """Instants that local times (timestamp[us] without zone, no nulls) may mean."""
    if isinstance(zone, timezone):
        shift = int((zone.utcoffset(None)) / MICROSECOND)
        fixed = np.asarray(local.cast(pa.int64()).to_numpy(zero_copy_only=False)) - shift
        return Candidates(fixed, fixed, np.zeros(len(fixed), dtype=bool))
    name = arrow_zone(zone)
    early = pc.assume_timezone(local, name, ambiguous="earliest", nonexistent="earliest")
    late = pc.assume_timezone(local, name, ambiguous="latest", nonexistent="latest")
    earliest, latest = instants_of(early), instants_of(late)
    # In a skipped hour Arrow gives the last moment before the change and the first after it.
    skipped = latest - earliest == 1
    earliest = np.where(skipped, latest, earliest)
    return Candidates(earliest, latest, skipped)


@dataclass
class ContractMonths:
    """Contract months of a zone, found by instant."""

    zone: tzinfo
    hour: int = 0
    first_day: int = 1
    starts: list[int] = field(default_factory=list)
    names: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        if not 0 <= self.hour <= 23:
            raise InputError(f"--contract-hour is {self.hour}; it must be from 0 to 23")
        if not 1 <= self.first_day <= 28:
            raise InputError(f"--contract-month-day is {self.first_day}; it must be from 1 to 28, as every month has")
        for year in range(FIRST_YEAR, LAST_YEAR + 1):
            for month in range(1, 13):
                begin = datetime(year, month, self.first_day, self.hour, tzinfo=self.zone)
                self.starts.append(microseconds(begin))
                self.names.append(f"{year:04d}-{month:02d}")
        self.edges = np.array(self.starts, dtype=np.int64)

    def place(self, instants: Instants) -> npt.NDArray[np.int64]:
        """Place of the month of each instant in names; -1 outside the years covered."""
        found = np.searchsorted(self.edges, instants, side="right") - 1
        return np.where((found < 0) | (found >= len(self.names) - 1), -1, found)

    def describe(self) -> str:
        """The contract month in words."""
        return (f"a contract month begins on day {self.first_day} at {self.hour:02d}:00 local time; a window belongs "
                "to the month in which it begins")
