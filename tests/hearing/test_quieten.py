"""When sound is denoised before it is heard, with a denoiser that leaves a mark."""

import numpy as np
import pytest

from benchvoice.hearing.quieten import NOISY_DB, WET, quieten, span_db


class Halver:
    """Not a denoiser at all: gives half of every sample, and counts its calls."""

    name = "halver"

    def __init__(self) -> None:
        self.calls = 0

    def clean(self, samples: np.ndarray) -> np.ndarray:
        self.calls += 1
        return samples // 2

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
    halver = Halver()
    clear, noisy = voice_over(1.0), voice_over(100.0)
    assert span_db(clear) > NOISY_DB > span_db(noisy)
    assert quieten(clear, halver) is clear
    assert halver.calls == 0
    expected = WET * (noisy // 2) + (1 - WET) * noisy
    assert np.abs(quieten(noisy, halver) - expected).max() <= 0.5 + 1e-9
    assert quieten(noisy, None) is noisy


def test_next_to_nothing_has_no_span() -> None:
    assert span_db(np.zeros(10, dtype=np.int16)) == 0.0
