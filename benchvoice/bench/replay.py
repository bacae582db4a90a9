"""The main job from a recording."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from benchvoice.audio import SAMPLE_RATE, Cutter, Utterance, read_blocks, recording_seconds
from benchvoice.bench.desk import Desk, Recorded
from benchvoice.bench.ears import Ears
from benchvoice.errors import SessionError
from benchvoice.session import JOURNAL_NAME, Clock, Header, ScriptedClock, has_records, read_session

Progress = Callable[[float, float], None]
"""Told (seconds done, seconds in all) as a recording goes by."""


def replay(
    ears: Ears,
    audio: Path,
    folder: Path,
    header: Header,
    *,
    started: datetime,
    progress: Progress | None = None,
) -> Iterator[Recorded]:
    """Play a recording into a session as one sitting, event by event.

    Times in the events are seconds of the recording; `started` is the time of
    day (with offset) at its first sample.  Raises AudioError when it cannot be
    read, SessionError when the session cannot be written or has it already.
    """
    whole = recording_seconds(audio)
    source = _name(audio)
    _refuse_twice(folder, source)
    clock = ScriptedClock(started)
    cutter = Cutter(None, ears.denoiser)
    done = 0.0
    with Desk.open(ears, folder, header, clock.clock, source) as desk:
        for block in read_blocks(audio):
            seconds = block.size / SAMPLE_RATE
            clock.advance(seconds)
            done += seconds
            yield from _recorded(desk, cutter.push(block))
            if progress is not None:
                progress(done, whole)
        yield from _recorded(desk, cutter.flush())
        desk.close(done)


def _recorded(desk: Desk, utterances: Iterable[Utterance]) -> Iterator[Recorded]:
    for utterance in utterances:
        recorded = desk.heard(utterance)
        if recorded is not None:
            yield recorded


def _name(audio: Path) -> str:
    """Name a recording by what is in it, so that a copy of it is known again."""
    with audio.open("rb") as file:
        return f"{audio.name} sha256 {hashlib.file_digest(file, 'sha256').hexdigest()}"


def _refuse_twice(folder: Path, source: str) -> None:
    if not has_records(folder):
        return
    checksum = source.rpartition(" ")[2]
    for sitting in read_session(folder).sittings:
        if sitting.source is not None and sitting.source.endswith(checksum):
            raise SessionError(
                f"sitting {sitting.number} was made from this recording already",
                mend="give another folder with --session",
                file=folder / JOURNAL_NAME,
            )


def start_of(audio: Path, clock: Clock) -> datetime:
    """When a recording began, taken to have ended now."""
    length = timedelta(seconds=recording_seconds(audio))
    return clock.wall() - length
