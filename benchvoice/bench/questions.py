"""Which entries are asked about, in which words, and for how long."""

from __future__ import annotations

from benchvoice.follow import StepEvent, finding_text
from benchvoice.grammar import Outline
from benchvoice.remark import doubt

_ASKED_ABOUT = frozenset({"finding", "started", "finished", "moved"})
"""A photo mark or a note that was misheard does no harm."""

OPEN_SECONDS = 60.0
"""After so long a "yes" is no answer any more; the entry stays doubtful."""


def question_of(event: StepEvent, outline: Outline | None) -> str | None:
    """Give the question to put about an event; None when it needs none.

    A doubtful "nine bolts off front" is asked about as "9 bolts, front, removed, right?".
    """
    if doubt(event.remark) is None or event.kind not in _ASKED_ABOUT:
        return None
    if event.kind == "finding":
        said = "; ".join(finding_text(finding) for finding in event.remark.findings)
        return f"{said}, right?"
    step = outline.by_id.get(event.step or "") if outline else None
    what = "now at" if event.kind == "moved" else event.kind
    return f"{what} {step.title if step is not None else event.remark.heard}, right?"
