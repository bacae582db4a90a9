"""The noises of a shop, made by script, for the benchmarks; all 16 kHz mono, full scale 1.

`NOISES` maps a name to a maker: number of samples and a random generator in,
float samples out, of any level.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import scipy.signal
from voices import RATE, VOICES, Sound, speak

Wave = npt.NDArray[np.float64]
Maker = Callable[[int, np.random.Generator], Wave]
MAINS_HZ = 60.0


def compressor(size: int, rng: np.random.Generator) -> Wave:
    """Hum of a motor and piston: harmonics of the mains, throbbing, with a little air."""
    time = np.arange(size) / RATE
    slip = MAINS_HZ * (1 + 0.002 * np.sin(2 * np.pi * 0.3 * time))
    phase = 2 * np.pi * np.cumsum(slip) / RATE
    hum = sum(
        np.sin(n * phase + rng.uniform(0, 2 * np.pi)) / n ** rng.uniform(0.5, 1.1)
        for n in range(1, 40)
    )
    throb = 1 + 0.4 * np.sin(2 * np.pi * 14.7 * time)
    return hum * throb + 0.5 * pink(size, rng)


def impacts(size: int, rng: np.random.Generator) -> Wave:
    """Blows on metal: short ringing bursts, two a second on average, over a faint fan."""
    wave = 0.02 * pink(size, rng)
    ring = np.arange(RATE // 2) / RATE
    for at in np.flatnonzero(rng.random(size) < 2.0 / RATE):
        tones = rng.uniform(400, 5000, 5)
        decays = rng.uniform(8, 60, 5)
        blow = sum(
            np.exp(-decay * ring) * np.sin(2 * np.pi * tone * ring)
            for tone, decay in zip(tones, decays, strict=True)
        )
        blow[:80] += rng.normal(0, 2, 80)
        end = min(size, at + ring.size)
        wave[at:end] += rng.uniform(0.3, 1.0) * blow[: end - at]
    return wave


def pink(size: int, rng: np.random.Generator) -> Wave:
    """A fan: Gaussian noise whose power falls with frequency, unit RMS."""
    shape = np.fft.rfft(rng.normal(size=size))
    hertz = np.fft.rfftfreq(size, 1 / RATE)
    wave = np.fft.irfft(shape / np.sqrt(np.maximum(hertz, 40.0)), size)
    return wave / np.sqrt(np.mean(wave**2))


def babble(size: int, rng: np.random.Generator) -> Wave:
    """A radio across the shop: two voices and a tune at once, through a small loudspeaker."""
    talk = np.zeros(size)
    for _ in range(2):
        at = 0
        while at < size:
            text, voice = rng.choice(RADIO), rng.choice(VOICES[1:])
            sound = speak(str(voice), str(text)).astype(float) / 32768
            end = min(size, at + sound.size)
            talk[at:end] += sound[: end - at]
            at = end + int(rng.uniform(0.1, 0.6) * RATE)
    notes = np.repeat(rng.choice([220, 262, 294, 330, 392, 440], size // 4000 + 1), 4000)[:size]
    tune = sum(np.sin(2 * np.pi * np.cumsum(notes * n) / RATE) / n for n in (1, 2, 3))
    small = scipy.signal.butter(2, (300, 4000), "bandpass", fs=RATE, output="sos")
    return scipy.signal.sosfilt(small, talk + 0.02 * tune)


NOISES: dict[str, Maker] = {
    "compressor": compressor,
    "impacts": impacts,
    "fan": pink,
    "babble": babble,
}

RADIO = (
    "good morning and welcome back it is a quarter past eight and here is the weather",
    "rain moving in from the west this afternoon with a high near sixty",
    "the county board votes tonight on whether to widen the old river road",
    "that was a song for everyone who is driving home after a long week",
    "police say the two left lanes will stay closed until at least nine",
    "we have tickets for the fair to give away to the next caller",
    "the home side came from behind to take it by a single point",
    "and now a word from the people who keep us on the air",
)
"""What the radio says; invented, and in none of the sets."""


def mixed(speech: Sound, noise: Wave, ratio_db: float, level_dbfs: float) -> Sound:
    """Add a noise whose mean power is `ratio_db` below speech of `level_dbfs` RMS."""
    rms = 10 ** ((level_dbfs - ratio_db) / 20)
    noise = noise * rms / np.sqrt(np.mean(noise**2))
    return np.clip(speech + 32768 * noise, -32768, 32767).astype(np.int16)
