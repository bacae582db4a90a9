"""Past sessions read for the quote."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path

from benchvoice.bench.past_index import Index, Past
from benchvoice.bench.quick import read_quickly
from benchvoice.errors import BadInput
from benchvoice.grammar import Outline, load_outline
from benchvoice.grammar.load import outline_path
from benchvoice.quoting import SessionTimes
from benchvoice.session import JOURNAL_NAME, Session, labour, placed, read_session
from benchvoice.session.conditions import conditions_found
from benchvoice.session.find import find_journals


def past_times(
    paths: Iterable[Path], outline: Outline, index: Index | None = None
) -> list[SessionTimes]:
    """Give the labour minutes by step of the sessions that `paths` are or have in them.

    With an `index`, only journals that are new or have changed are read.
    Sessions of another outline are left to the quote, which notes what it
    cannot use.  Raises SessionError when a path has no session.
    """
    found, reader = find_journals(paths), PastReader()
    if index is None:
        return [reader.read(one.folder / JOURNAL_NAME).times for one in found]
    return index.times(found, reader)


def read_times(journal: Path) -> SessionTimes:
    """Read one session's times.  Raises SessionError."""
    return PastReader().read(journal).times


class PastReader:
    """Reads sessions' times; an outline that several of them name is loaded once."""

    def __init__(self) -> None:
        self._outlines: dict[str, Outline | None] = {}
        self._sums: dict[str, str] = {}

    def read(self, journal: Path) -> Past:
        """Read a session.  Raises SessionError.

        Where a step was not clear when it was said, what was said later decides.  Without an
        outline the steps are those that one drafted from the session has.
        """
        session = read_quickly(journal)
        if session is None or not session.header.outline:
            session = read_session(journal)
            session = placed(session, self._outline(session.header.outline))
        given = session.header.outline or None
        if given is None:
            from benchvoice.outlining.regroup import regrouped  # its folder writes TOML: slow

            session, _ = regrouped(session, None)
        outline_sum, outline = self.outline_sum(given), self._outline(given)
        name = outline.name if outline else Path(given).stem if given else None
        return Past(times=times_of(session, name), outline=given, outline_sum=outline_sum)

    def outline_sum(self, outline: str | None) -> str:
        """Give a checksum of the outline that a header names, as it was when first asked for."""
        if not outline:
            return ""
        if outline not in self._sums:
            try:
                content = outline_path(outline).read_bytes()
            except (OSError, ValueError):
                content = b""
            self._sums[outline] = hashlib.blake2b(content, digest_size=16).hexdigest()
        return self._sums[outline]

    def _outline(self, given: str | None) -> Outline | None:
        if not given:
            return None
        if given not in self._outlines:
            self.outline_sum(given)  # before it is loaded: should it change between, it is seen
            try:
                self._outlines[given] = load_outline(given)
            except BadInput:
                self._outlines[given] = None
        return self._outlines[given]


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


def times_of(session: Session, outline: str | None) -> SessionTimes:
    """Give what the quote learns from a session, which is of the outline of that name."""
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
        outline=outline,
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
