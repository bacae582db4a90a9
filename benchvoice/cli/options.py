"""Arguments that several commands share, and what is read from them."""

from __future__ import annotations

import argparse
import shutil
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import TYPE_CHECKING

from benchvoice.audio import Microphone, list_microphones
from benchvoice.bench.voices import find_voice, voices_folder
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, load_outline
from benchvoice.session import Header, Session
from benchvoice.words import own_files, user_home

Parser = argparse.ArgumentParser

if TYPE_CHECKING:
    Subcommands = argparse._SubParsersAction[argparse.ArgumentParser]
else:
    Subcommands = argparse._SubParsersAction


def outline(parser: argparse.ArgumentParser, *, required: bool) -> None:
    """`--outline`."""
    parser.add_argument(
        "--outline", required=required, help="an outline file, or the name of one that comes along"
    )


def session(parser: argparse.ArgumentParser, *, required: bool) -> None:
    """`--session`, and what stands in its head."""
    parser.add_argument("--session", type=Path, required=required, metavar="DIR")
    for name, what in (
        ("--job", "job number"),
        ("--unit", "what the unit is"),
        ("--serial", "its serial number"),
        ("--who", "who is at the bench"),
    ):
        parser.add_argument(name, help=f"{what}, for the head of the session")


def engine(parser: argparse.ArgumentParser) -> None:
    """`--engine`, `--model` and `--user`."""
    parser.add_argument("--engine", choices=("auto", "vosk", "pocketsphinx"), default="auto")
    parser.add_argument("--model", type=Path, help="folder of a Vosk model")
    parser.add_argument("--user", help="whose voice it is, when enrolled (see enrol)")


def device(parser: argparse.ArgumentParser) -> None:
    """`--device`."""
    parser.add_argument("--device", help="microphone: number or part of its name (see check)")


def microphone(device: str | None) -> Microphone:
    """Give the microphone that `--device` says."""
    return Microphone(int(device) if device and device.isdigit() else device)


def microphone_name(device: str | None) -> str:
    """Give the name of the microphone that `--device` says, or what was said when it is none."""
    for one in list_microphones():
        if one.default if device is None else device == str(one.index):
            return one.name
        if device is not None and device.casefold() in one.name.casefold():
            return one.name
    return device or "default"


def voice_of(args: argparse.Namespace, *, live: bool = False) -> Path | None:
    """Give the transform of `--user`, if one was given and it helps; of the microphone when live.

    Raises BadInput for a user who is not enrolled.
    """
    if args.user is None:
        return None
    return find_voice(voices_folder(), args.user, microphone_name(args.device) if live else None)


def money(text: str) -> Decimal:
    """Read an amount of money; an argparse type."""
    try:
        return Decimal(text)
    except InvalidOperation:
        raise argparse.ArgumentTypeError(
            f"{text!r} is no amount of money; write 95 or 95.50"
        ) from None


def optional_outline(args: argparse.Namespace) -> Outline | None:
    """Load the outline that was given, if one was."""
    return load_outline(args.outline) if args.outline else None


def own_words() -> tuple[Path, ...]:
    """Give the user's word lists, for `load_pack`.  Raises GrammarError for a mistake in one."""
    return own_files(user_home())


def session_outline(session: Session, given: str | None) -> Outline | None:
    """Load the outline that was given, else the session's own when it can still be found.

    A session is readable without, and what is made of it says what is missing.
    """
    if given:
        return load_outline(given)
    try:
        return load_outline(session.header.outline) if session.header.outline else None
    except BadInput:
        return None


def header_of(args: argparse.Namespace) -> Header:
    """Give the session header that the arguments say."""
    return Header(
        outline=args.outline, job=args.job, unit=args.unit, serial=args.serial, who=args.who
    )


def terminal_width() -> int:
    """How wide lines may be: the terminal, or 80."""
    return max(40, shutil.get_terminal_size((80, 24)).columns)
