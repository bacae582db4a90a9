"""What was read from past sessions, kept so that the next quote is quick.

An SQLite file in the user's cache folder, never the only copy of anything: a
journal whose path, size, time of change and inode are as before is not read
again, and a fit to the same timings is not repeated.  A file that SQLite or
its content will not stand by is made anew without a word.
"""

from __future__ import annotations

import hashlib
import io
import sqlite3
from collections.abc import Callable, Iterable, Sequence
from contextlib import closing, suppress
from dataclasses import astuple, fields
from functools import cache
from pathlib import Path
from typing import TypeVar
from zipfile import BadZipFile

import msgspec
import numpy as np
import platformdirs

import benchvoice
from benchvoice.quoting import SessionTimes
from benchvoice.quoting.forecast import fitted
from benchvoice.quoting.gibbs_values import Table
from benchvoice.quoting.model import Posterior
from benchvoice.quoting.priors import Prior

FITS = 8
"""So many fits are kept, those made last."""

_TABLES = """
CREATE TABLE IF NOT EXISTS session (path TEXT PRIMARY KEY, stamp TEXT, times BLOB) WITHOUT ROWID;
CREATE TABLE IF NOT EXISTS fit (digest TEXT PRIMARY KEY, posterior BLOB);
CREATE TABLE IF NOT EXISTS made_by (code TEXT);
"""
_DECODER = msgspec.json.Decoder(SessionTimes)
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

    def times(
        self, journals: Sequence[Path], read: Callable[[Path], SessionTimes]
    ) -> list[SessionTimes]:
        """Give the times of each journal, by `read` where the index does not have them."""
        known = self._guarded(self._known) or {}
        times, fresh = [], []
        for journal in journals:
            path = str(journal.absolute())
            stamp = _stamp(journal)
            kept = known.get(path)
            if kept is not None and kept[0] == stamp:
                with suppress(msgspec.MsgspecError):
                    times.append(_DECODER.decode(kept[1]))
                    continue
            times.append(read(journal))
            fresh.append((path, stamp, msgspec.json.encode(times[-1])))
        gone = _gone(known.keys(), journals)
        if fresh or gone:
            self._guarded(lambda base: self._keep(base, fresh, gone))
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

    @staticmethod
    def _known(base: sqlite3.Connection) -> dict[str, tuple[str, bytes]]:
        rows = base.execute("SELECT path, stamp, times FROM session")
        return {path: (stamp, times) for path, stamp, times in rows}

    @staticmethod
    def _keep(
        base: sqlite3.Connection, fresh: Sequence[tuple[str, str, bytes]], gone: Iterable[str]
    ) -> None:
        base.executemany("INSERT OR REPLACE INTO session VALUES (?, ?, ?)", fresh)
        base.executemany("DELETE FROM session WHERE path = ?", ((path,) for path in gone))


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
    """Give a checksum of the code that what is kept here rests on."""
    package = Path(benchvoice.__file__).parent
    digest = hashlib.sha256(np.__version__.encode())
    for folder in ("session", "quoting", "bench"):
        for source in sorted((package / folder).glob("*.py")):
            digest.update(source.read_bytes())
    return digest.hexdigest()


def _stamp(journal: Path) -> str:
    """Tell a journal as it is now from what it was."""
    found = journal.stat()
    return f"{found.st_size} {found.st_mtime_ns} {found.st_ino}"


def _gone(known: Iterable[str], journals: Sequence[Path]) -> list[str]:
    """Give the known journals that are no longer in the folders that were looked through."""
    there = {str(journal.absolute()) for journal in journals}
    looked = {str(journal.absolute().parent.parent) for journal in journals}
    return [
        path
        for path in known
        if path not in there and str(Path(path).parent.parent) in looked and not Path(path).exists()
    ]


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
