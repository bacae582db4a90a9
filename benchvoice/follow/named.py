"""How much of the names of the steps of an outline is said.

A name is taken for what it is about: "check the pump" is about a pump, and "check" is only the work
of its stage, which is often not said again ("pump is good").  A word counts the more, the fewer
steps have it in their names: its log inverse document frequency (Spärck Jones, 1972, "A statistical
interpretation of term specificity", Journal of Documentation 28(1)), 1 for a word of one step only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from benchvoice.follow.hmm import Floats, Ints
from benchvoice.follow.likeness import same_word, stems
from benchvoice.grammar.outline import StageKind

_WORK_WORDS: dict[StageKind, frozenset[str]] = {
    "strip": frozenset(stems("strip take pull lift apart")),
    "clean": frozenset(stems("clean wash part up")),
    "inspect": frozenset(stems("check inspect inspection")),
    "decide": frozenset(),
    "assemble": frozenset(stems("assemble fit build together")),
    "test": frozenset(stems("test check run")),
}
"""Words of names that tell of the work of a stage and not what is worked on (common practice, no
source)."""


class Rows(NamedTuple):
    """Which of several things each of the S steps has: indices (S, most), padded with the last."""

    places: Ints

    def best(self, values: Floats | npt.NDArray[np.bool_]) -> Floats:
        """Give the greatest of the values of each step, 0 where it has none."""
        best: Floats = np.append(values, 0.0)[self.places].max(axis=1)
        return best


def rows_of(sizes: Sequence[int]) -> Rows:
    """Give the indices of so many things by step, things counted through from 0."""
    total, most = sum(sizes), max([1, *sizes])
    index = np.full((len(sizes), most), total, np.intp)
    begin = 0
    for at, size in enumerate(sizes):
        index[at, :size] = np.arange(begin, begin + size)
        begin += size
    return Rows(index)


class Said(NamedTuple):
    """By step (S), of its name that is said best: the share of its words and whether all are said,
    both weighted, and the weight of the words said, times the share."""

    share: Floats
    whole: Floats
    words: Floats


class Names:
    """The words of the names of S steps; each step has one name or several."""

    def __init__(
        self,
        names: Sequence[Sequence[str]],
        kinds: Sequence[StageKind],
        alike: Callable[[str, str], float] = same_word,
    ) -> None:
        self._alike = alike
        words = [
            tuple(dict.fromkeys(stem for stem in stems(name) if stem not in _WORK_WORDS[kind]))
            for step, kind in zip(names, kinds, strict=True)
            for name in step
        ]
        self._rows = rows_of([len(step) for step in names])
        self.words = tuple(dict.fromkeys(stem for row in words for stem in row))
        self._has = np.array([[word in row for word in self.words] for row in words], float)
        by_step = [self._rows.best(column) for column in self._has.T]
        self._in_step = np.array(by_step, float).reshape(len(self.words), len(names))
        self._weight = _rarity(self._in_step)
        self._size = self._has @ self._weight
        self._match = lru_cache(maxsize=8192)(self._matched)
        self.general = self._rows.best(self._size == 0.0)
        """By step (S): 1 where a name tells of nothing but the work, as "parts washing" does."""

    def _matched(self, stem: str) -> Floats:
        return np.array([self._alike(stem, word) for word in self.words], float)

    def said(self, stems_said: Iterable[str]) -> Said:
        """Give how much of the names is said."""
        found: Floats = np.zeros(len(self.words))
        for stem in stems_said:
            found = np.maximum(found, self._match(stem))
        weight = self._has @ (found * self._weight)
        share = weight / np.maximum(self._size, 1e-9)
        whole = (share > 0.999) & (self._size > 0.0)
        best = self._rows.best
        return Said(best(share), best(whole), best(weight * share))

    def akin(self) -> Floats:
        """Give (S, S) the share of a name of each step (row) that is in those of each (column)."""
        words = [
            [word for word, has in zip(self.words, step, strict=True) if has]
            for step in self._in_step.T
        ]
        shares: Floats = np.stack([self.said(row).share for row in words], axis=1)
        return shares

    def whole(self, words: Sequence[str]) -> Floats:
        """Tell by step (S) whether all the words are in one of its names."""
        inside = np.ones(len(self._has))
        for stem in words:
            inside = inside * np.minimum(self._has @ self._match(stem), 1.0)
        return self._rows.best(inside if words else inside * 0.0)


def _rarity(has: Floats) -> Floats:
    """Give the weight (W) of each word, 0 to 1, from which steps have it (W, S)."""
    steps = has.shape[1]
    if steps < 2:
        return np.ones(len(has))
    rarity: Floats = np.log((1.0 + steps) / np.maximum(has.sum(axis=1), 1.0)) / np.log(1.0 + steps)
    return rarity
