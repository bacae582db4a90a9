"""Whether what is counted or sized here is a fastener, asked of lexemes at a position."""

from __future__ import annotations

from benchvoice.language.lexicon import Lexeme, Sense

_BETWEEN = frozenset({"be", "all", "it"})
_COUNTED = frozenset({"part", "place", "qualifier", "unit", "number", "relative"})


def is_fastener(part: Sense | None) -> bool:
    """Whether the sense of a word as a part is a fastener."""
    return part is not None and getattr(part.term, "kind", "") == "fastener"


def of_fastener(lexemes: list[Lexeme], at: int) -> bool:
    """Whether "bolts" or "bolts of" stands before."""
    prep = lexemes[at - 1].senses.get("prep") if at > 1 else None
    before = at - 2 if prep is not None and prep.name == "of" else at - 1
    return before >= 0 and fastener_at(lexemes[: before + 1], before)


def after_fastener(lexemes: list[Lexeme], start: int, end: int) -> bool:
    """Whether a fastener stands before and nothing that is counted after ("bolts are ten 24")."""
    if end < len(lexemes) and not _COUNTED.isdisjoint(lexemes[end].senses):
        return False
    before = start - 1
    while before >= 0 and not _BETWEEN.isdisjoint(lexemes[before].senses):
        before -= 1
    return before >= 0 and is_fastener(lexemes[before].senses.get("part"))


def fastener_at(lexemes: list[Lexeme], at: int, *, plural: bool = False) -> bool:
    """Whether a noun with a fastener as its head starts here."""
    while at < len(lexemes):
        senses = lexemes[at].senses
        part = senses.get("part")
        if part is not None and is_fastener(part):
            return part.plural or not plural
        if not {"relative", "qualifier", "place", "part"} & senses.keys():
            return False
        at += 1
    return False


def uncounted_at(lexemes: list[Lexeme], at: int) -> bool:
    """Whether a plural fastener stands here that no number stands before ("bolts eight inch")."""
    while at > 0 and "conj" in lexemes[at].senses:
        at -= 1
    part = lexemes[at].senses.get("part")
    if part is None or not part.plural or not is_fastener(part):
        return False
    return all("number" not in one.senses for one in lexemes[:at])
