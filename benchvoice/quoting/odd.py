"""Sessions whose times are not like the others'."""

from __future__ import annotations

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
    by_step: dict[str, list[tuple[int, float]]] = {}
    for number, times in enumerate(sessions):
        for step, minutes in times.minutes.items():
            if minutes > 0:
                by_step.setdefault(step, []).append((number, minutes))
    for number, times in enumerate(sessions):
        ratios = [
            log(minutes / median(others))
            for step, minutes in times.minutes.items()
            if minutes > 0
            and len(others := [one for at, one in by_step[step] if at != number]) >= FEWEST_OTHERS
        ]
        yield exp(median(ratios)) if len(ratios) >= FEWEST_STEPS else None
