"""Which line of the ledger a finding is of."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import lru_cache
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.counts import OFF, ON, PUTTING, home_in
from benchvoice.follow.ledger_values import LedgerLine
from benchvoice.follow.likeness import (
    CALLED,
    part_likeness,
    same_head,
    share_said,
    stems,
    step_words,
    thing_likeness,
)
from benchvoice.grammar.load import relative_words
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding

_NAMED = 0.05
"""What it adds that the words of a line's step are in the part or the place said: "reverse piston
seals" are the reverse clutch's.  Less than any difference between likenesses."""
_ORDINALS = {1: "first", 2: "second", 3: "third"}
"""A "first wheel" is that of a step called so."""
_SAME = 0.01
"""Likenesses nearer than this are the same."""


SIDES = frozenset({"left", "right", "port", "starboard", "top", "bottom"})
"""Sides of what is worked on, which are no places of their own."""


class Key(NamedTuple):
    """A line of the ledger: step id ("" for none), part, place."""

    step: str
    part: str
    place: str | None


class Homes:
    """Finds the lines of a ledger; `keys` may grow."""

    def __init__(self, outline: Outline, keys: Collection[Key]) -> None:
        self._outline = outline
        self._keys = keys

    def of(self, step_id: str, finding: Finding) -> list[Key]:
        """Give the lines a finding is of; several when they are as like, none when none is."""
        if finding.part is None and finding.place is not None:
            finding = replace(finding, part=finding.place, place=None)
        if finding.part is None:
            return []
        kind = self._outline.kind_of.get(step_id, "strip")
        if kind == "strip":
            return self._here(step_id, finding) or self._elsewhere(step_id, finding)
        if kind in PUTTING or finding.action in ON:
            step = self._outline.by_id.get(step_id)
            own = (*(step.puts_back if step else ()), step_id)
            near = _best(finding, (key for key in self._keys if key.step in own), self._outline)
            return near or self.find(finding)
        return self.find(finding)

    def find(self, finding: Finding) -> list[Key]:
        """Give the lines that are most like what is named, wherever it came from."""
        return _best(finding, self._keys, self._outline)

    def _elsewhere(self, step_id: str, finding: Finding) -> list[Key]:
        """A mark or a tray may be said of a part before its step is begun, or after it.

        What is wrong with "the spring" of a seal is not wrong with all springs of the unit.  The
        same goes for a step that the outline does not have, but for what is found of a number of
        them: "two nuts cracked" is of the nuts that came off before.
        """
        if step_id not in self._outline.by_id:
            counted = finding.count is not None and finding.action not in ON
            more = finding.action in OFF or (counted and not _found(finding))
            return [] if step_id and more else self.find(finding)
        if finding.action in OFF or finding.count is not None:
            return []
        found = self.find(finding)
        return [] if finding.condition and len(found) > 1 else found

    def _here(self, step_id: str, finding: Finding) -> list[Key]:
        step = self._outline.by_id.get(step_id)
        item = home_in(step, finding) if step else None
        if item is not None:
            return [Key(step_id, item.part, item.place)]
        place = None if finding.place in SIDES else finding.place
        key = Key(step_id, finding.part or "", place)
        if key in self._keys:
            return [key]
        loose = [
            key
            for key in self._keys
            if key.step == step_id
            and key.part == finding.part
            and (place is None or key.place is None)
        ]
        return loose[-1:]


class Lines:
    """The lines of a ledger, by what a finding is of."""

    def __init__(self, lines: Iterable[LedgerLine], outline: Outline) -> None:
        self._by_key = {Key(*line.key): line for line in lines}
        self._homes = Homes(outline, self._by_key)

    def of(self, step_id: str, finding: Finding) -> list[LedgerLine]:
        """Give the lines that a finding at a step is of, as `Homes.of` does."""
        return self._known(self._homes.of(step_id, finding))

    def find(self, finding: Finding) -> list[LedgerLine]:
        """Give the lines that are most like what is named, wherever it came from."""
        return self._known(self._homes.find(finding))

    def _known(self, keys: Iterable[Key]) -> list[LedgerLine]:
        return [self._by_key[key] for key in keys if key in self._by_key]


def _found(finding: Finding) -> bool:
    said = (finding.condition, finding.disposition, finding.measure, finding.action in ON)
    return any(said)


def _best(finding: Finding, keys: Iterable[Key], outline: Outline) -> list[Key]:
    likes = [(_likeness(finding, key, outline), key) for key in keys]
    best = max((like for like, _ in likes), default=0.0)
    found = [key for like, key in likes if best > 0 and like > best - _SAME]
    called = CALLED <= best <= CALLED + _NAMED
    return [] if called and len(found) > 1 else found


def _likeness(finding: Finding, key: Key, outline: Outline) -> float:
    named = part_likeness(finding.part, key.part) > 0.0 or same_head(finding.part, key.part)
    if not named:  # nearly all, and quickly told
        return 0.0
    step = outline.by_id.get(key.step)
    names = step_words(step.title, step.say) if step else ()
    like = thing_likeness((finding.part, finding.place), (key.part, key.place), names)
    relative = finding.size.relative if finding.size else None
    which = _ORDINALS.get(finding.ordinal or 0)
    said = " ".join(filter(None, [finding.part, finding.place, relative, which]))
    if finding.place and key.place is None and {*stems(finding.place)} <= {*stems(key.part)}:
        return like and like + _NAMED  # "gasket in the side cover" is the side cover gasket
    return like and like + _NAMED * _named_beside(said, key.part, names)


@lru_cache(maxsize=1 << 16)
def _named_beside(said: str, own: str, names: tuple[str, ...]) -> float:
    """The share of what is said beside the part's own name that the step is called.

    A "large" wheel is that of a step called "big wheel".
    """
    beside = set(stems(said)) - set(stems(own))
    return share_said(sorted(beside), (*names, *_relatives(names)))


@lru_cache(maxsize=1024)
def _relatives(names: tuple[str, ...]) -> tuple[str, ...]:
    ways = relative_words().items()
    return tuple(stem for say, name in ways if stems(say)[0] in names for stem in stems(name))
