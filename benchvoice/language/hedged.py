"""What only may be so, or only looks so: "maybe cracked", "looks cracked but it is just dirt".

A state that may be is left over; what may be done with a part ("might be reusable") is still to be
decided.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.passes import stray

_MAYBE = frozenset("maybe might may could possibly perhaps hopefully would".split())
_SEEN = frozenset("not see feel hear get say".split())
"""Words after a "could" or "would" that make it no doubt: "could see a crack"."""
_THOUGHT = frozenset("probably think guess reckon should".split())
"""What is thought to be reusable is still to be decided; what is thought to be worn is worn."""
_MEANT = frozenset("think guess reckon reuse keep save use".split())
"""Words for what is meant to be done, if both are said: "i guess reuse them"."""
_TOLD = frozenset({"condition", "disposition", "action", "container"})
_SAID = frozenset({"condition", "disposition", "action"})
_NUMBERS = frozenset({"count", "reading"})
_LOOKS = frozenset("look looks looked seem seems seemed appears appeared thought".split())
_JUST = frozenset("just only merely simply".split())
_IT_IS = frozenset("it they that is was are were".split())
_LINKING = frozenset({"article", "be", "it", "word", "unknown", "stray"})
_ABOUT = frozenset({"about", "roughly", "around"})
"""Words right before what was not counted; a value about right is a value."""
_NEAR = 2
"""So many words before a number may a doubt of it stand: "maybe eight", "could be eight"."""


def _seeming(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Looks torn but it is ok", "scored but it is just dirt": not sure to be torn or scored."""
    for at, one in enumerate(chunks):
        yield stray(one) if one.kind == "condition" and _set_right(chunks, at, tokens) else one


def _set_right(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    if ahead.kind(chunks, at + 1) != "conj" or chunks[at + 1].value != "but":
        return False
    after = at + 2
    while ahead.kind(chunks, after) in _LINKING:
        after += 1
    if ahead.kind(chunks, after) != "condition":
        return False
    between = set(tokens[chunks[at + 1].end : chunks[after].start])
    before = tokens[_clause_start(chunks, at) : chunks[at].start]
    seems = not (_LOOKS.isdisjoint(before) and _JUST.isdisjoint(between))
    return seems and len(between & _IT_IS) > 1


def _maybe(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """Leave over the states and numbers that may be so; dispositions that may be are undecided."""
    for at, one in enumerate(chunks):
        words = _doubts(chunks, at, tokens) if one.kind in _SAID else frozenset()
        if one.kind == "disposition" and words:
            open_yet = one.value == "reuse" and not {*words, tokens[one.start]} <= _MEANT
            yield one._replace(value="decide") if open_yet or words & _MAYBE else one
        elif words & (_MAYBE | {"should"}) or (one.kind in _NUMBERS and _near(chunks, at, tokens)):
            yield stray(one)
        elif one.kind in ("unknown", "stray") and tokens[one.start] in _MAYBE | _THOUGHT:
            start, end = _clause_start(chunks, at), ahead.clause_end(chunks, at)
            told = {other.kind for other in chunks[:end] if other.start >= start}
            left = one if told.isdisjoint(_SAID) else stray(one)
            yield one._replace(kind="word") if "disposition" in told else left
        else:
            yield one


def _near(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether a number is guessed, and does not put another right: "eight maybe nine bolts"."""
    start = _clause_start(chunks, at)
    other = any(one.kind in _NUMBERS | {"doubt"} and one.start >= start for one in chunks[:at])
    near = tokens[max(start, chunks[at].start - _NEAR) : chunks[at].start]
    about = chunks[at].kind == "count" and not _ABOUT.isdisjoint(near[-1:])
    return about or not (other or _MAYBE.isdisjoint(near))


def _doubts(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> frozenset[str]:
    """Give the words of doubt that what is told at a position is told with, before it or after."""
    one, start = chunks[at], _clause_start(chunks, at)
    told = [other for other in chunks[:at] if other.kind in _TOLD and other.start >= start]
    stretches = [(told[-1].end if told else start, one.start)]
    end = ahead.clause_end(chunks, at)
    if not any(other.kind in _TOLD for other in chunks[at + 1 : end]):
        stretches.append((one.end, ahead.token(chunks, end, tokens)))  # "reusable i think"
    return frozenset(
        tokens[place]
        for first, last in stretches
        for place in range(first, last)
        if tokens[place] in _MAYBE | _THOUGHT
        and not (
            tokens[place] in ("could", "would") and not _SEEN.isdisjoint(tokens[place + 1 :][:1])
        )
    )


def _clause_start(chunks: Sequence[Chunk], at: int) -> int:
    """Give the token that the clause of a chunk begins with."""
    return next((one.end for one in reversed(chunks[:at]) if one.kind == "conj"), 0)


HEDGED = (_seeming, _maybe)
"""Passes that leave over what only may be so, and decide later on what only may be done."""
