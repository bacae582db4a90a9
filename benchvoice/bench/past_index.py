"""What was read from past sessions, kept so that the next quote is quick.

An SQLite file in the user's cache folder, never the only copy of anything.  A
journal is not read again while its path, size, inode and times of change are
as before, and the outline that it names is.  Size and times are those of the
journal itself, asked for each time: a folder's own do not change when a
journal in it grows.  The time of the inode's change is among them, so that an
edit is seen even where the time of the content's was put back.  A fit to the
same timings is not repeated.  A file that SQLite, the checksums in it or its
content will not stand by is made anew without a word.
"""

from __future__ import annotations

import hashlib
import io
import os
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, suppress
from dataclasses import astuple, fields
from functools import cache
from pathlib import Path
from typing import NamedTuple, Protocol, TypeVar
from zipfile import BadZipFile
from zlib import crc32

import msgspec
import numpy as np
import platformdirs

import benchvoice
from benchvoice.grammar import grammars_folder
from benchvoice.quoting import SessionTimes
from benchvoice.quoting.forecast import fitted
from benchvoice.quoting.gibbs_values import Table
from benchvoice.quoting.model import Posterior
from benchvoice.quoting.priors import Prior
from benchvoice.remark import Frozen
from benchvoice.session import JOURNAL_NAME
from benchvoice.session.find import Found

FITS = 8
"""So many fits are kept, those made last."""

_TABLES = """
CREATE TABLE IF NOT EXISTS session (
    folder BLOB, name BLOB, stamp TEXT, sum INTEGER, past BLOB, PRIMARY KEY (folder, name)
);
CREATE TABLE IF NOT EXISTS fit (digest TEXT PRIMARY KEY, posterior BLOB);
CREATE TABLE IF NOT EXISTS made_by (code TEXT);
"""
_BROKEN = (sqlite3.Error, ValueError, TypeError, OSError)
_IN_THE_WAY = frozenset(
    {
        sqlite3.SQLITE_BUSY,
        sqlite3.SQLITE_LOCKED,
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_CANTOPEN,
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_PERM,
    }
)
"""SQLite's codes for a file that cannot be used now, but is not broken."""
T = TypeVar("T")


class Past(Frozen, frozen=True, kw_only=True):
    """What was read of a session; it rests on the outline that its header names, as that was."""

    times: SessionTimes
    outline: str | None = None
    outline_sum: str = ""


class Reader(Protocol):
    """What reads sessions for an index."""

    def read(self, journal: Path) -> Past:
        """Read one.  Raises SessionError."""

    def outline_sum(self, outline: str | None) -> str:
        """Give a checksum of the outline that a header names, as it is now; "" for none."""


_Place = tuple[str, str]
"""Where a session is: the folder that it is in, absolute, and its name there."""


class _Row(NamedTuple):
    folder: bytes
    name: bytes
    stamp: str
    sum: int
    past: bytes


_ENCODER = msgspec.msgpack.Encoder()
_DECODER = msgspec.msgpack.Decoder(Past)


def index_path() -> Path:
    """Give where the index is kept."""
    folder = Path(platformdirs.user_cache_dir("benchvoice", appauthor=False))
    return folder / "past_sessions.sqlite3"


class Index:
    """The index in one file; `path` need not exist, nor be writable.

    `patience` is how many seconds to wait for another program that uses it.
    """

    def __init__(self, path: Path, patience: float = 10.0) -> None:
        self._path = path
        self._patience = patience

    def times(self, found: Sequence[Found], reader: Reader) -> list[SessionTimes]:
        """Give the times of each session, by the reader where the index does not have them."""
        folders = {one.inside: str(Path(one.inside).absolute()) for one in found}
        known = self._guarded(lambda base: _rows(base, {*folders.values()})) or {}
        times: list[SessionTimes] = []
        seen: set[_Place] = set()
        fresh: list[_Row] = []
        try:
            for one in found:
                place, stamp = (folders[one.inside], one.name), _stamp(one.journal)
                past = _unspoilt(known.get(place), stamp)
                if past is None or past.outline_sum != reader.outline_sum(past.outline):
                    past = reader.read(one.folder / JOURNAL_NAME)
                    fresh += _row(place, stamp, past)
                times.append(past.times)
                seen.add(place)
        finally:  # one that cannot be read, or a stop, does not cost what was read before it
            if fresh:
                self._guarded(lambda base: _keep(base, fresh))
        gone = [at for at in known.keys() - seen if not Path(*at, JOURNAL_NAME).exists()]
        if gone:
            self._guarded(lambda base: _drop(base, gone))
        return times

    def fit(self, table: Table, draws: int, seed: int, prior: Prior) -> Posterior:
        """Fit as `quoting.forecast.fitted`, or give what it gave for the same arguments."""
        digest = _digest(table, draws, seed, prior)
        kept = self._guarded(lambda base: _unpacked(base, digest))
        if kept is not None:
            return kept
        posterior = fitted(table, draws, seed, prior)
        self._guarded(lambda base: _pack(base, digest, posterior))
        return posterior

    def _guarded(self, work: Callable[[sqlite3.Connection], T]) -> T | None:
        """Do work on the index; made anew when it is broken, None when it cannot be used at all."""
        for _ in range(2):
            try:
                self._path.parent.mkdir(parents=True, exist_ok=True)
                with closing(sqlite3.connect(self._path, timeout=self._patience)) as base, base:
                    _prepare(base)
                    return work(base)
            except _BROKEN as error:
                if getattr(error, "sqlite_errorcode", 0) & 0xFF in _IN_THE_WAY:
                    return None
                with suppress(OSError):
                    self._path.unlink()
        return None


def _stamp(journal: os.stat_result) -> str:
    """Tell a journal as it is now from what it was."""
    at = f"{journal.st_mtime_ns} {journal.st_ctime_ns}"
    return f"{journal.st_size} {journal.st_ino} {at}"


def _rows(base: sqlite3.Connection, folders: Iterable[str]) -> dict[_Place, _Row]:
    asked = "SELECT folder, name, stamp, sum, past FROM session WHERE folder = ?"
    return {
        (folder, os.fsdecode(row[1])): _Row(*row)
        for folder in folders
        for row in base.execute(asked, (os.fsencode(folder),))
    }


def _unspoilt(row: _Row | None, stamp: str) -> Past | None:
    """Give what a row keeps, unless the journal has changed or the row is damaged."""
    if row is None or row.stamp != stamp:
        return None
    try:
        return _DECODER.decode(row.past) if crc32(row.past) == row.sum else None
    except (msgspec.MsgspecError, TypeError):
        return None


def _row(place: _Place, stamp: str, past: Past) -> Iterator[_Row]:
    """Yield the row of a session; none when there is something in it that is no text."""
    folder, name = map(os.fsencode, place)  # bytes, for a file name need not be text
    with suppress(UnicodeEncodeError):
        content = _ENCODER.encode(past)
        yield _Row(folder, name, stamp, crc32(content), content)


def _keep(base: sqlite3.Connection, fresh: Iterable[_Row]) -> None:
    base.executemany("INSERT OR REPLACE INTO session VALUES (?, ?, ?, ?, ?)", fresh)


def _drop(base: sqlite3.Connection, gone: Iterable[_Place]) -> None:
    places = (tuple(map(os.fsencode, place)) for place in gone)
    base.executemany("DELETE FROM session WHERE folder = ? AND name = ?", places)


def _prepare(base: sqlite3.Connection) -> None:
    """Make the tables, and empty them when other code than this filled them."""
    base.executescript(_TABLES)
    row = base.execute("SELECT code FROM made_by").fetchone()
    if row != (_code(),):
        for table in ("session", "fit", "made_by"):
            base.execute(f"DELETE FROM {table}")
        base.execute("INSERT INTO made_by VALUES (?)", (_code(),))


@cache
def _code() -> str:
    """Give a checksum of the code, and of the trade's words, that what is kept here rests on."""
    package = Path(benchvoice.__file__).parent
    digest = hashlib.sha256(np.__version__.encode())
    for folder in ("", "grammar", "follow", "session", "quoting", "outlining", "bench"):
        for source in sorted((package / folder).glob("*.py")):
            digest.update(source.read_bytes())
    for words in sorted((grammars_folder() / "trade").glob("*.toml")):
        digest.update(words.read_bytes())
    return digest.hexdigest()


def _digest(table: Table, draws: int, seed: int, prior: Prior) -> str:
    digest = hashlib.sha256(repr((draws, seed, astuple(prior))).encode())
    for field in fields(table):
        array = getattr(table, field.name)
        digest.update(repr((field.name, array.shape)).encode())
        digest.update(np.ascontiguousarray(array).tobytes())
    return digest.hexdigest()


def _pack(base: sqlite3.Connection, digest: str, posterior: Posterior) -> None:
    arrays = {field.name: getattr(posterior, field.name) for field in fields(posterior)}
    content = io.BytesIO()
    np.savez(content, **arrays)
    base.execute("INSERT OR REPLACE INTO fit VALUES (?, ?)", (digest, content.getvalue()))
    base.execute(
        "DELETE FROM fit WHERE rowid NOT IN (SELECT rowid FROM fit ORDER BY rowid DESC LIMIT ?)",
        (FITS,),
    )


def _unpacked(base: sqlite3.Connection, digest: str) -> Posterior | None:
    row = base.execute("SELECT posterior FROM fit WHERE digest = ?", (digest,)).fetchone()
    if row is None:
        return None
    try:
        with np.load(io.BytesIO(row[0]), allow_pickle=False) as arrays:
            kept = {field.name: arrays[field.name] for field in fields(Posterior)}
        return Posterior(**{**kept, "trust": float(kept["trust"])})
    except (ValueError, TypeError, KeyError, EOFError, OSError, BadZipFile):
        return None
