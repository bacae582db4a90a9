"""The trigram model held against NLTK's Witten-Bell model and against PocketSphinx's own reader.

NLTK (nltk.lm.WittenBellInterpolated) is an independent implementation of the
same smoothing.  It is given the same n-grams: each sentence between one <s>
and one </s>, of which <s> is never predicted.
"""

import itertools
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st
from nltk.lm import NgramCounter, Vocabulary
from nltk.lm.models import WittenBellInterpolated

from benchvoice.errors import EngineError
from benchvoice.hearing import TrigramModel, estimate_trigrams, write_arpa

REMARKS = [
    "eight bolts off front",
    "one seal cracked",
    "two seals cracked",
    "two piston seals replace",
    "eight bolts in tray two",
    "eight bolts off rear",
    "next",
    "next step",
]
WORDS = st.sampled_from(["one", "two", "seal", "bolt", "off", "front"])
TEXTS = st.lists(
    st.tuples(st.lists(WORDS, min_size=1, max_size=5).map(tuple), st.integers(1, 4)),
    min_size=1,
    max_size=12,
)


def ours(texts: list[str], weight: float = 1.0) -> TrigramModel:
    return estimate_trigrams((tuple(text.split()), weight) for text in texts)


def nltk_model(sentences: list[tuple[tuple[str, ...], int]]) -> WittenBellInterpolated:
    grams = []
    for words, weight in sentences:
        padded = ("<s>", *words, "</s>")
        for _ in range(weight):
            grams.append([(word,) for word in padded[1:]])
            grams.append(list(itertools.pairwise(padded)))
            grams.append(list(zip(padded, padded[1:], padded[2:], strict=False)))
    every = {word for words, _ in sentences for word in words} | {"<s>", "</s>"}
    model = WittenBellInterpolated(3, vocabulary=Vocabulary(sorted(every), unk_cutoff=1))
    model.counts = NgramCounter(grams)
    model.estimator.counts = model.counts
    return model


def histories(model: TrigramModel) -> list[tuple[str, ...]]:
    words = [word for word in model.words if word != "</s>"]
    pairs = itertools.product(words, [word for word in words if word != "<s>"])
    return [(), *((word,) for word in words), *pairs]


@hypothesis_settings(max_examples=40, deadline=None)
@given(TEXTS)
def test_probabilities_are_those_of_nltk(sentences: list[tuple[tuple[str, ...], int]]) -> None:
    model = estimate_trigrams(sentences)
    reference = nltk_model(sentences)
    for history in histories(model):
        for word in model.words[1:]:
            expected = reference.unmasked_score(word, history)
            assert model.probability(word, history) == pytest.approx(expected, rel=1e-9)


@hypothesis_settings(max_examples=40, deadline=None)
@given(TEXTS, st.floats(0.01, 50))
def test_probabilities_sum_to_one_after_every_history(
    sentences: list[tuple[tuple[str, ...], int]], scale: float
) -> None:
    model = estimate_trigrams((words, weight * scale) for words, weight in sentences)
    for history in histories(model):
        total = sum(model.probability(word, history) for word in model.words[1:])
        assert total == pytest.approx(1.0, abs=1e-9)
        assert model.probability("<s>", history) == 0


def test_a_worked_value() -> None:
    # The formula by hand: "eight" starts 3 of the 8 remarks, which start with 4
    # kinds of word, and is 3 of all the words and ends.
    model = ours(REMARKS)
    running = sum(len(text.split()) + 1 for text in REMARKS)
    starts = {text.split()[0] for text in REMARKS}
    expected = (3 + len(starts) * 3 / running) / (8 + len(starts))
    assert model.probability("eight", ("<s>",)) == pytest.approx(expected)


def test_a_word_never_said_is_impossible() -> None:
    assert ours(REMARKS).probability("gasket", ("one",)) == 0


def test_no_sentences_is_said() -> None:
    with pytest.raises(EngineError, match="no sentences"):
        estimate_trigrams([])


def test_the_arpa_file_says_the_same(tmp_path: Path) -> None:
    model = ours(REMARKS)
    write_arpa(model, tmp_path / "a.arpa")
    sections = (tmp_path / "a.arpa").read_text().split("\n\n")
    assert sections[0].startswith("\\data\\")
    for order, section in enumerate(sections[1:4], start=1):
        head, *lines = section.splitlines()
        assert head == f"\\{order}-grams:"
        assert f"ngram {order}={len(lines)}" in sections[0]
        for line in lines:
            value, *rest = line.split()
            *history, word = rest[:order]
            if word != "<s>":
                expected = math.log10(model.probability(word, history))
                assert float(value) == pytest.approx(expected, abs=1e-5)


def test_pocketsphinx_reads_the_same_model(tmp_path: Path) -> None:
    from pocketsphinx import Config, LogMath, NGramModel, get_model_path

    model = ours(REMARKS)
    write_arpa(model, tmp_path / "a.arpa")
    config = Config(hmm=get_model_path("en-us/en-us"), lw=1.0, wip=1.0, loglevel="FATAL")
    logmath = LogMath(1.0001)
    read = NGramModel(config, logmath, str(tmp_path / "a.arpa"))
    assert read.size() == 3
    for history in histories(model):
        for word in model.words[1:]:
            # PocketSphinx takes the word first, then its history, newest first
            value = logmath.exp(read.prob([word, *reversed(history)]))
            assert value == pytest.approx(model.probability(word, history), rel=0.02)
