"""How loud the talk is that goes on in the shop: a radio's, or other people's."""

from __future__ import annotations

import math
import statistics
from bisect import bisect_left, insort
from collections import deque

_MEMORY = 167
"""Frames that are remembered: 5 s.  With 10 s as many remarks are cut out alone; this lets go of a
radio that was switched off sooner."""
_FEW = 30
_MOSTLY, _SOMETIMES = 0.5, 0.3
"""Shares of talk in the frames remembered; in a quiet shop there are only the ends of words."""
_ABOVE_DB = 7.0
"""How far above the middle level of a radio somebody nearer stands: its loudest third of a second
in a minute is about 6 dB above it."""
_LOUDEST_DB = 7.0
"""Most of what a speaker says is less than this beneath the loudest third of a second of it."""
_FALL_DB = 3.0
"""How much the speaker is taken to be softer after one soft utterance."""


class Radio:
    """Follows the talk outside the utterances, and tells how loud a voice must be that is nearer.

    Levels are dBFS of the sound as it came, over a third of a second: over a radio a denoiser
    holds the speaker down as well, for whole words.  Where there is no such talk nothing is
    asked of a voice, so that a soft remark in a quiet shop is heard.
    """

    def __init__(self) -> None:
        self._levels: deque[float | None] = deque()
        self._talk: list[float] = []  # those of talk, the softest first
        self._speaker = math.inf  # the loudest moment of the last utterances

    def hear(self, level: float, talk: bool) -> None:
        """Take a frame outside the utterances, with its level and whether there was talk in it."""
        if len(self._levels) == _MEMORY:
            oldest = self._levels.popleft()
            if oldest is not None:
                del self._talk[bisect_left(self._talk, oldest)]
        self._levels.append(level if talk else None)
        if talk:
            insort(self._talk, level)

    def spoken(self, loudest: float) -> None:
        """Take the loudest level of an utterance that has ended."""
        falls = -math.inf if self._speaker == math.inf else self._speaker - _FALL_DB
        self._speaker = max(loudest, falls)

    @property
    def may_be_on(self) -> bool:
        """Whether there is talk, or too little was heard to know."""
        return len(self._levels) < _FEW or len(self._talk) >= _SOMETIMES * len(self._levels)

    @property
    def is_on(self) -> bool:
        """Whether a voice must stand out from a radio now."""
        return self.least() > -math.inf

    def least(self, loudest: float | None = None) -> float:
        """Give the level above which a voice is nearer than the radio; minus infinity without one.

        However loud the radio, what is little beneath the speaker's own voice is the speaker:
        `loudest` is that of the utterance under way, without one those before it tell.
        """
        if len(self._levels) < _FEW or len(self._talk) < _MOSTLY * len(self._levels):
            return -math.inf
        speaker = self._speaker if loudest is None else loudest
        return min(statistics.median(self._talk) + _ABOVE_DB, speaker - _LOUDEST_DB)
