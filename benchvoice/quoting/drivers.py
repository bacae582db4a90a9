"""What drives the range of the whole job.

Total-effect indices (Homma and Saltelli 1996, Reliability Engineering and
System Safety 52(1)) by the estimator of Jansen 1999, Computer Physics
Communications 117: half the mean square change of the total when one source
alone is drawn anew, over the total's variance.  The total is taken by its logarithm: as times
multiply, the shares add up to about 1, and one job in thousands that runs very late does not
decide them, as it would where little is known yet.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from benchvoice.quoting.forecast import Forecast
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.luck import Luck, deal, first, play
from benchvoice.quoting.quote import Driver

JOBS = 2000
"""So many of the simulated jobs are looked at."""
SMALLEST = 0.005
"""Shares below this are left out."""


def drivers_of(made: Forecast) -> tuple[Driver, ...]:
    """Give the sources of the total's variance, the largest first."""
    rng = np.random.default_rng([made.seed, 2])
    jobs = made.jobs[:JOBS]
    luck, total = first(made.luck, len(jobs)), jobs.sum(axis=1)
    whole = np.log(total)
    anew = deal(made.posterior, made.odds, jobs=len(jobs), rng=rng)
    common = {
        "the unit as a whole, good or bad": replace(luck, session=anew.session),
        "who does it": replace(luck, who=anew.who),
        "good or bad luck of whole stages": replace(luck, stage=anew.stage),
        "what is found wrong": replace(luck, found=anew.found),
        "usual times not yet known well": replace(luck, pick=rng.permutation(luck.pick)),
    }
    drivers = [
        Driver(name=name, share=total_effect(whole, _log_total(made, other)))
        for name, other in common.items()
    ]
    steps = play(made.posterior, replace(luck, residual=anew.residual)) - jobs
    drivers += [
        Driver(
            name=step.title, share=total_effect(whole, np.log(total + steps[:, at])), step=step.id
        )
        for at, step in enumerate(made.given.steps)
    ]
    kept = [driver for driver in drivers if driver.share >= SMALLEST]
    return tuple(sorted(kept, key=lambda driver: -driver.share))


def _log_total(made: Forecast, luck: Luck) -> Array:
    total: Array = np.log(play(made.posterior, luck).sum(axis=1))
    return total


def total_effect(whole: Array, redrawn: Array) -> float:
    """Give the total-effect index of a source: `redrawn` is `whole` with it alone drawn anew."""
    variance = float(whole.var())
    if variance == 0.0:
        return 0.0
    return float(np.square(whole - redrawn).mean()) / (2 * variance)
