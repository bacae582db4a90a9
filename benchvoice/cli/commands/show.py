"""`benchvoice show`: a session, readable."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from benchvoice.cli.options import own_words, session_outline, terminal_width
from benchvoice.grammar import load_pack
from benchvoice.session import JOURNAL_NAME, find_sessions, placed, read_session
from benchvoice.sheets import history_text, session_text, sessions_text


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("session", type=Path, help="a session folder, or a folder of them")
    parser.add_argument(
        "--history", action="store_true", help="what was changed, by whom, from what to what"
    )
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice show`."""
    if args.history or (args.session / JOURNAL_NAME).is_file() or args.session.is_file():
        session = read_session(args.session)
        outline = session_outline(session, None)
        if args.history:
            print(history_text(session, outline, terminal_width()), end="")
        else:
            pack = load_pack(outline, own_words()) if outline else None
            print(session_text(placed(session, outline, pack), outline, terminal_width()), end="")
    else:
        print(sessions_text(map(read_session, find_sessions([args.session]))), end="")
    return 0
