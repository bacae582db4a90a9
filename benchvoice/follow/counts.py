"""What was counted against what the outline expects."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.likeness import CALLED, part_likeness, same_head, step_words, thing_likeness
from benchvoice.follow.sizes import length_group
from benchvoice.follow.wording import parts_text
from benchvoice.grammar.outline import Hardware, Outline, StageKind, Step
from benchvoice.remark import ANOTHER, Finding, Frozen

OFF = frozenset({"removed", "pressed out", "drained", "loosened"})
ON = frozenset({"installed", "pressed in", "tightened", "adjusted", "filled"})
PUTTING: frozenset[StageKind] = frozenset({"assemble", "test"})
"""Actions that take parts off and that put them on, and the stages that put them on."""

_COUNTING: Mapping[StageKind, frozenset[str]] = {"strip": OFF, "assemble": ON, "test": ON}
"""Actions that count parts, by the nature of the stage; in others all of them do."""


_NO_LENGTH = "taken, no length said"
"""The part of the sum "taken" that any length may be of."""

_OF_SOME = frozenset({"found", "decided"})
"""Sums that may be of some of the parts only."""


class Count(Frozen, frozen=True, kw_only=True):
    """So many of a part at a place in one step.

    `expected` is None for what the outline does not list.  `said` is None
    when it was not mentioned, or mentioned without a number; `mentioned` tells
    which.  `spoken_of` tells that more or less was said of it, of which nothing
    counts ("marked the outer rotor").  `build` is the place where builds differ,
    while it is not settled.
    """

    step: str
    part: str
    place: str | None = None
    expected: int | None = None
    said: int | None = None
    mentioned: bool = False
    spoken_of: bool = False
    build: str | None = None

    @property
    def differs(self) -> bool:
        """Whether a number was said and is not the expected one."""
        return None not in (self.expected, self.said) and self.expected != self.said


Said = Iterable[tuple[str | None, Iterable[Finding]]]
"""What stands, as (step id, findings) in the order said."""


class _Key(NamedTuple):
    step: str
    part: str
    place: str | None


@dataclass(frozen=True, eq=False)
class Tally:
    """What was counted so far; `after` gives what it is when more was said.

    `sums` has a sum for each that is added up apart, `mentioned` keeps the order said, `put_on` is
    what was put on less what was taken off again, `passed` what was spoken of and not counted,
    `uncounted` what came off or was put away without a number.
    """

    outline: Outline
    sums: Mapping[_Key, Mapping[str, int]] = field(default_factory=dict)
    mentioned: Mapping[_Key, bool] = field(default_factory=dict)
    put_on: Mapping[_Key, int] = field(default_factory=dict)
    passed: frozenset[_Key] = frozenset()
    uncounted: frozenset[_Key] = frozenset()

    def after(self, said: Said) -> Tally:
        """Count what was said next."""
        sums, mentioned, put_on = dict(self.sums), dict(self.mentioned), dict(self.put_on)
        passed, uncounted = set(self.passed), set(self.uncounted)
        for step, finding in _of_steps(said, self.outline):
            item = home_in(step, finding)
            key = _key(step, item) if item else _unlisted(step, finding, mentioned)
            kind, number = self.outline.kind_of[step.id], number_of(finding, item)
            before = put_on.get(key, 0)
            if finding.action in (ON if before == 0 else ON | OFF):
                put_on[key] = before + (number or 0) * (1 if finding.action in ON else -1)
                if kind == "strip":
                    continue  # put back, or taken out again
            if _counts(finding, item, kind):
                mentioned[key] = True
                if number is None and _facet(finding, item, {}) not in _OF_SOME:
                    uncounted.add(key)
                sums[key] = _with_number(sums.get(key, {}), finding, item, number)
            elif item and _is_next(finding, item, sums.get(key, {})):
                sums[key] = {**sums[key], "taken": sums[key]["taken"] + 1}
            else:
                passed.add(key)
        return Tally(self.outline, sums, mentioned, put_on, frozenset(passed), frozenset(uncounted))

    def _number(self, key: _Key) -> int | None:
        """Give how many there are; "bearings out, one pitted" is not one bearing."""
        sums = self.sums.get(key)
        if not sums or (key in self.uncounted and sums.keys() <= _OF_SOME):
            return None
        return max(sums.values())

    @cached_property
    def counts(self) -> tuple[Count, ...]:
        """The hardware of the outline in its order, then what it does not list in the order said.

        Of the builds of one place those that it turned out not to be are left out.
        """
        items = self.outline.hardware_at
        settled = settled_builds(self.mentioned, self.outline)
        return tuple(
            Count(
                step=key.step,
                part=key.part,
                place=key.place,
                expected=items[key].expected if key in items else None,
                said=self._number(key),
                mentioned=key in self.mentioned,
                spoken_of=key in self.passed,
                build=_open_build(items.get(key), settled),
            )
            for key in dict.fromkeys([*map(_Key._make, items), *self.mentioned])
            if key in self.mentioned or not _ruled_out(items[key], settled)
        )


def tally(findings: Said, outline: Outline) -> tuple[Count, ...]:
    """Add up what was counted, from (step id, findings) in the order said; see `Tally.counts`.

    What came off, where it was put, what was found of it and what shall happen to it are added up
    apart, and the largest sum counts: "ten bolts off" and then "two bolts bent" are ten bolts.
    """
    return Tally(outline).after(findings).counts


def _of_steps(said: Said, outline: Outline) -> Iterator[tuple[Step, Finding]]:
    """Yield what names a part and was said in a step of the outline."""
    for step_id, findings in said:
        step = outline.by_id.get(step_id or "")
        if step is None:
            continue
        for finding in findings:
            each = (finding, *named_in_order(finding, step, outline))
            yield from ((step, one) for one in each if one.part)


def named_in_order(finding: Finding, step: Step | None, outline: Outline) -> Iterator[Finding]:
    """Yield what came off by being named in the order of a stack: what there is one of.

    Where nothing lists what there is, that is what is named once.
    """
    apart = outline.kind_of.get(step.id) == "strip" if step else True
    for part in dict.fromkeys(finding.stack) if apart else ():
        one = Finding(part=part, place=finding.place, action="removed")
        item = home_in(step, one) if step else None
        if item.expected == 1 if item else step is None and finding.stack.count(part) == 1:
            yield one


def _unlisted(step: Step, finding: Finding, mentioned: Iterable[_Key]) -> _Key:
    """Give the key of what the outline does not list: "two nuts" are of the nuts named before."""
    key = _Key(step.id, finding.part or "", finding.place)
    same = [
        one
        for one in mentioned
        if (one.step, one.part) == key[:2] and None in (one.place, finding.place)
    ]
    return key if key in same or not same else same[-1]


def _with_number(
    sums: Mapping[str, int], finding: Finding, item: Hardware | None, number: int | None
) -> Mapping[str, int]:
    if number is None:
        return sums
    facet = _facet(finding, item, sums)
    before = sums.get(facet, 0)
    again = finding.count is None and before > 0  # named twice is one
    new = {facet: before + (0 if again else number)}
    if facet == "taken" and not _tells_length(finding, item):
        new[_NO_LENGTH] = sums.get(_NO_LENGTH, 0) + new[facet] - before
    return {**sums, **new}


def settled_builds(
    mentioned: Iterable[tuple[str, str, str | None]], outline: Outline
) -> dict[str, tuple[str, ...]]:
    """Map places where builds differ to the options said; `mentioned` has (step, part, place)."""
    said = set(mentioned)
    found: dict[str, dict[str, None]] = {name: {} for name in outline.builds}
    for step in outline.steps():
        for item in step.hardware:
            if item.build is not None and _key(step, item) in said:
                found[item.build][item.build_option] = None
    return {name: tuple(options) for name, options in found.items()}


def _ruled_out(item: Hardware, settled: Mapping[str, Collection[str]]) -> bool:
    said = settled[item.build] if item.build is not None else ()
    return bool(said) and item.build_option not in said


def _open_build(item: Hardware | None, settled: Mapping[str, Collection[str]]) -> str | None:
    if item is None or item.build is None or settled[item.build]:
        return None
    return item.build


def expected_for(finding: Finding, step: Step) -> Hardware | None:
    """Find the step's hardware that a finding is of; None when none is, or several are as like."""
    found = most_like(finding, step)
    return found[0] if len(found) == 1 else None


def home_in(step: Step, finding: Finding) -> Hardware | None:
    """Find the step's hardware that a finding is of; "the second ball was stuck in the case" is of
    the balls wherever it lay."""
    item = expected_for(finding, step)
    if item or finding.ordinal is None or finding.place is None:
        return item
    item = expected_for(replace(finding, place=None), step)
    return item if item and item.several else None


def most_like(finding: Finding, step: Step) -> tuple[Hardware, ...]:
    """Find the step's hardware that a finding is most like: "seals" are both of its seals."""
    likes = [(hardware_likeness(finding, item, step), item) for item in step.hardware]
    best = max((like for like, _ in likes), default=0.0)
    found = tuple(item for like, item in likes if like == best and best > 0)
    return () if best == CALLED and len(found) > 1 else found


def count_warnings(
    counts: Iterable[Count], outline: Outline, twice: Collection[Count] = ()
) -> tuple[str, ...]:
    """Say the counts that differ: "end cover: 10 bolts expected, 9 said".

    Those of `twice` were right before, and the same number was said again.
    """
    return tuple(
        f"{where(count, outline)}: {parts_text(count.part, count.expected)} expected, "
        f"{count.said} said" + (_twice_text(count) if count in twice else "")
        for count in counts
        if count.differs
    )


def without_twice(warning: str) -> str:
    """Give a warning of a count without the question whether it was said twice."""
    return _TWICE.sub("", warning)


def _twice_text(count: Count) -> str:
    return f", {count.expected} before and {count.expected} now: said twice?"


_TWICE = re.compile(r", \d+ before and \d+ now: said twice\?$")


def missing_warnings(counts: Iterable[Count], outline: Outline) -> tuple[str, ...]:
    """Say what was expected and got no number at all."""
    return tuple(
        f"{where(count, outline)}: {parts_text(count.part, count.expected)} expected, "
        + _not_counted(count, outline)
        for count in counts
        if count.expected is not None and count.said is None and count.build is None
    )


def _not_counted(count: Count, outline: Outline) -> str:
    if count.mentioned:
        return "no number said"
    way = "in" if outline.kind_of.get(count.step) in PUTTING else "off"
    return f"not said to be {way}" if count.spoken_of else "not mentioned"


def where(count: Count, outline: Outline) -> str:
    """Name the place of a count, or its step when it has no place."""
    step = outline.by_id.get(count.step)
    return count.place or (step.title if step else count.step)


def _key(step: Step, item: Hardware) -> _Key:
    return _Key(step.id, item.part, item.place)


def _counts(finding: Finding, item: Hardware | None, kind: StageKind) -> bool:
    if finding.stack or (finding.ordinal is not None and (item is None or item.several)):
        return False  # "second plate"; but the "first wheel" may be all there is
    if finding.action is None:  # marking it says that it is still there
        return finding.mark is None or finding.count is not None
    counting = _COUNTING.get(kind)
    return counting is None or finding.action in counting


def _is_next(finding: Finding, item: Hardware, sums: Mapping[str, int]) -> bool:
    """Whether it is one more of those that came off: the twelfth, after eleven."""
    if finding.stack or finding.ordinal is None or "missing" in finding.all_conditions:
        return False
    return finding.ordinal == sums.get("taken", -1) + 1 <= (item.expected or 0)


def number_of(finding: Finding, item: Hardware | None) -> int | None:
    """Give the number counted; a part that there is one of is counted by being named."""
    if finding.count is None and item is not None and item.expected == 1:
        return 1
    return finding.count


def _facet(finding: Finding, item: Hardware | None, sums: Mapping[str, int]) -> str:
    """What the number is of.

    "Ten bolts in bag two" and "one bolt is two inch long", after ten came off, are no more bolts;
    nor are "eight short ones".  "The other one" is one more of whatever it is that was said.
    """
    if ANOTHER in finding.notes and not finding.condition:
        return max(sums, key=lambda facet: sums[facet], default="taken")
    if finding.action in ("loosened", "tightened"):
        return finding.action
    if (finding.action is None or finding.action in OFF) and _of_those_off(finding, item, sums):
        return "sized"
    if finding.action is not None:
        return "taken"
    taken = sums.get("taken", 0)
    of_them = 0 < sums.get("sized", 0) + (finding.count or 0) <= taken
    all_off = of_them if item is None or item.expected is None else taken >= item.expected
    if all_off and _tells_length(finding, item):
        return "sized"
    if finding.container or finding.group or finding.mark or finding.orientation:
        return "kept"
    if not (finding.condition or finding.disposition):
        return "taken"
    return "found" if finding.condition else "decided"


def _of_those_off(finding: Finding, item: Hardware | None, sums: Mapping[str, int]) -> bool:
    """Whether "six short ones off the top" are of the eight that came off before.

    They are when those were told without a length, and there cannot be as many more.
    """
    if item is None or item.expected is None or not _tells_length(finding, item):
        return False
    number, told = finding.count or 0, sums.get("sized", 0)
    off = sums.get(_NO_LENGTH, 0)
    of_them = 0 < told + number <= off
    more = told == 0 and sums.get("taken", 0) + number <= item.expected
    return off >= item.expected or (of_them and not more)


def _tells_length(finding: Finding, item: Hardware | None) -> bool:
    long = finding.size is not None and (finding.size.length or finding.size.relative)
    return bool(long or (item is not None and length_group(finding, item)))


def hardware_likeness(finding: Finding, item: Hardware, step: Step) -> float:
    """Say how like (0 to 1) what a finding names is to a step's hardware."""
    if part_likeness(finding.part, item.part) == 0.0 and not same_head(finding.part, item.part):
        return 0.0
    words = step_words(step.title, step.say)
    return thing_likeness((finding.part, finding.place), (item.part, item.place), words)
