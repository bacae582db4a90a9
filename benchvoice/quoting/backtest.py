"""Quotes put to the test on sessions that are known: predicted against actual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline
from benchvoice.quoting.forecast import Forecast, forecast
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.intake import take_in
from benchvoice.quoting.quote import Range, SessionTimes, range_of

MOST = 40
"""So many sessions are put to the test, the most recent ones, to be done in minutes."""


@dataclass(frozen=True, kw_only=True)
class Tried:
    """One session predicted from `past` others: minutes of the `steps` steps that it timed.

    `rank` is the share (0..1) of simulated jobs below the actual one.
    """

    session: str
    past: int
    steps: int
    actual: float
    predicted: Range
    rank: float


@dataclass(frozen=True, kw_only=True)
class Backtest:
    """The rows, and shares (0..1) of `timings` step times within their ranges.

    `inside` is within P10..P90, `below` below P80: both should be 0.8.
    `step_error` is the median of |actual/P50 - 1|, `total_error` that of totals.
    """

    outline: str
    forward: bool
    rows: tuple[Tried, ...]
    timings: int
    inside: float
    below: float
    step_error: float
    notes: tuple[str, ...]

    @property
    def total_inside(self) -> float:
        """The share of totals within P10..P90."""
        return float(
            np.mean([row.predicted.p10 <= row.actual <= row.predicted.p90 for row in self.rows])
        )

    @property
    def total_below(self) -> float:
        """The share of totals below P80."""
        return float(np.mean([row.actual <= row.predicted.p80 for row in self.rows]))

    @property
    def total_error(self) -> float:
        """The median of |actual/P50 - 1| of the totals."""
        return float(np.median([abs(row.actual / row.predicted.p50 - 1) for row in self.rows]))


def backtest(
    outline: Outline,
    sessions: Sequence[SessionTimes],
    *,
    forward: bool = False,
    draws: int = 1000,
    seed: int = 1,
    half_life: float | None = None,
) -> Backtest:
    """Predict each session from all the others, or, `forward`, from those before it.

    The conditions found on the predicted session are not told to the quote.
    Raises BadInput when there are fewer than two usable sessions.
    """
    given = take_in(outline, sessions)
    if len(given.sessions) < 2:
        raise BadInput(
            f"{len(given.sessions)} usable sessions are too few to test a quote on",
            mend="give two or more",
        )
    rows, ranks, errors = [], [], []
    for times, others in _splits(given.sessions, forward=forward):
        made = forecast(outline, others, draws=draws, seed=seed, half_life=half_life)
        row, own_ranks, own_errors = _tried(made, times)
        rows.append(row)
        ranks += own_ranks
        errors += own_errors
    placed = np.array(ranks)
    return Backtest(
        outline=outline.name,
        forward=forward,
        rows=tuple(rows),
        timings=len(placed),
        inside=float(((placed >= 0.1) & (placed <= 0.9)).mean()),
        below=float((placed <= 0.8).mean()),
        step_error=float(np.median(errors)),
        notes=given.notes,
    )


def _splits(
    sessions: Sequence[SessionTimes], *, forward: bool
) -> Iterator[tuple[SessionTimes, list[SessionTimes]]]:
    """Yield each session to be predicted, with those to learn from."""
    if not forward:
        for at in range(max(0, len(sessions) - MOST), len(sessions)):
            yield sessions[at], [*sessions[:at], *sessions[at + 1 :]]
        return
    for at in range(max(1, len(sessions) - MOST), len(sessions)):
        day = sessions[at].finished_on
        yield sessions[at], [one for one in sessions[:at] if day is None or one.finished_on != day]


def _tried(made: Forecast, times: SessionTimes) -> tuple[Tried, list[float], list[float]]:
    ids = [step.id for step in made.given.steps]
    columns = [at for at, step in enumerate(ids) if times.minutes.get(step, 0.0) > 0]
    actual = np.array([times.minutes[ids[at]] for at in columns])
    jobs = made.jobs[:, columns]
    whole: Array = jobs.sum(axis=1)
    ranks = (jobs < actual).mean(axis=0)
    errors = np.abs(actual / np.median(jobs, axis=0) - 1)
    row = Tried(
        session=times.session,
        past=len(made.given.sessions),
        steps=len(columns),
        actual=float(actual.sum()),
        predicted=range_of(whole),
        rank=float((whole < actual.sum()).mean()),
    )
    return row, [float(rank) for rank in ranks], [float(error) for error in errors]
