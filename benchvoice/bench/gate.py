"""Which sound and which remarks count: open microphone, attention word, hold-to-talk.

Nothing here knows of devices or threads; times are seconds of the sitting.
"""

from __future__ import annotations

import math
import threading
from collections import deque
from dataclasses import dataclass, replace
from typing import Literal

from benchvoice.bench.hold import HoldKey
from benchvoice.hearing import Heard, Hypothesis, best_first
from benchvoice.hearing.engine import Sentences

Mode = Literal["open", "attention", "hold"]
"""All counts; only what the attention word calls for; only what is said while the key is down."""

DEFAULT_WORD = "ladybug"
"""Of 44 long words tried the one whose sounds are furthest from all stretches of 4000 generated
remarks: 4 of its 7 would have to change (`hearing.pronounce`, Levenshtein distance of sounds)."""


@dataclass(frozen=True)
class GateSettings:
    """Times in seconds.

    A remark that starts within `follow` of the end of one with the attention
    word needs no word of its own; an answer needs none within `answer` of its
    question.  `tail` is how long a room still rings, and how late a sound
    system may be, after the last of our own voice.  `early` is how long
    before the key people begin to speak.
    """

    follow: float = 8.0
    answer: float = 15.0
    tail: float = 0.5
    early: float = 0.3


_ALONE = 0.05
"""How often the attention word is said alone, against all remarks."""


class Gate:
    """Tells what counts in each mode; may be asked from several threads.

    `word` is the attention word or phrase, None when there is none.
    """

    def __init__(
        self,
        mode: Mode = "open",
        word: str | None = None,
        key: HoldKey | None = None,
        settings: GateSettings | None = None,
    ) -> None:
        self.settings = settings or GateSettings()
        self.word = word
        self.mode: Mode = mode
        self._key = key
        self._lock = threading.Lock()
        self._called_until = -math.inf
        self._answer_until = -math.inf
        self._deaf: deque[tuple[float, float]] = deque(maxlen=16)

    @property
    def delay(self) -> float:
        """How long sound has to be kept before `sound` is asked about it."""
        return self.settings.early if self.mode == "hold" else 0.0

    def switch(self, mode: Mode) -> str | None:
        """Change the way of talking; gives the reason when it cannot be, and changes nothing."""
        if mode == "attention" and self.word is None:
            return "there is no attention word: start with --attention"
        if mode == "hold" and self._key is None:
            return "there is no key to hold: start with --hold"
        self.mode = mode
        return None

    def press(self, at: float) -> None:
        """The key was pressed, or repeated itself because it is held."""
        with self._lock:
            if self._key is not None:
                self._key.press(at)

    def asked(self, at: float) -> None:
        """A question was put to the user at `at`: its answer needs no attention word."""
        self._answer_until = at + self.settings.answer

    def speaks(self, at: float) -> None:
        """Our own voice begins: deaf until told of its end."""
        with self._lock:
            self._deaf.append((at, math.inf))

    def spoke(self, at: float) -> None:
        """Our own voice ended."""
        with self._lock:
            if self._deaf:
                self._deaf[-1] = (self._deaf[-1][0], at + self.settings.tail)
            if self._answer_until >= at:  # it was the question that was spoken
                self._answer_until = at + self.settings.answer

    def sound(self, start: float, end: float) -> bool:
        """Whether the sound from `start` to `end` may be listened to at all."""
        with self._lock:
            if any(first < end and start < last for first, last in self._deaf):
                return False
            if self.mode != "hold" or self._key is None:
                return True
            return self._key.open_between(start, end + self.settings.early)

    def is_open(self, at: float) -> bool:
        """Whether something said now would count; for showing."""
        with self._lock:
            if self.mode == "attention":
                return at <= max(self._called_until, self._answer_until)
            return self.mode == "open" or (self._key is not None and self._key.is_open(at))

    def admit(self, heard: Heard, start: float, end: float) -> Heard | None:
        """Give what counts of an utterance, without the attention word; None when nothing does.

        The word alone is nothing in itself, but what follows it counts.
        """
        if self.mode != "attention" or self.word is None:
            return heard
        called = after_word(heard, self.word)
        if called is not None:
            self._called_until = end + self.settings.follow
            return called if called.hypotheses else None
        return heard if start <= max(self._called_until, self._answer_until) else None


def with_attention(sentences: Sentences, word: str) -> Sentences:
    """Give sentences to teach an engine: each as it is and after `word`, and the word alone."""
    called = tuple(word.split())
    total = 0.0
    for words, weight in sentences:
        total += weight
        yield words, weight
        yield (*called, *words), weight
    yield called, total * _ALONE


def after_word(heard: Heard, word: str) -> Heard | None:
    """Give the guesses that begin with `word`, without it; None when most do not.

    Confidences are shares of those that begin with it.
    """
    whole = sum(guess.confidence for guess in heard.hypotheses)
    called = [guess for guess in heard.hypotheses if f"{guess.text} ".startswith(f"{word} ")]
    share = sum(guess.confidence for guess in called)
    if not called or share < whole / 2:
        return None
    rest = best_first(
        Hypothesis(guess.text[len(word) :].strip(), guess.confidence / share, guess.score)
        for guess in called
    )
    if not rest.text:
        return Heard()
    said = tuple(guess for guess in rest.hypotheses if guess.text)
    return replace(heard, hypotheses=said)
