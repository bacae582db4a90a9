"""Threads, lengths, heads and readings with their units, read from lexemes.

Each reader takes the lexemes, a position and the tokens, and gives what it
read with the position after it, or None.
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any, NamedTuple

from benchvoice.grammar.vocabulary import Unit
from benchvoice.language.fasteners import (
    after_fastener,
    fastener_at,
    of_fastener,
    uncounted_at,
)
from benchvoice.language.lexicon import Lexeme, senses_at
from benchvoice.language.numbers import DIGITS, TENS, Exact, Number, fraction_text
from benchvoice.language.threads import METRIC_PITCHES, NUMBER_THREADS, is_inch_thread
from benchvoice.remark import Amount, Size

_TYPED_INCH = re.compile(r"#?(\d+(?:/\d+)?)-(\d+)")
_TYPED_METRIC = re.compile(r"m(\d+(?:\.\d+)?)((?:\s?x\s?\d+(?:\.\d+)?)*)")
_COARSE = 10
"""So many threads an inch may be a length in inches too: "seven eighths nine inch long"."""
_LARGEST_PITCH = 6.0
_LONGEST_THREAD = 16
"""In letters, as it is typed: "m10x1.25x120"."""
_OF_AMOUNT = frozenset({"unit", "long", "head", "thick"})
_RULE = frozenset({1, 2, 4, 8, 16, 32, 64})
"""Denominators of the inches that things are made in."""


class Reading(NamedTuple):
    """A number with a unit: `kind` is "reading", or "ambiguous" with its `readings`."""

    kind: str
    value: float
    unit: Unit | None
    high: float | None = None
    text: str = ""
    readings: tuple[str, ...] = ()
    fraction: Exact | None = None


def read_thread(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Size, int] | None:
    """Read "three eighths sixteen", "M eight by one twenty five", "3/8-16 x 1 1/4"."""
    for reader in (_typed_thread, _metric_thread, _inch_thread):
        found = reader(lexemes, at, tokens)
        if found is not None:
            thread, end, length = found
            if length is None:
                length, end = _length_after(lexemes, end, metric=thread.startswith("M"))
            return Size(thread=thread, length=length), end
    return None


def read_size(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Size, int] | None:
    """Read a length or width said as one: "inch and a quarter long", "nine sixteenths head"."""
    found = _value_with_unit(lexemes, at)
    if at > 0 and _by(lexemes, at - 1):
        return None  # "three eighths by one and a half bolts"
    if found is None:
        number = number_at(lexemes, at)
        if number is None or number.kind != "fraction" or number.value.denominator not in _RULE:
            return None
        value, unit, end = number.value, None, at + 1
    else:
        value, unit, end = found
    if end >= len(lexemes):
        return None
    if unit is not None and (unit.dimension != "length" or unit.name in ("thou", "um")):
        return None
    amount = amount_of(value, unit.name if unit else "in")
    senses = lexemes[end].senses
    if "long" in senses and (unit or "unit" not in senses):
        size = Size(length=amount)
        return size, end + 1
    wrench = "part" not in senses and _says(lexemes[end], tokens, "wrench", "socket", "spanner")
    if "head" in senses or wrench:
        return Size(across_flats=amount), end + 1
    across = _says(lexemes[end], tokens, "diameter", "shank")
    if across and (fastener_at(lexemes, end + 1) or of_fastener(lexemes, at)):
        return Size(diameter=amount), end + 1
    if "thick" in senses or "quantity" in senses:
        return None
    if fastener_at(lexemes, end) and (unit or value < 1):
        return Size(diameter=amount), end
    return None


def read_amount(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Reading, int] | None:
    """Read a number or range with its unit; tenths are ambiguous, never guessed."""
    tenths = _tenths(lexemes, at, tokens)
    if tenths is not None:
        return tenths
    low = _value_with_unit(lexemes, at)
    if low is None:
        ranged = _range(lexemes, at)
        if ranged is None:
            return None
        first, (value, unit, end) = ranged
        reading = Reading("reading", float(first), unit, float(value), fraction=first)
        return reading, end
    value, unit, end = low
    text = " ".join(tokens[lexemes[at].start : lexemes[end - 1].end])
    if "mil" in text.split() or "mils" in text.split():
        number = f"{float(value):g}"
        return Reading(
            "ambiguous", 0, None, text=text, readings=(f"{number} mm", f"{number} thou")
        ), end
    ranged_after = _range(lexemes, at)
    if ranged_after is not None and ranged_after[1][2] > end:
        first, (high, unit, end) = ranged_after
        return Reading("reading", float(first), unit, float(high), fraction=first), end
    return Reading("reading", float(value), unit, text=text, fraction=value), end


def read_doubt(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Reading, int] | None:
    """Read what has two readings: "twenty three quarter inch", "forty two inch bolts"."""
    number = number_at(lexemes, at)
    if number is None:
        return None
    end = at + 1
    inches = _so_many_of_inches(lexemes, at)
    if inches is not None:
        readings, end = inches
    elif number.kind == "doubt":
        while end < len(lexemes) and not _OF_AMOUNT.isdisjoint(lexemes[end].senses):
            end += 1
        readings = tuple((number.text or "").split(" | "))
    else:
        unit, words = _unit_name(lexemes, end), tokens[lexemes[at].start : lexemes[at].end]
        if unit not in ("in", "mm") or len(words) != 2 or words[0] not in TENS:
            return None
        counted = at > 0 and "number" in lexemes[at - 1].senses
        noun = end + 2 if unit == "in" and _long_at(lexemes, end + 1) else end + 1
        if counted or words[1] not in DIGITS or not fastener_at(lexemes, noun, plural=True):
            return None
        end += 1
        readings = f"{number.value} {unit}", f"{TENS[words[0]]} of {DIGITS[words[1]]} {unit}"
    text = " ".join(tokens[lexemes[at].start : lexemes[end - 1].end])
    return Reading("ambiguous", 0, None, text=text, readings=readings), end


def _so_many_of_inches(lexemes: list[Lexeme], at: int) -> tuple[tuple[str, ...], int] | None:
    """ "Eight inch and a half bolts": 8 1/2 in, or eight of 1 1/2 in, unless they are counted."""
    number, found = number_at(lexemes, at), _value_with_unit(lexemes, at)
    if number is None or number.kind != "cardinal" or number.value < 2 or found is None:
        return None
    value, unit, end = found
    if value == number.value or unit.name != "in" or (at and "number" in lexemes[at - 1].senses):
        return None
    noun = end + 1 if _long_at(lexemes, end) else end
    others = number_at(lexemes, noun) is not None
    behind = at > 0 and uncounted_at(lexemes, at - 1) and noun == end
    if not (others or behind or fastener_at(lexemes, noun, plural=True)):
        return None
    each = fraction_text(value - number.value + 1)
    while _long_at(lexemes, end) or (
        others and (number_at(lexemes, end) or _unit_at(lexemes, end))
    ):
        end += 1  # "four two inch": no size of those before either
    return (f"{fraction_text(value)} in", f"{number.value} of {each} in"), end


def number_at(lexemes: list[Lexeme], at: int) -> Number | None:
    """The number at a position, if there is one."""
    if at >= len(lexemes):
        return None
    number = lexemes[at].senses.get("number")
    return number if isinstance(number, Number) and number.kind != "ordinal" else None


def _unit_at(lexemes: list[Lexeme], at: int) -> Unit | None:
    sense = senses_at(lexemes, at).get("unit")
    return sense.term if sense is not None and isinstance(sense.term, Unit) else None


def _value_with_unit(lexemes: list[Lexeme], at: int) -> tuple[Exact, Unit, int] | None:
    """Read "twelve thou", "a thou and a half", "inch and a quarter", "half a thou"."""
    number = number_at(lexemes, at)
    if number is None:
        unit = _unit_at(lexemes, at)
        more = _and_fraction(lexemes, at + 1) if unit else None
        if unit is None or (more is None and not _long_at(lexemes, at + 1)):
            article = unit is not None and at > 0 and _article(lexemes[at - 1])
            by = at > 1 and _by(lexemes, at - 2)
            alone = unit is not None and article and (unit.name == "thou" or by)
            return (1, unit, at + 1) if alone and unit else None
        return 1 + (more[0] if more else 0), unit, more[1] if more else at + 1
    after = at + 1
    while after < len(lexemes) and after < at + 3 and _small_word(lexemes[after]):
        after += 1
    unit = _unit_at(lexemes, after)
    if unit is None:
        return None
    if after > at + 1 and number.kind != "fraction":
        return None
    value, end = number.value, after + 1
    more = _and_fraction(lexemes, end)
    if more is not None and value.denominator == 1:
        value, end = value + more[0], more[1]
    return value, unit, end


def _article(lexeme: Lexeme) -> bool:
    return "article" in lexeme.senses


def _small_word(lexeme: Lexeme) -> bool:
    prep = lexeme.senses.get("prep")
    return _article(lexeme) or (prep is not None and prep.name == "of")


def _and_fraction(lexemes: list[Lexeme], at: int) -> tuple[Exact, int] | None:
    """Read "and a quarter" after a unit."""
    if at + 1 >= len(lexemes) or "conj" not in lexemes[at].senses:
        return None
    number = number_at(lexemes, at + 1)
    if number is None or number.kind != "fraction" or number.value >= 1:
        return None
    if at + 2 < len(lexemes) and _unit_at(lexemes, at + 2):
        return None
    return number.value, at + 2


def _range(lexemes: list[Lexeme], at: int) -> tuple[Exact, tuple[Exact, Unit, int]] | None:
    """Read "ten to fifteen thou", "ten thou to fifteen thou"."""
    low = number_at(lexemes, at)
    if low is None:
        return None
    after = at + 1
    if _unit_at(lexemes, after):
        after += 1
    if after >= len(lexemes) or not {"range", "conj"} & lexemes[after].senses.keys():
        return None
    conj = "range" not in lexemes[after].senses
    high = _value_with_unit(lexemes, after + 1)
    if high is None or high[0] <= low.value:
        return None
    between = at > 0 and getattr(lexemes[at - 1].senses.get("prep"), "name", "") == "between"
    return (low.value, high) if not conj or between else None


def _tenths(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Reading, int] | None:
    number = number_at(lexemes, at)
    if number is None or at + 1 >= len(lexemes) or "tenths" not in lexemes[at + 1].senses:
        return None
    after = at + 2
    while after < len(lexemes) and _small_word(lexemes[after]):
        after += 1
    unit = _unit_at(lexemes, after)
    if unit is not None:
        return Reading("reading", float(number.value / 10), unit), after + 1
    text = " ".join(tokens[lexemes[at].start : lexemes[at + 1].end])
    value = float(number.value)
    readings = (f"{value / 10:g} thou", f"{value / 10:g} in")
    return Reading("ambiguous", 0, None, text=text, readings=readings), at + 2


def _typed_thread(
    lexemes: list[Lexeme], at: int, tokens: list[str]
) -> tuple[str, int, Amount | None] | None:
    token = tokens[lexemes[at].start]
    if len(token) > _LONGEST_THREAD:
        return None
    inch = _TYPED_INCH.fullmatch(token)
    if inch:
        thread = _standard_inch(inch[1], int(inch[2]))
        return (thread, at + 1, None) if thread else None
    metric = _TYPED_METRIC.fullmatch(token)
    if not metric or "." in metric[1]:
        return None
    numbers = [Fraction(part.strip()) for part in metric[2].split("x") if part.strip()]
    pitch = numbers.pop(0) if numbers and numbers[0] <= _LARGEST_PITCH else None
    length = amount_of(numbers[0], "mm") if numbers else None
    return _metric_name(int(metric[1]), pitch), at + 1, length


def _metric_thread(
    lexemes: list[Lexeme], at: int, tokens: list[str]
) -> tuple[str, int, Amount | None] | None:
    if tokens[lexemes[at].start] != "m":
        return None
    number = number_at(lexemes, at + 1)
    if number is None or number.value not in METRIC_PITCHES:
        return None
    nominal, end = int(number.value), at + 2
    pitch, after = _pitch(lexemes, end + 1, nominal) if _by(lexemes, end) else (None, end)
    if pitch is None:
        return _metric_name(nominal, None), end, None
    return _metric_name(nominal, pitch), after, None


def _pitch(lexemes: list[Lexeme], at: int, nominal: int) -> tuple[Exact | None, int]:
    """Read a pitch: "one point five", "one fifty", "one twenty five", "one"."""
    number = number_at(lexemes, at)
    pitch: Exact
    if number is None or _unit_at(lexemes, at + 1):
        return None, at  # "m six by ten millimeters": that is a length
    following = number_at(lexemes, at + 1)
    standard = {Fraction(str(pitch)) for pitch in METRIC_PITCHES[nominal]}
    if following is not None and following.value in (5, 25, 50, 75) and number.value < 5:
        scale = 10 if following.value == 5 else 100
        pitch = number.value + Fraction(following.value) / scale
        if pitch in standard:
            return pitch, at + 2
    said = Fraction(number.value)
    for pitch in (said, said / 100, said / 10):
        if pitch in standard:
            return pitch, at + 1
    return None, at


def _inch_thread(
    lexemes: list[Lexeme], at: int, tokens: list[str]
) -> tuple[str, int, Amount | None] | None:
    start = at + 1 if "hash" in lexemes[at].senses else at
    number = number_at(lexemes, start)
    if number is None:
        return None
    end = start + 1
    if _unit_name(lexemes, end) == "in":
        end += 1
    if end < len(lexemes) and _by(lexemes, end) and number.kind == "fraction":
        end += 1
    pitch = number_at(lexemes, end)
    if pitch is None or pitch.value.denominator != 1:
        return None
    if _unit_at(lexemes, end + 1) and not (
        number.kind == "fraction" and (pitch.value > _COARSE or _and_fraction(lexemes, end + 2))
    ):
        return None  # but "three eighths sixteen inch long" is one inch long
    plain = start == at and number.kind != "fraction"
    if plain and (
        number.value not in NUMBER_THREADS
        or not (fastener_at(lexemes, end + 1) or after_fastener(lexemes, at, end + 1))
    ):
        return None  # "ten thirty two screws" is a thread; "ten twelve point bolts" is not
    thread = _standard_inch(fraction_text(number.value), int(pitch.value))
    return (thread, end + 1, None) if thread else None


def _standard_inch(nominal: str, pitch: int) -> str | None:
    return f"{nominal}-{pitch}" if is_inch_thread(nominal, pitch) else None


def _metric_name(nominal: int, pitch: Exact | None) -> str:
    return f"M{nominal}" if pitch is None else f"M{nominal}x{float(pitch):g}"


def _length_after(lexemes: list[Lexeme], at: int, *, metric: bool) -> tuple[Amount | None, int]:
    """Read "by inch and a quarter", "an inch and a quarter long", "by thirty"."""
    start = at + 1 if _by(lexemes, at) else at
    while start < len(lexemes) and _article(lexemes[start]):
        start += 1
    found = _value_with_unit(lexemes, start)
    if found is not None and found[1].dimension == "length" and found[1].name != "thou":
        value, unit, end = found
        if start > at or _long_at(lexemes, end) or unit.name == "in":
            return amount_of(value, unit.name), end + 1 if _long_at(lexemes, end) else end
    number = number_at(lexemes, start)
    if number is None or (start == at and not _long_at(lexemes, start + 1)):
        return None, at
    end = start + 2 if _long_at(lexemes, start + 1) else start + 1
    return amount_of(number.value, "mm" if metric else "in"), end


def amount_of(value: Exact, unit: str) -> Amount:
    """Give a length with its writing: 1 1/4 in, 30 mm."""
    if unit == "in":
        exact = value.denominator in (1, 2, 4, 8, 16, 32, 64)
        text = f"{fraction_text(value) if exact else format(float(value), 'g')} in"
    else:
        text = f"{float(value):g} {unit}"
    return Amount(value=float(value), unit=unit, text=text)


def _by(lexemes: list[Lexeme], at: int) -> bool:
    prep: Any = senses_at(lexemes, at).get("prep")
    return prep is not None and prep.name == "by"


def _long_at(lexemes: list[Lexeme], at: int) -> bool:
    return "long" in senses_at(lexemes, at)


def _unit_name(lexemes: list[Lexeme], at: int) -> str | None:
    unit = _unit_at(lexemes, at)
    return unit.name if unit else None


def _says(lexeme: Lexeme, tokens: list[str], *words: str) -> bool:
    return tokens[lexeme.start] in words
