"""Spoken and typed numbers.

Every reader takes the tokens and a position and gives a `Number` that says
where it ends, or None.  Readers never look further back than the position.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd
from typing import NamedTuple

ONES = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
        "fifteen sixteen seventeen eighteen nineteen".split()
    )
}
TENS = {
    word: 10 * value
    for value, word in enumerate(
        "twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2
    )
}
DIGITS = {word: value for word, value in ONES.items() if value < 10} | {"oh": 0, "nought": 0}
_ORDINAL_ONES = {
    word: value
    for value, word in enumerate(
        "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth "
        "thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth".split(),
        start=1,
    )
}
_ORDINAL_TENS = {word[:-1] + "ieth": value for word, value in TENS.items()}
ORDINALS = {**_ORDINAL_ONES, **_ORDINAL_TENS}
_DENOMINATORS = {"half": 2, "halves": 2, "quarter": 4, "quarters": 4, "third": 3, "thirds": 3}
for _word, _value in (("eighth", 8), ("sixteenth", 16), ("fifth", 5), ("sixth", 6)):
    _DENOMINATORS[_word] = _DENOMINATORS[_word + "s"] = _value
_COMPOUND_DENOMINATORS = {("thirty", "second"): 32, ("sixty", "fourth"): 64}
_GROUPS = {"couple": 2, "pair": 2, "dozen": 12}

STARTERS = frozenset(
    {*ONES, *TENS, *DIGITS, *ORDINALS, *_DENOMINATORS, *_GROUPS}
    | {"a", "an", "point", "hundred", "thousand"}
)
_GO_ON = frozenset(
    {*DIGITS, *_DENOMINATORS, *_GROUPS, "couples", "pairs", "dozens"}
    | {"point", "hundred", "thousand", "and", "thirty", "sixty"}
)
"""Words that may make another number of the one word before them."""
FROM_TEN = frozenset({*TENS, *(word for word, value in ONES.items() if value >= 10)})
_MOST_DIGITS = 9
"""Of a number written in figures; what has more is no number of the bench."""

Exact = int | Fraction


class Number(NamedTuple):
    """A number read from tokens: exact `value`, `end` position, and how it was said.

    `kind` is "cardinal", "digits", "decimal", "fraction", "group" or "ordinal", or "doubt"
    for words with more than one reading ("twenty three quarter": 20 of 3/4 or 23 of 1/4).
    `text` is the trade's writing of a fraction or the digits of a decimal; of a doubt its
    readings, with " | " between them.
    """

    value: Exact
    end: int
    kind: str
    text: str | None = None


def read_number(tokens: Sequence[str], start: int) -> Number | None:
    """Read the longest sure number at `start`."""
    token = tokens[start]
    if token[0] in "0123456789.":
        return _typed(tokens, start)
    if token not in STARTERS:
        return None
    if token in ONES and (start + 1 >= len(tokens) or tokens[start + 1] not in _GO_ON):
        return Number(ONES[token], start + 1, "cardinal")
    for reader in (_group, _digit_string, _decimal, _fraction, _mixed, _ordinal, cardinal):
        number = reader(tokens, start)
        if number is not None:
            return number
    return None


def read_run_together(tokens: Sequence[str], start: int) -> Number | None:
    """Read "one twenty five" as 125 and "twelve fifty" as 1250.

    Only sure where one value is expected (a pressure, a thread pitch), so the
    caller decides; elsewhere it may be a count and a size.
    """
    first = _below_hundred(tokens, start)
    if first is None or first.value < 1:
        return None
    second = _below_hundred(tokens, first.end) if first.end < len(tokens) else None
    if second is None or second.value < 10:
        return None
    return Number(first.value * 100 + second.value, second.end, "digits")


def cardinal(tokens: Sequence[str], start: int) -> Number | None:
    """Read a cardinal in words up to 999,999 ("two thousand and five"), or typed digits."""
    if tokens[start][0] in "0123456789":
        typed = _typed(tokens, start)
        return typed if typed is not None and typed.kind == "cardinal" else None
    below = _below_thousand(tokens, start)
    if below is None:
        return None
    end = below.end
    if end < len(tokens) and tokens[end] == "thousand":
        total, end = below.value * 1000, end + 1
        rest = _rest_after(tokens, end, 1000)
        return rest._replace(value=total + rest.value) if rest else Number(total, end, "cardinal")
    return below


def split_before_fraction(tokens: Sequence[str], start: int, number: Number) -> Number | None:
    """Read "twenty three eighths" as 20 before 3/8; "twenty three quarter" is a doubt.

    None where the number stands as it is ("twenty three half": 3/2 is nobody's fraction).
    """
    end = number.end
    if (
        number.kind != "cardinal"
        or end - start < 2
        or end >= len(tokens)
        or tokens[end - 2] not in TENS
    ):
        return None
    found = _denominator(tokens, end)
    ones = ONES.get(tokens[end - 1], 0)
    if found is None or not 0 < ones < min(10, found[0]) or gcd(ones, found[0]) != 1:
        return None
    short, bottom = number._replace(value=number.value - ones, end=end - 1), found[0]
    if tokens[found[1] - 1].endswith("s"):
        return short
    readings = f"{short.value} of {ones}/{bottom} | {number.value} of 1/{bottom}"
    return Number(number.value, found[1], "doubt", readings)


def fraction_text(value: Exact) -> str:
    """Write a fraction as the trade does: 9/16, 1 1/4, 3.

    >>> fraction_text(Fraction(5, 4))
    '1 1/4'
    """
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    part = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {part}" if whole else part


def _below_hundred(tokens: Sequence[str], start: int) -> Number | None:
    word = tokens[start]
    if word in ONES:
        return Number(ONES[word], start + 1, "cardinal")
    if word in TENS:
        after = tokens[start + 1] if start + 1 < len(tokens) else ""
        if 0 < ONES.get(after, 0) < 10:
            return Number(TENS[word] + ONES[after], start + 2, "cardinal")
        return Number(TENS[word], start + 1, "cardinal")
    return None


def _below_thousand(tokens: Sequence[str], start: int) -> Number | None:
    if tokens[start] in ("a", "an"):
        if tokens[start + 1 : start + 2] not in (["hundred"], ["thousand"]):
            return None
        head = Number(1, start + 1, "cardinal")
    else:
        found = _below_hundred(tokens, start)
        if found is None:
            return None
        head = found
    if head.end < len(tokens) and tokens[head.end] == "hundred" and head.value > 0:
        total, end = head.value * 100, head.end + 1
        rest = _rest_after(tokens, end, 100)
        return rest._replace(value=total + rest.value) if rest else Number(total, end, "cardinal")
    return head


def _rest_after(tokens: Sequence[str], at: int, limit: int) -> Number | None:
    """Read "[and] sixty two" after "hundred" or "thousand"."""
    if at < len(tokens) and tokens[at] == "and":
        at += 1
    if at >= len(tokens) or tokens[at] in ("a", "an"):
        return None
    rest = (_below_hundred if limit == 100 else _below_thousand)(tokens, at)
    if rest is None or not rest.value or _denominator(tokens, rest.end):
        return None  # "one hundred and three quarters" is a mixed number
    return rest


def _digit_string(tokens: Sequence[str], start: int) -> Number | None:
    """Digits one by one: three or more, or two with an "oh" ("four oh two")."""
    end = start
    while end < len(tokens) and tokens[end] in DIGITS:
        end += 1
    words = tokens[start:end]
    if len(words) < 2 or (len(words) == 2 and words[1] not in ("oh", "zero", "nought")):
        return None
    if end < len(tokens) and (tokens[end] == "point" or _denominator(tokens, end)):
        return None
    if words[0] in ("oh", "zero", "nought"):
        return None
    digits = "".join(str(DIGITS[word]) for word in words)
    return Number(int(digits), end, "digits", digits)


def _decimal(tokens: Sequence[str], start: int) -> Number | None:
    whole = "0"
    at = start
    if tokens[at] in ("oh", "nought"):
        at += 1
    elif tokens[at] != "point":
        head = cardinal(tokens, at)
        if head is None:
            return None
        whole, at = str(head.value), head.end
    if at >= len(tokens) or tokens[at] != "point":
        return None
    at += 1
    digits = ""
    while at < len(tokens) and tokens[at] in DIGITS:
        digits += str(DIGITS[tokens[at]])
        at += 1
    if at < len(tokens) and (tokens[at] in TENS or tokens[at] in ONES):
        pair = _below_hundred(tokens, at)
        if pair is not None and pair.value >= 10:  # "one point twenty five"
            digits, at = digits + str(pair.value), pair.end
    if not digits:
        return None
    text = f"{whole}.{digits}"
    return Number(Fraction(text), at, "decimal", text)


def _denominator(tokens: Sequence[str], at: int) -> tuple[int, int] | None:
    """Give (denominator, end) for "sixteenths" or "thirty seconds"."""
    if at >= len(tokens):
        return None
    word = tokens[at]
    if word in _DENOMINATORS:
        return _DENOMINATORS[word], at + 1
    if at + 1 < len(tokens):
        second = tokens[at + 1].removesuffix("s")
        found = _COMPOUND_DENOMINATORS.get((word, second))
        if found:
            return found, at + 2
    return None


def _fraction(tokens: Sequence[str], start: int) -> Number | None:
    """Read "nine sixteenths", "a quarter", "half"; only proper reduced fractions.

    "four quarter inch bolts" is four bolts: 4/4 is nobody's fraction.
    """
    if tokens[start] in ("a", "an"):
        top, at = 1, start + 1
    elif tokens[start] in ("half", "quarter"):
        top, at = 1, start
    else:
        head = _below_hundred(tokens, start)
        if head is None:
            return None
        top, at = int(head.value), head.end
        if tokens[start] in TENS and at == start + 2 and _denominator(tokens, start + 1):
            return None
    found = _denominator(tokens, at)
    if found is None and tokens[start] in TENS:
        return None
    if found is None or not 0 < top < found[0] or gcd(top, found[0]) != 1:
        return None
    if found[0] in (3, 5, 6) and at == start:
        return None
    value = Fraction(top, found[0])
    return Number(value, found[1], "fraction", fraction_text(value))


def _mixed(tokens: Sequence[str], start: int) -> Number | None:
    """Read "one and three quarters", "two and a half"; also "one three eighths"? No: a count."""
    whole = cardinal(tokens, start)
    if whole is None or whole.end + 1 >= len(tokens) or tokens[whole.end] != "and":
        return None
    rest = _fraction(tokens, whole.end + 1)
    if rest is None:
        return None
    value = whole.value + rest.value
    return Number(value, rest.end, "fraction", fraction_text(value))


def _group(tokens: Sequence[str], start: int) -> Number | None:
    """Read "a couple of", "a pair of", "a dozen", "half a dozen", "two dozen"."""
    at = start
    times: Exact = 1
    if tokens[at] == "half" or tokens[at : at + 2] in (["a", "half"], ("a", "half")):
        at += 1 if tokens[at] == "half" else 2
        times = Fraction(1, 2)
        if at < len(tokens) and tokens[at] == "a":
            at += 1
    elif tokens[at] == "a":
        at += 1
    elif tokens[at] in ONES and ONES[tokens[at]]:
        times, at = ONES[tokens[at]], at + 1
    if at >= len(tokens) or tokens[at].removesuffix("s") not in _GROUPS:
        return None
    word = tokens[at].removesuffix("s")
    if word == "dozen" and tokens[at + 1 : at + 4] in (["and", "a", "half"], ("and", "a", "half")):
        return _of(tokens, at + 4, (times + Fraction(1, 2)) * 12)
    if word != "dozen" and times != 1:
        return None if times < 1 or word == "couple" else _of(tokens, at + 1, times * 2)
    return _of(tokens, at + 1, times * _GROUPS[word])


def _of(tokens: Sequence[str], end: int, value: Exact) -> Number:
    if end < len(tokens) and tokens[end] == "of":
        end += 1
    return Number(value, end, "group")


def _ordinal(tokens: Sequence[str], start: int) -> Number | None:
    word = tokens[start]
    after = tokens[start + 1] if start + 1 < len(tokens) else ""
    if word in TENS and _ORDINAL_ONES.get(after, 10) < 10:
        return Number(TENS[word] + _ORDINAL_ONES[after], start + 2, "ordinal")
    if word in ORDINALS:
        return Number(ORDINALS[word], start + 1, "ordinal")
    return None


def _typed(tokens: Sequence[str], start: int) -> Number | None:
    token = tokens[start]
    if len(token) > _MOST_DIGITS:
        return None
    if token.isdecimal():
        return Number(int(token), start + 1, "cardinal")
    if token[-2:].isalpha() and token[:-2].isdecimal():
        return Number(int(token[:-2]), start + 1, "ordinal")
    try:
        if "/" in token:
            whole, _, part = token.replace("-", " ").rpartition(" ")
            value = Fraction(part) + (int(whole) if whole else 0)
            return Number(value, start + 1, "fraction", fraction_text(value))
        return Number(Fraction(token), start + 1, "decimal", "0" * token.startswith(".") + token)
    except (ValueError, ZeroDivisionError):
        return None
