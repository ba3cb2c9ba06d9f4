# SPDX-License-Identifier: Apache-2.0
"""Write check rows of glycol-water, biodiesel, saturated liquids, COSTALD and LNG, for the quantities that no other file
of checks holds:

    python3 other_liquids_rows.py > ../checks/other_liquids_computed.csv

Every value is computed with mpmath at 40 digits from the doubles nearest to the printed inputs, by
tests/support/other_liquids_oracle.py, apart from the library. The tolerance is 4e-15 relative x max(1, condition number).
"""

import random
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import other_liquids_oracle as oracle  # noqa: E402
from exact_numbers import digits  # noqa: E402
from petroleum_oracle import NoValue  # noqa: E402

UNITS = (("ctl", "1"), ("cpl", "1"), ("mass_fraction", "1"), ("k", "m3/kmol"), ("rho", "kg/m3"))
BEGINNINGS = ("ctl_l", "ctl_m", "ctl_s", "ctl15", "cpl", "k1", "k2", "mass_fraction", "rho_base", "rho_fame")
SOURCE = "recomputed from the published formula with mpmath at 40 digits (tests/accuracy/other_liquids_rows.py)"


def rows(per_quantity: int) -> Iterator[str]:
    """Header and rows."""
    yield "id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note"
    for name in sorted(name for name in oracle.NAMES if name.startswith(BEGINNINGS)):
        rng, count = random.Random(f"rows {name}"), 0
        unit = next(unit for start, unit in UNITS if name.startswith(start))
        while count < per_quantity:
            inputs = {key: x if isinstance(x, str) else float(f"{x:.7g}") for key, x in oracle.draw(name, rng).items()}
            try:
                value = oracle.value(name, **inputs)
            except NoValue:
                continue
            count += 1
            limit = 4e-15 * abs(float(value)) * max(1.0, oracle.condition(name, **inputs))
            text = ";".join(f"{key}={x}" for key, x in inputs.items())
            yield (f"OL-{name}-{count},{name},{text},{digits(value, 20)},{limit:.2g},{unit},conformance,computed,"
                   f"{SOURCE},,")


if __name__ == "__main__":
    print("\n".join(rows(3)))
