"""What is found on another part is of that part: "gears fine, a bit of scoring on the cover".

Only where the state is said as a thing ("scoring", "a crack") after something was told of the part
before it: "gear has pitting on the teeth" and "bearing spun in the case" stay.  Common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.passes import stray

THINGS = frozenset(
    "scoring pitting spalling galling fretting cracking crack cracks wear rust corrosion burr "
    "burrs nick nicks groove grooves scratch scratches chip chips dent dents gouge gouges".split()
)
_TOLD = frozenset({"condition", "disposition", "action", "unknown", "stray"})
_ON = frozenset({"on", "in"})


def found_on(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Sequence[Chunk]:
    """Name the part that something is found on before what is found."""
    result: list[Chunk] = []
    told, named, at = False, "", 0
    while at < len(chunks):
        one = chunks[at]
        thing = told and named and _is_thing(one, tokens)
        place, end = _place(chunks, at + 1) if thing else ([], at)
        if place and _other(place[-1], named):
            if result[-1].kind == "count":
                result[-1] = stray(result[-1])  # "gear off, two cracks in the case": one case
            named, at = place[-1].value.name, end - 1
            result += place
        elif one.kind == "noun":
            told, named = False, one.value.name
        elif one.kind in _TOLD:
            told = True
        result.append(one)
        at += 1
    return result


def _place(chunks: Sequence[Chunk], at: int) -> tuple[list[Chunk], int]:
    """Give what something is on as a noun, with where that ends: "on the cover", "on two bolts"."""
    if ahead.kind(chunks, at) == "place" and chunks[at].value[1] in _ON:
        return [chunks[at]._replace(kind="noun", value=chunks[at].value[2])], at + 1
    end = at + 1
    while ahead.kind(chunks, end) in ("all", "article", "count"):
        end += 1
    if ahead.kind(chunks, at) == "word" and ahead.kind(chunks, end) == "noun":
        counted = [one for one in chunks[at + 1 : end + 1] if one.kind != "all"]
        return (counted, end + 1) if chunks[at].value in _ON else ([], at)
    return [], at


def _is_thing(one: Chunk, tokens: Sequence[str]) -> bool:
    return one.kind == "condition" and not THINGS.isdisjoint(tokens[one.start : one.end])


def _other(noun: Chunk, named: str) -> bool:
    """Whether it is a part of its own that does not belong to the one named."""
    return noun.value.kind != "place" and noun.value.name not in named
