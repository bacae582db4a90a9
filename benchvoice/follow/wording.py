"""Findings and counts in plain words, for answers and sheets."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.grammar.pack import plural_of
from benchvoice.remark import Amount, Finding, Measure, Size


def finding_text(finding: Finding) -> str:
    """Say a finding in words: "8 bolts, 3/8-16, front cover, removed -> tray 4".

    Gives "nothing" for an empty finding.
    """
    said = [
        _ordered_part(finding),
        *size_texts(finding.size),
        finding.side or "",
        finding.place if finding.part else "",
        *finding.all_conditions,
        "" if finding.measure and finding.action == "measured" else finding.action or "",
        measure_text(finding.measure) if finding.measure else "",
        finding.orientation or "",
        "order: " + ", ".join(finding.stack) if finding.stack else "",
        finding.mark or "",
        f"with {finding.tool}" if finding.tool else "",
        f"keep as {finding.group}" if finding.group else "",
        _DISPOSITIONS.get(finding.disposition or "", finding.disposition or ""),
        *(f"({note})" for note in finding.notes),
    ]
    text = ", ".join(piece for piece in said if piece)
    return f"{text} -> {finding.container}" if finding.container else text or "nothing"


_DISPOSITIONS = {
    "replace": "to replace",
    "reuse": "to reuse",
    "discard": "to discard",
    "send out": "to be sent out",
    "machine": "to the machine shop",
    "order": "to order",
    "decide": "to be decided",
}


def parts_text(part: str, count: int | None) -> str:
    """Say so many of a part.

    >>> parts_text("bolt", 12), parts_text("spool", 1), parts_text("bolt", None)
    ('12 bolts', '1 spool', 'bolt')
    """
    if count is None:
        return part
    return f"{count} {part if count == 1 else plural_of(part)}"


def listed(texts: Sequence[str], most: int, between: str = ", ") -> str:
    """Name at most so many, and say how many more there are.

    >>> listed(["a", "b", "c"], 2), listed(["a", "b"], 2)
    ('a, b and 1 more', 'a, b')
    """
    more = len(texts) - most
    return between.join(texts[:most]) + (f" and {more} more" if more > 0 else "")


def measure_text(measure: Measure) -> str:
    """Say a measure: "end play 12 thou", "backlash 10 to 15 thou"."""
    high = "" if measure.high is None else f" to {measure.high:g}"
    return f"{measure.quantity} {measure.value:g}{high} {measure.unit}"


def size_texts(size: Size | None) -> list[str]:
    """Say the parts of a size, one text each."""
    if size is None:
        return []
    amounts = [
        (size.length, "long"),
        (size.across_flats, "across flats"),
        (size.diameter, "diameter"),
    ]
    said = [f"{amount_text(amount)} {word}" for amount, word in amounts if amount]
    return [*filter(None, [size.thread, size.relative]), *said]


def amount_text(amount: Amount) -> str:
    """Say a length as it was said."""
    return amount.text or f"{amount.value:g} {amount.unit}"


def _ordered_part(finding: Finding) -> str:
    name = finding.part or finding.place or ""
    if finding.ordinal is None:
        return parts_text(name, finding.count) if finding.part else name
    return f"{ordinal_text(finding.ordinal)} {name}".strip()


def ordinal_text(number: int) -> str:
    """Say a place in a row; -1 is the last.

    >>> ordinal_text(2), ordinal_text(-1), ordinal_text(11), ordinal_text(23)
    ('2nd', 'last', '11th', '23rd')
    """
    if number == -1:
        return "last"
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"
