"""How alike the names of parts, places and steps are, as people say them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from rapidfuzz import fuzz

_ALIKE = 86.0
"""Likeness of two stems from which they are the same word ("plate" and "place" are not)."""

_ARTICLES = frozenset({"a", "an", "the"})
_SMALL = _ARTICLES | frozenset("of off out on in at to and or is are was it".split())

OF_ITSELF = frozenset({"edge", "end", "face", "lip", "outside", "root", "thread", "tooth"})
"""Places of a part itself, which do not tell where in the unit it is ("key rolled on one edge")."""

CALLED = 0.4
"""Likeness of a part that is called after its place or its step; of several none is meant."""

_SCREWS = frozenset({"bolt", "cap screw", "screw", "machine screw", "socket head cap screw"})
"""Names given to one another at the bench (common practice, no source)."""


@lru_cache(maxsize=4096)
def stems(text: str) -> tuple[str, ...]:
    """Give the words of `text` without endings and small words.

    >>> stems("washed the gears"), stems("scraping faces"), stems("stripped bodies")
    (('wash', 'gear'), ('scrap', 'fac'), ('strip', 'body'))
    >>> stems("bearing") == stems("bearings")
    True
    """
    return tuple(_stem(word) for word in _words(text) if word not in _SMALL)


def name_stems(name: str) -> tuple[str, ...]:
    """Give the words of a step's name without endings; "seals in" is not "seals out"."""
    return tuple(_stem(word) for word in _words(name) if word not in _ARTICLES)


def _words(text: str) -> list[str]:
    return text.lower().replace(",", " ").split()


def _stem(word: str) -> str:
    for ending, instead in (("ies", "y"), ("s", ""), ("ing", ""), ("ed", "")):
        if word.endswith(ending) and len(word) - len(ending) >= 3 and not word.endswith("ss"):
            word = word.removesuffix(ending) + instead
    if len(word) > 3 and word[-1] == word[-2] and word[-1] in "bdgmnprt":
        return word[:-1]
    return word.removesuffix("e") if len(word) > 3 else word


@lru_cache(maxsize=65536)
def same_word(one: str, other: str) -> bool:
    """Whether two stems are one word, small typing mistakes allowed in long ones."""
    if one == other:
        return True
    return min(len(one), len(other)) >= 5 and fuzz.ratio(one, other) >= _ALIKE


_SPELLINGS = (
    ("ph", "f"), ("ck", "k"), ("gh", ""), ("wh", "w"), ("kn", "n"), ("wr", "r"), ("sch", "sk"),
    ("tch", "ch"), ("ce", "se"), ("ci", "si"), ("cy", "sy"), ("ch", "7"), ("sh", "7"),
    ("c", "k"), ("q", "k"), ("x", "ks"), ("z", "s"), ("dg", "j"),
)  # fmt: skip
"""Letters put for others of the same or nearly the same sound, in this order; from memory."""
_VOWELS = re.compile(r"[aeiouy]+w?|(?<=.)h")
_TWICE = re.compile(r"(.)\1+")
_LIKE_SOUND = 0.55
"""Likeness of two spellings from which one may have been heard for the other."""


@lru_cache(maxsize=65536)
def _sounds(word: str) -> str:
    for letters, instead in _SPELLINGS:
        word = word.replace(letters, instead)
    return _TWICE.sub(r"\1", _VOWELS.sub("a", word))


@lru_cache(maxsize=65536)
def sound_likeness(one: str, other: str) -> float:
    """Give how easily (0 to 1) one stem is heard for another, by their spelling.

    >>> sound_likeness("bor", "bear"), sound_likeness("washer", "plug")
    (1.0, 0.0)
    """
    if one == other:
        return 1.0
    if min(len(one), len(other)) < 3:
        return 0.0
    like = fuzz.ratio(_sounds(one), _sounds(other)) / 100.0
    return max(0.0, like - _LIKE_SOUND) / (1.0 - _LIKE_SOUND)


def share_said(name: Sequence[str], said: Iterable[str]) -> float:
    """Give the share (0 to 1) of the stems of `name` that are among those `said`."""
    words = list(said)
    if not name:
        return 0.0
    return sum(any(same_word(stem, word) for word in words) for stem in name) / len(name)


@lru_cache(maxsize=65536)
def place_likeness(said: str | None, expected: str | None) -> float:
    """Compare places: 1 the same, 0.85 one within the other, 0.75 not said, 0 another place.

    >>> place_likeness("front", "front cover"), place_likeness("side cover", "end cover")
    (0.85, 0.0)
    """
    if said is None or expected is None:
        return 0.75 if said != expected else 0.8
    one, other = stems(said), stems(expected)
    if one == other:
        return 1.0
    return 0.85 if _within(one, other) or _within(other, one) else 0.0


@lru_cache(maxsize=65536)
def part_likeness(said: str | None, expected: str) -> float:
    """Compare parts: 1 the same, 0.85 a longer or shorter name of it, 0.7 the like, 0 another.

    >>> part_likeness("seal", "piston seal"), part_likeness("bolt", "cap screw")
    (0.85, 0.7)
    """
    if said is None:
        return 0.0
    if said == expected:
        return 1.0
    if swapped_names(said, expected):
        return 0.7
    one, other = stems(said), stems(expected)
    if not one or not other or not same_word(one[-1], other[-1]):
        return 0.0  # the last word is what it is: a "seal ring" is no "ring seal"
    return 0.85 if _within(one, other) or _within(other, one) else 0.0


@lru_cache(maxsize=1024)
def step_words(title: str, say: tuple[str, ...]) -> tuple[str, ...]:
    """Give the stems of all that a step is called."""
    return (*stems(title), *(stem for name in say for stem in stems(name)))


@lru_cache(maxsize=1 << 17)
def thing_likeness(
    said: tuple[str | None, str | None], own: tuple[str, str | None], words: tuple[str, ...]
) -> float:
    """Compare a part at a place with one of a step that is called `words`, 0 to 1.

    A place that is only in the step's own words is half as good.  Where the names differ beside
    their last word, what is said beside it may tell the place or the step (`CALLED`).  Kept, as
    all that was said in a job is compared anew with each remark.
    """
    part = part_likeness(said[0], own[0])
    if part == 0.0:
        return CALLED if _called_after(said, own, words) else 0.0
    where = None if said[1] in OF_ITSELF else said[1]
    place = place_likeness(where, own[1])
    if place == 0.0 and where:
        place = 0.5 * (share_said(stems(where), words) == 1.0)
    return part * place


def same_head(said: str | None, expected: str) -> bool:
    """Whether two parts may be the same but for what they are called beside their last word."""
    one, other = stems(said or ""), stems(expected)
    return bool(one and other) and same_word(one[-1], other[-1])


def _called_after(
    said: tuple[str | None, str | None], own: tuple[str, str | None], words: tuple[str, ...]
) -> bool:
    """Whether a part is called after its place or its step: the "input seal" is the oil seal of
    the input shaft, the "reverse piston" the clutch piston of that step."""
    part, place = said
    if place is not None or not same_head(part, own[0]):
        return False
    beside = stems(part or "")[:-1]
    return bool(beside) and share_said(beside, (*words, *stems(own[1] or ""))) == 1.0


def swapped_names(said: str | None, expected: str) -> bool:
    """Whether two names of screws are given to one another, which is worth a look."""
    return said != expected and said in _SCREWS and expected in _SCREWS


def _within(one: Sequence[str], other: Sequence[str]) -> bool:
    return share_said(one, other) == 1.0
