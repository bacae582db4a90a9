"""The records of the journal, as they stand in the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import PureWindowsPath
from typing import Any

import msgspec
from msgspec.structs import asdict, replace

from benchvoice.follow.events import StepEvent
from benchvoice.remark import remark_to_json
from benchvoice.session.values import (
    SCHEMA,
    Amendment,
    Entry,
    Header,
    Recorded,
    Seconds,
    Seq,
)


def schema_record() -> dict[str, Any]:
    """The first line of every journal."""
    return {"schema": SCHEMA, "what": "benchvoice session"}


def header_record(header: Header) -> dict[str, Any]:
    """What the job is; a later one amends the fields that it has."""
    fields: dict[str, Any] = msgspec.to_builtins(header)
    return {"record": "header", **{key: value for key, value in fields.items() if value}}


def opened_record(sitting: int, wall: str, source: str | None) -> dict[str, Any]:
    """A sitting begins; `source` names the recording that it was made from."""
    record = {"record": "opened", "sitting": sitting, "t": 0.0, "wall": wall}
    return record if source is None else {**record, "source": source}


def closed_record(sitting: int, t: float, wall: str) -> dict[str, Any]:
    """A sitting ends, `t` seconds after it began."""
    return {"record": "closed", "sitting": sitting, "t": round(t, 3), "wall": wall}


def set_aside_record(file: str) -> dict[str, Any]:
    """A torn last line was moved to `file`."""
    return {"record": "set aside", "file": file}


def mended_record(left_out: Sequence[int], file: str) -> dict[str, Any]:
    """This journal is a mended copy; the lines `left_out` of the damaged one are in `file`."""
    return {"record": "mended", "left out": tuple(left_out), "file": file}


def event_record(
    event: StepEvent,
    *,
    sitting: int,
    wall: str,
    end: float | None,
    clip: str | None,
    alternatives: Sequence[str],
) -> dict[str, Any]:
    """One event; `end`, `answer`, `amends` and `finishes` are left out when there are none."""
    optional = {
        "end": None if end is None else round(end, 3),
        "answer": event.answer,
        "amends": event.amends,
        "finishes": event.finishes,
    }
    return {
        "record": "event",
        "seq": event.seq,
        "sitting": sitting,
        "t": round(event.at, 3),
        "wall": wall,
        "kind": event.kind,
        "step": event.step,
        "remark": remark_to_json(event.remark),
        "warnings": event.warnings,
        "clip": clip,
        "alternatives": tuple(alternatives),
        **{key: value for key, value in optional.items() if value is not None},
    }


def amendment_record(amendment: Amendment) -> dict[str, Any]:
    """A correction by hand; `undoes` and `why` are left out when there are none."""
    optional = {"undoes": amendment.undoes, "why": amendment.why}
    return {
        "record": "amendment",
        "seq": amendment.seq,
        "wall": amendment.wall,
        "who": amendment.who,
        "amends": amendment.amends,
        "becomes": [_entry_fields(entry) for entry in amendment.becomes],
        **{key: value for key, value in optional.items() if value},
    }


def _entry_fields(entry: Entry) -> dict[str, Any]:
    """An entry as an amendment leaves it; its findings stand in its remark."""
    remark = remark_to_json(replace(entry.remark, findings=entry.findings))
    fields: dict[str, Any] = {**asdict(entry), "remark": remark, "t": round(entry.t, 3)}
    del fields["findings"]
    return {key: value for key, value in fields.items() if value or key == "t"}


class _AmendmentRecord(msgspec.Struct, frozen=True, kw_only=True):
    seq: Seq
    wall: str
    who: str
    amends: tuple[int, ...] = ()
    becomes: tuple[Entry, ...] = ()
    undoes: int | None = None
    why: str = ""


def entry_of(record: Mapping[str, Any]) -> Entry:
    """Read an event record.  Raises msgspec.ValidationError."""
    return _checked(Entry(**asdict(msgspec.convert(record, Recorded))))


def amendment_of(record: Mapping[str, Any]) -> Amendment:
    """Read an amendment record.  Raises msgspec.ValidationError."""
    read = msgspec.convert(record, _AmendmentRecord)
    if read.undoes is not None and (read.undoes >= read.seq or read.amends or read.becomes):
        raise msgspec.ValidationError("an amendment takes back an earlier one, or changes entries")
    return Amendment(**{**asdict(read), "becomes": tuple(map(_checked, read.becomes))})


def _checked(read: Entry) -> Entry:
    """Give an entry without what only follows from the rest, and without a clip from outside."""
    clip = read.clip if read.clip is None or inside(read.clip) else None
    return replace(read, clip=clip, findings=read.remark.findings, placed_from=None)


def inside(path: str) -> bool:
    """Whether a path out of a journal stays in the session folder, on any system."""
    windows = PureWindowsPath(path)
    return bool(path) and not windows.anchor and ".." not in windows.parts and "\0" not in path


class SittingRecord(msgspec.Struct, frozen=True, kw_only=True):
    """An opened or closed record."""

    sitting: Seq
    wall: str
    t: Seconds = 0.0
    source: str | None = None
