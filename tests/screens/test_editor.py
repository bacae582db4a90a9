"""The corrections editor driven by its keys; what came of it is read back from the journal."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from screen_help import (
    CLEAR,
    DOWN,
    END,
    ENTER,
    ESCAPE,
    HOME,
    OUTLINE,
    PACK,
    START,
    TAB,
    UP,
    keyed,
    opened,
    said,
)

from benchvoice.errors import SessionError
from benchvoice.grammar import load_pack
from benchvoice.remark import Finding
from benchvoice.screens.editor import Editor, Reader
from benchvoice.screens.player import SilentPlayer
from benchvoice.session import Corrections, Entry, ScriptedClock, read_session

DIGITS = Path(__file__).parents[1] / "recordings" / "human" / "digits.flac"
GUESSES = ("ten bolts", "nine nuts")
JOB = (
    "start the end cover",
    "nine bolts off the end cover",
    "two dowel pins good",
    "banana phone",
    "eight nuts off the end cover and two washers bent",
    "one lock nut off the end cover",
)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    folder = tmp_path / "job"
    said(folder, *JOB)
    return folder


def entries(folder: Path) -> dict[int, Entry]:
    return {entry.seq: entry for entry in read_session(folder).entries}


def facts(findings: tuple[Finding, ...]) -> list[tuple[str | None, int | None]]:
    return [(one.part, one.count) for one in findings]


def test_a_retyped_remark_replaces_what_was_recorded_and_keeps_it_reachable(job: Path) -> None:
    run = keyed(job, DOWN, ENTER, CLEAR, "ten bolts off the end cover", ENTER)
    session = read_session(job)
    entry = session.entry(2)
    assert entry is not None
    assert (facts(entry.findings), entry.step) == ([("bolt", 10)], "end_cover")
    assert entry.remark.heard == "ten bolts off the end cover"
    assert [one.remark.heard for one in session.originals(2)] == [JOB[1]]
    assert session.amendments[-1].who == "tester"
    assert run.editor.document.message.startswith("saved")


def test_leaving_a_typed_line_changes_nothing(job: Path) -> None:
    before = (job / "session.jsonl").read_bytes()
    keyed(job, DOWN, ENTER, CLEAR, "forty bolts", ESCAPE, "f", CLEAR, "gear", ESCAPE)
    assert (job / "session.jsonl").read_bytes() == before


def test_what_is_not_understood_is_not_saved(job: Path) -> None:
    run = keyed(job, DOWN, ENTER, CLEAR, "purple monkey dishwasher", ENTER, ESCAPE)
    assert read_session(job).amendments == ()
    assert "not understood" in run.written


def test_an_unclear_entry_retyped_gets_findings_and_a_step(job: Path) -> None:
    keyed(job, "n", ENTER, CLEAR, "12 bolts off the front cover", ENTER)
    entry = entries(job)[4]
    assert (entry.kind, entry.step) == ("finding", "front_cover")
    assert facts(entry.findings) == [("bolt", 12)]


def test_a_command_can_be_typed_as_well(job: Path) -> None:
    keyed(job, "n", ENTER, CLEAR, "finished the end cover", ENTER)
    entry = entries(job)[4]
    assert (entry.kind, entry.finishes) == ("finished", "end_cover")


def test_fields_are_checked_and_each_is_saved_before_the_next(job: Path) -> None:
    value = ("nonsense", *(ENTER, CLEAR), "ten", ENTER)
    keyed(job, DOWN, "f", DOWN, CLEAR, *value, DOWN, DOWN, DOWN, DOWN, DOWN, "bag two", ENTER)
    entry = entries(job)[2]
    (finding,) = entry.findings
    assert (finding.count, finding.container, finding.place) == (10, "bag 2", "end cover")
    assert len(read_session(job).amendments) == 2


def test_a_free_field_takes_an_unknown_word_when_told_twice(job: Path) -> None:
    run = keyed(job, DOWN, "f", CLEAR, "widget", ENTER, ENTER, ESCAPE)
    assert "is not in the vocabulary" in run.written
    assert facts(entries(job)[2].findings) == [("widget", 9)]


def test_findings_are_added_and_dropped_in_the_form(job: Path) -> None:
    keyed(job, DOWN, "f", "\x0e", "gasket", ENTER, "1", ENTER, ESCAPE)
    assert facts(entries(job)[2].findings) == [("bolt", 9), ("gasket", 1)]
    keyed(job, DOWN, "f", "\x18", ESCAPE)
    assert facts(entries(job)[2].findings) == [("gasket", 1)]


def test_entries_are_moved_to_a_step_by_typing_some_of_its_name(job: Path) -> None:
    keyed(job, DOWN, " ", " ", "s", "front cov", ENTER)
    moved = entries(job)
    assert [moved[seq].step for seq in (2, 3, 5)] == ["front_cover", "front_cover", "end_cover"]


def test_an_entry_is_cut_where_its_findings_part(job: Path) -> None:
    keyed(job, DOWN, DOWN, DOWN, DOWN, "x", ENTER)
    session = read_session(job)
    pieces = [entry for entry in session.entries if 5 in (entry.seq, *entry.origins)]
    assert [facts(piece.findings) for piece in pieces] == [[("nut", 8)], [("washer", 2)]]
    assert pieces[0].remark.heard == "eight nuts off the end cover"
    keyed(job, DOWN, DOWN, DOWN, DOWN, "j")
    joined = [one for one in read_session(job).entries if one.kind == "finding"]
    assert [("nut", 8), ("washer", 2)] in [facts(one.findings) for one in joined]


def test_deleted_entries_are_shown_and_brought_back(job: Path) -> None:
    keyed(job, DOWN, "d")
    assert 2 not in entries(job)
    run = keyed(job, "h", DOWN, "r")
    assert entries(job)[2].findings == said_findings(JOB[1])
    assert "DELETED" in run.written


def test_what_is_deleted_is_not_marked(job: Path) -> None:
    run = keyed(job, DOWN, "d", "h", UP, " ")
    assert run.editor.document.message == "it is deleted; r brings it back"
    run = keyed(job, "h", "m")
    assert run.editor.document.marked == entries(job).keys()


def said_findings(text: str) -> tuple[Finding, ...]:

    from benchvoice.language import Parser

    return Parser(PACK).parse(text).findings


def test_times_are_changed_and_the_order_follows(job: Path) -> None:
    keyed(job, DOWN, "t", CLEAR, "+1:30", ENTER)
    session = read_session(job)
    assert [entry.seq for entry in session.entries[:3]] == [1, 3, 2]
    assert entries(job)[2].t == 2 * 60 + 90
    run = keyed(job, "t", CLEAR, "99:00:00", ENTER, ESCAPE)
    assert "outside sitting 1" in run.written


def test_a_forgotten_remark_is_put_in_after_the_entry(job: Path) -> None:
    keyed(job, DOWN, "i", "end cover gasket to repl", TAB, ENTER)
    session = read_session(job)
    new = session.entries[2]
    assert (new.step, new.t, new.corrected) == ("end_cover", session.entries[1].t, True)
    assert [(one.part, one.disposition) for one in new.findings] == [
        ("end cover gasket", "replace"),
    ]


def test_one_change_for_all_nuts_of_a_step_and_one_undo(job: Path) -> None:
    keyed(job, DOWN, "b", "every nut on this step goes in bag two", ENTER)
    bags = [one.container for entry in entries(job).values() for one in entry.findings]
    assert bags == [None, None, "bag 2", None, "bag 2"]
    assert len(read_session(job).amendments) == 1
    keyed(job, "u")
    assert {one.container for entry in entries(job).values() for one in entry.findings} == {None}


def test_a_change_for_all_that_is_searched_for(job: Path) -> None:
    keyed(job, "/", "dowel", ENTER, "b", "to replace", ENTER)
    shall = {seq: {one.disposition for one in e.findings} for seq, e in entries(job).items()}
    assert shall == {1: set(), 2: {None}, 3: {"replace"}, 4: set(), 5: {None}, 6: {None}}


def test_undo_and_redo_go_all_the_way_on_another_day_too(job: Path) -> None:
    start = read_session(job).entries
    keyed(job, DOWN, "d", DOWN, "d", DOWN, "s", "front cover", ENTER)
    end = read_session(job).entries
    keyed(job, "u", "u", "u")
    assert read_session(job).entries == start
    run = keyed(job, "u", "U", "U", "U")
    assert read_session(job).entries == end
    assert "no correction to undo" in run.written


def test_a_doubtful_entry_is_confirmed_as_it_is(tmp_path: Path) -> None:
    folder = heard(tmp_path)
    keyed(folder, "o", "y")
    entry = entries(folder)[1]
    assert (entry.confirmed, entry.remark.confidence) == (True, None)
    assert facts(entry.findings) == [("bolt", 9)]


def test_another_guess_of_the_engine_is_chosen(tmp_path: Path) -> None:
    folder = heard(tmp_path)
    run = keyed(folder, "a", DOWN, ENTER)
    assert "nine nuts off the end cover" in run.written
    assert entries(folder)[1].remark.heard == "nine nuts off the end cover"


def test_a_clip_is_played_and_a_missing_one_told_of(tmp_path: Path) -> None:
    folder = heard(tmp_path)
    run = keyed(folder, "p", DOWN, "p", DOWN)
    assert run.player.played == [folder / "clips" / "0001.flac"]
    (folder / "clips" / "0001.flac").unlink()
    assert "cannot be read" in keyed(folder, "p").editor.document.message


def heard(tmp_path: Path) -> Path:
    """A session with an entry that was heard, by hand, as a journal of schema 1 has it."""
    folder = tmp_path / "heard"
    said(folder, "nine bolts off the end cover", "a gasket")
    path = folder / "session.jsonl"
    lines = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    for line in lines:
        line.pop("n", None)
        line.pop("sum", None)
    lines[0]["schema"] = 1
    event = next(line for line in lines if line.get("seq") == 1)
    event["remark"]["confidence"] = 0.1
    event["clip"] = "clips/0001.flac"
    event["alternatives"] = ["nine dolts of", *(f"{one} off the end cover" for one in GUESSES)]
    path.write_text("".join(json.dumps(line) + "\n" for line in lines), encoding="utf-8")
    (folder / "clips").mkdir()
    shutil.copy(DIGITS, folder / "clips" / "0001.flac")
    return folder


def test_a_second_editor_is_refused(job: Path) -> None:
    with opened(job), pytest.raises(SessionError, match="open elsewhere"), opened(job):
        pass


def test_moving_about_and_searching_write_nothing(job: Path) -> None:
    before = (job / "session.jsonl").read_bytes()
    run = keyed(
        job, END, UP, HOME, "m", "m", "o", "h", "?", DOWN, ESCAPE, "/", "nut", ENTER, ESCAPE
    )
    assert (job / "session.jsonl").read_bytes() == before
    assert "Every change is on the disk" in run.written
    assert len(run.editor.document.rows) == 6


def test_searching_for_a_question_mark_lists_what_wants_a_look(job: Path) -> None:
    run = keyed(job, "/", "?", ENTER)
    assert [entry.seq for entry in run.editor.document.rows] == [4]
    run = keyed(job, "/", "! bolts", ENTER)
    assert [entry.seq for entry in run.editor.document.rows] == [2]


def test_a_session_without_entries_or_outline_can_be_opened(tmp_path: Path) -> None:
    said(tmp_path / "empty")
    run = keyed(tmp_path / "empty", *"fspadjxtbnuU ", ENTER, "i", "h", "o", "?", ESCAPE)
    assert read_session(tmp_path / "empty").amendments == ()
    assert run.editor.document.rows == ()


def test_a_count_put_wrong_in_the_form_is_warned_of_at_once(job: Path) -> None:
    keyed(job, DOWN, "f", DOWN, CLEAR, "eleven", ENTER, ESCAPE)
    assert entries(job)[2].warnings == ("end cover: 10 bolts expected, 11 said",)
    keyed(job, DOWN, "f", DOWN, CLEAR, "ten", ENTER, ESCAPE)
    assert entries(job)[2].warnings == ()


def test_what_the_disk_does_not_take_is_not_shown_as_saved(job: Path) -> None:
    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    before = (job / "session.jsonl").read_bytes()
    with Corrections.open(job, "me", ScriptedClock(START).clock, sync=full) as corrections:
        editor = Editor(corrections, OUTLINE, Reader(lambda: PACK), SilentPlayer())
        editor.delete()
    assert "No space left on device" in editor.document.message
    assert editor.document.bad
    assert len(editor.document.rows) == len(JOB)
    assert (job / "session.jsonl").read_bytes() == before


def test_without_an_outline_the_steps_are_those_that_were_said(job: Path) -> None:
    keyed(job, DOWN, DOWN, "s", "front cover", ENTER)  # a second step, to choose from
    with Corrections.open(job, "me", ScriptedClock(START).clock) as corrections:
        editor = Editor(corrections, None, Reader(lambda: load_pack(None)), SilentPlayer())
        editor.down()
        editor.pick_step()
        editor.typed("front", "front")
        editor.entered()
    assert entries(job)[2].step == "front_cover"


def test_a_change_to_many_keeps_what_each_warned_of(job: Path) -> None:
    before = {seq: entry.warnings for seq, entry in entries(job).items()}
    run = keyed(job, DOWN, "b", "in bag two", ENTER)
    assert before[2] == ("end cover: 10 bolts expected, 9 said",)
    for seq in (2, 3, 5, 6):
        entry = entries(job)[seq]
        assert {one.container for one in entry.findings} == {"bag 2"}
        assert entry.warnings == before[seq]
    assert run.editor.document.facts.warnings(entries(job)[2]) == [*before[2]]


def test_what_did_not_go_back_in_is_warned_of_until_it_is_put_right(tmp_path: Path) -> None:
    folder = tmp_path / "together"
    said(folder, "twelve bolts off the front cover", "covers on", "eleven bolts in front cover")
    short = "front cover: 12 bolts came out, 11 gone in"
    with opened(folder) as (editor, _):
        facts_ = editor.document.facts
        assert facts_.warnings(facts_.session.entries[-1]) == [short]
    run = keyed(folder, ENTER, CLEAR, "eleven bolts off the front cover", ENTER)
    facts_ = run.editor.document.facts
    assert facts_.session.entries[-1].warnings == (short,)
    assert facts_.warnings(facts_.session.entries[-1]) == []
