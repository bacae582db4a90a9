"""The hardware ledger as values: what came off, what became of it, where it is."""

from __future__ import annotations

from benchvoice.follow.wording import parts_text
from benchvoice.remark import Frozen

NEW = frozenset({"replace", "discard", "order"})
"""Dispositions with which a new one goes in."""


class LengthLine(Frozen, frozen=True, kw_only=True):
    """One of several lengths of the same fastener; `said` of them were said, `where` they belong.

    `said` is None when no number was said with this length.  `found` are the holes that it was
    said to have come out of, None when that was not said.
    """

    length: str
    expected: int
    where: str
    said: int | None = None
    found: str | None = None


class LedgerLine(Frozen, frozen=True, kw_only=True):
    """All that is known of one part at one place, in the step that it comes from.

    `expected` is None for what the outline does not list.  `off` is what came
    off, `found` what was found of it on inspection, `back` what has gone back
    in; each is None when no number was said (`came_off` and `went_back` tell
    whether it was said at all).  `odd` says what is not as the outline has it.
    """

    step: str
    part: str
    place: str | None = None
    expected: int | None = None
    off: int | None = None
    came_off: bool = False
    found: int | None = None
    back: int | None = None
    went_back: bool = False
    lengths: tuple[LengthLine, ...] = ()
    sizes: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()
    containers: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    dispositions: tuple[str, ...] = ()
    """In the order said; the last one counts."""
    not_which: bool = False
    """Whether the last was said of what several lines are as like: which of them was not said."""
    decided: int | None = 0
    """How many the last was said of; None for all, 0 for those that something was found of."""
    again: bool = False
    """Whether the one that was put in is to be renewed once more."""
    orientation: tuple[str, ...] = ()
    """How it sat; `orientation_back` is how it was said to go in."""
    orientation_back: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()
    groups: tuple[str, ...] = ()
    """What it stays together with: as said ("set"), and the outline's names of sub-assemblies."""
    always_replace: bool = False
    inspect: str | None = None
    either_way: bool = False
    mark_to_make: str | None = None
    build: str | None = None
    note: str | None = None

    @property
    def key(self) -> tuple[str, str, str | None]:
        """Step, part and place, which no two lines share."""
        return self.step, self.part, self.place

    @property
    def disposition(self) -> str | None:
        """What shall happen to it, as last said."""
        return self.dispositions[-1] if self.dispositions else None

    @property
    def came(self) -> int | None:
        """What has to go back in: what came off, else what the outline expects."""
        return self.off if self.off is not None else self.expected

    @property
    def goes_in(self) -> int | None:
        """How many have to go in: of what fewer came off than the outline has, as many as that.

        One was lost, or missing before: a hole left empty is no hole filled.
        """
        fewer = None not in (self.off, self.expected) and (self.off or 0) < (self.expected or 0)
        return self.expected if fewer else self.came

    @property
    def is_out(self) -> bool:
        """Whether it came off and is not, or not all, back in; what is renewed again is not."""
        if self.again:
            return True
        if not self.came_off or (self.went_back and self.back is None):
            return self.came_off and not self.went_back
        return not self.went_back or (self.came is not None and (self.back or 0) < self.came)

    @property
    def wants_new(self) -> bool:
        """Whether a new one has to go in though nobody said that the old one came off."""
        return self.is_new and not (self.came_off or self.went_back)

    @property
    def differs(self) -> bool:
        """Whether more or fewer went back in than have to."""
        return None not in (self.back, self.goes_in) and self.back != self.goes_in

    @property
    def left(self) -> int | None:
        """How many of it are still out; None when no number was said."""
        if not self.is_out:
            return 0
        return None if self.came is None else max(0, self.came - (self.back or 0))

    @property
    def is_new(self) -> bool:
        """Whether a new one goes back in: always replaced, or said to be replaced."""
        said = self.disposition in NEW
        return said or (self.always_replace and self.disposition != "reuse")

    @property
    def some_found(self) -> int | None:
        """How many something was found of, when that is not all of them."""
        decided = self.decided if self.disposition else 0
        if self.found is None or decided is None or self.came is None:
            return None
        return self.found if max(self.found, decided) < self.came else None

    @property
    def text(self) -> str:
        """What came off, in words: "12 bolts, front cover"."""
        place = f", {self.place}" if self.place else ""
        return f"{parts_text(self.part, self.came)}{place}"


class Contained(Frozen, frozen=True, kw_only=True):
    """What was put into a container; `count` is None when no number was said with it."""

    step: str
    part: str
    place: str | None = None
    count: int | None = None

    @property
    def text(self) -> str:
        """In words: "12 bolts, front cover"."""
        place = f", {self.place}" if self.place else ""
        return f"{parts_text(self.part, self.count)}{place}"


class Container(Frozen, frozen=True, kw_only=True):
    """A tray, bag or box, and what was last said to be in it."""

    label: str
    items: tuple[Contained, ...]


class StackLine(Frozen, frozen=True, kw_only=True):
    """A stack as it was said to come off; `order` is empty when it was not said.

    `name`, `first` and `last` are the outline's, None for one that it does not list.
    """

    step: str
    order: tuple[str, ...] = ()
    name: str | None = None
    place: str | None = None
    first: str | None = None
    last: str | None = None
    note: str | None = None


class TogetherLine(Frozen, frozen=True, kw_only=True):
    """A sub-assembly of the outline whose pieces stay together."""

    step: str
    name: str
    parts: tuple[str, ...]
    why: str | None = None


class BuildLine(Frozen, frozen=True, kw_only=True):
    """A place where builds differ: its options, and those said (one, when it is settled)."""

    name: str
    steps: tuple[str, ...]
    options: tuple[str, ...]
    said: tuple[str, ...] = ()

    @property
    def settled(self) -> str | None:
        """The option that it is; None while none or more than one was said."""
        return self.said[0] if len(self.said) == 1 else None


class Ledger(Frozen, frozen=True, kw_only=True):
    """The hardware of a job: lines in the outline's order, then what it does not list as said."""

    lines: tuple[LedgerLine, ...] = ()
    containers: tuple[Container, ...] = ()
    stacks: tuple[StackLine, ...] = ()
    together: tuple[TogetherLine, ...] = ()
    builds: tuple[BuildLine, ...] = ()
    stripped: tuple[str, ...] = ()
    """Ids of the steps that something came off in, in the order that it did."""

    @property
    def out(self) -> tuple[LedgerLine, ...]:
        """What came off and is not, or not all, back in."""
        return tuple(line for line in self.lines if line.is_out)

    def of_step(self, step: str) -> tuple[LedgerLine, ...]:
        """Give the lines of one step."""
        return tuple(line for line in self.lines if line.step == step)
