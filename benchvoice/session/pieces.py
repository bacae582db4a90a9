"""A sitting cut into pieces, each with the steps whose time it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from operator import attrgetter

import msgspec

from benchvoice.session.values import Entry, Sitting

_OWNING = frozenset({"finding", "noted", "photo", "finished"})
_STARTING = frozenset({"started", "assembling"})
_ENTERING = _STARTING | {"moved"}
_PLACING = _OWNING | _ENTERING
_CLOCK = frozenset({"paused", "resumed"})


class Piece(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """The time between two things said, `start` and `minutes` in the sitting.

    `steps` are whose it is, in the order begun: several when they are done
    together, none when it belongs to no step.  `explicit`: between a start and
    a finish that were said.  (A Struct, for a quote makes millions of them.)
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
        return self.minutes / (len(self.steps) or 1)

    def counts(self, longest_gap: float) -> bool:
        """Whether it is work: not with the clock stopped, and not a silence of unknown use."""
        return not self.paused and (self.explicit or self.minutes <= longest_gap)


def pieces(sitting: Sitting, recorded: Sequence[Entry]) -> Iterator[Piece]:
    """Cut a sitting at everything that was said in it, in the order of the entries' times."""
    entries = sorted(recorded, key=attrgetter("t"))
    owners = _owners(entries)
    together = _together(entries)
    before, paused = 0.0, False
    for index, entry in enumerate(entries):
        explicit, now = together.get(index, ()), entry.t if entry.t > before else before
        yield Piece(
            sitting=sitting.number,
            start=before / 60,
            minutes=(now - before) / 60,
            steps=explicit or _only(owners[index]),
            explicit=bool(explicit),
            paused=paused,
        )
        before = now
        if entry.kind in _CLOCK:
            paused = entry.kind == "paused"
    seconds = max(0.0, sitting.seconds - before)
    yield Piece(
        sitting=sitting.number,
        start=before / 60,
        minutes=seconds / 60,
        steps=_only(owners[-1]),
        explicit=False,
        paused=paused,
    )


def _only(step: str | None) -> tuple[str, ...]:
    return () if step is None else (step,)


def _owners(entries: Sequence[Entry]) -> list[str | None]:
    """Give the step whose is the gap before each entry, and, last, that of the time after all."""
    kinds = ["" if entry.struck else entry.kind for entry in entries]
    here: list[str | None] = []
    current: str | None = None
    for entry, kind in zip(entries, kinds, strict=True):
        here.append(current)
        if kind in _PLACING and entry.step is not None:
            current = entry.step
    owners: list[str | None] = [current]
    coming = current
    for at in range(len(entries) - 1, -1, -1):
        if kinds[at] in _OWNING:
            coming = entries[at].step
        elif kinds[at] in _ENTERING:
            coming = here[at]
        owners.append(coming)
    owners.reverse()
    return owners


def _together(entries: Sequence[Entry]) -> dict[int, tuple[str, ...]]:
    """Give the steps started and not yet finished, as said, in the gap before an entry (its index).

    A start without a finish in the same sitting does not count.
    """
    begun: dict[str, int] = {}
    spans: list[tuple[int, int, str]] = []
    for index, entry in enumerate(entries):
        if entry.struck:
            continue
        if entry.finishes is not None and entry.finishes in begun:
            spans.append((begun.pop(entry.finishes), index, entry.finishes))
        if entry.kind in _STARTING and entry.step is not None:
            begun[entry.step] = index
    inside: dict[int, dict[str, None]] = defaultdict(dict)
    for start, end, step in sorted(spans):
        for index in range(start + 1, end + 1):
            inside[index][step] = None
    return {index: tuple(steps) for index, steps in inside.items()}
