"""A session as it is read back: immutable values."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any, get_args

from benchvoice.follow.events import STRIKABLE, EventKind, LogEntry
from benchvoice.remark import Finding, Frozen, Remark

SCHEMA = 1
"""The number of the file format, in its first line; greater ones are refused."""


class Header(Frozen, frozen=True, kw_only=True):
    """What the job is; all optional, all free text, `outline` its name or path.

    `invented` marks demo data.
    """

    outline: str | None = None
    job: str | None = None
    unit: str | None = None
    serial: str | None = None
    who: str | None = None
    invented: bool = False


class Sitting(Frozen, frozen=True, kw_only=True):
    """A stretch of work without the program being left.

    `opened` and `closed` are ISO 8601 times with offset; `seconds` is its
    length, pauses included.  Without a closing record (`closed` None: a crash,
    or it is still open) it ends at its last record.
    """

    number: int
    opened: str
    closed: str | None = None
    seconds: float = 0.0
    source: str | None = None
    """The recording that it was made from, by name and checksum; None when live."""


class Entry(Frozen, frozen=True, kw_only=True):
    """One event as it was recorded.

    `t` (and `end`, where the utterance ended) are seconds in the sitting or
    recording, `wall` is ISO 8601.  `kind` is a follow.EventKind, or one of a
    later version.  `findings` are those of the remark with recounts applied;
    `struck` tells that it was taken back.  `clip` is relative to the folder.
    """

    seq: int
    sitting: int
    t: float
    wall: str
    kind: str
    remark: Remark
    step: str | None = None
    end: float | None = None
    warnings: tuple[str, ...] = ()
    answer: str | None = None
    amends: int | None = None
    finishes: str | None = None
    clip: str | None = None
    alternatives: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    struck: bool = False
    recounted: bool = False


class Damage(Frozen, frozen=True, kw_only=True):
    """A line that could not be read: its 1-based number, what is wrong, its first characters."""

    line: int
    what: str
    text: str


class Session(Frozen, frozen=True, kw_only=True):
    """All that a session folder says.

    `entries` are in the order recorded, struck ones among them; `unknown`
    are records of kinds that this version does not know, as they stand.
    """

    folder: Path
    header: Header
    sittings: tuple[Sitting, ...] = ()
    entries: tuple[Entry, ...] = ()
    damage: tuple[Damage, ...] = ()
    unknown: tuple[Mapping[str, Any], ...] = ()

    @property
    def standing(self) -> tuple[Entry, ...]:
        """The entries that were not struck."""
        return tuple(entry for entry in self.entries if not entry.struck)

    @property
    def last_day(self) -> date | None:
        """The day of the last sitting, where it was worked; None when none is recorded."""
        if not self.sittings:
            return None
        last = self.sittings[-1]
        try:
            return datetime.fromisoformat(last.closed or last.opened).date()
        except ValueError:
            return None

    @property
    def last_seq(self) -> int:
        """The highest sequence number in use, 0 when there is none."""
        return max((entry.seq for entry in self.entries), default=0)

    @property
    def findings(self) -> tuple[tuple[str | None, tuple[Finding, ...]], ...]:
        """What stands of what was found, as (step id, findings), for follow.tally."""
        return tuple(
            (entry.step, entry.findings) for entry in self.standing if entry.kind == "finding"
        )

    @property
    def log(self) -> tuple[LogEntry, ...]:
        """What stands, for follow.restore."""
        return tuple(
            LogEntry(
                seq=entry.seq,
                kind=kind,
                step=entry.step,
                findings=entry.findings if kind == "finding" else (),
                finishes=entry.finishes,
                heard=entry.remark.heard,
            )
            for entry in self.standing
            if (kind := _KINDS.get(entry.kind)) is not None
        )


_KINDS: dict[str, EventKind] = {kind: kind for kind in get_args(EventKind) if kind in STRIKABLE}
