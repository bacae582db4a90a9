"""A hidden Markov model of a job: a main line of steps, and asides to other steps on the way.

The state is the step that the job has come to, and, while something is said of another step, that
one as well: after the aside the job goes on from where it was.  Decoded by the forward and the
forward-backward algorithm with scaling, as in Rabiner (1989), "A tutorial on hidden Markov models
and selected applications in speech recognition", Proceedings of the IEEE 77(2), 257-286.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]


class Moves(NamedTuple):
    """The chances of one kind of move between S steps; each (S, S) is from row to column.

    On the main line at a step: `onward` to another or the same, `aside` to an aside off it.  In an
    aside off a step: `remain` in it, `resume` the main line, `other` for another aside off the
    step.  `onward` and `aside` of a row sum to one, so do `remain`, `resume` and `other`.
    """

    onward: Floats
    aside: Floats
    resume: Floats
    other: Floats
    remain: float


class Belief(NamedTuple):
    """How likely the job is where: on the main line at a step (S), or in an aside off a step (row)
    to another (column) (S, S); all together sum to one."""

    main: Floats
    aside: Floats

    @property
    def steps(self) -> Floats:
        """The chance (S) of each step to be the one that is talked about."""
        here: Floats = self.main + self.aside.sum(axis=0)
        return here


def begun(start: Floats, evidence: Floats) -> Belief:
    """Give the belief after the first observation; `start` (S) is the chance to begin there."""
    return _scaled(start * np.exp(evidence - evidence.max()), np.zeros((start.size, start.size)))


def moved(belief: Belief, moves: Moves, evidence: Floats) -> Belief:
    """Give the belief after one more observation; `evidence` (S) is a log likelihood."""
    seen = np.exp(evidence - evidence.max())
    off = belief.aside.sum(axis=1)
    main = belief.main @ moves.onward + off @ moves.resume
    aside = belief.main[:, None] * moves.aside + off[:, None] * moves.other
    aside += moves.remain * belief.aside
    return _scaled(main * seen, aside * seen)


def forward(belief: Belief, moves: Sequence[Moves], evidence: Floats) -> list[Belief]:
    """Give the belief after each of T more observations; `moves` (T) lead to each."""
    beliefs = []
    for move, seen in zip(moves, evidence, strict=True):
        belief = moved(belief, move, seen)
        beliefs.append(belief)
    return beliefs


def smoothed(past: Sequence[Belief], moves: Sequence[Moves], evidence: Floats) -> Floats:
    """Give the chances (T, S) of each step by all T observations, those after it as well.

    `past` (T) are the beliefs by those up to it; the first of the `moves` (T) is not used.
    """
    chances = np.zeros(evidence.shape)
    size = evidence.shape[1]
    ahead = Belief(np.ones(size), np.ones((size, size)))
    for at in range(len(past) - 1, -1, -1):
        here = past[at].main * ahead.main + (past[at].aside * ahead.aside).sum(axis=0)
        chances[at] = here / here.sum()
        if at:
            ahead = _looked_ahead(ahead, moves[at], evidence[at])
    return chances


def _looked_ahead(ahead: Belief, moves: Moves, evidence: Floats) -> Belief:
    """Give the scaled backward variables of one observation earlier."""
    seen = np.exp(evidence - evidence.max())
    main, aside = ahead.main * seen, ahead.aside * seen
    off = moves.resume @ main + (moves.other * aside).sum(axis=1)
    on = moves.onward @ main + (moves.aside * aside).sum(axis=1)
    return _scaled(on, moves.remain * aside + off[:, None])


def _scaled(main: Floats, aside: Floats) -> Belief:
    total = main.sum() + aside.sum()
    return Belief(main / total, aside / total)
