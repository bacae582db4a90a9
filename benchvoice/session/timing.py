"""Labour by step out of a session."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from benchvoice.session.pace import FEWEST, doubtful_gaps
from benchvoice.session.pieces import Piece, pieces
from benchvoice.session.values import Entry, Session
from benchvoice.session.visits import Visit, visits

LONGEST_GAP = 45.0
"""Minutes with nothing said that may still be work (common practice, no source)."""


@dataclass(frozen=True, kw_only=True)
class Silence:
    """A stretch longer than the limit with nothing said.

    `start` and `minutes` are in the sitting.  `counted` is True inside a step
    whose start and finish were both said; otherwise the time is left out.
    `step` is where it was, or would have been, counted.
    """

    sitting: int
    start: float
    minutes: float
    step: str | None
    counted: bool


@dataclass(frozen=True, kw_only=True)
class Doubt:
    """A counted stretch that is long for its step: perhaps a phone call, perhaps hard work.

    `start` and `minutes` are in the sitting; `usual` is the step's middle gap.
    """

    sitting: int
    start: float
    minutes: float
    step: str
    usual: float


@dataclass(frozen=True, kw_only=True)
class Labour:
    """Where the time went, in minutes.

    `steps` by step id, in the order begun; `other` belongs to no step;
    `paused` is the stopped clock; `sittings` is worked time by sitting number.
    What is `doubtful`, by step, is counted.
    """

    steps: Mapping[str, float]
    other: float
    paused: float
    sittings: Mapping[int, float]
    silences: tuple[Silence, ...]
    doubts: tuple[Doubt, ...] = ()
    doubtful: Mapping[str, float] = field(default_factory=dict)
    pieces: tuple[Piece, ...] = ()
    longest_gap: float = LONGEST_GAP

    @property
    def worked(self) -> float:
        """All minutes that count as work."""
        return sum(self.steps.values()) + self.other

    @property
    def visits(self) -> tuple[Visit, ...]:
        """Each stretch on a step, in the order ended."""
        doubted = frozenset((doubt.sitting, doubt.start) for doubt in self.doubts)
        return tuple(visits(self.pieces, doubted, self.longest_gap))


def step_minutes(session: Session, *, longest_gap: float = LONGEST_GAP) -> dict[str, float]:
    """Give the labour minutes by step id; steps without any are absent.  See `labour`."""
    found = labour(session, longest_gap=longest_gap)
    return {step: minutes for step, minutes in found.steps.items() if minutes > 0}


def labour(session: Session, *, longest_gap: float = LONGEST_GAP) -> Labour:
    """Share the time of each sitting among the steps.

    Between a step's "started" and its finish in the same sitting the time is
    that step's; where such spans overlap the steps are done together and have
    equal shares.  Elsewhere the gap before an entry is its step's (common
    practice, no source: a thing is said when it is done), and the gap before a
    start is that of the step before it.  Entries count in the order of their
    times, so that times put right later win.  Stopped clocks and the time
    between sittings do not count.  A gap of more than `longest_gap` minutes is
    an interruption: listed, and left out.  A shorter one that stands out from
    the step's own pace (see `pace.py`) is listed, and counted.
    """
    cut = _cut(session)
    worked = [piece for piece in cut if piece.counts(longest_gap)]
    doubts = _doubts(cut, longest_gap)
    in_doubt = [piece for piece in worked if piece in doubts] if doubts else []
    sittings = {sitting.number: 0.0 for sitting in session.sittings}
    for piece in worked:
        sittings[piece.sitting] += piece.minutes
    return Labour(
        steps=_by_step(worked),
        other=sum((piece.minutes for piece in worked if not piece.steps), 0.0),
        paused=sum((piece.minutes for piece in cut if piece.paused), 0.0),
        sittings=sittings,
        silences=tuple(_silences(cut, longest_gap)),
        doubts=tuple(doubts.values()),
        doubtful=_by_step(in_doubt),
        pieces=tuple(cut),
        longest_gap=longest_gap,
    )


def _by_step(worked: Iterable[Piece]) -> dict[str, float]:
    """Share out the minutes of pieces; steps in the order begun."""
    steps: dict[str, float] = defaultdict(float)
    for piece in worked:
        share = piece.share
        for step in piece.steps:
            steps[step] += share
    return dict(steps)


def _cut(session: Session) -> list[Piece]:
    by_sitting: dict[int, list[Entry]] = {sitting.number: [] for sitting in session.sittings}
    for entry in session.entries:
        by_sitting.setdefault(entry.sitting, []).append(entry)
    return [
        piece
        for sitting in session.sittings
        for piece in pieces(sitting, by_sitting[sitting.number])
    ]


def _silences(cut: Iterable[Piece], longest_gap: float) -> Iterator[Silence]:
    for piece in cut:
        if not piece.paused and piece.minutes > longest_gap:
            yield Silence(
                sitting=piece.sitting,
                start=piece.start,
                minutes=piece.minutes,
                step=piece.steps[-1] if piece.steps else None,
                counted=piece.explicit,
            )


def _doubts(cut: Sequence[Piece], longest_gap: float) -> dict[Piece, Doubt]:
    """Find the counted pieces that stand out among those of their step."""
    by_step: dict[str, list[Piece]] = defaultdict(list)
    for piece in cut:
        if piece.steps and piece.minutes <= longest_gap and not piece.paused:
            by_step[piece.steps[-1]].append(piece)
    doubts = {}
    for step, own in by_step.items():
        if len(own) < FEWEST:
            continue
        usual, which = doubtful_gaps([piece.minutes for piece in own])
        for index in which:
            piece = own[index]
            doubts[piece] = Doubt(
                sitting=piece.sitting,
                start=piece.start,
                minutes=piece.minutes,
                step=step,
                usual=usual,
            )
    return doubts
