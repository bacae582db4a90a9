"""The labour quote of one outline from past sessions' step minutes."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.quoting.drivers import drivers_of
from benchvoice.quoting.forecast import Forecast, forecast
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.intake import Intake, check_rate
from benchvoice.quoting.learned import adders_of, practice_of
from benchvoice.quoting.priors import DEFAULT, Prior
from benchvoice.quoting.quote import (
    Basis,
    Promise,
    Quote,
    SessionTimes,
    StepQuote,
    price_of,
    range_of,
)


def quote_of(
    made: Forecast,
    *,
    rate: Decimal | None = None,
    currency: str | None = None,
    promised: float | None = None,
) -> Quote:
    """Make the quote, with the price at `rate` per hour and the chance of passing `promised` hours.

    Raises BadInput for an unusable rate or promise.
    """
    if rate is not None:
        check_rate(rate)
    whole = made.jobs.sum(axis=1)
    total = range_of(whole)
    return Quote(
        outline=made.outline.name,
        title=made.outline.title,
        sessions=len(made.given.minutes),
        steps=_step_quotes(made.given, made.jobs),
        total=total,
        price=None if rate is None else price_of(total, rate, currency),
        notes=made.given.notes,
        promise=None if promised is None else _promise(whole, promised),
        drivers=drivers_of(made),
        adders=adders_of(made),
        practice=practice_of(made),
    )


def estimate(
    outline: Outline,
    sessions: Sequence[SessionTimes],
    *,
    rate: Decimal | None = None,
    currency: str | None = None,
    promised: float | None = None,
    draws: int = 4000,
    seed: int = 1,
    prior: Prior = DEFAULT,
    half_life: float | None = None,
    who: str | None = None,
) -> Quote:
    """Quote the labour of `outline`, in minutes, and its price when `rate` per hour is given.

    Works from no sessions (book minutes only) upward.  The total is simulated
    job by job, so slow units are slow in all their steps.  The same arguments
    give the same quote.  Raises BadInput as `forecast` and `quote_of` do.
    """
    if rate is not None:
        check_rate(rate)
    made = forecast(
        outline, sessions, draws=draws, seed=seed, prior=prior, half_life=half_life, who=who
    )
    return quote_of(made, rate=rate, currency=currency, promised=promised)


def _promise(whole: Array, hours: float) -> Promise:
    if not 0 < hours < 10**6:
        raise BadInput(f"{hours} hours cannot be promised", mend="give hours above zero")
    return Promise(hours=hours, over=float((whole > hours * 60.0).mean()))


def _step_quotes(given: Intake, jobs: Array) -> tuple[StepQuote, ...]:
    timed = np.isfinite(given.minutes).sum(axis=0)
    quotes = []
    for column, step in enumerate(given.steps):
        n = int(timed[column])
        basis: Basis = "timed" if n else "none" if step.minutes is None else "book"
        quotes.append(
            StepQuote(
                id=step.id, title=step.title, n=n, range=range_of(jobs[:, column]), basis=basis
            )
        )
    return tuple(quotes)
