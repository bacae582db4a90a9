"""What may stand on the command line."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from pathlib import Path

from benchvoice.cli import commands, talking


def parse_arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line; `run` of the result takes the result and gives an exit code."""
    parser = argparse.ArgumentParser(
        prog="benchvoice",
        description="Offline bench assistant: talk through a teardown, correct it, quote the next.",
    )
    add = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _replay(add.add_parser("replay", help="a recording of the bench into a session"))
    _talk(add.add_parser("talk", help="the same live, by voice and keyboard"))
    _hear(add.add_parser("hear", help="what was said in recordings"))
    _parse(add.add_parser("parse", help="what remarks mean, one JSON object a line"))
    _show(add.add_parser("show", help="a session, readable"))
    _quote(add.add_parser("quote", help="labour time from past sessions"))
    check = add.add_parser("check", help="what is there, and what mends what is not")
    check.add_argument("--json", action="store_true", help="one JSON object a line")
    check.set_defaults(run=commands.check)
    fetch = add.add_parser("fetch-model", help="get an English Vosk model (needs the network)")
    fetch.add_argument("name", nargs="?", help="a Vosk model name; the small English one if none")
    fetch.set_defaults(run=commands.fetch)
    return parser.parse_args(argv)


def _replay(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("audio", type=Path, help="WAV, FLAC or OGG, any rate, mono or stereo")
    _outline(parser, required=True)
    _session(parser, required=True)
    _engine(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per event")
    parser.set_defaults(run=commands.replay)


def _talk(parser: argparse.ArgumentParser) -> None:
    _outline(parser, required=True)
    _session(parser, required=False)
    parser.add_argument("--device", help="microphone: number or part of its name (see check)")
    parser.add_argument("--keyboard", action="store_true", help="typed lines only, no audio at all")
    _engine(parser)
    parser.set_defaults(run=talking.talk)


def _hear(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("audio", type=Path, nargs="+")
    _outline(parser, required=False)
    _engine(parser)
    parser.add_argument("--json", action="store_true", help="one JSON object per utterance")
    parser.set_defaults(run=commands.hear)


def _parse(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("text", nargs="*", help="remarks; lines of standard input if none")
    _outline(parser, required=False)
    parser.set_defaults(run=commands.parse)


def _show(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("session", type=Path, help="a session folder, or a folder of them")
    parser.set_defaults(run=commands.show)


def _quote(parser: argparse.ArgumentParser) -> None:
    _outline(parser, required=True)
    parser.add_argument("session", type=Path, nargs="*", help="past sessions, or folders of them")
    parser.add_argument("--rate", type=_money, help="price of an hour")
    parser.add_argument("--json", action="store_true", help="the published JSON")
    parser.set_defaults(run=commands.quote)


def _outline(parser: argparse.ArgumentParser, *, required: bool) -> None:
    parser.add_argument(
        "--outline", required=required, help="an outline file, or the name of one that comes along"
    )


def _session(parser: argparse.ArgumentParser, *, required: bool) -> None:
    parser.add_argument("--session", type=Path, required=required, metavar="DIR")
    for name, what in (
        ("--job", "job number"),
        ("--unit", "what the unit is"),
        ("--serial", "its serial number"),
        ("--who", "who is at the bench"),
    ):
        parser.add_argument(name, help=f"{what}, for the head of the session")


def _engine(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--engine", choices=("auto", "vosk", "pocketsphinx"), default="auto")
    parser.add_argument("--model", type=Path, help="folder of a Vosk model")


def _money(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no amount of money; write 95 or 95.50"
        ) from None
