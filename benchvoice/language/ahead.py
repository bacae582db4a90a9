"""Questions about the chunks around a position; pure, no state."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language.chunks import Chunk

_BEFORE_NOUN = frozenset(
    {"count", "ordinal", "relative", "size", "condition", "article", "last", "side", "all", "new"}
    | {"other", "out of"}
)
_ENDS = {("ordinal", 1), ("last", "last"), ("last", "final")} | {
    (kind, end) for kind in ("side", "place") for end in ("top", "bottom")
}
_SHORTEST_STACK, _LONGEST_STACK = 3, 60
"""In parts, and in chunks with the small words between them."""


def kind(chunks: Sequence[Chunk], at: int) -> str:
    """The kind of the chunk at a position; empty past either end."""
    return chunks[at].kind if 0 <= at < len(chunks) else ""


def clause_end(chunks: Sequence[Chunk], at: int) -> int:
    """Where the clause that a position is in ends: at an "and" or the like, or past the last."""
    while kind(chunks, at) not in ("", "conj"):
        at += 1
    return at


def token(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> int:
    """The token that the chunk at a position begins with; past the last it is behind all."""
    return chunks[at].start if at < len(chunks) else len(tokens)


def token_before(one: Chunk, tokens: Sequence[str]) -> str:
    """The word right before a chunk, empty at the beginning."""
    return tokens[one.start - 1] if one.start else ""


def noun(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a noun comes, with at most counts and adjectives before it."""
    while kind(chunks, at) in _BEFORE_NOUN:
        at += 1
    return kind(chunks, at) == "noun"


def singular(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether the next chunk is a noun in the singular."""
    return kind(chunks, at) == "noun" and not bool(chunks[at].value.plural)


def count_after_noun(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a plural and then a count with no noun of its own come ("washers 8")."""
    if kind(chunks, at) != "noun" or not chunks[at].value.plural:
        return False
    lone = kind(chunks, at + 1) == "count" and not noun(chunks, at + 2)
    return lone and not state(chunks, at + 2)  # "four fittings, two weeping"


def _that_is(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether "that is" or "that are" stands here ("two that are bent")."""
    return (kind(chunks, at), kind(chunks, at + 1)) == ("article", "be")


def word_before(chunks: Sequence[Chunk], at: int) -> str:
    """Give the small word before a position, a verb between left out; empty if there is none."""
    at -= 1
    while kind(chunks, at) == "be":
        at -= 1
    return str(chunks[at].value) if kind(chunks, at) == "word" else ""


def so_long(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether so many of what nobody knows stand before a no: "ten minutes no leaks"."""
    return kind(chunks, at - 1) == "count" and kind(chunks, at + 1) == "not"


def along(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether "over the" or the like stands before a position."""
    at -= 1
    while kind(chunks, at) == "article":
        at -= 1
    return kind(chunks, at) == "word" and chunks[at].value in ("over", "across", "along")


def predicate(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether something is said of what came before ("one cracked", "two more in")."""
    while kind(chunks, at) in ("be", "all", "not", "it", "word", "other") or _that_is(chunks, at):
        at += 1
    return kind(chunks, at) in ("condition", "disposition", "action", "container", "place")


def state(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a condition or a disposition comes, and not one of a noun after it."""
    while kind(chunks, at) in ("be", "all", "not", "it", "word") or _that_is(chunks, at):
        at += 1
    return kind(chunks, at) in ("condition", "disposition") and not noun(chunks, at + 1)


def quantity(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether the name of what was measured still comes ("twelve thou of end play")."""
    while kind(chunks, at) in ("word", "article", "noun", "it", "be"):
        at += 1
    if kind(chunks, at) == "relative":
        return bool(chunks[at].value == "thick")
    return kind(chunks, at) == "quantity" and kind(chunks, at + 1) not in ("reading", "be")


def said_with(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether "with" or "with the" stands right before."""
    at -= 1
    while at > 0 and chunks[at].kind == "article":
        at -= 1
    return at > 0 and chunks[at].kind == "word" and chunks[at].value == "with"


def all_before(chunks: Sequence[Chunk], at: int) -> str | None:
    """Give the "all" or "both" that stands before the noun here, not before another one."""
    for chunk in reversed(chunks[max(0, at - 3) : at]):
        if chunk.kind == "all":
            return str(chunk.value)
        if chunk.kind == "noun":
            return None
    return None


def _which_end(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether it tells which end of a stack the part before it is: "first", "on top"."""
    if kind(chunks, at - 1) != "noun" or kind(chunks, at + 1) not in ("conj", ""):
        return False
    chunk = chunks[at]
    where = chunk.value[0] if chunk.kind == "place" else chunk.value
    return (chunk.kind, where) in _ENDS


def stack(chunks: Sequence[Chunk], at: int) -> tuple[tuple[str, ...], int] | None:
    """Read "friction, steel, friction, steel, then the wave plate": the names and the end.

    A row of three or more bare parts is an order when a part comes twice, when
    "then" stands between, when the order was announced, or when nothing else is said and one is
    a fastener; two are with a "then" between where nothing else is said, or the first is said to be
    first and one is a plate.
    """
    if at + _SHORTEST_STACK > len(chunks):
        return None
    first = any((one.kind, one.value) == ("ordinal", 1) for one in chunks[max(0, at - 2) : at])
    announced = any(chunk.kind == "stack" for chunk in chunks[max(0, at - 3) : at])
    names, kinds = list[str](), set[str]()
    end, then = at, announced
    while end < min(len(chunks), at + _LONGEST_STACK):
        chunk = chunks[end]
        if chunk.kind == "noun" and chunk.value.kind != "place" and not chunk.value.plural:
            names.append(chunk.value.name)
            kinds.add(chunk.value.kind)
        elif chunk.kind == "conj":
            then |= chunk.value in ("then", "and then")
        elif chunk.kind != "article" and not _which_end(chunks, end):
            break
        end += 1
    repeats = len(set(names)) < len(names)
    whole = at < 2 and end == len(chunks) and "housing" not in kinds
    two = then and (whole or (first and "plate" in kinds))  # "tab washer then lock nut"
    then |= whole and "fastener" in kinds and end - at == len(names)  # "nut washer gear shim"
    if (
        len(names) < _SHORTEST_STACK - two
        or not (then or repeats)
        or kind(chunks, end)
        in (
            "action",
            "condition",
            "disposition",
        )
    ):
        return None
    return tuple(names), end
