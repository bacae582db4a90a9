"""Text to word tokens: one spelling for what is spoken and what is typed."""

from __future__ import annotations

import re
from collections.abc import Mapping

from benchvoice.language.threads import is_inch_thread

_TOKEN = re.compile(
    r"m\d+(?:\.\d+)?(?:\s?x\s?\d+(?:\.\d+)?)*(?![^\W\d_])"  # M8, M8x1.25, M8 x 1.25 x 30
    r"|\#?\d+(?:/\d+)?-\d+(?![\d/])"  # 3/8-16, 10-32
    r"|\d+[ -]\d+/\d+"  # 1 1/4, 1-1/4
    r"|\d+/\d+"
    r"|\d{1,3}(?:,\d{3})+(?!\d)"  # 1,050
    r"|\d*\.\d+|\d+(?:st|nd|rd|th)\b|\d+"
    r"|[^\W\d_]+(?:'[^\W\d_]+)*"
    r"|[,;:.?!\"°&+@]"
)
_SAID = {
    '"': ("inch",),
    "°": ("degrees",),
    "&": ("and",),
    "+": ("and",),
    "@": ("at",),
    "x": ("by",),
    "em": ("them",),
    **dict.fromkeys(("can't", "cannot"), ("can", "not")),
    "won't": ("will", "not"),
    "let's": ("let", "us"),
    **dict.fromkeys(";:.?!", (",",)),
}
_LONGEST_NUMBER = 16
_SAID_TOO = frozenset({"um"})
"""Written units that are words of talk too: they are units after a figure only."""
_ENDINGS = (
    ("n't", "not"),
    ("'s", "is"),
    ("'re", "are"),
    ("'ve", "have"),
    ("'d", "would"),
    ("'ll", "will"),
    ("'m", "am"),
)
_PART_OF_NUMBER = re.compile(r"\d*\.\d+|[\d -]*\d/\d+")
_AFTER_INCHES = frozenset(
    {"lb", "lbs", "pound", "pounds", "long", "dia", "diameter", "thick", "head"}
)


def tokenise(text: str, typed: Mapping[str, tuple[str, ...]] | None = None) -> list[str]:
    """Split text into lower-case word, number and comma tokens; total, never raises.

    `typed` gives the words for what is written short and never said so ("brg").
    """
    text = text.lower()
    if text.isascii() and text.replace(" ", "").isalpha():
        words = text.split()
        if typed and typed.keys().isdisjoint(words) and _SAID.keys().isdisjoint(words):
            return words
    else:
        text = text.replace("’", "'").replace("”", '"').replace("″", '"')
        words = _TOKEN.findall(text)
    tokens: list[str] = []
    for at, word in enumerate(words):
        if word in _SAID:
            tokens.extend(_SAID[word])
        elif typed and word in typed and (word not in _SAID_TOO or _after_figure(words, at)):
            tokens.extend(typed[word])
        elif word == "in" and _is_inches(words, at):
            tokens.append("inch" if words[at + 1 : at + 2] in (["lb"], ["lbs"]) else "inches")
        elif "'" in word:
            tokens.extend(_spell_out(word))
        elif word[0].isdigit() and len(word) > 1:
            tokens.extend(_typed_number(word))
        else:
            tokens.append(word)
    while tokens and tokens[-1] == ",":
        tokens.pop()
    return tokens


def _after_figure(words: list[str], at: int) -> bool:
    return at > 0 and words[at - 1][-1].isdigit()


def _spell_out(word: str) -> list[str]:
    for ending, said in _ENDINGS:
        if word.endswith(ending):
            return [part for part in (word.removesuffix(ending), said) if part]
    return [word.replace("'", "")]


def _typed_number(word: str) -> list[str]:
    """Tell a thread from a range ("12-18"), and take thousands together."""
    if len(word) > _LONGEST_NUMBER:
        return [word]
    if "," in word:
        return [word.replace(",", "")]
    first, dash, second = word.partition("-")
    if dash and second.isdigit() and first.isdigit() and not is_inch_thread(first, int(second)):
        return [first, "to", second]
    return [word]


def _is_inches(words: list[str], at: int) -> bool:
    """Whether a typed "in" is the unit: after .012 or 1 1/4, or before "lb" or "long"."""
    after = words[at + 1] if at + 1 < len(words) else ""
    before = words[at - 1] if at else ""
    if after in _AFTER_INCHES:
        return before[:1].isdigit() or before.startswith(".")
    return _PART_OF_NUMBER.fullmatch(before) is not None
