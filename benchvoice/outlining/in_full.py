"""What was said while a unit came apart, completed by what was said of it in other words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence

from msgspec.structs import replace

from benchvoice.follow.counts import OFF, ON, Said
from benchvoice.follow.likeness import part_likeness
from benchvoice.outlining.regroup import Group
from benchvoice.remark import Finding

_Told = list[tuple[str | None, tuple[Finding, ...]]]


def in_full(said: Said, groups: Sequence[Group], known: Collection[str]) -> _Told:
    """Give what was said, short names written out, with the parts named only in other ways.

    "Washer", where a sealing washer is named in that step and no other, is that, but where both
    came off: a gear and a ring gear.  What went in came out; and what lies in a stack is a part of
    it.  Steps of an outline (`known`) have their own hardware.
    """
    told = [(step, tuple(findings)) for step, findings in said]
    names: dict[str | None, list[str]] = defaultdict(list)
    off: dict[str | None, list[str]] = defaultdict(list)
    for step, findings in told:
        names[step] += [one.part for one in findings if one.part]
        off[step] += [one.part for one in findings if one.part and one.action in OFF]
    told = [
        (step, tuple(_written_out(one, names[step], off[step]) for one in findings))
        for step, findings in told
    ]
    for group in groups:
        own = group.undoes or group.id
        if own not in known and group.kind in ("strip", "assemble"):
            told.append((own, tuple(_named_otherwise(group, told, names[own]))))
    return told


def _written_out(finding: Finding, names: Sequence[str], off: Sequence[str]) -> Finding:
    """Give the long name of what is named shortly, and never with a number."""
    longer = {name for name in names if name.endswith(f" {finding.part}")}
    if len(longer) != 1 or finding.count is not None or {finding.part, *longer} <= {*off}:
        return finding
    return replace(finding, part=longer.pop())


def _named_otherwise(group: Group, told: _Told, names: list[str]) -> Iterator[Finding]:
    """Yield the parts of a step that nothing else was said of as it came apart."""
    for one in (one for step, findings in told for one in findings if step == group.id):
        if group.undoes:
            found = {one.part: one.count} if one.action in ON else {}
        else:
            found = {part: 1 if one.stack.count(part) == 1 else None for part in one.stack}
        for part, count in found.items():
            if part and not any(part_likeness(part, name) > 0 for name in names):
                names.append(part)
                yield Finding(part=part, action="removed", count=count)
