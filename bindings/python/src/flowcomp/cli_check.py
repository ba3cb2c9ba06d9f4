# SPDX-License-Identifier: Apache-2.0
"""The commands ``flowcomp selfcheck`` and ``flowcomp methods``."""

from __future__ import annotations

import dataclasses
import json
import math
from typing import Annotated, Any

import typer

from .cli_support import FINDINGS, FINE, guarded, say, table
from .input_error import InputError, close_names


@guarded
def methods(
    name: Annotated[str | None, typer.Argument(help="A method, shown in full; or a part of names.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON instead of a table.")] = False,
) -> None:
    """List the published methods: name, unit, source, status; of a single one the arguments with their ranges too."""
    from .methods import method_info, method_names

    names = list(method_names())
    chosen = [name] if name in names else [known for known in names if name is None or name in known]
    if not chosen:
        raise InputError(f"there is no method '{name}'{close_names(str(name), names)}")
    infos = [method_info(known) for known in chosen]
    if as_json:
        print(json.dumps([without_nan(dataclasses.asdict(info)) for info in infos], indent=2, ensure_ascii=False))
    elif len(infos) == 1:
        say(infos[0].name)
        say(infos[0].describe())
    else:
        table(f"{len(infos)} methods", ["method", "result", "status", "source"],
              [[info.name, info.unit, info.status, info.source] for info in infos], texts=range(4))


def without_nan(value: Any) -> Any:
    """The same with None for numbers that JSON cannot hold."""
    if isinstance(value, dict):
        return {key: without_nan(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [without_nan(item) for item in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


@guarded
def selfcheck() -> int:
    """Check the installed library: each quantity against the values that the package carries, with their status.

    A line for each quantity, the contract of bits with its hash, and a verdict; exit code 1 if a value is off, if a bit
    differs from what the contract has published, or if there was nothing to compare.
    """
    from .selfcheck import run

    try:
        report = run()
    except ValueError as error:
        raise InputError(f"the check rows of this installation cannot be read ({error}); install it again") from None
    for line in report.lines():
        say(line)
    say("The arithmetic of the methods was checked, not their fitness for a contract; 'from memory' is to be confirmed "
        "against the print.")
    return FINE if report.passed else FINDINGS
