"""Session journals read quickly, for their times only.

Ten thousand sessions are to be quoted from in seconds, so only what labour and
the conditions found rest on is decoded.  A journal with anything out of the
ordinary in it (damage, corrections by hand, an unsure step, records of a later version) is
left to `read_session`, which alone says what such a journal means.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from zlib import crc32

import msgspec
from msgspec.structs import replace

from benchvoice.remark import Finding, Remark
from benchvoice.session import Entry, Header, Session, Sitting
from benchvoice.session.values import SCHEMA

_NOTHING = Remark(heard="")
_END = b',"sum":"%08x"}'
"""How a line of the present schema ends: 18 bytes, the CRC-32 of all before them."""


class _Found(msgspec.Struct, frozen=True, gc=False):
    part: str | None = None
    condition: str | None = None
    conditions: tuple[str, ...] = ()
    own_step: str | None = None


class _Guess(msgspec.Struct, frozen=True, gc=False):
    others: tuple[str, ...] = ()


class _Said(msgspec.Struct, frozen=True, gc=False):
    heard: str
    step: _Guess | None = None
    findings: tuple[_Found, ...] = ()


class _Line(msgspec.Struct, frozen=True, gc=False):
    """Any line of a journal, as far as it matters here."""

    record: str = ""
    schema: int | None = None
    n: int = 0
    sitting: int = 0
    t: float = 0.0
    wall: str = ""
    kind: str = ""
    seq: int = 0
    step: str | None = None
    end: float | None = None
    finishes: str | None = None
    amends: int | None = None
    remark: _Said | None = None
    outline: str | None = None
    who: str | None = None


_DECODER = msgspec.json.Decoder(_Line)


def read_quickly(journal: Path) -> Session | None:
    """Read a journal without what was heard; None when it is not an ordinary one.

    Entries have only time, kind, step and amendments, and the part and
    conditions of their findings.
    """
    try:
        content = journal.read_bytes()
        lines = _DECODER.decode_lines(content)
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        return None
    if not lines or not content.endswith(b"\n"):
        return None
    if not (_plain(lines[0], content) or _whole(lines, content)):
        return None
    return _fold(journal.parent, lines[1:])


def _plain(first: _Line, content: bytes) -> bool:
    """Tell whether a journal is of the first schema, which had no checksums."""
    return first.schema == 1 and b',"sum":"' not in content


def _whole(lines: Sequence[_Line], content: bytes) -> bool:
    """Tell whether all lines are there and every checksum matches; see `session.lines`."""
    written = content[:-1].split(b"\n")
    if lines[0].schema != SCHEMA or len(written) != len(lines):
        return False
    for number, (line, raw) in enumerate(zip(lines, written, strict=True), start=1):
        if line.n != number or raw[-18:] != _END % crc32(raw[:-18]):
            return False
    return True


def _fold(folder: Path, lines: Sequence[_Line]) -> Session | None:
    header = Header()
    sittings: dict[int, Sitting] = {}
    entries: dict[int, Entry] = {}
    last: dict[int, float] = {}
    for line in lines:
        if line.record == "event":
            entry = None if line.seq in entries else _entry(line)
            if entry is None:
                return None
            entries[line.seq] = entry
            end = line.t if line.end is None or line.end < line.t else line.end
            if end >= last.get(line.sitting, 0.0):
                last[line.sitting] = end
            if line.kind == "struck" and line.amends in entries:
                entries[line.amends] = replace(entries[line.amends], struck=True)
        elif line.record == "header":
            header = Header(outline=line.outline or header.outline, who=line.who or header.who)
        elif line.record == "opened" and line.sitting not in sittings:
            sittings[line.sitting] = Sitting(number=line.sitting, opened=line.wall)
        elif line.record == "closed" and line.sitting in sittings:
            base = sittings[line.sitting]
            seconds = max(base.seconds, line.t)
            sittings[line.sitting] = replace(base, closed=line.wall, seconds=seconds)
        else:
            return None
    if last.keys() - sittings.keys():
        return None
    sat = [replace(one, seconds=max(one.seconds, last.get(n, 0.0))) for n, one in sittings.items()]
    return Session(
        folder=folder,
        header=header,
        sittings=tuple(sorted(sat, key=lambda one: one.number)),
        entries=tuple(entries.values()),
    )


def _entry(line: _Line) -> Entry | None:
    """Give the entry of an event; None when it is not whole, or its step was not clear."""
    said = line.remark
    if said is None or not line.wall or (said.step is not None and said.step.others):
        return None  # a step that was not clear may be by now
    return Entry(
        seq=line.seq,
        sitting=line.sitting,
        t=line.t,
        wall=line.wall,
        kind=line.kind,
        remark=_NOTHING,
        step=line.step,
        finishes=line.finishes,
        amends=line.amends,
        findings=_conditions(said.findings) if said.findings else (),
    )


def _conditions(found: Sequence[_Found]) -> tuple[Finding, ...]:
    """Give the findings that have a condition, without the rest of what they say."""
    return tuple(
        Finding(
            part=one.part,
            condition=one.condition,
            conditions=one.conditions,
            own_step=one.own_step,
        )
        for one in found
        if one.condition
    )
