"""A "too" after a part says of it what was found on the one before it.

"Front seal hard, rear one too"; "bolts too long" is another too.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk

_TOO = (["too"], ["as", "well"], ["also"])
_SMALL = frozenset({"be", "it", "all"})
_NAMING = frozenset({"noun", "which"})


def same_too(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """Put a "same" before each part that only a "too" is told of."""
    for at, one in enumerate(chunks):
        last = ahead.kind(chunks, at - 1 - (ahead.kind(chunks, at - 1) == "article"))
        after_state = last == "conj" and any(c.kind == "condition" for c in chunks[:at])
        if one.kind in _NAMING and after_state and _only_too(chunks, at, tokens):
            yield Chunk("same", "too", one.start, one.start)
        yield one


def _only_too(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether nothing but a "too" is told of a part to the end of its clause."""
    end = at + 1
    while ahead.kind(chunks, end) in _SMALL:
        end += 1
    start = chunks[end - 1].end
    if end < len(chunks) and tokens[chunks[end].start] == "also":
        return ahead.kind(chunks, end + 1) in ("", "conj")
    told = list(tokens[start : ahead.token(chunks, end, tokens)])
    return ahead.kind(chunks, end) in ("", "conj") and told in _TOO
