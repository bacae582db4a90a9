"""One event as it is shown at the bench."""

from __future__ import annotations

from benchvoice.follow import StepEvent, finding_text
from benchvoice.grammar import Outline
from benchvoice.remark import doubt
from benchvoice.sheets.layout import clock, wrapped

_PLAIN = {
    "started": "started",
    "assembling": "putting together",
    "held": "not finished",
    "finished": "finished",
    "moved": "now at",
    "paused": "clock stopped",
    "resumed": "clock running",
    "struck": "struck",
    "recounted": "count corrected",
    "noted": "note",
    "photo": "photo mark",
    "asked": "asked",
    "answered": "answered",
    "voice": "voice",
    "unclear": "? not understood",
}


def event_lines(
    event: StepEvent, outline: Outline | None, clip: str | None = None, width: int = 80
) -> list[str]:
    """Give the lines of an event: cautions before it, warnings and answers after it.

    Warnings begin with "!", an answer with ">", a doubt with "?".
    """
    step = None if outline is None else outline.by_id.get(event.step or "")
    title = step.title if step else event.step or ""
    pieces = [("  CAUTION ", text) for text in event.cautions]
    pieces += [(f"{clock(event.at)}  ", said) for said in _said(event, title, clip)]
    if event.kind == "finding":
        pieces += [("       ? ", f'not understood: "{words}"') for words in event.remark.unparsed]
    unsure = doubt(event.remark)
    if unsure is not None:
        pieces.append(("       ? ", f"{unsure}{f' ({clip})' if clip else ''}"))
    pieces += [("       ! ", text) for text in event.warnings]
    pieces += [("       > ", text) for text in (event.answer or "").splitlines()]
    return [line for first, text in pieces for line in wrapped(first, text, width)]


def _said(event: StepEvent, title: str, clip: str | None) -> list[str]:
    if event.kind == "finding":
        found = "; ".join(finding_text(finding) for finding in event.remark.findings)
        return [f"{title}: {found}" if title else found]
    what = _PLAIN.get(event.kind, event.kind)
    if event.kind == "unclear":
        kept = f"  (kept: {clip})" if clip else ""
        return [f'{what}: "{event.remark.heard}"{kept}']
    if event.kind in ("started", "finished", "moved", "assembling"):
        return [f"{what}: {title}" if title else what]
    if event.kind == "recounted":
        return [f"{what}: {event.remark.number}"]
    if event.kind == "noted":
        return [f'{what}: "{event.remark.words or event.remark.heard}"']
    return [f'{what}: "{event.remark.heard}"']
