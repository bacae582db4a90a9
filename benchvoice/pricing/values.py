"""A priced quote as values; all money is Decimal, in cents."""

from __future__ import annotations

from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from benchvoice.pricing.terms import Level
from benchvoice.quoting.quote import CENT
from benchvoice.remark import Frozen

ROUNDING = "Every line is rounded half up to cents, and the sums add up the rounded lines."
Work = Literal["replace", "order", "always", "machine", "send out", "decide", "discard"]

MADE_NEW = frozenset({"replace", "order", "always", "discard"})
"""Work that means a new part: what is thrown away is bought again (common practice, no source)."""


class Needed(Frozen, frozen=True, kw_only=True):
    """A part that something has to happen to; `count` None when no number was said.

    `step` is the title of its step, `why` is in words, `entry` and `clip` say
    where in the session it stands.
    """

    part: str
    count: int | None = None
    place: str = ""
    size: str = ""
    work: Work = "replace"
    why: str = ""
    step: str | None = None
    entry: int | None = None
    clip: str | None = None


class LabourLine(Frozen, frozen=True, kw_only=True):
    """A stage's share of the labour: minutes to the hundredth, and money."""

    title: str
    minutes: Decimal
    money: Decimal


class PartLine(Frozen, frozen=True, kw_only=True):
    """A part priced; `each` and `money` are None when the price list has no price for it."""

    needed: Needed
    count: int
    each: Decimal | None = None
    money: Decimal | None = None


class Extra(Frozen, frozen=True, kw_only=True):
    """An allowance or a tax, and how it was reckoned."""

    title: str
    how: str
    money: Decimal


class Outcome(Frozen, frozen=True, kw_only=True):
    """What the whole would come to were the labour as long as this: minutes and money."""

    level: Level
    minutes: Decimal
    money: Decimal


class PricedQuote(Frozen, frozen=True, kw_only=True):
    """A quote to hand over.

    `total` is with taxes, at the time `stands_on`; `range` has the same for
    each level.  Parts without a price are in `parts` and not in the total.
    """

    outline: str
    title: str
    sessions: int
    given_on: date
    valid_until: date
    currency: str
    rate: Decimal
    stands_on: Level
    shop: str = ""
    job: str = ""
    unit: str = ""
    invented: bool = False
    labour: tuple[LabourLine, ...] = ()
    labour_total: Decimal = Decimal(0)
    to_minimum: Decimal = Decimal(0)
    """What was added to reach the minimum charge."""
    parts: tuple[PartLine, ...] = ()
    parts_total: Decimal = Decimal(0)
    allowances: tuple[Extra, ...] = ()
    before_tax: Decimal = Decimal(0)
    taxes: tuple[Extra, ...] = ()
    total: Decimal = Decimal(0)
    range: tuple[Outcome, ...] = ()
    assumptions: tuple[str, ...] = ()
    exclusions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def unpriced(self) -> int:
        """How many parts still have to be priced."""
        return sum(line.money is None for line in self.parts)


def described(needed: Needed) -> str:
    """Say a part with its size and place, and the work when it is not made new."""
    where = needed.place or needed.step or ""
    text = ", ".join(piece for piece in (needed.part, needed.size, where) if piece)
    return text if needed.work in MADE_NEW else f"{text}: {needed.work}"


def cents(value: Decimal) -> Decimal:
    """Round half up to cents."""
    return value.quantize(CENT, ROUND_HALF_UP)
