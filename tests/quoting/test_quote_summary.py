"""Plain statistics against certified values and a published time study."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchvoice.quoting.summary import summary, timings_needed

MICHELSO = [
    float(f"299.{digits}") if int(digits) > 50 else float(f"300.{digits}")
    for digits in (
        "85 74 90 07 93 85 95 98 98 88 00 98 93 65 76 81 00 00 96 96 96 94 96 94 88 80 85 88 90 84 "
        "83 79 81 88 88 83 80 79 76 80 88 88 88 86 72 72 62 86 97 95 88 91 85 87 84 84 85 84 84 84 "
        "89 81 81 82 80 77 76 74 75 76 91 92 89 86 88 72 84 85 85 78 89 84 78 81 76 81 79 81 82 85 "
        "87 87 81 74 81 94 95 80 81 87"
    ).split()
]
MAVRO = [
    2 + int(digits) / 1e5
    for digits in (
        "180 170 180 190 180 170 150 140 150 150 170 180 180 190 190 210 200 160 140 130 130 150 "
        "150 160 150 140 130 140 150 140 150 160 150 160 190 200 200 210 220 230 240 250 270 260 "
        "260 260 270 260 250 240"
    ).split()
]
LEW = [
    int(value)
    for value in Path(__file__).with_name("nist_lew.txt").read_text().split("#")[-1].split()[1:]
]


def alternating(middle: float, low: float, high: float) -> list[float]:
    """A NumAcc set: the middle value, then the low and the high one 500 times."""
    return [middle, *([low, high] * 500)]


@pytest.mark.parametrize(
    ("values", "mean", "sd", "lag1", "digits"),
    [
        # NIST/ITL Statistical Reference Datasets, univariate summary statistics: certified values.
        (LEW, -177.435, 277.332168044316, -0.307304800605679, 13),
        (MICHELSO, 299.8524, 0.0790105478190518, 0.535199668621283, 11),
        (MAVRO, 2.001856, 0.000429123454003053, 0.937989183438248, 9),
        ([10000001, 10000003, 10000002], 10000002, 1.0, -0.5, 14),  # NumAcc1
        (alternating(1.2, 1.1, 1.3), 1.2, 0.1, -0.999, 12),  # NumAcc2
        (alternating(1000000.2, 1000000.1, 1000000.3), 1000000.2, 0.1, -0.999, 8),  # NumAcc3
        (alternating(10000000.2, 10000000.1, 10000000.3), 10000000.2, 0.1, -0.999, 7),  # NumAcc4
    ],
    ids=["Lew", "Michelso", "Mavro", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"],
)
def test_nist_reference_datasets(
    values: list[float], mean: float, sd: float, lag1: float, digits: int
) -> None:
    found = summary(values)
    assert found.mean == pytest.approx(mean, rel=1e-14)
    assert found.sd == pytest.approx(sd, rel=10.0**-digits)
    assert found.lag1 == pytest.approx(lag1, rel=10.0**-digits)


def test_published_time_study() -> None:
    # International Labour Office, "Introduction to Work Study", statistical method: readings of
    # 7, 6, 7, 7, 6 hundredths of a minute; 8.81, so 9 observations (from memory; the readings and
    # the formula are also in course notes on work study).
    assert timings_needed([7, 6, 7, 7, 6]) == 9


@given(st.lists(st.floats(1, 1000), min_size=2, max_size=30))
def test_timings_needed_do_not_depend_on_the_unit(values: list[float]) -> None:
    in_seconds = [value * 60 for value in values]
    assert timings_needed(in_seconds) == pytest.approx(timings_needed(values), abs=1)
