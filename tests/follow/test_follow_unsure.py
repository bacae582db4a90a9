"""What takes something away is not done on a bad hearing alone: it is asked for again."""

from __future__ import annotations

import pytest
from follow_help import pack_of, parser_of, tell
from msgspec.structs import replace

from benchvoice.follow import State, StepEvent, advance
from benchvoice.remark import DOUBTFUL


def hear(state: State, text: str, confidence: float) -> tuple[State, StepEvent]:
    remark = replace(parser_of().parse(text), confidence=confidence)
    return advance(state, remark, pack_of(), 60.0)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("strike that", "struck"),
        ("make it nine", "recounted"),
        ("no nine bolts off the end cover", "recounted"),
        ("stop the clock", "paused"),
        ("be quiet", "voice"),
        ("hold to talk", "voice"),
        ("wait for the word", "voice"),
    ],
)
def test_it_is_done_when_it_was_heard_clearly_or_twice(text: str, kind: str) -> None:
    before, _ = tell("ten bolts off the end cover")
    sure, event = hear(before, text, DOUBTFUL)
    assert event.kind == kind
    unsure, event = hear(before, text, DOUBTFUL - 0.01)
    assert (event.kind, event.amends) == ("unclear", None)
    assert event.answer == f'Was that "{text}"? Say it again and it is done.'
    assert (unsure.log, unsure.running) == (before.log, True)
    twice, event = hear(unsure, text, DOUBTFUL - 0.01)
    assert event.kind == kind
    assert (twice.log, twice.running) == (sure.log, sure.running)


def test_what_comes_between_makes_it_once_again() -> None:
    state, _ = tell("ten bolts off the end cover")
    for text in ("strike that", "two dowel pins", "strike that", "make it nine", "make it eight"):
        state, event = hear(state, text, 0.3)
        assert event.kind == ("finding" if "pins" in text else "unclear")
    assert [one.count for entry in state.log for one in entry.findings] == [10, 2]


@pytest.mark.parametrize("text", ["yes", "no"])
def test_a_question_stays_open_over_an_answer_that_was_not_clear(text: str) -> None:
    state, events = tell("ten bolts off the end cover")
    asked = replace(state, asking=events[-1].seq)
    state, event = hear(asked, text, 0.3)
    assert (event.kind, event.answer) == ("unclear", "Yes or no? That was not clear.")
    assert (state.log, state.asking) == (asked.log, asked.asking)
    _, event = hear(state, text, 0.3)
    assert event.amends == asked.asking


@pytest.mark.parametrize("text", ["yes", "no"])
def test_nothing_is_said_of_it_where_nothing_was_asked(text: str) -> None:
    state, _ = tell("ten bolts off the end cover")
    _, event = hear(state, text, 0.3)
    assert (event.kind, event.answer) == ("answered", None)


def test_what_only_asks_or_can_be_taken_back_is_done_at_once() -> None:
    state, _ = tell("ten bolts off the end cover")
    for text, kind in (("what is left", "asked"), ("next step", "started"), ("listen", "voice")):
        assert hear(state, text, 0.2)[1].kind == kind


def test_the_same_number_of_another_part_is_not_the_same_again() -> None:
    state, _ = tell("ten bolts off the end cover", "eight nuts off the end cover")
    for part in ("bolts", "nuts"):
        state, event = hear(state, f"no nine {part} off the end cover", 0.3)
        assert event.kind == "unclear"
    assert [one.count for entry in state.log for one in entry.findings] == [10, 8]
