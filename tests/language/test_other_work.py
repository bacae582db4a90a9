"""Talk of another unit is nothing found on this one.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import parse


@pytest.mark.parametrize(
    "say",
    [
        "that other unit had twelve bolts on the cover",
        "the last one I did had twelve bolts on the cover",
        "my old box had a cracked case",
        "the other gearbox had ten plates",
        "last time it had twelve bolts",
        "the one we built last week had two keys",
    ],
)
def test_talk_of_another_unit_finds_nothing(say: str) -> None:
    remark = parse(say)
    assert (remark.kind, remark.findings, remark.unparsed) == ("unclear", (), (say,))


@pytest.mark.parametrize(
    "say",
    [
        "last bearing cracked",
        "the other one is cracked",
        "the last one was cracked",
        "bolts in the other box",
        "old seal out, new seal in",
        "this old unit is dirty",
    ],
)
def test_the_other_part_is_of_this_unit(say: str) -> None:
    assert parse(say).kind == "remark"
