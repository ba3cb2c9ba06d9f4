#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Write edition_difference_1980_2004.md: what the choice between the tables of 1980 and of 2004 does to CTL.

    edition_difference.py LIBRARY          write the table; LIBRARY is the path of the shared library
    edition_difference.py LIBRARY --check  fail if the committed table differs

It shows what the library gives; that the library is right is shown elsewhere (tests/accuracy, tests/checks).
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests" / "support"))

from library_call import Library  # noqa: E402

TARGET = Path(__file__).resolve().parent / "edition_difference_1980_2004.md"
WATER_1980 = 999.012
DENSITIES = {
    "crude": (620, 660, 700, 750, 800, 850, 900, 950, 1000, 1050),
    "refined": (660, 700, 740, 765, 772, 775, 780, 785, 790, 810, 835, 850, 900, 1000, 1050),
    "lube": (810, 850, 900, 950, 1000, 1100, 1150),
}
T_DEGC = (-18, 0, 10, 20, 30, 40, 60, 80, 94)
T_DEGF = (0, 32, 50, 70, 90, 120, 160, 200)
HEAD = """# CTL of the tables of 1980 less CTL of API MPMS 11.1 (2004)

Same base density, same temperature, same product group; in units of 0.00001. Written by `edition_difference.py` from
`flc_ctl15_difference_1980_2004` (base 15 °C) and from tables 24 and CTL60 (base 60 °F). Where the density lies between
770 and 788 kg/m³, the tables of 1980 feed the density at 15 °C into a steep alpha, where those of 2004 feed that at
60 °F: hence the large figures of refined products there. A ticket names the edition it was made with; a difference of
10 is one part in ten thousand of the quantity. The constants of both editions are from memory: confirm against the
print before relying on a figure in a dispute, and follow the contract and the local code for which edition holds.
"""


def difference_15(library: Library, group: str, rho: float, t: float) -> float:
    status, value = library.call("ctl15_difference_1980_2004", rho15_kgm3=rho, t_degc=t, group=group)
    if status != "OK":
        raise ValueError(f"ctl15_difference_1980_2004({rho}, {t}, {group}): {status}")
    return value


def difference_60(library: Library, group: str, rho: float, t: float) -> float:
    status, of_1980 = library.call("ctl_table24_petroleum_1980", rd60=rho / WATER_1980, t_degf=t, group=group)
    status_2004, of_2004 = library.call("ctl60_petroleum_2004", rho60_kgm3=rho, t_degf=t, group=group)
    if (status, status_2004) != ("OK", "OK"):
        raise ValueError(f"CTL60({rho}, {t}, {group}): {status}, {status_2004}")
    return of_1980 - of_2004


def table(library: Library, group: str, base: str) -> list[str]:
    """One table: densities down, temperatures across."""
    difference, temperatures, unit = ((difference_15, T_DEGC, "°C") if base == "15 °C"
                                      else (difference_60, T_DEGF, "°F"))
    lines = ["", f"## Base {base}, {group}", "",
             f"| kg/m³ at {base} |" + "".join(f" {t} {unit} |" for t in temperatures),
             "|---:|" + "---:|" * len(temperatures)]
    for rho in DENSITIES[group]:
        cells = (1e5 * difference(library, group, float(rho), float(t)) for t in temperatures)
        lines.append(f"| {rho} |" + "".join(f" {cell + 0.0:.1f} |".replace(" -0.0 ", " 0.0 ") for cell in cells))
    return lines


def largest(library: Library) -> list[str]:
    """Largest difference of each group on a grid of 1 kg/m3 and 2 degrees, over the temperatures of the tables."""
    lines = ["", "## Largest", "", "| group | base | largest | at |", "|---|---|---:|---|"]
    for group, rhos in DENSITIES.items():
        for base, difference, ts, unit in (("15 °C", difference_15, T_DEGC, "°C"),
                                           ("60 °F", difference_60, T_DEGF, "°F")):
            found = max((abs(difference(library, group, float(rho), float(t))), rho, t)
                        for rho in range(rhos[0], rhos[-1] + 1) for t in range(ts[0], ts[-1] + 1, 2))
            lines.append(f"| {group} | {base} | {1e5 * found[0]:.1f} | {found[1]} kg/m³, {found[2]} {unit} |")
    return lines


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("library", help="path of the shared library")
    parser.add_argument("--check", action="store_true", help="fail if the committed table differs")
    options = parser.parse_args()
    library = Library(options.library)
    lines = largest(library)
    for base in ("15 °C", "60 °F"):
        for group in DENSITIES:
            lines += table(library, group, base)
    text = HEAD + "\n".join(lines) + "\n"
    if options.check:
        same = TARGET.exists() and TARGET.read_text(encoding="utf-8") == text
        print(f"{TARGET.name}: {'as committed' if same else 'differs; run edition_difference.py'}")
        return 0 if same else 1
    TARGET.write_text(text, encoding="utf-8")
    print(f"wrote {TARGET.name}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
