"""Utterances kept as small FLAC files beside a session."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.errors import AudioError


def write_clip(path: Path, samples: Samples) -> None:
    """Write 16 kHz mono samples as FLAC, whole or not at all.

    The file is written under another name in the same folder, synced to the
    disk, then renamed, so a power cut leaves the old file or the new one.
    Raises AudioError when the disk does not take it.
    """
    import soundfile

    part = path.with_name(path.name + ".part")
    try:
        with part.open("wb") as file:
            soundfile.write(file, samples, SAMPLE_RATE, format="FLAC", subtype="PCM_16")
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
        _sync_folder(path.parent)
    except (OSError, soundfile.LibsndfileError) as error:
        with suppress(OSError):
            part.unlink()
        reason = getattr(error, "strerror", None) or str(error)
        raise AudioError(
            f"the clip cannot be written ({reason})", mend="check space and permissions", file=path
        ) from None


def _sync_folder(folder: Path) -> None:
    if not hasattr(os, "O_DIRECTORY"):  # not on Windows, where a rename needs no such sync
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
