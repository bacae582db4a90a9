"""Sizes and names said against those of the outline's hardware."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Protocol, TypeVar

from benchvoice.follow.likeness import stems, swapped_names
from benchvoice.follow.wording import amount_text
from benchvoice.grammar.outline import Hardware, LengthGroup
from benchvoice.remark import Amount, Finding, Size

_MM_PER = {"in": 25.4, "mm": 1.0}
"""Exact: NIST SP 811 (2008), appendix B.8, inch."""

_SAME_MM = 0.05
"""Lengths nearer than this are the same; heads and lengths come in steps of at least 0.5 mm."""


class _Lengths(Protocol):
    """One of several lengths, and the holes it belongs in."""

    @property
    def length(self) -> str: ...

    @property
    def where(self) -> str: ...


_Group = TypeVar("_Group", bound=_Lengths)


def hardware_warnings(finding: Finding, hardware: Hardware) -> tuple[str, ...]:
    """Say what is not as the outline has it: its name, its size, and where its lengths are."""
    wrong = misplaced(finding, hardware.lengths, hardware.place)
    at = () if wrong is None else (f"{named_at(hardware.part, hardware.place)}, {wrong}",)
    return (*size_warnings(finding, hardware), *at)


def named_at(part: str, place: str | None) -> str:
    """Name a part with its place before it."""
    return f"{place} {part}" if place else part


def size_warnings(finding: Finding, hardware: Hardware) -> tuple[str, ...]:
    """Say what of name and size is another: "bolt: thread 3/8-16 expected, 5/16-18 said"."""
    name = named_at(hardware.part, hardware.place)
    warnings = []
    if swapped_names(finding.part, hardware.part):
        warnings.append(f"{name}: {finding.part} said")
    size = finding.size or Size()
    if hardware.thread and size.thread and _other_thread(hardware.thread, size.thread):
        warnings.append(f"{name}: thread {hardware.thread} expected, {size.thread} said")
    for what, expected, said in (
        ("length", hardware.length, size.length),
        ("head", hardware.head, size.across_flats),
    ):
        if expected and said and _other_length(expected, said):
            warnings.append(f"{name}: {what} {expected} expected, {amount_text(said)} said")
    if size.length and hardware.lengths:
        lengths = [group.length for group in hardware.lengths]
        if all(_other_length(length, size.length) for length in lengths):
            expected = " or ".join(lengths)
            warnings.append(f"{name}: length {expected} expected, {amount_text(size.length)} said")
    return tuple(warnings)


def length_group(finding: Finding, hardware: Hardware) -> LengthGroup | None:
    """Find which of several lengths is meant: by its size, by "long" or "short", or by its holes.

    None when there is one length only, or none of them was said.
    """
    by_size = group_by_size(finding, hardware.lengths)
    if by_size is not None or (finding.size and finding.size.length):
        return by_size
    return group_by_holes(finding, hardware.lengths, hardware.place)


def group_by_size(finding: Finding, groups: Sequence[_Group]) -> _Group | None:
    """Find which of several lengths is meant by what was said of its size."""
    size = finding.size or Size()
    for group in groups:
        if size.length and not _other_length(group.length, size.length):
            return group
    if size.length or not groups or size.relative not in ("short", "long"):
        return None
    by_length = sorted(groups, key=lambda group: length_mm(group.length) or 0.0)
    return by_length[0 if size.relative == "short" else -1]


def group_by_holes(
    finding: Finding, groups: Sequence[_Group], place: str | None = None
) -> _Group | None:
    """Find which of several lengths is meant by its holes; `place` is where all of them are."""
    said = {*stems(finding.place or ""), *stems(finding.side or "")} - set(stems(place or ""))
    named = [group for group in groups if said and said >= set(stems(group.where))]
    return named[0] if len(named) == 1 else None


def misplaced(finding: Finding, groups: Sequence[_Group], place: str | None = None) -> str | None:
    """Say that a length is not in the holes that it belongs in; None when nothing tells so."""
    length, holes = group_by_size(finding, groups), group_by_holes(finding, groups, place)
    if length is None or holes is None or length.where == holes.where:
        return None
    return misplaced_text(length, holes.where)


def misplaced_text(length: _Lengths, holes: str) -> str:
    """Say that a length is in other holes."""
    return f"{length.length}: {length.where} expected, {holes} said"


def length_mm(text: str) -> float | None:
    """Read a length as the trade writes it; None when it cannot be read.

    >>> length_mm("1 1/4 in"), length_mm("30 mm"), length_mm("a foot")
    (31.75, 30.0, None)
    """
    *numbers, unit = text.split()
    try:
        return float(sum(Fraction(number) for number in numbers)) * _MM_PER[unit]
    except (KeyError, ValueError, ZeroDivisionError):
        return None


def is_length(expected: str, said: Amount) -> bool:
    """Whether what was said is as long as the outline has it."""
    known = length_mm(expected) is not None and said.unit in _MM_PER
    return known and not _other_length(expected, said)


def _other_length(expected: str, said: Amount) -> bool:
    millimetres = length_mm(expected)
    if millimetres is None or said.unit not in _MM_PER:
        return False
    return abs(millimetres - said.value * _MM_PER[said.unit]) > _SAME_MM


def _other_thread(expected: str, said: str) -> bool:
    """A metric thread said without its pitch is not another thread."""
    one, other = (text.lower().replace(" ", "") for text in (expected, said))
    return one != other and not ("x" not in other and one.startswith(f"{other}x"))
