"""The words that a pack knows, and which of its terms a phrase says."""

from __future__ import annotations

from functools import cached_property

from benchvoice.grammar import Pack
from benchvoice.grammar.pack import FUNCTION_WORDS, TERM_KINDS, part_forms
from benchvoice.grammar.spoken import cardinal, ordinal
from benchvoice.grammar.vocabulary import Part, Term

TAUGHT_KINDS = tuple(kind for kind in TERM_KINDS if kind not in ("unit", "command"))
"""Kinds of terms that may be given further ways to be said."""

_NUMBERS = 100


class Vocabulary:
    """What a pack knows, looked up by the phrase; immutable."""

    def __init__(self, pack: Pack) -> None:
        self.pack = pack

    @cached_property
    def terms(self) -> dict[str, tuple[str, Term]]:
        """Map a phrase, plurals too, to the kind and the term that it says."""
        found: dict[str, tuple[str, Term]] = {}
        for kind in TAUGHT_KINDS:
            for term in getattr(self.pack, kind):
                for phrase in _forms(term):
                    found.setdefault(phrase, (kind, term))
        return found

    @cached_property
    def plurals(self) -> frozenset[str]:
        """The phrases that are plurals of parts."""
        return frozenset(form for part in self.pack.part for form in part_forms(part)[1])

    @cached_property
    def steps(self) -> dict[str, str]:
        """Map a step's name, lower case, to its id."""
        steps = self.pack.outline.steps() if self.pack.outline else ()
        return {name: step.id for step in steps for name in (step.title.lower(), *step.say)}

    @cached_property
    def words(self) -> frozenset[str]:
        """All words that mean something, alone or with others."""
        numbers = (text for n in range(_NUMBERS + 1) for text in (cardinal(n), ordinal(n or 1)))
        fillers = (self.pack.correction, self.pack.negation, self.pack.filler)
        phrases = [
            *self.terms,
            *self.steps,
            *numbers,
            *(say for group in fillers for filler in group for say in filler.say),
            *self.pack.said_words,
            *self.pack.typed,
        ]
        return FUNCTION_WORDS | {word for phrase in phrases for word in phrase.lower().split()}


def _forms(term: Term) -> list[str]:
    if isinstance(term, Part):
        singular, plural = part_forms(term)
        return [*singular, *plural]
    return [*term.ways]
