"""What is being edited: one immutable value for each thing that can be open over the list.

A panel with a `label` has a line of text typed at the bottom; `text` is what
is in it.  What follows from the text (`event`, `changes`, ...) is worked out
when the text changes, so that drawing only reads.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from benchvoice.follow import State, StepEvent
from benchvoice.remark import Finding
from benchvoice.session import Entry


@dataclass(frozen=True, kw_only=True)
class Panel:
    """Base of the panels; `refused` says why the last Enter was not taken.

    `offered` are words that could end the one being typed.
    """

    label: ClassVar[str] = ""
    """What the typed line is, as a prompt; empty when nothing is typed."""
    large: ClassVar[bool] = False
    """Whether it takes the place of the list as well."""
    completes: ClassVar[bool] = True
    """Whether words of the vocabulary are offered."""
    text: str = ""
    refused: str = ""
    offered: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Search(Panel):
    """Entries looked for; `before` is what was looked for before, for Esc."""

    label: ClassVar[str] = "search"
    completes: ClassVar[bool] = False
    before: str = ""


@dataclass(frozen=True, kw_only=True)
class Retype(Panel):
    """The words of an entry typed anew; `event` is what they make of it in `state`."""

    label: ClassVar[str] = "remark"
    entry: Entry
    state: State
    event: StepEvent


@dataclass(frozen=True, kw_only=True)
class Insert(Panel):
    """A remark that was forgotten, put in after `entry`, at `at` seconds of its sitting."""

    label: ClassVar[str] = "new remark"
    entry: Entry
    state: State
    at: float
    event: StepEvent | None = None


@dataclass(frozen=True, kw_only=True)
class Split(Panel):
    """An entry cut in pieces, where "/" stands in the text."""

    label: ClassVar[str] = "cut at /"
    entry: Entry
    state: State
    events: tuple[StepEvent, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Times(Panel):
    """When an entry was said, from the beginning of its sitting."""

    label: ClassVar[str] = "time h:mm:ss"
    completes: ClassVar[bool] = False
    entry: Entry


@dataclass(frozen=True, kw_only=True)
class Form(Panel):
    """The findings of an entry as a form: finding `which`, field `at`, its value in `text`."""

    label: ClassVar[str] = "value"
    large: ClassVar[bool] = True
    entry: Entry
    findings: tuple[Finding, ...]
    which: int = 0
    at: int = 0

    @property
    def finding(self) -> Finding:
        """The finding shown."""
        return self.findings[self.which]


class StepChoice(NamedTuple):
    """A step to choose: its id, its title, and its stage's."""

    id: str
    title: str
    stage: str


@dataclass(frozen=True, kw_only=True)
class StepPick(Panel):
    """Entries to be moved to a step, chosen from a list that typing makes shorter."""

    label: ClassVar[str] = "step"
    completes: ClassVar[bool] = False
    large: ClassVar[bool] = True
    entries: tuple[Entry, ...]
    choices: tuple[StepChoice, ...]
    at: int = 0

    @property
    def chosen(self) -> StepChoice | None:
        """The step under the cursor."""
        return self.choices[self.at] if self.at < len(self.choices) else None


@dataclass(frozen=True, kw_only=True)
class TextPick(Panel):
    """What the engine heard, the likeliest first, and what each would mean; one may be chosen."""

    large: ClassVar[bool] = True
    entry: Entry
    events: tuple[StepEvent, ...]
    at: int = 0


def which(seqs: Sequence[int]) -> str:
    """Name one entry by its number, more by how many they are.

    >>> which([7]), which([7, 9])
    ('entry 7', '2 entries')
    """
    return f"entry {seqs[0]}" if len(seqs) == 1 else f"{len(seqs)} entries"


class BulkChange(NamedTuple):
    """An entry, and its findings as they would be."""

    entry: Entry
    findings: tuple[Finding, ...]


@dataclass(frozen=True, kw_only=True)
class Bulk(Panel):
    """The same change to many entries; `words` says which those are.

    `note` says how the change is understood, or why it is not.
    """

    label: ClassVar[str] = "for all"
    large: ClassVar[bool] = True
    words: str
    entries: tuple[Entry, ...]
    changes: tuple[BulkChange, ...] = ()
    note: str = ""


@dataclass(frozen=True, kw_only=True)
class Help(Panel):
    """All keys; `top` is the first line shown, `last` the furthest that it goes."""

    large: ClassVar[bool] = True
    top: int = 0
    last: int = 0
