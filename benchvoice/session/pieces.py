"""A sitting cut into pieces, each with the steps whose time it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from operator import attrgetter
from typing import NamedTuple

from benchvoice.session.values import Entry, Sitting

_OWNING = frozenset({"finding", "noted", "photo", "finished"})
_STARTING = frozenset({"started", "assembling"})
_ENTERING = _STARTING | {"moved"}
_PLACING = _OWNING | _ENTERING
_CLOCK = frozenset({"paused", "resumed"})


class Piece(NamedTuple):
    """The time between two things said, `start` and `minutes` in the sitting.

    `steps` are whose it is, in the order begun: several when they are done
    together, none when it belongs to no step.  `explicit`: between a start and
    a finish that were said.
    """

    sitting: int
    start: float
    minutes: float
    steps: tuple[str, ...]
    explicit: bool
    paused: bool

    @property
    def share(self) -> float:
        """The minutes that each of the steps has of it."""
        return self.minutes / max(1, len(self.steps))


def pieces(sitting: Sitting, recorded: Sequence[Entry]) -> Iterator[Piece]:
    """Cut a sitting at everything that was said in it, in the order of the entries' times."""
    entries = sorted(recorded, key=attrgetter("t"))
    owners = _owners(entries)
    together = _together(entries)
    before, paused = 0.0, False
    for index, entry in enumerate(entries):
        explicit, now = together[index], max(before, entry.t)
        steps = explicit or _only(owners[index])
        minutes = (now - before) / 60
        yield Piece(sitting.number, before / 60, minutes, steps, bool(explicit), paused)
        before = now
        if entry.kind in _CLOCK:
            paused = entry.kind == "paused"
    seconds = max(0.0, sitting.seconds - before)
    yield Piece(sitting.number, before / 60, seconds / 60, _only(owners[-1]), False, paused)


def _only(step: str | None) -> tuple[str, ...]:
    return () if step is None else (step,)


def _owners(entries: Sequence[Entry]) -> list[str | None]:
    """Give the step whose is the gap before each entry, and, last, that of the time after all."""
    here: list[str | None] = []
    current: str | None = None
    for entry in entries:
        here.append(current)
        if not entry.struck and entry.kind in _PLACING and entry.step is not None:
            current = entry.step
    owners: list[str | None] = [current]
    coming = current
    for entry, before in zip(reversed(entries), reversed(here), strict=True):
        if not entry.struck and entry.kind in _OWNING:
            coming = entry.step
        elif not entry.struck and entry.kind in _ENTERING:
            coming = before
        owners.append(coming)
    return owners[::-1]


def _together(entries: Sequence[Entry]) -> list[tuple[str, ...]]:
    """Give the steps said to be started and not yet finished in the gap before each entry.

    A start without a finish in the same sitting does not count.
    """
    inside: list[dict[str, None]] = [{} for _ in entries]
    begun: dict[str, int] = {}
    spans: list[tuple[int, int, str]] = []
    for index, entry in enumerate(entries):
        if entry.struck:
            continue
        if entry.finishes is not None and entry.finishes in begun:
            spans.append((begun.pop(entry.finishes), index, entry.finishes))
        if entry.kind in _STARTING and entry.step is not None:
            begun[entry.step] = index
    for start, end, step in sorted(spans):
        for index in range(start + 1, end + 1):
            inside[index][step] = None
    return [tuple(steps) for steps in inside]
