"""What the quote can say it has learned beside the steps' own times."""

from __future__ import annotations

import numpy as np

from benchvoice.quoting.beside import Condition
from benchvoice.quoting.forecast import Forecast
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.quote import Adder, Practice

SURE = 0.9
"""A condition is shown when it is this likely that it adds time (or that it takes time off)."""


def adders_of(made: Forecast) -> tuple[Adder, ...]:
    """Give the conditions with evidence, those that add most first."""
    found = [
        _adder(made, one, minutes)
        for one in made.beside.conditions
        if evidence(minutes := added_minutes(made, one)) >= SURE
    ]
    return tuple(sorted(found, key=lambda adder: -adder.minutes))


def added_minutes(made: Forecast, one: Condition) -> Array:
    """Give draws of the minutes that a condition adds to an ordinary session of its step, (D,)."""
    plain = np.exp(made.posterior.mean[:, one.column])
    added: Array = plain * np.expm1(made.posterior.adder[:, one.slot, one.column])
    return added


def eight_of_ten(draws: Array) -> tuple[float, float, float]:
    """Give the bounds that hold 8 of 10 draws, with the middle one between them."""
    low, middle, high = (float(value) for value in np.quantile(draws, (0.1, 0.5, 0.9)))
    return low, middle, high


def evidence(minutes: Array) -> float:
    """Give the probability of the likelier sign."""
    above = float((minutes > 0).mean())
    return max(above, 1 - above)


def practice_of(made: Forecast) -> Practice | None:
    """Give what practice does, when the sessions' order is known."""
    if not made.beside.repeat.any():
        return None
    low, middle, high = np.exp(eight_of_ten(made.posterior.learning))
    return Practice(
        factor=float(middle),
        low=float(low),
        high=float(high),
        repeats=len(made.beside.repeat),
        counted=made.odds.practice > 0,
    )


def _adder(made: Forecast, one: Condition, minutes: Array) -> Adder:
    step = made.given.steps[one.column]
    low, middle, high = eight_of_ten(minutes)
    return Adder(
        step=step.id,
        title=step.title,
        condition=one.name,
        minutes=middle,
        low=low,
        high=high,
        found=one.found,
        timed=one.timed,
    )
