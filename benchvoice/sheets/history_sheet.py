"""What was changed in a session, by whom, from what to what."""

from __future__ import annotations

from collections.abc import Iterator

from benchvoice.follow.wording import finding_text
from benchvoice.grammar.outline import Outline
from benchvoice.session.history import Change, history
from benchvoice.session.values import Entry, Session
from benchvoice.sheets.layout import clock, plain, wrapped
from benchvoice.sheets.said import Titles, titles_of


def history_text(session: Session, outline: Outline | None = None, width: int = 80) -> str:
    """Give every change of a session, oldest first, ASCII, at most `width` columns.

    "-" stands before what was, "+" before what came of it.
    """
    titles = titles_of(outline)
    lines = [line for change in history(session) for line in _change(change, titles, width)]
    return "\n".join(lines or ["Nothing was changed."]) + "\n"


def _change(change: Change, titles: Titles, width: int) -> Iterator[str]:
    who = f" by {change.who}" if change.who else ""
    since = "" if change.in_force else " (taken back since)"
    why = f": {change.why}" if change.why else ""
    head = f"{_day(change.wall)} {change.what}{who}{since}{why}"
    yield from wrapped(f"{change.seq:>4}  ", head, width)
    for mark, entries in (("-", change.before), ("+", change.after)):
        for entry in entries:
            yield from wrapped(f"      {mark} ", _entry(entry, titles), width)


def _entry(entry: Entry, titles: Titles) -> str:
    step = titles.get(entry.step or "", entry.step or "no step")
    found = "; ".join(map(finding_text, entry.findings))
    said = found if entry.kind == "finding" else f'{entry.kind} "{entry.remark.heard}"'
    flags = [name for name in ("struck", "confirmed") if getattr(entry, name)]
    return " ".join(
        [f"{entry.seq} at {clock(entry.t)}, {step}: {said}", *(f"[{flag}]" for flag in flags)]
    )


def _day(wall: str) -> str:
    return plain(wall)[:16].replace("T", " ")
