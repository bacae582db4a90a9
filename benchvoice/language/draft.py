"""Findings under construction."""

from __future__ import annotations

from dataclasses import dataclass, field

import msgspec

from benchvoice.language.sizes import Reading
from benchvoice.language.threads import head_note
from benchvoice.remark import ANOTHER, NEW, OUT_OF, Amount, Finding, Measure, Size

_ONCE = (
    *("size", "place", "action", "disposition", "container", "measure", "quantity"),
    *("side", "orientation", "mark", "tool", "group"),
)


@dataclass(slots=True)
class Draft:
    """A finding not finished yet; `joined` by "and" to the one before it."""

    part: str | None = None
    kind: str = ""
    count: int | None = None
    size: Size | None = None
    place: str | None = None
    conditions: list[str] = field(default_factory=list)
    action: str | None = None
    disposition: str | None = None
    container: str | None = None
    quantity: str | None = None
    measure: Measure | None = None
    side: str | None = None
    ordinal: int | None = None
    orientation: str | None = None
    stack: tuple[str, ...] = ()
    mark: str | None = None
    tool: str | None = None
    group: str | None = None
    plural: bool = False
    whole: bool = False
    """All of them were said."""
    joined: bool = False
    after_comma: bool = False
    denied: bool = False
    """Named after a "no" that no condition has taken up yet ("no gasket")."""
    odd: bool = False
    """Words that nobody knows were said of it: "pump off and cover still on"."""
    apart: bool = False
    """What is not so was said of it: it shares nothing with the next."""
    same: bool = False
    """Some other of the same part as the one before ("the rest")."""
    another: bool = False
    """One more of them ("the other one")."""
    new: bool = False
    some: int | None = None
    """How many of those counted before, when that is no count of its own."""
    out_of: int | None = None
    """How many there are of what is counted ("ten of sixteen")."""
    placed: bool = False
    """The place was said of it, not only in its name."""
    where: str | None = None
    """The word of its name that tells where it sits."""

    def bare(self) -> bool:
        """Whether nothing was said of the part yet but what, how many and whose it is."""
        return not (
            self.conditions
            or self.action
            or self.disposition
            or self.container
            or self.measure
            or self.quantity
            or self.placed
            or self.orientation
            or self.mark
            or self.tool
        )

    def told(self) -> bool:
        """Whether a state was told of what has no name yet, or what was done with so many."""
        return bool(self.conditions) or (self.count is not None and self.action is not None)

    def only_placed(self) -> bool:
        """Whether nothing was said of several but where they are."""
        if not (self.placed and self.plural):
            return False
        return not (self.conditions or self.action or self.disposition or self.container)

    def takes(self, other: Draft) -> bool:
        """Whether what was said of the same part, named again, belongs to this."""
        if other.part != self.part or other.same or other.joined or other.kind == "place":
            return False
        if other.count is not None or self.ordinal is not None or other.ordinal is not None:
            return False
        if self.count is not None and other.plural and (self.count == 1 or other.whole):
            return False  # "one plate burnt, replace the plates"
        if other.new and (self.action == "removed" or self.conditions):
            return False  # "old seal out, new seal in", "old seal hard new seal in"
        if self.new and other.conditions:
            return False
        if other.stack or self.stack or (self.conditions and other.conditions):
            return False
        return all(
            getattr(self, name) is None
            or getattr(other, name) is None
            or getattr(self, name) == getattr(other, name)
            for name in _ONCE
        )

    def take(self, other: Draft) -> None:
        """Take over what was said of the same part, named again."""
        self.conditions = self.conditions or other.conditions
        self.new |= other.new
        for name in _ONCE:
            setattr(self, name, getattr(self, name) or getattr(other, name))

    def empty(self) -> bool:
        """Whether this would be a finding of nothing (a lone number is nothing)."""
        return (
            self.part is None
            and self.bare()
            and self.size is None
            and not self.stack
            and self.group is None
            and self.side is None
            and (self.out_of is None or self.count is None)
        )

    def add_size(self, size: Size) -> None:
        """Merge what was said of the size."""
        if self.size is None:
            self.size = size
            return
        old, new = msgspec.structs.asdict(self.size), msgspec.structs.asdict(size)
        self.size = Size(**{name: new[name] or old[name] for name in old})

    def finish(self) -> Finding:
        """Give the finding."""
        action = self.action or ("measured" if self.measure else None)
        some = None if self.some is None else f"{self.some} of them"
        part_of = self.count is not None and self.out_of is not None and self.count < self.out_of
        out_of = f"{OUT_OF}{self.out_of}" if part_of else None
        head = head_note(self.size) if self.size else None
        new, another = NEW if self.new else None, ANOTHER if self.another else None
        return Finding(
            part=self.part,
            count=self.count,
            size=self.size,
            place=self.place,
            condition=self.conditions[0] if self.conditions else None,
            action=action,
            disposition=self.disposition,
            container=self.container,
            measure=self.measure,
            conditions=tuple(self.conditions) if len(self.conditions) > 1 else (),
            side=self.side,
            ordinal=self.ordinal,
            orientation=self.orientation,
            stack=self.stack,
            mark=self.mark,
            tool=self.tool,
            group=self.group,
            notes=tuple(note for note in (some, out_of, new, another, head) if note),
        )


def make_measure(quantity: str, reading: Reading) -> Measure:
    """Give the measure with its SI value: (value + offset) * factor of the unit."""
    unit = reading.unit
    assert unit is not None
    value = _plain(reading.value)
    si = round((reading.value + unit.offset) * unit.factor, 9)
    high = None if reading.high is None else _plain(reading.high)
    return Measure(
        quantity=quantity,
        value=value,
        unit=unit.name,
        high=high,
        si=Amount(value=si, unit=unit.si),
    )


def _plain(value: float) -> float:
    """Give a whole number as int, so that it is written 12 and not 12.0."""
    return int(value) if value == int(value) else value
