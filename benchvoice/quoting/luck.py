"""Future jobs simulated from what the model learned."""

from __future__ import annotations

from dataclasses import dataclass, replace
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
    `practice` is the next repeat on the scale of `Table.repeat`, or 0 when
    practice is not counted on.
    """

    found: Array
    timed: Array
    technicians: Array | None = None
    practice: float = 0.0


@dataclass(frozen=True)
class Luck:
    """What chance deals N simulated jobs.  Steps K, stages G, slots for conditions P.

    `pick` (N,) draws of the posterior, `session` (N,), `stage` (N, G) in
    standard deviations, `who` (N,) in log minutes, `found` (N, P, K) the
    conditions that are found, `residual` (N, K) over its scale, `practice` the
    doublings of the repeats ahead of the average one.
    """

    pick: Indices
    session: Array
    who: Array
    stage: Array
    found: NDArray[np.bool_]
    residual: Array
    practice: float


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
        practice=odds.practice,
    )


def play(posterior: Posterior, luck: Luck) -> Array:
    """Give the minutes of jobs with that luck, (N, K): all steps of a row in one session."""
    pick = luck.pick
    shared = luck.session * posterior.session_sd[pick] + luck.who
    shared = shared + luck.practice * posterior.learning[pick]
    stage = luck.stage * posterior.stage_sd[pick][:, None]
    logs = posterior.mean[pick] + shared[:, None] + stage @ posterior.stage.T
    logs += luck.residual * posterior.scale[pick]
    for slot in range(luck.found.shape[1]):
        columns = np.flatnonzero(luck.found[:, slot].any(axis=0))
        logs[:, columns] += (
            posterior.adder[pick[:, None], slot, columns] * luck.found[:, slot, columns]
        )
    minutes: Array = np.exp(np.clip(logs, -30.0, 30.0))  # a wild tail must not overflow
    return minutes


def first(luck: Luck, jobs: int) -> Luck:
    """Give the luck of the first `jobs` jobs."""
    return replace(
        luck,
        pick=luck.pick[:jobs],
        session=luck.session[:jobs],
        who=luck.who[:jobs],
        stage=luck.stage[:jobs],
        found=luck.found[:jobs],
        residual=luck.residual[:jobs],
    )


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
    slots, columns = np.nonzero(odds.timed)
    found, timed = odds.found[slots, columns], odds.timed[slots, columns]
    rate = rng.beta(found + 0.5, timed - found + 0.5, (jobs, len(slots)))
    drawn = np.zeros((jobs, *odds.found.shape), dtype=np.bool_)
    drawn[:, slots, columns] = rng.random(rate.shape) < rate
    return drawn
