"""Print how often a quote's ranges hold, in simulated shops with a known truth.

    python tests/benchmarks/quote_calibration.py [--repeats 40] [--draws 1000] [--no-rivals]

For each kind of shop, number of steps and number of past sessions: draw a
job and its sessions, quote it, and look at 400 future sessions of that shop.
"80%" is the share within P10..P90, "<P80" the share below P80 (both should
be 80), for steps and totals; "err" is the median of |log P50 - log true P50|.
The rivals: mean +- 1.2816 sd of raw minutes, and, if statsmodels is there, its
MixedLM (REML) on log minutes with step means fixed and sessions random.
"""

from __future__ import annotations

import argparse
import sys
import warnings
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))

from quote_shops import SHOPS, Array, World, new_world, outline_of, times_of, with_gaps

from benchvoice.quoting import Quote, estimate

try:
    import statsmodels.api as sm
except ImportError:
    sm = None

NORMAL_90 = 1.2816
Bands = tuple[Array, Array]
"""P10, P50, P80, P90 of steps (4, K) and total (4,); NaN where there is no answer."""
Tally = dict[str, list[float]]


def bands_of(quote: Quote) -> Bands:
    """Read the bands off a quote."""
    ranges = [step.range for step in quote.steps]
    rows = [[r.p10, r.p50, r.p80, r.p90] for r in [*ranges, quote.total]]
    values = np.array(rows).T
    return values[:, :-1], values[:, -1]


def raw_bands(world: World, minutes: Array) -> Bands:
    """Mean +- sd of raw minutes; a step never timed takes its book minutes in the total."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)
        mean, sd = np.nanmean(minutes, axis=0), np.nanstd(minutes, axis=0, ddof=1)
    z = np.array([-NORMAL_90, 0.0, 0.8416, NORMAL_90])[:, None]
    whole = minutes[np.isfinite(minutes).all(axis=1)].sum(axis=1)
    spread = whole.std(ddof=1) if len(whole) > 1 else np.sqrt(np.nansum(np.square(sd)))
    centre = np.nansum(np.where(np.isfinite(mean), mean, world.book))
    return mean + z * sd, (centre + z * spread)[:, 0]


def mixed_bands(world: World, minutes: Array, rng: np.random.Generator) -> Bands:
    """MixedLM, fitted values plugged in, with the sampling error of the step means."""
    rows, columns = np.nonzero(np.isfinite(minutes))
    used, at = np.unique(columns, return_inverse=True)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        fit = sm.MixedLM(np.log(minutes[rows, columns]), np.eye(len(used))[at], rows).fit()
    spread = fit.cov_params()[: len(used), : len(used)]
    if not np.isfinite(spread).all() or np.linalg.eigvalsh(spread).min() < 0 or fit.scale > 100:
        raise np.linalg.LinAlgError("the fit failed")
    means = rng.multivariate_normal(fit.fe_params, spread, 2000)
    shared = np.sqrt(max(float(fit.cov_re[0, 0]), 0.0)) * rng.standard_normal((2000, 1))
    jobs = np.full((2000, minutes.shape[1]), np.nan)
    noise = np.sqrt(fit.scale) * rng.standard_normal(means.shape)
    jobs[:, used] = np.exp(means + shared + noise)
    filled = np.where(np.isfinite(jobs), jobs, world.book)
    levels = (0.1, 0.5, 0.8, 0.9)
    return np.quantile(jobs, levels, axis=0), np.quantile(np.nansum(filled, axis=1), levels)


def score(bands: Bands, future: Array, tally: Tally) -> None:
    """Add one quote's coverage and error, against (F, K) future minutes."""
    total = future.sum(axis=1)
    for name, band, seen in (("step", bands[0], future), ("total", bands[1], total)):
        answered = np.isfinite(band).all(axis=0)
        inside = ((seen >= band[0]) & (seen <= band[3])).mean(axis=0)
        below = (seen <= band[2]).mean(axis=0)
        error = np.abs(np.log(np.maximum(band[1], 1e-9)) - np.log(np.median(seen, axis=0)))
        tally[f"{name} 80%"] += list(np.atleast_1d(inside)[np.atleast_1d(answered)])
        tally[f"{name} <P80"] += list(np.atleast_1d(below)[np.atleast_1d(answered)])
        tally[f"{name} err"] += list(np.atleast_1d(error)[np.atleast_1d(answered)])


def run_cell(shop: str, steps: int, sessions: int, given: argparse.Namespace) -> dict[str, Tally]:
    """Quote `repeats` jobs of one kind; seeds are fixed by the arguments."""
    tallies: dict[str, Tally] = defaultdict(lambda: defaultdict(list))
    for repeat in range(given.repeats):
        rng = np.random.default_rng([list(SHOPS).index(shop), steps, sessions, repeat])
        world = new_world(SHOPS[shop], steps, rng)
        past = with_gaps(world.sessions(sessions, rng), world.shop.missing, rng)
        future = world.sessions(400, rng)
        quote = estimate(outline_of(world), times_of(past), draws=given.draws, seed=repeat)
        score(bands_of(quote), future, tallies["quote"])
        if given.rivals and sessions > 1:
            score(raw_bands(world, past), future, tallies["raw"])
            if sm is not None:
                try:
                    score(mixed_bands(world, past, rng), future, tallies["mixed"])
                except np.linalg.LinAlgError:
                    tallies["mixed"]["failed"].append(1.0)
    return tallies


COLUMNS: dict[str, tuple[Callable[[list[float]], float], float]] = {
    f"{name} {what}": (np.median if what == "err" else np.mean, 1.0 if what == "err" else 100.0)
    for name in ("step", "total")
    for what in ("80%", "<P80", "err")
}


def line(tally: Tally) -> str:
    """Write one method's six figures."""
    cells = []
    for column, (summary, factor) in COLUMNS.items():
        value = float(summary(tally[column])) * factor if tally[column] else float("nan")
        cells.append(f"{value:5.3f}" if factor == 1.0 else f"{value:5.1f}")
    return " ".join(cells)


def print_all(given: argparse.Namespace) -> None:
    """Print the table, then one line for each number of sessions over all shops."""
    print("shop      steps past  method  step: 80% <P80 err    total: 80% <P80 err")
    pooled: dict[int, dict[str, Tally]] = {}
    for shop in given.shops.split(","):
        for steps in given.steps:
            for sessions in given.sessions:
                cell = run_cell(shop, steps, sessions, given)
                for method, tally in cell.items():
                    lost = f"  ({len(tally['failed'])} fits failed)" if tally["failed"] else ""
                    print(f"{shop:<9} {steps:>5} {sessions:>4}  {method:<6}  {line(tally)}{lost}")
                    into = pooled.setdefault(sessions, {}).setdefault(method, defaultdict(list))
                    for column in COLUMNS:
                        into[column] += tally[column]
                sys.stdout.flush()
    print("\nall shops together")
    for sessions, methods in pooled.items():
        for method, tally in methods.items():
            print(f"{'all':<9} {'':>5} {sessions:>4}  {method:<6}  {line(tally)}")


def numbers(text: str) -> list[int]:
    """Read "3,5,10"."""
    return [int(item) for item in text.split(",")]


def main() -> None:
    """Read the arguments and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=40)
    parser.add_argument("--draws", type=int, default=1000)
    parser.add_argument("--shops", default=",".join(SHOPS))
    parser.add_argument("--steps", type=numbers, default=[8, 30])
    parser.add_argument("--sessions", type=numbers, default=[0, 1, 3, 5, 10, 30])
    parser.add_argument("--rivals", action=argparse.BooleanOptionalAction, default=True)
    print_all(parser.parse_args())


if __name__ == "__main__":
    main()
