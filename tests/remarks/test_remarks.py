"""The hand-written set of remarks is read as its truths say, and other talk gives nothing.

How well and how fast: python tests/benchmarks/remarks_accuracy.py
"""

from __future__ import annotations

import pytest
from scoring import is_exact, load_not_ours, load_remarks, wrong_but_sure

from benchvoice.grammar import load_pack
from benchvoice.language import Parser

LEAST = 0.97
"""Share read exactly.  The rules were tuned on all of the set, so it is no estimate for others."""


@pytest.fixture(scope="module")
def parser() -> Parser:
    return Parser(load_pack())


def test_remarks_are_read_exactly(parser: Parser) -> None:
    truths = load_remarks()
    missed = [truth.say for truth in truths if not is_exact(truth, parser.parse(truth.say))]
    assert len(truths) > 600
    assert len(missed) <= (1 - LEAST) * len(truths), missed


def test_fluent_remarks_are_read_exactly(parser: Parser) -> None:
    truths = [truth for truth in load_remarks() if not truth.clumsy]
    missed = [truth.say for truth in truths if not is_exact(truth, parser.parse(truth.say))]
    assert len(missed) <= 0.01 * len(truths), missed


def test_nothing_is_made_of_other_talk(parser: Parser) -> None:
    texts = load_not_ours()
    assert len(texts) > 100
    assert [text for text in texts if wrong_but_sure(parser.parse(text))] == []


def test_every_remark_is_read_the_same_twice(parser: Parser) -> None:
    for truth in load_remarks():
        assert parser.parse(truth.say) == parser.parse(truth.say)
