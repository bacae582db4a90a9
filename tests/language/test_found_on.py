"""What is found on another part is of that part.  Common practice, no source."""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, parse


@pytest.mark.parametrize(
    ("say", "found"),
    [
        (
            "gears look all right a bit of scoring on the cover",
            [{"part": "gear"}, {"part": "cover", "condition": "scored"}],
        ),
        (
            "gear pulled, scoring on the shaft",
            [{"part": "gear", "action": "removed"}, {"part": "shaft", "condition": "scored"}],
        ),
        (
            "bearing rough and a crack in the case",
            [{"part": "bearing", "condition": "rough"}, {"part": "case", "condition": "cracked"}],
        ),
        (
            "gear off, no pitting on the shaft",
            [{"part": "gear", "action": "removed"}, {"part": "shaft", "condition": "not pitted"}],
        ),
        (
            "cover off, rust on all bolts",
            [{"part": "cover", "action": "removed"}, {"part": "bolt", "condition": "rusty"}],
        ),
        (
            "cover off, rust on two bolts",
            [
                {"part": "cover", "action": "removed"},
                {"part": "bolt", "count": 2, "condition": "rusty"},
            ],
        ),
        ("gears have scoring on the teeth", [{"part": "gear", "place": "tooth"}]),
        ("bearing good, spun in the case", [{"part": "bearing", "place": "case"}]),
    ],
)
def test_what_is_found_is_of_what_it_is_on(say: str, found: list[dict[str, Any]]) -> None:
    got = facts(parse(say))
    assert [one.get("part") for one in got] == [one["part"] for one in found]
    assert all(one.items() <= told.items() for one, told in zip(found, got, strict=True))


def test_so_many_of_what_is_found_are_not_so_many_parts() -> None:
    remark = parse("gear off, two cracks in the case")
    case = remark.findings[-1]
    assert (case.part, case.count, case.condition) == ("case", None, "cracked")
    assert remark.unparsed == ("two",)
