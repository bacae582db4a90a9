"""What one remark changes."""

from __future__ import annotations

from typing import NamedTuple

from benchvoice.follow.events import EventKind, LogEntry, State


class Change(NamedTuple):
    """What one remark changes; the fields are those of StepEvent and State.

    `log` is the log without what was struck or recounted, None when untouched.
    """

    kind: EventKind
    step: str | None = None
    warnings: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    answer: str | None = None
    amends: int | None = None
    finishes: str | None = None
    log: tuple[LogEntry, ...] | None = None
    running: bool | None = None
    noting: bool = False
    held: str | None = None
    unsure_of: str = ""
    told_of: str = ""
    untold: tuple[str, ...] = ()


def unclear(state: State, answer: str) -> Change:
    """Nothing changes, and `answer` says why."""
    return Change("unclear", state.current, answer=answer)
