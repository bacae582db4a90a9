"""What was given to quote from, checked and laid out; nothing is dropped unsaid."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from math import isfinite
from statistics import median

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline, Step
from benchvoice.quoting.gibbs_values import Array
from benchvoice.quoting.odd import STANDS_OUT, TYPED, paces
from benchvoice.quoting.quote import SessionTimes

MOST = 400
"""So many sessions are enough: more would narrow the range by less than a percent."""
HASTY = 0.1
"""Minutes; half of a job's steps below this were written down, not worked (common practice, no
source)."""
NAMED = 5
"""So many sessions are named one by one in a kind of note; of more, the number is told."""


@dataclass(frozen=True)
class Intake:
    """Minutes fit to learn from: (S, K) with NaN gaps, book (K,) with NaN gaps, stage (K, G).

    `sessions` are those of the rows, oldest first where all days are known.
    """

    steps: tuple[Step, ...]
    sessions: tuple[SessionTimes, ...]
    minutes: Array
    book: Array
    stage: Array
    notes: tuple[str, ...]


def check_rate(rate: Decimal) -> None:
    """Raise BadInput unless `rate` is above zero and below a thousand million."""
    if not rate.is_finite() or not 0 < rate < 10**9:
        raise BadInput(f"hourly rate {rate} cannot be used", mend="give an amount above zero")


def take_in(outline: Outline, sessions: Sequence[SessionTimes], *, most: int = MOST) -> Intake:
    """Check and lay out the `most` recent usable sessions; what is left out is noted.

    Raises BadInput for an unusable outline or impossible minutes.
    """
    steps = _steps(outline)
    place = {step.id: column for column, step in enumerate(steps)}
    notes = _Notes()
    used = [
        times
        for times in _once(sessions, notes)
        if _is_ours(outline, times, notes) and _is_timed(times, place, notes)
    ]
    used = _recent(_like_others(used, notes), most, notes)
    minutes = np.array([_row(times, place, notes) for times in used]).reshape(-1, len(steps))
    named = (times.minutes.keys() for times in sessions)
    unknown = Counter(
        step for ids in named if not ids <= place.keys() for step in ids - place.keys()
    )
    return Intake(
        steps=steps,
        sessions=tuple(used),
        minutes=minutes,
        book=np.array([np.nan if step.minutes is None else step.minutes for step in steps]),
        stage=_stages(outline),
        notes=(*notes.lines(), *([_unknown_note(outline, unknown)] if unknown else [])),
    )


def _row(times: SessionTimes, place: Mapping[str, int], notes: _Notes) -> Array:
    """Lay out the minutes of a session, (K,), without those that were written down in one go."""
    row = np.full(len(place), np.nan)
    hasty = 0
    for step_id, value in times.minutes.items():
        if step_id not in place:
            continue
        if value == 0:
            notes.add(f": step {step_id} has 0 minutes, left out", times.session)
        elif value < HASTY:
            hasty += 1
        else:
            row[place[step_id]] = value
    if hasty:
        what = "1 step" if hasty == 1 else f"{hasty} steps"
        notes.add(f": {what} of seconds, written down in one go, left out", times.session)
    return row


def _like_others(used: list[SessionTimes], notes: _Notes) -> list[SessionTimes]:
    """Leave out what was written down afterwards, and tell of what else is not like the others."""
    kept = []
    for times, pace in zip(used, paces(used), strict=True):
        if pace is not None and pace < TYPED:
            what = (
                f": its steps took 1/{1 / pace:.0f} of their usual time, as when a job is written "
                "down afterwards; not counted"
            )
            notes.add(what, times.session)
            continue
        kept.append(times)
        if pace is not None and not 1 / STANDS_OUT < pace < STANDS_OUT:
            how = f"{pace:.1f} times" if pace > 1 else f"1/{1 / pace:.1f} of"
            notes.add(f": its steps took {how} their usual time; counted, leave it out if it was "
                      "not timed as it was worked", times.session)  # fmt: skip
    return kept


class _Notes:
    """Notes on sessions by what is the matter; of many alike only some are named."""

    def __init__(self) -> None:
        self._names: dict[str, list[str]] = {}
        self._plain: list[str] = []

    def add(self, what: str, name: str) -> None:
        self._names.setdefault(what, []).append(name)

    def say(self, text: str) -> None:
        self._plain.append(text)

    def lines(self) -> tuple[str, ...]:
        lines = []
        for what, names in self._names.items():
            if len(names) <= NAMED:
                lines += [f"session {name}{what}" for name in names]
            else:
                named = ", ".join(names[:NAMED])
                more = len(names) - NAMED
                lines.append(f"{len(names)} sessions ({named} and {more} more){what}")
        return (*lines, *self._plain)


def _steps(outline: Outline) -> tuple[Step, ...]:
    steps = tuple(outline.steps())
    if not steps:
        raise BadInput(f"outline {outline.name} has no steps", mend="add steps to it")
    for step_id, times in Counter(step.id for step in steps).items():
        if times > 1:
            raise BadInput(
                f"outline {outline.name}: step id {step_id} is used {times} times",
                mend="give each step its own id",
            )
    for step in steps:
        if step.minutes is not None and not (isfinite(step.minutes) and step.minutes > 0):
            raise BadInput(
                f"outline {outline.name}: step {step.id} has book minutes {step.minutes}",
                mend="give minutes above zero or leave them out",
            )
    return steps


def _is_ours(outline: Outline, times: SessionTimes, notes: _Notes) -> bool:
    if times.outline in (None, outline.name):
        return True
    notes.add(f" is of outline {times.outline}, not counted", times.session)
    return False


def _is_timed(times: SessionTimes, place: Mapping[str, int], notes: _Notes) -> bool:
    """Tell whether any step was timed; no clock gives the impossible."""
    given = times.minutes.values()
    if not all(map(isfinite, given)) or min(given, default=0.0) < 0:
        step_id, minutes = next(
            pair for pair in times.minutes.items() if not isfinite(pair[1]) or pair[1] < 0
        )
        raise BadInput(
            f"session {times.session}: step {step_id} has {minutes} minutes",
            mend="correct or remove that timing",
        )
    timed = [minutes for step, minutes in times.minutes.items() if minutes > 0 and step in place]
    if timed and median(timed) >= HASTY:
        return True
    why = (
        ": steps of seconds, as when a job is written down in one go; not counted"
        if timed
        else ": no step of this outline was timed, not counted"
    )
    notes.add(why, times.session)
    return False


def _once(sessions: Sequence[SessionTimes], notes: _Notes) -> list[SessionTimes]:
    """Drop a session given twice, which would pass for more evidence than there is."""
    kept: list[SessionTimes] = []
    by_name: dict[str, list[SessionTimes]] = {}
    for times in sessions:
        same = by_name.setdefault(times.session, [])
        if times in same:
            notes.add(" was given more than once, counted once", times.session)
        else:
            same.append(times)
            kept.append(times)
    return kept


def _recent(used: list[SessionTimes], most: int, notes: _Notes) -> list[SessionTimes]:
    """Put the sessions in the order of their days, if all are known, and keep the last `most`."""
    days = [times.finished_on for times in used]
    if None not in days:
        used = sorted(used, key=lambda times: times.finished_on or date.min)
    if len(used) > most:
        which = "most recent" if None not in days else "last given"
        notes.say(f"of {len(used)} sessions the {most} {which} are counted, to be quick")
        used = used[-most:]
    return used


def _unknown_note(outline: Outline, unknown: Counter[str]) -> str:
    listed = ", ".join(
        f"{step_id} ({times}x)" for step_id, times in sorted(unknown.items())[:NAMED]
    )
    if len(unknown) > NAMED:
        listed += f" and {len(unknown) - NAMED} more steps"
    return (
        f"{unknown.total()} timings are of steps that outline {outline.name} does not have,"
        f" left out: {listed}"
    )


def _stages(outline: Outline) -> Array:
    """Give the (K, G) one-hot stage of each step; stages without steps are left out."""
    used = [stage for stage in outline.stage if stage.step]
    number = [column for column, stage in enumerate(used) for _ in stage.step]
    onehot: Array = np.eye(len(used))[number]
    return onehot
