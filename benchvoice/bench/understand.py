"""The engine's guesses weighed by what they would mean."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import NamedTuple

from msgspec.structs import replace

from benchvoice.grammar import Pack
from benchvoice.hearing import Heard, Hypothesis
from benchvoice.language import Parser
from benchvoice.remark import Remark, StepGuess

Guess = Callable[[Remark], StepGuess | None]
"""Says which step a remark belongs to, with a score of 0 to 100."""

_UNCLEAR = 3.0
_LEFT_OVER = 1.5
_OUTLINE = 1.5
_USUAL = 0.7
"""In natural log units of the engine's posterior: what a meaning loses for being none, for each
stretch of words left over, and gains for fitting the outline perfectly, and gains or loses for a
condition that is usual or not for its part.  Set by hand."""


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
    the front"); `confidence` is their common share, `heard` the likeliest text.
    """
    if not heard.hypotheses:
        return Understood(Remark(heard="", confidence=0.0), ())
    if not heard.trusted:  # not for the bench: kept as it was heard, but nothing is made of it
        refused = Remark(heard=heard.text, confidence=round(heard.confidence, 3))
        return Understood(refused, tuple(one.text for one in heard.hypotheses[1:]))
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
    others = tuple(one.text for one in heard.hypotheses if one.text != chosen.heard)
    return Understood(chosen, others)


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
    """Count the findings whose condition is usual for the kind of part, less those where not."""
    total = 0
    for finding in remark.findings:
        name = finding.part or ""
        part = pack.part_by_name.get(name) or pack.part_by_name.get(name.rpartition(" ")[2])
        condition = pack.condition_by_name.get(finding.condition or "")
        if part is not None and condition is not None and condition.on and part.kind != "other":
            total += 1 if part.kind in condition.on else -1
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
