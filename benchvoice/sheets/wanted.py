"""Parts that something has to happen to, as they were said and as the outline has them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal, NamedTuple, TypedDict

from msgspec.structs import replace

from benchvoice.follow.asked_for import as_wanted
from benchvoice.follow.counts import OFF, ON, PUTTING, most_like
from benchvoice.follow.ledger_homes import Homes, Key
from benchvoice.follow.ledger_values import NEW
from benchvoice.follow.likeness import place_likeness, stems, swapped_names
from benchvoice.follow.wording import size_texts
from benchvoice.grammar.load import sound_conditions
from benchvoice.grammar.outline import Hardware, Outline
from benchvoice.remark import ANOTHER, Finding, Frozen, doubt
from benchvoice.session.values import Entry, Session
from benchvoice.sheets.named_before import SEVERAL, Before, of_part, summed

WANTED = frozenset({"replace", "order", "discard", "machine", "send out", "decide"})
"""Dispositions that a parts list has; "reuse" is none."""

NOT_NAMED = "part not named"
"""What stands for a part that was never named, so that nothing said is left out."""


class Wanted(Frozen, frozen=True, kw_only=True):
    """A part and what shall happen to it; `disposition` "always" is the outline's own word.

    `count` was said with it; `counted` is what was counted of the part in that
    step, where no number was said with it; `expected` is the outline's count.
    `place` was said, `home` is the outline's place for it.
    `size` and `size_by` tell the size and whether it was "said" or is the
    "outline"'s.  `entry` is the seq of the remark, `clip` what was recorded of
    it, `doubt` why it should be heard again.  `always` tells that the outline
    always replaces it, `said_reuse` that the bench said to reuse it all the same.  `again` that
    it is said of the one that was put in.  `maybe` are the steps whose part it may be where several
    have one of that name.
    """

    disposition: str
    part: str
    step: str | None
    count: int | None = None
    counted: int | None = None
    expected: int | None = None
    place: str | None = None
    home: str | None = None
    side: str | None = None
    size: tuple[str, ...] = ()
    size_by: Literal["said", "outline"] | None = None
    conditions: tuple[str, ...] = ()
    entry: int | None = None
    clip: str | None = None
    doubt: str | None = None
    said_reuse: bool = False
    always: bool = False
    again: bool = False
    maybe: tuple[str, ...] = ()


def wanted(session: Session, outline: Outline | None) -> tuple[Wanted, ...]:
    """Give the parts that something has to happen to, in the order said, then the outline's own.

    The same part said again is one, in its step or where it was looked at
    later; the last word on it counts, and all that was found of it is why.
    Parts that the outline always replaces are added for the steps begun.
    """
    named = tuple(_named(session, outline))
    why = _found(named, outline)
    return (*_said(named, why), *(_always(session, named, why, outline) if outline else ()))


_Why = Mapping["_Thing", tuple[str, ...]]


def _found(named: Sequence[_Said], outline: Outline | None) -> _Why:
    """Map things to what was found wrong with them, in all that was said."""
    sound = sound_conditions()
    found: dict[_Thing, dict[str, None]] = defaultdict(dict)
    steps = outline.by_id if outline else {}
    for said in named:
        if as_wanted(steps.get(said.step or ""), said.finding):
            continue
        for thing in said.things:
            for one in said.conditions:
                if one not in sound and not one.startswith("not "):
                    found[thing][one] = None
    for long, short in _said_short(named, outline) if outline else ():
        found[long] = found[short] | found[long]
    return {thing: tuple(conditions) for thing, conditions in found.items()}


def _said_short(named: Iterable[_Said], outline: Outline) -> Iterator[tuple[_Thing, _Thing]]:
    """Give parts that the outline does not list with what is short for them in their step.

    "Flange" is, where an output flange is named and there is no other.
    """
    things = {said.thing: None for said in named if not said.items}
    for short in things:
        step, part, place, _ = short
        own = outline.by_id.get(step or "")
        listed = {item.part for item in own.hardware} if own else set()
        long = [one for one in things if one[0] == step and one[1].endswith(f" {part}")]
        others = any(name.endswith(part) for name in listed)
        if own and len(long) == 1 and not others and None in (place, long[0][2]):
            yield long[0], short


def _said(named: Iterable[_Said], why: _Why) -> Iterator[Wanted]:
    counted: dict[_Thing, int] = {}
    last: dict[_Thing, _Said] = {}
    for said in named:
        finding = said.finding
        if finding.count is not None and not finding.condition:  # "two burnt" are not all of them
            counted[said.thing] = finding.count
        if finding.disposition:
            before = last.pop(said.thing, None)
            last[said.thing] = said if before is None else _with_before(before, said)
    for said in last.values():
        if said.finding.disposition not in WANTED or _told_later(said, last.values()):
            continue
        of_all = None if said.finding.count is not None else counted.get(said.thing)
        for item, thing in zip(said.items or (None,), said.things, strict=True):
            yield _wanted(said, item, of_all, why.get(thing) or _found_at(thing, why))


def _found_at(thing: _Thing, why: _Why) -> tuple[str, ...]:
    """What was found at places of a part: "case cracked at the foot", then "send it out"."""
    step, part, place, _ = thing
    alike = (why[one] for one in why if one[:2] == (step, part) and place is None)
    return tuple(dict.fromkeys(text for texts in alike for text in texts))


def _told_later(said: _Said, all_: Iterable[_Said]) -> bool:
    """Whether it was told afterwards which of several was meant."""
    return any(
        one.entry.seq > said.entry.seq
        and one.home in said.maybe
        and one.item is not None
        and one.item.part == said.finding.part
        and one.finding.disposition == said.finding.disposition
        for one in all_
    )


def _with_before(before: _Said, said: _Said) -> _Said:
    """ "One spalled, one rough, replace both" are two, so are "one burnt, replace" and "one more
    glazed, replace"; else the last word counts."""
    old, new = before.finding, said.finding
    alike = old.disposition == new.disposition or {old.disposition, new.disposition} <= NEW
    if None in (old.count, new.count) or not alike:
        return said
    found = old.condition and new.condition and before.step == said.step
    other = found and old.all_conditions != new.all_conditions
    if not (before.entry is said.entry or other or ANOTHER in new.notes):
        return said
    return said._replace(finding=replace(new, count=(old.count or 0) + (new.count or 0)))


def _wanted(
    said: _Said, item: Hardware | None, counted: int | None, why: tuple[str, ...]
) -> Wanted:
    """Make the row of a part that was said, or of one of the outline's that were meant by it."""
    finding = said.finding
    one = len(said.items) < 2
    return Wanted(
        disposition=finding.disposition or "",
        part=_called(finding, item),
        step=said.home if item else said.step,
        count=finding.count if one or finding.count is None or item is None else item.expected,
        counted=counted if one else None,
        expected=item.expected if item else None,
        place=finding.place,
        home=item.place if item else None,
        side=finding.side,
        conditions=why or said.conditions,
        entry=said.entry.seq,
        clip=said.entry.clip,
        doubt=doubt(said.entry.remark),
        maybe=said.maybe,
        always=item is not None and item.always_replace and not said.again,
        again=said.again,
        **_size(finding, item),
    )


def _called(finding: Finding, item: Hardware | None) -> str:
    """Name a part as the outline does, when what was said is short for it or the same."""
    said = finding.part or NOT_NAMED
    return item.part if item and not swapped_names(said, item.part) else said


_Thing = tuple[str | None, str, str | None, bool]
"""Step, part and place: the outline's where it has it, else as said; and whether it is the one that
was put in."""


class _Said(NamedTuple):
    """A finding with its part, and the outline's hardware that it is of: of `home`, a step id."""

    entry: Entry
    finding: Finding
    step: str | None
    home: str | None
    items: tuple[Hardware, ...]
    maybe: tuple[str, ...] = ()
    again: bool = False

    @property
    def item(self) -> Hardware | None:
        return self.items[0] if len(self.items) == 1 else None

    @property
    def conditions(self) -> tuple[str, ...]:
        return self.finding.all_conditions

    @property
    def thing(self) -> _Thing:
        """What it is of; several of the outline together are one thing as they were said."""
        if self.item is not None:
            return self.home, self.item.part, self.item.place, self.again
        return self.step, self.finding.part or "", self.finding.place, self.again

    @property
    def things(self) -> tuple[_Thing, ...]:
        """The same, each of the outline's by itself."""
        each = tuple((self.home, item.part, item.place, self.again) for item in self.items)
        return each or (self.thing,)


def _named(session: Session, outline: Outline | None) -> Iterator[_Said]:
    """Give all that was found, each with its part: "replace it" is of what was named before it.

    What the outline does not list and is spoken of again in another step is the one that came off
    before, when there is one such.
    """
    before: dict[str | None, Before] = {}
    off: dict[_Thing, None] = {}
    back: set[_Thing] = set()
    for entry in session.standing:
        for found in entry.findings if entry.kind == "finding" else ():
            step = found.own_step or entry.step
            last = before.get(step)
            finding = of_part(found, last, SEVERAL.search(entry.remark.heard.lower()) is not None)
            if finding.part:
                before[step] = summed(finding, last)
            home, items, maybe = _hardware(step, finding, outline)
            said = _Said(entry, finding, step, home, items, maybe)
            putting = outline is not None and outline.kind_of.get(step or "") in PUTTING
            said = said._replace(again=putting and said.thing in back)
            if finding.action in ON:
                back.add(said._replace(again=False).thing)
            elif finding.action in OFF:
                off[said.thing] = None
            elif not items and said.thing not in off:
                same = [one for one in off if _may_be(one, finding)]
                said = _of_thing(said, same[0], outline) if len(same) == 1 else said
            yield said


def _of_thing(said: _Said, thing: _Thing, outline: Outline | None) -> _Said:
    """Give what was said as that of the thing, which the outline has or not."""
    step, part, place, _ = thing
    item = outline.hardware_at.get((step or "", part, place)) if outline else None
    said = said._replace(step=step, finding=replace(said.finding, place=place))
    return said if item is None or said.maybe else said._replace(home=step, items=(item,))


def _may_be(thing: _Thing, finding: Finding) -> bool:
    return thing[1] == finding.part and (finding.place is None or thing[2] in (None, finding.place))


def _hardware(
    step: str | None, finding: Finding, outline: Outline | None
) -> tuple[str | None, tuple[Hardware, ...], tuple[str, ...]]:
    """Find the step and the hardware that a finding is of: of its own step, else so named alone;
    the last are the steps of several that are named so.

    Several of a step are meant when as many were said, or no number was.  In another step a word
    alone ("gears") may be of more than the outline lists.
    """
    if outline is None or not finding.part:
        return None, (), ()
    own = outline.by_id.get(step or "")
    items = most_like(finding, own) if own else ()
    if items:
        counted = not any(item.uncounted for item in items)
        total = sum(item.count for item in items)
        all_of_them = finding.count is None or (counted and finding.count == total)
        return step, items if len(items) == 1 or all_of_them else (), ()
    listed = outline.hardware_at
    named = [key for key in listed if key[1] == finding.part and _fits(finding, listed[key])]
    if len(named) != 1 and (finding.place or len(stems(finding.part)) > 1):
        like = Homes(outline, [Key(*key) for key in listed]).of(step or "", finding)
        named = [key for key in like if _so_many(finding, listed[key])]
    if len(named) != 1:
        return None, (), tuple(dict.fromkeys(key[0] for key in named))
    return named[0][0], (listed[named[0]],), ()


def _fits(finding: Finding, item: Hardware) -> bool:
    return _so_many(finding, item) and place_likeness(finding.place, item.place) > 0


def _so_many(finding: Finding, item: Hardware) -> bool:
    """Whether there are as many; nobody knows of what was never counted."""
    return item.expected is None or (finding.count or 0) <= item.expected


def _always(
    session: Session, named: Iterable[_Said], why: _Why, outline: Outline
) -> Iterator[Wanted]:
    begun = {entry.step for entry in session.standing if entry.kind in ("finding", "started")}
    last_word: dict[tuple[str | None, Hardware], str] = {}
    builds: dict[str, str] = {}
    for said in named:
        for item in said.items:
            if said.finding.disposition and not said.again:
                last_word[said.home, item] = said.finding.disposition
            if item.build and said.home == said.step:
                builds[item.build] = item.build_option
    for step in outline.steps():
        for item in step.hardware if step.id in begun else ():
            if item.build and builds.get(item.build, item.build_option) != item.build_option:
                continue  # another build is there
            word = last_word.get((step.id, item))
            if item.always_replace and word not in WANTED:
                yield Wanted(
                    disposition="always",
                    part=item.part,
                    step=step.id,
                    expected=item.expected,
                    home=item.place,
                    conditions=why.get((step.id, item.part, item.place, False), ()),
                    said_reuse=word == "reuse",
                    always=True,
                    **_size(None, item),
                )


class _Sized(TypedDict):
    size: tuple[str, ...]
    size_by: Literal["said", "outline"] | None


def _size(finding: Finding | None, item: Hardware | None) -> _Sized:
    """Give the size that was said; what was not said of it is the outline's only as a whole."""
    said = tuple(size_texts(finding.size)) if finding else ()
    if said:
        return {"size": said, "size_by": "said"}
    known = hardware_size(item) if item else ()
    if item and item.lengths:
        known += (f"{' or '.join(group.length for group in item.lengths)} long",)
    return {"size": known, "size_by": "outline" if known else None}


def hardware_size(item: Hardware) -> tuple[str, ...]:
    """Say the size that the outline gives: ("3/8-16", "1 1/4 in long", "9/16 in across flats")."""
    return tuple(
        text
        for text in (
            item.thread,
            item.length and f"{item.length} long",
            item.head and f"{item.head} across flats",
        )
        if text
    )
