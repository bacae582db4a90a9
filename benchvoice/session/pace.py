"""Gaps that stand out from a step's own pace, as a phone call does."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log
from statistics import median

CUTOFF = 3.5
"""Modified z-score above which a value is an outlier: Iglewicz and Hoaglin 1993, "How to Detect
and Handle Outliers", ASQC Basic References in Quality Control 16."""
NORMAL = 0.6745
"""The 75% quantile of the normal distribution, which makes a MAD comparable with an sd."""
SMALLEST_MAD = 0.25
"""Of log minutes: a very even pace does not make every other gap an outlier (no source)."""
SHORTEST = 5.0
"""Minutes; a shorter gap is no interruption worth telling (common practice, no source)."""
BREATH = 0.1
"""Minutes; remarks closer than this are one breath, and tell nothing of the pace."""
FEWEST = 5
"""So many gaps are needed before a step has a pace."""


def doubtful_gaps(minutes: Sequence[float]) -> tuple[float, tuple[int, ...]]:
    """Give a step's usual gap, and the indices of the gaps that stand out above it.

    >>> doubtful_gaps([2.0, 3.0, 2.5, 2.0, 25.0, 3.0])
    (2.74, (4,))
    """
    logs = [log(gap) for gap in minutes if gap >= BREATH]
    if len(logs) < FEWEST:
        return (median(minutes) if minutes else 0.0), ()
    middle = median(logs)
    mad = max(SMALLEST_MAD, median(abs(value - middle) for value in logs))
    limit = middle + CUTOFF * mad / NORMAL
    found = (index for index, gap in enumerate(minutes) if gap >= SHORTEST and log(gap) > limit)
    return round(exp(middle), 2), tuple(found)
