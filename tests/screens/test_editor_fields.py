"""The fields of the form, by the parser of the trade's words."""

from __future__ import annotations

import pytest

from benchvoice.grammar import load_pack
from benchvoice.language import Parser
from benchvoice.remark import Finding
from benchvoice.screens.editor.fields import Refused, with_field

PARSER = Parser(load_pack())
BOLTS = Finding(part="bolt", count=8)


@pytest.mark.parametrize(("text", "count"), [("9", 9), ("twelve", 12), ("", None)])
def test_a_count_is_typed_in_figures_or_words(text: str, count: int | None) -> None:
    assert with_field(BOLTS, "count", text, PARSER) == Finding(part="bolt", count=count)


@pytest.mark.parametrize("text", ["\u00b2", "\u2460", "2\u00b2"])
def test_a_raised_or_circled_figure_is_no_count(text: str) -> None:
    """The Unicode Character Database: these are digits, and no decimal digits."""
    assert isinstance(with_field(BOLTS, "count", text, PARSER), Refused)
