"""JSON Lines as bytes: whole lines, damaged ones, and a torn end."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

import msgspec

from benchvoice.session.values import Damage

_SHOWN = 60


class Lines(NamedTuple):
    """Records with their 1-based line numbers, what was damaged, and where a torn end begins.

    `whole` is the number of bytes up to the last line end.
    """

    records: tuple[tuple[int, Mapping[str, Any]], ...]
    damage: tuple[Damage, ...]
    whole: int


def split_lines(content: bytes) -> Lines:
    """Read JSON Lines.  A last line without its end is torn, if it is damaged as well."""
    records: list[tuple[int, Mapping[str, Any]]] = []
    damage: list[Damage] = []
    *lines, rest = content.split(b"\n")
    for number, line in enumerate(lines, start=1):
        if line.strip():
            _take(number, line, "damaged line", records, damage)
    if rest:
        _take(len(lines) + 1, rest, "torn last line", records, damage)
    return Lines(tuple(records), tuple(damage), len(content) - len(rest))


def one_line(record: Mapping[str, Any]) -> bytes:
    """Write a record as one line with its end."""
    return msgspec.json.encode(record) + b"\n"


def damaged(line: int, what: str, content: bytes) -> Damage:
    """Describe a line that cannot be used."""
    return Damage(line=line, what=what, text=ascii(content[:_SHOWN].decode("utf-8", "replace")))


def _take(
    number: int,
    line: bytes,
    what: str,
    records: list[tuple[int, Mapping[str, Any]]],
    damage: list[Damage],
) -> None:
    try:
        record = msgspec.json.decode(line)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        record = None
    if isinstance(record, dict):
        records.append((number, record))
    else:
        damage.append(damaged(number, what, line))
