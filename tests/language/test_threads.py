"""Threads and heads against the standards' tables, written here from memory."""

from __future__ import annotations

import pytest
from language_help import only, parse

from benchvoice.language.threads import (
    INCH_THREADS,
    METRIC_PITCHES,
    NUMBER_THREADS,
    is_inch_thread,
    standard_heads,
)

# ASME B1.1 (Unified Inch Screw Threads), coarse and fine series; from memory.
UNC = "1/4-20 5/16-18 3/8-16 7/16-14 1/2-13 9/16-12 5/8-11 3/4-10 7/8-9 1-8"
UNF = "1/4-28 5/16-24 3/8-24 7/16-20 1/2-20 9/16-18 5/8-18 3/4-16 7/8-14 1-12"
NUMBERED = "4-40 4-48 5-40 5-44 6-32 6-40 8-32 8-36 10-24 10-32 12-24 12-28"

# ASME B18.2.1 (hex cap screws), nominal width across flats; from memory.
B18_2_1 = {
    **{"1/4": "7/16", "5/16": "1/2", "3/8": "9/16", "7/16": "5/8", "1/2": "3/4", "9/16": "13/16"},
    **{"5/8": "15/16", "3/4": "1 1/8", "7/8": "1 5/16", "1": "1 1/2"},
}

# ISO 261, coarse pitch in mm; from memory.
ISO_261 = {
    **{3: 0.5, 4: 0.7, 5: 0.8, 6: 1, 8: 1.25, 10: 1.5, 12: 1.75, 14: 2, 16: 2, 18: 2.5},
    **{20: 2.5, 22: 2.5, 24: 3, 27: 3, 30: 3.5},
}
# ISO 261, fine pitches in mm that are in use; from memory.
ISO_261_FINE = {8: 1, 10: 1.25, 12: 1.25, 14: 1.5, 16: 1.5, 18: 1.5, 20: 1.5, 24: 2}

# ISO 4014, width across flats in mm; from memory.
ISO_4014 = {5: 8, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24, 20: 30, 24: 36, 30: 46}
# The older DIN 931, where it differs from ISO 4014; from memory.
DIN_931 = {10: 17, 12: 19, 14: 22, 22: 32}


@pytest.mark.parametrize("thread", [*UNC.split(), *UNF.split(), *NUMBERED.split()])
def test_unified_threads(thread: str) -> None:
    nominal, _, pitch = thread.partition("-")
    assert is_inch_thread(nominal, int(pitch))
    assert only(f"bolts {thread}").size is not None


def test_no_inch_thread_is_made_up() -> None:
    ours = {f"{nominal}-{pitch}" for nominal, pitches in INCH_THREADS.items() for pitch in pitches}
    ours |= {f"{number}-{pitch}" for number, pitches in NUMBER_THREADS.items() for pitch in pitches}
    # 1-14 is UNS, not in the two series, but what is found on a one inch shaft (common practice).
    assert ours - {"1-14"} == {*UNC.split(), *UNF.split(), *NUMBERED.split()}


@pytest.mark.parametrize("thread", ["3/8-17", "1/4-32", "11-24", "3/8-0", "1/0-20", "x-20"])
def test_others_are_no_threads(thread: str) -> None:
    nominal, _, pitch = thread.partition("-")
    assert not is_inch_thread(nominal, int(pitch))


def test_metric_pitches() -> None:
    assert {nominal: pitches[0] for nominal, pitches in METRIC_PITCHES.items()} == ISO_261
    for nominal, pitch in ISO_261_FINE.items():
        assert pitch in METRIC_PITCHES[nominal]


@pytest.mark.parametrize(("nominal", "width"), B18_2_1.items())
def test_inch_heads(nominal: str, width: str) -> None:
    pitch = next(thread for thread in UNC.split() if thread.startswith(f"{nominal}-"))
    assert [head.text for head in standard_heads(pitch)] == [f"{width} in"]


@pytest.mark.parametrize(("nominal", "width"), ISO_4014.items())
def test_metric_heads(nominal: int, width: int) -> None:
    heads = [head.value for head in standard_heads(f"M{nominal}")]
    assert heads[0] == width
    assert heads[1:] == ([DIN_931[nominal]] if nominal in DIN_931 else [])


@pytest.mark.parametrize("thread", ["M7", "M8.5", "", "abc", "9-99", "M"])
def test_no_head_of_what_is_no_thread(thread: str) -> None:
    assert standard_heads(thread) == ()


def notes(said: str) -> tuple[str, ...]:
    (finding,) = parse(said).findings
    assert finding.size is not None
    assert finding.size.across_flats is not None
    return finding.notes


def test_a_three_eighths_bolt_takes_a_nine_sixteenths_wrench() -> None:
    # Common practice, no source; it is also the width of ASME B18.2.1.
    assert notes("bolt three eighths sixteen nine sixteenths head") == ()


# Common practice, no source: 1/2 in and 13 mm, 11/16 in and 17 mm take each other's wrench.
@pytest.mark.parametrize(
    "said",
    ["m8 bolt half inch head", "5/16-18 bolt 13 mm head", "m10x1.5 bolt eleven sixteenths head"],
)
def test_heads_that_take_each_others_wrench_are_noted(said: str) -> None:
    (note,) = notes(said)
    assert "each other's wrench" in note
    assert "changed" not in note


@pytest.mark.parametrize(
    "said", ["m10 bolt 16 mm head", "m10 bolt 17 mm head", "m12 bolt 19 mm head"]
)
def test_either_standard_head_is_right(said: str) -> None:
    assert notes(said) == ()


# Common practice, no source: 9/16 in and 15 mm do not take each other's wrench.
@pytest.mark.parametrize(
    "said",
    [
        "3/8-16 bolt 15 mm head",
        "m10 bolt nine sixteenths head",
        "half inch thirteen bolt 19 mm head",
    ],
)
def test_a_head_that_differs_is_a_changed_bolt(said: str) -> None:
    (note,) = notes(said)
    assert "changed bolt" in note


def test_no_note_without_thread_or_head() -> None:
    assert only("eight bolts nine sixteenths head").notes == ()
    assert only("eight bolts three eighths sixteen").notes == ()


def test_a_length_that_begins_with_its_unit_follows_a_thread() -> None:
    (found,) = parse("eight cap screws five sixteenths eighteen inch and a quarter").findings
    assert found.size is not None and found.size.length is not None
    assert (found.count, found.size.thread, found.size.length.text) == (8, "5/16-18", "1 1/4 in")
