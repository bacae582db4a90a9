"""Recordings read from WAV, FLAC and OGG files as a stream of blocks."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from benchvoice.audio.samples import SAMPLE_RATE, Normaliser, Samples
from benchvoice.errors import AudioError

_UNKNOWN_FRAMES = 1 << 62
"""libsndfile reports 2**63 - 1 frames when a streamed file does not say its length."""
_LOWEST_RATE, _HIGHEST_RATE = 2_000, 1_000_000
"""Recordings have rates between these; others would become hours of nothing."""


def read_blocks(path: Path, block_seconds: float = 0.5) -> Iterator[Samples]:
    """Yield a recording as 16 kHz mono blocks of about `block_seconds` seconds.

    Any rate and number of channels is taken; an hour needs no more memory
    than a second.  A file that breaks off is read up to there, to within a block.  Raises
    AudioError (at the first block) for a file that is missing, unreadable or
    without any sound.
    """
    with _open(path) as file:
        normaliser = Normaliser(file.samplerate)
        size = max(1, round(file.samplerate * block_seconds))
        some = False
        while len(block := _read(file, size, path, some)):
            some = True
            if (samples := normaliser.push(block)).size:
                yield samples
        if not some:
            raise AudioError("has no sound in it", mend="record it again", file=path)
        if (samples := normaliser.finish()).size:
            yield samples


def recording_seconds(path: Path) -> float:
    """Give the length of a recording in seconds.

    Read from the header where it says so, else by reading the file once.
    Raises AudioError as `read_blocks` does.
    """
    with _open(path) as file:
        if 0 < file.frames < _UNKNOWN_FRAMES:
            return float(file.frames / file.samplerate)
    return sum(block.size for block in read_blocks(path)) / SAMPLE_RATE


def _open(path: Path) -> Any:
    import soundfile

    if not path.exists():
        raise AudioError("there is no such recording", mend="check the path", file=path)
    if not path.is_file():
        raise AudioError("is not a file", mend="give a WAV, FLAC or OGG file", file=path)
    try:
        with path.open("rb") as probe:
            if not probe.read(1):
                raise AudioError("is empty", mend="record it again", file=path)
        file = soundfile.SoundFile(path)
    except OSError as error:
        raise AudioError.unreadable(path, error) from None
    except (soundfile.LibsndfileError, TypeError) as error:
        raise AudioError(
            f"is not a recording that can be read ({_reason(error)})",
            mend="give a WAV, FLAC or OGG file",
            file=path,
        ) from None
    if not _LOWEST_RATE <= file.samplerate <= _HIGHEST_RATE:
        file.close()
        raise AudioError(
            f"says it has {file.samplerate} samples a second, so its header is damaged",
            mend="record it again",
            file=path,
        )
    return file


def _read(file: Any, frames: int, path: Path, some: bool) -> Any:
    import soundfile

    try:
        return file.read(frames, dtype="float32", always_2d=True)
    except soundfile.LibsndfileError as error:
        if some:  # what was read so far is still worth having
            return ()
        raise AudioError(
            f"cannot be decoded ({_reason(error)})", mend="record it again", file=path
        ) from None


def _reason(error: Exception) -> str:
    text = getattr(error, "error_string", None) or str(error)
    return str(text).rstrip(". ").lower()
