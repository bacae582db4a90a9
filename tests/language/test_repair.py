"""Taking back: what is said anew replaces what it is like, and nothing else.

The shape of a correction (what is taken back, the words between, what stands for it) is after
the linguistic literature on speech repair; the sentences are common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, parse


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("seven no eight bolts", {"part": "bolt", "count": 8}),
        ("seven bolts no eight", {"part": "bolt", "count": 8}),
        ("eight no nine no ten bolts", {"part": "bolt", "count": 10}),
        ("eight bolts i mean seals", {"part": "seal", "count": 8}),
        ("twenty two no three bolts", {"part": "bolt", "count": 3}),
        (
            "eight quarter twenty no three eighths sixteen bolts",
            {"part": "bolt", "count": 8, "size": {"thread": "3/8-16"}},
        ),
        (
            "m eight by one twenty five no m ten by one fifty bolts",
            {"part": "bolt", "size": {"thread": "M10x1.5"}},
        ),
        (
            "eight bolts inch and a quarter no inch and a half long",
            {"part": "bolt", "count": 8, "size": {"length": {"value": 1.5, "unit": "in"}}},
        ),
        (
            "bolts nine sixteenths head no half inch head",
            {"part": "bolt", "size": {"across_flats": {"value": 0.5, "unit": "in"}}},
        ),
        (
            "eight bolts off the front no nine off the rear",
            {"part": "bolt", "count": 9, "action": "removed", "place": "rear"},
        ),
        ("six bolts tray four no five", {"part": "bolt", "count": 6, "container": "tray 5"}),
        (
            "six bolts tray four no six bolts tray five",
            {"part": "bolt", "count": 6, "container": "tray 5"},
        ),
        ("piston needs a well no reuse the piston", {"part": "piston", "disposition": "reuse"}),
        ("tray 3, not 4, bolts", {"part": "bolt", "container": "tray 3"}),
    ],
)
def test_what_is_said_anew_counts(said: str, found: dict[str, Any]) -> None:
    assert facts(parse(said)) == [found]


@pytest.mark.parametrize(
    ("said", "value", "high", "unit"),
    [
        ("end play twelve no wait thirteen thou", 13, None, "thou"),
        ("end play twelve thou no point zero one two inches", 0.012, None, "in"),
        ("clearance seventy two thou nah three tenths of a thou", 0.3, None, "thou"),
        ("torque forty foot pounds no fifty", 50, None, "ft-lb"),
        ("torque twenty to thirty foot pounds no actually thirty foot pounds", 30, None, "ft-lb"),
        ("ten no eleven to fifteen thou end play", 11, 15, "thou"),
        ("ten to fifteen no sixteen thou end play", 10, 16, "thou"),
    ],
)
def test_a_reading_said_anew_counts(said: str, value: float, high: float | None, unit: str) -> None:
    (finding,) = parse(said).findings
    assert finding.measure is not None
    measure = finding.measure
    assert (measure.value, measure.high, measure.unit) == (value, high, unit)


@pytest.mark.parametrize(
    ("said", "condition"),
    [
        ("gasket is good no wait it's torn", "torn"),
        ("housing is cracked no not cracked", "not cracked"),
        ("shaft no scoring", "not scored"),
    ],
)
def test_a_no_takes_back_or_denies(said: str, condition: str) -> None:
    (finding,) = parse(said).findings
    assert finding.condition == condition
    assert finding.conditions == ()


@pytest.mark.parametrize(
    "say",
    [
        "end play twelve thou no fourteen left and right mounts off",
        "bolts six pump oil seven out bolts sorry off",
        "bearing out seal washer no in",
        "rough bearing cover gasket bearing no without good",
    ],
)
def test_what_was_put_right_stands_behind_what_it_is_told_with(say: str) -> None:
    assert parse(say).heard == say
