"""Small made-up outlines and sessions for the quote's tests."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from benchvoice.grammar.outline import Outline, Stage, Step
from benchvoice.quoting import SessionTimes

Array = NDArray[np.float64]


def outline(books: Sequence[float | None], stages: int = 1) -> Outline:
    """One step per book time, split into so many stages; ids s0, s1, ..."""
    steps = [Step(id=f"s{k}", title=f"Step {k}", minutes=book) for k, book in enumerate(books)]
    parts = np.array_split(np.arange(len(steps)), stages)
    made = tuple(
        Stage(id=f"g{g}", title=f"Stage {g}", kind="strip", step=tuple(steps[k] for k in part))
        for g, part in enumerate(parts)
    )
    return Outline(name="made-up", title="Made-up pump", unit="pump", invented=True, stage=made)


def sessions(minutes: Array) -> list[SessionTimes]:
    """One session per row of (S, K) minutes; NaN is not timed."""
    return [
        SessionTimes(
            session=f"t{number}",
            minutes={f"s{k}": float(value) for k, value in enumerate(row) if np.isfinite(value)},
        )
        for number, row in enumerate(minutes)
    ]
