"""What may be found or done: "blown out" is a fault of a seal, and cleaning of a passage.

Common practice, no source.
"""

from __future__ import annotations

import pytest
from language_help import facts, only, parse


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("passages blown out", "oil passage"),
        ("oil passages blown out", "oil passage"),
        ("blew out the passages", "oil passage"),
        ("blown out the passages", "oil passage"),
        ("galleries blown through", "oil passage"),
        ("passages washed and blown out", "oil passage"),
        ("seal housing blown out", "seal housing"),
    ],
)
def test_passages_are_blown_out_with_air(said: str, part: str) -> None:
    found = only(said)
    assert (found.part, found.condition, found.action) == (part, None, "cleaned")


@pytest.mark.parametrize(
    ("said", "part"),
    [
        ("seal blown out", "seal"),
        ("gasket blown out", "gasket"),
        ("blown out seal", "seal"),
        ("gasket in the valve body blown out", "gasket"),
        ("seal lip blown out", "seal lip"),
    ],
)
def test_a_seal_blown_out_is_a_fault(said: str, part: str) -> None:
    found = only(said)
    assert (found.part, found.condition, found.action) == (part, "extruded", None)


def test_each_of_two_is_as_its_own_kind() -> None:
    assert facts(parse("seals blown out, passages blown out")) == [
        {"part": "seal", "condition": "extruded"},
        {"part": "oil passage", "action": "cleaned"},
    ]
