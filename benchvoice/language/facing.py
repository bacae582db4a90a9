"""Which way round a part sits, read from lexemes: "lip up", "tabs toward the hub"."""

from __future__ import annotations

from benchvoice.language import sizes
from benchvoice.language.lexicon import Lexeme, senses_at
from benchvoice.language.noun_phrases import read_noun

_LED_TO = frozenset({"article", "container"})
_FROM = frozenset({"from", "of", "off"})
_BEFORE = 2
"""So many words before a feature may a "from" stand: "from the lip to the face"."""


def read_facing(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[str, int] | None:
    """Read a feature and where it faces; gives the words for it and the position after it."""
    feature = lexemes[at].senses["feature"].name
    end = at + 1
    while "be" in senses_at(lexemes, end):
        end += 1
    direction = senses_at(lexemes, end).get("direction")
    if direction is None:
        return _turned_to(lexemes, at, tokens)
    end += 1
    if "prep" in lexemes[end - 1].senses and end < len(lexemes):
        after = lexemes[end].senses
        if direction.name in ("in", "out") and not _LED_TO.isdisjoint(after):
            return None  # "teeth are in the tub"
    words = f"{feature} {direction.name}"
    if direction.name.split()[-1] in ("toward", "against", "to"):
        while "article" in senses_at(lexemes, end):
            end += 1
        noun = read_noun(lexemes, end) if end < len(lexemes) else None
        if noun is None:
            return None
        words, end = f"{words} {noun[0].name}", noun[1]
    return words, end


def _turned_to(lexemes: list[Lexeme], at: int, tokens: list[str]) -> tuple[str, int] | None:
    """ "Lip to the oil" faces it; "from lip to the face" and "lip to the face five thou" do not."""
    start, end = lexemes[at].start, lexemes[at].end
    if tokens[end : end + 2] != ["to", "the"]:
        return None
    noun = read_noun(lexemes, at + 3) if at + 3 < len(lexemes) else None
    if noun is None or not _FROM.isdisjoint(tokens[max(0, start - _BEFORE) : start]):
        return None
    if sizes.number_at(lexemes, noun[1]) is not None:
        return None
    return f"{lexemes[at].senses['feature'].name} toward {noun[0].name}", noun[1]
