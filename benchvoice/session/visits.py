"""Stretches on a step: the pieces of a sitting joined."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field

from benchvoice.session.pieces import Piece


@dataclass(frozen=True, kw_only=True)
class Visit:
    """A stretch on one step with no other in between, minutes throughout.

    From `start` to `end` in the sitting: `minutes` counted for the step, of
    them `doubtful` ones that look like an interruption; `left_out` in silences,
    `paused` with the clock stopped.  `beside` are steps done at the same time;
    they have their share of the time.
    """

    step: str
    sitting: int
    start: float
    end: float
    minutes: float
    doubtful: float = 0.0
    left_out: float = 0.0
    paused: float = 0.0
    beside: tuple[str, ...] = ()


@dataclass
class _Open:
    """A visit not ended yet."""

    sitting: int
    start: float
    sums: dict[str, float] = field(default_factory=lambda: defaultdict(float))
    beside: dict[str, None] = field(default_factory=dict)

    def add(self, piece: Piece, step: str, longest_gap: float, *, doubtful: bool) -> None:
        self.beside |= dict.fromkeys(other for other in piece.steps if other != step)
        if piece.paused:
            self.sums["paused"] += piece.share
        elif piece.counts(longest_gap):
            self.sums["minutes"] += piece.share
            self.sums["doubtful"] += piece.share if doubtful else 0.0
        else:
            self.sums["left_out"] += piece.share

    def closed(self, step: str, end: float) -> Visit:
        sums = {"minutes": 0.0, **self.sums}
        return Visit(
            step=step,
            sitting=self.sitting,
            start=self.start,
            end=end,
            beside=tuple(self.beside),
            **sums,
        )


def visits(
    cut: Iterable[Piece], doubted: Container[tuple[int, float]], longest_gap: float
) -> Iterator[Visit]:
    """Join pieces of the same step that follow each other in a sitting.

    `doubted` are sitting and start of the pieces that look like an interruption.
    """
    under_way: dict[str, _Open] = {}
    sitting, end = 0, 0.0
    for piece in cut:
        ended = [step for step in under_way if step not in piece.steps or piece.sitting != sitting]
        for step in ended:
            yield under_way.pop(step).closed(step, end)
        for step in piece.steps:
            visit = under_way.setdefault(step, _Open(piece.sitting, piece.start))
            visit.add(piece, step, longest_gap, doubtful=(piece.sitting, piece.start) in doubted)
        sitting, end = piece.sitting, piece.start + piece.minutes
    for step, visit in under_way.items():
        yield visit.closed(step, end)
