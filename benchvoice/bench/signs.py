"""Signs of talk that was not for the bench, in what was heard and in what was made of it."""

from __future__ import annotations

import msgspec

from benchvoice.hearing import Clues
from benchvoice.remark import Finding, Remark


class Signs(msgspec.Struct, frozen=True, kw_only=True):
    """The clues of an engine (see `Clues`), and how many stretches of words meant nothing.

    `apart` is 0 without a second opinion.  `thin` is 1 when what was made of it
    says one thing only, a part and nothing of it or an action and not of what,
    as is soon made of any two words; else 0.
    """

    own: float
    unlikely: float
    worst: float
    shortest: float
    left_over: float
    apart: float = 0.0
    thin: float = 0.0


def signs_of(clues: Clues, remark: Remark) -> Signs:
    """Give the signs of one utterance; `remark` is what was made of it."""
    return Signs(
        own=clues.own,
        unlikely=clues.unlikely,
        worst=clues.worst,
        shortest=clues.shortest,
        left_over=float(len(remark.unparsed)),
        apart=clues.apart or 0.0,
        thin=float(remark.kind == "remark" and sum(map(_facts, remark.findings)) <= 1),
    )


def _facts(finding: Finding) -> int:
    """Count what a finding says."""
    return sum(value not in (None, ()) for value in msgspec.structs.astuple(finding))


def weighed(signs: Signs, weights: Signs, bias: float) -> float:
    """Give the bias and the sum of weighted signs: natural log odds of talk against remarks."""
    return (
        bias
        + weights.own * signs.own
        + weights.unlikely * signs.unlikely
        + weights.worst * signs.worst
        + weights.shortest * signs.shortest
        + weights.left_over * signs.left_over
        + weights.apart * signs.apart
        + weights.thin * signs.thin
    )
