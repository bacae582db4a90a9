"""A folder of sessions, one line a job."""

from __future__ import annotations

from pathlib import Path

from sheet_help import job

from benchvoice.session import Header, find_sessions, labour, read_session
from benchvoice.sheets import sessions_text
from benchvoice.sheets.layout import hours

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"


def test_one_line_a_job() -> None:
    sessions = [read_session(folder) for folder in find_sessions([HISTORY])]
    lines = sessions_text(sessions).splitlines()
    assert lines[-1] == "* invented demo data"
    assert len(lines) == len(sessions) + 2
    for session, line in zip(sessions, lines[1:], strict=False):
        assert line.startswith(f"{session.header.job} *")
        assert line.split()[-1] == hours(labour(session).worked)
        assert str(session.last_day) in line
        assert len(line) <= 80


def test_without_a_job_number_the_folder_is_named(tmp_path: Path) -> None:
    session = job(tmp_path / "gearbox 7", "drain plug out", header=Header())
    assert sessions_text([session]).splitlines()[1].startswith("gearbox 7 ")
    assert "no sessions" in sessions_text([])


def test_long_names_fit(tmp_path: Path) -> None:
    header = Header(job="a very long job name " * 9, unit="an even longer name of a unit " * 9)
    text = sessions_text([job(tmp_path, "drain plug out", header=header)])
    assert max(map(len, text.splitlines())) <= 80
