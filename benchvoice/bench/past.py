"""Past sessions read for the quote."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path

from benchvoice.bench.past_index import Index
from benchvoice.bench.quick import read_quickly
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, load_outline
from benchvoice.quoting import SessionTimes
from benchvoice.session import JOURNAL_NAME, Session, find_sessions, labour, placed, read_session
from benchvoice.session.conditions import conditions_found


def past_times(
    paths: Iterable[Path], outline: Outline, index: Index | None = None
) -> list[SessionTimes]:
    """Give the labour minutes by step of the sessions that `paths` are or have in them.

    With an `index`, only journals that are new or have changed are read.
    Sessions of another outline are left to the quote, which notes what it
    cannot use.  Raises SessionError when a path has no session.
    """
    paths = list(paths)
    journals = [folder / JOURNAL_NAME for folder in find_sessions(paths)] if paths else []
    if index is None:
        return [read_times(journal) for journal in journals]
    return index.times(journals, read_times)


def read_times(journal: Path) -> SessionTimes:
    """Read one session's times.  Raises SessionError.

    Where a step was not clear when it was said, what was said later decides.
    """
    quick = read_quickly(journal)
    if quick is not None:
        return times_of(quick)
    session = read_session(journal)
    return times_of(placed(session, _outline(session.header.outline)))


def times_before(times: Iterable[SessionTimes], done: SessionTimes) -> list[SessionTimes]:
    """Give the sessions before `done`: ended on an earlier day, or, without days, the others."""
    return [
        one
        for one in times
        if one != done
        and (
            one.finished_on is None
            or done.finished_on is None
            or one.finished_on < done.finished_on
        )
    ]


def times_of(session: Session) -> SessionTimes:
    """Give what the quote learns from a session."""
    found = labour(session)
    left_out: dict[str, float] = {}
    for silence in found.silences:
        if not silence.counted:
            step = silence.step or ""
            left_out[step] = left_out.get(step, 0.0) + silence.minutes
    return SessionTimes(
        session=session.folder.name,
        minutes={step: minutes for step, minutes in found.steps.items() if minutes > 0},
        finished_on=session.last_day,
        outline=_outline_name(session.header.outline),
        who=session.header.who,
        found=_conditions(session),
        doubtful=found.doubtful,
        left_out=left_out,
    )


def _conditions(session: Session) -> dict[str, tuple[str, ...]]:
    """Give the conditions found by step, with their part: "seized bolt"."""
    found: dict[str, dict[str, None]] = {}
    for step, condition, _ in conditions_found(session):
        found.setdefault(step, {})[condition] = None
    return {step: tuple(names) for step, names in found.items()}


@cache
def _outline_name(given: str | None) -> str | None:
    """Give the name of the outline that a header names by name or path, as far as it is known."""
    if not given:
        return None
    outline = _outline(given)
    return Path(given).stem if outline is None else outline.name


@cache
def _outline(given: str | None) -> Outline | None:
    try:
        return load_outline(given) if given else None
    except BadInput:
        return None
