"""Words that stand for other words: two texts laid side by side."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rapidfuzz.distance import Levenshtein

_LONGEST = 4
"""More words in the place of others are another remark, not another word."""
_MARKS = '.,;:!?"()'


class Swap(NamedTuple):
    """Words of the first text in whose place others stand in the second."""

    was: tuple[str, ...]
    became: tuple[str, ...]


def words_of(text: str) -> list[str]:
    """Give the words and numbers of a text, in lower case.

    >>> words_of("Eight bolts, 3/8-16!")
    ['eight', 'bolts', '3/8-16']
    """
    words = (word.strip(_MARKS) for word in text.lower().split())
    return [word for word in words if word]


def swaps(was: str, became: str) -> Iterator[tuple[Swap, ...]]:
    """Give each place where the texts differ, as the ways to see it: alone, then with neighbours.

    The neighbours are words that both texts have: "sea line" for "seal in" may
    be "line" for "in", or "the sea line" for "the seal in".  Places without
    words on both sides, or with many, are left out.
    """
    one, other = words_of(was), words_of(became)
    for start, end, begin, stop in _places(one, other):
        if not 0 < end - start <= _LONGEST or not 0 < stop - begin <= _LONGEST:
            continue
        before = min(start, begin)
        after = min(len(one) - end, len(other) - stop)
        ways = [
            Swap(
                tuple(one[start - left : end + right]),
                tuple(other[begin - left : stop + right]),
            )
            for left, right in ((0, 0), (1, 0), (0, 1), (1, 1))
            if left <= before
            and right <= after
            and one[start - left : start] == other[begin - left : begin]
            and one[end : end + right] == other[stop : stop + right]
        ]
        yield tuple(ways)


def _places(one: list[str], other: list[str]) -> Iterator[tuple[int, int, int, int]]:
    """Give the stretches that differ, neighbouring edits together."""
    open_: tuple[int, int, int, int] | None = None
    for edit in Levenshtein.opcodes(one, other):
        start, end, begin, stop = edit.src_start, edit.src_end, edit.dest_start, edit.dest_end
        if edit.tag == "equal":
            if open_ is not None:
                yield open_
            open_ = None
        elif open_ is None:
            open_ = (start, end, begin, stop)
        else:
            open_ = (open_[0], end, open_[2], stop)
    if open_ is not None:
        yield open_
