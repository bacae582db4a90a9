"""Fits what signs of foreign talk weigh, by logistic regression, on the development half.

    python tests/benchmarks/rejection_weights.py [--write] [--alone] [--remarks N]
        [--sentences N] [--keep FILE | --cases FILE]

Hearing takes a good quarter of an hour of processor time; --keep writes what
was heard into a file, which --cases takes instead.  Prints the odds that each
voice gets when the weights were fitted on the other voices: with them choose
REFUSED and CARE in `benchvoice/bench/understand.py`.  --write puts the weights
of all voices into `benchvoice/bench/signs_weights.py` with --alone, which is
without a second opinion, else into `signs_weights_second.py` beside it.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import msgspec
import numpy as np
import numpy.typing as npt
from hearing_noise import Bench
from hearing_rejection import Judged, cares, curve, show
from hearing_sets import ROOT, bench_pack
from rejection_cases import Case, gather, read_cases, write_cases
from scipy.optimize import minimize

from benchvoice.audio import open_denoiser
from benchvoice.bench.signs import Signs

ALONE = ROOT / "benchvoice" / "bench" / "signs_weights.py"
SECOND = ALONE.with_name("signs_weights_second.py")
WRONG = 0.3
"""What a remark counts that would have been wrong, as it is no great loss; others count 1."""
RIDGE = 1.0
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Fit:
    """A regression on signs as they are: bias and weights."""

    bias: float
    weights: Floats

    def odds(self, signs: Floats) -> Floats:
        """Give the log odds of talk for signs (N, 7)."""
        return np.asarray(self.bias + signs @ self.weights)


def fit(signs: Floats, foreign: Floats, counts: Floats) -> Fit:
    """Fit a logistic regression with a ridge on standardised signs (N, 7)."""
    mean, spread = signs.mean(axis=0), signs.std(axis=0) + 1e-9
    values = np.column_stack((np.ones(len(signs)), (signs - mean) / spread))

    def loss(weights: Floats) -> tuple[float, Floats]:
        odds = values @ weights
        ridge = RIDGE * np.concatenate(([0.0], weights[1:]))
        value = counts @ (np.logaddexp(0, odds) - foreign * odds) + ridge @ weights / 2
        return value, values.T @ (counts * (1 / (1 + np.exp(-odds)) - foreign)) + ridge

    found = minimize(loss, np.zeros(values.shape[1]), jac=True, method="L-BFGS-B").x
    return Fit(float(found[0] - found[1:] @ (mean / spread)), found[1:] / spread)


def across_voices(cases: Sequence[Case]) -> list[Judged]:
    """Judge each voice by the weights of the others."""
    signs, foreign, counts = _arrays(cases)
    voices = np.array([case.voice for case in cases])
    odds = np.zeros(len(cases))
    for voice in set(voices):
        held = voices == voice
        odds[held] = fit(signs[~held], foreign[~held], counts[~held]).odds(signs[held])
    return [Judged(case, float(one)) for case, one in zip(cases, odds, strict=True)]


def _arrays(cases: Sequence[Case]) -> tuple[Floats, Floats, Floats]:
    """Give signs (N, 7), whether foreign (N), and what each counts (N).

    Talk and remarks count the same together.
    """
    signs = np.array([msgspec.structs.astuple(case.signs) for case in cases], dtype=np.float64)
    foreign = np.array([float(case.source != "remark") for case in cases])
    counts = np.array([1.0 if case.source != "remark" or case.exact else WRONG for case in cases])
    # else the odds would hang on how much was spoken of each
    counts[foreign == 1] *= counts[foreign == 0].sum() / counts[foreign == 1].sum()
    return signs, foreign, counts


def source(found: Fit, cases: Sequence[Case]) -> str:
    """Give the module with the weights."""
    talk = sum(case.source != "remark" for case in cases)
    names = [field.name for field in msgspec.structs.fields(Signs)]
    values = "".join(
        f"    {name}={value:.4f},\n" for name, value in zip(names, found.weights, strict=True)
    )
    return (
        '"""What each sign weighs; written by `tests/benchmarks/rejection_weights.py --write`, '
        "not by hand.\n\n"
        f"From {len(cases) - talk} remarks and {talk} utterances of talk, all synthetic.\n"
        '"""\n\nfrom benchvoice.bench.signs import Signs\n\n'
        f"BIAS = {found.bias:.4f}\nWEIGHTS = Signs(\n{values})\n"
    )


def main(argv: Sequence[str] | None = None) -> int:
    """Print the curve and the weights; gives 0."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--write", action="store_true", help="put the weights into the program")
    parser.add_argument("--alone", action="store_true", help="without a second opinion")
    parser.add_argument("--remarks", type=int, default=150)
    parser.add_argument("--sentences", type=int, default=900)
    parser.add_argument("--radio", type=int, default=4, help="minutes")
    parser.add_argument("--cases", type=Path, help="take these instead of hearing anything")
    parser.add_argument("--keep", type=Path, help="write the cases there")
    args = parser.parse_args(argv)
    if args.cases:
        every = read_cases(args.cases)
    else:
        bench = Bench(bench_pack(), open_denoiser(), args.alone)
        sizes = {"remarks": args.remarks, "sentences": args.sentences, "radio_minutes": args.radio}
        every = list(gather(bench, "dev", **sizes))
    if args.keep:
        write_cases(args.keep, every)
    # what is no entry anyway needs no refusing
    cases = [case for case in every if case.entry and case.signs is not None]
    found = fit(*_arrays(cases))
    judged = across_voices(cases)
    judged += [Judged(case, 0.0) for case in every if not case.entry or case.signs is None]
    talk = [one for one in judged if one.case.source != "remark"]
    said = [one for one in judged if one.case.source == "remark"]
    show(talk, said)
    curve(talk, said)
    cares(talk, said)
    print(source(found, cases))
    if args.write:
        target = ALONE if args.alone else SECOND
        target.write_text(source(found, cases), encoding="utf-8")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
