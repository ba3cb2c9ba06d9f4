# SPDX-License-Identifier: Apache-2.0
"""The border of the package: units, rounding, versions, what is installed, doctests, the import."""

from __future__ import annotations

import doctest
import importlib
import math
import pkgutil
import re
import subprocess
import sys
from importlib import metadata
from pathlib import Path

import flowcomp as fc
import numpy as np
import pandas as pd
import pytest
from public_headers import HEADERS

PACKAGE = Path(fc.__file__).parent

# Modules of the command line need its extra; their own tests load them.
MODULES = [module.name for module in pkgutil.iter_modules([str(PACKAGE)])
           if not module.name.startswith(("_flowcomp", "_analysis", "_records"))]


# --- units and rounding -----------------------------------------------------------------------------------------------

def test_convert_takes_every_form() -> None:
    """1 US gallon is 231 cubic inches of 25.4 mm: 3.785411784 L exactly; 0 degC is 32 degF."""
    assert fc.convert(1, "USgal", "L") == 3.785411784 == fc.convert(np.float64(1), "USgal", "L")
    assert fc.convert([[1.0, 2.0]], "USgal", "L").tolist() == [[3.785411784, 7.570823568]]
    series = fc.convert(pd.Series([0.0, 100.0], index=["ice", "steam"], name="t"), "degC", "degF")
    assert series.to_dict() == {"ice": 32.0, "steam": 212.0} and series.name == "t"
    big = np.linspace(-100, 100, 200_000)
    assert fc.convert(big, "degC", "degF").tobytes() == \
        np.array([fc.convert(v, "degC", "degF") for v in big.tolist()]).tobytes()
    assert fc.convert(np.arange(6.0)[::2], "m", "mm").tolist() == [0.0, 2000.0, 4000.0]


def test_convert_with_what_it_needs() -> None:
    assert fc.convert_pressure(0.0, "kPag", "kPaa", 101.325) == 101.325
    assert fc.convert_pressure([0.0, 1.0], "barg", "kPaa", 100.0).tolist() == [100.0, 200.0]
    assert fc.convert_viscosity(1.0, "mPa.s", "mm2/s", 800.0) == 1.25
    assert fc.convert_viscosity([1.0, 2.0], "mPa.s", "mm2/s", [800.0, 1000.0]).tolist() == [1.25, 2.0]
    assert fc.convert_viscosity(1.0, "mPa.s", "mm2/s", np.array([800.0, 500.0])).tolist() == [1.25, 2.0]
    with pytest.raises(fc.errors.E_MISSING):
        fc.convert_pressure(0.0, "kPag", "kPaa")
    with pytest.raises(fc.errors.E_MISSING):
        fc.convert_viscosity([1.0], "mPa.s", "mm2/s")


def test_convert_refuses() -> None:
    for name, error in (("gal", "E_AMBIGUOUS_UNIT"), ("gallonz", "E_UNKNOWN_NAME"), ("m3", "E_UNIT_KIND")):
        with pytest.raises(getattr(fc.errors, error)):
            fc.convert(1.0, name, "kg" if name == "m3" else "L")
    with pytest.raises(fc.errors.E_BELOW, match="^2 of 3 records refused"):
        fc.convert([-300.0, 0.0, -400.0], "degC", "K")
    refused = fc.convert([-300.0, 0.0, math.nan], "degC", "K", on_refused="nan")
    assert np.isnan(refused).tolist() == [True, False, True]
    assert math.isnan(fc.convert(-300.0, "degC", "K", on_refused="nan"))
    with pytest.raises(fc.errors.E_NAN):
        fc.convert(math.nan, "degC", "K")
    with pytest.raises(fc.errors.E_BELOW, match="^1 of 2"):
        fc.convert_viscosity([1.0, 1.0], "mPa.s", "mm2/s", [800.0, 0.0])


def test_units_are_listed() -> None:
    assert len(fc.unit_kinds()) == 20 and "volume_flow" in fc.unit_kinds()
    names = fc.unit_names()
    assert len(names) == len(set(names)) > 100
    assert sorted(name for kind in fc.unit_kinds() for name in fc.unit_names(kind)) == sorted(names)
    for name in names:
        info = fc.unit_info(name)
        assert info.name == name and info.symbol and info.source and info.kind in fc.unit_kinds()
    assert fc.unit_info("degF").law == "temperature"
    with pytest.raises(fc.errors.E_UNKNOWN_NAME):
        fc.unit_names("colour")


def test_rounding_policies() -> None:
    """Half away from zero on the decimal value: 1.00805 to four decimals is 1.0081, 0.125 to two 0.13."""
    assert fc.Rounding.decimals(4).round(1.00805) == 1.0081 and fc.round_half_away(-0.125, 2) == -0.13
    assert fc.Rounding.increment(0.05).round([15.526, 15.524]).tolist() == [15.55, 15.5]
    assert fc.Rounding.none().round(math.pi) == math.pi and fc.Rounding.decimals(-2).round(250.0) == 300.0
    assert fc.Rounding.decimals(1).round(pd.Series([0.25], index=["x"])).to_dict() == {"x": 0.3}
    assert [repr(p) for p in (fc.Rounding.none(), fc.Rounding.decimals(2), fc.Rounding.increment(0.5))] == \
        ["Rounding.none()", "Rounding.decimals(2)", "Rounding.increment(0.5)"]
    with pytest.raises(fc.errors.E_ABOVE):
        fc.Rounding.decimals(13).round(1.0)
    with pytest.raises(fc.errors.E_BELOW):
        fc.Rounding.increment(0.0).round(1.0)
    with pytest.raises(fc.errors.E_NAN):
        fc.Rounding.decimals(2).round(math.nan)


# --- the package ------------------------------------------------------------------------------------------------------

def test_one_source_of_the_version() -> None:
    header = (HEADERS / "version.h").read_text(encoding="utf-8")
    version = ".".join(re.findall(r"#define FLC_VERSION_(?:MAJOR|MINOR|PATCH) (\d+)", header))
    assert fc.__version__ == metadata.version("flowcomp") == version == fc.versions()["libflowcomp"]
    assert fc.versions()["bits_contract"] == "FLC-BITS-1"


def test_the_wheel_carries_what_it_says() -> None:
    about = metadata.metadata("flowcomp")
    assert about["License-Expression"] == "Apache-2.0 AND GPL-3.0-or-later"
    files = {Path(str(file)).name for file in metadata.files("flowcomp") or []}
    assert {"LICENSE", "GPL-3.0-or-later.txt", "py.typed", "libflowcomp.so.0", "libflowcomp-analysis.so.0",
            "libflowcomp-records.so.0", "petroleum_limits.csv"} <= files
    assert {"_flowcomp_abi.abi3.so", "_analysis_abi.abi3.so", "_records_abi.abi3.so"} <= files
    wheel = next(Path(str(file.locate())) for file in metadata.files("flowcomp") or [] if file.name == "WHEEL")
    assert "cp311-abi3" in wheel.read_text(encoding="utf-8")


def test_libraries_find_each_other_and_no_path_of_a_machine() -> None:
    files = sorted(PACKAGE.glob("*.so*"))
    assert len(files) == 6
    for file in files:
        dynamic = subprocess.run(["readelf", "-dW", str(file)], capture_output=True, text=True, check=True).stdout
        paths = re.findall(r"R(?:UN)?PATH.*\[(.*)\]", dynamic)
        assert paths == ([] if file.name == "libflowcomp.so.0" else ["$ORIGIN"]), file.name
        assert (file.name == "libflowcomp.so.0") or "[libflowcomp" in dynamic


def test_everything_public_is_there_and_documented() -> None:
    assert set(fc.__all__) <= set(dir(fc))
    for name in fc.__all__:
        value = getattr(fc, name)
        assert value.__doc__, name
        if isinstance(value, type) and not issubclass(value, Exception):
            for member, held in vars(value).items():
                if not member.startswith("_") and (callable(held) or isinstance(held, (property, classmethod))):
                    assert (held.__func__ if isinstance(held, classmethod) else held).__doc__, f"{name}.{member}"
    with pytest.raises(AttributeError, match="no attribute 'Metre'"):
        fc.Metre  # noqa: B018


@pytest.mark.parametrize("name", MODULES)
def test_examples_in_docstrings(name: str) -> None:
    try:
        module = importlib.import_module(f"flowcomp.{name}")
    except (ModuleNotFoundError, SystemExit) as error:
        pytest.skip(f"needs the extra cli: {error}")
    failed, _ = doctest.testmod(module)
    assert failed == 0


def test_there_are_examples() -> None:
    examples = 0
    for name in ("methods", "units", "rounding", "body", "curve", "liquid", "fit", "totals", "selfcheck"):
        module = importlib.import_module(f"flowcomp.{name}")
        examples += sum(len(test.examples) for test in doctest.DocTestFinder().find(module))
    assert examples > 20


def test_import_is_lean() -> None:
    code = "import sys; before = set(sys.modules); import flowcomp; print(*sorted(set(sys.modules) - before))"
    loaded = subprocess.run([sys.executable, "-c", "import numpy; " + code], capture_output=True, text=True,
                            check=True).stdout.split()
    assert "flowcomp.methods" in loaded
    heavy = {"pandas", "pyarrow", "matplotlib", "typer", "rich", "flowcomp._analysis", "flowcomp._records",
             "flowcomp.fit", "flowcomp.selfcheck"}
    assert not heavy.intersection(loaded)


def test_the_readme_shows_what_comes_out() -> None:
    readme = Path(__file__).resolve().parents[2] / "bindings" / "python" / "README.md"
    failed, tried = doctest.testfile(str(readme), module_relative=False)
    assert tried >= 8 and failed == 0
