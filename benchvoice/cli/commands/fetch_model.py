"""`benchvoice fetch-model`: the only command that uses the network."""

from __future__ import annotations

from argparse import Namespace

from benchvoice.cli.options import Subcommands
from benchvoice.hearing import fetch_model


def add(commands: Subcommands) -> None:
    """Tell the command line of it."""
    parser = commands.add_parser(
        "fetch-model", help="get an English Vosk model (needs the network)"
    )
    parser.add_argument("name", nargs="?", help="a Vosk model name; the small English one if none")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice fetch-model`."""
    print(fetch_model(args.name) if args.name else fetch_model())
    return 0
