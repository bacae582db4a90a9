"""What was counted against what the outline expects."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from benchvoice.follow.likeness import part_likeness, place_likeness, share_said, stems
from benchvoice.follow.wording import parts_text
from benchvoice.grammar.outline import Hardware, Outline, StageKind, Step
from benchvoice.remark import Finding, Frozen

_OFF = frozenset({"removed", "pressed out", "drained", "loosened"})
_ON = frozenset({"installed", "pressed in", "tightened", "adjusted"})

_COUNTING: Mapping[StageKind, frozenset[str]] = {"strip": _OFF, "assemble": _ON, "test": _ON}
"""Actions that count parts, by the nature of the stage; in others all of them do."""


class Count(Frozen, frozen=True, kw_only=True):
    """So many of a part at a place in one step.

    `expected` is None for what the outline does not list.  `said` is None
    when it was not mentioned, or mentioned without a number; `mentioned` tells
    which.
    """

    step: str
    part: str
    place: str | None = None
    expected: int | None = None
    said: int | None = None
    mentioned: bool = False

    @property
    def differs(self) -> bool:
        """Whether a number was said and is not the expected one."""
        return None not in (self.expected, self.said) and self.expected != self.said


class _Key(NamedTuple):
    step: str
    part: str
    place: str | None


def tally(
    findings: Iterable[tuple[str | None, Iterable[Finding]]], outline: Outline
) -> tuple[Count, ...]:
    """Add up what was counted, from (step id, findings) in the order said.

    Gives all the hardware of the outline in its order, then what it does not
    list, in the order said.  What came off, what was found of it and what shall
    happen to it are added up apart, and the largest sum counts: "ten bolts
    off" and then "two bolts bent" are ten bolts.
    """
    sums: dict[_Key, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    mentioned: dict[_Key, bool] = {}
    kinds = {step.id: stage.kind for stage in outline.stage for step in stage.step}
    for step_id, group in findings:
        step = outline.by_id.get(step_id or "")
        for finding in group if step else ():
            assert step is not None
            if not finding.part or not _counts(finding, kinds[step.id]):
                continue
            item = expected_for(finding, step)
            key = _key(step, item) if item else _Key(step.id, finding.part, finding.place)
            mentioned[key] = True
            number = _number(finding, item)
            if number is not None:
                sums[key][_facet(finding)] += number
    keys = [_key(step, item) for step in outline.steps() for item in step.hardware]
    expected = {_key(step, item): item.count for step in outline.steps() for item in step.hardware}
    return tuple(
        Count(
            step=key.step,
            part=key.part,
            place=key.place,
            expected=expected.get(key),
            said=max(sums[key].values()) if sums.get(key) else None,
            mentioned=key in mentioned,
        )
        for key in dict.fromkeys([*keys, *mentioned])
    )


def expected_for(finding: Finding, step: Step) -> Hardware | None:
    """Find the step's hardware that a finding is of; None when none is, or several are as like."""
    likes = [(_hardware_likeness(finding, item, step), item) for item in step.hardware]
    best = max((like for like, _ in likes), default=0.0)
    found = [item for like, item in likes if like == best]
    return found[0] if best > 0 and len(found) == 1 else None


def count_warnings(counts: Iterable[Count], outline: Outline) -> tuple[str, ...]:
    """Say the counts that differ: "end cover: 10 bolts expected, 9 said"."""
    return tuple(
        f"{where(count, outline)}: {parts_text(count.part, count.expected)} expected, "
        f"{count.said} said"
        for count in counts
        if count.differs
    )


def missing_warnings(counts: Iterable[Count], outline: Outline) -> tuple[str, ...]:
    """Say what was expected and got no number at all."""
    return tuple(
        f"{where(count, outline)}: {parts_text(count.part, count.expected)} expected, "
        + ("no number said" if count.mentioned else "not mentioned")
        for count in counts
        if count.expected is not None and count.said is None
    )


def where(count: Count, outline: Outline) -> str:
    """Name the place of a count, or its step when it has no place."""
    step = outline.by_id.get(count.step)
    return count.place or (step.title if step else count.step)


def _key(step: Step, item: Hardware) -> _Key:
    return _Key(step.id, item.part, item.place)


def _counts(finding: Finding, kind: StageKind) -> bool:
    if finding.ordinal is not None or finding.stack:
        return False
    if finding.action is None:
        return True
    counting = _COUNTING.get(kind)
    return counting is None or finding.action in counting


def _number(finding: Finding, item: Hardware | None) -> int | None:
    """A part that there is one of is counted by being named."""
    if finding.count is None and item is not None and item.count == 1:
        return 1
    return finding.count


def _facet(finding: Finding) -> str:
    if finding.action is not None or not (finding.condition or finding.disposition):
        return "taken"
    return "found" if finding.condition else "decided"


def _hardware_likeness(finding: Finding, item: Hardware, step: Step) -> float:
    part = part_likeness(finding.part, item.part)
    place = place_likeness(finding.place, item.place)
    if place == 0.0 and finding.place:
        names = (*stems(step.title), *(stem for say in step.say for stem in stems(say)))
        place = 0.5 * (share_said(stems(finding.place), names) == 1.0)
    return part * place
