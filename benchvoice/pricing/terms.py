"""The shop's own terms: rate, minimum, allowances, taxes, validity; a TOML file of the user's."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path
from typing import Literal

import msgspec

from benchvoice.errors import BadInput
from benchvoice.grammar.toml_file import line_of, read_toml

Level = Literal["p50", "p80", "p90"]
Of = Literal["labour", "parts", "allowances"]

_MOST = Decimal(10) ** 9


class Allowance(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Something charged on top: an `amount`, or a `percent` of labour and/or parts."""

    title: str
    amount: Decimal | None = None
    percent: Decimal | None = None
    of: tuple[Literal["labour", "parts"], ...] = ("labour",)


class Tax(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A tax as a `percent` of what it is raised on; which that is, is for local law to say."""

    title: str
    percent: Decimal
    of: tuple[Of, ...] = ("labour", "parts", "allowances")


class Terms(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a priced quote is made with; money in `currency`, `rate` for an hour.

    `stands_on` says which time the price is for: p80 is what 8 of 10 such jobs
    stay within.  `parts_markup` is a percentage on the price list.  Labour less
    than `minimum` is charged as `minimum`.
    """

    rate: Decimal
    currency: str = ""
    stands_on: Level = "p80"
    minimum: Decimal = Decimal(0)
    parts_markup: Decimal = Decimal(0)
    allowance: tuple[Allowance, ...] = ()
    tax: tuple[Tax, ...] = ()
    valid_days: int = 30
    exclusion: tuple[str, ...] = ()
    assumption: tuple[str, ...] = ()
    shop: str = ""


def load_terms(path: Path) -> Terms:
    """Read the terms.  Raises BadInput with file, line and mend."""
    terms, text = read_toml(path, Terms)
    for where, what, mend in _faults(terms):
        raise BadInput(what, mend=mend, file=path, line=line_of(text, where))
    return terms


def check_terms(terms: Terms) -> None:
    """Raise BadInput for terms that cannot be charged by."""
    for _, what, mend in _faults(terms):
        raise BadInput(what, mend=mend)


def _faults(terms: Terms) -> Iterator[tuple[str, str, str]]:
    """Give (where, what, mend) of each thing that is wrong."""
    if not terms.rate.is_finite() or not 0 < terms.rate < _MOST:
        yield "$.rate", f"hourly rate {terms.rate} cannot be used", "give an amount above zero"
    if _unusable(terms.minimum):
        yield "$.minimum", f"minimum {terms.minimum} cannot be used", "give 0 or more"
    if _unusable(terms.parts_markup, Decimal(1000)):
        yield "$.parts_markup", f"mark-up {terms.parts_markup} cannot be used", "give percent, 0 up"
    if not 0 < terms.valid_days <= 3650:
        yield "$.valid_days", f"{terms.valid_days} days cannot be used", "give 1 to 3650"
    for index, allowance in enumerate(terms.allowance):
        where = f"$.allowance[{index}]"
        if (allowance.amount is None) == (allowance.percent is None):
            what = f"allowance {allowance.title!r} needs an amount or a percent"
            yield f"{where}.title", what, "give one of the two"
        elif _unusable(allowance.amount or allowance.percent or Decimal(0)):
            yield (
                f"{where}.title",
                f"allowance {allowance.title!r} cannot be used",
                "give 0 or more",
            )
    for index, tax in enumerate(terms.tax):
        if _unusable(tax.percent, Decimal(100)):
            what = f"tax {tax.title!r} of {tax.percent} percent cannot be used"
            yield f"$.tax[{index}].percent", what, "give 0 to 100"


def _unusable(value: Decimal, most: Decimal = _MOST) -> bool:
    return not value.is_finite() or not 0 <= value <= most
