"""Values to the words they are said in; the first of several ways is the usual one.

The opposite of `benchvoice.language.numbers`, and independent of it: each is
the other's check in the tests.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen"
).split()
_TENS = ["", "", *"twenty thirty forty fifty sixty seventy eighty ninety".split()]
_ORDINAL = {
    **{"one": "first", "two": "second", "three": "third", "five": "fifth", "eight": "eighth"},
    **{"nine": "ninth", "twelve": "twelfth"},
}
_DENOMINATORS = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth"}
_COMPOUND = {32: "thirty second", 64: "sixty fourth"}
_CONTRACTIONS = {
    **{f"{who} is": f"{who}'s" for who in ("it", "that", "there", "he", "she", "what", "here")},
    **{f"{who} have": f"{who}'ve" for who in ("we", "they", "i")},
    **{f"{who} are": f"{who}'re" for who in ("we", "they")},
    **{"i am": "i'm", "i would": "i'd", "let us": "let's", "can not": "can't", "do not": "don't"},
    **{"is not": "isn't", "are not": "aren't", "was not": "wasn't"},
}

NUMBER_WORDS = frozenset(
    [*_ONES, *_TENS[2:], *_ORDINAL.values(), *_DENOMINATORS.values(), "halves"]
    + [word + "s" for word in (*_DENOMINATORS.values(), "third", "fifth", "second", "fourth")]
    + [word + "th" for word in _ONES if word not in _ORDINAL and word not in ("eight", "zero")]
    + [word[:-1] + "ieth" for word in _TENS[2:]]
    + "hundred thousand hundredth point oh tenth tenths and a half m by number".split()
    + "couple pair dozen inch inches of an".split()
)
"""Every word that a number, a size or a thread may be said with."""


def cardinal(number: int, *, joint: str = "and") -> str:
    """Say 0 to 999,999; `joint` stands after hundreds ("two hundred and five"), or "" for none.

    Raises ValueError outside that range.
    """
    if not 0 <= number <= 999_999:
        raise ValueError(f"{number} is not in 0..999999")
    if number < 100:
        return _below_hundred(number)
    scale, name = (1000, "thousand") if number >= 1000 else (100, "hundred")
    head, rest = divmod(number, scale)
    words = f"{cardinal(head, joint=joint)} {name}"
    if not rest:
        return words
    between = f" {joint} " if joint and rest < 100 else " "
    return f"{words}{between}{cardinal(rest, joint=joint)}"


def cardinal_ways(number: int) -> tuple[str, ...]:
    """Say a cardinal with and without "and", and with "a hundred".

    >>> cardinal_ways(108)
    ('one hundred and eight', 'one hundred eight', 'a hundred and eight', 'a hundred eight')
    """
    ways = [cardinal(number), cardinal(number, joint="")]
    for way in tuple(ways):
        if way.startswith(("one hundred", "one thousand")):
            ways.append("a" + way.removeprefix("one"))
    return _distinct(ways)


def digit_by_digit(digits: str, *, zero: str = "oh") -> str:
    """Say a string of digits one by one.

    >>> digit_by_digit("402")
    'four oh two'
    """
    return " ".join(zero if digit == "0" else _ONES[int(digit)] for digit in digits)


def run_together(number: int) -> str | None:
    """Say 125 as "one twenty five" and 1250 as "twelve fifty"; None where nobody would."""
    head, rest = divmod(number, 100)
    if not 1 <= head < 100 or rest < 10 or head % 10 == 0:
        return None
    return f"{_below_hundred(head)} {_below_hundred(rest)}"


def ordinal(number: int) -> str:
    """Say first to nine hundred and ninety ninth.

    >>> ordinal(2), ordinal(20), ordinal(41)
    ('second', 'twentieth', 'forty first')
    """
    if not 1 <= number <= 999:
        raise ValueError(f"{number} is not in 1..999")
    before, space, last = cardinal(number).rpartition(" ")
    if last in _ORDINAL:
        last = _ORDINAL[last]
    else:
        last = (last[:-1] + "ie" if last.endswith("y") else last) + "th"
    return before + space + last


def fraction_ways(value: Fraction) -> tuple[str, ...]:
    """Say halves to sixty fourths, with or without a whole number before them.

    >>> fraction_ways(Fraction(9, 16)), fraction_ways(Fraction(7, 4))
    (('nine sixteenths',), ('one and three quarters',))
    """
    whole, rest = divmod(value, 1)
    if not rest:
        return cardinal_ways(int(whole))
    parts = _proper(rest)
    if not whole:
        return parts
    parts = tuple(part for part in parts if part not in ("half", "quarter"))
    return _distinct(f"{head} and {part}" for head in cardinal_ways(int(whole)) for part in parts)


def inches_ways(value: Fraction) -> tuple[str, ...]:
    """Say a length in inches as it is said of a bolt: "inch and a quarter", "two inch".

    >>> inches_ways(Fraction(9, 16))
    ('nine sixteenths inch', 'nine sixteenths of an inch')
    """
    whole, rest = divmod(value, 1)
    if value == 1:
        return "one inch", "inch", "an inch"
    if not rest:
        return f"{cardinal(int(whole))} inch", f"{cardinal(int(whole))} inches"
    after = [part for part in _proper(rest) if part not in ("half", "quarter")]
    if not whole:
        ways = [f"{part} inch" for part in _proper(rest) if not part.startswith("a ")]
        ways += [f"{part} of an inch" for part in after]
        ways += ["three quarter inch"] if value == Fraction(3, 4) else []
        return _distinct([*ways, "half an inch"] if value == Fraction(1, 2) else ways)
    ways = [f"inch and {part}" for part in after] if whole == 1 else []
    ways += [f"an {way}" for way in ways]
    ways += [f"{cardinal(int(whole))} and {part} {i}" for part in after for i in ("inch", "inches")]
    if whole > 1:
        ways += [f"{cardinal(int(whole))} inch and {part}" for part in after]
    return _distinct(ways)


def decimal_ways(text: str) -> tuple[str, ...]:
    """Say a decimal as it is written: "0.035" is "point zero three five", "1.250" keeps its zero.

    >>> decimal_ways("1.25")
    ('one point two five', 'one point twenty five')
    """
    whole, point, digits = text.partition(".")
    if not point:
        return cardinal_ways(int(whole))
    said = _distinct(digit_by_digit(digits, zero=zero) for zero in ("zero", "oh"))
    pair = int(digits) if len(digits) == 2 and digits[0] != "0" else 0
    if pair:
        said += (_below_hundred(pair),)
    heads = [cardinal(int(whole))] if int(whole or 0) else ["", "zero"]
    return _distinct(f"{head} point {tail}".strip() for head in heads for tail in said)


def contracted(words: str) -> tuple[str, ...]:
    """Give words as they are and, where there is one, with the short form.

    >>> contracted("that is it")
    ('that is it', "that's it")
    """
    padded = f" {words} "
    short = [padded.replace(f" {a} ", f" {b} ") for a, b in _CONTRACTIONS.items()]
    return _distinct([words, *(way.strip() for way in short)])


def thread_ways(designation: str) -> tuple[str, ...]:
    """Say a thread designation: "3/8-16", "10-32", "M8", "M8x1.25".

    >>> thread_ways("3/8-16")[0], thread_ways("M8x1.25")[0]
    ('three eighths sixteen', 'm eight by one point two five')
    """
    if designation.startswith("M"):
        return _metric_thread_ways(designation)
    nominal, _, pitch = designation.partition("-")
    threads = cardinal(int(pitch))
    value = Fraction(nominal)
    if "/" not in nominal and value != 1:  # a numbered screw
        return f"{cardinal(int(nominal))} {threads}", f"number {cardinal(int(nominal))} {threads}"
    names = ("one inch",) if value == 1 else _proper(value)
    names = tuple(name for name in names if not name.startswith("a "))
    short = [f"{name} {threads}" for name in names]
    full = [f"{name.removesuffix(' inch')} inch {threads}" for name in names]
    return _distinct([*short, *full])


def size_text_ways(text: str) -> tuple[str, ...]:
    """Say a length as an outline writes it: "1 1/4 in", "30 mm", "0.5 in".

    Raises ValueError for any other writing.
    """
    number, _, unit = text.rpartition(" ")
    if unit == "in":
        value = sum((Fraction(part) for part in number.split()), Fraction(0))
        return decimal_inches_ways(number) if "." in number else inches_ways(value)
    if unit == "mm":
        ways = decimal_ways(number)
        return tuple(f"{way} {said}" for way in ways for said in ("millimeter", "millimeters"))
    raise ValueError(f'"{text}" is no length in in or mm')


def decimal_inches_ways(number: str) -> tuple[str, ...]:
    """Say a decimal of inches, with and without the word."""
    return tuple(f"{way} inches" for way in decimal_ways(number))


def _metric_thread_ways(designation: str) -> tuple[str, ...]:
    nominal, by, pitch = designation[1:].partition("x")
    head = f"m {cardinal(int(nominal))}"
    if not by:
        return (head,)
    ways = list(decimal_ways(pitch.removesuffix(".0")))
    whole, point, digits = pitch.partition(".")
    if point and int(whole):  # "one twenty five", "one fifty"
        ways.append(f"{cardinal(int(whole))} {_below_hundred(int(digits.ljust(2, '0')))}")
    return _distinct(f"{head} by {way}" for way in ways)


def _proper(value: Fraction) -> tuple[str, ...]:
    """Say a fraction between 0 and 1 with a denominator of the rule."""
    top, bottom = value.numerator, value.denominator
    if bottom in _COMPOUND:
        return (f"{_below_hundred(top)} {_COMPOUND[bottom]}{'s' if top > 1 else ''}",)
    name = _DENOMINATORS.get(bottom)
    if name is None:
        raise ValueError(f"{value} is not in halves to sixty fourths")
    if top > 1:
        return (f"{_below_hundred(top)} {name}s",)
    if bottom in (2, 4):
        return (f"a {name}", name, f"one {name}")
    return f"one {name}", f"an {name}" if name[0] == "e" else f"a {name}"


def _below_hundred(number: int) -> str:
    if number < 20:
        return _ONES[number]
    tens, ones = divmod(number, 10)
    return f"{_TENS[tens]} {_ONES[ones]}" if ones else _TENS[tens]


def _distinct(ways: Iterable[str] | Sequence[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(ways))
