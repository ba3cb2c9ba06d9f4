# SPDX-License-Identifier: Apache-2.0
"""A small invented site for tests of the command line: one meter, one liquid, one batch, readings as the test needs.

    site = SmallSite(tmp_path)
    site.write("readings.csv", "time,pulses,t_degc,p_kpag", "2025-01-01T01:00:00+01:00,400000,20,250")
    result = site.restate()
    assert result.exit_code == 0, result.output
    site.rows(), site.events(), site.months(), site.record()
"""

from __future__ import annotations

import csv
import functools
import json
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from flowcomp.cli import app
from typer.testing import CliRunner

ROOT = Path(__file__).resolve().parents[2]
CERTIFICATES = ROOT / "examples" / "certificates"
CERTIFICATE = CERTIFICATES / "layout_a_flow_frequency_k.csv"
LIQUIDS = """liquid,group,base,t_degc,nu_mm2s,u_nu_pct
gas_oil,refined,15C,0,6.0,1.0
gas_oil,refined,15C,60,1.7,1.0
"""
BATCHES = """start,liquid,rho_base_kgm3
2025-01-01T00:00:00+01:00,gas_oil,840
"""
HEADER = "time,pulses,t_degc,p_kpag"


def run(*arguments: object) -> Any:
    """The command in this process; exit_code, stdout, stderr and output of the result."""
    return CliRunner().invoke(app, [str(argument) for argument in arguments])


@functools.cache
def meter_text() -> str:
    """Meter file of the example certificate."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "meter.json"
        result = run("fit", CERTIFICATE, "--out", out)
        assert result.exit_code == 0, result.output
        return out.read_text(encoding="utf-8")


def table(path: Path) -> list[dict[str, str]]:
    """Rows of a CSV file, comment lines left out."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def hours(count: int, first: str = "2025-01-01T01:00:00+00:00", step_s: float = 3600) -> list[str]:
    """Times a step apart, UTC."""
    start = datetime.fromisoformat(first).astimezone(UTC)
    return [(start + timedelta(seconds=step_s * number)).isoformat() for number in range(count)]


class SmallSite:
    """Files of the site in a folder, and the restatement of its readings."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.out = folder / "out"
        (folder / "meter.json").write_text(meter_text(), encoding="utf-8")
        (folder / "liquids.csv").write_text(LIQUIDS, encoding="utf-8")
        (folder / "batches.csv").write_text(BATCHES, encoding="utf-8")

    def write(self, name: str, *lines: str, end: str = "\n") -> Path:
        """A text file of the site."""
        path = self.folder / name
        path.write_bytes((end.join(lines) + end).encode())
        return path

    def readings(self, *rows: str, header: str = HEADER, name: str = "readings.csv") -> Path:
        """A file of readings."""
        return self.write(name, header, *rows)

    def pulses(self, *pulses: object, name: str = "readings.csv", **times: Any) -> Path:
        """Hourly readings with these pulses at 20 degC and 250 kPa."""
        stamps = hours(len(pulses), **times)
        rows = [f"{stamp},{count},20,250" for stamp, count in zip(stamps, pulses, strict=True)]
        return self.readings(*rows, name=name)

    def counter(self, *states: object, **times: Any) -> Path:
        """Hourly readings of a counter."""
        stamps = hours(len(states), **times)
        return self.readings(*(f"{stamp},{state},20,250" for stamp, state in zip(stamps, states, strict=True)),
                             header="time,counter,t_degc,p_kpag")

    def options(self, **changed: object) -> list[str]:
        """Options of a restatement; None leaves one out, True passes it without a value."""
        options: dict[str, object] = {
            "meter": self.folder / "meter.json", "liquids": self.folder / "liquids.csv",
            "batches": self.folder / "batches.csv", "interval": 3600, "stamp": "end", "timezone": "Europe/Berlin",
            "out": self.out} | changed
        found: list[str] = []
        for name, value in options.items():
            if value is not None:
                found += [f"--{name.replace('_', '-')}"] + ([] if value is True else [str(value)])
        return found

    def restate(self, *files: Path, **changed: object) -> Any:
        """Run the restatement of the files, readings.csv where none is named."""
        return run("restate", *(files or (self.folder / "readings.csv",)), *self.options(**changed))

    def rows(self) -> list[dict[str, str]]:
        return table(self.out / "rows_EX-50.csv")

    def events(self) -> list[dict[str, str]]:
        return table(self.out / "events_EX-50.csv")

    def months(self) -> list[dict[str, str]]:
        return table(self.out / "months.csv")

    def record(self) -> dict[str, Any]:
        return json.loads((self.out / "restatement.json").read_text(encoding="utf-8"))

    def statuses(self) -> list[str]:
        return [row["status"] for row in self.rows()]
