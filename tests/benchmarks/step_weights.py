"""Learn the weights of benchvoice/follow/weights.py from generated sessions.

The weights are those under which the true steps of the development sessions have the highest
probability given all that was said (conditional likelihood with hidden states, as for the hidden
conditional random fields that follow Lafferty, McCallum and Pereira, ICML 2001), with a Gaussian
prior.  Development sessions are of the reversing gearbox only.

python tests/benchmarks/step_weights.py [--sessions 40] [--seed 1] > benchvoice/follow/weights.py
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
from benchvoice.follow.evidence import FEATURES, Evidence  # noqa: E402
from benchvoice.follow.likeness import stems  # noqa: E402
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
)
from benchvoice.remark import Finding  # noqa: E402

SPREAD = 3.0
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
KINDS = ("between", "within", "told")
"""Moves between remarks, between findings of one remark, and after a command to a step."""
DEVELOPMENT = (
    (Rates(), 0.0),
    (Rates(bare=0.15, joined=0.06), 0.0),
    (Rates(command=0.3, bare=0.1, joined=0.06), 0.0),
    (Rates(bare=0.1, joined=0.06), 0.05),
    (Rates(command=0.3, bare=0.1, joined=0.06), 0.1),
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
        said = stems(line.say)
        findings = line.remark.findings or (Finding(),)
        if line.told:
            findings = (Finding(),)
            done[evidence.at[line.told]] = 0.0
        each = line.steps if len(line.steps) == len(findings) else line.steps[:1] * len(findings)
        for finding, step in zip(findings, each, strict=True):
            row = np.zeros((len(evidence.steps), len(FEATURES) + 1))
            if not line.told:
                row[:, :-1] = evidence.features(finding, said)
                row[:, -1] = done
            rows.append(row)
            kinds.append(kind)
            true.append(evidence.at[step])
            told.append(line.told is not None)
            kind = 1
        kind = 2 if line.told and not line.finished else 0
        if line.finished:
            done[evidence.at[line.steps[0]]] = 1.0
    return Taught(np.array(rows), kinds, np.array(true), told)


class Weights(NamedTuple):
    """All that is learned."""

    evidence: hmm.Floats
    tendencies: list[Tendency]
    start: hmm.Floats


class Counts:
    """How often each move is made, as expected."""

    def __init__(self, size: int) -> None:
        self.cells = np.zeros((3, 4, size, size))
        self.remain = np.zeros((3, 2))


class Learner:
    """The negative log likelihood of sessions and its gradient."""

    def __init__(self, bench: Bench, sessions: Sequence[Taught]) -> None:
        self.sessions = sessions
        self.moves = move_features(bench.outline)
        self.starts = start_features(bench.outline)
        spread = [PRIOR.get(name, (0.0, SPREAD)) for name in FEATURES]
        self.sizes = [len(FEATURES) + 1, *[len(MOVES)] * 8, 3, len(STARTS)]

        rest = sum(self.sizes) - len(FEATURES)
        self.mean = np.array([mean for mean, _ in spread] + [0.0] * rest)
        self.spread = np.array([sd for _, sd in spread] + [SPREAD] * rest)

    def first(self) -> hmm.Floats:
        """Give weights to begin with: asides are rare and last."""
        w = np.zeros(sum(self.sizes))
        parts = self.split(w)
        for at in (4, 5, 6, 8):
            parts[at][:] = -2.5
        for at in (1, 2, 3):
            parts[at][0] = 2.0
        parts[9][:] = 1.0
        return w

    def split(self, w: hmm.Floats) -> list[hmm.Floats]:
        return np.split(w, np.cumsum(self.sizes)[:-1])

    def weights(self, w: hmm.Floats) -> Weights:
        """Name the parts of a vector."""
        e, on0, on1, on2, as0, as1, as2, re, ot, remain, start = self.split(w)
        tendencies = [
            Tendency(on, aside, re, ot, float(r))
            for on, aside, r in zip((on0, on1, on2), (as0, as1, as2), remain, strict=True)
        ]
        return Weights(e, tendencies, start)

    def loss(self, w: hmm.Floats) -> tuple[float, hmm.Floats]:
        named = self.weights(w)
        kinds = [moves_of(tendency, self.moves) for tendency in named.tendencies]
        first = start_of(named.start, self.starts)
        total, seen_gradient = 0.0, np.zeros_like(named.evidence)
        counts, first_counts = Counts(len(first)), np.zeros_like(first)
        for session in self.sessions:
            moves = [kinds[kind] for kind in session.kinds[1:]]
            scores = session.features @ named.evidence
            evidence = heard(scores)
            shares = np.exp(scores - scores.max(1, keepdims=True))
            shares /= shares.sum(1, keepdims=True)
            only = np.full_like(evidence, _NEVER)
            every = np.arange(len(only))
            only[every, session.true] = evidence[every, session.true]
            free = evidence.copy()
            free[session.told] = only[session.told]
            for sign, seen in ((1.0, only), (-1.0, free)):
                value, chances = expect(first, moves, session.kinds, seen, counts, sign)
                total += sign * value
                pull = chances * shares / (shares + ANYWHERE)
                pull -= shares * pull.sum(1, keepdims=True)
                seen_gradient += sign * np.einsum("ts,tsf->f", pull, session.features)
                first_counts += sign * chances[0]
        gradient = self._gradient(
            named, kinds, counts, seen_gradient, first_counts - first_counts.sum() * first
        )
        off = (w - self.mean) / self.spread
        return 0.5 * float(off @ off) - total, off / self.spread - gradient

    def _gradient(self, named, kinds, counts, seen, first):
        on, aside, resume, other = [], [], 0.0, 0.0
        remain = []
        for kind, moves in enumerate(kinds):
            cells = counts.cells[kind]
            rows = cells[0].sum(1) + cells[1].sum(1)
            on.append(self._of(cells[0] - rows[:, None] * moves.onward))
            aside.append(self._of(cells[1] - rows[:, None] * moves.aside))
            rows = cells[2].sum(1) + cells[3].sum(1)
            left = 1.0 - moves.remain
            resume = resume + self._of(cells[2] - rows[:, None] * moves.resume / left)
            other = other + self._of(cells[3] - rows[:, None] * moves.other / left)
            stayed, gone = counts.remain[kind, 0], rows.sum()
            remain.append(stayed * left - gone * moves.remain)
        return np.concatenate([seen, *on, *aside, resume, other, remain, first @ self.starts])

    def _of(self, cells):
        return np.einsum("ij,ijf->f", cells, self.moves)


def expect(first, moves, kinds, evidence, counts, sign):
    """Add up expected moves; gives the log likelihood and the chances (T, S)."""
    past = []
    value = 0.0
    tops = evidence.max(1)
    seen = np.exp(evidence - tops[:, None])
    main, aside = first * seen[0], np.zeros((first.size, first.size))
    for at in range(len(evidence)):
        if at:
            m = moves[at - 1]
            off = aside.sum(1)
            main, aside = (
                (main @ m.onward + off @ m.resume) * seen[at],
                (main[:, None] * m.aside + off[:, None] * m.other + m.remain * aside) * seen[at],
            )
        z = main.sum() + aside.sum()
        main, aside = main / z, aside / z
        value += np.log(z) + tops[at]
        past.append((main, aside))
    chances = np.zeros_like(evidence)
    bm, ba = np.ones_like(first), np.ones((first.size, first.size))
    for at in range(len(evidence) - 1, -1, -1):
        main, aside = past[at]
        here = main * bm + (aside * ba).sum(0)
        chances[at] = here / here.sum()
        if not at:
            break
        m, k = moves[at - 1], kinds[at]
        bm, ba = bm * seen[at], ba * seen[at]
        pm, pa = past[at - 1]
        off = pa.sum(1)
        cells = [
            pm[:, None] * m.onward * bm,
            pm[:, None] * m.aside * ba,
            off[:, None] * m.resume * bm,
            off[:, None] * m.other * ba,
        ]
        stay = m.remain * (pa * ba).sum()
        z = sum(c.sum() for c in cells) + stay
        for i, c in enumerate(cells):
            counts.cells[k, i] += sign / z * c
        counts.remain[k, 0] += sign * stay / z
        on = m.onward @ bm + (m.aside * ba).sum(1)
        back = m.resume @ bm + (m.other * ba).sum(1)
        bm, ba = on, m.remain * ba + back[:, None]
        z = bm.sum() + ba.sum()
        bm, ba = bm / z, ba / z
    return value, chances


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
    parser.add_argument("--sessions", type=int, default=25)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--rounds", type=int, default=55)
    args = parser.parse_args(argv)
    bench = Bench("reversing_gearbox", args.seed)
    evidence = Evidence(bench.outline)
    sessions = [
        taught(bench.session(*DEVELOPMENT[at % len(DEVELOPMENT)]), evidence)
        for at in range(args.sessions)
    ]
    learner = Learner(bench, sessions)
    options = {"maxiter": args.rounds}
    found = minimize(learner.loss, learner.first(), jac=True, method="L-BFGS-B", options=options)
    print(as_module(learner.weights(found.x)), end="")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
