# SPDX-License-Identifier: Apache-2.0
"""Timings of the Python package: whole records against a NumPy chain and against the C call, one call, and the import.

Prints the lines that bench_table.py reads. Pieces of work go in turns, by the time of the thread; the least time counts.
The record is that of bench_case.h: an invented 52.6 mm meter in an invented crude oil.
"""

from __future__ import annotations

import ctypes
import glob
import os
import subprocess
import sys
import time
from collections.abc import Callable

import numpy as np

import flowcomp as fc
from flowcomp.meter import READING_NAMES
from flowcomp.results import NAMES

ROWS = 1_000_000
BORE_M, ALPHA, WALL_M, MODULUS_GPA = 0.0526, 16e-6, 0.0136, 193.0
A, B = 9.5, 3.7
SCALE = (-3.536296, 7.438081, -1.871251, -4.089591, 1.269056, 1.080760, -0.267408, -0.148759)


def least(work: dict[str, Callable[[], object]], rounds: int) -> dict[str, float]:
    """Least seconds of each piece of work, taken in turns."""
    best = dict.fromkeys(work, float("inf"))
    for _ in range(rounds):
        for name, run in work.items():
            start = time.thread_time_ns()
            run()
            best[name] = min(best[name], (time.thread_time_ns() - start) * 1e-9)
    return best


def figure(name: str, value: float, unit: str, reach: float, aim: float) -> None:
    print(f"figure\t{name}\t{value:.5g}\t{unit}\t{reach:g}\t{aim:g}", flush=True)


# --- the peer: what one writes with NumPy -------------------------------------------------------------------------------

KNOTS = 2 + 5 * np.arange(24) / 23
ST = 3.4 * (1 - 0.08 * np.exp(1.2 * (2 - KNOTS)) + 0.004 * np.sin(3 * KNOTS))
PER_KPA = BORE_M / (2 * WALL_M * MODULUS_GPA * 1e6)


def viscosity(t):
    return 10 ** (10 ** (A - B * np.log10(t + 273.15))) - 0.7


def scale_of_1968(t_degf):
    t = (t_degf - 32) / 1.8
    tau, shift = t / 630, 0.0
    for a in SCALE:
        shift = (shift + a) * tau
    return 1.8 * (t - shift) + 32


def chain(f, t, p, rho60, out):
    """Base volume flow, m3/s, of arrays of one length; straight lines between the knots of the curve."""
    rotor = BORE_M * (1 + ALPHA * (t - 20))
    d = rotor * (1 + PER_KPA * p)
    st = np.interp(np.log10(f * d * d / (viscosity(t) * 1e-6)), KNOTS, ST)
    k = 4 * st / (np.pi * d * d * rotor)
    delta = 0.01374979547
    ts = scale_of_1968(1.8 * t + 32)
    a = delta / 2 * 341.0957 / rho60 / rho60
    rho = rho60 * (1 + np.expm1(a * (1 + 0.8 * a)) / (1 + 2 * a * (1 + 1.6 * a)))
    alpha, dt = 341.0957 / rho / rho, ts - 60.0068749
    ctl = np.exp(-alpha * dt * (1 + 0.8 * alpha * (dt + delta)))
    fp = np.exp(-1.9947 + 0.00013427 * ts + (793920 + 2326 * ts) / (rho * rho))
    return np.divide(f / k * ctl, 1 - 1e-5 * fp * (p / 6.894757), out=out)


# --- the package ----------------------------------------------------------------------------------------------------------

def case() -> tuple[fc.Meter, fc.Liquid]:
    metal = fc.Metal.mean(ALPHA, -50, 150, modulus_gpa=MODULUS_GPA, poisson=0.29, source="invented")
    body = fc.Body(bore_m=BORE_M, t0_degc=20, housing=metal, end="thin_wall", wall_m=WALL_M)
    x, c = np.log(10) * KNOTS, []
    for left, right, low, high in zip(x, x[1:], ST, ST[1:]):
        c.append([low, (high - low) / (right - left), 0.0, 0.0])
    curve = fc.Curve.from_knots(convention="dimensionless", treatment="as_run", d0_m=BORE_M, t0_degc=20, ln_ro=x, st=ST,
                                coefficients=np.array(c))
    liquid = fc.Liquid("invented crude oil", volume="petroleum_2004", group="crude", base="60F", viscosity="points",
                       form="simple", t_degc=[0, 60], nu_mm2s=[viscosity(0.0), viscosity(60.0)], u_nu_relative=0.01)
    return fc.Meter("invented 52.6 mm", body, curve), liquid


class Column(ctypes.Structure):
    _fields_ = [("start", ctypes.c_void_p), ("stride", ctypes.c_ssize_t)]


class Readings(ctypes.Structure):
    _fields_ = [("size", ctypes.c_uint32), ("instruction_set", ctypes.c_uint32),
                *((name, Column) for name in READING_NAMES)]


class Out(ctypes.Structure):
    _fields_ = [("size", ctypes.c_uint32), ("status", ctypes.c_void_p), ("flags", ctypes.c_void_p),
                *((name, ctypes.c_void_p) for name in NAMES)]


def c_call(meter: fc.Meter, liquid: fc.Liquid, columns: dict[str, np.ndarray], results: fc.Results, n: int,
           instruction_set: int = 0) -> Callable[[], object]:
    """The C function on the package's own library, over the same memory."""
    folder = os.path.dirname(fc.__file__)
    library = ctypes.CDLL(next(path for pattern in ("libflowcomp.so*", "*/libflowcomp.so*")
                               for path in glob.glob(os.path.join(folder, pattern))))
    readings, out = Readings(), Out()
    library.flc_readings_init_sized(ctypes.byref(readings), ctypes.c_size_t(ctypes.sizeof(readings)))
    library.flc_results_init_sized(ctypes.byref(out), ctypes.c_size_t(ctypes.sizeof(out)))
    readings.instruction_set = instruction_set
    for name, array in columns.items():
        setattr(readings, name, Column(array.ctypes.data, 1))
    for name in (*results.keys(), "status", "flags"):
        setattr(out, name, getattr(results, name).ctypes.data)
    function = library.flc_meter_evaluate_n
    arguments = (ctypes.c_void_p(int(meter._raw.this)), ctypes.c_void_p(int(liquid._raw.this)), ctypes.byref(readings),
                 ctypes.c_size_t(n), ctypes.byref(out), None, None)

    def call(keep=(columns, results)) -> None:
        if function(*arguments) != 0:
            raise RuntimeError("the C call was refused")
    return call


def arrays(meter: fc.Meter, liquid: fc.Liquid, columns: dict[str, np.ndarray]) -> None:
    results = meter.evaluate(liquid, outputs="q_base_m3s", **columns)
    peer = np.empty(ROWS)
    best = least({"NumPy chain": lambda: chain(*columns.values(), peer),
                  "Python array call": lambda: meter.evaluate(liquid, out=results, **columns),
                  "C call": c_call(meter, liquid, columns, results, ROWS)}, 15)
    worst = np.max(np.abs(results.q_base_m3s / peer - 1))
    if not worst < 1e-11:
        sys.exit(f"package and peer differ by {worst:g}, relative")
    for name, seconds in best.items():
        print(f"time\t{name}, {ROWS} rows\t{seconds / ROWS * 1e9:.4g}")
    figure("whole record against the NumPy chain (1 million rows, one thread)",
           best["NumPy chain"] / best["Python array call"], "x", 10, 14)
    figure("Python array call against C, 1 million rows", best["Python array call"] / best["C call"], "x at most",
           1.03, 1.01)


def scalar(meter: fc.Meter, liquid: fc.Liquid, columns: dict[str, np.ndarray]) -> None:
    """A call's time less that of the same evaluation in C, one record after the other."""
    n, times = 4096, 1000
    few = {name: array[:n].copy() for name, array in columns.items()}
    one = {name: float(array[0]) for name, array in few.items()}
    some = meter.evaluate(liquid, **few)

    def by_call() -> None:
        for _ in range(times):
            meter.evaluate(liquid, **one)

    def by_method() -> None:
        for _ in range(times):
            fc.methods.ctl60_petroleum_2004(rho60_kgm3=850.0, t_degf=95.0, group="crude")

    densities = np.full(n, 850.0)
    best = least({"Meter.evaluate": by_call, "method": by_method,
                  "methods in C": lambda: fc.methods.ctl60_petroleum_2004(rho60_kgm3=densities, t_degf=95.0, group="crude"),
                  "C": c_call(meter, liquid, few, some, n, instruction_set=1)}, 60)
    evaluate = best["Meter.evaluate"] / times - best["C"] / n
    method = best["method"] / times - best["methods in C"] / n
    print(f"time\tC, one record after the other\t{best['C'] / n * 1e9:.4g}")
    figure("Python scalar call overhead: a method", method * 1e6, "us at most", 1.0, 0.4)
    figure("Python scalar call overhead: Meter.evaluate, 22 results", evaluate * 1e6, "us at most", 0, 0)


def import_time() -> None:
    code = ("import numpy, time; t = time.process_time(); import flowcomp; "
            "print(time.process_time() - t)")
    seconds = min(float(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout)
                  for _ in range(15))
    figure("time to import flowcomp on top of numpy", seconds * 1e3, "ms at most", 60, 25)


def main() -> None:
    draw = np.random.default_rng(1)
    columns = {"f_hz": draw.uniform(200, 1000, ROWS), "t_degc": draw.uniform(5, 55, ROWS),
               "p_kpag": draw.uniform(100, 2100, ROWS), "rho_base_kgm3": draw.uniform(780, 900, ROWS)}
    meter, liquid = case()
    arrays(meter, liquid, columns)
    scalar(meter, liquid, columns)
    import_time()


if __name__ == "__main__":
    main()
