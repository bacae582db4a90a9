"""What tells speech for the bench from other talk, as far as an engine knows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from benchvoice.hearing.engine import MAX_HYPOTHESES, Clues, Heard

HOPELESS = 0.05
"""An utterance whose guesses without foreign words share less than this is not listened to again:
on synthetic talk four fifths of it, and 1 of 275 remarks that came out right."""
_MOSTLY = 0.5
"""From this share on foreign words in the other guesses are mistakes."""


@dataclass(frozen=True)
class SpokenWord:
    """One word of a path: `frames` of 10 ms long, of so many `sounds`.

    `fit` and `chance` are natural logs, at most 0: of its sound against the
    best rival sounds at each frame, summed, and of the word after those before it.
    """

    frames: int
    sounds: int
    fit: float
    chance: float


def judged(heard: Heard, foreign: frozenset[str], path: Sequence[SpokenWord]) -> Heard:
    """Give the guesses with what they tell of whether they are remarks.

    Of speech that is mostly for the bench only guesses without foreign words
    are kept ("either bolts" was "eight bolts"), and share its confidence.
    `path` are the words of the best guess of the first hearing.
    """
    if not heard.hypotheses:
        return heard
    own = own_share(heard, foreign)
    clues = Clues(
        own=round(own, 4),
        unlikely=-sum(word.chance for word in path) / max(1, len(path)),
        worst=max((-word.fit / word.frames for word in path), default=0.0),
        shortest=min((word.frames / word.sounds for word in path), default=0.0),
    )
    if own < _MOSTLY:
        return replace(heard, hypotheses=heard.hypotheses[:MAX_HYPOTHESES], clues=clues)
    kept = tuple(
        replace(one, confidence=min(1.0, one.confidence / own))
        for one in heard.hypotheses
        if foreign.isdisjoint(one.text.split())
    )
    return replace(heard, hypotheses=kept[:MAX_HYPOTHESES], clues=clues)


def own_share(heard: Heard, foreign: frozenset[str]) -> float:
    """Give the share of the guesses that have no foreign word, by confidence, 0..1."""
    total = sum(one.confidence for one in heard.hypotheses)
    own = sum(one.confidence for one in heard.hypotheses if foreign.isdisjoint(one.text.split()))
    return own / total if total else 0.0
