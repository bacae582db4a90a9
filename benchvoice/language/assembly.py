"""The state of putting chunks together: the findings so far and what is still waiting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from benchvoice.language.chunks import PLACED, Chunk
from benchvoice.language.draft import Draft, make_measure
from benchvoice.remark import Ambiguity, Size


@dataclass(slots=True)
class Assembly:
    """The state of the pass.

    `current` is the finding that is being talked about, `waiting` holds what
    was said before its noun, `forward` an action or disposition that goes to
    each noun of a list after it, `shared` the list that is talked about as one,
    `before` the kind of the last chunk, `headless` what was counted and still has no noun.
    """

    chunks: Sequence[Chunk]
    drafts: list[Draft] = field(default_factory=list)
    waiting: Draft = field(default_factory=Draft)
    current: Draft | None = None
    headless: list[Draft] = field(default_factory=list)
    forward: tuple[str, str] | None = None
    negated: bool = False
    everything: bool = False
    joined: bool = False
    again: bool = False
    shared: list[Draft] = field(default_factory=list)
    reading: Chunk | None = None
    before: str = ""
    said: str = ""
    unused: list[Chunk] = field(default_factory=list)
    ambiguous: list[Ambiguity] = field(default_factory=list)
    measured: bool = False

    def push(self, draft: Draft) -> None:
        """Make a draft the one that is being talked about."""
        self.drafts.append(draft)
        self.current = draft
        self.shared = []
        self.joined = False

    def push_same(self, count: int | None) -> None:
        """Go on with some other of the same part."""
        assert self.current is not None
        joined = self.joined
        part, kind = self.current.part, self.current.kind
        self.push(Draft(part=part, kind=kind, count=count, joined=joined, same=True))

    def push_waiting(self) -> None:
        """Make what was said of no part yet a finding that is whole."""
        draft, self.waiting = self.waiting, Draft()
        self.push(draft)
        self.current = None

    def targets(self, *, counted: bool = False) -> list[Draft]:
        """The findings that what is said now is about.

        With `counted`, also what was counted right before and has nothing of
        its own: "eight bolts eight washers off the pump cover".
        """
        if self.current is None:
            return [self.waiting]
        if self.waiting.count is not None:
            draft, self.waiting = self.waiting, Draft()
            draft.part, draft.kind = self.current.part, self.current.kind
            draft.same = True
            self.push(draft)
        if self.everything:
            return list(self.drafts)
        if self.shared:
            return self.shared
        chain = [self.current]
        if self.current.bare() and (self.current.joined or (counted and self.current.count)):
            for draft in reversed(self.drafts[:-1]):
                if not draft.bare() or draft.part is None or draft.apart:
                    break  # "dowels to come out, bolts off"
                if not (self.current.joined or draft.count):
                    break
                chain.append(draft)
            self.shared = chain if len(chain) > 1 else []
        return chain

    def listed(self) -> list[Draft]:
        """What is said now is about, with all that was joined to it and has no container."""
        drafts = self.targets(counted=True)
        for place in range(len(self.drafts) - 1, 0, -1):
            draft, before = self.drafts[place], self.drafts[place - 1]
            if not draft.joined or before.container or before.apart:
                break
            if draft.after_comma and before.action and not draft.action:
                break  # "impeller off, key in bag two"
            if self.drafts[place - 1] not in drafts:
                drafts.append(self.drafts[place - 1])
        return drafts

    def set_place(self, place: str, *, removing: bool = False) -> None:
        """Say where what is being talked about is, or came from."""
        for draft in self.targets(counted=removing):
            if place in {f"{prep} {draft.part}" for prep in PLACED}:
                continue  # "seven bolts, washers under each bolt"
            if draft.place is None:
                draft.place = place
            elif place not in draft.place:
                draft.place = f"{draft.place} {place}"
            draft.placed = draft.part is not None
            if removing and draft.action is None and draft.measure is None:
                draft.action = "removed"

    def size(self, at: int, size: Size) -> None:
        """Say the size of what is being talked about; "one bolt is longer" is no bolt more."""
        draft = self.current or self.waiting
        draft.add_size(size)
        told = at > 0 and self.chunks[at - 1].kind == "be"
        if told and draft.count == 1 and draft.kind == "fastener" and draft.action is None:
            draft.count, draft.some = None, 1

    def measure(self, quantity: str, chunk: Chunk) -> None:
        """Make a reading the measure of what is being talked about."""
        self.reading = None
        draft = self.current
        if chunk.value.unit.name == "deg" and "temperature" in quantity:
            self._doubt_degrees(chunk)
            return
        if quantity == "height" and draft is not None and draft.kind == "spring":
            quantity = "spring height"
        if draft is None or draft.measure is not None:
            draft, self.waiting = self.waiting, Draft()
            self.push(draft)
        draft.quantity = quantity
        draft.measure = make_measure(quantity, chunk.value)

    def _doubt_degrees(self, chunk: Chunk) -> None:
        """Degrees of temperature alone may be either scale."""
        value = f"{chunk.value.value:g}"
        readings = f"{value} degF", f"{value} degC"
        self.ambiguous.append(Ambiguity(text=f"{value} degrees", readings=readings))
        self.unused.append(chunk)

    def close(self) -> None:
        """Settle what is still open at the end of the remark."""
        if not self.waiting.empty():
            self.push(self.waiting)
        elif self.waiting.count is not None:
            self.unused += [c for c in self.chunks if c.value == self.waiting.count][-1:]
        if self.reading is not None and not self._wear(self.reading):
            self.unused.append(self.reading)
        counts = [draft.count for draft in self.headless]
        self.unused += [c for c in self.chunks if c.kind == "count" and c.value in counts]
        for first, second in zip(self.drafts, self.drafts[1:], strict=False):
            shares = second.joined and second.bare() and not (second.odd or second.apart)
            if shares and first.action and not first.measure:
                second.action = first.action  # "snap ring out then the pressure plate"
        self._merge()
        self._drop_denied()
        for draft in self.drafts:
            if draft.measure and draft.part is None and draft.quantity != "torque":
                self._disown(draft)
            if draft.quantity and draft.measure is None:
                draft.placed = draft.place is not None
                self.unused += [
                    c for c in self.chunks if c.kind == "quantity" and c.value == draft.quantity
                ]
                draft.quantity = None

    def _wear(self, reading: Chunk) -> bool:
        """Take a length said with wear as how deep it is: "wear on the wheel is 0.5 mm"."""
        for draft in self.drafts:
            unit = reading.value.unit
            worn = "worn" in draft.conditions and draft.measure is None and draft.quantity is None
            if worn and unit is not None and unit.dimension == "length":
                draft.measure = make_measure("wear depth", reading.value)
                self.measured = True
                return True
        return False

    def _merge(self) -> None:
        """Put together what was said of one part that was named twice in a row."""
        at = 1
        while at < len(self.drafts):
            last, draft = self.drafts[at - 1], self.drafts[at]
            if draft.part is not None and last.takes(draft):
                last.take(draft)
                del self.drafts[at]
            elif _names_better(last, draft):
                last.part = draft.part
                del self.drafts[at]
            else:
                at += 1

    def _drop_denied(self) -> None:
        """Drop what was only said not to be there: "no gasket" is no gasket."""
        for draft in [draft for draft in self.drafts if draft.denied]:
            self.drafts.remove(draft)
            self.unused += [
                c for c in self.chunks if c.kind == "noun" and c.value.name == draft.part
            ]

    def _disown(self, draft: Draft) -> None:
        """Take a count from a measured value of no part: it counts nothing."""
        if draft.count is not None:
            self.unused += [c for c in self.chunks if c.kind == "count" and c.value == draft.count]
            draft.count = None

    def add_stack(self, names: tuple[str, ...]) -> None:
        """Add an order of parts as a finding of its own."""
        draft, self.waiting = self.waiting, Draft()
        draft.stack, draft.count, draft.ordinal = names, None, None
        self.push(draft)
        self.before = "noun"

    def passed(self, kind: str) -> None:
        """Remember the kind of the chunk just handled."""
        if kind != "article":
            self.before = kind
        if kind not in ("conj", "it", "word"):
            self.said = kind


def _names_better(last: Draft, draft: Draft) -> bool:
    """ "hard seal that output seal": the second only says which."""
    if draft.part is None or last.part is None or draft.joined or not draft.bare():
        return False
    named = draft.part.endswith(" " + last.part) and not last.bare()
    return named and draft.count is None and draft.place is None and draft.size is None
