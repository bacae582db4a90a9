"""The list of parts to replace, to order, or to send out, as lines of a session's text."""

from __future__ import annotations

from benchvoice.follow.wording import parts_text
from benchvoice.grammar.outline import Outline
from benchvoice.session.values import Session
from benchvoice.sheets.layout import wrapped
from benchvoice.sheets.wanted import Wanted, wanted


def part_lines(session: Session, outline: Outline | None, width: int) -> list[str]:
    """Give a line for each part that something has to happen to, in the order said.

    Where no number was said with it, the number counted in that step is shown
    as such.
    """
    rows = ((one.disposition, _text(one)) for one in wanted(session, outline))
    return [line for word, text in rows for line in wrapped(f"  {word:<9} ", text, width)]


def _text(one: Wanted) -> str:
    if one.disposition == "always":
        place = f", {one.home}" if one.home else ""
        reuse = "; said to be reused" if one.said_reuse else ""
        found = "".join(f", {condition}" for condition in one.conditions)
        return f"{parts_text(one.part, one.expected)}{place}{found} (by the outline{reuse})"
    pieces = [
        parts_text(one.part, one.count),
        *(one.size if one.size_by == "said" else ()),
        one.side or "",
        one.place or "",
        *one.conditions,
    ]
    text = ", ".join(piece for piece in pieces if piece)
    return text if one.counted is None else f"{text} ({one.counted} counted)"
