"""Listening again when the first guess was not clear.

Copies of the utterance, changed as little as a different microphone or
speaker would change it, make an engine err in other places.  What is heard in
most of them is most likely right: the posteriors are averaged (system
combination in the manner of Evermann and Woodland, "Posterior probability
decoding, confidence estimation and system combination", 2000).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
import soxr

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.engine import MAX_HYPOTHESES, Heard, Hypothesis, best_first

CLEAR = 0.9
"""A first guess of this confidence is taken as it is; chosen on synthetic bench talk."""

_SPEEDS = (0.94, 1.06)
_NOISE = 10.0
"""RMS of the noise added to one copy, in 16 bit steps: about -70 dBFS."""
_SEED = 7


def listen_again(
    samples: Samples,
    hear: Callable[[Samples], Heard],
    hopeless: Callable[[Heard], bool] = lambda _: False,
) -> Heard:
    """Hear once, and when that is not clear also a noisier, a slower and a faster copy.

    What is `hopeless` the first time is not worth the trouble.
    """
    first = hear(samples)
    if first.confidence >= CLEAR or not first.hypotheses or hopeless(first):
        return first
    heards = [first, *(hear(copy) for copy in _copies(samples))]
    return pool(heards, max(len(heard.hypotheses) for heard in heards))


def pool(heards: Sequence[Heard], most: int = MAX_HYPOTHESES) -> Heard:
    """Average the confidences of texts over several hearings of one utterance.

    A text that one hearing did not have counts 0 there; `score` is the
    natural log of the average.
    """
    shares: dict[str, float] = {}
    for heard in heards:
        for guess in heard.hypotheses:
            shares[guess.text] = shares.get(guess.text, 0.0) + guess.confidence / len(heards)
    guesses = (
        Hypothesis(text, share, math.log(share)) for text, share in shares.items() if share > 0
    )
    return best_first(guesses, most)


def _copies(samples: Samples) -> list[Samples]:
    noise = np.random.default_rng(_SEED).normal(0.0, _NOISE, samples.size)
    noisy = np.clip(samples + noise, -32768, 32767).astype(np.int16)
    sound = samples.astype(np.float32)
    paced = [
        np.clip(soxr.resample(sound, SAMPLE_RATE * speed, SAMPLE_RATE), -32768, 32767)
        for speed in _SPEEDS
    ]
    return [noisy, *(copy.astype(np.int16) for copy in paced)]
