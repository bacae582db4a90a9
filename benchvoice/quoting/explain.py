"""Where one step's numbers come from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.quoting.beside import Condition
from benchvoice.quoting.forecast import Forecast
from benchvoice.quoting.learned import SURE, added_minutes, eight_of_ten, evidence
from benchvoice.quoting.quote import Range, range_of
from benchvoice.quoting.summary import Summary, summary, timings_needed


@dataclass(frozen=True, kw_only=True)
class Timing:
    """A past timing in minutes and how much it counts (0..1).

    `doubtful` of the minutes look like an interruption (they are counted);
    `left_out` were silent and are not among them.
    """

    session: str
    minutes: float
    weight: float
    day: date | None = None
    who: str | None = None
    doubtful: float = 0.0
    left_out: float = 0.0
    found: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Looked:
    """A condition that was looked at: what it adds in minutes (8 of 10 times low..high).

    `sure` is the probability of its sign; `shown` whether that is evidence enough.
    """

    condition: str
    minutes: float
    low: float
    high: float
    sure: float
    shown: bool
    found: int
    timed: int


@dataclass(frozen=True, kw_only=True)
class Explained:
    """All that one step's range is made of; minutes, factors (1 for no change), shares 0..1.

    `expected` is what book minutes (or the other steps) let expect at this
    shop's `pace`; `own` the share of the usual time that rests on the step's
    own timings; `usual` the time of an ordinary session.  `scatter` is the
    step's own factor from job to job, `unit_scatter` that of the whole unit,
    `stage_scatter` that of its stage, `known` how far `usual` is known (one
    standard deviation each).  `practice` is what practice makes of the next
    job, where it is counted on.  `untimed` are counted sessions that did not time
    the step; `needed` timings would fix the plain mean to 5%.
    """

    step: str
    title: str
    range: Range
    book: float | None
    pace: float
    expected: float
    own: float
    usual: float
    scatter: float
    unit_scatter: float
    stage_scatter: float
    known: float
    practice: float
    timings: tuple[Timing, ...]
    untimed: tuple[str, ...]
    conditions: tuple[Looked, ...]
    plain: Summary | None
    needed: int | None
    notes: tuple[str, ...]


def explain(made: Forecast, step_id: str) -> Explained:
    """Explain the step's range.  Raises BadInput when there is no such step."""
    ids = [step.id for step in made.given.steps]
    if step_id not in ids:
        raise BadInput(
            f"outline {made.outline.name} has no step {step_id!r}", mend=f"one of: {', '.join(ids)}"
        )
    column = ids.index(step_id)
    step, posterior = made.given.steps[column], made.posterior
    kind = 0 if step.minutes is not None else 1
    expected = made.offset[column] + posterior.level[:, kind]
    timings = _timings(made, column)
    minutes = [timing.minutes for timing in timings]
    return Explained(
        step=step.id,
        title=step.title,
        range=range_of(made.jobs[:, column]),
        book=step.minutes,
        pace=_typical(posterior.level[:, kind]),
        expected=_typical(expected),
        own=_own(made, column, kind),
        usual=_typical(posterior.mean[:, column]),
        scatter=_typical(posterior.scale[:, column]),
        unit_scatter=_typical(posterior.session_sd),
        stage_scatter=_typical(posterior.stage_sd),
        known=float(np.exp(np.subtract(*np.quantile(posterior.mean[:, column], (0.84, 0.16))) / 2)),
        practice=_typical(posterior.learning * made.odds.practice),
        timings=timings,
        untimed=tuple(
            times.session
            for times in made.given.sessions
            if not times.minutes.get(step.id, 0.0) > 0
        ),
        conditions=tuple(
            _looked(made, one) for one in made.beside.conditions if one.column == column
        ),
        plain=summary(minutes) if minutes else None,
        needed=timings_needed(minutes) if len(minutes) > 1 else None,
        notes=made.given.notes,
    )


def _typical(logs: Sequence[float] | np.ndarray) -> float:
    return float(np.exp(np.median(logs)))


def _own(made: Forecast, column: int, kind: int) -> float:
    """Give the pooling factor turned round: Gelman and Hill 2007, section 12.2.

    n / (n + residual variance / variance of step means).
    """
    seen = np.isfinite(made.given.minutes[:, column])
    n = float(made.beside.weigh[seen].sum())
    apart = np.square(made.posterior.apart[:, kind])
    share = n / (n + np.square(made.posterior.scale[:, column]) / apart)
    return float(np.median(share))


def _timings(made: Forecast, column: int) -> tuple[Timing, ...]:
    step = made.given.steps[column].id
    return tuple(
        Timing(
            session=times.session,
            minutes=times.minutes[step],
            weight=float(weight),
            day=times.finished_on,
            who=times.who,
            doubtful=times.doubtful.get(step, 0.0),
            left_out=times.left_out.get(step, 0.0),
            found=times.found.get(step, ()),
        )
        for times, weight in zip(made.given.sessions, made.beside.weigh, strict=True)
        if times.minutes.get(step, 0.0) > 0
    )


def _looked(made: Forecast, one: Condition) -> Looked:
    minutes = added_minutes(made, one)
    low, middle, high = eight_of_ten(minutes)
    sure = evidence(minutes)
    return Looked(
        condition=one.name,
        minutes=middle,
        low=low,
        high=high,
        sure=sure,
        shown=sure >= SURE,
        found=one.found,
        timed=one.timed,
    )
