"""Listening again when the first guess was not clear.

A copy of the utterance, changed as little as another speaker would change it,
makes an engine err in other places.  What is heard in both is most likely
right: the posteriors are averaged (system combination in the manner of
Evermann and Woodland, "Posterior probability decoding, confidence estimation
and system combination", 2000).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import soxr

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.engine import MAX_HYPOTHESES, Heard, Hypothesis, best_first

CLEAR = 0.9
"""A first guess of this confidence is taken as it is.  With 0.5 one of 100 development remarks,
and one of the 56 of the demo, fewer is right."""

LONGEST = 8.0
"""Seconds; what is longer is several remarks in one breath, or the radio."""

_SPEED = 1.06
"""How much faster the copy is: as if from a smaller throat.  A slower and a noisier copy besides
cost as much time again and mended nothing more."""

Hear = Callable[[Samples], Heard]


def listen_again(
    samples: Samples, hear: Hear, hear_copy: Hear, hopeless: Callable[[Heard], bool]
) -> Heard:
    """Hear once, and when that is not clear also a faster copy, by `hear_copy`.

    What is `hopeless` the first time, or long, is not worth the time.  The
    first garbage score stays.
    """
    first = hear(samples)
    if first.confidence >= CLEAR or not first.hypotheses or hopeless(first):
        return first
    if samples.size > LONGEST * SAMPLE_RATE:
        return first
    pooled = pool([first, hear_copy(_faster(samples))], len(first.hypotheses))
    return replace(pooled, garbage=first.garbage)


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


def _faster(samples: Samples) -> Samples:
    sound = soxr.resample(samples.astype(np.float32), SAMPLE_RATE * _SPEED, SAMPLE_RATE)
    faster: Samples = np.clip(sound, -32768, 32767).astype(np.int16)
    return faster
