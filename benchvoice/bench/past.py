"""Past sessions read for the quote."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from benchvoice.grammar import Outline
from benchvoice.quoting import SessionTimes
from benchvoice.session import find_sessions, read_session, step_minutes


def past_times(paths: Iterable[Path], outline: Outline) -> list[SessionTimes]:
    """Give the labour minutes by step of the sessions that `paths` are or have in them.

    Sessions of another outline are left to the quote, which notes what it
    cannot use.  Raises SessionError when a path has no session.
    """
    paths = list(paths)
    times = []
    for folder in find_sessions(paths) if paths else ():
        session = read_session(folder)
        minutes = {step: value for step, value in step_minutes(session).items() if value > 0}
        times.append(
            SessionTimes(session=folder.name, minutes=minutes, finished_on=session.last_day)
        )
    return times
