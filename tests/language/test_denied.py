"""What was said not to be so.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import parse


@pytest.mark.parametrize(
    ("say", "action", "container", "left"),
    [
        ("eight bolts not off the front yet", None, None, "eight off the front yet"),
        ("bolts not out of the cover", None, None, "out of the cover"),
        ("seal not in tray four", None, None, "not in tray four"),
        ("not not off the cover eight bolts", None, None, "not off the cover"),
        ("eight not nine bolts off the front", "removed", None, ""),
        ("four bolts off not from the front from the rear", "removed", None, "from the front"),
    ],
)
def test_what_was_said_not_to_be_so_is_not_recorded(
    say: str, action: str | None, container: str | None, left: str
) -> None:
    remark = parse(say)
    assert [one.action for one in remark.findings] == [action]
    assert [one.container for one in remark.findings] == [container]
    assert " ".join(remark.unparsed) == left


@pytest.mark.parametrize(
    ("say", "conditions"),
    [
        ("front seal not leaking, rear seal leaking", ["not leaking", "leaking"]),
        ("seal not torn, and the gasket torn", ["not torn", "torn"]),
        ("no damage, two bolts bent", ["not damaged", "bent"]),
        ("seal not leaking, dry", ["not leaking", "dry"]),
        ("bearing isn't worn, good", ["not worn", "good"]),
        ("no cracks, pitting", ["not cracked", "not pitted"]),
        ("no cracked and worn teeth", ["not cracked", "not worn"]),
        ("gears not cracked or pitted", ["not cracked", "not pitted"]),
        ("gears not cracked, worn or pitted", ["not cracked", "not worn", "not pitted"]),
    ],
)
def test_a_not_reaches_on_in_a_list_and_no_further(say: str, conditions: list[str]) -> None:
    found = [one.conditions or (one.condition,) for one in parse(say).findings]
    assert [name for names in found for name in names] == conditions
