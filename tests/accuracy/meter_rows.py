# SPDX-License-Identifier: Apache-2.0
"""Write a check row for each formula of the body, similarity, performance, custody, limits, pulses and metals:

    python3 meter_rows.py > ../checks/meter_custody_computed.csv

Every value is computed at 40 digits from the doubles nearest to the printed inputs, by tests/support/meter_oracle.py and
custody_oracle.py, apart from the library. The tolerance is 4e-15 relative x max(1, condition number).
"""

import random
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "tests" / "support"), str(ROOT / "tables")]

import custody_oracle  # noqa: E402
import meter_oracle  # noqa: E402
from exact_numbers import digits  # noqa: E402
from generate_methods import LAYERS, methods_of  # noqa: E402
from petroleum_oracle import NoValue  # noqa: E402

SOURCE = "recomputed from the formula in 40 digits (tests/accuracy/meter_rows.py)"


def printed(x: Any) -> Any:
    """A number as it stands in the row: six digits."""
    return x if isinstance(x, str) else [printed(v) for v in x] if isinstance(x, list) else float(f"{x:.6g}")


def text(x: Any) -> str:
    """The same as text."""
    return " ".join(map(str, x)) if isinstance(x, list) else str(x)


def rows() -> Iterator[str]:
    """Header and rows."""
    yield "id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note"
    units = {method.name: method.unit for header in LAYERS for method in methods_of(header)[0]}
    for oracle in (meter_oracle, custody_oracle):
        for name in sorted(oracle.NAMES - {"round_half_away"}):  # six digits are no test of it; it has rows of its own
            rng, value = random.Random(f"rows {name}"), None
            while value is None or value == 0:
                inputs = {key: printed(x) for key, x in oracle.draw(name, rng).items()}
                try:
                    value = oracle.value(name, **inputs)
                except NoValue:
                    value = None
            limit = 4e-15 * abs(float(value)) * max(1.0, oracle.condition(name, **inputs))
            given = ";".join(f"{key}={text(x)}" for key, x in inputs.items())
            yield (f"MC-{name},{name},{given},{digits(value, 20)},{limit:.2g},{units[name]},conformance,computed,"
                   f"{SOURCE},,")


if __name__ == "__main__":
    print("\n".join(rows()))
