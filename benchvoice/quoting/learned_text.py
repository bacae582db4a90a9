"""What the quote has learned, in words: promise, drivers of the range, conditions, practice."""

from __future__ import annotations

from textwrap import fill

from benchvoice.quoting.lines import WIDTH, points
from benchvoice.quoting.quote import Adder, Practice, Promise, Quote

DRIVERS = 5
"""So many of the largest are shown."""


def learned_lines(quote: Quote) -> list[str]:
    """Give the lines, each group after an empty one; nothing where there is nothing to say."""
    lines: list[str] = []
    if quote.promise is not None:
        lines += ["", fill(_promise(quote.promise), WIDTH)]
    if quote.drivers:
        lines += ["", "What makes the whole job uncertain (share of its variance):"]
        lines += [
            fill(
                one.name, WIDTH, initial_indent=f"  {one.share:>4.0%}  ", subsequent_indent=" " * 8
            )
            for one in quote.drivers[:DRIVERS]
        ]
        rest = sum(one.share for one in quote.drivers[DRIVERS:])
        if rest:
            lines.append(f"  {rest:>4.0%}  {len(quote.drivers) - DRIVERS} smaller ones together")
    if quote.adders:
        lines += ["", "What was found and what it added, in past sessions:"]
        lines += points(map(_adder, quote.adders))
    if quote.practice is not None:
        lines += ["", fill(_practice(quote.practice), WIDTH)]
    return lines


def _promise(promise: Promise) -> str:
    return (
        f"Promised {promise.hours:g} hours: {promise.over:.0%} of such jobs take longer "
        f"({promise.over * 10:.0f} of 10)."
    )


def _adder(adder: Adder) -> str:
    what = "adds" if adder.minutes >= 0 else "saves"
    low, high = sorted((abs(adder.low), abs(adder.high)))
    if (adder.low < 0) != (adder.high < 0):
        low = 0.0
    return (
        f"{adder.title}: {adder.condition} {what} {abs(adder.minutes):.0f} min "
        f"({low:.0f} to {high:.0f}), found in {adder.found} of {adder.timed}."
    )


def _practice(practice: Practice) -> str:
    low, high = ((factor - 1) * 100 for factor in (practice.low, practice.high))
    used = "the quote counts on it." if practice.counted else "not counted on."
    return (
        f"Practice, over {practice.repeats} repeats: each doubling changes the time by "
        f"{(practice.factor - 1) * 100:+.0f}% (8 of 10 times {low:+.0f}% to {high:+.0f}%), {used}"
    )
