# SPDX-License-Identifier: Apache-2.0
"""Invented tickets for the tests: no real meter, liquid or delivery has these figures."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import flowcomp as fc

KEY, OTHER = bytes(range(32)), bytes(range(1, 33))
START = datetime(2025, 1, 31, 6, tzinfo=UTC)


def diesel(base: str = "15C") -> fc.Liquid:
    return fc.Liquid("invented diesel", volume="petroleum_2004", group="refined", base=base, viscosity="points",
                     t_degc=[15, 40], nu_mm2s=[5.1, 2.9], u_nu_relative=0.01)


def meter() -> fc.Meter:
    body = fc.Body(bore_m=0.0525, t0_degc=20, area_blocked=0.17, end="lame_closed", wall_m=0.0039,
                   housing=fc.Metal.mean(15.9e-6, 0, 100, modulus_gpa=193, poisson=0.29, source="invented"))
    fit = fc.fit_certificate([dict(f_hz=f, k_per_m3=k, nu_mm2s=1.52, t_degc=22, p_kpag=250) for f, k in (
        (42.9, 38608.1), (108.1, 38952.4), (173.2, 39033.4), (270.4, 39076.0), (433.8, 39114.9))],
        body=body, convention="raw", treatment="as_run", reference="at_meter")
    return fc.Meter("INV-50", body, fit.curve)


def intervals(count: int, **more: Any) -> list[dict[str, Any]]:
    """Hours; nothing flows in every seventh."""
    return [{"start": START + timedelta(hours=i), "end": START + timedelta(hours=i + 1),
             "pulses": 0 if i % 7 == 6 else 900_000 + 137 * i, "mf": 1.0012, "t_degc": 28.3 + 0.37 * i, "p_kpag": 250.0 + i,
             "substituted": "pressure of the hour before: transmitter alarm" if i == 3 else "", **more}
            for i in range(count)]


def by_readings() -> dict[str, Any]:
    return {"id": "R-1", "start": START, "end": START + timedelta(days=1), "iv_source": "readings", "opening": 17181.4,
            "closing": 45752.83, "volume_unit": "bbl", "trail": {"number": 0, "hash": ""},
            "ticket": {"unit_m3": 0.158987294928, "mf": 1.0012, "ctl": 0.98412, "cpl": 1.00073, "sw_pct": 0.25,
                       "rho_base_kgm3": 851.3, "rounding": fc.rounding_1995("barrels")}}


def by_pulses(count: int = 24, factors: str = "averages", **more: Any) -> dict[str, Any]:
    return {"id": f"P-{count}", "place": "invented depot", "start": START, "end": START + timedelta(hours=count),
            "iv_source": "intervals", "factors": factors, "nkf": 38950.0, "density": {"rho_base_kgm3": 835.0},
            "intervals": intervals(count), "ticket": {"sw_pct": 0.05}, **more}


def by_curve(count: int = 12) -> dict[str, Any]:
    given = by_pulses(count, factors="intervals")
    return {**given, "id": f"C-{count}", "nkf": None, "ticket": {"way": "curve"}}
