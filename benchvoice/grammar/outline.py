"""The procedure outline: stages and steps of one kind of job, as values."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Literal

from benchvoice.grammar.vocabulary import Entry, Part, Term

StageKind = Literal["strip", "clean", "inspect", "decide", "assemble", "test"]


class Hardware(Entry, frozen=True):
    """What a step is expected to yield: so many of a part at a place."""

    part: str
    count: int = 1
    place: str | None = None
    thread: str | None = None
    """Thread designation, "3/8-16" or "M10x1.5"."""
    length: str | None = None
    """Length as the trade writes it, "1 1/4 in" or "30 mm"."""
    head: str | None = None
    """Head width across flats, "9/16 in" or "17 mm"."""
    always_replace: bool = False
    note: str | None = None


class Limit(Entry, frozen=True):
    """A limit for a measured quantity.  A limit without a source is shown as unsourced."""

    quantity: str
    unit: str
    low: float | None = None
    high: float | None = None
    part: str | None = None
    source: str | None = None


class Step(Entry, frozen=True):
    """One step of the job; `minutes` is the book time, None when there is none."""

    id: str
    title: str
    say: tuple[str, ...] = ()
    minutes: float | None = None
    after: tuple[str, ...] = ()
    """Ids of steps that have to come first."""
    caution: tuple[str, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    limit: tuple[Limit, ...] = ()
    note: tuple[str, ...] = ()


class Stage(Entry, frozen=True):
    """A stretch of steps of the same nature."""

    id: str
    title: str
    kind: StageKind
    step: tuple[Step, ...] = ()


class Outline(Entry, frozen=True, dict=True, kw_only=True):
    """One procedure outline, with the words that only this kind of unit has."""

    name: str
    title: str
    unit: str
    invented: bool = False
    note: tuple[str, ...] = ()
    caution: tuple[str, ...] = ()
    stage: tuple[Stage, ...]
    part: tuple[Part, ...] = ()
    place: tuple[Term, ...] = ()
    qualifier: tuple[Term, ...] = ()
    pronounce: dict[str, tuple[str, ...]] = {}

    def steps(self) -> Iterator[Step]:
        """Yield the steps in order."""
        for stage in self.stage:
            yield from stage.step

    @cached_property
    def by_id(self) -> dict[str, Step]:
        """Map step id to step."""
        return {step.id: step for step in self.steps()}
