"""What "it", "both" and "them" are of: what was named before."""

from __future__ import annotations

import re
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.remark import Finding


class Before(NamedTuple):
    """What was spoken of last, and of how many something was found one remark after another."""

    finding: Finding
    found: int | None


SEVERAL = re.compile(r"\b(both|them|all|these|those)\b")
"""Words with which more than what was named last is meant: "one pitted", "one rough", "both"."""


def summed(finding: Finding, last: Before | None) -> Before:
    """Give what was spoken of last after a finding, with what was found of the same added up."""
    if last is None or not (finding.count and finding.condition and last.finding.condition):
        return Before(finding, finding.count)
    same = (finding.part, finding.place) == (last.finding.part, last.finding.place)
    return Before(finding, finding.count + ((last.found or 0) if same else 0))


def of_part(finding: Finding, last: Before | None, several: bool) -> Finding:
    """Name the part of "replace it", or of them with `several`; what is of a place is of that."""
    if finding.part:
        return finding
    if finding.place:
        part, beside, where = finding.place.partition(" by ")  # "case by mounting foot"
        return replace(finding, part=part, place=f"by {where}" if beside else None)
    if last is None or not finding.disposition:
        return finding
    before = last.finding
    return replace(
        finding,
        part=before.part,
        place=before.place,
        side=finding.side or before.side,
        size=finding.size or before.size,
        count=finding.count or (last.found if several else before.count),
        condition=finding.condition or before.condition,
        conditions=finding.conditions or before.conditions,
    )
