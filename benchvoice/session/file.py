"""The journal as a file that is only ever added to, on the disk before a call returns."""

from __future__ import annotations

import os
from collections.abc import Mapping
from itertools import takewhile
from pathlib import Path
from typing import IO, Any

from benchvoice.disk import Sync, sync_folder
from benchvoice.errors import SessionError
from benchvoice.session import records
from benchvoice.session.lines import one_line
from benchvoice.session.lock import lock
from benchvoice.session.read import has_records, journal_path, read_lines, session_of
from benchvoice.session.values import Session


class JournalFile:
    """A locked journal; `create` begins one, `open` takes one up behind its last whole line."""

    def __init__(self, file: IO[bytes], path: Path, sync: Sync) -> None:
        """For `create` and `open` only."""
        self._file = file
        self.sync = sync
        """Brings a file or folder, by its handle, onto the disk."""
        self._next_n = 1
        self.path = path

    @classmethod
    def create(cls, path: Path, sync: Sync) -> JournalFile:
        """Begin a journal.  Raises SessionError when there is one, or it cannot be written.

        Where a crash left a file without even one whole line, that is moved aside.
        """
        make_folder(path.parent, sync)
        file = _open_locked(path)
        journal = cls(file, path, sync)
        try:
            if has_records(path):
                raise SessionError(
                    "there is a session here already",
                    mend="open it, or give another folder",
                    file=path,
                )
            journal._set_aside(0)
        except BaseException:
            file.close()
            raise
        return journal

    @classmethod
    def open(cls, folder: Path | str, sync: Sync) -> tuple[JournalFile, Session]:
        """Lock a journal, move a torn last line to a file of its own, and read it.

        Raises SessionError as `read_session` does, and when it is open elsewhere.
        """
        path = journal_path(folder)
        if not path.is_file():
            read_lines(path)  # says what is wrong, before a file is made by opening it
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

    def append(self, *written: Mapping[str, Any]) -> None:
        """Write a line for each record and sync; on failure cut off what was written of them.

        Raises SessionError.
        """
        if self.closed:
            raise SessionError(
                "the sitting is closed", mend="open the session again", file=self.path
            )
        handle = self._file.fileno()
        size = os.fstat(handle).st_size
        lines = [one_line(record, n) for n, record in enumerate(written, start=self._next_n)]
        try:
            _write_all(handle, b"".join(lines))
            self.sync(handle)
        except OSError as error:
            self._cut_to(size)
            raise SessionError.unwritable(self.path, error) from None
        self._next_n += len(written)

    def _cut_to(self, size: int) -> None:
        """Take off half a line; where even that fails nothing may be written behind it."""
        try:
            os.ftruncate(self._file.fileno(), size)
        except OSError:
            self.close()

    def _mend_end(self, whole: int, session: Session) -> None:
        """Give the last line its end, or move it aside when it is torn."""
        if self.path.stat().st_size == whole:
            return
        if any(fault.what.startswith("torn") for fault in session.damage):
            aside = self._set_aside(whole)
            self.append(records.set_aside_record(aside))
            return
        try:
            _write_all(self._file.fileno(), b"\n")
        except OSError as error:
            raise SessionError.unwritable(self.path, error) from None

    def _set_aside(self, whole: int) -> str:
        """Move what is behind the first `whole` bytes to a file of its own, and name it."""
        try:
            rest = self.path.read_bytes()[whole:]
            if not rest:
                return ""
            aside = free_name(self.path.parent, "torn-{}.txt")
            with aside.open("xb") as file:
                file.write(rest)
                file.flush()
                self.sync(file.fileno())
            os.ftruncate(self._file.fileno(), whole)
        except OSError as error:
            raise SessionError.unwritable(self.path, error) from None
        return aside.name


def _open_locked(path: Path) -> IO[bytes]:
    try:
        file = path.open("ab", buffering=0)
    except OSError as error:
        raise SessionError.unwritable(path, error) from None
    try:
        ours = lock(file)
    except OSError as error:
        file.close()
        raise SessionError.unwritable(path, error) from None
    if not ours:
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


def make_folder(folder: Path, sync: Sync) -> None:
    """Make a folder and those above it, if need be, on the disk.  Raises SessionError."""
    missing = list(takewhile(lambda one: not one.is_dir(), (folder, *folder.parents)))
    try:
        for one in reversed(missing):
            one.mkdir(exist_ok=True)
            sync_folder(one.parent, sync)
    except OSError as error:
        raise SessionError.unwritable(folder, error) from None
