"""Learn the weights of benchvoice/follow/weights.py from generated sessions.

The weights are those under which the true steps of the development sessions have the highest
probability given all that was said (conditional likelihood with hidden states, as for the hidden
conditional random fields that follow Lafferty, McCallum and Pereira, ICML 2001), with a Gaussian
prior.  Development sessions are of the reversing gearbox only.

One run from nothing, which takes about a minute; write beside and move, as the module is imported:
python tests/benchmarks/step_weights.py [--seeds 1 2 3] [--sessions 10] [--rounds 55] > new.py
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy.optimize import minimize

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).resolve().parent)]

from step_sessions import Bench, Line, Rates  # noqa: E402

from benchvoice.follow import hmm  # noqa: E402
from benchvoice.follow.align import said_of  # noqa: E402
from benchvoice.follow.evidence import FEATURES, Evidence  # noqa: E402
from benchvoice.follow.hmm import Moves  # noqa: E402
from benchvoice.follow.tendency import (  # noqa: E402
    ANYWHERE,
    MOVES,
    STARTS,
    Tendency,
    heard,
    move_features,
    moves_of,
    start_features,
    start_of,
    together,
)
from benchvoice.remark import Finding  # noqa: E402

SPREAD = 2.0
"""Standard deviation of the prior of a weight."""
PRIOR = {
    "hardware_other_work": (0.0, 0.3),
    "name_other_work": (0.0, 0.3),
    "name_implied": (1.5, 0.5),
    "part_put_back": (2.0, 1.0),
}
"""Mean and standard deviation of the prior where the trade knows better than a few sentences that
were heard wrong: the parts of a step are no sign of it when other work is done to them (common
practice, no source)."""
MOVE_PRIOR = {
    "skip_many": (-3.0, 0.7),
    "later_stage": (0.0, 0.5),
    "unlocked": (0.0, 0.3),
    "early": (0.0, 0.3),
}
"""The same for moves onward and aside: jumps far ahead of the work are next to unknown."""
LATER_START = (-3.0, 0.5)
"""The same for a job that does not begin with the first stage."""
KINDS = ("between", "told")
"""Moves between remarks, and after a command to a step."""
WITHIN = len(KINDS)
"""Moves between the findings of one remark; these are not learned."""
DEVELOPMENT = (
    (Rates(), 0.0),
    (Rates(bare=0.15, joined=0.06), 0.0),
    (Rates(command=0.3, bare=0.1, joined=0.06), 0.0),
    (Rates(), 0.05),
    (Rates(command=0.3, bare=0.1, joined=0.06), 0.05),
)
"""The mixture of sessions learned from: rates, and the share of words heard wrong."""

_NEVER = -1e6


class Taught(NamedTuple):
    """A session as features (T, S, F), kinds of moves (T), true steps (T), and known ones (T)."""

    features: hmm.Floats
    kinds: list[int]
    true: hmm.Ints
    told: list[bool]


def taught(lines: Sequence[Line], evidence: Evidence) -> Taught:
    """Turn a session into what is learned from; stray remarks are left out."""
    rows, kinds, true, told = [], [], [], []
    done = np.zeros(len(evidence.steps))
    kind = 0
    for line in lines:
        if not line.steps:
            continue
        findings = line.remark.findings or (Finding(),)
        if line.told:
            findings = (Finding(),)
            done[evidence.at[line.told]] = 0.0
        each = line.steps if len(line.steps) == len(findings) else line.steps[:1] * len(findings)
        words = said_of(findings, line.say)
        for finding, said, step in zip(findings, words, each, strict=True):
            row = np.zeros((len(evidence.steps), len(FEATURES) + 1))
            if not line.told:
                row[:, :-1] = evidence.features(finding, said)
                row[:, -1] = done
            rows.append(row)
            kinds.append(kind)
            true.append(evidence.at[step])
            told.append(line.told is not None)
            kind = WITHIN
        kind = 1 if line.told and not line.finished else 0
        if line.finished:
            done[evidence.at[line.steps[0]]] = 1.0
    return Taught(np.array(rows), kinds, np.array(true), told)


class Weights(NamedTuple):
    """All that is learned."""

    evidence: hmm.Floats
    tendencies: list[Tendency]
    start: hmm.Floats


Pair = tuple[hmm.Floats, hmm.Floats]
Around = tuple[Pair, Pair]


class Counts:
    """How often each move is made, as expected: by kind, (onward, aside, resume, other), (S, S)."""

    def __init__(self, size: int) -> None:
        self.cells = np.zeros((WITHIN + 1, 4, size, size))
        self.remain = np.zeros(WITHIN + 1)
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


class Learner:
    """The negative log likelihood of sessions and its gradient, by weights in one vector."""

    def __init__(self, bench: Bench, sessions: Sequence[Taught]) -> None:
        self.sessions = sessions
        self.moves = move_features(bench.outline)
        self.starts = start_features(bench.outline)
        prior = [PRIOR.get(name, (0.0, SPREAD)) for name in FEATURES]
        self.sizes = [len(FEATURES) + 1, *[len(MOVES)] * 6, 2, len(STARTS)]
        prior.append((0.0, SPREAD))
        ahead = [MOVE_PRIOR.get(name, (0.0, SPREAD)) for name in MOVES]
        prior += ahead * 4
        prior += [(0.0, SPREAD)] * (sum(self.sizes) - len(prior))
        prior[-1] = LATER_START
        self.mean = np.array([mean for mean, _ in prior])
        self.spread = np.array([spread for _, spread in prior])

    def begin(self) -> hmm.Floats:
        """Give weights to begin with: a job stays on its step, and asides are rare."""
        vector = np.zeros(sum(self.sizes))
        parts = self.split(vector)
        for at in (3, 4, 6):
            parts[at][:] = -2.5
        for at in (1, 2):
            parts[at][0] = 2.0
        parts[7][:] = 1.0
        return vector

    def split(self, vector: hmm.Floats) -> list[hmm.Floats]:
        """Cut a vector into views of its parts."""
        return np.split(vector, np.cumsum(self.sizes)[:-1])

    def weights(self, vector: hmm.Floats) -> Weights:
        """Name the parts of a vector."""
        evidence, *onward, aside0, aside1, resume, other, remain, start = self.split(vector)
        tendencies = [
            Tendency(on, aside, resume, other, float(odds))
            for on, aside, odds in zip(onward, (aside0, aside1), remain, strict=True)
        ]
        return Weights(evidence, tendencies, start)

    def loss(self, vector: hmm.Floats) -> tuple[float, hmm.Floats]:
        """Give the negative log likelihood with the prior, and its gradient.

        Both are those of the chain on which the true steps are known less those of the free one.
        """
        named = self.weights(vector)
        kinds = [moves_of(tendency, self.moves) for tendency in named.tendencies]
        kinds.append(together(len(self.moves)))
        first = start_of(named.start, self.starts)
        total, gradient = 0.0, np.zeros_like(named.evidence)
        counts = Counts(len(first))
        for session in self.sessions:
            moves = [kinds[kind] for kind in session.kinds]
            scores = session.features @ named.evidence
            for sign, seen in ((1.0, _known(session, scores)), (-1.0, _told(session, scores))):
                chain = Chain(first, moves, session.kinds, seen)
                value, chances = expect(chain, counts, sign)
                total += sign * value
                pull = _through_heard(chances, scores)
                gradient += sign * np.einsum("ts,tsf->f", pull, session.features)
        every = self._gradient(kinds, counts, first)
        off = (vector - self.mean) / self.spread
        slope = off / self.spread - np.concatenate([gradient, *every])
        return 0.5 * float(off @ off) - total, slope

    def _gradient(
        self, kinds: Sequence[Moves], counts: Counts, first: hmm.Floats
    ) -> list[hmm.Floats]:
        onward, aside, remain = [], [], []
        resume, other = np.zeros(len(MOVES)), np.zeros(len(MOVES))
        for kind, moves in enumerate(kinds[:WITHIN]):
            cells = counts.cells[kind]
            rows = (cells[0] + cells[1]).sum(axis=1)[:, None]
            onward.append(self._of(cells[0] - rows * moves.onward))
            aside.append(self._of(cells[1] - rows * moves.aside))
            rows = (cells[2] + cells[3]).sum(axis=1)[:, None]
            left = 1.0 - moves.remain
            resume += self._of(cells[2] - rows * moves.resume / left)
            other += self._of(cells[3] - rows * moves.other / left)
            remain.append(counts.remain[kind] * left - float(rows.sum()) * moves.remain)
        start = (counts.first - counts.first.sum() * first) @ self.starts
        return [*onward, *aside, resume, other, np.array(remain), start]

    def _of(self, cells: hmm.Floats) -> hmm.Floats:
        return np.einsum("ij,ijf->f", cells, self.moves)


def _known(session: Taught, scores: hmm.Floats) -> hmm.Floats:
    """The evidence with the true steps given."""
    every = np.arange(len(scores))
    seen = np.full_like(scores, _NEVER)
    seen[every, session.true] = heard(scores)[every, session.true]
    return seen


def _told(session: Taught, scores: hmm.Floats) -> hmm.Floats:
    """The evidence with the steps given that a command led to."""
    return np.where(np.array(session.told)[:, None], _known(session, scores), heard(scores))


def _through_heard(chances: hmm.Floats, scores: hmm.Floats) -> hmm.Floats:
    """Turn a gradient by what `heard` gives (T, S) into one by the scores."""
    shares = np.exp(scores - scores.max(axis=1, keepdims=True))
    shares /= shares.sum(axis=1, keepdims=True)
    pull = chances * shares / (shares + ANYWHERE)
    return pull - shares * pull.sum(axis=1, keepdims=True)


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


def as_module(named: Weights) -> str:
    """Give the weights as the module that has them."""
    evidence = dict(zip((*FEATURES, "done"), named.evidence.round(2).tolist(), strict=True))
    lines = [
        '"""Weights learned by tests/benchmarks/step_weights.py; do not edit by hand."""',
        "",
        "from __future__ import annotations",
        "",
        "from benchvoice.follow.tendency import Tendency",
        "",
        "EVIDENCE = {",
        *(f'    "{name}": {value},' for name, value in evidence.items() if name != "done"),
        "}",
        '"""Log odds for a step of each of `evidence.FEATURES`."""',
        "",
        f"DONE = {evidence['done']}",
        '"""Log odds for a step that was declared finished."""',
        "",
    ]
    for name, tendency in zip(KINDS, named.tendencies, strict=True):
        lines.append(f"{name.upper()} = Tendency(")
        for field, values in tendency._asdict().items():
            shown = round(values, 2) if field == "remain" else tuple(np.round(values, 2).tolist())
            lines.append(f"    {field}={shown},")
        lines += [")", ""]
    start = tuple(named.start.round(2).tolist())
    return "\n".join([*lines, f"START = {start}", '"""Log odds of `tendency.STARTS`."""', ""])


def main(argv: Sequence[str] | None = None) -> int:
    """Print the module; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--sessions", type=int, default=10, help="of each seed")
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3])
    parser.add_argument("--rounds", type=int, default=55)
    args = parser.parse_args(argv)
    benches = [Bench("reversing_gearbox", seed) for seed in args.seeds]
    evidence = Evidence(benches[0].outline)
    sessions = [
        taught(bench.session(*DEVELOPMENT[at % len(DEVELOPMENT)]), evidence)
        for bench in benches
        for at in range(args.sessions)
    ]
    learner = Learner(benches[0], sessions)
    options = {"maxiter": args.rounds}
    found = minimize(learner.loss, learner.begin(), jac=True, method="L-BFGS-B", options=options)
    print(as_module(learner.weights(found.x)), end="")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
