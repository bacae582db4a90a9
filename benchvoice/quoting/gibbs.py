"""Gibbs sampler for the step-time model; see `model.py` for the model itself.

All arrays that change have a leading axis of C independent chains, so one
sweep of all chains is a handful of numpy calls.  Shapes: C chains, S sessions,
K steps, G stages, P slots for found conditions, T technicians, 2 kinds of step
(with book minutes, without).

Conditional updates are the conjugate ones of Gelman et al., "Bayesian Data
Analysis", 3rd ed., ch. 11-17 (Student-t residuals as scale mixtures, 17.2).
Old sessions may weigh less: what is particular to a session is drawn as it is,
and its say on everything shared is multiplied by its weight.  This is the
sampling counterpart of weighted-likelihood EM, whose fixed point by Fisher's
identity is that of the weighted likelihood.
"""

from __future__ import annotations

from math import lgamma

import numpy as np

from benchvoice.quoting.gibbs_values import Array, Indices, State, Table
from benchvoice.quoting.priors import Prior
from benchvoice.quoting.spreads import (
    half_t,
    inverse_gamma,
    neighbour,
    update_group_spreads,
    update_residual_spreads,
    update_steadiness,
)


def start(table: Table, prior: Prior, chains: int, rng: np.random.Generator) -> State:
    """Draw everything from the prior; without sessions this is the answer already."""
    sessions, steps = table.y.shape
    stages, technicians = table.stage.shape[1], table.who.shape[1]
    level_scale = np.array([prior.book_spread, prior.free_spread])
    level_var = half_t(rng, level_scale, (chains, 2))
    level = rng.standard_normal((chains, 2)) * [prior.book_offset, prior.free_offset]
    spread = np.sqrt(level_var) @ table.kind.T
    mean = table.offset + level @ table.kind.T + spread * rng.standard_normal((chains, steps))
    evenness = rng.integers(len(prior.evenness), size=chains)
    half = (np.array(prior.evenness)[evenness] / 2)[:, None]
    steadiness = np.exp(prior.steadiness * rng.standard_normal(chains))
    stage_var = half_t(rng, steadiness * prior.stage_spread, (chains,))
    adder_var = half_t(rng, prior.adder_spread, (chains,))
    who_var = half_t(rng, prior.who_spread, (chains,))
    adder_noise = rng.standard_normal((chains, len(table.found), steps))
    return State(
        level=level,
        mean=mean,
        session=np.zeros((chains, sessions)),
        stage=np.zeros((chains, sessions, stages)),
        weight=np.broadcast_to(table.seen, (chains, sessions, steps)).copy(),
        adder=np.sqrt(adder_var)[:, None, None] * adder_noise,
        who=np.sqrt(who_var)[:, None] * rng.standard_normal((chains, technicians)),
        learning=prior.learning * rng.standard_normal(chains),
        level_var=level_var,
        session_var=half_t(rng, steadiness * prior.session_spread, (chains,)),
        stage_var=stage_var if stages > 1 else np.zeros(chains),
        adder_var=adder_var,
        who_var=who_var,
        residual_var=half_t(rng, steadiness * prior.residual_spread, (chains,)),
        uneven=inverse_gamma(rng, half, np.broadcast_to(half, (chains, steps))),
        steadiness=steadiness,
        df=rng.integers(len(prior.residual_df), size=chains),
        evenness=evenness,
    )


def sweep(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Update every quantity of every chain once, in place."""
    left = residual(state, table)
    _update_residuals(state, left, table, prior, rng)
    _update_adders(state, left, table, rng)
    _update_steps(state, table, prior, rng)
    _update_sessions(state, table, rng)
    _update_technicians(state, table, prior, rng)
    _shift(state, table, prior, rng)
    update_group_spreads(state, centre(state, table), table, prior, rng)
    update_residual_spreads(state, residual(state, table), table, prior, rng)
    update_steadiness(state, table, prior, rng)


def centre(state: State, table: Table) -> Array:
    """Give what is expected of each session, (C, S): its technician and the practice so far."""
    expected: Array = state.who @ table.who.T + state.learning[:, None] * table.repeat
    return expected


def residual(state: State, table: Table) -> Array:
    """Give what the model leaves over of each timing, (C, S, K); 0 where not timed."""
    left: Array = (table.y - state.mean[:, None, :] - _shared(state, table)) * table.seen
    return left


def some_residuals(state: State, table: Table, count: int, rng: np.random.Generator) -> Array:
    """Pick `count` of each chain's residuals over their scale, shape (C, count).

    The timings of a session are picked as often as it weighs.
    """
    rows, columns = np.nonzero(table.seen)
    chains = len(state.session)
    share = table.weigh[rows] / table.weigh[rows].sum()
    pick = rng.choice(len(rows), size=(chains, count), p=share)
    row, column, chain = rows[pick], columns[pick], np.arange(chains)[:, None]
    stage = table.stage.argmax(axis=1)[column]
    shared = state.session[chain, row] + state.stage[chain, row, stage]
    for slot, found in enumerate(table.found):
        shared = shared + state.adder[chain, slot, column] * found[row, column]
    left = table.y[row, column] - state.mean[chain, column] - shared
    scaled: Array = left / np.sqrt(state.residual_var[:, None] * state.uneven[chain, column])
    return scaled


def _shared(state: State, table: Table) -> Array:
    """Give what moves the timings besides their step, (C, S, K)."""
    shared: Array = state.session[:, :, None] + state.stage @ table.stage.T
    for slot, found in enumerate(table.found):
        shared = shared + state.adder[:, slot, None, :] * found
    return shared


def _update_residuals(
    state: State, left: Array, table: Table, prior: Prior, rng: np.random.Generator
) -> None:
    """Draw the t degrees of freedom (weights integrated out), then the weights."""
    scale = state.residual_var[:, None] * state.uneven
    ratio = np.square(left) / scale[:, None, :]
    grid = np.array(prior.residual_df)
    constant = np.array([lgamma((v + 1) / 2) - lgamma(v / 2) - np.log(v) / 2 for v in grid])
    timings = (table.weigh @ table.seen).sum()

    def log_density(index: Indices) -> Array:
        df = grid[index]
        tails = np.log1p(ratio / df[:, None, None]).sum(axis=2) @ table.weigh
        value: Array = timings * constant[index] - (df + 1) / 2 * tails
        return value

    proposed = neighbour(rng, state.df, len(grid))
    gain = log_density(proposed) - log_density(state.df)
    state.df = np.where(np.log(rng.random(len(gain))) < gain, proposed, state.df)
    df = grid[state.df][:, None, None]
    gamma = rng.standard_gamma(np.broadcast_to((df + 1) / 2, ratio.shape))
    state.weight = gamma * 2 / (df + ratio) * table.seen


def _precision(state: State) -> Array:
    scale = state.residual_var[:, None] * state.uneven
    precision: Array = state.weight / scale[:, None, :]
    return precision


def _update_adders(state: State, left: Array, table: Table, rng: np.random.Generator) -> None:
    """Draw what each condition adds, one slot of every step at a time."""
    if not len(table.found):
        return
    precision = _precision(state) * table.weigh[:, None]
    for slot, found in enumerate(table.found):
        left = left + state.adder[:, slot, None, :] * found
        total = (precision * found).sum(axis=1) + 1 / state.adder_var[:, None]
        pull = (precision * found * left).sum(axis=1)
        drawn = pull / total + rng.standard_normal(pull.shape) / np.sqrt(total)
        state.adder[:, slot] = drawn
        left = left - drawn[:, None, :] * found


def _update_steps(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Draw the two levels with the step means integrated out, then the step means."""
    precision = _precision(state) * table.weigh[:, None]
    total = precision.sum(axis=1)
    pull = (precision * (table.y - _shared(state, table))).sum(axis=1) - total * table.offset
    spread = state.level_var @ table.kind.T
    damped = 1 + spread * total
    prior_precision = 1 / np.square([prior.book_offset, prior.free_offset])
    level_precision = prior_precision + (total / damped) @ table.kind
    middle = (pull / damped) @ table.kind / level_precision
    noise = rng.standard_normal(middle.shape)
    state.level = middle + noise / np.sqrt(level_precision)
    level = state.level @ table.kind.T
    step_precision = 1 / spread + total
    middle = table.offset + (level / spread + pull) / step_precision
    state.mean = middle + rng.standard_normal(middle.shape) / np.sqrt(step_precision)


def _update_sessions(state: State, table: Table, rng: np.random.Generator) -> None:
    """Draw the session effects with the stage effects integrated out, then the latter."""
    precision = _precision(state)
    left = table.y - state.mean[:, None, :]
    for slot, found in enumerate(table.found):
        left = left - state.adder[:, slot, None, :] * found
    total = precision @ table.stage
    pull = (precision * left) @ table.stage
    variance = state.stage_var[:, None, None]
    damped = 1 + variance * total
    session_precision = 1 / state.session_var[:, None] + (total / damped).sum(axis=2)
    expected = centre(state, table) / state.session_var[:, None]
    middle = (expected + (pull / damped).sum(axis=2)) / session_precision
    noise = rng.standard_normal(middle.shape)
    state.session = middle + noise / np.sqrt(session_precision)
    # Written without 1/variance: with one stage only, the variance is zero.
    middle = variance * (pull - total * state.session[:, :, None]) / damped
    noise = rng.standard_normal(middle.shape)
    state.stage = middle + noise * np.sqrt(variance / damped)


def _update_technicians(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Draw the technicians' effects, and how much faster each doubling of the repeats makes."""
    variance = state.session_var[:, None]
    if table.who.shape[1]:
        left = state.session - state.learning[:, None] * table.repeat
        precision = (table.weigh @ table.who) / variance + 1 / state.who_var[:, None]
        middle = (left * table.weigh) @ table.who / variance / precision
        state.who = middle + rng.standard_normal(middle.shape) / np.sqrt(precision)
    if table.repeat.any():
        run = table.weigh * table.repeat
        one = run @ table.repeat / state.session_var + 1 / prior.learning**2
        pull = (state.session - state.who @ table.who.T) @ run / state.session_var
        state.learning = pull / one + rng.standard_normal(one.shape) / np.sqrt(one)


def _shift(state: State, table: Table, prior: Prior, rng: np.random.Generator) -> None:
    """Move all sessions down and all steps up by one amount: the data cannot tell.

    Without this the chains wander slowly along that direction.  The amount is
    drawn from its exact normal conditional (a translation-group Gibbs move,
    Liu and Sabatti 2000, Biometrika 87(2)).  Technicians move with their sessions.
    """
    level_precision = 1 / np.square([prior.book_offset, prior.free_offset])
    if table.who.shape[1]:
        precision = table.who.shape[1] / state.who_var + level_precision.sum()
        pull = state.who.sum(axis=1) / state.who_var
    else:
        precision = table.weigh.sum() / state.session_var + level_precision.sum()
        pull = (state.session - centre(state, table)) @ table.weigh / state.session_var
    pull = pull - state.level @ level_precision
    amount = (pull / precision + rng.standard_normal(pull.shape) / np.sqrt(precision))[:, None]
    state.session = state.session - amount
    if table.who.shape[1]:
        state.who = state.who - amount
    state.level = state.level + amount
    state.mean = state.mean + amount
