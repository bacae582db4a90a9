"""A quote given before the unit was opened, revised from what the teardown found.  Pure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
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

    A part that was quoted and is not asked for any more is taken off.  Raises
    BadInput when the terms are not those of the quote given.
    """
    _check_same_terms(given, terms)
    now = [price_part(item, prices or PriceList(), terms) for item in _together(found)]
    added = [_labour_line(item, terms) for item in labour]
    worked = given.labour_total - given.to_minimum + total_of(line.money for line in added)
    after = bill(at_least_minimum(worked, terms), total_of(line.money for line in now), terms)
    return Supplement(
        given_on=given.given_on,
        revised_on=on,
        currency=given.currency,
        title=given.title,
        job=given.job,
        invented=given.invented,
        lines=(*part_changes(given.parts, now), *added),
        before=given.total,
        after=after.total,
    )


def part_changes(given: Sequence[PartLine], now: Sequence[PartLine]) -> list[SupplementLine]:
    """Compare the parts of a quote with those `now` (one line a part), what is taken off last."""
    quoted = _quoted(given)
    found = {_key(line.needed): line for line in now}
    lines = [line for key, own in found.items() for line in _part_change(quoted.get(key), own)]
    return lines + [_taken_off(line) for key, line in quoted.items() if key not in found]


def _check_same_terms(given: PricedQuote, terms: Terms) -> None:
    if (terms.rate, terms.currency) != (given.rate, given.currency):
        raise BadInput(
            f"the quote was given at {given.rate} {given.currency} an hour, "
            f"these terms have {terms.rate} {terms.currency}",
            mend="revise it with the terms that it was given with",
        )


def _together(found: Sequence[Needed]) -> list[Needed]:
    """Join what was said of the same part twice; the counts add up, where one was said."""
    counts: Counter[tuple[str, str, str, str]] = Counter()
    first: dict[tuple[str, str, str, str], Needed] = {}
    for item in found:
        first.setdefault(_key(item), item)
        counts[_key(item)] += 1 if item.count is None else item.count
    return [
        item if counts[key] in (item.count, 1) else replace(item, count=counts[key])
        for key, item in first.items()
    ]


def _quoted(parts: Sequence[PartLine]) -> dict[tuple[str, str, str, str], PartLine]:
    """Join the lines of a quote that are of the same part; without a price it stays without."""
    joined: dict[tuple[str, str, str, str], PartLine] = {}
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


def _part_change(before: PartLine | None, now: PartLine) -> list[SupplementLine]:
    needed = now.needed
    if before is None:
        return [_line("added", now, now.money)]
    if now.count == before.count:
        return []
    change: Change = "more" if now.count > before.count else "no longer"
    if now.money is None or before.money is None:
        return [_line(change, now, None)]
    what = f"{described(needed)}: {now.count}, quoted {before.count}"
    return [
        SupplementLine(
            change=change,
            what=what,
            why=needed.why,
            money=now.money - before.money,
            entry=needed.entry,
            clip=needed.clip,
        )
    ]


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


def _key(needed: Needed) -> tuple[str, str, str, str]:
    work = "" if needed.work in MADE_NEW else needed.work
    return needed.part, needed.place, needed.size, work
