"""Listening again when the first guess was not clear.

Copies of the utterance, changed as little as a different microphone or
speaker would change it, make an engine err in other places.  What is heard in
most of them is most likely right: the posteriors are averaged (system
combination in the manner of Evermann and Woodland, "Posterior probability
decoding, confidence estimation and system combination", 2000).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

import numpy as np
import soxr

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.engine import MAX_HYPOTHESES, Heard, Hypothesis, best_first

CLEAR = 0.6
"""A first guess of this confidence is taken as it is; chosen on synthetic bench talk."""

AGREED = 0.5
LONGEST = 8.0
"""Seconds; what is longer is several remarks in one breath, or the radio."""

_SPEEDS = (1.06, 0.94)
"""The faster first: it mends most, and costs least."""


def listen_again(
    samples: Samples,
    hear: Callable[[Samples], Heard],
    hopeless: Callable[[Heard], bool] = lambda _: False,
) -> Heard:
    """Hear once, and when that is not clear also a faster and then a slower copy.

    What is `hopeless` the first time, or long, is not worth the time; nor are
    more copies once the first guess has stood against some with AGREED
    confidence.
    """
    heards = [hear(samples)]
    first = heards[0]
    if first.confidence >= CLEAR or not first.hypotheses or hopeless(first):
        return first
    if samples.size > LONGEST * SAMPLE_RATE:
        return first
    most = len(first.hypotheses)
    for copy in _copies(samples):
        heards.append(hear(copy))
        pooled = pool(heards, most)
        if pooled.text == first.text and pooled.confidence >= AGREED:
            break
    return pooled


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


def _copies(samples: Samples) -> Iterator[Samples]:
    sound = samples.astype(np.float32)
    for speed in _SPEEDS:
        paced = soxr.resample(sound, SAMPLE_RATE * speed, SAMPLE_RATE)
        yield np.clip(paced, -32768, 32767).astype(np.int16)
