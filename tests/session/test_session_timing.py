"""Labour by step, against times worked out by hand, and against the length of the sittings."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_help import event, written

from benchvoice.follow import StepEvent
from benchvoice.remark import Remark
from benchvoice.session import Entry, Header, Session, Sitting, labour, step_minutes


def minutes_of(tmp_path: Path, *events: StepEvent, last: float | None = None) -> dict[str, float]:
    return step_minutes(written(tmp_path, events, last=last))


def test_the_gap_before_an_entry_is_its_steps(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "finding", 300, "drain"),  # 5 min
        event(2, "finding", 900, "pump"),  # 10 min
        event(3, "finding", 1020, "drain"),  # 2 min
        last=1080,  # 1 min more of the drain
    )
    assert found == {"drain": 8.0, "pump": 10.0}


def test_the_gap_before_a_start_is_the_step_befores(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "finding", 60, "drain"),  # 1
        event(2, "started", 180, "pump"),  # 2 of the drain
        event(3, "finding", 480, "pump"),  # 5
        event(4, "moved", 540, "end_cover"),  # 1 of the pump
        event(5, "finding", 600, "end_cover"),  # 1
    )
    assert found == {"drain": 3.0, "pump": 6.0, "end_cover": 1.0}


def test_said_start_and_finish_win(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "started", 0, "wash"),
        event(2, "finding", 600, "pump"),  # found while washing
        event(3, "finished", 1200, "wash", finishes="wash"),
        event(4, "finding", 1320, "pump"),
    )
    assert found == {"wash": 20.0, "pump": 2.0}


def test_where_spans_overlap_the_last_started_has_the_time(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "started", 0, "wash"),
        event(2, "started", 600, "pump"),
        event(3, "finished", 900, "pump", finishes="pump"),
        event(4, "finished", 1500, "wash", finishes="wash"),
    )
    assert found == {"wash": 20.0, "pump": 5.0}


def test_next_ends_one_step_and_begins_the_other(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "started", 0, "a"),
        event(2, "started", 300, "b", finishes="a"),
        event(3, "finished", 720, "b", finishes="b"),
    )
    assert found == {"a": 5.0, "b": 7.0}


def test_the_stopped_clock_does_not_count(tmp_path: Path) -> None:
    events = [
        event(1, "finding", 60, "a"),  # 1
        event(2, "paused", 120, "a"),  # 1 of b, which is what was done next
        event(3, "unclear", 600, "a"),
        event(4, "resumed", 1320, "a"),  # 20 stopped
        event(5, "finding", 1500, "b"),  # 3
        event(6, "paused", 1560, "b"),  # 1 of b, the last one
    ]
    session = written(tmp_path, events, last=3600)
    found = labour(session)
    assert dict(found.steps) == {"a": 1.0, "b": 5.0}
    assert found.paused == 20.0 + 34.0
    assert found.silences == ()


def test_between_sittings_nothing_counts(tmp_path: Path) -> None:
    one = [event(1, "finding", 600, "a")]
    two = [event(2, "finding", 300, "b")]
    session = written(tmp_path, one, two, last=700)
    found = labour(session)
    assert dict(found.steps) == pytest.approx({"a": 700 / 60, "b": 700 / 60})
    assert dict(found.sittings) == pytest.approx({1: 700 / 60, 2: 700 / 60})


def test_a_sitting_that_was_never_closed_ends_at_its_last_record() -> None:
    entry = Entry(
        seq=1, sitting=1, t=600, wall="", kind="finding", step="a", remark=Remark(heard="")
    )
    session = Session(
        folder=Path("x"),
        header=Header(),
        sittings=(Sitting(number=1, opened="", seconds=600.0),),
        entries=(entry,),
    )
    assert step_minutes(session) == {"a": 10.0}


def test_long_silences_are_listed_not_dropped(tmp_path: Path) -> None:
    events = [
        event(1, "finding", 60, "a"),
        event(2, "finding", 60 + 46 * 60, "b"),  # 46 min of silence
        event(3, "started", 60 + 50 * 60, "c"),
        event(4, "finished", 60 + 110 * 60, "c", finishes="c"),  # an hour, but said
    ]
    session = written(tmp_path, events)
    found = labour(session)
    assert dict(found.steps) == pytest.approx({"a": 1.0, "b": 4.0, "c": 60.0})
    assert [(s.minutes, s.step, s.counted) for s in found.silences] == [
        (46.0, "b", False),
        (60.0, "c", True),
    ]
    assert step_minutes(session, longest_gap=50)["b"] == 50.0


def test_struck_entries_own_nothing_but_are_no_silence(tmp_path: Path) -> None:
    events = [
        event(1, "finding", 60, "a"),
        event(2, "finding", 60 + 30 * 60, "wrong"),
        event(3, "struck", 65 + 30 * 60, "wrong", amends=2),
        event(4, "finding", 60 + 60 * 60, "b"),
    ]
    found = labour(written(tmp_path, events))
    assert dict(found.steps) == pytest.approx({"a": 1.0, "b": 60.0})
    assert found.silences == ()


KINDS = [
    "finding",
    "noted",
    "started",
    "finished",
    "moved",
    "paused",
    "resumed",
    "unclear",
    "asked",
]


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(KINDS), st.integers(0, 4000), st.sampled_from(["a", "b", None])),
        max_size=12,
    ),
    st.integers(0, 4000),
    st.booleans(),
)
def test_no_second_is_counted_twice_or_lost(
    said: list[tuple[str, int, str | None]], tail: int, strike: bool
) -> None:
    entries, now = [], 0
    for seq, (kind, gap, step) in enumerate(said, start=1):
        now += gap
        entries.append(
            Entry(
                seq=seq,
                sitting=1,
                t=float(now),
                wall="",
                kind=kind,
                step=step,
                remark=Remark(heard=""),
                finishes=step if kind == "finished" else None,
                struck=strike and seq == 2,
            )
        )
    sitting = Sitting(number=1, opened="", seconds=float(now + tail))
    session = Session(
        folder=Path("x"), header=Header(), sittings=(sitting,), entries=tuple(entries)
    )
    found = labour(session)
    left_out = sum(silence.minutes for silence in found.silences if not silence.counted)
    assert found.worked + found.paused + left_out == pytest.approx(sitting.seconds / 60)
    assert found.worked == pytest.approx(sum(found.sittings.values()))
    assert all(minutes >= 0 for minutes in found.steps.values())
