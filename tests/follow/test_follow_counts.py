"""Counts added up.  Sums are checked by plain arithmetic; names by common practice, no source."""

from __future__ import annotations

import pytest
from follow_help import line_of, tell, warned
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from benchvoice.follow import Count, State, tally
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.grammar import Hardware, Outline, Stage, Step
from benchvoice.remark import Amount, Finding, Size

COVER = Outline(
    name="t",
    title="t",
    unit="t",
    stage=(
        Stage(
            id="s",
            title="s",
            kind="strip",
            step=(
                Step(
                    id="cover",
                    title="Front cover off",
                    hardware=(
                        Hardware(part="bolt", count=12, place="front cover"),
                        Hardware(part="cover gasket", count=1),
                    ),
                ),
            ),
        ),
    ),
)


def bolts(*findings: Finding) -> Count:
    counts = tally([("cover", [finding]) for finding in findings], COVER)
    return next(count for count in counts if count.part == "bolt" and count.expected)


@given(st.lists(st.integers(1, 20), min_size=1, max_size=8))
def test_what_comes_off_adds_up_over_remarks(numbers: list[int]) -> None:
    found = [Finding(part="bolt", count=n, action="removed") for n in numbers]
    count = bolts(*found)
    assert count.said == sum(numbers)
    assert count.differs == (sum(numbers) != 12)


@given(st.integers(1, 12), st.integers(1, 12), st.integers(1, 12))
def test_what_is_found_of_them_is_not_added_to_what_came_off(a: int, b: int, c: int) -> None:
    count = bolts(
        Finding(part="bolt", count=a, action="removed"),
        Finding(part="bolt", count=b, condition="bent"),
        Finding(part="bolt", count=c, disposition="replace"),
    )
    assert count.said == max(a, b, c)


def test_work_that_is_not_taking_off_counts_nothing() -> None:
    count = bolts(*(Finding(part="bolt", count=4, action=a) for a in ("cleaned", "installed")))
    assert (count.said, count.mentioned) == (None, False)


def test_no_number_is_no_count_but_one_named_is_one() -> None:
    count = bolts(Finding(part="bolt", action="removed"))
    assert (count.said, count.mentioned, count.differs) == (None, True, False)
    gasket = tally([("cover", [Finding(part="gasket", action="removed")])], COVER)[1]
    assert (gasket.part, gasket.said) == ("cover gasket", 1)


@pytest.mark.parametrize(
    ("said", "expected", "same"),
    [
        ("front", "front cover", True),
        ("front cover", "front cover", True),
        (None, "front cover", True),
        ("cover", "front cover", True),
        ("side cover", "end cover", False),
        ("rear", "front cover", False),
        ("pump", "control valve", False),
        ("input shaft", "output shaft", False),
        ("plate", "place", False),
    ],
)
def test_places_are_compared_leniently(said: str | None, expected: str, same: bool) -> None:
    assert (place_likeness(said, expected) > 0) == same


@pytest.mark.parametrize(
    ("said", "expected", "same"),
    [
        ("bolt", "bolt", True),
        ("bolt", "cap screw", True),
        ("seal", "piston seal", True),
        ("inner piston seal", "piston seal", True),
        ("steel plate", "friction plate", False),
        ("lock nut", "nut", True),
        ("seal ring", "ring seal", False),
        ("piston", "piston seal", False),
        ("shaft", "spool", False),
    ],
)
def test_parts_are_compared_by_their_last_word(said: str, expected: str, same: bool) -> None:
    assert (part_likeness(said, expected) > 0) == same


def test_in_instalments_the_warning_goes_when_all_are_there() -> None:
    state, events = tell(
        "seven bolts off the end cover",
        "two more bolts off the end cover",
        "one bolt off the end cover",
    )
    assert [event.warnings for event in events] == [
        ("end cover: 10 bolts expected, 7 said",),
        ("end cover: 10 bolts expected, 9 said",),
        (),
    ]
    _, events = tell("one bolt off the end cover", state=state)
    assert warned(events) == ["end cover: 10 bolts expected, 11 said"]


@pytest.mark.parametrize("number", range(1, 16))
def test_a_count_is_warned_of_when_it_is_not_the_outlines(number: int) -> None:
    noun = "bolt" if number == 1 else "bolts"
    _, events = tell(f"{num2words(number)} {noun} off the side cover")
    # eight is the outline's own number
    expected = [] if number == 8 else [f"side cover: 8 bolts expected, {number} said"]
    assert warned(events) == expected


def test_leaving_by_saying_so_warns_of_what_is_short_or_unsaid() -> None:
    for words in ("next step", "start the drain", "finish this step", "go to the pump"):
        _, events = tell("nine bolts off the end cover", words)
        assert set(events[1].warnings) >= {
            "end cover: 10 bolts expected, 9 said",
            "end cover: 2 dowel pins expected, not mentioned",
            "End cover off: 1 end cover gasket expected, not mentioned",
        }, words


def test_an_empty_outline_has_no_counts() -> None:
    assert (
        tally(
            [("cover", [Finding(part="bolt", count=1)])],
            Outline(name="t", title="t", unit="t", stage=()),
        )
        == ()
    )
    assert State().log == ()


def test_the_whole_count_said_over_again_is_asked_about_and_nothing_is_changed() -> None:
    """Common practice, no source: nobody finds twice as many bolts as there are holes."""
    state, events = tell(
        "twelve bolts off the front cover",
        "front cover gasket is brittle",
        "twelve bolts off front cover",
    )
    assert [event.warnings for event in events] == [
        (),
        (),
        ("front cover: 12 bolts expected, 24 said, 12 before and 12 now: said twice?",),
    ]
    assert line_of(state, "front_cover", "bolt").off == 24
    state, events = tell("strike that", "finish this step", state=state)
    assert not any("24" in text for text in warned(events))
    assert line_of(state, "front_cover", "bolt").off == 12


def test_what_adds_up_to_too_many_otherwise_is_not_taken_for_said_twice() -> None:
    for said in (
        ("eleven bolts off the front cover", "eleven bolts off the front cover"),
        ("six bolts off the front cover", "six bolts off the front cover",
         "twelve bolts off the front cover"),
        ("twelve bolts off the front cover", "six bolts off the front cover"),
        ("twelve bolts off the front cover three eighths sixteen",
         "twelve bolts off the front cover five sixteenths eighteen"),
    ):  # fmt: skip
        _, events = tell(*said)
        texts = [text for text in events[-1].warnings if "bolts expected" in text]
        assert len(texts) == 1, said
        assert "twice" not in texts[0], said


def test_the_length_of_one_that_is_off_already_counts_no_bolt_more() -> None:
    off = Finding(part="bolt", count=12, action="removed")
    long = Amount(value=1.75, unit="in", text="1 3/4 in")
    odd = Finding(part="bolt", count=1, place="front cover", size=Size(length=long))
    assert bolts(off, odd).said == 12
    assert bolts(odd, Finding(part="bolt", count=11, action="removed")).said == 12


def test_an_odd_length_does_not_make_up_for_a_bolt_that_is_missing() -> None:
    odd = "one front cover bolt is an inch and three quarters"
    _, events = tell("eleven bolts off the front cover", odd, "how many should there be")
    answer = events[2].answer
    assert answer is not None
    assert "12 bolts, front cover (11 said)" in answer


def test_what_was_marked_is_not_unmentioned() -> None:
    state, _ = tell("start the pump strip", "marked the outer rotor")
    _, events = tell("next step", state=state)
    assert "Oil pump apart: 1 outer rotor expected, not said to be off" in warned(events)
    assert not any("outer rotor expected, not mentioned" in text for text in warned(events))


@pytest.mark.parametrize(
    "said",
    [
        "found the other check ball",
        "found another check ball",
        "found the missing check ball",
        "found the missing check ball in the pan",
    ],
)
def test_the_other_of_two_is_one_more_and_none_is_missing_any_longer(said: str) -> None:
    state, events = tell("start the control valve", "one check ball out", "one check ball missing")
    assert "control valve: 2 check balls expected, 1 said" in warned(events)
    state, events = tell(said, state=state)
    assert warned(events) == []
    line = line_of(state, "control_valve", "check ball")
    assert (line.off, line.found, line.conditions) == (2, None, ())


def test_what_is_still_missing_stays_so() -> None:
    state, _ = tell("start the front cover", "nine bolts off", "three bolts missing")
    state, _ = tell("found another bolt", state=state)
    assert line_of(state, "front_cover", "bolt").conditions == ("missing",)


def test_one_of_them_bad_is_not_how_many_came_off() -> None:
    said = ("start the output shaft", "bearings off the output shaft, one spalled")
    state, events = tell(*said, outline="worm_reducer")
    assert not any("2 bearings expected" in text for text in warned(events))
    _, events = tell("next step", state=state, outline="worm_reducer")
    assert "output shaft: 2 bearings expected, no number said" in warned(events)


def test_the_first_of_what_there_is_one_of_is_counted() -> None:
    state, _ = tell("start the first wheel", "first wheel out", outline="worm_reducer")
    assert line_of(state, "first_wheel", "worm wheel", "worm_reducer").off == 1


def test_what_is_found_makes_up_what_was_put_away() -> None:
    state, events = tell("start the control valve", "seven cap screws in the tub")
    assert warned(events)[-1] == "control valve: 8 cap screws expected, 7 said"
    _, events = tell("found the other cap screw", state=state)
    assert warned(events) == []


@pytest.mark.parametrize(
    ("said", "number"),
    [
        (("eight bolts off", "six short ones from the top two long ones"), 8),
        (
            ("eight bolts off", "six short ones from the top two long ones", "two more long ones"),
            10,
        ),
        (
            ("ten bolts off", "six short ones out of the top", "four long ones out of the bottom"),
            10,
        ),
        (
            ("ten bolts off", "six short ones out of the top", "five long ones out of the bottom"),
            11,
        ),
        (("six short ones out of the top", "four long ones out of the bottom"), 10),
    ],
)
def test_the_lengths_of_what_is_off_already_are_no_more_of_them(
    said: tuple[str, ...], number: int
) -> None:
    # Ten are expected.  Common practice, no source: all are counted first, then by length.
    said = tuple(text.replace(" off", " bolts off") for text in said)
    state, _ = tell("start the end cover", *said)
    assert line_of(state, "end_cover", "bolt").off == number


def test_one_that_is_numbered_next_is_one_more_wherever_it_lay() -> None:
    # The second of two balls is two: plain arithmetic.
    state, _ = tell("start the control valve", "one check ball", "second check ball was stuck")
    line = line_of(state, "control_valve", "check ball")
    assert (line.off, line.found, line.conditions) == (2, 1, ("stuck",))
    valve = ("start the control valve", "one check ball")
    for said, number in (
        ("second check ball was stuck in the case", 2),
        ("second check ball missing", 1),
        ("third check ball was stuck", 1),
    ):
        state, _ = tell(*valve, said)
        assert line_of(state, "control_valve", "check ball").off == number, said
