"""A labour quote, the parts needed and the shop's terms made into a priced quote.  Pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from decimal import ROUND_DOWN, Decimal
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.pricing.price_list import PriceList
from benchvoice.pricing.terms import Level, Terms, check_terms
from benchvoice.pricing.values import (
    MADE_NEW,
    ROUNDING,
    Extra,
    LabourLine,
    Needed,
    Outcome,
    PartLine,
    PricedQuote,
    cents,
)
from benchvoice.quoting.quote import CENT, Quote, published
from benchvoice.sheets.layout import counted

LEVELS: tuple[Level, ...] = ("p50", "p80", "p90")


def price_quote(
    quote: Quote,
    outline: Outline,
    terms: Terms,
    *,
    on: date,
    needed: Sequence[Needed] = (),
    prices: PriceList | None = None,
    job: str = "",
    unit: str = "",
) -> PricedQuote:
    """Price a labour quote and parts by the shop's terms, as of the day `on`.

    Raises BadInput for terms that cannot be charged by, or such a day.
    """
    check_terms(terms)
    parts = tuple(price_part(item, prices or PriceList(), terms) for item in needed)
    parts_total = total_of(line.money for line in parts)
    labour = labour_lines(quote, outline, terms)
    worked = total_of(line.money for line in labour)
    charged = at_least_minimum(worked, terms)
    on_top = bill(charged, parts_total, terms)
    return replace(
        blank_quote(quote, outline, terms, on=on, job=job, unit=unit),
        labour=labour,
        labour_total=charged,
        to_minimum=charged - worked,
        parts=parts,
        parts_total=parts_total,
        allowances=on_top.allowances,
        before_tax=on_top.before_tax,
        taxes=on_top.taxes,
        total=on_top.total,
        range=tuple(_outcome(quote, terms, level, parts_total) for level in LEVELS),
        assumptions=(*_assumptions(quote, terms, parts), *terms.assumption, ROUNDING),
        exclusions=(*_exclusions(parts), *terms.exclusion),
    )


def blank_quote(
    quote: Quote, outline: Outline, terms: Terms, *, on: date, job: str, unit: str
) -> PricedQuote:
    """Give a priced quote with its head only: for what, as of when, by which terms.

    Raises BadInput for a day so late that there is none until which it could be valid.
    """
    try:
        valid_until = on + timedelta(days=terms.valid_days)
    except OverflowError:
        raise BadInput(f"no quote can be given on {on}", mend="give an earlier day") from None
    return PricedQuote(
        outline=quote.outline,
        title=quote.title,
        sessions=quote.sessions,
        given_on=on,
        valid_until=valid_until,
        currency=terms.currency,
        rate=terms.rate,
        stands_on=terms.stands_on,
        shop=terms.shop,
        job=job,
        unit=unit,
        invented=outline.invented,
        notes=quote.notes,
    )


def labour_money(minutes: Decimal, terms: Terms) -> Decimal:
    """Give what so many minutes of work cost, in cents."""
    return cents(minutes * terms.rate / 60)


def at_least_minimum(worked: Decimal, terms: Terms) -> Decimal:
    """Give what is charged for labour: what was `worked`, or the minimum."""
    return max(worked, cents(terms.minimum))


def total_of(values: Iterable[Decimal | None]) -> Decimal:
    """Add up money; what is not priced yet counts nothing."""
    return sum((value for value in values if value is not None), Decimal(0))


def price_part(needed: Needed, prices: PriceList, terms: Terms) -> PartLine:
    """Price one part; where no number was said it is priced as one."""
    count = 1 if needed.count is None else needed.count
    work = "" if needed.work in MADE_NEW else needed.work
    listed = prices.find(needed.part, place=needed.place, size=needed.size, work=work)
    if listed is None:
        return PartLine(needed=needed, count=count)
    each = cents(listed * (100 + terms.parts_markup) / 100)
    return PartLine(needed=needed, count=count, each=each, money=each * count)


class Bill(NamedTuple):
    """What comes on top of labour and parts, and the sums."""

    allowances: tuple[Extra, ...]
    before_tax: Decimal
    taxes: tuple[Extra, ...]
    total: Decimal


def bill(labour: Decimal, parts: Decimal, terms: Terms) -> Bill:
    """Reckon what comes on top of labour and parts."""
    base = {"labour": labour, "parts": parts}
    allowances = []
    for item in terms.allowance:
        if item.percent is not None:
            money = cents(total_of(base[name] for name in item.of) * item.percent / 100)
            how = f"{item.percent}% of {' and '.join(item.of)}"
        else:
            money, how = cents(item.amount or Decimal(0)), "fixed"
        allowances.append(Extra(title=item.title, how=how, money=money))
    base["allowances"] = total_of(item.money for item in allowances)
    taxes = tuple(
        Extra(
            title=tax.title,
            how=f"{tax.percent}% of {' and '.join(tax.of)}",
            money=cents(total_of(base[name] for name in tax.of) * tax.percent / 100),
        )
        for tax in terms.tax
    )
    before = labour + parts + base["allowances"]
    return Bill(tuple(allowances), before, taxes, before + total_of(tax.money for tax in taxes))


def labour_lines(quote: Quote, outline: Outline, terms: Terms) -> tuple[LabourLine, ...]:
    """Share the total among the stages by their middle times, so that the lines add up to it.

    The stages' own ranges do not add up to the range of the whole.
    """
    whole = published(getattr(quote.total, terms.stands_on))
    middle = {step.id: published(step.range.p50) for step in quote.steps}
    stages = [
        (stage.title, total_of(middle.get(step.id, Decimal(0)) for step in stage.step))
        for stage in outline.stage
        if stage.step
    ]
    of_all = total_of(minutes for _, minutes in stages)
    if not of_all:
        return ()
    money = labour_money(whole, terms)
    minute_shares = _shared(whole, [minutes for _, minutes in stages])
    money_shares = _shared(money, [minutes for _, minutes in stages])
    return tuple(
        LabourLine(title=title, minutes=minutes, money=amount)
        for (title, _), minutes, amount in zip(stages, minute_shares, money_shares, strict=True)
    )


def _outcome(quote: Quote, terms: Terms, level: Level, parts: Decimal) -> Outcome:
    minutes = published(getattr(quote.total, level))
    labour = at_least_minimum(labour_money(minutes, terms), terms)
    return Outcome(level=level, minutes=minutes, money=bill(labour, parts, terms).total)


def _shared(whole: Decimal, weights: Sequence[Decimal]) -> list[Decimal]:
    """Share `whole` by weight in hundredths that add up to it (largest remainder method)."""
    of_all = total_of(weights)
    exact = [whole * weight / of_all for weight in weights]
    shares = [value.quantize(CENT, ROUND_DOWN) for value in exact]
    left = int((whole - total_of(shares)) / CENT)
    order = sorted(range(len(exact)), key=lambda at: shares[at] - exact[at])
    for at in order[:left]:
        shares[at] += CENT
    return shares


def _assumptions(quote: Quote, terms: Terms, parts: Sequence[PartLine]) -> tuple[str, ...]:
    rests = (
        "The labour rests on book minutes only: no such job has been timed yet."
        if not quote.sessions
        else f"The labour rests on {quote.sessions} timed jobs of this kind."
        if quote.sessions > 1
        else "The labour rests on one timed job of this kind and on book minutes."
    )
    uncounted = [line for line in parts if line.needed.count is None]
    lines = [rests]
    if uncounted:
        have = counted(len(uncounted), "part was", "parts were")
        lines.append(f"{have} named without a number, and priced as one each.")
    if terms.parts_markup:
        lines.append(f"Parts are at list price plus {terms.parts_markup}%.")
    return tuple(lines)


def _exclusions(parts: Sequence[PartLine]) -> tuple[str, ...]:
    open_lines = [line for line in parts if line.money is None]
    if not open_lines:
        return ()
    have = counted(len(open_lines), "part or work has", "parts or works have")
    return (f"{have} no price yet: not in the total.",)
