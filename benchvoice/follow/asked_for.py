"""What a step of the outline asks for by itself: its checks, and the parts that it puts back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from benchvoice.follow.counts import OFF, ON, PUTTING, most_like
from benchvoice.follow.likeness import part_likeness
from benchvoice.follow.readings import wants
from benchvoice.grammar.outline import Outline, Step
from benchvoice.remark import Finding


def asked_for(step: Step, outline: Outline, findings: Iterable[Finding]) -> bool:
    """Whether all of it is what the step checks, or goes in where the step puts it back.

    Said while the step is under way it is of the step, whatever else it is like: a seal that is
    "dry" at the leak check is not the one that was driven out.
    """
    homes = put_back_by(step, outline)
    return all(checks(step, one) or _put_back(homes, one) for one in findings)


def put_back_by(step: Step, outline: Outline) -> tuple[Step, ...]:
    """Give the steps whose parts a step puts back."""
    return tuple(outline.by_id[home] for home in step.puts_back if home in outline.by_id)


def put_back_at(outline: Outline) -> dict[str, str]:
    """Map each step whose parts another puts back to that one."""
    return {home: step.id for step in outline.steps() for home in step.puts_back}


def back_instead(
    findings: Iterable[Finding], begun: str | None, outline: Outline
) -> Mapping[str, str]:
    """Map the steps that findings said while a unit goes together are not of to those they are of.

    What is of a strip step is of the step that puts it back, unless it is taken off again; that it
    goes together is only sure when such a step was said to begin (`begun`).
    """
    taken = any(finding.action in OFF for finding in findings)
    if taken or outline.kind_of.get(begun or "") not in PUTTING:
        return {}
    return put_back_at(outline)


def checks(step: Step | None, finding: Finding) -> bool:
    """Whether a finding tells of what a step checks: "side cover dry" at the leak check."""
    if step is None or finding.action in ON | OFF:
        return False
    likes = (part_likeness(finding.part, check.part) for check in step.check)
    return finding.condition is not None and any(like > 0 for like in likes)


def as_wanted(step: Step | None, finding: Finding) -> bool:
    """Whether all that is told is that something is as a check of the step wants it.

    "Side cover seals dry" at the leak check is of the new ones: nothing was wrong with the old.
    """
    said = finding.all_conditions
    done = finding.action in ON | OFF or finding.disposition or finding.container
    return (
        step is not None
        and bool(said)
        and not done
        and all(any(wants(check.what, one) for check in step.check) for one in said)
    )


def _put_back(homes: Iterable[Step], finding: Finding) -> bool:
    return finding.action in ON and any(most_like(finding, home) for home in homes)
