"""Print how often a quote's ranges hold, in simulated shops with a known truth.

    python tests/benchmarks/quote_calibration.py [--repeats 60] [--rivals 10] [--plot FILE.png]
    python tests/benchmarks/quote_calibration.py --repeats 3 --rivals 2     # in two minutes

For each kind of shop, number of steps and number of past sessions: draw a
job and its sessions, quote it, and look at 400 future sessions of that shop.
"80%" is the share within P10..P90, "<P80" the share below P80 (both should
be 80), for steps and totals; "err" is the median of |log P50 - log true P50|.
A * marks a share more than 3 points from 80, "+-" is its standard error over the
repeats.  The rivals, on the first `--rivals` repeats ("same" is the quote on
just those): mean +- 1.2816 sd of raw minutes, and, if statsmodels is there, its
MixedLM (REML) on log minutes with step means fixed and sessions random.
"""

from __future__ import annotations

import argparse
import sys
import warnings
from collections import defaultdict
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))

from quote_shops import SHOPS, Array, World, new_world, outline_of, times_of, with_gaps

from benchvoice.quoting import forecast

try:
    import statsmodels.api as sm
except ImportError:
    sm = None

NORMAL_90 = 1.2816
Bands = tuple[Array, Array]
"""P10, P50, P80, P90 of steps (4, K) and total (4,); NaN where there is no answer."""
Tally = dict[str, list[float]]


def bands_of(jobs: Array) -> Bands:
    """Give the bands of a quote's simulated jobs, as `range_of` does."""
    levels = (0.1, 0.5, 0.8, 0.9)
    return np.quantile(jobs, levels, axis=0), np.quantile(jobs.sum(axis=1), levels)


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
        done, found = world.seen(sessions, rng)
        past = with_gaps(done, world.shop.missing, rng)
        future = world.sessions(400, rng)
        quoted = forecast(outline_of(world), times_of(past, found), draws=given.draws, seed=repeat)
        score(bands_of(quoted.jobs), future, tallies["quote"])
        if repeat < given.rivals and sessions > 1:
            score(bands_of(quoted.jobs), future, tallies["same"])
            score(raw_bands(world, past), future, tallies["raw"])
            if sm is not None:
                try:
                    score(mixed_bands(world, past, rng), future, tallies["mixed"])
                except np.linalg.LinAlgError:
                    tallies["mixed"]["failed"].append(1.0)
    return tallies


COLUMNS = [f"{name} {what}" for name in ("step", "total") for what in ("80%", "<P80", "err")]
HEAD = "step: 80%   <P80   err   total: 80%   +-   <P80   err"


def value_of(tally: Tally, column: str) -> float:
    """Give a column's figure: a share in percent, or the median error."""
    if not tally[column]:
        return float("nan")
    if column.endswith("err"):
        return float(np.median(tally[column]))
    return 100 * float(np.mean(tally[column]))


def line(tally: Tally) -> str:
    """Write one method's figures."""
    cells = []
    for column in COLUMNS:
        value = value_of(tally, column)
        if column.endswith("err"):
            cells.append(f"{value:6.3f}")
        else:
            cells.append(f"{value:6.1f}" + ("*" if abs(value - 80) > 3 else " "))
        if column == "total 80%":
            count = max(1, len(tally[column]))
            cells.append(
                f"{100 * np.std(tally[column]) / count**0.5:4.1f}" if count > 1 else "    "
            )
    return " ".join(cells)


Cells = dict[tuple[str, int, int], dict[str, Tally]]


def print_all(given: argparse.Namespace) -> Cells:
    """Print the table, then what is to be had over all shops for each number of sessions."""
    print(f"shop      steps past  method  {HEAD}")
    cells: Cells = {}
    for shop in given.shops.split(","):
        for steps in given.steps:
            for sessions in given.sessions:
                cell = cells[shop, steps, sessions] = run_cell(shop, steps, sessions, given)
                for method, tally in cell.items():
                    lost = f"  ({len(tally['failed'])} fits failed)" if tally["failed"] else ""
                    if method == "quote" or given.all:
                        print(
                            f"{shop:<9} {steps:>5} {sessions:>4}  {method:<6} {line(tally)}{lost}"
                        )
                sys.stdout.flush()
    print("\nall shops together, and in how many of the cells the 80% ranges are within 3 points")
    for sessions in given.sessions:
        pooled: dict[str, Tally] = {}
        for (_, _, past), methods in cells.items():
            for method, tally in methods.items() if past == sessions else ():
                into = pooled.setdefault(method, defaultdict(list))
                for column in COLUMNS:
                    into[column] += tally[column]
        for method, tally in pooled.items():
            near = [
                sum(abs(value_of(cell[method], f"{name} 80%") - 80) <= 3 for cell in own)
                for name in ("step", "total")
                if (own := [cell for key, cell in cells.items() if key[2] == sessions])
            ]
            of = sum(key[2] == sessions for key in cells)
            near_text = f"steps {near[0]}, totals {near[1]} of {of}"
            print(f"{'all':<9} {'':>5} {sessions:>4}  {method:<6} {line(tally)}  {near_text}")
    return cells


def plot(cells: Cells, path: Path) -> None:
    """Draw coverage by number of sessions, a line a shop, and the errors beside the rivals'."""
    import matplotlib as mpl

    mpl.use("Agg")
    from matplotlib import pyplot as plt

    figure, axes = plt.subplots(1, 3, figsize=(14, 4.5), constrained_layout=True)
    pasts = sorted({past for _, _, past in cells})
    at = list(range(len(pasts)))
    for axis, name in zip(axes, ("step", "total"), strict=False):
        axis.axhspan(77, 83, color="0.9")
        axis.axhline(80, color="0.5", linewidth=1)
        for shop, steps in sorted({(shop, steps) for shop, steps, _ in cells}):
            values = [value_of(cells[shop, steps, past]["quote"], f"{name} 80%") for past in pasts]
            style = "-" if steps == min(key[1] for key in cells) else "--"
            axis.plot(at, values, style, marker="o", markersize=3, label=f"{shop}, {steps} steps")
        axis.set(title=f"{name}s within P10..P90, %", xlabel="past sessions", ylim=(60, 100))
        axis.set_xticks(at, pasts)
    axes[1].legend(fontsize=6, ncols=2)
    for method, style in (("same", "o-"), ("mixed", "s--"), ("raw", "^:")):
        errors = []
        for past in pasts:
            own = [cell[method] for key, cell in cells.items() if key[2] == past and method in cell]
            found = [error for tally in own for error in tally["step err"]]
            errors.append(np.median(found) if found else np.nan)
        axes[2].plot(at, errors, style, label="quote" if method == "same" else method)
    axes[2].set(title="steps: median |log P50 - log true P50|", xlabel="past sessions")
    axes[2].set_xticks(at, pasts)
    axes[2].legend()
    figure.savefig(path, dpi=110)


def numbers(text: str) -> list[int]:
    """Read "3,5,10"."""
    return [int(item) for item in text.split(",")]


def main() -> None:
    """Read the arguments, print and plot."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=60)
    parser.add_argument("--draws", type=int, default=800)
    parser.add_argument("--shops", default=",".join(SHOPS))
    parser.add_argument("--steps", type=numbers, default=[8, 30])
    parser.add_argument("--sessions", type=numbers, default=[3, 5, 10, 30])
    parser.add_argument("--rivals", type=int, default=10, metavar="REPEATS")
    parser.add_argument("--all", action="store_true", help="the rivals' rows in every cell as well")
    parser.add_argument("--plot", type=Path, metavar="FILE.png")
    given = parser.parse_args()
    cells = print_all(given)
    if given.plot:
        plot(cells, given.plot)


if __name__ == "__main__":
    main()
