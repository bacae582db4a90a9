"""A session as it is read back: immutable values."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from itertools import takewhile
from pathlib import Path
from typing import Annotated, Any, get_args

import msgspec

from benchvoice.follow.events import STRIKABLE, EventKind, LogEntry, by_step, sure_of
from benchvoice.remark import Finding, Frozen, Remark

SCHEMA = 2
"""The number of the file format, in its first line; greater ones are refused.

1 had no record numbers, checksums and amendments; it is still read.
"""


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


Seq = Annotated[int, msgspec.Meta(ge=1)]
Seconds = Annotated[float, msgspec.Meta(ge=0, lt=1e9)]


class Recorded(Frozen, frozen=True, kw_only=True):
    """One event as the journal has it.

    `t` (and `end`, where the utterance ended) are seconds in the sitting or
    recording, `wall` is ISO 8601.  `kind` is a follow.EventKind, or one of a
    later version.  `clip` is relative to the folder.
    """

    seq: Seq
    sitting: Seq
    t: Seconds
    wall: str
    kind: str
    remark: Remark
    step: str | None = None
    end: Seconds | None = None
    warnings: tuple[str, ...] = ()
    answer: str | None = None
    amends: int | None = None
    finishes: str | None = None
    clip: str | None = None
    alternatives: tuple[str, ...] = ()


class Entry(Recorded, frozen=True, kw_only=True):
    """One event: as it was recorded, or as it stands by now.

    `findings` are those of the remark with recounts applied; `struck` tells
    that it was taken back.  `corrected` tells that an amendment changed or made
    it, `confirmed` that somebody said it is right as it was heard: neither is
    doubtful any more, so their remark has no confidence.  `origins` are the
    entries that it was split or joined from.
    """

    findings: tuple[Finding, ...] = ()
    struck: bool = False
    recounted: bool = False
    corrected: bool = False
    confirmed: bool = False
    origins: tuple[int, ...] = ()
    placed_from: str | None = None
    """The step it was put with when it was said, where later remarks tell otherwise (`placing`)."""

    @property
    def by_hand(self) -> bool:
        """Whether it came by the keyboard (typed, or corrected), and not by ear alone."""
        return self.corrected or (self.clip is None and self.remark.confidence is None)


class Correction(Frozen, frozen=True, kw_only=True):
    """A change by hand, not yet recorded: entries `amends` are replaced by `becomes`.

    The same `seq` in both is an entry edited; fewer are joined or deleted, more
    are split, and with nothing amended they are put in.  `undoes` takes back an
    earlier amendment, which may itself be one that took back another.
    """

    amends: tuple[int, ...] = ()
    becomes: tuple[Entry, ...] = ()
    undoes: int | None = None
    why: str = ""

    @property
    def touched(self) -> frozenset[int]:
        """The entries that it takes away, changes or makes."""
        return frozenset((*self.amends, *(entry.seq for entry in self.becomes)))


class Amendment(Correction, frozen=True, kw_only=True):
    """A correction on record: its `seq` (one count with the entries), when and by whom."""

    seq: int
    wall: str
    who: str


class Damage(Frozen, frozen=True, kw_only=True):
    """A line that could not be read: its 1-based number, what is wrong, its first characters.

    `used` tells that what the line records is used all the same.
    """

    line: int
    what: str
    text: str
    used: bool = False


class Session(Frozen, frozen=True, kw_only=True):
    """All that a session folder says.

    `entries` are as they stand by now, struck ones among them, in the order
    recorded or where a correction put them.  `recorded` are those of the bench
    with nothing changed, `amendments` all that was corrected by hand since, in
    force or not.  `unknown` are records of kinds that this version does not
    know, as they stand.
    """

    folder: Path
    header: Header
    sittings: tuple[Sitting, ...] = ()
    entries: tuple[Entry, ...] = ()
    recorded: tuple[Entry, ...] = ()
    amendments: tuple[Amendment, ...] = ()
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
        made = [entry.seq for one in self.amendments for entry in one.becomes]
        used = [one.seq for group in (self.entries, self.recorded) for one in group]
        return max((*used, *made, *(one.seq for one in self.amendments)), default=0)

    def entry(self, seq: int) -> Entry | None:
        """Give the entry `seq` as it stands; None when there is none (any more)."""
        return next((entry for entry in self.entries if entry.seq == seq), None)

    def originals(self, seq: int) -> tuple[Entry, ...]:
        """Give what was recorded at the bench of what entry `seq` is now: text, clip, and all.

        Empty for an entry put in by hand.
        """
        known = {entry.seq: entry for entry in self.recorded}
        now = self.entry(seq)
        wanted = (now.origins if now else ()) or (seq,)
        return tuple(known[one] for one in wanted if one in known)

    def log_before(self, seq: int) -> tuple[LogEntry, ...]:
        """What stands before entry `seq`, for follow.restore when it is typed anew."""
        return _log(takewhile(lambda entry: entry.seq != seq, self.entries))

    @property
    def findings(self) -> tuple[tuple[str | None, tuple[Finding, ...]], ...]:
        """What stands of what was found, as (step id, findings), for follow.tally."""
        return tuple(
            group
            for entry in self.standing
            if entry.kind == "finding"
            for group in by_step(entry.step, entry.findings)
        )

    @property
    def log(self) -> tuple[LogEntry, ...]:
        """What stands, for follow.restore."""
        return _log(self.entries)


_KINDS: dict[str, EventKind] = {kind: kind for kind in get_args(EventKind) if kind in STRIKABLE}


def _log(entries: Iterable[Entry]) -> tuple[LogEntry, ...]:
    return tuple(
        LogEntry(
            seq=entry.seq,
            kind=kind,
            step=entry.step,
            findings=entry.findings if kind == "finding" else (),
            finishes=entry.finishes,
            heard=entry.remark.heard,
            sure=sure_of(entry.remark),
            others=entry.alternatives,
        )
        for entry in entries
        if not entry.struck and (kind := _KINDS.get(entry.kind)) is not None
    )
