"""Hold-to-talk with a key of which only presses are told.

A terminal tells when a key goes down and, while it is held, sends it again
and again; it does not tell when the key goes up.  So a key that repeats is
taken as held until the repeats stop, and one that does not was tapped: a tap
opens, the next tap closes.  A USB foot pedal is a keyboard with one key.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass


@dataclass(frozen=True)
class HoldSettings:
    """Times in seconds.

    `first` is how long the first repeat may keep one waiting: keyboards are
    set to 0.25 to 1 s (IBM PS/2 Hardware Interface Technical Reference,
    "Set Typematic Rate/Delay": 250, 500, 750, 1000 ms, and 2 to 30 a second).
    A later repeat that does not come within `patience` times the time between
    two of them, but no less than `shortest` (hearing a remark can keep the
    keyboard waiting) and no more than `slowest`, is a key let go.  After `longest` a key
    that was tapped is taken as forgotten.
    """

    first: float = 1.1
    patience: float = 2.5
    shortest: float = 0.5
    slowest: float = 0.6
    longest: float = 60.0


class HoldKey:
    """When one key was down, as far as its presses tell.  Times must not go back."""

    def __init__(self, settings: HoldSettings | None = None) -> None:
        self.settings = settings or HoldSettings()
        self._opened: float | None = None
        self._last = -math.inf
        self._repeats = 0
        self._gap = self.settings.first
        self._closing = False
        self._past: deque[tuple[float, float]] = deque(maxlen=16)

    def press(self, at: float) -> None:
        """Take a press or a repeat."""
        before, self._last = self._last, at
        if at - before <= self._gap and (self._opened is not None or self._closing):
            self._repeated(at - before)
            return
        if self._opened is not None:
            tapped = not self._repeats and at <= self._end(before)
            self._past.append((self._opened, at if tapped else self._end(before)))
            self._opened, self._closing = None, tapped
        else:
            self._closing = False
        if not self._closing:
            self._opened = at
        self._repeats, self._gap = 0, self.settings.first

    def is_open(self, at: float) -> bool:
        """Whether the key is down at `at`, or was tapped open."""
        return self.open_between(at, at)

    def open_between(self, start: float, end: float) -> bool:
        """Whether it was down at any time from `start` to `end`."""
        spans = list(self._past)
        if self._opened is not None:
            spans.append((self._opened, self._end(self._last)))
        return any(first <= end and start <= last for first, last in spans)

    def _repeated(self, interval: float) -> None:
        """The key is held: learn how often it repeats itself, of which the first tells nothing."""
        limits = self.settings
        self._repeats += 1
        self._gap = limits.slowest
        if self._repeats > 1:
            self._gap = min(limits.slowest, max(limits.shortest, limits.patience * interval))

    def _end(self, last: float) -> float:
        if self._repeats:
            return last + self._gap
        return (self._opened or 0.0) + self.settings.longest
