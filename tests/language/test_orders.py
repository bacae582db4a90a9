"""What is only told to be done is not done.  Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from language_help import parse, told

ORDERS: list[tuple[str, list[dict[str, Any]], str]] = [
    ("pull the bearing", [{"part": "bearing"}], "pull"),
    ("remove four bolts", [{"part": "bolt"}], "remove four"),
    ("pull eight bolts off the front", [{"part": "bolt", "place": "front"}], "pull eight"),
    ("check the gears", [{"part": "gear"}], "check"),
    ("take out the snap ring and the shim", [{"part": "snap ring"}, {"part": "shim"}], "take out"),
    (
        "cover off, pull the pump",
        [{"part": "cover", "action": "removed"}, {"part": "pump"}],
        "pull",
    ),
]


@pytest.mark.parametrize(("say", "found", "left"), ORDERS)
def test_an_order_does_nothing(say: str, found: list[dict[str, Any]], left: str) -> None:
    assert told(say) == (found, left)


@pytest.mark.parametrize(
    ("say", "action"),
    [
        ("pulled the bearing", "removed"),
        ("used a puller to remove the gear", "removed"),
        ("did check the bearing", "checked"),
        ("put the bearing in", "installed"),
        ("leak test ok", "tested"),
        ("mark on the gear", "marked"),
    ],
)
def test_what_was_done_was_done(say: str, action: str) -> None:
    assert [one.action for one in parse(say).findings] == [action]


def test_a_value_told_with_an_order_was_measured() -> None:
    (found,) = parse("check the end play, twelve thou").findings
    assert found.measure is not None
    assert (found.measure.quantity, found.measure.value) == ("end play", 12)
