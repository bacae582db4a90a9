"""Sessions whose times are not like the others'."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterator, Sequence
from math import exp, log
from statistics import median

from benchvoice.quoting.quote import SessionTimes

TYPED = 0.1
"""Below this share of the usual time a job was written down, not worked (no source: from memory,
nobody is ten times as quick as he usually is)."""
STANDS_OUT = 3.0
"""So many times as long or as short as usual is worth a look (no source)."""
FEWEST_STEPS = 5
"""Fewer steps that others timed too tell nothing of a session."""
FEWEST_OTHERS = 2
"""Nothing is usual with fewer other sessions."""


def paces(sessions: Sequence[SessionTimes]) -> Iterator[float | None]:
    """Yield how many times the usual time the steps of each session took, in the middle.

    Usual is the median of the other sessions that timed the step.  None where
    too little is there to compare with.
    """
    by_step: dict[str, list[float]] = {}
    for times in sessions:
        for step, minutes in times.minutes.items():
            if minutes > 0:
                insort(by_step.setdefault(step, []), minutes)
    for times in sessions:
        ratios = [
            log(minutes / _median_without(minutes, by_step[step]))
            for step, minutes in times.minutes.items()
            if minutes > 0 and len(by_step[step]) > FEWEST_OTHERS
        ]
        yield exp(median(ratios)) if len(ratios) >= FEWEST_STEPS else None


def _median_without(own: float, ordered: Sequence[float]) -> float:
    """Give the median of ordered values but for one that is `own`, without going through them.

    >>> _median_without(1.0, [1.0, 2.0, 4.0]), _median_without(2.0, [1.0, 2.0, 2.0, 4.0])
    (3.0, 2.0)
    """
    left_out, others = bisect_left(ordered, own), len(ordered) - 1
    low, high = (ordered[at + (at >= left_out)] for at in ((others - 1) // 2, others // 2))
    return (low + high) / 2
