# SPDX-License-Identifier: Apache-2.0
"""The command ``flowcomp``. It needs the extra cli: pip install 'flowcomp[cli]'."""

from __future__ import annotations

import sys

try:
    import typer
except ImportError:
    sys.exit("The command flowcomp needs some more packages: pip install 'flowcomp[cli]'")

from .cli_check import methods, selfcheck
from .cli_evidence import evidence
from .cli_explain import explain
from .cli_fit import fit
from .cli_liquid import liquid
from .cli_prove import prove
from .cli_restate import restate
from .cli_support import EPILOG
from .cli_ticket import ticket, verify

app = typer.Typer(name="flowcomp", no_args_is_help=True, add_completion=False, pretty_exceptions_enable=False,
                  rich_markup_mode="rich", epilog=EPILOG,
                  help="Calculations for liquid turbine meters: a certificate becomes a curve, a history is restated, "
                  "every step can be shown.")
for command in (fit, liquid, explain, restate, prove, ticket, verify, selfcheck, methods):
    app.command(epilog=EPILOG)(command)
app.add_typer(evidence, name="evidence")


def main() -> None:
    """Entry point of the command line."""
    app()


if __name__ == "__main__":
    main()
