"""Which of several that are alike is talked of while they go back in.

Two clutches have the same plates and the same clearance: "eight friction plates in", after "snap
ring in the forward clutch", are the forward clutch's.  A place is only named where nothing else
tells it, so that it is seen and can be put right.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from benchvoice.follow.counts import ON
from benchvoice.follow.events import LogEntry
from benchvoice.follow.job import Job
from benchvoice.follow.meant import in_singular
from benchvoice.follow.readings import stacks_measured
from benchvoice.grammar.outline import Step
from benchvoice.remark import Finding


def with_places(job: Job, findings: tuple[Finding, ...], step: Step) -> tuple[Finding, ...]:
    """Name the place of what goes in, or is measured, where several are as like.

    It is the one that the same remark names, else the one that was talked of last in the step and
    that nothing of it went into yet; several or none leave it open.
    """
    return tuple(_placed(job, finding, findings, step) for finding in findings)


def one_of_several(job: Job, finding: Finding, step: str, heard: str) -> Finding:
    """Count "snap ring in" as one where several came out: taken for all, some are left out."""
    goes_in = finding.action in ("installed", "pressed in") and finding.part is not None
    if not goes_in or finding.count is not None or finding.ordinal is not None:
        return finding
    came = [line.came for line in job.lines.of(step, finding)]
    several = None not in came and sum(one or 0 for one in came) > 1
    if not several or not in_singular(finding.part or "", heard, job.pack):
        return finding
    return replace(finding, count=1)


def _placed(job: Job, finding: Finding, findings: Sequence[Finding], step: Step) -> Finding:
    if finding.place is not None or finding.side is not None or finding.ordinal is not None:
        return finding
    if finding.measure is not None and finding.part is None:
        places = _measured_at(finding, step, job)
        last = _last_of(job.state.log, step, places)
    elif finding.part is not None and finding.action in ON and finding.measure is None:
        places = _alike(finding, step, job)
        last = _last_of(job.state.log, step, places)
        last = last if last in places and not _begun(job, finding, step, last) else None
    else:
        return finding
    alone = places[0] if finding.measure and len(places) == 1 else None
    place = alone or _only(findings, places) or last
    return finding if place is None else replace(finding, place=place)


def _alike(finding: Finding, step: Step, job: Job) -> list[str]:
    """The places of the lines that a part is as like, when there are several."""
    lines = job.lines.of(step.id, finding)
    places = [line.place for line in lines if line.place is not None]
    return places if len({*places}) == len(lines) > 1 else []


def _measured_at(finding: Finding, step: Step, job: Job) -> list[str]:
    """The places of the stacks taken apart that a measure is of: "pack clearance" of two packs."""
    quantity = finding.measure.quantity if finding.measure else ""
    stacks = stacks_measured(quantity, step, job.outline)
    return [place for home, place in stacks if home in job.book.stripped]


def _begun(job: Job, finding: Finding, step: Step, place: str) -> bool:
    return any(line.went_back for line in job.lines.of(step.id, replace(finding, place=place)))


def _last_of(log: Sequence[LogEntry], step: Step, places: Sequence[str]) -> str | None:
    """The only place that the last entry of the step names which names any of them."""
    for entry in reversed(log):
        if entry.kind != "finding" or entry.step != step.id:
            return None
        named = {*_named(entry.findings, places)}
        if named:
            return named.pop() if len(named) == 1 else None
    return None


def _only(findings: Iterable[Finding], places: Sequence[str]) -> str | None:
    named = {*_named(findings, places)}
    return named.pop() if len(named) == 1 else None


def _named(findings: Iterable[Finding], places: Sequence[str]) -> Iterable[str]:
    """The places that are named; a "side cover gasket" names the side cover."""
    names = [f"{name} " for one in findings for name in (one.place, one.part) if name]
    return (place for place in places for name in names if name.startswith(f"{place} "))
