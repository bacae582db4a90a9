"""Passes over the chunks of a remark, one after another: each gives all of them anew."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from benchvoice.language.chunks import Chunk

Pass = Callable[[Sequence[Chunk], Sequence[str]], Iterable[Chunk]]
"""From the chunks and the tokens of a remark to its chunks, some of them replaced."""


def through(
    chunks: Sequence[Chunk], tokens: Sequence[str], passes: Iterable[Pass]
) -> Sequence[Chunk]:
    """Give the chunks as they are after all passes."""
    for each in passes:
        chunks = list(each(chunks, tokens))
    return chunks


def stray(one: Chunk) -> Chunk:
    """Make a chunk into words that tell nothing, and are left over."""
    return one._replace(kind="stray", value=None)


def left_over(start: int, end: int) -> Chunk:
    """Make all words of a stretch, from token to token, such words, also of one turned round."""
    return Chunk("stray", None, min(start, end - 1), max(start + 1, end))
