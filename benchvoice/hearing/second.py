"""A second opinion on what an engine has heard, from a general model of English speech.

The two err in different places: one knows the trade's words and little of voices and noise, the
other much of voices and nothing of the trade.  So the other scores the engine's guesses, and what
it would make of the sound when held to the words of the remarks.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from pathlib import Path

from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.again import CLEAR, LONGEST
from benchvoice.hearing.engine import Engine, Heard, Hypothesis, best_first
from benchvoice.hearing.general_model import Encoded, GeneralModel, Likelihood, Writing
from benchvoice.hearing.ngram import TrigramModel, load_trigrams
from benchvoice.hearing.word_search import FormTree, Search, Trigrams, best_of, in_pieces
from benchvoice.hearing.written import whole_forms, written_forms

_WEIGHT, _BONUS, _READINESS = 0.5, 1.5, 2.0
"""What trigrams weigh against the model, what each word gains, and how ready to stop it must be,
while it looks for texts of its own."""
_WIDTH, _BEHIND = 8, 8.0
"""How many texts are written at a time then, and how far behind the best (natural log) they are
dropped."""
_ASKED, _ADDED = 8, 3
"""How many guesses of the engine it is asked about, and how many of its own it may add."""
_SHARE, _CHANCE = 0.38, 0.1
"""How much its log likelihoods, and those of the trigrams, count beside the engine's."""
_NEVER = 0.005
"""The confidence that counts for a text that the engine did not have."""
_UNSCORED = 2.0
"""How much less likely a text counts that it was not asked about than the worst that it was.
All chosen on development remarks."""
_HOPELESS = 10.0
"""How far apart the two are, a second, when it cannot write one guess without foreign words."""


class SecondOpinion:
    """An engine with a second opinion on each utterance.

    The model was taught with noise, and hears the sound as it is; taking noise out is left to the
    engine, which needs it.
    """

    def __init__(
        self,
        engine: Engine,
        model: GeneralModel,
        grams: TrigramModel,
        foreign: Collection[str],
    ) -> None:
        self.name = f"{engine.name}, with a second opinion"
        self.missing = engine.missing
        self._engine, self._model, self._grams = engine, model, grams
        self._words = grams.words
        self._index = {word: at for at, word in enumerate(grams.words)}
        self._foreign = frozenset(foreign)
        self._tree = FormTree(model, written_forms(grams.words[2:]), self._index)
        self._trigrams = Trigrams(grams, _WEIGHT, _BONUS)

    @classmethod
    def on(
        cls,
        engine: Engine,
        model: GeneralModel,
        files: Mapping[str, Path],
    ) -> SecondOpinion:
        """Make it for an engine that was taught with `files` (see `taught`)."""
        foreign = files["foreign"].read_text(encoding="utf-8").split()
        return cls(engine, model, load_trigrams(files["grams"]), foreign)

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16.

        On one that is longer than `LONGEST` there is no second opinion.
        """
        heard = self._engine.hear(samples)
        if not heard.hypotheses or samples.size > LONGEST * SAMPLE_RATE:
            return heard
        encoded = self._model.encode(samples)
        if heard.confidence >= CLEAR:
            scores = self._scored(encoded, [heard.text])
        else:
            guesses = [one.text for one in heard.hypotheses[:_ASKED]]
            scores = self._scored(encoded, guesses + self._proposed(encoded))
            heard = combined(heard, {text: self._worth(text, scores[text]) for text in scores})
        return self._clued(heard, scores, samples.size / SAMPLE_RATE)

    def _clued(self, heard: Heard, scores: Mapping[str, Likelihood], seconds: float) -> Heard:
        if heard.clues is None:
            return heard
        own = [score for text, score in scores.items() if self._foreign.isdisjoint(text.split())]
        best = max(own, default=None)
        apart = _HOPELESS if best is None else (best.likeliest - best.text) / seconds
        return replace(heard, clues=replace(heard.clues, apart=apart))

    def _proposed(self, encoded: Encoded) -> list[str]:
        search = Search(self._tree, self._trigrams, _WIDTH, _BEHIND, _READINESS)
        found = search.run(Writing(self._model, encoded))
        texts = best_of(found, self._words, _ADDED)
        return [text for text in texts if self._foreign.isdisjoint(text.split())]

    def _scored(self, encoded: Encoded, texts: Iterable[str]) -> dict[str, Likelihood]:
        """Give each text's likelihood in the likeliest way to write it; without it none."""
        ways = [
            (text, pieces)
            for text in dict.fromkeys(texts)
            for form in whole_forms(text)
            if (pieces := in_pieces(self._model, form))
        ]
        scores = self._model.likelihoods(encoded, [pieces for _, pieces in ways])
        found: dict[str, Likelihood] = {}
        for (text, _), score in zip(ways, scores, strict=True):
            found[text] = max(score, found.get(text, score))
        return found

    def _worth(self, text: str, score: Likelihood) -> float:
        chance = self._grams.log_likelihood([self._index[word] for word in text.split()])
        return _SHARE * score.text + _CHANCE * chance


def combined(heard: Heard, worth: Mapping[str, float]) -> Heard:
    """Weigh the engine's guesses, and texts beside them, by what else speaks for them.

    `worth` are natural logs; the confidence of a text is its share of the
    products of the two.  Texts without any count as a little worse than the worst.
    """
    if not worth:
        return heard
    best, worst = max(worth.values()), min(worth.values()) - _UNSCORED
    first = {one.text: one.confidence for one in heard.hypotheses}
    logs = {
        text: math.log(first.get(text, 0.0) + _NEVER) + worth.get(text, worst) - best
        for text in dict.fromkeys((*first, *worth))
    }
    total = sum(map(math.exp, logs.values()))
    guesses = (Hypothesis(text, math.exp(log) / total, log) for text, log in logs.items())
    return replace(heard, hypotheses=best_first(guesses).hypotheses)
