"""Lexemes grouped into chunks: a counted noun, a place, a size, a reading, a predicate.

A chunk is what one slot of a finding is filled from.  Nothing here knows
which finding it will belong to; that is `assemble.py`.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from benchvoice.grammar.vocabulary import Container, Part, Unit
from benchvoice.language import sizes
from benchvoice.language.lexicon import Lexeme, Sense
from benchvoice.language.numbers import Number

_NOUN_SENSES = ("part", "place", "side", "qualifier", "relative")
_PLAIN = (
    *(
        "same",
        "rest",
        "all",
        "not",
        "conj",
        "disposition",
        "condition",
        "quantity",
        "action",
        "mark",
    ),
    *("tool", "group", "be", "correction", "it", "article", "last", "stack", "thick"),
)
"""Kinds that become a chunk of the same kind, in the order they are preferred."""
REMOVING = frozenset({"off", "from", "out of", "off of", "off from", "out from", "from under"})
_PLACED = frozenset(
    {"under", "behind", "between", "above", "below", "beneath", "next to", "beside"}
)


_NUMERIC = frozenset({"number", "metric", "hash", "unit", "thread"})
_INTO = frozenset({"in", "into", "to", "onto", "on", "inside"})


class Noun(NamedTuple):
    """A part or place said: `kind` is the part's kind, or "place" for a mere location."""

    name: str
    kind: str
    plural: bool = False
    place: str | None = None
    relative: str | None = None
    side: str | None = None


class Chunk(NamedTuple):
    """One slot's worth of words; `value` depends on `kind`."""

    kind: str
    value: Any
    start: int
    end: int


def chunk(lexemes: list[Lexeme], tokens: list[str]) -> list[Chunk]:
    """Group lexemes into chunks; unknown words become chunks of kind "unknown"."""
    chunks: list[Chunk] = []
    at, size = 0, len(lexemes)
    while at < size:
        found = _read(lexemes, at, tokens)
        if found is None:
            lexeme = lexemes[at]
            word = " ".join(tokens[lexeme.start : lexeme.end])
            kind = _plain_kind(lexemes, at)
            value = lexeme.senses[kind].name if kind in _PLAIN else word
            chunks.append(Chunk(kind, value, lexeme.start, lexeme.end))
            at += 1
        else:
            chunks.append(found[0])
            at = found[1]
    return chunks


def _plain_kind(lexemes: list[Lexeme], at: int) -> str:
    senses = lexemes[at].senses
    after = lexemes[at + 1].senses if at + 1 < len(lexemes) else {}
    if not senses:
        return "unknown"
    if "stack" in senses and ("be" in after or "disposition" not in senses):
        return "stack"  # "order is friction steel", not an order to place
    if "action" in senses and "group" in senses and {"article", "quantity"} & after.keys():
        return "action"  # "set the preload"
    return next((kind for kind in _PLAIN if kind in senses), "word")


def _read(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    senses = lexemes[at].senses
    found: tuple[Chunk, int] | None = None
    if _NUMERIC & senses.keys():
        found = _number(lexemes, at, tokens)
    if found is None and "article" in senses:
        found = _amount_with_article(lexemes, at, tokens)
    if found is None and "container" in senses:
        found = _container(lexemes, at, tokens)
        if found is not None and "part" in senses and not _put_into(lexemes, at, found[1]):
            found = None  # "pan off": the sump, not where things are put
    if found is None and "prep" in senses:
        found = _place(lexemes, at, tokens)
    if found is None and "feature" in senses:
        found = _orientation(lexemes, at, tokens)
    if found is None and "quantity" in senses and "relative" not in senses:
        return None
    if found is None and not ("condition" in senses and "part" not in senses):
        noun = read_noun(lexemes, at)
        if (
            noun is not None
            and _one(lexemes, noun[1])
            and "part" not in lexemes[noun[1] - 1].senses
        ):
            return _chunk("which", noun[0].name, lexemes, at, noun[1] + 1), noun[1] + 1
        if noun is not None:
            return _chunk("noun", noun[0], lexemes, at, noun[1]), noun[1]
        if "relative" in senses:
            return _chunk("relative", senses["relative"].name, lexemes, at, at + 1), at + 1
        if "side" in senses:
            return _chunk("side", senses["side"].name, lexemes, at, at + 1), at + 1
    return found


def _chunk(kind: str, value: Any, lexemes: list[Lexeme], at: int, end: int) -> Chunk:
    return Chunk(kind, value, lexemes[at].start, lexemes[end - 1].end)


def _number(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """A size, a reading with its unit, an ordinal, a count, or what has several readings."""
    doubt = sizes.read_doubt(lexemes, at, tokens)
    if doubt is not None:
        return _chunk("ambiguous", doubt[0], lexemes, at, doubt[1]), doubt[1]
    for reader in (sizes.read_thread, sizes.read_size):
        size = reader(lexemes, at, tokens)
        if size is not None:
            return _chunk("size", size[0], lexemes, at, size[1]), size[1]
    amount = sizes.read_amount(lexemes, at, tokens)
    if amount is not None:
        return _chunk(amount[0].kind, amount[0], lexemes, at, amount[1]), amount[1]
    number = lexemes[at].senses.get("number")
    if not isinstance(number, Number):
        return None
    if number.kind == "ordinal":
        return _chunk("ordinal", int(number.value), lexemes, at, at + 1), at + 1
    if number.value.denominator == 1 and number.kind != "decimal":
        return _chunk("count", int(number.value), lexemes, at, at + 1), at + 1
    return _chunk("bare number", number, lexemes, at, at + 1), at + 1


def _amount_with_article(
    lexemes: list[Lexeme], at: int, tokens: list[str]
) -> tuple[Chunk, int] | None:
    """ "an inch and a quarter long", "a thou and a half"."""
    if at + 1 < len(lexemes) and "unit" in lexemes[at + 1].senses:
        return _number(lexemes, at + 1, tokens)
    return None


def _container(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    sense: Sense = lexemes[at].senses["container"]
    end = at + 1
    name = sense.name
    labelled = isinstance(sense.term, Container) and sense.term.labelled
    if labelled and end < len(lexemes):
        label, end = _label(lexemes, end, tokens)
        name = f"{name} {label}" if label else name
        end = _skip_second_label(lexemes, end)
    return _chunk("container", name, lexemes, at, end), end


def _one(lexemes: list[Lexeme], at: int) -> bool:
    sense = lexemes[at].senses.get("it") if at < len(lexemes) else None
    return sense is not None and sense.name in ("one", "ones")


def _put_into(lexemes: list[Lexeme], at: int, end: int) -> bool:
    before = lexemes[at - 1] if at else None
    if before is not None and "article" in before.senses and at > 1:
        before = lexemes[at - 2]
    prep = before.senses.get("prep") if before else None
    return end > at + 1 or (prep is not None and prep.name in _INTO)


def _label(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[str | None, int]:
    senses = lexemes[at].senses
    skip = at + 1 if "hash" in senses else at
    if skip < len(lexemes):
        number = lexemes[skip].senses.get("number")
        if isinstance(number, Number) and number.value.denominator == 1:
            return _digits(lexemes, skip) or (str(number.value), skip + 1)
    word = tokens[lexemes[at].start]
    if lexemes[at].end - lexemes[at].start == 1 and len(word) == 1 and word not in "a,":
        return word, at + 1
    if "side" in senses:
        return " ".join(tokens[lexemes[at].start : lexemes[at].end]), at + 1
    if "label" in senses:
        noun = read_noun(lexemes, at + 1) if at + 1 < len(lexemes) else None
        if noun is not None:
            return noun[0].name, noun[1]
    return None, at


def _digits(lexemes: list[Lexeme], at: int) -> tuple[str, int] | None:
    """Read a label said digit by digit to the end of the remark ("box one one seven")."""
    digits = ""
    while at < len(lexemes):
        number = lexemes[at].senses.get("number")
        if not isinstance(number, Number) or number.value not in range(10):
            return None
        digits, at = digits + str(number.value), at + 1
    return (digits, at) if len(digits) > 1 else None


def _skip_second_label(lexemes: list[Lexeme], at: int) -> int:
    """ "bag three label pump": the number names the bag, the label is for the eye."""
    if at < len(lexemes) and "label" in lexemes[at].senses:
        noun = read_noun(lexemes, at + 1, bare=True) if at + 1 < len(lexemes) else None
        return noun[1] if noun else at + 1
    return at


def _place(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """A preposition with the place after it; `value` is (place, preposition)."""
    preposition = lexemes[at].senses["prep"].name
    if preposition in ("with", "by"):
        return None
    after = at + 1
    while after < len(lexemes) and "article" in lexemes[after].senses:
        after += 1
    if after + 1 < len(lexemes) and tokens[lexemes[after].start] == "there":
        after += 1
    if after < len(lexemes) and "it" in lexemes[after].senses and preposition in REMOVING:
        return _chunk("action", "removed", lexemes, at, after + 1), after + 1
    if after >= len(lexemes):
        return None
    senses = lexemes[after].senses
    if "container" in senses and (preposition in _INTO or "part" not in senses):
        return None
    noun = read_noun(lexemes, after)
    if noun is None:
        side = senses.get("side")
        if side is None:
            return None
        return _chunk("side", side.name, lexemes, at, after + 1), after + 1
    value, end = noun
    if preposition == "of" and at and _count_kind(lexemes[at - 1]) == "count":
        return _chunk("noun", value, lexemes, at, end), end
    name = " ".join(filter(None, (value.place, value.name)))
    if preposition in _PLACED:
        name = f"{preposition} {name}"
    return _chunk("place", (name, preposition, value), lexemes, at, end), end


def _count_kind(lexeme: Lexeme) -> str:
    return "count" if {"number", "all", "it"} & lexeme.senses.keys() else ""


def _orientation(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    feature = lexemes[at].senses["feature"].name
    end = at + 1
    while end < len(lexemes) and "be" in lexemes[end].senses:
        end += 1
    direction = lexemes[end].senses.get("direction") if end < len(lexemes) else None
    if direction is None:
        return None
    end += 1
    words = f"{feature} {direction.name}"
    if direction.name.split()[-1] in ("toward", "against", "to"):
        while end < len(lexemes) and "article" in lexemes[end].senses:
            end += 1
        noun = read_noun(lexemes, end) if end < len(lexemes) else None
        if noun is None:
            return None
        words, end = f"{words} {noun[0].name}", noun[1]
    return _chunk("orientation", words, lexemes, at, end), end


def read_noun(lexemes: list[Lexeme], at: int, *, bare: bool = False) -> tuple[Noun, int] | None:
    """Read "front cover bolts", "reverse clutch hub", "pump cover", "front".

    A plural ends it.  With a fastener last, what stands before is its place.
    With `bare`, a lone qualifier will do ("label pump").
    """
    end, head = at, -1
    while end < len(lexemes):
        senses = lexemes[end].senses
        if not any(kind in senses for kind in _NOUN_SENSES):
            break
        if end > at and ("feature" in senses and _faces(lexemes, end)):
            break
        if head == end - 1 and "part" in senses and _side_by_side(lexemes[head], lexemes[end]):
            break
        if "part" in senses or "place" in senses or bare:
            head = end
        end += 1
        if "part" in senses and senses["part"].plural:
            break
    if head < 0:
        return None
    return _make_noun(lexemes[at : head + 1]), head + 1


def _faces(lexemes: list[Lexeme], at: int) -> bool:
    """Whether an orientation starts here ("lip facing up")."""
    at += 1
    while at < len(lexemes) and "be" in lexemes[at].senses:
        at += 1
    return at < len(lexemes) and "direction" in lexemes[at].senses


def _side_by_side(first: Lexeme, second: Lexeme) -> bool:
    """Whether two parts are named one after the other: a plate does not qualify a plate."""
    one, two = first.senses.get("part"), second.senses["part"]
    if one is None:
        return False
    if one.name == two.name or two.name.endswith(" " + one.name):
        return True
    if one.term.kind != two.term.kind or "qualifier" in first.senses:
        return False
    return one.term.kind == "plate" or (" " in one.name and " " in two.name)


def _make_noun(run: list[Lexeme]) -> Noun:
    last = run[-1].senses
    head: Sense = last.get("part") or last.get("place") or last.get("qualifier") or last["side"]
    kind = head.term.kind if isinstance(head.term, Part) else "place"
    before = run[:-1]
    relative = side = None
    names: list[str] = []
    is_place = False
    for lexeme in before:
        if "side" in lexeme.senses and not {"qualifier", "part", "place"} & lexeme.senses.keys():
            side = lexeme.senses["side"].name
            continue
        if "relative" in lexeme.senses and "qualifier" not in lexeme.senses:
            relative = lexeme.senses["relative"].name
            continue
        for sense_kind in ("qualifier", "part", "place", "side"):
            if sense_kind in lexeme.senses:
                names.append(lexeme.senses[sense_kind].name)
                is_place |= "place" in lexeme.senses or "part" in lexeme.senses
                break
    if kind == "fastener" and names and is_place:
        return Noun(head.name, kind, head.plural, " ".join(names), relative, side)
    name = " ".join([*names, head.name])
    if kind == "place" and "part" not in last and not _thing(last):
        return Noun(name, "place", head.plural, None, relative, side)
    return Noun(name, kind, head.plural, None, relative, side)


def _thing(senses: dict[str, Any]) -> bool:
    return "part" in senses


def unit_of(lexeme: Lexeme) -> Unit | None:
    """The unit of measure a lexeme may stand for."""
    sense = lexeme.senses.get("unit")
    return sense.term if sense is not None and isinstance(sense.term, Unit) else None
