"""How a job goes from step to step: on the spot, onward, past some, back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from benchvoice.follow.hmm import Floats, Moves
from benchvoice.grammar.outline import Outline

MOVES = (
    "stay", "next", "skip_one", "skip_few", "skip_many", "back_one", "back_few", "back_many",
    "later_stage", "earlier_stage", "unlocked", "early",
)  # fmt: skip
"""What is looked at in a move; the columns of `move_features`.  "early" is the share of the steps
that have to come first which are still ahead."""
_KINDS_OF_MOVE = 8
"""The first so many of MOVES: each move is of one of them."""
STARTS = ("first", "needs_nothing", "needs_other", "later_stage")
"""What is looked at in the step that a job begins with."""

ANYWHERE = 3e-5
"""Chance that a remark of a step is like what is said of any other one; set by hand."""

_ADRIFT = 0.01
"""Chance that a remark which names nothing is not of what was said last; set by hand."""

_FEW = 4


def move_features(outline: Outline) -> Floats:
    """Give the features (S, S, M) of each move from one step (row) to another."""
    steps = list(outline.steps())
    places = np.arange(len(steps))
    places_of = {step.id: at for at, step in enumerate(steps)}
    stage = np.array([at for at, one in enumerate(outline.stage) for _ in one.step])
    ahead = places[None, :] - places[:, None]
    later = np.sign(stage[None, :] - stage[:, None])
    unlocked = [[one.id in other.after for other in steps] for one in steps]
    early = [
        [_share_ahead(at, [places_of[before] for before in other.after]) for other in steps]
        for at in range(len(steps))
    ]
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
        np.array(early, float).reshape(len(steps), len(steps)),
    )
    return np.stack([look.astype(float) for look in looks], axis=-1)


def _share_ahead(at: int, places: Sequence[int]) -> float:
    return sum(place > at for place in places) / max(1, len(places))


def crowding(features: Floats) -> Floats:
    """Give the log (S, S) of how many moves of a row are of the same kind.

    Taken off the score of a move, so that a weight tells of the kind as a whole, and is right for
    outlines of other lengths too.
    """
    kinds = features[:, :, :_KINDS_OF_MOVE]
    many: Floats = np.log((kinds * kinds.sum(axis=1, keepdims=True)).sum(axis=-1))
    return many


def start_features(outline: Outline) -> Floats:
    """Give the features (S, 4) of each step as the one that a job begins with."""
    steps = list(outline.steps())
    free = np.array([not step.after for step in steps], bool)
    first = np.arange(len(steps)) == 0
    later = np.array([at > 0 for at, stage in enumerate(outline.stage) for _ in stage.step], bool)
    return np.stack([first, free & ~first, ~free & ~first, later], axis=-1).astype(float)


class Tendency(NamedTuple):
    """Weights of MOVES for one kind of move, as in `hmm.Moves`; `remain` is a log odds."""

    onward: Sequence[float]
    aside: Sequence[float]
    resume: Sequence[float]
    other: Sequence[float]
    remain: float


def moves_of(tendency: Tendency, features: Floats) -> Moves:
    """Turn weights into chances: a softmax over all that can come after a step."""
    crowd = crowding(features)
    elsewhere = np.where(np.eye(len(features), dtype=bool), -np.inf, 0.0)

    def score(weights: Sequence[float]) -> Floats:
        scores: Floats = features @ np.array(weights) - crowd
        return scores

    onward, aside = _shares(score(tendency.onward), score(tendency.aside) + elsewhere)
    resume, other = _shares(score(tendency.resume), score(tendency.other) + elsewhere)
    remain = 1.0 / (1.0 + np.exp(-tendency.remain))
    return Moves(onward, aside, resume * (1.0 - remain), other * (1.0 - remain), remain)


def together(size: int) -> Moves:
    """Give the chances of moves to a remark that names nothing: it is of what was said last."""
    same, none = np.eye(size), np.zeros((size, size))
    adrift = _ADRIFT / size + none
    return Moves((1.0 - _ADRIFT) * same, adrift, adrift, none, 1.0 - _ADRIFT)


def either(chance: float, one: Moves, other: Moves) -> Moves:
    """Give the moves that are those of `one` with a chance, else those of the `other`."""
    rest = 1.0 - chance
    return Moves(
        chance * one.onward + rest * other.onward,
        chance * one.aside + rest * other.aside,
        chance * one.resume + rest * other.resume,
        chance * one.other + rest * other.other,
        chance * one.remain + rest * other.remain,
    )


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
