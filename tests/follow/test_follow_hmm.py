"""The decoder against a worked example in print, and against counting every path."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from benchvoice.follow.hmm import Floats, Moves, begun, forward, smoothed
from benchvoice.follow.tendency import MOVES, Tendency, move_features, moves_of
from benchvoice.grammar import load_outline


def decoded(start: Floats, moves: list[Moves], evidence: Floats) -> tuple[Floats, Floats]:
    """Give what is believed as things are seen (T, S), and looking back (T, S)."""
    first = begun(start, evidence[0])
    past = [first, *forward(first, moves[1:], evidence[1:])]
    return np.array([belief.steps for belief in past]), smoothed(past, moves, evidence)


def test_the_umbrella() -> None:
    # Russell and Norvig, Artificial Intelligence: A Modern Approach, 3rd edition, section 15.2:
    # rain follows rain with 0.7, an umbrella is seen with 0.9 in rain and 0.2 in none; seen on
    # both days: 0.818 for rain on day 1, 0.883 on day 2, and 0.883 on day 1 looking back
    weather = np.array([[0.7, 0.3], [0.3, 0.7]])
    none = np.zeros((2, 2))
    moves = Moves(onward=weather, aside=none, resume=weather, other=none, remain=0.0)
    seen = np.log([[0.9, 0.2], [0.9, 0.2]])
    now, back = decoded(np.array([0.5, 0.5]), [moves, moves], seen)
    assert now[:, 0] == pytest.approx([0.818, 0.883], abs=0.0005)
    assert back[:, 0] == pytest.approx([0.883, 0.883], abs=0.0005)


def random_moves(dice: np.random.Generator, size: int) -> Moves:
    on = dice.dirichlet(np.ones(2 * size), size)
    off = dice.dirichlet(np.ones(2 * size), size)
    return Moves(on[:, :size], on[:, size:], 0.6 * off[:, :size], 0.6 * off[:, size:], 0.4)


def chance(one: tuple[int, int | None], other: tuple[int, int | None], moves: Moves) -> float:
    """The chance of a move between two states (step come to, step of an aside or None)."""
    (come, aside), (to, then) = one, other
    if aside is None:
        if then is None:
            return float(moves.onward[come, to])
        return float(moves.aside[come, then]) if come == to else 0.0
    if then is None:
        return float(moves.resume[come, to])
    stays = moves.remain if aside == then else 0.0
    return float(moves.other[come, then]) + stays if come == to else 0.0


@pytest.mark.parametrize("seed", range(3))
def test_every_path_counted(seed: int) -> None:
    # the reference is the definition: all paths of 4 states enumerated and added up
    dice = np.random.default_rng(seed)
    size, length = 2, 4
    start = dice.dirichlet(np.ones(size))
    moves = [random_moves(dice, size) for _ in range(length)]
    evidence = dice.normal(size=(length, size))
    states = [(come, aside) for come in range(size) for aside in (None, *range(size))]
    first = [(come, None) for come in range(size)]
    now, back = np.zeros((length, size)), np.zeros((length, size))
    for end in range(1, length + 1):
        for path in product(first, *[states] * (end - 1)):
            weight = float(start[path[0][0]])
            for at in range(1, end):
                weight *= chance(path[at - 1], path[at], moves[at])
            spoken = [come if aside is None else aside for come, aside in path]
            weight *= float(np.exp(sum(evidence[at, one] for at, one in enumerate(spoken))))
            now[end - 1, spoken[-1]] += weight
            if end == length:
                for at, one in enumerate(spoken):
                    back[at, one] += weight
    as_seen, looking_back = decoded(start, moves, evidence)
    assert as_seen == pytest.approx(now / now.sum(axis=1, keepdims=True))
    assert looking_back == pytest.approx(back / back.sum(axis=1, keepdims=True))


@pytest.mark.parametrize("name", ["reversing_gearbox", "worm_reducer"])
def test_chances_of_moves_add_up_to_one(name: str) -> None:
    dice = np.random.default_rng(1)
    weights = [tuple(dice.normal(size=len(MOVES)).tolist()) for _ in range(4)]
    moves = moves_of(Tendency(*weights, remain=0.3), move_features(load_outline(name)))
    assert (moves.onward + moves.aside).sum(axis=1) == pytest.approx(1.0)
    assert (moves.resume + moves.other).sum(axis=1) + moves.remain == pytest.approx(1.0)
