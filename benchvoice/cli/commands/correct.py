"""`benchvoice correct`: a session put right at the desk."""

from __future__ import annotations

import gc
import getpass
import sys
from argparse import ArgumentParser, Namespace
from pathlib import Path

from benchvoice.cli.options import found_outline, own_words
from benchvoice.errors import BadInput
from benchvoice.grammar import load_pack
from benchvoice.session import Corrections, real_clock
from benchvoice.sheets.layout import counted


def add(parser: ArgumentParser) -> None:
    """Tell the command line of it."""
    parser.add_argument("session", type=Path, help="a session folder")
    parser.add_argument("--who", help="who corrects; your login name when left out")
    parser.set_defaults(run=run)


def run(args: Namespace) -> int:
    """`benchvoice correct`."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise BadInput("correct needs a terminal", mend="run it in a terminal window")
    from benchvoice.screens.editor import Editor, Reader, editor_app
    from benchvoice.screens.player import SpeakerPlayer

    who = args.who or _login()
    with Corrections.open(args.session, who, real_clock()) as corrections:
        outline = found_outline(corrections.session.header.outline, "steps")
        reader = Reader(lambda: load_pack(outline, own_words()))
        editor = Editor(corrections, outline, reader, SpeakerPlayer())
        gc.freeze()  # a large session is many values that never go: full collections pass them over
        before = len(corrections.session.amendments)
        editor_app(editor).run()
        made = len(corrections.session.amendments) - before
    print(
        f"{counted(made, 'change')} kept in {args.session}; see it: benchvoice show {args.session}"
    )
    return 0


def _login() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):  # a user without a name, as in some containers
        return "unknown"
