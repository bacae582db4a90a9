"""The sampler's updates of spreads; shapes as in `gibbs.py`.

The half-t spreads use the two inverse-gamma form of Wand et al. 2011,
Bayesian Analysis 6(4).
"""

from __future__ import annotations

from math import lgamma

import numpy as np

from benchvoice.quoting.gibbs_values import Array, Indices, State, Table
from benchvoice.quoting.priors import HALF_T_DF, Prior

STRIDE = 0.4
"""Sd of the random walk of the log steadiness."""


def half_t(rng: np.random.Generator, scale: Array | float, size: tuple[int, ...]) -> Array:
    """Draw squared half-Student-t spreads of the given scale, shape `size`."""
    drawn: Array = (scale * rng.standard_t(HALF_T_DF, size)) ** 2
    return np.maximum(drawn, 1e-8)  # keeps 1/variance finite when a chain visits zero


def inverse_gamma(rng: np.random.Generator, shape: Array | float, rate: Array) -> Array:
    """Draw inverse-gamma variances, shape of `rate`."""
    drawn: Array = rate / rng.standard_gamma(np.broadcast_to(shape, rate.shape))
    return np.maximum(drawn, 1e-8)


def neighbour(rng: np.random.Generator, index: Indices, size: int) -> Indices:
    """Propose the next candidate up or down; stepping off the end stays (symmetric)."""
    moved: Indices = np.clip(index + rng.choice(np.array([-1, 1]), index.shape), 0, size - 1)
    return moved


def update_group_spreads(
    state: State, expected: Array, table: Table, prior: Prior, rng: np.random.Generator
) -> None:
    """Draw the spreads of step means, sessions, stages, conditions and technicians.

    Only what was timed counts; `expected` is `gibbs.centre`.
    """
    timed = table.seen.any(axis=0).astype(float)
    apart = np.square(state.mean - table.offset - state.level @ table.kind.T) * timed
    scale = np.array([prior.book_spread, prior.free_spread])
    state.level_var = _variance(rng, state.level_var, timed @ table.kind, apart @ table.kind, scale)
    squares = np.square(state.session - expected) @ table.weigh
    count = float(table.weigh.sum())
    own = state.steadiness * prior.session_spread
    state.session_var = _variance(rng, state.session_var, count, squares, own)
    if table.stage.shape[1] > 1:
        visited = ((table.seen @ table.stage) > 0) * table.weigh[:, None]
        squares = (np.square(state.stage) * visited).sum(axis=(1, 2))
        own = state.steadiness * prior.stage_spread
        state.stage_var = _variance(rng, state.stage_var, float(visited.sum()), squares, own)
    if len(table.found):
        live = table.found.any(axis=1)
        squares = (np.square(state.adder) * live).sum(axis=(1, 2))
        count = float(live.sum())
        state.adder_var = _variance(rng, state.adder_var, count, squares, prior.adder_spread)
    if table.who.shape[1]:
        squares = np.square(state.who).sum(axis=1)
        count = float(table.who.shape[1])
        state.who_var = _variance(rng, state.who_var, count, squares, prior.who_spread)


def update_residual_spreads(
    state: State, left: Array, table: Table, prior: Prior, rng: np.random.Generator
) -> None:
    """Draw the common residual variance, the steps' share of it, and how alike they are."""
    squares = (state.weight * np.square(left) * table.weigh[:, None]).sum(axis=1)
    timings = table.weigh @ table.seen
    common = (squares / state.uneven).sum(axis=1)
    scale = state.steadiness * prior.residual_spread
    state.residual_var = _variance(rng, state.residual_var, timings.sum(), common, scale)
    grid = np.array(prior.evenness)
    own = grid[state.evenness][:, None]
    rate = (own + squares / state.residual_var[:, None]) / 2
    state.uneven = inverse_gamma(rng, (own + timings) / 2, rate)
    half = grid / 2
    constant = np.array([h * np.log(h) - lgamma(h) for h in half])
    summary = -(np.log(state.uneven) + 1 / state.uneven).sum(axis=1)
    steps = state.uneven.shape[1]
    proposed = neighbour(rng, state.evenness, len(grid))
    gain = steps * (constant[proposed] - constant[state.evenness])
    gain += (half[proposed] - half[state.evenness]) * summary
    state.evenness = np.where(np.log(rng.random(len(gain))) < gain, proposed, state.evenness)


def update_steadiness(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Move the common factor of a shop's spreads by a Metropolis step."""
    pairs = [
        (state.session_var, prior.session_spread),
        (state.residual_var, prior.residual_spread),
    ]
    if table.stage.shape[1] > 1:
        pairs.append((state.stage_var, prior.stage_spread))
    sds = np.sqrt(np.array([variance for variance, _ in pairs]))
    scales = np.array([scale for _, scale in pairs])[:, None]

    def log_density(factor: Array) -> Array:
        own = scales * factor
        density = -np.log(own) - (HALF_T_DF + 1) / 2 * np.log1p(np.square(sds / own) / HALF_T_DF)
        value: Array = density.sum(axis=0) - np.square(np.log(factor) / prior.steadiness) / 2
        return value

    proposed = state.steadiness * np.exp(STRIDE * rng.standard_normal(state.steadiness.shape))
    gain = log_density(proposed) - log_density(state.steadiness)
    accept = np.log(rng.random(len(gain))) < gain
    state.steadiness = np.where(accept, proposed, state.steadiness)


def _variance(
    rng: np.random.Generator, old: Array, count: Array | float, squares: Array, scale: Array | float
) -> Array:
    """Draw a variance with a half-t prior, given `count` normal deviations and their squares."""
    rate = HALF_T_DF / old + 1.0 / np.square(scale)
    helper = inverse_gamma(rng, (HALF_T_DF + 1) / 2, rate)
    return inverse_gamma(rng, (HALF_T_DF + count) / 2, HALF_T_DF / helper + squares / 2)
