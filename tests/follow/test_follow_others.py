"""What else a remark may have been: further texts of the engine, words of like sound, number.

What belongs where is common practice, no source; the texts are what the embedded engine made of
synthetic voices in the noise of a shop (tests/benchmarks/step_heard.py).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from benchvoice.follow import State, advance
from benchvoice.follow.likeness import sound_likeness
from benchvoice.follow.others import MOST, others_of, shares_of
from benchvoice.grammar import load_outline, load_pack
from benchvoice.language import Parser

PACK = load_pack(load_outline("reversing_gearbox"))
BEFORE = ("checked the steel plates", "checked the bearings")
HEARD = "and checked"
OTHERS = ("pump checked", "pump is checked", "front checked", "the pump checked")


def step_of(confidence: float | None, others: tuple[str, ...], heard: str = HEARD) -> str | None:
    """Say what came before, then a remark that may have been others; gives its step."""
    parser, state = Parser(PACK), State()
    for text in BEFORE:
        state, _ = advance(state, parser.parse(text), PACK, 0.0)
    remark = replace(parser.parse(heard), confidence=confidence)
    state, event = advance(state, remark, PACK, 0.0, others)
    assert state.log[-1].others == others
    return event.step


def test_further_texts_put_a_doubtful_remark_where_it_belongs() -> None:
    assert step_of(None, (), "pump checked") == "check_pump"
    assert step_of(0.05, ()) == "check_bearings"
    assert step_of(0.05, OTHERS) == "check_pump"


def test_what_is_sure_is_taken_as_it_is() -> None:
    assert step_of(None, OTHERS) == step_of(None, ())


def test_commands_are_no_remarks_and_only_the_likeliest_are_looked_at() -> None:
    found = others_of(PACK, ("next step", "six bearings", *(f"{n} bolts" for n in range(30))))
    assert found[0].heard == "six bearings"
    assert len(found) == MOST
    assert others_of(PACK, ()) == ()


@given(st.floats(0, 1), st.integers(0, MOST))
def test_shares_sum_to_one_and_the_text_taken_gains_by_its_confidence(
    sure: float, others: int
) -> None:
    shares = shares_of(sure, others)
    assert len(shares) == 1 + others
    assert math.isclose(sum(shares), 1.0)
    assert list(shares[1:]) == sorted(shares[1:], reverse=True)
    assert shares[0] >= shares_of(0.0, others)[0]


@pytest.mark.parametrize(
    ("heard", "said"),
    [("boring", "bearing"), ("swap", "snap"), ("flank", "flange"), ("dial", "oil")],
)
def test_words_heard_for_one_another_are_alike(heard: str, said: str) -> None:
    assert sound_likeness(heard, said) > 0.3
    assert sound_likeness(said, said) == 1.0
    assert sound_likeness(heard, "strainer") < sound_likeness(heard, said)
