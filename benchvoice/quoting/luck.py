"""Future jobs simulated from what the model learned."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchvoice.quoting.gibbs_values import Array, Indices
from benchvoice.quoting.model import Posterior


class Odds(NamedTuple):
    """How the job to come may turn out besides the times themselves.

    `found` (P, K) in how many past sessions the condition was found where the
    step was timed, `timed` (P, K) in how many it was timed (0: no such slot).
    `technicians` (T,) are the shares of who will do it; None is nobody known.
    """

    found: Array
    timed: Array
    technicians: Array | None = None


@dataclass(frozen=True)
class Luck:
    """What chance deals N simulated jobs.  Steps K, stages G, slots for conditions P.

    `pick` (N,) draws of the posterior, `session` (N,), `stage` (N, G) in
    standard deviations, `who` (N,) in log minutes, `found` (N, P, K) the
    conditions that are found, `residual` (N, K) over its scale.
    """

    pick: Indices
    session: Array
    who: Array
    stage: Array
    found: NDArray[np.bool_]
    residual: Array


def deal(posterior: Posterior, odds: Odds, *, jobs: int, rng: np.random.Generator) -> Luck:
    """Deal the luck of `jobs` future jobs.

    Real times are skewed even as logs: a stuck part costs more than a lucky
    day saves.  So, the more timings there are, the more of the residuals are
    drawn from those of the past (of any step, over its scale) and the fewer
    from the Student t, which is symmetric.
    """
    pick = np.arange(jobs) % len(posterior.df)
    steps, stages = posterior.stage.shape
    residual = rng.standard_t(posterior.df[pick][:, None], (jobs, steps))
    if len(posterior.residuals):
        past = rng.choice(posterior.residuals, (jobs, steps))
        residual = np.where(rng.random((jobs, steps)) < posterior.trust, past, residual)
    return Luck(
        pick=pick,
        session=rng.standard_normal(jobs),
        who=_technicians(posterior, odds, pick, rng),
        stage=rng.standard_normal((jobs, stages)),
        found=_findings(odds, jobs, rng),
        residual=residual,
    )


def play(posterior: Posterior, luck: Luck) -> Array:
    """Give the minutes of jobs with that luck, (N, K): all steps of a row in one session."""
    pick = luck.pick
    shared = luck.session * posterior.session_sd[pick] + luck.who
    stage = luck.stage * posterior.stage_sd[pick][:, None]
    logs = posterior.mean[pick] + shared[:, None] + stage @ posterior.stage.T
    logs += luck.residual * posterior.scale[pick]
    if luck.found.shape[1]:
        logs += (posterior.adder[pick] * luck.found).sum(axis=1)
    minutes: Array = np.exp(np.clip(logs, -30.0, 30.0))  # a wild tail must not overflow
    return minutes


def no_odds(posterior: Posterior) -> Odds:
    """Give the odds when no condition and no technician is known."""
    nothing = np.zeros((0, len(posterior.stage)))
    return Odds(nothing, nothing)


def simulate(
    posterior: Posterior, *, jobs: int, rng: np.random.Generator, odds: Odds | None = None
) -> Array:
    """Simulate future sessions: (jobs, K) minutes."""
    odds = no_odds(posterior) if odds is None else odds
    return play(posterior, deal(posterior, odds, jobs=jobs, rng=rng))


def _technicians(
    posterior: Posterior, odds: Odds, pick: Indices, rng: np.random.Generator
) -> Array:
    """Draw who does each job, and give what that makes: (N,) log minutes.

    Without shares it is somebody new, when technicians are told apart at all.
    """
    if not posterior.who.shape[1]:
        return np.zeros(len(pick))
    if odds.technicians is None:
        return rng.standard_normal(len(pick)) * posterior.who_sd[pick]
    person = rng.choice(posterior.who.shape[1], len(pick), p=odds.technicians)
    chosen: Array = posterior.who[pick, person]
    return chosen


def _findings(odds: Odds, jobs: int, rng: np.random.Generator) -> NDArray[np.bool_]:
    """Draw which conditions are found; their rates with Jeffreys' prior, beta(1/2, 1/2)."""
    live = odds.timed > 0
    often = np.where(live, odds.found, 0.0) + 0.5
    seldom = np.where(live, odds.timed - odds.found, 0.0) + 0.5
    shape = (jobs, *odds.found.shape)
    rate = rng.beta(often, seldom, shape) if odds.found.size else np.zeros(shape)
    drawn: NDArray[np.bool_] = (rng.random(shape) < rate) & live
    return drawn
