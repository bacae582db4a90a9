"""Whether an utterance was for the bench at all."""

from __future__ import annotations

import math
from dataclasses import replace

from benchvoice.hearing.engine import MAX_HYPOTHESES, Heard

GARBAGE = 0.85
"""From this garbage score on an utterance is not trusted, whatever it would mean."""
OWN = 0.4
"""Below this score an utterance is for the bench, and foreign words in it are mistakes."""
HOPELESS = 0.9
"""From this score on an utterance is not listened to again."""
_BIAS, _UNSURE, _FOREIGN = -3.8, 1.2, 13.9
"""Fitted on 58 remarks, clean and at 20 dB, and 83 utterances of chatter, all synthetic."""


def judged(heard: Heard, foreign: frozenset[str]) -> Heard:
    """Give the guesses with their garbage score, and whether they are trusted.

    Of speech that is clearly for the bench only guesses without foreign words
    are kept, where there are any ("either bolts" was "eight bolts"), and share
    its confidence.
    """
    score = round(garbage(heard, foreign), 4)
    few = heard.hypotheses[:MAX_HYPOTHESES]
    if score >= OWN:
        return replace(heard, hypotheses=few, garbage=score, trusted=score < GARBAGE)
    own = [one for one in heard.hypotheses if foreign.isdisjoint(one.text.split())]
    part = sum(one.confidence for one in own) / sum(one.confidence for one in heard.hypotheses)
    if not part:
        return replace(heard, hypotheses=few, garbage=score)
    own = [replace(one, confidence=min(1.0, one.confidence / part)) for one in own]
    return replace(heard, hypotheses=tuple(own[:MAX_HYPOTHESES]), garbage=score)


def garbage(heard: Heard, foreign: frozenset[str]) -> float:
    """Give how likely speech was not for the bench, 0 to 1; 1 when nothing was made out.

    A logistic regression on how unsure the best guess is and on the share of
    `foreign` words over all guesses.
    """
    if not heard.hypotheses:
        return 1.0
    unsure = -math.log(heard.confidence + 1e-3)
    return 1 / (
        1 + math.exp(-(_BIAS + _UNSURE * unsure + _FOREIGN * foreign_share(heard, foreign)))
    )


def foreign_share(heard: Heard, foreign: frozenset[str]) -> float:
    """Give the expected share of words that are foreign, 0 to 1, weighted by confidence."""
    total = sum(guess.confidence for guess in heard.hypotheses)
    if not total:
        return 0.0
    shares = 0.0
    for guess in heard.hypotheses:
        words = guess.text.split()
        shares += guess.confidence * sum(word in foreign for word in words) / max(1, len(words))
    return shares / total
