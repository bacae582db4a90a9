"""What waits to be said: the pressing first, the stale never."""

from __future__ import annotations

from dataclasses import dataclass

from benchvoice.saying.lines import Line, Urgency

_FRESH = {
    Urgency.CAUTION: 60.0,
    Urgency.WARNING: 30.0,
    Urgency.QUESTION: 10.0,
    Urgency.ANSWER: 8.0,
    Urgency.ENTRY: 4.0,
}
"""Seconds after which a line is no use any more: the work has gone on, and it is on the screen."""

_ONLY_ONE = frozenset({Urgency.QUESTION, Urgency.ANSWER, Urgency.ENTRY})
"""Of these a newer one takes the place of an older."""


@dataclass(frozen=True)
class _Waiting:
    line: Line
    since: float


class Pending:
    """A queue of lines by urgency, then age.  Times are seconds of any one clock."""

    def __init__(self) -> None:
        self._waiting: list[_Waiting] = []

    def __len__(self) -> int:
        return len(self._waiting)

    def put(self, line: Line, now: float) -> None:
        """Add a line; one that waits already is not said twice."""
        if any(one.line == line for one in self._waiting):
            return
        if line.urgency in _ONLY_ONE:
            self._waiting = [one for one in self._waiting if one.line.urgency != line.urgency]
        self._waiting.append(_Waiting(line, now))

    def take(self, now: float) -> Line | None:
        """Give the next line to say and forget it and all stale ones; None when there is none."""
        self._waiting = [
            one for one in self._waiting if now - one.since <= _FRESH[one.line.urgency]
        ]
        if not self._waiting:
            return None
        first = min(self._waiting, key=lambda one: (one.line.urgency, one.since))
        self._waiting.remove(first)
        return first.line

    def clear(self) -> None:
        """Forget all."""
        self._waiting.clear()
