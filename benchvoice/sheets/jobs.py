"""A folder of sessions, one line a job."""

from __future__ import annotations

from collections.abc import Iterable

from benchvoice.session.timing import labour
from benchvoice.session.values import Session
from benchvoice.sheets.layout import columns, hours, plain


def sessions_text(sessions: Iterable[Session], width: int = 80) -> str:
    """Give a table: job, unit, last day, sittings, findings, worked h:mm; ASCII, `width` wide."""
    rows = [("Job", "Unit", "Last day", "Sittings", "Findings", "Worked")]
    listed = list(sessions)
    for session in listed:
        header = session.header
        found = sum(entry.kind == "finding" for entry in session.standing)
        name = plain(header.job or session.folder.name)
        rows.append(
            (
                f"{name} *" if header.invented else name,
                plain(header.unit or "-")[:20],
                str(session.last_day or "-"),
                str(len(session.sittings)),
                str(found),
                hours(labour(session).worked),
            )
        )
    if len(rows) == 1:
        return "There are no sessions here.\n"
    lines = columns(rows, width)
    if any(session.header.invented for session in listed):
        lines.append("* invented demo data")
    return "\n".join(lines) + "\n"
