"""Utterances kept as small FLAC files beside a session."""

from __future__ import annotations

import os
from pathlib import Path

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.disk import replacing, sync_folder
from benchvoice.errors import AudioError


def write_clip(path: Path, samples: Samples) -> None:
    """Write 16 kHz mono samples as FLAC, whole or not at all.

    The file is written under another name in the same folder, synced to the
    disk, then renamed, so a power cut leaves the old file or the new one.
    Raises AudioError when the disk does not take it.
    """
    import soundfile

    try:
        with replacing(path) as part, part.open("wb") as file:
            soundfile.write(file, samples, SAMPLE_RATE, format="FLAC", subtype="PCM_16")
            file.flush()
            os.fsync(file.fileno())
        sync_folder(path.parent, os.fsync)
    except (OSError, soundfile.LibsndfileError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise AudioError(
            f"the clip cannot be written ({reason})", mend="check space and permissions", file=path
        ) from None
