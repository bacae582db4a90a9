"""What is said of a part: condition, action, disposition, container, place, side, facing."""

from __future__ import annotations

from collections.abc import Sequence

from benchvoice.language import ahead, elsewhere
from benchvoice.language.assembly import Assembly
from benchvoice.language.chunks import REMOVING, Chunk
from benchvoice.language.draft import Draft
from benchvoice.language.either import is_or
from benchvoice.language.nouns import on_noun
from benchvoice.remark import Size

_SAID_OF = frozenset(
    {"condition", "action", "disposition", "container", "place", "side", "reading"}
)

_OF_FLUIDS = frozenset({"filled", "drained"})

_RUBBED = frozenset({"grooved", "worn", "scored", "scratched", "marked", "cut", "damaged"})
"""What other parts do to one: the "by" after it tells which did, and not where."""

_OF_ONE = frozenset({"is", "was", "has"})

_ONE_OF = frozenset({"action", "disposition"})
"""What there is one of in a finding: another is left over, for which holds is not known."""

_UNDOING = (frozenset({"removed", "pressed out"}), frozenset({"installed", "pressed in"}))
"""What is undone by what is of the other of the two; what is told last holds."""

_STAY = frozenset({"stay", "stays", "stayed", "remain", "remained"})
"""What is told of parts that share nothing with the next."""

_OF_STATES = frozenset({"not", "isn't", "aren't", "wasn't", "weren't", "no longer"})
"""Ways of denying one state; a "no" or a "without" may begin a list."""


def on_condition(work: Assembly, chunk: Chunk, at: int) -> None:
    """A state found: of what is before it, or adjective of the noun after it."""
    name = f"not {chunk.value}" if work.negated else chunk.value
    work.negated = work.negated and _denies_on(work.chunks, at + 1)
    if _done_to(work, at):
        work.forward = None
        work.waiting.conditions.append(name)
        return
    if _adjective(work, at):
        work.waiting.conditions.append(name)
        return
    for draft in work.targets():
        draft.denied = False
        if _opposite(name) in draft.conditions:
            draft.conditions.remove(_opposite(name))  # "rough, well not rough but notchy"
        if name not in draft.conditions:
            draft.conditions.append(name)


def _opposite(name: str) -> str:
    return name.removeprefix("not ") if name.startswith("not ") else f"not {name}"


def _denies_on(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether a "not" reaches on: "no burrs, nicks", but not "seal not torn, gasket torn"."""
    if _is_set_against(chunks, at):
        return False
    after = at
    while ahead.kind(chunks, after) == "conj" or is_or(chunks, after):
        after += 1
    if ahead.kind(chunks, after) in ("condition", "not"):
        return True
    return after > at and not ahead.noun(chunks, after)


def _is_set_against(chunks: Sequence[Chunk], at: int) -> bool:
    """Whether what comes is so instead: "not leaking, dry"; of "not worn, cracked or" it is not."""
    denied = at > 1 and chunks[at - 2].kind == "not" and chunks[at - 2].value in _OF_STATES
    comma = ahead.kind(chunks, at) == "conj" and chunks[at].value == ","
    state = ahead.kind(chunks, at + 1) == "condition"
    listed = is_or(chunks, at + 2) or ahead.kind(chunks, at + 2) in ("unknown", "not")
    return denied and comma and state and not listed


def _done_to(work: Assembly, at: int) -> bool:
    """ "Pulled the bearing and cracked the case": what comes was cracked."""
    article = ahead.kind(work.chunks, at + 1) == "article" and ahead.noun(work.chunks, at + 1)
    follows = ahead.kind(work.chunks, at - 2) != "condition"
    opens = work.before in ("conj", "unknown", "stray", "action")
    return opens and article and follows and work.current is not None


def _adjective(work: Assembly, at: int) -> bool:
    """Whether a condition stands before its noun ("one cracked seal")."""
    if ahead.kind(work.chunks, at + 1) != "noun" or work.current is None:
        return False
    if work.waiting.count is not None or work.waiting.conditions:
        return True
    if work.before in ("count", "conj", "ordinal", "relative", "all", "disposition", "action"):
        return True
    return work.chunks[at - 1].kind == "article" or bool(work.current.conditions)


def on_attribute(work: Assembly, chunk: Chunk, at: int) -> None:
    """An action, disposition, mark, tool, group: of what is before it, or of what follows."""
    name, value = chunk.kind, chunk.value
    if work.negated and work.before == "not":
        work.negated = False
        if (name, value) != ("disposition", "reuse"):
            work.unused.append(chunk)
            return
        value = "replace"
    new = work.current is not None and work.current.new and value == "reuse"
    leads = (
        work.current is None
        or new
        or work.before in _SAID_OF
        or work.before in ("conj", "orientation")
    )
    taken = work.current is not None and getattr(work.current, name) is not None
    if (leads or taken) and not work.everything and ahead.noun(work.chunks, at + 1):
        if name in ("action", "disposition"):
            work.forward = (name, value)
        setattr(work.waiting, name, value)
        return
    for draft in work.targets(counted=name == "action"):
        if getattr(draft, name) is None or name == "group":
            setattr(draft, name, value)
        elif name == "action" and (draft.action == "measured" or _further(work, draft, value, at)):
            draft.action = value
        elif getattr(draft, name) != value and name in _ONE_OF:
            work.unused.append(chunk)  # "cover removed installed"


def _further(work: Assembly, draft: Draft, value: str, at: int) -> bool:
    """Whether what was begun was done then ("loosened and removed"), or is undone by it."""
    if draft.orientation is None and all({draft.action, value} & way for way in _UNDOING):
        return ahead.kind(work.chunks, at + 1) == "it" or work.before == "conj"
    return (draft.action, value) == ("loosened", "removed")


def on_container(work: Assembly, chunk: Chunk, at: int) -> None:
    """Where it was put: of all that was joined in the list before it."""
    if _denied(work, chunk):
        return
    waiting = work.waiting
    if work.current is None and waiting.container not in (None, chunk.value) and waiting.size:
        work.push_waiting()  # "bag two the short ones, bag three the long ones"
    new = work.current is not None and work.current.container is not None
    if new and ahead.noun(work.chunks, at + 1):
        work.waiting.container = chunk.value
        return
    for draft in work.targets() if work.current is None else work.listed():
        if draft.container not in (None, chunk.value):
            work.unused.append(chunk)
        draft.container = draft.container or chunk.value


def on_place(work: Assembly, chunk: Chunk, at: int) -> None:
    """A preposition and a place: where it is, or what it came off."""
    if _denied(work, chunk):
        return
    place, preposition, noun = chunk.value
    rubbed = work.before == "condition" and work.chunks[at - 1].value in _RUBBED
    if preposition == "by" and rubbed and noun.kind != "place":
        work.unused.append(chunk)  # "grooved by the plates"
        return
    if preposition == "for" and (work.current is None or work.current.part is None):
        on_noun(work, chunk._replace(value=noun), at)
        return
    if noun.kind == "fluid" and preposition == "of" and work.current is not None:
        if work.current.action not in _OF_FLUIDS and not (work.current.measure or work.reading):
            work.unused.append(chunk)  # "seals in with a bit of oil"
            return
        work.current.place = (
            work.current.place or work.current.part
        )  # "case filled with 9 litres of oil"
        work.current.part, work.current.kind = noun.name, noun.kind
        return
    if _off_then_noun(work, at):
        assert work.current is not None
        work.current.action = "removed"
        work.before = "action"
        on_noun(work, chunk._replace(value=noun), at)
        return
    if noun.relative is not None and work.current is None:
        work.waiting.add_size(Size(relative=noun.relative))  # "punch mark on the big wheel"
    if elsewhere.counted_next(work, at):
        work.push_same(None)
    came = preposition in REMOVING and not _cause(work, preposition)
    work.set_place(place, removing=came)


def _cause(work: Assembly, preposition: str) -> bool:
    """ "Leaks from the seal", "a groove from the lip": where it comes from, and not taken off."""
    draft = work.current or work.waiting
    if preposition == "from" and draft.ordinal is not None:
        return True  # "the third plate from the top"
    conditions = draft.conditions
    told = work.before == "condition" and bool(conditions)
    return told and (preposition == "from" or conditions[-1] == "leaking")


def _off_then_noun(work: Assembly, at: int) -> bool:
    """ "pump cover off gasket torn": not off the gasket."""
    current = work.current
    return (
        current is not None
        and work.chunks[at].value[1] in ("off", "out")
        and current.kind != "fastener"
        and current.part is not None
        and current.count is None
        and current.bare()
        and work.chunks[at].end - work.chunks[at].start == 1 + len(work.chunks[at].value[0].split())
        and ahead.kind(work.chunks, at + 1) in ("condition", "be")
    )


def on_be(work: Assembly, chunk: Chunk, at: int) -> None:
    """What "is" so is one thing: of "five bolts and the gasket is torn" the gasket."""
    current = work.current
    if current is not None and work.before == "noun" and chunk.value in _OF_ONE:
        current.joined = current.joined and current.plural


def on_side(work: Assembly, chunk: Chunk, at: int) -> None:
    """Left or right, port or starboard."""
    if work.before in ("conj", "count") and ahead.noun(work.chunks, at + 1):
        work.waiting.side = chunk.value
        return
    if elsewhere.on_other_side(work, chunk.value, at):
        return
    waiting = work.waiting
    if work.current is None and waiting.side not in (None, chunk.value) and waiting.conditions:
        work.push_waiting()  # "left ok right not ok"
        work.waiting.side = chunk.value
        return
    for draft in work.targets():
        if draft.side not in (None, chunk.value):
            work.unused.append(chunk)  # "left and right bearings worn"
        draft.side = draft.side or chunk.value


def on_orientation(work: Assembly, chunk: Chunk, at: int) -> None:
    """Which way round it sits, with others of its kind; two facings are kept together."""
    drafts = work.targets()
    for draft in drafts:
        before = (draft.orientation or "").split()
        if chunk.value.split()[0] in before:
            work.unused.append(chunk)  # "came out lip in, going in lip out"
        elif draft.kind == drafts[0].kind:
            draft.orientation = " ".join(filter(None, (draft.orientation, chunk.value)))


def on_not(work: Assembly, chunk: Chunk, at: int) -> None:
    """The next condition is denied."""
    if work.negated and work.before == "not":
        work.unused.append(chunk)  # "not not"
    work.negated = True


def _denied(work: Assembly, chunk: Chunk) -> bool:
    """Leave out what was said not to be so: "bolts not off the front yet" takes nothing off."""
    if not (work.negated and work.before in ("not", "stray")):
        return False
    work.negated = False
    work.unused.append(chunk)
    return True


def on_all(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "all replace" looks ahead to what is shared, "replace both" looks back."""
    said = work.said
    if said in ("disposition", "action", "container") and not ahead.noun(work.chunks, at + 1):
        same = (c for c in reversed(work.chunks[:at]) if c.kind == said)
        value = next((c.value for c in same if c not in work.unused), None)
        for draft in work.drafts:
            setattr(draft, said, getattr(draft, said) or value)
    else:
        work.everything = True


def on_same(work: Assembly, chunk: Chunk, at: int) -> None:
    """The next part is in the same state as this one ("so is the output seal")."""
    work.again = True


def on_conj(work: Assembly, chunk: Chunk, at: int) -> None:
    """An "and" makes the next noun share; what leads a list ends with the list."""
    after = ahead.kind(work.chunks, at + 1)
    work.joined = ahead.noun(work.chunks, at + 1)
    if chunk.value == "but":
        work.negated = work.everything = False
        if work.current is None and work.joined and not work.waiting.bare():
            work.push_waiting()  # "all good but the seal is torn"
    if not work.joined or after in ("action", "disposition", "quantity"):
        work.forward = None


def on_way(work: Assembly, chunk: Chunk, at: int) -> None:
    """ "Key in gear on, bearing tested": what is in or on has nothing of what comes."""
    if work.current is not None:
        work.current.apart = True


def on_unknown(work: Assembly, chunk: Chunk, at: int) -> None:
    """A word nobody knows: kept, and a "no" before it denies nothing."""
    work.unused.append(chunk._replace(kind="stray") if ahead.so_long(work.chunks, at) else chunk)
    work.negated = False
    work.forward = None  # "keep the gears ditch the bearings"
    _told_oddly(work)
    if work.current is not None and chunk.value in _STAY:
        work.current.apart = True  # "studs stay, nuts in the cup"


def on_stray(work: Assembly, chunk: Chunk, at: int) -> None:
    """A known word that tells nothing where it stands."""
    work.unused.append(chunk)
    work.forward = None
    _told_oddly(work)
    if chunk.value is None:  # what is not so
        if ahead.noun(work.chunks, at + 1):
            work.waiting.apart = True  # "no need to replace the seal, bearing rough"
        elif work.current is not None and work.current.bare():
            work.current.apart = True  # "dowels to come out, bolts off"


def _told_oddly(work: Assembly) -> None:
    if work.current is not None and work.before in ("noun", "be"):
        work.current.odd = True
