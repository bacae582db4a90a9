"""Putting together where there is no outline, or under the name of what was taken apart.

The pump is invented.  That a count short going in is told is common practice, no source.
"""

from __future__ import annotations

import pytest
from follow_help import tell, warned

from benchvoice.follow import State, advance, restore
from benchvoice.follow.events import StepEvent, standing
from benchvoice.follow.ledger import ledger
from benchvoice.grammar import load_pack
from benchvoice.grammar.outline import Outline
from benchvoice.language import Parser

PACK = load_pack()
PARSER = Parser(PACK)
NONE = Outline(name="", title="", unit="", stage=())
APART = (
    "start the front cover", "eight cap screws off", "two dowel pins out in tray one",
    "start the relief valve", "four shims out", "poppet out",
    "start the shaft seal", "snap ring out", "shaft seal out lip in",
)  # fmt: skip


def say(*said: str, state: State | None = None) -> tuple[State, list[StepEvent]]:
    now, events = state or State(), []
    for at, text in enumerate(said):
        now, event = advance(now, PARSER.parse(text), PACK, 10.0 * at)
        events.append(event)
    return now, events


@pytest.fixture(scope="module")
def together() -> State:
    state, events = say(*APART, "start putting it together")
    assert events[-1].kind == "assembling"
    assert (events[-1].answer or "").splitlines() == [
        "Putting together, 3 steps. First: Back: shaft seal.",
        "Goes in: lip seal (lip in)",
        "Goes in: snap ring",
    ]
    return state


def test_what_goes_in_is_not_counted_as_come_off(together: State) -> None:
    state, _ = say("snap ring in", "start the front cover", "eight cap screws in", state=together)
    lines = {line.part: line for line in ledger(standing(state.log), NONE).lines}
    assert (lines["cap screw"].off, lines["cap screw"].back) == (8, 8)
    assert lines["snap ring"].went_back
    assert not lines["shim"].went_back


def test_a_count_short_going_in_is_told_at_once_and_when_the_step_is_left(together: State) -> None:
    short = "front cover: 8 cap screws came out, 7 gone in"
    said = ("start the front cover", "seven cap screws in", "start the relief valve")
    _, events = say(*said, state=together)
    assert events[1].warnings == (short,)
    assert short in events[2].warnings
    assert "front cover: 2 dowel pins came out, none gone in" in events[2].warnings


def test_a_part_goes_back_to_the_step_that_it_came_from(together: State) -> None:
    _, events = say("three shims in", state=together)
    assert warned(events) == ["relief valve: 4 shims came out, 3 gone in"]


def test_a_seal_going_in_the_other_way_round_is_told(together: State) -> None:
    _, events = say("shaft seal in lip out", state=together)
    assert warned(events) == ["lip seal: came out lip in, going in lip out"]


def test_what_is_left_is_what_is_out(together: State) -> None:
    _, events = say("snap ring in", "what is left", state=together)
    left = (events[-1].answer or "").splitlines()
    assert left[0] == "Still out: 5."
    assert "2 dowel pins, front cover (tray 1)." in left


def test_it_is_still_going_together_when_the_job_is_taken_up_again(together: State) -> None:
    _, events = say("seven cap screws in", state=restore(together.log, together.seq))
    assert events[0].remark.findings[0].action == "installed"


def test_the_name_of_a_step_taken_apart_begins_the_one_that_puts_it_back() -> None:
    said = ("twelve bolts off the front cover", "start packs in", "start the front cover")
    state, events = tell(*said, "twelve bolts in the front cover")
    assert events[2].step == "covers_on"
    assert warned(events[3:]) == []
    # what went back in may be meant to come off again
    _, events = tell("start the front cover", state=state)
    assert events[0].step == "front_cover"


def test_one_step_to_put_together_is_one_step() -> None:
    _, events = say("start the pump", "six bolts off", "start putting it together")
    assert (events[-1].answer or "").startswith("Putting together, 1 step. First: Back: pump.")


def test_what_is_out_or_where_is_told_with_its_step() -> None:
    apart = ("start the pump", "six bolts off in tray one", "start the cover", "two bolts off")
    _, events = say(*apart, "what is left", "where are the bolts")
    left, where = ((event.answer or "").splitlines() for event in events[-2:])
    assert left == ["Still out: 2.", "6 bolts, pump (tray 1).", "2 bolts, cover."]
    assert where == ["6 bolts, pump: tray 1.", "2 bolts, cover: no container was said."]


PUMP = (
    "start the shaft", "shaft out", "two bearings off the shaft one pitted",
    "replace both bearings", "key", "start the pump", "four cap screws off",
    "inner rotor scored", "pump gasket",
    "case cracked", "pump seal leaking replace",
)  # fmt: skip


def test_all_that_was_named_goes_back_where_nothing_lists_it() -> None:
    """Common practice, no source: what is named while a unit comes apart is in the hand."""
    state, _ = say(*PUMP)
    _, (event,) = say("start putting it together", state=state)
    goes_in = [text for text in (event.answer or "").splitlines() if text.startswith("Goes in")]
    assert goes_in == [
        "Goes in: pump seal (a new one)", "Goes in: pump gasket", "Goes in: inner rotor",
        "Goes in: 4 cap screws",
    ]  # fmt: skip
    state, events = say("start putting it together", "start the shaft", state=state)
    texts = (events[-1].answer or "").splitlines()
    assert {"Goes in: key", "Goes in: 2 bearings, shaft (new ones)"} <= {*texts}


def test_the_holes_of_a_length_are_kept_where_nothing_lists_them() -> None:
    said = ("start the rear cover", "ten bolts off the rear cover",
            "six short ones at the top, four long ones at the bottom",
            "start putting it together", "six short bolts in the bottom")  # fmt: skip
    _, events = say(*said)
    assert "rear cover bolt, short: came from top, going in bottom" in events[-1].warnings
