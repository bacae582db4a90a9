"""How often which number is said: counts, readings by unit, and sizes.

The shares are common practice, no source; they only shape what the speech
engine expects and are no limits of anything.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from benchvoice.grammar.spoken import (
    cardinal,
    cardinal_ways,
    decimal_ways,
    fraction_ways,
    inches_ways,
    run_together,
    size_text_ways,
    thread_ways,
)
from benchvoice.grammar.vocabulary import Unit


class Said(NamedTuple):
    """Words, what they mean (by the slot they are for), and how often they come up."""

    words: str
    value: Any
    weight: float = 1.0


_COUNTS: dict[int, float] = {
    **{2: 10, 3: 6, 4: 12, 5: 5, 6: 12, 7: 4, 8: 14, 9: 3, 10: 8, 11: 2, 12: 10, 14: 4, 16: 5},
    **{18: 3, 20: 3, 24: 3, 28: 1, 30: 1, 32: 1, 36: 1, 40: 0.5, 48: 0.5},
}
_GROUPS = {"a couple of": 2, "a pair of": 2, "half a dozen": 6, "a dozen": 12, "two dozen": 24}

INCH_THREADS = (
    *("1/4-20", "5/16-18", "3/8-16", "1/2-13", "7/16-14", "9/16-12", "5/8-11", "3/4-10"),
    *("1/4-28", "5/16-24", "3/8-24", "7/16-20", "1/2-20", "5/8-18", "3/4-16", "7/8-14"),
    *("10-32", "10-24", "8-32", "6-32", "12-24"),
)
METRIC_THREADS = (
    *("M6", "M8", "M10", "M12", "M16", "M5", "M4", "M20"),
    *("M6x1", "M8x1.25", "M10x1.5", "M12x1.75", "M8x1", "M10x1.25", "M12x1.5", "M14x2", "M16x2"),
)
"""Threads that come up, the likely ones first (ASME B1.1, ISO 261; written from memory)."""

_INCH_LENGTHS = (
    *("1/2", "5/8", "3/4", "7/8", "1", "1 1/4", "1 1/2", "1 3/4", "2", "2 1/4", "2 1/2", "2 3/4"),
    *("3", "3 1/2", "4", "5", "6"),
)
_MM_LENGTHS = (10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 65, 70, 80, 90, 100, 120)
_INCH_HEADS = ("7/16", "1/2", "9/16", "5/8", "3/4", "15/16", "11/16", "13/16", "7/8", "1 1/8")
_MM_HEADS = (8, 10, 13, 17, 19, 22, 24, 27, 30, 32)
_DIAMETERS = ("1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4")


def counts(*, joined: bool) -> list[Said]:
    """Give the counts from two up; `joined` ones may be "a couple of" what follows."""
    weights = {n: _COUNTS.get(n, 1.5 if n < 25 else 0.08) for n in range(2, 100)}
    weights |= dict.fromkeys([*range(100, 125), *range(130, 401, 10), 500, 1000], 0.03)
    pool = [Said(w, n, weight * share) for n, weight in weights.items() for w, share in _ways(n)]
    if joined:
        pool += [Said(words, number, 0.4) for words, number in _GROUPS.items()]
    return pool


def readings(unit: Unit) -> list[Said]:
    """Give likely readings in a unit, without its words: value is a float, or (low, high)."""
    pool: list[Said] = _RANGES.get(unit.name, _any_reading)()
    whole = [said for said in pool if isinstance(said.value, int) and said.value > 1]
    for low, high in zip(whole[::3], whole[2::3], strict=False):
        if high.value > low.value:
            value = (low.value, high.value)
            pool.append(Said(f"{low.words} to {high.words}", value, 0.2 * low.weight))
    return pool


def reading_near(unit: Unit, low: float, high: float, rng: random.Random) -> Said:
    """Give a reading about the limits `low` to `high`, as finely as the unit is read."""
    value = rng.uniform(0.7 * low, 1.4 * high)
    step = _STEPS.get(unit.name, 1.0)
    if step >= 1:
        number = max(1, round(value / step)) * int(step)
        return Said(rng.choice(cardinal_ways(number)), number)
    text = f"{max(step, value):.{3 if step < 0.01 else 2}f}"
    return Said(rng.choice(decimal_ways(text)), float(text))


def unit_words(unit: Unit) -> list[Said]:
    """Give the ways to say a unit after a number, the first the usual one."""
    return [Said(say, unit.name, 3.0 if say == unit.say[0] else 0.5) for say in unit.say]


def sizes(*, leads: bool) -> list[Said]:
    """Give sizes: those before their fastener ("three eighths sixteen") or those after it."""
    pool = [*_threads(INCH_THREADS, 1.0), *_threads(METRIC_THREADS, 0.6)]
    if leads:
        for text in _DIAMETERS:
            value = {"diameter": _amount(text, "in")}
            pool += [Said(w, value, 0.4) for w in inches_ways(_inches(text)) if "of" not in w]
        return pool
    lengths = [said for text in _INCH_LENGTHS for said in _length(f"{text} in")]
    metric = [said for number in _MM_LENGTHS for said in _length(f"{number} mm")]
    pool += [Said(f"{w} long", value, weight) for w, value, weight in (*lengths, *metric)]
    for text in [f"{t} in" for t in _INCH_HEADS] + [f"{n} mm" for n in _MM_HEADS]:
        pool += head_ways(text, 0.5)
    for threads, by in ((INCH_THREADS, lengths), (METRIC_THREADS, metric)):
        for at, thread in enumerate(_threads(threads, 0.3)):
            length = by[at * 7 % len(by)]
            words = f"{thread.words} by {length.words}"
            pool.append(Said(words, {**thread.value, **length.value}, thread.weight))
    return pool


def sizes_of(thread: str | None, length: str | None, head: str | None) -> list[Said]:
    """Give the ways to say a size that an outline has: "3/8-16", "1 1/4 in", "9/16 in"."""
    pool = _threads([thread], 1.0) if thread else []
    if length:
        long = _length(length)
        pool += [Said(f"{said.words} long", said.value, said.weight) for said in long]
        if thread:
            both = [(one, two) for one in _threads([thread], 1.0) for two in long]
            pool += [Said(f"{a.words} by {b.words}", {**a.value, **b.value}) for a, b in both]
    return pool + (head_ways(head, 0.5) if head else [])


def head_ways(text: str, weight: float) -> list[Said]:
    """Give the ways to say a width across flats."""
    number, _, unit = text.rpartition(" ")
    value = {"across_flats": _amount(number, unit)}
    ways = [way for way in size_text_ways(text) if "inches" not in way and "of an" not in way]
    return [Said(f"{way} head", value, weight / len(ways)) for way in ways]


def _ways(number: int) -> list[tuple[str, float]]:
    ways = cardinal_ways(number)
    return [(way, 1.0 / len(ways)) for way in ways]


def _threads(threads: Sequence[str], weight: float) -> list[Said]:
    pool: list[Said] = []
    for place, thread in enumerate(threads):
        ways = thread_ways(thread)
        share = weight * 4 / (3 + place) / len(ways)
        pool += [Said(way, {"thread": thread}, share) for way in ways]
    return pool


def _length(text: str) -> list[Said]:
    number, _, unit = text.rpartition(" ")
    ways = size_text_ways(text)
    value = {"length": _amount(number, unit)}
    return [Said(way, value, 1.0 / len(ways)) for way in ways]


def _amount(number: str, unit: str) -> dict[str, Any]:
    return {"value": float(_inches(number)), "unit": unit}


def _inches(number: str) -> Fraction:
    return sum((Fraction(part) for part in number.split()), Fraction(0))


def _numbers(values: Sequence[int], weight: float = 1.0) -> list[Said]:
    """Smaller ones are likelier."""
    return [
        Said(way, number, weight * share * 20 / (20 + at))
        for at, number in enumerate(values)
        for way, share in _ways(number)
    ]


def _decimals(texts: Sequence[str], weight: float = 1.0) -> list[Said]:
    pool = []
    for text in texts:
        ways = decimal_ways(text)
        pool += [Said(way, float(text), weight / len(ways)) for way in ways]
    return pool


def _together(values: Sequence[int]) -> list[Said]:
    """Add "one twenty five" and "twelve fifty" to the usual ways."""
    short = [Said(way, n, 0.5) for n in values if (way := run_together(n))]
    return _numbers(values) + short


def _thou() -> list[Said]:
    halves = [Fraction(number, 2) for number in range(3, 31, 2)]
    pool = [Said(f"{cardinal(n)} tenths of a", n / 10, 0.1) for n in range(2, 10)]
    pool += _numbers(range(1, 101), 2.0) + _decimals(
        [f"{n / 10:.1f}" for n in range(5, 40, 5)], 0.1
    )
    for half in halves:
        pool += [Said(way, float(half), 0.1) for way in fraction_ways(half)]
    return pool


def _inch() -> list[Said]:
    small = [f"{n / 1000:.3f}" for n in (*range(1, 31), *range(32, 131, 3))]
    large = [f"{n / 1000:.3f}" for n in range(750, 4500, 125)]
    eighths = [Fraction(number, 8) for number in range(1, 40) if number % 8]
    whole = [Said(way, float(f), 0.2) for f in eighths for way in fraction_ways(f)]
    return _decimals(small) + _decimals(large, 0.5) + whole


def _millimeter() -> list[Said]:
    small = [f"{n / 100:.2f}" for n in range(2, 100, 3)] + [f"{n / 10:.1f}" for n in range(1, 50)]
    return _decimals(small) + _numbers(range(1, 121), 0.5)


def _bar() -> list[Said]:
    return _numbers(range(1, 41)) + _decimals([f"{n / 10:.1f}" for n in range(5, 200, 10)], 0.3)


def _any_reading() -> list[Said]:
    return _numbers(range(1, 101))


_RANGES: dict[str, Callable[[], list[Said]]] = {
    "thou": _thou,
    "in": _inch,
    "mm": _millimeter,
    "um": lambda: _numbers(range(5, 105, 5)),
    "ft-lb": lambda: _together([*range(5, 255, 5), 8, 12, 18, 22, 28, 32, 37, 300, 350]),
    "in-lb": lambda: _together(range(5, 255, 5)),
    "Nm": lambda: _together([*range(5, 255, 5), 8, 12, 22, 27, 34, 300, 340]),
    "psi": lambda: _together([*range(10, 405, 5), *range(450, 1001, 50), 1200, 1250, 1500]),
    "bar": _bar,
    "kPa": lambda: _together(range(100, 2501, 50)),
    "degF": lambda: _together(range(60, 355, 5)),
    "degC": lambda: _together(range(20, 185, 5)),
    "lbf": lambda: _numbers(range(5, 205, 5)),
    "N": lambda: _numbers(range(50, 1001, 50)),
    "deg": lambda: _numbers([*range(1, 10), *range(10, 95, 5), 120, 180]),
}
_STEPS = {"in": 0.001, "mm": 0.01, "thou": 1.0, "psi": 5.0, "ft-lb": 1.0, "bar": 1.0, "kPa": 50.0}
