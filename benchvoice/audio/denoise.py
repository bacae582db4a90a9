"""Steady and passing noise taken out of speech with RNNoise, where it is installed.

RNNoise is a small recurrent network that weighs 32 bands of each 10 ms of
48 kHz sound (Valin, "A Hybrid DSP/Deep Learning Approach to Real-Time
Full-Band Speech Enhancement", 2018).  The package pyrnnoise brings its library
and weights; only its thin layer over the library is loaded, not what it needs
for files and plots, so it may be installed without its dependencies.  Three larger
networks in its place (DeepFilterNet 3, GTCRN, DTLN) got fewer remarks right: 155, 150
and 153 of 239 in noise, on which nothing else was set anew for them; RNNoise 164.
"""

from __future__ import annotations

import ctypes
import weakref
from functools import cache
from importlib import util
from pathlib import Path
from types import ModuleType
from typing import Any, Protocol, TypeAlias

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
_Wave: TypeAlias = npt.NDArray[np.float32]
_FloatPointer = ctypes.POINTER(ctypes.c_float)


class DenoiseStream(Protocol):
    """Takes the noise out of a live stream."""

    def push(self, block: Samples) -> Samples:
        """Take a block, give the clean samples that are ready: all, in order, but later."""

    def finish(self) -> Samples:
        """Give what was held back; the stream is over."""


class Denoiser(Protocol):
    """Takes the noise out of sound."""

    @property
    def name(self) -> str:
        """Which one this is, for people."""

    def clean(self, samples: Samples) -> Samples:
        """Give 16 kHz mono samples without their noise, as many and in the same places."""

    def stream(self) -> DenoiseStream:
        """Begin a stream of 16 kHz mono blocks."""


class RNNoise:
    """RNNoise through the layer of pyrnnoise.  Made by `open_denoiser`."""

    name = "RNNoise"

    def __init__(self, layer: Any) -> None:
        self._layer = layer

    def clean(self, samples: Samples) -> Samples:
        """Give 16 kHz mono samples without their noise, as many and in the same places.

        Each call starts afresh, so that the same sound always gives the same.
        Its first half second is played in reversed beforehand, for the network
        to know the noise when the speech begins.
        """
        lead = samples[: SAMPLE_RATE // 2][::-1]
        stream = self.stream()
        parts = [stream.push(np.concatenate((lead, samples))), stream.finish()]
        return np.concatenate(parts)[lead.size :]

    def stream(self) -> RNNoiseStream:
        """Begin a stream of 16 kHz mono blocks; what comes out is about 50 ms late."""
        return RNNoiseStream(self._layer)


class RNNoiseStream:
    """One stream through RNNoise; as many samples come out as went in."""

    def __init__(self, layer: Any) -> None:
        self._run = layer.lib.rnnoise_process_frame
        self._state = layer.create()
        weakref.finalize(self, layer.destroy, self._state)
        self._up = soxr.ResampleStream(SAMPLE_RATE, _RATE, 1, dtype="float32")
        self._down = soxr.ResampleStream(_RATE, SAMPLE_RATE, 1, dtype="float32")
        self._rest = np.zeros(0, dtype=np.float32)
        self._drop = _DELAY  # of the output: RNNoise's lag
        self._owed = 0  # samples taken and not yet given

    def push(self, block: Samples) -> Samples:
        """Take a block, give the clean samples that are ready: all, in order, but later."""
        self._owed += block.size
        high = self._up.resample_chunk(block.astype(np.float32))
        return self._give(self._down.resample_chunk(self._clean(high)))

    def finish(self) -> Samples:
        """Give what was held back; the stream is over."""
        high = self._up.resample_chunk(np.zeros(0, dtype=np.float32), last=True)
        room = np.zeros(_DELAY + _FRAME, dtype=np.float32)
        clean = self._clean(np.concatenate((high, room)))
        low = self._give(self._down.resample_chunk(clean, last=True))
        return np.concatenate((low, np.zeros(self._owed, dtype=np.int16)))

    def _clean(self, high: _Wave) -> _Wave:
        """Take 48 kHz samples, give those of the whole frames, without RNNoise's lag."""
        sound = np.concatenate((self._rest, high))
        whole = sound.size - sound.size % _FRAME
        self._rest = sound[whole:].copy()
        frames = sound[:whole].reshape(-1, _FRAME)
        for frame in frames:
            pointer = frame.ctypes.data_as(_FloatPointer)
            self._run(self._state, pointer, pointer)
        lost = min(self._drop, whole)
        self._drop -= lost
        return frames.ravel()[lost:]

    def _give(self, low: _Wave) -> Samples:
        low = low[: self._owed]
        self._owed -= low.size
        clean: Samples = np.clip(np.rint(low), -32768, 32767).astype(np.int16)
        return clean


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
