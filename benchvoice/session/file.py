"""The journal as a file that is only ever added to, on the disk before a call returns."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import IO, Any

from benchvoice.errors import SessionError
from benchvoice.session import records
from benchvoice.session.lines import one_line
from benchvoice.session.lock import lock
from benchvoice.session.read import journal_path, read_lines, session_of
from benchvoice.session.values import Session

Sync = Callable[[int], None]


class JournalFile:
    """A locked journal; `create` begins one, `open` takes one up behind its last whole line."""

    def __init__(self, file: IO[bytes], path: Path, sync: Sync) -> None:
        """For `create` and `open` only."""
        self._file = file
        self._sync = sync
        self._next_n = 1
        self.path = path

    @classmethod
    def create(cls, path: Path, sync: Sync) -> JournalFile:
        """Begin a journal.  Raises SessionError when there is one, or it cannot be written."""
        file = _open_locked(path)
        if os.fstat(file.fileno()).st_size:
            file.close()
            raise SessionError(
                "there is a session here already", mend="open it, or give another folder", file=path
            )
        journal = cls(file, path, sync)
        try:
            journal.append(records.schema_record())
        except SessionError:
            file.close()
            raise
        return journal

    @classmethod
    def open(cls, folder: Path | str, sync: Sync) -> tuple[JournalFile, Session]:
        """Lock a journal, move a torn last line to a file of its own, and read it.

        Raises SessionError as `read_session` does, and when it is open elsewhere.
        """
        path = journal_path(folder)
        read_lines(path)  # before a file is made by opening it
        file = _open_locked(path)
        try:
            lines = read_lines(path)
            session = session_of(path, lines)
            journal = cls(file, path, sync)
            journal._next_n = lines.next_n
            journal._mend_end(lines.whole, session)
        except BaseException:
            file.close()
            raise
        return journal, session

    @property
    def closed(self) -> bool:
        """Whether the file was let go of."""
        return self._file.closed

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()

    def append(self, record: Mapping[str, Any]) -> None:
        """Write one line and sync it; on failure cut off what was written of it.

        Raises SessionError.
        """
        if self.closed:
            raise SessionError(
                "the sitting is closed", mend="open the session again", file=self.path
            )
        handle = self._file.fileno()
        size = os.fstat(handle).st_size
        try:
            _write_all(handle, one_line(record, self._next_n))
            self._sync(handle)
        except OSError as error:
            os.ftruncate(handle, size)
            raise cannot_write(self.path, error) from None
        self._next_n += 1

    def _mend_end(self, whole: int, session: Session) -> None:
        """Give the last line its end, or move it aside when it is torn."""
        rest = self.path.read_bytes()[whole:]
        if not rest:
            return
        torn = any(fault.what.startswith("torn") for fault in session.damage)
        try:
            if not torn:
                _write_all(self._file.fileno(), b"\n")
                return
            aside = free_name(self.path.parent, "torn-{}.txt")
            with aside.open("xb") as file:
                file.write(rest)
                file.flush()
                self._sync(file.fileno())
            os.ftruncate(self._file.fileno(), whole)
        except OSError as error:
            raise cannot_write(self.path, error) from None
        self.append(records.set_aside_record(aside.name))


def _open_locked(path: Path) -> IO[bytes]:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        file = path.open("ab", buffering=0)
    except OSError as error:
        raise cannot_write(path, error) from None
    if not lock(file):
        file.close()
        raise SessionError(
            "the session is open elsewhere: another program is writing to it",
            mend="close it there first",
            file=path,
        )
    return file


def _write_all(handle: int, content: bytes) -> None:
    while content:
        content = content[os.write(handle, content) :]


def free_name(folder: Path, pattern: str) -> Path:
    """Give the first path in `folder` that is free, with 1, 2, ... in `pattern`."""
    number = 1
    while (folder / pattern.format(number)).exists():
        number += 1
    return folder / pattern.format(number)


def sync_folder(folder: Path, sync: Sync) -> None:
    """Sync a folder, so that the names in it are on the disk."""
    if not hasattr(os, "O_DIRECTORY"):  # not on Windows, which needs no such sync
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        sync(handle)
    finally:
        os.close(handle)


def cannot_write(path: Path, error: OSError) -> SessionError:
    """Say in one line that the disk did not take it."""
    return SessionError(
        f"cannot be written ({error.strerror})", mend="check space and permissions", file=path
    )
