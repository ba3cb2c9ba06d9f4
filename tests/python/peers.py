# SPDX-License-Identifier: Apache-2.0
"""Independent implementations that methods are compared with: named with their version, skipped visibly where missing."""

from __future__ import annotations

import importlib.metadata
from typing import Any

import numpy as np
import pytest

_printed: set[str] = set()


def load(request: pytest.FixtureRequest, module: str, distribution: str) -> Any:
    """The module of a peer; its version is printed past the capture of pytest, once."""
    found = pytest.importorskip(module, reason=f"{distribution} is not installed: pip install {distribution}")
    if distribution not in _printed:
        _printed.add(distribution)
        with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
            print(f" {distribution} {importlib.metadata.version(distribution)} ", end="")
    return found


def largest(difference: Any) -> float:
    """Largest absolute difference; a NaN counts as infinite."""
    sizes = np.abs(np.asarray(difference, dtype=float))
    return float(np.where(np.isnan(sizes), np.inf, sizes).max())
