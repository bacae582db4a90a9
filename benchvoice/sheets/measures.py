"""What was measured, held to the limits of the outline."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from msgspec.structs import replace

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.limits import UNSOURCED, bounds_text, limits_for, verdict
from benchvoice.follow.readings import Reading
from benchvoice.follow.wording import measure_text
from benchvoice.grammar.outline import Limit, Outline
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Finding, Frozen, doubt
from benchvoice.session.values import Entry, Session

Verdict = Literal["within", "outside", "not compared", "no limit"]


class Measured(Frozen, frozen=True, kw_only=True):
    """A measure against one limit; `limit` and `source` are None where there is none.

    `said` is the reading in words, `step` a step id, `entry` the seq of the
    remark, `doubt` why it should be heard again.  `again` tells that another measure taken while
    the unit went together counts in its place.
    """

    step: str | None
    said: str
    verdict: Verdict
    part: str | None = None
    place: str | None = None
    limit: str | None = None
    source: str | None = None
    entry: int | None = None
    clip: str | None = None
    doubt: str | None = None
    again: bool = False

    @property
    def counts_as_outside(self) -> bool:
        """Whether it is outside its limit, and no other measure counts in its place."""
        return self.verdict == "outside" and not self.again


def measures_of(
    session: Session,
    outline: Outline | None,
    units: Mapping[str, Unit],
    readings: Sequence[Reading] = (),
) -> Iterator[Measured]:
    """Yield the measures in the order said, once for each limit that they are held to.

    `readings` are those that count.
    """
    for entry in session.standing:
        for finding in entry.findings if entry.kind == "finding" else ():
            if finding.measure is None:
                continue
            step = outline.by_id.get(entry.step or "") if outline else None
            limits = limits_for(finding, step, outline) if outline else []
            held: list[Limit | None] = [*limits] or [None]
            putting = outline is not None and outline.kind_of.get(entry.step or "") in PUTTING
            for limit in held:
                counts = [one.measured for one in readings if putting and one.limit == limit]
                again = any(counts) and finding not in counts
                yield replace(_measured(entry, finding, limit, units), again=again)


def _measured(
    entry: Entry, finding: Finding, limit: Limit | None, units: Mapping[str, Unit]
) -> Measured:
    assert finding.measure is not None
    return Measured(
        step=entry.step,
        said=measure_text(finding.measure),
        verdict=verdict(finding.measure, limit, units) if limit else "no limit",
        part=finding.part,
        place=finding.place,
        limit=bounds_text(limit) if limit else None,
        source=(limit.source or UNSOURCED) if limit else None,
        entry=entry.seq,
        clip=entry.clip,
        doubt=doubt(entry.remark),
    )
