"""The step-time model: log minutes of step k in session s, partially pooled.

    log minutes = m_k + a_ck + u_s + v_sg + e_ks

    m_k   ~ N(log book_k + a, .)   step with book minutes; a is the shop against book
    m_k   ~ N(b, .)                step without; b is learned from the other such steps
    a_ck  ~ N(0, .)                what condition c adds where it was found on step k
    u_s   ~ N(t_w + l r_s, .)      the unit's condition; the technician t_w; l for each
                                   doubling of the repeats, r_s = log2 repeat, centred
    v_sg  ~ N(0, .)                the same for one stage of the job
    e_ks  ~ Student t              the rest; heavy tails, so an outlier moves little

Each spread has a weak prior (`priors.py`) and is learned.  The quote's range
takes in what is not known of all of them.  Partial pooling as in Gelman and
Hill 2007, "Data Analysis Using Regression and Multilevel/Hierarchical Models",
ch. 12-13; the learning curve is that of T. P. Wright 1936, "Factors Affecting
the Cost of Airplanes", Journal of the Aeronautical Sciences 3(4).
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from benchvoice.quoting.gibbs import some_residuals, start, sweep
from benchvoice.quoting.gibbs_values import Array, State, Table
from benchvoice.quoting.priors import DEFAULT, Prior

PICKED = 32
"""Residuals kept of each chain after each sweep."""
WORK = 10_000_000
"""Bound on chains x sweeps x timings, so that hundreds of sessions stay quick."""


@dataclass(frozen=True)
class Posterior:
    """D joint draws of what the model learned; logs of minutes throughout.

    Shapes: mean and scale (D, K); level and apart (D, 2), the shop's offset from
    the book and the spread of the steps around it, for steps with and without
    book minutes; session_sd, stage_sd, who_sd, learning and df
    (D,); stage (K, G); adder (D, P, K); who (D, T).  `residuals` (R,) are draws
    of the past timings' residuals over their scale, to be trusted for the share
    `trust`; see `luck.py`.
    """

    mean: Array
    scale: Array
    level: Array
    apart: Array
    session_sd: Array
    stage_sd: Array
    df: Array
    adder: Array
    who: Array
    who_sd: Array
    learning: Array
    residuals: Array
    stage: Array
    trust: float


def tabulate(
    minutes: Array,
    book: Array,
    stage: Array,
    prior: Prior = DEFAULT,
    *,
    weigh: Array | None = None,
    who: Array | None = None,
    repeat: Array | None = None,
    found: Array | None = None,
) -> Table:
    """Lay out (S, K) minutes, (K,) book minutes (both NaN where absent) and (K, G) stages.

    The rest is as in `Table`, and absent when not given.  A step without book
    minutes starts from the middle one of the book, else of the timings, else
    from `prior.free_minutes`.
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
    sessions, steps = minutes.shape
    return Table(
        y=logs,
        seen=seen.astype(float),
        offset=np.where(known, np.log(np.where(known, book, 1.0)), middle),
        kind=np.column_stack([known, ~known]).astype(float),
        stage=stage,
        weigh=np.ones(sessions) if weigh is None else weigh,
        who=np.zeros((sessions, 0)) if who is None else who,
        repeat=np.zeros(sessions) if repeat is None else repeat,
        found=np.zeros((0, sessions, steps)) if found is None else found * seen,
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
    timings = float((table.weigh @ table.seen).sum())
    picked = some_residuals(state, table, PICKED, rng).ravel() if timings else np.empty(0)
    return Posterior(
        mean=state.mean,
        scale=np.sqrt(state.residual_var[:, None] * state.uneven),
        level=state.level,
        apart=np.sqrt(state.level_var),
        session_sd=np.sqrt(state.session_var),
        stage_sd=np.sqrt(state.stage_var),
        df=np.array(prior.residual_df)[state.df],
        adder=state.adder.copy(),
        who=state.who,
        who_sd=np.sqrt(state.who_var),
        learning=state.learning,
        residuals=picked,
        stage=table.stage,
        trust=timings / (timings + prior.shape_worth),
    )


def _joined(parts: list[Posterior]) -> Posterior:
    drawn = {
        field.name: np.concatenate([getattr(part, field.name) for part in parts])
        for field in fields(Posterior)
        if field.name not in ("stage", "trust")
    }
    return Posterior(**drawn, stage=parts[0].stage, trust=parts[0].trust)
