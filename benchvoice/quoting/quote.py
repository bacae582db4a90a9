"""The quote and what it is made from, as values, and the quote's published JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from benchvoice.remark import Frozen

CENT = Decimal("0.01")
Basis = Literal["timed", "book", "none"]


class SessionTimes(Frozen, frozen=True, kw_only=True):
    """Labour minutes by step id of one past session, interruptions and pauses taken out.

    A step that was not timed is absent.  `finished_on` is None when unknown.
    `outline` is the name of the session's outline and `who` the technician,
    where known.  `found` lists by step id the conditions found on it ("seized
    bolt").  `doubtful` are those of the `minutes` by step id that look like an
    interruption; `left_out` are minutes of long silences that were not counted.
    """

    session: str
    minutes: Mapping[str, float]
    finished_on: date | None = None
    outline: str | None = None
    who: str | None = None
    found: Mapping[str, tuple[str, ...]] = {}
    doubtful: Mapping[str, float] = {}
    left_out: Mapping[str, float] = {}


@dataclass(frozen=True, kw_only=True)
class Range:
    """Minutes that are enough in 10, 50, 80 and 90 of 100 such jobs."""

    p10: float
    p50: float
    p80: float
    p90: float


@dataclass(frozen=True, kw_only=True)
class StepQuote:
    """One step's range; `n` is how many sessions timed it.

    `basis` is "timed" (n > 0), "book" (book minutes only) or "none" (neither:
    the range comes from the other steps).
    """

    id: str
    title: str
    n: int
    range: Range
    basis: Basis


@dataclass(frozen=True, kw_only=True)
class Price:
    """Labour price at `rate` per hour, of the published minutes, rounded half up to cents."""

    rate: Decimal
    currency: str | None
    p50: Decimal
    p80: Decimal
    p90: Decimal


@dataclass(frozen=True, kw_only=True)
class Promise:
    """A promised time in `hours`, and the chance (0..1) that the job runs `over` it."""

    hours: float
    over: float


@dataclass(frozen=True, kw_only=True)
class Driver:
    """What makes the whole job uncertain: its share (0..1) of the total's variance.

    `step` is the step's id, or None for what is common to several steps.
    """

    name: str
    share: float
    step: str | None = None


@dataclass(frozen=True, kw_only=True)
class Adder:
    """What a condition was seen to add to a step, in minutes (below zero: it takes off).

    8 of 10 times the truth is within `low`..`high`.  It was found in `found` of
    the `timed` sessions that timed the step.
    """

    step: str
    title: str
    condition: str
    minutes: float
    low: float
    high: float
    found: int
    timed: int


@dataclass(frozen=True, kw_only=True)
class Practice:
    """What each doubling of the repeats does to the time: a factor, 1 for nothing.

    0.9 is a 90% learning curve; `low`..`high` hold 8 of 10 times.  `counted` is
    whether the quote counts on it for the next job.
    """

    factor: float
    low: float
    high: float
    repeats: int
    counted: bool


@dataclass(frozen=True, kw_only=True)
class Quote:
    """A labour quote; minutes throughout.

    `total` is the range of the whole job, not the sum of the steps' ranges.
    `notes` names everything given that was left out.  `drivers` are the largest
    first; `adders` only those for which there is evidence; `practice` is None
    when the order of the sessions is not known or they are few.
    """

    outline: str
    title: str
    sessions: int
    steps: tuple[StepQuote, ...]
    total: Range
    price: Price | None = None
    notes: tuple[str, ...] = ()
    promise: Promise | None = None
    drivers: tuple[Driver, ...] = ()
    adders: tuple[Adder, ...] = ()
    practice: Practice | None = None


def range_of(minutes: NDArray[np.float64]) -> Range:
    """Give the range of simulated minutes, shape (draws,)."""
    p10, p50, p80, p90 = (float(value) for value in np.quantile(minutes, (0.1, 0.5, 0.8, 0.9)))
    return Range(p10=p10, p50=p50, p80=p80, p90=p90)


def published(minutes: float, step: Decimal = CENT) -> Decimal:
    """Round minutes to `step`, half up; to 0.01 for what is published and priced."""
    return Decimal(repr(float(minutes))).quantize(step, ROUND_HALF_UP)


def price_of(total: Range, rate: Decimal, currency: str | None = None) -> Price:
    """Price the total at `rate` per hour, in exact decimal arithmetic."""

    def money(minutes: float) -> Decimal:
        return (published(minutes) * rate / 60).quantize(CENT, ROUND_HALF_UP)

    return Price(
        rate=rate,
        currency=currency,
        p50=money(total.p50),
        p80=money(total.p80),
        p90=money(total.p90),
    )


def _range_to_json(given: Range) -> dict[str, float]:
    return {name: float(published(getattr(given, name))) for name in ("p50", "p80", "p90")}


def quote_to_json(quote: Quote) -> dict[str, Any]:
    """Give the published JSON object; minutes and money are numbers with 2 decimals."""
    price: dict[str, Any] | None = None
    if quote.price is not None:
        price = {"rate": float(quote.price.rate), "currency": quote.price.currency}
        price |= {name: float(getattr(quote.price, name)) for name in ("p50", "p80", "p90")}
    return {
        "outline": quote.outline,
        "sessions": quote.sessions,
        "unit": "min",
        "steps": [
            {"id": step.id, "n": step.n, **_range_to_json(step.range)} for step in quote.steps
        ],
        "total": _range_to_json(quote.total),
        "price": price,
        "promise": _rounded(quote.promise),
        "drivers": [_rounded(driver) for driver in quote.drivers],
        "adders": [_rounded(adder) for adder in quote.adders],
        "practice": _rounded(quote.practice),
    }


def _rounded(value: Promise | Driver | Adder | Practice | None) -> dict[str, Any] | None:
    """Give the fields of a value, numbers to 4 decimals."""
    if value is None:
        return None
    return {
        key: round(item, 4) if isinstance(item, float) else item
        for key, item in asdict(value).items()
    }
