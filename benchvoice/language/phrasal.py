"""Verbs that are said around their part: "took the pump out", "send the housing out"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from benchvoice.language.lexicon import Lexeme, senses_at

_PARTICLES = frozenset(
    {"out", "off", "in", "on", "up", "down", "over", "loose", "again", "back in", "back on", "back"}
)
_NO_VERBS = frozenset({"is", "are", "was", "has", "have", "back"})
_BETWEEN = frozenset(
    {
        "article",
        "part",
        "place",
        "qualifier",
        "side",
        "number",
        "relative",
        "condition",
        "it",
        "all",
    }
)
_NAMING = frozenset({"part", "place", "qualifier", "side"})
_COMING = frozenset({"came", "come", "comes"})
_REACH = 7

Verbs = Mapping[str, Mapping[str, dict[str, Any]]]
"""Verb to particle to the senses of the two together."""


def split_verbs(phrases: Iterable[tuple[str, str, Any]]) -> dict[str, dict[str, dict[str, Any]]]:
    """Collect from (phrase, kind, sense) the verbs that can be split from their particle."""
    verbs: dict[str, dict[str, dict[str, Any]]] = {}
    for phrase, kind, sense in phrases:
        verb, _, particle = phrase.partition(" ")
        if particle in _PARTICLES and verb not in _NO_VERBS:
            verbs.setdefault(verb, {}).setdefault(particle, {kind: sense})
    return verbs


def join(lexemes: list[Lexeme], tokens: list[str], verbs: Verbs) -> list[Lexeme]:
    """Give a split verb the sense it has with its particle, and drop the particle.

    "out of the case" keeps its words: only the verb is changed.
    """
    if verbs.keys().isdisjoint(tokens):
        return lexemes
    result: list[Lexeme] = []
    dropped: set[int] = set()
    for at, lexeme in enumerate(lexemes):
        if at in dropped:
            continue
        particles = verbs.get(tokens[lexeme.start])
        found = None
        if particles is not None and lexeme.end == lexeme.start + 1:
            found = _particle(lexemes, at + 1, tokens, particles)
        if found is None:
            result.append(lexeme)
            continue
        place, senses, whole = found
        result.append(Lexeme(senses, lexeme.start, lexeme.end))
        if whole:
            dropped.add(place)
    return result


def without_back(lexemes: list[Lexeme], tokens: list[str]) -> list[Lexeme]:
    """Leave out the "back" of "took the cover back off" or "came back", which is no rear."""
    if "back" not in tokens:
        return lexemes
    return [one for at, one in enumerate(lexemes) if not _undoes(lexemes, at, tokens)]


def _undoes(lexemes: list[Lexeme], at: int, tokens: list[str]) -> bool:
    one = lexemes[at]
    if not at or tokens[one.start : one.end] != ["back"]:
        return False
    before = lexemes[at - 1].senses
    placed = "part" not in before and {"prep", "article", "conj", "qualifier"} & before.keys()
    if tokens[one.start - 1] in _COMING or ("part" in before and tokens[one.end :][:1] == ["from"]):
        return True  # "shaft came back", "shaft back from the shop"
    return not placed and tokens[one.end : one.end + 1] in (["off"], ["out"])


def _only_named(lexemes: list[Lexeme], at: int, *, whole: bool) -> bool:
    """Whether nothing but the name of a thing is left of the remark, or of what a "with" ends."""
    end = at
    while end < len(lexemes) and not _NAMING.isdisjoint(lexemes[end].senses):
        end += 1
    prep = senses_at(lexemes, end).get("prep")
    with_more = not whole and prep is not None and prep.name == "with"
    return end > at and (end == len(lexemes) or with_more)


def _to_container(lexemes: list[Lexeme], at: int) -> bool:
    """Whether it is put into something: "in bag seven", "in the left hand tin"."""
    while at < len(lexemes) and lexemes[at].senses.keys() & {"article", "side", "relative"}:
        at += 1
    senses = senses_at(lexemes, at)
    return "container" in senses and "part" not in senses


def _particle(
    lexemes: list[Lexeme], start: int, tokens: list[str], particles: Mapping[str, dict[str, Any]]
) -> tuple[int, dict[str, Any], bool] | None:
    seen_part = False
    before: dict[str, Any] = {}
    for at in range(start, min(start + _REACH, len(lexemes))):
        lexeme = lexemes[at]
        words = " ".join(tokens[lexeme.start : lexeme.end])
        if words not in particles:
            words = words.removeprefix("back ")  # "pressed it back in"
        if seen_part and words in particles and "feature" not in before:
            after = senses_at(lexemes, at + 1)
            if "article" in after and _only_named(lexemes, at + 2, whole="it" in before):
                return at, particles[words], False  # "wiped the hub off the splines"
            if _to_container(lexemes, at + 1):
                return None  # "put the snap rings in bag seven"
            return at, particles[words], True
        if seen_part and words.partition(" ")[2] == "of" and words[:-3] in particles:
            return at, particles[words[:-3]], False
        if _BETWEEN.isdisjoint(lexeme.senses):
            return None
        before = lexeme.senses
        seen_part |= bool({"part", "place", "it"} & before.keys())
    return None
