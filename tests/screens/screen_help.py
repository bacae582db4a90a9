"""Shared by the tests of the screens: sessions to correct, and the real programs driven by keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from io import StringIO
from pathlib import Path

from prompt_toolkit.data_structures import Size
from prompt_toolkit.input import create_pipe_input
from prompt_toolkit.output import Output
from prompt_toolkit.output.vt100 import Vt100_Output

from benchvoice.bench.desk import Desk
from benchvoice.bench.ears import Ears
from benchvoice.grammar import load_outline, load_pack
from benchvoice.screens.editor import Editor, Reader, editor_app
from benchvoice.screens.player import SilentPlayer
from benchvoice.session import Corrections, Header, ScriptedClock, Session, read_session

START = datetime(2026, 3, 2, 8, 0, tzinfo=timezone(timedelta(hours=-5)))
OUTLINE = load_outline("reversing_gearbox")
PACK = load_pack(OUTLINE)

DOWN, UP, PAGE_DOWN, HOME, END = "\x1b[B", "\x1b[A", "\x1b[6~", "\x1b[H", "\x1b[F"
ENTER, ESCAPE, TAB, CLEAR, LEAVE = "\r", "\x1b", "\t", "\x15", "\x03"
"""Keys as an xterm sends them; CLEAR is control-U, which empties the typed line; LEAVE is
control-C, which closes what is open, and then the program."""


def said(folder: Path, *lines: str) -> Session:
    """Make a session of typed lines, a minute apart, through the real desk."""
    scripted = ScriptedClock(START)
    with Desk.open(
        Ears(PACK, None), folder, Header(outline="reversing_gearbox"), scripted.clock
    ) as desk:
        for text in lines:
            scripted.advance(60)
            desk.typed(text)
    return read_session(folder)


@dataclass
class Run:
    """An editor that was run: the editor, and the bytes it wrote to its terminal."""

    editor: Editor
    player: SilentPlayer
    written: str


def output_of(text: StringIO, columns: int = 80, rows: int = 24) -> Output:
    """Give a real terminal output that writes to `text`."""
    return Vt100_Output(text, lambda: Size(rows=rows, columns=columns), term="xterm")


@contextmanager
def opened(folder: Path) -> Iterator[tuple[Editor, SilentPlayer]]:
    """Open a session for correcting, with clocks that stand still and a player that is silent."""
    player = SilentPlayer()
    with Corrections.open(folder, "tester", ScriptedClock(START).clock) as corrections:
        yield Editor(corrections, OUTLINE, Reader(lambda: PACK), player), player


def keyed(folder: Path, *keys: str) -> Run:
    """Run the whole editor on a session with these keys, and leave it."""
    text = StringIO()
    with opened(folder) as (editor, player), create_pipe_input() as pipe:
        app = editor_app(editor, input=pipe, output=output_of(text))
        feed(pipe.send_text, [*keys, LEAVE, LEAVE], app)
        app.run()
    return Run(editor, player, text.getvalue())


def feed(send: Callable[[str], None], keys: list[str], app: object) -> None:
    """Send the next key whenever the screen has been drawn, as a user would.

    An Esc waits for what may follow it, so it is not drawn until it is sure.
    """
    left = iter(keys)

    def more(_: object) -> None:
        key = next(left, None)
        if key is not None:
            send(key)

    app.after_render += more  # type: ignore[attr-defined]
