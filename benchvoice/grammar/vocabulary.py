"""The shape of a vocabulary file: the trade's words, as values.

Each kind of term below is an array of tables in a TOML file of the pack
(`[[part]]`, `[[place]]` and so on); a file may hold several kinds, and an
outline may hold them too.  Loading is in `load.py`.
"""

from __future__ import annotations

import re
from typing import Annotated, Literal

import msgspec

PartKind = Literal[
    "fastener", "seal", "plate", "bearing", "gear", "shaft", "spring", "housing", "fluid", "other"
]
Dimension = Literal["length", "torque", "pressure", "temperature", "force", "angle", "volume"]
Weight = Annotated[float, msgspec.Meta(ge=0, le=1000)]
"""How often something comes up in generated sentences, against the usual 1."""
Finite = Annotated[float, msgspec.Meta(ge=-1e9, le=1e9)]
"""A figure to reckon with; TOML has nan and inf, which no comparison would ever notice."""

_SPOKEN = re.compile(r"[a-z']+( [a-z']+)*")


def is_spoken(words: str) -> bool:
    """Whether words are written as they are spoken: lower-case letters and single spaces.

    >>> is_spoken("o ring"), is_spoken("M8 bolt")
    (True, False)
    """
    return _SPOKEN.fullmatch(words) is not None


class Entry(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of what a TOML table is read into; an unknown key is a mistake."""


class Term(Entry, frozen=True):
    """A word or phrase of the trade.

    `name` is canonical and always heard; `say` lists further ways to say it.
    """

    name: str
    say: tuple[str, ...] = ()
    weight: Weight = 1.0

    @property
    def ways(self) -> tuple[str, ...]:
        """All ways to say it, its name first."""
        return (self.name, *self.say)


class Part(Term, frozen=True):
    """A part; names are singular, plurals are made by rule unless `plural` gives them."""

    kind: PartKind = "other"
    plural: tuple[str, ...] = ()


class Condition(Term, frozen=True):
    """A state found on inspection; `sound` marks the good ones ("good", "within spec")."""

    sound: bool = False
    on: tuple[PartKind, ...] = ()
    """Kinds of parts it is typical of; empty for any.  Helps between words that sound alike."""


class Action(Term, frozen=True):
    """What was done to a part."""

    on: tuple[PartKind, ...] = ()
    """Kinds of parts that it is usually done to; empty for any, as of a condition."""


class Container(Term, frozen=True):
    """Where parts are put; `labelled` ones take a number or a label ("tray four")."""

    labelled: bool = True


class Quantity(Term, frozen=True):
    """Something measured; `units` are names of units it may be given in, the likely one first."""

    units: tuple[str, ...] = ()


class Unit(Term, frozen=True, kw_only=True):
    """A unit of measure.

    value_si = (value + offset) * factor, in `si` (mm, N m, kPa, degC, N, deg).
    """

    dimension: Dimension
    si: str
    factor: Finite
    offset: Finite = 0.0


class Tool(Term, frozen=True):
    """A tool; `power` marks those driven by air or a motor."""

    power: bool = False
    shows: str = ""
    """The condition that a check with it looks for."""


class Command(Term, frozen=True):
    """A hands-free command; `takes` says what follows it, if anything."""

    takes: Literal["", "step", "number", "words", "container", "part"] = ""


class Filler(Entry, frozen=True):
    """Words without meaning for the record ("okay so", "looks like we got")."""

    say: tuple[str, ...]


class Template(Entry, frozen=True):
    """A way of saying something, in hassil's template syntax, with its share of the talk.

    `{part}`, `{place}` and so on stand for terms; `{count}`, `{measure}`,
    `{size}`, `{step}` and the like are made by the generator.
    """

    say: str
    weight: Weight = 1.0


class StepAlias(Entry, frozen=True):
    """Further ways that a user calls a step of an outline."""

    outline: str
    step: str
    say: tuple[str, ...]


class VocabularyFile(Entry, frozen=True):
    """One TOML file of the pack."""

    part: tuple[Part, ...] = ()
    qualifier: tuple[Term, ...] = ()
    place: tuple[Term, ...] = ()
    side: tuple[Term, ...] = ()
    condition: tuple[Condition, ...] = ()
    action: tuple[Action, ...] = ()
    disposition: tuple[Term, ...] = ()
    container: tuple[Container, ...] = ()
    quantity: tuple[Quantity, ...] = ()
    unit: tuple[Unit, ...] = ()
    command: tuple[Command, ...] = ()
    feature: tuple[Term, ...] = ()
    """What of a part faces somewhere ("lip", "tabs", "open side")."""
    direction: tuple[Term, ...] = ()
    """Where it faces ("up", "inward", "toward"); those ending in "toward" take a part or place."""
    mark: tuple[Term, ...] = ()
    tool: tuple[Tool, ...] = ()
    group: tuple[Term, ...] = ()
    """Ways of staying together ("as a set", "matched pair")."""
    relative: tuple[Term, ...] = ()
    """Sizes by comparison ("short", "long")."""
    correction: tuple[Filler, ...] = ()
    """Words that take back what was just said ("no make that")."""
    negation: tuple[Filler, ...] = ()
    filler: tuple[Filler, ...] = ()
    template: tuple[Template, ...] = ()
    typed: dict[str, str] = {}
    """What is typed short to the words it stands for: brg = "bearing"."""
    pronounce: dict[str, tuple[str, ...]] = {}
    """Word to ARPAbet pronunciations, for words the engine's dictionary lacks or has wrong."""
    alias: tuple[StepAlias, ...] = ()
