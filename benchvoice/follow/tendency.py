"""How a job goes from step to step: on the spot, onward, past some, back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from benchvoice.follow.hmm import Floats, Moves
from benchvoice.grammar.outline import Outline

MOVES = (
    "stay", "next", "skip_one", "skip_few", "skip_many", "back_one", "back_few", "back_many",
    "later_stage", "earlier_stage", "unlocked",
)  # fmt: skip
"""What is looked at in a move; the columns of `move_features`."""
STARTS = ("first", "needs_nothing", "needs_other")
"""What is looked at in the step that a job begins with."""

ANYWHERE = 3e-4
"""Chance that a remark of a step is like what is said of any other one; set by hand."""

_FEW = 4


def move_features(outline: Outline) -> Floats:
    """Give the features (S, S, M) of each move from one step (row) to another."""
    steps = list(outline.steps())
    places = np.arange(len(steps))
    stage = np.array([at for at, one in enumerate(outline.stage) for _ in one.step])
    ahead = places[None, :] - places[:, None]
    later = np.sign(stage[None, :] - stage[:, None])
    unlocked = [[one.id in other.after for other in steps] for one in steps]
    looks = (
        ahead == 0,
        ahead == 1,
        ahead == 2,
        (ahead > 2) & (ahead <= 1 + _FEW),
        ahead > 1 + _FEW,
        ahead == -1,
        (ahead < -1) & (ahead >= -_FEW),
        ahead < -_FEW,
        later == 1,
        later == -1,
        np.array(unlocked, bool).reshape(len(steps), len(steps)),
    )
    return np.stack([look.astype(float) for look in looks], axis=-1)


def start_features(outline: Outline) -> Floats:
    """Give the features (S, 3) of each step as the one that a job begins with."""
    steps = list(outline.steps())
    free = np.array([not step.after for step in steps], bool)
    first = np.arange(len(steps)) == 0
    return np.stack([first, free & ~first, ~free & ~first], axis=-1).astype(float)


class Tendency(NamedTuple):
    """Weights of MOVES for one kind of move, as in `hmm.Moves`; `remain` is a log odds."""

    onward: Sequence[float]
    aside: Sequence[float]
    resume: Sequence[float]
    other: Sequence[float]
    remain: float


def moves_of(tendency: Tendency, features: Floats) -> Moves:
    """Turn weights into chances: a softmax over all that can come after a step."""
    elsewhere = np.where(np.eye(len(features), dtype=bool), -np.inf, 0.0)
    onward, aside = _shares(
        features @ np.array(tendency.onward), features @ np.array(tendency.aside) + elsewhere
    )
    resume, other = _shares(
        features @ np.array(tendency.resume), features @ np.array(tendency.other) + elsewhere
    )
    remain = 1.0 / (1.0 + np.exp(-tendency.remain))
    return Moves(onward, aside, resume * (1.0 - remain), other * (1.0 - remain), remain)


def start_of(weights: Sequence[float], features: Floats) -> Floats:
    """Turn weights of STARTS into the chances (S) of each step to be the first."""
    scores = np.exp(features @ np.array(weights))
    chances: Floats = scores / scores.sum()
    return chances


def heard(scores: Floats) -> Floats:
    """Turn scores (..., S) for steps into log likelihoods that no single remark makes certain.

    A share of ANYWHERE of the remarks is said of any step at all: misheard, or a stray one.
    """
    shares = np.exp(scores - scores.max(axis=-1, keepdims=True))
    likely: Floats = np.log(shares / shares.sum(axis=-1, keepdims=True) + ANYWHERE)
    return likely


def _shares(one: Floats, other: Floats) -> tuple[Floats, Floats]:
    most = np.maximum(one.max(axis=1), other.max(axis=1))[:, None]
    left, right = np.exp(one - most), np.exp(other - most)
    total = (left.sum(axis=1) + right.sum(axis=1))[:, None]
    return left / total, right / total
