"""The history as it is read: every line wraps, is ASCII, and says who, what and from what."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec.structs import replace
from session_help import START, bolts, event, written

from benchvoice.cli import main
from benchvoice.session import Corrections, ScriptedClock, correcting, undo


def test_show_history(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    session = written(tmp_path, [event(1, "finding", 65.0, "front_cover", findings=bolts(11))])
    assert main(["show", str(tmp_path), "--history"]) == 0
    assert capsys.readouterr().out == "Nothing was changed.\n"
    with Corrections.open(tmp_path, "Z\u00fcri", ScriptedClock(START).clock) as open_:
        open_.amend(replace(correcting.edit(session, 1, bolts(12)), why="counted again"))
        open_.amend(undo(open_.session))
    assert main(["show", str(tmp_path), "--history"]) == 0
    text = capsys.readouterr().out
    assert text.isascii()
    assert max(map(len, text.splitlines())) <= 80
    assert text.splitlines()[:3] == [
        "   2  2026-03-02 08:00 corrected by Zuri (taken back since): counted again",
        "      - 1 at 0:01:05, Front cover off: 11 bolts, front cover, removed",
        "      + 1 at 0:01:05, Front cover off: 12 bolts, front cover, removed",
    ]
    assert "3  2026-03-02 08:00 undone by Zuri" in text
