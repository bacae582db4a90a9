"""What may stand on the command line."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from benchvoice.cli.commands import (
    check,
    correct,
    enrol,
    fetch_model,
    hear,
    learn,
    outline,
    parse,
    quote,
    replay,
    sheet,
    show,
    talk,
    words,
)

_COMMANDS = (
    replay,
    talk,
    correct,
    learn,
    hear,
    parse,
    show,
    sheet,
    quote,
    outline,
    words,
    enrol,
    check,
    fetch_model,
)
"""In the order of the help."""


def parse_arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line; `run` of the result takes the result and gives an exit code."""
    parser = argparse.ArgumentParser(
        prog="benchvoice",
        description="Offline bench assistant: talk through a teardown, correct it, quote the next.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for command in _COMMANDS:
        command.add(commands)
    return parser.parse_args(argv)
