# SPDX-License-Identifier: Apache-2.0
"""Write check rows of the tables of 1980, compressibility of 1984 and 1986, light ends and supplied liquids:

    python3 hydrocarbon_rows.py > ../checks/hydrocarbons_computed.csv

Every value is computed with mpmath at 40 digits from the doubles nearest to the printed inputs, by
tests/support/hydrocarbon_oracle.py, apart from the library. The tolerance is 4e-15 relative x max(1, condition number).
"""

import random
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import hydrocarbon_oracle as oracle  # noqa: E402
from exact_numbers import digits  # noqa: E402
from petroleum_oracle import NoValue  # noqa: E402

UNITS = (("ctl", "1"), ("cpl", "1"), ("hydrometer", "1"), ("rd60", "1"), ("api", "degAPI"), ("equilibrium", "kPa"),
         ("f_compressibility_1984_metric", "1e-6/kPa"), ("f_from_observed", "1e-6/kPa"), ("f_", "1e-5/psi"),
         ("rho", "kg/m3"))
SOURCE = "recomputed from the formula of the standard with mpmath at 40 digits (tests/accuracy/hydrocarbon_rows.py)"


def _six_digits(x: Any) -> Any:
    return x if isinstance(x, str) else [_six_digits(v) for v in x] if isinstance(x, list) else float(f"{x:.6g}")


def _text(x: Any) -> str:
    return " ".join(map(str, x)) if isinstance(x, list) else str(x)


def rows(per_quantity: int) -> Iterator[str]:
    """Header and rows."""
    yield "id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note"
    for name in sorted(oracle.NAMES):
        rng, count = random.Random(f"rows {name}"), 0
        unit = next(unit for start, unit in UNITS if name.startswith(start))
        while count < per_quantity:
            inputs = {key: _six_digits(x) for key, x in oracle.draw(name, rng).items()}
            try:
                value = oracle.value(name, **inputs)
            except NoValue:
                continue
            count += 1
            limit = 4e-15 * abs(float(value)) * max(1.0, oracle.condition(name, **inputs))
            text = ";".join(f"{key}={_text(x)}" for key, x in inputs.items())
            yield (f"HC-{name}-{count},{name},{text},{digits(value, 20)},{limit:.2g},{unit},conformance,computed,"
                   f"{SOURCE},,")


if __name__ == "__main__":
    print("\n".join(rows(3)))
