"""Hold-to-talk with a key of which only presses are told.

A terminal tells when a key goes down and, while it is held, sends it again
and again; it does not tell when the key goes up (VT-style input has no such
message).  So a key that repeats is taken as held until the repeats stop, and
one that does not was tapped: a tap opens, the next tap closes.  A USB foot
pedal is a keyboard with one key.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass


@dataclass(frozen=True)
class HoldSettings:
    """Times in seconds.

    `first` is how long the first repeat may keep one waiting (keyboards are
    set to 0.25 to 0.7 s as a rule; common practice, no source), `gap` how long
    the later ones may, `longest` when a key that was tapped is taken as forgotten.
    """

    first: float = 0.8
    gap: float = 0.3
    longest: float = 60.0


class HoldKey:
    """When one key was down, as far as its presses tell.  Times must not go back."""

    def __init__(self, settings: HoldSettings | None = None) -> None:
        self.settings = settings or HoldSettings()
        self._opened: float | None = None
        self._last = -math.inf
        self._repeats = False
        self._closing = False
        self._past: deque[tuple[float, float]] = deque(maxlen=16)

    def press(self, at: float) -> None:
        """Take a press or a repeat."""
        before, self._last = self._last, at
        soon = at - before <= (self.settings.gap if self._repeats else self.settings.first)
        if self._closing and soon:  # the tap that closed is still held down
            return
        self._closing = False
        if self._opened is not None and at <= self._end(before):
            if soon:
                self._repeats = True
            else:
                self._close(at)
                self._closing = True
            return
        if self._opened is not None:
            self._close(self._end(before))
        self._opened, self._repeats = at, False

    def is_open(self, at: float) -> bool:
        """Whether the key is down at `at`, or was tapped open."""
        return self.open_between(at, at)

    def open_between(self, start: float, end: float) -> bool:
        """Whether it was down at any time from `start` to `end`."""
        spans = list(self._past)
        if self._opened is not None:
            spans.append((self._opened, self._end(self._last)))
        return any(first <= end and start <= last for first, last in spans)

    def _end(self, last: float) -> float:
        assert self._opened is not None
        if self._repeats:
            return last + self.settings.gap
        return self._opened + self.settings.longest

    def _close(self, at: float) -> None:
        assert self._opened is not None
        self._past.append((self._opened, at))
        self._opened, self._repeats = None, False
