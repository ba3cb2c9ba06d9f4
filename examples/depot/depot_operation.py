# SPDX-License-Identifier: Apache-2.0
"""How the invented depot is run: when liquid flows, how warm it is, which batch is in the line.

The numbers are stated in the docstring of make_depot.py. Time is counted in seconds, minutes or hours since local
midnight of 1 January 2025; working hours follow this count and so do not shift with summer time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import numpy as np
from invented_meter import Array, Fuel

ZONE = ZoneInfo("Europe/Berlin")  # used as a time zone only
START = datetime(2025, 1, 1, tzinfo=ZONE).astimezone(timezone.utc)
HOURS = 8760
DAY_S = 86400
YEAR_S = HOURS * 3600
FIRST_WEEKDAY = 2  # 1 January 2025 is a Wednesday; Monday is 0


@dataclass(frozen=True)
class Plan:
    """What one meter sees: flows in m3/h, temperatures in °C and K, pressure in kPa gauge, fuels by season."""

    set_points_m3h: tuple[float, ...]
    transfer_weekdays: tuple[int, ...]
    t_mean_degc: float
    t_season_k: float
    t_day_k: float
    t_slow_k: float
    p_mean_kpag: float
    p_slow_kpa: float
    winter_fuels: tuple[Fuel, ...]
    summer_fuels: tuple[Fuel, ...]


@dataclass(frozen=True)
class Batch:
    """A delivery: first hour, quality, true density at 15 °C in kg/m3, true viscosity over that of its quality."""

    start_hour: int
    fuel: Fuel
    rho15_kgm3: float
    nu_factor: float


def hour_end(hour: int) -> datetime:
    """Local time at the end of an hour counted from 0."""
    return (START + timedelta(hours=hour + 1)).astimezone(ZONE)


def month_of_hour(hour: int) -> int:
    """Local month, 1 to 12, in which an hour begins."""
    return hour_end(hour - 1).month


def run_times(rng: np.random.RandomState, plan: Plan) -> Iterator[tuple[float, float, float]]:
    """Runs as (start s, end s, mean time between set-point changes s), in order and apart from each other."""
    t, last_transfer_day = 6.0 * 3600, -1
    while t < YEAR_S - 2 * DAY_S:
        day, hour = int(t // DAY_S), (t % DAY_S) / 3600
        weekday = (day + FIRST_WEEKDAY) % 7
        if weekday == 6 or not 5 <= hour < 21:
            t = (day + (hour >= 5)) * DAY_S + 5.0 * 3600 + rng.uniform(0, 1800)
            if (int(t // DAY_S) + FIRST_WEEKDAY) % 7 == 6:
                t += DAY_S
            continue
        transfer = weekday in plan.transfer_weekdays and day != last_transfer_day
        length = rng.uniform(12, 30) * 3600 if transfer else rng.uniform(12, 75) * 60
        if transfer:
            last_transfer_day = day
        yield t, t + length, 6 * 3600.0 if transfer else 2400.0
        t += length + rng.uniform(3, 45) * 60


def flow_profile(rng: np.random.RandomState, plan: Plan) -> tuple[Array, Array]:
    """Corners of the intended flow: times in s and flows in m3/h, straight lines between them."""
    times: list[float] = [0.0]
    flows: list[float] = [0.0]

    def set_point() -> float:
        return plan.set_points_m3h[rng.randint(len(plan.set_points_m3h))] * (1 + 0.02 * rng.standard_normal())

    for start, end, between in run_times(rng, plan):
        q = set_point()
        up, down = rng.uniform(20, 60), rng.uniform(20, 60)
        times += [start, start + up]
        flows += [0.0, q]
        change = start + up + rng.uniform(0.5, 1.5) * between
        while change + 120 < end - down:
            ramp = rng.uniform(20, 60)
            times += [change, change + ramp]
            flows += [q, q := set_point()]
            change += ramp + rng.uniform(0.5, 1.5) * between
        times += [end - down, end]
        flows += [q, 0.0]
    return np.array(times + [float(YEAR_S)]), np.array(flows + [0.0])


def slow_noise(rng: np.random.RandomState, size: float, memory_h: float) -> Array:
    """First-order noise of a standard deviation at every minute of the year, straight lines between hourly values."""
    keep = float(np.exp(-1.0 / memory_h))
    value, values = 0.0, []
    for draw in rng.standard_normal(HOURS + 1):
        value = keep * value + (1 - keep * keep) ** 0.5 * float(draw)
        values.append(size * value)
    return np.interp(np.arange(HOURS * 60) / 60, np.arange(HOURS + 1), np.array(values))


def weather(rng: np.random.RandomState, plan: Plan) -> tuple[Array, Array]:
    """Temperature in °C and pressure in kPa gauge of the liquid at every minute of the year."""
    day = np.arange(HOURS * 60) / 1440
    season = -plan.t_season_k * np.cos(2 * np.pi * (day - 25) / 365)
    daily = -plan.t_day_k * np.cos(2 * np.pi * (day - 3 / 24))
    t = plan.t_mean_degc + season + daily + slow_noise(rng, plan.t_slow_k, 60)
    return t, plan.p_mean_kpag + slow_noise(rng, plan.p_slow_kpa, 8)


def batches(rng: np.random.RandomState, plan: Plan) -> list[Batch]:
    """Deliveries of the year, each 5 to 15 days long and starting at a whole hour."""
    found, hour = [], 0
    while hour < HOURS:
        winter = month_of_hour(hour) in (1, 2, 3, 11, 12)
        fuels = plan.winter_fuels if winter else plan.summer_fuels
        fuel = fuels[rng.randint(len(fuels))]
        factor = 1 + float(np.clip(0.004 * rng.standard_normal(), -0.008, 0.008))
        found.append(Batch(hour, fuel, fuel.rho15_kgm3 + 1.8 * rng.standard_normal(), factor))
        hour += rng.randint(5 * 24, 15 * 24 + 1)
    return found
