"""Lexemes grouped into chunks: a counted noun, a place, a size, a reading, a predicate.

A chunk is what one slot of a finding is filled from.  Nothing here knows
which finding it will belong to; that is `assemble.py`.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from benchvoice.grammar.vocabulary import Container
from benchvoice.language import sizes
from benchvoice.language.facing import read_facing
from benchvoice.language.lexicon import Lexeme, Sense, senses_at
from benchvoice.language.noun_phrases import (
    NOUN_SENSES,
    adjoins,
    from_end,
    in_a_row,
    of_container,
    of_one_before,
    one_place,
    read_noun,
    read_other,
    read_place,
    shared_head,
)
from benchvoice.language.numbers import DIGITS, TENS, Number

_PLAIN = (
    *(
        "same",
        "rest",
        "other",
        "each side",
        "all",
        "not",
        "conj",
        "disposition",
        "condition",
        "quantity",
        "action",
        "mark",
    ),
    *("tool", "group", "be", "correction", "it", "article", "last", "stack", "thick", "broken"),
    *("new", "home", "need"),
)
"""Kinds that become a chunk of the same kind, in the order they are preferred."""
REMOVING = frozenset({"off", "from", "out of", "off of", "off from", "out from", "from under"})
PLACED = frozenset(
    {"under", "behind", "between", "above", "below", "beneath", "next to", "beside", "by"}
)
"""What stays in the name of a place: "under the cover"."""
_NUMERIC = frozenset({"number", "metric", "hash", "unit", "thread"})
_NOT_NOUN = _NUMERIC | {"article", "container", "prep", "feature"}
_OPENING = _NOT_NOUN | NOUN_SENSES
"""What may open a chunk of several lexemes."""
_STRAY = frozenset(
    "qualifier feature direction unit place side relative tenths norm need metric vague".split()
)
"""What tells nothing alone, and must not be lost without a word."""
_GOES_ON = _NUMERIC | frozenset(
    "tenths article prep conj range long head thick quantity tool feature side it".split()
)
"""What may make more of a number than a count."""
_MOST = 99_999
"""What is counted on a bench; beyond it a number is something else."""
_TWO_DIGITS = 2
"""A label of three, said digit by digit, is one label; of two it may be two."""
_COUNTS = frozenset({"number", "all", "it"})
_INTO = frozenset({"in", "into", "to", "onto", "on", "inside"})


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
    order = from_end(lexemes, tokens)
    if order is not None:
        end = lexemes[order - 1].end
        chunks, at = [Chunk("stack", "", 0, 0), Chunk("bound", None, 0, end)], order
    while at < size:
        senses, start, end = lexemes[at]
        found = None if _OPENING.isdisjoint(senses) else _read(lexemes, at, tokens)
        if found is not None:
            chunks.append(found[0])
            at = found[1]
            continue
        kind = _plain_kind(lexemes, at)
        named = senses.get(kind) if kind in _PLAIN else None
        value = " ".join(tokens[start:end]) if named is None else named.name
        it = kind in ("action", "disposition") and tokens[end - 1] in ("it", "them")
        pronoun = [Chunk("it", "it", end - 1, end)] if it and end > start + 1 else []
        chunks += [Chunk(kind, value, start, end), *pronoun]  # of what is before
        at += 1
    return chunks


def _plain_kind(lexemes: list[Lexeme], at: int) -> str:
    senses = lexemes[at].senses
    if not senses or "thread" in senses:
        return "unknown"
    if "stack" in senses or "group" in senses:
        after = senses_at(lexemes, at + 1)
        if "stack" in senses and ("be" in after or "disposition" not in senses):
            return "stack"  # "order is friction steel", not an order to place
        if "action" in senses and ("article" in after or "quantity" in after):
            return "action"  # "set the preload"
    for kind in _PLAIN:
        if kind in senses and not (kind == "condition" and _is_done(lexemes, at)):
            return kind
    return "word" if _STRAY.isdisjoint(senses) else "stray"


def _is_done(lexemes: list[Lexeme], at: int) -> bool:
    """Whether what may be found or done was done: seals are blown out, passages with air."""
    condition = lexemes[at].senses["condition"].term
    if "action" not in lexemes[at].senses or not condition.on:
        return False
    commas = [end for end, one in enumerate(lexemes) if "conj" in one.senses]
    start = max((end for end in commas if end < at), default=0)
    stop = min((end for end in commas if end > at), default=len(lexemes))
    for first, end in ((start, at), (at, stop), (0, start)):
        kinds = {
            lexemes[one].senses["part"].term.kind
            for one in range(first, end)
            if "part" in lexemes[one].senses
            and not (one + 1 < end and "part" in lexemes[one + 1].senses)  # "seal housing"
        }
        if kinds:
            return kinds.isdisjoint(condition.on)
    return False


def _read(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """Read a chunk of one or more lexemes, the surest kind first."""
    senses = lexemes[at].senses
    if not _NOT_NOUN.isdisjoint(senses):
        found = _read_other(lexemes, at, tokens)
        if found is not None:
            return found
    if "quantity" in senses and "relative" not in senses:
        named = "qualifier" in senses and at + 1 < len(lexemes)
        if not (named and "part" in lexemes[at + 1].senses):
            return None  # "pressure"; but "pressure spring" is a part
    if NOUN_SENSES.isdisjoint(senses) or ("condition" in senses and "part" not in senses):
        return None
    return _read_named(lexemes, at)


def _read_other(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """Read what starts with a number, an article, a container, a preposition or a feature."""
    senses = lexemes[at].senses
    found: tuple[Chunk, int] | None = None
    if not _NUMERIC.isdisjoint(senses):
        found = _number(lexemes, at, tokens)
    if found is None and "article" in senses:
        found = _amount_with_article(lexemes, at, tokens)
    if found is None and "container" in senses:
        found = _container(lexemes, at, tokens)
        if found is not None and "part" in senses and not _put_into(lexemes, at, found[1]):
            found = None  # "pan off": the sump, not where things are put
    if found is None and "prep" in senses and not adjoins(lexemes, at):
        found = _place(lexemes, at, tokens)
    if found is None and "feature" in senses:
        facing = read_facing(lexemes, at, tokens)
        if facing is not None:
            found = _chunk("orientation", facing[0], lexemes, at, facing[1]), facing[1]
    return found


def _read_named(lexemes: list[Lexeme], at: int) -> tuple[Chunk, int] | None:
    """Read a noun, or which of several ("the inner one"), or a size or side alone."""
    sided = of_container(lexemes, at)
    if sided is not None:
        return _chunk("container", sided, lexemes, at, at + 2), at + 2
    if of_one_before(lexemes, at):
        side = lexemes[at].senses["side"]
        return _chunk("side", side.name, lexemes, at, at + 1), at + 1
    shared = shared_head(lexemes, at)
    noun = read_noun(lexemes, at) if shared is None else (shared, at + 1)
    if noun is not None:
        value, end = noun
        if _one(lexemes, end) and "part" not in lexemes[end - 1].senses:
            return _chunk("which", value.name, lexemes, at, end + 1), end + 1
        return _chunk("noun", value, lexemes, at, end), end
    qualifier = lexemes[at].senses.get("qualifier")
    if qualifier is not None and at + 1 < len(lexemes) and "quantity" in lexemes[at + 1].senses:
        return _chunk("measured at", qualifier.name, lexemes, at, at + 1), at + 1
    for kind in ("relative", "side"):
        sense = lexemes[at].senses.get(kind)
        if sense is not None:
            return _chunk(kind, sense.name, lexemes, at, at + 1), at + 1
    return None


def _chunk(kind: str, value: Any, lexemes: list[Lexeme], at: int, end: int) -> Chunk:
    first, last = lexemes[at], lexemes[end - 1]  # after a correction the first was said last
    return Chunk(kind, value, min(first.start, last.start), max(first.end, last.end))


def _number(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """A size, a reading with its unit, an ordinal, a count, or what has several readings."""
    plain = lexemes[at].senses.get("number")
    if isinstance(plain, Number) and plain.kind == "cardinal" and _stands_alone(lexemes, at + 1):
        return _whole(plain, lexemes, at)
    doubt = sizes.read_doubt(lexemes, at, tokens)
    if doubt is not None:
        return _chunk("doubt", doubt[0], lexemes, at, doubt[1]), doubt[1]
    for reader in (sizes.read_thread, sizes.read_size):
        size = reader(lexemes, at, tokens)
        if size is not None:
            return _chunk("size", size[0], lexemes, at, size[1]), size[1]
    amount = sizes.read_amount(lexemes, at, tokens)
    if amount is not None:
        return _chunk(amount[0].kind, amount[0], lexemes, at, amount[1]), amount[1]
    number = lexemes[at].senses.get("number")
    if not isinstance(number, Number):
        if "hash" in lexemes[at].senses and sizes.number_at(lexemes, at + 1):
            return _chunk("stray", None, lexemes, at, at + 2), at + 2  # "bolt number four"
        return None
    if number.kind == "ordinal":
        return _chunk("ordinal", int(number.value), lexemes, at, at + 1), at + 1
    if number.value.denominator == 1 and number.kind != "decimal":
        return _whole(number, lexemes, at)
    return _chunk("bare number", number, lexemes, at, at + 1), at + 1


def _stands_alone(lexemes: list[Lexeme], after: int) -> bool:
    """Whether what follows a number says at once that it is only a count."""
    if after >= len(lexemes):
        return True
    senses = lexemes[after].senses
    return bool(senses) and _GOES_ON.isdisjoint(senses)


def _whole(number: Number, lexemes: list[Lexeme], at: int) -> tuple[Chunk, int]:
    if number.value > _MOST:
        return _chunk("bare number", number, lexemes, at, at + 1), at + 1
    return _chunk("count", int(number.value), lexemes, at, at + 1), at + 1


def _amount_with_article(
    lexemes: list[Lexeme], at: int, tokens: list[str]
) -> tuple[Chunk, int] | None:
    """ "an inch and a quarter long", "a thou and a half"."""
    if "unit" in senses_at(lexemes, at + 1):
        return _number(lexemes, at + 1, tokens)
    return None


def _container(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    sense: Sense = lexemes[at].senses["container"]
    end = at + 1
    name = sense.name
    labelled = isinstance(sense.term, Container) and sense.term.labelled
    if labelled and end < len(lexemes):
        label, end = _label(lexemes, end, tokens)
        if label is None and at and not lexemes[at - 1].senses and read_noun(lexemes, end):
            return None  # "stuffing box bushings"
        name = f"{name} {label}" if label else name
        end = _skip_second_label(lexemes, end)
    chunk = _chunk("container", name, lexemes, at, end)
    return _label_or_count(chunk, lexemes, end, tokens) or chunk, end


def _label_or_count(
    chunk: Chunk, lexemes: list[Lexeme], end: int, tokens: list[str]
) -> Chunk | None:
    """ "tray twenty four bolts": tray 24, or tray 20 with four of them; "tray four five": 45?"""
    kind, _, label = chunk.value.rpartition(" ")
    first, second = tokens[chunk.end - 2 : chunk.end] if chunk.end > 1 else ("", "")
    noun = read_noun(lexemes, end) if first in TENS and second in DIGITS else None
    if noun is not None and noun[0].plural:
        other = f"{kind} {TENS[first]}, {DIGITS[second]} of them"
    elif label == f"{DIGITS.get(first) or ''}{DIGITS.get(second)}" and len(label) == _TWO_DIGITS:
        other = f"{kind} {label[0]} and {label[1]}"
    else:
        return None
    text = " ".join(tokens[chunk.start : chunk.end])
    readings = f"{kind} {label}", other
    return chunk._replace(
        kind="doubt", value=sizes.Reading("ambiguous", 0, None, text=text, readings=readings)
    )


def _one(lexemes: list[Lexeme], at: int) -> bool:
    sense = senses_at(lexemes, at).get("it")
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
    ends = at + 1 == len(lexemes) or "conj" in lexemes[at + 1].senses
    letter = lexemes[at].end - lexemes[at].start == 1 and len(word) == 1 and word != ","
    if letter and (word != "a" or ends):
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
    if "label" in senses_at(lexemes, at):
        noun = read_noun(lexemes, at + 1, bare=True) if at + 1 < len(lexemes) else None
        return noun[1] if noun else at + 1
    return at


def _place(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[Chunk, int] | None:
    """A preposition with the place after it; `value` is (place, preposition)."""
    preposition, after = lexemes[at].senses["prep"].name, at + 1
    the = "article" in senses_at(lexemes, after)
    purpose = preposition == "for" and the and tokens[lexemes[after].start] in ("a", "an")
    if purpose or preposition == "with" or (preposition == "by" and not the):
        return None  # "to the machine shop for a sleeve"
    while after < len(lexemes) and (
        "article" in lexemes[after].senses or tokens[lexemes[after].start] in ("every", "each")
    ):
        after += 1
    which = tokens[lexemes[after].start] if the and in_a_row(lexemes, after) else None
    there = after + 1 < len(lexemes) and tokens[lexemes[after].start] == "there"
    between = preposition == "between" and "number" in senses_at(lexemes, after)
    if which or there or between or one_place(lexemes, after):
        after += 1
    senses = senses_at(lexemes, after)
    if "it" in senses and preposition in REMOVING:
        return _chunk("action", "removed", lexemes, at, after + 1), after + 1
    kept = "container" in senses and (preposition in _INTO or "part" not in senses)
    if after >= len(lexemes) or kept or of_container(lexemes, after):
        return None
    if after == at + 1 and "feature" in senses and read_facing(lexemes, after, tokens):
        return None  # "seal in lip out"
    noun = read_place(lexemes, after)
    if noun is None:
        if "side" not in senses:
            return None
        return _chunk("side", senses["side"].name, lexemes, at, after + 1), after + 1
    value, end = noun
    if preposition == "off" and _one(lexemes, end) and "be" in senses_at(lexemes, end + 1):
        return None  # "front bolts off the rear ones are stuck"
    if preposition == "of" and at and not _COUNTS.isdisjoint(lexemes[at - 1].senses):
        return _chunk("noun", value, lexemes, at, end), end
    name = " ".join(filter(None, (which, value.side, value.place, value.name)))
    if preposition in PLACED:
        other = read_other(lexemes, end) if preposition == "between" else None
        name, end = (f"{name} and {other[0].name}", other[1]) if other else (name, end)
        name = f"{preposition} {name}"
    return _chunk("place", (name, preposition, value), lexemes, at, end), end
