"""What is written at the bench put into words that a voice says right."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction

from benchvoice.grammar.pack import Pack
from benchvoice.grammar.spoken import (
    cardinal,
    decimal_ways,
    digit_by_digit,
    fraction_ways,
    ordinal,
    size_text_ways,
    thread_ways,
)

_LONGEST = 6
"""A whole number of more digits is read digit by digit."""

_NUMBER = r"\d+ \d+/\d+|\d+/\d+|\d*\.\d+|\d+"
_WRITTEN = re.compile(
    r"(?<![\w./-])(?:"
    r"(?P<thread>\d+/\d+-\d+|\d{1,2}-\d{1,2}|M\d+(?:x\d+(?:\.\d+)?)?)"
    r"|(?P<ordinal>\d+)(?:st|nd|rd|th)"
    rf"|(?P<length>(?:{_NUMBER}) (?:in|mm))"
    rf"|(?P<number>{_NUMBER})(?P<percent> ?%)?(?: (?P<unit>[A-Za-z][A-Za-z-]*))?"
    r")(?![\w/-]|\.\d)"
)
_SIGNS = (("->", ","), (";", "."), (":", ","), ("(", ", "), (")", ", "), ('"', ""), ("_", " "))


def speakable(text: str, units: Mapping[str, str] | None = None) -> str:
    """Put figures, sizes, units and signs into words; `units` maps a unit's name to its word.

    >>> speakable("12 bolts, 3/8-16, 1 1/4 in long -> tray 4")
    'twelve bolts, three eighths sixteen, inch and a quarter long, tray four'
    """
    said = _WRITTEN.sub(lambda match: _words(match, units or {}), text)
    for sign, instead in _SIGNS:
        said = said.replace(sign, instead)
    said = re.sub(r"\s+", " ", said).strip()
    said = re.sub(r"(?: *,)+(?= *[,.?]|$)| +(?=[,.?])", "", said)
    return said.strip()


def unit_words(pack: Pack) -> dict[str, str]:
    """Give the word for each unit of a pack: the first of its ways of being said."""
    return {unit.name: unit.say[0] for unit in pack.unit if unit.say}


def _words(match: re.Match[str], units: Mapping[str, str]) -> str:
    ways: tuple[tuple[str | None, Callable[[str], str]], ...] = (
        (match["thread"], lambda written: thread_ways(written)[0]),
        (match["ordinal"], lambda written: ordinal(int(written))),
        (match["length"], lambda written: size_text_ways(written)[0]),
    )
    for written, say in ways:
        if written is not None:
            try:
                return say(written)
            except (ValueError, ZeroDivisionError):
                return match[0]
    said = _number(match["number"]) + (" percent" if match["percent"] else "")
    unit = match["unit"]
    return said if unit is None else f"{said} {units.get(unit, unit)}"


def _number(written: str) -> str:
    if "/" in written:
        whole, _, part = written.rpartition(" ")
        try:
            value = Fraction(part) + int(whole or 0)
            return fraction_ways(value)[0]
        except (ValueError, ZeroDivisionError):
            return written
    if "." in written:
        return decimal_ways(written)[0]
    if len(written) > _LONGEST or (written[0] == "0" and len(written) > 1):
        return digit_by_digit(written)
    return cardinal(int(written))
