"""What is left, excepted or broken off did not come off.  Common practice, no source."""

from __future__ import annotations

import pytest
from language_help import parse, told


@pytest.mark.parametrize(
    ("say", "found", "left"),
    [
        ("two bolts left", [{"part": "bolt"}], "two left"),
        ("dowels left in for now", [{"part": "dowel pin"}], "left in"),
        (
            "bearing left on the shaft for now",
            [{"part": "bearing", "place": "shaft"}],
            "left",
        ),
        ("left the gasket off", [{"part": "gasket"}], "left"),
        (
            "gasket left out, cover off",
            [{"part": "gasket"}, {"part": "cover", "action": "removed"}],
            "left out",
        ),
        ("the gasket was left off the cover", [{"part": "gasket"}], "left off the cover"),
        (
            "left two studs in the case",
            [{"part": "stud", "place": "case"}],
            "left two",
        ),
        ("cracked right through", [{"condition": "cracked"}], "right"),
        (
            "two dowels stayed in the housing",
            [{"part": "dowel pin", "place": "housing"}],
            "two stayed",
        ),
        ("bearing in seal out", [{"part": "bearing"}], "in seal out"),
        ("all but one bolt off", [{"part": "bolt", "action": "removed"}], "all but one"),
        ("all bolts out but one", [{"part": "bolt", "action": "removed"}], "but one"),
        ("all the bolts off bar one", [{"part": "bolt", "action": "removed"}], "bar one"),
        ("all good but one", [{"condition": "good"}], "but one"),
        ("everything off but the pump", [{"action": "removed"}], "but the pump"),
        ("everything is good except the seal", [{"condition": "good"}], "except the seal"),
        (
            "all bolts off but one, cover off",
            [{"part": "bolt", "action": "removed"}, {"part": "cover", "action": "removed"}],
            "but one",
        ),
        (
            "left two studs in the case, cover off",
            [{"part": "stud", "place": "case"}, {"part": "cover", "action": "removed"}],
            "left two",
        ),
        ("all plates good except one", [{"part": "plate", "condition": "good"}], "except one"),
        (
            "all bolts off but two and the cover",
            [{"part": "bolt", "action": "removed"}],
            "but two and the cover",
        ),
        (
            "all bolts off but one and the cover off",
            [{"part": "bolt", "action": "removed"}, {"part": "cover", "action": "removed"}],
            "but one",
        ),
        (
            "all bolts off but one, seized",
            [{"part": "bolt", "action": "removed"}, {"part": "bolt", "condition": "seized"}],
            "one",
        ),
    ],
)
def test_what_is_left_or_excepted_is_not_recorded(
    say: str, found: list[dict[str, object]], left: str
) -> None:
    assert told(say) == (found, left)


@pytest.mark.parametrize(
    ("say", "part", "count"),
    [
        ("all plates good but one, burnt", "plate", 1),
        ("all plates good but one is burnt", "plate", 1),
        ("all the plates are good except two, burnt", "plate", 2),
        ("all plates good except the pressure plate, burnt", "pressure plate", None),
        ("everything is good but the plate is burnt", "plate", None),
    ],
)
def test_the_state_of_what_is_excepted_is_its_own(say: str, part: str, count: int | None) -> None:
    remark = parse(say)
    rest, excepted = remark.findings
    assert (rest.conditions, rest.condition) == ((), "good")
    assert (excepted.part, excepted.count, excepted.condition) == (part, count, "burnt")
    assert (excepted.conditions, remark.unparsed) == ((), ())


@pytest.mark.parametrize(
    ("say", "condition", "action"),
    [
        ("bolt snapped off in the case", "broken", None),
        ("sheared a bolt off", "sheared", None),
        ("tooth broke off the gear", "broken", None),
        ("lip torn off", "torn", None),
        ("one broken bolt off", "broken", "removed"),
        ("shaft out of true", "not straight", None),
        ("cover off centre", None, None),
    ],
)
def test_what_broke_off_was_not_taken_off(
    say: str, condition: str | None, action: str | None
) -> None:
    (finding,) = parse(say).findings
    assert (finding.condition, finding.action) == (condition, action)


@pytest.mark.parametrize(
    ("say", "side"),
    [
        ("left seal torn", "left"),
        ("bearing left rough", "left"),
        ("seal on the left worn", "left"),
        ("bolts on the left in tray two", "left"),
        ("four bolts left side", "left"),
    ],
)
def test_a_left_side_is_one(say: str, side: str) -> None:
    assert [one.side for one in parse(say).findings] == [side]


def test_order_that_is_out_is_nothing_to_order() -> None:
    assert [one.disposition for one in parse("plates out of order").findings] == [None]


@pytest.mark.parametrize(
    ("say", "container", "action"),
    [
        ("took two bolts out of bag three", None, "removed"),
        ("two bolts out of tray four", None, None),
        ("bolts from bag three into tray two", "tray 2", None),
        ("two bolts off in tray four", "tray 4", "removed"),
        ("eight bolts in two out", None, None),
    ],
)
def test_what_came_out_of_a_tray_is_not_in_it(
    say: str, container: str | None, action: str | None
) -> None:
    (finding,) = parse(say).findings
    assert finding.condition is None
    assert (finding.container, finding.action) == (container, action)
