"""RNNoise held against noise of a known level, and against what it must not touch.

Needs the package pyrnnoise; left out without it.
"""

from pathlib import Path

import numpy as np
import pytest
import scipy.signal
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from benchvoice.audio import Cutter, open_denoiser
from benchvoice.audio.samples import level_dbfs

RECORDINGS = Path(__file__).parents[1] / "recordings"
DENOISER = open_denoiser()
pytestmark = pytest.mark.skipif(DENOISER is None, reason="the denoise extra is not installed")


def human(name: str) -> np.ndarray:
    return soundfile.read(RECORDINGS / "human" / f"{name}.flac", dtype="int16")[0]


def noise(samples: int, level: float, seed: int = 0) -> np.ndarray:
    return np.random.default_rng(seed).normal(0, level, samples).astype(np.int16)


def test_steady_noise_without_speech_goes_down_by_more_than_ten_decibels() -> None:
    sound = noise(3 * 16000, 300.0)
    clean = DENOISER.clean(sound)
    assert clean.size == sound.size
    assert level_dbfs(clean) < level_dbfs(sound) - 10


def test_a_voice_in_noise_comes_nearer_to_the_voice_alone() -> None:
    # the recording's own hum is below the voice; the denoiser takes that out as well
    above = scipy.signal.butter(4, 100, "highpass", fs=16000, output="sos")
    voice = scipy.signal.sosfilt(above, human("cards_5").astype(float))
    dirty = np.clip(voice + noise(voice.size, voice.std() / 3), -32768, 32767)
    clean = DENOISER.clean(dirty.astype(np.int16)).astype(float)
    assert np.mean((clean - voice) ** 2) < 0.5 * np.mean((dirty - voice) ** 2)


def test_the_clean_voice_is_at_the_same_place() -> None:
    voice = human("digits")
    clean = DENOISER.clean(voice).astype(float)
    lags = range(-400, 401, 10)
    match = [float(np.dot(np.roll(clean, -lag)[1000:-1000], voice[1000:-1000])) for lag in lags]
    assert abs(lags[int(np.argmax(match))]) <= 20


@settings(max_examples=15, deadline=None)
@given(st.lists(st.integers(0, 5000), max_size=12))
def test_a_stream_gives_as_many_samples_as_it_took_and_the_same_in_any_blocks(
    sizes: list[int],
) -> None:
    sound = noise(sum(sizes), 300.0)
    whole, parts = DENOISER.stream(), DENOISER.stream()
    one = np.concatenate((whole.push(sound), whole.finish()))
    ends = np.cumsum(sizes, dtype=int)
    out = [parts.push(sound[end - size : end]) for size, end in zip(sizes, ends, strict=True)]
    many = np.concatenate((*out, parts.finish()))
    assert one.size == many.size == sound.size
    assert np.abs(one.astype(int) - many.astype(int)).max(initial=0) <= 1


def test_the_same_sound_always_gives_the_same() -> None:
    voice = human("cards_1")
    assert np.array_equal(DENOISER.clean(voice), DENOISER.clean(voice))


def test_nothing_in_gives_nothing_out() -> None:
    assert DENOISER.clean(np.zeros(0, dtype=np.int16)).size == 0


def test_a_voice_in_a_fan_is_cut_where_it_is_with_its_own_samples() -> None:
    voice = human("digits")
    quiet = np.zeros(2 * 16000, dtype=np.int16)
    stream = np.concatenate((quiet, voice, quiet))
    stream = np.clip(stream + noise(stream.size, 200.0), -32768, 32767).astype(np.int16)
    cutter = Cutter(denoiser=DENOISER)
    found = []
    for at in range(0, stream.size, 1600):
        found += cutter.push(stream[at : at + 1600])
    found += cutter.flush()
    assert len(found) == 1
    (one,) = found
    assert 1.5 < one.start < 3.0
    assert one.end > 2 + voice.size / 16000 - 1.0
    start = round(one.start * 16000)
    assert np.array_equal(one.samples, stream[start : start + one.samples.size])
