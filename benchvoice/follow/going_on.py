"""A remark that goes on with the one before: an order of parts, places set against one another."""

from __future__ import annotations

from msgspec.structs import replace

from benchvoice.follow.events import LogEntry
from benchvoice.follow.meant import of_part_before
from benchvoice.grammar.pack import Pack
from benchvoice.remark import Finding, Remark, StepGuess

_GOING_ON = ("then ", "and then ")


def gone_on(remark: Remark, last: LogEntry | None, pack: Pack) -> Remark:
    """Give a remark made whole by the entry before; an order goes on at the step of that."""
    before = last.findings[-1] if last is not None and last.findings else None
    whole = continued(remark, before)
    if whole is not remark and last is not None and last.step is not None:
        return replace(whole, step=StepGuess(id=last.step, score=100.0))
    return replace(whole, findings=of_part_before(whole.findings, before, pack))


def continued(remark: Remark, before: Finding | None) -> Remark:
    """Give "then a steel", after an order, as the order so far with what comes next.

    `before` is the last finding of what was said before.  A part of which anything else is said
    ("then the snap ring out") goes on with no order.
    """
    if before is None or not before.stack or not remark.heard.lower().startswith(_GOING_ON):
        return remark
    parts: list[str] = []
    for finding in remark.findings:
        named = finding.stack or ((finding.part,) if finding.part else ())
        plain = Finding(
            part=finding.part, count=finding.count, place=finding.place, stack=finding.stack
        )
        if not named or finding.count not in (None, 1) or finding != plain:
            return remark
        parts += named
    return replace(remark, findings=(replace(before, stack=(*before.stack, *parts)),))
