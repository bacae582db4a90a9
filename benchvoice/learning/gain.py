"""What learning is worth: remarks exactly right on corrections that were not learnt from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from benchvoice.follow import find_step
from benchvoice.grammar import Pack
from benchvoice.language import Parser
from benchvoice.learning.pairs import Pair
from benchvoice.learning.propose import Sounding, propose
from benchvoice.learning.taught import taught
from benchvoice.remark import Frozen, Remark

FOLDS = 3


class Gain(Frozen, frozen=True, kw_only=True):
    """How many of `pairs` held out were understood exactly as corrected, `before` and `after`.

    `changed` of the `untouched` remarks, which nobody corrected, mean
    something else with all that was learnt.
    """

    pairs: int
    before: int
    after: int
    untouched: int
    changed: int


def measure(
    pairs: Sequence[Pair],
    untouched: Iterable[Remark],
    pack: Pack,
    sounding: Sounding = lambda words: {},
    least: int = 1,
) -> Gain:
    """Measure in three folds: each third is read with what the other two thirds teach.

    Read means parsed: what new sounds are worth can only be heard, and is not
    in it.  Retyped pairs alone are counted, those that the correction made clear.
    """
    reading = Reading(pack)
    retyped = [pair for pair in pairs if pair.retyped and reading.meaning(pair.became) is not None]
    before = sum(_right(pair, reading, reading) for pair in retyped)
    after = 0
    for fold in range(FOLDS):
        held = retyped[fold::FOLDS]
        rest = [pair for at, pair in enumerate(retyped) if at % FOLDS != fold]
        moved = [pair for pair in pairs if not pair.retyped]
        learnt = Reading(taught(pack, propose([*rest, *moved], pack, sounding, least)))
        after += sum(_right(pair, learnt, reading) for pair in held)
    everything = Reading(taught(pack, propose(pairs, pack, sounding, least)))
    texts = [remark.heard for remark in untouched]
    changed = sum(everything.meaning(text) != reading.meaning(text) for text in texts)
    return Gain(
        pairs=len(retyped), before=before, after=after, untouched=len(texts), changed=changed
    )


class Reading:
    """What texts mean with a pack: all that they say, without how it was said."""

    def __init__(self, pack: Pack) -> None:
        self._parser = Parser(pack)
        self._outline = pack.outline

    def meaning(self, text: str) -> tuple[object, ...] | None:
        """Give what a text means; None when it means nothing."""
        return self.of(self._parser.parse(text))

    def of(self, remark: Remark) -> tuple[object, ...] | None:
        """Give what a remark means, commands with the steps that they name."""
        if remark.kind == "unclear":
            return None
        words: object = remark.words
        if remark.words and self._outline is not None:
            words = tuple(step.id for step in find_step(remark.words, self._outline)) or words
        return remark.command, remark.number, words, remark.findings


def _right(pair: Pair, reading: Reading, truth: Reading) -> bool:
    return reading.meaning(pair.was) == truth.meaning(pair.became)
