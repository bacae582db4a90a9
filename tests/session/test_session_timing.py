"""Labour by step, against times worked out by hand, and against the length of the sittings."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
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


def test_steps_done_together_share_the_time(tmp_path: Path) -> None:
    found = minutes_of(
        tmp_path,
        event(1, "started", 0, "wash"),
        event(2, "started", 600, "pump"),
        event(3, "finished", 900, "pump", finishes="pump"),
        event(4, "finished", 1500, "wash", finishes="wash"),
    )
    # the 5 minutes that both were under way are halved, for nobody works two hours in one
    assert found == {"wash": 22.5, "pump": 2.5}


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


def test_visits_tell_each_stretch_with_what_was_left_out_of_it(tmp_path: Path) -> None:
    events = [
        event(1, "finding", 300, "a"),  # 5 of a
        event(2, "finding", 900, "b"),  # 10 of b
        event(3, "paused", 960, "b"),  # 1 of a, which came next
        event(4, "resumed", 1560, "b"),  # 10 stopped
        event(5, "finding", 1680, "a"),  # 2 of a
        event(6, "finding", 1680 + 50 * 60, "a"),  # 50 silent
        event(7, "finding", 1680 + 53 * 60, "a"),  # 3
    ]
    found = labour(written(tmp_path, events))
    one, two, three = found.visits
    assert (one.step, one.start, one.end, one.minutes) == ("a", 0.0, 5.0, 5.0)
    assert (two.step, two.start, two.end, two.minutes) == ("b", 5.0, 15.0, 10.0)
    assert (three.step, three.minutes, three.paused, three.left_out) == ("a", 6.0, 10.0, 50.0)
    assert dict(found.steps) == {"a": 11.0, "b": 10.0}


def test_visits_of_steps_done_together_name_each_other(tmp_path: Path) -> None:
    events = [
        event(1, "started", 0, "wash"),
        event(2, "started", 600, "pump"),
        event(3, "finished", 900, "wash", finishes="wash"),
        event(4, "finished", 1500, "pump", finishes="pump"),
    ]
    found = labour(written(tmp_path, events))
    assert [(v.step, v.minutes, v.beside) for v in found.visits] == [
        ("wash", 12.5, ("pump",)),
        ("pump", 12.5, ("wash",)),
    ]


def test_a_gap_far_from_the_steps_pace_is_told_and_counted(tmp_path: Path) -> None:
    # Steady remarks every 2 to 4 minutes, and one gap of 20.  Iglewicz and Hoaglin's modified
    # z-score of it, on log minutes with the MAD worked out by hand:
    # logs of 2 3 4 2 3 20 3 -> median log 3; |deviations| .405 0 .288 .405 0 1.897 0 -> MAD .288
    # 0.6745 x 1.897 / 0.288 = 4.4 > 3.5
    ends, events = [2, 5, 9, 11, 14, 34, 37], []
    for seq, end in enumerate(ends, start=1):
        events.append(event(seq, "finding", end * 60, "a"))
    found = labour(written(tmp_path, events))
    assert [(d.step, d.minutes, d.start, d.usual) for d in found.doubts] == [
        ("a", 20.0, 14.0, pytest.approx(3.0))
    ]
    assert dict(found.steps) == {"a": 37.0}
    assert found.visits[0].doubtful == pytest.approx(20.0)


def test_a_step_of_long_gaps_has_none_in_doubt(tmp_path: Path) -> None:
    events = [event(seq, "finding", seq * 20 * 60, "a") for seq in range(1, 8)]
    assert labour(written(tmp_path, events)).doubts == ()


def test_times_put_right_later_win(tmp_path: Path) -> None:
    events = [
        event(1, "finding", 600, "a"),
        event(2, "finding", 1200, "b"),
        event(3, "finding", 1800, "c"),
    ]
    session = written(tmp_path, events)
    late = replace(session.entries[0], t=1500.0)  # "a" was really said between b and c
    put_right = replace(session, entries=(late, *session.entries[1:]))
    assert step_minutes(put_right) == {"b": 20.0, "a": 5.0, "c": 5.0}


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
    for step, minutes in found.steps.items():
        visits = [visit for visit in found.visits if visit.step == step]
        assert sum(visit.minutes for visit in visits) == pytest.approx(minutes)
        assert all(visit.start <= visit.end for visit in visits)
        assert all(0 <= visit.doubtful <= visit.minutes for visit in visits)
    assert all(minutes >= 0 for minutes in found.steps.values())
