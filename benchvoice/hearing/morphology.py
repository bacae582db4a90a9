"""How a regular form of a known word sounds: "shims" from "shim", "runout" from "run" and "out".

The endings follow the regular rules of English: the plural is voiced after a
voiced sound and gets a vowel after a hissing one, the past likewise after T
and D.  Source: Quirk, Greenbaum, Leech and Svartvik, "A Comprehensive Grammar
of the English Language", 1985, sections 3.5, 3.6 and 5.80.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

Lookup = Callable[[str], tuple[str, ...]]
"""A word's known pronunciations, none when it is not known."""

_HISSING = frozenset({"S", "Z", "SH", "ZH", "CH", "JH"})
_VOICELESS = frozenset({"P", "T", "K", "F", "TH", *_HISSING - {"Z", "ZH", "JH"}})
_PREFIXES = {"re": "R IY", "un": "AH N", "pre": "P R IY", "non": "N AA N", "sub": "S AH B"}
_FIRST_PARTS = frozenset(
    {
        *("over", "under", "out", "up", "down", "off", "back", "cross", "flat", "half", "inter"),
        *("lock", "cap", "set", "side", "end", "counter", "run"),
    }
)
_LAST_PARTS = frozenset(
    {
        *("out", "off", "up", "down", "over", "screw", "nut", "pin", "ring", "washer"),
        *("plate", "shaft", "gear", "wheel", "case", "side", "way", "box", "head", "stock", "bore"),
    }
)


def derive(word: str, lookup: Lookup) -> tuple[str, ...]:
    """Give the pronunciations of a word that is a regular form of a known one, else none.

    >>> derive("shims", {"shim": ("SH IH M",)}.get)
    ('SH IH M Z',)
    """

    def known(part: str) -> tuple[str, ...]:
        return lookup(part) or _joined(part, lookup) or ()

    for base, ending in _endings(word):
        sounds = known(base)
        if sounds:
            return tuple(ending(sound) for sound in sounds)
    return _joined(word, lookup)


def _joined(word: str, lookup: Lookup) -> tuple[str, ...]:
    """Two words written as one, where one of them is a part that such words are made with."""
    for at in range(2, len(word) - 2):
        first, last = word[:at], word[at:]
        if first in _PREFIXES:
            head: tuple[str, ...] = (_PREFIXES[first],)
        elif at > 2 and (first in _FIRST_PARTS or last in _LAST_PARTS):
            head = lookup(first)
        else:
            continue
        tail = lookup(last)
        if head and tail:
            return (f"{head[0]} {tail[0]}",)
    return ()


def _endings(word: str) -> Iterator[tuple[str, Callable[[str], str]]]:
    """Yield the words that `word` may be a form of, with what the form adds to the sound."""
    for suffix, ending in (("s", _plural), ("ed", _past), ("ing", _ing), ("er", _er)):
        if not word.endswith(suffix) or len(word) < len(suffix) + 3 or word.endswith("ss"):
            continue
        stem = word[: -len(suffix)]
        if suffix == "s":
            yield stem, ending
            if stem.endswith("ie"):
                yield stem[:-2] + "y", ending
            elif stem.endswith("e"):
                yield stem[:-1], ending
            continue
        doubled = stem[-1] == stem[-2]
        # "galled" is from "gall", but "scored" from "score"
        stems = [stem, stem[:-1], stem + "e"] if doubled else [stem + "e", stem]
        yield from ((base, ending) for base in stems)
        if stem.endswith("i"):
            yield stem[:-1] + "y", ending
    if word.endswith("ers"):
        for base, _ in _endings(word[:-1]):
            yield base, lambda sound: _plural(_er(sound))


def _plural(sound: str) -> str:
    last = sound.rsplit(maxsplit=1)[-1]
    if last in _HISSING:
        return f"{sound} IH Z"
    return f"{sound} {'S' if last in _VOICELESS else 'Z'}"


def _past(sound: str) -> str:
    last = sound.rsplit(maxsplit=1)[-1]
    if last in {"T", "D"}:
        return f"{sound} IH D"
    return f"{sound} {'T' if last in _VOICELESS else 'D'}"


def _ing(sound: str) -> str:
    return f"{sound} IH NG"


def _er(sound: str) -> str:
    return f"{sound} ER"
