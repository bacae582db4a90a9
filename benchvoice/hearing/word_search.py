"""Which words a general speech model has most likely heard, when only some words can follow.

A beam search over the pieces that the model writes, held to what a language of words allows: the
chances of the two are multiplied ("shallow fusion": Gulcehre et al., "On using monolingual corpora
in neural machine translation", 2015).  A text may end only where the model itself is nearly as
ready to stop as to go on, for else short texts win (Chorowski and Jaitly, "Towards better decoding
and language model integration in sequence to sequence models", 2017).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

import numpy as np
import numpy.typing as npt

from benchvoice.hearing.acoustic import Floats
from benchvoice.hearing.general_model import BEGIN, MOST_PIECES, STOP, GeneralModel, Writing
from benchvoice.hearing.ngram import TrigramModel
from benchvoice.hearing.written import Form

_MARKS = ",.-?!"
"""May stand after any word, and mean nothing."""
_BRANCHES = 24
"""How many ways to begin the next word are looked at, for each text."""

Words = tuple[int, ...]


class Language(Protocol):
    """Which word may follow, by numbers of words; a state stands for what was said before."""

    def start(self) -> Hashable:
        """Give the state before the first word."""

    def after(self, state: Hashable, word: int) -> Hashable:
        """Give the state after one more word, which must be allowed."""

    def chances(self, state: Hashable) -> Floats:
        """Give the natural log weight of each word (V,) to be next; minus infinity for never."""

    def end(self, state: Hashable) -> float:
        """Give the natural log weight of nothing to follow."""


class Trigrams:
    """A trigram model; its logs count `weight` times, and each word gains `bonus`."""

    _KEPT = 2000

    def __init__(self, model: TrigramModel, weight: float, bonus: float) -> None:
        self._model, self._weight, self._bonus = model, weight, bonus
        self._rows: dict[Hashable, Floats] = {}

    def start(self) -> tuple[int, ...]:
        """Give the beginning of a sentence."""
        return (0,)

    def after(self, state: Hashable, word: int) -> tuple[int, ...]:
        """Give the last two words."""
        assert isinstance(state, tuple)
        return (int(state[-1]), word)

    def chances(self, state: Hashable) -> Floats:
        """Give the weighted logs of the model's row."""
        return self._row(state) + self._bonus

    def end(self, state: Hashable) -> float:
        """Give the weighted log of the sentence's end."""
        return float(self._row(state)[1])

    def _row(self, state: Hashable) -> Floats:
        assert isinstance(state, tuple)
        row = self._rows.get(state)
        if row is None:
            if len(self._rows) >= self._KEPT:
                self._rows.clear()
            row = self._rows[state] = self._weight * np.log(self._model.row(state) + 1e-30)
        return row


@dataclass(eq=False)
class _Node:
    """A place in the tree of written forms: the forms that end here, and the pieces that follow.

    `first` and `last` are the part of the tree's `words` that lies beneath it.
    """

    ends: list[Words] = field(default_factory=list)
    next: dict[int, _Node] = field(default_factory=dict)
    first: int = 0
    last: int = 0


class FormTree:
    """The written forms of words as a tree of pieces; `words[0]` is the first word of each form."""

    def __init__(self, model: GeneralModel, forms: Iterable[Form], index: dict[str, int]) -> None:
        self.root = _Node()
        self.marks = frozenset(model.number[mark] for mark in _MARKS)
        for text, said in dict.fromkeys(forms):
            node = self.root
            pieces = in_pieces(model, text)
            if not pieces:
                continue
            for piece in pieces:
                node = node.next.setdefault(piece, _Node())
            node.ends.append(tuple(index[word] for word in said))
        words: list[int] = []
        self._number(self.root, words)
        self.words = np.array(words, dtype=np.int64)
        self.begin_pieces = np.array(list(self.root.next), dtype=np.int64)
        self.begin_nodes = list(self.root.next.values())
        self._firsts = np.array([node.first for node in self.begin_nodes], dtype=np.int64)

    def best_begins(self, chances: Floats) -> Floats:
        """Give, for each way to begin a word, the best weight of the words that begin so."""
        best: Floats = np.maximum.reduceat(chances[self.words], self._firsts)
        return best

    def _number(self, node: _Node, words: list[int]) -> None:
        node.first = len(words)
        words.extend(end[0] for end in node.ends)
        for below in node.next.values():
            self._number(below, words)
        node.last = len(words)


def in_pieces(model: GeneralModel, text: str) -> list[int]:
    """Split a text as the model writes it: the two neighbours whose union has the lowest number
    are joined, again and again (byte pair encoding: Sennrich, Haddow and Birch, 2016).  A text
    with a character that the model does not have gives nothing.
    """
    parts = list(text)
    if not all(part in model.number for part in parts):
        return []
    while len(parts) > 1:
        joins = [model.number.get(a + b, math.inf) for a, b in itertools.pairwise(parts)]
        best = min(range(len(joins)), key=joins.__getitem__)
        if joins[best] == math.inf:
            break
        parts[best : best + 2] = [parts[best] + parts[best + 1]]
    return [model.number[part] for part in parts]


class _Row(NamedTuple):
    """A text half written: `score` is to be compared, `sure` is it without what is still open."""

    score: float
    sure: float
    node: _Node
    state: Hashable
    words: Words
    parent: int
    piece: int


class Search:
    """One search: `width` texts are written at a time; see the module for `readiness`."""

    def __init__(
        self,
        tree: FormTree,
        language: Language,
        width: int,
        behind: float,
        readiness: float = math.inf,
    ) -> None:
        self._tree, self._language = tree, language
        self._width, self._behind, self._readiness = width, behind, readiness

    def run(self, writing: Writing) -> dict[Words, float]:
        """Give the texts found with their scores, natural logs, in no order."""
        done: dict[Words, float] = {}
        rows = [_Row(0.0, 0.0, self._tree.root, self._language.start(), (), 0, BEGIN)]
        for _ in range(MOST_PIECES):
            chances = writing.chances([row.piece for row in rows], [row.parent for row in rows])
            found: dict[tuple[int, Words, int], _Row] = {}
            for at, row in enumerate(rows):
                for one in self._next(row, at, chances[at], done):
                    key = (id(one.node), one.words, one.piece)
                    if key not in found or found[key].score < one.score:
                        found[key] = one
            best = max((row.score for row in found.values()), default=-math.inf)
            least = max(best, max(done.values(), default=-math.inf)) - self._behind
            rows = sorted(found.values(), key=lambda row: -row.score)[: self._width]
            rows = [row for row in rows if row.score > least]
            if not rows:
                break
        return done

    def _next(
        self, row: _Row, at: int, chances: Floats, done: dict[Words, float]
    ) -> Iterator[_Row]:
        """Give the ways to write on; what may end here goes into `done`."""
        node, tree = row.node, self._tree
        allowed = self._language.chances(row.state) if node is not tree.root else None
        if allowed is not None:
            for piece, below in node.next.items():
                open_still = allowed[tree.words[below.first : below.last]].max()
                sure = row.sure + chances[piece]
                if open_still > -math.inf:
                    yield _Row(sure + open_still, sure, below, row.state, row.words, at, piece)
        ready = chances.max() - self._readiness
        for state, words, sure in self._whole(row):
            yield from self._begun(state, words, sure, at, chances)
            if not words:
                continue
            for mark in () if row.piece in tree.marks else tree.marks:
                if chances[mark] >= ready:
                    score = sure + chances[mark]
                    yield _Row(score, score, tree.root, state, words, at, mark)
            end = float(sure + chances[STOP] + self._language.end(state))
            if chances[STOP] >= ready and end > done.get(words, -math.inf):
                done[words] = end

    def _whole(self, row: _Row) -> Iterator[tuple[Hashable, Words, float]]:
        """Give the state, words and score when no word is half written; forms may be ambiguous."""
        if row.node is self._tree.root:
            yield row.state, row.words, row.sure
        for form in row.node.ends:
            state, sure = row.state, row.sure
            for word in form:
                sure += float(self._language.chances(state)[word])
                if sure == -math.inf:
                    break
                state = self._language.after(state, word)
            else:
                yield state, row.words + form, sure

    def _begun(
        self, state: Hashable, words: Words, sure: float, at: int, chances: Floats
    ) -> Iterator[_Row]:
        tree = self._tree
        heard = sure + chances[tree.begin_pieces]
        scores = heard + tree.best_begins(self._language.chances(state))
        many = min(_BRANCHES, scores.size)
        for one in _largest(scores, many):
            if scores[one] > -math.inf:
                yield _Row(
                    float(scores[one]),
                    float(heard[one]),
                    tree.begin_nodes[one],
                    state,
                    words,
                    at,
                    int(tree.begin_pieces[one]),
                )


def _largest(values: Floats, many: int) -> npt.NDArray[np.int64]:
    found: npt.NDArray[np.int64] = np.argpartition(-values, many - 1)[:many]
    return found


def best_of(found: dict[Words, float], words: Sequence[str], most: int) -> list[str]:
    """Give the texts of the best scores, best first."""
    best = sorted(found, key=lambda one: -found[one])[:most]
    return [" ".join(words[at] for at in one) for one in best]
