"""Steady and passing noise taken out of speech with RNNoise, where it is installed.

RNNoise is a small recurrent network that weighs 32 bands of each 10 ms of
48 kHz sound (Valin, "A Hybrid DSP/Deep Learning Approach to Real-Time
Full-Band Speech Enhancement", 2018).  The package pyrnnoise brings its library
and weights; only its thin layer over the library is loaded, not what it needs
for files and plots, so it may be installed without its dependencies.
"""

from __future__ import annotations

import ctypes
from functools import cache
from importlib import util
from pathlib import Path
from types import ModuleType
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt
import soxr

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.errors import AudioError

PACKAGE = "pyrnnoise"
_RATE = 48_000
_FRAME = 480
"""Samples of 48 kHz in a frame of RNNoise."""
_DELAY = 2 * _FRAME
"""How far RNNoise's output lags, in samples of 48 kHz; measured on speech."""
_FloatPointer = ctypes.POINTER(ctypes.c_float)


class Denoiser(Protocol):
    """Takes the noise out of a stretch of sound."""

    @property
    def name(self) -> str:
        """Which one this is, for people."""

    def clean(self, samples: Samples) -> Samples:
        """Give 16 kHz mono samples without their noise, as many and in the same places."""


class RNNoise:
    """RNNoise through the layer of pyrnnoise.  Made by `open_denoiser`."""

    name = "RNNoise"

    def __init__(self, layer: Any) -> None:
        self._layer = layer

    def clean(self, samples: Samples) -> Samples:
        """Give 16 kHz mono samples without their noise, as many and in the same places.

        Each call starts afresh, so that the same sound always gives the same.
        The sound is played in once reversed beforehand, for the network to
        know the noise when the speech begins.
        """
        if not samples.size:
            return samples
        high: npt.NDArray[np.float32] = soxr.resample(
            samples.astype(np.float32), SAMPLE_RATE, _RATE
        )
        lead = high[: -(-min(high.size, _RATE // 2) // _FRAME) * _FRAME][::-1]
        room = np.zeros(_DELAY + -(lead.size + high.size) % _FRAME, dtype=np.float32)
        frames = np.concatenate((lead, high, room)).reshape(-1, _FRAME)
        self._run(frames)
        start = lead.size + _DELAY
        low = soxr.resample(frames.ravel()[start : start + high.size], _RATE, SAMPLE_RATE)
        wet = np.zeros(samples.size, dtype=np.float32)
        wet[: low.size] = low[: samples.size]
        cleaned: Samples = np.clip(np.rint(wet), -32768, 32767).astype(np.int16)
        return cleaned

    def _run(self, frames: npt.NDArray[np.float32]) -> None:
        """Clean (frames, 480) float samples of 48 kHz in place."""
        state = self._layer.create()
        try:
            for frame in frames:
                sound = frame.ctypes.data_as(_FloatPointer)
                self._layer.lib.rnnoise_process_frame(state, sound, sound)
        finally:
            self._layer.destroy(state)


def open_denoiser() -> Denoiser | None:
    """Give the denoiser of this machine, None when its package is not installed.

    Raises AudioError when the package is there but cannot be used.
    """
    found = util.find_spec(PACKAGE)
    if found is None or not found.submodule_search_locations:
        return None
    return RNNoise(_layer(Path(next(iter(found.submodule_search_locations)), "rnnoise.py")))


@cache
def _layer(path: Path) -> ModuleType:
    """Load the layer by its path: importing the package would load all that it needs."""
    try:
        spec = util.spec_from_file_location("benchvoice_rnnoise_layer", path)
        if spec is None or spec.loader is None:
            raise OSError("it is not a module")
        layer = util.module_from_spec(spec)
        spec.loader.exec_module(layer)
        if layer.FRAME_SIZE != _FRAME:
            raise OSError(f"its frame is {layer.FRAME_SIZE} samples, not {_FRAME}")
    except (OSError, ImportError, AttributeError) as error:
        raise AudioError(
            f"RNNoise cannot be loaded ({error})", mend=f"pip install --no-deps {PACKAGE}"
        ) from None
    return layer
