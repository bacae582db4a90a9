"""Numbers that count no parts: "a six bolt flange", "each bolt has a washer", "three rows of four".

They are left over, for a wrong count is worse than none.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk

_MANY = frozenset({"dozen", "couple", "hundred", "half", "pair"})
_HAS_MANY = frozenset("tooth bolt spline hole plate disc lobe stage speed jaw blade".split())
"""What a number before it tells a part by: "a six bolt flange"."""


def _has_many(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Twenty three tooth gear", "four bolt cover": so many teeth, and one gear."""
    end = chunks[at].end
    after = next((one for one in chunks[at + 1 :] if one.end > end + 1), None)
    if chunks[at].value == 1 or _HAS_MANY.isdisjoint(tokens[end : end + 1]) or after is None:
        return False
    return after.kind == "noun" and after.start <= end + 1 and not after.value.plural


def _which_is_marked(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Paint mark on tooth six": the sixth, and no six of anything."""
    if ahead.kind(chunks, at - 1) != "place" or chunks[at - 1].value[2].plural:
        return False
    marked = any(one.kind == "mark" for one in chunks[:at])
    ends = ahead.kind(chunks, at + 1) in ("", "conj")
    return marked and ends and all(one.kind != "noun" for one in chunks[:at])


def _named_number(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Two tens and a five" are shims by their thickness; what is off "as one" is together."""
    before = ahead.token_before(chunks[at], tokens)
    if before in ("a", "an"):
        return tokens[chunks[at].start] not in _MANY and not ahead.noun(chunks, at + 1)
    return before == "as"


def too_few(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Short two bolts": so many too few, and no short ones."""
    short = at if chunks[at].kind == "relative" else at - 1
    if ahead.kind(chunks, short) != "relative" or tokens[chunks[short].start] != "short":
        return False
    opens = ahead.kind(chunks, short - 1) in ("", "conj", "word", "unknown")
    some = ahead.kind(chunks, short + 1) == "count" or tokens[chunks[short].end :][:1] == ["a"]
    return opens and some and ahead.noun(chunks, short + 2)


def _per_each(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Each bolt has a washer", "with two washers each": how many in all is not said."""
    if chunks[at].value in ("the", "this", "that"):
        return False
    places = (one for one in chunks[at : ahead.clause_end(chunks, at)] if one.kind == "place")
    if any(tokens[one.start + 1] in ("each", "every") for one in places):
        return True  # "one shim under each cap"
    ends = ahead.kind(chunks, at + 3) in ("", "conj")
    if ahead.kind(chunks, at + 1) == "noun" and _each(chunks, at + 2) and ends:
        return True
    for before in range(at - 1, -1, -1):
        if chunks[before].kind == "conj" and chunks[before].value != "and":
            return False
        if _each(chunks, before):
            return True
    return False


def _each(chunks: Sequence[Chunk], at: int) -> bool:
    return ahead.kind(chunks, at) == "all" and chunks[at].value in ("each", "every")


def _of_groups(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Three rows of four bolts": neither three nor four."""
    kinds = "count", "word", "count"
    for start in (at, at - 3):
        found = tuple(ahead.kind(chunks, start + step) for step in (0, 2, 3))
        grouped = found == kinds and ahead.kind(chunks, start + 1) in ("unknown", "group", "stray")
        if grouped and chunks[start + 2].value == "of":
            return True
    return False


def _bags(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "All goes in one bag": so many bags."""
    return ahead.kind(chunks, at + 1) == "container" and " " not in chunks[at + 1].value


def feet_long(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Two feet long": a length, and no feet of the unit."""
    words = [tokens[chunks[at].start], *tokens[chunks[at].end : chunks[at].end + 2]]
    return "long" in words[1:] and not {"foot", "feet"}.isdisjoint(words[:2])


NO_ARTICLE = (_per_each, too_few)
NO_COUNT = (
    *(_bags, feet_long, _of_groups, _per_each, too_few),
    *(_has_many, _which_is_marked, _named_number),
)
"""What tells of an article, and of a number, that it counts nothing here."""
