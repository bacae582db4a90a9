"""The order of a stack, said whole or in part, from either end.

The stacks are those of the invented outlines: snap ring over pressure plate, friction and steel
plates under it, a steel last; a lock nut over its tab washer.
"""

from __future__ import annotations

import pytest
from follow_help import book_of, pack_of, tell, warned

from benchvoice.follow.stack_order import as_it_came_off

CLUTCH, WORM = "start the forward clutch", "start the second worm"


def _warnings(*said: str, outline: str = "reversing_gearbox") -> list[str]:
    state, _ = tell(said[0], outline=outline)
    _, events = tell(*said[1:], state=state, outline=outline)
    return [text for text in warned(events) if "pack:" in text or "nut stack:" in text]


@pytest.mark.parametrize(
    "said",
    [
        "pressure plate on top",
        "pressure plate first then friction then steel then friction",
        "pressure plate on top then friction then steel",
        "snap ring then pressure plate then friction",
        "friction then steel then friction",
        "steel at the bottom then friction then steel",
        "steel then friction then steel then pressure plate then snap ring",
    ],
)
def test_an_order_said_in_part_from_either_end_is_no_fault(said: str) -> None:
    assert _warnings(CLUTCH, said) == []


@pytest.mark.parametrize(
    "said",
    [
        "friction then pressure plate then steel",
        "steel then friction then snap ring",
        "pressure plate then snap ring then friction",
        "friction then steel then pressure plate then friction",
    ],
)
def test_an_order_that_cannot_be_is_told_at_once(said: str) -> None:
    (told,) = _warnings(CLUTCH, said)
    assert told.startswith(
        "forward clutch pack: pressure plate first and steel plate last expected"
    )


def test_the_parts_under_a_stack_lie_under_its_last() -> None:
    assert _warnings(WORM, "lock nut then tab washer then bearing", outline="worm_reducer") == []
    assert _warnings(WORM, "tab washer then lock nut then bearing", outline="worm_reducer") == [
        "worm nut stack: lock nut first and tab washer last expected, "
        "tab washer first and bearing last said"
    ]


@pytest.mark.parametrize(
    ("said", "lacks"),
    [
        ("steel then friction then steel", ["pressure plate not in the order said"]),
        (
            "pressure plate then friction then steel then friction",
            ["steel plate last expected, friction plate last said"],
        ),
        ("snap ring then pressure plate then friction then steel", []),
        ("steel then friction then pressure plate", []),
    ],
)
def test_what_a_finished_stack_lacks_is_told_when_the_step_is_left(
    said: str, lacks: list[str]
) -> None:
    assert _warnings(CLUTCH, said, "next step") == [f"forward clutch pack: {one}" for one in lacks]


@pytest.mark.parametrize(
    ("said", "within"),
    [
        ("pressure plate then friction then steel", False),
        ("steel then friction then pressure plate", True),
        ("friction then steel then friction then pressure plate", True),
        ("friction then steel then friction", False),
    ],
)
def test_from_which_end_it_was_said(said: str, within: bool) -> None:
    state, _ = tell(CLUTCH, said)
    outline = pack_of().outline
    assert outline is not None
    stack = next(one for one in book_of(state).stacks if one.step == "forward_clutch")
    order = as_it_came_off(stack, outline.by_id["forward_clutch"])
    assert order == (stack.order[::-1] if within else stack.order)


IN = ("start the forward clutch", "seven friction plates and seven steels off", "packs in")


@pytest.mark.parametrize(
    ("said", "first", "last"),
    [
        ("friction then pressure plate then steel in the forward clutch", "friction", "steel"),
        ("friction then steel then pressure plate then friction", "friction", "friction"),
    ],
)
def test_an_order_that_cannot_go_in_is_told_at_once(said: str, first: str, last: str) -> None:
    state, _ = tell(*IN)
    _, events = tell(said, state=state)
    (told,) = [text for text in warned(events) if "pack:" in text]
    assert told.endswith(
        "clutch pack: steel plate in first and pressure plate in last expected, "
        f"{first} plate first and {last} plate last said"
    )


def test_a_friction_plate_on_the_piston_is_told_when_the_step_is_left_and_asked_for() -> None:
    """The outline's note: a steel lies on the piston."""
    order = "friction then steel then friction then steel then pressure plate in the forward clutch"
    wrong = (
        "forward clutch pack: steel plate in first and pressure plate in last expected, "
        "friction plate first and pressure plate last said"
    )
    state, _ = tell(*IN, order)
    _, events = tell("what is undecided", "bearings on", state=state)
    assert wrong in warned(events[1:])
    right = f"steel then {order}"
    _, events = tell(right, "bearings on", "what is undecided", state=state)
    assert not [text for text in warned(events) if "pack:" in text]
    assert "in first" not in (events[-1].answer or "")
    _, events = tell("finish this step", "what is undecided", state=state)
    assert f"{wrong}." in (events[-1].answer or "").splitlines()


@pytest.mark.parametrize(
    "said", ["steel then friction then steel in the forward clutch", "pressure plate then friction"]
)
def test_an_order_going_in_said_in_part_from_either_end_is_no_fault_at_once(said: str) -> None:
    state, _ = tell(*IN)
    _, events = tell(said, state=state)
    assert not [text for text in warned(events) if "pack:" in text]


def test_what_goes_in_first_is_told_from_whichever_end_the_order_was_said() -> None:
    """A steel lies on the piston and goes in first (as the outline says)."""
    plates = ("steel plate", "friction plate", "steel plate", "friction plate", "pressure plate")
    for said in (plates, plates[::-1]):
        _, events = tell(
            "start the forward clutch", "snap ring out", "eight frictions and eight steels",
            " ".join(said), "packs in",
        )  # fmt: skip
        order = f"Order of the forward clutch pack, first in to last: {', '.join(plates)}"
        assert order in (events[-1].answer or "").splitlines()


def test_what_there_is_one_of_is_off_when_it_is_named_in_the_order() -> None:
    state, _ = tell(CLUTCH, "snap ring then pressure plate then friction", "eight frictions off")
    _, events = tell("eight steels off", "next", state=state)
    assert not any("not mentioned" in text for text in warned(events))
    line = next(one for one in book_of(state).lines if one.part == "pressure plate")
    assert (line.off, line.is_out) == (1, True)
    _, events = tell("pressure plate out", state=state)
    again = next(one for one in book_of(state).lines if one.part == "pressure plate")
    assert again.off == 1
