"""A "too" after a part says the state before it.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import parse


@pytest.mark.parametrize(
    ("say", "found", "left"),
    [
        ("front seal hard, rear one too", [("front seal", "hard"), ("rear seal", "hard")], ()),
        ("front seal hard, the rear one is as well", 2 * [("", "hard")], ()),
        ("front bearing rough, rear too", [("front bearing", "rough"), ("", "rough")], ()),
        ("gasket torn, seal also", [("gasket", "torn"), ("seal", "torn")], ()),
        ("front seal hard, rear one is bad", [("", "hard"), ("rear seal", "bad")], ()),
        ("front seal hard, rear one ok", [("", "hard"), ("rear seal", "ok")], ("one",)),
        ("front seal hard, rear one", [("front seal", "hard")], ("rear one",)),
        ("front seal hard, the front one", [("front seal", "hard")], ()),
        ("gasket torn, bolts too long", [("gasket", "torn"), ("bolt", None)], ()),
        ("cover off, pump too", [("cover", None), ("pump", None)], ()),
    ],
)
def test_too_says_the_same_of_the_next(
    say: str, found: list[tuple[str, str | None]], left: tuple[str, ...]
) -> None:
    remark = parse(say)
    assert [one.condition for one in remark.findings] == [state for _, state in found]
    parts = [one.part for one in remark.findings]
    assert all(part in ("", got) for (part, _), got in zip(found, parts, strict=True))
    assert remark.unparsed == left
