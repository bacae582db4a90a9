"""What is said to "what is left", and how a long answer is heard to its end.

No source: what a person at a bench wants to hear is common practice.
"""

from __future__ import annotations

from follow_help import BARE, pack_of, tell

from benchvoice.follow import State
from benchvoice.follow.ledger_answers import MAX_LINES


def answer(*said: str, state: State | None = None, outline: str = "reversing_gearbox") -> list[str]:
    _, events = tell(*said, state=state, outline=outline)
    return (events[-1].answer or "").splitlines()


def test_early_in_a_job_it_names_what_is_next_and_not_all_that_is_not_finished() -> None:
    lines = answer("drain plug out and the sealing washer", "what is left")
    assert lines[0].startswith("Strip, 19 of 20 steps to begin: Cooler lines off, Suction")
    assert lines[1] == "Steps after that: Clean 3, Inspect 8, Decide 2, Assemble 8, Test 4."
    assert not any("not finished" in line for line in lines)


def test_what_is_left_begins_with_what_the_step_under_way_lacks() -> None:
    lines = answer("start the end cover", "nine bolts off the end cover", "what is left")
    assert lines[0] == "Here: 2 dowel pins, end cover, 1 end cover gasket."
    assert lines[-1] == "end cover: 10 bolts expected, 9 said."


def test_steps_that_were_begun_and_left_are_not_told_of_and_those_passed_over_are() -> None:
    begun = ("start the oil drain", "start the pump", "start wash the parts", "what is left")
    lines = answer(*begun)
    assert lines[0].startswith("Clean, 2 of 3 steps to begin: Wash the case")
    (passed,) = (line for line in lines if line.startswith("Passed over: "))
    assert "Cooler lines off" in passed
    assert "Drain the oil" not in passed


def test_putting_together_it_is_what_goes_in_here_and_what_is_open() -> None:
    off = ("ten bolts off the end cover", "end cover gasket torn", "start covers on")
    lines = answer(*off, "eight bolts in the end cover", "what is left")
    assert lines[0] == "To go in here: 1 end cover gasket; 10 bolts, end cover, 8 gone in."
    assert lines[1] == "To measure here: end play."
    assert any(line.startswith("Open: 2 still out") for line in lines)


def test_backwards_it_names_the_steps_to_put_back() -> None:
    steps = [step.title for step in pack_of(BARE).outline.steps()]  # type: ignore[union-attr]
    said = [f"start {step.id.replace('_', ' ')}" for step in pack_of(BARE).outline.steps()]  # type: ignore[union-attr]
    parts = [
        f"{step.hardware[0].count} {step.hardware[0].part}s out"
        for step in pack_of(BARE).outline.steps()  # type: ignore[union-attr]
    ]
    both = [text for pair in zip(said, parts, strict=True) for text in pair]
    lines = answer(*both, "start putting it together", "what is left", outline=BARE)
    (left,) = (line for line in lines if line.startswith("To put back: "))
    assert steps[0] in left
    assert steps[-1] not in left  # it is under way


def all_answers(*said: str, question: str) -> list[str]:
    """Ask a question until nothing is left of the answer."""
    state, _ = tell(*said)
    lines: list[str] = []
    for _ in range(20):
        state, events = tell(question, state=state)
        told = (events[-1].answer or "").splitlines()
        assert len(told) <= MAX_LINES + 1
        if not told[-1].endswith("more: ask the same again."):
            return lines + told
        lines += told[:-1]
    raise AssertionError(lines)


def test_a_long_answer_is_heard_to_its_end_by_asking_again() -> None:
    scored = (
        "spool scored", "inner rotor scored", "outer rotor worn", "input shaft worn",
        "output shaft scored", "forward shaft bent", "reverse shaft bent", "output gear chipped",
        "drain plug damaged", "strainer torn", "key worn",
    )  # fmt: skip
    lines = all_answers(*scored, question="what is undecided")
    assert len(lines) == len(set(lines)) > MAX_LINES
    for part in ("spool", "inner rotor", "output gear", "strainer", "key"):
        assert any(part in line for line in lines), part


def test_asked_again_after_something_was_said_it_begins_anew() -> None:
    parts = [
        "bolts off the side cover", "bolts off the end cover", "bolts off the front cover",
        "bolts off the pump", "cap screws off the pump cover", "bolts off the strainer",
        "cap screws off the control valve", "cap screws off the coupling",
        "banjo bolts off the oil cooler", "drain plug out",
    ]  # fmt: skip
    state, _ = tell(*parts, "what is still out")
    assert answer("what is still out", state=state)[0] != "Still out: 10."
    for between in ("lock nut off the output flange", "what is undecided"):
        first = answer(between, "what is still out", state=state)[0]
        assert first.startswith("Still out: 1")
    # and when all was heard, from the beginning
    assert answer("what is still out", "what is still out", state=state)[0] == "Still out: 10."


def test_what_goes_in_at_the_step_under_way_is_told_first() -> None:
    off = ("drain plug out", "two banjo bolts off the oil cooler", "ten bolts off the end cover")
    lines = answer(*off, "start covers on", "what is still out")
    assert lines[:2] == ["Still out: 3.", "10 bolts, end cover."]


def test_what_went_in_short_is_out_though_nobody_said_that_it_came_off() -> None:
    lines = answer("drain plug out", "bearings on", "five bearings in", "what is still out")
    assert lines == ["Still out: 2.", "1 drain plug, sump.", "6 bearings, 5 gone in."]
