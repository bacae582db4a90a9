"""Values in words, against outside readers and writers of numbers, and back again."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words
from text_to_num import text2num

from benchvoice.grammar import load_pack, spoken
from benchvoice.language import Parser
from benchvoice.language.numbers import read_number, read_run_together

NUMBERS = [*range(10_000), *range(10_000, 1_000_000, 64)]


def plain(words: str) -> str:
    return words.replace("-", " ").replace(",", "")


def read_whole(words: str) -> Fraction | None:
    """The value when the reader of the language stage takes all the words as one number."""
    tokens = words.split()
    number = read_number(tokens, 0)
    return number.value if number is not None and number.end == len(tokens) else None


def test_cardinals_are_num2words_words() -> None:
    # num2words joins with "and" after hundreds as British usage has it; so does the first way.
    wrong = [n for n in NUMBERS if spoken.cardinal(n) != plain(num2words(n))]
    assert not wrong


def test_every_way_of_a_cardinal_is_read_by_text2num() -> None:
    wrong = [
        (n, way)
        for n in NUMBERS
        for way in spoken.cardinal_ways(n)
        if not way.startswith("a ") and text2num(way, "en") != n
    ]
    assert not wrong


def test_ordinals_are_num2words_words() -> None:
    wrong = [n for n in range(1, 1000) if spoken.ordinal(n) != plain(num2words(n, to="ordinal"))]
    assert not wrong


@pytest.mark.parametrize("number", [-1, 1_000_000])
def test_a_cardinal_out_of_range_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=str(number)):
        spoken.cardinal(number)


@pytest.mark.parametrize("number", [0, 1000])
def test_an_ordinal_out_of_range_is_refused(number: int) -> None:
    with pytest.raises(ValueError, match=str(number)):
        spoken.ordinal(number)


def test_cardinals_come_back() -> None:
    wrong = [(n, way) for n in NUMBERS for way in spoken.cardinal_ways(n) if read_whole(way) != n]
    assert not wrong


def test_ordinals_come_back() -> None:
    wrong = [n for n in range(1, 100) if read_whole(spoken.ordinal(n)) != n]
    assert not wrong


@given(st.fractions(min_value=0, max_value=40, max_denominator=64))
def test_fractions_of_the_rule_come_back(value: Fraction) -> None:
    value = Fraction(round(value * 64), 64)
    for way in spoken.fraction_ways(value):
        assert read_whole(way) == value, way


@given(st.integers(0, 40), st.text("0123456789", min_size=1, max_size=4))
def test_decimals_come_back(whole: int, digits: str) -> None:
    text = f"{whole}.{digits}"
    for way in spoken.decimal_ways(text):
        assert read_whole(way) == Fraction(text), way


@given(st.text("0123456789", min_size=3, max_size=6).filter(lambda text: text[0] != "0"))
def test_digits_one_by_one_come_back(digits: str) -> None:
    for zero in ("oh", "zero"):
        assert read_whole(spoken.digit_by_digit(digits, zero=zero)) == int(digits)


def test_numbers_run_together_come_back() -> None:
    said = {n: spoken.run_together(n) for n in range(10_000)}
    assert said[125] == "one twenty five"
    assert said[1250] == "twelve fifty"
    assert said[105] is None
    for number, words in said.items():
        if words is not None:
            read = read_run_together(words.split(), 0)
            assert read is not None
            assert (read.value, read.end) == (number, len(words.split()))


# Said at the bench; common practice, no source.
@pytest.mark.parametrize(
    ("ways", "said"),
    [
        (spoken.fraction_ways(Fraction(9, 16)), "nine sixteenths"),
        (spoken.fraction_ways(Fraction(7, 4)), "one and three quarters"),
        (spoken.fraction_ways(Fraction(3, 32)), "three thirty seconds"),
        (spoken.inches_ways(Fraction(5, 4)), "inch and a quarter"),
        (spoken.inches_ways(Fraction(3, 4)), "three quarter inch"),
        (spoken.inches_ways(Fraction(1, 2)), "half inch"),
        (spoken.decimal_ways("0.035"), "point zero three five"),
        (spoken.decimal_ways("0.035"), "point oh three five"),
        (spoken.decimal_ways("1.250"), "one point two five oh"),
        (spoken.thread_ways("3/8-16"), "three eighths sixteen"),
        (spoken.thread_ways("1/2-13"), "half inch thirteen"),
        (spoken.thread_ways("10-32"), "ten thirty two"),
        (spoken.thread_ways("M8x1.25"), "m eight by one twenty five"),
        (spoken.thread_ways("M10x1.5"), "m ten by one fifty"),
        (spoken.size_text_ways("1 1/4 in"), "inch and a quarter"),
        (spoken.size_text_ways("30 mm"), "thirty millimeters"),
        (spoken.contracted("that is it"), "that's it"),
    ],
)
def test_it_is_said_as_at_the_bench(ways: tuple[str, ...], said: str) -> None:
    assert said in ways


# ASME B1.1 (UNC, UNF) and ISO 261 (coarse, fine) designations; from memory.
@pytest.mark.parametrize(
    "thread",
    [
        *("1/4-20", "1/4-28", "5/16-18", "5/16-24", "3/8-16", "3/8-24", "7/16-14", "7/16-20"),
        *("1/2-13", "1/2-20", "9/16-12", "9/16-18", "5/8-11", "5/8-18", "3/4-10", "7/8-9"),
        *("M5", "M6x1", "M8x1.25", "M8x1", "M10x1.5", "M12x1.75", "M14x2", "M16x2", "M20x2.5"),
    ],
)
def test_threads_come_back(thread: str) -> None:
    parser = Parser(load_pack())
    for way in spoken.thread_ways(thread):
        (found,) = parser.parse(f"bolts are {way}").findings
        assert found.size is not None, way
        assert found.size.thread == thread, way


def test_lengths_in_inches_come_back() -> None:
    parser = Parser(load_pack())
    for eighths in range(1, 33):
        for way in spoken.inches_ways(Fraction(eighths, 8)):
            (found,) = parser.parse(f"bolts {way} long").findings
            assert found.size is not None, way
            assert found.size.length is not None, way
            assert (found.size.length.value, found.size.length.unit) == (eighths / 8, "in"), way


def test_a_size_in_no_known_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="3 ft"):
        spoken.size_text_ways("3 ft")


def test_number_words_are_all_there() -> None:
    said = {word for n in range(1000) for way in spoken.cardinal_ways(n) for word in way.split()}
    said |= {word for n in range(1, 1000) for word in spoken.ordinal(n).split()}
    for value in range(1, 129):
        said.update(" ".join(spoken.fraction_ways(Fraction(value, 64))).split())
        said.update(" ".join(spoken.inches_ways(Fraction(value, 64))).split())
    assert said <= spoken.NUMBER_WORDS
