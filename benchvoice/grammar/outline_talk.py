"""What is said at the bench along one outline: its hardware, its limits and its steps."""

from __future__ import annotations

import random
import re
from collections.abc import Sequence
from typing import TypeVar

from msgspec.structs import replace

from benchvoice.grammar.outline import Hardware, Limit, Outline
from benchvoice.grammar.pack import Pack
from benchvoice.grammar.readings import Said, reading_near, sizes_of, unit_words
from benchvoice.grammar.rows import Row
from benchvoice.grammar.slots import Draw, Slots, drawer, forms, measured, said_of_name, with_unit
from benchvoice.grammar.spoken import cardinal, cardinal_ways
from benchvoice.grammar.templates import PLURAL, THINGS, Item
from benchvoice.grammar.vocabulary import Term, Unit

_READINGS = 24
_NEARNESS = 6.0
"""How much likelier a term is when the outline names it; chosen on synthetic bench talk."""
_FREE = frozenset({"action", "condition", "disposition", "container"})
"""Slots that an outline says nothing about."""
_WORD = re.compile(r"[a-z']+|\d+")

T = TypeVar("T", bound=Term)

Bound = dict[str, list[Said]]
"""Slot to the fillers that the outline allows there."""


def step_sayings(outline: Outline) -> tuple[str, ...]:
    """Give the ways of saying the steps: the title in lower case, and the aliases."""
    names = (name for step in outline.steps() for name in (as_spoken(step.title), *step.say))
    return tuple(dict.fromkeys(name for name in names if name))


def outline_sayings(outline: Outline) -> tuple[str, ...]:
    """Give all that an outline names: steps, and its own words for parts and places."""
    items = [hardware for step in outline.steps() for hardware in step.hardware]
    parts = [hardware.part for hardware in items]
    parts += [limit.part for step in outline.steps() for limit in step.limit if limit.part]
    places = [hardware.place or "" for hardware in items]
    named = (as_spoken(name) for name in (*parts, *places))
    return tuple(dict.fromkeys(name for name in (*step_sayings(outline), *named) if name))


def seldom_said(outline: Outline) -> tuple[str, ...]:
    """Give what an outline names that is said now and then: holes, marks, builds, stacks.

    It has to be heard, but drawn as often as the parts it cost remarks of the demo.
    """
    items = [hardware for step in outline.steps() for hardware in step.hardware]
    named = [group.where for hardware in items for group in hardware.lengths]
    named += [said or "" for item in items for said in (item.mark, item.build, item.option)]
    named += [group.name for step in outline.steps() for group in step.together]
    named += [stack.name for step in outline.steps() for stack in step.stack]
    named += [check.part for step in outline.steps() for check in step.check]
    return tuple(dict.fromkeys(filter(None, map(as_spoken, named))))


def nearer(pack: Pack) -> Pack:
    """Give the pack with what its outline names (parts, places, quantities) said more often."""
    if pack.outline is None:
        return pack
    steps = list(pack.outline.steps())
    named = " ".join(
        [
            *outline_sayings(pack.outline),
            *(limit.quantity for step in steps for limit in step.limit),
        ]
    )

    def weighed(terms: tuple[T, ...]) -> tuple[T, ...]:
        return tuple(
            replace(term, weight=term.weight * _NEARNESS) if term.name in named else term
            for term in terms
        )

    return replace(
        pack,
        part=weighed(pack.part),
        place=weighed(pack.place),
        qualifier=weighed(pack.qualifier),
        quantity=weighed(pack.quantity),
    )


def as_spoken(text: str) -> str:
    """Give a title as it is said: "Clutch pack, 2nd" loses its comma, numbers become words.

    >>> as_spoken("Oil pump, 2 gears")
    'oil pump two gears'
    """
    words = _WORD.findall(text.lower().replace("-", " "))
    return " ".join(cardinal(int(w)) if w.isdigit() and len(w) < 7 else w for w in words)


def outline_rows(pack: Pack, slots: Slots, rows: Sequence[Row]) -> list[Row]:
    """Give rows of the templates with the outline's hardware and limits in their slots."""
    if pack.outline is None:
        return []
    found: list[Row] = []
    for step in pack.outline.steps():
        for item in step.hardware:
            for one, share in _by_length(item):
                bound = _bind(rows, _of_hardware(one, pack), slots, one.count)
                found += [row._replace(weight=row.weight * share) for row in bound]
        for limit in step.limit:
            found += _bind(rows, _of_limit(limit, slots), slots, 1)
    return found


def _by_length(hardware: Hardware) -> list[tuple[Hardware, float]]:
    """Give hardware as a whole, and length by length; lengths are said half as often in all."""
    share = 0.5 / len(hardware.lengths) if hardware.lengths else 0.0
    return [
        (hardware, 1.0),
        *(
            (replace(hardware, count=group.count, length=group.length, lengths=()), share)
            for group in hardware.lengths
        ),
    ]


def _of_hardware(hardware: Hardware, pack: Pack) -> Bound:
    kind = getattr(pack.part_by_name.get(hardware.part), "kind", "")
    many = hardware.several
    name = "parts" if many else "part"
    bound: Bound = {name: said_of_name(pack, hardware.part, many)}
    if kind == "fastener" and many:
        bound["fasteners"] = bound[name]
    if hardware.expected is not None:
        ways = cardinal_ways(hardware.expected)
        bound["count"] = [Said(way, hardware.expected, 1.0 / len(ways)) for way in ways]
    if hardware.place:
        bound["place"] = _place(hardware.place, pack)
    sized = sizes_of(hardware.thread, hardware.length, hardware.head)
    if sized:
        bound["size"] = sized
    return bound


def _place(name: str, pack: Pack) -> list[Said]:
    terms = [term for term in pack.place if term.name == name]
    return forms(terms) if terms else [Said(name, name)]


def _of_limit(limit: Limit, slots: Slots) -> Bound:
    unit = slots.pack.unit_by_name.get(limit.unit)
    if unit is None:
        return {}
    bound: Bound = {"measure": _readings(limit, unit, slots)}
    if limit.part:
        bound["part"] = said_of_name(slots.pack, limit.part, False)
    return bound


def _readings(limit: Limit, unit: Unit, slots: Slots) -> list[Said]:
    """Give readings within and somewhat outside the limit, in its own unit."""
    terms = [term for term in slots.pack.quantity if term.name == limit.quantity]
    ways = forms(terms) if terms else [Said(limit.quantity, limit.quantity)]
    low = limit.low if limit.low is not None else 0.0
    high = limit.high if limit.high is not None else max(1.5 * low, 1.0)
    pool: list[Said] = []
    for _ in range(_READINGS):
        way, said = _pick(ways, slots.rng), _pick(unit_words(unit), slots.rng)
        number = reading_near(unit, low, high, slots.rng)
        pool.append(measured(way.words, limit.quantity, with_unit(number, said), slots.rng))
    return pool


def _pick(pool: list[Said], rng: random.Random) -> Said:
    return rng.choices(pool, [said.weight for said in pool])[0]


def _bind(rows: Sequence[Row], bound: Bound, slots: Slots, count: int) -> list[Row]:
    """Give the rows that say nothing which the outline does not, each with its share.

    All rows together weigh one, so that each hardware and limit is said as often.
    """
    draws: dict[str, Draw] = {slot: drawer(pool, slots.rng) for slot, pool in bound.items()}
    found: list[Row] = []
    for row in rows:
        if not _fits(row.items, bound, count):
            continue
        filled = [draws.get(i.slot, d) for i, d in zip(row.items, row.draws, strict=True)]
        found.append(Row(row.items, tuple(filled), row.weight))
    whole = sum(row.weight for row in found)
    return [row._replace(weight=row.weight / whole) for row in found]


def _fits(items: tuple[Item, ...], bound: Bound, count: int) -> bool:
    used = [item.slot for item in items if item.slot]
    if not used or not set(used) <= bound.keys() | _FREE:
        return False
    things = [slot for slot in used if slot in THINGS]
    if len(things) > 1 or used.count("count") > 1 or not set(used) & bound.keys() - {"place"}:
        return False
    if "size" in used and any(item.slot == "size" and item.leads for item in items):
        return False
    if "measure" in bound:
        return "measure" in used
    if not things or ("count" in used and (things[0] in PLURAL) != (count > 1)):
        return False
    return "place" not in bound or "place" in used or "size" in used or "container" in used
