"""Which of the outline's hardware is meant by what names it only in part.

"Rotors" are the inner and the outer one; "the short ones at the bottom" are the bolts that come in
several lengths, in some of their holes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchvoice.follow.asked_for import put_back_by
from benchvoice.follow.counts import ON, hardware_likeness, most_like
from benchvoice.follow.likeness import part_likeness, place_likeness, stems, swapped_names
from benchvoice.follow.sizes import group_by_size, is_length
from benchvoice.grammar.outline import Hardware, Outline, Step
from benchvoice.grammar.pack import Pack, part_forms, plural_of
from benchvoice.remark import ANOTHER, OUT_OF, Finding


def meant(finding: Finding, heard: str, step: Step, pack: Pack) -> tuple[Finding, ...]:
    """Give a finding of a step as the hardware that is meant; `heard` is all that was said."""
    homes = homes_of(step, pack.outline)
    finding = _by_length(_of_limit(finding, step), homes)
    named = with_lengths(finding, homes) or _out_of(finding, homes)
    if named is not None:
        return (named,)
    return _each(finding, heard, step, pack)


def of_part_before(
    findings: tuple[Finding, ...], before: Finding | None, pack: Pack
) -> tuple[Finding, ...]:
    """Name the part of "rear spalled, front ok": the one that was talked about before.

    Two places and nothing else are set against one another; one alone may be the place itself.
    "The other two in" are of it too, and where they are.
    """
    if before is not None and before.part:
        findings = tuple(
            replace(one, part=before.part, place=one.place or before.place)
            if ANOTHER in one.notes and one.part is None
            else one
            for one in findings
        )
    places = {place.name for place in pack.place} - pack.part_by_name.keys()
    states = (bool(one.condition or one.disposition) for one in findings)
    set_apart = len(findings) > 1 and all(one.part in places for one in findings) and all(states)
    if not set_apart or before is None or not before.part or before.part in places:
        return findings
    first, _, rest = before.part.partition(" ")
    part = rest if rest and first in places else before.part
    return tuple(replace(one, part=f"{one.part} {part}") for one in findings)


def _of_limit(finding: Finding, step: Step) -> Finding:
    """Name what was measured as the step's limit does: "torque" where it is the turning torque."""
    said = finding.measure
    if said is None or finding.part is not None or finding.action in ON:
        return finding
    own = [limit.quantity for limit in step.limit]
    longer = [one for one in own if one.endswith(f" {said.quantity}")]
    if said.quantity in own or len(longer) != 1:
        return finding
    return replace(finding, measure=replace(said, quantity=longer[0]))


def _by_length(finding: Finding, homes: Iterable[Step]) -> Finding:
    """Take "40 mm bolts" for their length where the outline has bolts that long."""
    size = finding.size
    if size is None or size.diameter is None or size.length is not None:
        return finding
    lengths = [
        length
        for home in homes
        for item in home.hardware
        if part_likeness(finding.part, item.part) > 0
        for length in (item.length, *(group.length for group in item.lengths))
    ]
    if not any(length and is_length(length, size.diameter) for length in lengths):
        return finding
    return replace(finding, size=replace(size, length=size.diameter, diameter=None))


def _out_of(finding: Finding, homes: Iterable[Step]) -> Finding | None:
    """Name the part of "10 of 16 in": the only one that there are so many of."""
    said = next((note for note in finding.notes if note.startswith(OUT_OF)), None)
    if said is None or finding.part is not None:
        return None
    fits = [
        item
        for home in homes
        for item in home.hardware
        if f"{OUT_OF}{item.expected}" == said and place_likeness(finding.place, item.place)
    ]
    return replace(finding, part=fits[0].part, place=fits[0].place) if len(fits) == 1 else None


def homes_of(step: Step, outline: Outline | None) -> tuple[Step, ...]:
    """Give the steps whose hardware is handled in a step: its own, and those that it puts back."""
    return (step, *(put_back_by(step, outline) if outline else ()))


def with_lengths(finding: Finding, homes: Sequence[Step]) -> Finding | None:
    """Name the part and the place of "the short ones at the bottom"; None where nothing fits.

    What tells them is a length and their holes, with the part or without it.
    """
    if finding.stack or finding.measure:
        return None
    if finding.part and finding.place is None and _names_holes(finding.part, homes):
        finding = replace(finding, part=None, place=finding.part)  # "short ones, bottom"
    fits = [
        (home, item)
        for home in homes
        for item in home.hardware
        if item.lengths and _tells(finding, item, home)
    ]
    if len(fits) != 1:
        return None
    item = fits[0][1]
    place = " ".join(filter(None, [item.place, finding.place]))
    return replace(finding, part=finding.part or item.part, place=place or None)


def _names_holes(name: str, homes: Iterable[Step]) -> bool:
    groups = (group for home in homes for item in home.hardware for group in item.lengths)
    return any(stems(group.where) == stems(name) for group in groups)


def _tells(finding: Finding, item: Hardware, home: Step) -> bool:
    where = set(stems(finding.place or finding.side or ""))
    holes = any(set(stems(group.where)) == where for group in item.lengths)
    if finding.part is not None:
        like = hardware_likeness(finding, item, home) == 0.0
        return holes and like and part_likeness(finding.part, item.part) > 0
    if finding.place is not None and not holes:
        return False
    sized = group_by_size(finding, item.lengths) is not None
    return sized or (holes and finding.count is not None)


def _each(finding: Finding, heard: str, step: Step, pack: Pack) -> tuple[Finding, ...]:
    """Name each of several parts that are as like, when all of them are meant.

    They are when as many were said, or several and no number.  Of builds that differ only one is
    there.
    """
    items = most_like(finding, step) if finding.part else ()
    which = finding.ordinal or finding.side or finding.stack or finding.measure
    if len(items) < 2 or which or any(item.build for item in items):
        return (finding,)
    counted = not any(item.uncounted for item in items)
    all_of_them = counted and finding.count == sum(item.count for item in items)
    if not (all_of_them or (finding.count is None and in_plural(finding.part or "", heard, pack))):
        return (finding,)
    return tuple(_one(finding, item, items) for item in items)


def _one(finding: Finding, item: Hardware, items: Sequence[Hardware]) -> Finding:
    said = finding.part or ""
    return replace(
        finding,
        part=said if swapped_names(said, item.part) else item.part,
        place=item.place or finding.place,
        count=None if finding.count is None else item.count,
    )


def in_plural(part: str, heard: str, pack: Pack) -> bool:
    """Whether the part was said in the plural."""
    last = part.rsplit(maxsplit=1)[-1]
    return _is_said({plural_of(part), plural_of(last), *_forms(part, pack)[1]}, heard)


def in_singular(part: str, heard: str, pack: Pack) -> bool:
    """Whether the part was named, and not in the plural."""
    last = part.rsplit(maxsplit=1)[-1]
    named = _is_said({part, last, *_forms(part, pack)[0]}, heard)
    return named and not in_plural(part, heard, pack)


def _forms(part: str, pack: Pack) -> tuple[set[str], set[str]]:
    known = [part_forms(one) for one in pack.part if one.name == part]
    return ({form for one, _ in known for form in one}, {form for _, one in known for form in one})


def _is_said(forms: Iterable[str], heard: str) -> bool:
    return any(re.search(rf"\b{re.escape(form)}\b", heard.lower()) for form in forms)
