"""Past sessions for the quote: the quick reader and the index against the full reader."""

from __future__ import annotations

import json
import os
import shutil
import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

import benchvoice
from benchvoice.bench import past_index
from benchvoice.bench.desk import Desk
from benchvoice.bench.ears import Ears
from benchvoice.bench.past import PastReader, past_times, read_times, times_before, times_of
from benchvoice.bench.past_index import Index, Past
from benchvoice.bench.quick import read_quickly
from benchvoice.errors import SessionError
from benchvoice.grammar import grammars_folder, load_outline, load_pack
from benchvoice.grammar.load import outline_path
from benchvoice.outlining import draft, toml_of
from benchvoice.quoting import SessionTimes, estimate, forecast
from benchvoice.session import Header, ScriptedClock, find_sessions, read_session
from benchvoice.session.find import find_journals
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


class CountingReader(PastReader):
    """Tells which sessions it has read."""

    def __init__(self) -> None:
        super().__init__()
        self.names: list[str] = []

    def read(self, journal: Path) -> Past:
        self.names.append(journal.parent.name)
        return super().read(journal)


def indexed(index: Index, folder: Path) -> tuple[list[SessionTimes], list[str]]:
    """Give the times through an index, and the names of the sessions that were read for that."""
    reader = CountingReader()
    return index.times(find_journals([folder]), reader), reader.names


def test_the_quick_reader_gives_what_the_full_one_gives() -> None:
    for folder in find_sessions([HISTORY]):
        quick = read_quickly(folder / "session.jsonl")
        assert quick is not None
        assert times_of(quick, None) == times_of(read_session(folder), None)


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
    assert times_of(quick, None) == times_of(read_session(journal), None)
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
    assert times_of(quick, None) == times_of(read_session(journal), None)
    assert [entry.seq for entry in quick.entries if entry.struck] == [target["seq"]]


def test_conditions_technician_and_day_come_along() -> None:
    times = read_times(HISTORY / "invented_04" / "session.jsonl")
    assert times.found["valve_strip"] == ("scored spool",)
    assert (times.outline, times.who) == ("reversing_gearbox", "nobody")
    assert times.finished_on is not None


def test_the_index_gives_the_same_and_reads_only_what_changed(some: Path, tmp_path: Path) -> None:
    plain = past_times([some], OUTLINE)
    index = Index(tmp_path / "deep" / "index.sqlite3")
    assert indexed(index, some) == (plain, ["invented_02", "invented_05", "invented_09"])
    assert indexed(index, some) == (plain, [])
    journal = some / "invented_05" / "session.jsonl"
    text = journal.read_text()
    journal.write_text(text.replace('"kind":"finding"', '"kind":"asked"', 9))
    os.utime(journal, ns=(1, 1))
    changed = past_times([some], OUTLINE)
    assert changed != plain
    assert indexed(index, some) == (changed, ["invented_05"])
    shutil.rmtree(some / "invented_09")
    assert indexed(index, some) == (changed[:2], [])
    base = sqlite3.connect(tmp_path / "deep" / "index.sqlite3")
    assert base.execute("SELECT count(*) FROM session").fetchone() == (2,)
    base.close()


def _append(journal: Path) -> None:
    *_, last = journal.read_text().splitlines()
    with journal.open("a") as file:
        file.write(last + "\n")


def _same_size(journal: Path) -> None:
    text = journal.read_text()
    journal.write_text(text.replace('"t":', '"t":9', 9).replace("finding", "fndng", 9))
    size = len(text) - journal.stat().st_size
    assert size >= 0
    journal.write_text(journal.read_text()[:-1] + " " * size + "\n")


def _time_put_back(journal: Path) -> None:
    before = journal.stat()
    _same_size(journal)
    os.utime(journal, ns=(before.st_atime_ns, before.st_mtime_ns))


def _swapped(journal: Path) -> None:
    """Put another file in its place, of the same size and time."""
    before = journal.stat()
    other = journal.with_name("other")
    shutil.copy(journal, other)
    _same_size(other)
    os.utime(other, ns=(before.st_atime_ns, before.st_mtime_ns))
    other.replace(journal)


@pytest.mark.parametrize("edit", [_append, _same_size, _time_put_back, _swapped])
def test_every_kind_of_edit_is_seen(some: Path, tmp_path: Path, edit) -> None:  # type: ignore[no-untyped-def]
    index = Index(tmp_path / "index.sqlite3")
    past_times([some], OUTLINE, index)
    journal = some / "invented_05" / "session.jsonl"
    size = journal.stat().st_size
    edit(journal)
    assert (journal.stat().st_size == size) == (edit is not _append)
    assert indexed(index, some) == (past_times([some], OUTLINE), ["invented_05"])


def test_an_outline_that_changes_is_seen_where_sessions_name_it(some: Path, tmp_path: Path) -> None:
    outline = tmp_path / "mine.toml"
    text = outline_path("reversing_gearbox").read_text()
    outline.write_text(text)
    journal = some / "invented_05" / "session.jsonl"
    said = journal.read_text()
    journal.write_text(said.replace('"outline":"reversing_gearbox"', f'"outline":"{outline}"'))
    index = Index(tmp_path / "index.sqlite3")
    assert indexed(index, some)[0][1].outline == "reversing_gearbox"
    outline.write_text(text.replace('name = "reversing_gearbox"', 'name = "my_gearbox"'))
    times, read = indexed(index, some)
    assert (times[1].outline, read) == ("my_gearbox", ["invented_05"])
    assert times == past_times([some], OUTLINE)
    outline.unlink()
    assert indexed(index, some) == (past_times([some], OUTLINE), ["invented_05"])


def test_a_session_that_cannot_be_read_does_not_cost_those_before_it(
    some: Path, tmp_path: Path
) -> None:
    index = Index(tmp_path / "index.sqlite3")
    (some / "invented_09" / "session.jsonl").write_text("no journal\n")
    with pytest.raises(SessionError, match="damaged from the first line"):
        past_times([some], OUTLINE, index)
    assert indexed(index, some / "invented_02")[1] == []
    with pytest.raises(SessionError, match="damaged from the first line"):
        past_times([some], OUTLINE, index)


def test_one_session_is_the_same_by_every_path_to_it(
    some: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    index = Index(tmp_path / "index.sqlite3")
    (plain, _) = indexed(index, some)
    monkeypatch.chdir(tmp_path)
    assert indexed(index, Path("past")) == (plain, [])
    assert indexed(index, Path("past/invented_05/session.jsonl")) == (plain[1:2], [])
    monkeypatch.chdir(some)
    assert indexed(index, Path()) == (plain, [])
    both = find_journals([Path(), some])
    assert index.times(both, CountingReader()) == plain * 2


@pytest.mark.skipif(os.name != "posix", reason="file names are text there")
def test_a_name_that_is_no_text_is_read_and_does_not_spoil_the_index(
    some: Path, tmp_path: Path
) -> None:
    index = Index(tmp_path / "index.sqlite3")
    indexed(index, some)
    try:
        shutil.copytree(some / "invented_02", some / os.fsdecode(b"odd_\xff"))
    except OSError:
        pytest.skip("this disk takes no such name")
    times, read = indexed(index, some)
    assert times == past_times([some], OUTLINE)
    assert len(read) == 1
    assert indexed(index, some)[1] == read


@pytest.mark.parametrize(
    "spoil",
    [
        lambda path: path.write_bytes(b"no database at all" * 500),
        lambda path: path.write_bytes(path.read_bytes()[:3000]),
        lambda path: path.write_bytes(path.read_bytes()[:200] + os.urandom(9000)),
        lambda path: _sql(path, "UPDATE session SET past = 'x'"),
        lambda path: _other_step(path),  # noqa: PLW0108 (it is defined below)
        lambda path: _sql(path, "UPDATE session SET sum = NULL, past = NULL"),
        lambda path: _sql(path, "DROP TABLE session; CREATE TABLE session (odd TEXT)"),
        lambda path: _sql(path, "UPDATE made_by SET code = ''; UPDATE session SET past = 'x'"),
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
    assert indexed(index, some / "invented_02") == (plain[:1], [])


def _other_step(path: Path) -> None:
    """Leave rows that can be read, and say something else."""
    base = sqlite3.connect(path)
    rows = base.execute("SELECT name, past FROM session").fetchall()
    spoilt = [(past.replace(b"drain", b"drone"), name) for name, past in rows]
    assert spoilt != [(past, name) for name, past in rows]
    base.executemany("UPDATE session SET past = ? WHERE name = ?", spoilt)
    base.commit()
    base.close()


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


def test_all_is_read_again_when_the_words_of_the_trade_have_changed(
    some: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What kind of part a word is decides where a remark is put."""
    index = Index(tmp_path / "index.sqlite3")
    past_times([some], OUTLINE, index)
    assert indexed(index, some)[1] == []
    words = shutil.copytree(grammars_folder() / "trade", tmp_path / "grammars" / "trade")
    with (words / "parts.toml").open("a", encoding="utf-8") as file:
        file.write("# another word\n")
    monkeypatch.setattr(past_index, "grammars_folder", lambda: tmp_path / "grammars")
    past_index._code.cache_clear()
    assert len(indexed(index, some)[1]) == 3
    monkeypatch.undo()
    past_index._code.cache_clear()


def test_all_is_read_again_when_the_code_that_makes_steps_of_names_has_changed(
    some: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Sessions without an outline are timed by the steps that one drafted from them has."""
    index = Index(tmp_path / "index.sqlite3")
    past_times([some], OUTLINE, index)
    code = Path(benchvoice.__file__).parent
    copy = shutil.copytree(code, tmp_path / "code", ignore=shutil.ignore_patterns("*.pyc"))
    monkeypatch.setattr(benchvoice, "__file__", str(copy / "__init__.py"))
    past_index._code.cache_clear()
    assert indexed(index, some)[1] == []
    with (copy / "outlining" / "regroup.py").open("a", encoding="utf-8") as file:
        file.write("# another rule\n")
    past_index._code.cache_clear()
    assert len(indexed(index, some)[1]) == 3
    monkeypatch.undo()
    past_index._code.cache_clear()


def test_a_job_without_an_outline_is_timed_for_the_one_drafted_from_it(tmp_path: Path) -> None:
    """The pump and its times are invented: five minutes between remarks."""
    scripted = ScriptedClock(datetime(2026, 3, 2, 8, 0, tzinfo=UTC))
    folder = tmp_path / "first"
    with Desk.open(Ears(load_pack(), None), folder, Header(), scripted.clock) as desk:
        for text in (
            "start the drive gear", "key out", "start the front cover", "eight cap screws off",
            "start putting it together", "eight cap screws in",
        ):  # fmt: skip
            scripted.advance(300)
            desk.typed(text)
    times = read_times(folder / "session.jsonl")
    assert set(times.minutes) == {"drive_gear", "front_cover", "front_cover_on"}
    toml = tmp_path / "pump.toml"
    toml.write_text(toml_of(draft(read_session(folder), None, "pump")), "utf-8")
    outline = load_outline(str(toml))
    quote = estimate(outline, past_times([folder], outline))
    assert {step.id: step.n for step in quote.steps} == dict.fromkeys(times.minutes, 1)
    assert quote.notes == ()
