# SPDX-License-Identifier: Apache-2.0
"""Write check rows of aromatics, ethanol, water, sea water and produced water:

    python3 aqueous_rows.py > ../checks/aqueous_computed.csv

Every value is computed with mpmath at 40 digits from the doubles nearest to the printed inputs, by
tests/support/aqueous_oracle.py, apart from the library. The tolerance is 4e-15 relative x max(1, condition number).
"""

import random
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "support"))

import aqueous_oracle as oracle  # noqa: E402
from exact_numbers import digits  # noqa: E402
from petroleum_oracle import NoValue  # noqa: E402

UNITS = (("ctl", "1"), ("cpl", "1"), ("mu_", "mPa s"), ("nu_", "mm2/s"), ("p_", "MPa"), ("kappa", "1e-6/bar"),
         ("sg_", "1"), ("s_psu", "1"), ("mass_percent", "%"), ("volume_percent", "%"), ("gal_per_lb", "gal/lb"),
         ("lb_per_gal", "lb/gal"), ("gcm3", "g/cm3"),
         ("rho_air", "g/cm3"), ("rho_vacuum", "g/cm3"), ("rho", "kg/m3"), ("air_", "kg/m3"))
SOURCE = "recomputed from the published formula with mpmath at 40 digits (tests/accuracy/aqueous_rows.py)"


def rows(per_quantity: int) -> Iterator[str]:
    """Header and rows."""
    yield "id,quantity,inputs,expected,tolerance,unit,role,status,source,url,note"
    for name in sorted(oracle.NAMES):
        rng, count = random.Random(f"rows {name}"), 0
        unit = next(unit for start, unit in UNITS if name.startswith(start))
        while count < per_quantity:
            inputs = {key: x if isinstance(x, str) else float(f"{x:.6g}") for key, x in oracle.draw(name, rng).items()}
            try:
                value = oracle.value(name, **inputs)
            except NoValue:
                continue
            count += 1
            limit = 4e-15 * abs(float(value)) * max(1.0, oracle.condition(name, **inputs))
            text = ";".join(f"{key}={x}" for key, x in inputs.items())
            yield (f"AQ-{name}-{count},{name},{text},{digits(value, 20)},{limit:.2g},{unit},conformance,computed,"
                   f"{SOURCE},,")


if __name__ == "__main__":
    print("\n".join(rows(2)))
