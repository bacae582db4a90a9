"""Units against an outside library and against the published table, and as remarks use them."""

from __future__ import annotations

import pint
import pytest
from language_help import only, pack, parse

from benchvoice.grammar.vocabulary import Unit

# The unit in pint's registry, and pint's name of the SI unit that the pack writes.
PINT = {
    **{"thou": "thou", "in": "inch", "mm": "millimeter", "um": "micrometer"},
    **{"ft-lb": "foot * force_pound", "in-lb": "inch * force_pound", "Nm": "newton * meter"},
    **{"psi": "psi", "bar": "bar", "kPa": "kilopascal", "degF": "degF", "degC": "degC"},
    **{"lbf": "force_pound", "N": "newton", "deg": "degree", "L": "liter"},
}
SI = {"N m": "newton * meter", "mm": "millimeter", "kPa": "kilopascal", "N": "newton"}
SI |= {"degC": "degC", "deg": "degree", "L": "liter"}

# NIST SP 811 (2008), Appendix B.8, factors to the SI unit of the pack; written from memory.
SP_811 = {
    **{"thou": 2.54e-2, "in": 25.4, "um": 1e-3, "ft-lb": 1.355818, "in-lb": 0.1129848},
    **{"psi": 6.894757, "bar": 100.0, "lbf": 4.448222},
}


def unit(name: str) -> Unit:
    return next(unit for unit in pack().unit if unit.name == name)


@pytest.mark.parametrize("name", [unit.name for unit in pack().unit])
@pytest.mark.parametrize("value", [0.0, 1.0, 12.5, 212.0])
def test_every_unit_is_as_pint_has_it(name: str, value: float) -> None:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    ours = unit(name)
    outside = registry.Quantity(value, PINT[name]).to(SI[ours.si]).magnitude
    assert (value + ours.offset) * ours.factor == pytest.approx(outside, rel=1e-12, abs=1e-12)


@pytest.mark.parametrize(("name", "factor"), SP_811.items())
def test_factors_of_sp_811(name: str, factor: float) -> None:
    assert unit(name).factor == pytest.approx(factor, rel=5e-7)


def test_fahrenheit_of_sp_811() -> None:
    # NIST SP 811, Appendix B.8: t/degC = (t/degF - 32)/1.8; from memory.
    fahrenheit = unit("degF")
    for value in (32.0, 180.0, 212.0):
        assert (value + fahrenheit.offset) * fahrenheit.factor == pytest.approx((value - 32) / 1.8)


@pytest.mark.parametrize(
    ("said", "written", "si"),
    [
        ("end play twelve thou", "12 thou", 0.3048),
        ("torque forty foot pounds", "40 ft-lb", 54.2327),
        ("oil pressure sixty p s i", "60 psi", 413.685),
        ("oil temperature one hundred and eighty degrees fahrenheit", "180 degF", 82.2222),
        ("thickness point one inches", "0.1 in", 2.54),
        ("thickness 2.5 mm", "2.5 mm", 2.5),
    ],
)
def test_a_reading_has_its_si_value(said: str, written: str, si: float) -> None:
    """By hand from the factors above."""
    measure = only(said).measure
    assert measure is not None
    assert measure.si is not None
    assert f"{measure.value:g} {measure.unit}" == written
    assert measure.si.value == pytest.approx(si, rel=1e-5)


@pytest.mark.parametrize("name", [unit.name for unit in pack().unit])
def test_every_way_of_saying_a_unit_is_read(name: str) -> None:
    for way in unit(name).say:
        remark = parse(f"clearance is forty one {way}")
        (doubt,) = remark.ambiguous or (None,)
        if way in ("mil", "mils"):  # a thou to some, a millimetre to others
            assert doubt is not None
            continue
        (finding,) = remark.findings
        assert finding.measure is not None, way
        assert (finding.measure.value, finding.measure.unit) == (41, name), way
