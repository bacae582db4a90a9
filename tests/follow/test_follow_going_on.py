"""Remarks that go on with the one before: a unit alone, an order in parts, places set apart.

Ways of saying are common practice, no source; parts and counts are those of the invented gearbox.
"""

from __future__ import annotations

import pytest
from follow_help import book_of, line_of, tell, warned

from benchvoice.follow.events import standing
from benchvoice.remark import Finding


def _found(*said: str) -> list[Finding]:
    _, events = tell(*said)
    return list(events[-1].remark.findings)


@pytest.mark.parametrize(
    ("asked", "unit", "value"),
    [
        ("output shaft runout is 2", "thou", (2, "thou")),
        ("end play is point five", "mm", (0.5, "mm")),
        ("end play at the front is point five", "millimeters", (0.5, "mm")),
    ],
)
def test_a_unit_alone_answers_which_unit_was_meant(
    asked: str, unit: str, value: tuple[float, str]
) -> None:
    for between in ((), ("what is left",)):
        _, events = tell("start check shafts", asked, *between, unit)
        (finding,) = events[-1].remark.findings
        assert finding.measure is not None
        assert (finding.measure.value, finding.measure.unit) == value
        assert events[-1].remark.heard == unit


def test_a_unit_answers_nothing_else() -> None:
    for said in (
        ("end play is point five", "psi"),  # of another kind
        ("end play is point five", "output shaft good", "mm"),
        ("output shaft good", "mm"),
    ):
        _, events = tell("start check shafts", *said)
        assert events[-1].kind == "unclear"


def test_a_measure_in_the_unit_told_is_held_to_its_limit() -> None:
    _, events = tell("start check shafts", "input shaft end play 12", "thou")
    assert [one.split(":")[0] for one in warned(events[2:])] == ["input shaft end play 12 thou"]


def test_an_order_said_over_several_remarks_is_one() -> None:
    state, _ = tell(
        "start the forward clutch", "first a steel, then a friction", "then a steel",
        "then friction then the backing plate",
    )  # fmt: skip
    stack = next(one for one in book_of(state).stacks if one.step == "forward_clutch")
    steel, friction = "steel plate", "friction plate"
    assert stack.order == (steel, friction, steel, friction, "backing plate")


def test_an_order_goes_on_at_its_step_whatever_it_names() -> None:
    _, events = tell(
        "start the forward clutch", "first a friction, then a steel",
        "then a friction and a steel on the piston",
    )  # fmt: skip
    assert {event.step for event in events} == {"forward_clutch"}
    assert len(events[-1].remark.findings[0].stack) == 4


def test_what_is_done_to_a_part_ends_the_order() -> None:
    (ring,) = _found(
        "start the forward clutch", "first a steel, then a friction", "then the snap ring out"
    )
    assert (ring.part, ring.action, ring.stack) == ("snap ring", "removed", ())
    (steel,) = _found("start the forward clutch", "snap ring out", "then a steel")
    assert steel.stack == ()


def test_two_places_are_of_the_part_talked_about_before() -> None:
    begin = ("start check bearings", "rear bearing checked")
    found = _found(*begin, "rear spalled, front ok")
    assert [(one.part, one.condition) for one in found] == [
        ("rear bearing", "spalled"),
        ("front bearing", "ok"),
    ]
    assert [one.part for one in _found(*begin, "front cracked")] == ["front"]  # may be the cover


def test_some_of_so_many_going_in_is_told_when_the_step_is_left() -> None:
    short = "front cover: 12 bolts came out, 10 gone in"
    for said in ("10 of 12 in", "10 of the 12 front cover bolts in"):
        state, events = tell("12 bolts off the front cover", "start covers on", said)
        assert warned(events[2:]) == []
        assert line_of(state, "front_cover", "bolt").back == 10
        _, events = tell("next step", state=state)
        assert short in warned(events)
    _, events = tell("12 bolts off the front cover", "start covers on", "10 front cover bolts in")
    assert short in warned(events)
    _, events = tell(
        "12 bolts off the front cover", "start covers on", "10 of 11 bolts in front cover"
    )
    assert short in warned(events)  # there are not 11


def test_what_waits_for_its_unit_is_taken_down_with_it_and_once() -> None:
    asked = "output shaft runout is 2"
    state, events = tell("start check shafts", asked)
    assert standing(state.log) == ()
    assert events[-1].answer == "2: 2 thou or 2 mm?"
    state, _ = tell("start check shafts", asked, "thou")
    (found,) = [one for _, said in standing(state.log) for one in said]
    assert (found.part, found.measure and found.measure.value) == ("output shaft", 2)


def test_what_needs_no_unit_counts_at_once_and_once() -> None:
    state, _ = tell("10 bolts off the end cover, shaft end play is 12", "thou")
    assert line_of(state, "end_cover", "bolt").off == 10
    said = [(one.part, one.count) for _, found in standing(state.log) for one in found]
    assert said == [("bolt", 10), ("shaft", None)]


def test_more_going_in_are_of_the_part_before() -> None:
    begin = ("12 bolts off the front cover", "start covers on", "8 front cover bolts in")
    state, events = tell(*begin, "2 more in", "the other two in")
    assert [one.step for one in events[-2:]] == ["covers_on", "covers_on"]
    assert line_of(state, "front_cover", "bolt").back == 12
    assert warned(events[-1:]) == []


def test_a_pack_apart_is_its_step() -> None:
    _, events = tell("fwd pack apart", "reverse clutch apart")
    assert [(one.kind, one.step) for one in events] == [
        ("started", "forward_clutch"),
        ("started", "reverse_clutch"),
    ]
