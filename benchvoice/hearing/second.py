"""A second opinion on what an engine has heard, from a general model of English speech.

The two err in different places: one knows the trade's words and little of voices and noise, the
other much of voices and nothing of the trade.  So the other scores the engine's guesses, and what
it would make of the sound when held to the words of the remarks.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from benchvoice.audio.denoise import Denoiser
from benchvoice.audio.samples import SAMPLE_RATE, Samples
from benchvoice.hearing.again import CLEAR, LONGEST
from benchvoice.hearing.engine import Engine, Heard, Hypothesis, best_first
from benchvoice.hearing.general_model import Encoded, GeneralModel, Writing, freely
from benchvoice.hearing.ngram import TrigramModel, load_trigrams
from benchvoice.hearing.quieten import quieten
from benchvoice.hearing.word_search import FormTree, Search, Texts, Trigrams, best_of
from benchvoice.hearing.written import written_forms

_WEIGHT, _BONUS, _READINESS = 0.5, 1.5, 2.0
"""What trigrams weigh against the model, what each word gains, and how ready to stop it must be."""
_WIDTH, _WIDTH_OF_TEXTS = 8, 16
_BEHIND, _BEHIND_OF_TEXTS = 8.0, 12.0
"""How many texts are written at a time, and how far behind the best (natural log) they are dropped:
when it looks for its own, and when it scores given ones.  All chosen on development remarks."""
_ASKED, _ADDED = 8, 5
"""How many guesses of the engine it is asked about, and how many of its own it may add."""
_SHARE = 0.4
"""How much its log likelihoods count beside the engine's."""
_NEVER = 0.003
"""The confidence that counts for a text that the engine did not have."""
_HOPELESS = 10.0
"""How far apart the two are, a second, when it cannot write one guess without foreign words."""
_UNSCORED = 6.0
"""How much less likely a text counts that it cannot write than the worst that it can."""


class SecondOpinion:
    """An engine with a second opinion on each utterance.

    Noise is taken out here, for both: the engine is one without a denoiser.
    """

    def __init__(
        self,
        engine: Engine,
        model: GeneralModel,
        grams: TrigramModel,
        foreign: Collection[str],
        denoiser: Denoiser | None,
    ) -> None:
        self.name = f"{engine.name}, with a second opinion"
        self.missing = engine.missing
        self._engine, self._model, self._denoiser = engine, model, denoiser
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
        denoiser: Denoiser | None,
    ) -> SecondOpinion:
        """Make it for an engine that was taught with `files` (see `taught`)."""
        foreign = files["foreign"].read_text(encoding="utf-8").split()
        return cls(engine, model, load_trigrams(files["grams"]), foreign, denoiser)

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16.

        On one that is longer than `LONGEST` there is no second opinion.
        """
        if not samples.size:
            return Heard()
        quiet = quieten(samples, self._denoiser)
        heard = self._engine.hear(quiet)
        if not heard.hypotheses or samples.size > LONGEST * SAMPLE_RATE:
            return heard
        encoded = self._model.encode(quiet)
        if heard.confidence >= CLEAR:
            texts = [heard.text]
        else:
            texts = [one.text for one in heard.hypotheses[:_ASKED]] + self._proposed(encoded)
        scores = self._scored(encoded, texts)
        free = freely(Writing(self._model, encoded))
        if heard.confidence < CLEAR:
            heard = combined(heard, scores)
        return self._clued(heard, scores, free, samples.size / SAMPLE_RATE)

    def _clued(
        self, heard: Heard, scores: Mapping[str, float | None], free: float, seconds: float
    ) -> Heard:
        if heard.clues is None:
            return heard
        own = [
            score
            for text, score in scores.items()
            if score is not None and self._foreign.isdisjoint(text.split())
        ]
        best = max(own, default=free - _HOPELESS * seconds)
        return replace(heard, clues=replace(heard.clues, apart=(free - best) / seconds))

    def _proposed(self, encoded: Encoded) -> list[str]:
        search = Search(self._tree, self._trigrams, _WIDTH, _BEHIND, _READINESS)
        found = search.run(Writing(self._model, encoded))
        texts = best_of(found, self._words, _ADDED)
        return [text for text in texts if self._foreign.isdisjoint(text.split())]

    def _scored(self, encoded: Encoded, texts: Sequence[str]) -> dict[str, float | None]:
        """Give the natural log likelihood of each text, in the best way to write it."""
        known = {
            tuple(self._index[word] for word in text.split()): text
            for text in texts
            if all(word in self._index for word in text.split())
        }
        search = Search(
            self._tree, Texts(known, len(self._words)), _WIDTH_OF_TEXTS, _BEHIND_OF_TEXTS
        )
        found = search.run(Writing(self._model, encoded))
        return dict.fromkeys(texts) | {known[one]: score for one, score in found.items()}


def combined(heard: Heard, scores: Mapping[str, float | None]) -> Heard:
    """Weigh the engine's guesses, and texts beside them, by the scores of a second opinion.

    The confidence of a text is its share of the products of the two
    likelihoods, the second to the power of `_SHARE`.  Texts that were not
    scored count as a little worse than the worst.
    """
    given = [score for score in scores.values() if score is not None]
    if not given:
        return heard
    best, worst = max(given), min(given) - _UNSCORED
    first = {one.text: one.confidence for one in heard.hypotheses}
    logs: dict[str, float] = {}
    for text in dict.fromkeys((*first, *scores)):
        score = scores.get(text)
        second = (worst if score is None else score) - best
        logs[text] = math.log(first.get(text, 0.0) + _NEVER) + _SHARE * second
    total = sum(map(math.exp, logs.values()))
    guesses = (Hypothesis(text, math.exp(log) / total, log) for text, log in logs.items())
    return replace(heard, hypotheses=best_first(guesses).hypotheses)
