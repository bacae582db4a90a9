"""Words that mean another thing where they stand: "split the case", "keep them apart", "too long".

What they would say of a part is left over.  Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from benchvoice.language import ahead
from benchvoice.language.chunks import Chunk
from benchvoice.language.no_count import NO_ARTICLE, NO_COUNT, feet_long, too_few
from benchvoice.language.passes import stray

_KEPT = frozenset({"keep", "keeping"})
_TOGETHER = frozenset("apart separate separated aside together eye".split())
"""How parts are kept that are not, by that, used again."""
_WAYS = frozenset({"out", "off", "in", "down", "through"})
"""What a "straight" leads to that is no state: "dropped straight out"."""
_ONE = (("article", "a"), ("article", "an"), ("count", 1))
_NO_HOME = frozenset({"wrong", "missing"})
"""States of a container in which nothing was put; of one that has a label the parts are missing."""
_FACES = frozenset("front rear top bottom inside outside end edge side".split())
"""Where on a part something is marked; alone they are places of the unit too."""
_BY_HAND = frozenset({"finger", "hand"})
_TAPERED = frozenset({"taper", "tapered"})
_VERBS = frozenset("split open clean dry free clear true".split())
"""States that are verbs before a "the"."""
_TURNS = 8
"""So many chunks on may it be told how many turns."""
_SO_MANY = frozenset({"count", "article", "reading", "bare number", "unknown", "stray", "doubt"})
_SURFACES = frozenset({"oil passage", "bolt hole", "thread", "keyway", "journal", "mating face"})
_WHERE = frozenset({"place", "side", "stray"})
_OFF_LEVEL = (["low"], ["high"])
"""After a value these tell how much it is out: "oil two litres low"."""
_OF_NOUN = frozenset({"the", "a", "an"})
"""Words before what is done that make a thing of it: "missing from the set"."""
_WHICH_ORDER = frozenset({"wrong", "right", "correct", "same", "reverse", "this", "that", "the"})
"""Words before an order that parts are in."""
_DROPPED = frozenset({"dropped", "drop"})


def other_sense(chunks: Sequence[Chunk], tokens: Sequence[str]) -> Sequence[Chunk]:
    """Leave over what only sounds like a state, a size or what shall happen."""
    result = list(chunks)
    for at, one in enumerate(chunks):
        for test in _TESTS.get(one.kind, ()):
            if test(chunks, at, tokens):
                result[at] = _left(one)
                break
    return result


def _left(one: Chunk) -> Chunk:
    """Leave words over; small ones that tell how many are kept in sight."""
    return one._replace(kind="bound", value=None) if one.kind in ("other", "count") else stray(one)


def _but_now(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Was blocked, now clear", "sticky, cleaned it, free now": not blocked any more."""
    one = chunks[at]
    after = next((other for other in chunks[at + 1 :] if other.kind == "condition"), None)
    if after is None:
        return False
    was = not {"was", "were"}.isdisjoint(tokens[max(0, one.start - 2) : one.start])
    mended = any(other.kind == "action" for other in chunks[at + 1 : chunks.index(after)])
    between = "now" in tokens[one.end : after.start]
    return between or ((was or mended) and tokens[after.end : after.end + 1] == ["now"])


def _taken_apart(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Case split" was taken apart; a split seal is cracked."""
    if tokens[chunks[at].start : chunks[at].end] != ["split"]:
        return False
    while ahead.kind(chunks, at - 1) in ("not", "unknown"):
        at -= 1  # "case won't split"
    return ahead.kind(chunks, at - 1) == "noun" and chunks[at - 1].value.kind == "housing"


def _straight_out(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    one = chunks[at]
    return one.value == "straight" and not _WAYS.isdisjoint(tokens[one.end : one.end + 1])


def _finger_tight(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    return chunks[at].value == "tight" and ahead.token_before(chunks[at], tokens) in _BY_HAND


def _by_which(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "One inch too long", "short by a quarter inch": how much, and no length."""
    one = chunks[at]
    before = [word for word in tokens[max(0, one.start - 3) : one.start] if word not in ("a", "an")]
    by = before[-1:] == ["by"] and before[-2:-1] in (["short"], ["long"])
    too = tokens[one.end : one.end + 2] in (["too", "long"], ["too", "short"])
    too = too or (chunks[at].kind == "reading" and tokens[one.end : one.end + 1] in _OFF_LEVEL)
    return by or too or "too" in tokens[one.start : one.end]


def _kept(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Keep the two long ones apart": kept apart, which does not say used again."""
    one = chunks[at]
    end = ahead.token(chunks, ahead.clause_end(chunks, at), tokens)
    words = tokens[one.end : end]
    in_order = list(words[-2:]) == ["in", "order"]
    return tokens[one.start] in _KEPT and (in_order or not _TOGETHER.isdisjoint(words))


def _cut_away(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Took ten thou off the face", "turned down two thou": cut away, and nothing taken off."""
    one, before = chunks[at], chunks[at - 1] if at else None
    if tokens[one.start : one.end + 1] == ["turned", "down"]:
        return True
    thou = before is not None and before.kind == "reading" and before.value.unit.name == "thou"
    after = ahead.kind(chunks, at + 1) == "reading" and tokens[one.start] in ("took", "take")
    off = one.value == "removed" or (one.kind == "place" and one.value[1] == "off")
    return off and (thou or after)


def _was_there(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Back from the machine shop": it was there."""
    return "from" in tokens[max(0, chunks[at].start - 2) : chunks[at].start]


def _did(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Replaced the seal": done by the one who tells it."""
    if tokens[chunks[at].start : chunks[at].end] != ["replaced"]:
        return False
    opens = ahead.kind(chunks, at - 1) in ("", "conj", "word", "unknown")
    return opens and ahead.kind(chunks, at + 1) in ("article", "count")


def _of_type(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Tapered roller": what it is built like, and no wear of it."""
    if _TAPERED.isdisjoint(tokens[chunks[at].start : chunks[at].end]):
        return False
    return ahead.kind(chunks, at + 1) == "noun" and chunks[at + 1].value.kind == "bearing"


def _by_accident(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Dropped a washer in the case": lost there, and not fitted; "dropped the gear in" is."""
    start = at
    while ahead.kind(chunks, start - 1) not in ("", "conj"):
        if tokens[chunks[start].start] in _DROPPED:
            break
        start -= 1
    if tokens[chunks[start].start] not in _DROPPED or any(c.kind == "new" for c in chunks[:at]):
        return False
    after = chunks[start + 1] if start + 1 < len(chunks) else chunks[start]
    return (after.kind, after.value) in _ONE


def _of_container(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "In the clean tray", "wrong bag": of what things are in, and not of them."""
    if ahead.kind(chunks, at + 1) != "container":
        return False
    wrong = chunks[at].value in _NO_HOME and not (at and " " in chunks[at + 1].value)
    return wrong or ahead.kind(chunks, at - 1) == "article"


def _no_home(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Used the wrong bolts, wrong bag": put in none."""
    return ahead.kind(chunks, at - 1) == "condition" and chunks[at - 1].value in _NO_HOME


def _of_mark(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Punch mark on the front face": where the mark is, and not the gear."""
    where = chunks[at].value[2].kind == "place" and chunks[at].value[1] in ("on", "at")
    return where and chunks[at].value[2].name in _FACES and ahead.kind(chunks, at - 1) == "mark"


def _every_other(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Every other plate", "each other": half of them, or both, and not one more."""
    return ahead.token_before(chunks[at], tokens) in ("every", "each")


def _of_surface(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Passage blocked, rodded it out": what is cut into a part does not come out."""
    before = next((one for one in reversed(chunks[:at]) if one.kind == "noun"), None)
    value = before.value if before is not None else None
    surface = value is not None and (value.kind == "place" or value.name in _SURFACES)
    surface = surface and ahead.kind(chunks, at - 1) == "it"
    return surface and chunks[at].value in ("removed", "pressed out")


def _as_verb(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Split the case", "did not open the valve", "cut a gasket": done, and how nothing is."""
    verb = chunks[at].end == chunks[at].start + 1 and tokens[chunks[at].start] in _VERBS
    verb = verb or tokens[chunks[at].start : chunks[at].start + 2] == ["cut", "a"]
    opens = ahead.kind(chunks, at - 1) in ("", "conj", "not", "unknown", "word")
    return verb and opens and ahead.kind(chunks, at + 1) == "article"


def _blown(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Blew the seal out": the pressure did, and nobody cleaned it."""
    near = [one for one in chunks[at + 1 : at + 3] if one.kind == "noun"]
    return tokens[chunks[at].start] == "blew" and any(one.value.kind == "seal" for one in near)


def _fine_thread(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "M eight fine": its thread is."""
    size = chunks[at - 1].value if ahead.kind(chunks, at - 1) == "size" else None
    return size is not None and size.thread is not None and tokens[chunks[at].start] == "fine"


def _all_done(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "All done on the cover": the work is, and no part is worn out."""
    done = tokens[chunks[at].end - 1] == "done"
    return done and all(one.kind != "noun" for one in chunks[:at])


def _of_norm(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Wear limit": what it may come to, and no wear found."""
    return tokens[chunks[at].end : chunks[at].end + 1] in (["limit"], ["spec"])


def _of_tool(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Broke the puller on it": the tool, and no part."""
    after = at + 1 + (ahead.kind(chunks, at + 1) == "article")
    return ahead.kind(chunks, after) == "tool" and ahead.kind(chunks, at - 1) in ("", "conj")


def _turned(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """Whether it is told how many turns; "nut off, the shaft turns rough" tells of the shaft."""
    return any(
        tokens[chunks[turn].start] in ("turn", "turns") and ahead.kind(chunks, turn - 1) in _SO_MANY
        for turn in range(at + 1, min(at + _TURNS, len(chunks)))
    )


def _moved(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Ball rolled under the bench"; what "lifted at ninety" or "came out at six" is not out."""
    one, after = chunks[at], chunks[at + 1 : at + 2]
    if one.value == "rolled":
        return bool(after) and after[0].kind == "place" and after[0].value[1] != "on"
    if one.value == "removed" and _turned(chunks, at, tokens):
        return True  # "backed it out three turns"
    value = ahead.kind(chunks, at + 2) in ("reading", "count", "doubt", "bare number")
    return one.value == "removed" and tokens[one.end : one.end + 1] == ["at"] and value


def _a_thing(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Missing from the set": no setting of it."""
    one = chunks[at]
    alone = one.end == one.start + 1 and not ahead.noun(chunks, at + 1)
    return alone and ahead.token_before(one, tokens) in _OF_NOUN


def _in_order(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Plates in wrong order", "came off in that order": nothing to order, and no wrong plates."""
    one = chunks[at]
    after = tokens[one.end : one.end + 1]
    if tokens[one.start : one.end] == ["order"]:
        return ahead.token_before(one, tokens) in _WHICH_ORDER or after == ["of"]
    return after == ["order"] and one.value == "wrong"


def _of_bag(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Bag split": where no part is named, the state is of the bag."""
    alone = all(one.kind not in ("noun", "which", "relative", "count") for one in chunks)
    return alone and ahead.kind(chunks, at - 1) == "container"


def _from_to(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Bolts from the front to the back", "from the lip to the face": nothing came off there."""
    start, end = at, at + 1
    while ahead.kind(chunks, start - 1) in _WHERE:
        start -= 1
    while ahead.kind(chunks, end) in _WHERE:
        end += 1
    words = [tokens[one.start] for one in chunks[start:end]]
    return "from" in words and "to" in words[words.index("from") :]


def _found(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Can not find what is wrong", "missing bolt found": nothing that has a name is missing."""
    if chunks[at].value == "missing" and "found" in tokens[chunks[at].end :]:
        return True
    not_found = tokens[chunks[at].end - 1] == "find"
    return not_found and not ahead.noun(chunks, at + 1)


def _a_flat(chunks: Sequence[Chunk], at: int, tokens: Sequence[str]) -> bool:
    """ "Backed off a flat", "two flats loose": how far a nut was turned."""
    flat = tokens[chunks[at].start] in ("flat", "flats")
    counted = ahead.kind(chunks, at - 1) in ("article", "count")
    return flat and counted and not ahead.noun(chunks, at + 1)


_TESTS: Mapping[str, Sequence[Callable[[Sequence[Chunk], int, Sequence[str]], bool]]] = {
    "condition": (
        _but_now,
        _taken_apart,
        _straight_out,
        _finger_tight,
        _of_type,
        _of_container,
        _a_flat,
        _found,
        _moved,
        _of_tool,
        _of_norm,
        _as_verb,
        _fine_thread,
        _all_done,
        _in_order,
        _of_bag,
    ),
    "disposition": (_was_there, _kept, _did, _in_order),
    "container": (_no_home,),
    "action": (_by_accident, _a_thing, _moved, _of_surface, _cut_away, _blown),
    "noun": (_by_accident, feet_long),
    "relative": (too_few,),
    "article": NO_ARTICLE,
    "count": (*NO_COUNT, _by_accident),
    **dict.fromkeys(("other", "ordinal"), (_every_other,)),
    "place": (_by_accident, _of_mark, _from_to, _cut_away),
    "size": (_by_which,),
    "reading": (_by_which,),
}
"""By the kind of a chunk, what tells that it is not what it sounds like."""
