"""The two clocks of a session: seconds of work, and the time of day."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import NamedTuple


class Clock(NamedTuple):
    """`seconds` only ever grows, from any start; `wall` gives the time of day with its offset."""

    seconds: Callable[[], float]
    wall: Callable[[], datetime]


def real_clock() -> Clock:
    """Give the clocks of the machine."""
    return Clock(time.monotonic, lambda: datetime.now().astimezone())


class ScriptedClock:
    """Clocks that move only when told to; for recordings, tests and invented histories.

    `start` needs a UTC offset.
    """

    def __init__(self, start: datetime) -> None:
        if start.tzinfo is None:
            raise ValueError("start needs a UTC offset")
        self._start = start
        self._seconds = 0.0

    @property
    def clock(self) -> Clock:
        """The clocks, to be handed to a journal."""
        return Clock(lambda: self._seconds, self._wall)

    def advance(self, seconds: float) -> None:
        """Let `seconds` (not below zero) go by."""
        if seconds < 0:
            raise ValueError("clocks do not run backwards")
        self._seconds += seconds

    def _wall(self) -> datetime:
        return self._start + timedelta(seconds=self._seconds)
