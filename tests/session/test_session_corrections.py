"""Corrections by hand.

Undo and redo are held against the textbook model: a list of snapshots and a place in it.  All is
read back from the disk, and must be what was in memory; nothing earlier in the file may change.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from session_help import START, bolts, event, written

from benchvoice.errors import BadInput, SessionError
from benchvoice.follow import StepEvent
from benchvoice.remark import Finding, Remark, doubt
from benchvoice.session import (
    JOURNAL_NAME,
    Correction,
    Corrections,
    Entry,
    Header,
    Journal,
    ScriptedClock,
    Session,
    amended,
    correcting,
    history,
    read_session,
    redo,
    step_minutes,
    take_back,
    undo,
)
from benchvoice.session.values import Amendment

SEAL = Finding(part="seal", count=1, condition="cracked")


def heard(seq: int, at: float, step: str, *findings: Finding) -> StepEvent:
    remark = Remark(heard=f"said {seq}", kind="remark", confidence=0.1, findings=findings)
    return StepEvent(seq=seq, kind="finding", at=at, step=step, remark=remark, warnings=("w",))


def job(folder: Path) -> Session:
    scripted = ScriptedClock(START)
    with Journal.create(folder, Header(who="me"), scripted.clock) as journal:
        for one in (
            event(1, "started", 0.0, "front"),
            heard(2, 60.0, "front", *bolts(8), SEAL),
            heard(3, 120.0, "front", *bolts(1)),
            heard(4, 300.0, "pump", SEAL),
            event(5, "recounted", 310.0, "pump", number=2, amends=4),
            event(6, "unclear", 400.0, "pump"),
        ):
            scripted.advance(one.at - journal.elapsed())
            journal.append_event(one, clip=journal.clip_name(one.seq), end=one.at + 1)
        scripted.advance(600 - journal.elapsed())
    return read_session(folder)


def corrections(folder: Path) -> Corrections:
    return Corrections.open(folder, "A. Hand", ScriptedClock(START).clock)


def amend(folder: Path, correction: Correction) -> Session:
    """Record a correction; what is kept in memory must be what is read back."""
    before = (folder / JOURNAL_NAME).read_bytes()
    with corrections(folder) as open_:
        now = open_.amend(correction)
    assert (folder / JOURNAL_NAME).read_bytes().startswith(before)
    again = read_session(folder)
    assert again == now
    assert again.damage == ()
    return again


def seqs(session: Session) -> list[int]:
    return [entry.seq for entry in session.entries]


def get(session: Session, seq: int) -> Entry:
    entry = session.entry(seq)
    assert entry is not None
    return entry


def test_a_count_put_right_at_the_bench_is_what_is_confirmed(tmp_path: Path) -> None:
    session = amend(tmp_path, correcting.confirm(job(tmp_path), [4]))
    now = get(session, 4)
    assert [finding.count for finding in now.remark.findings] == [2]
    assert now.remark.findings == now.findings


def test_an_edit_keeps_what_was_heard_and_is_no_longer_doubtful(tmp_path: Path) -> None:
    before = job(tmp_path)
    assert doubt(get(before, 2).remark)
    edit = correcting.edit(before, 2, bolts(9))
    session = amend(tmp_path, replace(edit, why="miscounted"))
    now = get(session, 2)
    assert now.findings == now.remark.findings == bolts(9)
    assert (doubt(now.remark), now.corrected, now.by_hand, now.warnings) == (None, True, True, ())
    assert (now.clip, now.t, now.step) == ("clips/0002.flac", 60.0, "front")
    assert session.originals(2) == (before.entries[1],)
    assert session.findings[0] == ("front", bolts(9))
    (amendment,) = session.amendments
    assert (amendment.who, amendment.why, amendment.seq) == ("A. Hand", "miscounted", 7)
    last = json.loads((tmp_path / JOURNAL_NAME).read_bytes().splitlines()[-1])
    assert (last["record"], last["amends"], len(last["becomes"])) == ("amendment", [2], 1)


def test_typed_anew_it_is_what_was_typed(tmp_path: Path) -> None:
    before = job(tmp_path)
    assert [entry.seq for entry in before.log_before(4)] == [1, 2, 3]
    typed = Remark(heard="seal is good", kind="remark", findings=(Finding(part="seal"),))
    made = StepEvent(seq=99, kind="finding", at=0.0, step="pump", remark=typed, warnings=("x",))
    now = get(amend(tmp_path, correcting.retype(before, 6, [made])), 6)
    assert (now.kind, now.remark.heard, now.findings) == ("finding", "seal is good", typed.findings)
    assert (now.t, now.warnings, now.clip) == (400.0, ("x",), "clips/0006.flac")
    with pytest.raises(BadInput, match="cannot become struck"):
        correcting.retype(before, 6, [event(9, "struck", 0.0)])


def test_split_and_join_are_each_others_opposite(tmp_path: Path) -> None:
    before = job(tmp_path)
    session = amend(tmp_path, correcting.split(before, 2, [bolts(8), [SEAL]]))
    assert seqs(session) == [1, 2, 8, 3, 4, 5, 6]
    assert [get(session, seq).findings for seq in (2, 8)] == [bolts(8), (SEAL,)]
    assert session.originals(8) == session.originals(2) == (before.entries[1],)
    session = amend(tmp_path, correcting.join(session, [2, 8]))
    assert seqs(session) == seqs(before)
    assert get(session, 2).findings == get(before, 2).findings
    session = amend(tmp_path, correcting.join(session, [2, 3]))
    joined = get(session, 2)
    assert (seqs(session), joined.t, joined.origins) == ([1, 2, 4, 5, 6], 120.0, (2, 3))
    assert [entry.remark.heard for entry in session.originals(2)] == ["said 2", "said 3"]
    with pytest.raises(BadInput, match="several steps"):
        correcting.join(session, [2, 4])


def test_moved_times_count_in_the_labour(tmp_path: Path) -> None:
    before = job(tmp_path)
    assert step_minutes(before) == {"front": 2.0, "pump": 8.0}
    session = amend(tmp_path, correcting.move(before, [3, 4], "case"))
    assert step_minutes(session) == {"front": 1.0, "case": 9.0}
    session = amend(tmp_path, correcting.retime(session, {3: 30.0, 6: 540.0}))
    assert seqs(session) == [1, 3, 2, 4, 5, 6]
    assert get(session, 6).wall == "2026-03-02T08:09:00-05:00"
    with pytest.raises(BadInput, match="lasts 600 s"):
        correcting.retime(session, {3: 601.0})


def test_moved_by_hand_an_entry_goes_with_all_of_its_findings(tmp_path: Path) -> None:
    before = job(tmp_path)
    other = [replace(finding, own_step="pump") for finding in get(before, 2).findings]
    session = amend(tmp_path, correcting.edit(before, 2, other))
    assert ("pump", tuple(other)) in session.findings
    session = amend(tmp_path, correcting.move(session, [2], "case"))
    assert [finding.own_step for finding in get(session, 2).findings] == [None] * len(other)
    assert ("case", get(session, 2).findings) in session.findings


def test_what_was_never_said_is_put_in_where_its_time_says(tmp_path: Path) -> None:
    before = job(tmp_path)
    pause = event(0, "paused", 130.0)
    goes_on = event(0, "resumed", 250.0)
    both = correcting.together(
        before, [correcting.insert(before, one, sitting=1) for one in (pause, goes_on)], "lunch"
    )
    session = amend(tmp_path, both)
    assert seqs(session) == [1, 2, 3, 8, 9, 4, 5, 6]
    assert sum(step_minutes(session).values()) == 8.0
    assert get(session, 8).by_hand
    assert get(session, 8).wall == "2026-03-02T08:02:10-05:00"
    assert seqs(amend(tmp_path, undo(session))) == seqs(before)
    with pytest.raises(BadInput, match="no sitting 2"):
        correcting.insert(before, pause, sitting=2)


def test_deleted_and_struck_entries_come_back(tmp_path: Path) -> None:
    before = job(tmp_path)
    session = amend(tmp_path, correcting.delete(before, [4, 2]))
    assert seqs(session) == [1, 3, 5, 6]
    session = amend(tmp_path, correcting.restore(session, 2))
    assert session.entries[:3] == before.entries[:3]
    session = amend(tmp_path, correcting.move(session, [2], "pump"))
    assert get(amend(tmp_path, correcting.restore(session, 2)), 2) == get(before, 2)
    with Journal.open(tmp_path, ScriptedClock(START).clock) as journal:
        seq = journal.before.last_seq + 1 if journal.before else 0
        journal.append_event(event(seq, "struck", 1.0, amends=3))
    struck = read_session(tmp_path)
    assert get(struck, 3).struck
    with pytest.raises(BadInput, match="restore it first"):
        correcting.move(struck, [3], "pump")
    assert not get(amend(tmp_path, correcting.restore(struck, 3)), 3).struck


def test_restored_is_what_stood_last_and_not_what_was_undone(tmp_path: Path) -> None:
    before = job(tmp_path)
    session = amend(tmp_path, correcting.move(before, [3], "case"))
    session = amend(tmp_path, undo(session))
    session = amend(tmp_path, correcting.delete(session, [3]))
    assert get(amend(tmp_path, correcting.restore(session, 3)), 3) == get(before, 3)


def test_a_yes_confirms_and_a_no_strikes(tmp_path: Path) -> None:
    yes, no = (Remark(heard=word, kind="command", command=word) for word in ("yes", "no"))
    session = written(
        tmp_path,
        [
            heard(1, 1.0, "front", SEAL),
            heard(2, 2.0, "front", SEAL),
            StepEvent(seq=3, kind="answered", at=3.0, remark=yes, amends=1),
            StepEvent(seq=4, kind="answered", at=4.0, remark=no, amends=2),
            StepEvent(seq=5, kind="answered", at=5.0, remark=no),
        ],
    )
    first, second = session.entries[:2]
    assert (first.confirmed, first.corrected, doubt(first.remark)) == (True, False, None)
    assert (second.struck, second.confirmed) == (True, False)
    assert [change.what for change in history(session)] == ["answered", "answered"]


def test_history_says_who_changed_what_from_what(tmp_path: Path) -> None:
    before = job(tmp_path)
    session = amend(tmp_path, correcting.split(before, 2, [bolts(8), [SEAL]]))
    session = amend(tmp_path, replace(correcting.move(session, [8], "pump"), why="other side"))
    session = amend(tmp_path, undo(session))
    session = amend(tmp_path, redo(session))
    changes = history(session)
    assert [change.what for change in changes] == [
        "recounted", "corrected", "corrected", "undone", "redone",
    ]  # fmt: skip
    assert [change.who for change in changes] == ["me", *["A. Hand"] * 4]
    recount, cut, moved, undone, redone = changes
    assert [entry.findings[0].count for entry in (*recount.before, *recount.after)] == [1, 2]
    assert ([e.seq for e in cut.before], [e.seq for e in cut.after]) == ([2], [2, 8])
    assert [entry.step for entry in (*moved.before, *moved.after)] == ["front", "pump"]
    assert (
        (undone.before, undone.after)
        == (moved.after, moved.before)
        == (redone.after, redone.before)
    )
    assert [change.in_force for change in changes] == [True, True, True, False, True]
    assert history(session, 8) == history(session, 2) == changes[1:]
    assert history(session, 4) == changes[:1]
    assert history(session, 6) == ()


def test_an_earlier_correction_is_taken_back_unless_another_builds_on_it(tmp_path: Path) -> None:
    session = amend(tmp_path, correcting.move(job(tmp_path), [2], "pump"))
    session = amend(tmp_path, correcting.move(session, [3], "pump"))
    session = amend(tmp_path, take_back(session, 7))
    assert [get(session, seq).step for seq in (2, 3)] == ["front", "pump"]
    assert get(amend(tmp_path, undo(session)), 3).step == "front"
    session = amend(tmp_path, correcting.edit(read_session(tmp_path), 3, bolts(4)))
    session = amend(tmp_path, correcting.edit(session, 3, bolts(5)))
    with pytest.raises(BadInput, match="changed the same entries"):
        take_back(session, session.amendments[-2].seq)
    with pytest.raises(BadInput, match="no correction 3"):
        take_back(session, 3)


def test_what_cannot_be_done_is_said_and_nothing_is_written(tmp_path: Path) -> None:
    session = job(tmp_path)
    for refused in (
        lambda: correcting.edit(session, 99, bolts(1)),
        lambda: correcting.edit(session, 5, bolts(1)),
        lambda: correcting.edit(session, 2, ()),
        lambda: correcting.split(session, 2, [bolts(1)]),
        lambda: correcting.delete(session, []),
        lambda: correcting.restore(session, 2),
        lambda: undo(session),
        lambda: redo(session),
    ):
        with pytest.raises(BadInput):
            refused()
    before = (tmp_path / JOURNAL_NAME).read_bytes()
    with corrections(tmp_path) as open_:
        for correction in (
            Correction(),
            Correction(amends=(99,)),
            Correction(becomes=(session.entries[1],)),
            Correction(undoes=3),
        ):
            with pytest.raises(BadInput):
                open_.amend(correction)
        with pytest.raises(SessionError, match="open elsewhere"):
            corrections(tmp_path)
        with pytest.raises(SessionError, match="open elsewhere"):
            Journal.open(tmp_path, ScriptedClock(START).clock)
    assert (tmp_path / JOURNAL_NAME).read_bytes() == before
    with pytest.raises(SessionError, match="open the session again"):
        open_.amend(correcting.delete(session, [2]))


def test_work_goes_on_after_corrections(tmp_path: Path) -> None:
    session = amend(tmp_path, correcting.split(job(tmp_path), 2, [bolts(8), [SEAL]]))
    with Journal.open(tmp_path, ScriptedClock(START).clock) as journal:
        assert journal.before == session
        journal.append_event(event(9, "recounted", 1.0, "front", number=3, amends=8))
    assert get(read_session(tmp_path), 8).findings[0].count == 3


def _some(session: Session, data: st.DataObject) -> Correction | None:
    """Draw a correction that can be made, if the one drawn can."""
    entries = [entry.seq for entry in session.entries]
    seq = data.draw(st.sampled_from(entries or [1]))
    t = data.draw(st.integers(0, 600))
    kinds = {
        "move": lambda: correcting.move(session, [seq], data.draw(st.sampled_from("abc"))),
        "retime": lambda: correcting.retime(session, {seq: float(t)}),
        "split": lambda: correcting.split(session, seq, [bolts(1), bolts(t), [SEAL]]),
        "join": lambda: correcting.join(session, data.draw(st.sets(st.sampled_from(entries)))),
        "delete": lambda: correcting.delete(session, data.draw(st.sets(st.sampled_from(entries)))),
        "insert": lambda: correcting.insert(session, event(0, "noted", float(t)), sitting=1),
        "restore": lambda: correcting.restore(session, data.draw(st.integers(1, 12))),
        "edit": lambda: correcting.edit(session, seq, bolts(t)),
    }
    try:
        return kinds[data.draw(st.sampled_from(sorted(kinds) if entries else ["restore"]))]()
    except BadInput:
        return None


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_undo_and_redo_agree_with_snapshots(
    tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("undo")
    session = job(folder)
    snapshots, place = [session.entries], 0
    clock = ScriptedClock(START)
    with Corrections.open(folder, "me", clock.clock, sync=lambda _: None) as open_:
        for _ in range(data.draw(st.integers(1, 15))):
            what = data.draw(st.sampled_from(["undo", "redo", "do", "do"]))
            if what == "do":
                correction = _some(session, data)
                if correction is None:
                    continue
                session = open_.amend(correction)
                snapshots = [*snapshots[: place + 1], session.entries]
                place += 1
            elif (place > 0) if what == "undo" else (place + 1 < len(snapshots)):
                session = open_.amend((undo if what == "undo" else redo)(session))
                place += -1 if what == "undo" else 1
            else:
                with pytest.raises(BadInput):
                    (undo if what == "undo" else redo)(session)
            assert session.entries == snapshots[place]
            assert len({entry.seq for entry in session.entries}) == len(session.entries)
    assert read_session(folder) == session
    history(session)


def test_an_amendment_that_names_what_is_gone_changes_the_rest(tmp_path: Path) -> None:
    session = job(tmp_path)
    lost = Amendment(seq=7, wall="w", who="", amends=(2, 55), undoes=None)
    assert seqs(amended(session, lost)) == [1, 3, 4, 5, 6]
