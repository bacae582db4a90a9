"""What is meant by what names the outline's hardware only in part.

The parts and lengths are those of the invented outlines; that long and short bolts of one cover are
put back in their own holes is common practice, no source.
"""

from __future__ import annotations

import pytest
from follow_help import book_of, line_of, tell, told, warned

from benchvoice.follow.reassembly import found_text

WRONG = "end cover bolt, 1 1/4 in: top expected, bottom said"


@pytest.mark.parametrize("said", ["rotors out", "both rotors out", "two rotors out"])
def test_several_parts_named_by_their_last_word_are_each_of_them(said: str) -> None:
    state = told("start the pump strip", said)
    lines = {line.part: line.off for line in book_of(state).of_step("pump_strip")}
    assert lines["inner rotor"] == lines["outer rotor"] == 1
    assert "rotor" not in lines


@pytest.mark.parametrize("said", ["rotor out", "three rotors out", "a rotor out"])
def test_one_of_several_or_another_number_is_not_all_of_them(said: str) -> None:
    state = told("start the pump strip", said)
    lines = {line.part: line.off for line in book_of(state).of_step("pump_strip")}
    assert lines["inner rotor"] is lines["outer rotor"] is None


def test_what_is_found_of_both_is_kept_of_each() -> None:
    state = told("start the pump strip", "rotors out", "rotors are scored")
    for part in ("inner rotor", "outer rotor"):
        assert line_of(state, "pump_strip", part).conditions == ("scored",)


def test_of_builds_that_differ_only_one_is_there() -> None:
    state, _ = tell("start the second worm", "bearings out", outline="worm_reducer")
    lines = book_of(state, "worm_reducer").of_step("second_worm")
    assert not any(line.came_off for line in lines if line.build)


@pytest.mark.parametrize(
    "said", ["the short ones were on the bottom", "short bolts at the bottom", "short ones, bottom"]
)
def test_a_length_in_other_holes_than_the_outline_has_is_told(said: str) -> None:
    state = told("start the end cover", ("ten bolts off", []), (said, [WRONG]))
    line = line_of(state, "end_cover", "bolt")
    assert (line.off, line.odd) == (10, (WRONG,))
    assert [found_text(one) for one in line.lengths] == [", found bottom", ""]


def test_a_length_in_its_holes_is_kept_as_found_so() -> None:
    state = told(
        "start the end cover",
        "ten bolts off",
        ("the long ones were on the bottom", []),
        ("six short ones on top", []),
    )
    line = line_of(state, "end_cover", "bolt")
    assert line.off == 10
    assert line.odd == ()
    assert [(one.said, found_text(one)) for one in line.lengths] == [
        (6, ", found so"),
        (None, ", found so"),
    ]


def test_a_length_that_goes_into_other_holes_is_told_and_changes_nothing_of_what_came_off() -> None:
    state = told("start the end cover", "ten bolts off", "six short ones on top", "start covers on")
    state, events = tell("the short ones in the bottom", state=state)
    assert warned(events) == [WRONG]
    assert found_text(line_of(state, "end_cover", "bolt").lengths[0]) == ", found so"


def test_of_where_a_length_was_the_last_word_counts() -> None:
    state = told(
        "start the end cover",
        ("short ones at the bottom", [WRONG]),
        ("no hang on, the long ones were at the bottom, short ones on top", []),
    )
    line = line_of(state, "end_cover", "bolt")
    assert line.odd == ()
    assert [one.found for one in line.lengths] == ["top", "bottom"]


def test_a_bolt_named_by_its_length_is_held_to_its_holes() -> None:
    said = ("start the first stage off", "four 40 mm bolts off the top", "two 60 mm bolts off")
    state, events = tell(*said, "join the stages", outline="worm_reducer")
    sizes = [one.size for event in events[1:3] for one in event.remark.findings]
    assert [(size.length.text, size.diameter) for size in sizes if size and size.length] == [
        ("40 mm", None), ("60 mm", None),
    ]  # fmt: skip
    _, events = tell("two 60 mm bolts in the top", state=state, outline="worm_reducer")
    assert "first stage bolt, 60 mm: bottom expected, top said" in warned(events)


def test_all_of_one_length_is_no_count_that_is_off_until_the_step_is_left() -> None:
    state, events = tell("start the end cover", "six short bolts off the top")
    assert events[-1].warnings == ()
    _, (event,) = tell("start the side cover", state=state)
    assert "end cover: 10 bolts expected, 6 said" in event.warnings
    _, (event,) = tell("three long bolts off the bottom", state=state)
    assert "end cover: 10 bolts expected, 9 said" in event.warnings
    state, events = tell("four long bolts off the bottom", "covers on", state=state)
    assert "end cover: 10 bolts expected, 6 said" not in warned(events)
    state, (event,) = tell("six short bolts in the top", state=state)
    assert event.warnings == ()
    _, (event,) = tell("three long bolts in the bottom", state=state)
    assert event.warnings == ("end cover: 10 bolts came out, 9 gone in",)


def test_where_a_length_was_found_is_told_once_as_it_goes_in() -> None:
    said = ("start the end cover", "six short bolts off the bottom", "four long bolts off the top")
    _, events = tell(*said, "covers on")
    text = next(one for one in (events[-1].answer or "").splitlines() if "10 bolts" in one)
    assert "6 of 1 1/4 in top, found bottom" in text
    assert "top expected, bottom said" not in text
