"""What is told of something that nobody knows is told of nothing: "bolts off, rubbers perished".

A word that nobody knows, or that names nothing alone ("outer", "number five"), stands for another
thing where a state was told of the part before it.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import REMOVING, Chunk
from benchvoice.language.found_on import THINGS
from benchvoice.language.passes import stray

_TOLD = frozenset({"condition", "disposition", "action"})
_BETWEEN = frozenset({"be", "all", "not", "article"})
_LOST = frozenset({"unknown", "stray"})
_POINTING = frozenset("it that this they them those these thing one".split())
_AWAY = frozenset("out off of it them there".split())
"""All words of what alone is said with a verb that nobody knows: "wallowed out"."""


def unnamed(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """Leave over the states of what has no known name, up to the next name."""
    told = lost = False
    for at, one in enumerate(chunks):
        if one.kind == "noun":
            told = lost = False
        elif _is_old(chunks, at, tokens) or (told and _names_another(chunks, at)):
            lost = True
            yield stray(one)
            continue
        elif one.kind in _TOLD:
            lost = lost or _of_another(chunks, at, tokens, told=told)
            told = True
        from_it = one.kind == "place" and one.value[1] in REMOVING and not told
        from_it = from_it and ahead.kind(chunks, at - 1) == "unknown" and _named_later(chunks, at)
        yield stray(one) if from_it or (lost and one.kind in _TOLD | {"relative"}) else one


def _named_later(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether only what comes has a name: "lever off its shaft, two bolts"."""
    return all(one.kind != "noun" for one in chunks[:at]) and any(
        one.kind == "noun" for one in chunks[at:]
    )


def _is_old(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether the old one is told of after a new one."""
    one = chunks[at]
    old = one.kind in ("it", "count") and ahead.token_before(one, tokens) == "old"
    return old and any(before.kind == "new" for before in chunks[:at])


def _names_another(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a number or "one" names another: "four is short", "inner one ok"."""
    one, after = chunks[at], chunks[at + 1 : at + 2]
    if one.kind not in ("count", "it"):
        return False
    inner = at > 0 and chunks[at - 1].kind == "stray" and chunks[at - 1].value is not None
    if inner and one.value in (1, "one"):
        return ahead.state(chunks, at + 1)
    fourth = one.kind == "count" and one.value > 1
    return fourth and bool(after) and (after[0].kind, after[0].value) == ("be", "is")


def _of_another(chunks: Sequence[Chunk], at: int, tokens: Sequence[str], *, told: bool) -> bool:
    """Whether what is told here is of a thing that has no known name."""
    before = at - 1
    while ahead.kind(chunks, before) in _BETWEEN:
        before -= 1
    if ahead.kind(chunks, before) not in _LOST:
        return False
    other = chunks[before]
    unknown = other.kind == "unknown"
    if not (unknown or other.value or tokens[other.start] == "number"):
        return False  # what was left over for another reason
    if ahead.so_long(chunks, before):
        return False  # "tested for ten minutes no leaks"
    if not _POINTING.isdisjoint(tokens[other.end : chunks[at].start]):
        return False  # "nope that is chipped"
    if unknown and any(one.kind in ("be", "all") for one in chunks[before + 1 : at]):
        return True  # "six bolts, rubbers all perished"
    plural = unknown and tokens[other.start].endswith("s")
    if plural and told:
        return True  # "sun gear fine, races fine, ring gear chipped"
    if ahead.noun(chunks, at + 1):
        return False
    ends = ahead.kind(chunks, before - 1)
    if plural and ends == "noun":
        return True  # "bearing surfaces good"
    if (
        unknown
        and ends == "article"
        and before == at - 1
        and tokens[chunks[at].start] not in THINGS
    ):
        return True  # "cylinder has a lump missing", but "a nasty crack"
    words = tokens[chunks[at].start : chunks[at].end]
    return told or (unknown and chunks[at].kind == "action" and _AWAY.issuperset(words))
