"""The outline's limits and checks, and what was said to each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from benchvoice.follow.counts import PUTTING
from benchvoice.follow.likeness import part_likeness, place_likeness
from benchvoice.follow.limits import limit_complaint, limit_text
from benchvoice.follow.wording import measure_text
from benchvoice.grammar.outline import Check, Limit, Outline
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Finding, Frozen

_CHECKING = frozenset({"tested", "checked", "inspected", "turned", "measured"})


class Reading(Frozen, frozen=True, kw_only=True):
    """A limit of a step and the measure that counts for it; `measured` is None without one.

    `complaint` says what is wrong with it, None when it is within the limit.
    """

    step: str
    limit: Limit
    measured: Finding | None = None
    complaint: str | None = None

    @property
    def name(self) -> str:
        """What is to be measured: "friction plate thickness"."""
        part = f"{self.limit.part} " if self.limit.part else ""
        return f"{part}{self.limit.quantity}"

    @property
    def text(self) -> str:
        """The limit, and the measure when there is one."""
        measure = self.measured.measure if self.measured else None
        if measure is None:
            return f"{self.name} not measured, {limit_text(self.limit)}"
        part = self.measured.part if self.measured else None
        about = f"{part} " if part else ""
        return f"{about}{measure_text(measure)}: {self.complaint or limit_text(self.limit)}"


class Checked(Frozen, frozen=True, kw_only=True):
    """A check of a step and what was said to it, None while nothing was."""

    step: str
    check: Check
    said: Finding | None = None

    @property
    def text(self) -> str:
        """What is to be checked."""
        return f"{self.check.part}: {self.check.what}"


def readings(
    said: Iterable[tuple[str | None, Iterable[Finding]]],
    outline: Outline,
    units: Mapping[str, Unit],
) -> tuple[Reading, ...]:
    """Give every limit of the outline with its measure; `units` are the units by name.

    A measure is for the limit of its step, or of another step when its own has
    none of that quantity; one taken before the unit was put together says
    nothing of how it was put together.  While putting together the last
    measure counts (it was adjusted in between); on inspection one that is out
    of the limit counts whatever is measured after it.
    """
    flat = [
        (step or "", finding)
        for step, findings in said
        for finding in findings
        if finding.measure is not None
    ]
    return tuple(
        _reading(step.id, limit, flat, outline, units)
        for step in outline.steps()
        for limit in step.limit
    )


def checks(
    said: Iterable[tuple[str | None, Iterable[Finding]]], outline: Outline
) -> tuple[Checked, ...]:
    """Give every check of the outline with the last that was said to it in its step."""
    flat = [(step, finding) for step, findings in said for finding in findings]
    return tuple(
        Checked(
            step=step.id,
            check=check,
            said=next(
                (
                    finding
                    for where, finding in reversed(flat)
                    if where == step.id and _answers(finding, check)
                ),
                None,
            ),
        )
        for step in outline.steps()
        for check in step.check
    )


def _reading(
    step: str,
    limit: Limit,
    measures: list[tuple[str, Finding]],
    outline: Outline,
    units: Mapping[str, Unit],
) -> Reading:
    putting = outline.kind_of[step] in PUTTING
    found = [
        finding
        for where, finding in measures
        if _is_of(finding, limit)
        and (
            where == step
            or (
                not _has_own(where, finding, outline)
                and (outline.kind_of.get(where) in PUTTING) == putting
            )
        )
    ]
    if not found:
        return Reading(step=step, limit=limit)
    judged = [(finding, _complaint(finding, limit, units)) for finding in found]
    out = [one for one in judged if one[1] is not None]
    finding, complaint = judged[-1] if putting or not out else out[-1]
    return Reading(step=step, limit=limit, measured=finding, complaint=complaint)


def _is_of(finding: Finding, limit: Limit) -> bool:
    if finding.measure is None or finding.measure.quantity != limit.quantity:
        return False
    return finding.part is None or limit.part is None or part_likeness(finding.part, limit.part) > 0


def _has_own(step: str, finding: Finding, outline: Outline) -> bool:
    own = outline.by_id.get(step)
    return own is not None and any(_is_of(finding, limit) for limit in own.limit)


def _complaint(finding: Finding, limit: Limit, units: Mapping[str, Unit]) -> str | None:
    assert finding.measure is not None
    return limit_complaint(finding.measure, limit, units)


def _answers(finding: Finding, check: Check) -> bool:
    named = [name for name in (finding.part, finding.place) if name]
    like = any(
        part_likeness(name, check.part) > 0 or place_likeness(name, check.part) > 0
        for name in named
    )
    said = finding.condition is not None or finding.action in _CHECKING
    return said and (like or not named)
