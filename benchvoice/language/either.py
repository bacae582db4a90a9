"""What is so or else is not known: "scored or pitted" is neither, and both words are left over.

After a "no" it is a list: "no cracks or pitting".  Numbers with an "or" between them are in
`doubt.py`.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.passes import left_over

OR = "or"
_TOLD = frozenset({"condition", "action", "disposition", "container", "place", "side", "reading"})
"""What is told of a part that was named before it."""
_SMALL = frozenset({"article", "be", "it", "word", "not"})
_LISTED = frozenset({"condition", "conj", "article", "word", "noun", "not"})
"""What a list after a "no" is made of."""


def is_or(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether an "or" stands at a position."""
    return ahead.kind(chunks, at) == "word" and chunks[at].value == OR


def either(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Sequence[Chunk]:
    """Leave over what is told with another way that it may be; what it is told of is kept."""
    result = list(chunks)
    if not any(one.value == OR for one in chunks):
        return result
    for at in range(len(result) - 1, -1, -1):
        if is_or(result, at):
            start, end = _open(result, at)
            if start < end:
                result[start:end] = [left_over(result[start].start, result[end - 1].end)]
    return [
        one._replace(kind="bound") if is_or(result, at) and _about(result, at) else one
        for at, one in enumerate(result)
    ]


def _open(chunks: Sequence[Chunk], at: int) -> tuple[int, int]:
    """Give where what is open begins and ends that has an "or" in it; the same if nothing is."""
    end = at + 1
    while ahead.kind(chunks, end) in _SMALL:
        end += 1
    if _denied(chunks, at):
        state = ahead.kind(chunks, end) == "condition" and not ahead.noun(chunks, end)
        return (at, at) if state else (at, ahead.clause_end(chunks, at + 1))
    start = at - 1
    while ahead.kind(chunks, start) in _SMALL | {"conj"}:
        start -= 1
    if start < 0 or _about(chunks, at):
        return at, at
    if ahead.kind(chunks, start) not in _TOLD:
        return _clause_start(chunks, at), ahead.clause_end(chunks, at + 1)
    while ahead.kind(chunks, start - 1) == "not":
        start -= 1
    told = ahead.kind(chunks, end) in _TOLD and not ahead.noun(chunks, end)
    return start, end + 1 if told else ahead.clause_end(chunks, at + 1)


def _about(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a reading is only about right: "ten thou or so"."""
    return ahead.kind(chunks, at - 1) == "reading" and ahead.kind(chunks, at + 1) in ("", "conj")


def _denied(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether it is in a list after a "no": "no cracks or pitting"."""
    at -= 1
    while ahead.kind(chunks, at) in _LISTED:
        if chunks[at].kind == "not":
            return True
        at -= 1
    return False


def _clause_start(chunks: Sequence[Chunk], at: int) -> int:
    while at > 0 and (ahead.kind(chunks, at - 1) != "conj" or is_or(chunks, at)):
        at -= 1
    return at
