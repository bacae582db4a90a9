"""The records of the journal, as they stand in the file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import msgspec

from benchvoice.follow.events import StepEvent
from benchvoice.remark import Remark, remark_to_json
from benchvoice.session.values import SCHEMA, Entry, Header


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


class _EventRecord(msgspec.Struct, frozen=True, kw_only=True):
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


def entry_of(record: Mapping[str, Any]) -> Entry:
    """Read an event record.  Raises msgspec.ValidationError."""
    read = msgspec.convert(record, _EventRecord)
    return Entry(**msgspec.structs.asdict(read), findings=read.remark.findings)


class SittingRecord(msgspec.Struct, frozen=True, kw_only=True):
    """An opened or closed record."""

    sitting: int
    wall: str
    t: float = 0.0
    source: str | None = None
