"""Limits, against pint's conversions; lengths, against pint and fractions."""

from __future__ import annotations

import pint
import pytest
from follow_help import answered, pack_of, tell, warned
from hypothesis import assume, given
from hypothesis import strategies as st

from benchvoice.follow.limits import convert, limit_text, limit_warnings
from benchvoice.follow.sizes import hardware_warnings, length_mm
from benchvoice.grammar import Hardware, Limit, Outline, Stage, Step
from benchvoice.remark import Amount, Finding, Measure, Size

PINT = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
# pint's definitions follow NIST SP 811; "thou" is mil there, and torques are force times length
NAMES = {
    "thou": "thou",
    "in": "inch",
    "mm": "millimeter",
    "um": "micrometer",
    "ft-lb": "foot * force_pound",
    "in-lb": "inch * force_pound",
    "Nm": "newton * meter",
    "psi": "psi",
    "bar": "bar",
    "kPa": "kilopascal",
    "degF": "degF",
    "degC": "degC",
    "lbf": "force_pound",
    "N": "newton",
}
UNITS = {unit.name: unit for unit in pack_of().unit}
FAMILIES = [
    ("thou", "in", "mm", "um"),
    ("ft-lb", "in-lb", "Nm"),
    ("psi", "bar", "kPa"),
    ("degF", "degC"),
    ("lbf", "N"),
]
PAIRS = [(a, b) for family in FAMILIES for a in family for b in family]


@pytest.mark.parametrize(("unit", "to"), PAIRS)
def test_conversion_agrees_with_pint(unit: str, to: str) -> None:
    for value in (0.0, 1.0, 12.5, 250.0):
        expected = PINT.Quantity(value, NAMES[unit]).to(NAMES[to]).magnitude
        assert convert(value, unit, to, UNITS) == pytest.approx(expected, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("pair", [("thou", "psi"), ("degF", "mm"), ("furlong", "mm")])
def test_other_kinds_of_unit_are_not_converted(pair: tuple[str, str]) -> None:
    assert convert(1.0, *pair, UNITS) is None


WORM = "worm_reducer"


def complaints(measure: Measure, limit: Limit) -> tuple[str, ...]:
    step = Step(id="a", title="A", limit=(limit,))
    outline = Outline(
        name="t",
        title="t",
        unit="t",
        stage=(Stage(id="s", title="s", kind="inspect", step=(step,)),),
    )
    return limit_warnings(Finding(part="input shaft", measure=measure), step, outline, UNITS)


@given(st.floats(0, 1, allow_nan=False), st.sampled_from(["thou", "in", "mm", "um"]))
def test_a_length_is_out_when_pint_says_so(millimetres: float, unit: str) -> None:
    limit = Limit(quantity="end play", unit="thou", low=4, high=12, source="invented")
    thou = PINT.Quantity(millimetres, "mm").to("thou").magnitude
    assume(min(abs(thou - 4), abs(thou - 12)) > 1e-6)
    value = PINT.Quantity(millimetres, "mm").to(NAMES[unit]).magnitude
    said = complaints(Measure(quantity="end play", value=value, unit=unit), limit)
    assert bool(said) == (not 4 <= thou <= 12)


@pytest.mark.parametrize(
    ("value", "unit"), [(0.3048, "mm"), (12, "thou"), (0.012, "in"), (4, "thou"), (0.1016, "mm")]
)
def test_on_the_limit_is_within(value: float, unit: str) -> None:
    # exact: 12 thou = 0.3048 mm, 4 thou = 0.1016 mm (inch = 25.4 mm, NIST SP 811)
    limit = Limit(quantity="end play", unit="thou", low=4, high=12)
    assert complaints(Measure(quantity="end play", value=value, unit=unit), limit) == ()


def test_wording_of_a_limit_with_and_without_a_source() -> None:
    limit = Limit(quantity="end play", unit="thou", low=4, high=12, source="invented for the demo")
    said = complaints(Measure(quantity="end play", value=14, unit="thou"), limit)
    assert said == ("input shaft end play 14 thou: limit 4 to 12 thou (invented for the demo)",)
    assert "unsourced" in limit_text(Limit(quantity="end play", unit="thou", high=12))


def test_a_range_is_out_when_either_end_is() -> None:
    limit = Limit(quantity="backlash", unit="thou", low=6, high=12)
    for low, high, out in ((6, 12, False), (5, 8, True), (8, 13, True)):
        measure = Measure(quantity="backlash", value=low, high=high, unit="thou")
        assert bool(complaints(measure, limit)) == out


def test_what_cannot_be_compared_is_said() -> None:
    limit = Limit(quantity="preload", unit="in-lb", high=12)
    (said,) = complaints(Measure(quantity="preload", value=3, unit="thou"), limit)
    assert "not compared" in said


def test_a_limit_of_another_step_or_part() -> None:
    # taken while at another step: friction plate thickness has its limit in check_plates only
    _, events = tell("start the pump", "friction plate thickness is eighty thou")
    assert any("at least 85 thou" in text for text in warned(events))
    _, events = tell("steel plate thickness is eighty thou")
    assert not any("85" in text for text in warned(events))


@given(st.integers(0, 5), st.integers(1, 31))
def test_lengths_as_the_trade_writes_them(whole: int, parts: int) -> None:
    text = f"{whole} {parts}/32 in" if whole else f"{parts}/32 in"
    expected = PINT.Quantity(whole + parts / 32, "inch").to("mm").magnitude
    assert length_mm(text) == pytest.approx(expected)


BOLT = Hardware(part="bolt", place="end cover", thread="M10x1.5", length="1 1/4 in", head="17 mm")


@pytest.mark.parametrize(
    ("size", "word"),
    [
        (Size(thread="M10x1.5"), None),
        (Size(thread="M10"), None),  # pitch not said; 1.5 is M10's coarse pitch, ISO 261
        (Size(thread="M10x1.25"), "thread"),
        (Size(thread="M1"), "thread"),
        (Size(thread="3/8-16"), "thread"),
        (Size(length=Amount(value=31.75, unit="mm")), None),  # 1.25 x 25.4
        (Size(length=Amount(value=1.5, unit="in", text="1 1/2 in")), "length"),
        (Size(across_flats=Amount(value=17, unit="mm")), None),
        (Size(across_flats=Amount(value=0.6875, unit="in", text="11/16 in")), "head"),
    ],
)
def test_sizes_that_are_not_the_outlines(size: Size, word: str | None) -> None:
    said = hardware_warnings(Finding(part="bolt", size=size), BOLT)
    assert [word in text for text in said] == ([True] if word else [])


def test_a_size_said_at_the_bench_is_compared() -> None:
    _, events = tell("ten bolts off the end cover five sixteenths eighteen")
    assert warned(events) == ["end cover bolt: thread 3/8-16 expected, 5/16-18 said"]
    _, events = tell("eight bolts off the control valve")
    assert warned(events) == ["control valve cap screw: bolt said"]


def test_a_measure_answers_no_check_without_a_reading() -> None:
    def unchecked() -> bool:
        return any("spin test" in one for one in answered("what is unmeasured", state, WORM))

    state, _ = tell("start the run test", "71 degrees c", outline=WORM)
    assert unchecked()
    state, _ = tell("spins smooth both ways", state=state, outline=WORM)
    assert not unchecked()
