"""The quote and what it is made from, as values, and the quote's published JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, Literal

CENT = Decimal("0.01")
Basis = Literal["timed", "book", "none"]


@dataclass(frozen=True, kw_only=True)
class SessionTimes:
    """Labour minutes by step id of one past session, interruptions and pauses taken out.

    A step that was not timed is absent.  `finished_on` is None when unknown;
    the quote weighs old and new sessions alike.
    """

    session: str
    minutes: Mapping[str, float]
    finished_on: date | None = None


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
class Quote:
    """A labour quote; minutes throughout.

    `total` is the range of the whole job, not the sum of the steps' ranges.
    `notes` names everything given that was left out.
    """

    outline: str
    title: str
    sessions: int
    steps: tuple[StepQuote, ...]
    total: Range
    price: Price | None = None
    notes: tuple[str, ...] = ()


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
    }
