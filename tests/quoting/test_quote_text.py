"""What the terminal shows of a quote."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from quote_help import outline, sessions

from benchvoice.grammar.outline import Outline, Stage, Step
from benchvoice.quoting import SessionTimes, estimate, quote_text
from benchvoice.quoting.text import hours_minutes


def flat(text: str) -> str:
    return " ".join(text.split())


@given(st.integers(0, 5999))
def test_hours_and_minutes_agree_with_the_standard_library(minutes: int) -> None:
    # Reference: datetime.timedelta's own text, "H:MM:SS", within a day.
    days, text = divmod(minutes, 1440)
    shown = str(timedelta(minutes=text)).removesuffix(":00")
    if days == 0:
        assert hours_minutes(minutes) == shown
    assert hours_minutes(minutes + 0.49) == hours_minutes(minutes)
    assert hours_minutes(minutes + 0.5) == hours_minutes(minutes + 1)


@pytest.mark.parametrize("rate", [None, Decimal("92.50"), Decimal("123456789.25")])
@pytest.mark.parametrize("count", [0, 1, 3])
def test_every_line_fits_80_columns(count: int, rate: Decimal | None) -> None:
    step = Step(id="a", title="Press the inner bearing race off the input shaft, " * 3, minutes=20)
    stage = Stage(id="g", title="g", kind="strip", step=(step,))
    long = Outline(name="long-name", title="A long title " * 12, unit="pump", stage=(stage,))
    past = [
        SessionTimes(session=f"{n}", minutes={"a": 20.0 + n, "unknown-" * 20: 1.0})
        for n in range(count)
    ]
    text = quote_text(estimate(long, past, rate=rate, draws=200))
    broken = [line for line in text.splitlines() if len(line) > 80 and "unknown-" not in line]
    assert not broken


def test_text_shows_the_quotes_own_numbers() -> None:
    minutes = np.random.default_rng(1).uniform(10, 30, (4, 3))
    quote = estimate(outline([12.0, 20.0, 9.0]), sessions(minutes), rate=Decimal("90"))
    lines = quote_text(quote).splitlines()
    for step in quote.steps:
        row = next(line for line in lines if line.startswith(step.title))
        shown = [float(cell) for cell in row.split()[-3:]]
        expected = [step.range.p50, step.range.p80, step.range.p90]
        assert shown == pytest.approx(expected, abs=0.0500001)
        assert "4x" in row
    total = next(line for line in lines if line.startswith("whole job, h:mm"))
    assert total.split()[-2] == hours_minutes(quote.total.p80)
    price = next(line for line in lines if line.startswith("labour at"))
    assert quote.price is not None
    assert price.split()[-3:] == [str(quote.price.p50), str(quote.price.p80), str(quote.price.p90)]


def test_text_says_what_the_quote_rests_on() -> None:
    nothing = flat(quote_text(estimate(outline([None, None]), [], draws=200)))
    assert "no past session and no book minutes" in nothing
    book = flat(quote_text(estimate(outline([5.0, 6.0]), [], draws=200)))
    assert "book minutes only; so the range is wide" in book
    past = [SessionTimes(session="a", minutes={"s0": 5.0, "gone": 3.0})]
    some = flat(quote_text(estimate(outline([5.0, 6.0, None]), past, draws=200)))
    assert "Rests on 1 past session." in some
    assert "* 1 of 3 steps rest on book minutes only" in some
    assert "? 1 of 3 steps have neither" in some
    assert "8 of 10 take no longer" in some
    assert "not the sum of the rows" in some
    assert "gone (1x)" in some
