"""What is done around any engine's hearing, with hearings that are told what to hear."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from benchvoice.audio import Samples
from benchvoice.hearing import Heard, Hypothesis
from benchvoice.hearing.attend import attend

HOPELESS = 0.9
SOUND: Samples = (3000 * np.sin(np.arange(16_000) * 0.3)).astype(np.int16)


class Hearing:
    """Hears what it is told whatever the sound, and keeps the sounds."""

    def __init__(self, text: str, confidence: float, garbage: float | None = None) -> None:
        self.heard = Heard((Hypothesis(text, confidence, 0.0),), garbage=garbage)
        self.sounds: list[Samples] = []

    def __call__(self, samples: Samples) -> Heard:
        self.sounds.append(samples)
        return self.heard


class Muffler:
    """Stands for a denoiser: everything becomes still."""

    name = "muffler"

    def clean(self, samples: Samples) -> Samples:
        return np.zeros_like(samples)


def refused_over(limit: float) -> Callable[[Heard], Heard]:
    return lambda heard: replace(heard, trusted=(heard.garbage or 0.0) < limit)


def attended(first: Hearing, copy: Hearing | None = None, denoiser: Muffler | None = None) -> Heard:
    return attend(
        SOUND,
        denoiser,
        hear=first,
        hear_copy=copy or first,
        hopeless=lambda heard: (heard.garbage or 0.0) >= HOPELESS,
        judge=refused_over(0.5),
    )


def test_what_is_clear_is_heard_once() -> None:
    first, copy = Hearing("two seals", 0.95), Hearing("ten seals", 0.95)
    assert attended(first, copy).text == "two seals"
    assert (len(first.sounds), len(copy.sounds)) == (1, 0)


def test_what_is_not_clear_is_heard_again_faster_and_keeps_its_first_garbage_score() -> None:
    first, copy = Hearing("two seals", 0.4, 0.3), Hearing("ten seals", 0.7)
    heard = attended(first, copy)
    assert [(one.text, one.confidence) for one in heard.hypotheses] == [("ten seals", 0.35)]
    assert heard.garbage == 0.3
    assert heard.trusted
    assert copy.sounds[0].size < first.sounds[0].size


def test_what_is_hopeless_is_heard_once_and_judged() -> None:
    first = Hearing("two seals", 0.4, HOPELESS)
    assert not attended(first).trusted
    assert len(first.sounds) == 1


@pytest.mark.parametrize("denoiser", [None, Muffler()])
def test_a_steady_tone_is_taken_for_noise_where_there_is_a_denoiser(
    denoiser: Muffler | None,
) -> None:
    first = Hearing("two seals", 0.95)
    attended(first, denoiser=denoiser)
    loudest = np.abs(first.sounds[0]).max()
    assert loudest == np.abs(SOUND).max() if denoiser is None else loudest <= 300


def test_no_sound_is_nothing() -> None:
    first = Hearing("two seals", 0.95)
    still = np.zeros(0, dtype=np.int16)
    assert (
        attend(
            still,
            None,
            hear=first,
            hear_copy=first,
            hopeless=lambda _: False,
            judge=refused_over(1),
        )
        == Heard()
    )
    assert first.sounds == []
