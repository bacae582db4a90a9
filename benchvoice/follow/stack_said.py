"""An order of parts said over several remarks."""

from __future__ import annotations

from msgspec.structs import replace

from benchvoice.remark import Finding, Remark

_GOING_ON = ("then ", "and then ")


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
