"""A sound to be played, and tones made from figures."""

from __future__ import annotations

import io
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from benchvoice.errors import AudioError

TONE_RATE = 44_100
"""Samples a second of the tones."""

_RAMP = 0.008
"""Seconds in which a tone swells and dies, so that it does not click."""


@dataclass(frozen=True, eq=False)
class Sound:
    """Mono `samples` (float32, full scale 1.0), `rate` of them a second."""

    samples: npt.NDArray[np.float32]
    rate: int

    @property
    def seconds(self) -> float:
        """How long it is."""
        return self.samples.size / self.rate


def tone(hertz: float, seconds: float, level_dbfs: float = -12.0) -> Sound:
    """Make a sine of a peak level (dB relative to full scale) with soft ends."""
    at = np.arange(round(seconds * TONE_RATE)) / TONE_RATE
    ramp = np.minimum(1.0, np.minimum(at, at[::-1]) / _RAMP)
    wave = 10 ** (level_dbfs / 20) * ramp * np.sin(2 * np.pi * hertz * at)
    return Sound(wave.astype(np.float32), TONE_RATE)


def joined(*sounds: Sound, gap: float = 0.06) -> Sound:
    """Put sounds of one rate one after the other, `gap` seconds of silence between."""
    rate = sounds[0].rate
    silence = np.zeros(round(gap * rate), dtype=np.float32)
    pieces = [piece for sound in sounds for piece in (silence, sound.samples)]
    return Sound(np.concatenate(pieces[1:]), rate)


def read_sound(content: bytes) -> Sound:
    """Read a WAV or AIFF file's content.  Raises AudioError when it is none."""
    import soundfile

    try:
        wave, rate = soundfile.read(io.BytesIO(content), dtype="float32", always_2d=True)
    except (soundfile.LibsndfileError, RuntimeError, TypeError):
        raise AudioError(
            "the voice gave no sound that can be read", mend="choose --say beeps"
        ) from None
    return Sound(wave.mean(axis=1, dtype=np.float32), int(rate))
