"""The search for words against trying every text, and against the formulas of its language.

The trying is the reference: all texts of up to three words, each in all the ways to write it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Hashable, Iterator
from pathlib import Path

import numpy as np
import pytest

from benchvoice.hearing import TrigramModel, estimate_trigrams
from benchvoice.hearing.acoustic import Floats
from benchvoice.hearing.general_model import SPACE, STOP
from benchvoice.hearing.ngram import load_trigrams, save_trigrams
from benchvoice.hearing.word_search import (
    FormTree,
    Language,
    Search,
    Trigrams,
    Words,
    in_pieces,
)
from benchvoice.hearing.written import written_forms

REMARKS = ["two bolts", "two seals cracked", "bolts off", "one seal", "two bolts off"]
PIECES = ("<unk>", "<s>", "</s>", *",.-?!", SPACE, *"abcdefghijklmnopqrstuvwxyz", *"BOSTC", *"12",
          "bo", "lt", f"{SPACE}bo", f"{SPACE}two", "se", "al", f"{SPACE}o", "ff")  # fmt: skip


class SmallModel:
    """Writes with a few pieces."""

    pieces = PIECES
    number = {piece: at for at, piece in enumerate(PIECES)}


MARKS = [SmallModel.number[mark] for mark in ",.-?!"]


class Dice:
    """Chances that were thrown once for each piece behind each piece; all marks are alike.

    So of two ways to write the same nothing is lost by going on with the better alone.
    """

    def __init__(self, seed: int) -> None:
        self._seed = seed
        self._rows: list[tuple[int, ...]] = [()]

    def chances(self, ids: list[int], rows: list[int]) -> Floats:
        self._rows = [(*self._rows[row], one) for row, one in zip(rows, ids, strict=True)]
        return np.array([self.row(row) for row in self._rows])

    def row(self, before: tuple[int, ...]) -> Floats:
        last = MARKS[0] if before[-1] in MARKS else before[-1]
        thrown = np.random.default_rng([self._seed, last]).normal(0, 2, len(PIECES))
        logs: Floats = thrown - np.log(np.exp(thrown).sum())
        return logs


def trigrams() -> TrigramModel:
    return estimate_trigrams((tuple(text.split()), 1.0) for text in REMARKS)


class Only:
    """A language of some texts and no others, all alike; a state is what was said before."""

    def __init__(self, texts: list[Words], size: int) -> None:
        self._texts, self._size = texts, size

    def start(self) -> Words:
        return ()

    def after(self, state: Hashable, word: int) -> Words:
        assert isinstance(state, tuple)
        return (*state, word)

    def chances(self, state: Hashable) -> Floats:
        assert isinstance(state, tuple)
        logs = np.full(self._size, -np.inf)
        logs[[text[len(state)] for text in self._texts if text[: len(state)] == state != text]] = 0
        return logs

    def end(self, state: Hashable) -> float:
        return 0.0 if state in self._texts else -math.inf


def small_tree(model: TrigramModel) -> FormTree:
    index = {word: at for at, word in enumerate(model.words)}
    return FormTree(SmallModel(), written_forms(model.words[2:]), index)  # type: ignore[arg-type]


def ways(words: tuple[str, ...]) -> Iterator[tuple[int, ...]]:
    """Give all ways to write a text, marks among them."""
    if not words:
        yield ()
        return
    for count in range(1, len(words) + 1):
        for text, said in written_forms(words[:count]):
            if said == words[:count]:
                pieces = in_pieces(SmallModel(), text)  # type: ignore[arg-type]
                for mark, rest in itertools.product(("", *",.-?!"), ways(words[count:])):
                    yield (*pieces, *((SmallModel.number[mark],) if mark else ()), *rest)


def by_trying(dice: Dice, words: tuple[str, ...]) -> float:
    best = -math.inf
    for pieces in ways(words):
        before: tuple[int, ...] = (1,)
        total = 0.0
        for piece in (*pieces, STOP):
            total += dice.row(before)[piece]
            before = (*before, piece)
        best = max(best, total)
    return best


@pytest.mark.parametrize("seed", range(4))
def test_a_text_gets_the_likelihood_of_its_best_way_to_be_written(seed: int) -> None:
    model = trigrams()
    texts = [("two", "bolts"), ("one", "seal"), ("bolts", "off")]
    numbers = [tuple(model.words.index(word) for word in text) for text in texts]
    language = Only(numbers, len(model.words))
    found = Search(small_tree(model), language, width=20_000, behind=math.inf).run(Dice(seed))  # type: ignore[arg-type]
    assert found.keys() == set(numbers)
    for text, number in zip(texts, numbers, strict=True):
        assert found[number] == pytest.approx(by_trying(Dice(seed), text))


def language_score(language: Language, words: Words) -> float:
    state, total = language.start(), 0.0
    for word in words:
        total += float(language.chances(state)[word])
        state = language.after(state, word)
    return total + language.end(state)


@pytest.mark.parametrize("seed", range(3))
def test_the_best_remark_is_found_as_by_trying_them_all(seed: int) -> None:
    model = trigrams()
    language = Trigrams(model, weight=1.0, bonus=0.5)
    found = Search(small_tree(model), language, width=3000, behind=30.0).run(Dice(seed))  # type: ignore[arg-type]
    best = max(found, key=found.__getitem__)
    spoken = range(2, len(model.words))
    tried = {
        text: by_trying(Dice(seed), tuple(model.words[at] for at in text))
        + language_score(language, text)
        for count in (1, 2)
        for text in itertools.product(spoken, repeat=count)
    }
    assert found[best] >= max(tried.values()) - 1e-9
    for text in found.keys() & tried.keys():
        assert found[text] <= tried[text] + 1e-9


def test_no_text_ends_where_the_model_would_rather_go_on() -> None:
    model = trigrams()
    dice = Dice(1)
    search = Search(small_tree(model), Trigrams(model, 1.0, 0.5), 500, 30.0, readiness=-1e-9)
    for text in search.run(dice):  # type: ignore[arg-type]
        every = ways(tuple(model.words[at] for at in text))
        assert any(dice.row((1, *way)).argmax() == STOP for way in every)


def test_words_of_a_row_have_the_chances_of_the_model() -> None:
    model = trigrams()
    for history in itertools.product(range(len(model.words)), repeat=2):
        row = model.row(history)
        said = [model.words[at] for at in history]
        for at, word in enumerate(model.words):
            assert row[at] == pytest.approx(model.probability(word, said))


def test_a_saved_model_is_the_same(tmp_path: Path) -> None:
    model = trigrams()
    save_trigrams(model, tmp_path / "grams")
    again = load_trigrams(tmp_path / "grams")
    assert again.words == model.words
    assert all(np.array_equal(vars(again)[name], value) for name, value in vars(model).items())


def test_numbers_are_written_as_words_and_as_figures() -> None:
    # num2words is an independent reference for the words of a number
    from num2words import num2words

    for number in (3, 17, 20, 42, 99):
        said = tuple(num2words(number).replace("-", " ").split())
        forms = {text for text, words in written_forms([*said, "bolts"]) if words == said}
        assert f"{SPACE}{number}" in forms
    assert (f"{SPACE}O-ring", ("o", "ring")) in set(written_forms(["o", "ring"]))
    assert not any("hundred" in words for _, words in written_forms(["two", "bolts"]))
