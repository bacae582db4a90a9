"""Forward and backward sums over a chain of steps (`benchvoice/follow/hmm.py`), with the moves
counted as expected: what the learner of the weights needs (step_weights.py)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from benchvoice.follow import hmm
from benchvoice.follow.hmm import Moves

Pair = tuple[hmm.Floats, hmm.Floats]
Around = tuple[Pair, Pair]


class Counts:
    """How often each move is made, as expected: by kind, (onward, aside, resume, other), (S, S)."""

    def __init__(self, kinds: int, size: int) -> None:
        self.cells = np.zeros((kinds, 4, size, size))
        self.remain = np.zeros(kinds)
        self.first = np.zeros(size)

    def add(self, chain: Chain, at: int, around: Around, sign: float) -> None:
        """Add the move that leads to `at`, from the variables before and after it."""
        (main, aside), (main_on, aside_on) = around
        moves, kind = chain.moves[at], chain.kinds[at]
        off = aside.sum(axis=1)
        cells = (
            main[:, None] * moves.onward * main_on,
            main[:, None] * moves.aside * aside_on,
            off[:, None] * moves.resume * main_on,
            off[:, None] * moves.other * aside_on,
        )
        stay = moves.remain * float((aside * aside_on).sum())
        share = sign / (sum(float(cell.sum()) for cell in cells) + stay)
        for one, cell in enumerate(cells):
            self.cells[kind, one] += share * cell
        self.remain[kind] += share * stay


class Chain(NamedTuple):
    """A chain to be added up: chances of the first step (S), moves and their kinds (T), and the
    log likelihoods (T, S) of what was seen."""

    first: hmm.Floats
    moves: Sequence[Moves]
    kinds: Sequence[int]
    evidence: hmm.Floats


def expect(chain: Chain, counts: Counts, sign: float) -> tuple[float, hmm.Floats]:
    """Add the expected moves to `counts`; gives the log likelihood and the chances (T, S)."""
    tops = chain.evidence.max(axis=1)
    seen = np.exp(chain.evidence - tops[:, None])
    size = chain.first.size
    main, aside = chain.first * seen[0], np.zeros((size, size))
    past, value = [], float(tops.sum())
    for at, moves in enumerate(chain.moves):
        if at:
            off = aside.sum(axis=1)
            stay = moves.remain * aside
            aside = main[:, None] * moves.aside + off[:, None] * moves.other + stay
            main, aside = (main @ moves.onward + off @ moves.resume) * seen[at], aside * seen[at]
        total = main.sum() + aside.sum()
        main, aside = main / total, aside / total
        value += float(np.log(total))
        past.append((main, aside))
    chances = np.zeros_like(chain.evidence)
    ahead = np.ones(size), np.ones((size, size))
    for at in range(len(past) - 1, -1, -1):
        here = past[at][0] * ahead[0] + (past[at][1] * ahead[1]).sum(axis=0)
        chances[at] = here / here.sum()
        if at:
            ahead = ahead[0] * seen[at], ahead[1] * seen[at]
            counts.add(chain, at, (past[at - 1], ahead), sign)
            ahead = _back(chain.moves[at], *ahead)
    counts.first += sign * chances[0]
    return value, chances


def _back(moves: Moves, main: hmm.Floats, aside: hmm.Floats) -> tuple[hmm.Floats, hmm.Floats]:
    on = moves.onward @ main + (moves.aside * aside).sum(axis=1)
    off = moves.resume @ main + (moves.other * aside).sum(axis=1)
    aside = moves.remain * aside + off[:, None]
    total = on.sum() + aside.sum()
    return on / total, aside / total
