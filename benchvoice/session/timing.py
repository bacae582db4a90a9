"""Labour by step out of a session."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from benchvoice.session.pace import doubtful_gaps
from benchvoice.session.pieces import Piece, pieces
from benchvoice.session.values import Session

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


@dataclass(frozen=True, kw_only=True)
class Labour:
    """Where the time went, in minutes.

    `steps` by step id, in the order begun; `other` belongs to no step;
    `paused` is the stopped clock; `sittings` is worked time by sitting number.
    `visits` are in the order ended.  What is doubtful is counted.
    """

    steps: Mapping[str, float]
    other: float
    paused: float
    sittings: Mapping[int, float]
    silences: tuple[Silence, ...]
    doubts: tuple[Doubt, ...] = ()
    visits: tuple[Visit, ...] = ()

    @property
    def worked(self) -> float:
        """All minutes that count as work."""
        return sum(self.steps.values()) + self.other

    @property
    def doubtful(self) -> Mapping[str, float]:
        """Minutes by step that are counted but look like an interruption."""
        found: dict[str, float] = defaultdict(float)
        for visit in self.visits:
            if visit.doubtful:
                found[visit.step] += visit.doubtful
        return dict(found)

    @property
    def undisturbed(self) -> Mapping[str, float]:
        """Minutes by step without those that look like an interruption."""
        doubtful = self.doubtful
        return {step: minutes - doubtful.get(step, 0.0) for step, minutes in self.steps.items()}


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
    cut: list[Piece] = []
    for sitting in session.sittings:
        entries = [entry for entry in session.entries if entry.sitting == sitting.number]
        cut += pieces(sitting, entries)
    doubts = _doubts(cut, longest_gap)
    steps: dict[str, float] = defaultdict(float)
    sittings = {sitting.number: 0.0 for sitting in session.sittings}
    other = paused = 0.0
    for piece in cut:
        if piece.paused:
            paused += piece.minutes
        elif _counts(piece, longest_gap):
            sittings[piece.sitting] += piece.minutes
            for step in piece.steps:
                steps[step] += piece.share
            if not piece.steps:
                other += piece.minutes
    return Labour(
        steps=dict(steps),
        other=other,
        paused=paused,
        sittings=sittings,
        silences=tuple(_silences(cut, longest_gap)),
        doubts=tuple(doubts.values()),
        visits=tuple(_visits(cut, doubts.keys(), longest_gap)),
    )


def _counts(piece: Piece, longest_gap: float) -> bool:
    return not piece.paused and (piece.explicit or piece.minutes <= longest_gap)


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
        elif _counts(piece, longest_gap):
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


def _visits(cut: Iterable[Piece], doubts: Iterable[Piece], longest_gap: float) -> Iterator[Visit]:
    """Join pieces of the same step that follow each other in a sitting."""
    doubted = set(doubts)
    under_way: dict[str, _Open] = {}
    sitting, end = 0, 0.0
    for piece in cut:
        ended = [step for step in under_way if step not in piece.steps or piece.sitting != sitting]
        for step in ended:
            yield under_way.pop(step).closed(step, end)
        for step in piece.steps:
            visit = under_way.setdefault(step, _Open(piece.sitting, piece.start))
            visit.add(piece, step, longest_gap, doubtful=piece in doubted)
        sitting, end = piece.sitting, piece.start + piece.minutes
    for step, visit in under_way.items():
        yield visit.closed(step, end)
