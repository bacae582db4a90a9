"""A mended copy of a journal, beside the damaged one."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from benchvoice.disk import Sync, replacing, sync_folder
from benchvoice.errors import SessionError
from benchvoice.remark import Frozen
from benchvoice.session import records
from benchvoice.session.file import free_name
from benchvoice.session.lines import one_line
from benchvoice.session.read import journal_path, read_lines, session_of

MENDED = "session-mended-{}.jsonl"
DAMAGED = "session-damaged-{}.txt"


class Mended(Frozen, frozen=True, kw_only=True):
    """The copy, and the file that the `left_out` lines (1-based) were put in as they stood."""

    journal: Path
    damaged: Path
    left_out: tuple[int, ...]


def repair(folder: Path | str, *, sync: Sync = os.fsync) -> Mended | None:
    """Write all whole records of a journal to a new one, numbered anew; None when none is damaged.

    The journal itself is not touched.  Raises SessionError.
    """
    path = journal_path(folder)
    lines = read_lines(path)
    session = session_of(path, lines)
    if not session.damage:
        return None
    outside = {entry.seq for entry in session.recorded if entry.clip is None}
    left_out = tuple(sorted({fault.line for fault in session.damage if not fault.used}))
    kept = [
        {**record, "clip": None} if "clip" in record and _number(record) in outside else record
        for line, record in lines.records
        if line not in left_out and "schema" not in record
    ]
    raw = path.read_bytes().split(b"\n")
    aside = b"".join(raw[line - 1] + b"\n" for line in sorted({one.line for one in session.damage}))
    mended, damaged = free_name(path.parent, MENDED), free_name(path.parent, DAMAGED)
    written = [records.schema_record(), *kept, records.mended_record(left_out, damaged.name)]
    try:
        _write(damaged, aside, sync)
        _write(mended, b"".join(one_line(one, n) for n, one in enumerate(written, start=1)), sync)
        sync_folder(path.parent, sync)
    except OSError as error:
        raise SessionError.unwritable(mended, error) from None
    return Mended(journal=mended, damaged=damaged, left_out=left_out)


def _write(path: Path, content: bytes, sync: Sync) -> None:
    with replacing(path) as part, part.open("wb") as file:
        file.write(content)
        file.flush()
        sync(file.fileno())


def _number(record: Mapping[str, Any]) -> int | None:
    """Give the sequence number of a record; a damaged one may have anything in its place."""
    seq = record.get("seq")
    return seq if isinstance(seq, int) else None
