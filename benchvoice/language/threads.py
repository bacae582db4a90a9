"""Standard threads and the head widths that belong to them.

Sources, written down from memory: ASME B1.1 (UNC and UNF series), ASME
B18.2.1 (hex cap screw, width across flats), ISO 261 (coarse and common fine
pitches), ISO 4014 and the older DIN 931 (width across flats).
"""

from __future__ import annotations

from fractions import Fraction

from benchvoice.language.numbers import fraction_text
from benchvoice.remark import Amount, Size

_F = Fraction
INCH_THREADS: dict[Fraction, tuple[int, ...]] = {
    _F(1, 4): (20, 28),
    _F(5, 16): (18, 24),
    _F(3, 8): (16, 24),
    _F(7, 16): (14, 20),
    _F(1, 2): (13, 20),
    _F(9, 16): (12, 18),
    _F(5, 8): (11, 18),
    _F(3, 4): (10, 16),
    _F(7, 8): (9, 14),
    _F(1): (8, 12, 14),
}
"""Nominal diameter in inches to threads per inch, coarse first (ASME B1.1; 1-14 is UNS)."""

NUMBER_THREADS = {4: (40, 48), 5: (40, 44), 6: (32, 40), 8: (32, 36), 10: (24, 32), 12: (24, 28)}
"""Numbered machine screws to threads per inch (ASME B1.1)."""

METRIC_PITCHES: dict[int, tuple[float, ...]] = {
    **{3: (0.5,), 4: (0.7,), 5: (0.8,), 6: (1.0, 0.75), 8: (1.25, 1.0), 10: (1.5, 1.25, 1.0)},
    **{12: (1.75, 1.5, 1.25), 14: (2.0, 1.5), 16: (2.0, 1.5), 18: (2.5, 2.0, 1.5)},
    **{20: (2.5, 2.0, 1.5), 22: (2.5, 2.0, 1.5), 24: (3.0, 2.0), 27: (3.0, 2.0), 30: (3.5, 2.0)},
}
"""Nominal diameter in mm to pitch in mm, coarse first (ISO 261)."""

_INCH_HEADS = {
    **{_F(1, 4): _F(7, 16), _F(5, 16): _F(1, 2), _F(3, 8): _F(9, 16), _F(7, 16): _F(5, 8)},
    **{_F(1, 2): _F(3, 4), _F(9, 16): _F(13, 16), _F(5, 8): _F(15, 16), _F(3, 4): _F(9, 8)},
    **{_F(7, 8): _F(21, 16), _F(1): _F(3, 2)},
}
_METRIC_HEADS: dict[int, tuple[int, ...]] = {
    **{4: (7,), 5: (8,), 6: (10,), 8: (13,), 10: (16, 17), 12: (18, 19), 14: (21, 22)},
    **{16: (24,), 18: (27,), 20: (30,), 22: (34, 32), 24: (36,), 27: (41,), 30: (46,)},
}
"""Nominal diameter to head width in mm: ISO 4014, then DIN 931 where it differs."""

_SAME_WRENCH = ({("1/2", "in"), ("13", "mm")}, {("11/16", "in"), ("17", "mm")})
"""Common practice, no source: these heads take each other's wrench."""


def is_inch_thread(nominal: str, pitch: int) -> bool:
    """Whether this is a standard inch thread: ("3/8", 16), ("10", 32)."""
    try:
        value = _F(nominal)
    except (ValueError, ZeroDivisionError):
        return False
    if pitch in INCH_THREADS.get(value, ()):
        return True
    return value.denominator == 1 and pitch in NUMBER_THREADS.get(int(value), ())


def standard_heads(thread: str) -> tuple[Amount, ...]:
    """Give the standard widths across flats of a thread designation; empty when unknown.

    >>> [head.text for head in standard_heads("3/8-16")]
    ['9/16 in']
    """
    if thread.startswith("M"):
        nominal = thread[1:].partition("x")[0]
        widths = _METRIC_HEADS.get(int(nominal), ()) if nominal.isdigit() else ()
        return tuple(Amount(value=width, unit="mm", text=f"{width} mm") for width in widths)
    try:
        width = _INCH_HEADS.get(_F(thread.partition("-")[0]))
    except ValueError:
        return ()
    if width is None:
        return ()
    return (Amount(value=float(width), unit="in", text=f"{fraction_text(width)} in"),)


def head_note(size: Size) -> str | None:
    """Say in a line when the head said is not the standard one for the thread said."""
    if size.thread is None or size.across_flats is None:
        return None
    standard = standard_heads(size.thread)
    said = size.across_flats
    if not standard or any(said.value == one.value and said.unit == one.unit for one in standard):
        return None
    usual = " or ".join(one.text or "" for one in standard)
    for one in standard:
        if {_key(one), _key(said)} in _SAME_WRENCH:
            return f"{said.text} head said, {usual} is standard; they take each other's wrench"
    return f"{said.text} head said, {usual} is standard for {size.thread}; check for a changed bolt"


def _key(amount: Amount) -> tuple[str, str]:
    return (amount.text or "").rpartition(" ")[0], amount.unit
