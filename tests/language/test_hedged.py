"""What only may be so, or only looks so, is left over or still to be decided.

Common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from language_help import facts, only, parse, told


@pytest.mark.parametrize(
    "say",
    [
        "bearing maybe reusable",
        "bearing might be reusable",
        "bearing is probably reusable",
        "bearing reusable i think",
        "bearing should be reusable",
        "bearing might need replacing",
        "maybe replace the bearing",
    ],
)
def test_what_may_be_done_is_to_be_decided(say: str) -> None:
    assert facts(parse(say)) == [{"part": "bearing", "disposition": "decide"}]


@pytest.mark.parametrize(
    ("say", "disposition"),
    [
        ("i guess reuse the shims", "reuse"),
        ("shims can be reused", "reuse"),
        ("shims probably need replacing", "replace"),
        ("shims should be replaced", "replace"),
    ],
)
def test_what_is_meant_to_be_done_is_decided(say: str, disposition: str) -> None:
    assert only(say).disposition == disposition


LEFT: list[tuple[str, list[dict[str, Any]], str]] = [
    ("gear maybe cracked", [{"part": "gear"}], "maybe cracked"),
    (
        "maybe the seal torn, gear good",
        [{"part": "seal"}, {"part": "gear", "condition": "good"}],
        "maybe torn",
    ),
    ("about eight bolts", [{"part": "bolt"}], "eight"),
    ("gear looks cracked but it is just dirt", [{"part": "gear", "condition": "dirty"}], "cracked"),
    ("seal looks torn but it is ok", [{"part": "seal", "condition": "ok"}], "torn"),
]


@pytest.mark.parametrize(("say", "found", "left"), LEFT)
def test_what_may_be_so_is_left_over(say: str, found: list[dict[str, Any]], left: str) -> None:
    assert told(say) == (found, left)


@pytest.mark.parametrize("say", ["end play maybe ten thou", "maybe eight bolts"])
def test_a_guess_is_not_what_was_measured_or_counted(say: str) -> None:
    assert parse(say).findings == ()


def test_a_state_that_is_not_put_right_is_so() -> None:
    assert only("plate worn but it is only at the edge").condition == "worn"
