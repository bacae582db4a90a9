"""What is of the parts named before: the rest, the other one, so many of so many or a side."""

from __future__ import annotations

from benchvoice.language import ahead
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import Chunk
from benchvoice.language.draft import Draft

_WHICH_OF = frozenset({"stage", "speed", "pressure"})
_WHICH = frozenset(
    "inner outer upper lower front rear inboard outboard forward reverse input output drive driven "
    "primary secondary first second third high low left right top bottom".split()
)
"""First words of names that tell which of two or three it is."""

HELD = ("housing", "other")
"""Kinds of parts that fasteners hold."""


def on_out_of(work: Assembly, chunk: Chunk, at: int) -> None:
    """How many there are of what is counted next; of what was named before, or of what follows."""
    current = None if ahead.noun(work.chunks, at + 2) else work.current
    if current is not None and current.kind in HELD and not current.plural and not current.count:
        # "front cover off, eleven of twelve": of what holds it
        count, action = work.chunks[at + 1].value, current.action
        work.push(Draft(place=current.part, action=action, count=count, out_of=chunk.value))
        return
    behind = current is not None and current.count is None and current.bare()
    draft = work.waiting if current is None or not behind else current
    draft.out_of = chunk.value


def on_rest(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "two plates burnt, the rest are good": the same part, not counted.

    "Two burnt, rest ok" is of what was talked about before, and so is "the rest are ok".
    """
    if work.current is None and not work.waiting.empty():
        draft, work.waiting = work.waiting, Draft()
        work.push(draft)
    if work.current is not None:
        work.push_same(None)
    elif not ahead.predicate(work.chunks, at + 1):
        work.unused.append(chunk)


def on_other(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "Found the other ball" is one more; "other balls" are more of them, not counted."""
    current = work.current
    if work.negated and work.before == "not":
        return  # "no other damage"
    if chunk.value == "more":
        _on_more(work, chunk)
        return
    again = ahead.singular(work.chunks, at + 1)
    after = ahead.kind(work.chunks, at + 1)
    if after == "unknown":
        work.unused.append(chunk)  # "had another look"
        return
    if ahead.noun(work.chunks, at + 1) and not (again and work.waiting.count is None):
        return
    same = not again or work.chunks[at + 1].value.name == (current.part if current else None)
    if same and current is not None and current.part is not None and not current.plural:
        current.count = current.count or 1  # "front bearing rough, the other one good"
    if again:
        work.waiting.count, work.waiting.another = 1, True
    elif current is not None and current.part is not None:
        one_of_two = current.count == 1 and not (current.same or current.plural)
        work.push_same(
            work.chunks[at + 1].value if after == "count" else 1
        )  # "one seal torn, the other good"
        draft = work.drafts[-1]
        draft.another = True
        if one_of_two:
            draft.part = _less_which(current.part)
    elif ahead.predicate(work.chunks, at + 1 + (after == "count")):
        if work.waiting.told() and current is None:
            work.push_waiting()  # "six out, the other two are stuck"
        work.waiting.count, work.waiting.another = 1, True  # "the other one in"
    else:
        work.unused.append(chunk)


def _less_which(part: str) -> str:
    """The name of a part without which of two it is: beside an outer rotor is some rotor."""
    words = part.split()
    while len(words) > 1 and words[0] in _WHICH:
        del words[: 2 if words[1] in _WHICH_OF else 1]
    return " ".join(words) or part


def _on_more(work: Assembly, chunk: Chunk) -> None:
    """ "Two more in": so many beside those before; "more worn" counts nothing."""
    draft = work.waiting if work.waiting.count is not None else work.current
    if work.before == "count" and draft is not None and draft.count is not None:
        draft.another = True
    else:
        work.unused.append(chunk)


def on_each_side(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "Two shims each side" are four: a unit has two sides, and two ends (common practice)."""
    draft = work.current or work.waiting
    of_it = work.before in ("count", "noun") and draft.count is not None
    total = work.before == "count" and work.chunks[at - 1].value != draft.count
    if draft.count is not None and of_it and not total:
        draft.count *= 2
    elif draft.count is None:
        work.unused.append(chunk)  # "steel at each end"
