"""The protocol that every speech engine keeps, its values, and a scripted engine."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from benchvoice.audio.samples import Samples

MAX_HYPOTHESES = 20
"""How many guesses an engine gives at most."""

Sentences = Iterable[tuple[tuple[str, ...], float]]
"""What the engine may hear: (words, weight) pairs, lower case, weight above zero."""

ALTERNATE = re.compile(r"\(\d+\)$")
"""What marks a further pronunciation of a word: "two(2)"."""


@dataclass(frozen=True)
class Hypothesis:
    """One guess at what was said.

    `text` is lower-case words with single spaces, empty when nothing was made
    out; `confidence` is 0..1; `score` is the engine's own (higher is better),
    to be compared within one `Heard` only.
    """

    text: str
    confidence: float
    score: float


@dataclass(frozen=True)
class Clues:
    """What an engine knows of whether speech was for the bench at all.

    `own` is the posterior, 0..1, of the guesses in which no word is foreign to
    the remarks.  Of the words of the first hearing's best guess: `unlikely` is
    how unlikely they are after one another, mean natural log (0 is certain);
    `worst` how badly the sound of the worst fits, natural log of the best
    rival sounds over its own, a frame; `shortest` how many frames each sound
    of the most hurried one has.  `apart` is what a second opinion has on it: how
    much likelier it finds its own choice at each place of the best guess without
    foreign words than that guess, natural log for each second; None without one.
    """

    own: float
    unlikely: float
    worst: float
    shortest: float
    apart: float | None = None


@dataclass(frozen=True)
class Heard:
    """The guesses at one utterance, best first, no text twice, at most MAX_HYPOTHESES.

    Of whether it was for the bench at all an engine gives either `clues` or a
    `garbage` score of its own, 0 to 1 (surely not); when not `trusted` nothing
    is to be made of it.
    """

    hypotheses: tuple[Hypothesis, ...] = ()
    clues: Clues | None = None
    garbage: float | None = None
    trusted: bool = True

    @property
    def text(self) -> str:
        """The best guess, empty when there is none."""
        return self.hypotheses[0].text if self.hypotheses else ""

    @property
    def confidence(self) -> float:
        """The confidence of the best guess, 0 when there is none."""
        return self.hypotheses[0].confidence if self.hypotheses else 0.0


class Engine(Protocol):
    """Turns the samples of one utterance into guesses at its words."""

    @property
    def name(self) -> str:
        """Which engine and model this is, for people."""

    @property
    def missing(self) -> tuple[str, ...]:
        """Words of the sentences that this engine can never hear, sorted."""

    def hear(self, samples: Samples) -> Heard:
        """Listen to one whole utterance: 16 kHz mono int16."""


class ScriptedEngine:
    """An engine that gives the texts it was told, in turn, then nothing.

    A text may be a sequence of texts, which become guesses of falling confidence.
    """

    name = "scripted"

    def __init__(
        self, texts: Iterable[str | tuple[str, ...]], *, missing: tuple[str, ...] = ()
    ) -> None:
        self._texts = iter(texts)
        self.missing = missing

    def hear(self, samples: Samples) -> Heard:
        """Give the next text whatever the samples are."""
        texts = next(self._texts, ())
        guesses = (texts,) if isinstance(texts, str) else texts
        return best_first(
            Hypothesis(text, 0.9**rank, -float(rank)) for rank, text in enumerate(guesses)
        )


def plain_text(text: str) -> str:
    """Take an engine's marks out of a text: "<sil> two(2) seals [NOISE]" is "two seals".

    >>> plain_text("<s> two(2) seals ++breath++ [NOISE] </s>")
    'two seals'
    """
    words = (ALTERNATE.sub("", word) for word in text.split())
    return " ".join(word for word in words if word and word[0] not in "<[+")


def best_first(hypotheses: Iterable[Hypothesis], most: int = MAX_HYPOTHESES) -> Heard:
    """Sort guesses by score and drop repeated texts and those past `most`.

    Of equal texts the best scored stays, with the highest confidence of them.
    """
    found: dict[str, Hypothesis] = {}
    for guess in sorted(hypotheses, key=lambda guess: -guess.score):
        kept = found.get(guess.text)
        if kept is None:
            found[guess.text] = guess
        elif guess.confidence > kept.confidence:
            found[guess.text] = Hypothesis(kept.text, guess.confidence, kept.score)
    return Heard(tuple(found.values())[:most])
