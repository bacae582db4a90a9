"""Learn the weights of benchvoice/follow/weights.py from generated sessions.

The weights are those under which the true steps of the development sessions have the highest
probability given all that was said (conditional likelihood with hidden states, as for the hidden
conditional random fields that follow Lafferty, McCallum and Pereira, ICML 2001), with a Gaussian
prior.  Development sessions are of the reversing gearbox, and of outlines made of it
(step_varied.py).  A run goes on from the weights that the program has; with --share it goes only
so far of the way, which does better on other talk than either end.  How jobs go was learned where
next to nothing is heard wrong, and stays with --evidence-only: words that were heard wrong look
like a job that jumps about.

It takes about two minutes; write beside and move, as the module is imported:
python tests/benchmarks/step_weights.py [--seeds 1 2 3 4 5] [--sessions 4] [--rounds 30] > new.py
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from itertools import zip_longest
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy.optimize import minimize

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(Path(__file__).resolve().parent)]

from step_chain import Chain, Counts, expect  # noqa: E402
from step_sessions import Bench, Line, Rates  # noqa: E402
from step_varied import varied  # noqa: E402

from benchvoice.follow import hmm, weights  # noqa: E402
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
from benchvoice.grammar import trade_kinds  # noqa: E402
from benchvoice.remark import Finding  # noqa: E402

SPREAD = 2.0
"""Standard deviation of the prior of a weight."""
PRIOR = {
    "hardware_worked": (7.5, 0.3),
    "hardware_other_work": (0.0, 0.3),
    "name_other_work": (0.0, 0.3),
    "put_back_worked": (2.0, 1.0),
    "put_back_name": (1.0, 0.3),
    "one_of_one": (0.5, 0.1),
    "one_of_many": (-0.5, 0.1),
    "many_of_one": (-0.5, 0.1),
    "many_of_many": (0.5, 0.1),
}
"""Mean and standard deviation of the prior where the trade knows better than a few sentences that
were heard wrong: the parts of a step are no sign of it when other work is done to them, and a sure
one when they are taken off, however far the job has jumped; people say one thing of several more
often than the generator does, which never does (common practice, no source)."""
MOVE_PRIOR = {
    "skip_many": (-3.0, 0.7),
    "later_stage": (0.0, 0.5),
    "unlocked": (0.0, 0.3),
    "early": (0.0, 0.3),
}
"""The same for moves onward and aside: jumps far ahead of the work are next to unknown."""
ONWARD_PRIOR = {"back_one": (-2.0, 0.5), "back_few": (-3.0, 0.5), "back_many": (-4.0, 0.5)}
"""The same for moves onward: what is gone back to is an aside, and the job goes on where it was."""
LATER_START = (-3.0, 0.5)
"""The same for a job that does not begin with the first stage."""
KINDS = ("between", "told", "within")
"""Moves between remarks, after a command to a step, between the findings of one remark."""
WITHIN = 2
NAMELESS = len(KINDS)
"""Moves to a remark that names nothing; these are not learned."""
DEVELOPMENT = (
    (Rates(), 0.0),
    (Rates(bare=0.12, joined=0.05, stray=0.03), 0.0),
    (Rates(command=0.3, bare=0.12, joined=0.05, stray=0.03), 0.0),
    (Rates(), 0.05),
    (Rates(command=0.3, bare=0.12, joined=0.05, stray=0.03), 0.05),
    (Rates(bare=0.12, joined=0.05, stray=0.03), 0.1),
)
"""The mixture of sessions learned from: rates, and the share of words heard wrong."""

STRAY = -1
"""Instead of the true step of a remark that is of none."""

_NEVER = -1e6


class Taught(NamedTuple):
    """A session as features (T, S, F), kinds of moves (T), true steps (T), and known ones (T)."""

    features: hmm.Floats
    kinds: list[int]
    true: hmm.Ints
    told: list[bool]


def taught(lines: Sequence[Line], evidence: Evidence) -> Taught:
    """Turn a session into what is learned from; of stray remarks it is not told where they are."""
    rows, kinds, true, told = [], [], [], []
    done = np.zeros(len(evidence.steps))
    kind = 0
    for line in lines:
        findings = line.remark.findings or (Finding(),)
        if line.told:
            findings = (Finding(),)
            done[evidence.at[line.told]] = 0.0
        elif rows and not evidence.names(findings, line.say):
            kind = NAMELESS
        each = line.steps if len(line.steps) == len(findings) else line.steps[:1] * len(findings)
        words = said_of(findings, line.say)
        for finding, said, step in zip_longest(findings, words, each):
            row = np.zeros((len(evidence.steps), len(FEATURES) + 1))
            if not line.told:
                row[:, :-1] = evidence.features(finding, said)
                row[:, -1] = done
            rows.append(row)
            kinds.append(kind)
            true.append(evidence.at[step] if step else STRAY)
            told.append(line.told is not None)
            kind = WITHIN
        kind = 1 if line.told and not line.finished else 0
        if line.finished:
            done[evidence.at[line.steps[0]]] = 1.0
    return Taught(np.array(rows), kinds, np.array(true), told)


class Course(NamedTuple):
    """Sessions on one outline, with the features of its moves (S, S, M) and starts (S, 4)."""

    moves: hmm.Floats
    starts: hmm.Floats
    sessions: Sequence[Taught]


def course_of(bench: Bench, seed: int, sessions: int) -> Course:
    """Make sessions of the mixture learned from."""
    evidence = Evidence(bench.outline, trade_kinds())
    made = [
        taught(bench.session(*DEVELOPMENT[(seed + at) % len(DEVELOPMENT)]), evidence)
        for at in range(sessions)
    ]
    return Course(move_features(bench.outline), start_features(bench.outline), made)


class Weights(NamedTuple):
    """All that is learned."""

    evidence: hmm.Floats
    tendencies: list[Tendency]
    start: hmm.Floats


class Learner:
    """The negative log likelihood of sessions and its gradient, by weights in one vector."""

    def __init__(self, courses: Sequence[Course], evidence_only: bool = False) -> None:
        self.courses, self._evidence_only = courses, evidence_only
        prior = [PRIOR.get(name, (0.0, SPREAD)) for name in FEATURES]
        self.sizes = [
            len(FEATURES) + 1,
            *[len(MOVES)] * 2 * (len(KINDS) + 1),
            len(KINDS),
            len(STARTS),
        ]
        prior.append((0.0, SPREAD))
        ahead = [MOVE_PRIOR.get(name, (0.0, SPREAD)) for name in MOVES]
        prior += [
            ONWARD_PRIOR.get(name, one) for name, one in zip(MOVES, ahead, strict=True)
        ] * len(KINDS)
        prior += ahead * len(KINDS)
        prior += [(0.0, SPREAD)] * (sum(self.sizes) - len(prior))
        prior[-1] = LATER_START
        self.mean = np.array([mean for mean, _ in prior])
        self.spread = np.array([spread for _, spread in prior])

    def begin(self) -> hmm.Floats:
        """Give weights to begin with: a job stays on its step, and asides are rare."""
        named = self.weights(np.zeros(sum(self.sizes)))
        for tendency in named.tendencies:
            np.asarray(tendency.onward)[0] = 2.0
            np.asarray(tendency.aside)[:] = -2.5
        np.asarray(named.tendencies[0].other)[:] = -2.5
        return np.concatenate(self._parts(named, [1.0] * len(KINDS)))

    def present(self) -> hmm.Floats:
        """Give the weights that the program has, to go on from; 0 for what is new."""
        evidence = [*(weights.EVIDENCE.get(name, 0.0) for name in FEATURES), weights.DONE]
        tendencies = [weights.BETWEEN, weights.TOLD, weights.WITHIN]
        named = Weights(np.array(evidence), tendencies, np.array(weights.START))
        return np.concatenate(self._parts(named, [one.remain for one in tendencies]))

    def _parts(self, named: Weights, remain: Sequence[float]) -> list[hmm.Floats]:
        first = named.tendencies[0]
        moves = [[one.onward for one in named.tendencies], [one.aside for one in named.tendencies]]
        vectors = [
            named.evidence,
            *moves[0],
            *moves[1],
            first.resume,
            first.other,
            remain,
            named.start,
        ]
        return [np.asarray(vector, float) for vector in vectors]

    def split(self, vector: hmm.Floats) -> list[hmm.Floats]:
        """Cut a vector into views of its parts."""
        return np.split(vector, np.cumsum(self.sizes)[:-1])

    def weights(self, vector: hmm.Floats) -> Weights:
        """Name the parts of a vector; all kinds of moves share how a job goes on after an aside."""
        evidence, *moves, resume, other, remain, start = self.split(vector)
        onward, aside = moves[: len(KINDS)], moves[len(KINDS) :]
        tendencies = [
            Tendency(on, off, resume, other, float(odds))
            for on, off, odds in zip(onward, aside, remain, strict=True)
        ]
        return Weights(evidence, tendencies, start)

    def loss(self, vector: hmm.Floats) -> tuple[float, hmm.Floats]:
        """Give the negative log likelihood with the prior, and its gradient."""
        named = self.weights(vector)
        total, gradient = 0.0, np.zeros_like(vector)
        for course in self.courses:
            value, slope = _likely(course, named)
            total, gradient = total + value, gradient + slope
        off = (vector - self.mean) / self.spread
        slope = off / self.spread - gradient
        if self._evidence_only:
            slope[self.sizes[0] :] = 0.0
        return 0.5 * float(off @ off) - total, slope


def _likely(course: Course, named: Weights) -> tuple[float, hmm.Floats]:
    """Give the log likelihood of the sessions of a course, and its gradient.

    Both are those of the chain on which the true steps are known less those of the free one.
    """
    kinds = [moves_of(tendency, course.moves) for tendency in named.tendencies]
    kinds.append(together(len(course.moves)))
    first = start_of(named.start, course.starts)
    total, gradient = 0.0, np.zeros_like(named.evidence)
    counts = Counts(len(kinds), len(first))
    for session in course.sessions:
        moves = [kinds[kind] for kind in session.kinds]
        scores = session.features @ named.evidence
        for sign, seen in ((1.0, _known(session, scores)), (-1.0, _told(session, scores))):
            chain = Chain(first, moves, session.kinds, seen)
            value, chances = expect(chain, counts, sign)
            total += sign * value
            pull = _through_heard(chances, scores)
            gradient += sign * np.einsum("ts,tsf->f", pull, session.features)
    return total, np.concatenate([gradient, *_moves_slope(course, kinds, counts, first)])


def _moves_slope(
    course: Course, kinds: Sequence[Moves], counts: Counts, first: hmm.Floats
) -> list[hmm.Floats]:
    def of(cells: hmm.Floats) -> hmm.Floats:
        return np.einsum("ij,ijf->f", cells, course.moves)

    onward, aside, remain = [], [], []
    resume, other = np.zeros(len(MOVES)), np.zeros(len(MOVES))
    for kind, moves in enumerate(kinds[:NAMELESS]):
        cells = counts.cells[kind]
        rows = (cells[0] + cells[1]).sum(axis=1)[:, None]
        onward.append(of(cells[0] - rows * moves.onward))
        aside.append(of(cells[1] - rows * moves.aside))
        rows = (cells[2] + cells[3]).sum(axis=1)[:, None]
        left = 1.0 - moves.remain
        resume += of(cells[2] - rows * moves.resume / left)
        other += of(cells[3] - rows * moves.other / left)
        remain.append(counts.remain[kind] * left - float(rows.sum()) * moves.remain)
    start = (counts.first - counts.first.sum() * first) @ course.starts
    return [*onward, *aside, resume, other, np.array(remain), start]


def _known(session: Taught, scores: hmm.Floats) -> hmm.Floats:
    """The evidence with the true steps given, where there are any."""
    seen = heard(scores)
    others = session.true[:, None] != np.arange(scores.shape[1])
    seen[others & (session.true != STRAY)[:, None]] = _NEVER
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


def as_module(named: Weights) -> str:
    """Give the weights as the module that has them."""
    evidence = dict(zip((*FEATURES, "done"), named.evidence.round(2).tolist(), strict=True))
    lines = [
        '"""Weights learned by tests/benchmarks/step_weights.py, in runs begun from the last."""',
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
    parser.add_argument("--sessions", type=int, default=4, help="on each outline")
    parser.add_argument("--seeds", type=int, nargs="+", default=[1, 2, 3, 4, 5])
    parser.add_argument("--varied", type=int, default=4, help="other outlines for each seed")
    parser.add_argument("--fresh", action="store_true", help="forget what was learned before")
    parser.add_argument("--evidence-only", action="store_true", help="how jobs go stays as it is")
    parser.add_argument("--share", type=float, default=1.0, help="how far of the way to go")
    parser.add_argument("--rounds", type=int, default=30)
    args = parser.parse_args(argv)
    courses = []
    for seed in args.seeds:
        bench = Bench("reversing_gearbox", seed)
        courses.append(course_of(bench, seed, args.sessions))
        for _ in range(args.varied):
            other = Bench("reversing_gearbox", seed, varied(bench.outline, bench.rng))
            courses.append(course_of(other, seed, args.sessions))
    learner = Learner(courses, args.evidence_only)
    options = {"maxiter": args.rounds}
    begin = learner.begin() if args.fresh else learner.present()
    found = minimize(learner.loss, begin, jac=True, method="L-BFGS-B", options=options)
    gone = begin + args.share * (found.x - begin)
    print(as_module(learner.weights(gone)), end="")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
