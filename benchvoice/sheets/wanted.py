"""Parts that something has to happen to, as they were said and as the outline has them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal, NamedTuple, TypedDict

from msgspec.structs import replace

from benchvoice.follow.counts import most_like
from benchvoice.follow.likeness import swapped_names
from benchvoice.follow.wording import size_texts
from benchvoice.grammar.outline import Hardware, Outline
from benchvoice.remark import Finding, Frozen, doubt
from benchvoice.session.values import Entry, Session

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
    always replaces it, `said_reuse` that the bench said to reuse it all the same.
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


def wanted(session: Session, outline: Outline | None) -> tuple[Wanted, ...]:
    """Give the parts that something has to happen to, in the order said, then the outline's own.

    The same part said again in the same step is one, and the last word on it
    counts.  Parts that the outline always replaces are added for the steps
    begun.
    """
    return (*_said(session, outline), *(_always(session, outline) if outline else ()))


def _said(session: Session, outline: Outline | None) -> Iterator[Wanted]:
    counted: dict[tuple[str | None, str], int] = {}
    last: dict[_Thing, _Said] = {}
    for said in _named(session, outline):
        finding = said.finding
        if finding.count is not None and not finding.condition:  # "two burnt" are not all of them
            counted[said.counted_as] = finding.count
        if finding.disposition:
            last.pop(said.thing, None)
            last[said.thing] = said
    for said in last.values():
        if said.finding.disposition not in WANTED:
            continue
        of_all = None if said.finding.count is not None else counted.get(said.counted_as)
        for item in said.items or (None,):
            yield _wanted(said, item, of_all)


def _wanted(said: _Said, item: Hardware | None, counted: int | None) -> Wanted:
    """Make the row of a part that was said, or of one of the outline's that were meant by it."""
    finding = said.finding
    one = len(said.items) < 2
    return Wanted(
        disposition=finding.disposition or "",
        part=_called(finding, item),
        step=said.home if item else said.step,
        count=finding.count if one or finding.count is None or item is None else item.count,
        counted=counted if one else None,
        expected=item.count if item else None,
        place=finding.place,
        home=item.place if item else None,
        side=finding.side,
        conditions=finding.conditions or tuple(filter(None, [finding.condition])),
        entry=said.entry.seq,
        clip=said.entry.clip,
        doubt=doubt(said.entry.remark),
        always=item is not None and item.always_replace,
        **_size(finding, item),
    )


def _called(finding: Finding, item: Hardware | None) -> str:
    """Name a part as the outline does, when what was said is short for it or the same."""
    said = finding.part or NOT_NAMED
    return item.part if item and not swapped_names(said, item.part) else said


_Thing = tuple[str | None, str, str | None]
"""Step, part and place: the outline's where it has it, else as said."""


class _Said(NamedTuple):
    """A finding with its part, and the outline's hardware that it is of: of `home`, a step id."""

    entry: Entry
    finding: Finding
    step: str | None
    home: str | None
    items: tuple[Hardware, ...]

    @property
    def item(self) -> Hardware | None:
        return self.items[0] if len(self.items) == 1 else None

    @property
    def counted_as(self) -> tuple[str | None, str]:
        return self.step, self.finding.part or ""

    @property
    def thing(self) -> _Thing:
        if self.item is not None:
            return self.home, self.item.part, self.item.place
        return self.step, self.finding.part or "", self.finding.place


def _named(session: Session, outline: Outline | None) -> Iterator[_Said]:
    """Give all that was found, each with its part: "replace it" is of what was named before it."""
    before: dict[str | None, Finding] = {}
    for entry in session.standing:
        for found in entry.findings if entry.kind == "finding" else ():
            step = found.own_step or entry.step
            finding = _of_part(found, before.get(step))
            if finding.part:
                before[step] = finding
            home, items = _hardware(step, finding, outline)
            yield _Said(entry, finding, step, home, items)


def _of_part(finding: Finding, before: Finding | None) -> Finding:
    if finding.part:
        return finding
    if finding.place:
        part, beside, where = finding.place.partition(" by ")  # "case by mounting foot"
        return replace(finding, part=part, place=f"by {where}" if beside else None)
    if before is None or not finding.disposition:
        return finding
    return replace(
        finding,
        part=before.part,
        place=before.place,
        side=finding.side or before.side,
        size=finding.size or before.size,
        count=before.count if finding.count is None else finding.count,
        condition=finding.condition or before.condition,
        conditions=finding.conditions or before.conditions,
    )


def _hardware(
    step: str | None, finding: Finding, outline: Outline | None
) -> tuple[str | None, tuple[Hardware, ...]]:
    """Find the step and the hardware that a finding is of: of its own step, else so named alone.

    Several of a step are meant when as many were said, or no number was.
    """
    if outline is None or not finding.part:
        return None, ()
    own = outline.by_id.get(step or "")
    items = most_like(finding, own) if own else ()
    if items:
        all_of_them = finding.count in (None, sum(item.count for item in items))
        return step, items if len(items) == 1 or all_of_them else ()
    named = [
        (one.id, (item,))
        for one in outline.steps()
        for item in one.hardware
        if item.part == finding.part
    ]
    return named[0] if len(named) == 1 else (None, ())


def _always(session: Session, outline: Outline) -> Iterator[Wanted]:
    begun = {entry.step for entry in session.standing if entry.kind in ("finding", "started")}
    last_word: dict[tuple[str | None, Hardware], str] = {}
    builds: dict[str, str] = {}
    for said in _named(session, outline):
        for item in said.items:
            if said.finding.disposition:
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
                    expected=item.count,
                    home=item.place,
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
