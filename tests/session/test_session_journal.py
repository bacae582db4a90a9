"""The journal on disk.

References: the standard library's json reads each line (JSON Lines: one JSON value a line, UTF-8,
ended by a line feed), datetime.fromisoformat reads the times (ISO 8601).
"""

from __future__ import annotations

import errno
import json
import os
import signal
import stat
import subprocess
import sys
import textwrap
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from session_help import HEADER, START, bolts, event, written

from benchvoice.errors import SessionError
from benchvoice.remark import remark_to_json
from benchvoice.session import (
    JOURNAL_NAME,
    Header,
    Journal,
    ScriptedClock,
    find_sessions,
    read_session,
    real_clock,
)


def run(code: str, *arguments: object) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", textwrap.dedent(code), *map(str, arguments)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )


def test_lines_are_json_and_the_first_is_the_schema(tmp_path: Path) -> None:
    found = event(1, "finding", 12.5, "front_cover", findings=bolts(11), warnings=("w",))
    written(tmp_path, [found, event(2, "recounted", 20, "front_cover", number=12, amends=1)])
    content = (tmp_path / JOURNAL_NAME).read_bytes()
    assert content.endswith(b"\n")
    lines = [json.loads(line) for line in content.decode("utf-8").splitlines()]
    assert lines[0]["schema"] == 2
    assert [line["n"] for line in lines] == [1, 2, 3, 4, 5, 6]
    assert [line["record"] for line in lines[1:]] == [
        "header", "opened", "event", "event", "closed",
    ]  # fmt: skip
    first = lines[3]
    assert {*first} == {
        "record", "seq", "sitting", "t", "wall", "kind", "step", "remark", "warnings", "clip",
        "alternatives", "n", "sum",
    }  # fmt: skip
    assert first["remark"] == remark_to_json(found.remark)
    assert datetime.fromisoformat(first["wall"]) == START + timedelta(seconds=12)
    assert datetime.fromisoformat(first["wall"]).utcoffset() == timedelta(hours=-5)


def test_what_goes_in_comes_out(tmp_path: Path) -> None:
    scripted = ScriptedClock(START)
    with Journal.create(tmp_path / "a" / "b", HEADER, scripted.clock) as journal:
        one = event(1, "finding", 3.25, "pump", findings=bolts(6), cautions=("c",), answer="yes?")
        journal.append_event(one, clip=journal.clip_name(1), alternatives=("x", "y"), end=4.5)
        journal.amend_header(Header(serial="S 9", who="you"))
    session = read_session(tmp_path / "a" / "b")
    (entry,) = session.entries
    assert (entry.t, entry.end, entry.step, entry.kind) == (3.25, 4.5, "pump", "finding")
    assert entry.remark == one.remark
    assert (entry.clip, entry.alternatives, entry.answer) == ("clips/0001.flac", ("x", "y"), "yes?")
    assert (journal.folder / "clips").is_dir()
    assert (session.header.job, session.header.serial, session.header.who) == ("J 1", "S 9", "you")
    assert session.header.invented
    assert session.sittings[0].seconds == 4.5
    assert session.last_day == START.date()


def test_every_append_is_on_the_disk_before_the_call_returns(tmp_path: Path) -> None:
    path = tmp_path / JOURNAL_NAME
    synced: list[bytes] = []

    def sync(handle: int) -> None:
        os.fsync(handle)
        synced.append(path.read_bytes())

    with Journal.create(tmp_path, HEADER, real_clock(), sync=sync) as journal:
        for seq in range(1, 6):
            journal.append_event(event(seq, "finding", float(seq)))
            assert synced[-1] == path.read_bytes()
            assert json.loads(synced[-1].splitlines()[-1])["seq"] == seq
    assert b'"closed"' in synced[-1]


def test_killed_in_the_middle_of_work_nothing_said_is_lost(tmp_path: Path) -> None:
    code = """
        import os, signal, sys
        from benchvoice.follow import StepEvent
        from benchvoice.remark import Remark
        from benchvoice.session import Header, Journal, real_clock
        journal = Journal.create(sys.argv[1], Header(job="J"), real_clock())
        for seq in range(1, 4):
            remark = Remark(heard=f"said {seq}", kind="remark")
            journal.append_event(StepEvent(seq=seq, kind="finding", at=60.0 * seq, remark=remark))
        os.kill(os.getpid(), signal.SIGKILL)
    """
    assert run(code, tmp_path).returncode == -signal.SIGKILL
    session = read_session(tmp_path)
    assert [entry.remark.heard for entry in session.entries] == ["said 1", "said 2", "said 3"]
    assert (session.sittings[0].closed, session.sittings[0].seconds) == (None, 180.0)
    with Journal.open(tmp_path, ScriptedClock(START).clock) as journal:  # the lock went with it
        assert journal.sitting == 2
        journal.append_event(event(4, "finding", 5.0))
    assert [s.number for s in read_session(tmp_path).sittings] == [1, 2]


def test_two_programs_do_not_write_to_one_session(tmp_path: Path) -> None:
    code = """
        import sys
        from benchvoice.errors import SessionError
        from benchvoice.session import Journal, real_clock
        try:
            Journal.open(sys.argv[1], real_clock()).close_sitting()
        except SessionError as error:
            print(error)
    """
    journal = Journal.create(tmp_path, HEADER, real_clock())
    before = (tmp_path / JOURNAL_NAME).read_bytes()
    refused = run(code, tmp_path)
    assert "open elsewhere" in refused.stdout, refused.stderr
    assert (tmp_path / JOURNAL_NAME).read_bytes() == before
    with pytest.raises(SessionError, match="open elsewhere"):
        Journal.open(tmp_path, real_clock())
    journal.close_sitting()
    assert run(code, tmp_path).stdout == ""
    assert len(read_session(tmp_path).sittings) == 2


def test_a_full_disk_leaves_whole_lines(tmp_path: Path) -> None:
    # a file size limit fails writes as a full disk does, after part of a line is written
    code = """
        import resource, signal, sys
        from benchvoice.errors import SessionError
        from benchvoice.follow import StepEvent
        from benchvoice.remark import Remark
        from benchvoice.session import Header, Journal, real_clock
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (5000, resource.RLIM_INFINITY))
        journal = Journal.create(sys.argv[1], Header(job="J"), real_clock())
        for seq in range(1, 1000):
            remark = Remark(heard="said", kind="remark")
            try:
                journal.append_event(StepEvent(seq=seq, kind="noted", at=float(seq), remark=remark))
            except SessionError as error:
                print(seq, error)
                break
    """
    done = run(code, tmp_path)
    failed = int(done.stdout.split()[0])
    assert "cannot be written" in done.stdout
    session = read_session(tmp_path)
    assert [entry.seq for entry in session.entries] == list(range(1, failed))
    assert session.damage == ()


def test_what_cannot_be_done_is_said(tmp_path: Path) -> None:
    with pytest.raises(SessionError, match="no session here"):
        Journal.open(tmp_path / "none", real_clock())
    assert not (tmp_path / "none").exists()
    (tmp_path / "file").write_text("x")
    with pytest.raises(SessionError, match="cannot be written"):
        Journal.create(tmp_path / "file", HEADER, real_clock())
    written(tmp_path / "a", [event(1, "noted", 1.0)])
    with pytest.raises(SessionError, match="already"):
        Journal.create(tmp_path / "a", HEADER, real_clock())
    journal = Journal.open(tmp_path / "a", real_clock())
    with pytest.raises(ValueError, match="comes after"):
        journal.append_event(event(1, "noted", 1.0))
    journal.close_sitting()
    journal.close_sitting()
    with pytest.raises(SessionError, match="closed"):
        journal.append_event(event(2, "noted", 1.0))


def test_an_error_in_the_work_still_closes_the_sitting(tmp_path: Path) -> None:
    scripted = ScriptedClock(START)
    with pytest.raises(RuntimeError), Journal.create(tmp_path, HEADER, scripted.clock):
        scripted.advance(90)
        raise RuntimeError
    assert read_session(tmp_path).sittings[0].seconds == 90.0


def test_sessions_are_found(tmp_path: Path) -> None:
    for name in ("b", "a"):
        written(tmp_path / "jobs" / name, [event(1, "noted", 1.0)])
    a, b = tmp_path / "jobs" / "a", tmp_path / "jobs" / "b"
    assert find_sessions([tmp_path / "jobs"]) == [a, b]
    assert find_sessions([b, tmp_path / "jobs", a / JOURNAL_NAME]) == [b, a]
    with pytest.raises(SessionError, match="no session here"):
        find_sessions([tmp_path])


def test_a_journal_that_the_system_does_not_give_is_told_with_its_path(tmp_path: Path) -> None:
    (tmp_path / JOURNAL_NAME).mkdir()
    with pytest.raises(
        SessionError, match=r"session\.jsonl: cannot be read \(.+\); check the path"
    ):
        read_session(tmp_path)


def test_a_folder_that_cannot_be_synced_is_said_in_a_line(tmp_path: Path) -> None:
    def sync(handle: int) -> None:
        if stat.S_ISDIR(os.fstat(handle).st_mode):
            raise OSError(errno.EIO, "Input/output error")

    with pytest.raises(SessionError, match=r"cannot be written \(Input/output error\)"):
        Journal.create(tmp_path, HEADER, real_clock(), sync=sync)
    Journal.open(tmp_path, real_clock()).close_sitting()  # it was let go of


@pytest.mark.skipif(sys.platform == "win32", reason="the lock of POSIX")
def test_a_disk_without_locks_is_said_in_a_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def flock(file: object, how: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr("fcntl.flock", flock)
    with pytest.raises(SessionError, match=r"cannot be written \(No locks available\)"):
        Journal.create(tmp_path, HEADER, real_clock())
