"""`benchvoice fetch-model`: the only command that uses the network."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from benchvoice.hearing import fetch_model


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("name", nargs="?", help="a Vosk model name; the small English one if none")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice fetch-model`."""
    print(fetch_model(args.name) if args.name else fetch_model())
    return 0
