# SPDX-License-Identifier: Apache-2.0
"""Write a long invented history of one meter, a reading a second, for tests of memory and speed.

    write_history(path, 20_000_000)

Flow changes slowly between 200 and 300 Hz with stops now and then; times are UTC from 1 January 2025, at the end of the
second. Nothing but the number of rows is of interest.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pyarrow as pa
import pyarrow.compute
import pyarrow.csv

FIRST_S = 1_735_689_600  # 2025-01-01T00:00:00Z
PART = 500_000


def part(start: int, rows: int) -> pa.RecordBatch:
    """Some rows of the history."""
    second = np.arange(start, start + rows)
    pulses = np.rint(250 + 50 * np.sin(second / 700)).astype(np.int64)
    pulses[(second // 900) % 7 == 0] = 0
    times = pa.array(second + FIRST_S + 1, pa.timestamp("s")).cast(pa.string())
    times = pa.compute.binary_join_element_wise(times, pa.array(["Z"] * rows), "")
    return pa.RecordBatch.from_pydict({
        "time": times,
        "pulses": pulses,
        "t_degc": np.round(15 + 5 * np.sin(second / 9000), 2),
        "p_kpag": np.round(500 + 20 * np.cos(second / 5000), 1),
        "booked_m3": np.round(pulses / 12200, 6),
    })


def write_history(path: Path, rows: int) -> None:
    """The whole history as CSV."""
    options = pyarrow.csv.WriteOptions(quoting_style="none")
    with pyarrow.csv.CSVWriter(str(path), part(0, 1).schema, write_options=options) as writer:
        for start in range(0, rows, PART):
            writer.write_batch(part(start, min(PART, rows - start)))
