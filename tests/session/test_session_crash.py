"""A power cut in the middle of work: what was confirmed is there, and the session opens.

The operating system is the reference: SIGKILL, and the order of its own sync and rename calls.
More kills than here: tests/benchmarks/crash.py.
"""

from __future__ import annotations

import errno
import os
import random
from pathlib import Path

import numpy as np
import pytest
from crash_help import REMARKS, kill_once
from session_help import HEADER, START, bolts, event, written

from benchvoice.audio import SAMPLE_RATE, Utterance
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.bench.live import LiveBench, Told
from benchvoice.errors import BadInput, SessionError
from benchvoice.grammar import load_outline, load_pack
from benchvoice.hearing import ScriptedEngine
from benchvoice.session import (
    JOURNAL_NAME,
    Corrections,
    Journal,
    ScriptedClock,
    correcting,
    inspect,
    read_session,
)


@pytest.mark.parametrize(("worker", "times"), [("talk", 3), ("correct", 3), ("replay", 3)])
def test_killed_at_any_moment_nothing_confirmed_is_lost(
    tmp_path: Path, worker: str, times: int
) -> None:
    draw = random.Random(worker)
    if worker == "correct":
        written(tmp_path / "0", [event(n, "finding", n, "a", findings=bolts(n)) for n in (1, 2, 3)])
    for number in range(times):
        folder = tmp_path / (str(number) if worker == "replay" else "0")
        kill = kill_once(worker, folder, draw)
        assert kill.lost == 0
        if (folder / JOURNAL_NAME).exists() and (folder / JOURNAL_NAME).stat().st_size:
            Journal.open(folder, ScriptedClock(START).clock).close_sitting()
            assert inspect(folder).whole


def desk(folder: Path) -> Desk:
    ears = Ears(load_pack(load_outline("worm_reducer")), ScriptedEngine(REMARKS))
    return Desk.open(ears, folder, HEADER, ScriptedClock(START).clock)


def utterance(start: float) -> Utterance:
    samples = np.arange(SAMPLE_RATE // 10, dtype=np.int16)
    return Utterance(samples=samples, start=start, end=start + 0.1)


def test_the_clip_is_on_the_disk_before_the_line_that_names_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[str] = []
    sync, rename = os.fsync, Path.replace

    def fsync(handle: int) -> None:
        calls.append("sync " + Path(f"/proc/self/fd/{handle}").readlink().name)
        sync(handle)

    def replace(self: Path, target: Path) -> Path:
        calls.append(f"rename {self.name} {target.name}")
        return rename(self, target)

    if not Path("/proc/self/fd").is_dir():
        pytest.skip("there is no /proc here to name a handle's file")
    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(Path, "replace", replace)
    ears = Ears(load_pack(load_outline("worm_reducer")), ScriptedEngine(REMARKS))
    with Journal.create(tmp_path, HEADER, ScriptedClock(START).clock, sync=fsync) as journal:
        calls.clear()
        recorded = Desk(ears, journal).heard(utterance(0.0))
        assert recorded is not None
        assert calls == [
            f"sync {tmp_path.name}",  # the new folder of the clips
            "sync 0001.flac.part", "rename 0001.flac.part 0001.flac", "sync clips",
            f"sync {JOURNAL_NAME}",
        ]  # fmt: skip


def test_a_clip_cut_off_in_the_middle_leaves_no_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with desk(tmp_path) as open_:
        open_.heard(utterance(0.0))
        with monkeypatch.context() as broken:

            def fail(*_: object) -> None:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

            broken.setattr("benchvoice.audio.clips.os.fsync", fail)
            with pytest.raises(BadInput, match="No space left") as caught:
                open_.heard(utterance(1.0))
            assert "\n" not in str(caught.value)
        open_.heard(utterance(2.0))
    found = inspect(tmp_path)
    assert (found.whole, found.faults) == (True, ())
    assert [entry.t for entry in found.session.entries] == [0.0, 2.0]


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EIO, errno.EROFS])
def test_a_disk_that_fails_costs_only_what_it_did_not_take(tmp_path: Path, code: int) -> None:
    failing = [False]

    def sync(handle: int) -> None:
        os.fsync(handle)
        if failing[0]:
            raise OSError(code, os.strerror(code))

    path = tmp_path / JOURNAL_NAME
    with Journal.create(tmp_path, HEADER, ScriptedClock(START).clock, sync=sync) as journal:
        journal.append_event(event(1, "noted", 1.0))
        before = path.read_bytes()
        failing[0] = True
        with pytest.raises(SessionError, match="space and permissions"):
            journal.append_event(event(2, "noted", 2.0))
        assert path.read_bytes() == before
        failing[0] = False
        journal.append_event(event(2, "noted", 3.0))
    assert [entry.t for entry in read_session(tmp_path).entries] == [1.0, 3.0]
    with Corrections.open(tmp_path, "me", ScriptedClock(START).clock, sync=sync) as open_:
        failing[0] = True
        with pytest.raises(SessionError):
            open_.amend(correcting.delete(open_.session, [1]))
        assert open_.session == read_session(tmp_path)
        failing[0] = False
        open_.amend(correcting.delete(open_.session, [1]))
    assert [entry.t for entry in read_session(tmp_path).entries] == [3.0]
    assert inspect(tmp_path).whole


def test_at_the_live_bench_a_full_disk_is_told_and_the_next_remark_tries_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write, full = os.write, [False]

    def limited(handle: int, content: bytes) -> int:
        if full[0]:
            full[0] = False
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return write(handle, content)

    monkeypatch.setattr("benchvoice.session.file.os.write", limited)
    shown: list[Recorded | Told] = []
    with desk(tmp_path) as open_:
        full[0] = True
        bench = LiveBench(open_, shown.append)
        bench.typed("one seal cracked")
        bench.typed("two bolts bent")
        bench.start()
        with pytest.raises(SessionError, match="No space left"):
            bench.stop()
    told, recorded = shown
    assert isinstance(told, Told)
    assert told.text.startswith('NOT RECORDED, "one seal cracked": ')
    assert isinstance(recorded, Recorded)
    assert [entry.remark.heard for entry in read_session(tmp_path).entries] == ["two bolts bent"]
    assert inspect(tmp_path).whole


@pytest.mark.parametrize("left", [b"", b'{"sche'])
def test_a_crash_before_the_first_line_is_no_session_yet(tmp_path: Path, left: bytes) -> None:
    (tmp_path / "job").mkdir()
    (tmp_path / "job" / JOURNAL_NAME).write_bytes(left)
    with desk(tmp_path / "job") as open_:
        open_.typed("one seal cracked")
    assert inspect(tmp_path / "job").whole
    assert len(read_session(tmp_path / "job").entries) == 1
    aside = tmp_path / "job" / "torn-1.txt"
    assert (aside.read_bytes() if aside.exists() else b"") == left


def test_half_a_line_that_cannot_be_taken_off_is_not_written_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise OSError(errno.EIO, os.strerror(errno.EIO))

    journal = Journal.create(tmp_path, HEADER, ScriptedClock(START).clock)
    with monkeypatch.context() as broken:
        broken.setattr("benchvoice.session.file.os.write", lambda handle, data: fail())
        broken.setattr("benchvoice.session.file.os.ftruncate", fail)
        with pytest.raises(SessionError, match="Input/output error"):
            journal.append_event(event(1, "noted", 1.0))
    with pytest.raises(SessionError, match="open the session again"):
        journal.append_event(event(1, "noted", 1.0))


def test_a_folder_that_cannot_be_written_is_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path, [event(1, "noted", 1.0)])
    open_ = Path.open

    def refuse(self: Path, mode: str = "r", *args: object, **more: object) -> object:
        if "r" not in mode:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return open_(self, mode, *args, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", refuse)
    for attempt in (
        lambda: Journal.open(tmp_path, ScriptedClock(START).clock),
        lambda: Corrections.open(tmp_path, "me", ScriptedClock(START).clock),
        lambda: Journal.create(tmp_path / "new", HEADER, ScriptedClock(START).clock),
    ):
        with pytest.raises(SessionError, match=r"Permission denied.*space") as caught:
            attempt()
        assert "\n" not in str(caught.value)
    assert read_session(tmp_path).entries
