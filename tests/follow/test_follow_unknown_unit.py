"""A unit without an outline: steps are what they are called, and nothing of one is of another.

Sums are checked by plain arithmetic; ways of saying are common practice, no source.
"""

from __future__ import annotations

from functools import cache

from benchvoice.follow import State, StepEvent, advance
from benchvoice.follow.accounts import NO_OUTLINE
from benchvoice.follow.events import standing
from benchvoice.follow.ledger import ledger
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.grammar import Pack, load_pack
from benchvoice.language import Parser


@cache
def _pack() -> tuple[Pack, Parser]:
    pack = load_pack()
    return pack, Parser(pack)


def _told(*said: str) -> tuple[tuple[LedgerLine, ...], list[StepEvent]]:
    pack, parser = _pack()
    state, events = State(), []
    for at, text in enumerate(said):
        state, event = advance(state, parser.parse(text), pack, 10.0 * at)
        events.append(event)
    return ledger(standing(state.log), NO_OUTLINE).lines, events


def test_nuts_of_another_step_are_other_nuts() -> None:
    lines, _ = _told(
        "start the discharge side", "8 nuts off the discharge cover", "2 of the nuts rounded off",
        "start the crank", "4 cap nuts", "start the inspection", "two nuts cracked",
    )  # fmt: skip
    nuts = [(one.step, one.part, one.off, one.found) for one in lines]
    assert nuts[0] == ("discharge side", "nut", 8, 2)
    assert nuts[1] == ("crank", "cap nut", 4, None)


def test_which_of_them_are_long_is_no_more_of_them() -> None:
    (line,), _ = _told(
        "start the back cover",
        "10 bolts off the back cover, eight short ones and two long",
        "long ones were at the bottom",
    )
    assert line.off == 10
    assert line.sizes == ("8 of short", "2 of long", "long bottom")


def test_a_note_said_in_one_breath_is_kept() -> None:
    _, (_, event) = _told("start the crank", "take a note, customer wants it back by friday")
    assert (event.kind, event.remark.heard) == ("noted", "customer wants it back by friday")
    _, events = _told("take a note", "four bolts off")
    assert [one.kind for one in events] == ["asked", "noted"]


def test_a_box_with_a_letter_and_a_stuffing_box() -> None:
    lines, _ = _told("start the valves", "valves out in box a", "stuffing box bushings worn 8 thou")
    assert [(one.part, one.containers) for one in lines] == [("valve", ("box a",)), ("bushing", ())]
