"""What learning is worth: remarks exactly right on corrections that were not learnt from."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

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
    parser = Parser(pack)
    retyped = [
        pair for pair in pairs if pair.retyped and parser.parse(pair.became).kind != "unclear"
    ]
    before = sum(_right(pair, parser, parser) for pair in retyped)
    after = 0
    for fold in range(FOLDS):
        held = retyped[fold::FOLDS]
        rest = [pair for at, pair in enumerate(retyped) if at % FOLDS != fold]
        moved = [pair for pair in pairs if not pair.retyped]
        learnt = Parser(taught(pack, propose([*rest, *moved], pack, sounding, least)))
        after += sum(_right(pair, learnt, parser) for pair in held)
    everything = Parser(taught(pack, propose(pairs, pack, sounding, least)))
    remarks = list(untouched)
    changed = sum(
        meaning(everything.parse(one.heard)) != meaning(parser.parse(one.heard)) for one in remarks
    )
    return Gain(
        pairs=len(retyped), before=before, after=after, untouched=len(remarks), changed=changed
    )


def _right(pair: Pair, reading: Parser, truth: Parser) -> bool:
    return meaning(reading.parse(pair.was)) == meaning(truth.parse(pair.became))


def meaning(remark: Remark) -> tuple[object, ...]:
    """Give all that a remark says, without how it was said."""
    return remark.kind, remark.command, remark.number, remark.words, remark.findings
