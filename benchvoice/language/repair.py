"""Corrections inside a remark: "seven no eight bolts" becomes "eight bolts".

What is taken back (the reparandum, in the speech field's term) is dropped
before anything is made of it.
"""

from __future__ import annotations

from benchvoice.language.lexicon import Lexeme

_KINDS = (
    *("number", "part", "condition", "place", "side", "qualifier", "container", "disposition"),
    *("unit", "quantity", "feature", "action", "direction", "relative", "tool", "mark"),
)
_REACH = 6


def repair(lexemes: list[Lexeme], tokens: list[str]) -> list[Lexeme]:
    """Apply corrections from left to right; without one the list comes back as it is."""
    if not any("correction" in lexeme.senses for lexeme in lexemes):
        return lexemes
    done: list[Lexeme] = []
    at = 0
    while at < len(lexemes):
        mark = lexemes[at]
        at += 1
        if "correction" not in mark.senses:
            done.append(mark)
            continue
        after = at
        while after < len(lexemes) and _skippable(lexemes[after]):
            after += 1
        place = _reparandum(done, mark, lexemes[after], tokens) if after < len(lexemes) else None
        if place is None and _denies(lexemes, after):
            place = _last_with(done, {"condition"})
        if place is None:
            if "not" in mark.senses:
                done.append(mark)
            continue
        tail = [lexeme for lexeme in done[place + 1 :] if not _skippable(lexeme)]
        if not tail or _says_again(tail[0], lexemes[after + 1 :]):
            del done[place:]  # "seven bolts no eight bolts": said anew from there
            at = after
        else:
            done[place] = lexemes[after]  # "seven bolts no eight": one word exchanged
            at = after + 1
    return done


def _reparandum(done: list[Lexeme], mark: Lexeme, new: Lexeme, tokens: list[str]) -> int | None:
    """Find the position in `done` of what `new` replaces; None when nothing is taken back."""
    kinds = _kinds(new)
    place = _last_with(done, kinds)
    if place is None or "not" not in mark.senses:
        return place
    # A bare "no" negates, unless the same kind of word stands on both sides of it.
    before = next((old for old in reversed(done) if not _skippable(old)), None)
    if before is None:
        return None
    if "condition" in kinds:
        words = " ".join(tokens[new.start : new.end])
        said_as_adjective = new.senses["condition"].name == words
        return place if "condition" in before.senses and said_as_adjective else None
    if kinds & {"part", "place"} and "feature" not in kinds and not _kinds(before) & kinds:
        return None
    return place


def _last_with(done: list[Lexeme], kinds: set[str]) -> int | None:
    """Find the nearest position in `done`, not far back, of a lexeme of one of the kinds."""
    for back in range(1, min(_REACH, len(done)) + 1):
        if _kinds(done[-back]) & kinds:
            return len(done) - back
    return None


def _denies(lexemes: list[Lexeme], at: int) -> bool:
    """Whether "not cracked" stands here ("is cracked no it's not cracked")."""
    while at < len(lexemes) and {"it", "be"} & lexemes[at].senses.keys():
        at += 1
    return (
        at + 1 < len(lexemes)
        and "not" in lexemes[at].senses
        and "condition" in lexemes[at + 1].senses
    )


def _kinds(lexeme: Lexeme) -> set[str]:
    return {kind for kind in _KINDS if kind in lexeme.senses}


def _skippable(lexeme: Lexeme) -> bool:
    senses = lexeme.senses
    return bool({"article", "correction"} & senses.keys()) or (
        "conj" in senses and senses["conj"].name == ","
    )


def _says_again(first: Lexeme, rest: list[Lexeme]) -> bool:
    following = next((lexeme for lexeme in rest if not _skippable(lexeme)), None)
    return following is not None and bool(_kinds(first) & _kinds(following))
