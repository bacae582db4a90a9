"""Arguments that several commands share, and what is read from them."""

from __future__ import annotations

import argparse
import shutil
import sys
from decimal import Decimal, InvalidOperation
from pathlib import Path

from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, load_outline
from benchvoice.session import Header, Session, has_records, read_session

FORMATS = ("text", "html", "csv", "json")
"""What a sheet or a priced quote may be put out as."""


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


def job_outline(args: argparse.Namespace) -> Outline | None:
    """Load the outline that was given, else that of the session that is taken up again.

    Raises BadInput when it cannot be found, or when the session has another: going on without
    its cautions, counts and limits, or with those of another unit, would not be noticed.
    """
    own = None
    if args.session and has_records(args.session):  # the desk reads it again, under its lock
        own = read_session(args.session).header.outline
    given = optional_outline(args)
    if own is None or args.outline == own:
        return given
    if given is None:
        return load_outline(own)
    if Path(own).stem not in (Path(args.outline).stem, given.name):
        raise BadInput(
            f"the session in {args.session} is of the outline {own}, not of {args.outline}",
            mend="leave --outline out, or give the folder of the other job",
        )
    return given


def own_words() -> tuple[Path, ...]:
    """Give the user's word lists, for `load_pack`.  Raises GrammarError for a mistake in one."""
    from benchvoice.words import own_files, user_home  # late: it brings all of hearing along

    return own_files(user_home())


def session_outline(session: Session, given: str | None) -> Outline | None:
    """Load the outline that was given, else the session's own when it can still be found.

    A session is readable without, and what is made of it says what is missing.
    """
    return load_outline(given) if given else found_outline(session.header.outline)


def found_outline(name: str | None, without: str = "") -> Outline | None:
    """Load the outline of a session when it can still be found; else tell what is left out."""
    try:
        return load_outline(name) if name else None
    except BadInput as error:
        if without:
            print(f"benchvoice: {error}; going on without {without}", file=sys.stderr)
        return None


def header_of(args: argparse.Namespace) -> Header:
    """Give the session header that the arguments say."""
    return Header(
        outline=args.outline, job=args.job, unit=args.unit, serial=args.serial, who=args.who
    )


def terminal_width() -> int:
    """How wide lines may be: the terminal, or 80."""
    return max(40, shutil.get_terminal_size((80, 24)).columns)
