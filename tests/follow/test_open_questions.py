"""What of a job is open: undecided, unmeasured, unchecked, not settled.

What has to be decided, measured and checked is the invented outlines'; that a damaged part needs
a decision is common practice, no source.
"""

from __future__ import annotations

import pytest
from follow_help import answered, line_of, pack_of, tell, told

from benchvoice.follow import OpenQuestion, State, open_questions, standing
from benchvoice.grammar import load_pack

SPOOL = "1 spool: scored, not said what shall happen to it"


def open_in(state: State) -> tuple[OpenQuestion, ...]:
    said = standing(state.log)
    return open_questions(said, pack_of(), started=state.started, done=state.done)


def texts(state: State, *kinds: str) -> list[str]:
    return [one.text for one in open_in(state) if one.kind in kinds]


def test_a_damaged_part_is_open_until_it_is_decided_on() -> None:
    state = told("spool is scored")
    assert texts(state, "undecided") == [SPOOL]
    for said in ("spool replace", "spool reuse", "send the spool to the machine shop"):
        assert texts(told(said, state=state), "undecided") == [], said
    later = told("decide later on the spool", state=state)
    assert texts(later, "undecided") == ["1 spool: scored, to be decided"]


def test_a_fluid_is_no_part_to_decide_on_unless_somebody_put_it_off() -> None:
    """That drained oil is never put back as it was is common practice, no source."""
    state = told("start the oil drain", "oil is dirty and contaminated")
    assert texts(state, "undecided") == []
    (text,) = texts(told("decide later on the oil", state=state), "undecided")
    assert text.endswith("to be decided")


@pytest.mark.parametrize("condition", ["good", "not cracked", "within spec"])
def test_a_sound_part_is_decided(condition: str) -> None:
    assert texts(told(f"spool is {condition}"), "undecided") == []


def test_what_has_to_be_inspected_is_open_until_it_is_looked_at() -> None:
    state = told("six bearings out")
    (text,) = texts(state, "undecided")
    assert text == "6 bearings: not looked at (roughness, play, blued or pitted races)"
    assert texts(told("bearings are good", state=state), "undecided") == []


def test_what_is_always_replaced_needs_no_decision() -> None:
    assert texts(told("pump shaft seal hard and leaking"), "undecided") == []


def test_limits_count_from_the_stage_that_was_reached() -> None:
    assert texts(told("start the oil drain"), "unmeasured", "unchecked") == []
    state = told("start check gears")
    assert "backlash not measured, limit 6 to 12 thou (invented for the demo)" in texts(
        state, "unmeasured"
    )
    assert not any("end play" in text for text in texts(state, "unmeasured"))
    state = told("backlash is eight thou", state=state)
    assert not any("backlash" in text for text in texts(state, "unmeasured"))


def test_out_of_limit_is_open_until_it_is_decided_on() -> None:
    state = told("start check shafts", "input shaft runout is three thou")
    out = ["input shaft runout 3 thou: limit at most 2 thou (invented for the demo)"]
    assert texts(state, "out of limit") == out
    assert texts(told("output gear replace", state=state), "out of limit") == out
    assert texts(told("input shaft to the machine shop", state=state), "out of limit") == []


def test_on_inspection_the_worst_counts_whatever_comes_after() -> None:
    state = told("start check shafts", "input shaft runout is three thou",
                 "output shaft runout is one thou")  # fmt: skip
    assert len(texts(state, "out of limit")) == 1


def test_a_measure_before_taking_apart_does_not_answer_for_the_assembly() -> None:
    state = told("start the oil drain", "end play is eight thou", "start covers on")
    assert any(text.startswith("end play not measured") for text in texts(state, "unmeasured"))


def test_checks_without_a_reading_are_open_until_something_is_said() -> None:
    state = told("start air test")
    air = "forward clutch: air check: the piston moves, holds and lets go: not said"
    assert air in texts(state, "unchecked")
    state = told("forward clutch air tested good", state=state)
    assert air not in texts(state, "unchecked")
    assert air.replace("forward", "reverse") in texts(state, "unchecked")
    _, events = tell("finish this step", state=state)
    assert [text for text in events[0].warnings if "air check" in text] == [
        air.replace("forward", "reverse")
    ]


def test_leaving_the_decisions_tells_what_is_undecided() -> None:
    state = told("spool is scored", "start parts list")
    _, events = tell("finish this step", state=state)
    assert f"not decided on: {SPOOL}" in events[0].warnings


def test_they_are_asked_by_voice() -> None:
    state = told("spool is scored", "start check pump")
    assert f"{SPOOL}." in answered("what is still undecided", state)
    unmeasured = answered("what is unmeasured", state)
    assert any(text.startswith("tip clearance not measured") for text in unmeasured)
    assert answered("what is undecided", State()) == ["Nothing is undecided."]
    assert answered("what is not measured yet", State()) == ["Nothing is unmeasured or unchecked."]


def test_builds_marks_and_orders_are_open_too() -> None:
    state = told("start the output shaft", "output gear out", "finish this step",
                 "finished the forward clutch")  # fmt: skip
    assert texts(state, "build") == [
        "output thrust: thrust washer or thrust bearing, not said which"
    ]
    assert texts(state, "order") == ["forward clutch pack: the order was not said"]
    (mark,) = texts(state, "mark")
    assert mark.startswith("output gear: goes on either way round")


def test_without_an_outline_only_decisions_are_open() -> None:
    state = told("spool is scored")
    found = open_questions(standing(state.log), load_pack(), started=state.started)
    assert [(one.kind, one.text) for one in found] == [
        ("undecided", "spool: scored, not said what shall happen to it")
    ]


def test_some_that_are_bad_are_told_apart_from_all() -> None:
    state = told("seven bolts off the side cover, one bolt stripped")
    assert texts(state, "undecided") == [
        "1 of 7 bolts, side cover: stripped, not said what shall happen to it"
    ]


def test_a_clutch_that_holds_is_checked() -> None:
    state = told("friction plates off the forward clutch", "air test", "forward clutch holds")
    open_ = texts(state, "unchecked")
    assert not any(text.startswith("forward clutch") for text in open_)
    assert any(text.startswith("reverse clutch") for text in open_)


def test_a_part_out_of_its_limit_is_not_settled_by_what_was_said_of_it_before() -> None:
    said = ("start the forward clutch", "eight friction plates",
            "two friction plates burnt replace", "start check the plates",
            "friction plate thickness eighty thou")  # fmt: skip
    state = told(*said)
    (text,) = texts(state, "out of limit")
    assert text.startswith("friction plate thickness 80 thou")
    assert texts(told("replace all the friction plates", state=state), "out of limit") == []


def test_the_first_wheel_is_that_of_the_step_called_so() -> None:
    said = ("start the first wheel", "wheel off", "start the big wheel", "wheel off",
            "start the parts list", "first wheel replace")  # fmt: skip
    state, events = tell(*said, outline="worm_reducer")
    assert events[-1].answer is None
    assert line_of(state, "first_wheel", "worm wheel", "worm_reducer").disposition == "replace"
    assert line_of(state, "second_wheel", "worm wheel", "worm_reducer").disposition is None


def test_a_tooth_is_decided_on_with_its_gear() -> None:
    state = told("start check the gears", "gear teeth chipped")
    assert texts(state, "undecided") == ["tooth: chipped, not said what shall happen to it"]
    assert texts(told("replace the gear", state=state), "undecided") == []


def test_a_tooth_is_not_decided_on_with_a_bearing_of_the_same_step() -> None:
    said = ("start the output shaft", "gear tooth chipped", "thrust bearing rough, replace it")
    (open_one,) = texts(told(*said), "undecided")
    assert open_one == "gear tooth: chipped, not said what shall happen to it"
    assert texts(told(*said, "replace the output gear"), "undecided") == []


def test_a_measure_asks_again_only_where_some_of_the_parts_were_decided_on() -> None:
    """85 thou by the outline; what is replaced, all of it, may be as thin as it likes."""
    apart = ("start the forward clutch", "eight friction plates off")
    thin, check = "friction plate thickness eighty thou", "start check the plates"
    some = told(*apart, "two friction plates burnt, replace", check, thin)
    assert len(texts(some, "out of limit")) == 1
    for said in ("replace the friction plates", "eight friction plates burnt, replace"):
        assert texts(told(*apart, said, check, thin), "out of limit") == []
    shaft = ("forward shaft and reverse shaft out", "forward shaft scored, replace it")
    state = told("lift the shafts", *shaft, "check shafts", "forward shaft runout three thou")
    assert texts(state, "out of limit") == []


def test_a_measure_of_no_part_is_settled_by_what_was_decided_in_its_step() -> None:
    """The gear is ordered anew: that its backlash is out asks for nothing more."""
    state = told("start check the gears", "output gear pitted, order one", "backlash fourteen thou")
    assert texts(state, "out of limit") == []
