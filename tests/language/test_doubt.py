"""Numbers in a row: what has several readings never gives a sure count, size or value.

All of it is common practice, no source: how counts, sizes and readings run together in speech.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from language_help import facts, only, parse

from benchvoice.grammar.spoken import cardinal

IN_DOUBT = [
    *("ten twelve bolts", "seven eight bolts", "eight or nine bolts", "seven to eight bolts"),
    *("between six and eight bolts", "six eight bolts off the front", "two ten bolts"),
    *("one twenty five bolts", "twelve fifty rollers", "one one seven bolts", "ten nine bolts"),
    *("four three two one bolts", "eighteen nineteen bolts", "fourteen forty bolts"),
    *("couple three bolts", "pair of eight bolts", "two dozen ten bolts", "ten to twelve bolts"),
    *("eight plus two bolts", "eight minus one bolts", "two by four bolts", "8 9 bolts"),
    *("8-9 bolts", "8 or 9 bolts", "10-33 bolts", "8 x 10 bolts", "2.5.3 bolts"),
    *(
        "eight bolts ten",
        "eight bolts maybe nine",
        "eight bolts twelve off",
        "half twenty four nuts",
    ),
    *("two hundred and ten thirty two screws", "three eighths sixteen two bolts"),
    *("m eight twelve bolts", "m ten thirty bolts", "half inch thirteen eight bolts"),
    *("twenty three quarter inch bolts", "twenty one quarter twenty bolts", "forty two inch bolts"),
    *("twenty four millimeter bolts", "twenty one half inch bolts", "tray twenty four bolts"),
    *("bolts four or five", "bolts between four and five", "bolt number four", "gear two"),
    *("twenty some bolts", "200000 bolts", "all but two bolts off", "gear one worn"),
    *("bolts tray one and two", "bolts tray four to six", "one and a half bolts"),
]


@pytest.mark.parametrize("said", IN_DOUBT)
def test_a_count_in_doubt_is_not_given(said: str) -> None:
    remark = parse(said)
    assert [finding.count for finding in remark.findings if finding.count is not None] == []
    left = " ".join([*remark.unparsed, *(doubt.text for doubt in remark.ambiguous)])
    assert left, "what is in doubt is told"


@pytest.mark.parametrize(
    "said",
    [
        *(
            "twenty three quarter inch bolts",
            "forty two inch bolts",
            "twenty four millimeter bolts",
        ),
        *("8/9 bolts", "five eighths by two bolts", "three eighths by one and a half bolts"),
        *("thirteen mil bolts", "3/8-17 bolts"),
    ],
)
def test_a_size_in_doubt_is_not_given(said: str) -> None:
    remark = parse(said)
    assert [finding.size for finding in remark.findings if finding.size is not None] == []
    assert remark.unparsed


@pytest.mark.parametrize(
    "said",
    [
        *("end play twelve fifteen thou", "end play one two thou", "end play twelve thirteen"),
        *("torque forty fifty foot pounds", "bolts torqued thirty thirty five foot pounds"),
        *("pressure two sixty", "five tenths", "five ten thousandths", "clearance point one two"),
        *("backlash eight to ten to twelve thou", "backlash eight ten twelve thou"),
        *("temperature one eighty one ninety", "clearance two and a half"),
    ],
)
def test_a_reading_in_doubt_is_not_given(said: str) -> None:
    remark = parse(said)
    assert [finding.measure for finding in remark.findings if finding.measure] == []
    assert remark.ambiguous


def test_the_readings_of_a_doubt_are_told() -> None:
    (doubt,) = parse("twenty three quarter inch bolts").ambiguous
    assert doubt.text == "twenty three quarter inch"
    assert doubt.readings == ("20 of 3/4", "23 of 1/4")
    (doubt,) = parse("twelve fifteen thou end play").ambiguous
    assert doubt.readings == ("1215 thou", "12 to 15 thou")


# What has one reading only is read, however much it runs together.
@pytest.mark.parametrize(
    ("said", "found"),
    [
        (
            "bolts quarter twenty three quarter long",
            {
                "part": "bolt",
                "size": {"thread": "1/4-20", "length": {"value": 0.75, "unit": "in"}},
            },
        ),
        (
            "twenty three eighths bolts",
            {"part": "bolt", "count": 20, "size": {"diameter": {"value": 0.375, "unit": "in"}}},
        ),
        (
            "three quarter twenty bolts",
            {"part": "bolt", "count": 3, "size": {"thread": "1/4-20"}},
        ),
        (
            "eight ten thirty two screws",
            {"part": "screw", "count": 8, "size": {"thread": "10-32"}},
        ),
        (
            "twenty quarter twenty bolts",
            {"part": "bolt", "count": 20, "size": {"thread": "1/4-20"}},
        ),
        ("bolts are ten twenty four", {"part": "bolt", "size": {"thread": "10-24"}}),
        ("four ninety degree fittings", {"part": "elbow", "count": 4}),
        ("seven of eight bolts", {"part": "bolt", "count": 7}),
        ("eight out of nine bolts off", {"part": "bolt", "count": 8, "action": "removed"}),
        ("one two three studs", {"part": "stud", "count": 3}),
        ("eight eight bolts", {"part": "bolt", "count": 8}),
        ("one hundred one bolts", {"part": "bolt", "count": 101}),
        ("bag three six bolts", {"part": "bolt", "count": 6, "container": "bag 3"}),
    ],
)
def test_one_reading_is_read(said: str, found: dict[str, object]) -> None:
    assert facts(parse(said)) == [found]


def test_two_counts_of_one_noun_are_two_findings() -> None:
    assert facts(parse("eight long and four short bolts")) == [
        {"part": "bolt", "count": 8, "size": {"relative": "long"}},
        {"part": "bolt", "count": 4, "size": {"relative": "short"}},
    ]


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("one forty foot pounds", 140),
        ("twelve fifty p s i", 1250),
        ("one twenty five thou gap", 125),
    ],
)
def test_one_value_run_together(said: str, value: float) -> None:
    measure = only(said).measure
    assert measure is not None
    assert measure.value == value


@given(st.integers(2, 99), st.integers(2, 99))
def test_two_counts_are_one_number_or_none(first: int, second: int) -> None:
    said = f"{cardinal(first)} {cardinal(second)}"
    (finding,) = parse(f"{said} gaskets").findings
    together = first + second if first % 10 == 0 and first > 10 > second else None
    same = first if first == second else None
    assert finding.count == (together or same), said


def test_two_digits_of_a_label_may_be_two_labels() -> None:
    remark = parse("bolts in tray four five")
    assert [finding.container for finding in remark.findings] == [None]
    assert remark.ambiguous[0].readings == ("tray 45", "tray 4 and 5")
    assert only("bolts in tray forty five").container == "tray 45"
    assert only("washers in box one one seven").container == "box 117"


def test_a_measure_run_together_without_its_unit_is_one_of_the_readings() -> None:
    assert parse("main pressure two thirty").ambiguous[0].readings == ("230", "two", "thirty")


def test_a_clause_with_strange_words_costs_only_itself() -> None:
    remark = parse("drain plug out, magnet is full of zorbles")
    assert facts(remark) == [{"part": "drain plug", "action": "removed"}]
    assert remark.unparsed == ("magnet is full of zorbles",)
    assert parse("he said, see you frobbing later").kind == "unclear"


@pytest.mark.parametrize(
    ("say", "left"),
    [
        ("cover bolts eight inch and a half four two inch", "eight inch and a half four two inch"),
        ("two inch and a half long bolts", "two inch and a half long"),
        ("bolts, eight inch and a half", "eight inch and a half"),
    ],
)
def test_so_many_of_an_inch_and_a_half_or_so_many_inches(say: str, left: str) -> None:
    remark = parse(say)
    assert [(one.part, one.count, one.size) for one in remark.findings] == [("bolt", None, None)]
    assert remark.unparsed == (left,)
    assert remark.ambiguous


@pytest.mark.parametrize("say", ["eight bolts two inch and a half", "bolts are 2 1/2 inch long"])
def test_what_was_counted_is_so_long(say: str) -> None:
    (bolts,) = parse(say).findings
    assert bolts.size is not None and bolts.size.length is not None
    assert bolts.size.length.text == "2 1/2 in"
