"""Chunks put together into findings: which word belongs to which part.

One pass from left to right.  A noun opens a finding; what follows belongs to
it until the next noun; what comes before the first noun waits for it.  Things
joined by "and" that have nothing of their own share what is said last.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from benchvoice.language import ahead
from benchvoice.language.chunks import REMOVING, Chunk, Noun
from benchvoice.language.draft import Draft, make_measure
from benchvoice.language.sizes import Reading, amount_of
from benchvoice.remark import Ambiguity, Finding, Size

_DEFAULT_QUANTITY = {"pressure": "pressure", "torque": "torque", "temperature": "temperature"}
_SAID_OF = frozenset(
    {"condition", "action", "disposition", "container", "place", "side", "reading"}
)


@dataclass(slots=True)
class Assembled:
    """What came of a remark; `unused` are chunks that found no home."""

    findings: tuple[Finding, ...]
    unused: list[Chunk]
    ambiguous: tuple[Ambiguity, ...]


def assemble(chunks: Sequence[Chunk]) -> Assembled:
    """Give the findings of a remark."""
    work = _Assembler(chunks)
    at = 0
    while at < len(chunks):
        stack = ahead.stack(chunks, at)
        if stack is not None:
            work.add_stack(stack[0])
            at = stack[1]
            continue
        chunk = chunks[at]
        handler = _HANDLERS.get(chunk.kind)
        if handler is not None:
            handler(work, chunk, at)
        if chunk.kind != "article":
            work.before = chunk.kind
        if chunk.kind not in ("conj", "it", "word"):
            work.said = chunk.kind
        at += 1
    work.close()
    findings = [draft.finish() for draft in work.drafts if not draft.empty()]
    said_once = tuple(dict.fromkeys(findings))
    return Assembled(said_once, work.unused, tuple(work.ambiguous))


@dataclass(slots=True)
class _Assembler:
    """The state of the pass.

    `current` is the finding that is being talked about, `waiting` holds what
    was said before its noun, `forward` an action or disposition that goes to
    each noun of a list after it, `before` the kind of the last chunk.
    """

    chunks: Sequence[Chunk]
    drafts: list[Draft] = field(default_factory=list)
    waiting: Draft = field(default_factory=Draft)
    current: Draft | None = None
    forward: tuple[str, str] | None = None
    negated: bool = False
    everything: bool = False
    joined: bool = False
    again: bool = False
    reading: Chunk | None = None
    before: str = ""
    said: str = ""
    unused: list[Chunk] = field(default_factory=list)
    ambiguous: list[Ambiguity] = field(default_factory=list)

    # what opens a finding

    def on_count(self, chunk: Chunk, at: int) -> None:
        current = self.current
        if self.before == "not":
            self.negated = False  # "tray 3, not 4"
            return
        if ahead.noun(self.chunks, at + 1):
            if self._counts_current(chunk.value, at):
                return
            last = self.waiting.count
            if last is not None and chunk.value not in (last, last + 1):
                self.unused.append(chunk)  # neither said twice nor counting aloud
            self.waiting.count = chunk.value
        elif current is None or current.part is None:
            self.waiting.count = chunk.value
        elif current.count is None and (current.bare() or not ahead.predicate(self.chunks, at + 1)):
            current.count = chunk.value
        elif ahead.kind(self.chunks, at + 1) == "relative":
            self._push_same(chunk.value)  # "six short bolts and two long ones"
        elif current.count != chunk.value or not current.bare():
            if ahead.predicate(self.chunks, at + 1):
                # "eight bolts one cracked": one of the bolts
                self._push_same(chunk.value)
            else:
                self.unused.append(chunk)

    def _counts_current(self, count: int, at: int) -> bool:
        """ "bolts 8 washers 8", "bolts eleven pump cover": the count follows its noun."""
        current = self.current
        if current is None or not current.bare() or not current.plural:
            return False
        if current.count is None:
            after = self.chunks[at + 1]
            place = after.kind == "noun" and after.value.kind in ("place", "housing")
            if ahead.count_after_noun(self.chunks, at + 1) or (place and not after.value.plural):
                current.count = count
                return True
        return current.count == count and ahead.singular(self.chunks, at + 1)

    def _push_same(self, count: int | None) -> None:
        """Go on with some other of the same part."""
        assert self.current is not None
        joined = self.joined
        self.push(Draft(part=self.current.part, kind=self.current.kind, count=count))
        self.current.joined = joined

    def on_noun(self, chunk: Chunk, at: int) -> None:
        noun: Noun = chunk.value
        current = self.current
        if self._is_place_of_current(noun, at):
            self.set_place(noun.name)
        elif (
            current is not None
            and current.quantity
            and current.part is None
            and not (self.waiting.count or (self.joined and not self._after_comma(at)))
        ):
            self._fill(current, noun)  # "end play twelve thou input shaft"
        elif self._says_again(noun):
            assert current is not None
            self._fill(current, noun)
            current.count = self.waiting.count or current.count
            self.waiting = Draft()
        else:
            self._open(noun, at)

    def _open(self, noun: Noun, at: int) -> None:
        draft, self.waiting = self.waiting, Draft()
        if draft.measure is not None and draft.count is not None and draft.quantity != "torque":
            count, draft.count = draft.count, None
            self.push(draft)
            draft = Draft(count=count)
        self._fill(draft, noun)
        if ahead.all_before(self.chunks, at):
            draft.count = draft.count or ahead.both_before(self.chunks, at)
            self.everything = False
        draft.joined = self.joined
        self._take_heading(draft)
        if self.again and self.current is not None:
            draft.conditions = list(self.current.conditions)
            draft.disposition = draft.disposition or self.current.disposition
            self.again = False
        if self.forward is not None and getattr(draft, self.forward[0]) is None:
            setattr(draft, *self.forward)
        self.push(draft)

    @staticmethod
    def _fill(draft: Draft, noun: Noun) -> None:
        draft.part, draft.kind, draft.plural = noun.name, noun.kind, noun.plural
        draft.place = draft.place or noun.place
        draft.side = draft.side or noun.side
        if noun.relative is not None:
            draft.add_size(Size(relative=noun.relative))

    def _says_again(self, noun: Noun) -> bool:
        """ "bearing bearing out", "seal the inner lip seal": begun anew, not a second one."""
        current = self.current
        if current is None or current.part is None or not current.bare() or self.joined:
            return False
        if current.count is not None and self.waiting.count not in (None, current.count):
            return False
        return noun.name == current.part or noun.name.endswith(" " + current.part)

    def _take_heading(self, draft: Draft) -> None:
        """ "pump cover eight bolts": the first is where the second are."""
        last = self.current
        if last is None or not last.bare() or last.count is not None or draft.joined:
            return
        fits = last.kind in ("place", "housing") or draft.kind == "fastener"
        if fits and draft.count is not None and draft.place is None and not last.plural:
            self.drafts.remove(last)
            draft.place = last.part

    def _is_place_of_current(self, noun: Noun, at: int) -> bool:
        """A location said without a preposition: "eight bolts front", "4 bolts, side cover"."""
        current = self.current
        if noun.plural or self.waiting.count is not None or self.waiting.conditions:
            return False
        if current is None:
            return False
        if noun.kind == "place":
            return not self.joined or (self.before == "conj" and at == len(self.chunks) - 1)
        if current.kind != "fastener" or current.place is not None or noun.kind == "fastener":
            return False
        if self.joined and not self._after_comma(at):
            return False
        if ahead.kind(self.chunks, at + 1) == "action":
            return current.count is not None and noun.kind == "housing"  # "14 bolts pan off"
        free = self.before in ("noun", "size", "action", "count", "conj", "reading")
        lone = ahead.kind(self.chunks, at + 1) == "count" and not ahead.noun(self.chunks, at + 2)
        return free and (lone or ahead.kind(self.chunks, at + 1) in ("", "conj", "container"))

    def _after_comma(self, at: int) -> bool:
        return at > 0 and self.chunks[at - 1].kind == "conj" and self.chunks[at - 1].value == ","

    def push(self, draft: Draft) -> None:
        """Make a draft the one that is being talked about."""
        self.drafts.append(draft)
        self.current = draft
        self.joined = False

    def add_stack(self, names: tuple[str, ...]) -> None:
        """Add an order of parts as a finding of its own."""
        draft, self.waiting = self.waiting, Draft()
        draft.stack = names
        self.push(draft)
        self.before = "noun"

    # what is said of it

    def on_condition(self, chunk: Chunk, at: int) -> None:
        name = f"not {chunk.value}" if self.negated else chunk.value
        self.negated = self.negated and ahead.kind(self.chunks, at + 1) in (
            "conj",
            "condition",
            "not",
        )
        if self._adjective(at):
            self.waiting.conditions.append(name)
            return
        for draft in self.targets():
            if name not in draft.conditions:
                draft.conditions.append(name)

    def _adjective(self, at: int) -> bool:
        """Whether a condition stands before its noun ("one cracked seal")."""
        if ahead.kind(self.chunks, at + 1) != "noun" or self.current is None:
            return False
        if self.waiting.count is not None or self.waiting.conditions:
            return True
        if self.before in ("count", "conj", "ordinal", "relative", "all", "disposition", "action"):
            return True
        return self.chunks[at - 1].kind == "article" or bool(self.current.conditions)

    def on_attribute(self, chunk: Chunk, at: int) -> None:
        """An action, disposition, mark, tool, group: of what is before it, or of what follows."""
        name, value = chunk.kind, chunk.value
        if self.negated and self.before == "not":
            self.negated = False
            if (name, value) != ("disposition", "reuse"):
                self.unused.append(chunk)
                return
            value = "replace"
        leads = (
            self.current is None
            or self.before in _SAID_OF
            or self.before in ("conj", "orientation")
        )
        taken = self.current is not None and getattr(self.current, name) is not None
        if (leads or taken) and not self.everything and ahead.noun(self.chunks, at + 1):
            if name in ("action", "disposition"):
                self.forward = (name, value)
            setattr(self.waiting, name, value)
            return
        for draft in self.targets(counted=name == "action"):
            if getattr(draft, name) is None or name == "group":
                setattr(draft, name, value)
            elif name == "action" and draft.action == "measured":
                draft.action = value

    def on_container(self, chunk: Chunk, at: int) -> None:
        new = self.current is not None and self.current.container is not None
        if new and ahead.noun(self.chunks, at + 1):
            self.waiting.container = chunk.value
            return
        for draft in self.targets() if self.current is None else self._list():
            draft.container = draft.container or chunk.value

    def on_place(self, chunk: Chunk, at: int) -> None:
        place, preposition, noun = chunk.value
        if preposition == "for" and (self.current is None or self.current.part is None):
            self.on_noun(chunk._replace(value=noun), at)
            return
        if self._off_then_noun(at):
            assert self.current is not None
            self.current.action = "removed"
            self.before = "action"
            self.on_noun(chunk._replace(value=noun), at)
            return
        self.set_place(place, removing=preposition in REMOVING)

    def _off_then_noun(self, at: int) -> bool:
        """ "pump cover off gasket torn": not off the gasket."""
        current = self.current
        return (
            current is not None
            and self.chunks[at].value[1] in ("off", "out")
            and current.kind != "fastener"
            and current.part is not None
            and current.count is None
            and current.bare()
            and self.chunks[at].end - self.chunks[at].start
            == 1 + len(self.chunks[at].value[0].split())
            and ahead.kind(self.chunks, at + 1) == "condition"
        )

    def set_place(self, place: str, *, removing: bool = False) -> None:
        """Say where what is being talked about is, or came from."""
        for draft in self.targets(counted=removing):
            if draft.place is None:
                draft.place = place
            elif place not in draft.place:
                draft.place = f"{draft.place} {place}"
            draft.placed = draft.part is not None
            if removing and draft.action is None and draft.measure is None:
                draft.action = "removed"

    def on_side(self, chunk: Chunk, at: int) -> None:
        if self.before in ("conj", "count") and ahead.noun(self.chunks, at + 1):
            self.waiting.side = chunk.value
            return
        for draft in self.targets():
            draft.side = draft.side or chunk.value

    def on_orientation(self, chunk: Chunk, at: int) -> None:
        for draft in self.targets():
            draft.orientation = " ".join(filter(None, (draft.orientation, chunk.value)))

    def on_size(self, chunk: Chunk, at: int) -> None:
        """A size goes to the noun after it, unless it follows one."""
        current = self.current
        follows = ahead.noun(self.chunks, at + 1)
        if current is None or current.part is None or (follows and self.before != "noun"):
            self.waiting.add_size(chunk.value)
        else:
            current.add_size(chunk.value)

    def on_relative(self, chunk: Chunk, at: int) -> None:
        if chunk.value == "thick" and self.reading is not None:
            self.measure("thickness", self.reading)
            return
        self.on_size(chunk._replace(kind="size", value=Size(relative=chunk.value)), at)

    def on_ordinal(self, chunk: Chunk, at: int) -> None:
        if ahead.noun(self.chunks, at + 1):
            self.waiting.ordinal = chunk.value
        else:
            self.unused.append(chunk)

    def on_last(self, chunk: Chunk, at: int) -> None:
        self.on_ordinal(chunk._replace(value=-1), at)

    # readings

    def on_quantity(self, chunk: Chunk, at: int) -> None:
        if self.reading is not None:
            self.measure(chunk.value, self.reading)
            return
        draft = self.current
        if draft is None or draft.measure or draft.conditions or self.before == "conj":
            draft, self.waiting = self.waiting, Draft()
            self.push(draft)
        draft.quantity = chunk.value

    def on_reading(self, chunk: Chunk, at: int) -> None:
        reading: Reading = chunk.value
        current = self.current
        assert reading.unit is not None
        if current is not None and current.quantity and current.measure is None:
            self.measure(current.quantity, chunk)
        elif current is not None and current.measure is not None and self._same(current, reading):
            return
        elif reading.unit.dimension in _DEFAULT_QUANTITY and not ahead.quantity(
            self.chunks, at + 1
        ):
            self.measure(_DEFAULT_QUANTITY[reading.unit.dimension], chunk)
        elif self._is_length(current, reading) and not ahead.quantity(self.chunks, at + 1):
            assert current is not None and reading.fraction is not None
            current.add_size(Size(length=amount_of(reading.fraction, reading.unit.name)))
        else:
            if self.reading is not None:
                self.unused.append(self.reading)
            self.reading = chunk

    @staticmethod
    def _same(draft: Draft, reading: Reading) -> bool:
        assert draft.measure is not None and reading.unit is not None
        return (draft.measure.value, draft.measure.unit) == (reading.value, reading.unit.name)

    @staticmethod
    def _is_length(draft: Draft | None, reading: Reading) -> bool:
        assert reading.unit is not None
        return (
            draft is not None
            and draft.kind == "fastener"
            and reading.unit.name in ("in", "mm")
            and reading.high is None
            and (draft.size is None or draft.size.length is None)
        )

    def measure(self, quantity: str, chunk: Chunk) -> None:
        """Make a reading the measure of what is being talked about."""
        self.reading = None
        draft = self.current
        if quantity == "height" and draft is not None and draft.kind == "spring":
            quantity = "spring height"
        if draft is None or draft.measure is not None:
            draft, self.waiting = self.waiting, Draft()
            self.push(draft)
        draft.quantity = quantity
        draft.measure = make_measure(quantity, chunk.value)

    def on_ambiguous(self, chunk: Chunk, at: int) -> None:
        reading: Reading = chunk.value
        self.ambiguous.append(Ambiguity(text=reading.text, readings=reading.readings))
        self.unused.append(chunk)

    def on_bare_number(self, chunk: Chunk, at: int) -> None:
        """A fraction or decimal without a unit is never guessed."""
        if self.current is not None and self.current.quantity and not self.current.measure:
            value = f"{float(chunk.value.value):g}"
            self.ambiguous.append(Ambiguity(text=value, readings=(f"{value} in", f"{value} mm")))
        self.unused.append(chunk)

    # words that steer

    def on_article(self, chunk: Chunk, at: int) -> None:
        if chunk.value in ("a", "an") and ahead.noun(self.chunks, at + 1):
            self.waiting.count = self.waiting.count or 1

    def on_not(self, chunk: Chunk, at: int) -> None:
        self.negated = True

    def on_all(self, chunk: Chunk, at: int) -> None:
        """ "all replace" looks ahead to what is shared, "replace both" looks back."""
        said = self.said
        if said in ("disposition", "action", "container") and not ahead.noun(self.chunks, at + 1):
            value = next(c.value for c in reversed(self.chunks[:at]) if c.kind == said)
            for draft in self.drafts:
                setattr(draft, said, getattr(draft, said) or value)
        else:
            self.everything = True

    def on_rest(self, chunk: Chunk, at: int) -> None:
        """ "two plates burnt, the rest are good": the same part, not counted."""
        if self.current is not None and self.current.part is not None:
            self._push_same(None)
        else:
            self.unused.append(chunk)

    def on_same(self, chunk: Chunk, at: int) -> None:
        self.again = True

    def on_conj(self, chunk: Chunk, at: int) -> None:
        after = ahead.kind(self.chunks, at + 1)
        self.joined = ahead.noun(self.chunks, at + 1)
        if not self.joined or after in ("action", "disposition", "quantity"):
            self.forward = None

    def on_unknown(self, chunk: Chunk, at: int) -> None:
        self.unused.append(chunk)
        self.negated = False

    # where things go

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
            self.push(draft)
        if self.everything:
            return list(self.drafts)
        chain = [self.current]
        if self.current.bare() and (self.current.joined or (counted and self.current.count)):
            for draft in reversed(self.drafts[:-1]):
                if not draft.bare() or draft.part is None:
                    break
                if not (self.current.joined or draft.count):
                    break
                chain.append(draft)
        return chain

    def _list(self) -> list[Draft]:
        """What is said now is about, with all that was joined to it and has no container."""
        drafts = self.targets(counted=True)
        for place in range(len(self.drafts) - 1, 0, -1):
            if not self.drafts[place].joined or self.drafts[place - 1].container:
                break
            if self.drafts[place - 1] not in drafts:
                drafts.append(self.drafts[place - 1])
        return drafts

    def on_which(self, chunk: Chunk, at: int) -> None:
        """ "seal, hard, the front one": which of the seals."""
        if self.current is not None and self.current.part is not None:
            self.current.part = f"{chunk.value} {self.current.part}"
        else:
            self.unused.append(chunk)

    def close(self) -> None:
        """Settle what is still open at the end of the remark."""
        if not self.waiting.empty():
            self.push(self.waiting)
        elif self.waiting.count is not None:
            self.unused += [c for c in self.chunks if c.value == self.waiting.count][-1:]
        if self.reading is not None:
            self.unused.append(self.reading)
        for first, second in zip(self.drafts, self.drafts[1:], strict=False):
            if second.joined and second.bare() and first.action and not first.measure:
                second.action = first.action  # "snap ring out then the pressure plate"
        for draft in self.drafts:
            if draft.quantity and draft.measure is None:
                self.unused += [
                    c for c in self.chunks if c.kind == "quantity" and c.value == draft.quantity
                ]
                draft.quantity = None


_HANDLERS = {
    "count": _Assembler.on_count,
    "noun": _Assembler.on_noun,
    "condition": _Assembler.on_condition,
    **dict.fromkeys(("action", "disposition", "mark", "tool", "group"), _Assembler.on_attribute),
    "container": _Assembler.on_container,
    "place": _Assembler.on_place,
    "side": _Assembler.on_side,
    "orientation": _Assembler.on_orientation,
    "size": _Assembler.on_size,
    "relative": _Assembler.on_relative,
    "ordinal": _Assembler.on_ordinal,
    "last": _Assembler.on_last,
    "quantity": _Assembler.on_quantity,
    "reading": _Assembler.on_reading,
    "ambiguous": _Assembler.on_ambiguous,
    "bare number": _Assembler.on_bare_number,
    "article": _Assembler.on_article,
    "which": _Assembler.on_which,
    "not": _Assembler.on_not,
    "all": _Assembler.on_all,
    "same": _Assembler.on_same,
    "rest": _Assembler.on_rest,
    "conj": _Assembler.on_conj,
    "unknown": _Assembler.on_unknown,
}
