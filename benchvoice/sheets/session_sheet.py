"""One session as a sheet of plain text."""

from __future__ import annotations

from collections.abc import Container, Iterator
from datetime import datetime
from itertools import groupby

from benchvoice.follow.counts import count_warnings, missing_warnings, tally
from benchvoice.grammar.outline import Outline
from benchvoice.session.timing import Labour, labour
from benchvoice.session.values import Entry, Session, Sitting
from benchvoice.sheets.layout import clock, columns, hours, marked, plain, titled, wrapped
from benchvoice.sheets.parts import part_lines
from benchvoice.sheets.said import (
    Titles,
    entry_texts,
    not_back_texts,
    open_count_texts,
    standing_warnings,
    titles_of,
    unsure_texts,
)

_SHOWN = frozenset({"finding", "noted", "photo", "started", "finished", "moved", "assembling"})


def session_text(session: Session, outline: Outline | None = None, width: int = 80) -> str:
    """Give the sheet of a session, ASCII, at most `width` columns (40 or more).

    With its outline, steps have their titles, and counts are checked.
    """
    times = labour(session)
    titles = titles_of(outline)
    lines = [
        *_header(session, outline, width),
        *titled("Sittings", _sittings(session, times, width)),
        *titled("Found and done", _steps(session, outline, titles, width)),
        *titled("Counts that do not add up", _counts(session, outline, width)),
        *titled("Not back in as it came", marked("  ! ", not_back_texts(session, outline), width)),
        *titled("Parts to replace or order", part_lines(session, outline, width)),
        *titled("Not understood", _unclear(session, width)),
        *titled("Worked minutes by step", _times(times, titles, width)),
        *titled("Interruptions", _silences(times, titles, width)),
        *titled("Damaged lines of the journal", _damage(session, width)),
    ]
    return "\n".join(lines) + "\n"


def _header(session: Session, outline: Outline | None, width: int) -> list[str]:
    header = session.header
    kind = outline.title if outline else header.outline
    shown = [
        ("Job", header.job),
        ("Unit", header.unit),
        ("Serial", header.serial),
        ("Outline", kind),
        ("Who", header.who),
    ]
    lines = [line for name, value in shown if value for line in _field(name, value, width)]
    if header.invented:
        lines.append("INVENTED demo data: not a real job.")
    return lines or [plain(session.folder.name)]


def _field(name: str, value: str, width: int) -> list[str]:
    return wrapped(f"{name + ':':<9}", value, width)


def _sittings(session: Session, times: Labour, width: int) -> Iterator[str]:
    for sitting in session.sittings:
        worked = hours(times.sittings.get(sitting.number, 0.0))
        yield from wrapped(f"{sitting.number:>3}  ", f"{_span(sitting)}, worked {worked}", width)


def _span(sitting: Sitting) -> str:
    opened = _when(sitting.opened)
    if sitting.closed is None:
        return f"{opened} to ? (not closed)"
    closed = _when(sitting.closed)
    return f"{opened} to {closed[11:] if closed[:10] == opened[:10] else closed}"


def _when(wall: str) -> str:
    try:
        return datetime.fromisoformat(wall).strftime("%Y-%m-%d %H:%M")
    except ValueError:
        return plain(wall)[:16]


def _steps(session: Session, outline: Outline | None, titles: Titles, width: int) -> Iterator[str]:
    open_counts = open_count_texts(session, outline)
    shown = [entry for entry in session.standing if entry.kind in _SHOWN or entry.warnings]
    many = len(session.sittings) > 1
    sitting = 0
    for (number, step), group in groupby(shown, key=lambda entry: (entry.sitting, entry.step)):
        if many and number != sitting:
            sitting = number
            yield f"-- sitting {number} --"
        yield from wrapped("", titles.get(step or "", step or "No step"), width)
        for entry in group:
            yield from _entry(entry, open_counts, titles, width)


def _entry(
    entry: Entry, open_counts: Container[str] | None, titles: Titles, width: int
) -> Iterator[str]:
    first = f"  {clock(entry.t):>8}  "
    for text in _said(entry, titles):
        yield from wrapped(first, text, width)
        first = " " * len(first)
    for warning in standing_warnings(entry, open_counts):
        yield from wrapped(" " * 10 + "! ", warning, width)


def _said(entry: Entry, titles: Titles) -> list[str]:
    texts = entry_texts(entry, titles)
    if entry.kind in ("noted", "photo"):
        texts[-1] += _clip(entry)
    return [*texts, *_unsure(entry)] if entry.kind == "finding" else texts


def _unsure(entry: Entry) -> list[str]:
    readings = len(entry.remark.ambiguous)
    texts = unsure_texts(entry)
    return [*texts[:readings], *(f"? {text}{_clip(entry)}" for text in texts[readings:])]


def _clip(entry: Entry) -> str:
    return f" [{entry.clip}]" if entry.clip else ""


def _counts(session: Session, outline: Outline | None, width: int) -> list[str]:
    if outline is None:
        return []
    counts = tally(session.findings, outline)
    finished = {entry.finishes for entry in session.standing}
    texts = [
        *count_warnings(counts, outline),
        *missing_warnings((count for count in counts if count.step in finished), outline),
    ]
    return marked("  ! ", texts, width)


def _unclear(session: Session, width: int) -> Iterator[str]:
    for entry in session.standing:
        if entry.kind == "unclear":
            text = "; ".join([f'"{entry.remark.heard}"{_clip(entry)}', *_unsure(entry)])
            yield from wrapped(f"  {clock(entry.t):>8}  ", text, width)


def _times(times: Labour, titles: Titles, width: int) -> list[str]:
    rows = [
        (plain(titles.get(step, step)), _minutes(minutes)) for step, minutes in times.steps.items()
    ]
    if times.other >= 0.05:
        rows.append(("No step", _minutes(times.other)))
    if rows:
        rows.append((f"In all ({hours(times.worked)} h:mm)", _minutes(times.worked)))
    if times.paused >= 0.05:
        rows.append(("Clock stopped, not counted", _minutes(times.paused)))
    return columns([(f"  {name}", minutes) for name, minutes in rows], width)


def _minutes(minutes: float) -> str:
    return f"{minutes:.1f}"


def _silences(times: Labour, titles: Titles, width: int) -> list[str]:
    return marked(
        "  - ",
        [
            f"sitting {silence.sitting}, from {clock(silence.start * 60)}: "
            f"{hours(silence.minutes)} with nothing said, "
            + (
                f"counted for {titles.get(silence.step or '', silence.step or 'no step')} "
                "(its start and finish were said)"
                if silence.counted
                else "not counted"
            )
            for silence in times.silences
        ]
        + [
            f"sitting {gap.sitting}, from {clock(gap.start * 60)}: {hours(gap.minutes)} with "
            f"nothing said, long for {titles.get(gap.step, gap.step)} (usual gap "
            f"{gap.usual:.1f} min); counted, put it right if it was an interruption"
            for gap in times.doubts
        ],
        width,
    )


def _damage(session: Session, width: int) -> list[str]:
    texts = [f"line {fault.line}: {fault.what}: {fault.text}" for fault in session.damage]
    return marked("  ! ", texts, width)
