"""Names of parts and places read from lexemes: "front cover bolts", "reverse clutch hub"."""

from __future__ import annotations

from typing import NamedTuple

from benchvoice.grammar.vocabulary import Part
from benchvoice.language.fasteners import is_fastener
from benchvoice.language.lexicon import Lexeme, Sense, senses_at
from benchvoice.language.numbers import Number

NOUN_SENSES = frozenset({"part", "place", "side", "qualifier", "relative"})
_NAMING = frozenset({"qualifier", "part", "place"})
_WHERE = frozenset("front rear top bottom middle".split())
_SIMPLE = frozenset({"fastener", "seal", "spring"})
"""Kinds of parts that have no parts of their own."""
_LOOSE = frozenset({"bolt", "nut", "washer", "shim", "spacer", "snap ring", "key"})
"""Fasteners that nothing else is called after."""
_LISTED = frozenset({"conj", "article"})
_ORDER = 4
"""Lexemes of the shortest list that is told from one end: "from top nut washer"."""
_AS_NAMED = ("qualifier", "part", "place", "side")


class Noun(NamedTuple):
    """A part or place said: `kind` is the part's kind, or "place" for a mere location.

    `where` is the word of the name that tells where it sits ("rear bearing").
    """

    name: str
    kind: str
    plural: bool = False
    place: str | None = None
    relative: str | None = None
    side: str | None = None
    where: str | None = None


def read_noun(lexemes: list[Lexeme], at: int, *, bare: bool = False) -> tuple[Noun, int] | None:
    """Read "front cover bolts", "reverse clutch hub", "pump cover", "front".

    A plural ends it.  With a fastener last, what stands before is its place.
    With `bare`, a lone qualifier will do ("label pump").
    """
    end, head, sides = at, -1, 0
    listed = at > 0 and _lists(lexemes[at - 1])
    while end < len(lexemes):
        senses = lexemes[end].senses
        if NOUN_SENSES.isdisjoint(senses) or _of_those(lexemes[end]):
            break
        if end > at and ("feature" in senses and _faces(lexemes, end)):
            break
        if head >= 0 and "part" in senses and _begins_anew(lexemes, head, end, listed=listed):
            break
        sides += "side" in senses and _NAMING.isdisjoint(senses)
        if sides > 1:
            break  # "left bearing left seal"
        if end > at and "direction" in senses and _faces(lexemes, end):
            break  # "the writing on the bearing faces out"
        named = any(kind in senses for kind in _AS_NAMED)
        if "part" in senses or "place" in senses or (bare and named):
            head = end
        end += 1
        if "part" in senses and senses["part"].plural:
            break
    if head < 0:
        return None
    return _make_noun(lexemes[at : head + 1]), head + 1


def read_place(lexemes: list[Lexeme], at: int) -> tuple[Noun, int] | None:
    """Read the noun after a preposition; in "out of the case gears are scored" that is the case."""
    found = read_noun(lexemes, at)
    if found is None or not found[0].plural or found[0].kind == "fastener":
        return found
    end = found[1]
    told = end < len(lexemes) and "be" in lexemes[end].senses
    return (read_noun(lexemes[: end - 1], at) if told and end - at > 1 else None) or found


def read_other(lexemes: list[Lexeme], at: int) -> tuple[Noun, int] | None:
    """Read the second of "between the pump and the case"."""
    conj = lexemes[at].senses.get("conj") if at + 1 < len(lexemes) else None
    if conj is None or conj.name != "and":
        return None
    at += 1
    while "article" in senses_at(lexemes, at):
        at += 1
    return read_noun(lexemes, at) if at < len(lexemes) else None


def in_a_row(lexemes: list[Lexeme], at: int) -> bool:
    """ "Of the first worm", "on the last gear": which in a row, before a noun."""
    senses = lexemes[at].senses if at + 1 < len(lexemes) else {}
    number = senses.get("number")
    row = "last" in senses or (isinstance(number, Number) and number.kind == "ordinal")
    return row and read_noun(lexemes, at + 1) is not None


def one_place(lexemes: list[Lexeme], at: int) -> bool:
    """ "Chipped on one edge": one of its places, and no part that is counted."""
    number = lexemes[at].senses.get("number") if at + 1 < len(lexemes) else None
    if not isinstance(number, Number) or number.value != 1:
        return False
    noun = read_noun(lexemes, at + 1)
    return noun is not None and noun[0].kind == "place"


def from_end(lexemes: list[Lexeme], tokens: list[str]) -> int | None:
    """Give where the list begins that "from the top snap ring washer spring" tells the order of."""
    if "from" not in tokens[:_ORDER]:
        return None  # as in most remarks
    at = next((at for at, one in enumerate(lexemes) if "stack" not in one.senses), 0)
    if tokens[lexemes[at].start] != "from" or len(lexemes) < at + _ORDER:
        return None
    at += 1 + ("article" in lexemes[at + 1].senses)
    if "place" not in lexemes[at].senses or "part" in lexemes[at].senses:
        return None
    at += 1 + (tokens[lexemes[at + 1].start] in ("in", "up", "down"))
    rest = [one.senses for one in lexemes[at:] if _LISTED.isdisjoint(one.senses)]
    named = len(rest) > 1 and all("part" in one and not one["part"].plural for one in rest)
    return at if named else None


def of_one_before(lexemes: list[Lexeme], at: int) -> bool:
    """Whether a side between two of a part is of the first: "thin shim left, thick shim right"."""
    before = lexemes[at - 1].senses.get("part") if at else None
    if before is None or "side" not in lexemes[at].senses or "place" in lexemes[at].senses:
        return False
    parts = [one.senses.get("part") for one in lexemes[at + 1 : at + 3]]
    return any(one is not None and one.name == before.name for one in parts)


def adjoins(lexemes: list[Lexeme], at: int) -> bool:
    """Whether a word that is a place too stands right before its fastener ("inside bolts")."""
    return "place" in lexemes[at].senses and is_fastener(senses_at(lexemes, at + 1).get("part"))


def of_container(lexemes: list[Lexeme], at: int) -> str | None:
    """Read "left hand tin", which of several: the container's name with its side."""
    side = lexemes[at].senses.get("side")
    after = senses_at(lexemes, at + 1)
    if side is None or "container" not in after or "part" in after:
        return None
    return f"{after['container'].name} {side.name}"


def shared_head(lexemes: list[Lexeme], at: int) -> Noun | None:
    """Read "forward" in "forward and reverse shafts": it is of what the next is of."""
    if at + 2 >= len(lexemes) or not _tells_which(lexemes[at]):
        return None
    conj = lexemes[at + 1].senses.get("conj")
    found = read_noun(lexemes, at + 2) if conj is not None and conj.name == "and" else None
    if found is None:
        return None
    noun, run = found[0], lexemes[at + 2 : found[1]]
    which, rest = lexemes[at].senses.get("qualifier"), noun.name.partition(" ")[2]
    if len(run) == 1 and which is not None and rest and "place" not in lexemes[at].senses:
        return noun._replace(name=f"{which.name} {rest}", plural=False)  # "outer rotor" is one term
    if len(run) < 2 or not _tells_which(run[0]) or noun.kind in ("place", "fastener"):
        return None
    return _make_noun([lexemes[at], *run[1:]])._replace(plural=False)


def _lists(lexeme: Lexeme) -> bool:
    """Whether a list goes on behind it: one part right before, or an order announced."""
    part = lexeme.senses.get("part")
    return (part is not None and not part.plural) or "stack" in lexeme.senses


def _loose(lexeme: Lexeme) -> bool:
    """Whether it is one fastener of a kind that nothing is called after: what follows is a list."""
    part = lexeme.senses.get("part")
    return part is not None and part.name in _LOOSE and not part.plural


def _of_those(lexeme: Lexeme) -> bool:
    """ "Long ones", which are a thing by themselves, before "top"."""
    senses = lexeme.senses
    return "relative" in senses and lexeme.end - lexeme.start > 1 and "part" not in senses


def _tells_which(lexeme: Lexeme) -> bool:
    return not {"qualifier", "place"}.isdisjoint(lexeme.senses) and "part" not in lexeme.senses


def _faces(lexemes: list[Lexeme], at: int) -> bool:
    """Whether an orientation starts here ("lip facing up")."""
    at += 1
    while "be" in senses_at(lexemes, at):
        at += 1
    return "direction" in senses_at(lexemes, at)


def _begins_anew(lexemes: list[Lexeme], head: int, at: int, *, listed: bool) -> bool:
    """Whether a part here is another than the one that was named last in the run."""
    if head == at - 1:
        return _side_by_side(lexemes[head], lexemes[at], listed=listed)
    first = lexemes[head].senses.get("part")  # "thin shim left thick shim right"
    return first is not None and first.name == lexemes[at].senses["part"].name


def _side_by_side(first: Lexeme, second: Lexeme, *, listed: bool) -> bool:
    """Whether two parts are named one after the other: a plate does not qualify a plate."""
    one, two = first.senses.get("part"), second.senses["part"]
    if one is None:
        return False
    loose = _loose(first) and two.term.kind != "housing"
    if (listed or loose) and not two.plural:
        return True  # "nut washer gear shim"
    if one.name == two.name or two.name.endswith(" " + one.name):
        return True
    if one.term.kind in _SIMPLE and two.term.kind != "fastener" and " " in two.name:
        return True  # "snap ring, pressure plate"
    if one.term.kind != two.term.kind or "qualifier" in first.senses:
        return False
    return one.term.kind == "plate" or (" " in one.name and " " in two.name)


def _located(run: list[Lexeme]) -> bool:
    """ "Bearing front": a part and where it is, unless it is a housing that has a front."""
    part, place = run[-2].senses.get("part"), run[-1].senses.get("place")
    return (
        part is not None
        and place is not None
        and place.name in _WHERE
        and part.term.kind != "housing"
    )


def _make_noun(run: list[Lexeme]) -> Noun:
    last = run[-1].senses
    part: Sense | None = last.get("part")
    if part is None and len(run) > 1 and _located(run):
        return _make_noun(run[:-1])._replace(place=last["place"].name)
    head = part or last.get("place") or last.get("qualifier") or last["side"]
    kind = part.term.kind if part is not None and isinstance(part.term, Part) else "place"
    if len(run) == 1:
        return Noun(head.name, kind, head.plural)
    relative = side = None
    names: list[str] = []
    place = ""
    for lexeme in run[:-1]:
        senses = lexeme.senses
        if "side" in senses and _NAMING.isdisjoint(senses):
            side = senses["side"].name
        elif "relative" in senses and "qualifier" not in senses:
            relative = senses["relative"].name
        else:
            sense = next(senses[kind] for kind in _AS_NAMED if kind in senses)
            names.append(sense.name)
            if "place" in senses or "part" in senses:
                place = senses.get("place", sense).name
    if kind == "fastener" and names and place:
        return Noun(head.name, kind, head.plural, " ".join([*names[:-1], place]), relative, side)
    name = " ".join([*names, head.name])
    first = run[0].senses
    where = names[0] if names and "place" in first and "part" not in first else None
    return Noun(name, kind, head.plural, None, relative, side, where)
