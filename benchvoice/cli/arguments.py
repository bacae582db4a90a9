"""What may stand on the command line."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module

COMMANDS = {
    "replay": "a recording of the bench into a session",
    "talk": "the same live, by voice and keyboard",
    "correct": "put a session right, at the keyboard",
    "learn": "take your words from what you corrected",
    "hear": "what was said in recordings",
    "parse": "what remarks mean, one JSON object a line",
    "show": "a session, readable",
    "sheet": "a sheet of a session, to read or to print",
    "quote": "labour time from past sessions",
    "outline": "look an outline through, or make one",
    "words": "your own words for parts, places and so on",
    "enrol": "read some remarks aloud, to be heard better",
    "check": "what is there, and what mends what is not; whether a session is whole",
    "fetch-model": "get an English Vosk model (needs the network)",
}
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
    asked = next((word for word in words if word in COMMANDS), None)
    for name, what in COMMANDS.items():
        command = commands.add_parser(name, help=what)
        if name == asked:
            import_module(f"benchvoice.cli.commands.{name.replace('-', '_')}").add(command)
    return parser.parse_args(words)
