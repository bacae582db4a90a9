"""Words offered while a line is typed: those of the pack and of its outline."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict

from benchvoice.grammar import Pack
from benchvoice.grammar.pack import FUNCTION_WORDS, part_forms
from benchvoice.grammar.vocabulary import Part

_FEWEST = 2
"""Letters to be typed before anything is offered; one would offer half the vocabulary."""
_HEAVY = 1.0


class Words:
    """The words that may be said, looked up by how they begin; immutable."""

    def __init__(self, pack: Pack) -> None:
        weights: dict[str, float] = defaultdict(float)
        for kind, term in pack.terms():
            if kind == "unit":  # written, not words
                continue
            forms = [*term.ways]
            if isinstance(term, Part):
                singular, plural = part_forms(term)
                forms = [*singular, *plural]
            for form in forms:
                for word in form.split():
                    if word.isalpha() and word not in FUNCTION_WORDS:
                        weights[word] += term.weight
        for step in pack.outline.steps() if pack.outline else ():
            for name in (step.title.lower(), *step.say):
                for word in name.split():
                    if word.isalpha() and word not in FUNCTION_WORDS:
                        weights[word] += _HEAVY
        self._weights = weights
        self._sorted = sorted(weights)

    def beginning(self, letters: str, most: int = 8) -> tuple[str, ...]:
        """Give at most `most` words that begin so, the usual ones first; none for one letter."""
        letters = letters.lower()
        if len(letters) < _FEWEST:
            return ()
        found = []
        for word in self._sorted[bisect_left(self._sorted, letters) :]:
            if not word.startswith(letters):
                break
            if word != letters:
                found.append(word)
        return tuple(sorted(found, key=lambda word: (-self._weights[word], word))[:most])


def last_word(before: str) -> str:
    """Give the letters of the word that ends at the cursor.

    >>> last_word("eight bol"), last_word("eight ")
    ('bol', '')
    """
    at = len(before)
    while at and before[at - 1].isalpha():
        at -= 1
    return before[at:]
