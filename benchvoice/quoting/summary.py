"""Plain statistics of past timings, as a time study has them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, fsum, nan, sqrt

WITHIN = 0.05
"""How near the mean is to come to the true one, as a share of it."""
DEVIATIONS = 2.0
"""Standard deviations for 95.45% confidence, as time studies have it."""


@dataclass(frozen=True, kw_only=True)
class Summary:
    """Mean, median and sample standard deviation of `n` timings, in their unit.

    `lag1` is the correlation of each with the one before, NaN when there is no
    spread; `sd` is NaN for fewer than two.
    """

    n: int
    mean: float
    median: float
    sd: float
    lag1: float


def summary(values: Sequence[float]) -> Summary:
    """Sum up one or more values in the order given.

    Formulas of the NIST Statistical Reference Datasets, univariate summary
    statistics; exact sums keep digits that a plain running sum loses.
    """
    n = len(values)
    mean = fsum(values) / n
    apart = [value - mean for value in values]
    squares = fsum(one * one for one in apart)
    products = fsum(one * two for one, two in pairwise(apart))
    ordered = sorted(values)
    return Summary(
        n=n,
        mean=mean,
        median=(ordered[(n - 1) // 2] + ordered[n // 2]) / 2,
        sd=sqrt(squares / (n - 1)) if n > 1 else nan,
        lag1=products / squares if squares > 0 else nan,
    )


def timings_needed(
    values: Sequence[float], *, within: float = WITHIN, deviations: float = DEVIATIONS
) -> int:
    """Say how many timings it takes for the mean to be `within` that share of the true one.

    The statistical method of International Labour Office, "Introduction to
    Work Study", chapter on time study: n = (40 sqrt(n' sum x^2 - (sum x)^2) /
    sum x)^2 for 5% and 95.45%.
    """
    n = len(values)
    total = fsum(values)
    spread = n * fsum((value - total / n) ** 2 for value in values)
    return max(1, ceil((deviations / within) ** 2 * spread / total**2))
