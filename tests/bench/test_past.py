"""Past sessions for the quote: the quick reader and the index against the full reader."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from pathlib import Path

import numpy as np
import pytest

from benchvoice.bench.past import past_times, read_times, times_before, times_of
from benchvoice.bench.past_index import Index
from benchvoice.bench.quick import read_quickly
from benchvoice.grammar import load_outline
from benchvoice.quoting import SessionTimes, estimate, forecast
from benchvoice.session import find_sessions, read_session
from benchvoice.session.lines import one_line
from benchvoice.session.values import SCHEMA

HISTORY = Path(__file__).parents[2] / "demo_sessions" / "history"
OUTLINE = load_outline("reversing_gearbox")


@pytest.fixture
def some(tmp_path: Path) -> Path:
    """Three sessions of the demo history, to be changed at will."""
    for name in ("invented_02", "invented_05", "invented_09"):
        (tmp_path / "past" / name).mkdir(parents=True)
        shutil.copy(HISTORY / name / "session.jsonl", tmp_path / "past" / name)
    return tmp_path / "past"


def test_the_quick_reader_gives_what_the_full_one_gives() -> None:
    for folder in find_sessions([HISTORY]):
        quick = read_quickly(folder / "session.jsonl")
        assert quick is not None
        assert times_of(quick) == times_of(read_session(folder))


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text[:-40],  # a torn end
        lambda text: text.replace('"kind":"finding"', '"kind":7', 1),
        lambda text: text + '{"record":"of a later version"}\n',
        lambda text: text.replace('"schema":1', '"schema":"x"', 1),
        lambda text: text.replace('"heard"', '"herd"', 1),
        lambda text: "\n".join(text.splitlines()[:2] + text.splitlines()[3:]) + "\n",  # not opened
        lambda text: text.replace('seq":5,', 'seq":4,', 1),
    ],
)
def test_what_is_out_of_the_ordinary_is_left_to_the_full_reader(some: Path, change) -> None:  # type: ignore[no-untyped-def]
    journal = some / "invented_02" / "session.jsonl"
    journal.write_text(change(journal.read_text()))
    assert read_quickly(journal) is None


def test_the_quick_reader_wants_every_checksum(some: Path) -> None:
    journal = some / "invented_02" / "session.jsonl"
    records = [json.loads(line) for line in journal.read_text().splitlines()]
    records[0]["schema"] = SCHEMA
    lines = [one_line(record, n) for n, record in enumerate(records, start=1)]
    journal.write_bytes(b"".join(lines))
    quick = read_quickly(journal)
    assert quick is not None
    assert times_of(quick) == times_of(read_session(journal))
    spoilt = lines[9].replace(b'"t":', b'"t":1', 1)
    for content in ([*lines[:9], spoilt, *lines[10:]], [*lines[:9], *lines[10:]], lines[:1] * 2):
        journal.write_bytes(b"".join(content))
        assert read_quickly(journal) is None


def test_struck_entries_do_not_count_in_the_quick_reader_either(some: Path) -> None:
    journal = some / "invented_02" / "session.jsonl"
    lines = journal.read_text().splitlines()
    events = [json.loads(line) for line in lines if '"record":"event"' in line]
    target = next(event for event in events if event["kind"] == "finding")
    strike = {**events[-1], "seq": events[-1]["seq"] + 1, "kind": "struck", "amends": target["seq"]}
    journal.write_text("\n".join([*lines, json.dumps(strike)]) + "\n")
    quick = read_quickly(journal)
    assert quick is not None
    assert times_of(quick) == times_of(read_session(journal))
    assert [entry.seq for entry in quick.entries if entry.struck] == [target["seq"]]


def test_conditions_technician_and_day_come_along() -> None:
    times = read_times(HISTORY / "invented_04" / "session.jsonl")
    assert times.found["valve_strip"] == ("scored spool",)
    assert (times.outline, times.who) == ("reversing_gearbox", "nobody")
    assert times.finished_on is not None


def test_the_index_gives_the_same_and_reads_only_what_changed(some: Path, tmp_path: Path) -> None:
    plain = past_times([some], OUTLINE)
    read: list[str] = []

    def reading(journal: Path) -> SessionTimes:
        read.append(journal.parent.name)
        return read_times(journal)

    index = Index(tmp_path / "deep" / "index.sqlite3")
    journals = [folder / "session.jsonl" for folder in find_sessions([some])]
    assert index.times(journals, reading) == plain
    assert read == ["invented_02", "invented_05", "invented_09"]
    assert index.times(journals, reading) == plain
    assert len(read) == 3
    text = journals[1].read_text()
    journals[1].write_text(text.replace('"kind":"finding"', '"kind":"asked"', 9))
    os.utime(journals[1], ns=(1, 1))
    assert index.times(journals, reading) == past_times([some], OUTLINE) != plain
    assert read[3:] == ["invented_05"]
    shutil.rmtree(some / "invented_09")
    assert index.times(journals[:2], reading) == past_times([some], OUTLINE)
    base = sqlite3.connect(tmp_path / "deep" / "index.sqlite3")
    assert base.execute("SELECT count(*) FROM session").fetchone() == (2,)
    base.close()


@pytest.mark.parametrize(
    "spoil",
    [
        lambda path: path.write_bytes(b"no database at all" * 500),
        lambda path: path.write_bytes(path.read_bytes()[:3000]),
        lambda path: path.write_bytes(path.read_bytes()[:200] + os.urandom(9000)),
        lambda path: _sql(path, "UPDATE session SET times = 'x'"),
        lambda path: _sql(path, "DROP TABLE session; CREATE TABLE session (odd TEXT)"),
        lambda path: _sql(path, "UPDATE made_by SET code = ''; UPDATE session SET times = 'x'"),
        lambda path: _sql(path, "UPDATE fit SET posterior = zeroblob(50)"),
    ],
)
def test_a_spoilt_index_is_made_anew_without_a_word(some: Path, tmp_path: Path, spoil) -> None:  # type: ignore[no-untyped-def]
    path = tmp_path / "index.sqlite3"
    index = Index(path)
    plain = past_times([some], OUTLINE)
    made = forecast(OUTLINE, plain, draws=100, fit_with=index.fit)
    past_times([some], OUTLINE, index)
    spoil(path)
    assert past_times([some], OUTLINE, index) == plain
    assert np.array_equal(forecast(OUTLINE, plain, draws=100, fit_with=index.fit).jobs, made.jobs)
    again = index.times([some / "invented_02" / "session.jsonl"], _never)
    assert again == plain[:1]


def _never(journal: Path) -> SessionTimes:
    raise AssertionError(f"{journal} was read again")


def _sql(path: Path, script: str) -> None:
    base = sqlite3.connect(path)
    base.executescript(script)
    base.close()


def test_an_index_that_cannot_be_written_is_done_without(some: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    index = Index(tmp_path / "file" / "index.sqlite3")
    assert past_times([some], OUTLINE, index) == past_times([some], OUTLINE)


def test_a_locked_index_is_left_as_it_is(some: Path, tmp_path: Path) -> None:
    path = tmp_path / "index.sqlite3"
    index = Index(path, patience=0.01)
    plain = past_times([some], OUTLINE, index)
    base = sqlite3.connect(path)
    base.execute("BEGIN EXCLUSIVE")
    assert past_times([some], OUTLINE, index) == plain
    base.rollback()
    assert base.execute("SELECT count(*) FROM session").fetchone() == (3,)
    base.close()


def test_a_kept_fit_is_the_same_fit(some: Path, tmp_path: Path) -> None:
    index = Index(tmp_path / "index.sqlite3")
    past = past_times([some], OUTLINE, index)
    jobs = [forecast(OUTLINE, past, draws=100, fit_with=fit).jobs for fit in (index.fit, index.fit)]
    assert np.array_equal(jobs[0], jobs[1])
    assert np.array_equal(jobs[0], forecast(OUTLINE, past, draws=100).jobs)


def test_sessions_of_another_outline_are_left_out_and_told(some: Path) -> None:
    journal = some / "invented_05" / "session.jsonl"
    text = journal.read_text().replace('"outline":"reversing_gearbox"', '"outline":"worm_reducer"')
    journal.write_text(text)
    quote = estimate(OUTLINE, past_times([some], OUTLINE), draws=100)
    assert quote.sessions == 2
    assert "session invented_05 is of outline worm_reducer, not counted" in quote.notes


def test_only_earlier_sessions_come_before_one(some: Path) -> None:
    times = past_times([some], OUTLINE)
    assert [one.session for one in times_before(times, times[1])] == ["invented_02"]
