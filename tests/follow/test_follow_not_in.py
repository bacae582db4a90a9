"""A part is not taken as gone in by a remark that does not say so.

No source: that a part taken as in and left out costs the unit is common practice.
"""

from __future__ import annotations

import pytest
from follow_help import BARE, book_of, tell

from benchvoice.follow.not_in import WHICH_WAY

OFF = (
    "twelve bolts off the front cover", "front cover gasket out", "three shims off the front cover",
    "key out of the input shaft", "six rubber blocks out", "covers on",
)  # fmt: skip


@pytest.mark.parametrize(
    "said",
    [
        "front cover gasket not in yet",
        "have not put the shims in",
        "haven't put the shims in",
        "forgot the front cover gasket",
        "did not fit the front cover gasket",
        "shims not back in",
        "waiting for rubber blocks",
        "three shims not in yet",
        "front cover gasket ready",
        "still need the front cover gasket",
    ],
)
def test_what_is_not_said_to_be_in_stays_out(said: str) -> None:
    state, _ = tell(*OFF)
    out = [line.key for line in book_of(state).out]
    after, events = tell(said, state=state)
    assert [line.key for line in book_of(after).out] == out
    assert events[0].kind == "unclear"
    assert events[0].answer


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("front cover gasket in", "front cover gasket"),
        ("front cover gasket", "front cover gasket"),
        ("three shims in", "shim"),
        ("three shims", "shim"),
        ("key back in", "key"),
        ("twelve bolts in the front cover", "bolt"),
        ("front cover gasket on, banana", "front cover gasket"),
    ],
)
def test_what_is_said_to_be_in_is_in(said: str, part: str) -> None:
    state, _ = tell(*OFF, said)
    assert part not in {line.part for line in book_of(state).out}


@pytest.mark.parametrize("outline", ["reversing_gearbox", BARE])
def test_what_breaks_off_at_an_in_while_taking_apart_is_asked_about(outline: str) -> None:
    """It counted as so many more that came off."""
    before, _ = tell("six bolts off", outline=outline)
    state, (event,) = tell("five bolts in", state=before, outline=outline)
    assert (event.kind, event.answer) == ("unclear", WHICH_WAY)
    assert state.log == before.log
    for said in ("five bolts back in", "five bolts in tray two", "five bolts in the front cover"):
        assert tell(said, state=before, outline=outline)[1][0].kind == "finding"
