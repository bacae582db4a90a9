"""What is told of a thing without a known name is told of nothing.  Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from language_help import parse, told

CASES: list[tuple[str, list[dict[str, Any]], str]] = [
    (
        "input coupling off six bolts rubbers all perished",
        [{"part": "coupling", "action": "removed"}, {"part": "bolt", "count": 6}],
        "rubbers perished",
    ),
    (
        "inner rotor is scored outer is fine",
        [{"part": "inner rotor", "condition": "scored"}],
        "outer fine",
    ),
    (
        "front bearing of the shaft is ok number five is rough",
        [{"part": "front bearing", "place": "shaft", "condition": "ok"}],
        "number five rough",
    ),
    ("output shaft keyway is wallowed out", [{"part": "output shaft keyway"}], "wallowed out"),
]


@pytest.mark.parametrize(("say", "found", "left"), CASES)
def test_what_has_no_known_name_lends_its_state_to_nothing(
    say: str, found: list[dict[str, Any]], left: str
) -> None:
    assert told(say) == (found, left)


@pytest.mark.parametrize(
    "say", ["gasket looked torn", "lock nut damn thing is tight", "ring gear nope that's chipped"]
)
def test_what_is_told_of_the_part_itself_is_its_state(say: str) -> None:
    assert [one.condition is None for one in parse(say).findings] == [False]
