"""Small words that say a part went in, or only away: "the other two in", "put it in tray four"."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk

_BENCH = frozenset({"bench", "vice", "stand"})
_PUT = frozenset({"put", "goes", "went"})
_OTHERS = frozenset({"other", "rest"})
_NAMING = frozenset({"other", "rest", "count", "it"})


def going_in(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """Make "in" after the other parts, and "home" after a part, what was done: installed.

    Alone they say nothing: "all in" and "going home" are other talk; what is put away is not in.
    """
    result: list[Chunk] = []
    for at, one in enumerate(chunks):
        ends = at + 1 == len(chunks) or chunks[at + 1].kind == "conj"
        inward = one.kind in ("word", "stray") and one.value == "in" and ends and _of_others(result)
        seated = one.kind == "home" and any(before.kind == "noun" for before in result)
        if inward or seated:
            result.append(one._replace(kind="action", value="installed"))
        elif one.kind == "action" and tokens[one.start] in _PUT and _away(chunks, at + 1):
            result.append(one._replace(kind="word"))
        else:
            result.append(one._replace(kind="unknown") if one.kind == "home" else one)
    return result


def _of_others(before: Sequence[Chunk]) -> bool:
    """Whether what stands right before is the other ones, and names no part."""
    kinds: list[str] = []
    for one in reversed(before):
        if one.kind not in _NAMING:
            break
        kinds.append(one.kind)
    return not _OTHERS.isdisjoint(kinds) and before[-len(kinds)].value != "more"


def _away(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a container comes, or the bench: "put in bag two", "put it on the bench"."""
    at += ahead.kind(chunks, at) == "it"
    if ahead.kind(chunks, at) == "place":
        return chunks[at].value[0] in _BENCH
    return ahead.kind(chunks, at) == "container"
