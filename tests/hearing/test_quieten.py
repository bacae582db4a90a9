"""When sound is denoised before it is heard, and how much, with denoisers of known effect."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from benchvoice.hearing.quieten import NOISY_DB, WET, WET_IN_TALK, quieten, span_db

HUMAN = Path(__file__).parents[1] / "recordings" / "human"


class Taker:
    """Not a denoiser at all: takes away what it was given, and counts its calls."""

    name = "taker"

    def __init__(self, taken: np.ndarray) -> None:
        self.taken, self.calls = taken, 0

    def clean(self, samples: np.ndarray) -> np.ndarray:
        self.calls += 1
        return samples - self.taken

    def stream(self) -> None:
        raise AssertionError("not asked for")


def voice_over(floor: float) -> np.ndarray:
    """Half a second of tone of RMS 1000 within a second of noise of RMS `floor`."""
    sound = np.random.default_rng(0).normal(0, floor, 16000)
    sound[4000:12000] += 1414 * np.sin(2 * np.pi * 300 * np.arange(8000) / 16000)
    return sound.astype(np.int16)


@pytest.mark.parametrize("ratio", [10.0, 20.0, 50.0])
def test_the_span_is_that_of_tone_and_noise(ratio: float) -> None:
    assert span_db(voice_over(1000 / 10 ** (ratio / 20))) == pytest.approx(ratio, abs=1.5)


def test_a_voice_in_noise_is_mixed_and_a_clear_one_is_left_alone() -> None:
    clear, noisy = voice_over(1.0), voice_over(100.0)
    taker = Taker(voice_over(100.0) - voice_over(0.0))
    assert span_db(clear) > NOISY_DB > span_db(noisy)
    assert quieten(clear, taker) is clear
    assert taker.calls == 0
    expected = noisy - WET * taker.taken
    assert np.abs(quieten(noisy, taker) - expected).max() <= 0.5 + 1e-9
    assert quieten(noisy, None) is noisy


def human(name: str, size: int) -> np.ndarray:
    sound, _ = soundfile.read(HUMAN / f"{name}.flac", dtype="int16")
    return np.resize(sound, size)


def test_where_talk_would_be_taken_away_less_is() -> None:
    size, rng = 3 * 16000, np.random.default_rng(1)
    voice = human("digits", size) // 2 + rng.normal(0, 100, size).astype(np.int16)
    radio = (human("cards_5", size).astype(int) + np.roll(human("cards_2", size), 9000)) // 5
    fan = rng.normal(0, 200, size)
    time = np.arange(size) / 16000
    blows = 3000 * np.exp(-12 * (time % 0.5)) * np.sin(2 * np.pi * 500 * time)
    for taken, wet in ((radio, WET_IN_TALK), (fan, WET), (blows, WET)):
        taker = Taker(taken.astype(np.int16))
        noisy = voice + taker.taken
        assert span_db(noisy) < NOISY_DB
        quiet = quieten(noisy, taker)
        assert np.abs(quiet - (noisy - wet * taker.taken)).max() <= 0.5 + 1e-9


def test_next_to_nothing_has_no_span() -> None:
    assert span_db(np.zeros(10, dtype=np.int16)) == 0.0
