"""The model fitted to past sessions, and future jobs simulated from it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.quoting.beside import Beside, look_beside
from benchvoice.quoting.gibbs_values import Array, Table
from benchvoice.quoting.intake import Intake, take_in
from benchvoice.quoting.luck import Luck, Odds, deal, play
from benchvoice.quoting.model import Posterior, fit, tabulate
from benchvoice.quoting.priors import DEFAULT, Prior
from benchvoice.quoting.quote import SessionTimes

PRACTISED = 0.95
"""The quote counts on practice only when it is this likely that it makes the job quicker."""

Fit = Callable[[Table, int, int, Prior], Posterior]
"""Gives the posterior of a table, draws, seed and prior; `fitted`, or a cache before it."""


@dataclass(frozen=True)
class Forecast:
    """All that a quote is made of: what was given, what was learned, and the simulated jobs.

    `jobs` is (N, K) minutes; `luck` is what chance dealt them, at the `odds`.
    `offset` (K,) is the log minutes that each step starts from.
    """

    outline: Outline
    given: Intake
    beside: Beside
    posterior: Posterior
    odds: Odds
    luck: Luck
    jobs: Array
    offset: Array
    seed: int


def fitted(table: Table, draws: int, seed: int, prior: Prior) -> Posterior:
    """Fit the model, the same each time."""
    return fit(table, draws=draws, rng=np.random.default_rng([seed, 0]), prior=prior)


def forecast(
    outline: Outline,
    sessions: Sequence[SessionTimes],
    *,
    draws: int = 4000,
    seed: int = 1,
    prior: Prior = DEFAULT,
    half_life: float | None = None,
    who: str | None = None,
    fit_with: Fit = fitted,
) -> Forecast:
    """Learn from the sessions and simulate `draws` jobs.

    `half_life` in days makes old sessions count less; `who` is the technician
    of the job to come.  Raises BadInput for unusable minutes, draws or half-life.
    """
    if draws < 100:
        raise BadInput(f"{draws} draws are too few for a range", mend="take 100 or more")
    given = take_in(outline, sessions)
    beside = look_beside(given, half_life=half_life)
    table = table_of(given, beside, prior)
    posterior = fit_with(table, draws, seed, prior)
    odds = odds_of(posterior, beside, who)
    luck = deal(posterior, odds, jobs=draws, rng=np.random.default_rng([seed, 1]))
    return Forecast(
        outline=outline,
        given=given,
        beside=beside,
        posterior=posterior,
        odds=odds,
        luck=luck,
        jobs=play(posterior, luck),
        offset=table.offset,
        seed=seed,
    )


def table_of(given: Intake, beside: Beside, prior: Prior = DEFAULT) -> Table:
    """Lay out for the model what was given and what is known beside it."""
    return tabulate(
        given.minutes,
        given.book,
        given.stage,
        prior,
        weigh=beside.weigh,
        who=beside.who,
        repeat=beside.repeat,
        found=beside.found,
    )


def odds_of(posterior: Posterior, beside: Beside, who: str | None = None) -> Odds:
    """Give the odds of the job to come, done by `who`: with practice where that was learned."""
    odds = beside.odds(who)
    practised = float((posterior.learning < 0).mean()) >= PRACTISED
    return odds._replace(practice=beside.next_repeat) if practised else odds
