"""The list of parts to replace, to order, or to send out."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.counts import expected_for
from benchvoice.follow.wording import parts_text, size_texts
from benchvoice.grammar.outline import Outline
from benchvoice.remark import Finding
from benchvoice.session.values import Session
from benchvoice.sheets.layout import wrapped

_WANTED = frozenset({"replace", "order", "discard", "machine", "send out", "decide"})


def part_lines(session: Session, outline: Outline | None, width: int) -> list[str]:
    """Give a line for each part that something has to happen to, in the order said.

    The same part said again in the same step is one line, and the last word on
    it counts.  Where no number was said with it, the number counted in that
    step is shown as such.  With the outline, parts that it always replaces are
    added for the steps begun.
    """
    rows = [*_said(session), *(_always(session, outline) if outline else ())]
    return [line for word, text in rows for line in wrapped(f"  {word:<9} ", text, width)]


def _said(session: Session) -> Iterator[tuple[str, str]]:
    counted: dict[tuple[str | None, str], int] = {}
    wanted: dict[tuple[str | None, str, str | None], Finding] = {}
    for step, findings in session.findings:
        for finding in findings:
            if not finding.part:
                continue
            if finding.count is not None:
                counted[step, finding.part] = finding.count
            if finding.disposition:
                key = (step, finding.part, finding.place)
                wanted.pop(key, None)
                wanted[key] = finding
    for (step, part, _), finding in wanted.items():
        if finding.disposition in _WANTED:
            number = None if finding.count is not None else counted.get((step, part))
            yield finding.disposition, _text(finding, number)


def _always(session: Session, outline: Outline) -> Iterator[tuple[str, str]]:
    begun = {entry.step for entry in session.standing if entry.kind in ("finding", "started")}
    for step in outline.steps():
        said = [
            expected_for(finding, step)
            for step_id, findings in session.findings
            for finding in findings
            if step_id == step.id and finding.disposition in _WANTED
        ]
        for item in step.hardware if step.id in begun else ():
            if item.always_replace and item not in said:
                place = f", {item.place}" if item.place else ""
                yield "always", f"{parts_text(item.part, item.count)}{place} (by the outline)"


def _text(finding: Finding, counted: int | None) -> str:
    pieces = [
        parts_text(finding.part or "", finding.count),
        *size_texts(finding.size),
        finding.side or "",
        finding.place or "",
        *(finding.conditions or (finding.condition or "",)),
        "" if counted is None else f"({counted} counted)",
    ]
    return ", ".join(piece for piece in pieces if piece).replace(", (", " (")
