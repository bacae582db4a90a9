"""The quote as plain text for an 80-column terminal."""

from __future__ import annotations

from decimal import Decimal
from textwrap import fill

from benchvoice.quoting.learned_text import learned_lines
from benchvoice.quoting.lines import WIDTH, note_lines
from benchvoice.quoting.quote import Price, Quote, Range, StepQuote, published

TITLE = 45
MARKS = {"timed": " ", "book": "*", "none": "?"}


def quote_text(quote: Quote) -> str:
    """Give the quote as lines of at most 80 columns, ending in a newline."""
    head = fill(f"Labour quote: {quote.title} ({quote.outline})", WIDTH)
    lines = [head, fill(_rests_on(quote), WIDTH), ""]
    lines.append(_row("step (minutes)", "timed", ("P50", "P80", "P90")))
    lines += [_step_row(step) for step in quote.steps]
    lines += ["", *_total_rows(quote.total)]
    if quote.price is not None:
        lines += _price_rows(quote.price)
    lines += ["", *(fill(line, WIDTH) for line in _explained(quote))]
    lines += learned_lines(quote)
    lines += note_lines(quote.notes)
    return "\n".join(lines) + "\n"


def hours_minutes(minutes: float) -> str:
    """Write minutes as hours:minutes, rounded half up: 95.5 is "1:36"."""
    whole = int(published(minutes, Decimal(1)))
    return f"{whole // 60}:{whole % 60:02d}"


def _rests_on(quote: Quote) -> str:
    if quote.sessions == 0:
        if all(step.basis == "none" for step in quote.steps):
            return "Rests on no past session and no book minutes: hardly more than a guess."
        return "Rests on no past session, on book minutes only; so the range is wide."
    count = "1 past session" if quote.sessions == 1 else f"{quote.sessions} past sessions"
    return f"Rests on {count}."


def cut(title: str) -> str:
    """Shorten a title to its column."""
    return title if len(title) <= TITLE else title[: TITLE - 2].rstrip() + ".."


def _row(title: str, n: str, cells: tuple[str, str, str]) -> str:
    return f"{title:<{TITLE}} {n:>5}" + "".join(f" {cell:>7}" for cell in cells)


def _cells(given: Range) -> tuple[str, str, str]:
    tenth = Decimal("0.1")
    p50, p80, p90 = (str(published(p, tenth)) for p in (given.p50, given.p80, given.p90))
    return p50, p80, p90


def _step_row(step: StepQuote) -> str:
    row = _row(cut(step.title), f"{step.n}x", _cells(step.range))
    return f"{row}  {MARKS[step.basis]}".rstrip()


def _total_rows(total: Range) -> list[str]:
    times = (hours_minutes(total.p50), hours_minutes(total.p80), hours_minutes(total.p90))
    return [_row("whole job, minutes", "", _cells(total)), _row("whole job, h:mm", "", times)]


def _price_rows(price: Price) -> list[str]:
    unit = f" {price.currency}" if price.currency else ""
    label = f"labour at {price.rate}{unit} an hour"
    cells = (str(price.p50), str(price.p80), str(price.p90))
    if len(label) > TITLE + 6 or max(map(len, cells)) > 7:
        return [label + ":", "  P50 {}   P80 {}   P90 {}".format(*cells)]
    return [_row(label, "", cells)]


def _explained(quote: Quote) -> list[str]:
    total = quote.total
    apart = sum(step.range.p80 for step in quote.steps)
    lines = [
        f"P50: half of such jobs take no longer than {hours_minutes(total.p50)}. "
        f"P80: 8 of 10 take no longer than {hours_minutes(total.p80)}. "
        f"P90: 9 of 10 take no longer than {hours_minutes(total.p90)}.",
        f"The whole job's range is not the sum of the rows (their P80 add up to "
        f"{hours_minutes(apart)}): not every step runs late on the same job.",
    ]
    if quote.price is not None:
        lines.append("The price is labour only, rounded half up to cents.")
    return lines + _untimed(quote)


def _untimed(quote: Quote) -> list[str]:
    lines = []
    book = [step.title for step in quote.steps if step.basis == "book"]
    none = [step.title for step in quote.steps if step.basis == "none"]
    of_all = f"of {len(quote.steps)} steps"
    if book:
        lines.append(f"* {len(book)} {of_all} rest on book minutes only, none timed yet.")
    if none:
        lines.append(
            f"? {len(none)} {of_all} have neither book minutes nor a timing; "
            "they are guessed from the other steps."
        )
    return lines
