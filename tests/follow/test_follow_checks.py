"""Checks without a reading: what was said to them, and whether it is as they want it.

Common practice, no source: a seal that leaks at the leak check is not let pass.
"""

from __future__ import annotations

import pytest
from follow_help import answered, book_of, line_of, pack_of, tell, warned

from benchvoice.follow.events import standing
from benchvoice.follow.ledger import ledger
from benchvoice.follow.readings import Checked, checks_after, unchecked
from benchvoice.grammar import Check
from benchvoice.remark import Finding


@pytest.mark.parametrize(
    ("what", "condition", "well"),
    [
        ("dry after the run", "dry", True),
        ("dry after the run", "not dry", False),
        ("dry after the run", "leaking", False),
        ("dry after the run", "not leaking", True),
        ("no cracks at the bores", "cracked", False),
        ("no cracks at the bores", "not cracked", True),
        ("turns by hand without a tight spot", "tight", False),
        ("turns by hand without a tight spot", "free", True),
        ("moves, holds and lets go", "holds", True),
        ("moves, holds and lets go", "not holds", False),
    ],
)
def test_what_a_check_wants_is_well_and_what_it_does_not_want_is_not(
    what: str, condition: str, well: bool
) -> None:
    check = Check(part="case", what=what)
    done = Checked(step="s", check=check, said=Finding(part="case", condition=condition))
    assert (done.complaint is None) is well


def test_a_leak_is_warned_of_at_once_on_leaving_and_before_it_is_finished() -> None:
    state, events = tell("start the leak check", "output seal leaking")
    leaks = "output shaft seal: dry after the run: leaking said"
    assert events[-1].warnings == (leaks,)
    state, events = tell("finish this step", state=state)
    assert (events[0].kind, events[0].warnings) == ("held", (leaks,))
    assert events[0].answer == (
        "Leak check is not finished: a check failed. Say it again to finish it all the same."
    )
    _, events = tell("what is undecided", state=state)
    assert leaks in (events[0].answer or "")
    state, events = tell("output seal dry", "input seal dry", "finish this step", state=state)
    assert events[-1].kind == "finished"
    assert leaks not in warned(events)


def test_a_crack_at_a_foot_is_an_answer_to_the_check_that_names_the_feet() -> None:
    state, events = tell("start check the case", "crack in the mounting foot")
    assert warned(events)[-1] == "case: no cracks at the bores and mounting feet: cracked said"
    outline = pack_of().outline
    assert outline is not None
    told = checks_after(unchecked(outline), standing(state.log))
    done = next(one for one in told if one.step == "check_case")
    assert done.said is not None
    _, events = tell("start check the gears", state=state)
    assert not any("not said" in text for text in warned(events))
    _, events = tell("case to be replaced", "what is undecided", state=state)
    assert "mounting feet" not in (events[-1].answer or "")


def test_new_seals_that_are_dry_tell_nothing_of_the_old_ones() -> None:
    said = ("two oil seals out of the second stage side covers", "start the leak check",
            "side cover seals dry")  # fmt: skip
    state, _ = tell(*said, outline="worm_reducer")
    lines = book_of(state, "worm_reducer").lines
    assert [line.conditions for line in lines if line.part == "oil seal" and line.came_off] == [()]


def test_what_shall_happen_to_a_part_is_taken_down_also_where_it_is_as_a_check_wants_it() -> None:
    at = ("ten bolts off the end cover", "covers on", "start the leak check")
    state, events = tell(*at, "end cover gasket dry replace it")
    assert events[-1].step == "leak_check"
    assert [line.part for line in book_of(state).lines if line.dispositions] == ["end cover gasket"]


def test_what_comes_off_at_a_check_with_nothing_off_before_is_out_until_it_is_back() -> None:
    """Common practice, no source: what was taken off for a look is left off the easiest."""
    state, _ = tell("start the leak check", "eight bolts off the side cover", "next")
    line = line_of(state, "side_cover", "bolt")
    assert (line.off, line.came_off, line.is_out) == (8, True, True)
    assert "8 bolts, side cover." in answered("what is still out", state)
    state, _ = tell("start covers on", "eight bolts in the side cover", state=state)
    assert answered("what is still out", state) == ["Nothing is out."]


def test_what_of_several_alike_comes_off_at_a_check_is_out_too() -> None:
    outline = pack_of().outline
    assert outline is not None
    rings = Finding(part="snap ring", count=2, action="removed")
    assert [one.text for one in ledger([("leak_check", [rings])], outline).out] == ["2 snap rings"]


def test_what_was_off_already_is_not_off_twice_when_it_is_looked_at() -> None:
    outline = pack_of().outline
    assert outline is not None
    six = Finding(part="bearing", count=6, action="removed")
    book = ledger([("bearings_off", [six]), ("check_bearings", [six])], outline)
    assert [one.off for one in book.out] == [6]


def test_what_shall_happen_to_a_part_is_taken_at_its_check_too() -> None:
    state, _ = tell("start the leak check", "output seal leaking, replace it", "input seal dry")
    line = line_of(state, "seals_out", "output shaft seal")
    assert (line.disposition, line.conditions) == ("replace", ("leaking",))
    assert line_of(state, "seals_out", "input shaft seal").conditions == ()


def test_that_a_case_is_clean_does_not_answer_whether_it_is_cracked() -> None:
    """Common practice, no source: it is washed so that cracks can be looked for."""
    state, _ = tell("start check the case", "case clean")
    assert "To check here: case: no cracks at the bores and mounting feet." in answered(
        "what is left", state
    )
    state, _ = tell("case good", state=state)
    assert not any(one.startswith("To check here") for one in answered("what is left", state))
