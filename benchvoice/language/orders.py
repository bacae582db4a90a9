"""What is only told to be done is not done: "pull the bearing", "remove four bolts", "check it".

Said of what was done it is "pulled" or "off".  The bare verb is what a plan sounds like, and what
"pulled" is misheard as; it is left over with how many and from where, for what was done is said
again sooner than a wrong entry is seen.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import REMOVING, Chunk
from benchvoice.language.passes import stray

_BARE = frozenset(
    "remove pull take lift install measure inspect loosen tighten drain press tap turn mark check "
    "adjust lap test fill clean blow".split()
)
"""Verbs whose past sounds otherwise; "put", "set" and "fit" are their own past."""
_WORDS = _BARE | {"fit", "need"}
_PARTICLES = frozenset("off out up in on down over".split())
_OPENS = frozenset({"", "conj", "word", "unknown", "stray"})
"""What may stand before the verb of an order; after a noun it tells what parts do."""
_LEFT = frozenset({"action", "count", "container"})
"""What an order leaves over."""
_DONE = frozenset({"to", "did"})
"""Words before a bare verb that tell whether it was done ("used a puller to remove it")."""


def orders(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """Leave over what is told to be done, and how many and from where in its clause."""
    told, left = False, _LEFT
    for at, one in enumerate(chunks):
        if _is_thing(chunks, at, tokens):
            yield stray(one)
            continue
        if one.kind == "need":
            begins = ahead.kind(chunks, at - 1) in ("", "conj")
            more = ahead.kind(chunks, at + 2) == "other"  # "need two more bolts" yet to go in
            wanted = begins and not more and ahead.noun(chunks, at + 1)  # "need three seals"
            as_order = one._replace(kind="disposition", value="order")
            yield as_order if wanted else one._replace(kind="unknown")
            if ahead.kind(chunks, at - 1) == "not":
                told, left = True, _LEFT | {"article"}  # "don't need a gasket"
            continue
        told = (told and one.kind != "conj") or _is_order(chunks, at, tokens)
        left = left if told else _LEFT
        if told and one.kind == "place" and one.value[1] in REMOVING:
            yield one._replace(value=(one.value[0], "on", one.value[2]))
        else:
            yield stray(one) if told and one.kind in left else one


def _is_thing(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Housing drain weeping", "bearing fit loose": what has its state, and nothing done."""
    one = chunks[at]
    bare = tokens[one.start] in _WORDS and one.end == one.start + 1
    named = one.kind == "action" and ahead.kind(chunks, at - 1) == "noun"
    told = ahead.kind(chunks, at + 1) == "condition" and tokens[one.start] != "test"
    return bare and named and (told or ahead.kind(chunks, at + 1) == "noun")


def _is_order(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether a bare verb begins a clause here and says what to do with something."""
    one = chunks[at]
    if one.kind != "action":
        return False
    words = tokens[one.start : one.end]
    test = words[-1:] == ["test"]  # "air test the pump"
    bare = test or (words[0] in _BARE and _PARTICLES.issuperset(words[1:]))
    if not bare:
        return False
    if ahead.token_before(one, tokens) in _DONE:
        return False
    if ahead.kind(chunks, at - 1) not in _OPENS:
        return False
    after = at + 1
    while ahead.kind(chunks, after) in ("all", "article"):
        after += 1
    return ahead.noun(chunks, after) or ahead.kind(chunks, after) in (
        "it",
        "quantity",
        "which",
        "word",
    )
