"""The journal of a session: append only, on the disk before a call returns."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from benchvoice.errors import SessionError
from benchvoice.follow.events import StepEvent
from benchvoice.session import records
from benchvoice.session.clocks import Clock
from benchvoice.session.lines import one_line
from benchvoice.session.lock import lock
from benchvoice.session.read import JOURNAL_NAME, journal_path, read_lines, session_of
from benchvoice.session.values import Header, Session

Sync = Callable[[int], None]


class Journal:
    """Writes one sitting of a session; made by `create` or `open`.

    Every call that writes returns after the disk has it, or raises
    SessionError and leaves the journal as it was.  As a context manager it
    closes the sitting and lets go of the folder at the end.
    """

    def __init__(self, file: IO[bytes], path: Path, clock: Clock, sync: Sync) -> None:
        """For `create` and `open` only; `file` is locked and empty or whole."""
        self._file = file
        self._path = path
        self._clock = clock
        self._sync = sync
        self._opened_at = clock.seconds()
        self._last_t = 0.0
        self._seq = 0
        self._closed = False
        self.sitting = 1
        """The number of this sitting, from 1."""
        self.before: Session | None = None
        """The session as it was before this sitting; None for a new one."""

    @classmethod
    def create(
        cls,
        folder: Path | str,
        header: Header,
        clock: Clock,
        *,
        source: str | None = None,
        sync: Sync = os.fsync,
    ) -> Journal:
        """Begin a session in `folder`, made if need be; `source` as in `Sitting`.

        Raises SessionError when there is a session in it, or it cannot be written.
        """
        path = Path(folder) / JOURNAL_NAME
        file = _open_locked(path)
        if os.fstat(file.fileno()).st_size:
            file.close()
            raise SessionError(
                "there is a session here already", mend="open it, or give another folder", file=path
            )
        journal = cls(file, path, clock, sync)
        journal._append(records.schema_record())
        journal._append(records.header_record(header))
        _sync_folder(path.parent, sync)
        journal._open_sitting(source)
        return journal

    @classmethod
    def open(
        cls,
        folder: Path | str,
        clock: Clock,
        *,
        source: str | None = None,
        sync: Sync = os.fsync,
    ) -> Journal:
        """Take up a session again with a new sitting; `source` as in `Sitting`.

        A torn last line is moved to a file of its own beside the journal.
        Raises SessionError as `read_session` does, and when another program writes to it.
        """
        path = journal_path(folder)
        read_lines(path)  # before a file is made by opening it
        file = _open_locked(path)
        try:
            lines = read_lines(path)
            journal = cls(file, path, clock, sync)
            journal.before = session_of(path, lines)
            journal._mend_end(lines.whole)
        except BaseException:
            file.close()
            raise
        journal._seq = journal.before.last_seq
        journal.sitting = max((old.number for old in journal.before.sittings), default=0) + 1
        journal._open_sitting(source)
        return journal

    @property
    def folder(self) -> Path:
        """The session folder."""
        return self._path.parent

    def elapsed(self) -> float:
        """Seconds since this sitting began."""
        return self._clock.seconds() - self._opened_at

    def clip_name(self, seq: int) -> str:
        """Name the clip of an event, relative to the folder; its own folder is made."""
        try:
            (self.folder / "clips").mkdir(exist_ok=True)
        except OSError as error:
            raise _cannot_write(self._path.parent / "clips", error) from None
        return f"clips/{seq:04d}.flac"

    def append_event(
        self,
        event: StepEvent,
        *,
        clip: str | None = None,
        alternatives: Sequence[str] = (),
        end: float | None = None,
    ) -> None:
        """Record an event; `end` is where the utterance ended, `alternatives` what else was heard.

        Raises ValueError when its `seq` is not above all before it.
        """
        if event.seq <= self._seq:
            raise ValueError(f"event {event.seq} comes after event {self._seq}")
        self._append(
            records.event_record(
                event,
                sitting=self.sitting,
                wall=self._wall(),
                end=end,
                clip=clip,
                alternatives=alternatives,
            )
        )
        self._seq = event.seq
        self._last_t = max(self._last_t, event.at, end or 0.0)

    def amend_header(self, header: Header) -> None:
        """Record what is now known of the job; fields that are not set stay as they were."""
        self._append(records.header_record(header))

    def close_sitting(self, at: float | None = None) -> None:
        """End the sitting, `at` seconds after it began (default: now), and let go of the folder.

        Never before its last event; a second call does nothing.
        """
        if self._closed:
            return
        t = max(self._last_t, self.elapsed() if at is None else at)
        try:
            self._append(records.closed_record(self.sitting, t, self._wall()))
        finally:
            self._closed = True
            self._file.close()

    def __enter__(self) -> Journal:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close_sitting()

    def _open_sitting(self, source: str | None) -> None:
        self._append(records.opened_record(self.sitting, self._wall(), source))

    def _wall(self) -> str:
        return self._clock.wall().isoformat(timespec="seconds")

    def _append(self, record: Mapping[str, Any]) -> None:
        """Write one line and sync it; on failure cut off what was written of it."""
        if self._closed:
            raise SessionError(
                "the sitting is closed", mend="open the session again", file=self._path
            )
        handle = self._file.fileno()
        size = os.fstat(handle).st_size
        try:
            _write_all(handle, one_line(record))
            self._sync(handle)
        except OSError as error:
            os.ftruncate(handle, size)
            raise _cannot_write(self._path, error) from None

    def _mend_end(self, whole: int) -> None:
        """Give the last line its end, or move it aside when it is torn."""
        content = self._path.read_bytes()
        rest = content[whole:]
        if not rest:
            return
        assert self.before is not None
        torn = any(fault.what.startswith("torn") for fault in self.before.damage)
        try:
            if not torn:
                _write_all(self._file.fileno(), b"\n")
                return
            aside = _free_name(self.folder)
            with aside.open("xb") as file:
                file.write(rest)
                file.flush()
                self._sync(file.fileno())
            os.ftruncate(self._file.fileno(), whole)
        except OSError as error:
            raise _cannot_write(self._path, error) from None
        self._append(records.set_aside_record(aside.name))


def _open_locked(path: Path) -> IO[bytes]:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        file = path.open("ab", buffering=0)
    except OSError as error:
        raise _cannot_write(path, error) from None
    if not lock(file):
        file.close()
        raise SessionError(
            "another program is writing to this session", mend="close it there first", file=path
        )
    return file


def _write_all(handle: int, content: bytes) -> None:
    while content:
        content = content[os.write(handle, content) :]


def _free_name(folder: Path) -> Path:
    number = 1
    while (folder / f"torn-{number}.txt").exists():
        number += 1
    return folder / f"torn-{number}.txt"


def _sync_folder(folder: Path, sync: Sync) -> None:
    if not hasattr(os, "O_DIRECTORY"):  # not on Windows, which needs no such sync
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        sync(handle)
    finally:
        os.close(handle)


def _cannot_write(path: Path, error: OSError) -> SessionError:
    return SessionError(
        f"cannot be written ({error.strerror})", mend="check space and permissions", file=path
    )
