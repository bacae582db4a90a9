"""What else a remark may have been: the engine's further texts, understood."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from benchvoice.follow.same import Same
from benchvoice.grammar.pack import Pack
from benchvoice.language import Parser
from benchvoice.remark import Finding, Remark

MOST = 8
"""So many further texts are looked at, the likeliest first: with four, half a remark in a hundred
fewer came out right (423 spoken clean, and at 20 dB; tests/benchmarks/step_heard.py, seed 7)."""

_SURE_OF_NOTHING = 0.3
_NEXT = 0.9
"""The share of the text that was taken when its confidence is 0 (which is kept low for other
reasons as well), and how much less likely each further text is than the one before.  Chosen on the
same remarks, where 0.15 to 0.6 and 0.7 came out within one remark in a hundred."""


@dataclass(frozen=True, eq=False, slots=True)
class Other:
    """One further text and what it finds; only equal to itself, which is quick to look up."""

    findings: tuple[Finding, ...]
    heard: str


class Others:
    """A pack ready to understand further texts."""

    def __init__(self, pack: Pack) -> None:
        self.parse = Parser(pack).parse
        self.of = lru_cache(maxsize=4096)(self._of)

    def _of(self, texts: tuple[str, ...]) -> tuple[Other, ...]:
        """Give the first MOST of the texts that are no commands, likeliest first."""
        found = map(self.parse, texts)
        remarks = [remark for remark in found if remark.kind != "command"]
        return tuple(Other(remark.findings, remark.heard) for remark in remarks[:MOST])


def others_of(pack: Pack, texts: Sequence[str]) -> tuple[Other, ...]:
    """Understand an engine's further texts, likeliest first; a few may be commands."""
    return _made(Same(pack)).of(tuple(texts[: MOST + 2])) if texts else ()


def understood(pack: Pack, text: str) -> Remark:
    """Understand a text with the words of a pack."""
    return _made(Same(pack)).parse(text)


@lru_cache(maxsize=4096)
def shares_of(sure: float, others: int) -> tuple[float, ...]:
    """Give the shares (1 + others) of the text that was taken with confidence `sure` and of the
    others; they sum to one.

    >>> shares_of(1.0, 2)
    (1.0, 0.0, 0.0)
    """
    if not others:
        return (1.0,)
    own = _SURE_OF_NOTHING + (1.0 - _SURE_OF_NOTHING) * sure
    rest = [_NEXT**rank for rank in range(others)]
    return (own, *((1.0 - own) * one / sum(rest) for one in rest))


@lru_cache(maxsize=4)
def _made(same: Same[Pack]) -> Others:
    return Others(same.one)
