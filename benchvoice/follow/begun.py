"""Counts of a step that was begun by name: they tell of no other step, however far they are off."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.follow.counts import most_like
from benchvoice.follow.events import COMMANDED
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding


class Said(NamedTuple):
    """One thing said: the kind of its event, its step and what was found."""

    kind: str
    step: str | None
    findings: tuple[Finding, ...]


def without_counts(said: Iterable[Said], outline: Outline) -> list[tuple[Finding, ...]]:
    """Give the findings of each as they tell the step: the first count of a part that the step
    begun by name lists is left out, until the job is led elsewhere.

    A part counted there already is counted as it was: it may be of the step after.
    """
    result = []
    begun = None
    named: set[str | None] = set()
    for one in said:
        if one.kind in COMMANDED:
            begun = outline.by_id.get(one.step or "") if one.kind == "started" else None
            named = set()
        new = tuple(
            replace(finding, count=None)
            if begun and finding.count and finding.part not in named and most_like(finding, begun)
            else finding
            for finding in one.findings
        )
        named.update(finding.part for finding in one.findings)
        result.append(new)
    return result
