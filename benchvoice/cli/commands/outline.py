"""`benchvoice outline`: outlines looked through, drafted from a session, merged from several."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from benchvoice.cli import options
from benchvoice.cli.options import session_outline, terminal_width
from benchvoice.disk import write_new
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline
from benchvoice.grammar.load import outline_file
from benchvoice.outlining import (
    Drafted,
    compare,
    comparison_text,
    draft,
    facts_of,
    look_through,
    merge,
    report_text,
    toml_of,
)
from benchvoice.session import Session, find_sessions, read_session


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    actions = parser.add_subparsers(dest="action", required=True, metavar="ACTION")
    check = actions.add_parser("check", help="all mistakes of an outline, and what it lacks")
    check.add_argument("file", type=Path, help="an outline file, or the name of one")
    check.set_defaults(run=_check)
    make = actions.add_parser("draft", help="an outline out of one session")
    make.add_argument("session", type=Path, help="a session folder")
    _out(make)
    options.outline(make, required=False)
    make.set_defaults(run=_draft)
    several = actions.add_parser("merge", help="what several sessions did differently")
    several.add_argument("session", type=Path, nargs="+", help="sessions, or folders of them")
    _out(several)
    options.outline(several, required=False)
    several.set_defaults(run=_merge)


def _out(parser: ArgumentParser) -> None:
    parser.add_argument("--out", type=Path, metavar="FILE", help="a new file for the outline")


def _check(args: Namespace) -> int:
    """`benchvoice outline check`: 2 when the outline has mistakes."""
    report = look_through(outline_file(args.file), options.own_words())
    print(report_text(report, terminal_width()), end="")
    return 2 if report.problems else 0


def _draft(args: Namespace) -> int:
    """`benchvoice outline draft`."""
    session = read_session(args.session)
    outline = session_outline(session, args.outline)
    name = args.out.stem if args.out else session.header.unit or session.folder.name
    _give(draft(session, outline, name), args.out)
    return 0


def _merge(args: Namespace) -> int:
    """`benchvoice outline merge`."""
    sessions = [read_session(folder) for folder in find_sessions(args.session)]
    outline = _shared_outline(sessions, args.outline)
    facts = [facts_of(session, outline) for session in sessions]
    print(comparison_text(compare(facts), terminal_width()), end="")
    if args.out:
        _give(merge(sessions, outline, args.out.stem), args.out)
    return 0


def _shared_outline(sessions: list[Session], given: str | None) -> Outline | None:
    names = {session.header.outline for session in sessions}
    if given is None and len(names) > 1:
        said = " and ".join(sorted(name or "none" for name in names))
        raise BadInput(
            f"these sessions are of different outlines: {said}",
            mend="give sessions of one outline, or the one to use with --outline",
        )
    return session_outline(sessions[0], given)


def _give(drafted: Drafted, out: Path | None) -> None:
    """Print an outline, or write it to a new file: one that is there was worked on by hand."""
    text = toml_of(drafted)
    if out is None:
        print(text, end="")
        return
    write_new(text, out)
    print(f"Outline in {out}; look it through: benchvoice outline check {out}")
