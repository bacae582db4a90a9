"""What the editor draws: pure lines, and the whole program in a terminal emulator and in tmux."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pyte
import pytest
from screen_help import CLEAR, DOWN, ENTER, OUTLINE, PACK, ROOT, Tmux, keyed, needs_tmux, said

from benchvoice.screens.cells import text_of
from benchvoice.screens.editor import Document, Facts, Listing, Reader, draw
from benchvoice.screens.editor.help import KEYS
from benchvoice.session import read_session

HISTORY = ROOT / "demo_sessions" / "history"
SIZES = [(80, 24), (120, 40), (60, 16), (200, 60)]


def document(folder: Path) -> Document:
    return Document(Listing(Facts(read_session(folder), OUTLINE)))


def emulated(written: str, columns: int = 80, rows: int = 24) -> list[str]:
    """The last full screen before the program left it, as a terminal (pyte) shows the bytes."""
    screen = pyte.Screen(columns, rows)
    before, _, _ = written.rpartition("\x1b[?1049l")
    # what is drawn last is the empty screen of leaving: cut it off
    pyte.Stream(screen).feed(before[: before.rindex("\x1b[J\x1b[?7h")])
    return list(screen.display)


@pytest.mark.parametrize(("columns", "rows"), SIZES)
@pytest.mark.parametrize("name", ["invented_01", "invented_07"])
def test_every_row_fits_and_the_keys_are_always_seen(name: str, columns: int, rows: int) -> None:
    here = document(HISTORY / name)
    for at in (0, len(here.rows) // 2, len(here.rows) - 1):
        screen = draw(here.at_row(at), columns, rows)
        lines = [text_of(one) for one in (*screen.above, *screen.below)]
        assert len(lines) == rows - 1
        assert max(map(len, lines)) <= columns
        assert sum(line.startswith(">") for line in lines) == 1
        if columns >= 80:
            assert all(word in "\n".join(lines[-2:]) for word in ("retype", "undo", "help", "quit"))


def test_a_window_that_is_too_small_says_so() -> None:
    screen = draw(document(HISTORY / "invented_01"), 40, 10)
    assert "larger" in text_of(screen.above[0])


def test_the_cursor_is_seen_without_colour() -> None:
    screen = draw(document(HISTORY / "invented_01").at_row(5), 80, 24)
    marked = [one for one in screen.above if any(style == "class:cursor" for style, _ in one)]
    assert [text_of(one)[0] for one in marked] == [">"]


def test_only_the_rows_that_are_seen_are_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    from benchvoice.screens.editor import rows

    drawn: list[int] = []
    real = rows.entry_texts
    monkeypatch.setattr(rows, "entry_texts", lambda entry: drawn.append(entry.seq) or real(entry))
    here = document(HISTORY / "invented_01")
    draw(here.at_row(40), 80, 24)
    assert 0 < len(drawn) < 24 < len(here.rows)


def test_the_terminal_shows_what_was_saved_and_the_counts_of_the_step(tmp_path: Path) -> None:
    said(tmp_path / "job", "nine bolts off the end cover", "two dowel pins good")
    run = keyed(tmp_path / "job", ENTER, CLEAR, "ten bolts off the end cover", ENTER)
    shown = "\n".join(emulated(run.written))
    assert "saved: entry 1 as typed" in shown
    assert "10 of 10 bolts" in shown
    assert "put right by hand" in shown
    assert f'first  "{"nine bolts off the end cover"}"' in shown


def test_no_color_writes_no_colour(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """SGR 30 to 49 and 90 to 107 are colours (ECMA-48, and xterm's control sequences)."""

    def colours(written: str) -> set[int]:
        codes = {
            int(code)
            for found in re.findall(r"\x1b\[([\d;]*)m", written)
            for code in found.split(";")
            if code
        }
        return {code for code in codes if 30 <= code <= 49 or 90 <= code <= 107}

    said(tmp_path / "job", "nine bolts off the end cover")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert colours(keyed(tmp_path / "job", DOWN).written)
    monkeypatch.setenv("NO_COLOR", "1")
    assert not colours(keyed(tmp_path / "job", DOWN).written)


def test_every_key_is_on_the_help_page_and_does_something() -> None:
    with_words = [key for key in KEYS if key.word]
    assert len({name for key in KEYS for name in key.keys}) == sum(len(k.keys) for k in KEYS)
    assert {"retype", "undo", "help", "quit"} <= {key.word for key in with_words}


def test_the_document_never_changes(tmp_path: Path) -> None:
    said(tmp_path / "job", "nine bolts off the end cover", "two dowel pins good")
    before = document(tmp_path / "job")
    same = replace(before)
    before.at_row(1).toggled().sifted(replace(before.sieve, words="dowel"))
    assert before == same
    assert [entry.seq for entry in before.rows] == [1, 2]


def test_completion_offers_words_of_pack_and_outline_the_usual_first() -> None:
    words = Reader(lambda: PACK).words
    assert "bearing" in words.beginning("bea")
    assert words.beginning("b") == ()
    assert words.beginning("dete") == ("detent", "detents")
    assert words.beginning("cov") == ("cover", "covers")


def test_nothing_saved_is_lost_when_the_program_is_killed(tmp_path: Path) -> None:
    """The last record is whole on the disk; only the line being typed is gone (SIGKILL)."""
    folder = tmp_path / "job"
    said(folder, "nine bolts off the end cover", "two dowel pins good")
    script = (
        "import os, signal, sys; sys.path.insert(0, sys.argv[2])\n"
        "from pathlib import Path\n"
        "from screen_help import keyed, DOWN, ENTER, CLEAR\n"
        "from benchvoice.screens.editor.controller import Editor\n"
        "typed = Editor.typed\n"
        "def dying(self, text, before):\n"
        "    typed(self, text, before)\n"
        "    if text == 'six': os.kill(os.getpid(), signal.SIGKILL)\n"
        "Editor.typed = dying\n"
        "keys = ['d', ENTER, CLEAR, 'four dowel pins', ENTER, ENTER, CLEAR, 'six']\n"
        "keyed(Path(sys.argv[1]), *keys)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", script, str(folder), str(Path(__file__).parent)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == -signal.SIGKILL
    session = read_session(folder)
    assert session.damage == ()
    assert [entry.remark.heard for entry in session.entries] == ["four dowel pins"]


@pytest.mark.hardware
@needs_tmux
def test_in_a_real_terminal(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    said(folder, "nine bolts off the end cover", "two dowel pins good")
    with Tmux(f"{sys.executable} -m benchvoice correct {folder}") as terminal:
        terminal.wait_for("2 entries")
        terminal.keys("Enter")
        terminal.wait_for("remark: nine bolts")
        terminal.keys("C-u", "ten bolts off the end cover", "Enter")
        terminal.wait_for("saved: entry 1 as typed")
        second = subprocess.run(
            [sys.executable, "-m", "benchvoice", "show", str(folder)],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        )
        assert "10 bolts" in second.stdout
        terminal.keys("q")
        terminal.wait_for("1 change kept")


def test_without_a_terminal_it_says_so(tmp_path: Path) -> None:
    said(tmp_path / "job", "nine bolts off the end cover")
    done = subprocess.run(
        [sys.executable, "-m", "benchvoice", "correct", str(tmp_path / "job")],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (2, "")
    assert "needs a terminal" in done.stderr
