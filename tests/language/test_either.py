"""What is so or else is neither; in a list after a "no" both are denied.  Common practice."""

from __future__ import annotations

from typing import Any

import pytest
from language_help import parse, told

NOT_SO = [
    ("no cracks or pitting", ["not cracked", "not pitted"]),
    ("no cracks, pitting, or scoring", ["not cracked", "not pitted", "not scored"]),
    ("no wear or scoring on the gears", ["not worn", "not scored"]),
    ("without any nicks or burrs", ["not nicked", "not burred"]),
]


@pytest.mark.parametrize(("say", "conditions"), NOT_SO)
def test_an_or_after_a_no_goes_on_with_it(say: str, conditions: list[str]) -> None:
    remark = parse(say)
    assert [list(one.conditions) for one in remark.findings] == [conditions]
    assert remark.unparsed == ()


OPEN: list[tuple[str, list[dict[str, Any]], str]] = [
    ("bearing worn or pitted", [{"part": "bearing"}], "worn or pitted"),
    ("seal torn or not torn", [{"part": "seal"}], "torn or not torn"),
    ("replace or reuse the seal", [{"part": "seal"}], "replace or reuse"),
    ("bolts in tray four or bag two", [{"part": "bolt"}], "in tray four or bag two"),
    (
        "bearing rough or the seal is dragging, cover off",
        [{"part": "bearing"}, {"part": "cover", "action": "removed"}],
        "rough or the seal is dragging",
    ),
    (
        "no cracks or bolts missing",
        [{"condition": "not cracked"}],
        "or bolts missing",
    ),
    ("no cracks or loose bolts", [{"condition": "not cracked"}], "or loose bolts"),
]


@pytest.mark.parametrize(("say", "found", "left"), OPEN)
def test_what_is_so_or_else_is_left_over(say: str, found: list[dict[str, Any]], left: str) -> None:
    assert told(say) == (found, left)


@pytest.mark.parametrize(
    "say", ["bolts or studs off", "front or rear seal torn", "two bolts or so", "scored or pitted"]
)
def test_what_is_told_of_this_or_that_is_told_of_nothing(say: str) -> None:
    remark = parse(say)
    assert (remark.kind, remark.findings) == ("unclear", ())


def test_six_or_seven_is_no_count() -> None:
    remark = parse("six or seven bolts")
    assert [one.readings for one in remark.ambiguous] == [("six", "seven")]
    assert [one.count for one in remark.findings] == [None]


def test_about_a_value_is_that_value_with_a_word_left_over() -> None:
    remark = parse("end play ten thou or so")
    assert [one.measure and one.measure.value for one in remark.findings] == [10]
    assert remark.unparsed == ("or",)
