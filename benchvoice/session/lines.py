"""JSON Lines as bytes: whole lines, numbered and with checksums, damaged ones, and a torn end.

A line is `{..., "n": 7, "sum": "cbf43926"}`: `n` counts the records of the
file from 1, `sum` is the CRC-32 (ISO 3309, as in zlib) of all the line's bytes
before `,"sum":`, in eight hexadecimal digits.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Mapping
from typing import Any, NamedTuple

import msgspec

from benchvoice.session.values import SCHEMA, Damage

_SHOWN = 60
_SUM = re.compile(rb',"sum":"([0-9a-f]{8})"\}\s*$')


class Lines(NamedTuple):
    """Records with their 1-based line numbers, what was damaged, and where a torn end begins.

    `whole` is the number of bytes up to the last line end, `next_n` the number
    of the record to be written next.
    """

    records: tuple[tuple[int, Mapping[str, Any]], ...]
    damage: tuple[Damage, ...]
    whole: int
    next_n: int = 1


def split_lines(content: bytes) -> Lines:
    """Read JSON Lines.  A last line without its end is torn, if it is damaged as well."""
    reader = _Reader()
    *lines, rest = content.split(b"\n")
    for number, line in enumerate(lines, start=1):
        if line.strip():
            reader.take(number, line, "damaged line")
    next_n, known = reader.next_n, len(reader.records)
    if rest:
        reader.take(len(lines) + 1, rest, "torn last line")
        if len(reader.records) > known:
            next_n = reader.next_n
    return Lines(tuple(reader.records), tuple(reader.damage), len(content) - len(rest), next_n)


def one_line(record: Mapping[str, Any], n: int | None = None) -> bytes:
    """Write a record as one line with its end; given `n`, with that number and a checksum."""
    if n is None:
        return _encoded(record) + b"\n"
    body = _encoded({**record, "n": n})[:-1]
    return body + b',"sum":"%08x"}\n' % zlib.crc32(body)


def _encoded(record: Mapping[str, Any]) -> bytes:
    try:
        return msgspec.json.encode(record)
    except UnicodeEncodeError:  # lone surrogates, as in a file name that is not UTF-8
        return msgspec.json.encode(_text(record))


def _text(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _text(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_text(item) for item in value]
    return value.encode("utf-8", "replace").decode() if isinstance(value, str) else value


def damaged(line: int, what: str, content: bytes, *, used: bool = False) -> Damage:
    """Describe a line that has something wrong with it, and is `used` or not."""
    text = ascii(content[:_SHOWN].decode("utf-8", "replace"))
    return Damage(line=line, what=what, text=text, used=used)


class _Reader:
    """Takes line after line; once one had a checksum, all that follow need theirs."""

    def __init__(self) -> None:
        self.records: list[tuple[int, Mapping[str, Any]]] = []
        self.damage: list[Damage] = []
        self._summed = False
        self._seen: set[int] = set()
        self._last: int | None = None
        self._lost = 0

    @property
    def next_n(self) -> int:
        """The number of the next record; in a journal without numbers it is that of its line."""
        if self._last is None:
            return len(self.records) + len(self.damage) + 1
        return self._last + self._lost + 1

    def take(self, number: int, line: bytes, what: str) -> None:
        record = _decoded(line)
        if record is None:
            self._lose(damaged(number, what, line))
            return
        found = _SUM.search(line)
        self._summed = self._summed or found is not None or record.get("schema") == SCHEMA
        if not self._summed:
            self.records.append((number, record))
            return
        if found is None:
            self._lose(damaged(number, f"{what}: it has no checksum", line))
        elif zlib.crc32(line[: found.start()]) != int(found[1], 16):
            self._lose(damaged(number, f"{what}: its checksum does not match", line))
        else:
            self._count(number, record, line)

    def _lose(self, damage: Damage) -> None:
        self.damage.append(damage)
        self._lost += 1

    def _count(self, number: int, record: dict[str, Any], line: bytes) -> None:
        """Take a record that is whole, and see whether any are missing before it."""
        n = record.pop("n", None)
        del record["sum"]
        if not isinstance(n, int) or n in self._seen:
            twice = "has no number" if not isinstance(n, int) else f"is record {n} a second time"
            self._lose(damaged(number, f"damaged line: it {twice}", line))
            return
        if n > self.next_n:
            self.damage.append(damaged(number, _gap(self.next_n, n - 1), line, used=True))
        self._seen.add(n)
        self._last = max(n, self._last or 0)
        self._lost = 0
        self.records.append((number, record))


def _gap(first: int, last: int) -> str:
    what = f"record {first} is" if first == last else f"records {first} to {last} are"
    return f"{what} missing before this line"


def _decoded(line: bytes) -> dict[str, Any] | None:
    try:
        record = msgspec.json.decode(line)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return None
    return record if isinstance(record, dict) else None
