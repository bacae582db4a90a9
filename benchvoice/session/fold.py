"""Records folded into a session: strikes, recounts, header amendments, sittings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from benchvoice.follow.events import recounted
from benchvoice.session.lines import damaged, one_line
from benchvoice.session.records import SittingRecord, entry_of
from benchvoice.session.values import Damage, Entry, Header, Session, Sitting


def fold(
    folder: Path, records: Iterable[tuple[int, Mapping[str, Any]]], damage: Iterable[Damage] = ()
) -> Session:
    """Fold (line number, record) pairs, the schema line not among them, into a session.

    A record that is not of its own kind's shape goes to the damage.
    """
    header: dict[str, Any] = {}
    sittings: dict[int, Sitting] = {}
    entries: list[Entry] = []
    unknown: list[Mapping[str, Any]] = []
    faults = list(damage)
    for line, record in records:
        try:
            kind = record.get("record")
            if kind == "header":
                msgspec.convert(record, Header)
                header |= record
            elif kind in ("opened", "closed"):
                _sit(sittings, msgspec.convert(record, SittingRecord), closing=kind == "closed")
            elif kind == "event":
                entries.append(entry_of(record))
                _touch(sittings, entries[-1])
            else:
                unknown.append(record)
        except msgspec.ValidationError:
            faults.append(damaged(line, f"unusable {record.get('record')} record", _bytes(record)))
    return Session(
        folder=folder,
        header=msgspec.convert(header, Header),
        sittings=tuple(sittings[number] for number in sorted(sittings)),
        entries=_amended(entries),
        damage=tuple(sorted(faults, key=lambda fault: fault.line)),
        unknown=tuple(unknown),
    )


def _sit(sittings: dict[int, Sitting], record: SittingRecord, *, closing: bool) -> None:
    known = sittings.get(record.sitting)
    if not closing:
        sittings[record.sitting] = known or Sitting(
            number=record.sitting, opened=record.wall, source=record.source
        )
        return
    base = known or Sitting(number=record.sitting, opened=record.wall)
    sittings[record.sitting] = replace(
        base, closed=record.wall, seconds=max(base.seconds, record.t)
    )


def _touch(sittings: dict[int, Sitting], entry: Entry) -> None:
    """A sitting lasts at least to its last record, also when its opening or closing is lost."""
    known = sittings.get(entry.sitting) or Sitting(number=entry.sitting, opened=entry.wall)
    last = max(known.seconds, entry.t, entry.end or 0.0)
    sittings[entry.sitting] = replace(known, seconds=last)


def _amended(entries: list[Entry]) -> tuple[Entry, ...]:
    done = list(entries)
    places = {entry.seq: index for index, entry in enumerate(entries)}
    for entry in entries:
        at = places.get(entry.amends) if entry.amends is not None else None
        if at is None:
            continue
        if entry.kind == "struck":
            done[at] = replace(done[at], struck=True)
        elif entry.kind == "recounted" and entry.remark.number is not None:
            findings = recounted(done[at].findings, entry.remark.number)
            done[at] = replace(done[at], findings=findings, recounted=True)
    return tuple(done)


def _bytes(record: Mapping[str, Any]) -> bytes:
    return one_line(record).rstrip(b"\n")
