"""Sound to cepstra, just as PocketSphinx's own front end makes them for its English model.

Ours lets the decoder be fed in small parts (its own holds every other thread
up for a whole utterance), takes the noise as known from the start, and gives
enrolment the very features that hearing uses.  Mel-frequency cepstra: Davis
and Mermelstein, 1980.  Noise: the lower envelope of each band is followed and
taken off, as in Kim and Stern, "Power-normalized cepstral coefficients
(PNCC) for robust speech recognition", 2012, sections III-C to III-E; the
constants are those of PocketSphinx.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.acoustic import Floats

FRAME_SHIFT = 160
"""Samples from one frame to the next: 10 ms."""
CEPSTRA = 13
_FRAME = 410
_FFT = 512
_BANDS = 25
_LOW_HZ, _HIGH_HZ = 130.0, 6800.0
_LIFTER = 22
_EMPHASIS = 0.97
_FLOOR = 1e-4


def cepstra(samples: Samples) -> Floats:
    """Give the cepstra (T, 13) of 16 kHz mono samples, T about a hundred a second.

    The noise in each band is learnt over the whole of them beforehand; their
    mean is left in.
    """
    power = _band_power(samples)
    if not len(power):
        return np.zeros((0, CEPSTRA))
    log = np.log(without_noise(power) + _FLOOR)
    return np.asarray(log @ _transform().T)


def mean_of(frames: Floats) -> Floats:
    """Give the mean of cepstra (T, 13); frames below no energy at all do not count for it."""
    counted = frames[frames[:, 0] >= 0]
    mean: Floats = (counted if len(counted) else frames).mean(axis=0)
    return mean


def dynamic(frames: Floats) -> Floats:
    """Give cepstra (T, 13) with their slopes and the slopes of those, (T, 3, 13).

    The slope at t is c(t+2) - c(t-2), that of the slopes d(t+1) - d(t-1); the
    ends go on as they are (Sphinx's "1s_c_d_dd").
    """
    padded = np.pad(frames, ((3, 3), (0, 0)), mode="edge")
    size = len(frames)

    def at(shift: int) -> Floats:
        return padded[3 + shift : 3 + shift + size]

    return np.stack((frames, at(2) - at(-2), (at(3) - at(-1)) - (at(1) - at(-3))), axis=1)


def without_noise(power: Floats) -> Floats:
    """Take the noise off band powers (T, bands): what each band never falls below for long.

    Gone through twice, so that the noise is known when the speech begins.
    """
    state = _Noise(power[0])
    for frame in power:
        state.gain(frame)
    return power * _spread(np.array([state.gain(frame) for frame in power]))


class _Noise:
    """What is known of the noise in each band while time goes on."""

    def __init__(self, first: Floats) -> None:
        self._power = first
        self._noise = first / _MOST_GAIN
        self._floor = self._noise
        self._peak = np.zeros_like(first)

    def gain(self, power: Floats) -> Floats:
        """Take one frame, give what it is to be multiplied with."""
        self._power = smooth = _POWER_KEPT * self._power + (1 - _POWER_KEPT) * power
        self._noise = _envelope(self._noise, smooth)
        signal = np.maximum(smooth - self._noise, 1.0)
        self._floor = _envelope(self._floor, signal)
        # what follows a loud moment is masked by it
        peak = _PEAK_KEPT * self._peak
        masked = np.where(signal < _PEAK_KEPT * peak, _MASKED * peak, signal)
        self._peak = np.maximum(peak, signal)
        signal = np.maximum(masked, self._floor)
        return np.minimum(
            np.maximum(signal / np.maximum(smooth, _FLOOR), 1 / _MOST_GAIN), _MOST_GAIN
        )


_MOST_GAIN = 20.0
_POWER_KEPT, _PEAK_KEPT, _MASKED = 0.7, 0.85, 0.2
_RISE_KEPT, _FALL_KEPT = 0.995, 0.5
_NEIGHBOURS = 4


def _envelope(floor: Floats, power: Floats) -> Floats:
    """Follow the lower envelope: down at once, up slowly."""
    kept = np.where(power >= floor, _RISE_KEPT, _FALL_KEPT)
    return np.asarray(kept * floor + (1 - kept) * power)


def _spread(gains: Floats) -> Floats:
    """Average each band's gain (T, bands) over its neighbours."""
    bands = np.arange(gains.shape[1])
    near = np.abs(bands[:, None] - bands) <= _NEIGHBOURS
    return np.asarray(gains @ (near / near.sum(axis=0)))


def _band_power(samples: Samples) -> Floats:
    """Give the power in each band (T, 25) of frames of 25.6 ms.

    The last one is filled up with zeros.
    """
    size = samples.size
    if size < 1:
        return np.zeros((0, _BANDS))
    count = 1 if size < _FRAME else 2 + (size - _FRAME) // FRAME_SHIFT
    wave = np.zeros((count - 1) * FRAME_SHIFT + _FRAME)
    wave[:size] = samples
    wave[1:size] -= _EMPHASIS * samples[:-1].astype(np.float64)
    frames = np.lib.stride_tricks.sliding_window_view(wave, _FRAME)[::FRAME_SHIFT]
    spectrum = np.fft.rfft(frames * np.hamming(_FRAME), _FFT)
    return np.asarray((spectrum.real**2 + spectrum.imag**2) @ _bands().T)


@cache
def _bands() -> Floats:
    """Give the triangles of equal area on the mel scale, (25, 257)."""
    edges = np.linspace(_mel(_LOW_HZ), _mel(_HIGH_HZ), _BANDS + 2)
    step = SAMPLE_RATE / _FFT
    hertz = np.rint(700.0 * (10.0 ** (edges / 2595.0) - 1.0) / step) * step
    points = np.arange(_FFT // 2 + 1) * step
    low, middle, high = (hertz[at : at + _BANDS, None] for at in range(3))
    rising, falling = (points - low) / (middle - low), (high - points) / (high - middle)
    return np.asarray(np.maximum(0.0, np.minimum(rising, falling)) * 2.0 / (high - low))


def _mel(hertz: float) -> float:
    return float(2595.0 * np.log10(1.0 + hertz / 700.0))


@cache
def _transform() -> Floats:
    """Give the unitary cosine transform with its lifter, (13, 25)."""
    order = np.arange(CEPSTRA)[:, None]
    cosines = np.cos(np.pi / _BANDS * order * (np.arange(_BANDS) + 0.5))
    scale = np.where(order == 0, np.sqrt(1.0 / _BANDS), np.sqrt(2.0 / _BANDS))
    return np.asarray(cosines * scale * (1.0 + _LIFTER / 2 * np.sin(order * np.pi / _LIFTER)))
