"""What was said to be still to do, only tried, asked for or not so is no finding.

"Two bolts to come out", "almost off", "tried to pull it", "no need to replace it", "not all the
bolts are off", "should be five thou": the words of it are left over, and nothing is made of them.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.passes import left_over, stray

_DONE = frozenset({"had", "managed", "took", "pounds", "able"})
"""Words before a "to" after which it was done ("had to press it out")."""
_USED = frozenset({"used", "took", "using"})
"""Words before a tool that tell that it was put to use."""
_ALMOST = frozenset(
    {"almost", "nearly", "half", "halfway", "partly", "partially", "tried", "trying", "try"}
    | {"unable", "failed", "forgot", "refused", "refuses", "gonna"}
)
"""Words before what is done that say that it is not, or not yet."""
_REACH = 5
_BETWEEN = frozenset({"word", "unknown", "be", "it", "article", "stray", "broken", "verb"})
_SAID = frozenset({"action", "disposition", "container", "place"})
_NAMED = frozenset({"noun", "count", "size", "relative", "ordinal", "side"})
_VERBAL = frozenset("not never do did does don't didn't doesn't hasn't haven't".split())
"""Ways of denying what is done; "no" denies a thing."""
_WHOLE = frozenset({"all", "every", "each", "both", "everything", "every one", "all of them"})
_NORMS = frozenset(
    {"should", "spec", "limit", "minimum", "maximum", "supposed", "nominal", "ought", "allowed"}
    | {"aiming", "allowable", "book", "max", "min"}
)
"""Words that tell what a value or a count ought to be, not what it is."""
_WISHES = frozenset({"want", "wants", "need", "needs", "needed", "expected"})
"""Such words if the value stands right after them."""
_NUMBERS = frozenset({"reading", "count", "doubt", "bare number", "ambiguous"})
_BOUNDS = frozenset({"over", "under", "above", "below", "less"})
_HOW = frozenset({"unknown", "stray", "condition", "orientation"})
"""What follows what was found fitted: "was fitted backwards", but "cover was put back on"."""
_WERE = frozenset({"been", "was", "were", "already", "got"})
_IF = frozenset({"if", "unless", "whether", "until", "till"})
_SOME = frozenset({"some", "most", "any", "half", "few", "none", "neither", "many"})
_JUST = frozenset({"just", "only", "merely", "simply"})
_DEGREES = frozenset({"very", "too", "that", "fully", "completely", "totally", "quite", "so"})
_ANOTHER = frozenset({"noun", "side", "place", "which", "rest", "other", "be", "it", "count"})
"""What may be told of with a mere "not", which stands for the last thing said."""


def _of_some(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "None of the bolts", "some of the plates": the parts themselves, and no place."""
    for one in chunks:
        of = one.kind == "place" and one.value[1] == "of" and one.start > 0
        some = of and tokens[one.start - 1] in _SOME and one.value[2].plural
        yield one._replace(kind="noun", value=one.value[2]) if some else one


def _only(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """ "Not just worn" is worn and more; "not very worn" is neither worn nor not."""
    result: list[Chunk] = []
    for at, one in enumerate(chunks):
        last = result[-1] if result else None
        after = tokens[one.end] if one.end < len(tokens) else ""
        if one.kind == "not" and after in _JUST and at + 1 < len(chunks):
            continue
        if one.kind == "condition" and last is not None and last.kind == "not":
            degree = tokens[last.end : one.start]
            if degree and degree[0] in _DEGREES and one.value != "bad":
                result[-1] = left_over(last.start, one.end)
                continue
        result.append(one)
    return result


def _and_not(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Front bearing rough rear bearing not": not rough; after anything else it tells nothing."""
    said: Chunk | None = None
    for at, one in enumerate(chunks):
        ends = ahead.kind(chunks, at + 1) in ("", "conj")
        if one.kind == "not" and ends and ahead.kind(chunks, at - 1) in _ANOTHER:
            if said is not None and said.kind == "condition":
                yield one
                yield said._replace(start=one.start, end=one.end)
            else:
                yield stray(one)
            continue
        if one.kind in _SAID - {"place"} | {"condition", "reading"}:
            said = None if ahead.kind(chunks, at - 1) == "not" else one
        yield one


def _supposed(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Sequence[Chunk]:
    """ "If the bearing is worn replace it": whether it is, is not known."""
    at = next((at for at, one in enumerate(chunks) if tokens[one.start] in _IF), None)
    if at is None:
        return chunks
    result = [
        stray(one)
        if one.kind in ("condition", "disposition", "action", "reading", "count")
        else one
        for one in chunks[at:]
    ]
    before = list(chunks[:at])
    for back in range(at - 1, -1, -1):
        if before[back].kind == "disposition":  # "replace the seal if torn"
            before[back] = stray(before[back])
        elif before[back].kind not in ("noun", "article", "it"):
            break
    return before + result


def _to_do(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """What is done only after a "to", or almost: "bolts to be removed", "cover nearly off"."""
    for at, one in enumerate(chunks):
        start = None
        if one.kind == "action" or (one.kind == "place" and one.value[1] in ("off", "out of")):
            last = chunks[at - 1] if at and chunks[at - 1].kind == "action" else None
            start = _still_to(tokens, one.start)
            start = None if last is not None and last.end == one.start else start  # "set to"
            start = None if start is not None and _by_tool(chunks[:at], start, tokens) else start
            yet = tokens[max(0, one.start - 1)] in _WISHES  # "bolts need torqued"
            if start is None and (yet or _almost(chunks, at, tokens)):
                start = one.start
        yield one if start is None else left_over(start, one.end)


def _still_to(tokens: Sequence[str], start: int) -> int | None:
    """Where the "to" before something done stands, if it tells that it is still to do."""
    at = start - 1
    if at > 0 and tokens[at] in ("be", "get"):
        at -= 1
    if at < 0 or tokens[at] != "to" or (at > 0 and tokens[at - 1] in _DONE):
        return None
    return at


def _by_tool(before: Sequence[Chunk], to: int, tokens: Sequence[str]) -> bool:
    """Whether it was done with a tool: "used a puller to remove the gear"."""
    tool = next((one for one in reversed(before) if one.end == to), None)
    if tool is None or tool.kind != "tool" or any(one.kind == "not" for one in before):
        return False
    return not _USED.isdisjoint(tokens[:to])


def _almost(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether a word before it in its clause says that it is not done."""
    stop = chunks[at].start
    for back in range(at - 1, max(at - _REACH, -1) - 1, -1):
        one = chunks[back] if back >= 0 else None
        start = one.end if one is not None else 0
        if not _ALMOST.isdisjoint(tokens[start:stop]):
            return True
        if one is None or one.kind not in _BETWEEN | {"noun"}:
            return False
        if one.kind != "noun" and tokens[one.start] in _ALMOST:
            return True
        stop = one.start
    return False


def _denied_far(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "No need to replace the seal": a "not" reaches over small words and what nobody knows."""
    at = 0
    while at < len(chunks):
        if chunks[at].kind == "not":
            end = at + 1
            while ahead.kind(chunks, end) in _BETWEEN:
                end += 1
            kind = ahead.kind(chunks, end)
            if kind == "reading" or (kind in _SAID and end > at + 1):
                yield left_over(chunks[at].start, chunks[end].end)
                at = end + 1
                continue
        yield chunks[at]
        at += 1


def _not_done(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Could not get the bearing off": nothing was done to the part that stands between."""
    done = None
    for at, one in enumerate(chunks):
        if one.kind == "not" and tokens[one.start] in _VERBAL:
            done = _done_to_one(chunks, at + 1)
        if one.kind == "not" and done is not None:
            yield stray(one)
        elif at == done:
            yield stray(one)
            done = None
        else:
            yield one


def _done_to_one(chunks: Sequence[Chunk], at: int) -> int | None:
    """Where what was done stands after small words and the name of one part."""
    while ahead.kind(chunks, at) in _BETWEEN | _NAMED - {"noun"}:
        at += 1
    taken = ahead.kind(chunks, at) == "noun" and ahead.kind(chunks, at + 1) == "action"
    return at + 1 if taken else None


def _without(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Could not get it out without damage" is neither; "without the shim" there is none."""
    denied = without = False
    until = 0
    for at, one in enumerate(chunks):
        without_it = tokens[one.start : one.start + 1] == ["without"]
        without = without or (denied and without_it)
        denied = denied or (one.kind == "not" and tokens[one.start] in _VERBAL)
        noun = at + 1 + (ahead.kind(chunks, at + 1) == "article")
        if without_it and ahead.kind(chunks, noun) == "noun":
            until = noun + 1
            yield left_over(one.start, chunks[noun].end)
        elif at >= until:
            yield stray(one) if without and one.kind in ("not", "condition", "action") else one


def _not_all(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Not all the bolts are off": neither off nor on; the parts themselves are named."""
    pending = False
    for at, one in enumerate(chunks):
        after = chunks[at + 1] if at + 1 < len(chunks) else None
        if one.kind == "not" and after is not None and _of_whole(one, after, tokens):
            pending = True
            yield stray(one)
        elif pending and one.kind in ("all", "count"):
            yield stray(one)
        elif pending and one.kind in _SAID | {"condition"}:
            pending = one.kind == "place"
            yield one if pending else stray(one)
        else:
            pending = pending and one.kind in _BETWEEN | _NAMED
            yield one


def _of_whole(one: Chunk, after: Chunk, tokens: Sequence[str]) -> bool:
    """Whether a "not" is of "all", of "one" or of "a single one"."""
    if after.kind == "all" and after.value in _WHOLE:
        return True
    if tokens[one.start : one.end] != ["not"]:
        return False
    single = list(tokens[one.end : one.end + 2]) == ["a", "single"]
    return single or (after.kind == "count" and after.value == 1)


def _missing(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """ "Cover missing two bolts": the bolts are missing, and not the cover."""
    result = list(chunks)
    for at in range(len(chunks) - 1, 0, -1):
        missing = chunks[at].kind == "condition" and chunks[at].value == "missing"
        counted = chunks[at - 1].kind == "noun" and ahead.kind(chunks, at - 2) == "count"
        if not missing or counted or chunks[at - 1].kind not in ("noun", "be"):
            continue  # "two bolts missing, a washer"
        end = at + 1
        while ahead.kind(chunks, end) in ("article", "count", "be"):
            end += 1
        noun = end > at + 1 and ahead.kind(chunks, end) == "noun"
        if noun and ahead.kind(chunks, end + 1) in ("", "conj", "place"):
            result[at : end + 1] = [*chunks[at + 1 : end + 1], chunks[at]]
    return result


def _ought(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "End play should be five thou": a value or a count that was not found."""
    far = 0
    for at, one in enumerate(chunks):
        word, after = tokens[one.start], tokens[one.end : one.end + 1]
        if one.kind in ("reading", "count") and not _NORMS.isdisjoint(after):
            end = ahead.clause_end(chunks, at)
            others = {other.kind for other in chunks[at + 1 : end]}
            far = far or others.isdisjoint(_NUMBERS)  # "six max"
        if one.kind in ("unknown", "word", "stray") and word in _NORMS | _WISHES:
            far = _REACH if word in _NORMS else 1
        elif far and one.kind in ("reading", "count"):
            far = 0
            yield stray(one)
            continue
        elif one.kind in _SAID - {"place"} | {"condition", "conj"}:
            far = 0
        elif one.kind != "article":
            far = max(0, far - 1)
        yield one


def _bounds(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Over five thou" is kept as five, with the "over" left over."""
    for at, one in enumerate(chunks):
        bound = one.kind == "word" and tokens[one.start] in _BOUNDS
        after = ahead.kind(chunks, at + 1) if bound else None
        by_value = after == "reading" or ahead.kind(chunks, at - 1) == "reading"
        bound = by_value and after in ("", "reading", "conj")
        yield one._replace(kind="bound") if bound else one


def _past(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Has been replaced", "used to be worn", "too worn to reuse": it is so no more."""
    for at, one in enumerate(chunks):
        before = list(tokens[max(0, one.start - 3) : one.start])
        replaced = one.kind == "disposition" and tokens[one.start : one.end] == ["replaced"]
        past = replaced and not _WERE.isdisjoint(before[-1:])
        past = past or (one.kind == "condition" and before == ["used", "to", "be"])
        fitted = one.value == "installed" and before[-1:] in (["was"], ["were"])
        past = past or (fitted and ahead.kind(chunks, at + 1) in _HOW)
        too = one.kind == "disposition" and before[-1:] == ["to"]
        past = past or (too and "too" in tokens[max(0, one.start - _REACH) : one.start])
        yield stray(one) if past else one


NOT_SO = (
    *(_without, _of_some, _only, _and_not, _missing, _supposed),
    *(_to_do, _denied_far, _not_done, _not_all, _ought, _bounds, _past),
)
"""Passes that turn what was said not to be so into words that are left over."""
