"""Where the sounds of a new word come from, and which known words it sounds like."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

from rapidfuzz.distance import Levenshtein

from benchvoice.hearing import pronounce
from benchvoice.words.spelling import Guesser

Source = Literal["given", "dictionary", "word forms", "spelling"]
"""By the user; in the engine's dictionary; made of a word that is; by the rules of spelling."""

_NEAR = 0.25
"""Share of the sounds that may differ in words that are mistaken for one another, about one in
four; set by hand."""


@dataclass(frozen=True)
class Sounds:
    """How a word sounds: ARPAbet ways ("B OW L T"), and where they come from."""

    word: str
    ways: tuple[str, ...]
    source: Source

    @property
    def is_guess(self) -> bool:
        """Whether a person should listen to it."""
        return self.source in ("word forms", "spelling")


def sounds_of(
    word: str,
    given: Mapping[str, tuple[str, ...]],
    own: tuple[str, ...] = (),
    guesser: Guesser | None = None,
) -> Sounds | None:
    """Give the sounds of a word; None when nobody knows.

    `own` are the user's ways, `given` those of the pack.  Raises EngineError
    for a sound that the engine does not have.
    """
    if own:
        checked = pronounce([word], {word: own})
        return Sounds(word, checked.entries[word], "given")
    found = pronounce([word], given)
    if word in found.entries:
        source: Source = "word forms" if word in found.derived else "dictionary"
        return Sounds(word, found.entries[word], source)
    guess = guesser(word) if guesser is not None else None
    return Sounds(word, (" ".join(guess),), "spelling") if guess else None


def sounds_like(sounds: Sounds, words: Iterable[str], given: Mapping[str, tuple[str, ...]]) -> str:
    """Give the word most like it in sound, when it is near enough to be mistaken; else ""."""
    nearest = min(
        (Levenshtein.normalized_distance(own.split(), way.split()), word)
        for word, ways in pronounce(set(words) - {sounds.word}, given).entries.items()
        for way in ways
        for own in sounds.ways
    )
    return nearest[1] if nearest[0] <= _NEAR else ""
