"""Checksums, numbering, clips, the clock, and the mended copy.

CRC-32 (ISO 3309, ITU-T V.42): the published check value of "123456789" is cbf43926; here it is
worked bit by bit from the polynomial, apart from zlib.
"""

from __future__ import annotations

import json
import shutil
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from session_help import HEADER, START, bolts, event, written

from benchvoice.audio import write_clip
from benchvoice.cli import main
from benchvoice.session import (
    JOURNAL_NAME,
    Clock,
    Inspection,
    Journal,
    ScriptedClock,
    inspect,
    labour,
    read_session,
    records,
    repair,
)
from benchvoice.session.lines import one_line

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"


def crc32(content: bytes) -> int:
    register = 0xFFFFFFFF
    for byte in content:
        register ^= byte
        for _ in range(8):
            register = (register >> 1) ^ (0xEDB88320 if register & 1 else 0)
    return register ^ 0xFFFFFFFF


def job(folder: Path) -> Path:
    """Three entries with clips; six lines and the closing one."""
    with Journal.create(folder, HEADER, ScriptedClock(START).clock) as journal:
        for seq in (1, 2, 3):
            clip = journal.clip_name(seq)
            write_clip(folder / clip, np.arange(-800, 800, dtype=np.int16))
            journal.append_event(event(seq, "finding", seq, "pump", findings=bolts(seq)), clip=clip)
    return folder / JOURNAL_NAME


def told(found: Inspection) -> list[tuple[int | None, str]]:
    """What is wrong with lines."""
    return [(fault.line, fault.what) for fault in found.faults if fault.line]


def test_every_line_has_the_published_checksum(tmp_path: Path) -> None:
    assert crc32(b"123456789") == 0xCBF43926
    for number, line in enumerate(job(tmp_path).read_bytes().splitlines(), start=1):
        body, sum_ = line.split(b',"sum":')
        assert (json.loads(line)["n"], int(json.loads(line)["sum"], 16)) == (number, crc32(body))
        assert sum_ == b'"%08x"}' % crc32(body)


def test_a_whole_session_is_whole(tmp_path: Path) -> None:
    job(tmp_path)
    found = inspect(tmp_path)
    assert (found.whole, found.faults, found.records, found.clips) == (True, (), 7, 3)
    assert repair(tmp_path) is None
    for folder in sorted(HISTORY.iterdir()):  # schema 1
        assert (inspect(folder).whole, inspect(folder).faults) == (True, ())


def test_no_flipped_bit_goes_unseen_and_each_costs_one_line(tmp_path: Path) -> None:
    path = job(tmp_path)
    content = path.read_bytes()
    first = content.index(b"\n") + 1
    for at in range(first, len(content) - 1, 9):
        if content[at] == ord("\n"):
            continue
        flipped = bytearray(content)
        flipped[at] ^= 1 << at % 8
        path.write_bytes(flipped)
        session = read_session(tmp_path)
        line = content[:at].count(b"\n") + 1
        assert {fault.line for fault in session.damage} & {line, line + 1}, at
        if flipped[at] != ord("\n"):
            assert {fault.line for fault in session.damage} == {line}
        assert len(session.entries) >= 2


def test_missing_lines_and_lines_twice_are_named(tmp_path: Path) -> None:
    path = job(tmp_path)
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:3] + lines[5:]))
    assert told(inspect(tmp_path)) == [(4, "records 4 to 5 are missing before this line")]
    assert [entry.seq for entry in read_session(tmp_path).entries] == [3]
    path.write_bytes(b"".join(lines[:5] + lines[3:]))
    faults = [
        (6, "damaged line: it is record 4 a second time"),
        (7, "damaged line: it is record 5 a second time"),
    ]
    assert told(inspect(tmp_path)) == faults
    assert len(read_session(tmp_path).entries) == 3
    unsummed = b'{"record":"event","seq":9,"sitting":1,"t":9,"wall":"w","kind":"noted"}\n'
    path.write_bytes(b"".join(lines) + unsummed)
    assert told(inspect(tmp_path)) == [(8, "damaged line: it has no checksum")]


def test_the_numbering_goes_on_after_damage_at_the_end(tmp_path: Path) -> None:
    path = job(tmp_path)
    content = path.read_bytes()
    path.write_bytes(content[:-20] + b"x" + content[-19:])
    Journal.open(tmp_path, ScriptedClock(START).clock).close_sitting()
    assert told(inspect(tmp_path))[:1] == [(7, "damaged line")]
    assert [fault.line for fault in read_session(tmp_path).damage] == [7]
    path.write_bytes(content[:-20])
    Journal.open(tmp_path, ScriptedClock(START).clock).close_sitting()
    assert inspect(tmp_path).whole


def test_an_old_journal_goes_on_with_checksums(tmp_path: Path) -> None:
    shutil.copytree(HISTORY / "invented_02", tmp_path / "old")
    with Journal.open(tmp_path / "old", ScriptedClock(START).clock) as journal:
        assert journal.before is not None
        journal.append_event(event(journal.before.last_seq + 1, "noted", 1.0))
    path = tmp_path / "old" / JOURNAL_NAME
    lines = path.read_bytes().splitlines()
    assert json.loads(lines[-1])["n"] == len(lines)
    assert inspect(tmp_path / "old").whole
    path.write_bytes(path.read_bytes().replace(b"said", b"paid"))
    assert [fault.line for fault in read_session(tmp_path / "old").damage] == [len(lines) - 1]


def test_clips_missing_broken_and_left_over_are_named(tmp_path: Path) -> None:
    job(tmp_path)
    clips = tmp_path / "clips"
    (clips / "0001.flac").unlink()
    whole = (clips / "0002.flac").read_bytes()
    (clips / "0002.flac").write_bytes(whole[: len(whole) // 2])
    (clips / "0003.flac").write_bytes(b"no sound")
    (clips / "0004.flac").write_bytes(whole)
    (clips / "0005.flac.part").write_bytes(whole[:9])
    found = inspect(tmp_path)
    damage = [told for told in found.faults if told.damage]
    assert [fault.line for fault in damage] == [4, 5, 6]
    assert "clips/0001.flac is missing" in damage[0].what
    assert all("clips/000" in fault.what for fault in damage)
    assert [fault.what for fault in found.faults if not fault.damage] == [
        "clips/0004.flac is of no entry that can be read",
        "clips/0005.flac.part was only half written",
    ]


def test_a_clip_left_by_a_crash_is_not_written_over(tmp_path: Path) -> None:
    job(tmp_path)
    (tmp_path / "clips" / "0004.flac").write_bytes(b"heard, but its entry was never written")
    with Journal.open(tmp_path, ScriptedClock(START).clock) as journal:
        assert journal.clip_name(4) == "clips/0004-2.flac"


@pytest.mark.parametrize(
    "clip", ["../x.flac", "/etc/passwd", "a/../../x", "C:\\x.flac", "..\\x", "//host/x", "", "a\0b"]
)
def test_no_clip_leads_out_of_the_folder(tmp_path: Path, clip: str) -> None:
    path = job(tmp_path)
    record = json.loads(path.read_bytes().splitlines()[4])
    del record["sum"]
    n = record.pop("n")
    lines = path.read_bytes().splitlines(keepends=True)
    lines[4] = one_line({**record, "clip": clip}, n)
    path.write_bytes(b"".join(lines))
    session = read_session(tmp_path)
    assert [(fault.line, fault.used) for fault in session.damage] == [(5, True)]
    assert [entry.clip for entry in session.entries] == ["clips/0001.flac", None, "clips/0003.flac"]
    mended = repair(tmp_path)
    assert mended is not None
    assert read_session(mended.journal).entries == session.entries
    assert read_session(mended.journal).damage == ()


def test_a_clock_set_back_is_told_and_costs_no_time(tmp_path: Path) -> None:
    seconds, walls = [0.0], [START]
    clock = Clock(lambda: seconds[0], lambda: walls[0])
    with Journal.create(tmp_path, HEADER, clock) as journal:
        for seq in (1, 2, 3):
            seconds[0] += 60
            walls[0] += timedelta(seconds=60) if seq != 2 else timedelta(hours=-1)
            journal.append_event(event(seq, "finding", seconds[0], "pump", findings=bolts(seq)))
    found = inspect(tmp_path)
    assert found.whole
    ((line, what),) = told(found)
    assert (line, "set back by 1:00:00" in what) == (5, True)
    assert labour(found.session).steps == {"pump": 3.0}
    session = found.session.sittings[0]
    assert datetime.fromisoformat(session.closed or "") < datetime.fromisoformat(session.opened)
    assert session.seconds == 180.0


def test_the_mended_copy_stands_beside_the_damaged_journal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = job(tmp_path)
    lines = path.read_bytes().splitlines(keepends=True)
    lines[4] = lines[4].replace(b"said", b"paid")
    damaged = b"".join([*lines, b"torn"])
    path.write_bytes(damaged)
    assert main(["check", str(tmp_path)]) == 2
    assert "line 5" in capsys.readouterr().out
    assert main(["check", str(tmp_path), "--repair", "--json"]) == 2
    *faults, last = map(json.loads, capsys.readouterr().out.splitlines())
    assert [(fault["line"], fault["damage"]) for fault in faults if fault["line"]] == [
        (5, True),
        (8, True),
    ]
    assert path.read_bytes() == damaged
    assert Path(last["damaged_lines"]).read_bytes() == lines[4] + b"torn\n"
    mended = read_session(Path(last["mended"]))
    assert (mended.damage, mended.entries) == ((), read_session(tmp_path).entries)
    assert main(["check", last["mended"]]) == 0
    assert repair(tmp_path).journal.name == "session-mended-2.jsonl"  # type: ignore[union-attr]
    assert main(["show", last["mended"]]) == 0
    assert main(["check", "--repair"]) == 2
    assert main(["check", str(tmp_path / "none")]) == 2


def test_a_whole_folder_of_sessions_is_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("a", "b"):
        written(tmp_path / name, [event(1, "noted", 1.0)])
    assert main(["check", str(tmp_path), "--json"]) == 0
    assert [json.loads(line)["whole"] for line in capsys.readouterr().out.splitlines()] == [
        True
    ] * 2


def test_a_record_of_a_later_kind_is_kept_whatever_its_number(tmp_path: Path) -> None:
    later = {"record": "of a later version", "seq": {"a": [1]}, "clip": None}
    lines = [records.schema_record(), {"record": "header", "job": "7"}, later]
    whole = b"".join(one_line(line, n) for n, line in enumerate(lines, start=1))
    (tmp_path / JOURNAL_NAME).write_bytes(whole + b"{torn\n")
    mended = repair(tmp_path)
    assert mended is not None
    assert mended.left_out == (4,)
    assert b"of a later version" in mended.journal.read_bytes()
