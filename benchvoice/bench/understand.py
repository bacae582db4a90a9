"""The engine's guesses weighed by what they would mean."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.hearing import Heard
from benchvoice.language import Parser
from benchvoice.remark import Remark, StepGuess

Guess = Callable[[Remark], StepGuess | None]
"""Says which step a remark belongs to, with a score of 0 to 100."""

_UNCLEAR = 3.0
_LEFT_OVER = 1.0
_OUTLINE = 1.5
"""In natural log units of the engine's posterior: what a guess loses for meaning nothing, for each
stretch of words left over, and gains for fitting the outline perfectly.  Set by hand."""


class Understood(NamedTuple):
    """The remark made of an utterance, and the other texts that the engine had."""

    remark: Remark
    alternatives: tuple[str, ...]


def understand(heard: Heard, parser: Parser, guess: Guess | None = None) -> Understood:
    """Choose among the engine's guesses by its posterior, by sense, and by the outline."""
    if not heard.hypotheses:
        return Understood(Remark(heard="", confidence=0.0), ())
    best: tuple[float, Remark] | None = None
    for hypothesis in heard.hypotheses:
        remark = parser.parse(hypothesis.text)
        step = guess(remark) if guess is not None else None
        remark = replace(remark, confidence=round(hypothesis.confidence, 3), step=step)
        score = math.log(max(hypothesis.confidence, 1e-9)) + worth(remark)
        if best is None or score > best[0]:
            best = score, remark
    assert best is not None
    chosen = best[1]
    others = (hypothesis.text for hypothesis in heard.hypotheses)
    return Understood(chosen, _without(others, chosen.heard))


def worth(remark: Remark) -> float:
    """How much sense a remark makes, in natural log units; 0 is plain sense off the outline."""
    score = -_LEFT_OVER * len(remark.unparsed)
    if remark.kind == "unclear":
        score -= _UNCLEAR
    if remark.step is not None and remark.kind == "remark":
        score += _OUTLINE * remark.step.score / 100
    return score


def _without(texts: Iterable[str], chosen: str) -> tuple[str, ...]:
    return tuple(text for text in texts if text != chosen)
