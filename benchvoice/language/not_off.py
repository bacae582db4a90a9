"""What is left, excepted or broken off did not come off, and what came out of a tray is not in it.

"Two bolts left", "everything off but the pump", "all good except the seal", "bolt snapped off in
the case", "shaft out of true".  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import REMOVING, Chunk
from benchvoice.language.numbers import read_number
from benchvoice.language.passes import left_over, stray
from benchvoice.language.sizes import Reading

_STAYS = frozenset(
    {"in", "on", "over", "off", "out", "alone", "behind", "to", "for", "there", "loose", "as"}
)
_LEAVES = frozenset({"it", "them", "the", "a", "those", "that"})
"""Words after a "left" that is no side: "left on the shaft", "left the dowels in"."""
_OPPOSITE = {"in": "out", "on": "off"}
_RIGHT = frozenset(
    {
        "off",
        "out",
        "home",
        "through",
        "across",
        "around",
        "round",
        "up",
        "down",
        "along",
        "over",
        "at",
    }
)
"""Words after a "right" that is no side: "cracked right through"."""
_STILL = frozenset("still left remain remains remaining stay stays stayed staying".split())
"""Words that say of parts that they are where they were."""
_TALK = frozenset({"count", "article", "conj", "it", "action", "word", "be", "all", "doubt"})
"""What follows a "right" that only begins to talk."""
_POINTING = frozenset({"the", "on", "to", "from", "a"})
_BREAKS = frozenset({"broken", "sheared", "chipped", "torn"})
_SOUND = frozenset({"straight", "flat"})
_OFF_CENTRE = (["off", "centre"], ["off", "center"])
_EXCEPT = frozenset({"except", "excepting", "barring", "besides"})
_OUTWARD = frozenset({"out", "off"})
_PIECES = frozenset({"pieces", "bits", "parts", "halves"})
"""What a thing that is "in two" is in; "stripped in two holes" tells where."""
_CUPS = frozenset({"cup", "cups"})
_LABEL = 2
"""Longer than the number or the letter of a cup: "cup left" is no cup of that name."""
_PUT = frozenset({"in", "into", "a", "the", "to", "my"})
_LEADING = frozenset(
    {
        "article",
        "count",
        "doubt",
        "ordinal",
        "last",
        "relative",
        "side",
        "all",
        "word",
        "it",
        "stray",
        "be",
    }
)
_STATES = frozenset({"condition", "disposition", "action", "place"})
_NAME = frozenset("article count doubt ordinal last relative side noun it".split())
_FIRST = frozenset({"article", "count", "doubt", "noun"})
_NAMED = frozenset({"noun", "which", "place", "condition"})


def _in_and_out(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """ "Bearing in seal out": which of them is out is not known, and the seal is no place."""
    result: list[Chunk] = []
    for at, one in enumerate(chunks):
        last = result[-1] if result else None
        words = tokens[one.start : one.end]
        after = chunks[at + 1] if at + 1 < len(chunks) else one
        opposite = _OPPOSITE.get(words[0]) if one.kind == "place" and words else None
        out = after.kind == "action" and list(tokens[after.start : after.end]) == [opposite]
        bare = out and words[1] not in ("the", "a", "my", "its")
        undone = one.kind == "action" and last is not None and last.kind == "in and out"
        result.append(one._replace(kind="in and out") if bare else stray(one) if undone else one)
    return [stray(one) if one.kind == "in and out" else one for one in result]


def _in_in_turn(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Key in gear on nut on": each is in or on, and not in the next; else it is not known."""
    until, way = 0, False
    for at, one in enumerate(chunks):
        if at >= until and _lone_way(one, tokens):
            end = at
            while end < len(chunks) and _lone_way(chunks[end], tokens):
                end += 1
            way = ahead.kind(chunks, end) in ("word", "stray") and chunks[end].value in _OPPOSITE
            until = end if way or end > at + 1 else at
        if at < until and not way:
            yield stray(one)  # "gasket on cover on bolts tight"
        elif at < until:
            yield Chunk("way", tokens[one.start], one.start, one.start + 1)
            yield Chunk("noun", one.value[2], one.start + 1, one.end)
        elif one.kind in ("word", "stray") and one.value in _OPPOSITE and _ends(chunks, at):
            yield one._replace(kind="way")  # "key in, gear on, bearing tested"
        else:
            yield one


def _ends(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a part stands before, and another thing is told after."""
    return ahead.kind(chunks, at - 1) in ("noun", "place") and ahead.kind(chunks, at + 1) == "conj"


def _lone_way(one: Chunk, tokens: Sequence[str]) -> bool:
    """Whether it is an "in" or "on" and a part, without an article between."""
    named = one.kind == "place" and one.value[2].kind != "place"
    return named and tokens[one.start] in _OPPOSITE and tokens[one.start + 1] not in _LEAVES


def _cups(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """A cup that nothing was put into is of a bearing or a spring: "cup side down"."""
    for one in chunks:
        cup = one.kind == "container" and tokens[one.start] in _CUPS and len(chunks) > 1
        cup = cup and len(one.value.rpartition(" ")[2]) > _LABEL
        yield stray(one) if cup and tokens[max(0, one.start - 1)] not in _PUT else one


def _taken_from(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """What came out of a tray is not in it; "four in two out" breaks nothing in two."""
    counted = False
    for at, one in enumerate(chunks):
        if counted and one.kind == "action":
            yield stray(one)
            counted = False
            continue
        words = tokens[max(0, one.start - 2) : one.start]
        source = one.kind == "container" and words and words[-1] == "from"
        source = source or (one.kind == "container" and list(words) == ["out", "of"])
        counted = one.kind == "condition" and list(tokens[one.start : one.end]) == ["in", "two"]
        holes = counted and ahead.kind(chunks, at + 1) in ("noun", "unknown", "stray", "reading")
        holes = holes and tokens[one.end] not in _PIECES
        counted = counted and ahead.kind(chunks, at + 1) == "action"
        yield stray(one) if source or counted or holes else one


def _left(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """A "left" that tells what remains is no side; what is left off was not taken off."""
    leaves = False
    for at, one in enumerate(chunks):
        after = tokens[one.end] if one.end < len(tokens) else ""
        leaves = leaves and one.kind != "conj"
        pointed = ahead.token_before(one, tokens) in _POINTING
        side = tokens[one.start : one.end] if one.kind == "side" else []
        if one.kind == "reading" and _remains(chunks, at + 1, tokens):
            yield stray(one)  # "forty thou left": of what is worn
        elif side == ["right"]:
            if not (one.start == 0 and ahead.kind(chunks, 1) in _TALK):  # "right, eight bolts off"
                last = chunks[at - 1] if at else one
                correct = (last.kind == "be" or last.value == "measured") and after in ("", ",")
                yield stray(one) if (after in _RIGHT and not pointed) or correct else one
        elif side == ["left"]:
            some = at == 0 and ahead.kind(chunks, 1) == "count" and chunks[1].value > 1
            leaves = (after in _LEAVES | _OUTWARD or some) and not pointed
            remains = (after in _STAYS and not pointed) or ahead.kind(chunks, at - 1) == "reading"
            yield stray(one) if leaves or remains or _of_count(chunks, at) else one
        elif leaves and (one.kind == "action" or _removes(one)):
            leaves = False
            yield stray(one)
        else:
            yield one


def _removes(one: Chunk) -> bool:
    """Whether a place tells what a part came off: "left off the cover"."""
    return one.kind == "place" and one.value[1] in REMOVING


def _remains(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether a "left" after a value says what remains."""
    if ahead.kind(chunks, at) != "side" or tokens[chunks[at].start : chunks[at].end] != ["left"]:
        return False
    return not ahead.noun(chunks, at + 1)


def _of_count(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether so many are left: "two bolts left", "ten off, two left"."""
    if ahead.kind(chunks, at + 1) not in ("", "conj"):
        return False
    before = at - 1
    while ahead.kind(chunks, before) in ("noun", "size", "relative", "other"):
        before -= 1
    return ahead.kind(chunks, before) == "count"


def _excepted(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """Leave over what an "except" names, if no state is told of it; of "all but one" how many."""
    result: list[Chunk] = []
    at = 0
    while at < len(chunks):
        if not _excepts(chunks, at, tokens):
            result.append(chunks[at])
            at += 1
            continue
        start = chunks[at].start
        directly = bool(result) and result[-1].kind == "all"
        if directly:
            start = result.pop().start
        told = _end_of_name(chunks, at + 1)
        before = any(one.kind in _STATES for one in chunks[:at])
        if not directly and before and _told_of(chunks, told):
            result += [chunks[at]._replace(kind="conj", value="but")]
            result += [_how_many(chunks, other, tokens) for other in range(at + 1, told)]
            at = told + (ahead.kind(chunks, told) == "conj")
            continue
        end = _end_of_excepted(chunks, at, counted=directly)
        if not before and not directly:
            end = max(told, at + 1)  # "all plates but two burnt": the state is of the others
        result.append(left_over(start, chunks[end - 1].end))
        at = end
    return result


def _told_of(chunks: Sequence[Chunk], end: int) -> bool:
    """Whether a state is told of what is excepted up to here: "all good but one, burnt"."""
    comma = (ahead.kind(chunks, end), chunks[end].value if end < len(chunks) else "")
    end += comma == ("conj", ",")
    return ahead.kind(chunks, end) != "all" and ahead.state(chunks, end)


def _end_of_name(chunks: Sequence[Chunk], end: int) -> int:
    """Where the name of what is excepted ends that begins at `end`."""
    while ahead.kind(chunks, end) in _NAME:
        end += 1
    return end


def _how_many(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> Chunk:
    """How many are excepted and told of: counted, unless the others came off and these did not."""
    one = chunks[at]
    number = read_number(tokens, one.start) if one.kind in ("count", "doubt") else None
    if number is None or number.end != one.end:
        return one
    if any(before.kind == "action" for before in chunks[:at]):
        text = " ".join(tokens[one.start : one.end])
        return one._replace(
            kind="doubt", value=Reading("ambiguous", 0, None, text=text, readings=(text,))
        )
    return one._replace(kind="count", value=int(number.value))


def _excepts(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    one = chunks[at]
    word = tokens[one.start]
    apart = list(tokens[one.start : one.start + 2]) == ["apart", "from"]
    if (word in _EXCEPT or apart) and one.kind not in ("noun", "condition"):
        return True
    if one.kind == "stray" and word == "bar":
        return ahead.kind(chunks, at + 1) in _FIRST
    if one.kind != "conj" or word != "but":
        return False
    if ahead.kind(chunks, at - 1) == "all":
        return ahead.kind(chunks, at + 1) in _FIRST
    whole = any(before.kind == "all" or tokens[before.start] == "all" for before in chunks[:at])
    end = at + 1
    while ahead.kind(chunks, end) in _LEADING | {"noun"}:
        end += 1
    anew = ahead.kind(chunks, end) == "conj" and ahead.noun(chunks, end + 1)
    return whole and (end == len(chunks) or anew or _told_of(chunks, _end_of_name(chunks, at + 1)))


def _end_of_excepted(chunks: Sequence[Chunk], at: int, *, counted: bool) -> int:
    """Where what is excepted ends; of a whole said before its noun only how many."""
    end = at + 1
    if counted:
        while ahead.kind(chunks, end) in ("article", "count", "doubt", "last"):
            end += 1
        some = any(one.kind != "article" for one in chunks[at + 1 : end])
        if some or ahead.kind(chunks, end) != "noun":
            return end  # but of "keep everything but the seals" these are named
    while ahead.kind(chunks, end) in _LEADING:
        end += 1
    end += ahead.kind(chunks, end) in _NAMED
    while ahead.kind(chunks, end) == "conj" and ahead.noun(chunks, end + 1):
        last = _end_of_name(chunks, end + 1)
        if ahead.kind(chunks, last) not in ("", "conj"):
            break  # "but one, cover off"
        end = last  # "but two and the cover"
    return end


def _broken_off(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """ "Bolt snapped off in the case", "sheared a bolt off": broken, and not taken off."""
    result: list[Chunk] = []
    for one in chunks:
        off = tokens[one.start : one.end] == ["off"]
        last = result[-1] if result else None
        broke = last is not None and last.kind == "condition" and last.value in _BREAKS
        if off and broke and one.kind == "action":
            result[-1] = result[-1]._replace(end=one.end)
        elif (broke or _tooth(last)) and one.kind == "place" and one.value[1] == "off":
            if not broke:
                result.append(Chunk("condition", "missing", one.start, one.start))
            result.append(one._replace(value=(one.value[0], "on", one.value[2])))
        elif not (off and one.kind == "action" and _broke(result)):
            result.append(one)
    return result


def _tooth(one: Chunk | None) -> bool:
    """Whether it is a tooth: "tooth off the reverse gear" is gone, and nobody took it off."""
    return one is not None and one.kind == "noun" and one.value.name.endswith("tooth")


def _broke(before: Sequence[Chunk]) -> bool:
    """Whether what stands right before is a part that was broken: "sheared a bolt"."""
    at = len(before) - 1
    if ahead.kind(before, at) != "noun" or ahead.kind(before, at - 1) not in ("article", "count"):
        return False
    at -= 2
    verb = ahead.kind(before, at) == "condition" and before[at].value in _BREAKS
    return verb and ahead.kind(before, at - 1) not in ("noun", "be")


def _out_of(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Iterator[Chunk]:
    """ "Out of true" is not straight; out of order is nothing to order, off centre no place."""
    for one in chunks:
        before = list(tokens[max(0, one.start - 2) : one.start])
        if one.kind in ("condition", "disposition") and before == ["out", "of"]:
            sound = one.value in _SOUND
            if sound:
                yield Chunk("not", "not", one.start - 2, one.start)
            yield one if sound else stray(one)
        elif one.kind == "place" and list(tokens[one.start : one.end]) in _OFF_CENTRE:
            yield stray(one)
        else:
            yield one


def _uncounted(chunks: Sequence[Chunk], tokens: Sequence[str]) -> list[Chunk]:
    """Leave over how many are not off: "two bolts still in", "eight bolts not off yet"."""
    result = list(chunks)
    for at in range(len(chunks)):
        if not _not_off(chunks, at, tokens):
            continue
        count = _count_before(chunks, at)
        if count is None and tokens[chunks[at].start] in _STILL:
            count = at + 1
            while ahead.kind(chunks, count) in ("article", "be", "word"):
                count += 1
        if count is not None and ahead.kind(chunks, count) == "count":
            first = count - (ahead.kind(chunks, count - 1) == "other")  # "the other two stayed in"
            for place in range(first, count + 1):
                result[place] = stray(chunks[place])
    return result


def _not_off(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether what stands here says of the parts before it that they are not off, or not yet."""
    one, after = chunks[at], ahead.kind(chunks, at + 1)
    if one.kind == "not":
        return after == "action" or (after == "place" and chunks[at + 1].value[1] in REMOVING)
    if one.kind not in ("stray", "unknown", "word"):
        return False
    words = tokens[one.start : one.end]
    if words[0] in _STILL:
        return "container" not in (after, ahead.kind(chunks, at + 2)) and after != "condition"
    return one.kind == "stray" and words[0] in ("to", "not") and words[1:2] not in ([], ["the"])


def _count_before(chunks: Sequence[Chunk], at: int) -> int | None:
    """Where the count of the part stands that is told of at a place."""
    before = at - 1
    while ahead.kind(chunks, before) in ("be", "word", "unknown", "it", "article", "stray"):
        before -= 1
    if ahead.kind(chunks, before) == "noun":
        before -= 1
        while ahead.kind(chunks, before) in ("size", "relative"):
            before -= 1
    return before if ahead.kind(chunks, before) == "count" else None


NOT_OFF = (
    *(_in_in_turn, _cups, _in_and_out, _taken_from, _left),
    *(_excepted, _broken_off, _out_of, _uncounted),
)
"""Passes that leave over what did not come off, or is not so."""
