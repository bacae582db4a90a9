"""The step-time model: log minutes of step k in session s, partially pooled.

    log minutes = m_k + u_s + v_sg + e_ks

    m_k   ~ N(log book_k + a, .)   step with book minutes; a is the shop against book
    m_k   ~ N(b, .)                step without; b is learned from the other such steps
    u_s   ~ N(0, .)                the unit's condition and the technician
    v_sg  ~ N(0, .)                the same for one stage of the job
    e_ks  ~ Student t              the rest; heavy tails, so an outlier moves little

Each spread has a weak prior (`priors.py`) and is learned.  The quote's range
takes in what is not known of all of them.  Partial pooling as in Gelman and
Hill 2007, "Data Analysis Using Regression and Multilevel/Hierarchical Models",
ch. 12-13.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from benchvoice.quoting.gibbs import Array, State, Table, some_residuals, start, sweep
from benchvoice.quoting.priors import DEFAULT, Prior

PICKED = 32
"""Residuals kept of each chain after each sweep."""
WORK = 10_000_000
"""Bound on chains x sweeps x timings, so that a thousand sessions stay quick."""


@dataclass(frozen=True)
class Posterior:
    """D joint draws of what the model learned; logs of minutes throughout.

    Shapes: mean and scale (D, K); session_sd, stage_sd and df (D,); stage (K, G).
    `residuals` (R,) are draws of the past timings' residuals over their scale,
    to be trusted for the share `trust`; see `simulate`.
    """

    mean: Array
    scale: Array
    session_sd: Array
    stage_sd: Array
    df: Array
    stage: Array
    residuals: Array
    trust: float


def tabulate(minutes: Array, book: Array, stage: Array, prior: Prior = DEFAULT) -> Table:
    """Lay out (S, K) minutes, (K,) book minutes (both NaN where absent) and (K, G) stages.

    A step without book minutes starts from the middle one of the book, else of
    the timings, else from `prior.free_minutes`.
    """
    seen = np.isfinite(minutes)
    known = np.isfinite(book)
    logs = np.log(np.where(seen, minutes, 1.0))
    if known.any():
        middle = float(np.median(np.log(book[known])))
    elif seen.any():
        middle = float(np.median(logs[seen]))
    else:
        middle = float(np.log(prior.free_minutes))
    return Table(
        y=logs,
        seen=seen.astype(float),
        offset=np.where(known, np.log(np.where(known, book, 1.0)), middle),
        kind=np.column_stack([known, ~known]).astype(float),
        stage=stage,
    )


def fit(table: Table, *, draws: int, rng: np.random.Generator, prior: Prior = DEFAULT) -> Posterior:
    """Draw from the posterior; at most `draws`, fewer when there are very many timings.

    Without any timing the draws are independent ones from the prior.
    """
    if not table.seen.any():
        return _joined([_keep(start(table, prior, draws, rng), table, prior, rng)])
    cells = table.y.size
    chains = 16 if cells <= 2000 else 8
    kept = max(10, min(-(-draws // chains), WORK // (2 * chains * cells)))
    warm = min(100, max(40, kept))
    state = start(table, prior, chains, rng)
    for _ in range(warm):
        sweep(state, table, prior, rng)
    parts = []
    for _ in range(kept):
        sweep(state, table, prior, rng)
        parts.append(_keep(state, table, prior, rng))
    return _joined(parts)


def _keep(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> Posterior:
    """Copy out of the chains' state what a forecast needs."""
    timings = float(table.seen.sum())
    picked = some_residuals(state, table, PICKED, rng).ravel() if timings else np.empty(0)
    return Posterior(
        mean=state.mean,
        scale=np.sqrt(state.residual_var[:, None] * state.uneven),
        session_sd=np.sqrt(state.session_var),
        stage_sd=np.sqrt(state.stage_var),
        df=np.array(prior.residual_df)[state.df],
        stage=table.stage,
        residuals=picked,
        trust=timings / (timings + prior.shape_worth),
    )


def _joined(parts: list[Posterior]) -> Posterior:
    return Posterior(
        mean=np.concatenate([part.mean for part in parts]),
        scale=np.concatenate([part.scale for part in parts]),
        session_sd=np.concatenate([part.session_sd for part in parts]),
        stage_sd=np.concatenate([part.stage_sd for part in parts]),
        df=np.concatenate([part.df for part in parts]),
        stage=parts[0].stage,
        residuals=np.concatenate([part.residuals for part in parts]),
        trust=parts[0].trust,
    )


def simulate(posterior: Posterior, *, draws: int, rng: np.random.Generator) -> Array:
    """Simulate `draws` future sessions: (draws, K) minutes, all steps of a row in one session.

    Real times are skewed even as logs: a stuck part costs more than a lucky
    day saves.  So, the more timings there are, the more of the residuals are
    drawn from those of the past (of any step, over its scale) and the fewer
    from the Student t, which is symmetric.
    """
    pick = np.arange(draws) % len(posterior.df)
    steps, stages = posterior.stage.shape
    session = rng.standard_normal(draws) * posterior.session_sd[pick]
    stage = rng.standard_normal((draws, stages)) * posterior.stage_sd[pick][:, None]
    residual = rng.standard_t(posterior.df[pick][:, None], (draws, steps))
    if len(posterior.residuals):
        past = rng.choice(posterior.residuals, (draws, steps))
        residual = np.where(rng.random((draws, steps)) < posterior.trust, past, residual)
    logs = posterior.mean[pick] + session[:, None] + stage @ posterior.stage.T
    logs += residual * posterior.scale[pick]
    minutes: Array = np.exp(np.clip(logs, -30.0, 30.0))  # a wild tail must not overflow
    return minutes
