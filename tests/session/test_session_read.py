"""Journals read back: damage, torn ends, later versions, and what amends what.

Every cut and every flipped byte of a real journal is tried; the standard library's json says which
lines are still whole.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_help import START, bolts, event, written

from benchvoice.errors import SessionError
from benchvoice.follow import StepEvent
from benchvoice.remark import Finding
from benchvoice.session import JOURNAL_NAME, Journal, ScriptedClock, read_session
from benchvoice.session.lines import one_line, split_lines
from benchvoice.sheets import session_text


def events() -> list[StepEvent]:
    return [
        event(1, "started", 1.0, "front_cover"),
        event(2, "finding", 10.0, "front_cover", findings=bolts(11)),
        event(3, "recounted", 12.0, "front_cover", number=12, amends=2),
        event(4, "finding", 30.0, "front_cover", findings=bolts(1)),
        event(5, "struck", 33.0, "front_cover", amends=4),
        event(6, "unclear", 40.0, "front_cover"),
    ]


def test_strikes_and_recounts_are_applied(tmp_path: Path) -> None:
    session = written(tmp_path, events())
    assert [entry.seq for entry in session.standing] == [1, 2, 3, 5, 6]
    assert [finding.count for _, group in session.findings for finding in group] == [12]
    assert session.entries[1].remark.findings[0].count == 11  # what was said stays
    assert session.entries[1].recounted
    assert [entry.seq for entry in session.log] == [1, 2]
    assert session.last_seq == 6


@pytest.mark.parametrize("cut", range(1, 30))
def test_a_torn_last_line_is_named_and_kept_aside(tmp_path: Path, cut: int) -> None:
    written(tmp_path, events()[:3])
    path = tmp_path / JOURNAL_NAME
    whole = path.read_bytes().splitlines(keepends=True)
    torn = whole[-1][: -1 - cut]
    path.write_bytes(b"".join(whole[:-1]) + torn)
    session = read_session(tmp_path)
    assert len(session.entries) == 3
    assert [(fault.line, fault.what) for fault in session.damage] == [
        (len(whole), "torn last line")
    ]
    scripted = ScriptedClock(START)
    with Journal.open(tmp_path, scripted.clock) as journal:
        journal.append_event(event(4, "noted", 1.0))
    again = read_session(tmp_path)
    assert again.damage == ()
    assert [entry.seq for entry in again.entries] == [1, 2, 3, 4]
    assert (tmp_path / "torn-1.txt").read_bytes() == torn
    assert {"record": "set aside", "file": "torn-1.txt"} in again.unknown


def test_a_last_line_without_its_end_is_whole(tmp_path: Path) -> None:
    written(tmp_path, events()[:2])
    path = tmp_path / JOURNAL_NAME
    path.write_bytes(path.read_bytes()[:-1])
    assert read_session(tmp_path).damage == ()
    Journal.open(tmp_path, ScriptedClock(START).clock).close_sitting()
    session = read_session(tmp_path)
    assert (session.damage, len(session.sittings)) == ((), 2)


@pytest.mark.parametrize(
    "line",
    [
        b"not json",
        b"[1, 2]",
        b"\x00\x00\x00\x00",
        b"\xff\xfe",
        b'{"record": "event", "seq": "one"}',
        b'{"record": "event", "seq": 9, "sitting": 1, "t": 1, "wall": "x", "kind": "noted"}',
        b'{"record": "opened"}',
        b'{"record": "header", "job": 7}',
        b"[" * 10000,
    ],
)
def test_a_damaged_line_is_numbered_and_left_out(tmp_path: Path, line: bytes) -> None:
    written(tmp_path, events())
    path = tmp_path / JOURNAL_NAME
    lines = path.read_bytes().splitlines()
    lines.insert(4, line)
    path.write_bytes(b"\n".join(lines) + b"\n")
    session = read_session(tmp_path)
    assert [fault.line for fault in session.damage] == [5]
    assert len(session.entries) == 6
    assert session.damage[0].text.isascii()
    assert "line 5" in session_text(session)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.data())
def test_any_damage_costs_no_more_than_its_lines(tmp_path: Path, data: st.DataObject) -> None:
    path = tmp_path / JOURNAL_NAME
    if not path.exists():
        written(tmp_path, events())
        (tmp_path / "whole").write_bytes(path.read_bytes())
    content = bytearray((tmp_path / "whole").read_bytes())
    start = data.draw(st.integers(content.index(b"\n") + 1, len(content) - 1))
    length = data.draw(st.integers(1, 200))
    content[start : start + length] = data.draw(st.binary(max_size=20))
    path.write_bytes(bytes(content))
    session = read_session(tmp_path)
    whole = []
    for line in bytes(content).split(b"\n"):
        try:
            record = json.loads(line)
        except ValueError:
            continue
        if isinstance(record, dict) and record.get("record") == "event":
            whole.append(record.get("seq"))
    assert {entry.seq for entry in session.entries} <= set(whole)
    untouched = bytes(content[:start]).count(b'"record":"event"') - 1
    assert len(session.entries) >= max(0, untouched)


@given(st.binary(max_size=300))
def test_reading_lines_is_total_and_agrees_with_json(content: bytes) -> None:
    lines = split_lines(content)
    kept = {number for number, _ in lines.records}
    for number, line in enumerate(content.split(b"\n"), start=1):
        try:
            value = json.loads(line.decode("utf-8"))
        except ValueError:
            value = None
        if number in kept:
            assert isinstance(value, dict)
    assert len(lines.records) + len(lines.damage) <= content.count(b"\n") + 1


def test_a_later_schema_is_refused(tmp_path: Path) -> None:
    path = tmp_path / JOURNAL_NAME
    path.write_text('{"schema": 3}\n{"record": "header", "job": "J"}\n')
    with pytest.raises(SessionError, match=r"later benchvoice.*install") as caught:
        read_session(tmp_path)
    assert (caught.value.line, caught.value.file) == (1, path)
    before = path.read_bytes()
    with pytest.raises(SessionError):
        Journal.open(tmp_path, ScriptedClock(START).clock)
    assert path.read_bytes() == before


@pytest.mark.parametrize("first", ['{"schema": "1"}', '{"schema": true}', '{"a": 1}', "[]", ""])
def test_what_is_not_a_journal_is_refused(tmp_path: Path, first: str) -> None:
    (tmp_path / JOURNAL_NAME).write_text(f"{first}\n" if first else "")
    with pytest.raises(SessionError):
        read_session(tmp_path)
    with pytest.raises(SessionError, match="no session here"):
        read_session(tmp_path / "none")


def test_a_damaged_first_line_does_not_cost_the_job(tmp_path: Path) -> None:
    written(tmp_path, events())
    path = tmp_path / JOURNAL_NAME
    content = path.read_bytes()
    path.write_bytes(b"\x00" * 10 + content[10:])
    session = read_session(tmp_path)
    assert [fault.line for fault in session.damage] == [1]
    assert len(session.entries) == 6


def test_records_of_later_versions_are_kept(tmp_path: Path) -> None:
    written(tmp_path, events()[:2])
    later = {"seq": 9, "sitting": 1, "t": 50, "wall": "w", "kind": "sung", "more": 1}
    with (tmp_path / JOURNAL_NAME).open("ab") as file:
        file.write(one_line({"record": "weather", "rain": True}, 7))
        file.write(one_line({"record": "event", **later, "remark": {"heard": "la"}}, 8))
    session = read_session(tmp_path)
    assert session.unknown == ({"record": "weather", "rain": True},)
    assert (session.entries[-1].kind, session.damage) == ("sung", ())
    assert [entry.seq for entry in session.log] == [1, 2]
    assert session_text(session)


def test_a_count_put_right_by_its_part_is_that_of_the_part(tmp_path: Path) -> None:
    plates = (Finding(part="friction plate", count=8), Finding(part="steel plate", count=8))
    said = (Finding(part="friction plate", count=7),)
    session = written(
        tmp_path / "s",
        [
            event(1, "finding", 1.0, "forward_clutch", findings=plates),
            event(2, "recounted", 2.0, "forward_clutch", findings=said, number=7, amends=1),
        ],
    )
    assert [finding.count for finding in session.entries[0].findings] == [7, 8]
