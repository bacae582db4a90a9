"""What may stand on the command line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

COMMANDS = (
    "replay",
    "talk",
    "correct",
    "learn",
    "hear",
    "parse",
    "show",
    "sheet",
    "quote",
    "outline",
    "words",
    "enrol",
    "check",
    "fetch-model",
)
"""In the order of the help; each is a module of `benchvoice.cli.commands`."""


def parse_arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line; `run` of the result takes the result and gives an exit code.

    Only the command that was asked for is imported: all of them take a second.
    """
    parser = argparse.ArgumentParser(
        prog="benchvoice",
        description="Offline bench assistant: talk through a teardown, correct it, quote the next.",
    )
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    words = sys.argv[1:] if argv is None else [*argv]
    asked = words[:1] if words[:1] and words[0] in COMMANDS else COMMANDS
    for name in asked:
        import_module(f"benchvoice.cli.commands.{name.replace('-', '_')}").add(commands)
    return parser.parse_args(words)
