"""Measures against the limits of the outline."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from benchvoice.follow.likeness import part_likeness
from benchvoice.follow.wording import measure_text
from benchvoice.grammar.outline import Limit, Outline, Step
from benchvoice.grammar.vocabulary import Unit
from benchvoice.remark import Finding, Measure

UNSOURCED = "unsourced: see the unit maker's manual"
"""Stands in the place of the source of a limit that tells none."""

_ROUNDING = 1e-9
"""Relative slack so that a measure converted onto its limit is not called out."""


def limit_warnings(
    finding: Finding, step: Step | None, outline: Outline, units: Mapping[str, Unit]
) -> tuple[str, ...]:
    """Say where a measure is out of a limit; `units` are the units by name.

    The limits of the step count; when it has none of that quantity, those of
    the other steps do, so that a measure taken early is not passed over.
    """
    measure = finding.measure
    if measure is None:
        return ()
    about = f"{named} " if (named := measured_of(finding)) else ""
    warnings = []
    for limit in limits_for(finding, step, outline):
        complaint = limit_complaint(measure, limit, units)
        if complaint:
            warnings.append(f"{about}{measure_text(measure)}: {complaint}")
    return tuple(dict.fromkeys(warnings))


def measured_of(finding: Finding | None) -> str | None:
    """Name what was measured: "forward clutch", "rear output shaft"; None when that was not said.

    What is told of one end of a shaft is not told of the other.
    """
    if finding is None:
        return None
    names = dict.fromkeys(name for name in (finding.place, finding.part) if name)
    return " ".join(names) or None


def is_limited(finding: Finding, limit: Limit) -> bool:
    """Whether a limit is of what was measured, wherever it was: same quantity, same part if any."""
    if finding.measure is None or finding.measure.quantity != limit.quantity:
        return False
    return finding.part is None or limit.part is None or part_likeness(finding.part, limit.part) > 0


def limits_for(finding: Finding, step: Step | None, outline: Outline) -> list[Limit]:
    """Give the limits that a measure is held to: the step's own, else those of other steps."""
    own = [limit for limit in (step.limit if step else ()) if is_limited(finding, limit)]
    return own or [
        limit for one in outline.steps() for limit in one.limit if is_limited(finding, limit)
    ]


def verdict(
    measure: Measure, limit: Limit, units: Mapping[str, Unit]
) -> Literal["within", "outside", "not compared"]:
    """Hold a measure to a limit; a unit of another kind is not compared."""
    complaint = limit_complaint(measure, limit, units)
    if complaint is None:
        return "within"
    return "outside" if complaint == limit_text(limit) else "not compared"


def limit_text(limit: Limit) -> str:
    """Say a limit and its source: "limit 4 to 12 thou (invented for the demo)"."""
    return f"limit {bounds_text(limit)} ({limit.source or UNSOURCED})"


def bounds_text(limit: Limit) -> str:
    """Say the bounds of a limit: "4 to 12 thou", "at most 2 thou"."""
    if limit.low is not None and limit.high is not None:
        return f"{limit.low:g} to {limit.high:g} {limit.unit}"
    if limit.low is not None:
        return f"at least {limit.low:g} {limit.unit}"
    if limit.high is not None:
        return f"at most {limit.high:g} {limit.unit}"
    return "not given"


def convert(value: float, unit: str, to: str, units: Mapping[str, Unit]) -> float | None:
    """Convert between units of one dimension; None when they are not, or not known.

    value_si = (value + offset) * factor, as in the vocabulary's units (NIST SP 811, appendix B.8).
    """
    if unit == to:
        return value
    one, other = units.get(unit), units.get(to)
    if one is None or other is None or one.dimension != other.dimension:
        return None
    return (value + one.offset) * one.factor / other.factor - other.offset


def limit_complaint(measure: Measure, limit: Limit, units: Mapping[str, Unit]) -> str | None:
    """Say what is wrong with a measure, None when it is within `limit`."""
    low = convert(measure.value, measure.unit, limit.unit, units)
    high = low
    if measure.high is not None:
        high = convert(measure.high, measure.unit, limit.unit, units)
    if low is None or high is None:
        return f"{limit_text(limit)} is in another kind of unit, not compared"
    slack = _ROUNDING * max(abs(low), abs(high), 1.0)
    under = limit.low is not None and min(low, high) < limit.low - slack
    over = limit.high is not None and max(low, high) > limit.high + slack
    return limit_text(limit) if under or over else None
