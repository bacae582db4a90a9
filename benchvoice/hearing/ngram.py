"""A trigram model of the remarks, estimated from weighted sentences.

Witten-Bell smoothing, interpolated: a word w after history h has

    p(w | h) = (c(h w) + T(h) p(w | h')) / (c(h) + T(h))

with c the weighted counts, T(h) the number of different words seen after h,
and h' the history without its oldest word; single words get their share
c(w) / N.  Source: Chen and Goodman, "An Empirical Study of Smoothing
Techniques for Language Modeling", 1998, section 2.6 (after Bell, Cleary and
Witten, "Text Compression", 1990, method C).

A word not seen after h keeps only the second term, so the back-off weight is
T(h) / (c(h) + T(h)) and the back-off model gives exactly the values above.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from benchvoice.errors import EngineError
from benchvoice.hearing.engine import Sentences

_Floats: TypeAlias = npt.NDArray[np.float64]
_Ints: TypeAlias = npt.NDArray[np.int64]

START, END = "<s>", "</s>"
_START, _END = 0, 1
_NEVER = -99.0
"""What ARPA files give for log10 of zero: `<s>` is never said."""


@dataclass(frozen=True, eq=False)
class TrigramModel:
    """Back-off trigrams as sorted arrays.

    `words[0]` is `<s>` and `words[1]` is `</s>`; V words in all.  `one` and
    `one_backoff` are shaped (V,).  `two_keys` holds first * V + second for the
    B bigrams seen, ascending, `two` and `two_backoff` their values;
    `three_keys` and `three` likewise for trigrams ((first * V + second) * V +
    third).  Values are probabilities, not logarithms.
    """

    words: tuple[str, ...]
    one: _Floats
    one_backoff: _Floats
    two_keys: _Ints
    two: _Floats
    two_backoff: _Floats
    three_keys: _Ints
    three: _Floats

    def probability(self, word: str, history: Sequence[str]) -> float:
        """Give p(word | the last two of history); zero for a word never seen."""
        index = {known: at for at, known in enumerate(self.words)}
        if word not in index:
            return 0.0
        ids = [index[known] for known in list(history)[-2:] if known in index]
        return self._probability(index[word], ids)

    def log_likelihood(self, text: Sequence[int]) -> float:
        """Give the natural log of the chance of a whole text, by numbers of words."""
        ids = [_START, *text, _END]
        chances = [
            self._probability(ids[at], ids[max(0, at - 2) : at]) for at in range(1, len(ids))
        ]
        return float(np.log(chances).sum())

    def row(self, history: Sequence[int]) -> _Floats:
        """Give p(w | history) for every word (V,); `history` are numbers of one or two words."""
        *before, last = history
        size = len(self.words)
        seen = slice(*np.searchsorted(self.two_keys, (last * size, (last + 1) * size)))
        row: _Floats = self.one * self.one_backoff[last]
        row[self.two_keys[seen] % size] = self.two[seen]
        if not before:
            return row
        pair = before[-1] * size + last
        known = _find(self.two_keys, pair)
        row *= 1.0 if known is None else self.two_backoff[known]
        seen = slice(*np.searchsorted(self.three_keys, (pair * size, (pair + 1) * size)))
        row[self.three_keys[seen] % size] = self.three[seen]
        return row

    def _probability(self, word: int, history: list[int]) -> float:
        size = len(self.words)
        if not history:
            return float(self.one[word])
        if len(history) == 1:
            at = _find(self.two_keys, history[0] * size + word)
            if at is not None:
                return float(self.two[at])
            return float(self.one_backoff[history[0]]) * self._probability(word, [])
        pair = history[0] * size + history[1]
        at = _find(self.three_keys, pair * size + word)
        if at is not None:
            return float(self.three[at])
        known = _find(self.two_keys, pair)
        backoff = 1.0 if known is None else float(self.two_backoff[known])
        return backoff * self._probability(word, history[1:])


def estimate_trigrams(sentences: Sentences) -> TrigramModel:
    """Estimate the model; `sentences` are (words, weight) with weights above zero.

    A weight counts as that many repetitions, so its scale matters: the lower
    all weights, the smoother the model.  Raises EngineError when there are no
    sentences.
    """
    words, ids, weights = _number_words(sentences)
    size = len(words)
    said = ids != _START
    total = np.bincount(ids[said], weights[said], minlength=size)
    one = total / total.sum()

    inside = ids[:-1] != _END
    pairs = ids[:-1] * size + ids[1:]
    two_keys, two_counts = _count(pairs[inside], weights[:-1][inside])
    first, second = np.divmod(two_keys, size)
    two, one_backoff = _interpolate(two_counts, first, one[second], size)

    inside = inside[:-1] & (ids[1:-1] != _END)
    triples = pairs[:-1][inside] * size + ids[2:][inside]
    three_keys, three_counts = _count(triples, weights[:-2][inside])
    lower = two[np.searchsorted(two_keys, three_keys % (size * size))]
    history = np.searchsorted(two_keys, three_keys // size)
    three, two_backoff = _interpolate(three_counts, history, lower, two_keys.size)
    return TrigramModel(words, one, one_backoff, two_keys, two, two_backoff, three_keys, three)


def save_trigrams(model: TrigramModel, path: Path) -> None:
    """Write the model as it is, to be read again by `load_trigrams`."""
    arrays = {name: value for name, value in vars(model).items() if name != "words"}
    with path.open("wb") as file:
        np.savez(file, words=np.array(model.words), **arrays)


def load_trigrams(path: Path) -> TrigramModel:
    """Read what `save_trigrams` wrote."""
    with np.load(path, allow_pickle=False) as arrays:
        words = tuple(str(word) for word in arrays["words"])
        rest = {name: arrays[name] for name in arrays.files if name != "words"}
    return TrigramModel(words, **rest)


def write_arpa(model: TrigramModel, path: Path) -> None:
    """Write the model in the ARPA format, in the order and precision that engines read."""
    words, size = model.words, len(model.words)
    sizes = (size, model.two_keys.size, model.three_keys.size)
    lines = ["\\data\\", *(f"ngram {n}={count}" for n, count in enumerate(sizes, start=1))]
    lines += ["", "\\1-grams:"]
    one = zip(_log(model.one), words, _log(model.one_backoff), strict=True)
    lines += [f"{value:.5f} {word} {backoff:.5f}" for value, word, backoff in one]
    lines += ["", "\\2-grams:"]
    firsts, seconds = (part.tolist() for part in np.divmod(model.two_keys, size))
    two = zip(_log(model.two), firsts, seconds, _log(model.two_backoff), strict=True)
    lines += [f"{value:.5f} {words[a]} {words[b]} {back:.5f}" for value, a, b, back in two]
    lines += ["", "\\3-grams:"]
    pairs, thirds = np.divmod(model.three_keys, size)
    firsts, seconds = (part.tolist() for part in np.divmod(pairs, size))
    three = zip(_log(model.three), firsts, seconds, thirds.tolist(), strict=True)
    lines += [f"{value:.5f} {words[a]} {words[b]} {words[c]}" for value, a, b, c in three]
    lines += ["", "\\end\\", ""]
    path.write_text("\n".join(lines), encoding="utf-8")


def _number_words(sentences: Sentences) -> tuple[tuple[str, ...], _Ints, _Floats]:
    """Give the words, and the running text as word numbers with the weight at each."""
    index = {START: _START, END: _END}
    ids: list[int] = []
    weights: list[float] = []
    lengths: list[int] = []
    for words, weight in sentences:
        ids.append(_START)
        ids += [index.setdefault(word, len(index)) for word in words]
        ids.append(_END)
        weights.append(weight)
        lengths.append(len(words) + 2)
    if not ids:
        raise EngineError("there are no sentences to listen for", mend="check the grammar pack")
    return (
        tuple(index),
        np.array(ids, dtype=np.int64),
        np.repeat(np.array(weights, dtype=np.float64), lengths),
    )


def _count(keys: _Ints, weights: _Floats) -> tuple[_Ints, _Floats]:
    distinct, where = np.unique(keys, return_inverse=True)
    return distinct, np.bincount(where, weights, minlength=distinct.size).astype(np.float64)


def _interpolate(
    counts: _Floats, history: _Ints, lower: _Floats, histories: int
) -> tuple[_Floats, _Floats]:
    """Apply the formula; also give each history's back-off weight (1 when never seen)."""
    seen = np.bincount(history, counts, minlength=histories)
    kinds = np.bincount(history, minlength=histories).astype(np.float64)
    whole = np.where(kinds > 0, seen + kinds, 1.0)
    values = (counts + kinds[history] * lower) / whole[history]
    return values, np.where(kinds > 0, kinds / whole, 1.0)


def _find(keys: _Ints, key: int) -> int | None:
    at = int(np.searchsorted(keys, key))
    return at if at < keys.size and keys[at] == key else None


def _log(values: _Floats) -> list[float]:
    logs: list[float] = np.log10(np.maximum(values, 10.0**_NEVER)).tolist()
    return logs
