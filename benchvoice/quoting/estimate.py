"""The labour quote of one outline from past sessions' step minutes."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.quoting.gibbs import Array
from benchvoice.quoting.intake import Intake, check_rate, take_in
from benchvoice.quoting.model import fit, simulate, tabulate
from benchvoice.quoting.priors import DEFAULT, Prior
from benchvoice.quoting.quote import Basis, Quote, Range, SessionTimes, StepQuote, price_of


def estimate(
    outline: Outline,
    sessions: Sequence[SessionTimes],
    *,
    rate: Decimal | None = None,
    currency: str | None = None,
    draws: int = 4000,
    seed: int = 1,
    prior: Prior = DEFAULT,
) -> Quote:
    """Quote the labour of `outline`, in minutes, and its price when `rate` per hour is given.

    Works from no sessions (book minutes only) upward.  The total is simulated
    job by job, so slow units are slow in all their steps.  The same arguments
    give the same quote.  Raises BadInput for unusable minutes, rate or draws.
    """
    if draws < 100:
        raise BadInput(f"{draws} draws are too few for a range", mend="take 100 or more")
    if rate is not None:
        check_rate(rate)
    given = take_in(outline, sessions)
    rng = np.random.default_rng(seed)
    table = tabulate(given.minutes, given.book, given.stage, prior)
    posterior = fit(table, draws=draws, rng=rng, prior=prior)
    jobs = simulate(posterior, draws=draws, rng=rng)
    total = range_of(jobs.sum(axis=1))
    return Quote(
        outline=outline.name,
        title=outline.title,
        sessions=len(given.minutes),
        steps=_step_quotes(given, jobs),
        total=total,
        price=None if rate is None else price_of(total, rate, currency),
        notes=given.notes,
    )


def range_of(minutes: Array) -> Range:
    """Give the range of simulated minutes, shape (draws,)."""
    p10, p50, p80, p90 = (float(value) for value in np.quantile(minutes, (0.1, 0.5, 0.8, 0.9)))
    return Range(p10=p10, p50=p50, p80=p80, p90=p90)


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
