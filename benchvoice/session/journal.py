"""One sitting of work written to the journal."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from benchvoice.disk import Sync, sync_folder
from benchvoice.errors import SessionError
from benchvoice.follow.events import StepEvent
from benchvoice.session import records
from benchvoice.session.clocks import Clock
from benchvoice.session.file import JournalFile, make_folder
from benchvoice.session.read import CLIPS, JOURNAL_NAME
from benchvoice.session.values import Header, Session


class Journal:
    """Writes one sitting of a session; made by `create` or `open`.

    Every call that writes returns after the disk has it, or raises
    SessionError and leaves the journal as it was.  As a context manager it
    closes the sitting and lets go of the folder at the end.
    """

    def __init__(self, file: JournalFile, clock: Clock) -> None:
        """For `create` and `open` only."""
        self._file = file
        self._clock = clock
        self._opened_at = clock.seconds()
        self._last_t = 0.0
        self._seq = 0
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
        file = JournalFile.create(Path(folder) / JOURNAL_NAME, sync)
        journal = cls(file, clock)
        journal._begin(
            records.schema_record(), records.header_record(header), journal._opened(source)
        )
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
        Raises SessionError as `read_session` does, and when it is open elsewhere.
        """
        file, before = JournalFile.open(folder, sync)
        journal = cls(file, clock)
        journal.before = before
        journal._seq = before.last_seq
        journal.sitting = max((old.number for old in before.sittings), default=0) + 1
        journal._begin(journal._opened(source))
        return journal

    @property
    def folder(self) -> Path:
        """The session folder."""
        return self._file.path.parent

    def elapsed(self) -> float:
        """Seconds since this sitting began."""
        return self._clock.seconds() - self._opened_at

    def clip_name(self, seq: int) -> str:
        """Name the clip of an event, relative to the folder; its own folder is made.

        A clip left there without its entry, by a crash between the two, keeps its name.
        """
        clips = self.folder / CLIPS
        if not clips.is_dir():
            make_folder(clips, self._file.sync)
        name, number = f"{CLIPS}/{seq:04d}.flac", 1
        while (self.folder / name).exists():
            number += 1
            name = f"{CLIPS}/{seq:04d}-{number}.flac"
        return name

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
        self._file.append(
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
        self._file.append(records.header_record(header))

    def close_sitting(self, at: float | None = None) -> None:
        """End the sitting, `at` seconds after it began (default: now), and let go of the folder.

        Never before its last event; a second call does nothing.
        """
        if self._file.closed:
            return
        t = max(self._last_t, self.elapsed() if at is None else at)
        try:
            self._file.append(records.closed_record(self.sitting, t, self._wall()))
        finally:
            self._file.close()

    def __enter__(self) -> Journal:
        return self

    def __exit__(self, *error: object) -> None:
        self.close_sitting()

    def _opened(self, source: str | None) -> Mapping[str, Any]:
        return records.opened_record(self.sitting, self._wall(), source)

    def _begin(self, *first: Mapping[str, Any]) -> None:
        """Write the first records of the sitting, all or none."""
        try:
            self._file.append(*first)
            sync_folder(self.folder, self._file.sync)
        except SessionError:
            self._file.close()
            raise
        except OSError as error:
            self._file.close()
            raise SessionError.unwritable(self.folder, error) from None

    def _wall(self) -> str:
        return self._clock.wall().isoformat(timespec="seconds")
