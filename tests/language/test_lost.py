"""Nothing that was said is lost without a word.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import facts, parse


@pytest.mark.parametrize(
    ("say", "found"),
    [
        ("one torn one ok", [{"count": 1, "condition": "torn"}, {"count": 1, "condition": "ok"}]),
        (
            "six came out two sheared",
            [{"count": 6, "action": "removed"}, {"count": 2, "condition": "sheared"}],
        ),
        (
            "six of eight out the other two are stuck",
            [{"count": 6, "action": "removed"}, {"count": 2, "condition": "stuck"}],
        ),
        (
            "eight bolts in tray two one bent",
            [
                {"part": "bolt", "count": 8, "container": "tray 2"},
                {"part": "bolt", "condition": "bent"},
            ],
        ),
        (
            "six long two short",
            [
                {"count": 6, "size": {"relative": "long"}},
                {"count": 2, "size": {"relative": "short"}},
            ],
        ),
        (
            "left ok right not ok",
            [{"side": "left", "condition": "ok"}, {"side": "right", "condition": "not ok"}],
        ),
        (
            "old seal out new seal in",
            [{"part": "seal", "action": "removed"}, {"part": "seal"}],
        ),
        ("left and right bearings worn", [{"part": "bearing", "condition": "worn"}]),
        (
            "no plates burnt but two worn",
            [
                {"part": "plate", "condition": "not burnt"},
                {"part": "plate", "count": 2, "condition": "worn"},
            ],
        ),
        (
            "shaft out but bearing stays in",
            [{"part": "shaft", "action": "removed"}, {"part": "bearing"}],
        ),
        ("bolts loosened and removed", [{"part": "bolt", "action": "removed"}]),
        ("no other damage", [{"condition": "not damaged"}]),
        ("bearing not new", [{"part": "bearing"}]),
        ("bearing not pressed in all the way", [{"part": "bearing"}]),
    ],
)
def test_each_is_told_of_its_own(say: str, found: list[dict[str, object]]) -> None:
    assert facts(parse(say)) == found


def test_two_sizes_of_one_part_are_two_findings() -> None:
    remark = parse("four bolts one and a quarter long four bolts two inch long")
    sizes = [one.size and one.size.length and one.size.length.value for one in remark.findings]
    assert ([one.count for one in remark.findings], sizes) == ([4, 4], [1.25, 2.0])


@pytest.mark.parametrize(
    ("say", "left"),
    [
        ("cover removed installed", "installed"),
        ("bearings left and right bad", "right"),
    ],
)
def test_what_has_no_home_is_left_over(say: str, left: str) -> None:
    assert parse(say).unparsed == (left,)


def test_no_second_one_is_none() -> None:
    assert parse("no second snap ring").findings == ()


def test_an_ending_without_its_word_is_not_understood() -> None:
    assert parse("n't").kind == "unclear"
