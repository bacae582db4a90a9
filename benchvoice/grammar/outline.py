"""The procedure outline: stages and steps of one kind of job, as values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import Literal

from msgspec.structs import replace

from benchvoice.grammar.vocabulary import Entry, Finite, Part, StepAlias, Term

StageKind = Literal["strip", "clean", "inspect", "decide", "assemble", "test"]

HazardKind = Literal[
    "spring", "air", "pressure", "prying", "press", "lifting", "pinch", "heat", "solvent", "turning"
]
"""Parts under spring load, parts moved by air, oil or air left under pressure, seals collapsed
inward before prying, press work, heavy parts, pinch points, heat, solvents, turning shafts."""

PowerTools = Literal["any", "apart only", "never"]


class LengthGroup(Entry, frozen=True):
    """So many of one length among fasteners with the same head, and the holes they belong in."""

    count: int
    length: str
    """Length as the trade writes it, "1 1/4 in" or "30 mm"."""
    where: str
    """The holes, as it is spoken: "bottom"."""


class Hardware(Entry, frozen=True):
    """What a step is expected to yield: so many of a part at a place."""

    part: str
    count: int = 1
    uncounted: bool = False
    """How many there are is not known yet: no number is expected, whatever `count` is."""
    place: str | None = None
    thread: str | None = None
    """Thread designation, "3/8-16" or "M10x1.5"."""
    length: str | None = None
    """Length as the trade writes it, "1 1/4 in" or "30 mm"."""
    head: str | None = None
    """Head width across flats, "9/16 in" or "17 mm"."""
    lengths: tuple[LengthGroup, ...] = ()
    """Instead of `length` when there are several; the counts add up to `count`."""
    always_replace: bool = False
    inspect: str | None = None
    """What decides whether it goes back in; such a part stays open until that is said."""
    either_way: bool = False
    """It goes on either way round and so has to be marked before it comes off."""
    mark: str | None = None
    """The mark to make, as it is spoken: "paint mark on the outside face"."""
    build: str | None = None
    """Name of a place where builds differ; of its options one is there, the rest are not."""
    option: str | None = None
    """Which of the builds this belongs to; the part's name when it is left out."""
    note: str | None = None

    @property
    def expected(self) -> int | None:
        """How many there are; None when that is not known."""
        return None if self.uncounted else self.count

    @property
    def several(self) -> bool:
        """Whether it is spoken of in the plural; so is what nobody has counted."""
        return self.uncounted or self.count > 1

    @property
    def build_option(self) -> str:
        """The name of the build that this is of."""
        return self.option or self.part


class Limit(Entry, frozen=True):
    """A limit for a measured quantity.  A limit without a source is shown as unsourced."""

    quantity: str
    unit: str
    low: Finite | None = None
    high: Finite | None = None
    part: str | None = None
    source: str | None = None


class Named(Entry, frozen=True):
    """Base of what is asked for by name."""

    name: str


class Together(Named, frozen=True):
    """A sub-assembly whose pieces stay together; `part` names hardware of its step."""

    part: tuple[str, ...]
    why: str | None = None


class Stack(Named, frozen=True):
    """A stack kept in order; `first` comes off first and `last` last, both hardware of its step.

    Its parts are the hardware listed from the one to the other.
    """

    first: str
    last: str
    place: str | None = None
    note: str | None = None


class Hazard(Entry, frozen=True):
    """Something of a step that can hurt, and the caution that is shown before the step."""

    kind: HazardKind
    caution: str


class Check(Entry, frozen=True):
    """A check without a reading ("no leaks"); open until it is said of `part` in its step."""

    part: str
    """What is checked, a part or a place, as it is spoken."""
    what: str
    """The check in words, "air check: the piston moves and holds"."""
    source: str | None = None


class Step(Entry, frozen=True):
    """One step of the job; `minutes` is the book time, None when there is none."""

    id: str
    title: str
    say: tuple[str, ...] = ()
    minutes: float | None = None
    after: tuple[str, ...] = ()
    """Ids of steps that have to come first."""
    puts_back: tuple[str, ...] = ()
    """Ids of the strip steps whose parts go back in this step."""
    caution: tuple[str, ...] = ()
    hazard: tuple[Hazard, ...] = ()
    power_tools: PowerTools | None = None
    """None: what the outline says."""
    hardware: tuple[Hardware, ...] = ()
    together: tuple[Together, ...] = ()
    stack: tuple[Stack, ...] = ()
    limit: tuple[Limit, ...] = ()
    check: tuple[Check, ...] = ()
    note: tuple[str, ...] = ()

    @property
    def cautions(self) -> tuple[str, ...]:
        """All that is to be heeded before the step: its own cautions and those of its hazards."""
        return tuple(dict.fromkeys([*self.caution, *(hazard.caution for hazard in self.hazard)]))


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
    power_tools: PowerTools = "any"
    """Where power tools may be used; a step may say otherwise."""
    stage: tuple[Stage, ...]
    part: tuple[Part, ...] = ()
    place: tuple[Term, ...] = ()
    qualifier: tuple[Term, ...] = ()
    pronounce: dict[str, tuple[str, ...]] = {}

    def steps(self) -> Iterator[Step]:
        """Yield the steps in order."""
        for stage in self.stage:
            yield from stage.step

    def called(self, aliases: Iterable[StepAlias]) -> Outline:
        """Give the outline with the user's names of its steps; those of others are passed over."""
        own = [alias for alias in aliases if alias.outline == self.name]
        if not own:
            return self

        def renamed(step: Step) -> Step:
            more = (say for alias in own if alias.step == step.id for say in alias.say)
            return replace(step, say=tuple(dict.fromkeys([*step.say, *more])))

        stages = (replace(stage, step=tuple(map(renamed, stage.step))) for stage in self.stage)
        return replace(self, stage=tuple(stages))

    @cached_property
    def by_id(self) -> dict[str, Step]:
        """Map step id to step."""
        return {step.id: step for step in self.steps()}

    @cached_property
    def kind_of(self) -> dict[str, StageKind]:
        """Map step id to the nature of its stage."""
        return {step.id: stage.kind for stage in self.stage for step in stage.step}

    @cached_property
    def hardware_at(self) -> dict[tuple[str, str, str | None], Hardware]:
        """Map (step id, part, place) to the hardware listed there, in order."""
        return {
            (step.id, item.part, item.place): item
            for step in self.steps()
            for item in step.hardware
        }

    @cached_property
    def builds(self) -> dict[str, tuple[str, ...]]:
        """Map the name of each place where builds differ to its options, in order."""
        found: dict[str, dict[str, None]] = {}
        for step in self.steps():
            for item in step.hardware:
                if item.build is not None:
                    found.setdefault(item.build, {})[item.build_option] = None
        return {name: tuple(options) for name, options in found.items()}
