"""A second opinion on what an engine has heard, from a general model of English speech.

The two err in different places: one knows the trade's words and little of voices and noise, the
other much of voices and nothing of the trade.  So the other scores the engine's guesses, and what
it would make of the sound when held to the words of the remarks.  How readily it would write a text
that nobody said is taken off in part, for else it hears everyday words instead of the trade's
(McDermott, Sak and Variani, "A density ratio approach to language model fusion in end-to-end
automatic speech recognition", 2019).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

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
_WIDTH, _BEHIND = 16, 5.0
"""How many texts are written at a time then, and how far behind the best (natural log) they are
dropped."""
_ASKED, _LEAST, _ADDED = 24, 0.02, 3
"""How many guesses of the engine it is asked about, how likely they must be beside the best, and
how many of its own it may add."""
_SHARE, _UNHEARD, _CHANCE = 0.46, 0.1, 0.2
"""How much its log likelihoods count beside the engine's, how much of what they would be without
the sound is taken off, and how much those of the trigrams count."""
_NEVER = 0.02
"""The confidence that counts for a text that the engine did not have."""
_UNSCORED = 2.0
"""How much less likely a text counts that it was not asked about than the worst that it was.
All chosen on development remarks."""
_HOPELESS = 10.0
"""How far apart the two are, a second, when it cannot write one guess without foreign words."""


class _Written(NamedTuple):
    """The likeliest way to write a text: its pieces, and their likelihood in this sound."""

    score: Likelihood
    pieces: Sequence[int]


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
            least = _LEAST * heard.confidence
            asked = heard.hypotheses[:_ASKED]
            guesses = [one.text for one in asked if one.confidence >= least]
            scores = self._scored(encoded, guesses + self._proposed(encoded))
            heard = combined(heard, self._worth(scores))
        return self._clued(heard, scores, samples.size / SAMPLE_RATE)

    def _clued(self, heard: Heard, found: Mapping[str, _Written], seconds: float) -> Heard:
        if heard.clues is None:
            return heard
        own = [one.score for text, one in found.items() if self._foreign.isdisjoint(text.split())]
        best = max(own, default=None)
        apart = _HOPELESS if best is None else (best.likeliest - best.text) / seconds
        return replace(heard, clues=replace(heard.clues, apart=apart))

    def _proposed(self, encoded: Encoded) -> list[str]:
        search = Search(self._tree, self._trigrams, _WIDTH, _BEHIND, _READINESS)
        found = search.run(Writing(self._model, encoded))
        texts = best_of(found, self._words, _ADDED)
        return [text for text in texts if self._foreign.isdisjoint(text.split())]

    def _scored(self, encoded: Encoded, texts: Iterable[str]) -> dict[str, _Written]:
        """Give each text in the likeliest way to write it; without any it is left out."""
        ways = [
            (text, pieces)
            for text in dict.fromkeys(texts)
            for form in whole_forms(text)
            if (pieces := in_pieces(self._model, form))
        ]
        scores = self._model.likelihoods(encoded, [pieces for _, pieces in ways])
        found: dict[str, _Written] = {}
        for (text, pieces), score in zip(ways, scores, strict=True):
            one = _Written(score, pieces)
            found[text] = max(one, found.get(text, one))
        return found

    def _worth(self, found: Mapping[str, _Written]) -> dict[str, float]:
        """Weigh each text, natural logs, without what the engine thinks of it."""
        pieces = [one.pieces for one in found.values()]
        unheard = self._model.likelihoods(self._model.unheard, pieces)
        return {
            text: _SHARE * one.score.text - _UNHEARD * alone.text + _CHANCE * self._chance(text)
            for (text, one), alone in zip(found.items(), unheard, strict=True)
        }

    def _chance(self, text: str) -> float:
        return self._grams.log_likelihood([self._index[word] for word in text.split()])


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
