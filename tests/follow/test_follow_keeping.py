"""What is warned of beside counts: scripts of remarks with all the warnings that they bring.

What has to be marked, kept apart, together or in order is common practice, no source; the parts
are those of the invented outlines.
"""

from __future__ import annotations

import pytest
from follow_help import book_of, pack_of, tell, told, warned

NO_MARK = (
    "outer rotor: goes on either way round, and no mark or facing was said: "
    "paint mark on the outside face"
)
APART = (
    "rotor pair: inner rotor in tray 4, outer rotor in tray 5; "
    "they stay together (they have worn in together)"
)


def test_a_part_that_goes_on_either_way_is_marked_first() -> None:
    told("start the pump", "start the pump strip", ("outer rotor out", [NO_MARK]))
    told("paint mark on the outer rotor", ("outer rotor out", []))
    told(("outer rotor out paint mark on the outside face", []))
    told(("outer rotor out chamfer up", []))


def test_it_is_said_before_the_step_and_again_before_it_is_left() -> None:
    state, events = tell("start the pump strip")
    assert (
        "Mark the outer rotor before it comes off (paint mark on the outside face): "
        "it goes on either way round."
    ) in events[0].cautions
    assert events[0].cautions[0].startswith("Collapse the old seal inward")
    state = told("inner rotor and outer rotor out", state=state)
    _, events = tell("next step", state=state)
    assert NO_MARK in events[0].warnings


def test_pieces_that_stay_together_in_two_trays() -> None:
    state = told(
        "paint mark on the outer rotor",
        "inner rotor out in tray four",
        ("outer rotor out in tray five", [APART]),
        ("outer rotor in tray four", []),
    )
    assert book_of(state).containers[0].label == "tray 4"


def test_the_order_of_a_stack_may_be_said_from_either_end() -> None:
    wrong = (
        "forward clutch pack: pressure plate first and steel plate last expected, "
        "friction plate first and snap ring last said"
    )
    told(
        "start the forward clutch",
        ("stack order pressure plate then friction then steel", []),
        ("stack order steel then friction then pressure plate", []),
        ("stack order friction then steel then snap ring", [wrong]),
    )


def test_a_length_said_more_often_than_it_is_there() -> None:
    more = "end cover: 4 of 2 in expected (bottom), 5 said"
    short = "end cover: 10 bolts expected, 5 said"
    told(("five bolts off the end cover two inch long", [short, more]))


def test_a_length_that_falls_short_is_told_before_the_step_is_left() -> None:
    state = told("seven bolts off the end cover top", "three bolts off the end cover bottom")
    _, events = tell("next step", state=state)
    assert "end cover: 6 of 1 1/4 in expected (top), 7 said" in events[0].warnings
    assert "end cover: 4 of 2 in expected (bottom), 3 said" in events[0].warnings
    assert "end cover: 10 bolts expected" not in " ".join(events[0].warnings)


def test_the_lengths_are_told_before_the_step() -> None:
    _, events = tell("start the end cover")
    assert (
        "Keep the lengths of the end cover bolts apart: 6 of 1 1/4 in (top), 4 of 2 in (bottom)."
    ) in events[0].cautions


def test_both_builds_at_one_place() -> None:
    both = "output thrust: thrust washer and thrust bearing said, one of them expected"
    told("start the output shaft", ("two thrust washers out", []), ("thrust bearing out", [both]))


def test_what_is_always_replaced_is_not_reused() -> None:
    told(
        "start the pump strip",
        ("pump shaft seal out reuse", ["pump shaft seal: always replaced, reuse said"]),
        ("pump shaft seal out replace", []),
    )


@pytest.mark.parametrize(
    ("start", "warning"),
    [
        ("start the front cover", []),
        ("start covers on", ["impact wrench: power tools are for taking apart only"]),
        ("start hydraulics on", ["impact wrench: hand tools only here"]),
    ],
)
def test_power_tools_are_for_taking_apart(start: str, warning: list[str]) -> None:
    state = told("twelve bolts off the front cover", start)
    told(("with the impact wrench", warning), state=state)


def test_hand_tools_are_told_of_once_when_putting_together_begins() -> None:
    hand = "Hand tools only from here on: power tools are for taking apart."
    state, events = tell("start bearings on")
    assert hand in events[0].cautions
    _, events = tell("start output shaft in", state=state)
    assert hand not in events[0].cautions


def test_hazards_of_every_step_are_shown_before_it() -> None:
    outline = pack_of().outline
    assert outline is not None
    for step in outline.steps():
        _, events = tell(f"start {step.say[0]}")
        if events[0].step == step.id:
            assert set(events[0].cautions) >= set(step.cautions), step.id


@pytest.mark.parametrize(
    "leave", ["next step", "go to the pump", "finish this step", "start the drain"]
)
def test_ten_expected_nine_said_is_told_at_once_and_again_before_it_is_left(leave: str) -> None:
    short = "end cover: 10 bolts expected, 9 said"
    state = told(("nine bolts off the end cover", [short]))
    _, events = tell(leave, state=state)
    assert short in events[0].warnings


def test_a_mark_said_in_one_breath_is_of_the_part_said_before_it() -> None:
    # Another step asks for a punch mark, and is as near.
    _, events = tell(
        "lift the shafts", "reverse shaft out", "strip the pump",
        "five cap screws off the pump cover", "inner rotor scored",
        "outer rotor out, punch mark outside", "strip the valve",
    )  # fmt: skip
    assert not any("outer rotor" in text for event in events[5:] for text in event.warnings)


def test_a_pair_of_which_one_is_renewed_is_asked_about_until_the_other_is_decided() -> None:
    # Rotors wear in together: common practice, no source.
    pair = "rotor pair: inner rotor to replace, outer rotor not said (they have worn in together)"
    state, _ = tell("strip the pump", "outer rotor good", "inner rotor scored replace")
    _, events = tell("what is undecided", state=state)
    assert pair in (events[0].answer or "")
    _, events = tell("outer rotor reuse", "what is undecided", state=state)
    assert pair not in (events[1].answer or "")


def test_the_plates_of_one_clutch_are_not_missing_in_the_other_before_it_is_built() -> None:
    # What is short is told when the step is left (common practice, no source).
    state, events = tell(
        "start the forward clutch", "eight steel plates off", "start the reverse clutch",
        "seven steel plates off", "start putting it together", "packs in", "seven steel plates in",
    )  # fmt: skip
    assert events[-1].warnings == ()
    _, events = tell("bearings on", state=state)
    assert any("steel plates came out" in text for text in warned(events))
    _, events = tell("nine steel plates in", state=state)
    assert any("steel plates came out" in text for text in warned(events))
