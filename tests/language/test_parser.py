"""Whole remarks: the published examples, the JSON contract, and that no text makes it fail."""

from __future__ import annotations

import json
import sys
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from language_help import facts, only, pack, parse

from benchvoice.remark import Remark, remark_from_json, remark_to_json

ALWAYS = {"heard", "confidence", "kind", "command", "step", "findings", "unparsed"}
ALWAYS_OF_FINDING = {
    *("part", "count", "size", "place", "condition", "action", "disposition", "container"),
    "measure",
}

PUBLISHED: list[tuple[str, list[dict[str, Any]]]] = [
    (
        "eight bolts off front one seal cracked",
        [
            {"part": "bolt", "count": 8, "action": "removed", "place": "front"},
            {"part": "seal", "count": 1, "condition": "cracked"},
        ],
    ),
    ("eight front cover bolts", [{"part": "bolt", "count": 8, "place": "front cover"}]),
    ("seven no eight bolts", [{"part": "bolt", "count": 8}]),
    (
        "two seals and a gasket all replace",
        [
            {"part": "seal", "count": 2, "disposition": "replace"},
            {"part": "gasket", "count": 1, "disposition": "replace"},
        ],
    ),
    ("seal not reusable", [{"part": "seal", "disposition": "replace"}]),
    ("gasket needs a new one", [{"part": "gasket", "disposition": "replace"}]),
    ("no cracks in the housing", [{"place": "housing", "condition": "not cracked"}]),
    (
        "bolts torqued to forty foot pounds",
        [
            {
                "part": "bolt",
                "action": "tightened",
                "measure": {"quantity": "torque", "value": 40, "unit": "ft-lb"},
            }
        ],
    ),
    (
        "end play twelve thou",
        [
            {
                "action": "measured",
                "measure": {"quantity": "end play", "value": 12, "unit": "thou"},
            }
        ],
    ),
    (
        "bolt three eighths sixteen by inch and a quarter nine sixteenths head",
        [
            {
                "part": "bolt",
                "size": {
                    "thread": "3/8-16",
                    "length": {"value": 1.25, "unit": "in"},
                    "across_flats": {"value": 0.5625, "unit": "in"},
                },
            }
        ],
    ),
    ("snap rings in tray four", [{"part": "snap ring", "container": "tray 4"}]),
    ("seal lip toward the hub", [{"part": "seal", "orientation": "lip toward hub"}]),
    ("reverse clutch hub worn", [{"part": "reverse clutch hub", "condition": "worn"}]),
    ("input shaft seal leaking", [{"part": "input shaft seal", "condition": "leaking"}]),
    ("second plate burnt", [{"part": "plate", "ordinal": 2, "condition": "burnt"}]),
    ("last plate burnt", [{"part": "plate", "ordinal": -1, "condition": "burnt"}]),
]


@pytest.mark.parametrize(("said", "found"), PUBLISHED)
def test_published_examples(said: str, found: list[dict[str, Any]]) -> None:
    assert facts(parse(said)) == found


@pytest.mark.parametrize(
    "said", [said for said, _ in PUBLISHED] + ["next", "", "zzz", "five tenths"]
)
def test_published_fields_are_always_there(said: str) -> None:
    value = remark_to_json(parse(said))
    assert value.keys() >= ALWAYS
    for finding in value["findings"]:
        assert finding.keys() >= ALWAYS_OF_FINDING
    assert remark_from_json(json.loads(json.dumps(value))) == parse(said)


# Words that were mixed up: each is settled one way, here and in grammars/trade.
@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("seat pitted", {"part": "valve seat", "condition": "pitted"}),
        ("pitting on the seat", {"place": "valve seat", "condition": "pitted"}),
        ("threads stripped", {"part": "thread", "condition": "stripped"}),
        ("threaded hole stripped", {"part": "bolt hole", "condition": "stripped"}),
        ("cooler bolts off", {"part": "bolt", "place": "oil cooler", "action": "removed"}),
        ("clutch bolts off", {"part": "bolt", "place": "clutch pack", "action": "removed"}),
        ("clutch hub worn", {"part": "clutch hub", "condition": "worn"}),
        ("bearing cap off", {"part": "bearing cap", "action": "removed"}),
        ("mounting foot cracked", {"part": "mounting foot", "condition": "cracked"}),
        ("pressure spring weak", {"part": "pressure spring", "condition": "weak"}),
        ("one set screw", {"part": "set screw", "count": 1}),
        ("a taper pin missing", {"part": "taper pin", "count": 1, "condition": "missing"}),
        ("pump looks like new", {"part": "pump", "condition": "good"}),
        ("six inside bolts", {"part": "bolt", "count": 6, "place": "inside"}),
        ("gasket into the scrap heap", {"part": "gasket", "container": "scrap pile"}),
        (
            "valve cover cracked at the side cover",
            {"part": "valve cover", "condition": "cracked", "place": "side cover"},
        ),
        (
            "magnetic plug lip against the snap ring",
            {"part": "magnetic plug", "orientation": "lip toward snap ring"},
        ),
        ("bolts in bin one no wait box nine", {"part": "bolt", "container": "box 9"}),
        (
            "bolts in tin number one i mean jar five",
            {"part": "bolt", "container": "jar 5"},
        ),
        ("bear bearing rusted", {"part": "bearing", "condition": "rusty"}),
        ("housing is not flat", {"part": "housing", "condition": "warped"}),
        ("the seal isn't leaking", {"part": "seal", "condition": "not leaking"}),
        (
            "no twelve bolts off the front cover",
            {"part": "bolt", "count": 12, "place": "front cover", "action": "removed"},
        ),
    ],
)
def test_settled_one_way(said: str, found: dict[str, Any]) -> None:
    assert facts(parse(said)) == [found]


def test_what_is_not_there_is_no_finding() -> None:
    remark = parse("no bolts off the front cover")
    assert (remark.kind, remark.findings) == ("unclear", ())
    assert remark.unparsed


def test_words_that_tell_nothing_are_not_lost() -> None:
    assert parse("bearing cracked pressure").unparsed == ("pressure",)


def test_a_command_is_the_whole_remark() -> None:
    assert parse("what's what's next").command == "coming"
    assert parse("done up the suction valve").kind == "remark"
    assert only("done up the suction valve").action == "tightened"


def test_degrees_of_temperature_alone_are_not_guessed() -> None:
    remark = parse("oil temperature one eighty degrees")
    assert [found.measure for found in remark.findings if found.measure] == []
    assert remark.ambiguous[0].readings == ("180 degF", "180 degC")


@settings(max_examples=300)
@given(st.text())
def test_any_text_gives_a_remark(text: str) -> None:
    remark = parse(text)
    assert isinstance(remark, Remark)
    assert remark.heard == text


def words_of_the_pack() -> list[str]:
    words = {
        word for _, term in pack().terms() for way in (term.name, *term.say) for word in way.split()
    }
    plain = (
        "a an the of off in and no not is one two twenty quarter eighths half by point m to , 8 .5"
    )
    return sorted(words | set(plain.split()) | {"3/8-16"})


@settings(max_examples=500)
@given(st.lists(st.sampled_from(words_of_the_pack()), max_size=25))
@example(["buckled", "endplay", "vice", ",", "vice", "buckled"])
def test_words_in_any_order_give_a_remark(words: list[str]) -> None:
    remark = parse(" ".join(words))
    for finding in remark.findings:
        assert finding.count is None or 0 <= finding.count < 100_000
        assert (finding.measure is None) or finding.measure.value >= 0


@given(
    st.sampled_from(["1", "9,", "½", "²", "٣", "m", "x", "/", "-", "#", "'", "\ud800"]),
    st.integers(1, 6000),
)
def test_odd_signs_in_a_row_give_a_remark(sign: str, times: int) -> None:
    assert parse(f"{sign * times} bolts").heard


def calls(text: str) -> int:
    """How many Python functions a reading calls: its work, whatever the machine."""
    counted = 0

    def count(frame: object, event: str, arg: object) -> None:
        nonlocal counted
        counted += event == "call"

    sys.setprofile(count)
    try:
        parse(text)
    finally:
        sys.setprofile(None)
    return counted


@pytest.mark.parametrize("word", ["seal", "1,", "it's", "all good", "no", "3/8-16", "next", "'"])
def test_work_grows_no_faster_than_the_text(word: str) -> None:
    text = f"{word} " * (10_000 // (len(word) + 1))
    assert calls(text * 2) <= 2.2 * calls(text) + 100
    assert calls(text) < 100 * len(text)


def test_a_size_that_cannot_be_read_is_left_unread_and_the_rest_kept() -> None:
    """Tenths of an inch and a thread that is none once made the parser fail."""
    remark = parse("six hex cap screws five tenths inch eighteen by one inch")
    (finding,) = remark.findings
    assert (finding.part, finding.count, finding.size) == ("cap screw", 6, None)
    assert remark.unparsed == ("five tenths inch eighteen by one inch",)


@pytest.mark.parametrize(
    "say", ["bag three label short", "comes to gear thou no off looks like from rest which"]
)
def test_odd_words_end_in_no_error(say: str) -> None:
    assert parse(say).heard == say
