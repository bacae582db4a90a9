"""The grammar pack as a generator of sentences: what the speech engine is taught to expect.

The same templates and words serve the other way round in the tests
(`tests/grammar/truth.py`): a sentence made here is understood by the parser
as what went into it.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from typing import NamedTuple

from benchvoice.grammar.commanding import command_pool
from benchvoice.grammar.outline_talk import nearer, outline_rows, outline_sayings, seldom_said
from benchvoice.grammar.pack import FUNCTION_WORDS, Pack, part_forms
from benchvoice.grammar.readings import Said
from benchvoice.grammar.rows import Row, template_rows
from benchvoice.grammar.slots import LABEL_LETTERS, Draw, Slots, drawer, said_of_fillers
from benchvoice.grammar.spoken import NUMBER_WORDS
from benchvoice.grammar.vocabulary import Command, Part, Unit

_COMMANDS = 0.12
_OUTLINE = 0.4
"""Shares of the sentences; the outline's share is there only when there is an outline."""
_FILLED = 0.15
"""Share of the remarks with words in them that mean nothing."""
_JOINED = 0.08
"""Share of the remarks that go straight on to another."""
_TERM_WEIGHT, _WORD_WEIGHT = 0.1, 0.02
"""Weights of what is there only so that it can be heard at all; a drawn sentence has 1."""
_A = re.compile(r"\ba (?=[aeio]|u(?!\b|ni|se))")
"""The article before a vowel, where it is "an"."""


class Sentence(NamedTuple):
    """A sentence that may be said: lower-case words, and how often (a drawn one has 1)."""

    words: tuple[str, ...]
    weight: float

    @property
    def text(self) -> str:
        """The words with spaces."""
        return " ".join(self.words)


def sentences(pack: Pack, *, count: int = 30_000, seed: int = 1) -> Iterator[Sentence]:
    """Draw `count` sentences, then give every way of saying every term once with a low weight.

    With an outline in the pack two fifths of them come from it.  The same
    pack, count and seed give the same sentences.  Raises GrammarError for a
    template with a mistake.
    """
    for text in _talk(nearer(pack), random.Random(seed), count):
        yield Sentence(tuple(text.split()), 1.0)
    yield from _coverage(pack)


def vocabulary_words(pack: Pack) -> frozenset[str]:
    """Give every word that a sentence of the pack may have, so every word that can be heard."""
    words = {word for sentence in _coverage(pack) for word in sentence.words}
    rows = template_rows(pack, Slots(pack, random.Random(0)))
    words.update(word for row in rows for item in row.items for word in item.words.split())
    return frozenset(words)


def _talk(pack: Pack, rng: random.Random, count: int) -> Iterator[str]:
    slots = Slots(pack, rng)
    generic = template_rows(pack, slots)
    groups = [(_remarks(generic, slots), 1.0 - _COMMANDS)]
    if pack.outline is not None:
        sayings = drawer([Said(s, None) for s in outline_sayings(pack.outline)], rng)
        bound = _remarks(outline_rows(pack, slots, generic), slots)
        groups = [
            (groups[0][0], 1.0 - _COMMANDS - _OUTLINE),
            (bound, _OUTLINE * 0.85),
            (_spoken(sayings), _OUTLINE * 0.15),
        ]
    groups.append((_spoken(drawer(command_pool(pack), rng)), _COMMANDS))
    talks, shares = zip(*groups, strict=True)
    return (next(talk) for talk in rng.choices(talks, shares, k=count))


def _remarks(rows: list[Row], slots: Slots) -> Iterator[str]:
    fill, random_ = _filler(slots), slots.rng.random
    joint = drawer([Said("", "", 3.0), Said("and", ""), Said("and the", "")], slots.rng)
    pick = drawer([Said("", row, row.weight) for row in rows], slots.rng)
    while True:
        row: Row = pick().value
        words = [draw().words for draw in row.draws]
        if random_() < _JOINED:
            following: Row = pick().value
            words += [joint().words, *[draw().words for draw in following.draws]]
        if random_() < _FILLED:
            at = 0 if random_() < 0.6 else int(random_() * (len(words) + 1))
            words.insert(at, fill().words)
        yield with_an(" ".join(words))


def with_an(text: str) -> str:
    """Put "an" for "a" where it is said so."""
    return _A.sub("an ", text) if "a " in text else text


def _filler(slots: Slots) -> Draw:
    return drawer(said_of_fillers(slots.pack.filler) or [Said("", "")], slots.rng)


def _spoken(draw: Draw) -> Iterator[str]:
    while True:
        yield draw().words


def _coverage(pack: Pack) -> Iterator[Sentence]:
    """Give what makes each word known: all terms in all ways, and the small words."""
    said: dict[str, float] = {}
    for _, term in pack.terms():
        ways = [] if isinstance(term, Unit) else [term.name]
        ways += term.say
        if isinstance(term, Part):
            ways += part_forms(term)[1]
        if isinstance(term, Command):
            ways = [way.partition(" {")[0] for way in ways]
        said |= dict.fromkeys(ways, _TERM_WEIGHT)
    for entries in (pack.filler, pack.correction, pack.negation):
        said |= {one.words: _WORD_WEIGHT for one in said_of_fillers(entries)}
    if pack.outline is not None:
        named = (*outline_sayings(pack.outline), *seldom_said(pack.outline))
        said |= dict.fromkeys(named, _TERM_WEIGHT)
    said |= dict.fromkeys([*sorted(NUMBER_WORDS), *LABEL_LETTERS], _WORD_WEIGHT)
    for word in sorted(FUNCTION_WORDS):
        said.setdefault(word, _WORD_WEIGHT)
    for text, weight in said.items():
        yield Sentence(tuple(text.split()), weight)
