"""A quote given before the unit was opened, revised from what the teardown found.  Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Literal

from msgspec.structs import replace

from benchvoice.errors import BadInput
from benchvoice.pricing.price import (
    at_least_minimum,
    bill,
    labour_money,
    price_part,
    total_of,
)
from benchvoice.pricing.price_list import PriceList
from benchvoice.pricing.terms import Terms
from benchvoice.pricing.values import MADE_NEW, Needed, PartLine, PricedQuote, described
from benchvoice.remark import Frozen

Change = Literal["added", "more", "no longer", "labour"]
_NO_NUMBER = "no number was said, so it is one here: count before it is agreed"
_Key = tuple[str, str, str, str]
"""Part, place, size and work: what is the same in these is the same line."""


class AddedLabour(Frozen, frozen=True, kw_only=True):
    """Work that the findings bring: middle `minutes`, and why (the entry and its clip)."""

    title: str
    minutes: Decimal
    why: str
    entry: int | None = None
    clip: str | None = None


class SupplementLine(Frozen, frozen=True, kw_only=True):
    """One change against the quote given; `money` None when it still has to be priced."""

    change: Change
    what: str
    why: str
    money: Decimal | None
    entry: int | None = None
    clip: str | None = None


class Supplement(Frozen, frozen=True, kw_only=True):
    """What changes, to be agreed before work goes on.

    `before` and `after` are whole totals with allowances and taxes; `after`
    leaves out what is not priced yet.  `undecided` is what was found and will
    change it again once it is decided on.
    """

    given_on: date
    revised_on: date
    currency: str
    title: str
    job: str = ""
    invented: bool = False
    lines: tuple[SupplementLine, ...] = ()
    before: Decimal = Decimal(0)
    after: Decimal = Decimal(0)
    undecided: tuple[str, ...] = ()

    @property
    def difference(self) -> Decimal:
        """How much dearer; negative when it has become cheaper."""
        return self.after - self.before

    @property
    def unpriced(self) -> int:
        """How many lines have no price yet."""
        return sum(line.money is None for line in self.lines)


def revise(
    given: PricedQuote,
    found: Sequence[Needed],
    terms: Terms,
    *,
    on: date,
    prices: PriceList | None = None,
    labour: Sequence[AddedLabour] = (),
) -> Supplement:
    """Compare the parts needed now with those quoted, and add labour that the findings bring.

    A part that was quoted keeps its price, whatever the list says by now; one
    that is not asked for any more is taken off.  Raises BadInput when the terms
    are not those of the quote given.
    """
    _check_same_terms(given, terms)
    quoted = _quoted(given.parts)
    now = {
        _key(item): _at_quoted_price(
            price_part(item, prices or PriceList(), terms), quoted.get(_key(item))
        )
        for item in _together(found)
    }
    added = [_labour_line(item, terms) for item in labour]
    worked = given.labour_total - given.to_minimum + total_of(line.money for line in added)
    parts = total_of(line.money for line in now.values())
    after = bill(at_least_minimum(worked, terms), parts, terms)
    return Supplement(
        given_on=given.given_on,
        revised_on=on,
        currency=given.currency,
        title=given.title,
        job=given.job,
        invented=given.invented,
        lines=(*_part_changes(quoted, now), *added),
        before=given.total,
        after=after.total,
    )


def _part_changes(
    quoted: Mapping[_Key, PartLine], now: Mapping[_Key, PartLine]
) -> Iterator[SupplementLine]:
    """Compare the parts of a quote with those `now`, what is taken off last."""
    for key, own in now.items():
        yield from _part_change(quoted.get(key), own)
    yield from (_taken_off(line) for key, line in quoted.items() if key not in now)


def _at_quoted_price(line: PartLine, before: PartLine | None) -> PartLine:
    if before is None or before.each is None:
        return line
    return replace(line, each=before.each, money=before.each * line.count)


def _check_same_terms(given: PricedQuote, terms: Terms) -> None:
    mend = "revise it with the terms that it was given with"
    if (terms.rate, terms.currency) != (given.rate, given.currency):
        raise BadInput(
            f"the quote was given at {given.rate} {given.currency} an hour, "
            f"these terms have {terms.rate} {terms.currency}",
            mend=mend,
        )
    total = bill(given.labour_total, given.parts_total, terms).total
    if total != given.total:
        what = f"the quote comes to {given.total}, with the taxes and allowances of these terms to"
        raise BadInput(f"{what} {total}", mend=mend)


def _together(found: Sequence[Needed]) -> list[Needed]:
    """Join what was said of the same part twice; the counts add up, where one was said."""
    counts: Counter[_Key] = Counter()
    first: dict[_Key, Needed] = {}
    for item in found:
        first.setdefault(_key(item), item)
        counts[_key(item)] += 1 if item.count is None else item.count
    return [
        item if counts[key] in (item.count, 1) else replace(item, count=counts[key])
        for key, item in first.items()
    ]


def _quoted(parts: Sequence[PartLine]) -> dict[_Key, PartLine]:
    """Join the lines of a quote that are of the same part; without a price it stays without."""
    joined: dict[_Key, PartLine] = {}
    for line in parts:
        before = joined.get(_key(line.needed))
        if before is not None:
            known = before.money is not None and line.money is not None
            joined[_key(line.needed)] = replace(
                before,
                count=before.count + line.count,
                money=(before.money or 0) + (line.money or Decimal(0)) if known else None,
            )
        else:
            joined[_key(line.needed)] = line
    return joined


def _part_change(before: PartLine | None, now: PartLine) -> Iterator[SupplementLine]:
    if before is None:
        yield _line("added", now, now.money)
    elif before.money is None and now.money is not None:
        line = _line("added", now, now.money)
        yield replace(line, why=f"{line.why}; quoted without a price")
    elif now.count != before.count:
        change: Change = "more" if now.count > before.count else "no longer"
        money = None if now.money is None or before.money is None else now.money - before.money
        what = f"{described(now.needed)}: {now.count}, quoted {before.count}"
        yield replace(_line(change, now, money), what=what)


def _line(change: Change, line: PartLine, money: Decimal | None) -> SupplementLine:
    needed = line.needed
    uncounted = needed.count is None and needed.work in MADE_NEW
    return SupplementLine(
        change=change,
        what=f"{line.count} x {described(needed)}",
        why=f"{needed.why}; {_NO_NUMBER}" if uncounted else needed.why,
        money=money,
        entry=needed.entry,
        clip=needed.clip,
    )


def _labour_line(item: AddedLabour, terms: Terms) -> SupplementLine:
    return SupplementLine(
        change="labour",
        what=f"{item.title}, {item.minutes.normalize():f} min",
        why=item.why,
        money=labour_money(item.minutes, terms),
        entry=item.entry,
        clip=item.clip,
    )


def _taken_off(line: PartLine) -> SupplementLine:
    money = None if line.money is None else -line.money
    return SupplementLine(
        change="no longer",
        what=f"{line.count} x {described(line.needed)}",
        why="quoted, and not found to need it",
        money=money,
    )


def _key(needed: Needed) -> _Key:
    work = "" if needed.work in MADE_NEW else needed.work
    return needed.part, needed.place, needed.size, work
