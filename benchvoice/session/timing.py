"""Labour by step out of a session."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from benchvoice.session.values import Entry, Session, Sitting

LONGEST_GAP = 45.0
"""Minutes with nothing said that may still be work (common practice, no source)."""

_OWNING = frozenset({"finding", "noted", "photo", "finished"})
_ENTERING = frozenset({"started", "moved"})


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
class Labour:
    """Where the time went, in minutes.

    `steps` by step id, in the order begun; `other` belongs to no step;
    `paused` is the stopped clock; `sittings` is worked time by sitting number.
    """

    steps: Mapping[str, float]
    other: float
    paused: float
    sittings: Mapping[int, float]
    silences: tuple[Silence, ...]

    @property
    def worked(self) -> float:
        """All minutes that count as work."""
        return sum(self.steps.values()) + self.other


def step_minutes(session: Session, *, longest_gap: float = LONGEST_GAP) -> dict[str, float]:
    """Give the labour minutes by step id; steps without any are absent.  See `labour`."""
    found = labour(session, longest_gap=longest_gap)
    return {step: minutes for step, minutes in found.steps.items() if minutes > 0}


def labour(session: Session, *, longest_gap: float = LONGEST_GAP) -> Labour:
    """Share the time of each sitting among the steps.

    Between a step's "started" and its finish in the same sitting the time is
    that step's (the one last started, where they overlap).  Elsewhere the gap
    before an entry is its step's (common practice, no source: a thing is said
    when it is done), and the gap before a start is that of the step before it.
    Stopped clocks and the time between sittings do not count.  A gap of more than
    `longest_gap` minutes is an interruption: listed, and left out.
    """
    steps: dict[str, float] = defaultdict(float)
    sittings: dict[int, float] = {}
    silences: list[Silence] = []
    other = paused = 0.0
    for sitting in session.sittings:
        entries = [entry for entry in session.entries if entry.sitting == sitting.number]
        worked = 0.0
        for piece in _pieces(sitting, entries):
            minutes = piece.seconds / 60.0
            if piece.paused:
                paused += minutes
                continue
            if minutes > longest_gap:
                silences.append(_silence(sitting, piece))
                if not piece.explicit:
                    continue
            worked += minutes
            if piece.step is None:
                other += minutes
            else:
                steps[piece.step] += minutes
        sittings[sitting.number] = worked
    return Labour(
        steps=dict(steps), other=other, paused=paused, sittings=sittings, silences=tuple(silences)
    )


class _Piece(NamedTuple):
    """The time between two things said, and whose it is."""

    start: float
    seconds: float
    step: str | None
    explicit: bool
    paused: bool


def _silence(sitting: Sitting, piece: _Piece) -> Silence:
    return Silence(
        sitting=sitting.number,
        start=piece.start / 60.0,
        minutes=piece.seconds / 60.0,
        step=piece.step,
        counted=piece.explicit,
    )


def _pieces(sitting: Sitting, entries: Sequence[Entry]) -> Iterator[_Piece]:
    """Cut a sitting at everything that was said in it."""
    owners = _owners(entries)
    spans = _spans(entries)
    before, paused = 0.0, False
    for index, entry in enumerate(entries):
        explicit = _span_at(spans, index)
        owner = explicit if explicit is not None else owners[index]
        yield _Piece(before, max(0.0, entry.t - before), owner, explicit is not None, paused)
        before = max(before, entry.t)
        paused = {"paused": True, "resumed": False}.get(entry.kind, paused)
    yield _Piece(before, max(0.0, sitting.seconds - before), owners[-1], False, paused)


def _owners(entries: Sequence[Entry]) -> list[str | None]:
    """Give the step whose is the gap before each entry, and, last, that of the time after all."""
    here: list[str | None] = []
    current: str | None = None
    for entry in entries:
        here.append(current)
        if not entry.struck and entry.kind in _OWNING | _ENTERING and entry.step is not None:
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


class _Span(NamedTuple):
    """A step said to be started by one entry and finished by a later one (indices)."""

    start: int
    end: int
    step: str


def _spans(entries: Sequence[Entry]) -> list[_Span]:
    spans: list[_Span] = []
    begun: dict[str, int] = {}
    for index, entry in enumerate(entries):
        if entry.struck:
            continue
        if entry.finishes is not None and entry.finishes in begun:
            spans.append(_Span(begun.pop(entry.finishes), index, entry.finishes))
        if entry.kind == "started" and entry.step is not None:
            begun[entry.step] = index
    return spans


def _span_at(spans: Sequence[_Span], index: int) -> str | None:
    """Give the step last started whose span the gap before entry `index` is in."""
    inside = [span for span in spans if span.start < index <= span.end]
    return max(inside, key=lambda span: span.start).step if inside else None
