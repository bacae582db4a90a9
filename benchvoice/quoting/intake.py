"""What was given to quote from, checked and laid out; nothing is dropped unsaid."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite

import numpy as np

from benchvoice.errors import BadInput
from benchvoice.grammar.outline import Outline, Step
from benchvoice.quoting.gibbs import Array
from benchvoice.quoting.quote import SessionTimes


@dataclass(frozen=True)
class Intake:
    """Minutes fit to learn from: (S, K) with NaN gaps, book (K,) with NaN gaps, stage (K, G)."""

    steps: tuple[Step, ...]
    minutes: Array
    book: Array
    stage: Array
    notes: tuple[str, ...]


def check_rate(rate: Decimal) -> None:
    """Raise BadInput unless `rate` is above zero and below a thousand million."""
    if not rate.is_finite() or not 0 < rate < 10**9:
        raise BadInput(f"hourly rate {rate} cannot be used", mend="give an amount above zero")


def take_in(outline: Outline, sessions: Sequence[SessionTimes]) -> Intake:
    """Check and lay out.  Raises BadInput for an unusable outline or impossible minutes."""
    steps = _steps(outline)
    place = {step.id: column for column, step in enumerate(steps)}
    notes: list[str] = []
    rows = []
    unknown: Counter[str] = Counter()
    for times in _once(sessions, notes):
        row = np.full(len(steps), np.nan)
        for step_id, minutes in times.minutes.items():
            usable = _check(times.session, step_id, minutes)
            if step_id not in place:
                unknown[step_id] += 1
            elif usable:
                row[place[step_id]] = minutes
            else:
                notes.append(f"session {times.session}: step {step_id} has 0 minutes, left out")
        if np.isfinite(row).any():
            rows.append(row)
        else:
            notes.append(f"session {times.session}: no step of this outline was timed, not counted")
    if unknown:
        notes.append(_unknown_note(outline, unknown))
    return Intake(
        steps=steps,
        minutes=np.array(rows).reshape(len(rows), len(steps)),
        book=np.array([np.nan if step.minutes is None else step.minutes for step in steps]),
        stage=_stages(outline),
        notes=tuple(notes),
    )


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


def _check(session: str, step_id: str, minutes: float) -> bool:
    """Tell whether `minutes` can be learned from; 0 cannot, and no clock gives the impossible."""
    if not isfinite(minutes) or minutes < 0:
        raise BadInput(
            f"session {session}: step {step_id} has {minutes} minutes",
            mend="correct or remove that timing",
        )
    return minutes > 0


def _once(sessions: Sequence[SessionTimes], notes: list[str]) -> list[SessionTimes]:
    """Drop a session given twice, which would pass for more evidence than there is."""
    kept: list[SessionTimes] = []
    by_name: dict[str, list[SessionTimes]] = {}
    for times in sessions:
        same = by_name.setdefault(times.session, [])
        if times in same:
            notes.append(f"session {times.session} was given more than once, counted once")
        else:
            same.append(times)
            kept.append(times)
    return kept


def _unknown_note(outline: Outline, unknown: Counter[str]) -> str:
    listed = ", ".join(f"{step_id} ({times}x)" for step_id, times in sorted(unknown.items()))
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
