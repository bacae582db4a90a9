"""A priced quote and a supplement as plain text of 80 columns."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

from benchvoice.pricing.supplement import Supplement
from benchvoice.pricing.values import Outcome, PartLine, PricedQuote, described
from benchvoice.pricing.words import (
    INVENTED,
    about,
    lacking_text,
    level_text,
    money_text,
    percent_range,
    stands_text,
    why_text,
)
from benchvoice.quoting.text import hours_minutes
from benchvoice.sheets.layout import counted, marked, titled, wrapped

WIDTH = 80
_MONEY = 12


def priced_text(quote: PricedQuote) -> str:
    """Give the quote as lines of at most 80 columns, ending in a newline."""
    lines = [line for text in _heading(quote) for line in wrapped("", text, WIDTH)]
    lines += ["", _row(f"Labour, {level_text(quote.stands_on)}", quote.currency)]
    lines += [
        _row(f"  {line.title}  {hours_minutes(float(line.minutes))} h", line.money)
        for line in quote.labour
    ]
    if quote.to_minimum:
        lines.append(_row("  to the minimum charge", quote.to_minimum))
    lines.append(_row("  labour", quote.labour_total))
    if quote.parts:
        lines += ["", "Parts and work sent out"]
        lines += [line for part in quote.parts for line in _part_rows(part)]
        lines.append(_row("  parts", quote.parts_total))
    lines += [""] if quote.allowances or quote.taxes else []
    lines += [_row(f"{item.title} ({item.how})", item.money) for item in quote.allowances]
    if quote.taxes:
        lines.append(_row("before tax", quote.before_tax))
        lines += [_row(f"{item.title} ({item.how})", item.money) for item in quote.taxes]
    total = f"TOTAL {lacking_text(quote)}".rstrip()
    lines += ["", _row(total, quote.total), "", "What it may come to"]
    lines += [_outcome_row(outcome) for outcome in quote.range]
    lines += wrapped("  ", stands_text(quote), WIDTH)
    lines += _listed("Taken as given", quote.assumptions)
    lines += _listed("Not in the price", quote.exclusions)
    lines += _listed("Left out of the timings, or worth a look", quote.notes)
    return "\n".join(lines) + "\n"


def supplement_text(supplement: Supplement) -> str:
    """Give the supplement as lines of at most 80 columns, ending in a newline."""
    head = f"Supplement to the quote of {supplement.given_on}: {supplement.title}"
    lines = [*wrapped("", head, WIDTH), f"Found on the bench, {supplement.revised_on}"]
    if supplement.invented:
        lines.append(INVENTED)
    lines += ["", "To be agreed before work goes on."]
    for line in supplement.lines:
        lines += ["", _row(f"{line.change}: {line.what}", money_text(line.money))]
        lines += wrapped("    why: ", why_text(line.why, line.entry, line.clip), WIDTH)
    if not supplement.lines:
        lines += ["", "Nothing changes."]
    lines += ["", _row("quoted", supplement.before), _row("now", supplement.after)]
    lines.append(_row("difference", f"{supplement.difference:+}"))
    if supplement.unpriced:
        open_lines = counted(supplement.unpriced, "line has", "lines have")
        lines += wrapped("", f"{open_lines} no price yet: not in the difference.", WIDTH)
    if supplement.undecided:
        lines += ["", "Found and not decided on yet: not in the difference."]
        lines += [line for text in supplement.undecided for line in wrapped("  - ", text, WIDTH)]
    return "\n".join(lines) + "\n"


def _heading(quote: PricedQuote) -> list[str]:
    dates = f"Given {quote.given_on}, valid until {quote.valid_until}"
    invented = INVENTED if quote.invented else ""
    lines = [quote.shop, f"Quote: {quote.title}", about(quote), dates, invented]
    return [line for line in lines if line]


def _part_rows(line: PartLine) -> list[str]:
    each = "" if line.each is None or line.count == 1 else f" at {line.each}"
    rows = [_row(f"  {line.count} x {described(line.needed)}{each}", money_text(line.money))]
    why = why_text(line.needed.why, line.needed.entry, line.needed.clip)
    return rows + (wrapped("      ", why, WIDTH - _MONEY) if why else [])


def _outcome_row(outcome: Outcome) -> str:
    title = f"  {percent_range(outcome.level)}: {hours_minutes(float(outcome.minutes))} h"
    return _row(title, outcome.money)


def _row(title: str, money: Decimal | str) -> str:
    room = WIDTH - _MONEY - 1
    text = title if len(title) <= room else title[: room - 3].rstrip() + "..."
    return f"{text:<{room}} {money!s:>{_MONEY}}".rstrip()


def _listed(title: str, texts: Iterable[str]) -> list[str]:
    return titled(title, marked("  - ", texts, WIDTH))
