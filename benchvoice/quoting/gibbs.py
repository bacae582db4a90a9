"""Gibbs sampler for the step-time model; see `model.py` for the model itself.

All arrays that change have a leading axis of C independent chains, so one
sweep of all chains is a handful of numpy calls.  Shapes: C chains, S sessions,
K steps, G stages, 2 kinds of step (with book minutes, without).

Conditional updates are the conjugate ones of Gelman et al., "Bayesian Data
Analysis", 3rd ed., ch. 11-17 (Student-t residuals as scale mixtures, 17.2);
the half-t spreads use the two inverse-gamma form of Wand et al. 2011,
Bayesian Analysis 6(4).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import lgamma

import numpy as np
from numpy.typing import NDArray

from benchvoice.quoting.priors import HALF_T_DF, Prior

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class Table:
    """What the sampler sees: log minutes with gaps, and the known step grouping."""

    y: Array
    """(S, K) log minutes, 0 where not timed."""
    seen: Array
    """(S, K) 1 where timed, else 0."""
    offset: Array
    """(K,) log book minutes, or the typical log minutes for steps without."""
    kind: Array
    """(K, 2) one-hot: with book minutes, without."""
    stage: Array
    """(K, G) one-hot stage of each step."""


@dataclass
class State:
    """Current values of the chains; see the model for the names."""

    level: Array
    """(C, 2) common offset of each kind of step."""
    mean: Array
    """(C, K) m_k."""
    session: Array
    """(C, S) u_s."""
    stage: Array
    """(C, S, G) v_sg."""
    weight: Array
    """(C, S, K) scale-mixture weights of the Student-t residual, 0 where not timed."""
    level_var: Array
    """(C, 2) variance of the step means around offset + level."""
    session_var: Array
    """(C,)."""
    stage_var: Array
    """(C,), all 0 when the outline has one stage only."""
    residual_var: Array
    """(C,) common residual variance."""
    uneven: Array
    """(C, K) the step's residual variance over the common one."""
    df: Indices
    """(C,) index into `Prior.residual_df`."""
    evenness: Indices
    """(C,) index into `Prior.evenness`."""


def half_t(rng: np.random.Generator, scale: Array | float, size: tuple[int, ...]) -> Array:
    """Draw squared half-Student-t spreads of the given scale, shape `size`."""
    drawn: Array = (scale * rng.standard_t(HALF_T_DF, size)) ** 2
    return drawn


def _inverse_gamma(rng: np.random.Generator, shape: Array | float, rate: Array) -> Array:
    drawn: Array = rate / rng.standard_gamma(np.broadcast_to(shape, rate.shape))
    return np.maximum(drawn, 1e-8)  # keeps 1/variance finite when a chain visits zero


def _variance(
    rng: np.random.Generator, old: Array, count: Array | float, squares: Array, scale: Array | float
) -> Array:
    """Draw a variance with a half-t prior, given `count` normal deviations and their squares."""
    rate = HALF_T_DF / old + 1.0 / np.square(scale)
    helper = _inverse_gamma(rng, (HALF_T_DF + 1) / 2, rate)
    return _inverse_gamma(rng, (HALF_T_DF + count) / 2, HALF_T_DF / helper + squares / 2)


def start(table: Table, prior: Prior, chains: int, rng: np.random.Generator) -> State:
    """Draw everything from the prior; without sessions this is the answer already."""
    sessions, steps = table.y.shape
    stages = table.stage.shape[1]
    level_scale = np.array([prior.book_spread, prior.free_spread])
    level_var = half_t(rng, level_scale, (chains, 2))
    level = rng.standard_normal((chains, 2)) * [prior.book_offset, prior.free_offset]
    spread = np.sqrt(level_var) @ table.kind.T
    mean = table.offset + level @ table.kind.T + spread * rng.standard_normal((chains, steps))
    evenness = rng.integers(len(prior.evenness), size=chains)
    half = (np.array(prior.evenness)[evenness] / 2)[:, None]
    stage_var = half_t(rng, prior.stage_spread, (chains,))
    return State(
        level=level,
        mean=mean,
        session=np.zeros((chains, sessions)),
        stage=np.zeros((chains, sessions, stages)),
        weight=np.broadcast_to(table.seen, (chains, sessions, steps)).copy(),
        level_var=level_var,
        session_var=half_t(rng, prior.session_spread, (chains,)),
        stage_var=stage_var if stages > 1 else np.zeros(chains),
        residual_var=half_t(rng, prior.residual_spread, (chains,)),
        uneven=_inverse_gamma(rng, half, np.broadcast_to(half, (chains, steps))),
        df=rng.integers(len(prior.residual_df), size=chains),
        evenness=evenness,
    )


def sweep(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Update every quantity of every chain once, in place."""
    _update_residuals(state, table, prior, rng)
    _update_steps(state, table, prior, rng)
    _update_sessions(state, table, rng)
    _shift(state, prior, rng)
    _update_group_spreads(state, table, prior, rng)
    _update_residual_spreads(state, table, prior, rng)


def some_residuals(state: State, table: Table, count: int, rng: np.random.Generator) -> Array:
    """Pick `count` of each chain's residuals over their scale, shape (C, count)."""
    rows, columns = np.nonzero(table.seen)
    chains = len(state.session)
    pick = rng.integers(len(rows), size=(chains, count))
    row, column, chain = rows[pick], columns[pick], np.arange(chains)[:, None]
    stage = table.stage.argmax(axis=1)[column]
    shared = state.session[chain, row] + state.stage[chain, row, stage]
    left = table.y[row, column] - state.mean[chain, column] - shared
    scaled: Array = left / np.sqrt(state.residual_var[:, None] * state.uneven[chain, column])
    return scaled


def _residual(state: State, table: Table) -> Array:
    shared = state.session[:, :, None] + state.stage @ table.stage.T
    left: Array = (table.y - state.mean[:, None, :] - shared) * table.seen
    return left


def _neighbour(rng: np.random.Generator, index: Indices, size: int) -> Indices:
    """Propose the next candidate up or down; stepping off the end stays (symmetric)."""
    moved: Indices = np.clip(index + rng.choice(np.array([-1, 1]), index.shape), 0, size - 1)
    return moved


def _update_residuals(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Draw the t degrees of freedom (weights integrated out), then the weights."""
    scale = state.residual_var[:, None] * state.uneven
    ratio = np.square(_residual(state, table)) / scale[:, None, :]
    grid = np.array(prior.residual_df)
    constant = np.array([lgamma((v + 1) / 2) - lgamma(v / 2) - np.log(v) / 2 for v in grid])

    def log_density(index: Indices) -> Array:
        df = grid[index]
        tails = np.log1p(ratio / df[:, None, None]).sum(axis=(1, 2))
        value: Array = table.seen.sum() * constant[index] - (df + 1) / 2 * tails
        return value

    proposed = _neighbour(rng, state.df, len(grid))
    gain = log_density(proposed) - log_density(state.df)
    state.df = np.where(np.log(rng.random(len(gain))) < gain, proposed, state.df)
    df = grid[state.df][:, None, None]
    gamma = rng.standard_gamma(np.broadcast_to((df + 1) / 2, ratio.shape))
    state.weight = gamma * 2 / (df + ratio) * table.seen


def _precision(state: State) -> Array:
    scale = state.residual_var[:, None] * state.uneven
    precision: Array = state.weight / scale[:, None, :]
    return precision


def _update_steps(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Draw the two levels with the step means integrated out, then the step means."""
    precision = _precision(state)
    shared = state.session[:, :, None] + state.stage @ table.stage.T
    total = precision.sum(axis=1)
    pull = (precision * (table.y - shared)).sum(axis=1) - total * table.offset
    spread = state.level_var @ table.kind.T
    damped = 1 + spread * total
    prior_precision = 1 / np.square([prior.book_offset, prior.free_offset])
    level_precision = prior_precision + (total / damped) @ table.kind
    centre = (pull / damped) @ table.kind / level_precision
    noise = rng.standard_normal(centre.shape)
    state.level = centre + noise / np.sqrt(level_precision)
    level = state.level @ table.kind.T
    step_precision = 1 / spread + total
    centre = table.offset + (level / spread + pull) / step_precision
    state.mean = centre + rng.standard_normal(centre.shape) / np.sqrt(step_precision)


def _update_sessions(state: State, table: Table, rng: np.random.Generator) -> None:
    """Draw the session effects with the stage effects integrated out, then the latter."""
    precision = _precision(state)
    total = precision @ table.stage
    pull = (precision * (table.y - state.mean[:, None, :])) @ table.stage
    variance = state.stage_var[:, None, None]
    damped = 1 + variance * total
    session_precision = 1 / state.session_var[:, None] + (total / damped).sum(axis=2)
    centre = (pull / damped).sum(axis=2) / session_precision
    noise = rng.standard_normal(centre.shape)
    state.session = centre + noise / np.sqrt(session_precision)
    # Written without 1/variance: with one stage only, the variance is zero.
    centre = variance * (pull - total * state.session[:, :, None]) / damped
    noise = rng.standard_normal(centre.shape)
    state.stage = centre + noise * np.sqrt(variance / damped)


def _shift(state: State, prior: Prior, rng: np.random.Generator) -> None:
    """Move all sessions down and all steps up by one amount: the data cannot tell.

    Without this the chains wander slowly along that direction.  The amount is
    drawn from its exact normal conditional (a translation-group Gibbs move,
    Liu and Sabatti 2000, Biometrika 87(2)).
    """
    level_precision = 1 / np.square([prior.book_offset, prior.free_offset])
    sessions = state.session.shape[1]
    precision = sessions / state.session_var + level_precision.sum()
    pull = state.session.sum(axis=1) / state.session_var - state.level @ level_precision
    amount = pull / precision + rng.standard_normal(pull.shape) / np.sqrt(precision)
    state.session = state.session - amount[:, None]
    state.level = state.level + amount[:, None]
    state.mean = state.mean + amount[:, None]


def _update_group_spreads(
    state: State, table: Table, prior: Prior, rng: np.random.Generator
) -> None:
    """Draw the spreads of step means, sessions and stages; only timed ones count."""
    timed = table.seen.any(axis=0).astype(float)
    apart = np.square(state.mean - table.offset - state.level @ table.kind.T) * timed
    scale = np.array([prior.book_spread, prior.free_spread])
    state.level_var = _variance(rng, state.level_var, timed @ table.kind, apart @ table.kind, scale)
    squares = np.square(state.session).sum(axis=1)
    count = float(state.session.shape[1])
    state.session_var = _variance(rng, state.session_var, count, squares, prior.session_spread)
    if table.stage.shape[1] > 1:
        visited = (table.seen @ table.stage) > 0
        squares = (np.square(state.stage) * visited).sum(axis=(1, 2))
        count = float(visited.sum())
        state.stage_var = _variance(rng, state.stage_var, count, squares, prior.stage_spread)


def _update_residual_spreads(
    state: State, table: Table, prior: Prior, rng: np.random.Generator
) -> None:
    """Draw the common residual variance, the steps' share of it, and how alike they are."""
    squares = (state.weight * np.square(_residual(state, table))).sum(axis=1)
    common = (squares / state.uneven).sum(axis=1)
    count = table.seen.sum()
    state.residual_var = _variance(rng, state.residual_var, count, common, prior.residual_spread)
    grid = np.array(prior.evenness)
    own = grid[state.evenness][:, None]
    rate = (own + squares / state.residual_var[:, None]) / 2
    state.uneven = _inverse_gamma(rng, (own + table.seen.sum(axis=0)) / 2, rate)
    half = grid / 2
    constant = np.array([h * np.log(h) - lgamma(h) for h in half])
    summary = -(np.log(state.uneven) + 1 / state.uneven).sum(axis=1)
    steps = state.uneven.shape[1]
    proposed = _neighbour(rng, state.evenness, len(grid))
    gain = steps * (constant[proposed] - constant[state.evenness])
    gain += (half[proposed] - half[state.evenness]) * summary
    state.evenness = np.where(np.log(rng.random(len(gain))) < gain, proposed, state.evenness)
