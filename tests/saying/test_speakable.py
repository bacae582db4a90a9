"""What is said aloud, against num2words and against our own parser, which reads it back."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from benchvoice.follow import finding_text
from benchvoice.grammar import Pack, load_pack
from benchvoice.language import Parser
from benchvoice.saying import speakable, unit_words


@pytest.fixture(scope="module")
def pack() -> Pack:
    return load_pack()


@given(st.integers(0, 999_999))
@settings(max_examples=100)
def test_whole_numbers_are_num2words_words(number: int) -> None:
    words = re.sub(r"[-,]", " ", num2words(number))
    assert speakable(f"{number} bolts") == f"{re.sub(' +', ' ', words)} bolts"


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("12 bolts, 3/8-16", "twelve bolts, three eighths sixteen"),
        ("10-32 screw", "ten thirty two screw"),
        ("M8x1.25 stud", "m eight by one point two five stud"),
        ("1 1/4 in long", "inch and a quarter long"),
        ("9/16 in across flats", "nine sixteenths inch across flats"),
        ("0.035 in", "point zero three five inches"),
        ("30 mm long", "thirty millimeter long"),
        ("torque 40 ft-lb", "torque forty foot pounds"),
        ("2nd plate", "second plate"),
        ("Now 9 bolts, removed -> bag 2.", "Now nine bolts, removed, bag two."),
        ("case (1 said).", "case, one said."),
        ("drain_plug; seal", "drain plug. seal"),
        ("job 0417", "job oh four one seven"),
        ("50% of it", "fifty percent of it"),
        ("J-17 and 12/5/6", "J-17 and 12/5/6"),
        ("1/3 of it", "1/3 of it"),
        ("", ""),
    ],
)
def test_said_as_at_the_bench(written: str, said: str, pack: Pack) -> None:
    assert speakable(written, unit_words(pack)) == said


@pytest.mark.parametrize(
    "remark",
    [
        "eight bolts off front cover three eighths sixteen inch and a quarter long",
        "end play twelve and a half thou",
        "six m eight by one point two five studs",
        "clutch pressure one hundred and twenty p s i",
        "four washers in tray two",
    ],
)
def test_what_is_read_back_is_understood_as_the_same(remark: str, pack: Pack) -> None:
    parser = Parser(pack)
    first = parser.parse(remark).findings
    aloud = " and ".join(speakable(finding_text(one), unit_words(pack)) for one in first)
    again = parser.parse(aloud.replace(",", "")).findings
    assert first
    assert [(one.part, one.count, one.size, one.container) for one in again] == [
        (one.part, one.count, one.size, one.container) for one in first
    ]
    assert [one.measure and one.measure.value for one in again] == [
        one.measure and one.measure.value for one in first
    ]


@given(st.text(max_size=40))
@settings(max_examples=200)
def test_any_text_can_be_put_into_words(text: str) -> None:
    assert isinstance(speakable(text), str)
