"""Numbers in words, against an outside writer of numbers.

Cardinals and ordinals against num2words and text2num, whole range and back, are in
tests/grammar/test_spoken.py (`test_cardinals_are_num2words_words`, `test_cardinals_come_back`,
`test_every_way_of_a_cardinal_is_read_by_text2num`); here is what is not there.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words
from text_to_num import text2num

from benchvoice.language.numbers import (
    cardinal,
    fraction_text,
    read_number,
    read_run_together,
    split_before_fraction,
)

WORDS = (
    "one two three five nine ten eleven nineteen twenty thirty ninety hundred thousand and a"
).split()


def plain(words: str) -> list[str]:
    return words.replace("-", " ").replace(",", "").split()


@given(st.lists(st.sampled_from(WORDS), min_size=1, max_size=7))
def test_text2num_agrees_where_both_read_all(words: list[str]) -> None:
    """Any words: where both readers take all of them as one number, it is the same number."""
    found = read_number(words, 0)
    try:
        outside = text2num(" ".join(words), "en")
    except ValueError:
        return
    if found is not None and found.end == len(words) and found.kind == "cardinal":
        assert found.value == outside


def test_every_number_is_found_among_other_words() -> None:
    for number in [*range(10_000), *range(10_000, 1_000_000, 64)]:
        words = ["the", *plain(num2words(number)), "bolts"]
        found = read_number(words, 1)
        assert found is not None
        assert (found.value, found.end) == (number, len(words) - 1), words


@given(st.integers(0, 999), st.integers(1, 999))
def test_decimals_as_num2words_says_them(whole: int, thousandths: int) -> None:
    value = Fraction(whole) + Fraction(thousandths, 1000)
    words = plain(num2words(f"{float(value):.3f}".rstrip("0")))
    found = read_number(words, 0)
    assert found is not None
    assert (found.value, found.end, found.kind) == (value, len(words), "decimal")


def test_numbers_run_together_are_said_like_years() -> None:
    for number in range(1110, 10_000):
        words = plain(num2words(number, to="year"))
        if number % 100 < 10 or "hundred" in words or "thousand" in words:
            continue
        found = read_run_together(words, 0)
        assert found is not None, words
        assert (found.value, found.end) == (number, len(words))


# Common practice, no source: how halves to sixty fourths and dozens are said.
@pytest.mark.parametrize(
    ("said", "value"),
    [
        *[("half", "1/2"), ("a quarter", "1/4"), ("three quarters", "3/4"), ("an eighth", "1/8")],
        *[("nine sixteenths", "9/16"), ("three thirty seconds", "3/32")],
        *[("eleven sixty fourths", "11/64"), ("one and three quarters", "7/4")],
        *[("two and a half", "5/2"), ("half a dozen", "6"), ("a dozen and a half", "18")],
        *[("a couple of", "2"), ("three pair", "6"), ("four oh two", "402"), ("1 1/4", "5/4")],
        *[(".035", "7/200"), ("point oh three five", "7/200"), ("12th", "12")],
    ],
)
def test_said_at_the_bench(said: str, value: str) -> None:
    words = [said] if said[0] in "1." else said.split()
    found = read_number(words, 0)
    assert found is not None
    assert (found.value, found.end) == (Fraction(value), len(words))


@pytest.mark.parametrize("said", ["four quarters", "two eighths", "zero halves", "bolts", "and a"])
def test_nobodys_number(said: str) -> None:
    found = read_number(said.split(), 0)
    assert found is None or found.kind == "cardinal"


def test_a_fraction_takes_the_last_word_before_it() -> None:
    words = "twenty three eighths".split()
    number = cardinal(words, 0)
    assert number is not None
    split = split_before_fraction(words, 0, number)
    assert split is not None
    assert (split.value, split.end) == (20, 1)
    rest = read_number(words, split.end)
    assert rest is not None
    assert fraction_text(rest.value) == "3/8"


@given(st.text("0123456789/.-", min_size=1, max_size=30))
def test_typed_figures_never_fail(text: str) -> None:
    if text[0] in "0123456789.":
        found = read_number([text], 0)
        assert found is None or found.value >= 0
