"""What goes in, is filled and washed, and where a part is worn, in the words of the bench.

Ways of saying: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, only, parse

from benchvoice.remark import ANOTHER

CASES: list[tuple[str, list[dict[str, Any]]]] = [
    ("parts washed", [{"action": "cleaned"}]),
    ("all the parts washed", [{"action": "cleaned"}]),
    ("snap ring home", [{"part": "snap ring", "action": "installed"}]),
    (
        "bearing home against the shoulder",
        [{"part": "bearing", "place": "shoulder", "action": "installed"}],
    ),
    (
        "filled 9 liters",
        [{"action": "filled", "measure": {"quantity": "oil fill", "value": 9, "unit": "L"}}],
    ),
    (
        "case filled with nine litres of oil",
        [
            {
                "part": "oil",
                "place": "case",
                "action": "filled",
                "measure": {"quantity": "oil fill", "value": 9, "unit": "L"},
            }
        ],
    ),
    (
        "one seal torn, the other two good",
        [
            {"part": "seal", "count": 1, "condition": "torn"},
            {"part": "seal", "count": 2, "condition": "good"},
        ],
    ),
]


@pytest.mark.parametrize(("said", "meant"), CASES)
def test_what_is_said_is_what_is_found(said: str, meant: list[dict[str, Any]]) -> None:
    assert facts(parse(said)) == meant


@pytest.mark.parametrize(
    ("said", "count", "action"),
    [
        ("the other two in", 2, "installed"),
        ("2 more in", 2, "installed"),
        ("the other one in", 1, "installed"),
        ("two more out", 2, "removed"),
    ],
)
def test_more_of_them_name_no_part(said: str, count: int, action: str) -> None:
    found = only(said)
    assert (found.part, found.count, found.action) == (None, count, action)
    assert ANOTHER in found.notes


@pytest.mark.parametrize("said", ["all in", "going home", "take it home", "two in", "more in"])
def test_small_words_alone_are_other_talk(said: str) -> None:
    assert parse(said).findings == ()


@pytest.mark.parametrize(
    ("said", "left"),
    [
        (
            "flange grooved where the seal runs, maybe a sleeve",
            ("where the seal runs", "maybe a sleeve"),
        ),
        ("flange grooved where the seal sits", ("where the seal sits",)),
        ("flange grooved, where the seal sits", ("where the seal sits",)),
    ],
)
def test_where_it_is_worn_is_kept_and_finds_nothing(said: str, left: tuple[str, ...]) -> None:
    remark = parse(said)
    assert facts(remark) == [{"part": "flange", "condition": "grooved"}]
    assert remark.unparsed == left
