"""What is known beside the minutes: conditions found, technicians, practice, and age."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from benchvoice.errors import BadInput
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.intake import Intake
from benchvoice.quoting.luck import Odds

Flags = NDArray[np.bool_]

SLOTS = 3
"""So many conditions of one step are looked at, the most frequent ones."""
FEWEST = 2
"""So many sessions must have a condition, and as many not, before it is looked at."""
REPEATS = 5
"""So many dated sessions before practice is looked at."""


class Condition(NamedTuple):
    """A condition looked at: its slot and step column, what it is, and how often it was found."""

    slot: int
    column: int
    name: str
    found: int
    timed: int


@dataclass(frozen=True)
class Beside:
    """Regressors of S sessions, K steps; shapes as in `gibbs_values.Table`.

    `technicians` are the names of the T columns of `who`.
    """

    weigh: Array
    who: Array
    repeat: Array
    found: Array
    technicians: tuple[str, ...]
    conditions: tuple[Condition, ...]
    next_repeat: float
    """The repeat to come, on the scale of `repeat`; 0 when that is not known."""

    def odds(self, who: str | None = None) -> Odds:
        """Give the odds for a job done by `who`: known, somebody new, or None (as in the past)."""
        shape = (len(self.found), self.found.shape[2])
        found, timed = np.zeros(shape), np.zeros(shape)
        for one in self.conditions:
            found[one.slot, one.column] = one.found
            timed[one.slot, one.column] = one.timed
        return Odds(found, timed, self._shares(who))

    def _shares(self, who: str | None) -> Array | None:
        if not self.technicians:
            return None
        if who is None:
            past = self.weigh @ self.who
            shares: Array = past / past.sum()
            return shares
        if who in self.technicians:
            return np.array([float(name == who) for name in self.technicians])
        return None


def look_beside(given: Intake, *, half_life: float | None = None) -> Beside:
    """Work out the regressors.

    `half_life` is in days: a session so much older than the newest counts half.
    A session without a day is taken for as old as the oldest.  Raises BadInput
    for a half-life that is not above zero.
    """
    technicians, who = _who(given)
    conditions, found = _conditions(given)
    repeat, ahead = _repeats(given)
    return Beside(
        weigh=_weights(given, half_life),
        who=who,
        repeat=repeat,
        found=found,
        technicians=technicians,
        conditions=conditions,
        next_repeat=ahead,
    )


def _weights(given: Intake, half_life: float | None) -> Array:
    if half_life is not None and not 0 < half_life < np.inf:
        raise BadInput(f"a half-life of {half_life} days cannot be used", mend="give days above 0")
    days = [times.finished_on for times in given.sessions]
    known = [day for day in days if day is not None]
    if half_life is None or not known:
        return np.ones(len(days))
    ages = np.array([(max(known) - (day or min(known))).days for day in days], dtype=float)
    return np.maximum(0.5 ** (ages / half_life), 1e-3)


def _who(given: Intake) -> tuple[tuple[str, ...], Array]:
    """Tell technicians apart when there are two or more; a row of zeros is nobody named."""
    names = tuple(sorted({times.who for times in given.sessions if times.who}))
    if len(names) < 2:
        return (), np.zeros((len(given.sessions), 0))
    return names, np.array(
        [[float(times.who == name) for name in names] for times in given.sessions]
    )


def _repeats(given: Intake) -> tuple[Array, float]:
    """Give log2 of the repeats and of the next one, less their average.

    Zeros when the order is not known or they are few.
    """
    count = len(given.sessions)
    if count < REPEATS or any(times.finished_on is None for times in given.sessions):
        return np.zeros(count), 0.0
    repeats = np.log2(np.arange(1, count + 1))
    middle = float(repeats.mean())
    return repeats - middle, float(np.log2(count + 1)) - middle


def _conditions(given: Intake) -> tuple[tuple[Condition, ...], Array]:
    conditions: list[Condition] = []
    shape = (SLOTS, *given.minutes.shape)
    found = np.zeros(shape)
    for column, step in enumerate(given.steps):
        timed = np.isfinite(given.minutes[:, column])
        for slot, (name, rows) in enumerate(_looked_at(given, step.id, timed)):
            found[slot, :, column] = rows
            conditions.append(Condition(slot, column, name, int(rows.sum()), int(timed.sum())))
    used = max((one.slot + 1 for one in conditions), default=0)
    return tuple(conditions), found[:used]


def _looked_at(given: Intake, step: str, timed: Flags) -> Iterator[tuple[str, Flags]]:
    """Yield the most frequent conditions of a step that neither copy nor mirror one before."""
    said = [set(times.found.get(step, ())) for times in given.sessions]
    counts = Counter(name for names, was in zip(said, timed, strict=True) if was for name in names)
    taken: list[Flags] = []
    for name, count in sorted(counts.items(), key=lambda item: (-item[1], item[0])):
        if len(taken) == SLOTS or count < FEWEST:
            return
        rows = np.array([name in names for names in said]) & timed
        if int(timed.sum()) - count < FEWEST or _told_already(rows, taken, timed):
            continue
        taken.append(rows)
        yield name, rows


def _told_already(rows: Flags, taken: Sequence[Flags], timed: Flags) -> bool:
    """Tell whether a condition was found in just the sessions that another was, or was not."""
    mirrored = ~rows & timed
    return any(np.array_equal(rows, one) or np.array_equal(mirrored, one) for one in taken)
