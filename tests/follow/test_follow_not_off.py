"""What is not off is not counted off.  Common practice, no source."""

from __future__ import annotations

import pytest
from follow_help import pack_of, tell

from benchvoice.follow import tally


@pytest.mark.parametrize(
    "say",
    [
        "two bolts still in the front cover",
        "four front cover bolts left",
        "two front cover bolts to come out",
        "eight bolts not off the front cover yet",
        "four front cover bolts won't come out",
        "front cover bolts not all out",
        "no front cover bolts off yet",
        "front cover bolts all off but one",
    ],
)
def test_no_bolts_are_counted_off(say: str) -> None:
    assert _off("front cover", say) is None


@pytest.mark.parametrize(
    ("say", "off"),
    [
        ("front cover bolts ten off two left", 10),
        ("ten front cover bolts off two snapped off", 10),
        ("twelve front cover bolts off", 12),
        ("two front cover bolts off still in tray two", 2),
    ],
)
def test_those_off_are_counted(say: str, off: int) -> None:
    assert _off("front cover", say) == off


def _off(*said: str) -> int | None:
    """How many bolts of the front cover are counted."""
    _, events = tell(*said)
    findings = [(event.step, event.remark.findings) for event in events]
    counts = tally(findings, pack_of().outline)
    (bolts,) = (one for one in counts if (one.part, one.place) == ("bolt", "front cover"))
    return bolts.said
