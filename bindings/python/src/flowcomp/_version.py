# SPDX-License-Identifier: Apache-2.0
"""Versions, queried apart: of the package, of the C library, and of its contract of bits."""

from __future__ import annotations

import platform

from . import _flowcomp as _raw


def versions() -> dict[str, str]:
    """Versions of the package, the library, the contract of bits, Python and NumPy.

    >>> sorted(versions())
    ['bits_contract', 'flowcomp', 'libflowcomp', 'numpy', 'python']
    """
    import numpy
    return {"flowcomp": _raw.FLC_VERSION_TEXT, "libflowcomp": _raw.flc_version(),
            "bits_contract": _raw.flc_bits_contract(), "python": platform.python_version(),
            "numpy": numpy.__version__}
