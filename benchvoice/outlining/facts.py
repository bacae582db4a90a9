"""What one session says about how a job is done: order, counts, minutes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from benchvoice.follow.counts import tally
from benchvoice.grammar import Outline, Stage, Step
from benchvoice.outlining.regroup import Group, regrouped
from benchvoice.outlining.values import HardwareKey
from benchvoice.session import Session, step_minutes


@dataclass(frozen=True, kw_only=True)
class Facts:
    """One session: `order` are step ids as begun, `titles` what they are called.

    `counts` has the numbers said of what comes off, or goes on and came off nowhere, `expected` the
    outline's for all its hardware, None where it has none; `minutes` the worked
    minutes by step.
    """

    session: str
    order: tuple[str, ...]
    titles: Mapping[str, str]
    counts: Mapping[HardwareKey, int]
    expected: Mapping[HardwareKey, int | None]
    minutes: Mapping[str, float]


def facts_of(session: Session, outline: Outline | None) -> Facts:
    """Read the facts of a session."""
    placed, groups = regrouped(session, outline)
    framed = frame(outline, groups)
    counts = tally(placed.findings, framed)
    puts_back = {step.id for step in (outline.steps() if outline else ()) if step.puts_back}
    counted = {
        group.id
        for group in groups
        if group.kind == "strip"
        or (group.kind == "assemble" and not (group.undoes or group.id in puts_back))
    }
    return Facts(
        session=session.folder.name,
        order=tuple(group.id for group in groups),
        titles={group.id: group.name[:1].upper() + group.name[1:] for group in groups},
        counts={
            (count.step, count.part, count.place): count.said
            for count in counts
            if count.said is not None and count.step in counted
        },
        expected={
            key: count.expected
            for count in counts
            if (key := (count.step, count.part, count.place)) in framed.hardware_at
        },
        minutes=step_minutes(placed),
    )


def frame(outline: Outline | None, groups: tuple[Group, ...]) -> Outline:
    """An outline of just the steps done, to count along."""
    known = outline.by_id if outline else {}
    stages = (
        Stage(
            id=f"s{number}",
            title=group.name,
            kind=group.kind,
            step=(known.get(group.id) or Step(id=group.id, title=group.name),),
        )
        for number, group in enumerate(groups)
    )
    return Outline(name="", title="", unit="", stage=tuple(stages))
