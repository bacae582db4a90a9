"""Findings said back in plain bench words, so that they can be heard and put right.

The opposite of `Parser.parse`: what is rendered here is understood there as
the finding that it was.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import isfinite

from benchvoice.grammar.pack import plural_of
from benchvoice.grammar.spoken import (
    cardinal,
    decimal_ways,
    digit_by_digit,
    inches_ways,
    ordinal,
    thread_ways,
)
from benchvoice.remark import Amount, Finding, Measure, Size

_UNITS = {
    **{"in": "inches", "mm": "millimeters", "um": "microns", "ft-lb": "foot pounds"},
    **{"in-lb": "inch pounds", "Nm": "newton meters", "psi": "p s i", "kPa": "kilopascals"},
    **{"degF": "degrees fahrenheit", "degC": "degrees celsius", "lbf": "pounds force"},
    **{"N": "newtons", "deg": "degrees", "L": "liters"},
}
"""Units as they are said, where not as they are written."""
_IRREGULAR = {"tooth": "teeth", "foot": "feet", "half": "halves"}
_WITH_ARTICLE = ("under", "behind", "between", "above", "below", "beneath", "beside", "by")
_MOST_SAID, _MOST_RANKED = 999_999, 999
"""The largest cardinal and ordinal that have words."""
_EXACT = (1, 2, 4, 8, 16, 32, 64)


def render(finding: Finding) -> str:
    """Say a finding: "eight bolts three eighths sixteen, at the front cover, removed".

    Numbers are in words, in lower case, with commas where a pause helps; empty
    for a finding of nothing.  What only follows from the rest (notes, SI
    values) is not said.
    """
    return ", ".join(piece for piece in _pieces(finding) if piece)


def _pieces(finding: Finding) -> Iterator[str]:
    said = [_named(finding)] if finding.part or finding.size else []
    said += [measure_words(finding.measure)] if finding.measure else []
    yield " with ".join(said)
    if finding.stack:
        yield "order is " + " then ".join(finding.stack)
    if finding.place:
        yield _at(finding.place)
    if finding.side:
        yield f"on the {finding.side}"
    yield " and ".join(finding.all_conditions)
    yield _facing(finding.orientation or "")
    if not (finding.measure and finding.action == "measured"):
        yield finding.action or ""
    if finding.mark:
        yield f"with a {finding.mark}"
    if finding.tool:
        yield f"with the {finding.tool}"
    if finding.group:
        yield f"as a {finding.group}"
    yield finding.disposition or ""
    if finding.container:
        yield _into(finding.container)


def _named(finding: Finding) -> str:
    """Say which and how many of the part, and of what size."""
    which = ""
    if finding.ordinal is not None:
        which = f"the {_ordinal(finding.ordinal)}"
    many = finding.count is not None and finding.count != 1
    size = finding.size or Size()
    diameter = amount_words(size.diameter) if size.diameter else ""
    count = "" if finding.count is None else _number(finding.count)
    name = (_plural(finding.part) if many else finding.part) if finding.part else ""
    words = [
        which,
        count,
        (size.relative or "") if name else "",
        name,
        f"of {diameter} diameter" if diameter else "",  # before the name it may run into the count
        size_words(size, named=bool(name)),
    ]
    return " ".join(word for word in words if word)


def size_words(size: Size, *, named: bool = False) -> str:
    """Say a size: "three eighths sixteen by inch and a quarter long, nine sixteenths head".

    The diameter is left out, and with `named` also "short" and the like: they are said
    next to the name.
    """
    words = [] if named or not size.relative else [size.relative]
    thread = _thread(size.thread) if size.thread else ""
    if size.length:
        words.append(f"{f'{thread} by ' if thread else ''}{amount_words(size.length)} long")
    elif thread:
        words.append(thread)
    if size.across_flats:
        words.append(f"{amount_words(size.across_flats)} head")
    return ", ".join(words)


def measure_words(measure: Measure) -> str:
    """Say a measure: "end play twelve thou", "backlash six to eight thou"."""
    high = "" if measure.high is None else f" to {_number(measure.high)}"
    unit = _UNITS.get(measure.unit, measure.unit)
    return f"{measure.quantity} {_number(measure.value)}{high} {unit}"


def amount_words(amount: Amount) -> str:
    """Say a length as the trade does: "one and a quarter inches", "thirty millimeters"."""
    value = Fraction(amount.value).limit_denominator(64) if isfinite(amount.value) else Fraction(0)
    exact = float(value) == amount.value and value.denominator in _EXACT
    if amount.unit == "in" and exact and 0 < value <= _MOST_SAID:
        return inches_ways(value)[0 if value.denominator != 2 else -1]
    return f"{_number(amount.value)} {_UNITS.get(amount.unit, amount.unit)}"


def _ordinal(number: int) -> str:
    if number < 0:
        return "last"
    return ordinal(number) if 1 <= number <= _MOST_RANKED else f"number {number}"


def _number(value: float) -> str:
    if not isfinite(value):
        return str(value)
    if value == int(value) and 0 <= value <= _MOST_SAID:
        return cardinal(int(value))
    text = f"{value:.9f}".rstrip("0")
    whole, _, digits = text.partition(".")
    if not 0 <= value <= _MOST_SAID:
        return text
    return decimal_ways(text)[0] if digits else cardinal(int(whole))


def _thread(thread: str) -> str:
    try:
        ways = thread_ways(thread)
    except ValueError:
        return thread
    return ways[-1] if ways[-1].startswith("number ") else ways[0]  # no count before a size


def _plural(part: str) -> str:
    before, space, last = part.rpartition(" ")
    return before + space + _IRREGULAR[last] if last in _IRREGULAR else plural_of(part)


def _at(place: str) -> str:
    for preposition in ("next to", *_WITH_ARTICLE):
        if place.startswith(preposition + " "):
            return f"{preposition} the {place.removeprefix(preposition + ' ')}"
    return f"at the {place}"


def _facing(orientation: str) -> str:
    """Put the article back: "lip toward hub" was said "lip toward the hub"."""
    return orientation.replace(" toward ", " toward the ")


def _into(container: str) -> str:
    kind, space, label = container.rpartition(" ")
    if label.isdecimal():
        number = int(label)
        long = len(label) > len(str(number)) or number > _MOST_SAID
        return f"in {kind} {digit_by_digit(label) if long else cardinal(number)}"
    labelled = len(label) == 1 or label == "side"
    return f"in {container}" if space and labelled else f"in the {container}"
