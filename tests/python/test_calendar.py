# SPDX-License-Identifier: Apache-2.0
"""Contract months and local times, against Python's own datetime and zoneinfo."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pyarrow as pa
import pytest
from flowcomp.calendar import ContractMonths, candidates, iso, microseconds, zone_of
from flowcomp.input_error import InputError

ZONES = ("Europe/Berlin", "America/Denver", "Australia/Lord_Howe", "Asia/Kolkata", "UTC")


def month_of(instant: datetime, zone: ZoneInfo, hour: int, day: int) -> str:
    """The contract month by its definition, with local times only: shift back by the first day and the hour."""
    local = instant.astimezone(zone).replace(tzinfo=None)
    begin = local.replace(day=day, hour=hour, minute=0, second=0, microsecond=0)
    if local < begin:
        last = (local.replace(day=1) - timedelta(days=1))
        return f"{last:%Y-%m}"
    return f"{local:%Y-%m}"


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize(("hour", "day"), [(0, 1), (6, 1), (6, 10), (23, 28)])
def test_contract_months(zone: str, hour: int, day: int) -> None:
    """Every half hour of 2025 that is not within a clock change's hour at the edge of a month (there is none here)."""
    months = ContractMonths(zone_of(zone), hour, day)
    times = [datetime(2025, 1, 1, tzinfo=UTC) + timedelta(minutes=30 * step) for step in range(48 * 365)]
    found = months.place(np.array([microseconds(time) for time in times]))
    assert [months.names[place] for place in found] == [month_of(time, ZoneInfo(zone), hour, day) for time in times]


def test_month_that_begins_in_a_skipped_hour() -> None:
    """Local 02:00 on 30 March 2025 does not exist in Berlin; the day 28 of this year has it: 02:00 on 28 March does."""
    zone = ZoneInfo("America/Denver")  # 9 March 2025, 02:00 to 03:00
    months = ContractMonths(zone, 2, 9)
    change = microseconds(datetime(2025, 3, 9, 9, tzinfo=UTC))
    assert [months.names[place] for place in months.place(np.array([change - 1, change]))] == ["2025-02", "2025-03"]


def test_month_that_begins_in_a_repeated_hour() -> None:
    """2 November 2025, 01:00 comes twice in Denver: the month begins at the first, 07:00 UTC."""
    months = ContractMonths(ZoneInfo("America/Denver"), 1, 2)
    first = microseconds(datetime(2025, 11, 2, 7, tzinfo=UTC))
    assert [months.names[place] for place in months.place(np.array([first - 1, first]))] == ["2025-10", "2025-11"]


def test_outside_the_calendar() -> None:
    months = ContractMonths(UTC)
    assert months.place(np.array([0, microseconds(datetime(2300, 1, 1, tzinfo=UTC))])).tolist() == [-1, -1]


@pytest.mark.parametrize("zone", ZONES)
def test_local_times(zone: str) -> None:
    """Every quarter of an hour of 2025 as local time: what zoneinfo makes of it with fold 0 and 1."""
    start = datetime(2025, 1, 1)
    local = [start + timedelta(minutes=15 * step) for step in range(96 * 365)]
    found = candidates(pa.array(local, pa.timestamp("us")), zone_of(zone))
    for time, early, late, skipped in zip(local, found.earliest, found.latest, found.skipped, strict=True):
        first, second = (microseconds(time.replace(tzinfo=ZoneInfo(zone), fold=fold)) for fold in (0, 1))
        back = datetime.fromisoformat(iso(first, ZoneInfo(zone))).replace(tzinfo=None)
        assert skipped == (back != time), time
        if not skipped:
            assert (early, late) == (first, second), time


def test_fixed_offsets() -> None:
    found = candidates(pa.array([datetime(2025, 7, 1, 12)], pa.timestamp("us")), zone_of("-03:30"))
    assert found.earliest[0] == found.latest[0] == microseconds(datetime(2025, 7, 1, 15, 30, tzinfo=UTC))


@pytest.mark.parametrize("name", ["", "Berlin", "+25:00", "../etc/passwd", "Europe/"])
def test_zones_that_are_none(name: str) -> None:
    with pytest.raises(InputError, match="no such time zone"):
        zone_of(name)
