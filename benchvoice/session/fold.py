"""Records folded into a session: header, sittings, entries, and what was corrected."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from benchvoice.session.lines import damaged, one_line
from benchvoice.session.records import SittingRecord, amendment_of, entry_of
from benchvoice.session.standing import standing
from benchvoice.session.values import Amendment, Damage, Entry, Header, Session, Sitting


def fold(
    folder: Path, records: Iterable[tuple[int, Mapping[str, Any]]], damage: Iterable[Damage] = ()
) -> Session:
    """Fold (line number, record) pairs, the schema line not among them, into a session.

    A record that is not of its own kind's shape goes to the damage.
    """
    state = _Fold()
    for line, record in records:
        state.line = line, record
        try:
            state.take(record)
        except msgspec.ValidationError:
            state.fault(f"unusable {record.get('record')} record")
    sittings = state.sittings
    return Session(
        folder=folder,
        header=msgspec.convert(state.header, Header),
        sittings=tuple(sittings[number] for number in sorted(sittings)),
        entries=standing(state.recorded.values(), state.amendments),
        recorded=tuple(state.recorded.values()),
        amendments=tuple(state.amendments),
        damage=tuple(sorted([*damage, *state.faults], key=lambda fault: fault.line)),
        unknown=tuple(state.unknown),
    )


class _Fold:
    def __init__(self) -> None:
        self.header: dict[str, Any] = {}
        self.sittings: dict[int, Sitting] = {}
        self.recorded: dict[int, Entry] = {}
        self.amendments: list[Amendment] = []
        self.unknown: list[Mapping[str, Any]] = []
        self.faults: list[Damage] = []
        self.line: tuple[int, Mapping[str, Any]] = 0, {}

    def fault(self, what: str, *, used: bool = False) -> None:
        """Note what is wrong with the record being taken."""
        number, record = self.line
        self.faults.append(damaged(number, what, one_line(record).rstrip(b"\n"), used=used))

    def take(self, record: Mapping[str, Any]) -> None:
        """Take the next record.  Raises msgspec.ValidationError when it is not of its shape."""
        kind = record.get("record")
        if kind == "header":
            msgspec.convert(record, Header)
            self.header |= record
        elif kind in ("opened", "closed"):
            self._sit(msgspec.convert(record, SittingRecord), closing=kind == "closed")
        elif kind == "event":
            self._record(entry_of(record), record.get("clip"))
        elif kind == "amendment":
            self.amendments.append(amendment_of(record))
        else:
            self.unknown.append(record)

    def _record(self, entry: Entry, clip: str | None) -> None:
        if self.recorded.setdefault(entry.seq, entry) is not entry:
            self.fault(f"entry {entry.seq} a second time")
            return
        self._touch(entry)
        if entry.clip != clip:
            self.fault("its clip would be outside the session folder", used=True)

    def _sit(self, record: SittingRecord, *, closing: bool) -> None:
        known = self.sittings.get(record.sitting)
        if not closing:
            self.sittings[record.sitting] = known or Sitting(
                number=record.sitting, opened=record.wall, source=record.source
            )
            return
        base = known or Sitting(number=record.sitting, opened=record.wall)
        self.sittings[record.sitting] = replace(
            base, closed=record.wall, seconds=max(base.seconds, record.t)
        )

    def _touch(self, entry: Entry) -> None:
        """A sitting lasts at least to its last record, also when its opening or closing is lost."""
        known = self.sittings.get(entry.sitting) or Sitting(number=entry.sitting, opened=entry.wall)
        last = max(known.seconds, entry.t, entry.end or 0.0)
        if known.seconds != last or entry.sitting not in self.sittings:
            self.sittings[entry.sitting] = replace(known, seconds=last)
