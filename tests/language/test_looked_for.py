"""What a check looks for is no finding; only its result is.

Ways of saying and what they mean: common practice, no source.
"""

from __future__ import annotations

import pytest
from language_help import facts, only, parse


@pytest.mark.parametrize(
    "said",
    [
        "crack check on the case, nothing",
        "case crack checked, none found",
        "checked the case for cracks, no cracks",
        "checked the case for cracks, none",
        "crack check on the case, clear",
        "dye check on the case, nothing",
        "case crack checked, nothing on the bore",
    ],
)
def test_a_check_that_found_nothing(said: str) -> None:
    found = only(said)
    assert (found.part, found.condition, found.action) == ("case", "not cracked", "inspected")
    assert found.conditions == ()


@pytest.mark.parametrize("said", ["dye check clean", "no cracks found on crack check"])
def test_a_check_of_no_part_that_found_nothing(said: str) -> None:
    assert (only(said).condition, only(said).action) == ("not cracked", "inspected")


@pytest.mark.parametrize(
    "said",
    [
        "crack check on the case",
        "crack checked the case",
        "checked the case for cracks",
        "leak check on the case",
        "looked for cracks in the case",
    ],
)
def test_a_check_alone_found_nothing_and_denies_nothing(said: str) -> None:
    assert facts(parse(said)) == [{"part": "case", "action": "inspected"}]


@pytest.mark.parametrize(
    "said",
    [
        "crack check on the case, one crack",
        "crack check on the case, cracked",
        "checked the case for cracks, found one",
        "checked the case for cracks, found some",
        "checked the case for cracks and pitting, it is cracked",
        "dye check on the case shows a crack",
    ],
)
def test_what_a_check_found_is_found(said: str) -> None:
    found = only(said)
    assert (found.part, found.count, found.condition) == ("case", None, "cracked")


def test_how_many_of_several_it_found() -> None:
    assert facts(parse("checked the gears for pitting, two")) == [
        {"part": "gear", "action": "inspected"},
        {"part": "gear", "count": 2, "condition": "pitted"},
    ]


def test_all_that_was_looked_for_is_denied() -> None:
    assert only("gears checked for cracks and pitting, none").conditions == (
        "not cracked",
        "not pitted",
    )


def test_the_check_of_one_part_tells_nothing_of_another() -> None:
    assert facts(parse("bearing rough, crack check on the case, nothing")) == [
        {"part": "bearing", "condition": "rough"},
        {"part": "case", "condition": "not cracked", "action": "inspected"},
    ]


def test_a_check_not_done_and_cleaning_to_do() -> None:
    assert facts(parse("case not crack checked")) == [{"part": "case"}]
    assert only("crack check on the case, clean it").condition == "clean"
