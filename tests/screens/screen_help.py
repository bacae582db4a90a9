"""Shared by the tests of the screens: sessions to correct, and the real programs driven by keys."""

from __future__ import annotations

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone
from io import StringIO
from itertools import count
from pathlib import Path

import pytest
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

ROOT = Path(__file__).parents[2]
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


_SERVERS = count(1)


class Tmux:
    """A terminal of 80 by 24 of its own tmux server."""

    def __init__(self, command: str) -> None:
        self.name = f"benchvoice-{os.getpid()}-{next(_SERVERS)}"
        self.command = f"LANG=C.UTF-8 PYTHONPATH={ROOT} {command}; sleep 60"

    def run(self, *words: str) -> str:
        done = subprocess.run(
            ["tmux", "-L", self.name, *words], capture_output=True, text=True, check=True
        )
        return done.stdout

    def __enter__(self) -> Tmux:
        self.run("new-session", "-d", "-x", "80", "-y", "24", self.command)
        return self

    def __exit__(self, *_: object) -> None:
        self.run("kill-server")

    def keys(self, *keys: str) -> None:
        self.run("send-keys", *keys)

    def wait_for(self, text: str) -> None:
        until = time.monotonic() + 30
        while text not in self.run("capture-pane", "-p"):
            assert time.monotonic() < until, self.run("capture-pane", "-p")
            time.sleep(0.05)


needs_tmux = pytest.mark.skipif(shutil.which("tmux") is None, reason="tmux is not installed")
