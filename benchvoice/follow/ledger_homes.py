"""Which line of the ledger a finding is of."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.counts import ON, PUTTING, expected_for
from benchvoice.follow.likeness import part_likeness, place_likeness, share_said, stems
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding

_NAMED = 0.05
"""What it adds that the words of a line's step are in the part or the place said: "reverse piston
seals" are the reverse clutch's.  Less than any difference between likenesses."""
_SAME = 0.01
"""Likenesses nearer than this are the same."""


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
            return self._here(step_id, finding)
        if kind in PUTTING or finding.action in ON:
            step = self._outline.by_id.get(step_id)
            own = (*(step.puts_back if step else ()), step_id)
            near = _best(finding, (key for key in self._keys if key.step in own), self._outline)
            return near or _best(finding, self._keys, self._outline)
        return _best(finding, self._keys, self._outline)

    def _here(self, step_id: str, finding: Finding) -> list[Key]:
        step = self._outline.by_id.get(step_id)
        item = expected_for(finding, step) if step else None
        if item is not None:
            return [Key(step_id, item.part, item.place)]
        key = Key(step_id, finding.part or "", finding.place)
        if key in self._keys:
            return [key]
        loose = [
            key
            for key in self._keys
            if key.step == step_id
            and key.part == finding.part
            and (finding.place is None or key.place is None)
        ]
        return loose[-1:]


def _best(finding: Finding, keys: Iterable[Key], outline: Outline) -> list[Key]:
    likes = [(_likeness(finding, key, outline), key) for key in keys]
    best = max((like for like, _ in likes), default=0.0)
    return [key for like, key in likes if best > 0 and like > best - _SAME]


def _likeness(finding: Finding, key: Key, outline: Outline) -> float:
    part = part_likeness(finding.part, key.part)
    step = outline.by_id.get(key.step)
    names = (*stems(step.title), *(stem for say in step.say for stem in stems(say))) if step else ()
    place = place_likeness(finding.place, key.place)
    if place == 0.0 and finding.place:
        place = 0.5 * (share_said(stems(finding.place), names) == 1.0)
    if part * place <= 0:
        return 0.0
    beside = set(stems(f"{finding.part} {finding.place or ''}")) - set(stems(key.part))
    return part * place + _NAMED * (bool(beside) and share_said(sorted(beside), names))
