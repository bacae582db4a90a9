"""The invented history of the demo: made by the program, the same each time, and plausible."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from statistics import median

import pytest

from benchvoice.grammar import load_outline
from benchvoice.session import find_sessions, read_session, step_minutes

DEMO = Path(__file__).parents[2] / "demo_sessions"


def test_twelve_sessions_all_marked_invented() -> None:
    folders = find_sessions([DEMO / "history"])
    assert len(folders) == 12
    assert sum(f.stat().st_size for path in folders for f in path.rglob("*")) < 600_000
    sessions = [read_session(folder) for folder in folders]
    assert all(session.header.invented and not session.damage for session in sessions)
    assert {entry.kind for session in sessions for entry in session.entries} >= {
        "started", "finished", "finding", "paused", "resumed", "recounted",
    }  # fmt: skip
    assert not [e.remark.heard for s in sessions for e in s.entries if e.kind == "unclear"]


def test_step_times_lie_about_the_book() -> None:
    sessions = [read_session(folder) for folder in find_sessions([DEMO / "history"])]
    times = [step_minutes(session) for session in sessions]
    timed = 0
    for step in load_outline("reversing_gearbox").steps():
        ratios = [job[step.id] / step.minutes for job in times if step.id in job and step.minutes]
        if len(ratios) >= 8:
            timed += 1
            # lognormal, spread 0.35, 8 or more jobs: the median is within 3 x 1.25 x 0.35/sqrt(8)
            assert 0.6 < median(ratios) < 1.65, step.id
    assert timed > 25


@pytest.mark.slow
def test_the_script_says_the_same_things_again(tmp_path: Path) -> None:
    spec = importlib.util.spec_from_file_location("make_history", DEMO / "make_history.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    module.main(tmp_path)
    for folder in find_sessions([DEMO / "history"]):
        kept, made = read_session(folder), read_session(tmp_path / folder.name)
        assert made.header == kept.header
        assert [(e.sitting, e.t, e.remark.heard) for e in made.entries] == [
            (e.sitting, e.t, e.remark.heard) for e in kept.entries
        ]
