"""Corrections inside a remark: "seven no eight bolts" becomes "eight bolts".

What is taken back (the reparandum, in the speech field's term) is dropped
before anything is made of it.
"""

from __future__ import annotations

from benchvoice.language.lexicon import Lexeme, senses_at

_KINDS = (
    *("number", "part", "condition", "place", "side", "qualifier", "container", "disposition"),
    *("unit", "quantity", "feature", "action", "direction", "relative", "tool", "mark"),
)
_REACH = 6
_OF_UNIT = ({"number", "unit"}, {"fraction", "unit"})
_IT_IS = frozenset({"it", "that", "is"})
_AMOUNT_JOINTS = frozenset({"article", "conj", "long", "head"})


def repair(lexemes: list[Lexeme], tokens: list[str]) -> list[Lexeme]:
    """Apply corrections from left to right; without one the list comes back as it is."""
    for lexeme in lexemes:
        if "correction" in lexeme.senses:
            break
    else:
        return lexemes
    done: list[Lexeme] = []
    at = 0
    while at < len(lexemes):
        mark = lexemes[at]
        at += 1
        if "correction" not in mark.senses:
            done.append(mark)
            continue
        if "not" not in mark.senses:
            _drop_unfinished(done)  # "ten minutes no leaks" is whole
        after = at
        while after < len(lexemes) and _skippable(lexemes[after]):
            after += 1
        after = _state_said(lexemes, after)
        place = _reparandum(done, mark, lexemes, after, tokens) if after < len(lexemes) else None
        if place is None and _denies(lexemes, after):
            place = _last_with(done, {"condition"})
        if place is None:
            if "not" in mark.senses:
                done.append(mark)
            continue
        at = _take_back(done, place, lexemes, after)
    return done


def _state_said(lexemes: list[Lexeme], at: int) -> int:
    """Pass over the "that is" of "cracked, no, that is a scratch"."""
    state = at
    while state < len(lexemes) and {"it", "be"} & lexemes[state].senses.keys():
        state += 1
    return state if state < len(lexemes) and "condition" in lexemes[state].senses else at


def _take_back(done: list[Lexeme], place: int, lexemes: list[Lexeme], after: int) -> int:
    """Drop or exchange what stands at `place`; give the position to go on from."""
    tail = [lexeme for lexeme in done[place + 1 :] if not _skippable(lexeme)]
    if "container" in lexemes[after].senses and all(_labels(lexeme) for lexeme in tail):
        tail = []  # "tin number one, no, jar five": its label goes with it
    if _was_range(done, place, tail):
        del done[place - 2 :]  # "five to seven thou, no, six thou"
        return after
    amount = _same_amount(done, lexemes, after)
    if amount is not None:
        del done[amount:]  # "inch and a quarter, no, inch and a half"
        return after
    if not tail or _says_again(tail[0], lexemes[after + 1 :]):
        del done[place:]  # "seven bolts no eight bolts": said anew from there
        return after
    done[place] = lexemes[after]  # "seven bolts no eight": one word exchanged
    _drop_said_again(done, place, lexemes, after + 1)
    return after + 1


def _drop_said_again(done: list[Lexeme], place: int, lexemes: list[Lexeme], after: int) -> None:
    """Drop where it is when that is said anew ("8 bolts off the front, no, 9 off the rear")."""
    prep = senses_at(lexemes, after).get("prep")
    if prep is None:
        return
    for at in range(place + 1, len(done)):
        old = done[at].senses.get("prep")
        if old is not None and old.name == prep.name:
            del done[at:]
            return


def _count_or_label(
    done: list[Lexeme], place: int, lexemes: list[Lexeme], after: int
) -> int | None:
    """Tell a count from what a container is called: "six bolts tray four, no, six bolts"."""
    label = place > 0 and not {"container", "hash"}.isdisjoint(done[place - 1].senses)
    counts = after + 1 < len(lexemes) and "part" in lexemes[after + 1].senses
    if not (label and counts):
        return place
    for at in range(place - 1, -1, -1):
        if "number" in done[at].senses and "part" in done[at + 1].senses:
            return at
    return None


def _same_amount(done: list[Lexeme], lexemes: list[Lexeme], after: int) -> int | None:
    """Find where an amount of several words begins that is said anew in the same shape."""
    new = [shape for shape, _ in _amount(lexemes[after:])]
    old = _amount(done[::-1])[: len(new)]
    if "unit" in new[:2] and {shape for shape, _ in old} in _OF_UNIT and len(new) == 2:
        return len(done) - 1 - old[-1][1]  # "two inch, no, inch and a quarter"
    if len(new) < 2 or [shape for shape, _ in reversed(old)] != new:
        return None
    return len(done) - 1 - old[-1][1]


def _amount(lexemes: list[Lexeme]) -> list[tuple[str, int]]:
    """Give (shape, position) of the numbers and units at the start, small words left out."""
    found: list[tuple[str, int]] = []
    for at, lexeme in enumerate(lexemes):
        senses = lexeme.senses
        if "number" in senses:
            found.append(("fraction" if senses["number"].kind == "fraction" else "number", at))
        elif "unit" in senses:
            found.append(("unit", at))
        elif _AMOUNT_JOINTS.isdisjoint(senses):
            break
    return found


def _drop_unfinished(done: list[Lexeme]) -> None:
    """Drop words that nobody knows right before a correction: "piston needs a, well no"."""
    end = len(done)
    while end > 0 and _skippable(done[end - 1]):
        end -= 1
    if end > 0 and not done[end - 1].senses:
        del done[end - 1 :]


def _reparandum(
    done: list[Lexeme], mark: Lexeme, lexemes: list[Lexeme], after: int, tokens: list[str]
) -> int | None:
    """Find the position in `done` of what is said anew at `after`; None if there is none."""
    new = lexemes[after]
    kinds = _kinds(new)
    place = _last_with(done, kinds)
    if place is not None and "number" in kinds:
        place = _count_or_label(done, place, lexemes, after)
    if place is None or "not" not in mark.senses:
        return place
    # A bare "no" negates, unless the same kind of word stands on both sides of it.
    before = next((old for old in reversed(done) if not _skippable(old)), None)
    if before is None:
        return None
    if "condition" in kinds:
        words = " ".join(tokens[new.start : new.end])
        instead = not _IT_IS.isdisjoint(tokens[mark.end : new.start])  # "no that's a scratch"
        said_as_adjective = instead or new.senses["condition"].name == words
        return place if "condition" in before.senses and said_as_adjective else None
    if _same_state(done, place, lexemes, after):
        return place
    if kinds & {"part", "place"} and "feature" not in kinds and not _kinds(before) & kinds:
        return None
    return place


def _same_state(done: list[Lexeme], place: int | None, lexemes: list[Lexeme], after: int) -> bool:
    """Whether the state of one thing is told anew: "bearing good no bearing rough"."""
    old = None if place is None else done[place].senses.get("part")
    new, state = lexemes[after].senses.get("part"), lexemes[after + 1 : after + 2]
    if old is None or new is None or old.name != new.name or old.plural:
        return False
    return "condition" in done[-1].senses and any("condition" in one.senses for one in state)


def _was_range(done: list[Lexeme], place: int, tail: list[Lexeme]) -> bool:
    """Whether a number was the end of a range that was said whole, with its unit."""
    if place < 2 or "number" not in done[place].senses or "range" not in done[place - 1].senses:
        return False
    return "number" in done[place - 2].senses and any("unit" in lexeme.senses for lexeme in tail)


def _labels(lexeme: Lexeme) -> bool:
    """Whether this may be what a container is called."""
    if not {"number", "hash", "side", "label"}.isdisjoint(lexeme.senses):
        return True
    return not lexeme.senses and lexeme.end == lexeme.start + 1


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
    kinds = {kind for kind in _KINDS if kind in lexeme.senses}
    return kinds | {"unit"} if "tenths" in lexeme.senses else kinds


def _skippable(lexeme: Lexeme) -> bool:
    senses = lexeme.senses
    return bool({"article", "correction", "or"} & senses.keys()) or (
        "conj" in senses and senses["conj"].name == ","
    )


def _says_again(first: Lexeme, rest: list[Lexeme]) -> bool:
    following = next((lexeme for lexeme in rest if not _skippable(lexeme)), None)
    return following is not None and bool(_kinds(first) & _kinds(following))
