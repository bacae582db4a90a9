"""A count put right by a "no" and the part."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from benchvoice.follow.counts import Count, home_in
from benchvoice.follow.events import LogEntry, State
from benchvoice.follow.job import Job
from benchvoice.follow.likeness import place_likeness
from benchvoice.follow.wording import finding_text
from benchvoice.remark import Finding, Remark

_SOON = 3
"""So many entries back a count is still put right by a "no" and the part."""

ONLY_NUMBER = "Only the number was put right: for the rest strike that, and say all of it again."


def told_before(entry: LogEntry, said: Finding) -> bool:
    """Whether all but the number that "no, two short ones" tells was said so before."""
    told = (said.size, said.condition, said.orientation, said.container, said.disposition)
    return any(
        all(new in (None, old) for new, old in zip(told, was, strict=True))
        for one in entry.findings
        if _counts_same(said, one)
        for was in [(one.size, one.condition, one.orientation, one.container, one.disposition)]
    )


def put_right(job: Job, remark: Remark) -> LogEntry | None:
    """Find the entry whose count "no twelve bolts off the front cover" puts right.

    It counted the same part, and is one of the last of its step, or else the last one whose count
    does not add up and would by that.
    """
    openings = (say for filler in job.pack.correction for say in filler.say)
    if not any(remark.heard.startswith((f"{opening} ", f"{opening},")) for opening in openings):
        return None
    if len(remark.findings) != 1 or remark.findings[0].count is None:
        return None
    said = remark.findings[0]
    for entry in reversed(job.state.log[-_SOON:]):
        if entry.kind != "finding" or entry.step != job.state.current:
            break
        if any(_counts_same(said, _at_home(before, entry, job)) for before in entry.findings):
            return entry
    wrong = [count for count in job.counts if count.differs]
    return next((one for one in reversed(job.state.log) if _would_add_up(one, said, wrong)), None)


def _at_home(finding: Finding, entry: LogEntry, job: Job) -> Finding:
    """Name the place that was not said: "no six off the pump" puts no side cover's bolts right."""
    step = job.outline.by_id.get(finding.own_step or entry.step or "")
    item = home_in(step, finding) if step and finding.part and finding.place is None else None
    return finding if item is None else replace(finding, place=item.place)


def _would_add_up(entry: LogEntry, said: Finding, wrong: Iterable[Count]) -> bool:
    """Whether the number said in the place of one in an entry gives a count as it is expected."""
    return any(
        (count.step, count.part) == (before.own_step or entry.step, before.part)
        and place_likeness(before.place, count.place) > 0
        and (count.said or 0) - (before.count or 0) + (said.count or 0) == count.expected
        for before in entry.findings
        if _counts_same(said, before)
        for count in wrong
    )


def which_length(state: State, said: Finding, wrong: LogEntry) -> str | None:
    """Ask which is put right where counts were told by length, and the new one may be of them all.

    After "six short ones" and "three long ones", "no, four" is of the long ones; "no, twelve" may
    be of both, and there is no telling which of them is wrong.
    """
    if _has_length(said):
        return None
    counted = [
        one
        for entry in state.log
        if entry.kind == "finding" and entry.step == wrong.step
        for one in entry.findings
        if _counts_same(said, one)
    ]
    before = sum(one.count or 0 for one in counted[:-1])
    lengths = {(one.size.relative, one.size.length) for one in counted if one.size}
    by_length = all(map(_has_length, counted)) and len(lengths) > 1
    if not by_length or (said.count or 0) <= before:
        return None
    return f"Which: {' or '.join(map(finding_text, counted))}? Say it again with its length."


def _has_length(finding: Finding) -> bool:
    size = finding.size
    return size is not None and bool(size.relative or size.length)


def _counts_same(said: Finding, before: Finding) -> bool:
    same = said.part == before.part and place_likeness(said.place, before.place) > 0
    return same and before.count is not None
