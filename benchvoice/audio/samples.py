"""The internal audio format, and the way any other format becomes it."""

from __future__ import annotations

import math
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt
import soxr

SAMPLE_RATE = 16_000
"""Samples per second of all audio inside benchvoice."""

Samples: TypeAlias = npt.NDArray[np.int16]
"""Mono audio at 16 kHz, one dimension, full scale 32768."""

QUIETEST_DBFS = -96.0
"""What digital silence is reported as; one step of 16 bits, 20 log10(1/32768), is -90.3."""


def level_dbfs(samples: Samples) -> float:
    """Give the RMS level in dB relative to full scale (a full square wave is 0).

    No samples, or digital silence, give QUIETEST_DBFS.
    """
    if not samples.size:
        return QUIETEST_DBFS
    wide = samples.astype(np.float32)
    power = float(np.dot(wide, wide)) / wide.size
    return max(QUIETEST_DBFS, 10 * math.log10(power / 32768.0**2)) if power else QUIETEST_DBFS


class Normaliser:
    """Turns a stream of float blocks of one rate into the internal format.

    `push` takes float32 shaped (frames, channels) with full scale 1.0; the
    channels are averaged, values that are not finite become silence, and the
    rate is converted with soxr's streaming resampler, so block borders are
    not heard and memory does not grow.
    """

    def __init__(self, rate: float) -> None:
        self._stream: Any = None
        if rate != SAMPLE_RATE:
            self._stream = soxr.ResampleStream(rate, SAMPLE_RATE, 1, dtype="float32")

    def push(self, block: npt.NDArray[np.float32]) -> Samples:
        """Take a block, give the samples that are ready (perhaps none yet)."""
        clean = np.nan_to_num(block, nan=0.0, posinf=0.0, neginf=0.0)
        mono = np.clip(clean, -1.0, 1.0).mean(axis=1, dtype=np.float32)
        return self._convert(mono, last=False)

    def finish(self) -> Samples:
        """Give what the resampler still held back; the stream is over."""
        return self._convert(np.zeros(0, dtype=np.float32), last=True)

    def _convert(self, mono: npt.NDArray[np.float32], *, last: bool) -> Samples:
        if self._stream is not None:
            mono = self._stream.resample_chunk(mono, last=last)
        scaled = np.clip(np.rint(mono * 32768.0), -32768, 32767)
        samples: Samples = scaled.astype(np.int16)
        return samples
